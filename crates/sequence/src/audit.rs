//! Re-checks a plan against the scheme, from the scheme alone and minute by minute. Nothing of the
//! planner is used: no ticks, no stations, no tables.

use crate::plan::{Plan, Progress, Step};
use crate::scheme::{Break, Scheme, SetUps, Targets, Wait, Wanted, Way, Where, WorkId};
use std::collections::BTreeSet;

/// One way in which a plan breaks its scheme.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum Breach {
    /// A work or way that is not there.
    #[error("step of work {0} names a work or way that is not in the scheme")]
    NotThere(usize),
    /// Planned twice, or done already.
    #[error("{0} is planned twice or done already")]
    Twice(String),
    /// A way that will not go is planned.
    #[error("{0} is planned in a way that is stuck")]
    Stuck(String),
    /// Wanted or needed and not planned.
    #[error("{0} is wanted or needed and not planned")]
    Missing(String),
    /// The times are not the way's minutes.
    #[error("{work} takes {is_min} min in the plan, its way {should_min} min")]
    Length {
        /// Tag of the work.
        work: String,
        /// Minutes in the plan.
        is_min: u64,
        /// Minutes of the way.
        should_min: u64,
    },
    /// Before now, or past the calendar.
    #[error("{0} is planned before now or past the end of the calendar")]
    Outside(String),
    /// Begun before what comes first allows it.
    #[error("{later} begins before {earlier} allows it ({reason})")]
    Order {
        /// Tag of the earlier work, or "barring".
        earlier: String,
        /// Tag of the later.
        later: String,
        /// The reason for the order.
        reason: String,
    },
    /// More taken than there is.
    #[error("minute {minute}: {taken} of {what} taken, {there} there")]
    Short {
        /// People, kit or place.
        what: String,
        /// Working minute.
        minute: u64,
        /// Taken.
        taken: u64,
        /// There.
        there: u64,
    },
    /// Not one day where one day is asked.
    #[error("{0} runs over the end of a day and may not stand")]
    Overnight(String),
    /// The engine does not stand where the work needs it.
    #[error("{0}: the engine does not stand where it is needed")]
    Position(String),
    /// The engine is moved while it may not be.
    #[error("the engine is moved at minute {minute} while {why}")]
    Moved {
        /// When.
        minute: u64,
        /// What forbids it.
        why: String,
    },
    /// A move does not follow from the last, overlaps it or takes a wrong time.
    #[error("move {0} does not follow from the one before or takes a wrong time")]
    BadMove(usize),
    /// The cost is not what the plan costs.
    #[error("{0} of the cost is stated wrongly")]
    Cost(&'static str),
    /// The bound is above the cost.
    #[error("the bound is above the cost")]
    Bound,
}

/// Everything in which a plan breaks the scheme; empty when it holds.
#[must_use]
pub fn audit(scheme: &Scheme, progress: &Progress, plan: &Plan) -> Vec<Breach> {
    let mut found = Vec::new();
    for s in plan.steps.iter().chain(&progress.done).chain(&progress.running) {
        if scheme.way(s.work, s.way).is_none() {
            found.push(Breach::NotThere(s.work.0));
        }
    }
    if !found.is_empty() {
        return found;
    }
    let audit = Audit { scheme, progress, plan };
    audit.membership(&mut found);
    audit.times(&mut found);
    audit.order(&mut found);
    audit.shares(&mut found);
    audit.engine(&mut found);
    audit.cost(&mut found);
    found
}

struct Audit<'a> {
    scheme: &'a Scheme,
    progress: &'a Progress,
    plan: &'a Plan,
}

impl<'a> Audit<'a> {
    fn tag(&self, w: WorkId) -> String {
        self.scheme.tag(w).to_string()
    }

