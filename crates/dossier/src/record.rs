//! The record of an overhaul, gathered from the entries of its book.

use crate::readings::{EntriesOf, Strike, readings};
use book::{Book, Entry, Error, Hash, Said, WorkWord};
use engine::judge::{Judgement, Verdict};
use engine::model::{Date, Engine};
use paper::{
    Dossier, DossierDecision, DossierEntry, DossierHoldPoint, DossierPerson, DossierPhotograph,
    EntryRef, Record,
};
use std::collections::{BTreeSet, HashMap};

/// A picture kept without a small one of it goes in whole up to this size.
const LARGEST_PICTURE: u64 = 400_000;

/// Everything the book says, in the shapes of [`paper::Dossier`]. The judgement, where there is
/// one, tells which readings a decision could rest on and which joints nobody has decided on; the
/// day tells which concessions have run out.
///
/// # Errors
/// The book cannot be read, or an entry of it is not as it was written.
pub fn record(
    book: &mut Book,
    judgement: Option<&Judgement>,
    today: Option<Date>,
) -> Result<Dossier, Error> {
    let mut entries: Vec<(Entry, Hash)> = Vec::new();
    book.each(&mut |entry, hash, _| {
        entries.push((entry.clone(), hash));
        Ok(())
    })?;
    let gatherer = Gatherer::new(book, judgement, today, &entries);
    let mut out = gatherer.gather();
    let attached: Vec<(Record, Option<String>)> = entries
        .iter()
        .filter_map(|(entry, _)| match &entry.said {
            Said::Attached { about, name, media, sha256, bytes, thumbnail, note } => {
                let line = gatherer.line(entry, about, name.clone(), note);
                let small = if !thumbnail.is_empty() {
                    Some(thumbnail.clone())
                } else if media.starts_with("image/") && *bytes <= LARGEST_PICTURE {
                    Some(sha256.clone())
                } else {
                    None
                };
                Some((line, small))
            }
            _ => None,
        })
        .collect();
    for (record, small) in attached {
        let hash = small.and_then(|text| Hash::parse(&text).ok());
        let bytes = match hash {
            // One that is lost or damaged is told of where the book is verified; its line stays.
            Some(hash) => book.attachment(&hash).unwrap_or_default(),
            None => Vec::new(),
        };
        out.photographs.push(DossierPhotograph { record, bytes });
    }
    Ok(out)
}

struct Gatherer<'a> {
    book: &'a Book,
    judgement: Option<&'a Judgement>,
    today: Option<Date>,
    entries: &'a [(Entry, Hash)],
    at: HashMap<u64, usize>,
}

/// What an entry says, in a line; a single reading as it was written.
fn line_of(said: &Said) -> String {
    if let Said::Readings { table, .. } = said {
        let mut rows = table.lines().filter(|l| !l.trim().is_empty()).skip(1);
        if let (Some(row), None) = (rows.next(), rows.next()) {
            return format!("reading: {}", row.trim());
        }
    }
    said.sentence()
}

/// The day of an RFC 3339 time.
fn day(time: &str) -> &str {
    time.get(..10).unwrap_or(time)
}

