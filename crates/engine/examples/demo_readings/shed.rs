//! The shed: gauges with their own errors, parts and gauges as cold as the day, and a person who
//! writes down what the gauge shows.

use super::chance::Chance;
use super::truth::Shape;
use engine::model::{Engine, FeatureIx, FeatureKind, Gauge, GaugeIx, Metal};

/// What is out of the ordinary in the readings.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Slips {
    /// Feature gauged with this gauge whatever would be usual.
    pub(crate) gauge: &'static [(&'static str, &'static str)],
    /// Features not gauged: not drawn off, or still in the furnace queue.
    pub(crate) left_out: &'static [&'static str],
    /// One reading of a feature, counted from 0, that goes wrong.
    pub(crate) slips: &'static [(&'static str, usize, Slip)],
    /// Features read in a mixed order.
    pub(crate) mixed: &'static [&'static str],
}

/// How a reading goes wrong.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Slip {
    /// The right figure under the wrong unit.
    WrongUnit,
    /// Two neighbouring digits exchanged, counted among the digits.
    Transposed(usize),
    /// The decimal point one place to the right.
    Decimal,
    /// One turn of the thimble too many.
    ThimbleTurn,
    /// All readings of the feature drift by this in all, thou.
    Drift(f64),
}

/// Truth about the shed that the readings share.
pub(crate) struct Shed<'a> {
    engine: &'a Engine,
    seed: u64,
    thermometer_k: f64,
    gauge_errors_m: Vec<f64>,
    expansions_per_k: Vec<f64>,
}

/// One reading, before it is written.
#[derive(Clone, Debug)]
pub(crate) struct Taken {
    /// Feature.
    pub(crate) feature: FeatureIx,
    /// Station, if there are any.
    pub(crate) station: Option<usize>,
    /// Direction, degrees, for round surfaces.
    pub(crate) direction_deg: Option<u32>,
    /// What the gauge shows, metres.
    pub(crate) shown_m: f64,
    /// Gauge.
    pub(crate) gauge: GaugeIx,
    /// Day of the campaign.
    pub(crate) day: usize,
    /// Thermometer, degrees Celsius.
    pub(crate) temperature_c: f64,
    /// What goes wrong in writing it down.
    pub(crate) slip: Option<Slip>,
    /// From a dial traverse: a deviation of the radius.
    pub(crate) dial: bool,
}

