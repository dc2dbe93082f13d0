//! Who may say what, and what cannot be said as things stand. Asked inside the lock in which the
//! entry is written.

use super::named::names_are_given;
use super::who::may;
use super::{Fold, WorkWord};
use crate::{Error, Hash, Pen, Person, Role, Said, Tag};
use engine::model::Date;

impl Fold {
    /// Whether this pen may write this now.
    ///
    /// # Errors
    /// Says what is not allowed, and who could or what must come first.
    pub(crate) fn admit(&self, pen: &Pen, said: &Said) -> Result<(), Error> {
        if let Said::Started { .. } = said {
            return if self.last == 0 {
                names_are_given(said)
            } else {
                Err(Error::not_allowed("a book is begun once", ""))
            };
        }
        if self.last == 0 {
            return Err(Error::not_allowed("the book has not been begun", ""));
        }
        if self.people.is_empty() {
            // The second entry names the responsible engineer who began the book.
            return match said {
                Said::Person { name, roles, .. }
                    if *name == pen.author() && roles.contains(&Role::Responsible) =>
                {
                    Ok(())
                }
                _ => Err(Error::not_allowed("the book has no people yet", "")),
            };
        }
        let person = self.person(pen.author()).ok_or_else(|| {
            Error::not_allowed(
                format!("\"{}\" is not one of the people of this book", pen.author()),
                format!("known are {}; `pinchbar book people` adds one", self.names()),
            )
        })?;
        if !self.own_device(person, said) {
            may(person, said)?;
        }
        self.shown_who(person, pen, said)?;
        self.makes_sense(person, pen, said)
    }

    fn names(&self) -> String {
        self.people.iter().map(|p| p.name.as_str()).collect::<Vec<_>>().join(", ")
    }

