//! Whether rated gear holds a hanging load.

use super::super::error::{LiftingError, Range, check_count};
use super::super::{STANDARD_GRAVITY_M_S2, error};
use super::gear::{AngleBand, LegCount, choke_angle_factor, mode_factor};
use super::{Hang, LegState};

const RATING: Range = Range::new("working load limit of one leg", "kg", 0.1, 1e6);
const LEFT: Range = Range::new("what an edge leaves of the rating", "(ratio)", 0.1, 1.0);

/// How a leg takes hold.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Hitch {
    /// Straight to an eye or shackle.
    Straight,
    /// Choked round the part, with its angle of choke, rad.
    Choked(f64),
}

/// The gear of one leg: sling, shackle and eye together, the weakest counts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LegGear {
    /// Working load limit on one straight leg, kg.
    pub one_leg_kg: f64,
    /// How it takes hold.
    pub hitch: Hitch,
    /// What an edge leaves of the rating (see [`super::edge_factor`]); 1 where it runs over none.
    pub edge: f64,
}

/// How many of four legs are counted on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FourLegRule {
    /// Three, as EN 818-4 and EN 13414-1 rate them: a leg is taken to carry the most of its even
    /// share, its share with stretch, and a third of the weight at the flattest leg's angle.
    OnThree,
    /// Two, the stricter custom (in general with mobile cranes, says a chain maker's manual,
    /// verified): a leg is taken to carry the most that statics allows, or half the weight at the
    /// flattest leg's angle.
    OnTwo,
}

/// By what a lift is judged.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct JudgeBy {
    /// Tilt allowed, rad.
    pub most_tilt_rad: f64,
    /// How many of four legs are counted on.
    pub four: FourLegRule,
}

/// On what the mode factor was taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ModeBasis {
    /// Legs alike enough for the factor of all of them.
    AllLegs,
    /// Unlike legs: in doubt one leg is taken to carry all.
    OneLegInDoubt,
}

/// Something to be told about a lift besides figures.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum GearFinding {
    /// A leg over its rating by statics.
    LegOver {
        /// The leg, from 0.
        leg: usize,
        /// Tension over what it is rated for.
        share: f64,
    },
    /// One of four legs would be over its rating if others hung slack (counted on three).
    OverIfOthersSlack {
        /// The leg, from 0.
        leg: usize,
        /// The most it can carry over what it is rated for.
        share: f64,
    },
    /// The rating by mode factor is exceeded, or only one leg may be counted on.
    ModeOver {
        /// Mass over that rating.
        share: f64,
        /// What was counted.
        basis: ModeBasis,
    },
    /// A leg is flatter than 60 degrees from the vertical: no rating holds.
    TooFlat {
        /// The leg, from 0.
        leg: usize,
        /// Its angle to the vertical, rad.
        angle_rad: f64,
    },
    /// A leg of several stands within 15 degrees of the vertical: the load swings and the legs share
    /// badly (makers' instructions).
    TooUpright {
        /// The leg, from 0.
        leg: usize,
        /// Its angle to the vertical, rad.
        angle_rad: f64,
    },
    /// A leg carries hardly anything: less than a twentieth of an even share.
    BarelyLoaded {
        /// The leg, from 0.
        leg: usize,
    },
    /// One of four legs hangs slack as measured.
    HangsSlack {
        /// The leg, from 0.
        leg: usize,
        /// Length not taken up, m.
        gap_m: f64,
    },
    /// The balance point lies above the eyes: the legs alone keep the load from turning over.
    BalanceAboveEyes {
        /// By how much, m.
        above_m: f64,
    },
    /// The part tilts by more than what is allowed for it.
    Tilts {
        /// Tilt, rad.
        tilt_rad: f64,
        /// Allowed, rad.
        most_rad: f64,
    },
}

/// What rated gear says to a lift. It is a computation, not a permission.
#[derive(Debug, Clone, PartialEq)]
pub struct GearVerdict {
    /// What a leg is taken to carry over its rating, leg by leg.
    pub leg_share: Vec<f64>,
    /// Mass over the rating by mode factor; `None` where a leg is too flat for one.
    pub mode_share: Option<f64>,
    /// What was counted for it.
    pub basis: ModeBasis,
    /// Whether every leg is within its rating by statics and no leg too flat.
    pub within_by_statics: bool,
    /// Whether the mass is within the rating by mode factor too.
    pub within_by_mode: bool,
    /// What else is to be told.
    pub findings: Vec<GearFinding>,
}

