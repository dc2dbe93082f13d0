//! What people write, and what is printed.
#![allow(missing_docs)]

use proptest::prelude::*;
use quantity::{
    Dimension, ParseError, ParseErrorKind as Kind, Quantity, System, Taper, Unit, nearest_fraction,
    print, print_both, print_difference, print_in, print_with_uncertainty,
};

fn read(text: &str) -> Quantity {
    Quantity::parse(text).unwrap_or_else(|e| panic!("{e}\n{}", e.caret()))
}

fn refused(text: &str) -> ParseError {
    match Quantity::parse(text) {
        Ok(q) => panic!("{text} was read as {} {}", q.si(), q.dimension().si_symbol()),
        Err(e) => e,
    }
}

/// Expected values are exact decimals reckoned by hand from 1 in = 25.4 mm and the like, so they
/// have to agree to the bit.
#[test]
fn lengths_as_the_trade_writes_them() {
    for (text, metres, resolution) in [
        ("8 3/16\"", 0.2079625, 0.0015875),
        ("8 3/16 in", 0.2079625, 0.0015875),
        ("8-3/16 in", 0.2079625, 0.0015875),
        ("8–3/16 in", 0.2079625, 0.0015875),
        ("8 3/16", 0.2079625, 0.0015875),
        ("8\u{a0}3/16\u{a0}in", 0.2079625, 0.0015875),
        ("8 3⁄16″", 0.2079625, 0.0015875),
        ("8.1875 in", 0.2079625, 0.00000254),
        ("8 3/16 ins", 0.2079625, 0.0015875),
        ("8 3/16 INCHES", 0.2079625, 0.0015875),
        ("8 in.", 0.2032, 0.0254),
        ("8¾ in", 0.22225, 0.00635),
        ("8 ½\"", 0.2159, 0.0127),
        ("½ in", 0.0127, 0.0127),
        ("⅛in", 0.003175, 0.003175),
        ("1/64 in", 0.000396875, 0.000396875),
        ("19/16 in", 0.03016250, 0.0015875),
        ("+3 thou", 0.0000762, 0.0000254),
        ("-3 thou", -0.0000762, 0.0000254),
        ("−3 thou", -0.0000762, 0.0000254),
        ("3 mil", 0.0000762, 0.0000254),
        ("3 mils", 0.0000762, 0.0000254),
        ("3 th", 0.0000762, 0.0000254),
        ("2 1/2 thou", 0.0000635, 0.0000127),
        ("0.0015\"", 0.0000381, 0.00000254),
        (".0015''", 0.0000381, 0.00000254),
        ("3 hundredths", 0.00003, 0.00001),
        ("207.96 mm", 0.20796, 0.00001),
        ("207.96mm", 0.20796, 0.00001),
        ("  207.96 mm\t", 0.20796, 0.00001),
        ("20.796 cm", 0.20796, 0.00001),
        ("0.2 m", 0.2, 0.1),
        ("1e-5 m", 0.00001, 0.00001),
        ("1.5E-2 mm", 0.000015, 0.000001),
        ("12 µm", 0.000012, 0.000001),
        ("12 \u{3bc}m", 0.000012, 0.000001),
        ("12 um", 0.000012, 0.000001),
        ("12 microns", 0.000012, 0.000001),
        ("1' 7 1/2\"", 0.4953, 0.0127),
        ("1′ 7½″", 0.4953, 0.0127),
        ("1'7.5\"", 0.4953, 0.00254),
        ("4 ft 8 1/2 in", 1.4351, 0.0127),
        ("4ft 8½in", 1.4351, 0.0127),
        ("4'-8 1/2\"", 1.4351, 0.0127),
        ("4 ft. 8 in.", 1.4224, 0.0254),
        ("-4 ft 8 1/2 in", -1.4351, 0.0127),
        ("1 yd 1 ft 1 in", 1.2446, 0.0254),
        ("8 3/16 in + 3 thou", 0.2080387, 0.0000254),
        ("8 3/16\" -1.5 thou", 0.2079244, 0.00000254),
        ("-8 in - 3 thou", -0.2032762, 0.0000254),
        ("208 mm - 4 hundredths", 0.20796, 0.00001),
        ("-0 mm", 0.0, 0.001),
    ] {
        let q = read(text);
        assert_eq!(q.si(), metres, "{text}");
        assert_eq!(q.resolution_si(), resolution, "{text}");
        assert_eq!(q.dimension(), Dimension::Length, "{text}");
        assert_eq!(q.text(), text);
        assert!(q.si() != 0.0 || q.si().is_sign_positive());
    }
}