    fn makes_sense(&self, person: &Person, pen: &Pen, said: &Said) -> Result<(), Error> {
        let wanted = |what: &str, text: &str| {
            if text.trim().is_empty() {
                Err(Error::wrong(format!("{what} is not given"), ""))
            } else {
                Ok(())
            }
        };
        names_are_given(said)?;
        match said {
            Said::Person { name, roles, .. } => {
                let others = |p: &&Person| p.name != *name && p.roles.contains(&Role::Responsible);
                if !roles.contains(&Role::Responsible) && !self.people.iter().any(|p| others(&p)) {
                    return Err(Error::not_allowed(
                        "the book would have no responsible engineer",
                        "name another first",
                    ));
                }
                Ok(())
            }
            Said::Tagged { part, tag } => {
                let tag = Tag::parse(tag)?;
                match self.derived.tags.get(tag.code()) {
                    Some(on) if on != part => Err(Error::wrong(
                        format!("tag {tag} is on \"{on}\""),
                        format!("take another; {} is free", self.free_tag()),
                    )),
                    _ => Ok(()),
                }
            }
            Said::Moved { thing, to } => {
                let around = self.whereabouts(to).unwrap_or_default();
                if thing == to || around.iter().any(|s| s.place == *thing) {
                    return Err(Error::wrong(
                        format!("\"{thing}\" cannot lie in \"{to}\", which lies in it"),
                        "say where the outer one is first",
                    ));
                }
                Ok(())
            }
            Said::Worked { about, what, reaches } => {
                wanted("the work", what)?;
                self.not_held(about)?;
                if !reaches.is_empty()
                    && !self.hold_points().iter().any(|p| p.id == *reaches && p.about == *about)
                {
                    return Err(Error::wrong(
                        format!("\"{about}\" has no hold point \"{reaches}\""),
                        "`pinchbar book hold` sets one",
                    ));
                }
                Ok(())
            }
            Said::HoldPoint { id, what, .. } => {
                wanted("what is to be looked at", what)?;
                if self.hold_points().iter().any(|p| p.id == *id) {
                    return Err(Error::wrong(
                        format!("there is a hold point \"{id}\" already"),
                        "give it another name",
                    ));
                }
                Ok(())
            }
            Said::Released { hold_point, .. } => self.may_release(person, hold_point),
            Said::SignedOff { about, what } => {
                wanted("what is signed", what)?;
                let open = self
                    .hold_points()
                    .iter()
                    .filter(|p| p.released.is_none())
                    .find(|p| about == super::derived::ON_THE_ENGINE || p.about == *about);
                match open {
                    None => Ok(()),
                    Some(point) => Err(Error::not_allowed(
                        format!(
                            "the hold point \"{}\" on \"{}\" is not released",
                            point.id, point.about
                        ),
                        format!("it is passed by a signature only: {}", point.what),
                    )),
                }
            }
            Said::StruckOut { entry, reason } => {
                wanted("the reason", reason)?;
                self.may_strike(person, entry)
            }
            Said::FigureStruckOut { reason, .. } => wanted("the reason", reason),
            Said::Note { text, .. } => wanted("the remark", text),
            Said::WorkDone { work, minutes, .. } => {
                let taken = |text: &str| {
                    text.replace(',', ".").parse::<f64>().is_ok_and(|m| m.is_finite() && 0.0 <= m)
                };
                if !minutes.is_empty() && !taken(minutes.trim()) {
                    return Err(Error::wrong(
                        format!("\"{minutes}\" is not a number of minutes"),
                        "a number, or nothing where nobody looked at the clock",
                    ));
                }
                self.not_held(work)
            }
            Said::WorkStuck { work, why, .. } | Said::WorkUndone { work, why } => {
                wanted("why", why)?;
                let last = self.derived.works.iter().rev().find(|w| w.work == *work);
                let ticked = last.is_some_and(|w| !matches!(w.word, WorkWord::Undone { .. }));
                if matches!(said, Said::WorkUndone { .. }) && !ticked {
                    return Err(Error::wrong(
                        format!("the work \"{work}\" is neither done nor stuck"),
                        "there is nothing to take back",
                    ));
                }
                Ok(())
            }
            Said::DayPlanned { day, text, .. } => {
                wanted("the day's sheet", text)?;
                a_day(day)
            }
            Said::Concession { what, until, reason, .. } => {
                wanted("what is allowed", what)?;
                wanted("the reason", reason)?;
                a_day(until)?;
                until_after(until, pen)
            }
            Said::ConcessionClosed { about, limit, reason } => {
                wanted("the reason", reason)?;
                let is = |c: &&super::Concession| c.about == *about && c.limit == *limit;
                if self.concessions().iter().any(|c| is(&c) && c.closed.is_none()) {
                    Ok(())
                } else {
                    Err(Error::Missing(format!(
                        "there is no open concession on \"{about}\" for \"{limit}\""
                    )))
                }
            }
            Said::DeviceToken { device, person: whose, hash, until } => {
                // The name stands under every entry of the device.
                Pen::new(whose, device, pen.time())?;
                if device.trim() != device {
                    return Err(Error::wrong(
                        "the name of a device begins or ends with a space",
                        "",
                    ));
                }
                Hash::parse(hash)?;
                a_day(until)?;
                until_after(until, pen)?;
                if self.person(whose).is_none_or(|p| p.roles.is_empty()) {
                    return Err(Error::wrong(
                        format!(
                            "\"{whose}\" is not one of the people of this book, or has no role"
                        ),
                        format!("known are {}", self.names()),
                    ));
                }
                let known = Hash::parse(hash).ok();
                if self.devices().iter().any(|d| d.hash == known && d.name != *device) {
                    return Err(Error::wrong("another device has this token", "make a new one"));
                }
                Ok(())
            }
            Said::DeviceTokenWithdrawn { device, reason } => {
                wanted("the reason", reason)?;
                match self.devices().iter().find(|d| d.name == *device) {
                    None => Err(Error::Missing(format!("there is no device \"{device}\""))),
                    Some(d) if d.withdrawn.is_some() => Err(Error::wrong(
                        format!("the token of \"{device}\" is withdrawn already"),
                        "",
                    )),
                    Some(_) => Ok(()),
                }
            }
            Said::Joined { .. } => {
                Err(Error::not_allowed("a join is written by the join itself", ""))
            }
            _ => Ok(()),
        }
    }

