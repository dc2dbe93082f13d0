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

/// The place of the last of the first `count` figures of a positive number after rounding to that
/// many: for two figures of 0.0123 it is -3, of 0.0996 (which rounds to 0.10) it is -2. Of zero, 0.
pub(super) fn place_of_figures(value: f64, count: i32) -> i32 {
    if value == 0.0 {
        return 0;
    }
    exponent_after_rounding(value, count) - (count - 1)
}

/// Power of ten of the first figure of `value` rounded to `count` figures.
fn exponent_after_rounding(value: f64, count: i32) -> i32 {
    let text = format!("{:.*e}", usize::try_from(count - 1).unwrap_or(0), value);
    text.split_once('e').and_then(|(_, exponent)| exponent.parse().ok()).unwrap_or(0)
}

impl fmt::Display for Figures {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let size = self.value.abs();
        // plain figures as long as a person can count the zeros
        let plain =
            size < 1e9 && self.place <= 6 && (size >= 1e-4 || size == 0.0 || self.place >= -6);
        let text = if plain { self.plain() } else { self.with_exponent() };
        f.write_str(&text)
    }
}

impl Figures {
    fn plain(&self) -> String {
        let text = if self.place < 0 {
            let decimals = usize::try_from(-self.place).unwrap_or(0);
            let text = format!("{:.decimals$}", self.value);
            if self.zeros == Zeros::Drop {
                text.trim_end_matches('0').trim_end_matches('.').to_owned()
            } else {
                text
            }
        } else {
            // below 1e9 both the quotient and the product are exact whole numbers
            let step = 10_f64.powi(self.place);
            format!("{:.0}", (self.value / step).round() * step)
        };
        without_sign_of_zero(text)
    }

    /// With an exponent that is a multiple of three: `11.5e-6`.
    fn with_exponent(&self) -> String {
        let size = self.value.abs();
        let first = exponent_after_rounding(size, 17);
        let wanted = first - self.place;
        if size == 0.0 || wanted < -1 {
            return "0".to_owned();
        }
        if wanted < 0 {
            // the only figure printed is the one just above the first: nothing, or one of it
            let one = if size >= 0.5 * 10_f64.powi(self.place) { 1.0 } else { 0.0 };
            return Figures {
                value: (one * 10_f64.powi(self.place)).copysign(self.value),
                ..*self
            }
            .rounded();
        }
        let precision = usize::try_from(wanted).unwrap_or(0).min(16);
        self.scientific(precision)
    }

    fn rounded(&self) -> String {
        if self.value == 0.0 { "0".to_owned() } else { self.scientific(0) }
    }

    fn scientific(&self, precision: usize) -> String {
        let text = format!("{:.precision$e}", self.value);
        let Some((mantissa, exponent)) = text.split_once('e') else { return text };
        let exponent: i32 = exponent.parse().unwrap_or(0);
        let sign = if mantissa.starts_with('-') { "-" } else { "" };
        let mut figures: String = mantissa.chars().filter(char::is_ascii_digit).collect();
        let whole = 1 + usize::try_from(exponent.rem_euclid(3)).unwrap_or(0);
        while figures.len() < whole {
            figures.push('0');
        }
        let (before, after) = figures.split_at(whole);
        let after = if self.zeros == Zeros::Drop { after.trim_end_matches('0') } else { after };
        let point = if after.is_empty() { "" } else { "." };
        let exponent = exponent - exponent.rem_euclid(3);
        if exponent == 0 {
            format!("{sign}{before}{point}{after}")
        } else {
            format!("{sign}{before}{point}{after}e{exponent}")
        }
    }
}

fn without_sign_of_zero(text: String) -> String {
    match text.strip_prefix('-') {
        Some(rest) if !rest.contains(|c: char| ('1'..='9').contains(&c)) => rest.to_owned(),
        _ => text,
    }
}