impl<'a> Gatherer<'a> {
    fn new(
        book: &'a Book,
        judgement: Option<&'a Judgement>,
        today: Option<Date>,
        entries: &'a [(Entry, Hash)],
    ) -> Gatherer<'a> {
        let at = entries.iter().enumerate().map(|(i, (e, _))| (e.sequence, i)).collect();
        Gatherer { book, judgement, today, entries, at }
    }

    fn entry_ref(&self, sequence: u64) -> EntryRef {
        let hash =
            self.at.get(&sequence).map_or_else(String::new, |i| self.entries[*i].1.to_string());
        EntryRef { sequence, hash }
    }

    fn said(&self, sequence: u64) -> Option<&Entry> {
        self.at.get(&sequence).map(|i| &self.entries[*i].0)
    }

    /// A line about an entry.
    fn line(&self, entry: &Entry, about: &str, text: String, note: &str) -> Record {
        Record {
            entry: self.entry_ref(entry.sequence),
            day: day(&entry.time).to_owned(),
            by: entry.author.clone(),
            about: about.to_owned(),
            text,
            note: note.to_owned(),
            struck: self.book.fold().struck(entry.sequence).unwrap_or("").to_owned(),
        }
    }

    fn line_at(&self, sequence: u64, about: &str, text: String, note: &str) -> Record {
        match self.said(sequence) {
            Some(entry) => self.line(entry, about, text, note),
            None => Record {
                entry: self.entry_ref(sequence),
                about: about.to_owned(),
                text,
                note: note.to_owned(),
                ..Record::default()
            },
        }
    }

    fn gather(&self) -> Dossier {
        let fold = self.book.fold();
        let head = self.book.head();
        let engine = self.judgement.map(Judgement::engine);
        let counts = |e: &Entry| fold.struck(e.sequence).is_none();
        let strikes: Vec<Strike> = self
            .entries
            .iter()
            .filter(|(e, _)| counts(e))
            .filter_map(|(e, _)| Strike::of(&e.said))
            .collect();
        let (readings, mut entries_of) = readings(fold, engine, &strikes);
        let mut out = Dossier {
            engine: engine.map_or_else(|| fold.name().to_owned(), |e| e.name.clone()),
            book: self.book.id().to_owned(),
            begun: self.entries.first().map(|(e, _)| e.time.clone()).unwrap_or_default(),
            last: self.entries.last().map(|(e, _)| e.time.clone()).unwrap_or_default(),
            head: EntryRef { sequence: head.sequence, hash: head.hash.to_string() },
            checked: format!(
                "followed from entry 1 to entry {} for this dossier: each quotes the hash of the one before",
                head.sequence
            ),
            readings,
            ..Dossier::default()
        };
        let mut written: HashMap<&str, u64> = HashMap::new();
        for (entry, hash) in self.entries {
            *written.entry(&entry.author).or_default() += 1;
            self.take(entry, &mut out, &mut entries_of);
            out.entries.push(DossierEntry {
                entry: EntryRef { sequence: entry.sequence, hash: hash.to_string() },
                time: entry.time.clone(),
                by: entry.author.clone(),
                device: entry.device.clone(),
                words: line_of(&entry.said),
                struck: !counts(entry),
            });
        }
        self.described(&mut out);
        self.people(&mut out, &written);
        self.decisions(&mut out, &entries_of);
        self.hold_points(&mut out);
        self.concessions(&mut out);
        self.places(&mut out);
        self.still_open(&mut out);
        out
    }

    /// Puts an entry where it belongs.
    fn take(&self, entry: &Entry, out: &mut Dossier, entries_of: &mut EntriesOf) {
        let line = |about: &str, text: String, note: &str| self.line(entry, about, text, note);
        match &entry.said {
            Said::Described { file, text } => {
                out.descriptions.push(line(file, format!("{} lines", text.lines().count()), ""))
            }
            Said::Found { part, feature, condition, note } => {
                let about = if feature.is_empty() { part } else { feature };
                if self.book.fold().struck(entry.sequence).is_none() {
                    entries_of.entry(about.clone()).or_default().insert(entry.sequence);
                }
                out.found.push(line(about, condition.clone(), note));
            }
            Said::Calibrated { gauge, on, due, correction, note } => {
                let mut text = format!("calibrated {on}");
                for (word, value) in [("until", due), ("correction", correction)] {
                    if !value.is_empty() {
                        text.push_str(&format!(", {word} {value}"));
                    }
                }
                out.calibrations.push(line(gauge, text, note));
            }
            Said::Worked { about, what, reaches } => {
                let note = if reaches.is_empty() {
                    String::new()
                } else {
                    format!("reaches hold point {reaches}")
                };
                out.work.push(line(about, what.clone(), &note));
            }
            Said::WorkDone { work, .. }
            | Said::WorkStuck { work, .. }
            | Said::WorkUndone { work, .. } => {
                out.work.push(line(work, line_of(&entry.said), ""));
            }
            Said::SignedOff { about, what } => out.sign_offs.push(line(about, what.clone(), "")),
            Said::StruckOut { entry: hash, reason } => {
                let known = Hash::parse(hash).ok().and_then(|h| self.book.fold().by_hash(&h));
                let text = match known.and_then(|sequence| self.said(sequence)) {
                    Some(struck) => format!("entry {}: {}", struck.sequence, line_of(&struck.said)),
                    None => format!("the entry {hash}, which this book does not have"),
                };
                let about = known.map_or_else(String::new, |n| format!("entry {n}"));
                out.struck.push(line(&about, text, reason));
            }
            Said::FigureStruckOut { feature, value, station, direction, reason } => {
                let place: Vec<&str> =
                    [station.as_str(), direction].into_iter().filter(|p| !p.is_empty()).collect();
                let text = if place.is_empty() {
                    format!("the figure {value}")
                } else {
                    format!("the figure {value} at {}", place.join(" "))
                };
                out.struck.push(line(feature, text, reason));
            }
            Said::Note { about, text } => out.notes.push(line(about, text.clone(), "")),
            Said::Decided { joint, repair, make, reason } => out.decisions.push(DossierDecision {
                record: line(joint, repair.clone(), reason),
                make: make.iter().map(|m| format!("{} to {}", m.feature, m.to)).collect(),
                rests_on: Vec::new(),
                replaced_by: None,
            }),
            _ => {}
        }
    }

    /// Decisions and findings that stand in a description and not in entries of their own: the
    /// entry that brought the description says them.
    fn described(&self, out: &mut Dossier) {
        let Some(judgement) = self.judgement else { return };
        let engine = judgement.engine();
        let brought = |record: &str, about: &str| {
            self.entries.iter().rev().map(|(e, _)| e).find(|e| {
                matches!(&e.said, Said::Described { text, .. }
                    if text.contains(record) && text.contains(about))
            })
        };
        let line = |record: &str, about: &str, text: &str, note: String| {
            let entry = brought(record, about)?;
            Some(self.line(entry, about, text.to_owned(), &note))
        };
        let by = |by: &str, when: Option<Date>| match when {
            Some(day) => format!("by {by}, {day}, as the description has it"),
            None => format!("by {by}, as the description has it"),
        };
        let mut decisions = Vec::new();
        for d in &engine.decisions {
            let joint = &engine.joint(d.joint).id;
            let said = out.decisions.iter().any(|k| {
                k.record.about == *joint && k.record.text == d.repair.word() && k.record.by == d.by
            });
            if said {
                continue;
            }
            let note = format!("{} ({})", d.reason, by(&d.by, d.when));
            if let Some(record) = line("[[decision]]", joint, d.repair.word(), note) {
                decisions.push(DossierDecision {
                    record,
                    make: d
                        .make
                        .iter()
                        .map(|m| format!("{} to {}", engine.feature(m.feature).id, m.to.text()))
                        .collect(),
                    rests_on: Vec::new(),
                    replaced_by: None,
                });
            }
        }
        out.decisions.splice(0..0, decisions);
        let mut found = Vec::new();
        for f in &engine.findings {
            let feature = &engine.feature(f.feature).id;
            let said = out
                .found
                .iter()
                .any(|k| k.about == *feature && k.text == f.condition.word() && k.by == f.by);
            let note = format!("{} ({})", f.note, by(&f.by, f.when));
            if !said && let Some(record) = line("[[finding]]", feature, f.condition.word(), note) {
                found.push(record);
            }
        }
        out.found.splice(0..0, found);
    }

    fn people(&self, out: &mut Dossier, written: &HashMap<&str, u64>) {
        for person in self.book.fold().people() {
            let given = self.entries.iter().rev().find(
                |(e, _)| matches!(&e.said, Said::Person { name, .. } if *name == person.name),
            );
            let roles: Vec<String> = person.roles.iter().map(ToString::to_string).collect();
            out.people.push(DossierPerson {
                name: person.name.clone(),
                roles: roles.join(", "),
                entry: given.map(|(e, _)| self.entry_ref(e.sequence)).unwrap_or_default(),
                wrote: written.get(person.name.as_str()).copied().unwrap_or(0),
            });
        }
    }

    /// What stood before each decision about its joint, and what took its place.
    fn decisions(&self, out: &mut Dossier, entries_of: &EntriesOf) {
        let mut latest: HashMap<String, u64> = HashMap::new();
        for d in out.decisions.iter_mut().rev() {
            let sequence = d.record.entry.sequence;
            d.replaced_by = latest.get(&d.record.about).map(|n| self.entry_ref(*n));
            if d.record.struck.is_empty() {
                latest.insert(d.record.about.clone(), sequence);
            }
            let names = self
                .judgement
                .map(|j| surfaces_of(j.engine(), &d.record.about))
                .unwrap_or_else(|| vec![d.record.about.clone()]);
            let before: BTreeSet<u64> = names
                .iter()
                .filter_map(|name| entries_of.get(name))
                .flatten()
                .copied()
                .filter(|n| *n < sequence)
                .collect();
            d.rests_on = before.into_iter().map(|n| self.entry_ref(n)).collect();
        }
    }

    fn hold_points(&self, out: &mut Dossier) {
        for point in self.book.fold().hold_points() {
            let set =
                self.entries.iter().rev().find(
                    |(e, _)| matches!(&e.said, Said::HoldPoint { id, .. } if *id == point.id),
                );
            let Some((entry, _)) = set else { continue };
            let who = if point.not_by_doer { "; not released by who did the work" } else { "" };
            let note_of = |sequence: u64| match self.said(sequence).map(|e| &e.said) {
                Some(Said::Released { note, .. }) => note.clone(),
                Some(Said::Worked { what, .. }) => what.clone(),
                _ => String::new(),
            };
            let at = |sequence: Option<u64>| {
                sequence.map(|n| self.line_at(n, &point.about, point.id.clone(), &note_of(n)))
            };
            out.hold_points.push(DossierHoldPoint {
                set: self.line(
                    entry,
                    &point.about,
                    point.id.clone(),
                    &format!("{}{who}", point.what),
                ),
                reached: at(point.reached),
                released: at(point.released),
            });
        }
    }

    fn concessions(&self, out: &mut Dossier) {
        for c in self.book.fold().concessions() {
            // Without a day nothing can have run out.
            let holds = match self.today {
                Some(today) => c.holds_on(today),
                None => c.closed.is_none(),
            };
            let text = format!("for {} until {}: {}", c.limit, c.until, c.what);
            let mut note = c.reason.clone();
            if let Some(n) = c.closed {
                let more = format!("closed by entry {n}");
                note = if note.is_empty() { more } else { format!("{note}; {more}") };
            }
            let line = self.line_at(c.sequence, &c.about, text, &note);
            if holds { &mut out.concessions } else { &mut out.past_concessions }.push(line);
        }
    }

    fn places(&self, out: &mut Dossier) {
        for (name, thing) in self.book.fold().things() {
            let tag = thing.tag.as_ref().map_or_else(String::new, |t| format!("tag {t}"));
            let place = thing.standing.as_ref().map_or_else(
                || "place not told".to_owned(),
                |s| if s.place == "engine" { "on the engine".to_owned() } else { s.place.clone() },
            );
            let sequence = thing.standing.as_ref().map(|s| s.sequence).or_else(|| {
                let tagged =
                    self.entries.iter().rev().find(
                        |(e, _)| matches!(&e.said, Said::Tagged { part, .. } if part == name),
                    );
                tagged.map(|(e, _)| e.sequence)
            });
            out.places.push(self.line_at(sequence.unwrap_or(0), name, place, &tag));
        }
    }

    fn still_open(&self, out: &mut Dossier) {
        let fold = self.book.fold();
        let mut open = Vec::new();
        for h in &out.hold_points {
            if h.released.is_none() {
                let state = if h.reached.is_some() {
                    "reached, waits for its release"
                } else {
                    "not reached"
                };
                open.push(Record {
                    text: format!("hold point {}: {state}", h.set.text),
                    ..h.set.clone()
                });
            }
        }
        for w in fold.works_now() {
            if let WorkWord::Stuck { why, .. } = &w.word {
                open.push(self.line_at(w.sequence, &w.work, format!("stuck: {why}"), ""));
            }
        }
        for (name, standing) in fold.never_went_back() {
            let text = format!("not back on the engine: {}", standing.place);
            open.push(self.line_at(standing.sequence, name, text, ""));
        }
        open.extend(
            out.concessions.iter().map(|c| Record {
                text: format!("runs under a concession {}", c.text),
                ..c.clone()
            }),
        );
        for c in fold.open_contradictions() {
            open.push(Record {
                about: c.about.clone(),
                text: format!("two copies of the book say different things ({})", c.kind),
                ..Record::default()
            });
        }
        if let Some(judgement) = self.judgement {
            let engine = judgement.engine();
            for ix in judgement.worst_first() {
                let joint = engine.joint(ix);
                let decided = engine.decisions.iter().any(|d| d.joint == ix);
                if judgement.joint(ix).verdict == Verdict::Beyond && !decided {
                    open.push(Record {
                        about: joint.id.clone(),
                        text: "beyond its limit, and nothing is decided".to_owned(),
                        ..Record::default()
                    });
                }
            }
        }
        out.open = open;
    }
}

/// A joint with the surfaces it is made of.
fn surfaces_of(engine: &Engine, joint: &str) -> Vec<String> {
    let mut names = vec![joint.to_owned()];
    if let Some(ix) = engine.joint_by_id(joint) {
        let joint = engine.joint(ix);
        let pair = [joint.inner, joint.outer];
        let halves = pair.iter().flat_map(|f| engine.feature(*f).halves.clone());
        let stand = joint.stand.map(|s| s.feature);
        let all = pair.into_iter().chain(halves).chain(joint.fills.iter().copied()).chain(stand);
        names.extend(all.map(|f| engine.feature(f).id.clone()));
    }
    names
}
