//! What the pressures add up to: load, friction and flow, all without units.

use std::f64::consts::{PI, TAU};

use super::rupture::{Shape, Workspace};
use super::{Cavitation, Convergence, FilmNumbers, FilmStart};

/// A solved film ready to be added up.
#[derive(Debug, Clone, Copy)]
pub(super) struct Solved<'a> {
    pub(super) workspace: &'a Workspace,
    pub(super) shape: &'a Shape,
    pub(super) cavitation: Cavitation,
}

impl Solved<'_> {
    /// Adds up the film.
    ///
    /// Own derivation from the definitions of Raimondi & Boyd (Trans. ASLE 1 (1958) 159-209).
    /// With pressures `p` over `6 mu omega R^2 / c^2` and `w` the load over
    /// `6 mu omega R^3 L / c^2`:
    ///
    /// ```text
    /// projected pressure P = W / (2 R L) = 3 mu omega (R/c)^2 w,  so  S = 1 / (6 pi w)
    /// friction      (R/c) f = (A + 3 B) / (6 w),  A = int 1/H,  B = int H dp/dt = -int p dH/dt
    /// flow          Q / (R c N L) = pi int (H - H^3 dp/dt) dz  at the inlet edge
    ///               Qs / (R c N L) = pi (R/L)^2 int H^3 dp/dz dt  at both ends
    /// ```
    pub(super) fn numbers(&self, convergence: Convergence) -> FilmNumbers {
        let Workspace { grid, .. } = self.workspace;
        let gap = &self.shape.gap;
        let (lines, width) = (grid.lines(), grid.width());
        let halves = grid.halves();
        let (mut force_x, mut force_y, mut drag) = (0.0, 0.0, 0.0);
        let (mut tip_x, mut tip_y) = (0.0, 0.0);
        for line in 0..lines {
            let angle = grid.angle_rad[line + 1];
            let box_angle = grid.box_angle(line + 1);
            let (sin, cos) = angle.sin_cos();
            let (mut on_line, mut wedge_on_line, mut tip_on_line) = (0.0, 0.0, 0.0);
            for place in 0..width {
                let across = grid.across[place + 1];
                let weighed = grid.weight(place) * self.read(line * width + place);
                on_line += weighed;
                wedge_on_line += weighed * gap.offset(across);
                tip_on_line += weighed * (across - 0.5);
            }
            force_x += on_line * cos * box_angle;
            force_y += on_line * sin * box_angle;
            tip_x += tip_on_line * cos * box_angle;
            tip_y += tip_on_line * sin * box_angle;
            drag -= wedge_on_line * (angle - gap.thinnest_rad).sin() * box_angle;
        }
        let (force_x, force_y, drag) = (halves * force_x, halves * force_y, halves * drag);
        let load = force_x.hypot(force_y);
        let load_at = force_y.atan2(force_x);
        let tipping =
            if grid.mirrored { 0.0 } else { (tip_x * force_x + tip_y * force_y) / (load * load) };
        let (ring, streamers) = self.shear();
        let friction = |area: f64| (area + 3.0 * drag) / (6.0 * load);
        let (peak, peak_at) = self.peak();
        FilmNumbers {
            eccentricity_ratio: gap.eccentricity_ratio,
            film_ratio: 1.0 - gap.eccentricity_ratio - gap.tilt_ratio.abs(),
            attitude_rad: wrap(gap.thinnest_rad - load_at),
            load_from_start_rad: load_at.rem_euclid(TAU),
            thinnest_from_start_rad: gap.thinnest_rad,
            sommerfeld: 1.0 / (6.0 * PI * load),
            friction_ring: friction(ring),
            friction_streamers: friction(streamers),
            inflow_number: PI * self.inflow(),
            side_flow_number: PI * self.side_flow(),
            peak_ratio: peak / (0.5 * load),
            peak_before_thinnest_rad: gap.thinnest_rad - peak_at,
            film_ends_after_thinnest_rad: self.film_end() - gap.thinnest_rad,
            tipping_ratio: tipping,
            start: self.start(),
            convergence,
        }
    }

    /// Pressure of an unknown as it counts for the load.
    fn read(&self, k: usize) -> f64 {
        let pressure = self.workspace.pressure[k];
        if self.cavitation == Cavitation::HalfSommerfeld { pressure.max(0.0) } else { pressure }
    }

    /// Is there unbroken film at this unknown?
    fn wet(&self, k: usize) -> bool {
        let pulls = self.workspace.pressure[k] < 0.0;
        self.workspace.film[k] && !(pulls && self.cavitation == Cavitation::HalfSommerfeld)
    }

    /// Does every place across go from film to rupture once, with film from the inlet edge on?
    fn start(&self) -> FilmStart {
        let Workspace { grid, .. } = self.workspace;
        let (lines, width) = (grid.lines(), grid.width());
        let forms = |line: usize, place: usize| {
            let before = line.checked_sub(1).is_some_and(|line| self.wet(line * width + place));
            self.wet(line * width + place) && !before
        };
        let inside = (1..lines).any(|line| (0..width).any(|place| forms(line, place)));
        if inside { FilmStart::InsideArc } else { FilmStart::AtInlet }
    }

    /// Highest pressure and its angle, by a parabola through the highest node and its
    /// neighbours around.
    fn peak(&self) -> (f64, f64) {
        let Workspace { grid, pressure, .. } = self.workspace;
        let (lines, width) = (grid.lines(), grid.width());
        let top =
            (0..pressure.len()).max_by(|&a, &b| self.read(a).total_cmp(&self.read(b))).unwrap_or(0);
        let (line, place) = (top / width, top % width);
        let value = |line: Option<usize>| match line {
            Some(line) if line < lines => self.read(line * width + place),
            _ => 0.0,
        };
        let (a, b, c) = (value(line.checked_sub(1)), value(Some(line)), value(Some(line + 1)));
        let x = &grid.angle_rad[line..=line + 2];
        let (left, right) = (x[1] - x[0], x[2] - x[1]);
        let (rise, fall) = ((b - a) / left, (c - b) / right);
        let bend = (fall - rise) / (left + right);
        let slope = (rise * right + fall * left) / (left + right);
        if bend < 0.0 {
            let shift = (-0.5 * slope / bend).clamp(-left, right);
            (b + slope * shift + bend * shift * shift, x[1] + shift)
        } else {
            (b, x[1])
        }
    }

    /// Angle at which the film ends in the middle of the length. Near its end the pressure
    /// falls as the square of the distance to it, so the root of the last two pressures is run
    /// out to zero, no further than the next node.
    fn film_end(&self) -> f64 {
        let Workspace { grid, .. } = self.workspace;
        let (lines, width) = (grid.lines(), grid.width());
        let place = if grid.mirrored { width - 1 } else { width / 2 };
        let Some(last) = (0..lines).rev().find(|line| self.wet(line * width + place)) else {
            return grid.angle_rad[0];
        };
        let here = self.read(last * width + place).max(0.0).sqrt();
        let before = match last.checked_sub(1) {
            Some(line) => self.read(line * width + place).max(0.0).sqrt(),
            None => 0.0,
        };
        let x = &grid.angle_rad[last..=last + 2];
        if self.cavitation == Cavitation::Reynolds && before > here {
            (x[1] + (x[1] - x[0]) * here / (before - here)).min(x[2])
        } else {
            x[2]
        }
    }

    /// `int 1/H` over the whole arc, and over the oil that is there: past rupture the oil that
    /// passed the film's end runs on in streamers that fill `H(end) / H` of the width; upstream
    /// of the film's start nothing is counted.
    fn shear(&self) -> (f64, f64) {
        let Workspace { grid, .. } = self.workspace;
        let gap = &self.shape.gap;
        let (lines, width) = (grid.lines(), grid.width());
        let (mut ring, mut streamers) = (0.0, 0.0);
        for (row, &across) in grid.across.iter().enumerate() {
            // The end of the bearing shares the fate of the place beside it.
            let place = row.saturating_sub(1).min(width - 1);
            let weight = self.row_weight(row);
            let first = (0..lines).find(|line| self.wet(line * width + place));
            let last = (0..lines).rev().find(|line| self.wet(line * width + place));
            let mut end_film = 0.0;
            for (i, angle) in grid.angle_rad.iter().enumerate() {
                let thickness = gap.film(gap.cosine(*angle), across);
                let area = weight * grid.box_angle(i) / thickness;
                ring += area;
                let (Some(first), Some(last)) = (first, last) else { continue };
                if i <= last + 1 {
                    end_film = thickness;
                }
                // Node `first + 1` is the first wet one; when it is the very first, the inlet
                // edge beside it is wet too.
                if i > first || first == 0 {
                    streamers +=
                        if i <= last + 1 { area } else { area * (end_film / thickness).min(1.0) };
                }
            }
        }
        (grid.halves() * ring, grid.halves() * streamers)
    }

    /// `int (H - H^3 dp/dt) dz` at the inlet edge of the arc.
    fn inflow(&self) -> f64 {
        let Workspace { grid, stencil, .. } = self.workspace;
        let gap = &self.shape.gap;
        let cosine = gap.cosine(0.5 * (grid.angle_rad[0] + grid.angle_rad[1]));
        let mut sum = 0.0;
        for (row, across) in grid.across.iter().enumerate() {
            sum += self.row_weight(row) * gap.film(cosine, *across);
            if !self.at_end(row) {
                sum -= stencil.inlet[row - 1] * self.read(row - 1);
            }
        }
        grid.halves() * sum
    }

    /// `(R / L)^2 int H^3 dp/dz dt` over both ends: what crosses the first box side in from the
    /// end, and what the half box between that side and the end itself still squeezes out.
    fn side_flow(&self) -> f64 {
        let Workspace { grid, stencil, .. } = self.workspace;
        let gap = &self.shape.gap;
        let (lines, width) = (grid.lines(), grid.width());
        let half_box = 0.5 * grid.step_across();
        let pulls = self.cavitation == Cavitation::FullFilm;
        let mut sum = 0.0;
        for line in 0..lines {
            let (before, here, after) =
                (grid.angle_rad[line], grid.angle_rad[line + 1], grid.angle_rad[line + 2]);
            let (before, after) =
                (gap.cosine(0.5 * (before + here)), gap.cosine(0.5 * (here + after)));
            let squeezed =
                |across: f64| half_box * (gap.film(before, across) - gap.film(after, across));
            let near = stencil.near_end[line] * self.read(line * width) + squeezed(0.0);
            sum += if pulls { near } else { near.max(0.0) };
            if !grid.mirrored {
                let last = line * width + width - 1;
                let far = stencil.up[last] * self.read(last) + squeezed(1.0);
                sum += if pulls { far } else { far.max(0.0) };
            }
        }
        grid.halves() * sum
    }

    fn at_end(&self, row: usize) -> bool {
        let grid = &self.workspace.grid;
        row == 0 || (!grid.mirrored && row + 1 == grid.across.len())
    }

    fn row_weight(&self, row: usize) -> f64 {
        let grid = &self.workspace.grid;
        if self.at_end(row) { 0.5 * grid.step_across() } else { grid.weight(row - 1) }
    }
}

/// The angle brought between minus half a turn and half a turn.
fn wrap(angle_rad: f64) -> f64 {
    angle_rad - (angle_rad / TAU).round() * TAU
}
