//! Folding entries: what the book says now.

mod derived;
mod hashes;
mod named;
mod rules;
mod sources;
mod who;
mod works;

pub use derived::{HoldPoint, Standing, Thing};
pub use sources::{AllReadings, BY_THE_BOOK, EngineRead, EngineSources, Table};
pub use works::{Concession, DayPlan, Device, Work, WorkWord};

pub(crate) use sources::{delimiter_of, split_heading};
pub(crate) use works::on_limit;

use crate::said::Contradiction;
use crate::{Entry, Error, Hash, Person, Said};
use derived::Derived;
use engine::model::Date;
use hashes::Hashes;
use std::collections::HashMap;

/// An entry of readings, as the fold takes it.
pub(crate) struct ReadingsSaid<'a> {
    pub(crate) sequence: u64,
    pub(crate) hash: Hash,
    /// The hash it had before a join.
    pub(crate) origin: Option<Hash>,
    pub(crate) key: Option<&'a str>,
    pub(crate) author: &'a str,
    /// Name of the table, by its number in the fold.
    pub(crate) file: u32,
    /// The table up to and with its heading, by its number, and the rest.
    pub(crate) heading: u32,
    pub(crate) body: &'a str,
}

/// What an entry says, as far as it must be compared with another.
enum Spoken<'a> {
    Readings { file: u32, heading: u32, body: &'a str },
    Other(&'a Said),
}

/// A table of readings as it came, its heading kept once for all that have the same.
#[derive(Clone, Debug, PartialEq)]
struct ReadingsEntry {
    sequence: u64,
    file: u32,
    heading: u32,
    /// Its rows, in the fold's text of all rows.
    rows: std::ops::Range<usize>,
}

/// Texts kept once.
#[derive(Clone, Debug, Default, PartialEq)]
struct Names {
    texts: Vec<Box<str>>,
    numbers: HashMap<Box<str>, u32>,
}

impl Names {
    fn number(&mut self, text: &str) -> u32 {
        if let Some(number) = self.numbers.get(text) {
            return *number;
        }
        // 2^32 different headings would fill the memory long before.
        let number = self.texts.len() as u32;
        self.texts.push(text.into());
        self.numbers.insert(text.into(), number);
        number
    }

    fn text(&self, number: u32) -> &str {
        self.texts.get(number as usize).map_or("", |t| t)
    }
}

/// An entry that carries a key, and others with the same.
#[derive(Clone, Debug, PartialEq)]
struct Keyed {
    sequence: u64,
    author: u32,
    others: Vec<(u64, u32)>,
}

/// What the entries say, taken one after another. The same entries give the same fold.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Fold {
    readings: Vec<ReadingsEntry>,
    /// The rows of all of them.
    rows: String,
    files: Names,
    headings: Names,
    /// Every entry that is not readings.
    others: Vec<Entry>,
    hashes: Hashes,
    /// The hash that an entry had before a join.
    origins: HashMap<u64, Hash>,
    /// Entries that carry each key: one, but after a join perhaps more.
    keys: HashMap<Box<str>, Keyed>,
    authors: Names,
    /// Entries that say again, under the same key, what an earlier one says.
    repeats: HashMap<u64, u64>,
    struck: HashMap<u64, String>,
    derived: Derived,
    people: Vec<Person>,
    name: String,
    stale: bool,
    last: u64,
}

impl Fold {
    /// Takes the next entry. Nothing is refused here: what stands in the book stands.
    pub(crate) fn take(&mut self, entry: Entry, hash: Hash) {
        let origin = entry.origin.as_ref().map(|o| o.hash);
        if let Said::Readings { file, table } = &entry.said {
            let (heading, body) = sources::split_heading(table);
            let (file, heading) = (self.file(file), self.heading(heading));
            self.take_readings(&ReadingsSaid {
                sequence: entry.sequence,
                hash,
                origin,
                key: entry.key.as_deref(),
                author: &entry.author,
                file,
                heading,
                body,
            });
            return;
        }
        self.number(entry.sequence, hash, origin);
        let counts = match &entry.key {
            Some(key) => {
                self.take_key(key, &entry.author, entry.sequence, &Spoken::Other(&entry.said))
            }
            None => true,
        };
        match &entry.said {
            _ if !counts => {}
            Said::Started { name } => self.name.clone_from(name),
            Said::Person { name, roles, password } => {
                let person =
                    Person { name: name.clone(), roles: roles.clone(), password: password.clone() };
                match self.people.iter_mut().find(|p| p.name == *name) {
                    Some(known) => *known = person,
                    None => self.people.push(person),
                }
                self.derived.take(&entry);
            }
            Said::StruckOut { entry: hash, reason } => {
                self.hashes.order();
                let struck = Hash::parse(hash).ok().and_then(|h| self.hashes.number(&h));
                if let Some(sequence) = struck {
                    self.struck.insert(sequence, reason.clone());
                    // What was sent twice is struck out wherever it stands.
                    if let Some(first) = self.repeats.get(&sequence) {
                        self.struck.insert(*first, reason.clone());
                    }
                    self.stale = true;
                }
            }
            _ => self.derived.take(&entry),
        }
        self.others.push(entry);
    }