#[test]
fn magnitude_and_unit_are_as_written() {
    for (text, magnitude, unit) in [
        ("8 3/16\"", 8.1875, Unit::INCH),
        ("4 ft 8 1/2 in", 56.5, Unit::INCH),
        ("-3 thou", -3.0, Unit::THOU),
        ("12 ton 5 cwt 2 qr", 982.0, Unit::QUARTER),
        ("8 3/16 in + 3 thou", 8.1905, Unit::INCH),
        ("5 degC", 5.0, Unit::DEGREE_CELSIUS),
    ] {
        assert_eq!((read(text).magnitude(), read(text).unit()), (magnitude, unit), "{text}");
    }
}

/// Expected values from the definitions of the units; within two roundings.
#[test]
fn other_kinds_as_the_trade_writes_them() {
    use Dimension::*;
    let (pi, lbf, tonf) = (std::f64::consts::PI, 4.4482216152605, 9964.01641818352);
    for (text, kind, si) in [
        ("12 ton", Mass, 12.0 * 1016.0469088),
        ("12 tons", Mass, 12.0 * 1016.0469088),
        ("12 long ton", Mass, 12.0 * 1016.0469088),
        ("12 t", Mass, 12_000.0),
        ("12 tonnes", Mass, 12_000.0),
        ("12 short ton", Mass, 12.0 * 907.18474),
        ("12 ton 5 cwt 2 qr", Mass, 27_496.0 * 0.45359237),
        ("3 cwt", Mass, 336.0 * 0.45359237),
        ("2 qr 14 lb", Mass, 70.0 * 0.45359237),
        ("160 lbs", Mass, 160.0 * 0.45359237),
        ("12 oz", Mass, 0.75 * 0.45359237),
        ("75 kg", Mass, 75.0),
        ("7.85 g/cm3", Density, 7850.0),
        ("0.28 lb/in³", Density, 0.28 * 0.45359237 / 0.000016387064),
        ("12 tonf", Force, 12.0 * tonf),
        ("500 lbf", Force, 500.0 * lbf),
        ("2.5 kN", Force, 2500.0),
        ("50 kgf", Force, 490.3325),
        ("0.5 tonf/in", ForcePerLength, 0.5 * tonf / 0.0254),
        ("0.5 tons per inch", ForcePerLength, 0.5 * tonf / 0.0254),
        ("160 psi", Pressure, 160.0 * lbf / 0.00064516),
        ("160 PSI", Pressure, 160.0 * lbf / 0.00064516),
        ("160 lb/sq in", Pressure, 160.0 * lbf / 0.00064516),
        ("160 lb per sq. in.", Pressure, 160.0 * lbf / 0.00064516),
        ("28 tonf/in2", Pressure, 28.0 * tonf / 0.00064516),
        ("28 tons/in²", Pressure, 28.0 * tonf / 0.00064516),
        ("28 tonf / in^2", Pressure, 28.0 * tonf / 0.00064516),
        ("11 bar", Pressure, 1.1e6),
        ("210 GPa", Pressure, 2.1e11),
        ("250 N/mm2", Pressure, 2.5e8),
        ("40 lbf ft", Torque, 40.0 * lbf * 0.3048),
        ("40 lbf·ft", Torque, 40.0 * lbf * 0.3048),
        ("40 ft lbf", Torque, 40.0 * lbf * 0.3048),
        ("40 ft-lb", Torque, 40.0 * lbf * 0.3048),
        ("40 lbf in", Torque, 40.0 * lbf * 0.0254),
        ("40 N m", Torque, 40.0),
        ("40 Nm", Torque, 40.0),
        ("5 degC", Temperature, 278.15),
        ("5°C", Temperature, 278.15),
        ("5 ° C", Temperature, 278.15),
        ("42 degF", Temperature, (42.0 + 459.67) * 5.0 / 9.0),
        ("-10 degC", Temperature, 263.15),
        ("12 K", TemperatureDifference, 12.0),
        ("12 delta degC", TemperatureDifference, 12.0),
        ("18 delta degF", TemperatureDifference, 10.0),
        ("18 Δ°F", TemperatureDifference, 10.0),
        ("11.5e-6 /K", Expansion, 11.5e-6),
        ("11.5e-6 /degC", Expansion, 11.5e-6),
        ("11.5 x 10^-6 /K", Expansion, 11.5e-6),
        ("11.5×10⁻⁶ per K", Expansion, 11.5e-6),
        ("11.5 ppm/K", Expansion, 11.5e-6),
        ("6.4e-6 /degF", Expansion, 6.4e-6 * 1.8),
        ("30 deg", Angle, pi / 6.0),
        ("30°", Angle, pi / 6.0),
        ("1 deg 30 min", Angle, pi / 120.0),
        ("1° 30′", Angle, pi / 120.0),
        ("5 min of arc", Angle, pi / 2160.0),
        ("0.5 rad", Angle, 0.5),
        ("60 mph", Speed, 26.8224),
        ("90 km/h", Speed, 25.0),
        ("10 ft/s", Speed, 3.048),
        ("240 rpm", AngularSpeed, 8.0 * pi),
        ("4 rev/s", AngularSpeed, 8.0 * pi),
        ("25 rad/s", AngularSpeed, 25.0),
        ("10 hp", Power, 5500.0 * lbf * 0.3048),
        ("7.5 kW", Power, 7500.0),
        ("30 cP", Viscosity, 0.03),
        ("0.03 Pa s", Viscosity, 0.03),
        ("4 µreyn", Viscosity, 4e-6 * lbf / 0.00064516),
        ("2 litre/h", VolumeFlow, 0.002 / 3600.0),
        ("30 in3", Volume, 30.0 * 0.000016387064),
        ("30 cu. in.", Volume, 30.0 * 0.000016387064),
        ("2 litres", Volume, 0.002),
        ("12 sq in", Area, 12.0 * 0.00064516),
        ("90 s", Time, 90.0),
        ("1 h 30 min", Time, 5400.0),
        ("1 thou/in", Number, 0.001),
        ("15 %", Number, 0.15),
    ] {
        let q = read(text);
        assert_eq!(q.dimension(), kind, "{text}");
        assert!((q.si() / si - 1.0).abs() < 1e-15, "{text}: {:e}, expected {si:e}", q.si());
        assert_eq!(Quantity::parse_as(text, kind).expect(text), q);
    }
}

