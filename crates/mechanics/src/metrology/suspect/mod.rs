//! Readings that look like a slip: wrong unit, a thimble turn, swapped digits, one among its
//! fellows far out, a drift, the same diameter read two ways.
//!
//! The detectors judge figures alone and change nothing. Each finding says what figure was perhaps
//! meant and how strongly the figures speak for it; a person decides. A reading that fits a slip
//! and is nevertheless right is common enough with worn parts.

mod digits;
mod drift;
mod opposed;
mod outlier;
mod slips;

pub use digits::{SwappedDigits, swapped_digits};
pub use drift::{Drift, DriftReading, drift};
pub use opposed::{Opposed, OpposedReading, opposed_disagreements};
pub use outlier::{Outlier, OutlierTest, outliers};
pub use slips::{Expected, SettingSlip, UnitSlip, UnitSlipKind, setting_slip, unit_slip};

/// How strongly the figures speak for a finding.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Strength {
    /// Worth a look.
    Weak,
    /// Likely.
    Moderate,
    /// Hardly explained otherwise.
    Strong,
}

#[cfg(test)]
mod tests;
