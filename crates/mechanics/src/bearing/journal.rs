//! A journal bearing under a steady load: where the journal settles, and what the film then
//! does in newtons, metres and watts.

use std::f64::consts::TAU;

use super::closed_form::{dubois_ocvirk_1953, iso_7902_2_load_number};
use super::error::{BearingError, Range, check_count};
use super::film::{Arc, Convergence, FilmNumbers, FilmOptions, FilmSolver};
use super::seek::Sought;

const DIAMETER: Range = Range::new("journal diameter", "m", 1e-3, 3.0);
const LENGTH: Range = Range::new("length of the bearing", "m", 1e-3, 5.0);
const CLEARANCE_SHARE: Range =
    Range::new("diametral clearance over journal diameter", "(ratio)", 1e-5, 0.05);
const TILT_SHARE: Range = Range::new("tilt over radial clearance", "(ratio)", -0.9, 0.9);
const LOAD: Range = Range::new("load", "N", 1e-3, 1e8);
const SPEED: Range = Range::new("speed of the journal", "rad/s", 1e-4, 1e5);
const VISCOSITY: Range = Range::new("viscosity", "Pa s", 1e-5, 1e3);
const LOAD_FROM_START: Range = Range::new("direction of the load", "rad from the edge", 0.0, TAU);
const TOLERANCE: Range = Range::new("tolerance of the load", "(ratio)", 1e-10, 0.1);

/// The eccentricity ratio searched from: below it a bearing is as good as unloaded.
const LEAST_ECCENTRIC: f64 = 1e-3;
/// A journal in its bearing, as gauged.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct JournalBearing {
    /// Diameter of the journal, m.
    pub journal_diameter_m: f64,
    /// Length of the bearing metal along the journal, m.
    pub length_m: f64,
    /// Bore less journal on the diameter, m.
    pub diametral_clearance_m: f64,
    /// How much nearer one end of the journal lies to the brass than the middle does, m. Zero
    /// when parallel.
    pub tilt_m: f64,
    /// The arc of metal.
    pub arc: Arc,
}

/// A load that does not change, at a speed that does not change.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SteadyDuty {
    /// Load, N.
    pub load_n: f64,
    /// Speed of the journal, rad/s.
    pub speed_rad_s: f64,
}

/// Which friction figure is used.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum FrictionConvention {
    /// Shear over the whole arc, even past rupture (Raimondi & Boyd). The default: the higher.
    #[default]
    WholeRing,
    /// Past rupture only the streamers that are left.
    Streamers,
}

/// How a running film is sought.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct JournalOptions {
    /// Grid of each film.
    pub film: FilmOptions,
    /// Which friction figure goes into torque, power and heat.
    pub friction: FrictionConvention,
    /// Largest misfit of the load that is accepted, over the load.
    pub tolerance: f64,
    /// Most films to solve in one search, 4 to 1000.
    pub most_films: usize,
}

impl Default for JournalOptions {
    fn default() -> Self {
        Self {
            film: FilmOptions::default(),
            friction: FrictionConvention::WholeRing,
            tolerance: 1e-6,
            most_films: 80,
        }
    }
}

/// A journal running on its film.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RunningFilm {
    /// The film without units.
    pub numbers: FilmNumbers,
    /// Viscosity it ran with, Pa s.
    pub viscosity_pa_s: f64,
    /// Load over projected area, Pa.
    pub projected_pressure_pa: f64,
    /// Thinnest film, m.
    pub minimum_film_m: f64,
    /// How far the journal's centre lies from the bearing's, m.
    pub eccentricity_m: f64,
    /// From the direction of the load to the thinnest film, in the direction the journal turns,
    /// rad.
    pub attitude_rad: f64,
    /// Highest pressure, Pa above the air.
    pub peak_pressure_pa: f64,
    /// Coefficient of friction, by the convention asked for.
    pub friction_coefficient: f64,
    /// Torque on the journal, N m.
    pub torque_n_m: f64,
    /// Power turned to heat, W.
    pub power_w: f64,
    /// Oil drawn in at the inlet, m3/s, when the inlet is full.
    pub inflow_m3_s: f64,
    /// Oil leaving at the ends, m3/s: what the supply must make good.
    pub side_flow_m3_s: f64,
    /// How the search for the journal's place ended (films solved, misfit of the load).
    pub search: Convergence,
}

