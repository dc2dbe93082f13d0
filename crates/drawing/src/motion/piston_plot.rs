//! Piston position and velocity through a revolution.

use super::axes::{Axes, round_step};
use super::svg::{Anchor, DASHES, INK, Pen, RED, Svg};
use super::{DrawingError, DrawingStyle};
use mechanics::motion::{Motion, Running, WheelAngle};

/// Position of every piston from the front end of its stroke, and its velocity, against the wheel
/// angle; a line at the position of the wheels where one is given.
///
/// # Errors
/// A speed or axle position out of range.
pub fn piston_plot(
    motion: &Motion,
    running: &Running,
    now: Option<WheelAngle>,
    style: &DrawingStyle,
) -> Result<String, DrawingError> {
    style.check()?;
    let steps = 720;
    let revolution = motion.revolution(steps, running)?;
    let text = style.text;
    let (left, width) = (5.0 * text, style.width - 6.5 * text);
    let panel = 0.30 * style.width;
    let key_rows = revolution.cylinders.len().div_ceil(3) as f64;
    let first_top = (3.6 + 1.5 * key_rows) * text;

    let (length, speed) = (style.units.length(), style.units.speed());
    let longest =
        revolution.cylinders.iter().map(|c| c.stroke_m).fold(0.0, f64::max) * length.per_si;
    let fastest = revolution
        .cylinders
        .iter()
        .flat_map(|c| &c.velocity_m_s)
        .fold(0.0_f64, |m, v| m.max(v.abs() * speed.per_si));
    let step = round_step(longest, 8.0);
    let position = Axes {
        left,
        top: first_top,
        width,
        height: panel,
        x: (0.0, 360.0),
        // The front end is at the top: the curve goes down as the piston goes back.
        y: ((longest / step).ceil() * step, 0.0),
    };
    let moving = 0.0 < fastest;
    let vstep = round_step(fastest.max(1.0), 3.0);
    let vtop = (fastest.max(1.0) / vstep).ceil() * vstep;
    let velocity = Axes { top: first_top + panel + 4.4 * text, y: (-vtop, vtop), ..position };

    let mut svg = Svg::new("the piston plot", style);
    let title = "Piston position and velocity";
    svg.sized_label((1.2 * text, 1.1 * text), Anchor::Start, 1.15, title);
    position.draw(
        &mut svg,
        30.0,
        step,
        [
            "wheel angle, degrees",
            &format!("piston back from the front end of its stroke, {}", length.name),
        ],
    );
    if moving {
        velocity.draw(
            &mut svg,
            30.0,
            vstep,
            ["wheel angle, degrees", &format!("velocity, {} (forward positive)", speed.name)],
        );
    }
    for (i, c) in revolution.cylinders.iter().enumerate() {
        let colour = if c.place.is_inside() { RED } else { INK };
        let pen = Pen::line(colour, 1.8).dashed(DASHES[i % DASHES.len()]);
        let angle = |k: usize| 360.0 * k as f64 / steps as f64;
        let closed = |values: &[f64], scale: f64| -> Vec<(f64, f64)> {
            (0..=steps).map(|k| (angle(k), scale * values[k % steps])).collect()
        };
        position.curve(&mut svg, &closed(&c.from_front_m, length.per_si), pen);
        if moving {
            velocity.curve(&mut svg, &closed(&c.velocity_m_s, speed.per_si), pen);
        }
        let (column, row) = ((i % 3) as f64, (i / 3) as f64);
        let x = left + column * width / 3.0;
        let y = (2.6 + 1.5 * row) * text;
        svg.line((x, y), (x + 3.0 * text, y), pen);
        svg.sized_label((x + 3.6 * text, y), Anchor::Start, 0.85, c.place.words());
    }
    if let Some(wheel) = now {
        let x = wheel.folded().deg();
        let panels = if moving { vec![position, velocity] } else { vec![position] };
        for axes in panels {
            let (a, b) = (axes.at(x, axes.y.0), axes.at(x, axes.y.1));
            svg.line(a, b, Pen::line(INK, 1.2).dashed("2 3"));
        }
        let top = position.at(x, position.y.1);
        let label = format!("now {x:.1}°");
        let anchor = if x < 300.0 { Anchor::Start } else { Anchor::End };
        let dx = if x < 300.0 { 4.0 } else { -4.0 };
        svg.patch_label((top.0 + dx, top.1 + 0.9 * text), anchor, 0.8, &label);
    }
    let foot = if moving { velocity.top + velocity.height } else { position.top + panel };
    svg.finish(style.width, foot + 3.2 * text, title)
}
