//! The places at which a feature is gauged, in the order a person goes round: station after
//! station, at each all directions.

use engine::judge::Judgement;
use engine::model::{Feature, FeatureIx, Reading, ReadingKind, STATION_UNSAID};
use std::f64::consts::PI;

/// Directions of a round surface when nobody has gauged it yet, degrees: four are the fewest that
/// tell ovality from a three-lobed shape and leave one over (common practice).
const DIRECTIONS_DEG: [f64; 4] = [0.0, 45.0, 90.0, 135.0];
/// More directions than this are a dial traverse, which is not gauged figure by figure.
const MOST_DIRECTIONS: usize = 12;
/// Times it is read when it has neither stations nor directions.
const REPEATS: usize = 3;

/// A place.
#[derive(Clone, Debug)]
pub(crate) struct Place {
    /// Station as the engine names it; empty when it has none.
    pub(crate) station: String,
    /// Direction as a table has it; empty when it has none.
    pub(crate) direction: String,
    /// In words.
    pub(crate) words: String,
    /// The last figure there: as written, metres, day.
    pub(crate) previous: Option<Previous>,
}

/// A figure that stands in the book.
#[derive(Clone, Debug)]
pub(crate) struct Previous {
    /// As written.
    pub(crate) text: String,
    /// Metres.
    pub(crate) si: f64,
    /// Day, or empty.
    pub(crate) when: String,
}

/// The places of a feature, and the directions among them.
pub(crate) fn round(judgement: &Judgement, ix: FeatureIx) -> (Vec<Place>, Vec<f64>) {
    let engine = judgement.engine();
    let feature = engine.feature(ix);
    let readings: Vec<&Reading> = judgement
        .rows(ix)
        .iter()
        .filter_map(|row| engine.readings.get(*row as usize))
        .filter(|r| r.kind == ReadingKind::Across && !r.struck)
        .collect();
    let directions = directions(feature, &readings);
    let stations: Vec<(u16, &str)> = if feature.stations.is_empty() {
        vec![(STATION_UNSAID, "")]
    } else {
        (0u16..).zip(feature.stations.iter().map(String::as_str)).collect()
    };
    let mut places = Vec::new();
    for (at, station) in &stations {
        if directions.is_empty() {
            let times = if feature.stations.is_empty() { REPEATS } else { 1 };
            for time in 0..times {
                places.push(Place {
                    station: (*station).to_owned(),
                    direction: String::new(),
                    words: match (station.is_empty(), time) {
                        (false, _) => format!("at {station}"),
                        (true, 0) => "the reading".to_owned(),
                        (true, _) => "once more, taken afresh".to_owned(),
                    },
                    previous: previous(&readings, *at, None),
                });
            }
        }
        for d in &directions {
            let across = direction_words(*d);
            places.push(Place {
                station: (*station).to_owned(),
                direction: degrees(*d),
                words: match station.is_empty() {
                    true => format!("across {across}"),
                    false => format!("at {station}, across {across}"),
                },
                previous: previous(&readings, *at, Some(*d)),
            });
        }
    }
    (places, directions)
}

/// Directions across, 0 up to half a turn: those gauged before, so that figures can be compared;
/// else the usual ones, and the one that closes a split bearing.
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

/// Degrees without the last bits of the turn to radians and back.
fn degrees(radians: f64) -> String {
    let text = format!("{:.1}", radians.to_degrees());
    text.strip_suffix(".0").map_or(text.clone(), str::to_owned)
}

fn direction_words(radians: f64) -> String {
    let degrees = degrees(radians);
    match degrees.as_str() {
        "0" => "0° (level)".to_owned(),
        "90" => "90° (upright)".to_owned(),
        _ => format!("{degrees}°"),
    }
}

/// The last figure at a place.
fn previous(readings: &[&Reading], station: u16, direction: Option<f64>) -> Option<Previous> {
    let there = |r: &&&Reading| {
        r.station == station
            && direction
                .is_none_or(|d| r.direction_rad.is_finite() && same(across(r.direction_rad), d))
    };
    let last = readings.iter().filter(there).max_by_key(|r| (r.when, r.file, r.row))?;
    Some(Previous {
        text: last.text.to_string(),
        si: last.si,
        when: last.when.map(|d| d.to_string()).unwrap_or_default(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_diameter_has_no_front_and_degrees_read_as_people_write_them() {
        assert!(same(across(1.5 * PI), PI / 2.0) && same(across(PI - 1e-6), 0.0));
        assert!(!same(across(0.3), 0.0));
        assert_eq!(degrees(135f64.to_radians()), "135");
        assert_eq!(degrees(22.5f64.to_radians()), "22.5");
    }
}
