//! The motion at equal steps of one turn, for a page that shows it moving.

use super::shapes::{MovingCylinderView, RevolutionView};
use crate::judge::Judgement;
use crate::motion::{Mechanism, NoAnswer, Said, chain_of, size_of, standing};
use mechanics::motion::{CylinderNo, PointXz, WheelAngle};
use std::f64::consts::TAU;

/// Steps of a turn that can be had.
const STEPS: std::ops::RangeInclusive<usize> = 2..=3600;

/// Wheel angles of equal steps of one forward turn from a position; the end of the turn, which is
/// its beginning again, is left out.
///
/// # Errors
/// Fewer than 2 steps or more than 3600; an angle out of range.
pub fn turn_from(
    mechanism: &Mechanism,
    from: &Said,
    steps: usize,
) -> Result<Vec<WheelAngle>, NoAnswer> {
    if !STEPS.contains(&steps) {
        return Err(NoAnswer::Words {
            what: format!("{steps} steps of a turn"),
            mend: format!("ask for {} to {}", STEPS.start(), STEPS.end()),
        });
    }
    let first = standing(mechanism, from)?.wheel.rad();
    (0..steps).map(|k| Ok(WheelAngle::from_rad(first + TAU * k as f64 / steps as f64)?)).collect()
}

/// Every pin at equal steps of one forward turn from a position.
///
/// # Errors
/// As [`turn_from`].
pub fn revolution_view(
    judgement: &Judgement,
    mechanism: &Mechanism,
    from: &Said,
    steps: usize,
) -> Result<RevolutionView, NoAnswer> {
    let engine = judgement.engine();
    let running = mechanism.running(0.0);
    let angles = turn_from(mechanism, from, steps)?;
    let tyre_m = mechanism.tyre().ok().map(|t| t.diameter_m);
    let mut cylinders = Vec::new();
    for (at, c) in engine.motion.cylinders.iter().enumerate() {
        let line = mechanism.motion.line(CylinderNo(at))?;
        let states = angles
            .iter()
            .map(|w| mechanism.motion.cylinder_at(CylinderNo(at), *w, &running))
            .collect::<Result<Vec<_>, _>>()?;
        let chain = chain_of(judgement, at).ok().map(|i| *i.chain.sizes());
        let first = states.first();
        cylinders.push(MovingCylinderView {
            cylinder: c.id.clone(),
            place: c.place.words(),
            left_m: line.lateral_m,
            incline_deg: line.incline_rad.to_degrees(),
            throw_m: line.crank_throw_m,
            rod_m: line.rod_centres_m,
            stroke_m: first.map_or(f64::NAN, |s| s.stroke_m),
            axle: first.map_or([f64::NAN; 2], |s| xz(s.axle_centre)),
            crank_pin: states.iter().map(|s| xz(s.crank_pin)).collect(),
            crosshead_pin: states.iter().map(|s| xz(s.crosshead_pin)).collect(),
            from_front_m: states.iter().map(|s| s.from_front_m).collect(),
            past_front_deg: states
                .iter()
                .map(|s| s.past_front_dead_centre_rad.to_degrees())
                .collect(),
            pin_to_piston_m: chain.map(|s| {
                let back = s.pin_to_cone_m + s.cone_to_piston_m;
                [back, back + s.piston_thickness_m]
            }),
            covers_m: chain.map(|s| {
                let back = s.axle_to_cylinder_m - s.back_joint_m + s.back_cover_spigot_m;
                let face = s.axle_to_cylinder_m + s.cylinder_length_m;
                [back, face + s.front_joint_m - s.front_cover_spigot_m]
            }),
            bore_m: size_of(judgement, at, "bore").ok(),
        });
    }
    let start = angles.first().map_or(0.0, |a| a.rad());
    Ok(RevolutionView {
        engine: engine.name.clone(),
        from: from.to_string(),
        rolled_m: tyre_m.map_or_else(Vec::new, |d| {
            angles.iter().map(|a| 0.5 * d * (a.rad() - start)).collect()
        }),
        wheel_deg: angles.iter().map(|a| a.deg()).collect(),
        tyre_m,
        cylinders,
        notes: mechanism.notes.words(engine),
    })
}

fn xz(p: PointXz) -> [f64; 2] {
    [p.x_m, p.z_m]
}
