//! What is said about the engine itself, held against it before it is written.

use crate::fields::Fields;
use crate::snapshot::Snapshot;
use crate::trouble::Trouble;
use book::{BY_THE_BOOK, MadeTo, Said};
use engine::description::SourceText;
use engine::model::RepairKind;
use engine::readings::{ByHand, read_table};
use engine::repair::wanted_size;

/// One figure is taken or refused at once: nobody comes back to mend it.
pub(super) fn reading(fields: &Fields, snap: &Snapshot, author: &str) -> Result<Said, Trouble> {
    let engine = snap.engine.as_ref().map_err(|why| Trouble::wrong(why.clone(), ""))?;
    let today = snap.today.map_or_else(String::new, |d| d.to_string());
    let table = ByHand {
        feature: fields.get("feature"),
        station: fields.get("station"),
        direction: fields.get("direction"),
        value: fields.get("value"),
        gauge: fields.get("gauge"),
        by: author,
        when: fields.given("when").unwrap_or(&today),
        temperature: fields.get("temperature"),
    }
    .table();
    refuse_what_cannot_be_read(&table, engine.judgement.engine().clone())?;
    Ok(Said::Readings { file: "by hand".to_owned(), table })
}

/// A table of which every row must be taken.
pub(crate) fn refuse_what_cannot_be_read(
    table: &str,
    mut engine: engine::model::Engine,
) -> Result<(), Trouble> {
    let read = read_table(&mut engine, u16::MAX, table.as_bytes())
        .map_err(|e| Trouble::wrong(e, "look at the heading"))?;
    match read.refused.first() {
        Some(r) => Err(Trouble::wrong(format!("{}: {}", r.column, r.what), r.mend.clone())),
        None => Ok(()),
    }
}

/// A text with faults is asked about before it is written: what is at fault is left out of the engine.
pub(super) fn described(fields: &Fields, snap: &Snapshot) -> Result<Said, Trouble> {
    let file = fields.get("file").to_owned();
    // A browser ends lines in a text field in two characters.
    let text = fields.exactly("text").replace("\r\n", "\n");
    if !file.ends_with(".toml") || file == BY_THE_BOOK || file.contains(['/', '\\']) {
        return Err(Trouble::wrong(
            format!("\"{file}\" is no name for a text of the description"),
            "a plain name that ends in .toml",
        ));
    }
    if !fields.ticked("anyway") {
        let mut sources = snap.fold.engine_sources();
        match sources.texts.iter_mut().find(|t| t.file == file) {
            Some(known) => known.text.clone_from(&text),
            None => sources.texts.push(SourceText { file: file.clone(), text: text.clone() }),
        }
        let read = sources.read(snap.today).map_err(|e| Trouble::wrong(e, ""))?;
        let mut faults = read.problems.iter().filter(|p| p.place.file == file);
        if let Some(first) = faults.next() {
            let more = match faults.count() {
                0 => String::new(),
                n => format!("; and {n} more"),
            };
            return Err(Trouble::wrong(
                format!("{file}, line {}: {}{more}", first.place.line, first.what),
                if first.mend.is_empty() {
                    "mend it, or tick that it is written with its faults".to_owned()
                } else {
                    first.mend.clone()
                },
            ));
        }
    }
    Ok(Said::Described { file, text })
}

pub(super) fn decided(fields: &Fields, snap: &Snapshot) -> Result<Said, Trouble> {
    let engine = snap.engine.as_ref().map_err(|why| Trouble::wrong(why.clone(), ""))?;
    let engine = engine.judgement.engine();
    let joint = fields.get("joint");
    if engine.joint_by_id(joint).is_none() {
        let near =
            engine.nearest_id(joint).map_or_else(String::new, |n| format!("did you mean \"{n}\"?"));
        return Err(Trouble::wrong(format!("there is no joint \"{joint}\""), near));
    }
    let word = fields.get("repair");
    let repair = RepairKind::parse(word)
        .map_err(|mend| Trouble::wrong(format!("\"{word}\" is not a repair"), mend))?;
    let make = fields
        .beginning("make.")
        .filter(|(_, size)| !size.is_empty())
        .map(|(feature, size)| {
            let (ix, size) =
                wanted_size(engine, feature, size).map_err(|(w, m)| Trouble::wrong(w, m))?;
            Ok(MadeTo { feature: engine.feature(ix).id.clone(), to: size.text().to_owned() })
        })
        .collect::<Result<Vec<_>, Trouble>>()?;
    Ok(Said::Decided {
        joint: joint.to_owned(),
        repair: repair.word().to_owned(),
        make,
        reason: fields.get("reason").to_owned(),
    })
}

pub(super) fn figure_struck_out(fields: &Fields, snap: &Snapshot) -> Result<Said, Trouble> {
    let engine = snap.engine.as_ref().map_err(|why| Trouble::wrong(why.clone(), ""))?;
    let engine = engine.judgement.engine();
    let feature = fields.get("feature");
    // A form has figure, station and direction as one choice.
    let mut chosen = fields.get("figure").splitn(3, '|');
    let mut part = |name: &'static str| match chosen.next() {
        Some(text) if !fields.get("figure").is_empty() => text.trim(),
        _ => fields.get(name),
    };
    let (value, station, direction) = (part("value"), part("station"), part("direction"));
    if value.is_empty() {
        return Err(Trouble::wrong("the figure is not given", "fill it in"));
    }
    let ix = engine.feature_by_id(feature);
    let there = engine
        .readings
        .iter()
        .filter(|r| Some(r.feature) == ix && !r.struck && *r.text == *value)
        .count();
    match there {
        0 => Err(Trouble::wrong(
            format!("{feature} has no reading \"{value}\" that still counts"),
            "give the figure character for character as it is listed",
        )),
        n if 1 < n && station.is_empty() && direction.is_empty() => Err(Trouble::wrong(
            format!("{feature} has {n} readings \"{value}\""),
            "say which, by station or direction",
        )),
        _ => Ok(Said::FigureStruckOut {
            feature: feature.to_owned(),
            value: value.to_owned(),
            station: station.to_owned(),
            direction: direction.to_owned(),
            reason: fields.get("reason").to_owned(),
        }),
    }
}
