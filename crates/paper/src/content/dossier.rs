//! The dossier: everything about an overhaul, each claim with the entry it rests on.
//!
//! The record comes in as plain lines, from whatever keeps it; what is judged comes from the
//! engine. Nothing is left out for its length: what was written stands in the appendix, entry by
//! entry.

use super::report::{gauges, head, joint_row, suspicious};
use super::shapes::*;
use crate::error::PaperError;
use crate::options::SheetOptions;
use crate::text::{Line, Words};
use engine::judge::Judgement;
use engine::view::{LimitView, joint_view, summary};
use std::collections::HashMap;
use typst::foundations::Bytes;
use typst::visualize::{ExchangeFormat, RasterImage};

/// An entry of the record: its number and the hash it was stored under.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct EntryRef {
    /// Number, from 1.
    pub sequence: u64,
    /// Hash, hexadecimal; its first eight digits are printed.
    pub hash: String,
}

/// One thing somebody said.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Record {
    /// The entry that says it.
    pub entry: EntryRef,
    /// Day.
    pub day: String,
    /// Who.
    pub by: String,
    /// Part, joint, gauge, work.
    pub about: String,
    /// What.
    pub text: String,
    /// Remark, reason, last day.
    pub note: String,
    /// Why it no longer counts; empty when it does.
    pub struck: String,
}

/// A person.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct DossierPerson {
    /// Name.
    pub name: String,
    /// Roles in words.
    pub roles: String,
    /// The entry that gave them last.
    pub entry: EntryRef,
    /// Entries they wrote.
    pub wrote: u64,
}

/// Readings of one surface.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct DossierReadings {
    /// Feature.
    pub feature: String,
    /// Readings of one gauge, person, day and temperature together.
    pub sittings: Vec<DossierSitting>,
}

/// Readings taken together.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct DossierSitting {
    /// Gauge, person, day, temperature, in words.
    pub words: String,
    /// Readings as they were written.
    pub readings: Vec<DossierReading>,
}

/// A reading as it was written.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct DossierReading {
    /// Number of its entry.
    pub sequence: u64,
    /// Station and direction.
    pub place: String,
    /// Figure and unit, character for character.
    pub text: String,
    /// It was struck out, alone or with its entry.
    pub struck: bool,
}

/// A decision.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct DossierDecision {
    /// What was decided: joint, repair and sizes, reason.
    pub record: Record,
    /// Sizes as written.
    pub make: Vec<String>,
    /// The entries it could rest on: readings and findings of the joint before it.
    pub rests_on: Vec<EntryRef>,
    /// A later decision that took its place.
    pub replaced_by: Option<EntryRef>,
}

/// A hold point.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct DossierHoldPoint {
    /// Who set it, on what, and what is to be looked at.
    pub set: Record,
    /// The work reached it.
    pub reached: Option<Record>,
    /// It was released.
    pub released: Option<Record>,
}

/// A photograph, small enough to print.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct DossierPhotograph {
    /// Who attached it, to what, its name and remark.
    pub record: Record,
    /// JPEG or PNG; empty when it is not a picture, and then only its words are printed.
    pub bytes: Vec<u8>,
}

/// An entry in the appendix.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct DossierEntry {
    /// Number and hash.
    pub entry: EntryRef,
    /// When, as the device told it.
    pub time: String,
    /// Who.
    pub by: String,
    /// On what.
    pub device: String,
    /// What, in a line.
    pub words: String,
    /// It no longer counts.
    pub struck: bool,
}

/// Everything about an overhaul as its record tells it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Dossier {
    /// Engine, as the record was begun.
    pub engine: String,
    /// Id of the book.
    pub book: String,
    /// When the first entry was written.
    pub begun: String,
    /// When the last entry was written.
    pub last: String,
    /// Last entry.
    pub head: EntryRef,
    /// What came of following the chain, in words.
    pub checked: String,
    /// People, in the order they came.
    pub people: Vec<DossierPerson>,
    /// Texts that describe the engine.
    pub descriptions: Vec<Record>,
    /// Conditions found.
    pub found: Vec<Record>,
    /// Readings by surface.
    pub readings: Vec<DossierReadings>,
    /// Decisions in their order.
    pub decisions: Vec<DossierDecision>,
    /// Work done, stuck, undone.
    pub work: Vec<Record>,
    /// Hold points.
    pub hold_points: Vec<DossierHoldPoint>,
    /// Sign-offs.
    pub sign_offs: Vec<Record>,
    /// Concessions that hold.
    pub concessions: Vec<Record>,
    /// Concessions that were closed or have run out.
    pub past_concessions: Vec<Record>,
    /// Calibrations.
    pub calibrations: Vec<Record>,
    /// Tags and places as they stand.
    pub places: Vec<Record>,
    /// Remarks.
    pub notes: Vec<Record>,
    /// What was struck out, and why.
    pub struck: Vec<Record>,
    /// Photographs and drawings.
    pub photographs: Vec<DossierPhotograph>,
    /// What is still open.
    pub open: Vec<Record>,
    /// Every entry.
    pub entries: Vec<DossierEntry>,
}

