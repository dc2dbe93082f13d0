//! Shed, crew, shifts, kit, places, ties of parts, and what happened.

use super::super::model::{
    Happened, KitItem, PartTies, Person, Shift, Standing, What, parse_clock,
};
use super::Reader;
use crate::description::{Description, PartText, Text};
use crate::motion::{Said, parse_said};
use quantity::Dimension;
use sequence::Weather;

impl Reader<'_> {
    /// Ties and masses of parts, and what holds joints.
    pub(super) fn parts(&mut self, d: &Description) {
        for p in &d.parts {
            let Some(ix) = p.id.as_ref().and_then(|t| self.engine.part_by_id(t.get_ref().trim()))
            else {
                continue;
            };
            let ties = self.ties_of(p);
            self.model.parts.insert(ix, ties);
        }
        for j in d.joints.iter().filter(|j| j.held_by.is_some()) {
            let Some(ix) = j.id.as_ref().and_then(|t| self.engine.joint_by_id(t.get_ref().trim()))
            else {
                continue;
            };
            let held = self.part_list(&j.held_by);
            self.model.joint_held_by.insert(ix, held);
        }
    }

    fn ties_of(&mut self, p: &PartText) -> PartTies {
        let balance_m = self.place_m(&p.balance, "balance");
        let balance_doubt_m =
            self.place_m(&p.balance_doubt, "balance-doubt").unwrap_or_default().map(f64::abs);
        PartTies {
            fastens: Self::yes(&p.fastens),
            held_by: self.part_list(&p.held_by),
            covered_by: self.part_list(&p.covered_by),
            supported_by: self.part_list(&p.supported_by),
            mass_doubt_kg: self.optional(&p.mass_doubt, Dimension::Mass, (0.0, 1e6)),
            balance_m,
            balance_doubt_m,
        }
    }

    pub(super) fn crew(&mut self, d: &Description) {
        for p in &d.crew {
            let taken: Vec<String> = self.model.crew.iter().map(|p| p.id.clone()).collect();
            let Some(id) = self.id(&p.id, "person", &taken) else { continue };
            let name = p.name.as_ref().map_or_else(|| id.clone(), |t| t.get_ref().clone());
            let tickets = p.tickets.iter().flatten().map(|t| t.get_ref().trim().to_owned());
            let tickets = tickets.collect();
            self.model.crew.push(Person { id, name, tickets });
        }
        let known: Vec<String> = self.model.crew.iter().map(|p| p.id.clone()).collect();
        for s in &d.shifts {
            let on = self.on(s.on.as_deref().unwrap_or_default());
            let mut hours = Vec::new();
            for text in s.hours.iter().flatten() {
                match hours_of(text.get_ref()) {
                    Ok(h) => hours.push(h),
                    Err(what) => self.fault(text, what, "write 09:00-12:30"),
                }
            }
            let people: Vec<usize> =
                s.people.iter().flatten().filter_map(|t| self.named(t, "person", &known)).collect();
            let (from, until) = (self.day(&s.from), self.day(&s.until));
            if let (true, Some(at)) =
                (on.is_empty() || hours.is_empty() || people.is_empty(), &s.id)
            {
                let what = format!("shift \"{}\" has no day, no hours or no people", at.get_ref());
                self.fault(at, what, "write on, hours and people");
                continue;
            }
            self.model.shifts.push(Shift { on, hours, people, from, until });
        }
    }

    pub(super) fn kit_and_places(&mut self, d: &Description) {
        for k in &d.kit {
            let taken: Vec<String> = self.model.kit.iter().map(|k| k.id.clone()).collect();
            let Some(id) = self.id(&k.id, "kit", &taken) else { continue };
            let name = k.name.as_ref().map_or_else(|| id.clone(), |t| t.get_ref().clone());
            let count = self.count(&k.count, "a number").unwrap_or(1);
            let there = k.there.as_ref().map(|list| self.on(list));
            let not_in = self.weather(&k.not_in);
            let set_ups = Self::yes(&k.set_ups);
            self.model.kit.push(KitItem { id, name, count, there, not_in, set_ups, ticket: false });
        }
        let mut tickets: Vec<String> =
            self.model.crew.iter().flat_map(|p| p.tickets.iter().cloned()).collect();
        tickets.sort();
        tickets.dedup();
        for id in tickets {
            self.model.kit.push(KitItem {
                name: id.clone(),
                id,
                count: 0,
                there: None,
                not_in: Vec::new(),
                set_ups: false,
                ticket: true,
            });
        }
        for p in &d.places {
            let taken: Vec<String> = self.model.places.iter().map(|p| p.id.clone()).collect();
            let Some(id) = self.id(&p.id, "place", &taken) else { continue };
            let name = p.name.as_ref().map_or_else(|| id.clone(), |t| t.get_ref().clone());
            let room = self.count(&p.room, "room").unwrap_or(1);
            let not_in = self.weather(&p.not_in);
            let shut = p.shut.iter().flatten().filter_map(|t| self.day(&Some(t.clone()))).collect();
            self.model.places.push(Standing { id, name, room, not_in, shut });
        }
    }

    fn weather(&mut self, list: &Option<Vec<Text>>) -> Vec<Weather> {
        let mut all = Vec::new();
        for text in list.iter().flatten() {
            match weather_of(text.get_ref()) {
                Some(w) => all.push(w),
                None => self.fault(
                    text,
                    format!("\"{}\" is no weather known here", text.get_ref()),
                    "use one of: rain, wind, frost",
                ),
            }
        }
        all
    }

    pub(super) fn shed(&mut self, d: &Description) {
        let s = d.shed.clone().unwrap_or_default();
        self.model.shed.begins = self.day(&s.begins).or(self.engine.overhaul_began);
        self.model.shed.build_begins = self.day(&s.build_begins);
        self.model.shed.until = self.day(&s.until);
        self.model.shed.stands = s.stands.as_ref().and_then(|t| self.said(t));
        self.model.shed.build_stands = s.build_stands.as_ref().and_then(|t| self.said(t));
        self.model.shed.bar_people = self.count(&s.bar_people, "people");
        self.model.shed.bar_set_up_min = s.bar_set_up.as_ref().and_then(|t| self.minutes(t));
        self.model.shed.bar_turn_min = s.bar_turn.as_ref().and_then(|t| self.minutes(t));
        self.model.shed.unbroken_min =
            s.unbroken.as_ref().and_then(|t| self.minutes(t)).unwrap_or(0);
        self.model.shed.bar_after = self.ties(&s.bar_after);
        self.model.shed.shut =
            s.shut.iter().flatten().filter_map(|t| self.day(&Some(t.clone()))).collect();
    }

    pub(super) fn said(&mut self, text: &Text) -> Option<Said> {
        match parse_said(&self.engine.motion, text.get_ref()) {
            Ok(said) => Some(said),
            Err(crate::motion::NoAnswer::Words { what, mend }) => {
                self.fault(text, what, mend);
                None
            }
            Err(e) => {
                self.fault(text, e.to_string(), "");
                None
            }
        }
    }

    pub(super) fn progress(&mut self, d: &Description) {
        for p in &d.progress {
            let Some(text) = &p.work else {
                self.fault_file("a [[progress]] names no work", "write work = \"...\"");
                continue;
            };
            let Some(work) = self.work(text) else { continue };
            let said = [&p.done, &p.stuck, &p.undone];
            let (1, Some(when)) = (
                said.iter().filter(|t| t.is_some()).count(),
                said.iter().copied().flatten().next(),
            ) else {
                self.fault(
                    text,
                    "one of done, stuck and undone says what happened, and when",
                    "write done = \"2026-10-10 11:30\"",
                );
                continue;
            };
            let Some(moment) = self.moment(when) else { continue };
            let way = match &p.way {
                None => None,
                Some(t) => match self.way_of(work, t) {
                    Some(w) => Some(w),
                    None => continue,
                },
            };
            let began = p.began.as_ref().and_then(|t| self.moment(t));
            let what = if p.done.is_some() {
                What::Done(began)
            } else if p.stuck.is_some() {
                What::Stuck
            } else {
                What::Undone
            };
            let (why, by) = (Self::say(&p.why), Self::say(&p.by));
            let stands = p.stands.as_ref().and_then(|t| self.said(t));
            self.model.progress.push(Happened { work, what, when: moment, way, why, by, stands });
        }
    }
}

/// Weather from its word.
pub(crate) fn weather_of(word: &str) -> Option<Weather> {
    match word.trim().to_ascii_lowercase().as_str() {
        "rain" => Some(Weather::Rain),
        "wind" => Some(Weather::Wind),
        "frost" => Some(Weather::Frost),
        _ => None,
    }
}

fn hours_of(text: &str) -> Result<(u32, u32), String> {
    let (a, b) = text
        .split_once(['-', '\u{2013}'])
        .ok_or_else(|| format!("\"{text}\" is no spell of hours"))?;
    let (a, b) = (parse_clock(a)?, parse_clock(b)?);
    if a < b { Ok((a, b)) } else { Err(format!("\"{text}\" ends before it begins")) }
}
