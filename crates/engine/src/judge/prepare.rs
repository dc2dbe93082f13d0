//! One reading brought to 20 degC (ISO 1), with everything its doubt comes from.

use super::feature::Repeatability;
use super::source::Source;
use crate::model::{Engine, Feature, FeatureIx, GaugeIx, MaterialIx};
use mechanics::metrology::temperature::{WarmReading, length_at_reference};

/// Expansion of a steel gauge whose material is not described, per kelvin (handbook value for
/// carbon steel; common practice to take it for micrometers).
const STEEL_PER_K: f64 = 11.5e-6;

/// A reading at 20 degC.
#[derive(Clone, Debug)]
pub(super) struct Prepared {
    /// Position in the engine's readings.
    pub reading: u32,
    /// Size at 20 degC, metres.
    pub size_m: f64,
    /// Gauge.
    pub gauge: GaugeIx,
    /// Variance of repeatability and last figure, square metres.
    pub own_variance_m2: f64,
    /// Degrees of freedom of that.
    pub own_degrees_of_freedom: f64,
    gauge_m: f64,
    part_material: Option<(MaterialIx, f64)>,
    gauge_material: Option<(MaterialIx, f64)>,
    temperature_m: f64,
    assumed: bool,
    soak_m: f64,
}

impl Prepared {
    /// Contributions shared with other readings, metres: sensitivity times standard uncertainty.
    pub(super) fn shared(&self, ix: FeatureIx) -> impl Iterator<Item = (Source, f64)> + use<> {
        let temperature =
            if self.assumed { Source::AssumedTemperature } else { Source::Thermometer };
        [
            Some((Source::Gauge(self.gauge), self.gauge_m)),
            self.part_material.map(|(m, c)| (Source::Expansion(m), c)),
            self.gauge_material.map(|(m, c)| (Source::Expansion(m), c)),
            Some((temperature, self.temperature_m)),
            Some((Source::Soak(ix), self.soak_m)),
        ]
        .into_iter()
        .flatten()
    }
}

/// Brings a reading to 20 degC. `None` when it names no gauge: its doubt cannot be had.
pub(super) fn prepare(
    engine: &Engine,
    feature: &Feature,
    reading: u32,
    pooled: &[Repeatability],
) -> Option<Prepared> {
    let r = &engine.readings[reading as usize];
    let gauge_ix = r.gauge?;
    let gauge = engine.gauge(gauge_ix);
    let shop = &engine.workshop;
    let assumed = r.temperature_c.is_none();
    let above_k = r.temperature_c.map_or(shop.temperature_c, f64::from) - 20.0;

    let part = engine.parts[feature.part.index()].material;
    let part_per_k = part.map(|m| engine.materials[m.index()].expansion_per_k);
    let gauge_per_k =
        gauge.material.map_or(STEEL_PER_K, |m| engine.materials[m.index()].expansion_per_k);
    let read_m = r.si + gauge.correction_m;
    // A part of unknown material is taken to move with the gauge; the caution says so.
    let corrected = length_at_reference(&WarmReading {
        reading_m: read_m,
        part_deg_c: 20.0 + above_k,
        gauge_deg_c: 20.0 + above_k,
        part_expansion_per_k: part_per_k.unwrap_or(gauge_per_k),
        gauge_expansion_per_k: gauge_per_k,
    })
    .ok()?;
    let doubt = |m: MaterialIx| engine.materials[m.index()].expansion_doubt_per_k;
    let temperature_k = if assumed { shop.temperature_doubt_k } else { shop.thermometer_k };
    let (own_m, own_degrees_of_freedom) =
        pooled.get(gauge_ix.index()).copied().unwrap_or_default().of_one(gauge.repeat_m);
    Some(Prepared {
        reading,
        size_m: corrected.length_m,
        gauge: gauge_ix,
        own_variance_m2: (own_m * own_m + r.resolution_si * r.resolution_si / 12.0)
            / f64::from(r.repeats),
        own_degrees_of_freedom,
        // Limits of error as a rectangular distribution, JCGM 100:2008 4.3.7.
        gauge_m: gauge.error_m / 3f64.sqrt(),
        part_material: part.map(|m| (m, corrected.by_part_expansion * doubt(m))),
        gauge_material: gauge.material.map(|m| (m, corrected.by_gauge_expansion * doubt(m))),
        temperature_m: (corrected.by_part_temperature + corrected.by_gauge_temperature)
            * temperature_k,
        assumed,
        soak_m: corrected.by_gauge_temperature * shop.soak_doubt_k,
    })
}
