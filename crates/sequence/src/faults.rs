//! What is wrong with a scheme, all of it, before any planning.

use crate::circle::{Link, befores, chain, shortest_circle};
use crate::scheme::{Break, Scheme, SetUps, Targets, Way, Window, WorkId};

/// A fault that stops planning.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum Fault {
    /// Works wait for each other.
    #[error("works wait for each other in a circle: {}", words(.0))]
    Circle(Vec<Link>),
    /// No way of a work can ever be done; each with its reason.
    #[error("{work} has no way that can be done: {}", .ways.iter().map(|w| format!("{}: {}", w.title, w.reason)).collect::<Vec<_>>().join("; "))]
    NoWay {
        /// Tag of the work.
        work: String,
        /// Its ways and what is wrong with each.
        ways: Vec<WayOut>,
    },
    /// Two works have one tag.
    #[error("tag {0} is used for two works")]
    Twice(String),
    /// Something names a work that is not in the scheme.
    #[error("{by} names work number {number}, but there are {count}")]
    NoSuchWork {
        /// Who names it.
        by: String,
        /// The number named.
        number: usize,
        /// How many works there are.
        count: usize,
    },
    /// The calendar has no working minute.
    #[error("the calendar has no working minute")]
    NoDays,
    /// Dates fall from one day to the next.
    #[error("date {date} of day {day} in the calendar is before that of the day before")]
    Dates {
        /// Place in the calendar.
        day: usize,
        /// Its date.
        date: i64,
    },
    /// The calendar is too long.
    #[error(
        "the calendar has {minutes} working minutes in {days} days, above the limit 20000000 minutes or 60000 days"
    )]
    TooLong {
        /// Minutes there are.
        minutes: u64,
        /// Days there are.
        days: usize,
    },
    /// The angle at which the engine stands is no number.
    #[error("the engine stands at {0} rad, which is no angle")]
    Angle(f64),
    /// Kit whose set-ups are counted and of which there is more than one.
    #[error("set-ups of {kit} are counted, which needs one of it, not {count}")]
    SetUps {
        /// Name of the kit.
        kit: String,
        /// How many there are.
        count: u32,
    },
    /// A number is out of the range that planning takes.
    #[error("{what} of {of} is {value}, above the limit {limit}")]
    TooMuch {
        /// Which number.
        what: &'static str,
        /// Of what.
        of: String,
        /// Its value.
        value: u64,
        /// The limit.
        limit: u64,
    },
}

/// A way that can never be done, and why.
#[derive(Debug, Clone, PartialEq)]
pub struct WayOut {
    /// The work.
    pub work: WorkId,
    /// Which of its ways.
    pub way: usize,
    /// What the way is called.
    pub title: String,
    /// Why not.
    pub reason: Reason,
}

