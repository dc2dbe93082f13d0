//! Drawings of the motion at a position of the wheels.

use drawing::motion::{
    CylinderBody, DrawingError, DrawingStyle, EndViewSizes, SideView, end_view, side_view,
};
use engine::judge::Judgement;
use engine::motion::{Mechanism, chain_of, size_of};
use mechanics::motion::{CylinderNo, WheelAngle};

/// Side view of every cylinder and the end view, as SVG. Rod ends, webs, wheels and crosshead are
/// drawn in the usual proportion, everything else as read.
///
/// # Errors
/// A size that is missing, or cannot be drawn: which, and why.
pub fn motion_pictures(
    judgement: &Judgement,
    mechanism: &Mechanism,
    wheel: WheelAngle,
    style: &DrawingStyle,
) -> Result<Vec<String>, String> {
    let running = mechanism.running(0.0);
    let tyre_diameter_m = mechanism.tyre().map_err(|e| e.to_string())?.diameter_m;
    let mut pictures = Vec::new();
    let mut widest: f64 = 0.0;
    for at in 0..judgement.engine().motion.cylinders.len() {
        let chain = chain_of(judgement, at).map_err(|e| e.to_string())?.chain;
        let bore = size_of(judgement, at, "bore").map_err(|e| e.to_string())?;
        let rod = size_of(judgement, at, "piston-rod").map_err(|e| e.to_string())?;
        let body = CylinderBody::from_chain(&chain, bore, rod).map_err(undrawn)?;
        let view = SideView { cylinder: CylinderNo(at), body, tyre_diameter_m, wheel };
        pictures.push(side_view(&mechanism.motion, &running, &view, style).map_err(undrawn)?);
        widest = widest.max(bore);
    }
    let laterals: Vec<f64> = (0..mechanism.motion.cylinders())
        .filter_map(|at| mechanism.motion.line(CylinderNo(at)).ok())
        .map(|l| l.lateral_m.abs())
        .collect();
    let inside = judgement.engine().motion.cylinders.iter().any(|c| c.place.is_inside());
    let outermost = laterals.iter().copied().fold(0.0, f64::max);
    // For the look of it: wheels outside inside cranks with the boxes between, and close behind
    // outside ones.
    let (tyre_width_m, pin_length_m, web_m) =
        (0.09 * tyre_diameter_m, 0.25 * widest, 0.22 * widest);
    let beside = 0.5 * (pin_length_m + tyre_width_m) + web_m;
    let half_apart = if inside { outermost + beside + 0.25 } else { outermost - beside - 0.01 };
    let sizes = EndViewSizes {
        tyre_diameter_m,
        tyre_width_m,
        wheels_apart_m: (2.0 * half_apart).max(0.3),
        axle_m: 0.44 * widest,
        crank_pin_m: 0.40 * widest,
        crank_pin_length_m: pin_length_m,
        web_m,
    };
    pictures.push(end_view(&mechanism.motion, &running, wheel, &sizes, style).map_err(undrawn)?);
    Ok(pictures)
}

fn undrawn(e: DrawingError) -> String {
    format!("it cannot be drawn: {e}; check the sizes of the cylinder")
}
