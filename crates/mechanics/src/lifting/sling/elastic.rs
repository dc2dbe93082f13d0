//! The hanging attitude when the legs stretch.

use super::super::error::LiftingError;
use super::super::{Body, STANDARD_GRAVITY_M_S2};
use super::leg::{Leg, Legs, Stretch, check_legs};
use nalgebra::{Matrix3, Vector3};

const MOST_STEPS: usize = 400;
const SETTLED: f64 = 1e-8;

/// A load at rest on legs that stretch.
#[derive(Debug, Clone, PartialEq)]
pub struct ElasticHang {
    /// The hook, m in the part's frame.
    pub hook_m: [f64; 3],
    /// The vertical in the part's frame, pointing up.
    pub up: [f64; 3],
    /// Angle between the part's z axis and the vertical, rad.
    pub tilt_rad: f64,
    /// Tension of each leg, N; 0 where it hangs slack.
    pub tension_n: Vec<f64>,
}

/// Where a load comes to rest when its legs stretch.
///
/// Own derivation: with the hook at h in the part's frame the energy is
/// `E = −W |h − G| + Σ ½ (EA/L)_i max(0, |h − e_i| − L_i)²`; its minimum is found by damped Newton
/// steps from the hook of the legs that do not stretch.
///
/// # Errors
/// As [`super::hang`]; a leg whose stretch is not known ([`LiftingError::Count`]); a search that
/// does not settle.
pub fn hang_elastic(body: &Body, legs: &[Leg]) -> Result<ElasticHang, LiftingError> {
    let checked = check_legs(legs)?;
    let rigid = super::hang::settle(body, &checked)?;
    hang_elastic_from(body, legs, &checked, rigid.hook)?.ok_or(LiftingError::Count {
        what: "legs of known stretch",
        given: legs.iter().filter(|l| l.stretch != Stretch::Unknown).count(),
        least: legs.len(),
        most: legs.len(),
    })
}

/// `None` where a stretch is not known.
pub(super) fn hang_elastic_from(
    body: &Body,
    legs: &[Leg],
    checked: &Legs,
    start: Vector3<f64>,
) -> Result<Option<ElasticHang>, LiftingError> {
    let mut stiffness = Vec::new();
    for leg in legs {
        match leg.stretch {
            Stretch::AxialN(ea) => stiffness.push(ea / leg.length_m),
            Stretch::Unknown => return Ok(None),
        }
    }
    let weight = body.mass_kg() * STANDARD_GRAVITY_M_S2;
    let g = Vector3::from(body.centre_m());
    let at = |h: &Vector3<f64>| energy(h, &g, weight, checked, &stiffness);
    let mut hook = start;
    let mut now = at(&hook);
    let mut damping = 1e-6 * stiffness.iter().sum::<f64>();
    let mut steps = 0;
    while now.slope.norm() > SETTLED * weight {
        if steps == MOST_STEPS {
            return Err(LiftingError::NotConverged {
                iterations: steps,
                residual: now.slope.norm() / weight,
            });
        }
        steps += 1;
        let damped = now.bend + Matrix3::identity() * damping;
        let next = damped.cholesky().map(|c| hook - c.solve(&now.slope));
        match next.map(|h| (h, at(&h))) {
            // Near the end energies differ by less than rounding: there the slope decides.
            Some((h, then))
                if then.value < now.value
                    || (then.value - now.value <= 1e-12 * now.value.abs()
                        && then.slope.norm() < now.slope.norm()) =>
            {
                hook = h;
                now = then;
                damping = (damping * 0.2).max(1e-9 * weight);
            }
            _ => damping *= 5.0,
        }
    }
    let hang = hook - g;
    let up = hang.normalize();
    let tension_n = checked
        .eyes
        .iter()
        .zip(&checked.lengths)
        .zip(&stiffness)
        .map(|((e, l), k)| k * ((hook - e).norm() - l).max(0.0))
        .collect();
    Ok(Some(ElasticHang {
        hook_m: hook.into(),
        up: up.into(),
        tilt_rad: up.x.hypot(up.y).atan2(up.z),
        tension_n,
    }))
}

struct Energy {
    value: f64,
    slope: Vector3<f64>,
    bend: Matrix3<f64>,
}

fn energy(
    hook: &Vector3<f64>,
    g: &Vector3<f64>,
    weight: f64,
    legs: &Legs,
    stiffness: &[f64],
) -> Energy {
    let hang = hook - g;
    let drop = hang.norm();
    let up = hang / drop;
    let mut e = Energy {
        value: -weight * drop,
        slope: -up * weight,
        bend: (Matrix3::identity() - up * up.transpose()) * (-weight / drop),
    };
    for ((eye, length), k) in legs.eyes.iter().zip(&legs.lengths).zip(stiffness) {
        let pull = hook - eye;
        let reach = pull.norm();
        let stretch = reach - length;
        if stretch > 0.0 {
            let u = pull / reach;
            let along = u * u.transpose();
            e.value += 0.5 * k * stretch * stretch;
            e.slope += u * (k * stretch);
            e.bend += (along + (Matrix3::identity() - along) * (stretch / reach)) * *k;
        }
    }
    e
}
