//! The load of a bearing through a turn of the wheel.

use crate::DrawingError;
use crate::scale::step_for;
use crate::svg::{Anchor, Dash, Fill, GREY, INK, Lettering, OUT, Pen, Picture, Svg};

/// The load at one wheel angle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TurnPoint {
    /// Wheel angle (rad).
    pub wheel_rad: f64,
    /// Load along the first direction (N).
    pub along_n: f64,
    /// Along the second (N).
    pub across_n: f64,
    /// Less than half of the oil wedge of a steady load is left.
    pub weak: bool,
}

/// A turn to be drawn.
#[derive(Clone, Debug)]
pub struct TurnPlot {
    /// Engine and joint.
    pub title: String,
    /// Working point, in words.
    pub point: String,
    /// Names of the two directions.
    pub directions: [&'static str; 2],
    /// The points, in order of the wheel angle.
    pub points: Vec<TurnPoint>,
    /// The load that the bearing's steady film was worked out for (N).
    pub held_still_n: Option<f64>,
}

const WIDTH: f64 = 720.0;
const LETTER: Lettering = Lettering::new(8.5);

/// Draws the load in the bearing's own directions, and its amount over the wheel angle.
///
/// # Errors
/// Fewer than two points, no load, or figures that are not finite.
pub fn turn_plot(t: &TurnPlot) -> Result<Picture, DrawingError> {
    let amount = |p: &TurnPoint| p.along_n.hypot(p.across_n);
    let most = t.points.iter().map(amount).fold(0.0, f64::max);
    if let Some(p) = t.points.iter().find(|p| !(amount(p).is_finite() && p.wheel_rad.is_finite())) {
        return Err(DrawingError::NotFinite { what: "a load of the turn", value: amount(p) });
    }
    if t.points.len() < 2 || most <= 0.0 {
        return Err(DrawingError::Nothing { what: "no load through the turn" });
    }
    let flat = t.points.iter().all(|p| p.across_n.abs() < 1e-6 * most);
    let mut svg = Svg::new(WIDTH, 360.0);
    svg.text(
        (20.0, 24.0),
        &format!("{}: load through a turn", t.title),
        Lettering::new(12.0).bold(),
    );
    svg.text((20.0, 40.0), &LETTER.fitted(&t.point, WIDTH - 40.0), LETTER);
    let left = if flat {
        70.0
    } else {
        polar(&mut svg, t, most);
        380.0
    };
    curve(&mut svg, t, most, flat, (left, WIDTH - 60.0));
    let mean = t.points.iter().map(amount).sum::<f64>() / t.points.len() as f64;
    let description = format!(
        "{}: greatest {:.1} kN, mean {:.1} kN; {}",
        t.title,
        1e-3 * most,
        1e-3 * mean,
        t.point
    );
    svg.finish(&t.title, &description)
}

/// Distance from the middle is the load, direction the side of the bearing that is pressed.
fn polar(svg: &mut Svg, t: &TurnPlot, most: f64) {
    let (centre, radius) = ((180.0, 198.0), 112.0);
    let step = step_for(most, 4.0);
    let rings = (most / step).ceil();
    let scale = radius / (rings * step);
    for i in 1..=(rings as usize) {
        let r = step * i as f64 * scale;
        svg.circle(centre, r, Fill::None, Some(Pen::grey(0.4)));
        svg.label(
            (centre.0 - 0.707 * r, centre.1 + 0.707 * r + 3.0),
            &format!("{:.0} kN", 1e-3 * step * i as f64),
            LETTER.at(Anchor::Middle),
        );
    }
    svg.line((centre.0 - radius, centre.1), (centre.0 + radius, centre.1), Pen::grey(0.5));
    svg.line((centre.0, centre.1 - radius), (centre.0, centre.1 + radius), Pen::grey(0.5));
    svg.text((centre.0, centre.1 - radius - 8.0), t.directions[0], LETTER.at(Anchor::Middle));
    svg.text(
        (centre.0, centre.1 + radius + 16.0),
        &format!("to the right: {}", t.directions[1]),
        LETTER.at(Anchor::Middle),
    );
    let place = |p: &TurnPoint| (centre.0 + p.across_n * scale, centre.1 - p.along_n * scale);
    let mut points: Vec<(f64, f64)> = t.points.iter().map(place).collect();
    if let Some(first) = points.first().copied() {
        points.push(first);
    }
    svg.polyline(&points, Pen::ink(1.3));
    // Every thirtieth degree a dot, every ninetieth its figure.
    let every = t.points.len() as f64 / 12.0;
    let mut said: Vec<(f64, f64)> = Vec::new();
    for i in 0..12 {
        let Some(p) = t.points.get((i as f64 * every) as usize) else { continue };
        svg.circle(place(p), 1.8, Fill::Colour(INK), None);
        if i % 3 == 0 {
            let (x, mut y) = place(p);
            y -= 6.0;
            // Where two figures would lie on each other the later one goes below the line.
            if said.iter().any(|(a, b)| (a - x).abs() < 24.0 && (b - y).abs() < 9.0) {
                y += 18.0;
            }
            said.push((x, y));
            let words = format!("{:.0}°", p.wheel_rad.to_degrees());
            svg.label((x, y), &words, LETTER.at(Anchor::Middle));
        }
    }
}

fn curve(svg: &mut Svg, t: &TurnPlot, most: f64, signed: bool, (left, right): (f64, f64)) {
    let (top, bottom) = (78.0, 288.0);
    let value = |p: &TurnPoint| if signed { p.along_n } else { p.along_n.hypot(p.across_n) };
    let least = t.points.iter().map(value).fold(0.0, f64::min);
    let greatest = t.points.iter().map(value).fold(0.0, f64::max);
    let step = step_for((greatest - least).max(1e-3 * most), 5.0);
    let (low, high) = ((least / step).floor() * step, (greatest / step).ceil() * step);
    let y = |n: f64| bottom - (n - low) / (high - low) * (bottom - top);
    let x = |rad: f64| left + rad / std::f64::consts::TAU * (right - left);
    let mut n = low;
    while n <= high + 0.5 * step {
        svg.line((left, y(n)), (right, y(n)), Pen::grey(0.3));
        svg.text((left - 5.0, y(n) + 3.0), &format!("{:.0}", 1e-3 * n), LETTER.at(Anchor::End));
        svg.text((right + 4.0, y(n) + 3.0), &format!("{:.1}", n / 9964.016), LETTER);
        n += step;
    }
    svg.text((left - 5.0, top - 12.0), "kN", LETTER.at(Anchor::End));
    svg.text((right + 4.0, top - 12.0), "tonf", LETTER);
    let what = if signed {
        format!("{}; below nought the other way", t.directions[0])
    } else {
        "amount of the load".to_owned()
    };
    svg.text((0.5 * (left + right), top - 12.0), &what, LETTER.at(Anchor::Middle));
    for deg in [0, 90, 180, 270, 360] {
        let at = x(f64::from(deg).to_radians());
        svg.line((at, bottom), (at, bottom + 4.0), Pen::ink(0.7));
        svg.text((at, bottom + 15.0), &format!("{deg}°"), LETTER.at(Anchor::Middle));
    }
    svg.text((0.5 * (left + right), bottom + 28.0), "wheel angle", LETTER.at(Anchor::Middle));
    let points: Vec<(f64, f64)> = t.points.iter().map(|p| (x(p.wheel_rad), y(value(p)))).collect();
    svg.polyline(&points, Pen::ink(1.4));
    if low < 0.0 {
        svg.line((left, y(0.0)), (right, y(0.0)), Pen::ink(0.8));
    }
    let mean =
        t.points.iter().map(|p| p.along_n.hypot(p.across_n)).sum::<f64>() / t.points.len() as f64;
    if !signed {
        svg.line((left, y(mean)), (right, y(mean)), Pen::ink(0.8).dashed(Dash::Dashed));
        svg.label((right - 4.0, y(mean) - 3.0), "mean", LETTER.at(Anchor::End));
    }
    if let Some(held) = t.held_still_n.filter(|h| !signed && *h < high && *h < 0.98 * most) {
        svg.line((left, y(held)), (right, y(held)), Pen::ink(0.8).dashed(Dash::Long));
        svg.label((left + 4.0, y(held) - 3.0), "held still for the film", LETTER);
    }
    // A heavy line under the axis where a steady film does not answer.
    if t.points.iter().any(|p| p.weak) {
        let width = (right - left) / t.points.len() as f64;
        let mut from: Option<f64> = None;
        for p in t.points.iter().chain(std::iter::once(&TurnPoint {
            wheel_rad: std::f64::consts::TAU,
            along_n: 0.0,
            across_n: 0.0,
            weak: false,
        })) {
            match (from, p.weak) {
                (None, true) => from = Some(x(p.wheel_rad)),
                (Some(a), false) => {
                    let to = x(p.wheel_rad).max(a + width);
                    svg.line((a, bottom), (to, bottom), Pen::ink(4.0).in_colour(OUT));
                    from = None;
                }
                _ => {}
            }
        }
        svg.line((left, bottom + 42.0), (left + 18.0, bottom + 42.0), Pen::ink(4.0).in_colour(OUT));
        svg.text(
            (left + 24.0, bottom + 45.0),
            "the load swings so fast that less than half of the oil wedge is left",
            LETTER,
        );
    }
    svg.rect(
        (left, top),
        right - left,
        bottom - top,
        Fill::None,
        Some(Pen::ink(0.8).in_colour(GREY)),
    );
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_turn_is_drawn_and_a_bad_one_refused() -> Result<(), DrawingError> {
        let mut t = TurnPlot {
            title: "engine, big end".into(),
            point: "72 km/h".into(),
            directions: ["outer", "up"],
            points: (0..72)
                .map(|i| {
                    let a = f64::from(i) * 5f64.to_radians();
                    TurnPoint {
                        wheel_rad: a,
                        along_n: 1e5 * a.cos(),
                        across_n: 2e4 * a.sin(),
                        weak: i > 30 && i < 36,
                    }
                })
                .collect(),
            held_still_n: None,
        };
        let p = turn_plot(&t)?;
        assert!(p.svg.contains("less than half") && p.description.contains("greatest 100.0 kN"));
        t.points[3].along_n = f64::NAN;
        assert!(turn_plot(&t).is_err());
        t.points.clear();
        assert!(turn_plot(&t).is_err());
        Ok(())
    }
}
