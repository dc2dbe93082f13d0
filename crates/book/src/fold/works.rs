//! What follows from the entries about works, days, concessions and devices.

use super::derived::{Derived, day};
use crate::{Entry, Error, Hash, Said};
use engine::model::{Date, Engine};
use engine::works::{SaidOfWork, What, take_happened};

impl super::Fold {
    /// Tells an engine what the book says of its works. What names works or ways that are not
    /// described is left out, and told.
    pub fn tell_works(&self, engine: &mut Engine) -> Vec<String> {
        let said = self.works().iter().map(|w| {
            let (way, what, why) = match &w.word {
                WorkWord::Done { way, note, .. } => (way.as_str(), What::Done(None), note.as_str()),
                WorkWord::Stuck { way, why } => (way.as_str(), What::Stuck, why.as_str()),
                WorkWord::Undone { why } => ("", What::Undone, why.as_str()),
            };
            SaidOfWork { work: &w.work, way, what, when: &w.when, why, by: &w.by }
        });
        take_happened(engine, said)
    }
}

/// What was said about a work.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum WorkWord {
    /// It is done.
    Done {
        /// The way, or empty.
        way: String,
        /// Minutes as written, or empty.
        minutes: String,
        /// Remark.
        note: String,
    },
    /// It cannot go on.
    Stuck {
        /// The way that does not go, or empty for the work as a whole.
        way: String,
        /// Why.
        why: String,
    },
    /// It had been ticked by mistake.
    Undone {
        /// Why.
        why: String,
    },
}

/// One word on a work of the plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Work {
    /// Work, by its id in the plan.
    pub work: String,
    /// What was said.
    pub word: WorkWord,
    /// Entry.
    pub sequence: u64,
    /// Who.
    pub by: String,
    /// When, RFC 3339.
    pub when: String,
}

/// The sheet of a day.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DayPlan {
    /// Day.
    pub day: String,
    /// Who was there.
    pub crew: Vec<String>,
    /// The sheet.
    pub text: String,
    /// Entry.
    pub sequence: u64,
}

/// Leave to run beyond a limit for a time.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Concession {
    /// Joint, feature or part.
    pub about: String,
    /// The limit that is passed.
    pub limit: String,
    /// What is allowed.
    pub what: String,
    /// Last day it holds.
    pub until: String,
    /// Why.
    pub reason: String,
    /// Entry.
    pub sequence: u64,
    /// Who gave it.
    pub by: String,
    /// Day it was given.
    pub when: String,
    /// Entry that closed it.
    pub closed: Option<u64>,
}

impl Concession {
    /// Whether it holds on a day: from the day it was given to its last, both with it.
    pub fn holds_on(&self, day: Date) -> bool {
        // A day that cannot be read lets nothing run.
        let from = Date::parse(&self.when).is_ok_and(|from| from <= day);
        self.closed.is_none() && from && Date::parse(&self.until).is_ok_and(|until| day <= until)
    }
}

/// A device that may write as a person.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Device {
    /// Its name; its entries say it was on this they were written.
    pub name: String,
    /// Person whose entries it writes.
    pub person: String,
    /// Last day (UTC) its token is taken.
    pub until: String,
    /// SHA-256 of the token; none when what the entry quotes is not one.
    pub hash: Option<Hash>,
    /// Entry that gave it.
    pub sequence: u64,
    /// Entry that withdrew it.
    pub withdrawn: Option<u64>,
}

impl Device {
    /// Whether its token is taken on a day.
    ///
    /// # Errors
    /// Withdrawn, or run out: says so.
    pub fn stands_on(&self, day: Date) -> Result<(), Error> {
        let mend = "the responsible engineer gives a new one";
        if let Some(entry) = self.withdrawn {
            return Err(Error::not_allowed(
                format!("the token of \"{}\" was withdrawn (entry {entry})", self.name),
                mend,
            ));
        }
        if Date::parse(&self.until).is_ok_and(|until| day <= until) {
            Ok(())
        } else {
            Err(Error::not_allowed(
                format!("the token of \"{}\" ran out on {}", self.name, self.until),
                mend,
            ))
        }
    }
}

/// The last word on each work, without those that are ticked no longer.
pub(super) fn last_words(works: &[Work]) -> Vec<&Work> {
    let mut seen = std::collections::HashSet::new();
    let mut last: Vec<&Work> = works.iter().rev().filter(|w| seen.insert(&w.work)).collect();
    last.reverse();
    last.retain(|w| !matches!(w.word, WorkWord::Undone { .. }));
    last
}

impl Derived {
    /// Takes an entry of form 2.
    pub(super) fn take_later(&mut self, entry: &Entry) {
        let by = || entry.author.clone();
        match &entry.said {
            Said::WorkDone { work, way, minutes, note } => {
                self.doers.entry(work.clone()).or_default().insert(by());
                let word = WorkWord::Done {
                    way: way.clone(),
                    minutes: minutes.clone(),
                    note: note.clone(),
                };
                self.work(entry, work, word);
            }
            Said::WorkStuck { work, way, why } => {
                self.work(entry, work, WorkWord::Stuck { way: way.clone(), why: why.clone() });
            }
            Said::WorkUndone { work, why } => {
                self.work(entry, work, WorkWord::Undone { why: why.clone() });
            }
            Said::DayPlanned { day, crew, text } => {
                self.settled("day", day);
                let plan = DayPlan {
                    day: day.clone(),
                    crew: crew.clone(),
                    text: text.clone(),
                    sequence: entry.sequence,
                };
                self.day_plans.insert(day.clone(), plan);
            }
            Said::Concession { about, limit, what, until, reason } => {
                self.settled("concession", &on_limit(about, limit));
                self.concessions.retain(|c| c.about != *about || c.limit != *limit);
                self.concessions.push(Concession {
                    about: about.clone(),
                    limit: limit.clone(),
                    what: what.clone(),
                    until: until.clone(),
                    reason: reason.clone(),
                    sequence: entry.sequence,
                    by: by(),
                    when: day(&entry.time).to_owned(),
                    closed: None,
                });
            }
            Said::ConcessionClosed { about, limit, .. } => {
                self.settled("concession", &on_limit(about, limit));
                let known = self.concessions.iter_mut();
                for c in known.filter(|c| c.about == *about && c.limit == *limit) {
                    c.closed.get_or_insert(entry.sequence);
                }
            }
            Said::DeviceToken { device, person, hash, until } => {
                self.settled("device", device);
                let given = Device {
                    name: device.clone(),
                    person: person.clone(),
                    until: until.clone(),
                    hash: Hash::parse(hash).ok(),
                    sequence: entry.sequence,
                    withdrawn: None,
                };
                match self.devices.iter_mut().find(|d| d.name == *device) {
                    Some(known) => *known = given,
                    None => self.devices.push(given),
                }
            }
            Said::DeviceTokenWithdrawn { device, .. } => {
                self.settled("device", device);
                if let Some(known) = self.devices.iter_mut().find(|d| d.name == *device) {
                    known.withdrawn.get_or_insert(entry.sequence);
                }
            }
            _ => {}
        }
    }

    fn work(&mut self, entry: &Entry, work: &str, word: WorkWord) {
        self.settled("work", work);
        self.works.push(Work {
            work: work.to_owned(),
            word,
            sequence: entry.sequence,
            by: entry.author.clone(),
            when: entry.time.clone(),
        });
    }
}

/// How a concession is named in a contradiction.
pub(crate) fn on_limit(about: &str, limit: &str) -> String {
    format!("{about}: {limit}")
}
