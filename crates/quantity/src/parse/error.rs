//! What was wrong with a text, where, and how to mend it.

use std::fmt;

use super::number::Number;
use crate::unit::Unit;
use crate::{Dimension, nearest_fraction};

/// Why a text is not a quantity.
///
/// [`Display`](fmt::Display) is one line: reason, place, text and mend. [`caret`](Self::caret)
/// shows the text with a mark under the offending character.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ParseError {
    text: String,
    fault: Fault,
}

/// The sort of mistake, for code that has to branch on it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum ParseErrorKind {
    /// Nothing but white space.
    Empty,
    /// Far more text than a quantity has.
    TooLong,
    /// No number where one should start.
    NoNumber,
    /// A number that cannot be read: two decimal points, a space inside, too many figures.
    BadNumber,
    /// A comma (or a point, where the comma is the decimal mark) that can be read two ways.
    AmbiguousMark,
    /// A fraction that cannot be read, or with a denominator that no rule carries.
    BadFraction,
    /// A number with no unit.
    MissingUnit,
    /// A unit that is not in the table.
    UnknownUnit,
    /// A unit of a kind that is not kept, with what to write instead.
    RefusedUnit,
    /// A unit of another kind than was asked for.
    WrongDimension,
    /// Units that do not make one size together.
    BadCompound,
    /// Something after the unit.
    Trailing,
    /// Too large, too small, or below absolute zero.
    OutOfRange,
}

impl ParseError {
    /// The text as it was given.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// Index of the offending character, counted in characters from 0; the number of characters
    /// when something is missing at the end.
    pub fn at(&self) -> usize {
        self.fault.at
    }

    /// What is wrong, lower case, without a full stop.
    pub fn reason(&self) -> &str {
        &self.fault.reason
    }

    /// What to write instead.
    pub fn hint(&self) -> &str {
        &self.fault.hint
    }

    /// The sort of mistake.
    pub fn kind(&self) -> ParseErrorKind {
        self.fault.kind
    }

    /// The text and, on a second line, a caret under the offending character.
    ///
    /// Long texts are cut to the part around the mistake; tabs and other control characters are
    /// shown as spaces so that the caret stays in its column.
    pub fn caret(&self) -> String {
        let chars: Vec<char> = self.text.chars().collect();
        let from = self.at().saturating_sub(CARET_BEFORE);
        let to = (self.at() + CARET_AFTER).min(chars.len());
        let cut: String = chars[from.min(to)..to].iter().map(|c| printable(*c)).collect();
        let (before, after) =
            (if from > 0 { "…" } else { "" }, if to < chars.len() { "…" } else { "" });
        let column = self.at() - from + before.chars().count();
        format!("{before}{cut}{after}\n{}^", " ".repeat(column))
    }

    /// A mistake found in a text by a reader outside this module.
    pub(crate) fn new(
        text: &str,
        at: usize,
        kind: ParseErrorKind,
        reason: impl Into<String>,
        hint: impl Into<String>,
    ) -> ParseError {
        Fault::new(kind, at, reason, hint).in_text(text)
    }

    /// The same mistake where the text was part of a longer one, starting `before` characters in.
    pub(crate) fn within(self, text: &str, before: usize) -> ParseError {
        let fault = Fault { at: self.fault.at + before, ..self.fault };
        ParseError { text: text.to_owned(), fault }
    }
}

const CARET_BEFORE: usize = 50;
const CARET_AFTER: usize = 30;

fn printable(c: char) -> char {
    if c.is_control() || matches!(c, '\u{2028}' | '\u{2029}') { ' ' } else { c }
}

impl fmt::Display for ParseError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut text: String = self.text.chars().take(60).map(printable).collect();
        if self.text.chars().count() > 60 {
            text.push('…');
        }
        let Fault { reason, hint, at, .. } = &self.fault;
        write!(f, "{reason} (at character {} of «{text}»); {hint}", at + 1)
    }
}

impl std::error::Error for ParseError {}

/// A mistake before it is tied to its text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Fault {
    kind: ParseErrorKind,
    at: usize,
    reason: String,
    hint: String,
}

use ParseErrorKind as Kind;

impl Fault {
    pub(super) fn new(
        kind: Kind,
        at: usize,
        reason: impl Into<String>,
        hint: impl Into<String>,
    ) -> Fault {
        Fault { kind, at, reason: reason.into(), hint: hint.into() }
    }

    pub(super) fn in_text(self, text: &str) -> ParseError {
        ParseError { text: text.to_owned(), fault: self }
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
        let limit = super::LONGEST_TEXT;
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
                format!("`{}` does not start a number", printable(*c)),
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
        let (other, name, example) = if mark == ',' {
            ('.', "comma", "a decimal point")
        } else {
            (',', "point", "a decimal comma")
        };
        let whole: String = text[start..at].iter().collect();
        let rest: String = text[at + 1..].iter().take_while(|c| c.is_ascii_digit()).collect();
        let meaning = if rest.len() == 3 {
            format!("`{whole}{mark}{rest}` can be {whole}{rest} or {whole}{other}{rest}")
        } else {
            format!("the {name} in `{whole}{mark}{rest}` is not the decimal mark here")
        };
        Fault::new(
            Kind::AmbiguousMark,
            at,
            meaning,
            format!(
                "write {example}, and leave thousands unmarked: {whole}{rest} or {whole}{other}{rest}"
            ),
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
        let decimal = format!("{size:.6}");
        let decimal = decimal.trim_end_matches('0').trim_end_matches('.');
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
        let shown: String = word.chars().take(24).map(printable).collect();
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
        Fault::new(
            Kind::BadCompound,
            at,
            format!("{first} and then {second} do not make one size"),
            "larger unit first: yd ft in, ton cwt qr lb oz, deg and minutes of arc, or h min s",
        )
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
            format!("`{}` does not belong to a number or a unit", printable(c)),
            "leave it out",
        )
    }

    pub(super) fn trailing_after_unit(at: usize, rest: &str, unit: Unit) -> Fault {
        let shown: String = rest.chars().take(24).map(printable).collect();
        let after = if unit == Unit::NUMBER { "number" } else { unit.symbol() };
        Fault::new(
            Kind::Trailing,
            at,
            format!("`{}` after the {after}", shown.trim_end()),
            "leave it out, or write it in the remark",
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
