//! End view of the driving axle: where every crank pin stands, seen from behind.

use super::svg::{Anchor, FAINT, INK, METAL, PALE, PAPER, Pen, RED, Svg};
use super::{DrawingError, DrawingStyle};
use mechanics::motion::{Bound, CylinderNo, CylinderState, Motion, Running, WheelAngle};

/// Sizes for the end view, m.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EndViewSizes {
    /// Driving tyre diameter.
    pub tyre_diameter_m: f64,
    /// Tyre width.
    pub tyre_width_m: f64,
    /// Middles of the tyres apart.
    pub wheels_apart_m: f64,
    /// Axle diameter.
    pub axle_m: f64,
    /// Crank pin diameter.
    pub crank_pin_m: f64,
    /// Crank pin length.
    pub crank_pin_length_m: f64,
    /// Thickness of a crank web.
    pub web_m: f64,
}

/// End view in true proportion, seen from behind the engine: left is left.
///
/// Pins behind the axle (nearer to who looks) are drawn whole, pins in front of it dashed.
///
/// # Errors
/// A size out of range.
pub fn end_view(
    motion: &Motion,
    running: &Running,
    wheel: WheelAngle,
    sizes: &EndViewSizes,
    style: &DrawingStyle,
) -> Result<String, DrawingError> {
    const TYRE: Bound = Bound::new("tyre diameter", "m", 0.3, 3.0);
    const SIZE: Bound = Bound::new("size in the end view", "m", 0.01, 3.0);
    style.check()?;
    let radius = 0.5 * TYRE.check(sizes.tyre_diameter_m)?;
    for size in [
        sizes.tyre_width_m,
        sizes.wheels_apart_m,
        sizes.axle_m,
        sizes.crank_pin_m,
        sizes.crank_pin_length_m,
        sizes.web_m,
    ] {
        SIZE.check(size)?;
    }
    let states = motion.at(wheel, running)?;
    let laterals: Vec<f64> = (0..states.len())
        .map(|i| Ok(motion.line(CylinderNo(i))?.lateral_m))
        .collect::<Result<_, DrawingError>>()?;

    let text = style.text;
    let wide = laterals
        .iter()
        .map(|y| y.abs() + 0.5 * sizes.crank_pin_length_m)
        .fold(0.5 * (sizes.wheels_apart_m + sizes.tyre_width_m), f64::max);
    let side = 9.5 * text;
    let scale = (style.width - 2.0 * side) / (2.0 * wide);
    let head = 3.4 * text;
    let height = head + 2.1 * radius * scale + 2.6 * text;
    let middle = 0.5 * style.width;
    let axle_y = head + 1.05 * radius * scale;
    let at = |y_left: f64, z: f64| (middle - y_left * scale, axle_y - z * scale);

    let mut svg = Svg::new("the end view", style);
    let rail = at(0.0, -radius).1;
    for sign in [1.0, -1.0] {
        let outer = 0.5 * (sizes.wheels_apart_m + sizes.tyre_width_m) * sign;
        let inner = 0.5 * (sizes.wheels_apart_m - sizes.tyre_width_m) * sign;
        let (a, b) = (at(outer, radius), at(inner, -radius));
        let corner = (a.0.min(b.0), a.1);
        svg.rectangle(corner, ((a.0 - b.0).abs(), b.1 - a.1), Pen::shape(INK, 1.4, PALE));
        // Rail head under the tyre.
        let rail_x = at(0.5 * sizes.wheels_apart_m * sign, 0.0).0;
        svg.rectangle(
            (rail_x - 0.035 * scale, rail),
            (0.07 * scale, 0.9 * text),
            Pen::shape(INK, 1.2, METAL),
        );
    }
    axle(&mut svg, &at, sizes, &laterals, wide);
    svg.line(at(wide, 0.0), at(-wide, 0.0), Pen::line(INK, 0.7).dashed("10 3 2 3"));
    for (s, y) in states.iter().zip(&laterals) {
        crank(&mut svg, &at, sizes, s, *y);
    }
    names(&mut svg, &at, &states, &laterals, style);
    let title = "Driving axle seen from behind";
    svg.sized_label((1.2 * text, 1.1 * text), Anchor::Start, 1.15, title);
    let y = height - 0.9 * text;
    svg.sized_label((1.2 * text, y), Anchor::Start, 0.85, "left");
    svg.sized_label((style.width - 1.2 * text, y), Anchor::End, 0.85, "right");
    let key = "whole: pin behind the axle; dashed: in front of it";
    svg.sized_label((middle, y), Anchor::Middle, 0.85, key);
    svg.finish(style.width, height, title)
}

