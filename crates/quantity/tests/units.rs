//! The table of units against outside tables: a public unit dictionary, the definitions, `uom`,
//! and the fixed points of the temperature scales.
#![allow(missing_docs)]

use quantity::{Dimension, Quantity, System, Unit};

/// Equal but for the rounding of the two operations that made the expected figure.
fn check(unit: Unit, expected: f64) {
    let relative = (unit.factor() / expected - 1.0).abs();
    assert!(relative < 4e-16, "{unit:?}: {:e} is not {expected:e}", unit.factor());
}

/// Energistics Unit of Measure Dictionary v1.0 (the petroleum industry's open dictionary): unit,
/// numerator and denominator of the factor to its base unit. Verified: rows read in a public copy
/// of the dictionary.
// the dictionary's own figures of pi, not ours
#[allow(clippy::approx_constant)]
#[test]
fn factors_are_those_of_the_energistics_dictionary() {
    const LBF: f64 = 4.4482216152605;
    const TONF: f64 = 9964.01641818352;
    const LBM: f64 = 0.45359237;
    const PI: f64 = 3.141592653589793;
    #[rustfmt::skip]
    let rows = [
        ("in", 0.0254, 1.0), ("mil", 2.54e-5, 1.0), ("ft", 0.3048, 1.0), ("yd", 0.9144, 1.0),
        ("mile", 1609.344, 1.0), ("cm", 0.01, 1.0), ("mm", 1e-3, 1.0), ("um", 1e-6, 1.0),
        ("nm", 1e-9, 1.0), ("km", 1e3, 1.0),
        ("in2", 6.4516e-4, 1.0), ("ft2", 0.09290304, 1.0), ("cm2", 1e-4, 1.0), ("mm2", 1e-6, 1.0),
        ("in3", 1.6387064e-5, 1.0), ("ft3", 0.028316846592, 1.0), ("L", 1e-3, 1.0),
        ("gal", 0.00454609, 1.0), ("pint", 0.00454609, 8.0), ("US gal", 0.003785411784, 1.0),
        ("deg", PI, 180.0), ("arcmin", PI, 1.08e4), ("arcsec", PI, 6.48e5),
        ("rev", 6.283185307179586, 1.0), ("mrad", 1e-3, 1.0),
        ("lb", LBM, 1.0), ("oz", LBM, 16.0), ("cwt", 50.80234544, 1.0),
        ("ton", 1016.0469088, 1.0), ("short ton", 907.18474, 1.0), ("t", 1e3, 1.0),
        ("g", 1e-3, 1.0), ("mg", 1e-6, 1.0),
        ("lb/in3", LBM, 1.6387064e-5), ("lb/ft3", LBM, 0.028316846592), ("g/cm3", 1e3, 1.0),
        ("lbf", LBF, 1.0), ("tonf", TONF, 1.0), ("short tonf", 8896.443230521, 1.0),
        ("kgf", 9.80665, 1.0), ("tf", 9.80665e3, 1.0), ("kN", 1e3, 1.0), ("MN", 1e6, 1.0),
        ("lbf/in", LBF, 0.0254), ("kN/m", 1e3, 1.0),
        ("psi", LBF, 6.4516e-4), ("ksi", LBF * 1e3, 6.4516e-4), ("bar", 1e5, 1.0),
        ("mbar", 100.0, 1.0), ("MPa", 1e6, 1.0), ("kPa", 1e3, 1.0), ("GPa", 1e9, 1.0),
        ("kgf/cm2", 9.80665e4, 1.0), ("N/mm2", 1e6, 1.0),
        ("lbf ft", 1.3558179483314004, 1.0), ("lbf in", 0.1129848290276167, 1.0),
        ("kgf m", 9.80665, 1.0), ("kN m", 1e3, 1.0),
        ("delta degF", 5.0, 9.0), ("delta degC", 1.0, 1.0), ("/degF", 9.0, 5.0), ("/degC", 1.0, 1.0),
        ("min", 60.0, 1.0), ("h", 3600.0, 1.0), ("day", 86400.0, 1.0), ("ms", 1e-3, 1.0),
        ("mph", 1609.344, 3600.0), ("km/h", 1.0, 3.6), ("ft/s", 0.3048, 1.0),
        ("ft/min", 0.3048, 60.0), ("in/s", 0.0254, 1.0), ("m/min", 1.0, 60.0), ("mm/s", 1e-3, 1.0),
        ("rpm", 6.283185307179586, 60.0), ("rev/s", 6.283185307179586, 1.0), ("deg/s", PI, 180.0),
        ("hp", 745.699_871_582_270_2, 1.0), ("metric hp", 735.49875, 1.0), ("kW", 1e3, 1.0),
        ("Btu", 1055.05585262, 1.0), ("kW h", 3.6e6, 1.0), ("kJ", 1e3, 1.0),
        ("P", 0.1, 1.0), ("cP", 1e-3, 1.0), ("mPa s", 1e-3, 1.0), ("lbf s/in2", LBF, 6.4516e-4),
        ("L/h", 1e-3, 3600.0), ("L/min", 1e-3, 60.0), ("L/s", 1e-3, 1.0),
        ("gal/min", 4.54609e-3, 60.0), ("gal/h", 4.54609e-3, 3600.0), ("cm3/min", 1e-6, 60.0),
        ("cm3/s", 1e-6, 1.0), ("m3/h", 1.0, 3600.0),
        ("ppm", 1e-6, 1.0), ("%", 0.01, 1.0), ("mm/m", 1e-3, 1.0), ("in/ft", 1.0, 12.0),
    ];
    for (spelling, numerator, denominator) in rows {
        let unit = Unit::find(spelling).unwrap_or_else(|| panic!("no unit {spelling}"));
        check(unit, numerator / denominator);
    }
}

