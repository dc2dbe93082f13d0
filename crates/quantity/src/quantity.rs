//! A quantity as a person wrote it.

use std::fmt;
use std::str::FromStr;

use crate::parse::{DecimalMark, ParseError, Reading, read};
use crate::{Dimension, Unit};

/// A quantity as a person wrote it: the text, character for character, and its value in SI.
///
/// Made only by reading text, so the text and the value always belong together, and the value is
/// always finite.
#[derive(Clone, Debug, PartialEq)]
pub struct Quantity {
    text: String,
    magnitude: f64,
    unit: Unit,
    si: f64,
    resolution_si: f64,
}

impl Quantity {
    /// Reads a number with its unit; the unit decides the kind of quantity.
    ///
    /// A bare fraction (`8 3/16`) is inches; a bare decimal or whole number is refused.
    ///
    /// # Errors
    /// A [`ParseError`] that points at the character and says how to mend it, when the text is
    /// not one number with one known unit, or is out of range.
    ///
    /// ```
    /// use quantity::{Dimension, Quantity};
    /// let journal = Quantity::parse("8 3/16\"")?;
    /// assert_eq!(journal.text(), "8 3/16\"");
    /// assert_eq!(journal.si(), 0.2079625);
    /// assert_eq!(journal.dimension(), Dimension::Length);
    /// # Ok::<(), quantity::ParseError>(())
    /// ```
    pub fn parse(text: &str) -> Result<Quantity, ParseError> {
        read(text, Reading { mark: DecimalMark::Point, bare: None, wanted: None })
    }

    /// Reads a number with its unit where only one kind of quantity makes sense. A plain number
    /// may stand alone when the kind is [`Dimension::Number`].
    ///
    /// # Errors
    /// As [`parse`](Self::parse), and when the unit is of another kind; the error names both.
    ///
    /// ```
    /// use quantity::{Dimension, Quantity};
    /// let error = Quantity::parse_as("12 ton", Dimension::Force).unwrap_err();
    /// assert_eq!(error.reason(), "long ton is a mass, and a force is wanted");
    /// assert_eq!(error.hint(), "for the force of a ton write tonf");
    /// ```
    pub fn parse_as(text: &str, dimension: Dimension) -> Result<Quantity, ParseError> {
        read(text, Reading { mark: DecimalMark::Point, bare: None, wanted: Some(dimension) })
    }

    /// Reads a cell of a column whose heading gives the unit: a bare number takes `unit`, a
    /// number with a unit of its own keeps it.
    ///
    /// # Errors
    /// As [`parse_as`](Self::parse_as) with the unit's kind; and for a bare fraction in a column
    /// of a metric length, which is most likely an inch size in the wrong column.
    pub fn parse_in(text: &str, unit: Unit) -> Result<Quantity, ParseError> {
        read(text, Reading { mark: DecimalMark::Point, bare: Some(unit), wanted: None })
    }

    /// Reads text in which a comma is the decimal mark (`207,96 mm`), with or without a unit for
    /// bare numbers. A point is then refused as ambiguous.
    ///
    /// # Errors
    /// As [`parse`](Self::parse) or [`parse_in`](Self::parse_in).
    pub fn parse_decimal_comma(text: &str, unit: Option<Unit>) -> Result<Quantity, ParseError> {
        read(text, Reading { mark: DecimalMark::Comma, bare: unit, wanted: None })
    }

    pub(crate) fn of_parts(
        text: &str,
        magnitude: f64,
        unit: Unit,
        si: f64,
        resolution_si: f64,
    ) -> Quantity {
        Quantity { text: text.to_owned(), magnitude, unit, si, resolution_si }
    }

    /// The text as it was written, character for character, spaces included.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The text, given away.
    pub fn into_text(self) -> String {
        self.text
    }

    /// Value in the SI unit of its kind ([`Dimension::si_symbol`]); the nearest `f64` to what the
    /// figures say, so that one size written in two systems gives the same bits.
    pub fn si(&self) -> f64 {
        self.si
    }

    /// Kind of quantity.
    pub fn dimension(&self) -> Dimension {
        self.unit.dimension()
    }

    /// The unit written; of a size in several units the last and smallest (`4 ft 8 1/2 in`: inch).
    pub fn unit(&self) -> Unit {
        self.unit
    }

    /// Value in the unit written.
    pub fn magnitude(&self) -> f64 {
        self.magnitude
    }

    /// SI size of one in the last figure as written, or of one over the fraction's denominator:
    /// 0.01 mm for `207.96 mm`, 1/16 in for `8 3/16 in`. Always above zero.
    pub fn resolution_si(&self) -> f64 {
        self.resolution_si
    }
}

/// The text as written.
impl fmt::Display for Quantity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.text)
    }
}

impl FromStr for Quantity {
    type Err = ParseError;

    fn from_str(text: &str) -> Result<Quantity, ParseError> {
        Quantity::parse(text)
    }
}
