//! The day's list for those who are there.

use super::model::Moment;
use super::no_plan::NoPlan;
use super::plan::Planned;
use crate::judge::Judgement;
use crate::model::Date;
use sequence::{Here, KitId, Progress, SearchOptions, Weather, WorkId};

/// What the day is like.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct OnTheDay {
    /// The day; the one that the plan has come to when not given.
    pub day: Option<Date>,
    /// From when; the opening of the day when not given.
    pub from: Option<u32>,
    /// People here; as the calendar says when not given.
    pub people: Option<u32>,
    /// Minutes to work; as the calendar says when not given.
    pub minutes: Option<u32>,
    /// Weather.
    pub weather: Vec<Weather>,
    /// Kit and places that are not there, by id.
    pub without: Vec<String>,
    /// Steps of the search.
    pub steps: u64,
    /// Seed.
    pub seed: u64,
}

/// A day's list.
#[derive(Clone, Debug)]
pub struct DayAnswer {
    /// Day.
    pub date: Date,
    /// The list of each spell of the day that has one, in order.
    pub lists: Vec<sequence::DayList>,
    /// Who is there: people, from and until by the clock, spell by spell.
    pub here: Vec<(u32, u32, u32)>,
    /// Works whose turn it is that nobody can do that day, and why.
    pub waits: Vec<(WorkId, String)>,
    /// The plan that it is cut from.
    pub planned: Planned,
    /// What was taken for granted.
    pub notes: Vec<String>,
}

/// Weather from its word.
///
/// # Errors
/// Says the words there are.
pub fn weather(word: &str) -> Result<Weather, String> {
    super::weather_of(word)
        .ok_or_else(|| format!("\"{word}\" is no weather known here: rain, wind, frost"))
}

