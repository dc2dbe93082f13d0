//! It happened otherwise: what is true now, as a scheme and progress to plan on from.

use crate::plan::{Plan, Progress, Refused, Step};
use crate::scheme::{Before, KitId, Scheme, Work, WorkId};

/// What happened.
#[derive(Debug, Clone, PartialEq)]
pub enum Event {
    /// All went as planned until now.
    AsPlanned,
    /// A work was done then and that way, planned for another time or not.
    Done(Step),
    /// A work that should be done or under way by now has not been begun.
    NotBegun(WorkId),
    /// A work under way will take until then.
    Until(WorkId, u64),
    /// A way will not go ("will not move").
    Stuck(WorkId, usize),
    /// A part was found broken, or anything else that makes new works; the ties are added to works
    /// of the scheme. The first new work has the next free id.
    Found {
        /// New works.
        works: Vec<Work>,
        /// What now waits for what, beside what did.
        ties: Vec<(WorkId, Before)>,
    },
    /// A work is no longer wanted.
    NotWanted(WorkId),
    /// So many people are there for the rest of the day.
    People(u32),
    /// So many of a kit are there for the rest of the day.
    Kit(KitId, u32),
}

/// Lets a plan run until `now_min`, then applies what happened. What the plan says has happened by
/// then is taken as done, unless the event says otherwise.
///
/// # Errors
/// [`Refused::NotThere`] when the event names a work, way or kit that is not in the scheme;
/// [`Refused::NotInCalendar`] when it is now past the calendar's end and the event is about the
/// rest of the day.
pub fn apply(
    scheme: &Scheme,
    progress: &Progress,
    plan: &Plan,
    now_min: u64,
    event: &Event,
) -> Result<(Scheme, Progress), Refused> {
    let mut scheme = scheme.clone();
    let mut next = advance(progress, plan, now_min);
    let known = |w: WorkId, scheme: &Scheme| match scheme.work(w) {
        Some(_) => Ok(()),
        None => Err(Refused::NotThere(w.0)),
    };
    match event {
        Event::AsPlanned => {}
        Event::Done(step) => {
            scheme.way(step.work, step.way).ok_or(Refused::NotThere(step.work.0))?;
            undo(&mut next, step.work);
            if step.end_min > now_min { next.running.push(*step) } else { next.done.push(*step) }
        }
        Event::NotBegun(work) => {
            known(*work, &scheme)?;
            undo(&mut next, *work);
        }
        Event::Until(work, end_min) => {
            let found = next.done.iter().chain(&next.running).find(|s| s.work == *work);
            let step = Step { end_min: *end_min, ..*found.ok_or(Refused::NotThere(work.0))? };
            undo(&mut next, *work);
            if *end_min > now_min { next.running.push(step) } else { next.done.push(step) }
        }
        Event::Stuck(work, way) => {
            scheme.way(*work, *way).ok_or(Refused::NotThere(work.0))?;
            undo(&mut next, *work);
            next.stuck.push((*work, *way));
        }
        Event::Found { works, ties } => {
            scheme.works.extend(works.iter().cloned());
            for (work, before) in ties {
                known(before.work, &scheme)?;
                let slot = scheme.works.get_mut(work.0).ok_or(Refused::NotThere(work.0))?;
                slot.after.push(before.clone());
            }
        }
        Event::NotWanted(work) => {
            known(*work, &scheme)?;
            undo(&mut next, *work);
            next.dropped.push(*work);
        }
        Event::People(people) => {
            let day = rest_of_day(&mut scheme, now_min)?;
            scheme.calendar.days[day].people = *people;
        }
        Event::Kit(kit, count) => {
            let day = rest_of_day(&mut scheme, now_min)?;
            let slot = scheme.kits.get_mut(kit.0).ok_or(Refused::NotThere(kit.0))?;
            slot.by_day.push((day, *count));
        }
    }
    Ok((scheme, next))
}

fn undo(progress: &mut Progress, work: WorkId) {
    progress.done.retain(|s| s.work != work);
    progress.running.retain(|s| s.work != work);
}

/// Progress when a plan has run until `now_min`.
fn advance(progress: &Progress, plan: &Plan, now_min: u64) -> Progress {
    let mut next = progress.clone();
    next.now_min = now_min.max(progress.now_min);
    let now_min = next.now_min;
    let all: Vec<Step> = next.running.drain(..).chain(plan.steps.iter().copied()).collect();
    for s in all {
        if s.end_min <= now_min {
            next.done.push(s);
        } else if s.start_min < now_min {
            next.running.push(s);
        }
    }
    next.moving_until_min = next.moving_until_min.filter(|m| *m > now_min);
    for m in plan.moves.iter().filter(|m| m.start_min < now_min) {
        next.stands_rad = Some(m.to_rad);
        next.moving_until_min = (m.end_min > now_min).then_some(m.end_min);
    }
    next
}

/// Cuts the day at `now_min`, so that its rest can be told apart; returns the rest's place in the
/// calendar. At the opening of a day nothing is cut.
pub(crate) fn rest_of_day(scheme: &mut Scheme, now_min: u64) -> Result<usize, Refused> {
    let calendar = &mut scheme.calendar;
    let calendar_min = calendar.minutes();
    let past = Refused::NotInCalendar { calendar_min, needed_min: now_min.saturating_add(1) };
    let (day, minute) = calendar.day_of(now_min).ok_or(past)?;
    if minute == 0 {
        return Ok(day);
    }
    let mut rest = calendar.days[day].clone();
    rest.opens_min += minute;
    rest.minutes -= minute;
    calendar.days[day].minutes = minute;
    calendar.days.insert(day + 1, rest);
    for kit in &mut scheme.kits {
        let both: Vec<(usize, u32)> =
            kit.by_day.iter().filter(|d| d.0 == day).map(|d| (day + 1, d.1)).collect();
        kit.by_day.iter_mut().filter(|d| d.0 > day).for_each(|d| d.0 += 1);
        kit.by_day.extend(both);
    }
    for place in &mut scheme.places {
        let both = place.shut.contains(&day);
        place.shut.iter_mut().filter(|d| **d > day).for_each(|d| *d += 1);
        if both {
            place.shut.push(day + 1);
        }
    }
    Ok(day + 1)
}
