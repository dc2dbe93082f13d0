//! What can be said through the bench: one table for the forms of the pages and for the JSON, so
//! that the two cannot differ.

use crate::fields::Fields;
use crate::snapshot::Snapshot;
use crate::trouble::Trouble;
use book::{BY_THE_BOOK, Hash, MadeTo, Said, Tag};
use engine::description::SourceText;
use engine::model::{Condition, Date, RepairKind};
use engine::readings::{ByHand, read_table};
use engine::repair::wanted_size;

/// A field of something that can be said.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Field {
    /// Its name.
    pub(crate) name: &'static str,
    /// What it is.
    pub(crate) what: &'static str,
    /// It must be given.
    pub(crate) must: bool,
}

/// Something that can be said.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Kind {
    /// The word in the address.
    pub(crate) word: &'static str,
    /// What it is.
    pub(crate) what: &'static str,
    /// Fields.
    pub(crate) fields: &'static [Field],
    /// It is a signature: the password is asked for again.
    pub(crate) signature: bool,
}

const fn must(name: &'static str, what: &'static str) -> Field {
    Field { name, what, must: true }
}

const fn may(name: &'static str, what: &'static str) -> Field {
    Field { name, what, must: false }
}

const fn kind(word: &'static str, what: &'static str, fields: &'static [Field]) -> Kind {
    Kind { word, what, fields, signature: false }
}

const fn signed(word: &'static str, what: &'static str, fields: &'static [Field]) -> Kind {
    Kind { word, what, fields, signature: true }
}

/// Everything that can be said.
pub(crate) static KINDS: &[Kind] = &[
    kind(
        "reading",
        "One figure read with a gauge",
        &[
            must("feature", "Feature"),
            must("value", "Figure and unit, as read"),
            may("station", "Station along the axis"),
            may("direction", "Direction: degrees, V, H, or 3 o'clock"),
            may("gauge", "Gauge"),
            may("when", "Day it was read, year-month-day; today when not given"),
            may("temperature", "Temperature of the part"),
        ],
    ),
    kind(
        "readings",
        "A table of readings, with its heading",
        &[
            must("file", "Name of the table"),
            must("table", "The table, as a spreadsheet saves it"),
            may("ask_back", "Anything: it is not written while rows of it cannot be taken"),
            may("anyway", "Anything: it is written all the same"),
        ],
    ),
    kind(
        "described",
        "A text of the engine's description; one of the same name takes its place",
        &[
            must("file", "Name of the text, with .toml"),
            must("text", "The whole text"),
            may("anyway", "Anything: it is written even with faults"),
        ],
    ),
    kind("note", "A remark", &[must("about", "What it is about"), must("text", "The remark")]),
    kind(
        "found",
        "A condition found",
        &[
            must("part", "Part"),
            may("feature", "Feature; left out, the part as a whole"),
            must("condition", "Condition"),
            may("note", "Remark"),
        ],
    ),
    kind(
        "moved",
        "A thing put somewhere",
        &[
            must("thing", "Part or tin, or the code of its tag"),
            must("to", "Place, tin, or \"engine\" when it went back on"),
        ],
    ),
    kind(
        "tagged",
        "A tag tied to a part",
        &[must("part", "Part"), may("tag", "Code; the next free one when not given")],
    ),
    kind(
        "decided",
        "A decision on a joint; sizes in fields named \"make.FEATURE\"",
        &[
            must("joint", "Joint"),
            must("repair", "leave, take out, close, clean up, re-metal, line or renew"),
            may("reason", "Why"),
        ],
    ),
    kind(
        "worked",
        "Work done on a part or joint",
        &[
            must("about", "Part or joint"),
            must("what", "What was done"),
            may("reaches", "Hold point that the work has reached"),
        ],
    ),
    kind(
        "hold-point",
        "A point in the work that is passed by a signature only",
        &[
            must("id", "Short name"),
            must("about", "Part or joint whose work it stops"),
            must("what", "What is to be looked at"),
            may("not_by_doer", "Anything: who did the work may not release it"),
        ],
    ),
    signed(
        "released",
        "A hold point released",
        &[must("hold_point", "Hold point"), must("note", "What was seen")],
    ),
    signed(
        "signed-off",
        "A part, a joint or the engine signed off",
        &[must("about", "Part, joint, or \"engine\""), must("what", "What is signed")],
    ),
    kind(
        "struck-out",
        "An entry struck out: it stays and no longer counts",
        &[must("entry", "Number of the entry"), must("reason", "Why")],
    ),
    kind(
        "figure-struck-out",
        "One figure struck out",
        &[
            must("feature", "Feature"),
            may("value", "The figure, character for character"),
            may("figure", "Figure, station and direction with bars between, in place of the three"),
            may("station", "Station, when the figure stands at more than one"),
            may("direction", "Direction, likewise"),
            must("reason", "Why"),
        ],
    ),
    kind(
        "calibrated",
        "A gauge calibrated",
        &[
            must("gauge", "Gauge"),
            must("on", "Day, year-month-day"),
            may("due", "Day it runs out"),
            may("correction", "Known correction to add to what it shows, with its unit"),
            may("note", "Certificate or remark"),
        ],
    ),
    signed(
        "concession",
        "Leave to run beyond a limit until a day",
        &[
            must("about", "Joint, feature or part"),
            must("limit", "The limit that is passed"),
            must("what", "What is allowed, and under what conditions"),
            must("until", "Last day, year-month-day"),
            must("reason", "Why"),
        ],
    ),
    kind(
        "concession-closed",
        "A concession no longer holds",
        &[
            must("about", "Joint, feature or part"),
            must("limit", "The limit"),
            must("reason", "Why"),
        ],
    ),
    kind(
        "work-done",
        "A work of the plan done",
        &[
            must("work", "Work, by its id in the plan"),
            may("way", "The way in which it was done"),
            may("minutes", "Minutes it took"),
            may("note", "Remark"),
        ],
    ),
    kind(
        "work-stuck",
        "A work of the plan that cannot go on",
        &[
            must("work", "Work, by its id in the plan"),
            may("way", "The way that does not go; left out, the work as a whole"),
            must("why", "Why"),
        ],
    ),
    kind(
        "work-undone",
        "A work that was ticked by mistake",
        &[must("work", "Work, by its id in the plan"), must("why", "Why")],
    ),
];

