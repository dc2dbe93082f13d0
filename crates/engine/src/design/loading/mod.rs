//! The load of a bearing through a turn, from the motion of the engine where it is described.
//!
//! The working point (speed, pressure, cut-off) is the duty's, else the engine's own, and is told with
//! every answer. What the motion does not say is said by the duty; what neither says is missing.

mod axle;
mod lines;
mod place;
mod point;
mod rod;

pub(super) use lines::turn_lines;
pub use place::Carries;
use place::carries;

use super::ask::{Ask, because};
use super::shapes::Design;
use crate::motion::{Mechanism, NoAnswer, Working, working};
use mechanics::bearing::{LoadSwing, SwingStep, load_swing};
use mechanics::loads::PinPolar;
use point::{WorkingPoint, working_point};
use std::f64::consts::TAU;

/// The load at one step of the wheel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TurnStep {
    /// Wheel angle (rad).
    pub wheel_rad: f64,
    /// Load on the bearing along the first of [`TurnLoad::directions`] (N).
    pub along_n: f64,
    /// Along the second (N).
    pub across_n: f64,
    /// Rubbing speed (m/s); nought where the parts only press.
    pub rubbing_m_s: f64,
}

/// The load of a bearing through a turn of the wheel.
#[derive(Clone, Debug, PartialEq)]
pub struct TurnLoad {
    /// What the bearing is in the motion.
    pub carries: Carries,
    /// The working point in words: speed, steam.
    pub point: String,
    /// Speed of the engine (m/s).
    pub speed_m_s: f64,
    /// Speed of the wheels (rad/s).
    pub wheel_rad_s: f64,
    /// The two directions, fixed in the bearing.
    pub directions: [&'static str; 2],
    /// Every step.
    pub steps: Vec<TurnStep>,
    /// Greatest load (N).
    pub greatest_n: f64,
    /// Wheel angle of it (rad).
    pub greatest_at_rad: f64,
    /// Where the crank then is, in words.
    pub greatest_at: String,
    /// Mean of the load's amount (N).
    pub mean_n: f64,
    /// Greatest and mean rubbing speed (m/s).
    pub rubbing_m_s: (f64, f64),
    /// Mean of load times rubbing speed (W).
    pub mean_load_speed_w: f64,
    /// How the load swings, where a journal turns in the bearing.
    pub swing: Option<LoadSwing>,
    /// The crank pin's polar diagram, for a big end.
    pub polar: Option<PinPolar>,
    /// What was left out or taken besides.
    pub besides: Vec<String>,
}

impl TurnLoad {
    /// Greatest load towards and away from the first direction (N).
    pub fn along_n(&self) -> (f64, f64) {
        let most = |sign: f64| self.steps.iter().map(|s| sign * s.along_n).fold(0.0, f64::max);
        (most(1.0), most(-1.0))
    }

