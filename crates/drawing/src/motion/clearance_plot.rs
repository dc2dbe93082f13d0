//! Piston clearance near both dead centres.

use super::axes::{Axes, round_step};
use super::svg::{Anchor, INK, Pen, RED, Svg};
use super::{DrawingError, DrawingStyle};
use mechanics::motion::{Bound, ClearanceChain, Float};

/// Half the width of each panel, degrees of crank angle.
const HALF_DEG: f64 = 12.0;

/// Clearance at the front cover round the front dead centre and at the back cover round the back
/// one. The band is what the slack of pins and boxes can do; a dashed line is the least clearance
/// wanted, where one is given.
///
/// # Errors
/// A chain that cannot turn; a wanted clearance not finite or out of range.
pub fn clearance_plot(
    chain: &ClearanceChain,
    least_wanted_m: Option<f64>,
    style: &DrawingStyle,
) -> Result<String, DrawingError> {
    const LEAST: Bound = Bound::new("least clearance wanted", "m", 0.0, 0.1);
    style.check()?;
    let unit = style.units.clearance();
    let wanted = least_wanted_m.map(|m| LEAST.check(m)).transpose()?.map(|m| unit.per_si * m);
    let ends = chain.dead_centres(Float::Middle)?;
    let text = style.text;
    let gap = 6.0 * text;
    let width = 0.5 * (style.width - 5.0 * text - gap - 1.5 * text);
    let height = 0.36 * style.width;
    let top = 4.6 * text;

    let panels = [("front", ends.front_crank_rad), ("back", ends.back_crank_rad)];
    let mut curves = Vec::new();
    for (name, dead) in panels {
        let mut floats = Vec::new();
        for float in [Float::Back, Float::Middle, Float::Forward] {
            let mut points = Vec::new();
            for i in -60..=60 {
                let deg = HALF_DEG * f64::from(i) / 60.0;
                let at = chain.at(dead + deg.to_radians(), float)?;
                let clearance = if name == "front" { at.front_m } else { at.back_m };
                points.push((deg, unit.per_si * clearance));
            }
            floats.push(points);
        }
        curves.push((name, floats));
    }
    let all = || curves.iter().flat_map(|(_, f)| f.iter().flatten()).map(|p| p.1);
    let most = all().fold(0.0, f64::max).max(wanted.unwrap_or(0.0)) * 1.05;
    let least = all().fold(0.0, f64::min);
    let step = round_step((most - least).max(1e-3 * unit.per_si), 6.0);
    let y = ((least / step).floor() * step, (most / step).ceil() * step);

    let mut svg = Svg::new("the clearance plot", style);
    let title = "Piston clearance near the dead centres";
    svg.sized_label((1.2 * text, 1.1 * text), Anchor::Start, 1.15, title);
    for (i, (name, floats)) in curves.iter().enumerate() {
        let axes = Axes {
            left: 5.0 * text + i as f64 * (width + gap),
            top,
            width,
            height,
            x: (-HALF_DEG, HALF_DEG),
            y,
        };
        // The band first, grid and lines over it.
        let mut band: Vec<_> = floats[0].iter().map(|p| axes.at(p.0, p.1)).collect();
        band.extend(floats[2].iter().rev().map(|p| axes.at(p.0, p.1)));
        svg.polygon(&band, Pen::shape("none", 0.0, "#d8c3c0"));
        let under = format!("crank from the {name} dead centre, degrees");
        let over = format!("{name} clearance, {}", unit.name);
        axes.draw(&mut svg, 4.0, step, [&under, &over]);
        axes.curve(&mut svg, &floats[1], Pen::line(RED, 2.0));
        for side in [0, 2] {
            axes.curve(&mut svg, &floats[side], Pen::line(INK, 0.8));
        }
        if let Some(wanted) = wanted {
            let (a, b) = (axes.at(-HALF_DEG, wanted), axes.at(HALF_DEG, wanted));
            svg.line(a, b, Pen::line(INK, 1.4).dashed("8 4"));
            let label = format!("wanted {wanted:.*}", unit.places - 1);
            svg.patch_label((a.0 + 4.0, a.1 + 0.8 * text), Anchor::Start, 0.8, &label);
        }
        let middle = floats[1][60].1;
        let tightest = floats[0][60].1.min(floats[2][60].1);
        let place = axes.at(0.0, y.1);
        let label = format!(
            "{}; slack taken up {}",
            unit.say(middle / unit.per_si),
            unit.say(tightest / unit.per_si)
        );
        svg.patch_label((place.0, place.1 + 1.1 * text), Anchor::Middle, 0.9, &label);
        let dead = axes.at(0.0, middle);
        svg.circle(dead, 3.0, Pen::shape(RED, 1.0, RED));
    }
    svg.finish(style.width, top + height + 3.2 * text, title)
}
