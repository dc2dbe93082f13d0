//! The number of a quantity: whole, decimal, fraction, or whole and fraction.

use super::DecimalMark;
use super::fault::Fault;
use crate::decimal::Decimal;
use crate::unit::{is_solidus, skip_spaces};

/// Most figures that are read; more than any instrument gives, few enough to reckon exactly.
const MOST_FIGURES: usize = 18;
/// Greatest exponent that is read.
const GREATEST_EXPONENT: i32 = 300;
/// Finest denominator of a written fraction: rules and drawings go to sixty-fourths.
const FINEST_DENOMINATOR: u32 = 64;

/// How a number was written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Form {
    Whole,
    Decimal,
    /// A fraction, alone or after a whole number.
    Fraction,
}

/// A number as written, without its sign.
#[derive(Clone, Copy, Debug)]
pub(super) struct Number {
    pub(super) value: Decimal,
    /// One in the last figure written, or one over the denominator.
    pub(super) step: Decimal,
    pub(super) form: Form,
    /// Index of the first character, and the one after the last.
    pub(super) start: usize,
    pub(super) end: usize,
}

/// A sign and the spaces after it, if there is one: whether it is minus, and where the number is.
pub(super) fn read_sign(text: &[char], at: usize) -> Result<(bool, usize), Fault> {
    match text.get(at) {
        Some('±') => Err(Fault::plus_minus(at)),
        Some(&c) if is_sign(c) => Ok((c != '+', skip_spaces(text, at + 1))),
        _ => Ok((false, at)),
    }
}

pub(super) fn is_sign(c: char) -> bool {
    matches!(c, '+' | '-' | '−' | '–' | '‐' | '‑')
}

/// Reads the number at `at`.
pub(super) fn read_number(text: &[char], at: usize, mark: DecimalMark) -> Result<Number, Fault> {
    let first = text.get(at).copied();
    if let Some((numerator, denominator)) = first.and_then(vulgar) {
        let fraction = Fraction { numerator, denominator, at, end: at + 1 };
        return fraction.number(0, at);
    }
    match first {
        Some(c) if c.is_ascii_digit() => {}
        Some(c) if is_point(c, mark) && digit_at(text, at + 1) => {}
        _ => return Err(Fault::no_number(text, at)),
    }
    let whole_end = skip_digits(text, at);
    if let Some(number) = mixed_or_fraction(text, at, whole_end)? {
        return Ok(number);
    }
    decimal(text, at, whole_end, mark)
}

/// `3/16`, `8 3/16`, `8-3/16` or `8¾`, where the whole figures run from `start` to `whole_end`.
fn mixed_or_fraction(
    text: &[char],
    start: usize,
    whole_end: usize,
) -> Result<Option<Number>, Fault> {
    if whole_end == start {
        return Ok(None);
    }
    if let Some(fraction) = fraction_from(text, start)? {
        return fraction.number(0, start).map(Some);
    }
    let after_space = skip_spaces(text, whole_end);
    let hyphen = text.get(whole_end).is_some_and(|c| matches!(c, '-' | '–' | '‐' | '‑'));
    let at = if hyphen { whole_end + 1 } else { after_space };
    if let Some((numerator, denominator)) = text.get(at).copied().and_then(vulgar) {
        let fraction = Fraction { numerator, denominator, at, end: at + 1 };
        return fraction.number(whole(text, start, whole_end)?, start).map(Some);
    }
    if at == whole_end {
        return Ok(None);
    }
    match fraction_from(text, at)? {
        None => Ok(None),
        Some(fraction) if fraction.numerator >= fraction.denominator => {
            Err(Fault::top_heavy(at, fraction.numerator, fraction.denominator))
        }
        Some(fraction) => fraction.number(whole(text, start, whole_end)?, start).map(Some),
    }
}

/// A fraction whose numerator starts at `at`.
struct Fraction {
    numerator: u32,
    denominator: u32,
    at: usize,
    end: usize,
}

