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
use engine::model::{Condition, Engine, Feature, FeatureIx, STATION_UNSAID};
use engine::view::{GaugingRound, features_of_joint, features_of_part};

/// What a gauge sheet is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GaugeSheetOf<'a> {
    /// Every feature of the part of this id.
    Part(&'a str),
    /// Every feature of the joint of this id.
    Joint(&'a str),
}

/// Boxes side by side at most: narrower ones do not take a figure written with a glove on.
const MOST_COLUMNS: usize = 4;
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
            let ix = engine.part_by_id(id).ok_or_else(|| missing("part", id))?;
            let part = &engine.parts[ix.index()];
            ("part", &part.id, &part.name, Some(part), features_of_part(engine, ix))
        }
        GaugeSheetOf::Joint(id) => {
            let ix = engine.joint_by_id(id).ok_or_else(|| missing("joint", id))?;
            let joint = engine.joint(ix);
            ("joint", &joint.id, &joint.name, None, features_of_joint(engine, joint))
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

fn block(
    judgement: &Judgement,
    ix: FeatureIx,
    options: &SheetOptions,
    warnings: &mut Vec<String>,
) -> Result<GaugeBlock, PaperError> {
    let engine = judgement.engine();
    let feature = engine.feature(ix);
    let round = GaugingRound::of(judgement, ix);
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
        directions_rad: round.directions_rad.clone(),
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
        rows_are: if round.directions_rad.is_empty() { "" } else { "station" },
        grids: grids(&round),
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
fn grids(round: &GaugingRound<'_>) -> Vec<GaugeGrid> {
    let (stations, directions) = (&round.stations, &round.directions_rad);
    let mut number = 0;
    let mut fill = |station: u16, direction: Option<f64>| {
        number += 1;
        let previous = Words::from(round.previous(station, direction).map_or("", |r| &r.text));
        Some(GaugeBox { number, previous })
    };
    if directions.is_empty() {
        // One figure a station: stations go across.
        return if stations.iter().all(|(_, name)| name.is_empty()) {
            let boxes = (0..GaugingRound::REPEATS)
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
    for (ix, name) in stations {
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