/// Why a way can never be done.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum Reason {
    /// It takes no time or too much.
    #[error("{0} min is not between 1 and 100000")]
    Minutes(u32),
    /// Nobody does it.
    #[error("nobody does it")]
    Nobody,
    /// It needs more people than there are on any day.
    #[error("needs {needs} people, never more than {most} there")]
    Crew {
        /// People needed.
        needs: u32,
        /// Most people on any day.
        most: u32,
    },
    /// Kit that is not in the scheme.
    #[error("kit or place number {0} is not in the scheme")]
    NotThere(usize),
    /// There is never so much of a kit.
    #[error("needs {needs} of {kit}, never more than {most} there")]
    Kit {
        /// Name of the kit.
        kit: String,
        /// How many are needed.
        needs: u32,
        /// Most on any day.
        most: u32,
    },
    /// The place is never open or has no room.
    #[error("{0} is never open")]
    Place(String),
    /// People, kit and hours are each there, but on no day together.
    #[error("people, kit and {minutes} min on end are never there together")]
    NeverTogether {
        /// Minutes needed.
        minutes: u32,
    },
    /// No crank position.
    #[error("its crank positions are none, or no numbers")]
    Window,
    /// What it leaves hanging cannot be put right without moving the engine.
    #[error("leaves {what} hanging until {until}, which no way does at the same crank position")]
    Hangs {
        /// What hangs.
        what: String,
        /// Tag of the work that would put it right.
        until: String,
    },
    /// More of a kit is to stay than there ever is.
    #[error("{count} of {kit} stay after it, but there are never more than {most}")]
    Stays {
        /// Name of the kit.
        kit: String,
        /// How many stay.
        count: u32,
        /// The most there are on any day.
        most: u32,
    },
    /// What it leaves hanging is to be put right by a work that need not come after it.
    #[error("leaves {what} until {until}, which is not tied behind it in every way")]
    NotBehind {
        /// What hangs.
        what: String,
        /// Tag of the work that would put it right.
        until: String,
    },
    /// It waits for something that waits for it.
    #[error("waits in a circle: {}", words(.0))]
    Circle(Vec<Link>),
    /// The chance of failing is no chance.
    #[error("chance of failing {0} is not from 0 to below 1")]
    Chance(f64),
    /// It needs a work of which no way can be done.
    #[error("needs {0}, which cannot be done")]
    Needs(String),
    /// It uses two kits whose set-ups are counted.
    #[error("uses two kits whose set-ups are counted")]
    TwoCranes,
}

/// What [`inspect`] found.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Findings {
    /// What stops planning.
    pub faults: Vec<Fault>,
    /// Ways that can never be done; planning goes on without them.
    pub ways_out: Vec<WayOut>,
}

pub(crate) fn words(links: &[Link]) -> String {
    let one = |l: &Link| format!("work {} before {} ({})", l.earlier.0, l.later.0, l.reason);
    links.iter().map(one).collect::<Vec<_>>().join("; ")
}

/// Everything that is wrong with a scheme, and every way that can never be done.
///
/// A circle is found among the ties that hold whatever the ways, shortest first; a way whose own
/// ties close a circle is struck out and says so. Circles that only a combination of two ways
/// closes are left to the planner, which avoids them.
#[must_use]
pub fn inspect(scheme: &Scheme) -> Findings {
    let mut found = Findings::default();
    basic(scheme, &mut found.faults);
    if !found.faults.is_empty() {
        // Numbers that point nowhere would trip what follows.
        return found;
    }
    for (w, work) in scheme.works.iter().enumerate() {
        for (k, way) in work.ways.iter().enumerate() {
            if let Some(reason) = way_out(scheme, way) {
                let (work, title) = (WorkId(w), way.title.clone());
                found.ways_out.push(WayOut { work, way: k, title, reason });
            }
        }
    }
    not_behind(scheme, &mut found.ways_out);
    let circle = shortest_circle(scheme);
    if circle.is_empty() {
        own_circles(scheme, &mut found.ways_out);
    } else {
        found.faults.push(Fault::Circle(circle));
    }
    spread(scheme, &mut found);
    found
}

