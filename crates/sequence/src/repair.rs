//! A plan mended around what is true, changing as little as it can, saying what and why.

use crate::explain::{Cause, Explainer};
use crate::plan::{Cost, Plan, Progress, Refused};
use crate::scheme::{Scheme, SetUps, WorkId};
use crate::search::{Old, Ready, SearchOptions, Watch};
use std::sync::atomic::AtomicBool;

/// Works placed, in all plans tried together, while mending; fewer where a plan is so long that
/// placing one takes longer.
const WORKS_TRIED: u64 = 300_000;

/// How to mend.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RepairOptions {
    /// The search.
    pub search: SearchOptions,
    /// Elapsed minutes that a work taken out of its order, or done another way, must save.
    pub minutes_a_change: u64,
}

impl Default for RepairOptions {
    /// 2000 plans tried, ten minutes a change: invented, to be set.
    fn default() -> Self {
        let search = SearchOptions { steps: 2000, exact_steps: 0, ..SearchOptions::default() };
        Self { search, minutes_a_change: 10 }
    }
}

/// What is otherwise than before.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Turned {
    /// Another way.
    Way {
        /// The old.
        from: usize,
        /// The new.
        to: usize,
    },
    /// Taken out of its place in the order.
    Order,
    /// New in the plan.
    New,
    /// No longer in the plan, and not done.
    Left,
    /// In its place, but so many minutes later.
    Later(u64),
    /// In its place, but so many minutes sooner.
    Sooner(u64),
}

/// One change and its reason.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Change {
    /// The work.
    pub work: WorkId,
    /// What is otherwise.
    pub turned: Turned,
    /// Why, in words.
    pub why: String,
}

/// A mended plan.
#[derive(Debug, Clone, PartialEq)]
pub struct Repaired {
    /// The plan.
    pub plan: Plan,
    /// What changed: ways and order first, then what is only later or sooner.
    pub changes: Vec<Change>,
    /// What it would have cost to keep the old order throughout; `None` when that no longer goes.
    pub kept: Option<Cost>,
}

/// Mends a plan for a scheme and progress that are true now (see [`apply`](crate::apply)).
///
/// The old order and ways are kept where they still go; a work is taken out of its order, or done
/// another way, only where that saves more than `minutes_a_change` each. Works out of order are
/// counted as those outside the longest run that keeps it.
///
/// # Errors
/// As [`solve`](crate::solve).
pub fn repair(
    scheme: &Scheme,
    progress: &Progress,
    old: &Plan,
    options: &RepairOptions,
) -> Result<Repaired, Refused> {
    let stop = AtomicBool::new(false);
    let watch = Watch { news: &|_| {}, stop: &stop };
    let minutes_a_change = options.minutes_a_change;
    let keep = Old { steps: &old.steps, keep: true, minutes_a_change };
    let ready = Ready::new(scheme, progress)?;
    let kept = ready.solve(&options.search, &watch, Some(&keep)).ok();
    let mend = Old { keep: false, ..keep };
    // A plan of thousands of works takes long to try; the same time is then spent on fewer.
    let works = ready.works_left().max(1) as u64;
    let steps = options.search.steps.min(WORKS_TRIED / (works + works * works / 300));
    let plan = ready.solve(&SearchOptions { steps, ..options.search }, &watch, Some(&mend))?;
    let changes = changes(scheme, progress, old, &plan);
    Ok(Repaired { plan, changes, kept: kept.map(|p| p.cost) })
}

/// The rest of a plan, to the minute as it was, where all has gone as planned until now; `None` where
/// it no longer holds and must be mended. [`audit`](fn@crate::audit) decides.
///
/// The bound keeps its elapsed time only: nothing that goes on from here ends before the best plan
/// of the whole would; moves and the rest that are over count no more.
#[must_use]
pub fn carry_on(scheme: &Scheme, progress: &Progress, old: &Plan) -> Option<Plan> {
    let over = |w: WorkId| progress.done.iter().chain(&progress.running).any(|s| s.work == w);
    let mut rest = old.clone();
    rest.steps.retain(|s| !over(s.work) && !progress.dropped.contains(&s.work));
    rest.moves.retain(|m| m.start_min >= progress.now_min);
    let way = |s: &crate::plan::Step| scheme.way(s.work, s.way);
    let all = || rest.steps.iter().chain(&progress.done).chain(&progress.running);
    let elapsed_min = all().map(|s| s.end_min).max().unwrap_or(0);
    let bars: u64 = rest.moves.iter().map(|m| m.end_min - m.start_min).sum();
    let works: u64 = rest.steps.iter().filter_map(way).map(|y| y.people_min()).sum();
    let mut set_ups = 0;
    for k in (0..scheme.kits.len()).filter(|k| scheme.kits[*k].set_ups == SetUps::Counted) {
        let spot = |s: &crate::plan::Step| {
            way(s).filter(|y| y.kit.iter().any(|x| x.0.0 == k)).map(|y| y.spot)
        };
        let past = progress.done.iter().chain(&progress.running);
        let past = past.filter(|s| spot(s).is_some()).max_by_key(|s| s.end_min);
        let mut at = past.and_then(spot);
        for here in rest.steps.iter().filter_map(spot) {
            set_ups += u64::from(at != Some(here));
            at = Some(here);
        }
    }
    let people_min = works + bars * u64::from(scheme.barring.people);
    rest.cost = Cost { elapsed_min, moves: rest.moves.len() as u64, set_ups, people_min };
    let bound_min = old.bound.elapsed_min.min(elapsed_min);
    rest.bound = Cost { elapsed_min: bound_min, ..Cost::default() };
    rest.optimal = false;
    crate::audit(scheme, progress, &rest).is_empty().then_some(rest)
}

