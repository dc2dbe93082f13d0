//! How a load hangs from one hook, and what its legs carry.

use super::super::error::LiftingError;
use super::super::{Body, STANDARD_GRAVITY_M_S2};
use super::elastic::{ElasticHang, hang_elastic_from};
use super::equilibria::equilibria;
use super::leg::{Leg, Legs, check_legs};
use super::share::shares;
use nalgebra::Vector3;

/// Legs whose gap is below this count as just fitting, m.
const FITS_M: f64 = 1e-6;

/// A part that comes to rest this far from how it sat has turned over, rad (120 degrees). A part
/// slung by one end, lying, comes to about 90.
const OVER_RAD: f64 = 2.1;

/// What a leg carries.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LegTension {
    /// What it carries if four legs just fit and are of one make; the one answer of statics with
    /// fewer, N.
    pub even_n: f64,
    /// The least it can carry, N.
    pub least_n: f64,
    /// The most it can carry, N: with four legs, while others hang slack.
    pub most_n: f64,
}

/// One leg of a hanging load.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LegState {
    /// Tension.
    pub tension: LegTension,
    /// Angle of the leg to the vertical, rad.
    pub angle_rad: f64,
    /// Direction of the leg seen from above, from the hook outwards, rad from the part's x axis.
    pub plan_rad: f64,
    /// Length not taken up, m; only one of four legs may have it.
    pub gap_m: f64,
}

/// What four legs need besides.
#[derive(Debug, Clone, PartialEq)]
pub struct FourLegs {
    /// Each leg if three carry evenly at the flattest leg's angle, N: `W / (3 cos β)`, the basis of
    /// the ratings of EN 818-4 and EN 13414-1.
    pub on_three_n: f64,
    /// Each leg if two carry at that angle, N: `W / (2 cos β)`, the stricter custom.
    pub on_two_n: f64,
    /// Rest with the stretch of the legs counted in, where all stretches are known.
    pub elastic: Option<ElasticHang>,
}

/// A load at rest under one hook.
#[derive(Debug, Clone, PartialEq)]
pub struct Hang {
    /// The hook, m in the part's frame.
    pub hook_m: [f64; 3],
    /// The vertical in the part's frame, pointing up.
    pub up: [f64; 3],
    /// Angle between the part's z axis and the vertical, rad.
    pub tilt_rad: f64,
    /// Tilt along the part's x and y axes, rad: positive where that end hangs lower.
    pub lean_rad: [f64; 2],
    /// Distance from the balance point up to the hook, m.
    pub drop_m: f64,
    /// How far the balance point lies above the highest eye that carries, m; negative below.
    pub above_eyes_m: f64,
    /// The legs, in the order given.
    pub legs: Vec<LegState>,
    /// With four legs.
    pub four: Option<FourLegs>,
    /// Weight, N.
    pub weight_n: f64,
}

/// How a load hangs from one hook by 1 to 4 legs that do not stretch, and their tensions.
///
/// The attitude is exact: every equilibrium is found in closed form from the taut legs (one: in
/// line; two: the plane of eyes and balance point; three: three spheres) and judged by the second
/// derivative of the energy; the derivation stands in the source. Of all the one nearest upright is
/// taken: if that is not stable the load turns over. Tensions are those of statics, with four legs
/// their range (see [`super::leg_shares`]).
///
/// # Errors
/// [`LiftingError::TurnsOver`] where the balance point lies above (or on) the eye or the line of the
/// eyes, or the part would come to rest more than 120 degrees from how it sat, [`LiftingError::LegSlack`] where one of 2 or 3 legs would hang slack, or two of 4 by more
/// than legs of one sling may differ (10 mm, or 5 mm for each metre; a chain maker's sheet, verified),
/// [`LiftingError::LegsDoNotMeet`]; places, lengths and masses out of range.
///
/// Worked value: two equal legs at 45 degrees to the vertical carry 0.707 W each (statics).
pub fn hang(body: &Body, legs: &[Leg]) -> Result<Hang, LiftingError> {
    let checked = check_legs(legs)?;
    let at = settle(body, &checked)?;
    let weight_n = body.mass_kg() * STANDARD_GRAVITY_M_S2;
    let g = Vector3::from(body.centre_m());
    let up = (at.hook - g).normalize();
    let elastic =
        if legs.len() == 4 { hang_elastic_from(body, legs, &checked, at.hook)? } else { None };
    let pulls: Vec<Vector3<f64>> = checked.eyes.iter().map(|e| at.hook - e).collect();
    let gaps: Vec<f64> =
        pulls.iter().zip(&checked.lengths).map(|(p, l)| (l - p.norm()).max(0.0)).collect();
    let reaches: Vec<f64> = pulls.iter().map(Vector3::norm).collect();
    let units: Vec<Vector3<f64>> = pulls.iter().map(|p| p / p.norm()).collect();
    let range = shares(&units, &reaches, &(up * weight_n))?;
    // With a gap the slack leg carries nothing; the range still covers what a stretch or a link's
    // difference would bring.
    let taut: Vec<usize> = (0..legs.len()).filter(|&i| gaps[i] <= FITS_M).collect();
    let mut even = range.even_n.clone();
    if taut.len() < legs.len() {
        let some: Vec<_> = taut.iter().map(|&i| units[i]).collect();
        let long: Vec<_> = taut.iter().map(|&i| reaches[i]).collect();
        let part = shares(&some, &long, &(up * weight_n))?;
        even = vec![0.0; legs.len()];
        for (&i, t) in taut.iter().zip(part.even_n) {
            even[i] = t;
        }
    }
    let states: Vec<LegState> = (0..legs.len())
        .map(|i| LegState {
            tension: LegTension {
                even_n: even[i],
                least_n: range.least_n[i],
                most_n: range.most_n[i],
            },
            angle_rad: units[i].cross(&up).norm().atan2(units[i].dot(&up)),
            plan_rad: (-units[i].y).atan2(-units[i].x),
            gap_m: gaps[i],
        })
        .collect();
    let flattest = states.iter().map(|s| s.angle_rad).fold(0.0, f64::max);
    let four = (legs.len() == 4).then(|| FourLegs {
        on_three_n: weight_n / (3.0 * flattest.cos()),
        on_two_n: weight_n / (2.0 * flattest.cos()),
        elastic,
    });
    let high = taut.iter().map(|&i| checked.eyes[i].dot(&up)).fold(f64::NEG_INFINITY, f64::max);
    Ok(Hang {
        hook_m: at.hook.into(),
        up: up.into(),
        tilt_rad: up.x.hypot(up.y).atan2(up.z),
        // Where the vertical leans towards +x in the part's frame, the +x end hangs higher.
        lean_rad: [(-up.x).atan2(up.z), (-up.y).atan2(up.z)],
        drop_m: (at.hook - g).norm(),
        above_eyes_m: g.dot(&up) - high,
        legs: states,
        four,
        weight_n,
    })
}

