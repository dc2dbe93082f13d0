//! Shifts to working days: who is there when, cut wherever the crew changes.

use super::model::{Moment, WorksModel};
use crate::model::Date;
use sequence::{Calendar, Day};

/// Days looked ahead when the shed's calendar has no end.
const AHEAD: i64 = 400;
/// Longest calendar.
const LONGEST: i64 = 3660;

/// A spell of work in which the crew does not change.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Spell {
    /// Day.
    pub date: Date,
    /// Minute of the clock at which it begins.
    pub opens_min: u32,
    /// Minutes.
    pub minutes: u32,
    /// Positions in the crew of those who are there.
    pub people: Vec<usize>,
}

/// Spells of work from the first day on, in order.
pub(crate) fn spells(model: &WorksModel, begins: Date) -> Vec<Spell> {
    let last = model.shed.until.unwrap_or_else(|| begins.plus_days(AHEAD));
    let days = begins.days_until(last).clamp(-1, LONGEST);
    let mut all = Vec::new();
    for n in 0..=days {
        let date = begins.plus_days(n);
        if !model.shed.shut.contains(&date) {
            one_day(model, date, &mut all);
        }
    }
    all
}

fn one_day(model: &WorksModel, date: Date, all: &mut Vec<Spell>) {
    // (from, until, person)
    let mut there: Vec<(u32, u32, usize)> = Vec::new();
    for s in &model.shifts {
        let holds = s.on.iter().any(|o| o.holds(date))
            && s.from.is_none_or(|f| f <= date)
            && s.until.is_none_or(|u| u >= date);
        if holds {
            for (from, until) in &s.hours {
                there.extend(s.people.iter().map(|p| (*from, *until, *p)));
            }
        }
    }
    let mut cuts: Vec<u32> = there.iter().flat_map(|t| [t.0, t.1]).collect();
    cuts.sort_unstable();
    cuts.dedup();
    let first_of_day = all.len();
    for pair in cuts.windows(2) {
        let (opens_min, until) = (pair[0], pair[1]);
        let here = |t: &&(u32, u32, usize)| t.0 <= opens_min && t.1 >= until;
        let mut people: Vec<usize> = there.iter().filter(here).map(|t| t.2).collect();
        people.sort_unstable();
        people.dedup();
        if people.is_empty() {
            continue;
        }
        let minutes = until - opens_min;
        let goes_on = all[first_of_day..]
            .last()
            .is_some_and(|s| s.opens_min + s.minutes == opens_min && s.people == people);
        match all.last_mut() {
            Some(last) if goes_on => last.minutes += minutes,
            _ => all.push(Spell { date, opens_min, minutes, people }),
        }
    }
}

/// The calendar of these spells; dates are counted in days from the first.
pub(crate) fn calendar(spells: &[Spell]) -> Calendar {
    let first = spells.first().map(|s| s.date);
    let days = spells.iter().map(|s| Day {
        date: first.map_or(0, |f| f.days_until(s.date)),
        opens_min: s.opens_min,
        minutes: s.minutes,
        people: u32::try_from(s.people.len()).unwrap_or(u32::MAX),
    });
    Calendar { days: days.collect() }
}

/// Working minutes gone by at a moment: what lies outside the spells counts to the end of the last
/// before it. A moment without a clock is the end of its day.
pub(crate) fn working_min(spells: &[Spell], at: Moment) -> u64 {
    let mut gone = 0;
    for s in spells {
        if s.date > at.date {
            break;
        }
        let clock = if s.date < at.date { u32::MAX } else { at.clock_min.unwrap_or(u32::MAX) };
        gone += u64::from(clock.saturating_sub(s.opens_min).min(s.minutes));
    }
    gone
}

/// Working minutes gone by when a day opens.
pub(crate) fn opens_min(spells: &[Spell], date: Date) -> u64 {
    spells.iter().take_while(|s| s.date < date).map(|s| u64::from(s.minutes)).sum()
}
