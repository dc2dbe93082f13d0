//! The steps of nominal size of ISO 286-1, Table 1 (main) and Tables 2 to 5 (intermediate).

use super::FitsError;

/// Upper ends of the main steps, mm.
pub(super) const MAIN_TO_MM: [i32; 21] = [
    3, 6, 10, 18, 30, 50, 80, 120, 180, 250, 315, 400, 500, 630, 800, 1000, 1250, 1600, 2000, 2500,
    3150,
];
/// Upper ends of the intermediate steps, mm; the first 25 run to 500 mm.
pub(super) const SUB_TO_MM: [i32; 41] = [
    3, 6, 10, 14, 18, 24, 30, 40, 50, 65, 80, 100, 120, 140, 160, 180, 200, 225, 250, 280, 315,
    355, 400, 450, 500, 560, 630, 710, 800, 900, 1000, 1120, 1250, 1400, 1600, 1800, 2000, 2240,
    2500, 2800, 3150,
];
/// How many main and intermediate steps lie at or below 500 mm.
pub(super) const MAIN_TO_500: usize = 13;
pub(super) const SUB_TO_500: usize = 25;

/// One step of nominal size: over `over_m`, up to and including `to_m`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SizeStep {
    /// Lower end, not included (m).
    pub over_m: f64,
    /// Upper end, included (m).
    pub to_m: f64,
    /// The intermediate step's lower end, not included (m).
    pub sub_over_m: f64,
    /// The intermediate step's upper end, included (m).
    pub sub_to_m: f64,
}

/// The main and intermediate step that a nominal size falls in.
///
/// Valid range: above 0 to 3.15 m. Steps are "over ... up to and including"; a size within one
/// part in 1e9 of a step's end counts as that end, so that `0.1 * 1.8` is 180 mm and not a hair
/// above it.
///
/// Source: ISO 286-1:2010, Table 1 and Tables 2 to 5, first columns.
///
/// # Errors
/// [`FitsError::SizeOutOfRange`] for anything else, NaN and infinities included.
pub fn size_step(size_m: f64) -> Result<SizeStep, FitsError> {
    let at = StepIndex::of(size_m)?;
    let edge = |ends: &[i32], i: usize| {
        let over = if i == 0 { 0 } else { ends[i - 1] };
        (f64::from(over) * 1e-3, f64::from(ends[i]) * 1e-3)
    };
    let (over_m, to_m) = edge(&MAIN_TO_MM, at.main);
    let (sub_over_m, sub_to_m) = edge(&SUB_TO_MM, at.sub);
    Ok(SizeStep { over_m, to_m, sub_over_m, sub_to_m })
}

/// Indices into the two step lists, and the size itself.
#[derive(Debug, Clone, Copy)]
pub(super) struct StepIndex {
    pub(super) main: usize,
    pub(super) sub: usize,
    pub(super) size_m: f64,
}

impl StepIndex {
    pub(super) fn of(size_m: f64) -> Result<Self, FitsError> {
        let fail = FitsError::SizeOutOfRange { size_m };
        if !size_m.is_finite() || size_m <= 0.0 {
            return Err(fail);
        }
        let size_mm = size_m * 1e3;
        let find = |ends: &[i32]| {
            ends.iter().position(|&end| size_mm <= f64::from(end) * (1.0 + 1e-9)).ok_or(fail)
        };
        Ok(Self { main: find(&MAIN_TO_MM)?, sub: find(&SUB_TO_MM)?, size_m })
    }

    pub(super) fn above_500(self) -> bool {
        self.main >= MAIN_TO_500
    }

    /// Sizes up to and including 1 mm, where some classes are not used.
    pub(super) fn to_1_mm(self) -> bool {
        self.size_m <= 0.001 * (1.0 + 1e-9)
    }

    /// Sizes up to and including 3 mm, where the delta rule gives nothing.
    pub(super) fn to_3_mm(self) -> bool {
        self.main == 0
    }
}
