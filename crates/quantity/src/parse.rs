//! Reading a quantity from text.

mod compound;
mod error;
mod fault;
mod number;
mod refused;

pub use error::{ParseError, ParseErrorKind};

use crate::decimal::Decimal;
use crate::unit::{Found, is_solidus, is_space, match_unit, skip_spaces, whole_unit};
use crate::{Dimension, Quantity, System, Unit};
use fault::Fault;
use number::{Form, Number, read_number, read_sign};

/// Longest text that is read, in characters.
pub(crate) const LONGEST_TEXT: usize = 200;

/// Which character stands between whole figures and decimals.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum DecimalMark {
    Point,
    Comma,
}

/// How a text is to be read.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Reading {
    pub(crate) mark: DecimalMark,
    /// Unit that a bare number takes.
    pub(crate) bare: Option<Unit>,
    /// Kind that the result must be.
    pub(crate) wanted: Option<Dimension>,
}

/// Reads a whole text as one quantity.
pub(crate) fn read(text: &str, reading: Reading) -> Result<Quantity, ParseError> {
    match plain(text, reading) {
        Some(quantity) => Ok(quantity),
        None => in_full(text, reading),
    }
}

fn in_full(text: &str, reading: Reading) -> Result<Quantity, ParseError> {
    let chars: Vec<char> = text.chars().collect();
    Reader { chars: &chars, reading }.quantity(text).map_err(|fault| fault.in_text(text))
}

/// Figures, perhaps with decimals, and perhaps one unit as the table spells it: what gauges show,
/// a million times in a book, read without looking for anything else. `None` for everything else,
/// and for everything at fault.
fn plain(text: &str, reading: Reading) -> Option<Quantity> {
    /// So many figures are whole numbers below 2^53.
    const MOST_FIGURES: usize = 15;
    let mark = match reading.mark {
        DecimalMark::Point => b'.',
        DecimalMark::Comma => b',',
    };
    let bytes = text.as_bytes();
    let figures = |from: usize| bytes[from..].iter().take_while(|b| b.is_ascii_digit()).count();
    let whole = figures(0);
    let decimals = if bytes.get(whole) == Some(&mark) { figures(whole + 1) } else { 0 };
    if whole == 0 || MOST_FIGURES < whole + decimals {
        return None;
    }
    let end = if decimals == 0 { whole } else { whole + 1 + decimals };
    let value = bytes[..end].iter().filter(|b| b.is_ascii_digit());
    let digits = value.fold(0_i128, |n, b| 10 * n + i128::from(b - b'0'));
    let unit = match (text[end..].trim_start_matches(' '), reading.bare) {
        ("", Some(unit)) => unit,
        ("", None) => return None,
        (spelling, _) => whole_unit(spelling)?,
    };
    let wanted = reading.wanted.or(reading.bare.map(Unit::dimension));
    if wanted.is_some_and(|wanted| wanted != unit.dimension()) {
        return None;
    }
    // So few decimals fit.
    let exp10 = -(decimals as i32);
    let (value, step) = (Decimal { digits, exp10 }, Decimal { digits: 1, exp10 });
    finish(text, 0, Sum { value, unit, step, step_unit: unit }).ok()
}

/// What has been read of a quantity so far.
struct Sum {
    /// Value in `unit`; without its sign until all parts are joined.
    value: Decimal,
    unit: Unit,
    /// Smallest step of the last number as written, in its own unit.
    step: Decimal,
    step_unit: Unit,
}

struct Reader<'a> {
    chars: &'a [char],
    reading: Reading,
}