fn changes(scheme: &Scheme, progress: &Progress, old: &Plan, new: &Plan) -> Vec<Change> {
    let explainer = Explainer { scheme, progress, plan: new };
    let over = |w: WorkId| progress.done.iter().chain(&progress.running).any(|s| s.work == w);
    let old_place = |w: WorkId| old.steps.iter().position(|s| s.work == w);
    let places: Vec<(WorkId, usize)> =
        new.steps.iter().filter_map(|s| old_place(s.work).map(|p| (s.work, p))).collect();
    let in_run = longest_run(&places);
    let mut turned = Vec::new();
    let mut moved = Vec::new();
    for s in &new.steps {
        let Some(before) = old.step(s.work) else {
            let needed_by = new.steps.iter().find(|o| {
                let ties = scheme.way(o.work, o.way).map(|y| y.after.as_slice()).unwrap_or(&[]);
                let work = scheme.work(o.work).map(|w| w.after.as_slice()).unwrap_or(&[]);
                ties.iter().chain(work).any(|b| b.work == s.work)
            });
            let why = needed_by.map_or("it has come to the plan".to_string(), |o| {
                format!("needed before {}", scheme.tag(o.work))
            });
            turned.push(Change { work: s.work, turned: Turned::New, why });
            continue;
        };
        if before.way != s.way {
            let why = if progress.stuck.contains(&(s.work, before.way)) {
                format!("{} will not go", title(scheme, s.work, before.way))
            } else {
                "saves more than the change costs".into()
            };
            let turn = Turned::Way { from: before.way, to: s.way };
            turned.push(Change { work: s.work, turned: turn, why });
        }
        if !in_run.contains(&s.work) {
            let why = words(scheme, &explainer.cause(s.work));
            turned.push(Change { work: s.work, turned: Turned::Order, why });
        } else if before.start_min != s.start_min {
            let late = s.start_min.saturating_sub(before.start_min);
            let soon = before.start_min.saturating_sub(s.start_min);
            let turn = if late > 0 { Turned::Later(late) } else { Turned::Sooner(soon) };
            let why = words(scheme, &explainer.cause(s.work));
            moved.push(Change { work: s.work, turned: turn, why });
        }
    }
    for s in &old.steps {
        if new.step(s.work).is_none() && !over(s.work) {
            let why = if progress.dropped.contains(&s.work) {
                "no longer wanted".into()
            } else {
                "nothing in the plan needs it any more".to_string()
            };
            turned.push(Change { work: s.work, turned: Turned::Left, why });
        }
    }
    turned.extend(moved);
    turned
}

fn title(scheme: &Scheme, work: WorkId, way: usize) -> &str {
    scheme.way(work, way).map_or("the way before", |y| y.title.as_str())
}

/// Works of the longest run whose old places rise.
fn longest_run(places: &[(WorkId, usize)]) -> Vec<WorkId> {
    let mut tops: Vec<usize> = Vec::new();
    let mut back: Vec<Option<usize>> = vec![None; places.len()];
    for i in 0..places.len() {
        let at = tops.partition_point(|t| places[*t].1 < places[i].1);
        back[i] = at.checked_sub(1).map(|b| tops[b]);
        if at == tops.len() { tops.push(i) } else { tops[at] = i }
    }
    let mut run = Vec::new();
    let mut at = tops.last().copied();
    while let Some(i) = at {
        run.push(places[i].0);
        at = back[i];
    }
    run
}

/// A cause in words.
pub(crate) fn words(scheme: &Scheme, cause: &Cause) -> String {
    let tags =
        |works: &[WorkId]| works.iter().map(|w| scheme.tag(*w)).collect::<Vec<_>>().join(", ");
    match cause {
        Cause::Now => "it can begin now".into(),
        Cause::After(l) => format!("{} must end first ({})", scheme.tag(l.earlier), l.reason),
        Cause::Barring => "the engine is barred first".into(),
        Cause::People(w) => format!("the people are at {}", tags(w)),
        Cause::Kit(kit, w) => {
            let name = scheme.kits.get(kit.0).map_or("the kit", |k| k.name.as_str());
            if w.is_empty() {
                format!("{name} is not there before")
            } else {
                format!("{name} is at {}", tags(w))
            }
        }
        Cause::Place(w) if w.is_empty() => "the place is shut before".into(),
        Cause::Place(w) => format!("the place is taken or kept clear by {}", tags(w)),
        Cause::Morning => "it waits for the morning".into(),
        Cause::Free => "it fits there as well as anywhere".into(),
    }
}