/// Finds where a journal settles under a steady load with oil of a given viscosity.
///
/// **Equation.** The eccentricity at which the film's Sommerfeld number equals
/// `S = (mu N / P) (R / c)^2`, `P = W / (d L)`; for a brass of limited arc also the attitude at
/// which the film's force lies along the load. **Units.** SI; angles in the direction the journal
/// turns. **Range.** Laminar film, steady load. **Source.** Raimondi & Boyd (1958).
/// **Worked value.** 500 lbf, 1.5 in by 1.5 in, 1.5 thou radial clearance, 30 turns a second,
/// 4 microreyn: least film 0.00064 in, torque 2.6 lbf in, side flow 0.142 in3/s (Shigley's
/// Mechanical Engineering Design, 9th ed., examples 12-1 to 12-4, from memory).
///
/// # Errors
///
/// [`BearingError::OutOfRange`] on the inputs, [`BearingError::LoadOutsideFilm`] when no
/// eccentricity the grid resolves carries the load, [`BearingError::NotConverged`] otherwise.
pub fn film_for_load(
    bearing: &JournalBearing,
    duty: &SteadyDuty,
    viscosity_pa_s: f64,
    options: &JournalOptions,
) -> Result<RunningFilm, BearingError> {
    let mut journal = Journal::new(bearing, options)?;
    journal.settle(duty, viscosity_pa_s)
}

/// A bearing with a film solver that remembers, for many loads one after another.
#[derive(Debug)]
pub(super) struct Journal {
    pub(super) bearing: JournalBearing,
    pub(super) options: JournalOptions,
    pub(super) solver: FilmSolver,
    most_eccentric: f64,
    pub(super) tilt_ratio: f64,
    /// Attitude of the last film, where the next one is looked for.
    pub(super) last_attitude_rad: Option<f64>,
    /// Eccentricity of the last answer.
    pub(super) last_eccentricity: Option<f64>,
    /// Films solved since the last search began.
    pub(super) films: usize,
}

impl Journal {
    pub(super) fn new(
        bearing: &JournalBearing,
        options: &JournalOptions,
    ) -> Result<Self, BearingError> {
        DIAMETER.check(bearing.journal_diameter_m)?;
        LENGTH.check(bearing.length_m)?;
        CLEARANCE_SHARE.check(bearing.diametral_clearance_m / bearing.journal_diameter_m)?;
        let tilt_ratio = TILT_SHARE.check(2.0 * bearing.tilt_m / bearing.diametral_clearance_m)?;
        if let Arc::Brass { load_from_start_rad, .. } = bearing.arc {
            LOAD_FROM_START.check(load_from_start_rad)?;
        }
        TOLERANCE.check(options.tolerance)?;
        check_count("most films", options.most_films, 4, 1000)?;
        let solver = FilmSolver::new(options.film)?;
        let most_eccentric = solver.most_eccentric(bearing.arc, tilt_ratio)?;
        Ok(Self {
            bearing: *bearing,
            options: *options,
            solver,
            most_eccentric,
            tilt_ratio,
            last_attitude_rad: None,
            last_eccentricity: None,
            films: 0,
        })
    }

    pub(super) fn radius_m(&self) -> f64 {
        0.5 * self.bearing.journal_diameter_m
    }

    pub(super) fn radial_clearance_m(&self) -> f64 {
        0.5 * self.bearing.diametral_clearance_m
    }

    pub(super) fn length_over_diameter(&self) -> f64 {
        self.bearing.length_m / self.bearing.journal_diameter_m
    }

    /// `(R / c)^2 N / P`: the Sommerfeld number for each pascal second.
    pub(super) fn sommerfeld_per_pa_s(&self, duty: &SteadyDuty) -> f64 {
        let slack = self.radius_m() / self.radial_clearance_m();
        let pressure = duty.load_n / (self.bearing.journal_diameter_m * self.bearing.length_m);
        duty.speed_rad_s / TAU / pressure * slack * slack
    }

    /// Least and greatest eccentricity sought, in the coordinate in which the logarithm of the
    /// Sommerfeld number is nearly straight.
    pub(super) fn limits(&self) -> (f64, f64) {
        (logit(LEAST_ECCENTRIC), logit(self.most_eccentric))
    }

