//! Every way a text can be wrong, with its mend.
//!
//! One constructor a mistake, so that wording and mend stand side by side and can be read through.

use super::LONGEST_TEXT;
use super::error::{ParseError, ParseErrorKind as Kind, printable};
use super::number::Number;
use crate::unit::Unit;
use crate::{Dimension, nearest_fraction};

/// A mistake before it is tied to its text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Fault {
    pub(super) kind: Kind,
    pub(super) at: usize,
    pub(super) reason: String,
    pub(super) hint: String,
}

impl Fault {
    pub(super) fn new(
        kind: Kind,
        at: usize,
        reason: impl Into<String>,
        hint: impl Into<String>,
    ) -> Fault {
        // they quote the text, which may hold line breaks
        let one_line = |s: String| s.chars().map(printable).collect();
        Fault { kind, at, reason: one_line(reason.into()), hint: one_line(hint.into()) }
    }

    pub(super) fn in_text(self, text: &str) -> ParseError {
        ParseError::of_fault(text, self)
    }

    pub(super) fn empty() -> Fault {
        Fault::new(
            Kind::Empty,
            0,
            "there is nothing here",
            "write a number and its unit: 8.1875 in",
        )
    }

    pub(super) fn too_long(length: usize) -> Fault {
        let limit = LONGEST_TEXT;
        Fault::new(
            Kind::TooLong,
            limit,
            format!("the text has {length} characters, more than the {limit} that are read"),
            "write one number and its unit",
        )
    }

    pub(super) fn no_number(text: &[char], at: usize) -> Fault {
        match text.get(at) {
            None => Fault::new(
                Kind::NoNumber,
                at,
                "the number is missing",
                "write a number and its unit",
            ),
            Some(c) if matches!(c, '.' | ',') => Fault::new(
                Kind::NoNumber,
                at,
                format!("`{c}` has no figures after it"),
                "write 0.5 for a half",
            ),
            Some(c) => Fault::new(
                Kind::NoNumber,
                at,
                format!("`{}` does not start a number", c),
                "start with figures, then the unit: 8 3/16 in",
            ),
        }
    }

    pub(super) fn plus_minus(at: usize) -> Fault {
        Fault::new(
            Kind::BadNumber,
            at,
            "`±` gives two sizes, and one is wanted",
            "write the size here and its tolerance apart",
        )
    }

    pub(super) fn foreign_mark(text: &[char], start: usize, at: usize) -> Fault {
        let mark = text[at];
        let (name, right) = if mark == ',' { ("comma", '.') } else { ("point", ',') };
        let whole: String = text[start..at].iter().collect();
        let rest: String = text[at + 1..].iter().take_while(|c| c.is_ascii_digit()).collect();
        let (reason, hint) = if rest.len() == 3 {
            (
                format!("`{whole}{mark}{rest}` can be {whole}{rest} or {whole}{right}{rest}"),
                format!("write {whole}{rest} or {whole}{right}{rest}, whichever it is"),
            )
        } else {
            (
                format!("the {name} in `{whole}{mark}{rest}` is not the decimal mark here"),
                format!("write {whole}{right}{rest}"),
            )
        };
        Fault::new(Kind::AmbiguousMark, at, reason, hint)
    }

    pub(super) fn sign_inside(at: usize) -> Fault {
        Fault::new(
            Kind::BadNumber,
            at,
            "a sign in the middle of a number",
            "write 8-3/16 in or 8 3/16 in; for an allowance put a unit before the sign: 8 in - 3 thou",
        )
    }

    pub(super) fn second_mark(at: usize, mark: char) -> Fault {
        Fault::new(
            Kind::BadNumber,
            at,
            format!("a second `{mark}` in one number"),
            "a number has one decimal mark, and thousands are left unmarked",
        )
    }

    pub(super) fn point_without_figures(at: usize, mark: char) -> Fault {
        Fault::new(
            Kind::BadNumber,
            at,
            format!("`{mark}` has no figures after it"),
            "write the figures after it, or leave it out",
        )
    }