/// One size written in two systems is one number, to the bit.
#[test]
fn one_size_in_two_systems_is_one_number() {
    for (a, b) in [
        ("8 3/16 in", "207.9625 mm"),
        ("1 in", "25.4 mm"),
        ("1/64 in", "0.396875 mm"),
        ("4 ft 8 1/2 in", "1435.1 mm"),
        ("1 thou", "25.4 µm"),
        ("1 ton", "1016.0469088 kg"),
        ("212 degF", "100 degC"),
        ("1 cwt", "112 lb"),
        ("1 tonf", "2240 lbf"),
        ("1 tonf/in2", "2240 psi"),
        ("60 mph", "26.8224 m/s"),
        ("240 rpm", "4 rev/s"),
    ] {
        assert_eq!(read(a).si(), read(b).si(), "{a} {b}");
    }
}

#[test]
fn what_cannot_be_read_is_refused_at_its_place() {
    for (text, kind, at) in [
        ("", Kind::Empty, 0),
        (" \u{feff} ", Kind::Empty, 0),
        ("mm", Kind::NoNumber, 0),
        ("nan mm", Kind::NoNumber, 0),
        ("inf mm", Kind::NoNumber, 0),
        ("--3 mm", Kind::NoNumber, 1),
        ("- mm", Kind::NoNumber, 2),
        ("３ mm", Kind::NoNumber, 0),
        ("207.96", Kind::MissingUnit, 6),
        ("5 ", Kind::MissingUnit, 1),
        ("4 ft 3", Kind::MissingUnit, 6),
        ("1.2.3 mm", Kind::BadNumber, 3),
        ("1 200 mm", Kind::BadNumber, 2),
        ("5. in", Kind::BadNumber, 1),
        ("0.1234567890123456789 mm", Kind::BadNumber, 0),
        ("5 ± 1 mm", Kind::BadNumber, 2),
        ("8 - 3/16 in", Kind::BadNumber, 2),
        ("1,200 mm", Kind::AmbiguousMark, 1),
        ("207,96 mm", Kind::AmbiguousMark, 3),
        ("8 3/0 in", Kind::BadFraction, 4),
        ("1/0 in", Kind::BadFraction, 2),
        ("8 16/16 in", Kind::BadFraction, 2),
        ("8 17/16 in", Kind::BadFraction, 2),
        ("1/3 in", Kind::BadFraction, 0),
        ("8⅓ in", Kind::BadFraction, 1),
        ("8 1/128 in", Kind::BadFraction, 2),
        ("8.5 3/16 in", Kind::BadFraction, 4),
        ("8 3/16.5 in", Kind::BadFraction, 6),
        ("8/ in", Kind::BadFraction, 1),
        ("3/16/2 in", Kind::BadFraction, 4),
        ("3 mmx", Kind::UnknownUnit, 2),
        ("5 MM", Kind::UnknownUnit, 2),
        ("5 furlongs", Kind::UnknownUnit, 2),
        ("5 C", Kind::RefusedUnit, 2),
        ("5 tenths", Kind::RefusedUnit, 2),
        ("20 cSt", Kind::RefusedUnit, 3),
        ("20 mm2/s", Kind::RefusedUnit, 3),
        ("11 bar g", Kind::RefusedUnit, 3),
        ("3 mm foo", Kind::Trailing, 5),
        ("3 mm mm", Kind::Trailing, 5),
        ("5 mm ± 1 mm", Kind::BadNumber, 5),
        ("4 ft 13 in", Kind::BadCompound, 5),
        ("4.5 ft 3 in", Kind::BadCompound, 0),
        ("3 in 4 ft", Kind::BadCompound, 5),
        ("2 m 5 ft", Kind::BadCompound, 4),
        ("8 in + 3 mm", Kind::BadCompound, 5),
        ("1e400 m", Kind::OutOfRange, 1),
        ("1e99999999999999999999 m", Kind::OutOfRange, 1),
        ("1e-300 nm", Kind::OutOfRange, 0),
        ("-300 degC", Kind::OutOfRange, 1),
        ("99999999999/2 in", Kind::OutOfRange, 0),
    ] {
        let error = refused(text);
        assert_eq!((error.kind(), error.at()), (kind, at), "{text}: {error}");
        assert_eq!(error.text(), text);
        assert!(!error.reason().is_empty() && !error.hint().is_empty(), "{text}");
        assert!(!error.to_string().contains('\n'), "{text}");
    }
    let long = format!("{} mm", "1".repeat(300));
    assert_eq!(refused(&long).kind(), Kind::TooLong);
}

