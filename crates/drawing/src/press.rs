//! The force to be expected along the stroke of a press, with its band and what was read.

use crate::DrawingError;
use crate::scale::step_for;
use crate::svg::{Anchor, Dash, Fill, GREY, INK, Lettering, OUT, PALE, Pen, Picture, Svg};
use mechanics::press::{PressCurve, PressReading};

/// What stands on a press sheet's curve.
#[derive(Clone, Debug)]
pub struct PressPlot<'a> {
    /// Engine and joint.
    pub title: String,
    /// The curve.
    pub curve: &'a PressCurve,
    /// What was read.
    pub readings: &'a [PressReading],
    /// The most the press gives (N).
    pub press_rating_n: Option<f64>,
}

const WIDTH: f64 = 560.0;
const HEIGHT: f64 = 360.0;
const BOX: (f64, f64, f64, f64) = (62.0, 44.0, 478.0, 250.0);
const LETTER: Lettering = Lettering::new(8.5);

/// Draws the curve: low to high as a pale band, the likely force as a line, readings as crosses.
///
/// # Errors
/// A curve without points or force, or with figures that are not finite.
pub fn press_plot(p: &PressPlot<'_>) -> Result<Picture, DrawingError> {
    let home = p.curve.home.stroke_m;
    let most = p
        .curve
        .points
        .iter()
        .map(|q| q.high_n)
        .chain(p.readings.iter().map(|r| r.force_n))
        .fold(0.0, f64::max);
    if p.curve.points.len() < 2 || !(home > 0.0 && most > 0.0) || !most.is_finite() {
        return Err(DrawingError::Nothing { what: "no force is expected along the stroke" });
    }
    let (left, top, width, height) = BOX;
    let reach = p.readings.iter().map(|r| r.stroke_m).fold(home, f64::max);
    let x = |m: f64| left + width * m / reach;
    let y_top = most * 1.08;
    let y = |n: f64| top + height * (1.0 - n / y_top);
    let mut svg = Svg::new(WIDTH, HEIGHT);
    svg.text((left - 40.0, 22.0), &p.title, Lettering::new(11.5).bold());
    let mut band: Vec<(f64, f64)> =
        p.curve.points.iter().map(|q| (x(q.stroke_m), y(q.high_n))).collect();
    band.extend(p.curve.points.iter().rev().map(|q| (x(q.stroke_m), y(q.low_n))));
    let step = step_for(y_top, 6.0);
    let mut n = 0.0;
    while n <= y_top {
        svg.line((left, y(n)), (left + width, y(n)), Pen::grey(0.3));
        svg.text((left - 5.0, y(n) + 3.0), &format!("{:.0}", n * 1e-3), LETTER.at(Anchor::End));
        svg.text(
            (left + width + 4.0, y(n) + 3.0),
            &format!("{:.1}", n / 9964.016),
            LETTER.in_colour(GREY),
        );
        n += step;
    }
    let step = step_for(reach, 8.0);
    let mut m = 0.0;
    while m <= reach * (1.0 + 1e-9) {
        svg.line((x(m), top), (x(m), top + height), Pen::grey(0.3));
        svg.text(
            (x(m), top + height + 12.0),
            &format!("{:.0}", m * 1e3),
            LETTER.at(Anchor::Middle),
        );
        m += step;
    }
    svg.polygon(&band, Fill::Colour(PALE), Some(Pen::grey(0.7)));
    let likely: Vec<(f64, f64)> =
        p.curve.points.iter().map(|q| (x(q.stroke_m), y(q.likely_n))).collect();
    svg.polyline(&likely, Pen::ink(1.4));
    svg.rect((left, top), width, height, Fill::None, Some(Pen::ink(0.8)));
    svg.text((left - 40.0, top - 6.0), "force, kN", LETTER);
    svg.text((left + width, top - 6.0), "tonf", LETTER.in_colour(GREY).at(Anchor::Middle));
    svg.text(
        (left + 0.5 * width, top + height + 26.0),
        "stroke, mm past the entry face (25.4 mm is 1 in)",
        LETTER.at(Anchor::Middle),
    );
    if let Some(g) = p.curve.grips_from_m.filter(|g| *g > 0.02 * home) {
        svg.line(
            (x(g), top + height),
            (x(g), top + height - 22.0),
            Pen::ink(0.7).dashed(Dash::Dashed),
        );
        svg.label((x(g) + 3.0, top + height - 14.0), "grips from here", LETTER);
    }
    if let Some(rating) = p.press_rating_n.filter(|r| *r < y_top) {
        svg.line(
            (left, y(rating)),
            (left + width, y(rating)),
            Pen::ink(1.0).dashed(Dash::Long).in_colour(OUT),
        );
        svg.label((left + 6.0, y(rating) - 3.0), "the press gives no more", LETTER.in_colour(OUT));
    }
    for r in p.readings {
        let (cx, cy) = (x(r.stroke_m), y(r.force_n));
        if let Some(expected) = p.curve.at(r.stroke_m) {
            let outside = r.force_n < expected.low_n || r.force_n > expected.high_n;
            let pen = if outside { Pen::ink(1.4).in_colour(OUT) } else { Pen::ink(1.2) };
            svg.line((cx - 3.5, cy - 3.5), (cx + 3.5, cy + 3.5), pen);
            svg.line((cx - 3.5, cy + 3.5), (cx + 3.5, cy - 3.5), pen);
            if outside {
                svg.circle((cx, cy), 6.0, Fill::None, Some(pen));
            }
        }
    }
    let y0 = top + height + 46.0;
    svg.rect((left, y0 - 8.0), 18.0, 8.0, Fill::Colour(PALE), Some(Pen::grey(0.7)));
    svg.text((left + 22.0, y0), "low to high friction and interference", LETTER);
    svg.line((left + 190.0, y0 - 3.0), (left + 210.0, y0 - 3.0), Pen::ink(1.4));
    svg.text((left + 214.0, y0), "likely", LETTER);
    if !p.readings.is_empty() {
        svg.text(
            (left + 260.0, y0),
            "× read; ringed where outside the band",
            LETTER.in_colour(INK),
        );
    }
    let h = p.curve.home;
    let description = format!(
        "{}: expected force at home {:.0} / {:.0} / {:.0} kN, low, likely and high",
        p.title,
        h.low_n * 1e-3,
        h.likely_n * 1e-3,
        h.high_n * 1e-3
    );
    svg.text(
        (left, y0 + 14.0),
        &format!(
            "at home: {:.1} / {:.1} / {:.1} kN ({:.2} / {:.2} / {:.2} tonf)",
            h.low_n * 1e-3,
            h.likely_n * 1e-3,
            h.high_n * 1e-3,
            h.low_n / 9964.016,
            h.likely_n / 9964.016,
            h.high_n / 9964.016
        ),
        LETTER.bold(),
    );
    svg.finish(&p.title, &description)
}
