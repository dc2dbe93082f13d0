//! Where the film ends: Reynolds' rupture condition by an active-set search.
//!
//! Oil cannot pull. Behind the thinnest place the film breaks into streamers at about the
//! pressure of the air. Reynolds' condition says that it does so where both the pressure and its
//! slope reach zero (also called Swift and Stieber's). On the grid it is a complementarity
//! problem (Christopherson, Proc. I.Mech.E. 146 (1941) 126-135, from memory): pressure is not
//! negative, the oil balance of a ruptured node is not short, and one of the two is zero.
//!
//! The search is a primal-dual active set (Hintermüller, Ito & Kunisch, SIAM J. Optim. 13
//! (2002) 865-888, from memory): solve with the nodes thought to be film, drop those that
//! pull, add those where oil would pile up, until nothing changes. The matrix being an M-matrix
//! it ends in a finite number of passes and the answer is exact to rounding. The first guess
//! comes from the same search on a grid of half the fineness.

use super::band::Band;
use super::gap::Gap;
use super::grid::Grid;
use super::stencil::Stencil;
use super::{Cavitation, Convergence, FilmOptions};
use crate::bearing::BearingError;

/// Coarsest grid of the nested start.
const LEAST_AROUND: usize = 24;
const LEAST_ACROSS: usize = 8;

/// Everything one film needs, kept so that the next film can start from it.
#[derive(Debug, Default)]
pub(super) struct Workspace {
    pub(super) grid: Grid,
    pub(super) stencil: Stencil,
    pub(super) pressure: Vec<f64>,
    pub(super) film: Vec<bool>,
    band: Band,
    coarser: Option<Box<Workspace>>,
    warm: bool,
}

/// The film to be solved: gap, arc and proportions.
#[derive(Debug, Clone, Copy)]
pub(super) struct Shape {
    pub(super) gap: Gap,
    pub(super) extent_rad: f64,
    pub(super) length_over_diameter: f64,
}

impl Workspace {
    /// Finds the pressures. A second call on a grid of the same size starts from where the last
    /// one ended.
    pub(super) fn solve(
        &mut self,
        shape: &Shape,
        options: &FilmOptions,
    ) -> Result<Convergence, BearingError> {
        let size_before = (self.grid.angle_rad.len(), self.grid.width());
        let FilmOptions { around, across, spacing, .. } = *options;
        self.grid.lay(around, across, shape.extent_rad, spacing, &shape.gap);
        self.stencil.assemble(&self.grid, &shape.gap, shape.length_over_diameter);
        let (lines, width) = (self.grid.lines(), self.grid.width());
        let n = lines * width;
        self.band.resize(lines, width);
        self.pressure.clear();
        self.pressure.resize(n, 0.0);
        if options.cavitation != Cavitation::Reynolds {
            self.warm = false;
            self.film.clear();
            self.film.resize(n, true);
            return self.settle(options);
        }
        let same = size_before == (self.grid.angle_rad.len(), width) && self.film.len() == n;
        if !(self.warm && same) {
            self.guess(shape, options)?;
        }
        let outcome = self.settle(options);
        self.warm = outcome.is_ok();
        outcome
    }

    /// First guess of the film: from half the grid, or on the coarsest grid from the gap.
    fn guess(&mut self, shape: &Shape, options: &FilmOptions) -> Result<(), BearingError> {
        let (lines, width) = (self.grid.lines(), self.grid.width());
        let half_across = options.across / 2;
        // The mirror needs an even count across, so the coarser count is rounded up to one.
        let half_across = half_across + half_across % 2;
        self.film.clear();
        if options.around / 2 < LEAST_AROUND || half_across < LEAST_ACROSS {
            // Film up to where the gap opens past the thinnest place.
            let end = shape.gap.thinnest_rad + 0.6;
            for line in 0..lines {
                let inside = self.grid.angle_rad[line + 1] <= end;
                self.film.extend(std::iter::repeat_n(inside, width));
            }
            return Ok(());
        }
        let coarse_options =
            FilmOptions { around: options.around / 2, across: half_across, ..*options };
        let coarse = self.coarser.get_or_insert_default();
        coarse.warm = false;
        coarse.solve(shape, &coarse_options)?;
        let (coarse_lines, coarse_width) = (coarse.grid.lines(), coarse.grid.width());
        for line in 0..lines {
            // Nearest node around, by its place in the row of nodes; likewise across.
            let near = nearest(line + 1, options.around, coarse_options.around, coarse_lines);
            for place in 0..width {
                let beside = nearest(place + 1, options.across, half_across, coarse_width);
                self.film.push(coarse.film[near * coarse_width + beside]);
            }
        }
        Ok(())
    }

    fn settle(&mut self, options: &FilmOptions) -> Result<Convergence, BearingError> {
        let width = self.grid.width();
        let scale = self.stencil.source.iter().fold(0.0_f64, |a, b| a.max(b.abs()));
        let mut first = 0;
        let mut convergence = Convergence { passes: 0, residual: f64::INFINITY, unknowns: 0 };
        while convergence.passes < options.most_passes {
            convergence.passes += 1;
            let sound = self.band.factor_from(&self.stencil, &self.film, first);
            self.band.solve_into(&self.film, &mut self.pressure);
            let (changed, residual) = self.revise(options.cavitation, scale, sound);
            convergence.residual = residual;
            convergence.unknowns = self.film.iter().filter(|film| **film).count();
            match changed {
                _ if !sound || !residual.is_finite() => break,
                // The line before holds the couplings to the changed line.
                Some(k) => first = (k / width).saturating_sub(1),
                None if residual <= options.tolerance => return Ok(convergence),
                None => break,
            }
        }
        Err(BearingError::NotConverged { what: "the film pressure", convergence })
    }

    /// Drops nodes that pull and adds nodes where oil piles up. Returns the first node that
    /// changed, and the worst fault of the state that was solved, over the largest wedge term.
    fn revise(&mut self, cavitation: Cavitation, scale: f64, sound: bool) -> (Option<usize>, f64) {
        if !sound || scale <= 0.0 {
            return (None, if sound { 0.0 } else { f64::NAN });
        }
        // Below rounding neither a pull nor a pile is real.
        let tiny = 1e-13 * scale;
        let mut first = None;
        let mut worst = 0.0_f64;
        for k in 0..self.film.len() {
            let short = self.stencil.residual(&self.pressure, k);
            let fault = if cavitation != Cavitation::Reynolds {
                short.abs()
            } else if self.film[k] {
                let pull = -self.pressure[k] * self.stencil.diagonal[k];
                if pull > tiny {
                    self.film[k] = false;
                    first = first.or(Some(k));
                }
                short.abs().max(pull)
            } else {
                if short < -tiny {
                    self.film[k] = true;
                    first = first.or(Some(k));
                }
                -short
            };
            // A NaN must not slip through `max`.
            worst = if fault.is_nan() { f64::INFINITY } else { worst.max(fault) };
        }
        (first, worst / scale)
    }
}

/// The coarse unknown nearest fine node `node` of `fine` cells.
fn nearest(node: usize, fine: usize, coarse: usize, unknowns: usize) -> usize {
    let place = (node as f64 * coarse as f64 / fine as f64).round() as usize;
    place.clamp(1, unknowns) - 1
}