    /// Takes the next entry, one of readings.
    pub(crate) fn take_readings(&mut self, said: &ReadingsSaid<'_>) {
        let ReadingsSaid { sequence, file, heading, body, .. } = *said;
        self.number(sequence, said.hash, said.origin);
        if let Some(key) = said.key {
            self.take_key(key, said.author, sequence, &Spoken::Readings { file, heading, body });
        }
        let from = self.rows.len();
        self.rows.push_str(body);
        let rows = from..self.rows.len();
        self.readings.push(ReadingsEntry { sequence, file, heading, rows });
    }

    /// The number of a table's name.
    pub(crate) fn file(&mut self, name: &str) -> u32 {
        self.files.number(name)
    }

    /// The number of a heading.
    pub(crate) fn heading(&mut self, heading: &str) -> u32 {
        self.headings.number(heading)
    }

    fn number(&mut self, sequence: u64, hash: Hash, origin: Option<Hash>) {
        self.last = sequence;
        self.hashes.put(hash, sequence);
        if let Some(origin) = origin {
            self.hashes.put(origin, sequence);
            self.origins.insert(sequence, origin);
        }
    }

    /// Makes room for so many entries more.
    pub(crate) fn reserve(&mut self, entries: usize) {
        self.hashes.reserve(entries);
        self.readings.reserve(entries);
    }

    /// Whether the entry counts: not when an earlier one says the same under the same key, which
    /// happens when a device sent it to two copies that were joined later.
    fn take_key(&mut self, key: &str, author: &str, sequence: u64, spoken: &Spoken<'_>) -> bool {
        let author = self.authors.number(author);
        let Some(known) = self.keys.get(key) else {
            self.keys.insert(key.into(), Keyed { sequence, author, others: Vec::new() });
            return true;
        };
        let first = std::iter::once((known.sequence, known.author))
            .chain(known.others.iter().copied())
            .find(|(at, by)| *by == author && self.says(*at, spoken));
        match first {
            Some((first, _)) => {
                self.repeats.insert(sequence, first);
                self.struck.insert(sequence, format!("sent twice: it is entry {first}"));
                false
            }
            None => {
                if let Some(known) = self.keys.get_mut(key) {
                    known.others.push((sequence, author));
                }
                true
            }
        }
    }

    /// Whether an earlier entry says this.
    fn says(&self, sequence: u64, spoken: &Spoken<'_>) -> bool {
        match spoken {
            Spoken::Other(said) => self
                .others
                .binary_search_by_key(&sequence, |e| e.sequence)
                .is_ok_and(|at| self.others[at].said == **said),
            Spoken::Readings { file, heading, body } => {
                self.readings.binary_search_by_key(&sequence, |e| e.sequence).is_ok_and(|at| {
                    let there = &self.readings[at];
                    self.rows[there.rows.clone()] == **body
                        && there.heading == *heading
                        && there.file == *file
                })
            }
        }
    }

    /// Numbers of the entries with this key, those that say what another says left out.
    pub(crate) fn with_key(&self, key: &str) -> Vec<u64> {
        self.keys.get(key).map_or_else(Vec::new, |known| {
            std::iter::once(known.sequence).chain(known.others.iter().map(|(at, _)| *at)).collect()
        })
    }

    /// A strike-out names its entry by the hash with which that was first written: the one that
    /// every later join keeps.
    pub(crate) fn as_first_written(&self, said: &Said) -> Said {
        if let Said::StruckOut { entry, reason } = said
            && let Ok(hash) = Hash::parse(entry)
            && let Some(first) = self.by_hash(&hash).and_then(|at| self.origins.get(&at))
        {
            return Said::StruckOut { entry: first.to_string(), reason: reason.clone() };
        }
        said.clone()
    }

    /// Works out anew what strike-outs have changed.
    pub(crate) fn settle(&mut self) {
        if !self.stale {
            return;
        }
        self.derived = Derived::default();
        for entry in &self.others {
            if !self.struck.contains_key(&entry.sequence) {
                self.derived.take(entry);
            }
        }
        self.stale = false;
    }

    /// Name of the engine as the book was begun.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// People, in the order they were added.
    pub fn people(&self) -> &[Person] {
        &self.people
    }

    /// A person by name.
    pub fn person(&self, name: &str) -> Option<&Person> {
        self.people.iter().find(|p| p.name == name)
    }

