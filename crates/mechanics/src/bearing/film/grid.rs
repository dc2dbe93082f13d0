//! Where the nodes of the film lie.

use super::Spacing;
use super::gap::Gap;

/// Nodes around (all, with both edges of the arc) and across (from one end to the other, or to
/// the middle where the film is a mirror image about it).
#[derive(Debug, Default)]
pub(super) struct Grid {
    pub(super) angle_rad: Vec<f64>,
    pub(super) across: Vec<f64>,
    pub(super) mirrored: bool,
    cells_across: usize,
}

impl Grid {
    /// Lays `around` cells over the arc and `across` cells over the whole length.
    pub(super) fn lay(
        &mut self,
        around: usize,
        across: usize,
        extent_rad: f64,
        spacing: Spacing,
        gap: &Gap,
    ) {
        self.cells_across = across;
        self.mirrored = gap.tilt_ratio == 0.0;
        let places = if self.mirrored { across / 2 } else { across };
        self.across.clear();
        self.across.extend((0..=places).map(|j| j as f64 / across as f64));
        self.angle_rad.clear();
        match spacing {
            Spacing::Uniform => {
                self.angle_rad.extend((0..=around).map(|i| extent_rad * i as f64 / around as f64))
            }
            Spacing::Graded => self.grade(around, extent_rad, gap),
        }
    }

    /// Crowds the nodes towards the thinnest film.
    ///
    /// Own derivation, after Sommerfeld's substitution (1904): with `d` the angle from the
    /// thinnest film, `tan(d/2) = tan(s/2) / sqrt(q)` maps equal steps of `s` to steps of `d` that
    /// are `sqrt(q)` times finer at the thinnest film and as much coarser opposite. `q` is the
    /// square root of the ratio of thickest to thinnest film, so that the film changes by about
    /// the same share from node to node.
    fn grade(&mut self, around: usize, extent_rad: f64, gap: &Gap) {
        let e = gap.eccentricity_ratio;
        let root_q = ((1.0 + e) / (1.0 - e)).powf(0.25);
        let start = unfold(-gap.thinnest_rad, root_q);
        let end = unfold(extent_rad - gap.thinnest_rad, root_q);
        self.angle_rad.extend((0..=around).map(|i| {
            if i == 0 {
                0.0
            } else if i == around {
                extent_rad
            } else {
                let s = start + (end - start) * i as f64 / around as f64;
                gap.thinnest_rad + unfold(s, 1.0 / root_q)
            }
        }));
    }

    /// Lines of unknowns around: the edges of the arc are not unknown.
    pub(super) fn lines(&self) -> usize {
        self.angle_rad.len().saturating_sub(2)
    }

    /// Unknowns across: the ends are not unknown, a mirrored middle is.
    pub(super) fn width(&self) -> usize {
        self.across.len().saturating_sub(if self.mirrored { 1 } else { 2 })
    }

    pub(super) fn step_across(&self) -> f64 {
        1.0 / self.cells_across as f64
    }

    /// Share of the length that unknown `place` stands for (half a step on the mirror).
    pub(super) fn weight(&self, place: usize) -> f64 {
        let whole = self.step_across();
        if self.mirrored && place + 1 == self.width() { 0.5 * whole } else { whole }
    }

    /// What a sum over this grid must be multiplied by to cover the whole length.
    pub(super) fn halves(&self) -> f64 {
        if self.mirrored { 2.0 } else { 1.0 }
    }

    /// Half the distance between the neighbours of node `i`.
    pub(super) fn box_angle(&self, i: usize) -> f64 {
        let last = self.angle_rad.len() - 1;
        0.5 * (self.angle_rad[(i + 1).min(last)] - self.angle_rad[i.saturating_sub(1)])
    }
}

/// `2 atan(root_q tan(d/2))`, carried on without a jump past half a turn either way.
fn unfold(angle_rad: f64, root_q: f64) -> f64 {
    let turns = (angle_rad / std::f64::consts::TAU).round();
    let d = angle_rad - turns * std::f64::consts::TAU;
    let half = 0.5 * d;
    2.0 * (root_q * half.sin()).atan2(half.cos()) + turns * std::f64::consts::TAU
}