/// Longest line of the appendix; the entry itself has the rest.
const LONGEST_LINE: usize = 240;

/// The content, and the pictures by the names under which the content speaks of them.
pub(crate) fn dossier_content(
    judgement: Option<&Judgement>,
    d: &Dossier,
    options: &SheetOptions,
    warnings: &mut Vec<String>,
) -> Result<(DossierContent, Vec<(String, Bytes)>), PaperError> {
    if d.entries.is_empty() {
        return Err(PaperError::Nothing("the record has no entries".to_owned()));
    }
    let mut pictures = Vec::new();
    let photographs =
        d.photographs.iter().map(|p| photograph(p, &mut pictures, warnings)).collect();
    let content = DossierContent {
        paper: options.paper.name(),
        head: PlainHead { engine: Words::from(&d.engine), foot: Words::default() },
        book: Words::from(&d.book),
        begun: Words::from(&d.begun),
        last: Words::from(&d.last),
        sequence: d.head.sequence,
        hash: Words::from(&d.head.hash).text().to_owned(),
        checked: Words::from(&d.checked),
        judged: judgement.map(judged),
        people: d
            .people
            .iter()
            .map(|p| PersonRow {
                name: Words::from(&p.name),
                roles: Words::from(if p.roles.is_empty() { "no role" } else { &p.roles }),
                entry: entry(&p.entry),
                wrote: p.wrote,
            })
            .collect(),
        descriptions: records(&d.descriptions),
        found: records(&d.found),
        readings: d.readings.iter().map(|r| readings(judgement, r)).collect(),
        decisions: d.decisions.iter().map(decision).collect(),
        work: records(&d.work),
        hold_points: d
            .hold_points
            .iter()
            .map(|h| HoldRow {
                set: record(&h.set),
                reached: h.reached.as_ref().map(record),
                released: h.released.as_ref().map(record),
            })
            .collect(),
        sign_offs: records(&d.sign_offs),
        concessions: records(&d.concessions),
        past_concessions: records(&d.past_concessions),
        calibrations: records(&d.calibrations),
        places: records(&d.places),
        notes: records(&d.notes),
        struck: records(&d.struck),
        photographs,
        open: records(&d.open),
        entries: d.entries.iter().map(entry_line).collect(),
    };
    Ok((content, pictures))
}

/// Number and first digits of the hash as one word; nothing for what no entry says by itself.
fn entry(e: &EntryRef) -> String {
    if e.sequence == 0 {
        return String::new();
    }
    let hash: String = e.hash.chars().take(8).collect();
    format!("{}·{}", e.sequence, Words::from(hash).text())
}

fn records(all: &[Record]) -> Vec<RecordRow> {
    all.iter().map(record).collect()
}

fn record(r: &Record) -> RecordRow {
    RecordRow {
        entry: entry(&r.entry),
        day: Words::from(&r.day),
        by: Words::from(&r.by),
        about: Words::from(&r.about),
        text: Words::from(&r.text),
        note: Words::from(&r.note),
        struck: Words::from(&r.struck),
    }
}

fn decision(d: &DossierDecision) -> DecisionRow {
    DecisionRow {
        record: record(&d.record),
        make: d.make.iter().map(Words::from).collect(),
        rests_on: d.rests_on.iter().map(entry).collect(),
        replaced_by: d.replaced_by.as_ref().map(entry),
    }
}

