//! The solver: checks the question, solves the film, adds it up.

use std::f64::consts::{PI, TAU};

use super::gap::Gap;
use super::numbers::{Film, FilmField, FilmNumbers};
use super::problem::{Arc, Cavitation, FilmOptions, FilmProblem, Spacing};
use super::rupture::{Shape, Workspace};
use super::totals;
use crate::bearing::BearingError;
use crate::bearing::error::{Range, check_count};

const LENGTH_OVER_DIAMETER: Range = Range::new("length over diameter", "(ratio)", 0.02, 200.0);
const ECCENTRICITY: Range = Range::new("eccentricity ratio", "(ratio)", 1e-4, 0.9995);
const TILT: Range = Range::new("tilt ratio", "(ratio)", -0.9, 0.9);
const EXTENT: Range = Range::new("extent of the arc", "rad", 0.17, TAU);
const ANGLE: Range = Range::new("angle from the start of the arc", "rad", -TAU, 2.0 * TAU);
const TOLERANCE: Range = Range::new("tolerance of the film pressure", "(ratio)", 1e-14, 1e-2);
/// Fewer cells than this across the thinnest part of the film and the answer is guesswork.
const LEAST_CELLS_AT_THINNEST: f64 = 6.0;

/// Solves the film with the journal at a given place.
///
/// **Equation.** Reynolds (1886) for a steady isoviscous film, see the module. **Units.** None;
/// angles in rad from the inlet edge in the direction the journal turns. **Range.** Eccentricity
/// ratio 0.0001 to 0.9995 with tilt included, length over diameter 0.02 to 200, as far as the grid
/// resolves the thinnest film. **Source.** Raimondi & Boyd, Trans. ASLE 1 (1958) 159-209 for the
/// numbers and the boundary conditions. **Accuracy.** Second order in the steps: at 128 by 32
/// about 0.3 per cent on `S`. **Worked value.** `L/D` 1, eccentricity 0.6: `S` 0.121, attitude
/// 50.6 degrees (from memory).
///
/// # Errors
///
/// [`BearingError::OutOfRange`], [`BearingError::CountOutOfRange`], [`BearingError::OddAcross`],
/// [`BearingError::GridTooCoarse`] on the inputs, [`BearingError::NoFilm`] when the gap only widens,
/// [`BearingError::NotConverged`] when the pressures do not settle.
pub fn solve_film(problem: &FilmProblem, options: &FilmOptions) -> Result<Film, BearingError> {
    let mut solver = FilmSolver::new(*options)?;
    let numbers = solver.numbers(problem)?;
    Ok(Film { numbers, field: solver.field() })
}

/// A film solver that keeps its memory and its last film's end, so that the next film, a little
/// different, is found quicker.
#[derive(Debug)]
pub struct FilmSolver {
    options: FilmOptions,
    workspace: Workspace,
    gap: Option<Gap>,
}

impl FilmSolver {
    /// A solver for films on one grid.
    ///
    /// # Errors
    ///
    /// [`BearingError::CountOutOfRange`], [`BearingError::OddAcross`] or
    /// [`BearingError::OutOfRange`] on the options.
    pub fn new(options: FilmOptions) -> Result<Self, BearingError> {
        check_count("cells around the journal", options.around, 16, 4000)?;
        check_count("cells across the bearing", options.across, 4, 1000)?;
        check_count("most passes", options.most_passes, 1, 10_000)?;
        TOLERANCE.check(options.tolerance)?;
        if options.across % 2 == 1 {
            return Err(BearingError::OddAcross { cells: options.across });
        }
        Ok(Self { options, workspace: Workspace::default(), gap: None })
    }

    /// Solves one film and adds it up.
    ///
    /// # Errors
    ///
    /// As [`solve_film`].
    pub fn numbers(&mut self, problem: &FilmProblem) -> Result<FilmNumbers, BearingError> {
        let shape = shape_of(problem)?;
        let Gap { eccentricity_ratio, tilt_ratio, .. } = shape.gap;
        self.check_grid(eccentricity_ratio, tilt_ratio, shape.extent_rad)?;
        self.gap = None;
        let convergence = self.workspace.solve(&shape, &self.options)?;
        self.gap = Some(shape.gap);
        let cavitation = self.options.cavitation;
        let solved = totals::Solved { workspace: &self.workspace, shape: &shape, cavitation };
        let numbers = solved.numbers(convergence);
        if numbers.sommerfeld.is_finite() {
            Ok(numbers)
        } else {
            Err(BearingError::NoFilm { thinnest_rad: shape.gap.thinnest_rad })
        }
    }

