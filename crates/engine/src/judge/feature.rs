//! What the readings of one feature say of it.

use super::estimate::Estimate;
use super::prepare::{Prepared, prepare};
use super::source::Source;
use super::suspect::{Suspicion, suspicions};
use crate::model::{
    Condition, Engine, Feature, FeatureIx, GaugeIx, Measure, Metal, ReadingKind, STATION_UNSAID,
};
use mechanics::metrology::Weighted;
use mechanics::metrology::circle::{DialReading, Roundness, roundness};
use mechanics::metrology::form::{
    CylinderForm, DiameterReading, FaceReading, cylinder_form, faces_form,
};
use quantity::Uncertain;
use std::collections::BTreeMap;

/// Pooled repeatability of a gauge.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Repeatability {
    /// Sum of squares about the means of repeats, square metres.
    pub sum_of_squares_m2: f64,
    /// Its degrees of freedom.
    pub degrees_of_freedom: f64,
}

impl Repeatability {
    /// Repeats needed before the gauge's own figure replaces the one in its description.
    const ENOUGH: f64 = 5.0;

    /// Standard deviation of one reading and its degrees of freedom (infinite when it comes from
    /// the gauge's description).
    pub fn of_one(self, described_m: f64) -> (f64, f64) {
        if self.degrees_of_freedom >= Self::ENOUGH {
            ((self.sum_of_squares_m2 / self.degrees_of_freedom).sqrt(), self.degrees_of_freedom)
        } else {
            (described_m, f64::INFINITY)
        }
    }
}

/// Something a person must know beside a result.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Caution {
    /// Two-point diameters cannot see an odd-lobed shape.
    OddLobesUnseen,
    /// One direction only: ovality cannot be seen.
    OneDirection,
    /// One station only: taper cannot be seen.
    OneStation,
    /// Readings without a gauge were counted with the doubt of none.
    NoGauge(usize),
    /// Readings rest on gauges out of calibration on the day.
    GaugeLapsed(GaugeIx, usize),
    /// Readings set aside as slips.
    SetAside(usize),
    /// The part has no material: not brought to 20 degC.
    NoMaterial,
    /// Temperatures were assumed.
    TemperatureAssumed(usize),
}

impl Caution {
    /// In words.
    pub fn words(&self, engine: &Engine) -> String {
        match self {
            Caution::OddLobesUnseen => {
                mechanics::metrology::form::Caution::OddLobesUnseen.text().to_owned()
            }
            Caution::OneDirection => {
                "read in one direction only: ovality cannot be seen".to_owned()
            }
            Caution::OneStation => "read at one station only: taper cannot be seen".to_owned(),
            Caution::NoGauge(n) => {
                format!("{n} reading(s) name no gauge and were left out: their doubt is unknown")
            }
            Caution::GaugeLapsed(g, n) => format!(
                "{n} reading(s) were taken with {} after its calibration ran out",
                engine.gauge(*g).id
            ),
            Caution::SetAside(n) => {
                format!("{n} reading(s) set aside as slips; see the suspicious readings")
            }
            Caution::NoMaterial => {
                "the part has no material: the size is not brought to 20 degC".to_owned()
            }
            Caution::TemperatureAssumed(n) => {
                format!("{n} reading(s) give no temperature; the workshop's was assumed")
            }
        }
    }
}

/// What the readings of one feature say.
#[derive(Clone, Debug, Default)]
pub struct FeatureState {
    /// Mean size at 20 degC.
    pub size: Option<Estimate>,
    /// Largest single place.
    pub largest: Option<Estimate>,
    /// Smallest single place.
    pub smallest: Option<Estimate>,
    /// Size at which it cleans up all over: largest true cylinder in a journal, smallest true
    /// bore round a hole.
    pub clean_up: Option<Estimate>,
    /// Mean size in the direction that closes (split bearings), and across it.
    pub along_and_across: Option<(Estimate, Estimate)>,
    /// Ovality, taper, barrel, roundness, wear.
    pub form: Vec<(Measure, Estimate)>,
    /// Size last time.
    pub last: Option<Estimate>,
    /// Metal lost since made; negative when it grew.
    pub worn_since_made: Option<Estimate>,
    /// Metal lost since last time.
    pub worn_since_last: Option<Estimate>,
    /// Roundness from dials, station by station: station, radius deviations.
    pub dials: Vec<(u16, mechanics::metrology::circle::Roundness)>,
    /// Positions in the engine's readings of those that counted.
    pub counted: Vec<u32>,
    /// Readings that look like slips.
    pub suspicions: Vec<Suspicion>,
    /// Things to know.
    pub cautions: Vec<Caution>,
    /// Worst condition found.
    pub condition: Option<Condition>,
    /// Degrees of freedom of its own repeatability.
    pub own_degrees_of_freedom: f64,
    /// Gauges used in this overhaul.
    pub gauges: Vec<GaugeIx>,
    /// Contributions to the pooled repeatability of each gauge.
    pub repeats: Vec<(GaugeIx, Repeatability)>,
    /// Why there is no size.
    pub missing: Option<&'static str>,
}

