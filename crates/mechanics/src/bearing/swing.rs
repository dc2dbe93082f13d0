//! A load that swings or reverses: what is left of the oil wedge through the turn.

use std::f64::consts::{PI, TAU};

use super::error::{BearingError, Range, check_count};
use super::verdict::LoadCharacter;

const FORCE: Range = Range::new("load", "N", -1e8, 1e8);
const TURNING: Range = Range::new("speed of the journal in its bearing", "rad/s", 1e-6, 1e5);
const STEP: Range = Range::new("time of a step", "s", 1e-9, 1e3);
/// Directions of a load smaller than this share of the greatest are not counted (own choice: a load
/// that passes through nothing has no direction).
const COUNTED_SHARE: f64 = 0.1;
/// Up to this spread of its direction a load is called steady (own choice).
const STEADY_SPREAD_RAD: f64 = 10.0 * PI / 180.0;

/// The load on a bearing at one step of a turn, in directions fixed in the bearing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SwingStep {
    /// Along the first direction, N.
    pub along_n: f64,
    /// Along the second, N: a quarter turn on from the first as the journal turns.
    pub across_n: f64,
    /// Speed of the journal in its bearing, rad/s, always the same way round.
    pub journal_rad_s: f64,
}

/// How a load behaves through a turn, and what it leaves of the wedge that carries a steady load.
#[derive(Debug, Clone, PartialEq)]
pub struct LoadSwing {
    /// Greatest load, N, and its step.
    pub greatest_n: f64,
    /// The step of the greatest load.
    pub greatest_at: usize,
    /// Mean of the load's amount, N.
    pub mean_n: f64,
    /// Arc that the directions of the load take up, rad; a whole turn when it goes right round.
    pub spread_rad: f64,
    /// What that makes it.
    pub character: LoadCharacter,
    /// Share of the wedge action that is left at each step: 1 for a load that stands still.
    pub wedge: Vec<f64>,
    /// Share of the turn in which less than half of it is left, counted where the load is at least
    /// a tenth of its greatest.
    pub weak_share: f64,
    /// The least share of it that is left, where so counted.
    pub least_wedge: f64,
    /// The step of that least share.
    pub least_at: usize,
}

// Own derivation of the textbook result. In a frame that turns with the load at w_l the film is steady
// when the load is, and its surfaces drag oil in with (w_j - w_l) + (w_b - w_l), where the journal turns
// at w_j and the bearing at w_b. With the bearing as frame w_b = 0, so that the wedge acts as if the
// journal turned at w_j - 2 w_l: nothing is left of it when the load turns at half the speed of the
// journal (half-speed whirl), and a load that turns with the journal is carried as a steady one is.
/// What a load through one turn leaves of the wedge action that a steady film rests on.
///
/// **Equation.** `share = |w_j - 2 w_l| / w_j`, with `w_l` the speed at which the load's direction
/// turns in the bearing, by central differences. **Units.** N, rad/s, s; steps are equal in time and
/// the last is followed by the first. **Range.** It says where a steady film does not answer, not
/// what the film is there: squeeze carries the load for a while, and how long is not computed.
/// **Source.** Own derivation above; the vanishing at half speed is in every lubrication book
/// (Cameron, The Principles of Lubrication; Pinkus & Sternlicht: both from memory). **Worked
/// value.** A load turning at half the journal's speed: 0; with the journal: 1.
///
/// # Errors
///
/// [`BearingError::CountOutOfRange`] unless there are 8 to 100 000 steps;
/// [`BearingError::OutOfRange`] on a load, a speed that is not above zero, or the time of a step.
pub fn load_swing(steps: &[SwingStep], step_s: f64) -> Result<LoadSwing, BearingError> {
    let n = check_count("steps of a turn", steps.len(), 8, 100_000)?;
    let step_s = STEP.check(step_s)?;
    let mut loads = Vec::with_capacity(n);
    for s in steps {
        loads.push(FORCE.check(s.along_n)?.hypot(FORCE.check(s.across_n)?));
        TURNING.check(s.journal_rad_s)?;
    }
    let (mut greatest_at, mut greatest_n) = (0, 0.0);
    for (i, load) in loads.iter().enumerate() {
        if greatest_n < *load {
            (greatest_at, greatest_n) = (i, *load);
        }
    }
    let angle = |i: usize| steps[i].across_n.atan2(steps[i].along_n);
    let counted = |i: usize| greatest_n > 0.0 && loads[i] >= COUNTED_SHARE * greatest_n;
    let mut wedge = Vec::with_capacity(n);
    let (mut least_wedge, mut least_at, mut weak) = (1.0, greatest_at, 0usize);
    for (i, step) in steps.iter().enumerate() {
        let swing = turned(angle((i + 1) % n) - angle((i + n - 1) % n)) / (2.0 * step_s);
        let share = (step.journal_rad_s - 2.0 * swing).abs() / step.journal_rad_s;
        if counted(i) {
            if share < 0.5 {
                weak += 1;
            }
            if share < least_wedge {
                (least_wedge, least_at) = (share, i);
            }
        }
        wedge.push(share);
    }
    let spread_rad = spread((0..n).filter(|i| counted(*i)).map(angle).collect());
    let character = if spread_rad <= STEADY_SPREAD_RAD {
        LoadCharacter::Steady
    } else if spread_rad < PI {
        LoadCharacter::SteadyWithSwing
    } else {
        LoadCharacter::Reversing
    };
    Ok(LoadSwing {
        greatest_n,
        greatest_at,
        mean_n: loads.iter().sum::<f64>() / n as f64,
        spread_rad,
        character,
        wedge,
        weak_share: weak as f64 / n as f64,
        least_wedge,
        least_at,
    })
}