    /// Pressures and thicknesses of the last film solved; empty when there is none.
    #[must_use]
    pub fn field(&self) -> FilmField {
        let Some(gap) = self.gap else {
            return FilmField {
                angle_rad: Vec::new(),
                across: Vec::new(),
                pressure: Vec::new(),
                film_ratio: Vec::new(),
            };
        };
        let Workspace { grid, pressure, .. } = &self.workspace;
        let (cells, width) = (self.options.across, grid.width());
        let across: Vec<f64> = (0..=cells).map(|j| j as f64 / cells as f64).collect();
        let last = grid.angle_rad.len() - 1;
        let clip = self.options.cavitation == Cavitation::HalfSommerfeld;
        let mut pressures = Vec::with_capacity(grid.angle_rad.len() * across.len());
        let mut films = Vec::with_capacity(pressures.capacity());
        for (i, angle) in grid.angle_rad.iter().enumerate() {
            let cosine = gap.cosine(*angle);
            for (j, place) in across.iter().enumerate() {
                let folded = if grid.mirrored { j.min(cells - j) } else { j };
                let inside = i > 0 && i < last && j > 0 && j < cells;
                let value = if inside { pressure[(i - 1) * width + folded - 1] } else { 0.0 };
                pressures.push(if clip { value.max(0.0) } else { value });
                films.push(gap.film(cosine, *place));
            }
        }
        FilmField {
            angle_rad: grid.angle_rad.clone(),
            across,
            pressure: pressures,
            film_ratio: films,
        }
    }

    /// The greatest eccentricity ratio this grid resolves for the given arc and tilt.
    pub(in crate::bearing) fn most_eccentric(
        &self,
        arc: Arc,
        tilt_ratio: f64,
    ) -> Result<f64, BearingError> {
        let extent_rad = match arc {
            Arc::FullRing => TAU,
            Arc::Brass { extent_rad, .. } => EXTENT.check(extent_rad)?,
        };
        let (mut fine, mut coarse) =
            (2e-3, ECCENTRICITY.check(0.99999 * ECCENTRICITY.high - tilt_ratio.abs())?);
        self.check_grid(fine, tilt_ratio, extent_rad)?;
        for _ in 0..50 {
            let middle = 0.5 * (fine + coarse);
            if self.check_grid(middle, tilt_ratio, extent_rad).is_ok() {
                fine = middle;
            } else {
                coarse = middle;
            }
        }
        Ok(fine)
    }

    fn check_grid(
        &self,
        eccentricity: f64,
        tilt_ratio: f64,
        extent_rad: f64,
    ) -> Result<(), BearingError> {
        let cells = self.cells_at_thinnest(eccentricity, tilt_ratio, extent_rad);
        if cells >= LEAST_CELLS_AT_THINNEST {
            Ok(())
        } else {
            Err(BearingError::GridTooCoarse { cells, least: LEAST_CELLS_AT_THINNEST })
        }
    }

    /// Cells over the stretch in which the film doubles from its thinnest:
    /// `H = 1 - e cos t` is about `(1 - e) + t^2 / 2` there, so `t = sqrt(2 (1 - e))`.
    fn cells_at_thinnest(&self, eccentricity: f64, tilt_ratio: f64, extent_rad: f64) -> f64 {
        let reach = (2.0 * (1.0 - eccentricity - tilt_ratio.abs())).sqrt();
        let finer = match self.options.spacing {
            Spacing::Uniform => 1.0,
            Spacing::Graded => ((1.0 + eccentricity) / (1.0 - eccentricity)).powf(0.25),
        };
        reach * finer * self.options.around as f64 / extent_rad
    }
}

fn shape_of(problem: &FilmProblem) -> Result<Shape, BearingError> {
    LENGTH_OVER_DIAMETER.check(problem.length_over_diameter)?;
    ECCENTRICITY.check(problem.eccentricity_ratio)?;
    TILT.check(problem.tilt_ratio)?;
    ECCENTRICITY.check(problem.eccentricity_ratio + problem.tilt_ratio.abs())?;
    let (extent_rad, thinnest_rad) = match problem.arc {
        Arc::FullRing => (TAU, PI),
        Arc::Brass { extent_rad, .. } => {
            (EXTENT.check(extent_rad)?, ANGLE.check(problem.thinnest_from_start_rad)?)
        }
    };
    Ok(Shape {
        gap: Gap {
            eccentricity_ratio: problem.eccentricity_ratio,
            tilt_ratio: problem.tilt_ratio,
            thinnest_rad,
        },
        extent_rad,
        length_over_diameter: problem.length_over_diameter,
    })
}