    pub(super) fn too_many_figures(at: usize, figures: usize, limit: usize) -> Fault {
        Fault::new(
            Kind::BadNumber,
            at,
            format!("{figures} figures are more than the {limit} that are read"),
            "round it to what the gauge gives",
        )
    }

    pub(super) fn space_in_number(text: &[char], number: &Number, at: usize) -> Fault {
        let before: String = text[number.start..number.end].iter().collect();
        let after: String = text[at..].iter().take_while(|c| c.is_ascii_digit()).collect();
        Fault::new(
            Kind::BadNumber,
            at,
            format!("two numbers, `{before}` and `{after}`, with no unit between"),
            format!("write {before}{after} if it is one number, or put the unit after each"),
        )
    }

    pub(super) fn fraction_after_decimal(at: usize) -> Fault {
        Fault::new(
            Kind::BadFraction,
            at,
            "a fraction after a decimal",
            "write either decimals or a whole number and a fraction: 8.1875 in or 8 3/16 in",
        )
    }

    pub(super) fn figures_after_fraction(at: usize) -> Fault {
        Fault::new(
            Kind::BadFraction,
            at,
            "more figures after the fraction",
            "write the whole number, the fraction and the unit: 8 3/16 in",
        )
    }

    pub(super) fn solidus_without_denominator(at: usize) -> Fault {
        Fault::new(
            Kind::BadFraction,
            at,
            "`/` has nothing to divide by after it",
            "write a fraction such as 3/16, or a unit such as /K",
        )
    }

    pub(super) fn point_before_fraction(at: usize) -> Fault {
        Fault::new(
            Kind::BadFraction,
            at,
            "a point before a fraction",
            "write 7-11/16 in or 7 11/16 in, not 7.11/16",
        )
    }

    pub(super) fn decimal_in_fraction(at: usize) -> Fault {
        Fault::new(
            Kind::BadFraction,
            at,
            "a decimal inside a fraction",
            "write whole numbers above and below, such as 3/16",
        )
    }

    pub(super) fn second_solidus(at: usize) -> Fault {
        Fault::new(
            Kind::BadFraction,
            at,
            "a second `/` in one fraction",
            "write one number above and one below, such as 3/16",
        )
    }

    pub(super) fn zero_denominator(at: usize) -> Fault {
        Fault::new(
            Kind::BadFraction,
            at,
            "the denominator is 0",
            "write 2, 4, 8, 16, 32 or 64 below the line",
        )
    }

    pub(super) fn top_heavy(at: usize, numerator: u32, denominator: u32) -> Fault {
        let (whole, rest) = (numerator / denominator, numerator % denominator);
        Fault::new(
            Kind::BadFraction,
            at,
            format!("`{numerator}/{denominator}` after a whole number is not less than 1"),
            format!(
                "{numerator}/{denominator} is {whole} and {rest}/{denominator}: check the figures"
            ),
        )
    }

    pub(super) fn odd_denominator(
        at: usize,
        whole: u64,
        numerator: u32,
        denominator: u32,
    ) -> Fault {
        let size = whole as f64 + f64::from(numerator) / f64::from(denominator);
        // a power of two below 1 ends; anything else is given to a tenth of a thou
        let decimal = match denominator.is_power_of_two() {
            true => format!("{size}"),
            false => format!("{size:.4}"),
        };
        let nearest = nearest_fraction(size * Unit::INCH.factor(), 64).without_unit();
        let finer =
            if denominator.is_power_of_two() { "finer than a sixty-fourth" } else { "on no rule" };
        Fault::new(
            Kind::BadFraction,
            at,
            format!("`{numerator}/{denominator}` is {finer}"),
            format!(
                "write the decimal {decimal}, or a fraction of 2, 4, 8, 16, 32 or 64; the nearest is {nearest}"
            ),
        )
    }

