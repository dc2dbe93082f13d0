//! Roundness from a part turned in a V-block (three-point measurement).

use std::f64::consts::PI;

use nalgebra::Complex;

use super::harmonics::{Harmonic, harmonics};
use super::traverse::{DialReading, Roundness, roundness};
use crate::metrology::MetrologyError;
use crate::metrology::error::within;

/// Where the dial touches, seen along the axis.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum DialPlace {
    /// Opposite the V, on its bisector: the summit setting.
    Summit,
    /// On the V's own side, on its bisector, between the flanks: the rider setting.
    Rider,
    /// Turned from the summit by this angle, counter-clockwise; 0 is the summit, π the rider.
    Turned {
        /// The angle from the summit.
        from_summit_rad: f64,
    },
}

/// A V-block and the dial on it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct VBlock {
    /// Included angle of the V.
    pub included_angle_rad: f64,
    /// Where the dial touches.
    pub dial: DialPlace,
}

/// Factors smaller than this in magnitude are called unseen: the correction would multiply the
/// reading's own noise by more than four.
const UNSEEN_BELOW: f64 = 0.25;

impl VBlock {
    /// What the dial shows of a lobing, over what is there: magnitude and change of phase.
    ///
    /// Equation (own derivation, first order in the departures): the centre moves so that both
    /// flanks keep touching. With the V opening upwards, flank contacts lie at
    /// `φ₁ = π + α/2` and `φ₂ = 2π − α/2`; `c·u(φₖ) + δₖ = 0` gives
    /// `c_y = (δ₁ + δ₂)/(2 sin α/2)`, `c_x = (δ₁ − δ₂)/(2 cos α/2)`, and the dial at direction ψ
    /// shows `δ(ψ) + c_x cos ψ + c_y sin ψ`. For a lobing n this is the factor
    /// `1 + sin ψ (e₁ + e₂)/(2 sin α/2) + cos ψ (e₁ − e₂)/(2 cos α/2)`,
    /// `eₖ = exp(i n (φₖ − ψ))`. At the summit it is real and equals
    /// `1 + cos(n(90° + α/2))/sin(α/2)`. Source of that form: ISO 4292:1985 (from memory).
    ///
    /// Worked values: 90° V, summit: n = 2, 3, 5, 7 give 1, 2, 2, 0; 60° V: 0, 3, 0, 0.
    ///
    /// # Errors
    /// An included angle outside 20 to 160 degrees, a dial angle that is not finite.
    pub fn factor(&self, lobes: usize) -> Result<(f64, f64), MetrologyError> {
        let alpha = self.included_angle_rad;
        within("included angle", alpha, (20.0_f64.to_radians(), 160.0_f64.to_radians()), "rad")?;
        let turned = match self.dial {
            DialPlace::Summit => 0.0,
            DialPlace::Rider => PI,
            DialPlace::Turned { from_summit_rad } => {
                within("dial angle", from_summit_rad, (-10.0, 10.0), "rad")?;
                from_summit_rad
            }
        };
        let n = lobes as f64;
        let psi = 0.5 * PI + turned;
        let half = 0.5 * alpha;
        let e1 = Complex::from_polar(1.0, n * (PI + half - psi));
        let e2 = Complex::from_polar(1.0, n * (2.0 * PI - half - psi));
        let factor = Complex::new(1.0, 0.0)
            + (e1 + e2) * (psi.sin() / (2.0 * half.sin()))
            + (e1 - e2) * (psi.cos() / (2.0 * half.cos()));
        Ok((factor.norm(), factor.arg()))
    }

    /// Whether the V sees a lobing well enough to correct for it.
    ///
    /// # Errors
    /// As [`factor`](Self::factor).
    pub fn sees(&self, lobes: usize) -> Result<bool, MetrologyError> {
        Ok(self.factor(lobes)?.0 >= UNSEEN_BELOW)
    }
}

/// Roundness from a V-block traverse.
#[derive(Debug, Clone, PartialEq)]
pub struct VBlockRoundness {
    /// The lobes that the V sees, corrected.
    pub seen: Vec<Harmonic>,
    /// Lobings within the reach of the readings that this V cannot see (or nearly not): any
    /// amount of these may be there besides.
    pub unseen: Vec<usize>,
    /// Greatest less least reading, m, uncorrected.
    pub total_reading_m: f64,
    /// Roundness of the profile put together from the lobes seen. It is a lower bound on what is
    /// there unless the unseen lobings are known to be absent.
    pub profile: Roundness,
}

/// Roundness from the dial on a part turned through a whole turn in a V-block.
///
/// `readings`: angle of the part's point under the dial, and dial reading, positive where the
/// dial's plunger is pushed away from the part's axis. Harmonics up to `highest` lobes (or what
/// the number of readings resolves) are divided by [`VBlock::factor`]; the corrected profile is
/// then put together at the angles read. Source: ISO 4292:1985 (from memory), own derivation.
///
/// # Errors
/// As [`harmonics`](super::harmonics()), [`VBlock::factor`] and [`roundness`].
pub fn v_block_roundness(
    block: &VBlock,
    readings: &[DialReading],
    highest: usize,
) -> Result<VBlockRoundness, MetrologyError> {
    let raw = harmonics(readings, highest)?;
    let mut seen = Vec::new();
    let mut unseen = Vec::new();
    for harmonic in raw.list.iter().filter(|h| h.lobes >= 2) {
        let (size, turn) = block.factor(harmonic.lobes)?;
        if size < UNSEEN_BELOW {
            unseen.push(harmonic.lobes);
            continue;
        }
        // Reading: A|F| cos(n(θ − peak) + arg F) = A|F| cos(n(θ − (peak − arg F/n))).
        let n = harmonic.lobes as f64;
        seen.push(Harmonic {
            lobes: harmonic.lobes,
            amplitude_m: harmonic.amplitude_m / size,
            peak_rad: (harmonic.peak_rad + turn / n).rem_euclid(2.0 * PI / n),
        });
    }
    let profile: Vec<DialReading> = readings
        .iter()
        .map(|r| DialReading {
            angle_rad: r.angle_rad,
            radial_m: seen
                .iter()
                .map(|h| h.amplitude_m * (h.lobes as f64 * (r.angle_rad - h.peak_rad)).cos())
                .sum(),
        })
        .collect();
    let (least, greatest) =
        readings.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), r| {
            (lo.min(r.radial_m), hi.max(r.radial_m))
        });
    Ok(VBlockRoundness {
        seen,
        unseen,
        total_reading_m: greatest - least,
        profile: roundness(&profile)?,
    })
}