fn readings(judgement: Option<&Judgement>, r: &DossierReadings) -> SurfaceReadings {
    let engine = judgement.map(Judgement::engine);
    let name = engine
        .and_then(|e| e.feature_by_id(&r.feature).map(|ix| e.feature(ix).name.clone()))
        .unwrap_or_default();
    SurfaceReadings {
        feature: Words::from(if r.feature.is_empty() { "no surface named" } else { &r.feature }),
        name: Words::from(name),
        sittings: r
            .sittings
            .iter()
            .map(|s| SittingRows {
                words: Words::from(&s.words),
                readings: s
                    .readings
                    .iter()
                    .map(|r| ReadingItem {
                        sequence: r.sequence,
                        place: Words::from(&r.place),
                        text: Words::from(&r.text),
                        struck: r.struck,
                    })
                    .collect(),
            })
            .collect(),
    }
}

fn entry_line(e: &DossierEntry) -> EntryLine {
    let mut words: String = e.words.chars().take(LONGEST_LINE).collect();
    if words.len() < e.words.len() {
        words.push('…');
    }
    EntryLine {
        entry: entry(&e.entry),
        time: Line::from(Words::from(short_time(&e.time))),
        by: Words::from(if e.device.is_empty() {
            e.by.clone()
        } else {
            format!("{} ({})", e.by, e.device)
        }),
        words: Line::from(Words::from(words)),
        struck: e.struck,
    }
}

/// `2026-10-05 08:00` of an RFC 3339 time in UTC; any other as it is.
fn short_time(time: &str) -> String {
    match (time.get(..10), time.get(10..11), time.get(11..16)) {
        (Some(day), Some("T"), Some(clock)) if time.ends_with('Z') => format!("{day} {clock}"),
        _ => time.to_owned(),
    }
}

/// A picture goes in only if the typesetter can read it: a damaged one must not cost the dossier.
fn photograph(
    p: &DossierPhotograph,
    pictures: &mut Vec<(String, Bytes)>,
    warnings: &mut Vec<String>,
) -> PhotographRow {
    let mut row = PhotographRow { record: record(&p.record), picture: String::new() };
    let format = match p.bytes.as_slice() {
        [0xFF, 0xD8, ..] => ExchangeFormat::Jpg,
        [0x89, b'P', b'N', b'G', ..] => ExchangeFormat::Png,
        _ => return row,
    };
    let bytes = Bytes::new(p.bytes.clone());
    match RasterImage::plain(bytes.clone(), format) {
        Ok(_) => {
            row.picture = format!(
                "/picture-{}.{}",
                pictures.len() + 1,
                if format == ExchangeFormat::Jpg { "jpg" } else { "png" }
            );
            pictures.push((row.picture.clone(), bytes));
        }
        Err(why) => warnings.push(format!(
            "the picture of entry {} cannot be read: {why}",
            p.record.entry.sequence
        )),
    }
    row
}

/// What the judgement says: the engine, its limits, how its joints were found.
fn judged(judgement: &Judgement) -> JudgedPart {
    let s = summary(judgement);
    let order = judgement.worst_first();
    let joints: Vec<JointRow> =
        order.iter().zip(&s.joints).map(|(ix, line)| joint_row(judgement, *ix, line)).collect();
    let mut limits = Vec::new();
    // What many joints have in common is said once: who says so, by the words.
    let mut sources: HashMap<String, usize> = HashMap::new();
    let mut said: Vec<Words> = Vec::new();
    for ix in &order {
        let view = joint_view(judgement, *ix);
        for l in &view.limits {
            let words = source_words(l);
            let number = *sources.entry(words.clone()).or_insert_with(|| {
                said.push(Words::from(&words));
                said.len()
            });
            limits.push(LimitLine {
                of: Words::from(l.feature.as_deref().unwrap_or(&view.id)),
                measure: l.of,
                when: l.when,
                limit: super::figures::limit_pair(l.min.as_ref(), l.max.as_ref()),
                value: l.value.as_ref().map(super::figures::pair),
                verdict: l.verdict,
                source: number,
            });
        }
    }
    JudgedPart {
        head: head(judgement),
        counts: super::summary::found(&s),
        joints,
        limits,
        sources: said,
        suspicious: suspicious(&s),
        gauges: gauges(&s),
        machine_to: super::machine_to::list(judgement),
        cautions: s.cautions.iter().map(Words::from).collect(),
        not_considered: super::not_considered::not_considered(judgement),
    }
}

fn source_words(l: &LimitView) -> String {
    if l.note.is_empty() { l.source.to_owned() } else { format!("{}: {}", l.source, l.note) }
}