impl Fraction {
    /// The fraction with `whole` before it, as a number that starts at `start`.
    fn number(self, whole: u64, start: usize) -> Result<Number, Fault> {
        let Fraction { numerator, denominator, at, end } = self;
        if denominator > FINEST_DENOMINATOR || !denominator.is_power_of_two() {
            return Err(Fault::odd_denominator(at, whole, numerator, denominator));
        }
        // n / 2^k = n 5^k / 10^k
        let k = denominator.trailing_zeros();
        let five = i128::from(5_u32.pow(k));
        let halves = i128::from(whole) * i128::from(denominator) + i128::from(numerator);
        let exp10 = -(k as i32);
        Ok(Number {
            value: Decimal { digits: halves * five, exp10 },
            step: Decimal { digits: five, exp10 },
            form: Form::Fraction,
            start,
            end,
        })
    }
}

/// The figures, a solidus and the figures at `at`; `None` when that is not what is there.
fn fraction_from(text: &[char], at: usize) -> Result<Option<Fraction>, Fault> {
    let numerator_end = skip_digits(text, at);
    let solidus = text.get(numerator_end).is_some_and(|c| is_solidus(*c));
    let denominator_at = numerator_end + 1;
    if numerator_end == at || !solidus || !digit_at(text, denominator_at) {
        return Ok(None);
    }
    let end = skip_digits(text, denominator_at);
    let numerator = small(text, at, numerator_end)?;
    let denominator = small(text, denominator_at, end)?;
    if denominator == 0 {
        return Err(Fault::zero_denominator(denominator_at));
    }
    if text.get(end).is_some_and(|c| matches!(c, '.' | ',')) && digit_at(text, end + 1) {
        return Err(Fault::decimal_in_fraction(end));
    }
    if text.get(end).is_some_and(|c| is_solidus(*c)) && digit_at(text, end + 1) {
        return Err(Fault::second_solidus(end));
    }
    Ok(Some(Fraction { numerator, denominator, at, end }))
}

fn decimal(
    text: &[char],
    start: usize,
    whole_end: usize,
    mark: DecimalMark,
) -> Result<Number, Fault> {
    let mut digits: String = text[start..whole_end].iter().collect();
    let (mut end, mut decimals, mut form) = (whole_end, 0_usize, Form::Whole);
    if let Some(&c) = text.get(whole_end)
        && matches!(c, '.' | ',')
    {
        let figures_follow = digit_at(text, whole_end + 1);
        if figures_follow && !is_point(c, mark) {
            return Err(Fault::foreign_mark(text, start, whole_end));
        }
        if is_point(c, mark) {
            if !figures_follow {
                return Err(Fault::point_without_figures(whole_end, c));
            }
            end = skip_digits(text, whole_end + 1);
            digits.extend(&text[whole_end + 1..end]);
            (decimals, form) = (end - whole_end - 1, Form::Decimal);
        }
    }
    if let Some(&c) = text.get(end)
        && matches!(c, '.' | ',')
        && digit_at(text, end + 1)
    {
        return Err(Fault::second_mark(end, c));
    }
    let (exponent, end) = exponent(text, end)?;
    let figures = digits.trim_start_matches('0');
    if figures.len() > MOST_FIGURES {
        return Err(Fault::too_many_figures(start, figures.len(), MOST_FIGURES));
    }
    // the figures are at most eighteen, so both conversions fit
    let value = figures.parse::<i128>().unwrap_or(0);
    let exp10 = exponent - decimals as i32;
    if form == Form::Whole && end != whole_end {
        form = Form::Decimal;
    }
    Ok(Number {
        value: Decimal { digits: value, exp10 },
        step: Decimal { digits: 1, exp10 },
        form,
        start,
        end,
    })
}

/// `e-5`, `x 10^-5` or `×10⁻⁵` at `at`: the exponent, and the index after it.
fn exponent(text: &[char], at: usize) -> Result<(i32, usize), Fault> {
    let Some(from) = exponent_start(text, at) else { return Ok((0, at)) };
    let plain = |c: &char| superscript(*c).unwrap_or(*c);
    let mut power = text[from..].iter().map(plain).peekable();
    let sign = power.next_if(|c| is_sign(*c));
    let figures: String = power.take_while(char::is_ascii_digit).collect();
    if figures.is_empty() {
        return Ok((0, at));
    }
    let end = from + usize::from(sign.is_some()) + figures.len();
    match figures.parse::<i32>() {
        Ok(size) if size <= GREATEST_EXPONENT => {
            let negative = sign.is_some_and(|c| c != '+');
            Ok((if negative { -size } else { size }, end))
        }
        _ => Err(Fault::exponent_out_of_range(at)),
    }
}

