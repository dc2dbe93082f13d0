//! What every polar plot has: rings, directions, the scale between a length and a radius.

use crate::scale::step_for;
use crate::svg::{Anchor, At, Dash, Fill, Lettering, Pen, Svg};
use std::f64::consts::{PI, TAU};

/// Rings at most over what was read; more cannot be counted at a glance.
const MOST_RINGS: f64 = 6.0;
/// Share of the plot's radius left empty in the middle, so that directions stay apart there.
const HOLLOW: f64 = 0.42;

/// A polar scale that begins at a length above nought.
pub(crate) struct Frame {
    pub(crate) centre: At,
    pub(crate) inner: f64,
    pub(crate) outer: f64,
    /// Length on the innermost ring.
    pub(crate) low_m: f64,
    /// Length on the outermost ring.
    pub(crate) high_m: f64,
    /// Length between rings.
    pub(crate) ring_m: f64,
}

impl Frame {
    /// A frame that holds lengths from `least_m` to `most_m` with a little room.
    pub(crate) fn over(centre: At, outer: f64, (least_m, most_m): (f64, f64)) -> Frame {
        let span = (most_m - least_m).max(2e-6);
        let ring_m = step_for(span, MOST_RINGS);
        let low_m = ((least_m - 0.2 * ring_m) / ring_m).floor() * ring_m;
        let high_m = ((most_m + 0.2 * ring_m) / ring_m).ceil() * ring_m;
        Frame { centre, inner: HOLLOW * outer, outer, low_m, high_m, ring_m }
    }

    pub(crate) fn radius(&self, length_m: f64) -> f64 {
        let share = (length_m - self.low_m) / (self.high_m - self.low_m);
        self.inner + share * (self.outer - self.inner)
    }

    /// The place of a length in a direction; directions count anticlockwise from the right.
    pub(crate) fn at(&self, angle_rad: f64, length_m: f64) -> At {
        self.on_circle(angle_rad, self.radius(length_m))
    }

    pub(crate) fn on_circle(&self, angle_rad: f64, radius: f64) -> At {
        (self.centre.0 + radius * angle_rad.cos(), self.centre.1 - radius * angle_rad.sin())
    }

    pub(crate) fn holds(&self, length_m: f64) -> bool {
        (self.low_m..=self.high_m).contains(&length_m)
    }

    fn rings(&self) -> usize {
        ((self.high_m - self.low_m) / self.ring_m).round().clamp(1.0, 40.0) as usize
    }

    /// Points along a length that runs evenly with the angle: a round surface comes out round,
    /// and nothing is made up between two readings but that.
    pub(crate) fn sweep(&self, from: (f64, f64), to: (f64, f64)) -> Vec<At> {
        let steps = (((to.0 - from.0) / (TAU / 72.0)).ceil() as usize).clamp(1, 72);
        (0..=steps)
            .map(|i| {
                let t = i as f64 / steps as f64;
                self.at(from.0 + t * (to.0 - from.0), from.1 + t * (to.1 - from.1))
            })
            .collect()
    }

    /// Rings and the directions read, with their degrees outside.
    pub(crate) fn draw(&self, svg: &mut Svg, directions_rad: &[f64]) {
        let thin = Pen::grey(0.35);
        for i in 0..=self.rings() {
            let r = self.radius(self.low_m + i as f64 * self.ring_m);
            svg.circle(self.centre, r, Fill::None, Some(thin));
        }
        let letter = Lettering::new(6.5).at(Anchor::Middle);
        let shown = if directions_rad.len() <= 24 { directions_rad } else { &[] };
        for angle in shown {
            let (from, to) =
                (self.on_circle(*angle, self.inner), self.on_circle(*angle, self.outer));
            svg.line(from, to, thin.dashed(Dash::Dotted));
            let (x, y) = self.on_circle(*angle, self.outer + 7.5);
            svg.text((x, y + 2.2), &degrees(*angle), letter);
        }
    }

    /// What the innermost and outermost rings are, on the freest radius.
    pub(crate) fn name_rings(
        &self,
        svg: &mut Svg,
        directions_rad: &[f64],
        name: impl Fn(f64) -> String,
    ) {
        let free = freest(directions_rad);
        let letter = Lettering::new(6.0).at(Anchor::Middle);
        for length in [self.low_m, self.high_m] {
            let (x, y) = self.at(free, length);
            let name = name(length);
            // Kept on the sheet, which begins a little to the left of the outer ring.
            let x = x.max(letter.width(&name) / 2.0 + 1.0);
            svg.label((x, y + 2.0), &name, letter);
        }
    }
}

/// A direction in whole degrees, or with one decimal where it needs one.
pub(crate) fn degrees(angle_rad: f64) -> String {
    let mut d = (angle_rad.to_degrees() * 10.0).round() / 10.0;
    if d >= 360.0 {
        d -= 360.0;
    }
    if (d - d.round()).abs() < 0.05 { format!("{d:.0}°") } else { format!("{d:.1}°") }
}

/// The middle of the widest gap between directions, in the upper right where that is as wide.
fn freest(directions_rad: &[f64]) -> f64 {
    let mut sorted: Vec<f64> = directions_rad.iter().map(|a| a.rem_euclid(TAU)).collect();
    sorted.sort_by(f64::total_cmp);
    sorted.dedup_by(|a, b| (*a - *b).abs() < 1e-3);
    if sorted.is_empty() {
        return PI / 4.0;
    }
    let mut best = (f64::NEG_INFINITY, PI / 4.0);
    for (i, a) in sorted.iter().enumerate() {
        let next = sorted.get(i + 1).copied().unwrap_or(sorted[0] + TAU);
        let (gap, middle) = (next - a, (a + next) / 2.0);
        // A hair in favour of the earlier gap, so that equal gaps give the same answer always.
        if gap > best.0 + 1e-6 {
            best = (gap, middle);
        }
    }
    best.1
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_frame_holds_its_lengths_on_round_rings() {
        let f = Frame::over((0.0, 0.0), 70.0, (202.513e-3, 202.688e-3));
        assert!(f.low_m <= 202.513e-3 && f.high_m >= 202.688e-3);
        assert!((f.ring_m - 0.05e-3).abs() < 1e-12, "{}", f.ring_m);
        assert!((f.radius(f.low_m) - 0.42 * 70.0).abs() < 1e-9);
        assert!((f.radius(f.high_m) - 70.0).abs() < 1e-9);
        // A quarter turn is straight up: y runs downwards.
        let (x, y) = f.on_circle(PI / 2.0, 10.0);
        assert!(x.abs() < 1e-9 && (y + 10.0).abs() < 1e-9);
    }

    #[test]
    fn directions_read_as_degrees() {
        assert_eq!(degrees(PI / 4.0), "45°");
        assert_eq!(degrees(TAU), "0°");
        assert_eq!(degrees(PI / 8.0), "22.5°");
    }
}
