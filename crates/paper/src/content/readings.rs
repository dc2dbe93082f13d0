//! Readings as they were written, station by direction.

use super::figures::{exact_pair, expanded_pair};
use super::shapes::{ListedReading, ReadingCell, ReadingsRow, ReadingsTable};
use crate::text::Words;
use engine::judge::Judgement;
use engine::model::{FeatureIx, Measure};
use engine::view::{ReadingView, feature_view};

/// Directions that go into columns; a traverse has more and is listed.
const MOST_COLUMNS: usize = 6;

/// The readings of a feature; `None` when there are none.
pub(super) fn readings_table(judgement: &Judgement, ix: FeatureIx) -> Option<ReadingsTable> {
    let view = feature_view(judgement, ix);
    if view.readings.is_empty() {
        return None;
    }
    let mut sessions: Vec<String> = Vec::new();
    let mut session_of = |r: &ReadingView| -> usize {
        let words = session_words(r);
        sessions.iter().position(|s| *s == words).unwrap_or_else(|| {
            sessions.push(words);
            sessions.len() - 1
        })
    };
    let set_aside: Vec<u32> = judgement
        .feature(ix)
        .suspicions
        .iter()
        .filter(|s| s.set_aside)
        .map(|s| s.reading)
        .collect();
    // A traverse has too many directions for columns, and is another kind of figure.
    let mut directions: Vec<Option<f64>> = Vec::new();
    for r in view.readings.iter().filter(|r| r.kind != "dial") {
        if !directions.iter().any(|d| same(*d, r.direction_deg)) {
            directions.push(r.direction_deg);
        }
    }
    directions.sort_by(|a, b| a.unwrap_or(-1.0).total_cmp(&b.unwrap_or(-1.0)));
    let mut rows: Vec<(usize, usize, ReadingsRow)> = Vec::new();
    let mut listed = Vec::new();
    for r in &view.readings {
        let session = session_of(r);
        let text = Words::from(&r.text);
        let state = state_of(r, &set_aside);
        if r.kind == "dial" || directions.len() > MOST_COLUMNS {
            let at = r.direction_deg.map_or_else(String::new, |d| format!(" {}", degrees(Some(d))));
            listed.push(ListedReading {
                session: letter(session),
                place: Words::from(format!("{}{at}", r.station)),
                text,
                state,
            });
            continue;
        }
        let column = directions.iter().position(|d| same(*d, r.direction_deg)).unwrap_or(0);
        let station = view.stations.iter().position(|s| s.name == r.station).unwrap_or(usize::MAX);
        let at = rows.iter().position(|(s, p, _)| (*s, *p) == (session, station));
        let at = at.unwrap_or_else(|| {
            let row = ReadingsRow {
                session: letter(session),
                station: Words::from(&r.station),
                cells: vec![Vec::new(); directions.len()],
            };
            rows.push((session, station, row));
            rows.len() - 1
        });
        rows[at].2.cells[column].push(ReadingCell { text, state });
    }
    rows.sort_by_key(|(session, station, _)| (*session, *station));
    let size = judgement.feature(ix).size.as_ref().map(|e| {
        let p = expanded_pair(Measure::Size, e, judgement.features());
        format!("; mean at 20 °C {} ({})", p.metric, p.imperial)
    });
    let made = judgement.engine().feature(ix).as_made.as_ref().map(|q| {
        let p = exact_pair(q);
        format!("; as made {} ({})", p.metric, p.imperial)
    });
    Some(ReadingsTable {
        feature: Words::from(&view.id),
        about: Words::from(format!(
            "{} of {}{}{}",
            view.kind,
            view.part,
            made.unwrap_or_default(),
            size.unwrap_or_default()
        )),
        directions: if rows.is_empty() {
            Vec::new()
        } else {
            directions.iter().map(|d| degrees(*d)).collect()
        },
        rows: rows.into_iter().map(|(_, _, row)| row).collect(),
        listed,
        sessions: sessions
            .iter()
            .enumerate()
            .map(|(i, words)| Words::from(format!("{}: {words}", letter(i))))
            .collect(),
    })
}

fn same(a: Option<f64>, b: Option<f64>) -> bool {
    match (a, b) {
        (Some(a), Some(b)) => (a - b).abs() < 0.05,
        (None, None) => true,
        _ => false,
    }
}

fn degrees(direction: Option<f64>) -> String {
    match direction {
        Some(d) if (d - d.round()).abs() < 0.05 => format!("{d:.0}°"),
        Some(d) => format!("{d:.1}°"),
        None => "reading".to_owned(),
    }
}

/// Gauge, person, day and temperature: what readings of one sitting have in common.
fn session_words(r: &ReadingView) -> String {
    let mut words = vec![if r.gauge.is_empty() {
        "no gauge named".to_owned()
    } else {
        format!("gauge {}", r.gauge)
    }];
    if !r.by.is_empty() {
        words.push(format!("by {}", r.by));
    }
    if !r.when.is_empty() {
        words.push(r.when.clone());
    }
    words.push(
        r.temperature_c.map_or_else(|| "temperature not given".to_owned(), |t| format!("{t} °C")),
    );
    if r.kind == "dial" {
        words.push("dial".to_owned());
    }
    words.join(", ")
}

/// a to z, then aa, ab.
fn letter(mut position: usize) -> String {
    let mut out = String::new();
    loop {
        out.insert(0, char::from(b'a' + (position % 26) as u8));
        if position < 26 {
            return out;
        }
        position = position / 26 - 1;
    }
}

fn state_of(r: &ReadingView, set_aside: &[u32]) -> &'static str {
    if r.struck {
        "struck"
    } else if set_aside.contains(&r.number) {
        "aside"
    } else if r.counted {
        ""
    } else {
        "not counted"
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_go_on_after_z() {
        assert_eq!(letter(0), "a");
        assert_eq!(letter(25), "z");
        assert_eq!(letter(26), "aa");
        assert_eq!(letter(27), "ab");
        assert_eq!(letter(701), "zz");
    }
}
