//! Banded Cholesky factor of a five-point grid, with restart from a given line.
//!
//! The unknowns run line by line around the journal, each line across the bearing, so that the
//! matrix has its entries on the diagonal, beside it, and one line away: a band as wide as a
//! line is long. Factoring goes from the inlet downstream and a column needs only the columns of
//! the line before it. When the film's end moves (see [`super::rupture`]) only the lines from the
//! first changed one onwards are factored again, which is what makes the search for the
//! ruptured part of the film cheap.
//!
//! Method: left-looking (column) Cholesky for band matrices, Golub & Van Loan, Matrix
//! Computations, 4th ed. (2013), section 4.3.5 (from memory). Four earlier columns are taken off
//! at a time, so that the column being built stays in registers.

use super::stencil::Stencil;

/// The factor, its scratch column and the forward-solved right side.
#[derive(Debug, Default)]
pub(super) struct Band {
    width: usize,
    stride: usize,
    /// Column `k` holds `L[k + d, k]` at `k * stride + d`, `d = 0..=width`.
    factor: Vec<f64>,
    forward: Vec<f64>,
}

impl Band {
    /// Makes room for `lines` lines of `width` unknowns.
    pub(super) fn resize(&mut self, lines: usize, width: usize) {
        self.width = width;
        self.stride = width + 1;
        self.factor.clear();
        // One spare column's width lets the last columns be read as full slices.
        self.factor.resize(lines * width * self.stride, 0.0);
        self.forward.clear();
        self.forward.resize(lines * width, 0.0);
    }

    /// Factors the matrix of the unknowns marked `film`, from line `first` to the end, and
    /// carries the forward solve along. Lines before `first` must be unchanged since the last
    /// call.
    ///
    /// Returns `false` when a pivot is not positive, which a film matrix never gives with finite
    /// entries.
    pub(super) fn factor_from(&mut self, stencil: &Stencil, film: &[bool], first: usize) -> bool {
        let (w, s) = (self.width, self.stride);
        for k in first * w..film.len() {
            let (done, rest) = self.factor.split_at_mut(k * s);
            let column = &mut rest[..s];
            column.fill(0.0);
            if !film[k] {
                column[0] = 1.0;
                self.forward[k] = 0.0;
                continue;
            }
            let across = k % w;
            column[0] = stencil.diagonal[k];
            if across + 1 < w && film[k + 1] {
                column[1] = -stencil.up[k];
            }
            if k + w < film.len() && film[k + w] {
                column[w] += -stencil.downstream[k];
            }
            take_off(done, column, k, w);
            let pivot = column[0];
            if !pivot.is_finite() || pivot <= 0.0 {
                return false;
            }
            let root = pivot.sqrt();
            let inverse = 1.0 / root;
            column[0] = root;
            for value in &mut column[1..] {
                *value *= inverse;
            }
            // Forward solve, row k: y_k = (b_k - sum_j L[k, j] y_j) / L[k, k].
            let mut sum = stencil.source[k];
            for j in k.saturating_sub(w)..k {
                sum -= done[j * s + (k - j)] * self.forward[j];
            }
            self.forward[k] = sum * inverse;
        }
        true
    }

    /// Back substitution: the pressures of all unknowns (zero outside the film).
    pub(super) fn solve_into(&self, film: &[bool], pressure: &mut [f64]) {
        let (w, s) = (self.width, self.stride);
        let n = film.len();
        for k in (0..n).rev() {
            if !film[k] {
                pressure[k] = 0.0;
                continue;
            }
            let column = &self.factor[k * s..(k + 1) * s];
            let reach = w.min(n - 1 - k);
            let sum: f64 = dot(&column[1..=reach], &pressure[k + 1..=k + reach]);
            pressure[k] = (self.forward[k] - sum) / column[0];
        }
    }
}

/// Takes the outer products of the earlier columns off column `k`.
fn take_off(done: &[f64], column: &mut [f64], k: usize, w: usize) {
    let s = w + 1;
    let mut j = k.saturating_sub(w);
    while j + 4 <= k {
        let at = |j: usize| j * s + (k - j);
        let base = [at(j), at(j + 1), at(j + 2), at(j + 3)];
        let factors = [done[base[0]], done[base[1]], done[base[2]], done[base[3]]];
        if factors != [0.0; 4] {
            // The oldest of the four columns reaches the least far down: `shared` rows are
            // common to all; the newer ones go one, two and three rows further.
            let shared = s - (k - j);
            let (a, b) = (&done[base[0]..base[0] + shared], &done[base[1]..base[1] + shared]);
            let (c, d) = (&done[base[2]..base[2] + shared], &done[base[3]..base[3] + shared]);
            let rows = &mut column[..shared];
            for (row, (((a, b), c), d)) in rows.iter_mut().zip(a.iter().zip(b).zip(c).zip(d)) {
                *row -= factors[0] * a + factors[1] * b + factors[2] * c + factors[3] * d;
            }
            for (newer, factor) in factors.iter().enumerate().skip(1) {
                for extra in 0..newer {
                    column[shared + extra] -= factor * done[base[newer] + shared + extra];
                }
            }
        }
        j += 4;
    }
    while j < k {
        let base = j * s + (k - j);
        let factor = done[base];
        if factor != 0.0 {
            let reach = s - (k - j);
            for (row, value) in column[..reach].iter_mut().zip(&done[base..base + reach]) {
                *row -= factor * value;
            }
        }
        j += 1;
    }
}

/// Sum of products in four lanes, so that the compiler may keep them in vector registers.
fn dot(a: &[f64], b: &[f64]) -> f64 {
    let mut lanes = [0.0; 4];
    let (a4, b4) = (a.chunks_exact(4), b.chunks_exact(4));
    let tail: f64 = a4.remainder().iter().zip(b4.remainder()).map(|(x, y)| x * y).sum();
    for (x, y) in a4.zip(b4) {
        for lane in 0..4 {
            lanes[lane] += x[lane] * y[lane];
        }
    }
    lanes.iter().sum::<f64>() + tail
}
