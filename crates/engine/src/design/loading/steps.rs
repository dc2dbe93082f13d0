//! A bearing's load turned into its own directions, with its rubbing speed at every step.

use super::{Carries, Fault, TurnStep};
use crate::design::ask::Ask;
use crate::judge::Estimate;
use crate::motion::{BearingLoad, Mechanism, Working};
use mechanics::motion::{CylinderNo, WheelAngle};

/// The load step by step.
pub(super) struct Turned {
    pub(super) directions: [&'static str; 2],
    pub(super) steps: Vec<TurnStep>,
    /// Speed of the journal in its bearing at each step (rad/s), where it turns one way round.
    pub(super) journal_rad_s: Option<Vec<f64>>,
}

/// Turns the motion's load into two directions of the bearing, the second a quarter turn on from the
/// first as the journal turns.
///
/// Forward rotation is clockwise with the front on the right. A big end's outer brass and up from the
/// rod are a left-handed pair there, so that the pin turns from the one to the other as they stand;
/// from the crown of a box it turns forward, from the front of a coupling bush downward.
pub(super) fn turned(
    ask: &Ask<'_>,
    mechanism: &Mechanism,
    worked: &Working,
    bearing: &BearingLoad,
    carries: Carries,
) -> Result<Turned, Fault> {
    let joint = ask.judgement.engine().joint(ask.joint);
    let journal_m = ask.judgement.feature(joint.inner).size.as_ref().map(Estimate::si);
    let round = !matches!(carries, Carries::SlideBars | Carries::Horn);
    let radius_m = match journal_m {
        Some(d) => 0.5 * d,
        None if round => return Err(Fault::Because("the journal is not gauged".to_owned())),
        None => 0.0,
    };
    let running = mechanism.running(worked.wheel_rad_s);
    let mut steps = Vec::with_capacity(bearing.points.len());
    let mut journal = Vec::with_capacity(bearing.points.len());
    for p in &bearing.points {
        let state = match bearing.cylinder {
            Some(at) => Some(
                WheelAngle::from_rad(p.wheel_angle_rad)
                    .and_then(|w| mechanism.motion.cylinder_at(CylinderNo(at), w, &running))
                    .map_err(|e| Fault::Because(e.to_string()))?,
            ),
            None => None,
        };
        let rod = state.as_ref().map_or(0.0, |s| s.rod_speed_rad_s);
        let turning = match carries {
            Carries::BigEnd => (worked.wheel_rad_s + rod).abs(),
            Carries::LittleEnd => rod.abs(),
            Carries::Axlebox | Carries::CouplingPin => worked.wheel_rad_s.abs(),
            Carries::SlideBars | Carries::Horn => 0.0,
        };
        let (along_n, across_n) = match carries {
            Carries::BigEnd | Carries::LittleEnd => (p.along_n, p.across_n),
            Carries::SlideBars => (p.across_n, 0.0),
            Carries::Axlebox => (p.across_n, p.along_n),
            Carries::Horn => (p.along_n, 0.0),
            Carries::CouplingPin => (p.along_n, -p.across_n),
        };
        let rubbing_m_s = match carries {
            Carries::SlideBars => state.as_ref().map_or(0.0, |s| s.velocity_m_s.abs()),
            _ => turning * radius_m,
        };
        journal.push(turning);
        steps.push(TurnStep { wheel_rad: p.wheel_angle_rad, along_n, across_n, rubbing_m_s });
    }
    Ok(Turned {
        directions: match carries {
            Carries::BigEnd => ["on the outer brass, away from the rod", "up from the rod"],
            Carries::LittleEnd => ["towards the big end", "up from the rod"],
            Carries::SlideBars => ["on the upper bar", "across"],
            Carries::Axlebox => ["on the crown", "forward on the box"],
            Carries::Horn => ["forward on the horn", "across"],
            Carries::CouplingPin => ["forward on the bush", "downward"],
        },
        steps,
        journal_rad_s: matches!(carries, Carries::BigEnd | Carries::Axlebox | Carries::CouplingPin)
            .then_some(journal),
    })
}