impl Reader<'_> {
    fn quantity(&self, text: &str) -> Result<Quantity, Fault> {
        if self.chars.len() > LONGEST_TEXT {
            return Err(Fault::too_long(self.chars.len()));
        }
        let start = skip_spaces(self.chars, 0);
        if start == self.chars.len() {
            return Err(Fault::empty());
        }
        let (negative, at) = read_sign(self.chars, start)?;
        let (mut sum, mut end) = self.sum(at)?;
        if negative {
            sum.value.digits = -sum.value.digits;
        }
        if let Some((joined, allowance_end)) = self.allowance(&sum, end)? {
            (sum, end) = (joined, allowance_end);
        }
        let end = skip_spaces(self.chars, end);
        if end < self.chars.len() {
            return Err(self.trailing(end, sum.unit));
        }
        self.check_kind(start, sum.unit)?;
        finish(text, at, sum)
    }

    /// One number with its unit, or several that make one size (`4 ft 8 1/2 in`).
    fn sum(&self, at: usize) -> Result<(Sum, usize), Fault> {
        let first = read_number(self.chars, at, self.reading.mark)?;
        let (unit, mut end) = self.unit_after(&first)?;
        let mut sum = Sum { value: first.value, unit, step: first.step, step_unit: unit };
        let mut last = first;
        while let Some(next_at) = compound::next_part(self.chars, end) {
            let next = read_number(self.chars, next_at, self.reading.mark)?;
            let (next_unit, next_end) = self.compound_unit(&sum, &next)?;
            sum = compound::join(&sum, &last, &next, next_unit)?;
            (last, end) = (next, next_end);
        }
        Ok((sum, end))
    }

    /// The unit after the first number, or the one a bare number takes.
    fn unit_after(&self, number: &Number) -> Result<(Unit, usize), Fault> {
        let at = skip_spaces(self.chars, number.end);
        if at == self.chars.len() {
            return Ok((self.bare_unit(number)?, at));
        }
        match match_unit(self.chars, at) {
            Some(Found { unit, end }) => Ok((unit, end)),
            None => Err(self.no_unit_at(at, number)),
        }
    }

    /// A bare number takes the column's unit; a bare fraction is inches, which is the only thing
    /// a fraction in sixty-fourths or coarser ever means on a drawing.
    fn bare_unit(&self, number: &Number) -> Result<Unit, Fault> {
        let fraction = matches!(number.form, Form::Fraction);
        match (self.reading.bare, self.reading.wanted) {
            (Some(unit), _) => {
                let metric_length =
                    unit.dimension() == Dimension::Length && unit.system() == Some(System::Metric);
                if fraction && metric_length {
                    return Err(Fault::bare_fraction_in_metric(number.start, unit));
                }
                Ok(unit)
            }
            (None, Some(Dimension::Number)) => Ok(Unit::NUMBER),
            (None, None | Some(Dimension::Length)) if fraction => Ok(Unit::INCH),
            (None, wanted) => Err(Fault::missing_unit(self.chars, number, wanted)),
        }
    }

    fn compound_unit(&self, sum: &Sum, next: &Number) -> Result<(Unit, usize), Fault> {
        let at = skip_spaces(self.chars, next.end);
        if at == self.chars.len() {
            return Err(Fault::compound_without_unit(self.chars, next, sum.unit));
        }
        match match_unit(self.chars, at) {
            Some(Found { unit, end }) => Ok((compound::in_context(sum.unit, unit), end)),
            None => Err(self.no_unit_at(at, next)),
        }
    }

    /// A size with an allowance after it, as fitters say it: `8 3/16 in + 3 thou`.
    fn allowance(&self, sum: &Sum, end: usize) -> Result<Option<(Sum, usize)>, Fault> {
        let at = skip_spaces(self.chars, end);
        if !self.chars.get(at).is_some_and(|c| number::is_sign(*c)) {
            return Ok(None);
        }
        let (negative, number_at) = read_sign(self.chars, at)?;
        let number = read_number(self.chars, number_at, self.reading.mark)?;
        let unit_at = skip_spaces(self.chars, number.end);
        match match_unit(self.chars, unit_at) {
            Some(Found { unit, end }) => {
                compound::allow(sum, negative, &number, unit, at).map(|joined| Some((joined, end)))
            }
            None => Err(self.no_unit_at(unit_at, &number)),
        }
    }

    /// Why there is no unit at `at`: figures, a word that is refused for a reason, or unknown.
    fn no_unit_at(&self, at: usize, number: &Number) -> Fault {
        let Some(&c) = self.chars.get(at) else {
            return Fault::missing_unit(self.chars, number, self.reading.wanted);
        };
        if let Some(fault) = number::fault_in_figures(self.chars, at, number, self.reading.mark) {
            return fault;
        }
        let rest: String = self.chars[at..].iter().collect();
        let rest = rest.trim_end_matches(is_space);
        if let Some(fault) = refused::fault_for(rest, at) {
            return fault;
        }
        if !c.is_alphabetic() && !is_solidus(c) && !matches!(c, '°' | '%' | '\'' | '"') {
            return Fault::trailing(at, c);
        }
        let wanted = self.reading.wanted.or(self.reading.bare.map(Unit::dimension));
        Fault::unknown_unit(at, rest, wanted)
    }

    fn trailing(&self, at: usize, unit: Unit) -> Fault {
        let c = self.chars[at];
        if c == '±' {
            return Fault::plus_minus(at);
        }
        let rest: String = self.chars[at..].iter().collect();
        // `bar g`: a known unit and a word that changes it
        let together = format!("{} {}", unit.symbol(), rest.trim_end_matches(is_space));
        let unit_at = at.saturating_sub(1 + unit.symbol().chars().count());
        if let Some(fault) = refused::fault_for(&together, unit_at) {
            return fault;
        }
        Fault::trailing_after_unit(at, &rest, unit)
    }

    fn check_kind(&self, at: usize, unit: Unit) -> Result<(), Fault> {
        let wanted = self.reading.wanted.or(self.reading.bare.map(Unit::dimension));
        match wanted {
            Some(wanted) if wanted != unit.dimension() => {
                Err(Fault::wrong_dimension(at, unit, wanted))
            }
            _ => Ok(()),
        }
    }
}