impl FeatureState {
    /// A form measure.
    pub fn measure(&self, measure: Measure) -> Option<&Estimate> {
        match measure {
            Measure::Size => self.size.as_ref(),
            _ => self.form.iter().find(|(m, _)| *m == measure).map(|(_, e)| e),
        }
    }

    /// Any reading behind it was taken with a gauge out of calibration.
    pub fn lapsed(&self) -> bool {
        self.cautions.iter().any(|c| matches!(c, Caution::GaugeLapsed(..)))
    }
}

/// The repeats of one feature, for pooling: rows that name the same station, direction, gauge and
/// day are repeats of one another.
pub(super) fn repeats_of(engine: &Engine, rows: &[u32]) -> Vec<(GaugeIx, Repeatability)> {
    type SamePlace = (GaugeIx, u16, u64, Option<crate::model::Date>);
    let mut read: Vec<(SamePlace, f64)> = rows
        .iter()
        .filter_map(|row| {
            let r = &engine.readings[*row as usize];
            // Without station and direction nobody can say that it was the same place.
            let placed = r.station != STATION_UNSAID || r.direction_rad.is_finite();
            let counts = placed && !r.struck && r.kind == ReadingKind::Across;
            let gauge = r.gauge.filter(|_| counts)?;
            Some(((gauge, r.station, r.direction_rad.to_bits(), r.when), r.si))
        })
        .collect();
    // Keeps the order of the readings of one place.
    read.sort_by_key(|(place, _)| *place);
    let groups = read.chunk_by(|a, b| a.0 == b.0).map(|same| {
        let (mut n, mut mean, mut squares) = (0.0, 0.0, 0.0);
        for (_, si) in same {
            // Welford: a size of 200 mm and a spread of a micrometre would cancel otherwise.
            n += 1.0;
            let from = si - mean;
            mean += from / n;
            squares += from * (si - mean);
        }
        (same[0].0.0, n, squares)
    });
    let mut out: BTreeMap<GaugeIx, Repeatability> = BTreeMap::new();
    for (gauge, n, squares) in groups {
        // A spread beyond a hundred times the gauge's repeatability is a slip, not a repeat.
        let described = engine.gauge(gauge).repeat_m.max(1e-9);
        if n >= 2.0 && squares / (n - 1.0) < (100.0 * described).powi(2) {
            let entry = out.entry(gauge).or_default();
            entry.sum_of_squares_m2 += squares;
            entry.degrees_of_freedom += n - 1.0;
        }
    }
    out.into_iter().collect()
}

/// Judges one feature. `rows` are the positions of its readings; `pooled` tells the repeatability
/// of every gauge, `repeats` what this feature adds to it ([`repeats_of`]).
pub(super) fn judge_feature(
    engine: &Engine,
    ix: FeatureIx,
    rows: &[u32],
    pooled: &[Repeatability],
    repeats: Vec<(GaugeIx, Repeatability)>,
    findings: &[Condition],
) -> FeatureState {
    let feature = engine.feature(ix);
    let mut state = FeatureState {
        repeats,
        condition: findings.iter().copied().max_by_key(|c| (c.condemns(), *c as u8)),
        own_degrees_of_freedom: f64::INFINITY,
        ..FeatureState::default()
    };
    let (current, earlier) = split_by_overhaul(engine, rows);
    let last_size = size_last_time(engine, ix, feature, &earlier, pooled);

    let across: Vec<u32> = current
        .iter()
        .copied()
        .filter(|r| engine.readings[*r as usize].kind == ReadingKind::Across)
        .collect();
    let expected =
        last_size.as_ref().map(|e| e.value.value()).or(feature.as_made.as_ref().map(|q| q.si()));
    state.suspicions = suspicions(engine, ix, &across, expected);
    let mut set_aside: Vec<u32> =
        state.suspicions.iter().filter(|s| s.set_aside).map(|s| s.reading).collect();
    // In order already, for suspicions are.
    set_aside.sort_unstable();
    let prepared: Vec<Prepared> = across
        .iter()
        .filter(|r| set_aside.binary_search(r).is_err())
        .filter_map(|r| prepare(engine, feature, *r, pooled))
        .collect();
    let no_gauge = across.iter().filter(|r| engine.readings[**r as usize].gauge.is_none()).count();

    state.counted = prepared.iter().map(|p| p.reading).collect();
    note_cautions(engine, feature, &prepared, set_aside.len(), no_gauge, &mut state);
    if prepared.is_empty() {
        state.missing =
            Some(if across.is_empty() { "not gauged" } else { "no reading that counts" });
    } else {
        measure_shape(engine, ix, feature, &prepared, &mut state);
    }
    dials(engine, ix, &current, &mut state);
    worn(ix, feature, last_size, &mut state);
    state
}

