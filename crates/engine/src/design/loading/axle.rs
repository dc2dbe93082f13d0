//! Loads of axleboxes, horns and coupling-rod bushes.
//!
//! Own derivation. A wheelset rides on springs and stands in horns: up and down its boxes carry what the
//! springs put on them, taken as the dead load, and the rail takes the rest; fore and aft the horns hold it
//! against the crank pins, the coupling rods and the rail. So the fore-and-aft force on the boxes is that of
//! a stiff axle on two supports under those forces, and up and down it is the dead load.

use super::{Fault, Raw, TurnStep};
use crate::design::ask::Ask;
use crate::judge::Estimate;
use crate::motion::{Mechanism, Working};
use mechanics::loads::{
    CouplingLayout, CouplingPair, PlaneForce, axlebox_reactions, coupling_forces,
    coupling_slip_force_n,
};
use mechanics::motion::{CylinderNo, WheelAngle};

/// The coupled wheels, as far as motion and duty describe them.
struct Coupled {
    layout: CouplingLayout,
    /// Load of each axle on the rail (N).
    axle_loads_n: Vec<f64>,
}

fn coupled(ask: &mut Ask<'_>) -> Result<Option<Coupled>, Fault> {
    let axles = &ask.judgement.engine().motion.axles;
    if !ask.has("coupling-throw") && !ask.has("coupling-lags") {
        return Ok(None);
    }
    let (throw, lags) = (ask.one("coupling-throw"), ask.many("coupling-lags"));
    let (Some(throw_m), Some(lags)) = (throw, lags) else { return Err(Fault::Wants) };
    let [left_lag_rad, right_lag_rad] = *lags else {
        return Err(Fault::Because(format!(
            "coupling-lags lists {} angles: the left crank's and the right crank's are wanted",
            lags.len()
        )));
    };
    let mut loads = Vec::with_capacity(axles.len());
    for a in axles {
        let load = a.figures.get("wheel-load").ok_or_else(|| {
            Fault::Because(format!(
                "the wheels of axle \"{}\" have no load: write wheel-load in its [[axle]]",
                a.id
            ))
        })?;
        loads.push(2.0 * load);
    }
    let sum: f64 = loads.iter().sum();
    let driver = axles.iter().position(|a| a.driven).ok_or_else(|| {
        Fault::Because("no [[axle]] is said to be driven: write driven = true".to_owned())
    })?;
    Ok(Some(Coupled {
        layout: CouplingLayout {
            axle_shares: loads.iter().map(|l| l / sum).collect(),
            driver,
            throw_m,
            left_lag_rad,
            right_lag_rad,
        },
        axle_loads_n: loads,
    }))
}

/// Push of the coupling rods on the pins of one axle, forward, left and right (N).
///
/// A rod in tension pulls the pin behind it forward and the pin before it back.
fn pushes(pairs: &[CouplingPair], axle: usize) -> (f64, f64) {
    let mut sum = (0.0, 0.0);
    for p in pairs {
        let sign = if p.front_axle + 1 == axle {
            1.0
        } else if p.front_axle == axle {
            -1.0
        } else {
            continue;
        };
        sum.0 += sign * p.left_tension_n;
        sum.1 += sign * p.right_tension_n;
    }
    sum
}

fn wheel_angle(rad: f64) -> Result<WheelAngle, Fault> {
    WheelAngle::from_rad(rad).map_err(|e| Fault::Because(e.to_string()))
}

