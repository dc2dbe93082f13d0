//! Length at the reference temperature from a reading taken warm or cold.

use super::MetrologyError;
use super::error::within;

/// The reference temperature of all lengths. Source: ISO 1:2022 (and its editions since 1931).
pub const REFERENCE_TEMPERATURE_DEG_C: f64 = 20.0;

/// A length as read, with the temperatures and expansions of part and gauge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WarmReading {
    /// What the gauge says, m.
    pub reading_m: f64,
    /// Temperature of the part.
    pub part_deg_c: f64,
    /// Temperature of the gauge.
    pub gauge_deg_c: f64,
    /// Linear expansion of the part's material, per kelvin.
    pub part_expansion_per_k: f64,
    /// Linear expansion of the gauge's scale or master, per kelvin.
    pub gauge_expansion_per_k: f64,
}

/// A length at 20 °C with its exact first derivatives.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ReferenceLength {
    /// Length of the part at 20 °C.
    pub length_m: f64,
    /// Length less reading, m.
    pub correction_m: f64,
    /// ∂L/∂reading, m per m.
    pub by_reading: f64,
    /// ∂L/∂(part temperature), m per kelvin.
    pub by_part_temperature: f64,
    /// ∂L/∂(gauge temperature), m per kelvin.
    pub by_gauge_temperature: f64,
    /// ∂L/∂(part expansion), m per (1/K).
    pub by_part_expansion: f64,
    /// ∂L/∂(gauge expansion), m per (1/K).
    pub by_gauge_expansion: f64,
}

/// Length of the part at 20 °C.
///
/// Equation: `L₂₀ = R (1 + α_g (t_g − 20)) / (1 + α_p (t_p − 20))`. The gauge is taken to be right
/// at 20 °C: at its own temperature its marks stand `1 + α_g (t_g − 20)` apart, so that is the
/// true length of a part that reads R; the part then shrinks to 20 °C. Derivatives are exact.
/// Source: ISO 1:2022 for the temperature; the relation is that of JCGM 100:2008 H.1.2, written
/// exactly. Valid from −50 to 300 °C (constant expansion is a common workshop figure, good to
/// some parts in 10⁶ over that range, not a property of matter) and expansion −5e-5 to 5e-4 per
/// kelvin.
///
/// Worked value: steel journal and steel gauge both at 5 °C: no correction at all. A 200 mm
/// bronze bore (18e-6) read with a steel gauge (11.5e-6) at 5 °C: +0.0195 mm.
///
/// # Errors
/// A figure that is not finite, a reading beyond 1000 m, temperatures or expansions out of the
/// valid range.
pub fn length_at_reference(warm: &WarmReading) -> Result<ReferenceLength, MetrologyError> {
    within("reading", warm.reading_m, (-1000.0, 1000.0), "m")?;
    within("part temperature", warm.part_deg_c, (-50.0, 300.0), "degC")?;
    within("gauge temperature", warm.gauge_deg_c, (-50.0, 300.0), "degC")?;
    within("part expansion", warm.part_expansion_per_k, (-5e-5, 5e-4), "1/K")?;
    within("gauge expansion", warm.gauge_expansion_per_k, (-5e-5, 5e-4), "1/K")?;
    let part_rise = warm.part_deg_c - REFERENCE_TEMPERATURE_DEG_C;
    let gauge_rise = warm.gauge_deg_c - REFERENCE_TEMPERATURE_DEG_C;
    let part_strain = warm.part_expansion_per_k * part_rise;
    let gauge_strain = warm.gauge_expansion_per_k * gauge_rise;
    let gauge = 1.0 + gauge_strain;
    let part = 1.0 + part_strain;
    let length_m = warm.reading_m * gauge / part;
    Ok(ReferenceLength {
        length_m,
        // (gauge − part)/part rather than a difference of two lengths, to keep the digits.
        correction_m: warm.reading_m * (gauge_strain - part_strain) / part,
        by_reading: gauge / part,
        by_part_temperature: -length_m * warm.part_expansion_per_k / part,
        by_gauge_temperature: warm.reading_m * warm.gauge_expansion_per_k / part,
        by_part_expansion: -length_m * part_rise / part,
        by_gauge_expansion: warm.reading_m * gauge_rise / part,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    const BRONZE: f64 = 18e-6;
    const STEEL: f64 = 11.5e-6;

    fn warm(part_deg_c: f64, gauge_deg_c: f64, part: f64) -> WarmReading {
        WarmReading {
            reading_m: 0.2,
            part_deg_c,
            gauge_deg_c,
            part_expansion_per_k: part,
            gauge_expansion_per_k: STEEL,
        }
    }

    #[test]
    fn like_on_like_needs_no_correction() {
        let length = length_at_reference(&warm(5.0, 5.0, STEEL)).unwrap();
        assert_eq!(length.correction_m, 0.0);
    }

    #[test]
    fn bronze_bore_with_a_steel_gauge_in_a_cold_shop() {
        // 200 mm × (18 − 11.5)e-6 × 15 K = 0.0195 mm (handbook expansions, from memory).
        let length = length_at_reference(&warm(5.0, 5.0, BRONZE)).unwrap();
        assert!((length.correction_m - 0.0195e-3).abs() < 1e-8);
    }

    #[test]
    fn derivatives_agree_with_differences() {
        let base = warm(37.0, 12.0, BRONZE);
        let exact = length_at_reference(&base).unwrap();
        let slope = |change: &dyn Fn(&mut WarmReading, f64), step: f64| {
            let at = |h: f64| {
                let mut moved = base;
                change(&mut moved, h);
                length_at_reference(&moved).unwrap().length_m
            };
            (at(step) - at(-step)) / (2.0 * step)
        };
        let close = |a: f64, b: f64| assert!((a - b).abs() <= 1e-7 * a.abs(), "{a} {b}");
        close(exact.by_reading, slope(&|w, h| w.reading_m += h, 1e-3));
        close(exact.by_part_temperature, slope(&|w, h| w.part_deg_c += h, 1.0));
        close(exact.by_gauge_temperature, slope(&|w, h| w.gauge_deg_c += h, 1.0));
        close(exact.by_part_expansion, slope(&|w, h| w.part_expansion_per_k += h, 1e-6));
        close(exact.by_gauge_expansion, slope(&|w, h| w.gauge_expansion_per_k += h, 1e-6));
    }

    #[test]
    fn kelvin_given_for_celsius_is_refused() {
        assert!(length_at_reference(&warm(293.15 + 100.0, 20.0, STEEL)).is_err());
        assert!(length_at_reference(&warm(f64::NAN, 20.0, STEEL)).is_err());
    }
}