fn split_by_overhaul(engine: &Engine, rows: &[u32]) -> (Vec<u32>, Vec<u32>) {
    let unstruck = rows.iter().copied().filter(|r| !engine.readings[*r as usize].struck);
    match engine.overhaul_began {
        Some(began) => {
            unstruck.partition(|r| engine.readings[*r as usize].when.is_none_or(|day| day >= began))
        }
        None => (unstruck.collect(), Vec::new()),
    }
}

/// Size at the last gauging before this overhaul: the readings of its latest two months, or the
/// figure the description gives.
fn size_last_time(
    engine: &Engine,
    ix: FeatureIx,
    feature: &Feature,
    earlier: &[u32],
    pooled: &[Repeatability],
) -> Option<Estimate> {
    let latest = earlier.iter().filter_map(|r| engine.readings[*r as usize].when).max();
    let prepared: Vec<Prepared> = earlier
        .iter()
        .filter(|r| {
            let reading = &engine.readings[**r as usize];
            reading.kind == ReadingKind::Across
                && latest.zip(reading.when).is_some_and(|(last, day)| day.days_until(last) <= 60)
        })
        .filter_map(|r| prepare(engine, feature, *r, pooled))
        .collect();
    if prepared.is_empty() {
        // Written down as a bare figure: half its last place either way is all that is known.
        return feature.last.as_ref().map(|q| {
            let doubt = q.resolution_si() / 12f64.sqrt();
            Estimate::new(Uncertain::new(q.si(), Source::Drawing(ix).id(), doubt))
        });
    }
    let n = prepared.len() as f64;
    let mean = prepared.iter().map(|p| p.size_m).sum::<f64>() / n;
    let weighted = Weighted { value: mean, weights: vec![1.0 / n; prepared.len()] };
    // Last time's repeatability is not this time's: it must not cancel in the difference, so it
    // is carried under the drawing's id, which this feature's readings do not use.
    Some(Estimate::new(spread(&weighted, &prepared, ix, Source::Drawing(ix))))
}

fn note_cautions(
    engine: &Engine,
    feature: &Feature,
    prepared: &[Prepared],
    set_aside: usize,
    no_gauge: usize,
    state: &mut FeatureState,
) {
    let mut lapsed: BTreeMap<GaugeIx, usize> = BTreeMap::new();
    let mut assumed = 0;
    for p in prepared {
        let r = &engine.readings[p.reading as usize];
        if let Some(g) = r.gauge
            && engine.gauge(g).due.zip(r.when).is_some_and(|(due, day)| day > due)
        {
            *lapsed.entry(g).or_default() += 1;
        }
        assumed += usize::from(r.temperature_c.is_none());
    }
    let mut gauges: Vec<GaugeIx> = prepared.iter().map(|p| p.gauge).collect();
    gauges.sort_unstable();
    gauges.dedup();
    state.gauges = gauges;
    let cautions = &mut state.cautions;
    cautions.extend(lapsed.into_iter().map(|(g, n)| Caution::GaugeLapsed(g, n)));
    if set_aside > 0 {
        cautions.push(Caution::SetAside(set_aside));
    }
    if no_gauge > 0 {
        cautions.push(Caution::NoGauge(no_gauge));
    }
    if assumed > 0 {
        cautions.push(Caution::TemperatureAssumed(assumed));
    }
    if engine.parts[feature.part.index()].material.is_none() && !prepared.is_empty() {
        cautions.push(Caution::NoMaterial);
    }
}