/// The best list for a day, from the plan in force.
///
/// # Errors
/// No one is there that day; a kit or place that is not described; see [`NoPlan`].
pub fn day_list(
    judgement: &Judgement,
    mut planned: Planned,
    here: &OnTheDay,
) -> Result<DayAnswer, NoPlan> {
    let model = &judgement.engine().works;
    let spells = planned.assembled.spells.clone();
    let gone = planned.progress.now_min;
    let date =
        match here.day {
            Some(d) => d,
            None => planned.assembled.moment(gone).map(|m| m.date).ok_or_else(|| {
                NoPlan::Planner("the calendar is at its end; add days".to_owned())
            })?,
        };
    let mut of_day: Vec<usize> =
        spells.iter().enumerate().filter(|s| s.1.date == date).map(|s| s.0).collect();
    let mut notes = Vec::new();
    if of_day.is_empty() {
        // A day that no shift knows: whoever is here says for how long.
        let (Some(people), Some(minutes)) = (here.people, here.minutes) else {
            let next = spells.iter().find(|s| s.date > date);
            let next = next.map_or(String::new(), |s| format!("; the next day is {}", s.date));
            return Err(NoPlan::Planner(format!(
                "nobody is down for {date}{next}; say --people and --hours to work all the same"
            )));
        };
        let at = spells.iter().position(|s| s.date > date).unwrap_or(spells.len());
        open_day(&mut planned, at, date, here.from.unwrap_or(9 * 60), (people, minutes));
        notes.push(format!("{date} is no day of the calendar: put in for this list"));
        of_day = vec![at];
    }
    let first = of_day[0];
    let opens: u64 =
        planned.assembled.spells.iter().take(first).map(|s| u64::from(s.minutes)).sum();
    let mut now = planned.progress.now_min.max(opens);
    if let Some(from) = here.from {
        now = now.max(planned.assembled.working_min(Moment { date, clock_min: Some(from) }));
    }
    planned.progress.now_min = now;

    for name in &here.without {
        without(model, &mut planned, name, &of_day)?;
    }
    // The same crew over the whole day, where it was said; hours are counted from now.
    let mut left = here.minutes;
    let mut of_day_after = Vec::new();
    for d in of_day.iter().copied() {
        if let Some(people) = here.people {
            planned.assembled.scheme.calendar.days[d].people = people;
            tickets(model, &mut planned, d, people);
        }
        let opens: u64 = planned.assembled.scheme.calendar.opens(d);
        let minutes = u64::from(planned.assembled.scheme.calendar.days[d].minutes);
        if opens + minutes > now {
            of_day_after.push(d);
        }
    }
    if of_day_after.is_empty() {
        return Err(NoPlan::Planner(format!("{date} is over by what is recorded as done")));
    }
    let last = of_day_after.len() - 1;
    let mut search =
        SearchOptions { seed: here.seed, steps: here.steps, ..SearchOptions::default() };
    search.threads = 2;
    let mut lists = Vec::new();
    let mut crews = Vec::new();
    let mut waits: Option<Vec<(WorkId, String)>> = None;
    let mut scheme = planned.assembled.scheme.clone();
    let mut progress = planned.progress.clone();
    let mut plan = planned.plan.clone();
    let mut shift = 0usize;
    for (i, d) in of_day_after.iter().enumerate() {
        // Each list cuts the day at now, which may put one more entry into the calendar.
        let (spell, d) = (*d, d + shift);
        let opens = scheme.calendar.opens(d);
        progress.now_min = progress.now_min.max(opens);
        let there = u64::from(scheme.calendar.days[d].minutes) - (progress.now_min - opens);
        let minutes = match left {
            Some(l) if u64::from(l) < there || i == last => Some(l),
            _ => None,
        };
        let at = Here { people: None, minutes, weather: here.weather.clone(), kit: Vec::new() };
        let before = scheme.calendar.days.len();
        let list = sequence::today(&scheme, &progress, &at, Some(&plan), &search)
            .map_err(|e| NoPlan::of(e, &scheme))?;
        shift += list.scheme.calendar.days.len() - before;
        let day_minutes = minutes.map_or(there, u64::from);
        let from = planned.assembled.spells.get(spell).map_or(0, |s| s.opens_min);
        let from = from + u32::try_from(progress.now_min - opens).unwrap_or(0);
        let people = scheme.calendar.days[d].people;
        crews.push((people, from, from + u32::try_from(day_minutes).unwrap_or(0)));
        let day = list.scheme.calendar.day_of(progress.now_min).map_or(d, |x| x.0);
        let now_waits = waiting(&list.scheme, &progress, &list, day);
        waits = Some(match waits {
            // What one spell of the day can do does not wait.
            Some(w) => w.into_iter().filter(|x| now_waits.iter().any(|n| n.0 == x.0)).collect(),
            None => now_waits,
        });
        scheme = list.scheme.clone();
        plan = list.plan.clone();
        let closes = progress.now_min + day_minutes;
        lists.push(list);
        if let Some(l) = &mut left {
            *l = l.saturating_sub(u32::try_from(day_minutes).unwrap_or(u32::MAX));
            if *l == 0 {
                break;
            }
        }
        if i < last {
            let as_planned = sequence::Event::AsPlanned;
            (scheme, progress) = sequence::apply(&scheme, &progress, &plan, closes, &as_planned)
                .map_err(|e| NoPlan::of(e, &scheme))?;
            plan.steps.retain(|s| s.end_min > closes);
            plan.moves.retain(|m| m.end_min > closes);
        }
    }
    Ok(DayAnswer { date, lists, here: crews, waits: waits.unwrap_or_default(), planned, notes })
}