/// Units that the dictionary lacks, from their definitions in units of the rows above.
#[test]
fn the_rest_follows_from_definitions() {
    let [ft, inch, lb, lbf, tonf] = [0.3048, 0.0254, 0.45359237, 4.4482216152605, 9964.01641818352];
    // a pound-force is a pound times standard gravity (third CGPM, 1901)
    check(Unit::POUND_FORCE, lb * 9.80665);
    check(Unit::TON_FORCE, 2240.0 * lbf);
    check(Unit::SHORT_TON_FORCE, 2000.0 * lbf);
    check(Unit::TON, 2240.0 * lb);
    check(Unit::QUARTER, 28.0 * lb);
    check(Unit::STONE, 14.0 * lb);
    check(Unit::THOU, inch / 1000.0);
    check(Unit::HUNDREDTH, 0.001 / 100.0);
    check(Unit::TON_FORCE_PER_INCH, tonf / inch);
    check(Unit::TON_FORCE_PER_SQUARE_INCH, tonf / inch / inch);
    check(Unit::TON_FORCE_INCH, tonf * inch);
    check(Unit::POUND_FORCE_FOOT, lbf * ft);
    check(Unit::HORSEPOWER, 550.0 * ft * lbf);
    check(Unit::METRIC_HORSEPOWER, 75.0 * 9.80665);
    check(Unit::MICROREYN, 1e-6 * lbf / inch / inch);
    check(Unit::US_GALLON, 231.0 * inch * inch * inch);
    check(Unit::CUBIC_INCH_PER_MINUTE, inch * inch * inch / 60.0);
    check(Unit::THOU_PER_INCH, 0.001);
    // BS 350-1: the conventional millimetre of mercury is 133.322387415 Pa (from memory)
    check(Unit::INCH_OF_MERCURY, 25.4 * 133.322387415);
}

/// NIST SP 811 (2008), Appendix B.8, seven figures; from memory.
#[test]
fn factors_round_to_those_of_sp_811() {
    for (spelling, printed) in [
        ("ton", 1.016047e3),
        ("cwt", 5.080235e1),
        ("oz", 2.834952e-2),
        ("lbf", 4.448222),
        ("psi", 6.894757e3),
        ("lbf/in", 1.751268e2),
        ("lbf ft", 1.355818),
        ("lbf in", 1.129848e-1),
        ("hp", 7.456999e2),
        ("Btu", 1.055056e3),
        ("inHg", 3.386389e3),
        ("lb/in3", 2.767990e4),
        ("lb/ft3", 1.601846e1),
        ("mph", 4.4704e-1),
        ("gal", 4.54609e-3),
    ] {
        let unit = Unit::find(spelling).unwrap_or_else(|| panic!("no unit {spelling}"));
        assert_eq!(format!("{:.6e}", unit.factor()), format!("{printed:.6e}"), "{spelling}");
    }
}

/// How near the crate `uom` 0.38 comes: it is exact for some units and keeps seven figures of
/// others, and what is built from those inherits their rounding.
const EXACT: f64 = 4e-16;
const SEVEN_FIGURES: f64 = 6e-7;