/// The kind of a word.
pub(crate) fn kind_of(word: &str) -> Option<&'static Kind> {
    KINDS.iter().find(|k| k.word == word)
}

/// What the fields say. The book asks its own rules afterwards, in its lock.
///
/// # Errors
/// A field is missing or cannot be.
pub(crate) fn said(
    kind: &Kind,
    fields: &Fields,
    snap: &Snapshot,
    author: &str,
) -> Result<Said, Trouble> {
    for field in kind.fields.iter().filter(|f| f.must) {
        fields.wanted(field.name, &format!("\"{}\"", field.what))?;
    }
    let get = |name: &str| fields.get(name).to_owned();
    Ok(match kind.word {
        "reading" => reading(fields, snap, author)?,
        "readings" => {
            let table = fields.exactly("table").to_owned();
            if fields.ticked("ask_back") && !fields.ticked("anyway") {
                let engine = snap.engine.as_ref().map_err(|why| Trouble::wrong(why.clone(), ""))?;
                refuse_what_cannot_be_read(&table, engine.judgement.engine().clone())?;
            }
            Said::Readings { file: get("file"), table }
        }
        "described" => described(fields, snap)?,
        "note" => Said::Note { about: get("about"), text: get("text") },
        "found" => {
            let (feature, condition) = (get("feature"), get("condition"));
            if !feature.is_empty() {
                Condition::parse(&condition).map_err(|mend| {
                    Trouble::wrong(format!("\"{condition}\" is not a condition"), mend)
                })?;
            }
            Said::Found { part: get("part"), feature, condition, note: get("note") }
        }
        "moved" => Said::Moved { thing: named(snap, &get("thing")), to: named(snap, &get("to")) },
        "tagged" => {
            let tag = match fields.given("tag") {
                Some(code) => Tag::parse(code)?,
                None => snap.fold.free_tag(),
            };
            Said::Tagged { part: get("part"), tag: tag.code().to_owned() }
        }
        "decided" => decided(fields, snap)?,
        "worked" => {
            Said::Worked { about: get("about"), what: get("what"), reaches: get("reaches") }
        }
        "hold-point" => Said::HoldPoint {
            id: get("id"),
            about: get("about"),
            what: get("what"),
            not_by_doer: fields.ticked("not_by_doer"),
        },
        "released" => Said::Released { hold_point: get("hold_point"), note: get("note") },
        "signed-off" => Said::SignedOff { about: get("about"), what: get("what") },
        "struck-out" => {
            Said::StruckOut { entry: entry_hash(&get("entry"), snap)?, reason: get("reason") }
        }
        "figure-struck-out" => figure_struck_out(fields, snap)?,
        "calibrated" => {
            for day in ["on", "due"].into_iter().filter_map(|f| fields.given(f)) {
                a_day(day)?;
            }
            Said::Calibrated {
                gauge: get("gauge"),
                on: get("on"),
                due: get("due"),
                correction: get("correction"),
                note: get("note"),
            }
        }
        "concession" => {
            a_day(&get("until"))?;
            Said::Concession {
                about: get("about"),
                limit: get("limit"),
                what: get("what"),
                until: get("until"),
                reason: get("reason"),
            }
        }
        "concession-closed" => Said::ConcessionClosed {
            about: get("about"),
            limit: get("limit"),
            reason: get("reason"),
        },
        "work-done" => {
            a_work(fields, snap)?;
            Said::WorkDone {
                work: get("work"),
                way: get("way"),
                minutes: get("minutes"),
                note: get("note"),
            }
        }
        "work-stuck" => {
            a_work(fields, snap)?;
            Said::WorkStuck { work: get("work"), way: get("way"), why: get("why") }
        }
        "work-undone" => {
            a_work(fields, snap)?;
            Said::WorkUndone { work: get("work"), why: get("why") }
        }
        other => return Err(Trouble::missing(format!("\"{other}\" cannot be said here"), "")),
    })
}

