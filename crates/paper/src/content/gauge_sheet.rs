//! A blank gauge sheet: where the gauge goes and boxes in the order a person goes round.

use super::figures::exact_pair;
use super::machine_to::shape;
use super::pictures::shown;
use super::shapes::*;
use crate::error::PaperError;
use crate::options::{SheetOptions, UnitsFirst};
use crate::qr::qr_svg;
use crate::text::Words;
use drawing::{GaugingSketch, GaugingStation, gauging_sketch};
use engine::judge::Judgement;
use engine::model::{
    Condition, Engine, Feature, FeatureIx, Joint, PartIx, Reading, ReadingKind, STATION_UNSAID,
};
use std::f64::consts::PI;

/// What a gauge sheet is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GaugeSheetOf<'a> {
    /// Every feature of the part of this id.
    Part(&'a str),
    /// Every feature of the joint of this id.
    Joint(&'a str),
}

/// Directions of a round surface when nobody has gauged it yet, degrees: four are the fewest that
/// tell ovality from a three-lobed shape and leave one over (common practice).
const DIRECTIONS_DEG: [f64; 4] = [0.0, 45.0, 90.0, 135.0];
/// Boxes side by side at most: narrower ones do not take a figure written with a glove on.
const MOST_COLUMNS: usize = 4;
/// Boxes when a feature has neither stations nor directions.
const REPEATS: usize = 3;
/// More directions than this are a dial traverse, which has a sheet of its own.
const MOST_DIRECTIONS: usize = 12;

/// The sheet's content.
pub(crate) fn gauge_content(
    judgement: &Judgement,
    of: GaugeSheetOf<'_>,
    options: &SheetOptions,
    warnings: &mut Vec<String>,
) -> Result<GaugeSheet, PaperError> {
    let engine = judgement.engine();
    let missing = |what: &str, id: &str| {
        PaperError::Nothing(format!("there is no {what} \"{}\"", Words::new(id).text()))
    };
    let (about_word, about, name, part, features) = match of {
        GaugeSheetOf::Part(id) => {
            let at = engine.parts.iter().position(|p| p.id == id);
            let at = at.ok_or_else(|| missing("part", id))?;
            let part = &engine.parts[at];
            ("part", &part.id, &part.name, Some(part), of_part(engine, at))
        }
        GaugeSheetOf::Joint(id) => {
            let ix = engine.joint_by_id(id).ok_or_else(|| missing("joint", id))?;
            let joint = engine.joint(ix);
            ("joint", &joint.id, &joint.name, None, of_joint(engine, joint))
        }
    };
    if features.is_empty() {
        return Err(PaperError::Nothing(format!(
            "no surface of the {about_word} \"{}\" is described",
            Words::new(about).text()
        )));
    }
    let mut blocks = Vec::with_capacity(features.len());
    for ix in features {
        blocks.push(block(judgement, ix, options, warnings)?);
    }
    Ok(GaugeSheet {
        paper: options.paper.name(),
        head: super::report::head(judgement),
        about_word,
        about: Words::from(about),
        name: Words::from(name),
        tag: Words::from(part.and_then(|p| p.tag.clone()).unwrap_or_default()),
        side: Words::from(part.map(|p| p.side.clone()).unwrap_or_default()),
        features: blocks,
        cautions: vec![Words::new(
            "Part and gauge lie side by side until both are as warm; the temperature is that of the part.",
        )],
    })
}

fn of_part(engine: &Engine, part: usize) -> Vec<FeatureIx> {
    let on_it = engine.features.iter().filter(|f| f.part.index() == part);
    on_it.filter_map(|f| engine.feature_by_id(&f.id)).collect()
}

/// The features of a joint, each part's together: a person stays at a part until it is done.
fn of_joint(engine: &Engine, joint: &Joint) -> Vec<FeatureIx> {
    let mut found = vec![joint.inner, joint.outer];
    for ix in [joint.inner, joint.outer] {
        found.extend(engine.feature(ix).halves.iter().copied());
    }
    found.extend(joint.fills.iter().copied());
    found.extend(joint.stand.map(|s| s.feature));
    let mut order: Vec<PartIx> = Vec::new();
    let mut once: Vec<FeatureIx> = Vec::new();
    for ix in found {
        let part = engine.feature(ix).part;
        if !order.contains(&part) {
            order.push(part);
        }
        if !once.contains(&ix) {
            once.push(ix);
        }
    }
    once.sort_by_key(|ix| order.iter().position(|p| *p == engine.feature(*ix).part));
    once
}

fn block(
    judgement: &Judgement,
    ix: FeatureIx,
    options: &SheetOptions,
    warnings: &mut Vec<String>,
) -> Result<GaugeBlock, PaperError> {
    let engine = judgement.engine();
    let feature = engine.feature(ix);
    let readings: Vec<&Reading> = judgement
        .rows(ix)
        .iter()
        .filter_map(|row| engine.readings.get(*row as usize))
        .filter(|r| r.kind == ReadingKind::Across && !r.struck)
        .collect();
    let directions = directions(feature, &readings);
    let part = engine.parts.get(feature.part.index());
    let sketch = gauging_sketch(&GaugingSketch {
        title: Words::from(&feature.id).text().to_owned(),
        shape: shape(Some(feature.kind)),
        stations: feature
            .stations
            .iter()
            .enumerate()
            .map(|(i, s)| GaugingStation {
                name: Words::from(s).text().to_owned(),
                at_m: feature.station_at_m.get(i).copied().filter(|m| m.is_finite()).unwrap_or(0.0),
            })
            .collect(),
        directions_rad: directions.clone(),
    });
    let code = options.code(|l| &l.gauge, &feature.id);
    let qr = qr_svg(&code).unwrap_or_else(|| {
        warnings.push(format!("{}: too long for a QR code", Words::new(&feature.id).text()));
        String::new()
    });
    let (gauges, lapsed) = gauges(engine, feature);
    Ok(GaugeBlock {
        feature: Words::from(&feature.id),
        name: Words::from(if feature.name.is_empty() { &feature.id } else { &feature.name }),
        kind: feature.kind.word(),
        part: Words::from(part.map_or("", |p| if p.name.is_empty() { &p.id } else { &p.name })),
        as_made: feature.as_made.as_ref().map(|q| {
            let pair = exact_pair(q);
            match options.units {
                UnitsFirst::Metric => [pair.metric, pair.imperial],
                UnitsFirst::Imperial => [pair.imperial, pair.metric],
            }
        }),
        last: Words::from(feature.last.as_ref().map_or("", |q| q.text())),
        sketch: shown(&feature.id, sketch)?,
        qr_words: Words::from(&code).text().to_owned(),
        qr_note: if qr.is_empty() {
            ""
        } else if options.links.is_some() {
            "enter on the phone"
        } else {
            "name of the surface"
        },
        qr,
        gauges,
        lapsed,
        notes: notes(feature),
        rows_are: if directions.is_empty() { "" } else { "station" },
        grids: grids(feature, &directions, &readings),
        conditions: Condition::ALL.iter().map(|c| c.word()).collect(),
    })
}

/// Gauges whose range takes in the size as made, and those of them out of calibration.
fn gauges(engine: &Engine, feature: &Feature) -> (Vec<Words>, Vec<Words>) {
    let Some(size) = feature.as_made.as_ref().or(feature.last.as_ref()).map(|q| q.si()) else {
        return (Vec::new(), Vec::new());
    };
    let spans = |g: &&engine::model::Gauge| {
        g.from_m.is_some_and(|from| from <= size) && g.to_m.is_some_and(|to| size <= to)
    };
    let (mut serve, mut lapsed) = (Vec::new(), Vec::new());
    for g in engine.gauges.iter().filter(spans) {
        let ran_out = g.due.zip(engine.today).is_some_and(|(due, today)| due < today);
        if ran_out { &mut lapsed } else { &mut serve }.push(Words::from(&g.id));
    }
    (serve, lapsed)
}

fn notes(feature: &Feature) -> Vec<Words> {
    let mut notes = Vec::new();
    if feature.stations.len() > 1
        && let Some((first, last)) = feature.station_at_m.first().zip(feature.station_at_m.last())
    {
        let along = (last - first).abs();
        if along.is_finite() && along > 0.0 {
            notes.push(Words::from(format!(
                "Stations {} to {} lie over {:.0} mm ({:.2} in).",
                feature.stations.first().map_or("", String::as_str),
                feature.stations.last().map_or("", String::as_str),
                along * 1e3,
                along / 25.4e-3
            )));
        }
    }
    if !feature.halves.is_empty() {
        notes.push(Words::from(format!(
            "Split: it closes at {:.0}°.",
            feature.closes_at_rad.to_degrees()
        )));
    }
    notes
}

/// Directions across, 0 up to half a turn: those gauged before, so that figures can be compared;
/// else the usual ones, and the one that closes a split bearing.
fn directions(feature: &Feature, readings: &[&Reading]) -> Vec<f64> {
    if !feature.kind.is_round() {
        return Vec::new();
    }
    let mut found: Vec<f64> = Vec::new();
    let mut add = |radians: f64| {
        if radians.is_finite() {
            let d = across(radians);
            if !found.iter().any(|f| same(*f, d)) {
                found.push(d);
            }
        }
    };
    readings.iter().for_each(|r| add(r.direction_rad));
    if found.len() < 2 || found.len() > MOST_DIRECTIONS {
        found.clear();
        for d in DIRECTIONS_DEG {
            found.push(d.to_radians());
        }
        if !feature.halves.is_empty() && feature.closes_at_rad.is_finite() {
            let d = across(feature.closes_at_rad);
            if !found.iter().any(|f| same(*f, d)) {
                found.push(d);
            }
        }
    }
    found.sort_by(f64::total_cmp);
    found
}

/// Two points have no front: a direction and its opposite are one.
fn across(radians: f64) -> f64 {
    let d = radians.rem_euclid(PI);
    if PI - d < 1e-3 { 0.0 } else { d }
}

fn same(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-3
}

fn direction_words(radians: f64) -> String {
    let degrees = radians.to_degrees();
    let figure = if (degrees - degrees.round()).abs() < 0.05 {
        format!("{degrees:.0}°")
    } else {
        format!("{degrees:.1}°")
    };
    match degrees.round() as i64 {
        0 => format!("{figure} level"),
        90 => format!("{figure} upright"),
        _ => figure,
    }
}

/// Boxes: stations down and directions across, or what there is of the two in one row.
fn grids(feature: &Feature, directions: &[f64], readings: &[&Reading]) -> Vec<GaugeGrid> {
    let mut number = 0;
    let mut fill = |station: u16, direction: Option<f64>| {
        number += 1;
        Some(GaugeBox { number, previous: previous(readings, station, direction) })
    };
    let stations: Vec<(u16, &str)> = if feature.stations.is_empty() {
        vec![(STATION_UNSAID, "")]
    } else {
        feature.stations.iter().enumerate().map(|(i, s)| (i as u16, s.as_str())).collect()
    };
    if directions.is_empty() {
        // One figure a station: stations go across.
        return if feature.stations.is_empty() {
            let boxes = (0..REPEATS)
                .map(|i| {
                    let mut b = fill(STATION_UNSAID, None);
                    if i > 0
                        && let Some(b) = &mut b
                    {
                        b.previous = Words::default();
                    }
                    b
                })
                .collect();
            let columns = ["reading", "again", "again"].map(Words::new).to_vec();
            vec![GaugeGrid { columns, rows: vec![GaugeLine { station: Words::default(), boxes }] }]
        } else {
            stations
                .chunks(MOST_COLUMNS)
                .map(|some| GaugeGrid {
                    columns: some.iter().map(|(_, s)| Words::new(s)).collect(),
                    rows: vec![GaugeLine {
                        station: Words::default(),
                        boxes: some.iter().map(|(ix, _)| fill(*ix, None)).collect(),
                    }],
                })
                .collect()
        };
    }
    if directions.len() <= MOST_COLUMNS {
        let rows = stations
            .iter()
            .map(|(ix, name)| GaugeLine {
                station: Words::new(name),
                boxes: directions.iter().map(|d| fill(*ix, Some(*d))).collect(),
            })
            .collect();
        let columns = directions.iter().map(|d| Words::from(direction_words(*d))).collect();
        return vec![GaugeGrid { columns, rows }];
    }
    // More directions than columns: station by station, so that the numbers still go round.
    let mut out = Vec::new();
    for (ix, name) in &stations {
        for some in directions.chunks(MOST_COLUMNS) {
            out.push(GaugeGrid {
                columns: some.iter().map(|d| Words::from(direction_words(*d))).collect(),
                rows: vec![GaugeLine {
                    station: Words::new(name),
                    boxes: some.iter().map(|d| fill(*ix, Some(*d))).collect(),
                }],
            });
        }
    }
    out
}

/// The last figure at a place, as it was written.
fn previous(readings: &[&Reading], station: u16, direction: Option<f64>) -> Words {
    let there = |r: &&&Reading| {
        r.station == station
            && match direction {
                Some(d) => r.direction_rad.is_finite() && same(across(r.direction_rad), d),
                None => true,
            }
    };
    let last = readings.iter().filter(there).max_by_key(|r| (r.when, r.file, r.row));
    Words::from(last.map_or("", |r| &r.text))
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