/// Turns what was read to SI, and refuses what cannot be kept there.
fn finish(text: &str, at: usize, sum: Sum) -> Result<Quantity, Fault> {
    let Sum { value, unit, step, step_unit } = sum;
    let magnitude = value.to_f64();
    let si = unit.exact_to_si(value).unwrap_or_else(|| unit.to_si(magnitude));
    let step_si = step_unit.exact_size(step).unwrap_or_else(|| step.to_f64() * step_unit.factor());
    let lost = si != 0.0 && !si.is_normal() || magnitude == 0.0 && value.digits != 0;
    if !si.is_finite() || !magnitude.is_finite() || !step_si.is_normal() || lost {
        return Err(Fault::out_of_range(at));
    }
    if unit.dimension() == Dimension::Temperature && si < 0.0 {
        return Err(Fault::below_absolute_zero(at, unit));
    }
    Ok(Quantity::of_parts(text, magnitude, unit, si, step_si))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What is read the plain way is what is read in full, to the bit.
    #[test]
    fn plain_figures_are_read_as_in_full() {
        let mut taken = 0;
        let numbers = [
            "0",
            "7",
            "007",
            "7.990",
            "0.000",
            "203.1",
            "7,5",
            "12.",
            ".5",
            "1.2.3",
            "1e3",
            "7 1/2",
            "999999999999999",
            "9999999999999999",
            "0.00000000000001",
            "3/16",
            "-3",
            "7½",
        ];
        let spellings: Vec<&str> = Unit::all()
            .iter()
            .flat_map(|u| std::iter::once(u.symbol()).chain(u.spellings().iter().copied()))
            .chain(["", "furlong", "x 10^3 mm", "e-5 mm", "mm.", "in + 3 thou", "ft 8 in", "±1 mm"])
            .collect();
        for mark in [DecimalMark::Point, DecimalMark::Comma] {
            for (bare, wanted) in [
                (None, None),
                (Some(Unit::INCH), None),
                (Some(Unit::MILLIMETRE), None),
                (None, Some(Dimension::Length)),
                (None, Some(Dimension::Number)),
            ] {
                let reading = Reading { mark, bare, wanted };
                for number in numbers {
                    for spelling in &spellings {
                        for text in [format!("{number}{spelling}"), format!("{number}  {spelling}")]
                        {
                            let Some(quick) = plain(&text, reading) else { continue };
                            let long = in_full(&text, reading).expect("taken the plain way");
                            assert_eq!(quick, long, "{text}");
                            assert_eq!(quick.si().to_bits(), long.si().to_bits(), "{text}");
                            taken += 1;
                        }
                    }
                }
            }
        }
        assert!(1_000 < taken, "only {taken} were read the plain way");
    }
}
