//! Wrong unit, and a thimble or anvil set wrong.

use super::Strength;
use crate::metrology::MetrologyError;
use crate::metrology::error::{positive, within};

/// What a reading is expected to be, from the drawing, the last record or its fellows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Expected {
    /// The expected figure.
    pub value_m: f64,
    /// How far an honest reading may be from it (wear, form, the gauge): half width, above zero.
    pub within_m: f64,
}

impl Expected {
    fn check(&self, reading_m: f64) -> Result<(), MetrologyError> {
        within("reading", reading_m, (-1000.0, 1000.0), "m")?;
        within("expected size", self.value_m, (-1000.0, 1000.0), "m")?;
        positive("expected spread", self.within_m, "m")
    }

    fn holds(&self, reading_m: f64) -> bool {
        (reading_m - self.value_m).abs() <= self.within_m
    }

    /// Strength from how close the mended figure comes, against how wide the net is: a mend that
    /// moves the figure by many times what is allowed and lands well inside is no accident.
    fn strength(&self, reading_m: f64, meant_m: f64) -> Strength {
        let miss = (meant_m - self.value_m).abs() / self.within_m;
        let moved = (meant_m - reading_m).abs() / self.within_m;
        if miss <= 0.5 && moved >= 10.0 {
            Strength::Strong
        } else if moved >= 4.0 {
            Strength::Moderate
        } else {
            Strength::Weak
        }
    }
}

/// Which unit slip.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum UnitSlipKind {
    /// Inches taken for millimetres: the figure is 25.4 times too small.
    InchesAsMillimetres,
    /// Millimetres taken for inches: 25.4 times too large.
    MillimetresAsInches,
    /// Thousandths of an inch taken for hundredths of a millimetre: 2.54 times too small.
    ThouAsHundredths,
    /// Hundredths of a millimetre taken for thousandths of an inch: 2.54 times too large.
    HundredthsAsThou,
    /// The decimal point one place too far right or left, or more.
    DecimalPoint {
        /// Power of ten by which the reading is too large.
        places: i8,
    },
    /// A radius written for a diameter.
    RadiusForDiameter,
    /// A diameter written for a radius.
    DiameterForRadius,
}

/// A reading that would be as expected in another unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct UnitSlip {
    /// Which slip.
    pub kind: UnitSlipKind,
    /// The figure perhaps meant.
    pub meant_m: f64,
    /// How strongly.
    pub strength: Strength,
}

const UNIT_SLIPS: [(UnitSlipKind, f64); 14] = [
    (UnitSlipKind::InchesAsMillimetres, 1.0 / 25.4),
    (UnitSlipKind::MillimetresAsInches, 25.4),
    (UnitSlipKind::ThouAsHundredths, 1.0 / 2.54),
    (UnitSlipKind::HundredthsAsThou, 2.54),
    (UnitSlipKind::DecimalPoint { places: 1 }, 10.0),
    (UnitSlipKind::DecimalPoint { places: -1 }, 0.1),
    (UnitSlipKind::DecimalPoint { places: 2 }, 100.0),
    (UnitSlipKind::DecimalPoint { places: -2 }, 0.01),
    (UnitSlipKind::DecimalPoint { places: 3 }, 1000.0),
    (UnitSlipKind::DecimalPoint { places: -3 }, 0.001),
    (UnitSlipKind::RadiusForDiameter, 0.5),
    (UnitSlipKind::DiameterForRadius, 2.0),
    (UnitSlipKind::DecimalPoint { places: 4 }, 10_000.0),
    (UnitSlipKind::DecimalPoint { places: -4 }, 0.0001),
];

/// Whether a reading that is not as expected would be so in another unit.
///
/// Equation: `meant = reading / ratio` for each ratio of [`UnitSlipKind`]; found if the meant
/// figure is within the expectation; the closest wins. Common practice. The inch is 25.4 mm
/// exactly (international yard and pound agreement, 1959).
///
/// `None` if the reading is as expected, or no slip explains it.
///
/// # Errors
/// A figure that is not finite or beyond 1000 m, an expected spread not above zero.
pub fn unit_slip(reading_m: f64, expected: &Expected) -> Result<Option<UnitSlip>, MetrologyError> {
    expected.check(reading_m)?;
    if expected.holds(reading_m) {
        return Ok(None);
    }
    let best = UNIT_SLIPS
        .iter()
        .map(|&(kind, ratio)| (kind, reading_m / ratio))
        .filter(|&(_, meant_m)| expected.holds(meant_m))
        .min_by(|a, b| (a.1 - expected.value_m).abs().total_cmp(&(b.1 - expected.value_m).abs()));
    Ok(best.map(|(kind, meant_m)| UnitSlip {
        kind,
        meant_m,
        strength: expected.strength(reading_m, meant_m),
    }))
}

/// A reading that is off by a whole number of thimble turns or anvils.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SettingSlip {
    /// The step slipped: 0.025 in (one turn of an inch thimble), 0.5 mm (one of a metric), 1 in
    /// or 25 mm (one anvil or extension rod), in m.
    pub step_m: f64,
    /// How many steps the reading is too large; negative if too small.
    pub steps: i32,
    /// The figure perhaps meant.
    pub meant_m: f64,
    /// How strongly.
    pub strength: Strength,
}

/// Steps with the greatest number of them that a slip is believed to make.
const SETTING_STEPS: [(f64, i32); 4] = [(0.000_635, 4), (0.000_5, 4), (0.025_4, 2), (0.025, 2)];

/// Whether a reading that is not as expected is off by one or a few thimble turns or one or two
/// anvils.
///
/// Equation: `meant = reading − steps · step`; found if the meant figure is within the
/// expectation; fewest steps win, then the closest. Common practice.
///
/// `None` if the reading is as expected, no slip explains it, or the expectation is wider than
/// half a step, so that it could tell nothing.
///
/// # Errors
/// As [`unit_slip`].
pub fn setting_slip(
    reading_m: f64,
    expected: &Expected,
) -> Result<Option<SettingSlip>, MetrologyError> {
    expected.check(reading_m)?;
    if expected.holds(reading_m) {
        return Ok(None);
    }
    let mut best: Option<(i32, f64, SettingSlip)> = None;
    for (step_m, most) in SETTING_STEPS {
        if expected.within_m >= 0.5 * step_m {
            continue;
        }
        for steps in (1..=most).flat_map(|n| [n, -n]) {
            let meant_m = reading_m - f64::from(steps) * step_m;
            if !expected.holds(meant_m) {
                continue;
            }
            let miss = (meant_m - expected.value_m).abs();
            let better = best.as_ref().is_none_or(|(n, m, _)| {
                (steps.abs(), miss).partial_cmp(&(*n, *m)) == Some(std::cmp::Ordering::Less)
            });
            if better {
                let one = if steps.abs() == 1 { Strength::Strong } else { Strength::Moderate };
                // The net is as wide as the expectation on either side of each step: the finer
                // it is against the step, the less a chance hit.
                let fine = if expected.within_m <= 0.1 * step_m {
                    Strength::Strong
                } else {
                    Strength::Moderate
                };
                let found = SettingSlip { step_m, steps, meant_m, strength: one.min(fine) };
                best = Some((steps.abs(), miss, found));
            }
        }
    }
    Ok(best.map(|(_, _, slip)| slip))
}
