//! What follows from the entries that are not readings: places, tags, hold points, the parts of
//! the engine's description.

use super::works::{Concession, DayPlan, Device, Work};
use crate::said::Contradiction;
use crate::{Entry, MadeTo, Said};
use std::collections::{BTreeMap, BTreeSet, HashMap};

/// The place of a part that is on the engine.
pub(super) const ON_THE_ENGINE: &str = "engine";

/// Where a thing stands, and who said so.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Standing {
    /// Place or tin; `engine` when it is on the engine.
    pub place: String,
    /// Entry that says so.
    pub sequence: u64,
    /// Who put it there.
    pub by: String,
    /// When.
    pub when: String,
}

/// A part or tin.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Thing {
    /// Code of its tag.
    pub tag: Option<String>,
    /// Where it is.
    pub standing: Option<Standing>,
}

/// A hold point and how it stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HoldPoint {
    /// Short name.
    pub id: String,
    /// Part or joint whose work it stops.
    pub about: String,
    /// What is to be looked at.
    pub what: String,
    /// Who did the work may not release it.
    pub not_by_doer: bool,
    /// Entry by which the work reached it.
    pub reached: Option<u64>,
    /// Entry by which it was released.
    pub released: Option<u64>,
}

#[derive(Clone, Debug, PartialEq)]
pub(super) struct Calibration {
    pub(super) gauge: String,
    pub(super) on: String,
    pub(super) due: String,
    pub(super) correction: String,
}

#[derive(Clone, Debug, PartialEq)]
pub(super) struct Decision {
    pub(super) joint: String,
    pub(super) repair: String,
    pub(super) make: Vec<MadeTo>,
    pub(super) reason: String,
    pub(super) by: String,
    pub(super) when: String,
}

#[derive(Clone, Debug, PartialEq)]
pub(super) struct Finding {
    pub(super) feature: String,
    pub(super) condition: String,
    pub(super) note: String,
    pub(super) by: String,
    pub(super) when: String,
}

#[derive(Clone, Debug, PartialEq)]
pub(super) struct FigureStrike {
    pub(super) feature: String,
    pub(super) value: String,
    pub(super) station: String,
    pub(super) direction: String,
    pub(super) reason: String,
    pub(super) by: String,
}

#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Derived {
    pub(super) descriptions: Vec<(String, String)>,
    pub(super) calibrations: Vec<Calibration>,
    pub(super) decisions: Vec<Decision>,
    pub(super) findings: Vec<Finding>,
    pub(super) figure_strikes: Vec<FigureStrike>,
    pub(super) things: BTreeMap<String, Thing>,
    /// Everything that something ever lay in.
    pub(super) places: BTreeSet<String>,
    pub(super) tags: HashMap<String, String>,
    pub(super) hold_points: Vec<HoldPoint>,
    pub(super) doers: HashMap<String, BTreeSet<String>>,
    pub(super) contradictions: Vec<Contradiction>,
    pub(super) works: Vec<Work>,
    pub(super) day_plans: BTreeMap<String, DayPlan>,
    pub(super) concessions: Vec<Concession>,
    pub(super) devices: Vec<Device>,
}

/// The day of an RFC 3339 time: its first ten characters.
pub(super) fn day(time: &str) -> &str {
    time.get(..10).unwrap_or(time)
}

impl Derived {
    pub(super) fn take(&mut self, entry: &Entry) {
        let (by, when) = (entry.author.clone(), day(&entry.time).to_owned());
        match &entry.said {
            Said::Person { name, .. } => self.settled("person", name),
            Said::Described { file, text } => {
                self.settled("description", file);
                match self.descriptions.iter_mut().find(|(f, _)| f == file) {
                    Some((_, known)) => known.clone_from(text),
                    None => self.descriptions.push((file.clone(), text.clone())),
                }
            }
            Said::Calibrated { gauge, on, due, correction, .. } => {
                self.settled("calibration", gauge);
                self.calibrations.push(Calibration {
                    gauge: gauge.clone(),
                    on: on.clone(),
                    due: due.clone(),
                    correction: correction.clone(),
                });
            }
            Said::Tagged { part, tag } => {
                self.settled("tag", part);
                self.settled("tag", tag);
                if let Some(before) = self.tags.insert(tag.clone(), part.clone())
                    && let Some(thing) = self.things.get_mut(&before)
                {
                    thing.tag = None;
                }
                let thing = self.things.entry(part.clone()).or_default();
                if let Some(before) = thing.tag.replace(tag.clone())
                    && before != *tag
                {
                    self.tags.remove(&before);
                }
            }
            Said::Moved { thing, to } => {
                self.settled("place", thing);
                let standing = Standing {
                    place: to.clone(),
                    sequence: entry.sequence,
                    by,
                    when: entry.time.clone(),
                };
                self.places.insert(to.clone());
                self.things.entry(thing.clone()).or_default().standing = Some(standing);
            }
            Said::Found { feature, condition, note, .. } if !feature.is_empty() => {
                self.findings.push(Finding {
                    feature: feature.clone(),
                    condition: condition.clone(),
                    note: note.clone(),
                    by,
                    when,
                });
            }
            Said::Decided { joint, repair, make, reason } => {
                self.settled("decision", joint);
                self.decisions.push(Decision {
                    joint: joint.clone(),
                    repair: repair.clone(),
                    make: make.clone(),
                    reason: reason.clone(),
                    by,
                    when,
                });
            }
            Said::Worked { about, reaches, .. } => {
                self.doers.entry(about.clone()).or_default().insert(by);
                if let Some(point) =
                    self.hold_points.iter_mut().find(|p| p.id == *reaches && !reaches.is_empty())
                {
                    point.reached = Some(entry.sequence);
                }
            }
            Said::HoldPoint { id, about, what, not_by_doer } => {
                self.hold_points.retain(|p| p.id != *id);
                self.hold_points.push(HoldPoint {
                    id: id.clone(),
                    about: about.clone(),
                    what: what.clone(),
                    not_by_doer: *not_by_doer,
                    reached: None,
                    released: None,
                });
            }
            Said::Released { hold_point, .. } => {
                if let Some(point) = self.hold_points.iter_mut().find(|p| p.id == *hold_point) {
                    point.released = Some(entry.sequence);
                }
            }
            Said::FigureStruckOut { feature, value, station, direction, reason } => {
                self.figure_strikes.push(FigureStrike {
                    feature: feature.clone(),
                    value: value.clone(),
                    station: station.clone(),
                    direction: direction.clone(),
                    reason: reason.clone(),
                    by,
                });
            }
            Said::Joined { contradictions, .. } => {
                self.contradictions.extend(contradictions.iter().cloned());
            }
            _ => self.take_later(entry),
        }
    }

    /// A later entry on the same thing settles what a join left open.
    pub(super) fn settled(&mut self, kind: &str, about: &str) {
        self.contradictions.retain(|c| c.kind != kind || c.about != about);
    }
}
