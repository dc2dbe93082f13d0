//! Tapers as they are written: `1 in 12`, `3/4 in per ft`.

use std::fmt;

use crate::decimal::Decimal;
use crate::parse::{ParseError, ParseErrorKind};
use crate::{Dimension, Quantity, Unit};

/// A taper on diameter (or on thickness, for a wedge): how much the size changes per length.
///
/// `1 in 12` means that the diameter changes by 1 in a length of 12; each side leans by half of
/// that (common practice; ISO 3040 writes the same as 1:12 and calls it the rate of taper).
#[derive(Clone, Debug, PartialEq)]
pub struct Taper {
    text: String,
    ratio: f64,
}

impl Taper {
    /// Reads `1 in 12`, `1:12`, `1/12`, or two lengths: `3/4 in per ft`, `1/4" in 1 ft`,
    /// `20 mm per m`.
    ///
    /// # Errors
    /// When a number or a length cannot be read, or either is not above zero.
    ///
    /// ```
    /// use quantity::Taper;
    /// assert_eq!(Taper::parse("1 in 12")?.ratio(), 1.0 / 12.0);
    /// assert_eq!(Taper::parse("3/4 in per ft")?.to_string(), "1 in 16");
    /// # Ok::<(), quantity::ParseError>(())
    /// ```
    pub fn parse(text: &str) -> Result<Taper, ParseError> {
        let (first, second, second_at) = halves(text)?;
        let change = positive(text, first, 0)?;
        let length = positive(text, second, second_at)?;
        if change.dimension() != length.dimension() {
            let reason = "one part of the taper has a unit and the other has not";
            let hint = "write 1 in 12, or 3/4 in per ft";
            return Err(ParseError::new(
                text,
                second_at,
                ParseErrorKind::BadCompound,
                reason,
                hint,
            ));
        }
        Taper::of_ratio(change.si() / length.si(), text).ok_or_else(|| {
            let (reason, hint) = ("the taper is out of range", "check both figures");
            ParseError::new(text, 0, ParseErrorKind::OutOfRange, reason, hint)
        })
    }

    fn of_ratio(ratio: f64, text: &str) -> Option<Taper> {
        ratio.is_normal().then(|| Taper { text: text.to_owned(), ratio })
    }

    /// The text as it was written.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// Change of diameter per length.
    pub fn ratio(&self) -> f64 {
        self.ratio
    }

    /// Angle between the two sides, 2 atan(ratio / 2), in radians: the included angle.
    pub fn included_angle_rad(&self) -> f64 {
        2.0 * (self.ratio / 2.0).atan()
    }

    /// Angle of one side to the axis, half of the included angle, in radians.
    pub fn side_angle_rad(&self) -> f64 {
        (self.ratio / 2.0).atan()
    }
}

/// As `1 in 12`, to at most three decimals of the length.
impl fmt::Display for Taper {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let length = format!("{:.3}", 1.0 / self.ratio);
        write!(f, "1 in {}", length.trim_end_matches('0').trim_end_matches('.'))
    }
}

/// The two parts of a taper and where the second starts, in characters.
fn halves(text: &str) -> Result<(&str, &str, usize), ParseError> {
    // the last joint counts: in `1/4 in in 12 in` the first `in` is the inch
    let lower = text.to_ascii_lowercase();
    let joint = ["per", "to the", ":"]
        .iter()
        .find_map(|joint| lower.rfind(joint).map(|at| (at, joint.len())))
        .or_else(|| last_word_in(&lower).map(|at| (at, 2)))
        .or_else(|| lone_solidus(&lower).map(|at| (at, 1)));
    let Some((at, length)) = joint else {
        let end = text.chars().count();
        let reason = "a taper has two parts";
        let hint = "write 1 in 12, or 3/4 in per ft";
        return Err(ParseError::new(text, end, ParseErrorKind::BadCompound, reason, hint));
    };
    // the joints are ASCII, so these are character boundaries
    let (first, second) = (&text[..at], &text[at + length..]);
    Ok((first, second, text[..at + length].chars().count()))
}

/// Byte index of the last ` in ` that has a number after it.
fn last_word_in(text: &str) -> Option<usize> {
    text.match_indices("in")
        .filter(|(at, _)| {
            let before = text[..*at].chars().next_back();
            let after = text[at + 2..].trim_start().chars().next();
            before.is_some_and(|c| c.is_whitespace() || matches!(c, '"' | '″'))
                && after.is_some_and(|c| c.is_ascii_digit())
        })
        .last()
        .map(|(at, _)| at)
}

fn lone_solidus(text: &str) -> Option<usize> {
    let mut found = text.match_indices('/');
    let (at, _) = found.next()?;
    found.next().is_none().then_some(at)
}

/// One part: a plain number, a length, or a unit alone, which means one of it.
fn positive(text: &str, part: &str, before: usize) -> Result<Quantity, ParseError> {
    let quantity = match Unit::find(part) {
        Some(unit) if unit.dimension() == Dimension::Length && !part.trim().is_empty() => {
            let metres = unit.exact_to_si(Decimal::ONE).unwrap_or_else(|| unit.to_si(1.0));
            Quantity::of_parts(part, 1.0, unit, metres, metres)
        }
        _ => Quantity::parse_as(part, Dimension::Number)
            .or_else(|_| Quantity::parse_as(part, Dimension::Length))
            .map_err(|e| e.within(text, before))?,
    };
    if quantity.si() > 0.0 {
        return Ok(quantity);
    }
    let (reason, hint) = ("a taper's parts are above zero", "write 1 in 12");
    Err(ParseError::new(text, before, ParseErrorKind::OutOfRange, reason, hint))
}