type Place<'a> = &'a dyn Fn(f64, f64) -> (f64, f64);

/// The axle in pieces between the webs of inside cranks.
fn axle(svg: &mut Svg, at: Place<'_>, sizes: &EndViewSizes, laterals: &[f64], wide: f64) {
    let inner_wheel = 0.5 * (sizes.wheels_apart_m - sizes.tyre_width_m);
    let half_throw = 0.5 * sizes.crank_pin_length_m + sizes.web_m;
    let mut cuts: Vec<(f64, f64)> = laterals
        .iter()
        .filter(|y| y.abs() < inner_wheel)
        .map(|y| (y - half_throw, y + half_throw))
        .collect();
    cuts.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut from = -wide.min(0.5 * (sizes.wheels_apart_m + sizes.tyre_width_m));
    let end = -from;
    let piece = |svg: &mut Svg, a: f64, b: f64| {
        if a < b {
            let (p, q) = (at(b, 0.5 * sizes.axle_m), at(a, -0.5 * sizes.axle_m));
            svg.rectangle(p, (q.0 - p.0, q.1 - p.1), Pen::shape(INK, 1.2, METAL));
        }
    };
    for (a, b) in cuts {
        piece(svg, from, a);
        from = from.max(b);
    }
    piece(svg, from, end);
}

fn crank(
    svg: &mut Svg,
    at: Place<'_>,
    sizes: &EndViewSizes,
    state: &CylinderState,
    lateral_m: f64,
) {
    let z = state.crank_pin.z_m - state.axle_centre.z_m;
    let behind = state.crank_pin.x_m <= state.axle_centre.x_m;
    let dash = if behind { "" } else { "5 3" };
    let (half, thick) = (0.5 * sizes.crank_pin_length_m, sizes.web_m);
    let (top, foot) = (z.max(0.0) + 0.7 * sizes.crank_pin_m, z.min(0.0) - 0.7 * sizes.crank_pin_m);
    let outside = 0.5 * (sizes.wheels_apart_m - sizes.tyre_width_m) <= lateral_m.abs();
    // An outside pin has one web, on the wheel's side; an inside pin has two.
    let webs: &[f64] = match (outside, 0.0 < lateral_m) {
        (true, true) => &[-1.0],
        (true, false) => &[1.0],
        _ => &[-1.0, 1.0],
    };
    let web = Pen::shape(INK, 1.2, METAL).dashed(dash);
    for side in webs {
        let outer = lateral_m + side * (half + thick);
        let inner = lateral_m + side * half;
        let (p, q) = (at(outer.max(inner), top), at(outer.min(inner), foot));
        svg.rectangle(p, (q.0 - p.0, q.1 - p.1), web);
    }
    let fill = if behind { RED } else { PAPER };
    let (p, q) = (
        at(lateral_m + half, z + 0.5 * sizes.crank_pin_m),
        at(lateral_m - half, z - 0.5 * sizes.crank_pin_m),
    );
    svg.rectangle(p, (q.0 - p.0, q.1 - p.1), Pen::shape(RED, 1.6, fill).dashed(dash));
}

/// Names in two columns beside the wheels, each on a thin line to its pin.
fn names(
    svg: &mut Svg,
    at: Place<'_>,
    states: &[CylinderState],
    laterals: &[f64],
    style: &DrawingStyle,
) {
    let text = style.text;
    for left in [true, false] {
        // A middle crank goes to the column with fewer names: the right one.
        let mut column: Vec<_> = states
            .iter()
            .zip(laterals)
            .filter(|(_, y)| (0.0 < **y) == left)
            .map(|(s, y)| (s, at(*y, s.crank_pin.z_m - s.axle_centre.z_m)))
            .collect();
        column.sort_by(|a, b| a.1.1.total_cmp(&b.1.1));
        let mut least = f64::NEG_INFINITY;
        for (s, pin) in column {
            let y = pin.1.max(least);
            least = y + 3.0 * text;
            let (x, anchor, edge) = if left {
                (0.6 * text, Anchor::Start, 8.6 * text)
            } else {
                (style.width - 0.6 * text, Anchor::End, style.width - 8.6 * text)
            };
            svg.line((edge, y), pin, Pen::line(FAINT, 0.8));
            svg.circle(pin, 2.5, Pen::shape(INK, 0.8, PAPER));
            svg.sized_label((x, y - 0.6 * text), anchor, 0.9, s.place.words());
            let past = s.past_front_dead_centre_rad.to_degrees();
            svg.sized_label((x, y + 0.6 * text), anchor, 0.8, &format!("{past:.1}° past FDC"));
        }
    }
}
