//! Printing values with no more figures than their uncertainty supports.

mod figures;
mod house;

use crate::{Dimension, Unit};
use figures::{Figures, Zeros, pair, place_of_figures};

/// The two systems a person chooses tools from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum System {
    /// Millimetres, newtons, megapascals.
    Metric,
    /// Inches, pounds-force, pounds per square inch; tons are long tons.
    Imperial,
}

impl System {
    /// The other of the two.
    pub fn other(self) -> System {
        match self {
            System::Metric => System::Imperial,
            System::Imperial => System::Metric,
        }
    }

    /// The unit that a value of this kind and size is printed in.
    pub fn unit_for(self, si: f64, dimension: Dimension) -> Unit {
        house::unit_for(self, si, dimension)
    }
}

/// What is printed for a value that is not finite, or whose uncertainty is not.
const NO_VALUE: &str = "no value";

/// Prints an SI value in the house unit of its kind: `207.96 mm`, `8.1874 in`.
///
/// With a standard uncertainty, the last figure printed stands in the place of the uncertainty's
/// first figure, so that rounding adds at most half of it and no figure claims more than is known
/// (compare JCGM 100:2008, 7.2.6). Without one (or with 0), five figures, or to 0.01 mm or
/// 0.0001 in if that is more, and no trailing zeros. A value or uncertainty that is not finite
/// gives `no value`.
pub fn print(
    si: f64,
    dimension: Dimension,
    system: System,
    standard_uncertainty: Option<f64>,
) -> String {
    print_in(si, house::unit_for(system, si, dimension), standard_uncertainty)
}

/// Prints an SI value in a unit; figures as in [`print()`].
pub fn print_in(si: f64, unit: Unit, standard_uncertainty: Option<f64>) -> String {
    match figures_in(si, unit, standard_uncertainty) {
        Some(figures) => with_unit(&figures.to_string(), unit),
        None => NO_VALUE.to_owned(),
    }
}

/// Prints an SI value with its expanded uncertainty: `207.960 ± 0.012 mm`.
///
/// Two figures of the uncertainty, and the value to the same place (JCGM 100:2008, 7.2.6). The
/// uncertainty rounds to nearest, so it may print up to 5 % below what was computed.
pub fn print_with_uncertainty(
    si: f64,
    dimension: Dimension,
    system: System,
    expanded_uncertainty: f64,
) -> String {
    print_with_uncertainty_in(si, house::unit_for(system, si, dimension), expanded_uncertainty)
}

/// Prints an SI value with its expanded uncertainty in a unit; as [`print_with_uncertainty`].
pub fn print_with_uncertainty_in(si: f64, unit: Unit, expanded_uncertainty: f64) -> String {
    let (value, wide) = (unit.from_si(si), (expanded_uncertainty / unit.factor()).abs());
    if !value.is_finite() || !wide.is_finite() {
        return NO_VALUE.to_owned();
    }
    if wide == 0.0 {
        return with_unit(&format!("{} ± 0", without_uncertainty(value, unit)), unit);
    }
    with_unit(&pair(value, wide, place_of_figures(wide, 2)), unit)
}

/// Prints in both systems, metric first: `207.96 mm (8.1874 in)`.
pub fn print_both(si: f64, dimension: Dimension, standard_uncertainty: Option<f64>) -> String {
    print_both_from(System::Metric, si, dimension, standard_uncertainty)
}

/// Prints in both systems, the given one first: `8.1874 in (207.96 mm)`. What is the same in both
/// (an angle, a time) is printed once.
pub fn print_both_from(
    first: System,
    si: f64,
    dimension: Dimension,
    standard_uncertainty: Option<f64>,
) -> String {
    let one = print(si, dimension, first, standard_uncertainty);
    let other = print(si, dimension, first.other(), standard_uncertainty);
    if one == other { one } else { format!("{one} ({other})") }
}

/// Prints a difference of two lengths with its sign: `+3.1 thou`, `-0.08 mm`; `0 mm` without.
///
/// Figures as in [`print()`] with an uncertainty; without one to 0.001 mm or 0.1 thou.
pub fn print_difference(si: f64, system: System, standard_uncertainty: Option<f64>) -> String {
    let (unit, place) = match system {
        System::Metric => (Unit::MILLIMETRE, -3),
        System::Imperial => (Unit::THOU, -1),
    };
    let known = standard_uncertainty.is_some_and(|u| u != 0.0);
    let figures = if known {
        figures_in(si, unit, standard_uncertainty)
    } else {
        let value = unit.from_si(si);
        value.is_finite().then(|| Figures::new(value, place, Zeros::Drop))
    };
    let Some(figures) = figures else { return NO_VALUE.to_owned() };
    let text = figures.to_string();
    let nothing = !text.contains(|c: char| ('1'..='9').contains(&c));
    let sign = if nothing || text.starts_with('-') { "" } else { "+" };
    with_unit(&format!("{sign}{text}"), unit)
}

/// The figures of a value in a unit, or `None` when value or uncertainty is not finite.
fn figures_in(si: f64, unit: Unit, standard_uncertainty: Option<f64>) -> Option<Figures> {
    let value = unit.from_si(si);
    let u = standard_uncertainty.map_or(0.0, |u| (u / unit.factor()).abs());
    if !value.is_finite() || !u.is_finite() {
        return None;
    }
    if u > 0.0 {
        return Some(Figures::new(value, place_of_figures(u, 1), Zeros::Keep));
    }
    Some(without_uncertainty(value, unit))
}

fn without_uncertainty(value: f64, unit: Unit) -> Figures {
    let place = place_of_figures(value.abs(), 5).min(house::coarsest_place(unit));
    Figures::new(value, place, Zeros::Drop)
}

fn with_unit(figures: &str, unit: Unit) -> String {
    match unit.symbol() {
        "" => figures.to_owned(),
        symbol @ "%" | symbol @ "°" => format!("{figures}{symbol}"),
        symbol => format!("{figures} {symbol}"),
    }
}
