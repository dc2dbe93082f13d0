//! A plot's frame: scales, grid and labels.

use super::svg::{Anchor, FAINT, INK, PALE, Pen, Svg, number};

/// Frame of a plot on the page and the values it covers, from left to right and from the foot to
/// the top (the greater may be at the foot).
#[derive(Debug, Clone, Copy)]
pub(super) struct Axes {
    pub(super) left: f64,
    pub(super) top: f64,
    pub(super) width: f64,
    pub(super) height: f64,
    pub(super) x: (f64, f64),
    pub(super) y: (f64, f64),
}

impl Axes {
    pub(super) fn at(&self, x: f64, y: f64) -> (f64, f64) {
        (
            self.left + self.width * (x - self.x.0) / (self.x.1 - self.x.0),
            self.top + self.height * (self.y.1 - y) / (self.y.1 - self.y.0),
        )
    }

    /// Grid, numbers and names; `x_step` and `y_step` between the numbers.
    pub(super) fn draw(&self, svg: &mut Svg, x_step: f64, y_step: f64, names: [&str; 2]) {
        let text = svg.text_height();
        for x in ticks(self.x, x_step) {
            let (a, b) = (self.at(x, self.y.0), self.at(x, self.y.1));
            svg.line(a, b, Pen::line(PALE, 0.8));
            svg.sized_label((a.0, a.1 + 0.9 * text), Anchor::Middle, 0.8, &number(x));
        }
        for y in ticks(self.y, y_step) {
            let (a, b) = (self.at(self.x.0, y), self.at(self.x.1, y));
            let pen = if y == 0.0 { Pen::line(FAINT, 1.2) } else { Pen::line(PALE, 0.8) };
            svg.line(a, b, pen);
            svg.sized_label((a.0 - 0.5 * text, a.1), Anchor::End, 0.8, &number(y));
        }
        svg.rectangle((self.left, self.top), (self.width, self.height), Pen::line(INK, 1.0));
        let under = (self.left + 0.5 * self.width, self.top + self.height + 2.1 * text);
        svg.sized_label(under, Anchor::Middle, 0.85, names[0]);
        svg.sized_label((self.left, self.top - 0.9 * text), Anchor::Start, 0.85, names[1]);
    }

    pub(super) fn curve(&self, svg: &mut Svg, points: &[(f64, f64)], pen: Pen) {
        let page: Vec<_> = points.iter().map(|(x, y)| self.at(*x, *y)).collect();
        svg.polyline(&page, pen);
    }
}

/// Multiples of a step inside a range, whichever way it runs.
fn ticks(range: (f64, f64), step: f64) -> Vec<f64> {
    let first = (range.0.min(range.1) / step - 1e-9).ceil() as i64;
    let last = (range.0.max(range.1) / step + 1e-9).floor() as i64;
    // A hundred numbers are more than an axis can carry.
    (first..=last).take(100).map(|i| i as f64 * step).collect()
}

/// A step of 1, 2 or 5 times a power of ten that makes about `wanted` steps of a span.
pub(super) fn round_step(span: f64, wanted: f64) -> f64 {
    let raw = (span / wanted).max(1e-12);
    let power = 10.0_f64.powf(raw.log10().floor());
    let digit = raw / power;
    let round = if digit <= 1.0 {
        1.0
    } else if digit <= 2.0 {
        2.0
    } else if digit <= 5.0 {
        5.0
    } else {
        10.0
    };
    round * power
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn steps_are_round() {
        assert_eq!(round_step(660.0, 5.0), 200.0);
        assert!((round_step(0.9, 4.0) - 0.5).abs() < 1e-12);
        assert_eq!(ticks((-10.0, 10.0), 5.0), [-10.0, -5.0, 0.0, 5.0, 10.0]);
    }
}