fn basic(scheme: &Scheme, faults: &mut Vec<Fault>) {
    let n = scheme.works.len();
    let mut tags: Vec<&str> = scheme.works.iter().map(|w| w.tag.as_str()).collect();
    tags.sort_unstable();
    for pair in tags.windows(2).filter(|p| p[0] == p[1]) {
        faults.push(Fault::Twice(pair[0].to_string()));
    }
    let mut named = |by: &str, number: usize| {
        if number >= n {
            faults.push(Fault::NoSuchWork { by: by.into(), number, count: n });
        }
    };
    for work in &scheme.works {
        work.after.iter().for_each(|b| named(&work.tag, b.work.0));
        for way in &work.ways {
            way.after.iter().for_each(|b| named(&work.tag, b.work.0));
            way.leaves.iter().filter_map(|h| h.until).for_each(|u| named(&work.tag, u.0));
            way.stays.iter().filter_map(|x| x.until).for_each(|u| named(&work.tag, u.0));
        }
    }
    scheme.barring.after.iter().for_each(|b| named("barring", b.work.0));
    if let Targets::Only(ids) = &scheme.targets {
        ids.iter().for_each(|i| named("the target", i.0));
    }
    let (minutes, days) = (scheme.calendar.minutes(), scheme.calendar.days.len());
    if minutes == 0 {
        faults.push(Fault::NoDays);
    }
    if minutes > 20_000_000 || days > 60_000 {
        faults.push(Fault::TooLong { minutes, days });
    }
    for (d, pair) in scheme.calendar.days.windows(2).enumerate() {
        if pair[1].date < pair[0].date {
            faults.push(Fault::Dates { day: d + 1, date: pair[1].date });
        }
    }
    if !scheme.stands_rad.is_finite() {
        faults.push(Fault::Angle(scheme.stands_rad));
    }
    for kit in scheme.kits.iter().filter(|k| k.set_ups == SetUps::Counted) {
        let count = kit.by_day.iter().map(|d| d.1).chain([kit.count]).max().unwrap_or(0);
        if count > 1 {
            faults.push(Fault::SetUps { kit: kit.name.clone(), count });
        }
    }
    let mut limit = |what, of: &str, value: u32, limit: u32| {
        if value > limit {
            let (value, limit) = (u64::from(value), u64::from(limit));
            faults.push(Fault::TooMuch { what, of: of.into(), value, limit });
        }
    };
    for day in &scheme.calendar.days {
        limit("number of people", "a day", day.people, 10_000);
        limit("number of minutes", "a day", day.minutes, 1440);
    }
    scheme.kits.iter().for_each(|k| limit("number", &k.name, k.count, 10_000));
    scheme.places.iter().for_each(|p| limit("room", &p.name, p.room, 10_000));
    limit("set-up minutes", "barring", scheme.barring.set_up_min, 10_000);
    limit("minutes a turn", "barring", scheme.barring.turn_min, 10_000);
    limit("rounding", "barring", scheme.barring.round_min, 10_000);
    limit("number of people", "barring", scheme.barring.people, 10_000);
    limit("number", "kits and places", (scheme.kits.len() + scheme.places.len()) as u32, 1000);
    for b in
        scheme.works.iter().flat_map(|w| w.after.iter().chain(w.ways.iter().flat_map(|y| &y.after)))
    {
        match b.wait {
            crate::scheme::Wait::Minutes(m) => limit("wait in minutes", &b.reason, m, 20_000_000),
            crate::scheme::Wait::Days(d) => limit("wait in days", &b.reason, d, 60_000),
            crate::scheme::Wait::None => {}
        }
    }
}