    pub(super) fn exponent_out_of_range(at: usize) -> Fault {
        Fault::new(
            Kind::OutOfRange,
            at,
            "the exponent is beyond 300",
            "check the figures after the e",
        )
    }

    pub(super) fn out_of_range(at: usize) -> Fault {
        Fault::new(
            Kind::OutOfRange,
            at,
            "the number is too large or too small to be kept",
            "check the figures and the unit",
        )
    }

    pub(super) fn below_absolute_zero(at: usize, unit: Unit) -> Fault {
        Fault::new(
            Kind::OutOfRange,
            at,
            format!("a temperature below absolute zero, {:.2} {unit}", unit.from_si(0.0)),
            "for a difference of temperature write K or delta degC",
        )
    }

    pub(super) fn missing_unit(text: &[char], number: &Number, wanted: Option<Dimension>) -> Fault {
        let written: String = text[number.start..number.end].iter().collect();
        let [a, b] = examples(wanted.unwrap_or(Dimension::Length));
        Fault::new(
            Kind::MissingUnit,
            number.end,
            format!("`{written}` has no unit"),
            format!("write the unit: {written} {a} or {written} {b}"),
        )
    }

    pub(super) fn bare_fraction_in_metric(at: usize, unit: Unit) -> Fault {
        Fault::new(
            Kind::MissingUnit,
            at,
            format!("a fraction without a unit where {unit} is the unit"),
            "a bare fraction is most likely inches: write in after it",
        )
    }

    pub(super) fn unknown_unit(at: usize, word: &str, wanted: Option<Dimension>) -> Fault {
        let shown: String = word.chars().take(24).collect();
        let hint = match resembling(word) {
            Some(unit) => format!("write {unit} if that is meant"),
            None => {
                let [a, b] = examples(wanted.unwrap_or(Dimension::Length));
                match wanted {
                    Some(kind) => {
                        format!("for {} write {a} or {b}, for example", kind.with_article())
                    }
                    None => format!("write a unit after the number, such as {a} or {b}"),
                }
            }
        };
        Fault::new(Kind::UnknownUnit, at, format!("`{shown}` is not a unit known here"), hint)
    }

    pub(super) fn wrong_dimension(at: usize, unit: Unit, wanted: Dimension) -> Fault {
        let [a, b] = examples(wanted);
        let hint = match (unit, wanted) {
            (Unit::TON, Dimension::Force) => "for the force of a ton write tonf".to_owned(),
            (Unit::POUND, Dimension::Force) => "for the force of a pound write lbf".to_owned(),
            (Unit::KILOGRAM, Dimension::Force) => {
                "for the force of a kilogram write kgf".to_owned()
            }
            (Unit::TONNE, Dimension::Force) => "for the force of a tonne write tf".to_owned(),
            (Unit::MINUTE, Dimension::Angle) => "for an angle write min of arc".to_owned(),
            (Unit::SECOND, Dimension::Angle) => "for an angle write sec of arc".to_owned(),
            (_, Dimension::TemperatureDifference) if unit.dimension() == Dimension::Temperature => {
                format!(
                    "for how much hotter write K or delta {}",
                    if unit == Unit::DEGREE_CELSIUS { "degC" } else { "degF" }
                )
            }
            (_, Dimension::Temperature) => "for how hot write degC or degF".to_owned(),
            (_, Dimension::Number) => "write the number alone".to_owned(),
            _ => format!("write {a} or {b}, for example"),
        };
        let symbol = if unit == Unit::NUMBER { "a number without a unit" } else { unit.symbol() };
        Fault::new(
            Kind::WrongDimension,
            at,
            format!(
                "{symbol} is {}, and {} is wanted",
                unit.dimension().with_article(),
                wanted.with_article()
            ),
            hint,
        )
    }

    pub(super) fn compound_without_unit(text: &[char], next: &Number, unit: Unit) -> Fault {
        let written: String = text[next.start..next.end].iter().collect();
        Fault::new(
            Kind::MissingUnit,
            next.end,
            format!("`{written}` after the {unit} has no unit"),
            "write the unit of each part: 4 ft 8 1/2 in",
        )
    }

