//! The round of a gauge: which surfaces are gauged together, and at each the places in the order a
//! person goes, station after station, at each all directions.

use crate::judge::Judgement;
use crate::model::{
    Engine, Feature, FeatureIx, Joint, PartIx, Reading, ReadingKind, STATION_UNSAID,
};
use std::f64::consts::PI;

/// Directions of a round surface when nobody has gauged it yet, degrees: four are the fewest that
/// tell ovality from a three-lobed shape and leave one over (common practice).
const DIRECTIONS_DEG: [f64; 4] = [0.0, 45.0, 90.0, 135.0];
/// More directions than this are a dial traverse, which is not gauged figure by figure.
const MOST_DIRECTIONS: usize = 12;

/// The features of a part.
pub fn features_of_part(engine: &Engine, part: PartIx) -> Vec<FeatureIx> {
    let on_it = engine.features.iter().filter(|f| f.part == part);
    on_it.filter_map(|f| engine.feature_by_id(&f.id)).collect()
}

/// The features of a joint, each part's together: a person stays at a part until it is done.
pub fn features_of_joint(engine: &Engine, joint: &Joint) -> Vec<FeatureIx> {
    let mut found = vec![joint.inner, joint.outer];
    for ix in [joint.inner, joint.outer] {
        found.extend(engine.feature(ix).halves.iter().copied());
    }
    found.extend(joint.fills.iter().copied());
    found.extend(joint.stand.map(|s| s.feature));
    let mut parts: Vec<PartIx> = Vec::new();
    let mut once: Vec<FeatureIx> = Vec::new();
    for ix in found {
        let part = engine.feature(ix).part;
        if !parts.contains(&part) {
            parts.push(part);
        }
        if !once.contains(&ix) {
            once.push(ix);
        }
    }
    once.sort_by_key(|ix| parts.iter().position(|p| *p == engine.feature(*ix).part));
    once
}

/// Where a feature is gauged.
#[derive(Clone, Debug)]
pub struct GaugingRound<'a> {
    /// Stations by number and name; one without a name where the feature has none.
    pub stations: Vec<(u16, &'a str)>,
    /// Directions across, 0 up to half a turn, radians: those gauged before, so that figures can be
    /// compared; else the usual ones, and the one that closes a split bearing. None of a surface
    /// that is not round.
    pub directions_rad: Vec<f64>,
    /// What counts of the figures read across it.
    readings: Vec<&'a Reading>,
}

impl<'a> GaugingRound<'a> {
    /// Times a surface is read that has neither stations nor directions.
    pub const REPEATS: usize = 3;

    /// The round of a feature.
    pub fn of(judgement: &'a Judgement, ix: FeatureIx) -> Self {
        let engine = judgement.engine();
        let feature = engine.feature(ix);
        let readings: Vec<&Reading> = judgement
            .rows(ix)
            .iter()
            .filter_map(|row| engine.readings.get(*row as usize))
            .filter(|r| r.kind == ReadingKind::Across && !r.struck)
            .collect();
        let stations = if feature.stations.is_empty() {
            vec![(STATION_UNSAID, "")]
        } else {
            (0u16..).zip(feature.stations.iter().map(String::as_str)).collect()
        };
        let directions_rad = directions(feature, &readings);
        GaugingRound { stations, directions_rad, readings }
    }

    /// The last reading at a place.
    pub fn previous(&self, station: u16, direction_rad: Option<f64>) -> Option<&'a Reading> {
        let there = |r: &&Reading| {
            r.station == station
                && direction_rad
                    .is_none_or(|d| r.direction_rad.is_finite() && same(across(r.direction_rad), d))
        };
        self.readings.iter().copied().filter(there).max_by_key(|r| (r.when, r.file, r.row))
    }
}

fn directions(feature: &Feature, readings: &[&Reading]) -> Vec<f64> {
    if !feature.kind.is_round() {
        return Vec::new();
    }
    let mut found: Vec<f64> = Vec::new();
    for r in readings {
        add(&mut found, r.direction_rad);
    }
    if found.len() < 2 || found.len() > MOST_DIRECTIONS {
        found = DIRECTIONS_DEG.iter().map(|d| d.to_radians()).collect();
        if !feature.halves.is_empty() {
            add(&mut found, feature.closes_at_rad);
        }
    }
    found.sort_by(f64::total_cmp);
    found
}

fn add(found: &mut Vec<f64>, radians: f64) {
    if radians.is_finite() {
        let d = across(radians);
        if !found.iter().any(|f| same(*f, d)) {
            found.push(d);
        }
    }
}

/// Two points have no front: a direction and its opposite are one.
fn across(radians: f64) -> f64 {
    let d = radians.rem_euclid(PI);
    if PI - d < 1e-3 { 0.0 } else { d }
}

fn same(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-3
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_diameter_has_no_front() {
        assert!(same(across(1.5 * PI), PI / 2.0));
        assert!(same(across(2.0 * PI), 0.0));
        assert!(same(across(PI - 1e-6), 0.0));
        assert!(!same(across(0.3), 0.0));
    }
}
