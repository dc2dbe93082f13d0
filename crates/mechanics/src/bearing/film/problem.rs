//! What is asked of the film solver.

/// How the film may end.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Cavitation {
    /// Pressure and slope reach zero together (Reynolds; Swift and Stieber). The default.
    #[default]
    Reynolds,
    /// The whole film is solved and pulling pressures are then left out (Gümbel).
    HalfSommerfeld,
    /// The oil may pull (Sommerfeld): for checks only, no real bearing does this.
    FullFilm,
}

/// How nodes are spread around the journal.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Spacing {
    /// Crowded where the film is thin. The default.
    #[default]
    Graded,
    /// Equal steps.
    Uniform,
}

/// The arc of bearing metal that faces the journal.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum Arc {
    /// A full ring with its oil inlet at the widest gap, wherever that comes to lie: the full
    /// bearing of Raimondi & Boyd.
    #[default]
    FullRing,
    /// A brass of limited arc, or a ring with an inlet groove along it at a fixed place (an
    /// extent of one turn). Oil enters at the edge the journal turns away from.
    Brass {
        /// Angle the metal covers, rad, up to one turn.
        extent_rad: f64,
        /// Where the load points, rad from the inlet edge in the direction the journal turns:
        /// half the extent for a crown brass loaded in its middle.
        load_from_start_rad: f64,
    },
}

/// A film to be solved with the journal at a given place in its brass.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FilmProblem {
    /// Length of the bearing over the diameter of the journal.
    pub length_over_diameter: f64,
    /// How far the journal lies off centre, over the radial clearance.
    pub eccentricity_ratio: f64,
    /// How much nearer one end of the journal lies than the middle, over the radial clearance,
    /// in the plane of the thinnest film. Zero when journal and brass are parallel.
    pub tilt_ratio: f64,
    /// The arc of metal. The load's direction is *not* used here: see
    /// `thinnest_from_start_rad`.
    pub arc: Arc,
    /// Where the thinnest film lies, rad from the inlet edge in the direction the journal turns.
    /// Not used for [`Arc::FullRing`], where it is opposite the inlet.
    pub thinnest_from_start_rad: f64,
}

/// The grid and when to stop.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FilmOptions {
    /// Cells around the arc, 16 to 4000.
    pub around: usize,
    /// Cells across the whole length, even, 4 to 1000.
    pub across: usize,
    /// How the film may end.
    pub cavitation: Cavitation,
    /// How nodes are spread around.
    pub spacing: Spacing,
    /// Largest fault of the oil balance that is accepted, over the largest wedge term.
    pub tolerance: f64,
    /// Most passes of the search for the film's end, 1 to 10 000.
    pub most_passes: usize,
}

impl Default for FilmOptions {
    /// 128 by 32 cells, Reynolds' condition, 1e-9.
    fn default() -> Self {
        Self {
            around: 128,
            across: 32,
            cavitation: Cavitation::Reynolds,
            spacing: Spacing::Graded,
            tolerance: 1e-9,
            most_passes: 200,
        }
    }
}