/// Whether the gear holds, by statics and by the standards' mode factors, for a tilt allowed.
///
/// Equations: by statics `t_i / (g · WLL_i · hitch · edge)`, of four legs as [`FourLegRule`] says; by
/// mode `m / (factor · least WLL · hitch · edge)`, four legs counted on two with the factor of two. Hitch: 1 straight, 0.8 times the choke angle factor
/// choked. The mode factor of all legs is used where the legs are alike: every one at least 15
/// degrees from the vertical, their angles within 15 degrees of each other, and the angles between
/// neighbours in plan within 15 degrees of even; otherwise one leg is counted (makers' instructions
/// after EN 818-6, verified in one).
///
/// # Errors
/// As many pieces of gear as legs are wanted; ratings or angles out of range.
pub fn judge_gear(
    hang: &Hang,
    gear: &[LegGear],
    by: &JudgeBy,
) -> Result<GearVerdict, LiftingError> {
    let n = hang.legs.len();
    check_count("pieces of leg gear", gear.len(), (n, n))?;
    let most_tilt = Range::new("tilt allowed", "rad", 0.0, 3.15).check(by.most_tilt_rad)?;
    let weight_n = error::FORCE.check(hang.weight_n)?;
    let mut rated_kg = Vec::with_capacity(n);
    for g in gear {
        let hitch = match g.hitch {
            Hitch::Straight => 1.0,
            Hitch::Choked(angle_rad) => 0.8 * choke_angle_factor(angle_rad)?,
        };
        rated_kg.push(RATING.check(g.one_leg_kg)? * hitch * LEFT.check(g.edge)?);
    }
    let share_of = |force_n: f64, i: usize| force_n / (rated_kg[i] * STANDARD_GRAVITY_M_S2);
    let leg_share: Vec<f64> = (0..n).map(|i| share_of(counted_n(hang, i, by.four), i)).collect();
    let mut findings = Vec::new();
    for (leg, &share) in leg_share.iter().enumerate() {
        if share > 1.0 {
            findings.push(GearFinding::LegOver { leg, share });
        } else if n == 4 && share_of(hang.legs[leg].tension.most_n, leg) > 1.0 {
            let share = share_of(hang.legs[leg].tension.most_n, leg);
            findings.push(GearFinding::OverIfOthersSlack { leg, share });
        }
    }
    let mut flat = false;
    for (leg, state) in hang.legs.iter().enumerate() {
        let angle_rad = state.angle_rad;
        if AngleBand::of(angle_rad.min(1.57)).is_err() {
            flat = true;
            findings.push(GearFinding::TooFlat { leg, angle_rad });
        }
        if n > 1 && angle_rad < 15.0_f64.to_radians() - 1e-9 {
            findings.push(GearFinding::TooUpright { leg, angle_rad });
        }
        if state.gap_m > 1e-6 {
            findings.push(GearFinding::HangsSlack { leg, gap_m: state.gap_m });
        } else if state.tension.even_n < 0.05 * weight_n / n as f64 {
            findings.push(GearFinding::BarelyLoaded { leg });
        }
    }
    let basis = if alike(&hang.legs) { ModeBasis::AllLegs } else { ModeBasis::OneLegInDoubt };
    let flattest = hang.legs.iter().map(|l| l.angle_rad).fold(0.0, f64::max);
    let weakest = rated_kg.iter().copied().fold(f64::INFINITY, f64::min);
    let mode_share = if flat {
        None
    } else {
        let factor = match basis {
            ModeBasis::AllLegs => {
                let count = match by.four {
                    FourLegRule::OnTwo if n == 4 => LegCount::Two,
                    _ => LegCount::of(n)?,
                };
                mode_factor(count, AngleBand::of(flattest)?)
            }
            ModeBasis::OneLegInDoubt => 1.0,
        };
        Some(weight_n / STANDARD_GRAVITY_M_S2 / (factor * weakest))
    };
    let within_by_mode = mode_share.is_some_and(|s| s <= 1.0);
    if let Some(share) = mode_share.filter(|&s| s > 1.0) {
        findings.push(GearFinding::ModeOver { share, basis });
    }
    if hang.above_eyes_m > 0.0 {
        findings.push(GearFinding::BalanceAboveEyes { above_m: hang.above_eyes_m });
    }
    if hang.tilt_rad > most_tilt {
        findings.push(GearFinding::Tilts { tilt_rad: hang.tilt_rad, most_rad: most_tilt });
    }
    let within_by_statics = !flat && leg_share.iter().all(|&s| s <= 1.0);
    Ok(GearVerdict { leg_share, mode_share, basis, within_by_statics, within_by_mode, findings })
}

/// What a leg is taken to carry, N.
fn counted_n(hang: &Hang, leg: usize, rule: FourLegRule) -> f64 {
    let tension = hang.legs[leg].tension;
    match (&hang.four, rule) {
        (None, _) => tension.most_n,
        (Some(four), FourLegRule::OnThree) => {
            let stretched = four.elastic.as_ref().and_then(|e| e.tension_n.get(leg).copied());
            tension.even_n.max(four.on_three_n).max(stretched.unwrap_or(0.0))
        }
        (Some(four), FourLegRule::OnTwo) => tension.most_n.max(four.on_two_n),
    }
}

fn alike(legs: &[LegState]) -> bool {
    const SAME_RAD: f64 = 0.262_8;
    if legs.len() == 1 {
        return true;
    }
    let angles = || legs.iter().map(|l| l.angle_rad);
    let (low, high) = (angles().fold(f64::INFINITY, f64::min), angles().fold(0.0, f64::max));
    if low < 15.0_f64.to_radians() - 1e-9 || high - low > SAME_RAD {
        return false;
    }
    let mut plan: Vec<f64> = legs.iter().map(|l| l.plan_rad).collect();
    plan.sort_by(f64::total_cmp);
    let turn = std::f64::consts::TAU;
    let between = |i: usize| {
        let next = if i + 1 < plan.len() { plan[i + 1] } else { plan[0] + turn };
        next - plan[i]
    };
    match legs.len() {
        // Four legs to the corners of a long part: opposite angles alike, not all four.
        4 => {
            (between(0) - between(2)).abs() <= SAME_RAD
                && (between(1) - between(3)).abs() <= SAME_RAD
        }
        n => (0..n).all(|i| (between(i) - turn / n as f64).abs() <= SAME_RAD),
    }
}