/// An angle brought to minus half a turn to half a turn.
fn turned(rad: f64) -> f64 {
    (rad + PI).rem_euclid(TAU) - PI
}

/// The arc that directions take up: a whole turn less the widest gap between neighbours.
fn spread(mut angles: Vec<f64>) -> f64 {
    angles.sort_by(f64::total_cmp);
    let (Some(first), Some(last)) = (angles.first(), angles.last()) else { return 0.0 };
    let around = first + TAU - last;
    let widest = angles.windows(2).map(|w| w[1] - w[0]).fold(around, f64::max);
    TAU - widest
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A load of 10 kN whose direction turns `by` times as fast as the journal, 20 rad/s.
    fn turning_load(by: f64) -> Result<LoadSwing, BearingError> {
        let n = 720;
        let step_s = TAU / 20.0 / f64::from(n);
        let steps: Vec<SwingStep> = (0..n)
            .map(|i| {
                let a = by * 20.0 * step_s * f64::from(i);
                SwingStep { along_n: 1e4 * a.cos(), across_n: 1e4 * a.sin(), journal_rad_s: 20.0 }
            })
            .collect();
        load_swing(&steps, step_s)
    }

    #[test]
    fn a_load_that_turns_with_the_journal_is_carried_as_one_that_stands() -> Result<(), BearingError>
    {
        // Textbook (from memory): 1 - 2 w_l / w_j, so 1 at rest, 1 with the journal, 3 against it.
        for (by, share) in [(0.0, 1.0), (1.0, 1.0), (-1.0, 3.0)] {
            let s = turning_load(by)?;
            assert!(s.wedge.iter().all(|w| (w - share).abs() < 1e-9), "{by}: {:?}", s.least_wedge);
            assert_eq!(s.weak_share, 0.0);
        }
        assert_eq!(turning_load(0.0)?.character, LoadCharacter::Steady);
        assert_eq!(turning_load(1.0)?.character, LoadCharacter::Reversing);
        Ok(())
    }

    #[test]
    fn nothing_is_left_at_half_speed() -> Result<(), BearingError> {
        // Half-speed whirl. Two turns of the journal make one of the load.
        let n = 720;
        let step_s = 2.0 * TAU / 20.0 / f64::from(n);
        let steps: Vec<SwingStep> = (0..n)
            .map(|i| {
                let a = 10.0 * step_s * f64::from(i);
                SwingStep { along_n: 1e4 * a.cos(), across_n: 1e4 * a.sin(), journal_rad_s: 20.0 }
            })
            .collect();
        let s = load_swing(&steps, step_s)?;
        assert!(s.least_wedge < 1e-9 && s.weak_share == 1.0, "{s:?}");
        Ok(())
    }

    #[test]
    fn a_load_with_a_swing_does_not_reverse() -> Result<(), BearingError> {
        let n = 360;
        let step_s = TAU / 26.0 / f64::from(n);
        let load = |across: f64| {
            let steps: Vec<SwingStep> = (0..n)
                .map(|i| SwingStep {
                    along_n: 70e3,
                    across_n: across * (TAU * f64::from(i) / f64::from(n)).sin(),
                    journal_rad_s: 26.0,
                })
                .collect();
            load_swing(&steps, step_s)
        };
        // 70 kN down and 50 kN to and fro: atan(5/7) each way, by hand.
        let s = load(50e3)?;
        assert_eq!(s.character, LoadCharacter::SteadyWithSwing);
        assert!((s.spread_rad - 2.0 * (5.0f64 / 7.0).atan()).abs() < 1e-4);
        // Swinging by a sine at the journal's own speed, w_l is at most 5/7 w_j: too fast there.
        assert!((s.wedge[0] - (1.0 - 10.0 / 7.0f64).abs()).abs() < 1e-3);
        assert!((s.greatest_n - 50e3f64.hypot(70e3)).abs() < 1.0);
        assert!(load_swing(&[], 1.0).is_err());
        assert!(load(f64::NAN).is_err());
        Ok(())
    }
}