#[test]
fn units_agree_with_uom() {
    use uom::si::f64::{
        AngularVelocity, Area, DynamicViscosity, Energy, Force, Length, Mass, MassDensity, Power,
        Pressure, TemperatureInterval, Time, Torque, Velocity, Volume, VolumeRate,
    };
    use uom::si::{
        angle, angular_velocity, area, dynamic_viscosity, energy, force, length, mass,
        mass_density, power, pressure, temperature_interval, time, torque, velocity, volume,
        volume_rate,
    };
    macro_rules! rows {
        ($($unit:ident $quantity:ident $module:ident $theirs:ident $within:ident;)+) => {
            [$((Unit::$unit, $quantity::new::<$module::$theirs>(1.0).value, $within)),+]
        };
    }
    let rows = rows! {
        INCH Length length inch EXACT;
        THOU Length length mil EXACT;
        FOOT Length length foot EXACT;
        YARD Length length yard EXACT;
        MILE Length length mile EXACT;
        MICROMETRE Length length micron EXACT;
        SQUARE_INCH Area area square_inch EXACT;
        SQUARE_FOOT Area area square_foot SEVEN_FIGURES;
        CUBIC_INCH Volume volume cubic_inch SEVEN_FIGURES;
        CUBIC_FOOT Volume volume cubic_foot SEVEN_FIGURES;
        GALLON Volume volume gallon_imperial EXACT;
        US_GALLON Volume volume gallon SEVEN_FIGURES;
        LITRE Volume volume liter EXACT;
        POUND Mass mass pound SEVEN_FIGURES;
        OUNCE Mass mass ounce SEVEN_FIGURES;
        HUNDREDWEIGHT Mass mass hundredweight_long SEVEN_FIGURES;
        TON Mass mass ton_long SEVEN_FIGURES;
        SHORT_TON Mass mass ton_short SEVEN_FIGURES;
        TONNE Mass mass ton EXACT;
        POUND_PER_CUBIC_INCH MassDensity mass_density pound_per_cubic_inch SEVEN_FIGURES;
        POUND_PER_CUBIC_FOOT MassDensity mass_density pound_per_cubic_foot SEVEN_FIGURES;
        POUND_FORCE Force force pound_force SEVEN_FIGURES;
        SHORT_TON_FORCE Force force ton_force SEVEN_FIGURES;
        KILOGRAM_FORCE Force force kilogram_force EXACT;
        POUND_FORCE_PER_SQUARE_INCH Pressure pressure pound_force_per_square_inch SEVEN_FIGURES;
        BAR Pressure pressure bar EXACT;
        INCH_OF_MERCURY Pressure pressure inch_of_mercury SEVEN_FIGURES;
        POUND_FORCE_FOOT Torque torque pound_force_foot SEVEN_FIGURES;
        POUND_FORCE_INCH Torque torque pound_force_inch SEVEN_FIGURES;
        HORSEPOWER Power power horsepower SEVEN_FIGURES;
        METRIC_HORSEPOWER Power power horsepower_metric SEVEN_FIGURES;
        BRITISH_THERMAL_UNIT Energy energy btu_it SEVEN_FIGURES;
        CENTIPOISE DynamicViscosity dynamic_viscosity centipoise EXACT;
        REYN DynamicViscosity dynamic_viscosity reyn SEVEN_FIGURES;
        FAHRENHEIT_DIFFERENCE TemperatureInterval temperature_interval degree_fahrenheit EXACT;
        MINUTE Time time minute EXACT;
        HOUR Time time hour EXACT;
        MILE_PER_HOUR Velocity velocity mile_per_hour EXACT;
        KILOMETRE_PER_HOUR Velocity velocity kilometer_per_hour EXACT;
        FOOT_PER_SECOND Velocity velocity foot_per_second EXACT;
        REVOLUTION_PER_MINUTE AngularVelocity angular_velocity revolution_per_minute EXACT;
        REVOLUTION_PER_SECOND AngularVelocity angular_velocity revolution_per_second EXACT;
        LITRE_PER_SECOND VolumeRate volume_rate liter_per_second EXACT;
    };
    for (unit, theirs, within) in rows {
        let relative = (unit.factor() / theirs - 1.0).abs();
        assert!(relative <= within, "{unit:?}: {:e}, uom {theirs:e}", unit.factor());
    }
    let degree = uom::si::f64::Angle::new::<angle::degree>(1.0).value;
    assert!((Unit::DEGREE.factor() / degree - 1.0).abs() <= EXACT);
}

/// `uom` calls the tonne a ton and the American short ton-force a ton-force. Taking its word for
/// either would be a mistake of 1.6 % in a mass and 12 % in a press force.
#[test]
fn a_ton_here_is_not_the_ton_of_uom() {
    use uom::si::f64::{Force, Mass};
    let mass = Mass::new::<uom::si::mass::ton>(1.0).value;
    let force = Force::new::<uom::si::force::ton_force>(1.0).value;
    assert!((Unit::TON.factor() / mass - 1.016).abs() < 1e-4);
    assert!((Unit::TON_FORCE.factor() / force - 1.12).abs() < 1e-6);
}

