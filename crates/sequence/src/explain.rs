//! Why is this before that; how soon can this be off; what would one more person save.

use crate::circle::{Link, chain};
use crate::plan::{Plan, Progress, Refused, Step};
use crate::scheme::{Before, Break, KitId, Scheme, Targets, Wait, WorkId};
use crate::search::{Old, SearchOptions, Watch, solve, solve_from};
use std::sync::atomic::AtomicBool;

/// Why a step begins when it does, and not before.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Cause {
    /// Planning begins there.
    Now,
    /// Another work must end first.
    After(Link),
    /// The engine is barred first.
    Barring,
    /// These works have the people.
    People(Vec<WorkId>),
    /// These works have a kit, or it is not there before.
    Kit(KitId, Vec<WorkId>),
    /// These works fill or clear the place.
    Place(Vec<WorkId>),
    /// It is begun in the morning: it may not stand overnight, or what it needs comes that day.
    Morning,
    /// Nothing holds it: it could begin sooner without anything gained.
    Free,
}

/// Why one work is before another.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Why {
    /// It must be: the shortest chain of reasons.
    Must(Vec<Link>),
    /// It need not be; in this plan it came so, going back from the later: each work and what
    /// held it.
    InThisPlan(Vec<(WorkId, Cause)>),
    /// It is not before it in this plan.
    Not,
}

/// What a change would save.
#[derive(Debug, Clone, PartialEq)]
pub struct Saving {
    /// The plan with the change.
    pub plan: Plan,
    /// Elapsed minutes saved between the two plans found.
    pub found_min: u64,
    /// Saved for certain: bound without the change less plan with it.
    pub at_least_min: u64,
    /// Saved at most: plan without it less bound with it.
    pub at_most_min: u64,
}

/// Answers questions about a plan.
#[derive(Debug, Clone, Copy)]
pub struct Explainer<'a> {
    /// The scheme planned.
    pub scheme: &'a Scheme,
    /// Where planning began.
    pub progress: &'a Progress,
    /// The plan.
    pub plan: &'a Plan,
}