/// Why a way can never be done, looked at by itself.
fn way_out(scheme: &Scheme, way: &Way) -> Option<Reason> {
    let days = &scheme.calendar.days;
    if way.minutes == 0 || way.minutes > 100_000 {
        return Some(Reason::Minutes(way.minutes));
    }
    if way.people == 0 {
        return Some(Reason::Nobody);
    }
    if !(0.0..1.0).contains(&way.fails) {
        return Some(Reason::Chance(way.fails));
    }
    let most = days.iter().map(|d| d.people).max().unwrap_or(0);
    if way.people > most {
        return Some(Reason::Crew { needs: way.people, most });
    }
    let mut cranes = 0;
    for (id, needs) in &way.kit {
        let Some(kit) = scheme.kits.get(id.0) else { return Some(Reason::NotThere(id.0)) };
        cranes += usize::from(kit.set_ups == SetUps::Counted);
        let needs: u32 =
            way.kit.iter().filter(|k| k.0 == *id).map(|k| k.1).sum::<u32>().max(*needs);
        let most = (0..days.len()).map(|d| kit.on(d)).max().unwrap_or(0);
        if needs > most {
            return Some(Reason::Kit { kit: kit.name.clone(), needs, most });
        }
    }
    if cranes > 1 {
        return Some(Reason::TwoCranes);
    }
    for id in way.place.iter().chain(&way.keeps_clear) {
        if scheme.places.get(id.0).is_none() {
            return Some(Reason::NotThere(id.0));
        }
    }
    for stay in &way.stays {
        let Some(kit) = scheme.kits.get(stay.kit.0) else {
            return Some(Reason::NotThere(stay.kit.0));
        };
        let count = way.stays.iter().filter(|x| x.kit == stay.kit).map(|x| x.count).sum();
        let most = (0..days.len()).map(|d| kit.on(d)).max().unwrap_or(0);
        if count > most {
            return Some(Reason::Stays { kit: kit.name.clone(), count, most });
        }
    }
    let place = way.place.map(|id| &scheme.places[id.0]);
    if let Some(p) = place.filter(|p| (0..days.len()).all(|d| p.on(d) == 0)) {
        return Some(Reason::Place(p.name.clone()));
    }
    if way.window.is_impossible() {
        return Some(Reason::Window);
    }
    let there = |d: usize| {
        days[d].people >= way.people
            && way.kit.iter().all(|(id, count)| scheme.kits[id.0].on(d) >= *count)
            && place.is_none_or(|p| p.on(d) > 0)
    };
    let mut on_end = 0;
    let fits = days.iter().enumerate().any(|(d, day)| {
        on_end = match (there(d), way.stands) {
            (false, _) => 0,
            (true, Break::SameDay) => day.minutes,
            (true, Break::MayStand) => on_end + day.minutes,
        };
        on_end >= way.minutes
    });
    if !fits {
        return Some(Reason::NeverTogether { minutes: way.minutes });
    }
    for hang in &way.leaves {
        let Some(until) = hang.until else { continue };
        let other = &scheme.works[until.0];
        let meets = |o: &Way| overlap(&way.window, &o.window);
        if !other.ways.is_empty() && !other.ways.iter().any(meets) {
            let (what, until) = (hang.what.clone(), other.tag.clone());
            return Some(Reason::Hangs { what, until });
        }
    }
    None
}

/// Ways that leave something hanging until a work that could come earlier: the plan could not say
/// when it hangs.
fn not_behind(scheme: &Scheme, out: &mut Vec<WayOut>) {
    let n = scheme.works.len();
    for (w, work) in scheme.works.iter().enumerate() {
        for (k, way) in work.ways.iter().enumerate() {
            let untied = |u: &WorkId| {
                chain(n, w, u.0, &|x| befores(scheme, x, None)).is_empty()
                    && !only_for(scheme, w, u.0)
            };
            let kit = |x: &crate::scheme::Staying| {
                scheme.kits.get(x.kit.0).map_or("kit", |k| k.name.as_str())
            };
            let hangs = way.leaves.iter().map(|h| (h.what.as_str(), h.until));
            let stays = way.stays.iter().map(|x| (kit(x), x.until));
            let mut all = hangs.chain(stays).filter_map(|(what, until)| Some((what, until?)));
            let Some((what, until)) = all.find(|(_, u)| untied(u)) else { continue };
            if !out.iter().any(|o| o.work.0 == w && o.way == k) {
                let until = scheme.works[until.0].tag.clone();
                let reason = Reason::NotBehind { what: what.to_owned(), until };
                out.push(WayOut { work: WorkId(w), way: k, title: way.title.clone(), reason });
            }
        }
    }
}