impl<'a> Shed<'a> {
    /// A shed with its errors drawn: they are what the engine's description says they may be.
    pub(crate) fn new(engine: &'a Engine, seed: u64) -> Shed<'a> {
        let gauge_errors_m = engine
            .gauges
            .iter()
            .map(|g| Chance::of(seed, &format!("error of {}", g.id)).between(-g.error_m, g.error_m))
            .collect();
        let expansions_per_k = engine
            .materials
            .iter()
            .map(|m| {
                m.expansion_per_k
                    + Chance::of(seed, &format!("expansion of {}", m.id))
                        .normal(m.expansion_doubt_per_k)
            })
            .collect();
        let thermometer_k = Chance::of(seed, "thermometer").normal(engine.workshop.thermometer_k);
        Shed { engine, seed, thermometer_k, gauge_errors_m, expansions_per_k }
    }

    /// Takes all the readings of one feature.
    pub(crate) fn gauge(
        &self,
        ix: FeatureIx,
        shape: &Shape,
        day: usize,
        slips: &Slips,
    ) -> Vec<Taken> {
        let engine = self.engine;
        let feature = engine.feature(ix);
        if slips.left_out.contains(&feature.id.as_str()) {
            return Vec::new();
        }
        let told = slips.gauge.iter().find(|(id, _)| *id == feature.id);
        let Some(gauge_ix) = (match told {
            Some((_, gauge)) => engine.gauge_by_id(gauge),
            None => usual_gauge(engine, ix, shape.size_m),
        }) else {
            return Vec::new();
        };
        let mut chance = Chance::of(self.seed, &format!("readings of {}", feature.id));
        let mut places = places(engine, ix);
        if slips.mixed.contains(&feature.id.as_str()) {
            for i in (1..places.len()).rev() {
                places.swap(i, chance.below(i + 1));
            }
        }
        let part_c = shed_temperature(self.seed, day) + chance.normal(0.3);
        let soak_k = chance.normal(engine.workshop.soak_doubt_k);
        let count = places.len();
        places
            .into_iter()
            .enumerate()
            .map(|(i, (station, direction_deg))| {
                let last = feature.stations.len().saturating_sub(1) as f64;
                let place = station
                    .map_or(0.0, |s| if last > 0.0 { 2.0 * s as f64 / last - 1.0 } else { 0.0 });
                let direction = f64::from(direction_deg.unwrap_or(0)).to_radians();
                let slip = slips
                    .slips
                    .iter()
                    .find(|(id, at, slip)| {
                        *id == feature.id && (*at == i || matches!(slip, Slip::Drift(_)))
                    })
                    .map(|(_, _, slip)| *slip);
                let drifted = match slip {
                    Some(Slip::Drift(thou)) => {
                        thou * super::truth::THOU * i as f64 / (count.max(2) - 1) as f64
                    }
                    Some(Slip::ThimbleTurn) => 0.025 * 25.4e-3,
                    _ => 0.0,
                };
                let size = shape.at(place, direction);
                let shown_m = self.shown(ix, gauge_ix, size, part_c, part_c + soak_k)
                    + chance.normal(engine.gauge(gauge_ix).repeat_m)
                    + drifted;
                Taken {
                    feature: ix,
                    station,
                    direction_deg,
                    shown_m,
                    gauge: gauge_ix,
                    day,
                    temperature_c: part_c + self.thermometer_k,
                    slip: slip.filter(|s| {
                        matches!(s, Slip::WrongUnit | Slip::Transposed(_) | Slip::Decimal)
                    }),
                    dial: false,
                }
            })
            .collect()
    }

    /// A dial traverse round the middle station: `count` points, the journal turned between its
    /// centres, which lie a little off its axis. Three lobes that no two-point gauge can see.
    pub(crate) fn traverse(
        &self,
        ix: FeatureIx,
        shape: &Shape,
        day: usize,
        count: u32,
        lobes_m: f64,
    ) -> Vec<Taken> {
        let feature = self.engine.feature(ix);
        let Some(gauge) = self.engine.gauge_by_id("dial") else { return Vec::new() };
        let mut chance = Chance::of(self.seed, &format!("traverse of {}", feature.id));
        let temperature_c = shed_temperature(self.seed, day) + self.thermometer_k;
        let off_m = chance.between(1.0, 3.0) * super::truth::THOU;
        (0..count)
            .map(|i| {
                let direction_deg = i * 360 / count.max(1);
                let a = f64::from(direction_deg).to_radians();
                let radius = 0.25 * shape.ovality_m * (2.0 * (a - shape.largest_at_rad)).cos()
                    + 0.5 * lobes_m * (3.0 * a).cos()
                    + off_m * (a - 0.7).cos();
                Taken {
                    feature: ix,
                    station: Some(feature.stations.len() / 2),
                    direction_deg: Some(direction_deg),
                    shown_m: radius + chance.normal(self.engine.gauge(gauge).repeat_m),
                    gauge,
                    day,
                    temperature_c,
                    slip: None,
                    dial: true,
                }
            })
            .collect()
    }

    /// What a gauge without repeatability shows of a size: the part is as long as its temperature
    /// makes it, the gauge's own scale likewise.
    fn shown(&self, ix: FeatureIx, gauge: GaugeIx, size_m: f64, part_c: f64, gauge_c: f64) -> f64 {
        let engine = self.engine;
        let expansion = |m: Option<engine::model::MaterialIx>| {
            m.map_or(11.5e-6, |m| self.expansions_per_k[m.index()])
        };
        let part = expansion(engine.parts[engine.feature(ix).part.index()].material);
        let own = expansion(engine.gauge(gauge).material);
        size_m * (1.0 + part * (part_c - 20.0)) / (1.0 + own * (gauge_c - 20.0))
            + self.gauge_errors_m[gauge.index()]
    }
}

/// Temperature in the shed on a day, degrees Celsius: 4 to 17 over the winter.
pub(crate) fn shed_temperature(seed: u64, day: usize) -> f64 {
    let mut chance = Chance::of(seed, &format!("day {day}"));
    (10.5 + 3.5 * (day as f64 / 3.0).sin() + chance.between(-3.0, 3.0)).clamp(4.0, 17.0)
}

/// Where a feature is gauged: stations and, on round surfaces, directions.
pub(crate) fn places(engine: &Engine, ix: FeatureIx) -> Vec<(Option<usize>, Option<u32>)> {
    let feature = engine.feature(ix);
    let stations: Vec<Option<usize>> = match feature.stations.len() {
        0 => vec![None],
        n => (0..n).map(Some).collect(),
    };
    if !feature.kind.is_round() {
        // A single distance is read twice, in earnest three times where it is long.
        let times = match (feature.stations.is_empty(), feature.kind) {
            (false, _) => 1,
            (true, FeatureKind::Length | FeatureKind::Centres) => 3,
            (true, _) => 2,
        };
        return stations.iter().flat_map(|s| (0..times).map(|_| (*s, None))).collect();
    }
    let directions: &[u32] = match (feature.kind, stations.len()) {
        (FeatureKind::Journal | FeatureKind::Bore | FeatureKind::Cylinder, 3) => &[0, 45, 90, 135],
        (FeatureKind::Journal | FeatureKind::Bore, _) => &[0, 60, 120],
        (_, 1) if feature.stations.is_empty() => &[0, 60, 120],
        _ => &[0, 90],
    };
    stations.iter().flat_map(|s| directions.iter().map(|d| (*s, Some(*d)))).collect()
}

/// The gauge a fitter would reach for: one that takes the size and suits the surface, with the
/// smallest limits of error.
pub(crate) fn usual_gauge(engine: &Engine, ix: FeatureIx, size_m: f64) -> Option<GaugeIx> {
    let feature = engine.feature(ix);
    let suits = |g: &Gauge| {
        let kind = g.kind.as_str();
        let inside = kind.contains("inside") || kind.contains("bore");
        let by_surface = if feature.kind == FeatureKind::Stand {
            kind.contains("rule")
        } else if [".spigot", ".throw"].iter().any(|end| feature.id.ends_with(end)) && size_m < 0.15
        {
            kind.contains("depth")
        } else if feature.id.ends_with(".tread") {
            kind.contains("wheel")
        } else if feature.kind.metal() == Metal::Outside {
            let gap = !feature.kind.is_round();
            inside && !(gap && kind.contains("bore")) && (gap || !kind.contains("gaps"))
        } else {
            !inside
                && !["depth", "wheel", "dial", "feeler", "rule"].iter().any(|w| kind.contains(w))
        };
        let in_range = g.from_m.is_none_or(|a| size_m >= a) && g.to_m.is_none_or(|b| size_m <= b);
        by_surface && in_range
    };
    (0..engine.gauges.len())
        .filter(|i| suits(&engine.gauges[*i]) && !engine.gauges[*i].kind.contains("second"))
        .min_by(|a, b| engine.gauges[*a].error_m.total_cmp(&engine.gauges[*b].error_m))
        .and_then(|i| engine.gauge_by_id(&engine.gauges[i].id))
}
