//! Finding where a falling function crosses zero, when each look costs a film.
//!
//! Steps outward from a guess until the sign changes, then closes in by regula falsi with
//! Illinois' halving (Dowell & Jarratt, BIT 11 (1971) 168-174, from memory), which keeps the
//! crossing between two points at all times.

use super::error::BearingError;
use super::film::Convergence;

/// Where to look and when to stop.
#[derive(Debug, Clone, Copy)]
pub(super) struct Search {
    pub(super) what: &'static str,
    pub(super) guess: f64,
    pub(super) first_step: f64,
    pub(super) low: f64,
    pub(super) high: f64,
    /// Largest value of the function taken for zero.
    pub(super) tolerance: f64,
    pub(super) most_looks: usize,
}

/// How a search ended.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Crossing {
    /// Found: place, and how it settled.
    At(f64, Convergence),
    /// Positive even at the high end.
    Above,
    /// Negative even at the low end.
    Below,
}

/// Looks for the zero of a falling function.
pub(super) fn find_crossing(
    search: &Search,
    mut look: impl FnMut(f64) -> Result<f64, BearingError>,
) -> Result<Crossing, BearingError> {
    let mut looks = 0;
    let mut residual = f64::INFINITY;
    let mut ask = |x: f64, looks: &mut usize, residual: &mut f64| {
        if *looks >= search.most_looks {
            let convergence = Convergence { passes: *looks, residual: *residual, unknowns: 1 };
            return Err(BearingError::NotConverged { what: search.what, convergence });
        }
        *looks += 1;
        let value = look(x)?;
        if value.is_nan() {
            let convergence = Convergence { passes: *looks, residual: f64::NAN, unknowns: 1 };
            return Err(BearingError::NotConverged { what: search.what, convergence });
        }
        *residual = residual.min(value.abs());
        Ok(value)
    };
    let found = |x: f64, looks: usize, value: f64| {
        Crossing::At(x, Convergence { passes: looks, residual: value.abs(), unknowns: 1 })
    };

    let mut here = search.guess.clamp(search.low, search.high);
    let mut value = ask(here, &mut looks, &mut residual)?;
    let mut step = search.first_step;
    // Step towards the crossing: up while positive, down while negative.
    let (mut left, mut right) = loop {
        if value.abs() <= search.tolerance {
            return Ok(found(here, looks, value));
        }
        let next = if value > 0.0 {
            (here + step).min(search.high)
        } else {
            (here - step).max(search.low)
        };
        if next == here {
            return Ok(if value > 0.0 { Crossing::Above } else { Crossing::Below });
        }
        let next_value = ask(next, &mut looks, &mut residual)?;
        if (next_value > 0.0) != (value > 0.0) {
            let (a, b) = ((here, value), (next, next_value));
            break if value > 0.0 { (a, b) } else { (b, a) };
        }
        (here, value) = (next, next_value);
        step *= 2.0;
    };
    // `true` when the last look replaced the left end: twice in a row and the far end's value is
    // halved, so that it moves too.
    let mut last_left = None;
    loop {
        let mut x = (left.0 * right.1 - right.0 * left.1) / (right.1 - left.1);
        if !(left.0.min(right.0) < x && x < left.0.max(right.0)) {
            // Also when one value is infinite.
            x = 0.5 * (left.0 + right.0);
        }
        if x == left.0 || x == right.0 {
            // The bracket is as narrow as the numbers allow: the function jumps here.
            let convergence = Convergence { passes: looks, residual, unknowns: 1 };
            return Err(BearingError::NotConverged { what: search.what, convergence });
        }
        let value = ask(x, &mut looks, &mut residual)?;
        if value.abs() <= search.tolerance {
            return Ok(found(x, looks, value));
        }
        if value > 0.0 {
            left = (x, value);
            if last_left == Some(true) {
                right.1 *= 0.5;
            }
        } else {
            right = (x, value);
            if last_left == Some(false) {
                left.1 *= 0.5;
            }
        }
        last_left = Some(value > 0.0);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn search(guess: f64) -> Search {
        Search {
            what: "a test",
            guess,
            first_step: 0.1,
            low: -5.0,
            high: 5.0,
            tolerance: 1e-12,
            most_looks: 60,
        }
    }

    #[test]
    fn crossing_of_a_cubic_is_found_from_either_side() {
        for guess in [-4.0, 0.0, 4.9] {
            // 2 - x^3 crosses at the cube root of two.
            match find_crossing(&search(guess), |x| Ok(2.0 - x * x * x)) {
                Ok(Crossing::At(x, _)) => assert!((x - 2.0_f64.cbrt()).abs() < 1e-12),
                other => panic!("{other:?}"),
            }
        }
    }

    #[test]
    fn no_crossing_is_said_so() {
        assert_eq!(find_crossing(&search(0.0), |x| Ok(10.0 - x)), Ok(Crossing::Above));
        assert_eq!(find_crossing(&search(0.0), |x| Ok(-10.0 - x)), Ok(Crossing::Below));
        assert!(find_crossing(&search(0.0), |_| Ok(f64::NAN)).is_err());
        // A jump has no zero.
        let jump = find_crossing(&search(0.0), |x| Ok(if x < 1.0 { 1.0 } else { -1.0 }));
        assert!(jump.is_err());
    }

    #[test]
    fn infinite_values_do_not_stop_the_search() {
        let look = |x: f64| Ok(if x > 3.0 { f64::NEG_INFINITY } else { 2.5 - x });
        match find_crossing(&search(-1.0), look) {
            Ok(Crossing::At(x, _)) => assert!((x - 2.5).abs() < 1e-12),
            other => panic!("{other:?}"),
        }
    }
}
