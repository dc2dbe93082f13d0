//! What was wrong with a text, where, and how to mend it.

use super::fault::Fault;

/// Why a text is not a quantity.
///
/// [`Display`](std::fmt::Display) is one line: reason, place, text and mend. [`caret`](Self::caret)
/// shows the text with a mark under the offending character.
///
/// ```
/// let error = quantity::Quantity::parse("8 3/17 in").unwrap_err();
/// assert_eq!(error.reason(), "`3/17` is on no rule");
/// assert_eq!(error.caret(), "8 3/17 in\n  ^");
/// ```
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{}", self.line())]
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

    /// Reason, place, text and mend in one line; the place counts from 1, as people do.
    fn line(&self) -> String {
        let mut text: String = self.text.chars().take(LONGEST_SHOWN).map(printable).collect();
        if self.text.chars().nth(LONGEST_SHOWN).is_some() {
            text.push('…');
        }
        let Fault { reason, hint, at, .. } = &self.fault;
        format!("{reason} (at character {} of «{text}»); {hint}", at + 1)
    }

    pub(super) fn of_fault(text: &str, fault: Fault) -> ParseError {
        ParseError { text: text.to_owned(), fault }
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

const LONGEST_SHOWN: usize = 60;
const CARET_BEFORE: usize = 50;
const CARET_AFTER: usize = 30;

/// A space for whatever would break the line or turn its direction round.
pub(super) fn printable(c: char) -> char {
    let turns =
        matches!(c, '\u{200E}' | '\u{200F}' | '\u{202A}'..='\u{202E}' | '\u{2066}'..='\u{2069}');
    if c.is_control() || turns || matches!(c, '\u{2028}' | '\u{2029}') { ' ' } else { c }
}
