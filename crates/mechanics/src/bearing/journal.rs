//! A journal bearing under a steady load: where the journal settles, and what the film then
//! does in newtons, metres and watts.

use std::f64::consts::TAU;

use super::closed_form::{dubois_ocvirk_1953, iso_7902_2_load_number};
use super::error::{BearingError, Range, check_count};
use super::film::{Arc, Convergence, FilmNumbers, FilmOptions, FilmProblem, FilmSolver};
use super::root::{Crossing, Search, find_crossing};

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
/// How nearly the load must point where it is asked to, rad.
const DIRECTION_TOLERANCE_RAD: f64 = 1e-7;

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
    solver: FilmSolver,
    tilt_ratio: f64,
    /// Attitude of the last film, where the next one is looked for.
    last_attitude_rad: Option<f64>,
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
        Ok(Self {
            bearing: *bearing,
            options: *options,
            solver: FilmSolver::new(options.film)?,
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

    /// Coordinates in which the logarithm of the Sommerfeld number is nearly straight.
    pub(super) fn limits(&self) -> (f64, f64) {
        let most = self.solver.most_eccentric(self.bearing.arc, self.tilt_ratio);
        (logit(LEAST_ECCENTRIC), logit(most))
    }

    /// First guess of the eccentricity for a Sommerfeld number, from the closed forms.
    pub(super) fn guess(&self, sommerfeld: f64) -> f64 {
        let squat = self.length_over_diameter();
        let number = |e: f64| match iso_7902_2_load_number(e, squat.clamp(0.2, 1.5)) {
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

    /// The film at one eccentricity, with the load pointing where it does.
    pub(super) fn film_at(&mut self, eccentricity_ratio: f64) -> Result<FilmNumbers, BearingError> {
        let mut problem = FilmProblem {
            length_over_diameter: self.length_over_diameter(),
            eccentricity_ratio,
            tilt_ratio: self.tilt_ratio,
            arc: self.bearing.arc,
            thinnest_from_start_rad: 0.0,
        };
        let Arc::Brass { load_from_start_rad, .. } = self.bearing.arc else {
            self.films += 1;
            return self.solver.numbers(&problem);
        };
        // The attitude hardly changes as the journal swings round, so the place of the thinnest
        // film that turns the force into line is found by secants from slope one.
        let start = self.last_attitude_rad.or_else(|| {
            dubois_ocvirk_1953(eccentricity_ratio, self.length_over_diameter())
                .ok()
                .map(|form| form.attitude_rad)
        });
        let mut attitude = start.unwrap_or(0.8);
        let mut earlier: Option<(f64, f64)> = None;
        let mut miss = f64::INFINITY;
        for _ in 0..self.options.most_films {
            self.films += 1;
            problem.thinnest_from_start_rad = load_from_start_rad + attitude;
            let numbers = self.solver.numbers(&problem)?;
            miss = attitude - numbers.attitude_rad;
            if miss.abs() <= DIRECTION_TOLERANCE_RAD {
                self.last_attitude_rad = Some(attitude);
                return Ok(numbers);
            }
            let slope = match earlier {
                Some((at, missed)) if (attitude - at).abs() > 0.0 => {
                    ((miss - missed) / (attitude - at)).clamp(0.2, 5.0)
                }
                _ => 1.0,
            };
            earlier = Some((attitude, miss));
            attitude = (attitude - miss / slope).clamp(-1.7, 3.2);
        }
        self.last_attitude_rad = None;
        let convergence =
            Convergence { passes: self.options.most_films, residual: miss.abs(), unknowns: 1 };
        Err(BearingError::NotConverged { what: "the attitude of the journal", convergence })
    }

    /// See [`film_for_load`].
    pub(super) fn settle(
        &mut self,
        duty: &SteadyDuty,
        viscosity_pa_s: f64,
    ) -> Result<RunningFilm, BearingError> {
        check_duty(duty)?;
        VISCOSITY.check(viscosity_pa_s)?;
        self.films = 0;
        let wanted = self.sommerfeld_per_pa_s(duty) * viscosity_pa_s;
        let (low, high) = self.limits();
        let guess = self.last_eccentricity.unwrap_or_else(|| self.guess(wanted));
        let search = Search {
            what: "the place of the journal",
            guess: logit(guess),
            first_step: 0.3,
            low,
            high,
            tolerance: self.options.tolerance,
            most_looks: self.options.most_films,
        };
        let (mut seen_low, mut seen_high) = (f64::INFINITY, 0.0_f64);
        let mut last = None;
        let crossing = find_crossing(&search, |x| {
            let numbers = self.film_at(from_logit(x))?;
            seen_low = seen_low.min(numbers.sommerfeld);
            seen_high = seen_high.max(numbers.sommerfeld);
            last = Some(numbers);
            Ok((numbers.sommerfeld / wanted).ln())
        })?;
        match (crossing, last) {
            (Crossing::At(_, convergence), Some(numbers)) => {
                self.last_eccentricity = Some(numbers.eccentricity_ratio);
                let search = Convergence { passes: self.films, ..convergence };
                Ok(self.in_units(&numbers, duty, viscosity_pa_s, search))
            }
            _ => {
                self.last_eccentricity = None;
                Err(BearingError::LoadOutsideFilm { wanted, low: seen_low, high: seen_high })
            }
        }
    }

    /// The film's numbers turned into newtons, metres and watts.
    pub(super) fn in_units(
        &self,
        numbers: &FilmNumbers,
        duty: &SteadyDuty,
        viscosity_pa_s: f64,
        search: Convergence,
    ) -> RunningFilm {
        let (radius, clearance) = (self.radius_m(), self.radial_clearance_m());
        let pressure = duty.load_n / (self.bearing.journal_diameter_m * self.bearing.length_m);
        let friction = self.friction_number(numbers) * clearance / radius;
        let torque = friction * duty.load_n * radius;
        let flow = self.flow_unit(duty);
        RunningFilm {
            numbers: *numbers,
            viscosity_pa_s,
            projected_pressure_pa: pressure,
            minimum_film_m: numbers.film_ratio * clearance,
            eccentricity_m: numbers.eccentricity_ratio * clearance,
            attitude_rad: numbers.attitude_rad,
            peak_pressure_pa: numbers.peak_ratio * pressure,
            friction_coefficient: friction,
            torque_n_m: torque,
            power_w: torque * duty.speed_rad_s,
            inflow_m3_s: numbers.inflow_number * flow,
            side_flow_m3_s: numbers.side_flow_number * flow,
            search,
        }
    }

    /// `(R / c) f` by the convention asked for.
    pub(super) fn friction_number(&self, numbers: &FilmNumbers) -> f64 {
        match self.options.friction {
            FrictionConvention::WholeRing => numbers.friction_ring,
            FrictionConvention::Streamers => numbers.friction_streamers,
        }
    }

    /// `R c N L`, m3/s.
    pub(super) fn flow_unit(&self, duty: &SteadyDuty) -> f64 {
        self.radius_m() * self.radial_clearance_m() * self.bearing.length_m * duty.speed_rad_s / TAU
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