/// Works whose turn it is, but that no way does with who and what is there.
fn waiting(
    scheme: &sequence::Scheme,
    progress: &Progress,
    list: &sequence::DayList,
    day: usize,
) -> Vec<(WorkId, String)> {
    let over = |w: WorkId| {
        progress.done.iter().chain(&progress.running).any(|s| s.work == w)
            || progress.dropped.contains(&w)
    };
    let today = |w: WorkId| {
        list.lines.iter().any(|l| matches!(l, sequence::Line::Do { work, .. } if *work == w))
    };
    let there = scheme.calendar.days[day].people;
    let why = |y: &sequence::Way| {
        if y.people > there {
            return Some(format!("wants {} people", y.people));
        }
        let kit = y.kit.iter().find(|(k, n)| scheme.kits[k.0].on(day) < *n);
        if let Some((k, _)) = kit {
            return Some(format!("wants {}", scheme.kits[k.0].name));
        }
        let place = y.place.filter(|p| scheme.places[p.0].on(day) == 0);
        place.map(|p| format!("{} nobody can work", scheme.places[p.0].name))
    };
    let mut all = Vec::new();
    for s in &list.plan.steps {
        let work = &scheme.works[s.work.0];
        let ready = |w: WorkId| over(w) || today(w);
        let open = |y: &&sequence::Way| y.after.iter().all(|b| ready(b.work));
        if today(s.work) || over(s.work) || !work.after.iter().all(|b| ready(b.work)) {
            continue;
        }
        let ways: Vec<_> = work.ways.iter().filter(open).map(why).collect();
        if !ways.is_empty() && ways.iter().all(Option::is_some) {
            let mut whys: Vec<String> = ways.into_iter().flatten().collect();
            whys.dedup();
            all.push((s.work, whys.join("; or ")));
        }
    }
    all
}

/// Puts a day into the calendar that no shift knows.
fn open_day(
    planned: &mut Planned,
    at: usize,
    date: Date,
    opens_min: u32,
    (people, minutes): (u32, u32),
) {
    let first = planned.assembled.spells.first().map_or(date, |s| s.date);
    let scheme = &mut planned.assembled.scheme;
    let day = sequence::Day { date: first.days_until(date), opens_min, minutes, people };
    scheme.calendar.days.insert(at, day);
    for kit in &mut scheme.kits {
        kit.by_day.iter_mut().filter(|d| d.0 >= at).for_each(|d| d.0 += 1);
    }
    for place in &mut scheme.places {
        place.shut.iter_mut().filter(|d| **d >= at).for_each(|d| *d += 1);
    }
    planned
        .assembled
        .spells
        .insert(at, super::Spell { date, opens_min, minutes, people: Vec::new() });
}

/// As many tickets as before, but no more than people.
fn tickets(model: &super::WorksModel, planned: &mut Planned, day: usize, people: u32) {
    for (k, kit) in model.kit.iter().enumerate().filter(|k| k.1.ticket) {
        let held = model.crew.iter().filter(|p| p.tickets.contains(&kit.id)).count() as u32;
        let slot = &mut planned.assembled.scheme.kits[k];
        // Nobody said who is here: of so many people, as many may hold a ticket as there are, and
        // whoever leads the day sees to it.
        slot.by_day.push((day, held.min(people)));
    }
}

fn without(
    model: &super::WorksModel,
    planned: &mut Planned,
    name: &str,
    of_day: &[usize],
) -> Result<(), NoPlan> {
    let name = name.trim();
    let scheme = &mut planned.assembled.scheme;
    if let Some(k) = model.kit.iter().position(|k| k.id == name) {
        let id = KitId(k);
        scheme.kits[id.0].by_day.extend(of_day.iter().map(|d| (*d, 0)));
        return Ok(());
    }
    if let Some(p) = model.places.iter().position(|p| p.id == name) {
        scheme.places[p].shut.extend(of_day);
        return Ok(());
    }
    let known: Vec<&str> = model
        .kit
        .iter()
        .map(|k| k.id.as_str())
        .chain(model.places.iter().map(|p| p.id.as_str()))
        .collect();
    Err(NoPlan::NoTarget {
        name: name.to_owned(),
        mend: format!("kit and places are: {}", known.join(", ")),
    })
}
