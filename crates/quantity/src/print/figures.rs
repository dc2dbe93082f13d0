//! Figures of a number up to a given decimal place.

use std::fmt;

/// A finite number to be written up to the figure in place `10^place`.
#[derive(Clone, Copy, Debug)]
pub(super) struct Figures {
    pub(super) value: f64,
    pub(super) place: i32,
    pub(super) zeros: Zeros,
}

/// What happens to zeros at the end of the decimals.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Zeros {
    /// They are figures that are known to be zero.
    Keep,
    /// Nothing is claimed about them.
    Drop,
}

/// Figures that an `f64` holds; more would be the noise of its binary form.
const MOST_FIGURES: i32 = 17;
/// Finest place that is written for a zero.
const FINEST_PLACE: i32 = -15;

/// The place of the last of the first `count` figures of a positive number after rounding to that
/// many: for two figures of 0.0123 it is -3, of 0.0996 (which rounds to 0.10) it is -2. Of zero, 0.
pub(super) fn place_of_figures(value: f64, count: i32) -> i32 {
    if value == 0.0 {
        return 0;
    }
    let decimals = usize::try_from(count - 1).unwrap_or(0);
    exponent_of(&format!("{value:.decimals$e}")) - (count - 1)
}

impl Figures {
    pub(super) fn new(value: f64, place: i32, zeros: Zeros) -> Figures {
        let finest =
            if value == 0.0 { FINEST_PLACE } else { first_place(value) - (MOST_FIGURES - 1) };
        Figures { value, place: place.max(finest), zeros }
    }

    /// Whether a person can still count the zeros when it is written without an exponent.
    pub(super) fn reads_plain(&self) -> bool {
        let size = self.value.abs();
        size < 1e9 && self.place <= 6 && (size >= 1e-4 || self.place >= -6 || size == 0.0)
    }

    /// Without an exponent.
    pub(super) fn plain(&self) -> String {
        let text = if self.place < 0 {
            let decimals = self.place.unsigned_abs() as usize;
            let text = format!("{:.decimals$}", self.value);
            match self.zeros {
                Zeros::Drop => text.trim_end_matches('0').trim_end_matches('.').to_owned(),
                Zeros::Keep => text,
            }
        } else {
            let step = 10_f64.powi(self.place);
            format!("{:.0}", (self.value / step).round() * step)
        };
        without_sign_of_zero(text)
    }

    /// With an exponent that is a multiple of three: `11.5e-6`.
    fn with_exponent(&self) -> String {
        let first = first_place(self.value);
        if self.value == 0.0 || self.place > first + 1 {
            return "0".to_owned();
        }
        if self.place == first + 1 {
            // only the figure above the first is written: nothing, or one of it
            let one = 10_f64.powi(self.place);
            if self.value.abs() < one / 2.0 {
                return "0".to_owned();
            }
            return self.scientific(one.copysign(self.value), 0);
        }
        self.scientific(self.value, (first - self.place).unsigned_abs() as usize)
    }

    fn scientific(&self, value: f64, decimals: usize) -> String {
        let text = format!("{value:.decimals$e}");
        let exponent = exponent_of(&text);
        let mantissa = text.split('e').next().unwrap_or_default();
        let sign = if mantissa.starts_with('-') { "-" } else { "" };
        let mut figures: String = mantissa.chars().filter(char::is_ascii_digit).collect();
        let whole = 1 + exponent.rem_euclid(3).unsigned_abs() as usize;
        while figures.len() < whole {
            figures.push('0');
        }
        let (before, after) = figures.split_at(whole);
        let after = match self.zeros {
            Zeros::Drop => after.trim_end_matches('0'),
            Zeros::Keep => after,
        };
        let point = if after.is_empty() { "" } else { "." };
        format!("{sign}{before}{point}{after}{}", power(exponent - exponent.rem_euclid(3)))
    }
}

impl fmt::Display for Figures {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&if self.reads_plain() { self.plain() } else { self.with_exponent() })
    }
}

/// `207.960 ± 0.012`, or with one exponent for both `(11.50 ± 0.20)e-6`.
pub(super) fn pair(value: f64, half_width: f64, place: i32) -> String {
    let larger = value.abs().max(half_width);
    let place = Figures::new(larger, place, Zeros::Keep).place;
    let in_place = |v: f64, place: i32| Figures { value: v, place, zeros: Zeros::Keep }.plain();
    if (Figures { value: larger, place, zeros: Zeros::Keep }).reads_plain() {
        return format!("{} ± {}", in_place(value, place), in_place(half_width, place));
    }
    let first = first_place(larger);
    let exponent = first - first.rem_euclid(3);
    // the exponent is taken off the decimal text, where that is exact
    let shifted = |v: f64| {
        format!("{v:e}").split_once('e').map_or(v, |(mantissa, own)| {
            let own: i32 = own.parse().unwrap_or(0);
            format!("{mantissa}e{}", own - exponent).parse().unwrap_or(v)
        })
    };
    let place = place - exponent;
    let (value, half_width) =
        (in_place(shifted(value), place), in_place(shifted(half_width), place));
    format!("({value} ± {half_width}){}", power(exponent))
}

fn power(exponent: i32) -> String {
    if exponent == 0 { String::new() } else { format!("e{exponent}") }
}

/// Place of the first figure; of zero, 0.
fn first_place(value: f64) -> i32 {
    exponent_of(&format!("{value:e}"))
}

/// The exponent of a number written with one.
fn exponent_of(text: &str) -> i32 {
    text.split_once('e').and_then(|(_, exponent)| exponent.parse().ok()).unwrap_or(0)
}

fn without_sign_of_zero(text: String) -> String {
    match text.strip_prefix('-') {
        Some(rest) if !rest.contains(|c: char| ('1'..='9').contains(&c)) => rest.to_owned(),
        _ => text,
    }
}