/// Fixed points: ice 32 degF = 0 degC, steam 212 degF = 100 degC, -40 is the same on both, absolute
/// zero -459.67 degF = -273.15 degC (ISO 80000-5, by definition).
#[test]
fn temperatures_meet_at_the_fixed_points() {
    let (c, f) = (Unit::DEGREE_CELSIUS, Unit::DEGREE_FAHRENHEIT);
    for (fahrenheit, celsius, kelvin) in [
        (32.0, 0.0, 273.15),
        (212.0, 100.0, 373.15),
        (-40.0, -40.0, 233.15),
        (-459.67, -273.15, 0.0),
    ] {
        assert!((f.to_si(fahrenheit) - kelvin).abs() < 1e-13);
        assert!((c.to_si(celsius) - kelvin).abs() < 1e-13);
        assert!((f.from_si(kelvin) - fahrenheit).abs() < 1e-12);
        assert!((c.from_si(kelvin) - celsius).abs() < 1e-12);
    }
    // a difference has no zero of its own: 180 degF is 100 K
    assert_eq!(Unit::FAHRENHEIT_DIFFERENCE.to_si(180.0), 100.0);
    assert_eq!(Unit::KELVIN.offset(), 0.0);
    assert_eq!(Unit::DEGREE_CELSIUS.offset(), 273.15);
}

/// ASTM B23 gives alloy 1 as 433 / 700 / 825 degF, 223 / 371 / 441 degC (from memory).
#[test]
fn white_metal_temperatures_convert_as_printed_in_astm_b23() {
    for (fahrenheit, celsius) in [("433 degF", 223.0), ("700 degF", 371.0), ("825 degF", 441.0)] {
        let si = Quantity::parse(fahrenheit).expect(fahrenheit).si();
        assert_eq!(Unit::DEGREE_CELSIUS.from_si(si).round(), celsius);
    }
}

#[test]
fn every_spelling_finds_its_own_unit_and_reads_in_a_quantity() {
    for unit in Unit::all() {
        for spelling in std::iter::once(&unit.symbol()).chain(unit.spellings()) {
            if spelling.is_empty() {
                continue;
            }
            assert_eq!(Unit::find(spelling), Some(*unit), "{spelling}");
            if unit.dimension() == Dimension::Temperature {
                continue;
            }
            let text = format!("1 {spelling}");
            let quantity = Quantity::parse(&text).unwrap_or_else(|e| panic!("{e}"));
            assert_eq!(quantity.unit(), *unit, "{text}");
            let relative = (quantity.si() / unit.factor() - 1.0).abs();
            assert!(relative < 4e-16, "{text}: {:e}", quantity.si());
        }
    }
}

#[test]
fn symbols_are_unique_and_names_are_not_empty() {
    let mut symbols: Vec<_> = Unit::all().iter().map(|u| u.symbol()).collect();
    symbols.sort_unstable();
    let all = symbols.len();
    symbols.dedup();
    assert_eq!(symbols.len(), all);
    assert!(Unit::all().iter().all(|u| !u.name().is_empty()));
}

#[test]
fn to_si_and_from_si_are_inverse() {
    for unit in Unit::all() {
        for value in [0.0, 1.0, -3.0, 207.96, 1e-6, 1e6] {
            let back = unit.from_si(unit.to_si(value));
            let scale = value.abs() + unit.offset() / unit.factor();
            assert!((back - value).abs() <= 1e-15 * scale.max(1e-300) * 2.0, "{unit:?} {value}");
        }
    }
}

#[test]
fn the_si_unit_of_each_kind_has_factor_one() {
    for kind in Dimension::ALL {
        assert_eq!(Unit::si(kind).dimension(), kind);
        assert_eq!(Unit::si(kind).factor(), 1.0);
        for system in [System::Metric, System::Imperial] {
            for si in [0.0, 1.0, -1e9] {
                assert_eq!(system.unit_for(si, kind).dimension(), kind);
            }
        }
        assert!(!kind.name().is_empty());
    }
}

/// The crate's documentation lists every unit by its symbol, and no unit that is not there.
#[test]
fn the_documented_table_is_the_table() {
    let documentation = include_str!("../src/lib.rs");
    for kind in Dimension::ALL {
        let start = format!("//! | {} |", kind.name());
        let row = documentation
            .lines()
            .find(|line| line.starts_with(&start))
            .unwrap_or_else(|| panic!("no row for {kind}"));
        let cells: Vec<&str> = row.split(" | ").collect();
        let listed: Vec<&str> = cells[2].split('`').skip(1).step_by(2).collect();
        let expected: Vec<&str> = Unit::all()
            .iter()
            .filter(|u| u.dimension() == kind && !u.symbol().is_empty())
            .map(|u| u.symbol())
            .collect();
        assert_eq!(listed, expected, "{kind}");
    }
}