    /// Work stops at a hold point that it has reached.
    fn not_held(&self, about: &str) -> Result<(), Error> {
        let held = self
            .hold_points()
            .iter()
            .find(|p| p.about == *about && p.reached.is_some() && p.released.is_none());
        match held {
            None => Ok(()),
            Some(point) => Err(Error::not_allowed(
                format!("work on \"{about}\" has reached the hold point \"{}\"", point.id),
                format!("it goes on when that is released: {}", point.what),
            )),
        }
    }

    fn may_release(&self, person: &Person, id: &str) -> Result<(), Error> {
        let Some(point) = self.hold_points().iter().find(|p| p.id == id) else {
            return Err(Error::Missing(format!("there is no hold point \"{id}\"")));
        };
        if point.released.is_some() {
            return Err(Error::wrong(format!("the hold point \"{id}\" is released already"), ""));
        }
        if point.reached.is_none() {
            return Err(Error::not_allowed(
                format!("the work on \"{}\" has not reached the hold point \"{id}\"", point.about),
                "whoever does the work says so first",
            ));
        }
        let did = self.derived.doers.get(&point.about).is_some_and(|d| d.contains(&person.name));
        if point.not_by_doer && did {
            return Err(Error::not_allowed(
                format!(
                    "{} did work on \"{}\" and may not release \"{id}\"",
                    person.name, point.about
                ),
                "somebody else who releases hold points must look at it",
            ));
        }
        Ok(())
    }

    fn may_strike(&self, person: &Person, entry: &str) -> Result<(), Error> {
        let Some(sequence) = self.by_hash(&Hash::parse(entry)?) else {
            return Err(Error::Missing(format!("no entry has the hash {entry}")));
        };
        if self.struck(sequence).is_some() {
            return Err(Error::wrong(format!("entry {sequence} is struck out already"), ""));
        }
        // Readings are not among the others: whoever may record them may strike them out.
        let at = self.others.binary_search_by_key(&sequence, |e| e.sequence);
        let Ok(at) = at else {
            return if person.roles.iter().any(|r| matches!(r, Role::Records | Role::Responsible)) {
                Ok(())
            } else {
                Err(Error::not_allowed(
                    format!("{} may not strike out readings", person.name),
                    "those who record readings or the responsible engineer may",
                ))
            };
        };
        let struck = &self.others[at];
        match struck.said {
            Said::Started { .. }
            | Said::Person { .. }
            | Said::DeviceToken { .. }
            | Said::DeviceTokenWithdrawn { .. }
            | Said::StruckOut { .. }
            | Said::Joined { .. } => {
                return Err(Error::not_allowed(
                    format!("entry {sequence} ({}) cannot be struck out", struck.said.kind()),
                    "say it anew as it should be",
                ));
            }
            _ => {}
        }
        if struck.author != person.name && !person.roles.contains(&Role::Responsible) {
            return Err(Error::not_allowed(
                format!("entry {sequence} was written by {}", struck.author),
                "its writer or the responsible engineer may strike it out",
            ));
        }
        Ok(())
    }
}

/// Days in entries of form 2 are kept in the one way in which they sort.
fn a_day(text: &str) -> Result<(), Error> {
    match Date::parse(text) {
        Ok(day) if day.to_string() == text => Ok(()),
        _ => Err(Error::wrong(format!("\"{text}\" is not a day"), "write it 2025-03-14")),
    }
}

fn until_after(until: &str, pen: &Pen) -> Result<(), Error> {
    let given = pen.time().get(..10).unwrap_or("");
    if until < given {
        return Err(Error::wrong(
            format!("{until}, the last day it holds, is before {given}, when it is written"),
            "give a day to come",
        ));
    }
    Ok(())
}