#[test]
fn a_mend_says_what_to_write() {
    for (text, mend) in [
        ("207.96", "write the unit: 207.96 mm or 207.96 in"),
        ("5 MM", "write mm if that is meant"),
        (
            "1/3 in",
            "write the decimal 0.3333, or a fraction of 2, 4, 8, 16, 32 or 64; the nearest is 21/64",
        ),
        ("8 17/16 in", "17/16 is 1 and 1/16: check the figures"),
        ("1,200 mm", "write 1200 or 1.200, whichever it is"),
    ] {
        assert_eq!(refused(text).hint(), mend);
    }
}

#[test]
fn the_caret_stands_under_the_character() {
    assert_eq!(refused("½ furlong").caret(), "½ furlong\n  ^");
    let error = refused(&format!("{}5 furlong", " ".repeat(150)));
    let caret = error.caret();
    let (line, mark) = caret.split_once('\n').expect("two lines");
    assert_eq!(line.chars().nth(mark.chars().count() - 1), Some('f'));
}

#[test]
fn the_wrong_kind_is_named_with_the_right_one() {
    for (text, wanted, reason, hint) in [
        (
            "12 ton",
            Dimension::Force,
            "long ton is a mass, and a force is wanted",
            "for the force of a ton write tonf",
        ),
        (
            "5 degC",
            Dimension::TemperatureDifference,
            "°C is a temperature, and a temperature difference is wanted",
            "for how much hotter write K or delta degC",
        ),
        (
            "5 K",
            Dimension::Temperature,
            "K is a temperature difference, and a temperature is wanted",
            "for how hot write degC or degF",
        ),
        (
            "30 min",
            Dimension::Angle,
            "min is a time, and an angle is wanted",
            "for an angle write min of arc",
        ),
        (
            "8 mm",
            Dimension::Pressure,
            "mm is a length, and a pressure is wanted",
            "write bar or psi, for example",
        ),
    ] {
        let error = Quantity::parse_as(text, wanted).expect_err(text);
        assert_eq!(error.kind(), Kind::WrongDimension);
        assert_eq!((error.reason(), error.hint()), (reason, hint));
    }
}

