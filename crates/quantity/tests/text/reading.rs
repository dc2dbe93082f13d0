//! Ways of writing that are read, and what they come to.

use quantity::{Dimension, ParseErrorKind as Kind, Quantity, Taper, Unit};

use crate::read;

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
        ("-273.14 degC", Temperature, 0.01),
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

#[test]
fn absolute_zero_can_be_written() {
    assert_eq!(read("-273.15 degC").si(), 0.0);
    assert_eq!(read("-459.67 degF").si(), 0.0);
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
    assert_eq!(Quantity::parse("0.15").expect_err("no unit").kind(), Kind::MissingUnit);
    // a bare fraction is inches only where a length is possible
    let mass = Quantity::parse_as("3/4", Dimension::Mass).expect_err("no unit");
    assert_eq!(mass.kind(), Kind::MissingUnit);
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
