//! Lines, areas and hatching.

use super::{At, Fill, Pen, Svg};

impl Svg {
    /// A straight line.
    pub fn line(&mut self, from: At, to: At, pen: Pen) {
        let mut a = vec![
            ("x1", self.number(from.0)),
            ("y1", self.number(from.1)),
            ("x2", self.number(to.0)),
            ("y2", self.number(to.1)),
        ];
        a.extend(self.paint(Fill::None, Some(&pen)));
        self.element("line", &a);
    }

    /// Straight lines from point to point.
    pub fn polyline(&mut self, points: &[At], pen: Pen) {
        let mut a = vec![("points", self.points(points))];
        a.extend(self.paint(Fill::None, Some(&pen)));
        a.push(("stroke-linejoin", "round".to_owned()));
        self.element("polyline", &a);
    }

    /// A closed area with straight sides.
    pub fn polygon(&mut self, points: &[At], fill: Fill, pen: Option<Pen>) {
        let mut a = vec![("points", self.points(points))];
        a.extend(self.paint(fill, pen.as_ref()));
        a.push(("stroke-linejoin", "round".to_owned()));
        self.element("polygon", &a);
    }

    /// A circle.
    pub fn circle(&mut self, centre: At, radius: f64, fill: Fill, pen: Option<Pen>) {
        let mut a = vec![
            ("cx", self.number(centre.0)),
            ("cy", self.number(centre.1)),
            ("r", self.number(radius)),
        ];
        a.extend(self.paint(fill, pen.as_ref()));
        self.element("circle", &a);
    }

    /// A rectangle from its top left corner.
    pub fn rect(&mut self, corner: At, width: f64, height: f64, fill: Fill, pen: Option<Pen>) {
        if width <= 0.0 || height <= 0.0 {
            return;
        }
        let mut a = vec![
            ("x", self.number(corner.0)),
            ("y", self.number(corner.1)),
            ("width", self.number(width)),
            ("height", self.number(height)),
        ];
        a.extend(self.paint(fill, pen.as_ref()));
        self.element("rect", &a);
    }

    /// An area between two circles about one centre.
    pub fn ring(&mut self, centre: At, inner: f64, outer: f64, fill: Fill) {
        let mut d = String::new();
        for r in [outer, inner] {
            let (left, right) = (self.number(centre.0 - r), self.number(centre.0 + r));
            let (y, r) = (self.number(centre.1), self.number(r));
            d.push_str(&format!(
                "M {left} {y} A {r} {r} 0 1 0 {right} {y} A {r} {r} 0 1 0 {left} {y} Z "
            ));
        }
        let mut a = vec![("d", d.trim_end().to_owned())];
        a.extend(self.paint(fill, None));
        a.push(("fill-rule", "evenodd".to_owned()));
        self.element("path", &a);
    }

    /// Parallel lines at 45 degrees, rising to the right, that fill a rectangle. Drawn line by
    /// line: patterns and clips do not survive every PDF writer.
    pub fn hatch(&mut self, corner: At, width: f64, height: f64, spacing: f64, pen: Pen) {
        if !(width > 0.0 && height > 0.0 && spacing > 0.0)
            || (width + height) / spacing > MOST_HATCH_LINES
        {
            return;
        }
        let (left, top) = corner;
        // A line meets the bottom edge at left + s; s runs over width + height. Lines are placed
        // on multiples of the spacing so that neighbouring areas join up.
        let bottom = top + height;
        let step = spacing * std::f64::consts::SQRT_2;
        let mut s = ((left + top) / step).ceil() * step - (left + bottom);
        while s < width {
            let (from, to) = (s.max(0.0), (s + height).min(width));
            if to > from {
                self.line((left + from, bottom - (from - s)), (left + to, bottom - (to - s)), pen);
            }
            s += step;
        }
    }

    fn points(&mut self, points: &[At]) -> String {
        let mut out = String::with_capacity(points.len() * 12);
        for (i, (x, y)) in points.iter().enumerate() {
            if i > 0 {
                out.push(' ');
            }
            out.push_str(&self.number(*x));
            out.push(',');
            out.push_str(&self.number(*y));
        }
        out
    }
}

const MOST_HATCH_LINES: f64 = 2000.0;

/// Corners of a filled arrow head of ISO 129-1 (from memory: closed and filled, about 15 degrees
/// included), its tip at `tip`, pointing along `(dx, dy)`.
pub fn arrow_head(tip: At, (dx, dy): (f64, f64), length: f64) -> [At; 3] {
    let norm = dx.hypot(dy).max(f64::MIN_POSITIVE);
    let (dx, dy) = (dx / norm, dy / norm);
    let half = length * 0.17;
    let back = (tip.0 - dx * length, tip.1 - dy * length);
    [tip, (back.0 - dy * half, back.1 + dx * half), (back.0 + dy * half, back.1 - dx * half)]
}