#[test]
fn a_column_gives_its_unit_to_bare_numbers_only() {
    let column = |text| Quantity::parse_in(text, Unit::INCH).expect(text);
    assert_eq!(column("8.1875").si(), 0.2079625);
    assert_eq!(column("8 3/16").si(), 0.2079625);
    assert_eq!(column("207.96 mm").si(), 0.20796);
    assert_eq!(column("+3 thou").unit(), Unit::THOU);
    assert_eq!(column("8.1875").text(), "8.1875");
    let error = Quantity::parse_in("12 ton", Unit::INCH).expect_err("a mass");
    assert_eq!(error.kind(), Kind::WrongDimension);
    let error = Quantity::parse_in("8 3/16", Unit::MILLIMETRE).expect_err("inches most likely");
    assert_eq!(error.kind(), Kind::MissingUnit);
    assert_eq!(Quantity::parse_in("20", Unit::DEGREE_CELSIUS).expect("20").si(), 293.15);
}

#[test]
fn the_comma_is_the_decimal_mark_where_asked() {
    let comma = |text, unit| Quantity::parse_decimal_comma(text, unit);
    assert_eq!(comma("207,96 mm", None).expect("read").si(), 0.20796);
    assert_eq!(comma("207,96", Some(Unit::MILLIMETRE)).expect("read").si(), 0.20796);
    assert_eq!(comma("8 3/16 in", None).expect("read").si(), 0.2079625);
    for text in ["207.96 mm", "1.200,5 mm", "1.200 mm"] {
        assert_eq!(comma(text, None).expect_err(text).kind(), Kind::AmbiguousMark, "{text}");
    }
    assert_eq!(comma("1,2,3 mm", None).expect_err("two").kind(), Kind::BadNumber);
}

#[test]
fn plain_numbers_stand_alone_only_where_one_is_wanted() {
    assert_eq!(Quantity::parse_as("0.15", Dimension::Number).expect("read").si(), 0.15);
    assert_eq!(Quantity::parse_as("1/2", Dimension::Number).expect("read").si(), 0.5);
    assert_eq!(Quantity::parse_in("0.15", Unit::NUMBER).expect("read").si(), 0.15);
    assert_eq!(refused("0.15").kind(), Kind::MissingUnit);
    // a bare fraction is inches only where a length is possible
    let mass = Quantity::parse_as("3/4", Dimension::Mass).expect_err("no unit");
    assert_eq!(mass.kind(), Kind::MissingUnit);
}