/// Fore-and-aft force of an axle on one of its boxes, forward, at every step.
fn box_forces(
    ask: &mut Ask<'_>,
    mechanism: &Mechanism,
    worked: &Working,
    left: bool,
    axle: Option<usize>,
    besides: &mut Vec<String>,
) -> Result<Vec<f64>, Fault> {
    let model = &ask.judgement.engine().motion;
    let driven = axle.is_none_or(|a| model.axles.get(a).is_some_and(|a| a.driven));
    let coupled = coupled(ask)?;
    let pins_m = match &coupled {
        Some(_) => Some(ask.one("coupling-from-middle").ok_or(Fault::Wants)?),
        None => {
            besides.push(
                "coupling rods not counted: the whole tractive effort is put on this axle's wheels (write coupling-throw, coupling-lags and coupling-from-middle)".to_owned(),
            );
            None
        }
    };
    let boxes_m = box_centres(ask)?;
    let tyre_m = mechanism.tyre()?.diameter_m;
    let lines: Vec<_> = (0..mechanism.motion.cylinders())
        .map(|c| mechanism.motion.line(CylinderNo(c)))
        .collect::<Result<_, _>>()
        .map_err(mechanics::loads::LoadError::from)?;
    let mut out = Vec::with_capacity(worked.loads.wheel_angle_rad.len());
    for (i, wheel_rad) in worked.loads.wheel_angle_rad.iter().enumerate() {
        let mut forces = Vec::with_capacity(lines.len() + 3);
        if driven {
            for (line, trace) in lines.iter().zip(&worked.loads.cylinders) {
                let (sin, cos) = line.incline_rad.sin_cos();
                forces.push(PlaneForce {
                    lateral_m: line.lateral_m,
                    x_n: trace.pin_along_n[i] * cos - trace.pin_across_n[i] * sin,
                    z_n: 0.0,
                });
            }
        }
        let moment = worked.loads.moment_nm[i];
        let mut share = 1.0;
        if let (Some(c), Some(pins_m)) = (&coupled, pins_m) {
            let at = axle.unwrap_or(c.layout.driver);
            share = c.layout.axle_shares.get(at).copied().unwrap_or(0.0);
            let pairs = coupling_forces(&c.layout, moment, wheel_angle(*wheel_rad)?)?;
            let (l, r) = pushes(&pairs, at);
            forces.push(PlaneForce { lateral_m: pins_m, x_n: l, z_n: 0.0 });
            forces.push(PlaneForce { lateral_m: -pins_m, x_n: r, z_n: 0.0 });
        }
        // Both wheels alike: as one force in the middle.
        forces.push(PlaneForce { lateral_m: 0.0, x_n: share * moment / (0.5 * tyre_m), z_n: 0.0 });
        let r = axlebox_reactions(&forces, boxes_m)?;
        out.push(if left { r.left_x_n } else { r.right_x_n });
    }
    Ok(out)
}

fn box_centres(ask: &Ask<'_>) -> Result<f64, Fault> {
    let judgement = ask.judgement;
    let size = judgement.engine().motion.sizes.get("box-centres");
    size.and_then(|s| {
        let mut sum = s.written_m;
        for (factor, f) in &s.features {
            sum += factor * judgement.feature(*f).size.as_ref().map(Estimate::si)?;
        }
        s.joints.is_empty().then_some(sum)
    })
    .ok_or_else(|| {
        Fault::Because(
            "the axleboxes' distance is not known: write box-centres = \"...\" in [motion]"
                .to_owned(),
        )
    })
}

pub(super) fn axlebox(
    ask: &mut Ask<'_>,
    mechanism: &Mechanism,
    worked: &Working,
    left: bool,
    axle: Option<usize>,
) -> Result<Raw, Fault> {
    let joint = ask.judgement.engine().joint(ask.joint);
    let dead_n = ask.one("load").ok_or(Fault::Wants)?;
    let journal_m = ask
        .judgement
        .feature(joint.inner)
        .size
        .as_ref()
        .map(Estimate::si)
        .ok_or_else(|| Fault::Because("the journal is not gauged".to_owned()))?;
    let mut besides = vec![
        "up and down the dead load of the duty, as the springs carry it; blows of the road not counted".to_owned(),
    ];
    let forces = box_forces(ask, mechanism, worked, left, axle, &mut besides)?;
    let rubbing_m_s = 0.5 * journal_m * worked.wheel_rad_s;
    // Seen with the front on the right the wheel turns clockwise: from the crown forward.
    let steps: Vec<TurnStep> = worked
        .loads
        .wheel_angle_rad
        .iter()
        .zip(&forces)
        .map(|(wheel_rad, x)| TurnStep {
            wheel_rad: *wheel_rad,
            along_n: dead_n,
            across_n: *x,
            rubbing_m_s,
        })
        .collect();
    let journal = vec![worked.wheel_rad_s; steps.len()];
    Ok(Raw {
        directions: ["on the crown", "forward on the box"],
        steps,
        journal_rad_s: Some(journal),
        polar: None,
        besides,
    })
}