    /// Greatest load towards and away from the second direction (N).
    pub fn across_n(&self) -> (f64, f64) {
        let most = |sign: f64| self.steps.iter().map(|s| sign * s.across_n).fold(0.0, f64::max);
        (most(1.0), most(-1.0))
    }
}

/// What a case is made of before it is summed up.
struct Raw {
    directions: [&'static str; 2],
    steps: Vec<TurnStep>,
    /// Speed of the journal in its bearing at each step (rad/s), where it turns one way round.
    journal_rad_s: Option<Vec<f64>>,
    polar: Option<PinPolar>,
    besides: Vec<String>,
}

/// The load through a turn of the joint that is asked about; `None` where the motion has nothing to
/// say of it. Why it cannot be had although the motion is described stands in `out`.
pub(super) fn turn_load(ask: &mut Ask<'_>, out: &mut Design) -> Option<TurnLoad> {
    let what = "the load through a turn, from the motion";
    match try_turn_load(ask) {
        Ok(found) => found,
        Err(Fault::Wants) => {
            out.absent.push(ask.absent(what));
            None
        }
        Err(Fault::Because(why)) => {
            out.absent.push(because(what, why));
            None
        }
    }
}

/// Why there is no load from the motion.
pub(super) enum Fault {
    /// The duty lacks something.
    Wants,
    /// It cannot be worked out.
    Because(String),
}

impl From<NoAnswer> for Fault {
    fn from(e: NoAnswer) -> Fault {
        Fault::Because(e.to_string())
    }
}

impl From<mechanics::loads::LoadError> for Fault {
    fn from(e: mechanics::loads::LoadError) -> Fault {
        Fault::Because(e.to_string())
    }
}

/// As [`turn_load`], the reason handed back.
pub(super) fn try_turn_load(ask: &mut Ask<'_>) -> Result<Option<TurnLoad>, Fault> {
    let Some(carries) = carries(ask) else { return Ok(None) };
    // A load laid over as what-if is what the person wants to try.
    if ask.is_what_if("load") {
        return Ok(None);
    }
    let judgement = ask.judgement;
    let mechanism = Mechanism::of(judgement)?;
    let point: WorkingPoint = working_point(ask, &mechanism)?;
    let worked = working(judgement, &mechanism, point.speed_m_s, &point.steam)?;
    let raw = match carries {
        Carries::BigEnd(at) => rod::big_end(ask, &mechanism, &worked, at)?,
        Carries::LittleEnd(at) => rod::little_end(ask, &mechanism, &worked, at)?,
        Carries::SlideBars(at) => rod::slide_bars(&mechanism, &worked, at)?,
        Carries::Axlebox { left, axle } => axle::axlebox(ask, &mechanism, &worked, left, axle)?,
        Carries::Horn { left } => axle::horn(ask, &mechanism, &worked, left)?,
        Carries::CouplingPin { left, axle } => {
            axle::coupling_pin(ask, &mechanism, &worked, left, axle)?
        }
    };
    sum_up(ask, &mechanism, &worked, point, carries, raw).map(Some)
}

fn sum_up(
    ask: &Ask<'_>,
    mechanism: &Mechanism,
    worked: &Working,
    point: WorkingPoint,
    carries: Carries,
    raw: Raw,
) -> Result<TurnLoad, Fault> {
    let n = raw.steps.len() as f64;
    let load = |s: &TurnStep| s.along_n.hypot(s.across_n);
    let greatest = raw
        .steps
        .iter()
        .copied()
        .reduce(|a, b| if load(&a) < load(&b) { b } else { a })
        .ok_or_else(|| Fault::Because("no step of the turn was worked out".to_owned()))?;
    let mean = |f: &dyn Fn(&TurnStep) -> f64| raw.steps.iter().map(f).sum::<f64>() / n;
    let swing = match &raw.journal_rad_s {
        Some(speeds) if worked.wheel_rad_s > 0.0 => {
            let steps: Vec<SwingStep> = raw
                .steps
                .iter()
                .zip(speeds)
                .map(|(s, w)| SwingStep {
                    along_n: s.along_n,
                    across_n: s.across_n,
                    journal_rad_s: *w,
                })
                .collect();
            let step_s = TAU / worked.wheel_rad_s / n;
            Some(load_swing(&steps, step_s).map_err(|e| Fault::Because(e.to_string()))?)
        }
        _ => None,
    };
    let mut besides = raw.besides;
    besides.extend(worked.notes.words(ask.judgement.engine()));
    Ok(TurnLoad {
        carries,
        point: format!("{}; {}", point.speed_words, worked.steam),
        speed_m_s: worked.speed_m_s,
        wheel_rad_s: worked.wheel_rad_s,
        directions: raw.directions,
        greatest_n: load(&greatest),
        greatest_at_rad: greatest.wheel_rad,
        greatest_at: place::crank_words(ask, mechanism, carries, greatest.wheel_rad),
        mean_n: mean(&load),
        rubbing_m_s: (
            raw.steps.iter().map(|s| s.rubbing_m_s).fold(0.0, f64::max),
            mean(&|s| s.rubbing_m_s),
        ),
        mean_load_speed_w: mean(&|s| load(s) * s.rubbing_m_s),
        swing,
        polar: raw.polar,
        steps: raw.steps,
        besides,
    })
}