/// The hook over the part at rest.
pub(super) struct Settled {
    pub(super) hook: Vector3<f64>,
}

pub(super) fn settle(body: &Body, legs: &Legs) -> Result<Settled, LiftingError> {
    let g = Vector3::from(body.centre_m());
    let all = equilibria(legs, &g);
    if all.rolls {
        return Err(LiftingError::TurnsOver { above_m: 0.0 });
    }
    let tilt = |hook: &Vector3<f64>| {
        let up = hook - g;
        up.x.hypot(up.y).atan2(up.z)
    };
    // Corners shared by several sets of legs come up several times: the stable reading, held by
    // most legs, goes first.
    let mut found = all.found;
    found.sort_by(|a, b| {
        let apart = (a.hook - b.hook).norm() > FITS_M;
        let by_tilt = tilt(&a.hook).total_cmp(&tilt(&b.hook));
        let by_kind = b.stable.cmp(&a.stable).then(b.held_by.len().cmp(&a.held_by.len()));
        if apart { by_tilt.then(by_kind) } else { by_kind }
    });
    let Some(first) = found.first() else {
        return Err(LiftingError::LegsDoNotMeet { short_m: shortage(legs) });
    };
    if !first.stable {
        return Err(LiftingError::TurnsOver { above_m: first.above_m.max(0.0) });
    }
    if tilt(&first.hook) > OVER_RAD {
        let high = legs.eyes.iter().map(|e| e.z).fold(f64::NEG_INFINITY, f64::max);
        return Err(LiftingError::TurnsOver { above_m: (g.z - high).max(0.0) });
    }
    let gaps: Vec<f64> =
        legs.eyes.iter().zip(&legs.lengths).map(|(e, l)| l - (first.hook - e).norm()).collect();
    let slack: Vec<usize> = (0..gaps.len()).filter(|&i| gaps[i] > FITS_M).collect();
    // With four legs one may hang slack, or more by no more than makers may leave legs unlike.
    let four = gaps.len() == 4;
    let unlike = slack.iter().all(|&i| gaps[i] <= 0.010_f64.max(0.005 * legs.lengths[i]));
    if !slack.is_empty() && !(four && (slack.len() == 1 || unlike)) {
        let leg = slack.iter().copied().max_by(|&a, &b| gaps[a].total_cmp(&gaps[b])).unwrap_or(0);
        return Err(LiftingError::LegSlack {
            leg,
            gap_m: gaps[leg],
            tilt_deg: tilt(&first.hook).to_degrees(),
        });
    }
    Ok(Settled { hook: first.hook })
}

/// How much two legs lack to reach each other, the worst pair.
fn shortage(legs: &Legs) -> f64 {
    let mut worst: f64 = 0.0;
    for i in 0..legs.eyes.len() {
        for j in 0..i {
            let apart = (legs.eyes[i] - legs.eyes[j]).norm();
            worst = worst.max(apart - legs.lengths[i] - legs.lengths[j]);
        }
    }
    worst
}