/// A weighted sum of readings as a value whose sources are kept apart.
fn spread(weighted: &Weighted, prepared: &[Prepared], ix: FeatureIx, own: Source) -> Uncertain {
    // A handful of sources, however many readings: looked for one after another.
    let mut parts: Vec<(quantity::SourceId, f64)> = Vec::new();
    let mut own_variance = 0.0;
    for (w, p) in weighted.weights.iter().zip(prepared) {
        if *w == 0.0 {
            continue;
        }
        own_variance += w * w * p.own_variance_m2;
        for (source, contribution) in p.shared(ix) {
            let id = source.id();
            match parts.iter_mut().find(|(known, _)| *known == id) {
                Some((_, sum)) => *sum += w * contribution,
                None => parts.push((id, w * contribution)),
            }
        }
    }
    parts.sort_unstable_by_key(|(id, _)| *id);
    let mut value = Uncertain::new(weighted.value, own.id(), own_variance.sqrt());
    for (source, contribution) in parts {
        if contribution != 0.0 {
            value = value.with_part(source, contribution);
        }
    }
    value
}

fn measure_shape(
    engine: &Engine,
    ix: FeatureIx,
    feature: &Feature,
    prepared: &[Prepared],
    state: &mut FeatureState,
) {
    let own = Source::Own(ix);
    let estimate = |w: &Weighted| Estimate::new(spread(w, prepared, ix, own));
    let single = |at: usize| {
        let mut weights = vec![0.0; prepared.len()];
        weights[at] = 1.0;
        estimate(&Weighted { value: prepared[at].size_m, weights })
    };
    state.own_degrees_of_freedom =
        prepared.iter().map(|p| p.own_degrees_of_freedom).fold(f64::INFINITY, f64::min);

    if !feature.kind.is_round() {
        let readings: Vec<FaceReading> = prepared
            .iter()
            .map(|p| {
                let station = engine.readings[p.reading as usize].station;
                let place_m = feature.station_at_m.get(usize::from(station)).map(|x| (*x, 0.0));
                FaceReading { place_m, distance_m: p.size_m }
            })
            .collect();
        match faces_form(&readings) {
            Ok(form) => {
                state.size = Some(estimate(&form.mean));
                state.largest = Some(single(form.largest));
                state.smallest = Some(single(form.smallest));
                if let Ok(parallelism) = &form.parallelism {
                    state.form.push((Measure::Taper, estimate(parallelism)));
                }
                state.clean_up = match feature.kind.metal() {
                    Metal::Inside => state.smallest.clone(),
                    Metal::Outside => state.largest.clone(),
                    Metal::Neither => None,
                };
            }
            Err(_) if feature.kind.metal() == Metal::Neither => {
                // A stand may be negative, which faces cannot.
                let n = prepared.len() as f64;
                let value = prepared.iter().map(|p| p.size_m).sum::<f64>() / n;
                state.size =
                    Some(estimate(&Weighted { value, weights: vec![1.0 / n; prepared.len()] }));
            }
            Err(_) => state.missing = Some("its readings give no size"),
        }
        return;
    }

    // Readings that name no station are taken at a station of their own, the first.
    let mut axial: Vec<f64> = feature.station_at_m.clone();
    if axial.is_empty() {
        axial.push(0.0);
    }
    let readings: Vec<DiameterReading> = prepared
        .iter()
        .map(|p| {
            let r = &engine.readings[p.reading as usize];
            let station = if r.station == STATION_UNSAID {
                0
            } else {
                usize::from(r.station).min(axial.len() - 1)
            };
            let direction_rad = r.direction_rad.is_finite().then_some(r.direction_rad);
            DiameterReading { station, direction_rad, diameter_m: p.size_m }
        })
        .collect();
    let Ok(form) = cylinder_form(feature.kind.surface_kind(), &axial, &readings) else {
        state.missing = Some("its readings give no size");
        return;
    };
    let size = form.least_squares_size.as_ref().unwrap_or(&form.mean_size);
    state.size = Some(estimate(size));
    state.largest = Some(single(form.largest));
    state.smallest = Some(single(form.smallest));
    let clean = form.clean_up.between_directions.as_ref().unwrap_or(&form.clean_up.bound);
    state.clean_up = Some(estimate(clean));
    round_form(&form, &axial, &estimate, state);
    if !feature.halves.is_empty() {
        state.along_and_across = along_and_across(feature, prepared, &readings, &estimate);
    }
}

