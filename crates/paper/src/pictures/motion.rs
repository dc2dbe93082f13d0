//! Drawings of the motion: at a position of the wheels, its clearances, its loads.

use drawing::motion::{
    CylinderBody, DrawingError, DrawingStyle, EndViewSizes, LoadCurve, LoadPlot, PlottedLoad,
    SideView, clearance_plot, end_view, load_plot, piston_plot, polar_plot, side_view,
};
use engine::judge::Judgement;
use engine::model::{Limit, When};
use engine::motion::{LoadAt, Mechanism, Working, bearings_of, chain_of, size_of};
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

/// Clearance round both dead centres of every cylinder, as SVG, in their order; for one that cannot
/// be drawn, why.
pub fn clearance_pictures(
    judgement: &Judgement,
    style: &DrawingStyle,
) -> Vec<Result<String, String>> {
    let cylinders = &judgement.engine().motion.cylinders;
    let drawn = |at: usize| {
        let chain = chain_of(judgement, at).map_err(|e| e.to_string())?.chain;
        let limits = cylinders[at].front_limits.iter().chain(&cylinders[at].back_limits);
        let least =
            limits.filter(|l| l.when == When::Service).filter_map(Limit::min_si).reduce(f64::max);
        clearance_plot(&chain, least, style).map_err(undrawn)
    };
    (0..cylinders.len()).map(drawn).collect()
}

/// Loads through a turn, as SVG, in this order: the crank pin of every cylinder, turning moment, every
/// bearing against the wheel angle, coupling rods, axleboxes, and the pistons.
///
/// # Errors
/// What cannot be drawn, and why.
pub fn load_pictures(
    judgement: &Judgement,
    mechanism: &Mechanism,
    w: &Working,
    style: &DrawingStyle,
) -> Result<Vec<String>, String> {
    let model = &judgement.engine().motion;
    let mut pictures = Vec::new();
    for c in &w.cylinders {
        let name = &model.cylinders[c.cylinder].id;
        pictures.push(polar_plot(&c.polar, name, style).map_err(undrawn)?);
    }
    let radius = 0.5 * mechanism.tyre().map_err(|e| e.to_string())?.diameter_m;
    let mut curves: Vec<LoadCurve<'_>> = model
        .cylinders
        .iter()
        .zip(&w.loads.cylinders)
        .map(|(c, trace)| LoadCurve { name: &c.id, values: &trace.moment_nm, heavy: false })
        .collect();
    curves.push(LoadCurve { name: "all together", values: &w.loads.moment_nm, heavy: true });
    let mut plot = |title: &str, load, positive, curves: &[LoadCurve<'_>], level| {
        let plot = LoadPlot { title, load, positive, curves, level };
        pictures.push(load_plot(&plot, style).map_err(undrawn)?);
        Ok::<(), String>(())
    };
    plot(
        "Turning moment of the driving axle",
        PlottedLoad::Moment,
        "driving forward positive",
        &curves,
        Some(("mean", w.tractive.mean_n * radius)),
    )?;
    for (title, named) in bearing_curves(judgement, mechanism, w) {
        // The picture has room for twelve; a fourth of that can be told apart at arm's length.
        for some in named.chunks(4) {
            let some: Vec<LoadCurve<'_>> = some
                .iter()
                .map(|(name, values)| LoadCurve { name, values, heavy: false })
                .collect();
            plot(&title, PlottedLoad::Force, "whichever way it presses", &some, None)?;
        }
    }
    let rod_names: Vec<[String; 2]> = w
        .coupling
        .iter()
        .flat_map(|c| &c.rods)
        .map(|r| {
            let (a, b) = (&model.axles[r.front_axle].id, &model.axles[r.front_axle + 1].id);
            ["left", "right"].map(|side| format!("{side}, {a} to {b}"))
        })
        .collect();
    let rods: Vec<LoadCurve<'_>> = w
        .coupling
        .iter()
        .flat_map(|c| &c.rods)
        .zip(&rod_names)
        .flat_map(|(r, names)| {
            [(&names[0], &r.left_n), (&names[1], &r.right_n)].map(|(name, values)| LoadCurve {
                name,
                values,
                heavy: false,
            })
        })
        .take(12)
        .collect();
    if !rods.is_empty() {
        plot("Coupling rods", PlottedLoad::Force, "pull positive", &rods, None)?;
    }
    let box_names: Vec<String> = w
        .boxes
        .iter()
        .flatten()
        .map(|b| {
            let side = if b.left { "left" } else { "right" };
            format!("{side} {}", model.axles[b.axle].id)
        })
        .collect();
    let boxes: Vec<LoadCurve<'_>> = w
        .boxes
        .iter()
        .flatten()
        .zip(&box_names)
        .map(|(b, name)| LoadCurve { name, values: &b.forward_n, heavy: false })
        .take(12)
        .collect();
    if !boxes.is_empty() {
        let title = "Axleboxes, fore and aft";
        plot(title, PlottedLoad::Force, "box pushed forward positive", &boxes, None)?;
    }
    let running = mechanism.running(w.wheel_rad_s);
    pictures.push(piston_plot(&mechanism.motion, &running, None, style).map_err(undrawn)?);
    Ok(pictures)
}

/// Bearings of one kind: the title of their picture, and each by name with its loads, N.
type Together = (String, Vec<(String, Vec<f64>)>);

/// The load of every bearing through the turn, however it is directed, those of one kind together.
fn bearing_curves(judgement: &Judgement, mechanism: &Mechanism, w: &Working) -> Vec<Together> {
    // What is missing for them is told with the figures.
    let Ok(found) = bearings_of(judgement.engine(), mechanism, w) else { return Vec::new() };
    let mut out: Vec<Together> = Vec::new();
    for b in &found.bearings {
        let title = format!("Bearing loads: {}", b.kind.word());
        let values = b.points.iter().map(LoadAt::load_n).collect();
        match out.iter_mut().find(|(t, _)| *t == title) {
            Some((_, named)) => named.push((b.name.clone(), values)),
            None => out.push((title, vec![(b.name.clone(), values)])),
        }
    }
    out
}

fn undrawn(e: DrawingError) -> String {
    let why = match &e {
        DrawingError::Bound(b) => engine::motion::bound_words(b),
        DrawingError::Motion(m) => engine::motion::motion_words(m),
        DrawingError::Load(l) => engine::motion::load_words(l),
        other => other.to_string(),
    };
    format!("it cannot be drawn: {why}; check the sizes of the cylinder")
}