    /// Why an entry no longer counts, if it does not.
    pub fn struck(&self, sequence: u64) -> Option<&str> {
        self.struck.get(&sequence).map(String::as_str)
    }

    /// The entry with this hash, now or before a join.
    pub fn by_hash(&self, hash: &Hash) -> Option<u64> {
        self.hashes.number(hash)
    }

    /// Parts and tins: tags and places.
    pub fn things(&self) -> impl Iterator<Item = (&str, &Thing)> {
        self.derived.things.iter().map(|(name, thing)| (name.as_str(), thing))
    }

    /// A part or tin by its name or by the code of its tag.
    ///
    /// # Errors
    /// The book does not speak of it.
    pub fn thing(&self, name: &str) -> Result<(&str, &Thing), Error> {
        let tagged = crate::Tag::parse(name).ok().and_then(|t| self.derived.tags.get(t.code()));
        let name = tagged.map_or(name, String::as_str);
        self.derived
            .things
            .get_key_value(name)
            .map(|(name, thing)| (name.as_str(), thing))
            .ok_or_else(|| {
                Error::Missing(format!("the book has neither tag nor place of \"{name}\""))
            })
    }

    /// Where a thing is: its place, and the place of that, outward.
    ///
    /// # Errors
    /// The book does not speak of it.
    pub fn whereabouts(&self, name: &str) -> Result<Vec<&Standing>, Error> {
        let (_, thing) = self.thing(name)?;
        let mut way = Vec::new();
        let mut at = thing.standing.as_ref();
        while let Some(standing) = at {
            // A tin said to be in itself would never end.
            if way.iter().any(|s: &&Standing| s.place == standing.place) {
                break;
            }
            way.push(standing);
            at = self.thing(&standing.place).ok().and_then(|(_, t)| t.standing.as_ref());
        }
        Ok(way)
    }

    /// Everything that lies in a place or tin.
    pub fn inside<'a>(&'a self, place: &'a str) -> impl Iterator<Item = (&'a str, &'a Thing)> {
        self.things().filter(move |(_, t)| t.standing.as_ref().is_some_and(|s| s.place == place))
    }

    /// Parts that were put somewhere off the engine and never went back on.
    pub fn never_went_back(&self) -> impl Iterator<Item = (&str, &Standing)> {
        self.things().filter_map(|(name, t)| {
            t.standing.as_ref().filter(|s| s.place != derived::ON_THE_ENGINE).map(|s| (name, s))
        })
    }

    /// The next code that no part has.
    pub fn free_tag(&self) -> crate::Tag {
        let mut number = self.derived.tags.len() as u64;
        loop {
            let tag = crate::Tag::numbered(number);
            if !self.derived.tags.contains_key(tag.code()) {
                return tag;
            }
            number += 1;
        }
    }

    /// Hold points, in the order they were set.
    pub fn hold_points(&self) -> &[HoldPoint] {
        &self.derived.hold_points
    }

    /// Contradictions that a join brought and nobody has settled, by a later entry on the same
    /// thing or by striking out one of the two.
    pub fn open_contradictions(&self) -> impl Iterator<Item = &Contradiction> {
        self.derived.contradictions.iter().filter(|c| {
            !c.entries.iter().any(|hash| {
                Hash::parse(hash)
                    .ok()
                    .and_then(|hash| self.by_hash(&hash))
                    .is_some_and(|at| self.struck.contains_key(&at))
            })
        })
    }

    /// What was said about works of the plan, in order.
    pub fn works(&self) -> &[Work] {
        &self.derived.works
    }

    /// The last word on each work, in the order of the last words; works that are neither done nor
    /// stuck are left out.
    pub fn works_now(&self) -> Vec<&Work> {
        works::last_words(&self.derived.works)
    }

    /// Sheets of days, the last of each day, in the order of the days.
    pub fn day_plans(&self) -> impl Iterator<Item = &DayPlan> {
        self.derived.day_plans.values()
    }

    /// Every concession, in the order they were given; one that was given anew, once.
    pub fn concessions(&self) -> &[Concession] {
        &self.derived.concessions
    }

    /// Concessions that hold on a day: given, neither closed nor run out.
    pub fn concessions_on(&self, day: Date) -> impl Iterator<Item = &Concession> {
        self.derived.concessions.iter().filter(move |c| c.holds_on(day))
    }

    /// Devices that were given a token, in the order they were first given one.
    pub fn devices(&self) -> &[Device] {
        &self.derived.devices
    }

    pub(crate) fn device_by_hash(&self, hash: &Hash) -> Option<&Device> {
        self.derived.devices.iter().find(|d| d.hash == Some(*hash))
    }

    /// Number of the last entry.
    pub fn last(&self) -> u64 {
        self.last
    }
}