pub(super) fn horn(
    ask: &mut Ask<'_>,
    mechanism: &Mechanism,
    worked: &Working,
    left: bool,
) -> Result<Raw, Fault> {
    let mut besides = Vec::new();
    let axle = ask.judgement.engine().motion.axles.iter().position(|a| a.driven);
    let forces = box_forces(ask, mechanism, worked, left, axle, &mut besides)?;
    let steps = worked
        .loads
        .wheel_angle_rad
        .iter()
        .zip(&forces)
        .map(|(wheel_rad, x)| TurnStep {
            wheel_rad: *wheel_rad,
            along_n: *x,
            across_n: 0.0,
            rubbing_m_s: 0.0,
        })
        .collect();
    besides.push("the box only rides up and down in its horn: no steady rubbing speed".to_owned());
    Ok(Raw {
        directions: ["forward on the horn", "across"],
        steps,
        journal_rad_s: None,
        polar: None,
        besides,
    })
}

/// Load of a coupling rod's bush: the rods' push and the rod's own weight flung outwards.
///
/// The pin on its bush gives `-X` forward and draws the rod's share `m` to the centre with
/// `m r w^2`; forward is `cos a`, and a quarter turn on as the wheel turns is downwards.
pub(super) fn coupling_pin(
    ask: &mut Ask<'_>,
    mechanism: &Mechanism,
    worked: &Working,
    left: bool,
    axle: usize,
) -> Result<Raw, Fault> {
    let joint = ask.judgement.engine().joint(ask.joint);
    let Some(c) = coupled(ask)? else { return Err(Fault::Wants) };
    let pin_m = ask
        .judgement
        .feature(joint.inner)
        .size
        .as_ref()
        .map(Estimate::si)
        .ok_or_else(|| Fault::Because("the pin is not gauged".to_owned()))?;
    let mut besides = vec![
        "rods of equal stiffness without slack: slack, unequal wheels and cranks out of quarter change this grossly".to_owned(),
    ];
    let share_kg = ask.maybe("rod-share").unwrap_or_else(|| {
        besides.push("the rods' own weight is not counted: write rod-share".to_owned());
        0.0
    });
    if let Some(mu) = ask.maybe("adhesion") {
        let (at, n) = (axle, c.axle_loads_n.len());
        let beyond: f64 = if at < c.layout.driver {
            c.axle_loads_n[..=at].iter().sum()
        } else if at > c.layout.driver {
            c.axle_loads_n[at..].iter().sum()
        } else {
            c.axle_loads_n.iter().sum::<f64>() - c.axle_loads_n[at]
        };
        let tyre_m = mechanism.tyre()?.diameter_m;
        let slip = coupling_slip_force_n(beyond, mu, tyre_m, c.layout.throw_m)?;
        besides.push(format!(
            "one rod alone slipping the {} axles beyond it, its crank at the quarter: {:.1} kN ({:.1} tonf)",
            if at == c.layout.driver { n - 1 } else if at < c.layout.driver { at + 1 } else { n - at },
            1e-3 * slip,
            slip / 9_964.016_418
        ));
    }
    let lag = if left { c.layout.left_lag_rad } else { c.layout.right_lag_rad };
    let flung_n = share_kg * c.layout.throw_m * worked.wheel_rad_s.powi(2);
    let rubbing_m_s = 0.5 * pin_m * worked.wheel_rad_s;
    let mut steps = Vec::with_capacity(worked.loads.wheel_angle_rad.len());
    for (wheel_rad, moment) in worked.loads.wheel_angle_rad.iter().zip(&worked.loads.moment_nm) {
        let pairs = coupling_forces(&c.layout, *moment, wheel_angle(*wheel_rad)?)?;
        let (l, r) = pushes(&pairs, axle);
        let push = if left { l } else { r };
        let (sin, cos) = (wheel_rad - lag).sin_cos();
        steps.push(TurnStep {
            wheel_rad: *wheel_rad,
            along_n: -push - flung_n * cos,
            across_n: -flung_n * sin,
            rubbing_m_s,
        });
    }
    let journal = vec![worked.wheel_rad_s; steps.len()];
    Ok(Raw {
        directions: ["forward on the bush", "downward"],
        steps,
        journal_rad_s: Some(journal),
        polar: None,
        besides,
    })
}