    pub(super) fn not_a_compound(at: usize, first: Unit, second: Unit) -> Fault {
        let hint = match second {
            Unit::THOU | Unit::HUNDREDTH | Unit::MICROMETRE => {
                format!("for an allowance write its sign: {first} + 3 {second}")
            }
            _ => {
                "larger unit first: yd ft in, ton cwt qr lb oz, deg and minutes of arc, or h min s"
                    .to_owned()
            }
        };
        let reason = format!("{first} and then {second} do not make one size");
        Fault::new(Kind::BadCompound, at, reason, hint)
    }

    pub(super) fn broken_compound(at: usize, unit: Unit) -> Fault {
        Fault::new(
            Kind::BadCompound,
            at,
            format!("a part of {unit} before a smaller unit"),
            "only the last part of a size may have decimals or a fraction",
        )
    }

    pub(super) fn compound_overflow(at: usize, first: Unit, second: Unit, per: f64) -> Fault {
        Fault::new(
            Kind::BadCompound,
            at,
            format!("there are only {per} {second} in a {first}"),
            "check the figures of the smaller unit",
        )
    }

    pub(super) fn not_an_allowance(at: usize, base: Unit, unit: Unit) -> Fault {
        Fault::new(
            Kind::BadCompound,
            at,
            format!("{unit} added to {base} is not a way a size is written"),
            "an allowance is in thou on inches, or in hundredths or µm on mm",
        )
    }

    pub(super) fn trailing(at: usize, c: char) -> Fault {
        Fault::new(
            Kind::Trailing,
            at,
            format!("`{}` does not belong to a number or a unit", c),
            "leave it out",
        )
    }

    pub(super) fn trailing_after_unit(at: usize, rest: &str, unit: Unit) -> Fault {
        let shown: String = rest.chars().take(24).collect();
        let after = if unit == Unit::NUMBER { "number" } else { unit.symbol() };
        Fault::new(
            Kind::Trailing,
            at,
            format!("`{}` after the {after}", shown.trim_end()),
            "leave it out",
        )
    }
}

/// Two units that a person might have meant for a kind.
fn examples(kind: Dimension) -> [&'static str; 2] {
    match kind {
        Dimension::Number => ["0.15", "15 %"],
        Dimension::Length => ["mm", "in"],
        Dimension::Area => ["mm2", "in2"],
        Dimension::Volume => ["litre", "in3"],
        Dimension::Angle => ["deg", "min of arc"],
        Dimension::Mass => ["kg", "cwt"],
        Dimension::Density => ["kg/m3", "lb/in3"],
        Dimension::Force => ["kN", "tonf"],
        Dimension::ForcePerLength => ["N/mm", "tonf/in"],
        Dimension::Pressure => ["bar", "psi"],
        Dimension::Torque => ["N m", "lbf ft"],
        Dimension::Temperature => ["degC", "degF"],
        Dimension::TemperatureDifference => ["K", "delta degF"],
        Dimension::Expansion => ["/K", "/degF"],
        Dimension::Time => ["min", "h"],
        Dimension::Speed => ["m/s", "mph"],
        Dimension::AngularSpeed => ["rpm", "rad/s"],
        Dimension::Power => ["kW", "hp"],
        Dimension::Energy => ["J", "Btu"],
        Dimension::Viscosity => ["cP", "Pa s"],
        Dimension::VolumeFlow => ["l/min", "gal/h"],
    }
}

/// A unit whose spelling differs from `word` only in the case of its letters.
fn resembling(word: &str) -> Option<&'static str> {
    let word = word.trim().to_lowercase();
    Unit::all()
        .iter()
        .find(|u| {
            std::iter::once(u.symbol())
                .chain(u.spellings().iter().copied())
                .any(|s| !s.is_empty() && s.to_lowercase() == word)
        })
        .map(|u| u.symbol())
}
