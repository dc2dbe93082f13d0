//! The load of a bearing through a turn, from the motion of the engine where it is described.
//!
//! The motion knows which of its bearings a joint is ([`bearings_of`]); here its load is turned into the
//! bearing's own directions and summed up for its duty. The working point (speed, pressure, cut-off) is the
//! duty's, else the engine's own, and is told with every answer.

mod lines;
mod point;
mod steps;

pub(super) use lines::turn_lines;

use super::ask::{Ask, because};
use super::shapes::Design;
use crate::model::JointIx;
use crate::motion::{
    BearingKind, BearingLoad, BearingLoads, Mechanism, NoAnswer, Working, bearings_of, working,
};
use mechanics::bearing::{LoadSwing, SwingStep, load_swing};
use mechanics::loads::PinPolar;
use mechanics::motion::{Contributor, CylinderNo, WheelAngle};
use point::{WorkingPoint, working_point};
use std::f64::consts::TAU;

/// What a bearing is in the motion.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Carries {
    /// The big end of a cylinder's rod.
    BigEnd,
    /// The little end of a cylinder's rod.
    LittleEnd,
    /// The slide bars of a cylinder.
    SlideBars,
    /// An axlebox.
    Axlebox,
    /// A horn of the axle that the cylinders drive.
    Horn,
    /// The bush of a coupling rod.
    CouplingPin,
}

/// The load at one step of the wheel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TurnStep {
    /// Wheel angle (rad).
    pub wheel_rad: f64,
    /// Load on the bearing along the first of [`TurnLoad::directions`] (N).
    pub along_n: f64,
    /// Along the second (N): a quarter turn on from the first as the journal turns.
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
    /// The weight an axlebox carries standing (N).
    pub dead_n: Option<f64>,
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

/// The joint that the motion names for a bearing, and for a horn the box that it holds.
fn carried(ask: &Ask<'_>) -> Option<(Carries, JointIx)> {
    let motion = &ask.judgement.engine().motion;
    let ix = ask.joint;
    for c in &motion.cylinders {
        let slack = |k: Contributor| c.chain.get(&k).and_then(|s| s.joints.first()).map(|j| j.1);
        let is = |k: Contributor| slack(k) == Some(ix);
        if is(Contributor::BigEndSlack) {
            return Some((Carries::BigEnd, ix));
        }
        if is(Contributor::SmallEndSlack) {
            return Some((Carries::LittleEnd, ix));
        }
        if is(Contributor::HornSlack) {
            return Some((Carries::Horn, slack(Contributor::JournalSlack)?));
        }
        if c.joints.get("slide-bars") == Some(&ix) {
            return Some((Carries::SlideBars, ix));
        }
    }
    motion.axles.iter().find_map(|a| {
        let (field, _) = a.joints.iter().find(|(_, j)| **j == ix)?;
        Some((if field.ends_with("box") { Carries::Axlebox } else { Carries::CouplingPin }, ix))
    })
}

/// As [`turn_load`], the reason handed back.
pub(super) fn try_turn_load(ask: &mut Ask<'_>) -> Result<Option<TurnLoad>, Fault> {
    let Some((carries, joint)) = carried(ask) else { return Ok(None) };
    // A load laid over as what-if is what the person wants to try.
    if ask.is_what_if("load") {
        return Ok(None);
    }
    let judgement = ask.judgement;
    let mechanism = Mechanism::of(judgement)?;
    let point: WorkingPoint = working_point(ask, &mechanism)?;
    let worked = working(judgement, &mechanism, point.speed_m_s, &point.steam)?;
    let all = bearings_of(judgement.engine(), &mechanism, &worked)?;
    let Some(bearing) = all.of_joint(joint) else { return Err(lacks(&all)) };
    let turned = steps::turned(ask, &mechanism, &worked, bearing, carries)?;
    let mut turn = sum_up(&worked, bearing, point, carries, turned)?;
    turn.besides.extend(bearing.left_out.iter().cloned());
    turn.besides.extend(all.notes.words(judgement.engine()));
    turn.greatest_at = crank_words(ask, &mechanism, bearing, turn.greatest_at_rad);
    Ok(Some(turn))
}

fn lacks(all: &BearingLoads) -> Fault {
    let words: Vec<String> = all.missing.iter().map(ToString::to_string).collect();
    Fault::Because(if words.is_empty() {
        "the motion does not reach this joint".to_owned()
    } else {
        words.join("; ")
    })
}

fn sum_up(
    worked: &Working,
    bearing: &BearingLoad,
    point: WorkingPoint,
    carries: Carries,
    turned: steps::Turned,
) -> Result<TurnLoad, Fault> {
    let steps = turned.steps;
    let n = steps.len() as f64;
    let load = |s: &TurnStep| s.along_n.hypot(s.across_n);
    let greatest = steps
        .iter()
        .copied()
        .reduce(|a, b| if load(&a) < load(&b) { b } else { a })
        .ok_or_else(|| Fault::Because("no step of the turn was worked out".to_owned()))?;
    let mean = |f: &dyn Fn(&TurnStep) -> f64| steps.iter().map(f).sum::<f64>() / n;
    let swing = match &turned.journal_rad_s {
        Some(speeds) if worked.wheel_rad_s > 0.0 => {
            let swing: Vec<SwingStep> = steps
                .iter()
                .zip(speeds)
                .map(|(s, w)| SwingStep {
                    along_n: s.along_n,
                    across_n: s.across_n,
                    journal_rad_s: *w,
                })
                .collect();
            let step_s = TAU / worked.wheel_rad_s / n;
            Some(load_swing(&swing, step_s).map_err(|e| Fault::Because(e.to_string()))?)
        }
        _ => None,
    };
    Ok(TurnLoad {
        carries,
        point: format!("{}; {}", point.speed_words, worked.steam),
        speed_m_s: worked.speed_m_s,
        wheel_rad_s: worked.wheel_rad_s,
        directions: turned.directions,
        greatest_n: load(&greatest),
        greatest_at_rad: greatest.wheel_rad,
        greatest_at: String::new(),
        mean_n: mean(&load),
        dead_n: (carries == Carries::Axlebox).then(|| mean(&|s| s.along_n)),
        rubbing_m_s: (
            steps.iter().map(|s| s.rubbing_m_s).fold(0.0, f64::max),
            mean(&|s| s.rubbing_m_s),
        ),
        mean_load_speed_w: mean(&|s| load(s) * s.rubbing_m_s),
        swing,
        polar: match (bearing.kind, bearing.cylinder) {
            (BearingKind::BigEnd, Some(at)) => Some(worked.cylinders[at].polar.clone()),
            _ => None,
        },
        steps,
        besides: Vec::new(),
    })
}

/// Where the crank is at a wheel angle, in words: that of the bearing's cylinder, else the first.
fn crank_words(
    ask: &Ask<'_>,
    mechanism: &Mechanism,
    bearing: &BearingLoad,
    wheel_rad: f64,
) -> String {
    let at = bearing.cylinder.unwrap_or(0);
    let past = WheelAngle::from_rad(wheel_rad)
        .and_then(|w| mechanism.motion.cylinder_at(CylinderNo(at), w, &mechanism.running(0.0)))
        .map(|s| s.past_front_dead_centre_rad.to_degrees());
    let id = ask.judgement.engine().motion.cylinders.get(at).map_or("", |c| c.id.as_str());
    match past {
        Ok(deg) => format!("{id} crank {:.0} deg past front dead centre", deg.rem_euclid(360.0)),
        Err(_) => format!("wheel angle {:.0} deg", wheel_rad.to_degrees()),
    }
}