/// A work that comes into a plan only because a way of `until` needs it: whenever it is there, the
/// way chosen is one that waits for it.
fn only_for(scheme: &Scheme, work: usize, until: usize) -> bool {
    let waits = |list: &[crate::scheme::Before]| list.iter().any(|b| b.work.0 == work);
    let others = scheme.works.iter().enumerate().any(|(x, other)| {
        waits(&other.after) || (x != until && other.ways.iter().any(|y| waits(&y.after)))
    });
    let target = match &scheme.targets {
        Targets::All => false,
        Targets::Only(ids) => ids.iter().any(|i| i.0 == work),
    };
    let needed = scheme.works[work].wanted == crate::scheme::Wanted::WhenNeeded;
    needed && !target && !others && scheme.works[until].ways.iter().any(|y| waits(&y.after))
}

fn overlap(a: &Window, b: &Window) -> bool {
    match (a, b) {
        (Window::Any, _) | (_, Window::Any) => true,
        // Two arcs meet exactly when the beginning of one lies in the other.
        (Window::Arcs(xs), Window::Arcs(ys)) => {
            xs.iter().any(|x| ys.iter().any(|y| x.holds(y.from_rad) || y.holds(x.from_rad)))
        }
    }
}

/// Ways whose own ties close a circle with ties that always hold.
fn own_circles(scheme: &Scheme, out: &mut Vec<WayOut>) {
    let n = scheme.works.len();
    for (w, work) in scheme.works.iter().enumerate() {
        for (k, way) in work.ways.iter().enumerate().filter(|(_, y)| !y.after.is_empty()) {
            let before = |x: usize| befores(scheme, x, (x == w).then_some(k));
            let circle = chain(n, w, w, &before);
            if !circle.is_empty() && !out.iter().any(|o| o.work.0 == w && o.way == k) {
                let (work, title, reason) = (WorkId(w), way.title.clone(), Reason::Circle(circle));
                out.push(WayOut { work, way: k, title, reason });
            }
        }
    }
}

/// Works without a way left; ways that need such a work are out too; faults for those wanted.
fn spread(scheme: &Scheme, found: &mut Findings) {
    let n = scheme.works.len();
    let mut left: Vec<usize> = scheme.works.iter().map(|w| w.ways.len()).collect();
    let mut out: Vec<Vec<bool>> = scheme.works.iter().map(|w| vec![false; w.ways.len()]).collect();
    let mut dead: Vec<usize> = Vec::new();
    for o in &found.ways_out {
        if !std::mem::replace(&mut out[o.work.0][o.way], true) {
            left[o.work.0] -= 1;
        }
    }
    dead.extend((0..n).filter(|w| left[*w] == 0));
    let mut needed_by: Vec<Vec<(usize, usize)>> = vec![Vec::new(); n];
    for (w, work) in scheme.works.iter().enumerate() {
        for (k, way) in work.ways.iter().enumerate() {
            for b in work.after.iter().chain(&way.after) {
                needed_by[b.work.0].push((w, k));
            }
        }
    }
    let first = dead.clone();
    while let Some(gone) = dead.pop() {
        for &(w, k) in &needed_by[gone] {
            if std::mem::replace(&mut out[w][k], true) {
                continue;
            }
            let title = scheme.works[w].ways[k].title.clone();
            let reason = Reason::Needs(scheme.works[gone].tag.clone());
            found.ways_out.push(WayOut { work: WorkId(w), way: k, title, reason });
            left[w] -= 1;
            if left[w] == 0 {
                dead.push(w);
            }
        }
    }
    // Named at the root: works without a way of their own, as far as the target needs them.
    let wanted: Vec<usize> = match &scheme.targets {
        Targets::All => {
            (0..n).filter(|w| scheme.works[*w].wanted == crate::scheme::Wanted::Always).collect()
        }
        Targets::Only(ids) => ids.iter().map(|i| i.0).collect(),
    };
    if wanted.iter().any(|w| left[*w] == 0) {
        for w in first {
            let ways = found.ways_out.iter().filter(|o| o.work.0 == w).cloned().collect();
            found.faults.push(Fault::NoWay { work: scheme.works[w].tag.clone(), ways });
        }
    }
}
