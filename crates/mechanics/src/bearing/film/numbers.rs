//! What the film solver answers.

use std::f64::consts::TAU;
use std::fmt;

/// How a search ended.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Convergence {
    /// Passes made.
    pub passes: usize,
    /// Worst fault left, over its own scale (without unit).
    pub residual: f64,
    /// Nodes with film in the last pass.
    pub unknowns: usize,
}

impl fmt::Display for Convergence {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "residual {:.1e} after {} passes", self.residual, self.passes)
    }
}

/// Where the film begins.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FilmStart {
    /// At the inlet edge, all across: the oil is accounted for from inlet to end.
    AtInlet,
    /// Somewhere inside the arc, because the gap first widens. Reynolds' condition does not say
    /// where the oil for that comes from: load and flow are then the most there could be.
    InsideArc,
}

/// What a film does, without units. `R` radius, `c` radial clearance, `N` turns a second,
/// `L` length, `mu` viscosity, `P = W / (2 R L)` projected pressure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FilmNumbers {
    /// Eccentricity over radial clearance, in the middle of the length.
    pub eccentricity_ratio: f64,
    /// Thinnest film over radial clearance (at the nearer end when tilted).
    pub film_ratio: f64,
    /// From the direction of the load to the thinnest film, in the direction the journal turns,
    /// rad.
    pub attitude_rad: f64,
    /// Where the load points, rad from the inlet edge.
    pub load_from_start_rad: f64,
    /// Where the thinnest film lies, rad from the inlet edge.
    pub thinnest_from_start_rad: f64,
    /// Sommerfeld number `S = (mu N / P) (R / c)^2`. ISO 7902's number is `So = 1 / (2 pi S)`.
    pub sommerfeld: f64,
    /// `(R / c) f`, shear counted over the whole arc (Raimondi & Boyd's convention).
    pub friction_ring: f64,
    /// `(R / c) f`, past rupture only the streamers counted.
    pub friction_streamers: f64,
    /// `Q / (R c N L)`: oil drawn in at the inlet edge.
    pub inflow_number: f64,
    /// `Qs / (R c N L)`: oil leaving at both ends.
    pub side_flow_number: f64,
    /// Peak pressure over projected pressure.
    pub peak_ratio: f64,
    /// From the peak pressure on to the thinnest film, rad.
    pub peak_before_thinnest_rad: f64,
    /// From the thinnest film on to the film's end in the middle of the length, rad.
    pub film_ends_after_thinnest_rad: f64,
    /// Offset of the load's line from the middle of the length, over the length; zero when not
    /// tilted.
    pub tipping_ratio: f64,
    /// Where the film begins.
    pub start: FilmStart,
    /// How the pressures settled.
    pub convergence: Convergence,
}

impl FilmNumbers {
    /// Side flow over inflow.
    #[must_use]
    pub fn side_flow_share(&self) -> f64 {
        self.side_flow_number / self.inflow_number
    }

    /// ISO 7902's load number `So = 1 / (2 pi S)`, from its definition
    /// `So = p psi^2 / (eta omega)` with `psi = c / R`.
    #[must_use]
    pub fn load_number(&self) -> f64 {
        1.0 / (TAU * self.sommerfeld)
    }
}

/// Pressures and thicknesses over the grid, for drawing and for checks.
#[derive(Debug, Clone, PartialEq)]
pub struct FilmField {
    /// Angles of the nodes from the inlet edge, rad, both edges included.
    pub angle_rad: Vec<f64>,
    /// Places across over the length, 0 to 1, both ends included.
    pub across: Vec<f64>,
    /// Pressure over `6 mu omega (R / c)^2`, node `(i, j)` at `i * across.len() + j`.
    pub pressure: Vec<f64>,
    /// Film over radial clearance, likewise.
    pub film_ratio: Vec<f64>,
}

/// A solved film.
#[derive(Debug, Clone, PartialEq)]
pub struct Film {
    /// Its numbers.
    pub numbers: FilmNumbers,
    /// Its pressures.
    pub field: FilmField,
}