impl<'a> Explainer<'a> {
    fn before(&self, w: usize) -> Vec<&'a Before> {
        let way = self.plan.step(WorkId(w)).map(|s| s.way);
        crate::circle::befores(self.scheme, w, way)
    }

    /// Why `a` is before `b`, with the ways that the plan chose.
    #[must_use]
    pub fn why_before(&self, a: WorkId, b: WorkId) -> Why {
        let n = self.scheme.works.len();
        if a.0 >= n || b.0 >= n || a == b {
            return Why::Not;
        }
        let must = chain(n, a.0, b.0, &|w| self.before(w));
        if !must.is_empty() {
            return Why::Must(must);
        }
        match (self.plan.step(a), self.plan.step(b)) {
            (Some(x), Some(y)) if x.start_min < y.start_min => {
                Why::InThisPlan(self.held_by(b, x.start_min))
            }
            _ => Why::Not,
        }
    }

    /// The chain of works that held the last work to end, back to the start: what to shorten to
    /// end sooner.
    #[must_use]
    pub fn longest_chain(&self) -> Vec<(WorkId, Cause)> {
        let last = self.plan.steps.iter().max_by_key(|s| s.end_min);
        last.map_or(Vec::new(), |s| self.held_by(s.work, 0))
    }

    fn held_by(&self, work: WorkId, not_before_min: u64) -> Vec<(WorkId, Cause)> {
        let mut found = Vec::new();
        let mut at = work;
        while let Some(step) = self.plan.step(at) {
            let cause = self.cause(at);
            let next = match &cause {
                Cause::After(link) => Some(link.earlier),
                Cause::People(w) | Cause::Kit(_, w) | Cause::Place(w) => w.first().copied(),
                Cause::Barring => self.before_move(step),
                _ => None,
            };
            found.push((at, cause));
            let Some(next) = next.and_then(|n| self.plan.step(n)) else { break };
            if next.start_min < not_before_min || next.start_min >= step.start_min {
                break;
            }
            at = next.work;
        }
        found
    }

    /// The work that ended last before the move that ends as a step begins.
    fn before_move(&self, step: &Step) -> Option<WorkId> {
        let m = self.plan.moves.iter().rev().find(|m| m.end_min <= step.start_min)?;
        let ended = self.plan.steps.iter().filter(|s| s.end_min <= m.start_min);
        ended.max_by_key(|s| s.end_min).map(|s| s.work)
    }

    /// Why a work begins when it does.
    #[must_use]
    pub fn cause(&self, work: WorkId) -> Cause {
        let Some(step) = self.plan.step(work) else { return Cause::Free };
        let start = step.start_min;
        if start <= self.progress.now_min {
            return Cause::Now;
        }
        let Some(way) = self.scheme.way(work, step.way) else { return Cause::Free };
        // A minute sooner: what says no?
        let steps = || {
            let all = self.plan.steps.iter().chain(&self.progress.done);
            all.chain(&self.progress.running).filter(|s| s.work != work)
        };
        for b in self.before(work.0) {
            let Some(end) = steps().find(|s| s.work == b.work).map(|s| s.end_min) else { continue };
            let holds = match b.wait {
                Wait::None => end == start,
                Wait::Minutes(m) => end + u64::from(m) == start,
                Wait::Days(d) => {
                    let days = &self.scheme.calendar.days;
                    let date = |day: Option<(usize, u32)>| day.map(|x| days[x.0].date);
                    let ended = date(self.scheme.calendar.day_of_end(end));
                    let sooner = date(self.scheme.calendar.day_of(start - 1));
                    end == start
                        || matches!((ended, sooner), (Some(e), Some(s)) if s < e + i64::from(d))
                }
            };
            if holds {
                let (earlier, later) = (b.work, work);
                return Cause::After(Link { earlier, later, reason: b.reason.clone() });
            }
        }
        if self.plan.moves.iter().any(|m| m.end_min == start) {
            let on_engine = way.whereabouts == crate::scheme::Where::OnEngine;
            if on_engine || way.window != crate::scheme::Window::Any {
                return Cause::Barring;
            }
        }
        let Some((day, minute)) = self.scheme.calendar.day_of(start - 1) else {
            return Cause::Free;
        };
        let at: Vec<&Step> =
            steps().filter(|s| s.start_min < start && start <= s.end_min).collect();
        let use_of = |s: &Step| self.scheme.way(s.work, s.way);
        let with = |uses: &dyn Fn(&crate::scheme::Way) -> bool| -> Vec<WorkId> {
            let all = at.iter().filter(|s| use_of(s).is_some_and(uses));
            let mut all: Vec<&&Step> = all.collect();
            all.sort_by_key(|s| std::cmp::Reverse(s.start_min));
            all.iter().map(|s| s.work).collect()
        };
        for (kit, count) in &way.kit {
            let has = |y: &crate::scheme::Way| {
                y.kit.iter().filter(|k| k.0 == *kit).map(|k| k.1).sum::<u32>()
            };
            let taken: u32 = at.iter().filter_map(|s| use_of(s)).map(has).sum();
            if taken + count > self.scheme.kits[kit.0].on(day) {
                return Cause::Kit(*kit, with(&|y| has(y) > 0));
            }
        }
        let barring = self.plan.moves.iter().any(|m| m.start_min < start && start <= m.end_min);
        let bar_people = if barring { self.scheme.barring.people } else { 0 };
        let people: u32 = at.iter().filter_map(|s| use_of(s)).map(|y| y.people).sum();
        if people + bar_people + way.people > self.scheme.calendar.days[day].people {
            return Cause::People(with(&|_| true));
        }
        let places: Vec<_> = way.place.iter().chain(&way.keeps_clear).collect();
        for p in places {
            let inside = |y: &crate::scheme::Way| y.place == Some(*p) || y.keeps_clear.contains(p);
            let clears = at.iter().filter_map(|s| use_of(s)).any(|y| y.keeps_clear.contains(p));
            let count = at.iter().filter_map(|s| use_of(s)).filter(|y| inside(y)).count() as u32;
            let full = count + 1 > self.scheme.places[p.0].on(day);
            if full || clears || (way.keeps_clear.contains(p) && count > 0) {
                return Cause::Place(with(&inside));
            }
        }
        let opens = self.scheme.calendar.day_of(start).is_some_and(|d| d.1 == 0);
        let _ = minute;
        if opens && (way.stands == Break::SameDay || day != 0) {
            return Cause::Morning;
        }
        Cause::Free
    }

    /// A plan that gets only this work done, as soon as can be: its `cost` says when, its `bound`
    /// before when it cannot be.
    ///
    /// # Errors
    /// As [`solve`].
    pub fn earliest(&self, work: WorkId, options: &SearchOptions) -> Result<Plan, Refused> {
        if self.scheme.work(work).is_none() {
            return Err(Refused::NotThere(work.0));
        }
        let scheme = Scheme { targets: Targets::Only(vec![work]), ..self.scheme.clone() };
        solve(&scheme, self.progress, options)
    }

    /// What one more person on every day would save.
    ///
    /// # Errors
    /// As [`solve`].
    pub fn one_more_person(&self, options: &SearchOptions) -> Result<Saving, Refused> {
        let mut scheme = self.scheme.clone();
        scheme.calendar.days.iter_mut().for_each(|d| d.people += 1);
        self.saving(&scheme, options)
    }

    /// What so many of a kit on one day would save (the crane for one more day).
    ///
    /// # Errors
    /// As [`solve`]; [`Refused::NotThere`] when the kit or day is not in the scheme.
    pub fn kit_on_day(
        &self,
        kit: KitId,
        day: usize,
        count: u32,
        options: &SearchOptions,
    ) -> Result<Saving, Refused> {
        let mut scheme = self.scheme.clone();
        if day >= scheme.calendar.days.len() {
            return Err(Refused::NotThere(day));
        }
        let slot = scheme.kits.get_mut(kit.0).ok_or(Refused::NotThere(kit.0))?;
        slot.by_day.push((day, count));
        self.saving(&scheme, options)
    }

    fn saving(&self, scheme: &Scheme, options: &SearchOptions) -> Result<Saving, Refused> {
        let stop = AtomicBool::new(false);
        let watch = Watch { news: &|_| {}, stop: &stop };
        let old = Old { steps: &self.plan.steps, keep: false, minutes_a_change: 0 };
        let plan = solve_from(scheme, self.progress, options, &watch, Some(&old))?;
        let (was, bound) = (self.plan.cost.elapsed_min, self.plan.bound.elapsed_min);
        Ok(Saving {
            found_min: was.saturating_sub(plan.cost.elapsed_min),
            at_least_min: bound.saturating_sub(plan.cost.elapsed_min),
            at_most_min: was.saturating_sub(plan.bound.elapsed_min),
            plan,
        })
    }
}
