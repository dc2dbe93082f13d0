//! Planning a stage, and mending the plan there was.

use super::kept::{Kept, fingerprint};
use super::model::{Moment, Stage};
use super::no_plan::NoPlan;
use super::scheme::{Assembled, assemble, progress, target};
use crate::judge::Judgement;
use sequence::{
    Change, Cost, Plan, Progress, RepairOptions, SearchOptions, Targets, Watch, WayOut, carry_on,
    inspect, repair, solve_watched,
};

/// What to plan.
#[derive(Clone, Debug, PartialEq)]
pub struct Ask {
    /// Strip or build.
    pub stage: Stage,
    /// Only as far as this work, part or joint.
    pub only_to: Option<String>,
    /// Seed of the search.
    pub seed: u64,
    /// Plans tried.
    pub steps: u64,
    /// Make a new plan from nothing even where there is one.
    pub afresh: bool,
    /// Not before this.
    pub now: Option<Moment>,
}

impl Ask {
    /// All of a stage, with the usual search.
    #[must_use]
    pub fn of(stage: Stage) -> Ask {
        Ask { stage, only_to: None, seed: 1, steps: 20_000, afresh: false, now: None }
    }
}

/// A plan with what it belongs to.
#[derive(Clone, Debug)]
pub struct Planned {
    /// The scheme, with the target in it.
    pub assembled: Assembled,
    /// What has been done.
    pub progress: Progress,
    /// What is still to do.
    pub plan: Plan,
    /// What is otherwise than in the plan before, and why.
    pub changes: Vec<Change>,
    /// What it would have cost to keep the old order throughout, after a change.
    pub kept_order: Option<Cost>,
    /// Ways that can never be done.
    pub ways_out: Vec<WayOut>,
    /// For storing.
    pub kept: Kept,
}

/// Plans a stage.
///
/// With a plan from before (`last`), that is taken up: as it is where nothing has changed, mended
/// around what has happened where something has, and made anew only where the works themselves
/// are described otherwise and nothing has been done yet.
///
/// # Errors
/// See [`NoPlan`].
pub fn plan(
    judgement: &Judgement,
    ask: &Ask,
    last: Option<&Kept>,
    watch: &Watch<'_>,
) -> Result<Planned, NoPlan> {
    let engine = judgement.engine();
    let mut assembled = assemble(judgement, ask.stage)?;
    if let Some(name) = &ask.only_to {
        assembled.scheme.targets = target(engine, &assembled, name)?;
    }
    let mut now = progress(judgement, &assembled, ask.now)?;
    let records = engine.works.progress.len();
    let search =
        SearchOptions { seed: ask.seed, steps: ask.steps, threads: 2, ..SearchOptions::default() };
    let no = |e, a: &Assembled| NoPlan::of(e, &a.scheme);
    let ways_out = inspect(&assembled.scheme).ways_out;
    let print = fingerprint(&assembled);
    let last = last.filter(|l| l.only_to == ask.only_to && l.seed == ask.seed && !ask.afresh);
    let mut changes = Vec::new();
    let mut kept_order = None;
    let plan = match last {
        Some(l) if l.scheme == print && l.records == records && ask.now.is_none() => {
            let mut rest = l.plan(engine, &assembled);
            under_way(&mut now, &assembled, &rest);
            rest.steps.retain(|s| !now.running.contains(s));
            rest
        }
        Some(l) if l.scheme == print || !nothing_yet(&now) => {
            let old = l.plan(engine, &assembled);
            under_way(&mut now, &assembled, &old);
            if let Some(rest) = carry_on(&assembled.scheme, &now, &old) {
                return Ok(finished(engine, ask, records, assembled, now, rest, ways_out));
            }
            let mended = repair(&assembled.scheme, &now, &old, &RepairOptions::default())
                .map_err(|e| no(e, &assembled))?;
            (changes, kept_order) = (mended.changes, mended.kept);
            mended.plan
        }
        _ if nothing_yet(&now) || ask.afresh => {
            solve_watched(&assembled.scheme, &now, &search, watch).map_err(|e| no(e, &assembled))?
        }
        // Nothing was kept: the plan from nothing, mended once around what has happened since.
        _ => {
            let first = solve_watched(&assembled.scheme, &Progress::default(), &search, watch)
                .map_err(|e| no(e, &assembled))?;
            under_way(&mut now, &assembled, &first);
            if let Some(rest) = carry_on(&assembled.scheme, &now, &first) {
                return Ok(finished(engine, ask, records, assembled, now, rest, ways_out));
            }
            let mended = repair(&assembled.scheme, &now, &first, &RepairOptions::default())
                .map_err(|e| no(e, &assembled))?;
            (changes, kept_order) = (mended.changes, mended.kept);
            mended.plan
        }
    };
    let kept = keep(engine, ask, records, &assembled, &now, &plan);
    Ok(Planned { assembled, progress: now, plan, changes, kept_order, ways_out, kept })
}

/// A plan for storing, with what is under way: the next command must know of it.
fn keep(
    engine: &crate::model::Engine,
    ask: &Ask,
    records: usize,
    assembled: &Assembled,
    now: &Progress,
    plan: &Plan,
) -> Kept {
    let mut whole = plan.clone();
    whole.steps.extend(now.running.iter().copied());
    whole.steps.sort_by_key(|s| (s.start_min, s.end_min, s.work));
    Kept::of(engine, assembled, &whole, (ask.seed, ask.only_to.clone(), records))
}

/// What is planned to be under way is taken as under way: nobody records that they have begun.
fn under_way(now: &mut Progress, assembled: &Assembled, old: &Plan) {
    let known = |p: &Progress, w| p.done.iter().chain(&p.running).any(|s| s.work == w);
    let running: Vec<sequence::Step> = old
        .steps
        .iter()
        .filter(|s| s.start_min < now.now_min && s.end_min > now.now_min)
        .filter(|s| !known(now, s.work) && !now.stuck.contains(&(s.work, s.way)))
        .filter(|s| {
            let work = assembled.scheme.work(s.work).map_or(&[][..], |w| &w.after);
            let way = assembled.scheme.way(s.work, s.way).map_or(&[][..], |w| &w.after);
            work.iter().chain(way).all(|b| now.done.iter().any(|d| d.work == b.work))
        })
        .copied()
        .collect();
    // A move under way is not: who records something stands still.
    now.running.extend(running);
}

fn finished(
    engine: &crate::model::Engine,
    ask: &Ask,
    records: usize,
    assembled: Assembled,
    progress: Progress,
    plan: Plan,
    ways_out: Vec<WayOut>,
) -> Planned {
    let kept = keep(engine, ask, records, &assembled, &progress, &plan);
    let (changes, kept_order) = (Vec::new(), None);
    Planned { assembled, progress, plan, changes, kept_order, ways_out, kept }
}

fn nothing_yet(p: &Progress) -> bool {
    p.now_min == 0 && p.done.is_empty() && p.stuck.is_empty() && p.stands_rad.is_none()
}

impl Planned {
    /// Works that the plan has, done ones left out.
    pub fn works_planned(&self) -> usize {
        self.plan.steps.len()
    }

    /// Whether everything in the stage is planned for.
    pub fn is_whole(&self) -> bool {
        self.assembled.scheme.targets == Targets::All
    }
}
