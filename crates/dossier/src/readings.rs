//! Readings as they were written, by surface and sitting, each with its entry.

use book::{Fold, Said};
use engine::model::Engine;
use paper::{DossierReading, DossierReadings, DossierSitting};
use std::collections::{BTreeSet, HashMap};

/// A figure that was struck out by itself.
pub(crate) struct Strike {
    feature: String,
    value: String,
    station: String,
    direction: String,
}

impl Strike {
    /// From what was said, if it is that.
    pub(crate) fn of(said: &Said) -> Option<Strike> {
        let Said::FigureStruckOut { feature, value, station, direction, .. } = said else {
            return None;
        };
        Some(Strike {
            feature: feature.trim().to_owned(),
            value: value.trim().to_owned(),
            station: station.trim().to_owned(),
            direction: direction.trim().to_owned(),
        })
    }

    fn strikes(&self, feature: &str, row: &Row<'_>) -> bool {
        let there = |wanted: &str, is: &str| wanted.is_empty() || wanted == is;
        self.feature == feature
            && (self.value == row.reading || self.value == row.figure())
            && there(&self.station, row.station)
            && there(&self.direction, row.direction)
    }
}

/// One row, its cells by what they are.
struct Row<'a> {
    station: &'a str,
    direction: &'a str,
    reading: &'a str,
    unit: &'a str,
}

impl Row<'_> {
    fn figure(&self) -> String {
        if self.unit.is_empty() {
            self.reading.to_owned()
        } else {
            format!("{} {}", self.reading, self.unit)
        }
    }
}

/// Entries in which each surface was read.
pub(crate) type EntriesOf = HashMap<String, BTreeSet<u64>>;

/// The readings, surfaces in the order of the engine and then of the book.
pub(crate) fn readings(
    fold: &Fold,
    engine: Option<&Engine>,
    strikes: &[Strike],
) -> (Vec<DossierReadings>, EntriesOf) {
    let all = fold.all_readings();
    let column: HashMap<&str, usize> =
        all.heading.iter().enumerate().map(|(i, name)| (name.as_str(), i)).collect();
    let mut surfaces: Vec<DossierReadings> = Vec::new();
    let mut at: HashMap<String, usize> = HashMap::new();
    let mut entries = EntriesOf::new();
    for cells in &all.rows {
        let cell = |name: &str| {
            column.get(name).and_then(|i| cells.get(*i)).map_or("", |text| text.trim())
        };
        let sequence: u64 = cell("entry").parse().unwrap_or(0);
        let feature = cell("feature");
        let row = Row {
            station: cell("station"),
            direction: cell("direction"),
            reading: cell("reading"),
            unit: cell("unit"),
        };
        let struck =
            !cell("struck out").is_empty() || strikes.iter().any(|s| s.strikes(feature, &row));
        if cell("struck out").is_empty() {
            entries.entry(feature.to_owned()).or_default().insert(sequence);
        }
        let surface = *at.entry(feature.to_owned()).or_insert_with(|| {
            surfaces.push(DossierReadings { feature: feature.to_owned(), sittings: Vec::new() });
            surfaces.len() - 1
        });
        let sittings = &mut surfaces[surface].sittings;
        let words = sitting(&cell);
        let reading = DossierReading { sequence, place: place(&row), text: row.figure(), struck };
        match sittings.iter_mut().find(|s| s.words == words) {
            Some(sitting) => sitting.readings.push(reading),
            None => sittings.push(DossierSitting { words, readings: vec![reading] }),
        }
    }
    if let Some(engine) = engine {
        let order: HashMap<&str, usize> =
            engine.features.iter().enumerate().map(|(i, f)| (f.id.as_str(), i)).collect();
        surfaces.sort_by_key(|s| order.get(s.feature.as_str()).copied().unwrap_or(usize::MAX));
    }
    (surfaces, entries)
}

fn sitting<'a>(cell: &impl Fn(&str) -> &'a str) -> String {
    let named = |word: &str, value: &str| {
        if value.is_empty() { String::new() } else { format!("{word}{value}") }
    };
    let temperature = cell("temperature");
    let degrees = if temperature.is_empty() {
        String::new()
    } else if temperature.ends_with(|c: char| c.is_ascii_digit()) {
        format!("{temperature} °C")
    } else {
        temperature.to_owned()
    };
    let parts = [
        if cell("gauge").is_empty() {
            "no gauge named".to_owned()
        } else {
            named("gauge ", cell("gauge"))
        },
        named("by ", cell("by")),
        cell("when").to_owned(),
        degrees,
        if cell("kind") == "dial" { "dial".to_owned() } else { String::new() },
    ];
    parts.into_iter().filter(|p| !p.is_empty()).collect::<Vec<_>>().join(", ")
}

fn place(row: &Row<'_>) -> String {
    let direction = if row.direction.ends_with(|c: char| c.is_ascii_digit()) {
        format!("{}°", row.direction)
    } else {
        row.direction.to_owned()
    };
    [row.station.to_owned(), direction]
        .into_iter()
        .filter(|p| !p.is_empty())
        .collect::<Vec<_>>()
        .join(" ")
}