/// JCGM 100:2008, 7.2.6: an uncertainty to two figures at most, the value to the same place.
#[test]
fn printed_figures_follow_the_uncertainty() {
    let (journal, length) = (0.207_960_4, Dimension::Length);
    for (u, metric, imperial) in [
        (None, "207.96 mm", "8.1874 in"),
        (Some(0.0), "207.96 mm", "8.1874 in"),
        (Some(6e-6), "207.960 mm", "8.1874 in"),
        (Some(1.2e-5), "207.96 mm", "8.1874 in"),
        (Some(9.6e-5), "208.0 mm", "8.187 in"),
        (Some(3e-3), "208 mm", "8.2 in"),
        (Some(3e-2), "210 mm", "8 in"),
        (Some(5.0), "0 mm", "0 in"),
        (Some(f64::NAN), "no value", "no value"),
        (Some(f64::INFINITY), "no value", "no value"),
    ] {
        assert_eq!(print(journal, length, System::Metric, u), metric, "{u:?}");
        assert_eq!(print(journal, length, System::Imperial, u), imperial, "{u:?}");
    }
    assert_eq!(print_both(journal, length, None), "207.96 mm (8.1874 in)");
    assert_eq!(print_both(1.0, Dimension::Time, None), "1 s");
    let with = |u| print_with_uncertainty(journal, length, System::Metric, u);
    assert_eq!(with(1.2e-5), "207.960 ± 0.012 mm");
    assert_eq!(with(9.96e-6), "207.960 ± 0.010 mm");
    assert_eq!(with(0.03), "208 ± 30 mm");
    assert_eq!(with(0.0), "207.96 ± 0 mm");
    assert_eq!(with(f64::NAN), "no value");
    let alpha = print_with_uncertainty(11.5e-6, Dimension::Expansion, System::Metric, 2e-7);
    assert_eq!(alpha, "(11.50 ± 0.20)e-6 /K");
    assert_eq!(print_in(1.1e6, Unit::BAR, None), "11 bar");
    assert_eq!(print_in(1.1e6, Unit::BAR, Some(1e4)), "11.0 bar");
    assert_eq!(print(11.5e-6, Dimension::Expansion, System::Metric, None), "11.5e-6 /K");
    assert_eq!(print(f64::NAN, length, System::Metric, None), "no value");
}

#[test]
fn differences_carry_their_sign() {
    for (si, metric, imperial) in [
        (0.079e-3, "+0.079 mm", "+3.1 thou"),
        (-0.08e-3, "-0.08 mm", "-3.1 thou"),
        (0.0, "0 mm", "0 thou"),
        (-0.0, "0 mm", "0 thou"),
        (1e-9, "0 mm", "0 thou"),
        (-1e-9, "0 mm", "0 thou"),
        (f64::NAN, "no value", "no value"),
    ] {
        assert_eq!(print_difference(si, System::Metric, None), metric);
        assert_eq!(print_difference(si, System::Imperial, None), imperial);
    }
    assert_eq!(print_difference(-0.08e-3, System::Metric, Some(2e-6)), "-0.080 mm");
    assert_eq!(print_difference(-0.08e-3, System::Metric, Some(2e-3)), "0 mm");
}

#[test]
fn fractions_of_a_rule() {
    for (metres, denominator, text) in [
        (0.20796, 16, "8 3/16 in"),
        (0.20796, 64, "8 3/16 in"),
        (-0.20796, 64, "-8 3/16 in"),
        (0.0253, 16, "1 in"),
        (0.00476, 32, "3/16 in"),
        (0.0, 64, "0 in"),
        (-1e-9, 64, "0 in"),
        (0.01, 10, "2/5 in"),
        (f64::NAN, 64, "no fraction"),
        (f64::INFINITY, 64, "no fraction"),
        (1e300, 64, "no fraction"),
        (0.1, 0, "no fraction"),
    ] {
        assert_eq!(nearest_fraction(metres, denominator).to_string(), text);
    }
}

