//! Reynolds' equation on the grid: one balance of oil flow around every node.
//!
//! Own derivation. With `p` the pressure over `6 mu omega R^2 / c^2`, `H` the film over the radial
//! clearance, `t` the angle and `z` the place across over the bearing's length:
//!
//! ```text
//! d/dt (H^3 dp/dt) + (R / L)^2 d/dz (H^3 dp/dz) = dH/dt
//! ```
//!
//! integrated over the box of each node, with `H` taken at the middle of each box side. The
//! result is symmetric, so Cholesky may be used, and every bit of oil that leaves one box
//! enters the next: the discrete flows balance to rounding.

use super::gap::Gap;
use super::grid::Grid;

/// The coefficients of the discrete film; unknown `k = line * width + place`.
#[derive(Debug, Default)]
pub(super) struct Stencil {
    pub(super) lines: usize,
    pub(super) width: usize,
    pub(super) diagonal: Vec<f64>,
    /// Coupling to the next line downstream (the last line: to the outlet edge).
    pub(super) downstream: Vec<f64>,
    /// Coupling to the next place across (the last place: to the far end of the bearing, or
    /// nothing where the middle of the bearing is a mirror).
    pub(super) up: Vec<f64>,
    /// Coupling of the first line to the inlet edge.
    pub(super) inlet: Vec<f64>,
    /// Coupling of the first place of every line to the near end of the bearing.
    pub(super) near_end: Vec<f64>,
    /// Minus the wedge term: positive where the film narrows.
    pub(super) source: Vec<f64>,
}

impl Stencil {
    /// Writes the coefficients for `gap` on `grid`, reusing the buffers.
    pub(super) fn assemble(&mut self, grid: &Grid, gap: &Gap, length_over_diameter: f64) {
        let (lines, width) = (grid.lines(), grid.width());
        self.lines = lines;
        self.width = width;
        let n = lines * width;
        for buffer in [&mut self.diagonal, &mut self.downstream, &mut self.up, &mut self.source] {
            buffer.clear();
            buffer.resize(n, 0.0);
        }
        self.inlet.clear();
        self.inlet.resize(width, 0.0);
        self.near_end.clear();
        self.near_end.resize(lines, 0.0);

        // (R / L)^2 with L / D given.
        let squat = 1.0 / (4.0 * length_over_diameter * length_over_diameter);
        let dz = grid.step_across();
        for line in 0..lines {
            let node = line + 1;
            let before = 0.5 * (grid.angle_rad[node - 1] + grid.angle_rad[node]);
            let after = 0.5 * (grid.angle_rad[node] + grid.angle_rad[node + 1]);
            let box_angle = after - before;
            let step_before = grid.angle_rad[node] - grid.angle_rad[node - 1];
            let step_after = grid.angle_rad[node + 1] - grid.angle_rad[node];
            let (cos_before, cos_after) = (gap.cosine(before), gap.cosine(after));
            let cos_here = gap.cosine(grid.angle_rad[node]);
            let edge_factor = squat * box_angle / dz;

            let near = gap.film(cos_here, grid.across[0] + 0.5 * dz);
            let mut below = edge_factor * cube(near);
            self.near_end[line] = below;
            for place in 0..width {
                let k = line * width + place;
                let across = grid.across[place + 1];
                let weight = grid.weight(place);
                let (film_before, film_after) =
                    (gap.film(cos_before, across), gap.film(cos_after, across));
                let upstream = weight * cube(film_before) / step_before;
                let downstream = weight * cube(film_after) / step_after;
                let up = if place + 1 == width && grid.mirrored {
                    0.0
                } else {
                    edge_factor * cube(gap.film(cos_here, across + 0.5 * dz))
                };
                self.diagonal[k] = upstream + downstream + below + up;
                self.downstream[k] = downstream;
                self.up[k] = up;
                self.source[k] = -weight * (film_after - film_before);
                if line == 0 {
                    self.inlet[place] = upstream;
                }
                below = up;
            }
        }
    }

    /// Oil short of leaving node `k`: zero in the film, and not negative where it is ruptured.
    pub(super) fn residual(&self, pressure: &[f64], k: usize) -> f64 {
        let w = self.width;
        let place = k % w;
        let mut sum = self.diagonal[k] * pressure[k] - self.source[k];
        if place + 1 < w {
            sum -= self.up[k] * pressure[k + 1];
        }
        if place > 0 {
            sum -= self.up[k - 1] * pressure[k - 1];
        }
        if k + w < pressure.len() {
            sum -= self.downstream[k] * pressure[k + w];
        }
        if k >= w {
            sum -= self.downstream[k - w] * pressure[k - w];
        }
        sum
    }
}

fn cube(x: f64) -> f64 {
    x * x * x
}