    fn way(&self, s: &Step) -> &'a Way {
        &self.scheme.works[s.work.0].ways[s.way]
    }

    fn all(&self) -> impl Iterator<Item = &'a Step> + use<'a> {
        self.plan.steps.iter().chain(&self.progress.done).chain(&self.progress.running)
    }

    fn end_of(&self, w: WorkId) -> Option<u64> {
        self.all().find(|s| s.work == w).map(|s| s.end_min)
    }

    fn gone(&self, w: WorkId) -> bool {
        self.progress.dropped.contains(&w)
    }

    fn membership(&self, found: &mut Vec<Breach>) {
        let mut seen = BTreeSet::new();
        for s in self.all() {
            if !seen.insert(s.work) || (self.gone(s.work) && self.plan.step(s.work).is_some()) {
                found.push(Breach::Twice(self.tag(s.work)));
            }
        }
        for s in &self.plan.steps {
            if self.progress.stuck.contains(&(s.work, s.way)) {
                found.push(Breach::Stuck(self.tag(s.work)));
            }
        }
        let mut needed: Vec<WorkId> = match &self.scheme.targets {
            Targets::All => (0..self.scheme.works.len())
                .filter(|w| self.scheme.works[*w].wanted == Wanted::Always)
                .map(WorkId)
                .collect(),
            Targets::Only(ids) => ids.clone(),
        };
        for s in &self.plan.steps {
            let work = &self.scheme.works[s.work.0];
            needed.extend(work.after.iter().chain(&self.way(s).after).map(|b| b.work));
        }
        if !self.plan.moves.is_empty() {
            needed.extend(self.scheme.barring.after.iter().map(|b| b.work));
        }
        needed.sort_unstable();
        needed.dedup();
        for w in needed {
            if !seen.contains(&w) && !self.gone(w) {
                found.push(Breach::Missing(self.tag(w)));
            }
        }
    }

    fn times(&self, found: &mut Vec<Breach>) {
        let end = self.scheme.calendar.minutes();
        for s in &self.plan.steps {
            let way = self.way(s);
            let is_min = s.end_min.saturating_sub(s.start_min);
            if is_min != u64::from(way.minutes) {
                let should_min = u64::from(way.minutes);
                found.push(Breach::Length { work: self.tag(s.work), is_min, should_min });
            }
            if s.start_min < self.progress.now_min || s.end_min > end {
                found.push(Breach::Outside(self.tag(s.work)));
            }
            let day = |m| self.scheme.calendar.day_of(m).map(|d| d.0);
            if way.stands == Break::SameDay && day(s.start_min) != day(s.end_min.max(1) - 1) {
                found.push(Breach::Overnight(self.tag(s.work)));
            }
        }
    }

    /// Whether something that ended may be followed at a minute after a wait.
    fn waited(&self, end_min: u64, wait: Wait, start_min: u64) -> bool {
        match wait {
            Wait::None => start_min >= end_min,
            Wait::Minutes(m) => start_min >= end_min + u64::from(m),
            Wait::Days(d) => {
                let calendar = &self.scheme.calendar;
                let ended = calendar.day_of_end(end_min).map(|x| calendar.days[x.0].date);
                let begins = calendar.day_of(start_min).map(|x| calendar.days[x.0].date);
                start_min >= end_min
                    && matches!((ended, begins), (Some(e), Some(b)) if b >= e + i64::from(d))
            }
        }
    }

    fn order(&self, found: &mut Vec<Breach>) {
        for s in &self.plan.steps {
            let work = &self.scheme.works[s.work.0];
            for b in work.after.iter().chain(&self.way(s).after) {
                // What is missing altogether is told elsewhere.
                let Some(end_min) = self.end_of(b.work) else { continue };
                if !self.waited(end_min, b.wait, s.start_min) {
                    found.push(Breach::Order {
                        earlier: self.tag(b.work),
                        later: self.tag(s.work),
                        reason: b.reason.clone(),
                    });
                }
            }
        }
    }

    /// People, kit and places, minute by minute where anything begins or ends.
    fn shares(&self, found: &mut Vec<Breach>) {
        let now = self.progress.now_min;
        let calendar = &self.scheme.calendar;
        let mut minutes: BTreeSet<u64> =
            (0..calendar.days.len()).map(|d| calendar.opens(d)).filter(|m| *m >= now).collect();
        let active: Vec<&Step> = self.plan.steps.iter().chain(&self.progress.running).collect();
        minutes.extend(active.iter().map(|s| s.start_min).filter(|m| *m >= now));
        minutes.extend(self.plan.moves.iter().map(|m| m.start_min));
        // Kit that stays is in use from the end of a work on.
        minutes.extend(active.iter().map(|s| s.end_min).filter(|m| *m >= now));
        minutes.insert(now);
        let moving = self.progress.moving_until_min.unwrap_or(0);
        for m in minutes {
            let Some((day, _)) = calendar.day_of(m) else { continue };
            let here = |s: &&&Step| s.start_min <= m && m < s.end_min;
            let moves = self.plan.moves.iter().filter(|x| x.start_min <= m && m < x.end_min);
            let bar_people = moves.count() as u64 * u64::from(self.scheme.barring.people);
            let before: Vec<&Step> = active.iter().filter(here).copied().collect();
            // What runs already may take more than is left there; the plan may only not add to it.
            let running = |s: &&&Step| self.progress.running.iter().any(|r| r == **s);
            let mut short = |what: &str, there: u64, bars: (u64, u64), of: &dyn Fn(&Way) -> u64| {
                let sum = |s: &&Step| of(self.way(s));
                let taken = before.iter().map(sum).sum::<u64>() + bars.0 + bars.1;
                let old = before.iter().filter(running).map(sum).sum::<u64>() + bars.1;
                if taken > there && taken > old {
                    found.push(Breach::Short { what: what.into(), minute: m, taken, there });
                }
            };
            let under_way = if m < moving { u64::from(self.scheme.barring.people) } else { 0 };
            let crew = u64::from(calendar.days[day].people);
            short("people", crew, (bar_people, under_way), &|y| u64::from(y.people));
            for (k, kit) in self.scheme.kits.iter().enumerate() {
                // On a day on which the kit is away what stays does so all the same.
                let stays = self.stay(k, m);
                let most = (0..calendar.days.len()).map(|d| kit.on(d)).max().unwrap_or(0);
                if stays > u64::from(most) {
                    short(&kit.name, u64::from(most), (stays, 0), &|_| 0);
                }
                short(&kit.name, u64::from(kit.on(day)), (0, stays), &|y| {
                    y.kit.iter().filter(|x| x.0.0 == k).map(|x| u64::from(x.1)).sum()
                });
            }
            for (p, place) in self.scheme.places.iter().enumerate() {
                let inside = |y: &Way| y.place.is_some_and(|x| x.0 == p);
                let clears = |y: &Way| y.keeps_clear.iter().any(|x| x.0 == p);
                let room = u64::from(place.room);
                // Keeping clear fills the place.
                short(&place.name, room.max(1), (0, 0), &|y| match (clears(y), inside(y)) {
                    (true, _) => room.max(1),
                    (false, there) => u64::from(there),
                });
                if place.on(day) == 0 {
                    short(&place.name, 0, (0, 0), &|y| u64::from(inside(y)));
                }
            }
        }
    }

    /// How many of a kit stay somewhere at a minute.
    fn stay(&self, kit: usize, minute: u64) -> u64 {
        let left = |s: &&Step| s.end_min <= minute;
        let each = self.all().filter(left).flat_map(|s| &self.way(s).stays);
        let open = each.filter(|x| {
            let freed = x.until.and_then(|u| self.end_of(u).or(self.gone(u).then_some(0)));
            x.kit.0 == kit && freed.is_none_or(|f| f > minute)
        });
        open.map(|x| u64::from(x.count)).sum()
    }

    fn engine(&self, found: &mut Vec<Breach>) {
        let mut at_rad = self.progress.stands_rad.unwrap_or(self.scheme.stands_rad);
        let mut free_min = self.progress.moving_until_min.unwrap_or(0).max(self.progress.now_min);
        for (i, m) in self.plan.moves.iter().enumerate() {
            let should = u64::from(self.scheme.barring.minutes(m.from_rad, m.to_rad));
            let turned = crate::scheme::Barring { set_up_min: 1, ..self.scheme.barring.clone() };
            let same = turned.minutes(m.from_rad, at_rad) == 0;
            if !same || m.start_min < free_min || m.end_min != m.start_min + should || should == 0 {
                found.push(Breach::BadMove(i));
            }
            at_rad = m.to_rad;
            free_min = m.end_min;
            for b in &self.scheme.barring.after {
                let ended = self.end_of(b.work);
                if ended.is_some_and(|e| !self.waited(e, b.wait, m.start_min)) {
                    let (earlier, later) = (self.tag(b.work), "barring".into());
                    found.push(Breach::Order { earlier, later, reason: b.reason.clone() });
                }
            }
            for s in self.plan.steps.iter().chain(&self.progress.running) {
                let crosses = s.start_min < m.end_min && m.start_min < s.end_min;
                let way = self.way(s);
                let tied = way.whereabouts == Where::OnEngine || !way.window.holds(m.to_rad);
                if crosses && tied {
                    let why = format!("{} is going on", self.tag(s.work));
                    found.push(Breach::Moved { minute: m.start_min, why });
                }
            }
            for s in self.all() {
                for hang in &self.way(s).leaves {
                    let freed = hang.until.and_then(|u| self.end_of(u)).unwrap_or(u64::MAX);
                    if s.start_min < m.end_min && m.start_min < freed {
                        let why = format!("{} hangs", hang.what);
                        found.push(Breach::Moved { minute: m.start_min, why });
                    }
                }
            }
        }
        let start_rad = self.progress.stands_rad.unwrap_or(self.scheme.stands_rad);
        for s in &self.plan.steps {
            let way = self.way(s);
            let stands_rad = self.plan.stands_rad(start_rad, s.start_min);
            let under_way = s.start_min < self.progress.moving_until_min.unwrap_or(0);
            if !way.window.holds(stands_rad) || (under_way && way.whereabouts == Where::OnEngine) {
                found.push(Breach::Position(self.tag(s.work)));
            }
        }
    }

    fn cost(&self, found: &mut Vec<Breach>) {
        let cost = &self.plan.cost;
        if cost.elapsed_min != self.all().map(|s| s.end_min).max().unwrap_or(0) {
            found.push(Breach::Cost("elapsed time"));
        }
        if cost.moves != self.plan.moves.len() as u64 {
            found.push(Breach::Cost("number of moves"));
        }
        let works: u64 = self.plan.steps.iter().map(|s| self.way(s).people_min()).sum();
        let bars: u64 = self.plan.moves.iter().map(|m| m.end_min - m.start_min).sum();
        if cost.people_min != works + bars * u64::from(self.scheme.barring.people) {
            found.push(Breach::Cost("people-minutes"));
        }
        let mut set_ups = 0;
        for (k, kit) in self.scheme.kits.iter().enumerate() {
            if kit.set_ups == SetUps::Free {
                continue;
            }
            let uses = |s: &&Step| self.way(s).kit.iter().any(|x| x.0.0 == k);
            let mut past: Vec<&Step> =
                self.progress.done.iter().chain(&self.progress.running).filter(uses).collect();
            past.sort_by_key(|s| s.end_min);
            let mut spot = past.last().map(|s| self.way(s).spot);
            let mut steps: Vec<&Step> = self.plan.steps.iter().filter(uses).collect();
            steps.sort_by_key(|s| s.start_min);
            for s in steps {
                set_ups += u64::from(spot != Some(self.way(s).spot));
                spot = Some(self.way(s).spot);
            }
        }
        if cost.set_ups != set_ups {
            found.push(Breach::Cost("number of set-ups"));
        }
        let bound = &self.plan.bound;
        if bound.elapsed_min > cost.elapsed_min
            || bound.moves > cost.moves
            || bound.set_ups > cost.set_ups
            || bound.people_min > cost.people_min
        {
            found.push(Breach::Bound);
        }
    }
}