/// Morse taper 2 is 0.59941 in per ft on diameter (from memory), 1 in 20.020; its included angle
/// 2 atan(0.59941 / 24) = 2.8614 degrees by hand.
#[test]
fn tapers_of_the_trade() {
    for (text, ratio, shown) in [
        ("1 in 12", 1.0 / 12.0, "1 in 12"),
        ("1:12", 1.0 / 12.0, "1 in 12"),
        ("1/12", 1.0 / 12.0, "1 in 12"),
        ("3/4 in per ft", 0.0625, "1 in 16"),
        ("3/4\" per foot", 0.0625, "1 in 16"),
        ("3/4 inch to the foot", 0.0625, "1 in 16"),
        ("1/4 in in 12 in", 1.0 / 48.0, "1 in 48"),
        ("20 mm per m", 0.02, "1 in 50"),
        ("0.59941 in per ft", 0.59941 / 12.0, "1 in 20.02"),
    ] {
        let taper = Taper::parse(text).unwrap_or_else(|e| panic!("{e}"));
        assert!((taper.ratio() - ratio).abs() < 1e-15, "{text}");
        assert_eq!((taper.to_string().as_str(), taper.text()), (shown, text));
    }
    let morse = Taper::parse("0.59941 in per ft").expect("read");
    assert!((morse.included_angle_rad().to_degrees() - 2.8614).abs() < 5e-5);
    for text in
        ["", "1 in", "0 in 12", "1 in 0", "1 inch in 12", "-1 in 12", "a in b", "1 in 12 ton"]
    {
        assert!(Taper::parse(text).is_err(), "{text}");
    }
}

