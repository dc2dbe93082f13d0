//! Errors of the formulas as a person reads them: every figure in both systems.

use mechanics::balance::BalanceError;
use mechanics::loads::LoadError;
use mechanics::motion::{BoundError, MotionError};
use quantity::{Dimension, print_both};

/// A figure in both systems, by the unit the formulas name; without one, or with one that is the
/// same in both, as it is.
fn both(value: f64, unit: &str) -> String {
    let dimension = match unit {
        "m" => Dimension::Length,
        "N" => Dimension::Force,
        "Pa" => Dimension::Pressure,
        "kg" => Dimension::Mass,
        "m/s" => Dimension::Speed,
        "rad" => Dimension::Angle,
        "rad/s" => Dimension::AngularSpeed,
        "N·m" => Dimension::Torque,
        "" => return format!("{value}"),
        other => return format!("{value} {other}"),
    };
    if !value.is_finite() {
        return format!("{value}");
    }
    print_both(value, dimension, Some(value.abs() / 2e3).filter(|u| *u > 0.0))
}

/// A size or other input out of range.
pub fn bound_words(e: &BoundError) -> String {
    match e {
        BoundError::Outside { what, value, low, high, unit } => format!(
            "{what} {} is outside {} to {}; check the unit of the entry",
            both(*value, unit),
            both(*low, unit),
            both(*high, unit)
        ),
        other => other.to_string(),
    }
}

/// An error of the motion.
pub fn motion_words(e: &MotionError) -> String {
    match e {
        MotionError::Bound(b) => bound_words(b),
        MotionError::RodTooShort { reach_m, limit_m } => format!(
            "the crank cannot turn: throw plus offset {} is above {}, which is 0.95 of the rod centres; check the sizes and their units",
            both(*reach_m, "m"),
            both(*limit_m, "m")
        ),
        MotionError::OutsideStroke { position_m, back_m, front_m } => format!(
            "crosshead position {} is outside its stroke, {} to {}",
            both(*position_m, "m"),
            both(*back_m, "m"),
            both(*front_m, "m")
        ),
        MotionError::NotSettled { what, iterations, residual_m } => format!(
            "{what} did not settle in {iterations} steps; {} was left over",
            both(*residual_m, "m")
        ),
        other => other.to_string(),
    }
}

/// An error of the loads.
pub fn load_words(e: &LoadError) -> String {
    match e {
        LoadError::Bound(b) => bound_words(b),
        LoadError::Motion(m) => motion_words(m),
        LoadError::DiagramOpen { first_pa, last_pa, limit_pa } => format!(
            "the diagram does not close: it begins at {} and ends at {}, further apart than {}",
            both(*first_pa, "Pa"),
            both(*last_pa, "Pa"),
            both(*limit_pa, "Pa")
        ),
        LoadError::NotBelow { what, value, other, limit, unit } => {
            format!("{what} {} is not below {other} {}", both(*value, unit), both(*limit, unit))
        }
        LoadError::Buckles { thrust_n, buckling_n } => format!(
            "thrust {} reaches the buckling load {}",
            both(*thrust_n, "N"),
            both(*buckling_n, "N")
        ),
        LoadError::NotSettled { what, iterations, residual, unit } => format!(
            "{what} did not settle in {iterations} steps; {} was left over",
            both(*residual, unit)
        ),
        other => other.to_string(),
    }
}

/// An error of the balance.
pub(super) fn balance_words(e: &BalanceError) -> String {
    match e {
        BalanceError::Bound(b) => bound_words(b),
        BalanceError::Motion(m) => motion_words(m),
        BalanceError::Planes { left_m, right_m, least_m } => format!(
            "the left plane at {} must lie at least {} left of the right one at {}",
            both(*left_m, "m"),
            both(*least_m, "m"),
            both(*right_m, "m")
        ),
        other => other.to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_stand_in_both_systems() {
        let e = MotionError::RodTooShort { reach_m: 0.762, limit_m: 0.508 };
        let words = motion_words(&e);
        assert!(words.contains("762.0 mm (30.00 in)"), "{words}");
        let e = BoundError::Outside { what: "throw", value: 9.0, low: 0.01, high: 3.0, unit: "m" };
        assert!(!bound_words(&e).contains(" m "), "{}", bound_words(&e));
        let e = BoundError::NotFinite { what: "throw", value: f64::NAN, unit: "m" };
        assert!(bound_words(&e).contains("NaN"));
    }
}
