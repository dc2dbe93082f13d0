//! Which unit the house prints a quantity in.

use super::System;
use crate::{Dimension, Unit};

/// The unit for a value of a kind: one unit a kind, except where a person changes unit with size
/// (newtons to kilonewtons, pounds to tons).
pub(super) fn unit_for(system: System, si: f64, dimension: Dimension) -> Unit {
    let (metric, imperial) = match dimension {
        Dimension::Number => (Unit::NUMBER, Unit::NUMBER),
        Dimension::Length => (Unit::MILLIMETRE, Unit::INCH),
        Dimension::Area => (Unit::SQUARE_MILLIMETRE, Unit::SQUARE_INCH),
        Dimension::Volume => (Unit::CUBIC_CENTIMETRE, Unit::CUBIC_INCH),
        Dimension::Angle => (Unit::DEGREE, Unit::DEGREE),
        Dimension::Mass => {
            (by_size(si, Unit::KILOGRAM, Unit::TONNE), by_size(si, Unit::POUND, Unit::TON))
        }
        Dimension::Density => (Unit::KILOGRAM_PER_CUBIC_METRE, Unit::POUND_PER_CUBIC_INCH),
        Dimension::Force => (
            by_size(si, Unit::NEWTON, Unit::KILONEWTON),
            by_size(si, Unit::POUND_FORCE, Unit::TON_FORCE),
        ),
        Dimension::ForcePerLength => (
            Unit::NEWTON_PER_MILLIMETRE,
            by_size(si, Unit::POUND_FORCE_PER_INCH, Unit::TON_FORCE_PER_INCH),
        ),
        Dimension::Pressure => (Unit::MEGAPASCAL, Unit::POUND_FORCE_PER_SQUARE_INCH),
        Dimension::Torque => (Unit::NEWTON_METRE, Unit::POUND_FORCE_FOOT),
        Dimension::Temperature => (Unit::DEGREE_CELSIUS, Unit::DEGREE_FAHRENHEIT),
        Dimension::TemperatureDifference => (Unit::KELVIN, Unit::FAHRENHEIT_DIFFERENCE),
        Dimension::Expansion => (Unit::PER_KELVIN, Unit::PER_FAHRENHEIT),
        Dimension::Time => (Unit::SECOND, Unit::SECOND),
        Dimension::Speed => (Unit::METRE_PER_SECOND, Unit::FOOT_PER_SECOND),
        Dimension::AngularSpeed => (Unit::REVOLUTION_PER_MINUTE, Unit::REVOLUTION_PER_MINUTE),
        Dimension::Power => (by_size(si, Unit::WATT, Unit::KILOWATT), Unit::HORSEPOWER),
        Dimension::Energy => {
            (by_size(si, Unit::JOULE, Unit::KILOJOULE), Unit::BRITISH_THERMAL_UNIT)
        }
        Dimension::Viscosity => (Unit::MILLIPASCAL_SECOND, Unit::MICROREYN),
        Dimension::VolumeFlow => (Unit::LITRE_PER_MINUTE, Unit::GALLON_PER_MINUTE),
    };
    match system {
        System::Metric => metric,
        System::Imperial => imperial,
    }
}

/// Place of the last figure that is printed at least, when no uncertainty is known: whole numbers
/// are never rounded, lengths always show what a micrometer reads.
pub(super) fn coarsest_place(unit: Unit) -> i32 {
    match unit {
        Unit::MILLIMETRE => -2,
        Unit::INCH => -4,
        _ => 0,
    }
}

/// The larger unit from one of it upwards.
fn by_size(si: f64, small: Unit, large: Unit) -> Unit {
    if si.abs() >= large.factor() { large } else { small }
}
