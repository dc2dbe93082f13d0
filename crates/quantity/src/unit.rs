//! Units of the trade, with exact factors.

mod spelling;
mod table;

use std::fmt;
use std::hash::{Hash, Hasher};

use crate::decimal::Decimal;
use crate::{Dimension, System};

pub(crate) use spelling::{Found, is_solidus, is_space, match_unit, skip_spaces, whole_unit};

/// One unit of the table: its symbol as printed, its kind, and its exact factor to SI.
///
/// Factors come from definitions, not from rounded tables: the yard and pound agreement of 1959
/// (1 yd = 0.9144 m, 1 lb = 0.45359237 kg) and standard gravity 9.80665 m/s2 (third General
/// Conference on Weights and Measures, 1901), as set out in ISO 80000 and NIST SP 811.
#[derive(Clone, Copy, PartialEq)]
pub struct Unit {
    symbol: &'static str,
    name: &'static str,
    dimension: Dimension,
    scale: Scale,
    system: Option<System>,
    spellings: &'static [&'static str],
}

/// How a unit goes to SI: `si = (value + shift) x numerator / denominator`, times pi for the
/// units of angle. Numerator and denominator are kept both as floats and exactly.
#[derive(Clone, Copy, PartialEq)]
struct Scale {
    numerator: f64,
    denominator: f64,
    shift: f64,
    exact_numerator: Decimal,
    exact_denominator: Decimal,
    exact_shift: Decimal,
    times_pi: bool,
}

impl Unit {
    /// The unit that `spelling` names, in any of the ways a quantity may be written with it.
    ///
    /// ```
    /// use quantity::Unit;
    /// assert_eq!(Unit::find("inches"), Some(Unit::INCH));
    /// assert_eq!(Unit::find("\""), Some(Unit::INCH));
    /// assert_eq!(Unit::find("furlong"), None);
    /// ```
    pub fn find(spelling: &str) -> Option<Unit> {
        if let Some(unit) = whole_unit(spelling.trim()) {
            return Some(unit);
        }
        let text: Vec<char> = spelling.trim().chars().collect();
        match match_unit(&text, 0) {
            Some(found) if found.end == text.len() => Some(found.unit),
            _ => None,
        }
    }

    /// Every unit of the table, grouped by kind.
    pub fn all() -> &'static [Unit] {
        table::ALL
    }

    /// The unit of SI that a kind is kept in (kelvin from absolute zero is not a unit anyone
    /// writes a shop temperature in, so a temperature gives degree Celsius).
    pub fn si(dimension: Dimension) -> Unit {
        match dimension {
            Dimension::Number => Unit::NUMBER,
            Dimension::Length => Unit::METRE,
            Dimension::Area => Unit::SQUARE_METRE,
            Dimension::Volume => Unit::CUBIC_METRE,
            Dimension::Angle => Unit::RADIAN,
            Dimension::Mass => Unit::KILOGRAM,
            Dimension::Density => Unit::KILOGRAM_PER_CUBIC_METRE,
            Dimension::Force => Unit::NEWTON,
            Dimension::ForcePerLength => Unit::NEWTON_PER_METRE,
            Dimension::Pressure => Unit::PASCAL,
            Dimension::Torque => Unit::NEWTON_METRE,
            Dimension::Temperature => Unit::DEGREE_CELSIUS,
            Dimension::TemperatureDifference => Unit::KELVIN,
            Dimension::Expansion => Unit::PER_KELVIN,
            Dimension::Time => Unit::SECOND,
            Dimension::Speed => Unit::METRE_PER_SECOND,
            Dimension::AngularSpeed => Unit::RADIAN_PER_SECOND,
            Dimension::Power => Unit::WATT,
            Dimension::Energy => Unit::JOULE,
            Dimension::Viscosity => Unit::PASCAL_SECOND,
            Dimension::VolumeFlow => Unit::CUBIC_METRE_PER_SECOND,
        }
    }

    /// Symbol as printed: `mm`, `in`, `tonf/in²`; empty for a plain number.
    pub fn symbol(self) -> &'static str {
        self.symbol
    }

    /// Name in words, saying which ton or gallon it is: `ton (long ton, 2240 lb)`.
    pub fn name(self) -> &'static str {
        self.name
    }

    /// Kind of quantity the unit measures.
    pub fn dimension(self) -> Dimension {
        self.dimension
    }

    /// The system the unit belongs to; `None` when it is used with both (degree, second, rpm).
    pub fn system(self) -> Option<System> {
        self.system
    }

    /// Other spellings that are accepted for it, besides the symbol.
    pub fn spellings(self) -> &'static [&'static str] {
        self.spellings
    }

    /// SI size of one unit, without the shift of a temperature scale: 0.0254 for the inch, 5/9
    /// for the degree Fahrenheit.
    pub fn factor(self) -> f64 {
        let factor = self.scale.numerator / self.scale.denominator;
        if self.scale.times_pi { factor * std::f64::consts::PI } else { factor }
    }

    /// SI value of zero on the unit's scale: 273.15 K for degree Celsius, zero for everything
    /// that is not a temperature.
    pub fn offset(self) -> f64 {
        self.to_si(0.0)
    }

    /// SI value of `value` in this unit.
    ///
    /// ```
    /// use quantity::Unit;
    /// assert_eq!(Unit::DEGREE_FAHRENHEIT.to_si(32.0), 273.15);
    /// ```
    pub fn to_si(self, value: f64) -> f64 {
        let scaled = (value + self.scale.shift) * self.scale.numerator / self.scale.denominator;
        if self.scale.times_pi { scaled * std::f64::consts::PI } else { scaled }
    }

    /// Value in this unit of an SI value.
    pub fn from_si(self, si: f64) -> f64 {
        let turns = if self.scale.times_pi { si / std::f64::consts::PI } else { si };
        turns * self.scale.denominator / self.scale.numerator - self.scale.shift
    }

    /// SI value of a decimal, rounded once; `None` when it has too many figures for that.
    pub(crate) fn exact_to_si(self, value: Decimal) -> Option<f64> {
        self.exact_size(value.plus(self.scale.exact_shift)?)
    }

    /// SI size of a step on the unit's scale, without the shift of a temperature scale.
    pub(crate) fn exact_size(self, step: Decimal) -> Option<f64> {
        let scale = self.scale;
        let si = step.times(scale.exact_numerator)?.over(scale.exact_denominator)?.to_f64();
        Some(if scale.times_pi { si * std::f64::consts::PI } else { si })
    }
}

// no unit of the table has a factor that is not a number
impl Eq for Unit {}

// symbols are unique in the table, so equal units have equal symbols
impl Hash for Unit {
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.symbol.hash(state);
    }
}

impl fmt::Debug for Unit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Unit({})", self.name)
    }
}

impl fmt::Display for Unit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.symbol)
    }
}
