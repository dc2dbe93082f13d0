//! Two digits written the wrong way round.

use super::Strength;
use crate::metrology::MetrologyError;
use crate::metrology::error::{all_finite, positive};

/// A swap of two neighbouring digits that brings a reading among its fellows.
#[derive(Debug, Clone, PartialEq)]
pub struct SwappedDigits {
    /// The text with the two digits swapped.
    pub meant_text: String,
    /// Its figure, in the unit of the text.
    pub meant: f64,
    /// Byte position in the text of the first of the two digits.
    pub at: usize,
    /// How strongly.
    pub strength: Strength,
}

/// Looks for the swap of two neighbouring digits (a decimal point between them does not part
/// them) that brings a decimal figure as written within `tolerance` of its fellows' median.
///
/// - `text`: the number as written, digits with at most one point and a leading sign (`203.14`).
/// - `fellows`: other readings of the same thing, in the same unit.
/// - `tolerance`: how far an honest reading may be from their median, same unit.
///
/// `None` if the reading is among its fellows as it stands, or no swap brings it there. If several
/// do, the closest is given, and the strength is weak. Common practice; own derivation.
///
/// # Errors
/// Fewer than two fellows, a figure that is not finite, a tolerance not above zero, a text that
/// is not a plain decimal number of at most 30 characters.
pub fn swapped_digits(
    text: &str,
    fellows: &[f64],
    tolerance: f64,
) -> Result<Option<SwappedDigits>, MetrologyError> {
    all_finite("fellow reading", fellows)?;
    positive("tolerance", tolerance, "")?;
    if fellows.len() < 2 {
        return Err(MetrologyError::TooFew {
            what: "fellow readings",
            need: 2,
            got: fellows.len(),
        });
    }
    let not_plain = MetrologyError::Undetermined { why: "the text is not a plain decimal number" };
    let bytes = text.as_bytes();
    let plain = bytes.len() <= 30
        && bytes.iter().enumerate().all(|(i, b)| {
            b.is_ascii_digit() || *b == b'.' || (i == 0 && (*b == b'-' || *b == b'+'))
        })
        && bytes.iter().filter(|b| **b == b'.').count() <= 1;
    if !plain {
        return Err(not_plain);
    }
    let as_written: f64 = text.parse().map_err(|_| not_plain)?;
    let middle = super::outlier::median(fellows);
    let spread = |v: f64| (v - middle).abs();
    if spread(as_written) <= tolerance {
        return Ok(None);
    }
    let digits: Vec<usize> = (0..bytes.len()).filter(|&i| bytes[i].is_ascii_digit()).collect();
    let mut found: Vec<(f64, SwappedDigits)> = Vec::new();
    for pair in digits.windows(2) {
        let (a, b) = (pair[0], pair[1]);
        if bytes[a] == bytes[b] {
            continue;
        }
        let mut swapped = bytes.to_vec();
        swapped.swap(a, b);
        let Ok(meant_text) = String::from_utf8(swapped) else { continue };
        let Ok(meant) = meant_text.parse::<f64>() else { continue };
        if spread(meant) <= tolerance {
            let strength = if spread(as_written) >= 5.0 * tolerance {
                Strength::Strong
            } else {
                Strength::Moderate
            };
            found.push((spread(meant), SwappedDigits { meant_text, meant, at: a, strength }));
        }
    }
    let several = found.len() > 1;
    Ok(found.into_iter().min_by(|a, b| a.0.total_cmp(&b.0)).map(|(_, mut swap)| {
        if several {
            swap.strength = Strength::Weak;
        }
        swap
    }))
}