fn round_form(
    form: &CylinderForm,
    axial: &[f64],
    estimate: &dyn Fn(&Weighted) -> Estimate,
    state: &mut FeatureState,
) {
    match form.greatest_ovality() {
        Some((_, ovality)) => state.form.push((Measure::Ovality, estimate(ovality))),
        None => state.cautions.push(Caution::OneDirection),
    }
    match &form.taper {
        Ok(slope) => {
            let read: Vec<f64> = form.stations.iter().map(|s| axial[s.station]).collect();
            let length = read.iter().fold(f64::MIN, |a, b| a.max(*b))
                - read.iter().fold(f64::MAX, |a, b| a.min(*b));
            // A taper has no sign here: which end is thinner is seen in the profile.
            let sign = length.copysign(slope.value);
            let over = Weighted {
                value: slope.value * sign,
                weights: slope.weights.iter().map(|w| w * sign).collect(),
            };
            state.form.push((Measure::Taper, estimate(&over)));
        }
        Err(_) => state.cautions.push(Caution::OneStation),
    }
    if let Ok(crown) = &form.crown {
        let sign = 1f64.copysign(crown.value);
        let size = Weighted {
            value: crown.value.abs(),
            weights: crown.weights.iter().map(|w| w * sign).collect(),
        };
        state.form.push((Measure::Barrel, estimate(&size)));
    }
    state.cautions.push(Caution::OddLobesUnseen);
}

/// Mean size within 30 degrees of the closing direction and of its square.
fn along_and_across(
    feature: &Feature,
    prepared: &[Prepared],
    readings: &[DiameterReading],
    estimate: &dyn Fn(&Weighted) -> Estimate,
) -> Option<(Estimate, Estimate)> {
    let mean_near = |centre: f64| {
        let near: Vec<bool> = readings
            .iter()
            .map(|r| {
                r.direction_rad.is_some_and(|d| (d - centre).cos().abs() > 30f64.to_radians().cos())
            })
            .collect();
        let n = near.iter().filter(|b| **b).count();
        if n == 0 {
            return None;
        }
        let weights: Vec<f64> =
            near.iter().map(|b| if *b { 1.0 / n as f64 } else { 0.0 }).collect();
        let value = weights.iter().zip(prepared).map(|(w, p)| w * p.size_m).sum();
        Some(estimate(&Weighted { value, weights }))
    };
    let along = mean_near(feature.closes_at_rad)?;
    let across = mean_near(feature.closes_at_rad + std::f64::consts::FRAC_PI_2)?;
    Some((along, across))
}

/// Roundness from dial traverses.
fn dials(engine: &Engine, ix: FeatureIx, current: &[u32], state: &mut FeatureState) {
    let mut stations: BTreeMap<u16, Vec<DialReading>> = BTreeMap::new();
    let mut doubt: f64 = 0.0;
    let mut gauge = None;
    for row in current {
        let r = &engine.readings[*row as usize];
        if r.kind == ReadingKind::Dial && r.direction_rad.is_finite() {
            stations
                .entry(r.station)
                .or_default()
                .push(DialReading { angle_rad: r.direction_rad, radial_m: r.si });
            let described = r.gauge.map_or(5e-6, |g| engine.gauge(g).repeat_m);
            doubt = doubt.max(described.hypot(r.resolution_si / 12f64.sqrt()));
            gauge = gauge.or(r.gauge);
        }
    }
    for (station, points) in stations {
        if let Ok(round) = roundness(&points) {
            state.dials.push((station, round));
        }
    }
    let zone = |r: &Roundness| r.minimum_zone.as_ref().map(|z| z.roundness_m).ok();
    let worst = state.dials.iter().filter_map(|(_, r)| zone(r)).max_by(f64::total_cmp);
    if let (Some(zone), Some(_)) = (worst, gauge) {
        // The zone is set by one peak and one valley: two readings of the dial.
        let own = Uncertain::new(zone, Source::Own(ix).id(), doubt * 2f64.sqrt());
        state.form.push((Measure::Roundness, Estimate::new(own)));
        // A traverse sees what two points cannot.
        state.cautions.retain(|c| *c != Caution::OddLobesUnseen);
    }
}

fn worn(ix: FeatureIx, feature: &Feature, last: Option<Estimate>, state: &mut FeatureState) {
    let Some(size) = state.size.as_ref() else {
        state.last = last;
        return;
    };
    let lost = |from: &Uncertain| match feature.kind.metal() {
        Metal::Inside => Some(Estimate::new(from - &size.value)),
        Metal::Outside => Some(Estimate::new(&size.value - from)),
        Metal::Neither => None,
    };
    if let Some(made) = &feature.as_made {
        let made =
            Uncertain::new(made.si(), Source::Drawing(ix).id(), feature.tolerance_m / 3f64.sqrt());
        state.worn_since_made = lost(&made);
        if let Some(wear) = &state.worn_since_made {
            state.form.push((Measure::Wear, wear.clone()));
        }
    }
    state.worn_since_last = last.as_ref().and_then(|l| lost(&l.value));
    state.last = last;
}