/// A tag's code stands for its part.
fn named(snap: &Snapshot, text: &str) -> String {
    Tag::parse(text)
        .ok()
        .and_then(|_| snap.fold.thing(text).ok())
        .map_or(text.to_owned(), |(name, _)| name.to_owned())
}

/// A work that is not described, or a way that it has not, would be said into the wind.
fn a_work(fields: &Fields, snap: &Snapshot) -> Result<(), Trouble> {
    let engine = snap.engine.as_ref().map_err(|why| Trouble::wrong(why.clone(), ""))?;
    let model = &engine.judgement.engine().works;
    let work = fields.get("work");
    let at = model.work_by_id(work).ok_or_else(|| {
        let near =
            model.nearest_work(work).map_or_else(String::new, |n| format!("did you mean \"{n}\"?"));
        Trouble::wrong(format!("there is no work \"{work}\""), near)
    })?;
    let known: Vec<&str> = model.works[at].ways.iter().map(|w| w.id.as_str()).collect();
    match fields.given("way") {
        Some(way) if !known.contains(&way) => Err(Trouble::wrong(
            format!("\"{work}\" has no way \"{way}\""),
            format!("its ways are: {}", known.join(", ")),
        )),
        _ => Ok(()),
    }
}

/// A text with faults is asked about before it is written: what is at fault is left out of the engine.
fn described(fields: &Fields, snap: &Snapshot) -> Result<Said, Trouble> {
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

fn a_day(text: &str) -> Result<Date, Trouble> {
    Date::parse(text).map_err(|e| Trouble::wrong(e, "write it as year-month-day"))
}

fn entry_hash(text: &str, snap: &Snapshot) -> Result<String, Trouble> {
    if let Ok(number) = text.parse::<u64>() {
        let at = snap.timeline.binary_search_by_key(&number, |t| t.sequence);
        return at
            .map(|at| snap.timeline[at].hash.clone())
            .map_err(|_| Trouble::missing(format!("there is no entry {number}"), ""));
    }
    Ok(Hash::parse(text)?.to_string())
}

/// One figure is taken or refused at once: nobody comes back to mend it.
fn reading(fields: &Fields, snap: &Snapshot, author: &str) -> Result<Said, Trouble> {
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

fn decided(fields: &Fields, snap: &Snapshot) -> Result<Said, Trouble> {
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

fn figure_struck_out(fields: &Fields, snap: &Snapshot) -> Result<Said, Trouble> {
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