/// Where the figures of an exponent start, if one is announced at `at`.
fn exponent_start(text: &[char], at: usize) -> Option<usize> {
    if matches!(text.get(at)?, 'e' | 'E') {
        return Some(at + 1);
    }
    let times = skip_spaces(text, at);
    if !matches!(text.get(times)?, 'x' | 'X' | '×' | '*' | '·') {
        return None;
    }
    let ten = skip_spaces(text, times + 1);
    if text.get(ten..ten + 2)? != ['1', '0'] {
        return None;
    }
    match text.get(ten + 2)? {
        '^' => Some(ten + 3),
        c if superscript(*c).is_some() => Some(ten + 2),
        _ => None,
    }
}

/// The plain form of a superscript figure or sign.
fn superscript(c: char) -> Option<char> {
    Some(match c {
        '⁰' => '0',
        '¹' => '1',
        '²' => '2',
        '³' => '3',
        '⁴'..='⁹' => char::from_digit(c as u32 - '⁰' as u32, 10)?,
        '⁻' => '-',
        '⁺' => '+',
        _ => return None,
    })
}

/// Explains figures that stand where a unit should: a space inside a number, a fraction after a
/// decimal.
pub(super) fn fault_in_figures(
    text: &[char],
    at: usize,
    number: &Number,
    mark: DecimalMark,
) -> Option<Fault> {
    let c = *text.get(at)?;
    if c == '±' {
        return Some(Fault::plus_minus(at));
    }
    if is_sign(c) {
        return Some(Fault::sign_inside(at));
    }
    if is_solidus(c) && number.form == Form::Decimal && digit_at(text, at + 1) {
        return Some(Fault::point_before_fraction(at));
    }
    if is_solidus(c) && !text.get(at + 1).is_some_and(|c| c.is_alphabetic() || *c == '°') {
        return Some(Fault::solidus_without_denominator(at));
    }
    let figures = c.is_ascii_digit() || vulgar(c).is_some() || is_point(c, mark);
    let fraction_follows = vulgar(c).is_some() || matches!(fraction_from(text, at), Ok(Some(_)));
    match number.form {
        _ if !figures => None,
        Form::Decimal if fraction_follows => Some(Fault::fraction_after_decimal(at)),
        Form::Whole | Form::Decimal => Some(Fault::space_in_number(text, number, at)),
        Form::Fraction => Some(Fault::figures_after_fraction(at)),
    }
}

fn whole(text: &[char], start: usize, end: usize) -> Result<u64, Fault> {
    figures(text, start, end)?.parse().map_err(|_| Fault::out_of_range(start))
}

fn small(text: &[char], start: usize, end: usize) -> Result<u32, Fault> {
    figures(text, start, end)?.parse().map_err(|_| Fault::out_of_range(start))
}

fn figures(text: &[char], start: usize, end: usize) -> Result<String, Fault> {
    let all: String = text[start..end].iter().collect();
    let kept = all.trim_start_matches('0');
    if kept.len() > MOST_FIGURES {
        return Err(Fault::too_many_figures(start, kept.len(), MOST_FIGURES));
    }
    Ok(if kept.is_empty() { "0".to_owned() } else { kept.to_owned() })
}

fn skip_digits(text: &[char], at: usize) -> usize {
    let mut i = at;
    while digit_at(text, i) {
        i += 1;
    }
    i
}

fn digit_at(text: &[char], at: usize) -> bool {
    text.get(at).is_some_and(char::is_ascii_digit)
}

fn is_point(c: char, mark: DecimalMark) -> bool {
    match mark {
        DecimalMark::Point => c == '.',
        DecimalMark::Comma => c == ',',
    }
}

/// The one-character fractions of Unicode.
pub(super) fn vulgar(c: char) -> Option<(u32, u32)> {
    Some(match c {
        '½' => (1, 2),
        '¼' => (1, 4),
        '¾' => (3, 4),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        '⅓' => (1, 3),
        '⅔' => (2, 3),
        '⅕' => (1, 5),
        '⅖' => (2, 5),
        '⅗' => (3, 5),
        '⅘' => (4, 5),
        '⅙' => (1, 6),
        '⅚' => (5, 6),
        '⅐' => (1, 7),
        '⅑' => (1, 9),
        '⅒' => (1, 10),
        _ => return None,
    })
}
