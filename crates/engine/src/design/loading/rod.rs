//! Loads of a rod's two ends and of the slide bars.

use super::{Fault, Raw, TurnStep};
use crate::design::ask::Ask;
use crate::judge::Estimate;
use crate::motion::{Mechanism, Working};
use mechanics::loads::{PinBearing, big_end_duty, small_end_duty};
use mechanics::motion::CylinderNo;

/// Pin as gauged and length as the duty has it: only the speeds depend on them.
fn pin(ask: &mut Ask<'_>) -> Result<PinBearing, Fault> {
    let joint = ask.judgement.engine().joint(ask.joint);
    let size = ask.judgement.feature(joint.inner).size.as_ref().map(Estimate::si);
    let diameter_m = size.ok_or_else(|| Fault::Because("the pin is not gauged".to_owned()))?;
    let length_m = ask.one("length").ok_or(Fault::Wants)?;
    Ok(PinBearing { diameter_m, length_m })
}

pub(super) fn big_end(
    ask: &mut Ask<'_>,
    mechanism: &Mechanism,
    worked: &Working,
    at: usize,
) -> Result<Raw, Fault> {
    let bearing = pin(ask)?;
    let running = mechanism.running(worked.wheel_rad_s);
    let duty = big_end_duty(&mechanism.motion, &worked.loads, CylinderNo(at), &running, bearing)?;
    let polar = worked.cylinders[at].polar.clone();
    // Forward rotation is clockwise in the cylinder's line, and outer and up of the brasses are a
    // left-handed pair there: the pin turns from the outer brass upwards.
    let steps: Vec<TurnStep> = polar
        .points
        .iter()
        .zip(&duty.rubbing_m_s)
        .map(|(p, v)| TurnStep {
            wheel_rad: p.wheel_angle_rad,
            along_n: p.brass_outer_n,
            across_n: p.brass_up_n,
            rubbing_m_s: *v,
        })
        .collect();
    let journal = steps.iter().map(|s| 2.0 * s.rubbing_m_s / bearing.diameter_m).collect();
    Ok(Raw {
        directions: ["on the outer brass, away from the rod", "up from the rod"],
        steps,
        journal_rad_s: Some(journal),
        polar: Some(polar),
        besides: Vec::new(),
    })
}

pub(super) fn little_end(
    ask: &mut Ask<'_>,
    mechanism: &Mechanism,
    worked: &Working,
    at: usize,
) -> Result<Raw, Fault> {
    let bearing = pin(ask)?;
    let running = mechanism.running(worked.wheel_rad_s);
    let duty = small_end_duty(&mechanism.motion, &worked.loads, CylinderNo(at), &running, bearing)?;
    let trace = &worked.loads.cylinders[at];
    let steps = worked
        .loads
        .wheel_angle_rad
        .iter()
        .enumerate()
        .map(|(i, wheel_rad)| {
            let thrust = trace.small_end_thrust_n[i];
            TurnStep {
                wheel_rad: *wheel_rad,
                along_n: thrust,
                across_n: (trace.small_end_n[i].powi(2) - thrust.powi(2)).max(0.0).sqrt(),
                rubbing_m_s: duty.rubbing_m_s[i],
            }
        })
        .collect();
    Ok(Raw {
        directions: ["along the rod, thrust", "square to the rod, its amount"],
        steps,
        // The pin swings to and fro: it does not turn one way round.
        journal_rad_s: None,
        polar: None,
        besides: Vec::new(),
    })
}

/// Force of the crosshead on its bars, and the crosshead's speed.
///
/// Speed by central differences of where the piston stands, over a half degree of the wheel: within
/// 2e-5 of the greatest (error `(w dt)^2 / 6`).
pub(super) fn slide_bars(mechanism: &Mechanism, worked: &Working, at: usize) -> Result<Raw, Fault> {
    let trace = &worked.loads.cylinders[at];
    let n = trace.slide_bar_n.len();
    let line = mechanism.motion.line(CylinderNo(at)).map_err(mechanics::loads::LoadError::from)?;
    let stroke_m = 2.0 * line.crank_throw_m;
    let step_rad = std::f64::consts::TAU / n as f64;
    let steps = (0..n)
        .map(|i| {
            let (before, after) =
                (trace.from_front_share[(i + n - 1) % n], trace.from_front_share[(i + 1) % n]);
            TurnStep {
                wheel_rad: worked.loads.wheel_angle_rad[i],
                along_n: trace.slide_bar_n[i],
                across_n: 0.0,
                rubbing_m_s: (after - before).abs() * stroke_m / (2.0 * step_rad)
                    * worked.wheel_rad_s,
            }
        })
        .collect();
    Ok(Raw {
        directions: ["on the lower bar", "across"],
        steps,
        journal_rad_s: None,
        polar: None,
        besides: Vec::new(),
    })
}
