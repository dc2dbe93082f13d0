//! What is refused, where, and with which mend.

use quantity::{Dimension, ParseError, ParseErrorKind as Kind, Quantity};

fn refused(text: &str) -> ParseError {
    match Quantity::parse(text) {
        Ok(q) => panic!("{text} was read as {} {}", q.si(), q.dimension().si_symbol()),
        Err(e) => e,
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
        ("7.11/16 in", Kind::BadFraction, 4),
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
        ("4 ft 12 in", Kind::BadCompound, 5),
        ("8 in 3 thou", Kind::BadCompound, 5),
        ("4.5 ft 3 in", Kind::BadCompound, 0),
        ("3 in 4 ft", Kind::BadCompound, 5),
        ("2 m 5 ft", Kind::BadCompound, 4),
        ("8 in + 3 mm", Kind::BadCompound, 5),
        ("1e400 m", Kind::OutOfRange, 1),
        ("1e99999999999999999999 m", Kind::OutOfRange, 1),
        ("1e-300 nm", Kind::OutOfRange, 0),
        ("-300 degC", Kind::OutOfRange, 1),
        ("-273.16 degC", Kind::OutOfRange, 1),
        ("-459.68 degF", Kind::OutOfRange, 1),
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
        ("8 in 3 thou", "for an allowance write its sign: in + 3 thou"),
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