    /// First guess of the eccentricity for a Sommerfeld number, from the closed forms.
    pub(super) fn guess(&self, sommerfeld: f64) -> f64 {
        let squat = self.length_over_diameter();
        let number = |e: f64| match iso_7902_2_load_number(e, squat.clamp(0.2, 1.0)) {
            Ok(load_number) => 1.0 / (TAU * load_number),
            Err(_) => dubois_ocvirk_1953(e, squat).map_or(f64::NAN, |form| form.sommerfeld),
        };
        let (mut low, mut high) = (0.01, 0.99);
        for _ in 0..20 {
            let middle = 0.5 * (low + high);
            if number(middle) > sommerfeld {
                low = middle;
            } else {
                high = middle;
            }
        }
        0.5 * (low + high)
    }

    /// See [`film_for_load`].
    pub(super) fn settle(
        &mut self,
        duty: &SteadyDuty,
        viscosity_pa_s: f64,
    ) -> Result<RunningFilm, BearingError> {
        check_duty(duty)?;
        VISCOSITY.check(viscosity_pa_s)?;
        let wanted = self.sommerfeld_per_pa_s(duty) * viscosity_pa_s;
        let guess = self.guess(wanted);
        let sought = self.seek("the place of the journal", guess, |numbers| {
            Ok((numbers.sommerfeld / wanted).ln())
        })?;
        match sought {
            Sought::At(numbers, search) => {
                Ok(self.units(duty).film(&numbers, viscosity_pa_s, search))
            }
            Sought::Nowhere { seen_low, seen_high, .. } => {
                Err(BearingError::LoadOutsideFilm { wanted, low: seen_low, high: seen_high })
            }
        }
    }

    /// What turns a film's numbers into newtons, metres and watts.
    pub(super) fn units(&self, duty: &SteadyDuty) -> Units {
        let bearing = &self.bearing;
        let (radius_m, clearance_m) = (self.radius_m(), self.radial_clearance_m());
        let turns_s = duty.speed_rad_s / TAU;
        Units {
            duty: *duty,
            friction: self.options.friction,
            radius_m,
            clearance_m,
            pressure_pa: duty.load_n / (bearing.journal_diameter_m * bearing.length_m),
            flow_m3_s: radius_m * clearance_m * bearing.length_m * turns_s,
        }
    }
}

/// What turns a film's numbers into newtons, metres and watts.
#[derive(Debug, Clone, Copy)]
pub(super) struct Units {
    duty: SteadyDuty,
    friction: FrictionConvention,
    radius_m: f64,
    clearance_m: f64,
    pressure_pa: f64,
    /// `R c N L`.
    flow_m3_s: f64,
}

impl Units {
    pub(super) fn film(
        &self,
        numbers: &FilmNumbers,
        viscosity_pa_s: f64,
        search: Convergence,
    ) -> RunningFilm {
        let friction_number = match self.friction {
            FrictionConvention::WholeRing => numbers.friction_ring,
            FrictionConvention::Streamers => numbers.friction_streamers,
        };
        let friction = friction_number * self.clearance_m / self.radius_m;
        let torque = friction * self.duty.load_n * self.radius_m;
        RunningFilm {
            numbers: *numbers,
            viscosity_pa_s,
            projected_pressure_pa: self.pressure_pa,
            minimum_film_m: numbers.film_ratio * self.clearance_m,
            eccentricity_m: numbers.eccentricity_ratio * self.clearance_m,
            attitude_rad: numbers.attitude_rad,
            peak_pressure_pa: numbers.peak_ratio * self.pressure_pa,
            friction_coefficient: friction,
            torque_n_m: torque,
            power_w: torque * self.duty.speed_rad_s,
            inflow_m3_s: numbers.inflow_number * self.flow_m3_s,
            side_flow_m3_s: numbers.side_flow_number * self.flow_m3_s,
            search,
        }
    }
}

pub(super) fn check_duty(duty: &SteadyDuty) -> Result<(), BearingError> {
    LOAD.check(duty.load_n)?;
    SPEED.check(duty.speed_rad_s)?;
    Ok(())
}

pub(super) fn logit(x: f64) -> f64 {
    (x / (1.0 - x)).ln()
}

pub(super) fn from_logit(x: f64) -> f64 {
    1.0 / (1.0 + (-x).exp())
}
