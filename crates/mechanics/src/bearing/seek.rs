//! Seeking the place of a journal in its brass.
//!
//! On a full ring one unknown is sought, the eccentricity. On a brass of limited arc the attitude
//! is sought with it: both at once by Broyden's method, which takes the fewest films, or, where
//! that gives up, the attitude anew for each eccentricity.

use super::closed_form::dubois_ocvirk_1953;
use super::error::BearingError;
use super::film::{Arc, Convergence, FilmNumbers, FilmProblem};
use super::journal::{Journal, from_logit, logit};
use super::pair::{PairSearch, find_pair};
use super::root::{Crossing, Search, find_crossing};

/// How nearly the load must point where it is asked to, rad.
const DIRECTION_TOLERANCE_RAD: f64 = 1e-7;
/// The attitudes that are looked at, rad: from a little behind the load to a little past
/// opposite it.
const LEAST_ATTITUDE_RAD: f64 = -1.7;
const MOST_ATTITUDE_RAD: f64 = 3.2;
/// Most films of the search for both at once, before the slower way is tried.
const MOST_PAIR_FILMS: usize = 40;
/// Quick steps before the attitude is fenced in.
const MOST_SECANTS: usize = 12;

/// What a search found.
#[derive(Debug, Clone, Copy)]
pub(super) enum Sought {
    /// The film, and how the search settled.
    At(FilmNumbers, Convergence),
    /// Nothing between the least and the greatest eccentricity: the last film looked at and the
    /// Sommerfeld numbers that were seen.
    Nowhere { last: FilmNumbers, seen_low: f64, seen_high: f64 },
}

impl Journal {
    /// Seeks the film for which `measure`, which falls as the journal nears its brass, is zero.
    pub(super) fn seek(
        &mut self,
        what: &'static str,
        guess: f64,
        mut measure: impl FnMut(&FilmNumbers) -> Result<f64, BearingError>,
    ) -> Result<Sought, BearingError> {
        self.films = 0;
        let (low, high) = self.limits();
        let guess = logit(self.last_eccentricity.take().unwrap_or(guess)).clamp(low, high);
        if let Arc::Brass { load_from_start_rad, .. } = self.bearing.arc {
            let search = PairSearch {
                guess: [guess, self.likely_attitude(from_logit(guess))],
                low: [low, LEAST_ATTITUDE_RAD],
                high: [high, MOST_ATTITUDE_RAD],
                stride: [0.7, 0.3],
                tolerance: [self.options.tolerance, DIRECTION_TOLERANCE_RAD],
                most_looks: MOST_PAIR_FILMS,
            };
            let mut last = None;
            let found = find_pair(&search, |[x, attitude]| {
                let mut problem = self.problem(from_logit(x));
                problem.thinnest_from_start_rad = load_from_start_rad + attitude;
                let numbers = self.film(&problem)?;
                last = Some(numbers);
                Ok([measure(&numbers)?, numbers.attitude_rad - attitude])
            });
            if let (Some(([_, attitude], convergence)), Some(numbers)) = (found, last) {
                self.last_eccentricity = Some(numbers.eccentricity_ratio);
                self.last_attitude_rad = Some(attitude);
                return Ok(Sought::At(numbers, convergence));
            }
            self.last_attitude_rad = None;
        }
        let search = Search {
            what,
            guess,
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
            measure(&numbers)
        })?;
        let Some(last) = last else {
            let convergence = Convergence { passes: 0, residual: f64::NAN, unknowns: 1 };
            return Err(BearingError::NotConverged { what, convergence });
        };
        Ok(match crossing {
            Crossing::At(_, convergence) => {
                self.last_eccentricity = Some(last.eccentricity_ratio);
                Sought::At(last, Convergence { passes: self.films, ..convergence })
            }
            Crossing::Above | Crossing::Below => Sought::Nowhere { last, seen_low, seen_high },
        })
    }

    fn problem(&self, eccentricity_ratio: f64) -> FilmProblem {
        FilmProblem {
            length_over_diameter: self.length_over_diameter(),
            eccentricity_ratio,
            tilt_ratio: self.tilt_ratio,
            arc: self.bearing.arc,
            thinnest_from_start_rad: 0.0,
        }
    }

    fn film(&mut self, problem: &FilmProblem) -> Result<FilmNumbers, BearingError> {
        self.films += 1;
        self.solver.numbers(problem)
    }

    /// The last attitude, or the short bearing's.
    fn likely_attitude(&self, eccentricity_ratio: f64) -> f64 {
        let short = || dubois_ocvirk_1953(eccentricity_ratio, self.length_over_diameter());
        self.last_attitude_rad.or_else(|| short().ok().map(|form| form.attitude_rad)).unwrap_or(0.8)
    }

    /// The film at one eccentricity, with the load pointing where it does.
    fn film_at(&mut self, eccentricity_ratio: f64) -> Result<FilmNumbers, BearingError> {
        let mut problem = self.problem(eccentricity_ratio);
        let Arc::Brass { load_from_start_rad, .. } = self.bearing.arc else {
            return self.film(&problem);
        };
        // The attitude hardly changes as the journal swings round, so a few secants from slope
        // one mostly find the place that turns the force into line.
        let mut attitude = self.likely_attitude(eccentricity_ratio);
        self.last_attitude_rad = None;
        let mut earlier: Option<(f64, f64)> = None;
        for _ in 0..MOST_SECANTS {
            problem.thinnest_from_start_rad = load_from_start_rad + attitude;
            let numbers = match self.film(&problem) {
                Err(BearingError::NoFilm { .. }) => break,
                other => other?,
            };
            let miss = attitude - numbers.attitude_rad;
            if miss.abs() <= DIRECTION_TOLERANCE_RAD {
                self.last_attitude_rad = Some(attitude);
                return Ok(numbers);
            }
            let slope = match earlier {
                Some((at, missed)) if attitude != at => (miss - missed) / (attitude - at),
                _ => 1.0,
            };
            earlier = Some((attitude, miss));
            if !(0.05..20.0).contains(&slope) {
                break;
            }
            attitude = (attitude - miss / slope).clamp(LEAST_ATTITUDE_RAD, MOST_ATTITUDE_RAD);
        }
        // Otherwise the crossing is fenced in.
        let search = Search {
            what: "the attitude of the journal",
            guess: attitude.clamp(0.0, 1.5),
            first_step: 0.1,
            low: LEAST_ATTITUDE_RAD,
            high: MOST_ATTITUDE_RAD,
            tolerance: DIRECTION_TOLERANCE_RAD,
            most_looks: self.options.most_films,
        };
        let mut last = None;
        let crossing = find_crossing(&search, |attitude| {
            problem.thinnest_from_start_rad = load_from_start_rad + attitude;
            let numbers = match self.film(&problem) {
                // The thinnest place lies before the brass: it must go on round.
                Err(BearingError::NoFilm { .. }) => return Ok(1.0),
                other => other?,
            };
            last = Some(numbers);
            Ok(numbers.attitude_rad - attitude)
        })?;
        match (crossing, last) {
            (Crossing::At(attitude, _), Some(numbers)) => {
                self.last_attitude_rad = Some(attitude);
                Ok(numbers)
            }
            _ => Err(BearingError::NoBalance { eccentricity_ratio }),
        }
    }
}