/// A way of writing a length and its parts.
fn written_length() -> impl Strategy<Value = (String, f64)> {
    let fraction =
        (0_u32..=20, 0_u32..=6, any::<u32>(), 0_usize..4).prop_map(|(whole, k, n, way)| {
            let denominator = 1 << k;
            let numerator = n % denominator;
            let inches = f64::from(whole) + f64::from(numerator) / f64::from(denominator);
            let text = match way {
                0 => format!("{whole} {numerator}/{denominator}\""),
                1 => format!("{whole}-{numerator}/{denominator} in"),
                2 => format!("{whole}\u{a0}{numerator}⁄{denominator}″"),
                _ => format!(" {whole} {numerator}/{denominator} inches "),
            };
            (text, inches * 0.0254)
        });
    let decimal = (0_u32..100_000, 0_usize..4).prop_map(|(n, decimals)| {
        let value = f64::from(n) / 10_f64.powi(decimals as i32);
        (format!("{value:.decimals$} mm"), value / 1000.0)
    });
    prop_oneof![fraction, decimal]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 2000, ..ProptestConfig::default() })]

    #[test]
    fn no_text_makes_it_panic(text in prop_oneof![any::<String>(), "\\PC*", "[0-9 ./,eE+-]{0,20}\\PC{0,6}"]) {
        let _ = Quantity::parse(&text).map_err(|e| (e.caret(), e.to_string()));
        let _ = Quantity::parse_in(&text, Unit::INCH).map_err(|e| e.caret());
        let _ = Quantity::parse_decimal_comma(&text, None).map_err(|e| e.caret());
        let _ = Taper::parse(&text).map_err(|e| (e.caret(), e.to_string()));
        let _ = Unit::find(&text);
    }

    #[test]
    fn no_mixture_of_pieces_makes_it_panic(
        pieces in prop::collection::vec(prop::sample::select(vec![
            "8", "0", "3/16", "1/", "/", "½", "⅓", ".", ",", "-", "–", "−", "+", "±", " ", "\u{a0}",
            "e", "e-5", "e999", "x10^", "×10⁻⁶", "10", "in", "\"", "'", "′", "ft", "thou", "mm", "µm",
            "ton", "tonf", "cwt", "deg", "min", "°", "C", "degC", "/K", "per", "in2", "²", "to the",
            ":", "99999999999999999999", "000000000000000000000", "\n", "\u{feff}", "🚂",
        ]), 0..12),
    ) {
        let text = pieces.concat();
        for result in [
            Quantity::parse(&text),
            Quantity::parse_as(&text, Dimension::Length),
            Quantity::parse_in(&text, Unit::MILLIMETRE),
            Quantity::parse_decimal_comma(&text, Some(Unit::FOOT)),
        ] {
            match result {
                Ok(q) => {
                    prop_assert_eq!(q.text(), &text);
                    prop_assert!(q.si().is_finite() && q.magnitude().is_finite());
                    prop_assert!(q.resolution_si() > 0.0 && q.resolution_si().is_finite());
                }
                Err(e) => {
                    prop_assert!(e.at() <= text.chars().count());
                    prop_assert_eq!(e.text(), &text);
                    prop_assert_eq!(e.caret().lines().count(), 2);
                    prop_assert_eq!(e.to_string().lines().count(), 1);
                }
            }
        }
        let _ = Taper::parse(&text).map_err(|e| (e.caret(), e.to_string()));
    }

    #[test]
    fn a_written_length_is_read_and_kept((text, metres) in written_length()) {
        let q = read(&text);
        prop_assert_eq!(q.text(), &text);
        prop_assert!((q.si() - metres).abs() <= 1e-15 * metres.max(1.0));
        prop_assert!((q.unit().to_si(q.magnitude()) - q.si()).abs() <= 1e-15 * metres.max(1.0));
    }

    /// Printed with an uncertainty and read again, a value comes back within half of the last
    /// figure printed.
    #[test]
    fn printed_is_read_back_within_half_the_last_figure(
        unit in prop::sample::select(Unit::all().to_vec()),
        mantissa in -9.999_f64..9.999, exponent in -8_i32..9,
        u_mantissa in 1.0_f64..9.99, u_exponent in -9_i32..9,
    ) {
        let value = mantissa * 10_f64.powi(exponent);
        let u = u_mantissa * 10_f64.powi(u_exponent);
        let si = unit.to_si(value);
        prop_assume!(unit.dimension() != Dimension::Temperature || si > 10.0 * u + 1.0);
        let printed = print_in(si, unit, Some(u * unit.factor()));
        let read = Quantity::parse_as(&printed, unit.dimension())
            .map_err(|e| TestCaseError::fail(format!("{printed}: {e}")))?;
        prop_assert_eq!(read.unit(), unit);
        // the last figure stands in the place of the first figure of u: at most u rounded up to
        // a power of ten when its one figure rounds to 10
        let place = 10_f64.powi(u_exponent + i32::from(u_mantissa >= 9.5));
        let noise = 1e-14 * (si.abs() + unit.offset());
        prop_assert!((read.si() - si).abs() <= 0.5001 * place * unit.factor() + noise,
            "{printed} for {si:e}");
    }

    /// Without an uncertainty five figures come back.
    #[test]
    fn printed_without_uncertainty_keeps_five_figures(
        kind in prop::sample::select(Dimension::ALL.to_vec()),
        system in prop::sample::select(vec![System::Metric, System::Imperial]),
        mantissa in 1.0_f64..10.0, exponent in -9_i32..9,
    ) {
        let si = mantissa * 10_f64.powi(exponent);
        let printed = print(si, kind, system, None);
        let read = Quantity::parse_as(&printed, kind)
            .map_err(|e| TestCaseError::fail(format!("{printed}: {e}")))?;
        let scale = si.abs() + read.unit().offset();
        prop_assert!((read.si() - si).abs() <= 0.5001e-4 * scale, "{printed} for {si:e}");
    }

    #[test]
    fn the_nearest_fraction_is_within_half_a_part(metres in -10.0_f64..10.0, k in 0_u32..=6) {
        let denominator = 1 << k;
        let fraction = nearest_fraction(metres, denominator);
        prop_assert!(fraction.error_m.abs() <= 0.0254 / f64::from(denominator) / 2.0 + 1e-15);
        let read = read(&fraction.to_string());
        prop_assert!((read.si() - (metres + fraction.error_m)).abs() < 1e-14);
        prop_assert_eq!(denominator % fraction.denominator, 0);
        prop_assert!(fraction.numerator < fraction.denominator || fraction.numerator == 0);
    }
}
