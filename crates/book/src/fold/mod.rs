//! Folding entries: what the book says now.

mod derived;
mod rules;
mod sources;

pub use derived::{HoldPoint, Standing, Thing};
pub use sources::{AllReadings, EngineRead, EngineSources, Table};

pub(crate) use sources::delimiter_of;

use crate::said::Contradiction;
use crate::{Entry, Error, Hash, Person, Said};
use derived::Derived;
use std::collections::HashMap;

/// A table of readings as it came, its heading kept once for all that have the same.
#[derive(Clone, Debug)]
struct ReadingsEntry {
    sequence: u64,
    file: u32,
    heading: u32,
    body: Box<str>,
}

/// Texts kept once.
#[derive(Clone, Debug, Default)]
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

/// What the entries say, taken one after another. The same entries give the same fold.
#[derive(Clone, Debug, Default)]
pub struct Fold {
    readings: Vec<ReadingsEntry>,
    files: Names,
    headings: Names,
    /// Every entry that is not readings.
    others: Vec<Entry>,
    by_hash: HashMap<Hash, u64>,
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
        self.last = entry.sequence;
        self.by_hash.insert(hash, entry.sequence);
        if let Some(origin) = &entry.origin {
            self.by_hash.insert(origin.hash, entry.sequence);
        }
        match &entry.said {
            Said::Readings { file, table } => {
                let (heading, body) = sources::split_heading(table);
                let (heading, file) = (self.headings.number(heading), self.files.number(file));
                let sequence = entry.sequence;
                self.readings.push(ReadingsEntry { sequence, file, heading, body: body.into() });
                return;
            }
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
                let struck = Hash::parse(hash).ok().and_then(|h| self.by_hash.get(&h).copied());
                if let Some(sequence) = struck {
                    self.struck.insert(sequence, reason.clone());
                    self.stale = true;
                }
            }
            _ => self.derived.take(&entry),
        }
        self.others.push(entry);
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
        self.by_hash.get(hash).copied()
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

    /// Contradictions that a join brought and nobody has settled.
    pub fn open_contradictions(&self) -> impl Iterator<Item = &Contradiction> {
        self.derived.contradictions.iter()
    }

    /// Number of the last entry.
    pub fn last(&self) -> u64 {
        self.last
    }
}
