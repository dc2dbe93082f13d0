//! The planner: first plans by rules, then improved, small ones proved; always with a bound.

mod board;
mod bound;
mod change;
mod decode;
mod exact;
mod improve;
mod measure;
mod random;
mod settle;
mod spans;
mod ties;

use crate::faults::inspect;
use crate::net::Net;
use crate::plan::{Cost, Move, Objective, Plan, Progress, Refused, Step};
use crate::scheme::{Scheme, WorkId};
use board::Board;
use std::sync::atomic::{AtomicBool, Ordering};

/// How to search.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SearchOptions {
    /// What is to be small.
    pub objective: Objective,
    /// Seed of the random choices.
    pub seed: u64,
    /// Plans tried for improvement, by each thread.
    pub steps: u64,
    /// Threads, 1 or more; each searches by itself with its own seed, and the best is taken.
    pub threads: usize,
    /// Partial plans looked at when proving; 0 leaves the proof out.
    pub exact_steps: u64,
    /// The search ends when the gap is this small (0: only when proven).
    pub enough_gap: f64,
}

impl Default for SearchOptions {
    fn default() -> Self {
        let objective = Objective::InOrder;
        Self { objective, seed: 1, steps: 4000, threads: 1, exact_steps: 400_000, enough_gap: 0.0 }
    }
}

/// How the search stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct News {
    /// Plans tried so far by the thread that tells.
    pub steps: u64,
    /// Best cost so far of that thread.
    pub cost: Cost,
    /// Proven bound.
    pub bound: Cost,
}

/// Watching and stopping a search. The caller brings the clock: stop when the time is up.
pub struct Watch<'a> {
    /// Told now and then, and at each improvement.
    pub news: &'a (dyn Fn(&News) + Sync),
    /// When set, the search ends and hands back the best plan so far.
    pub stop: &'a AtomicBool,
}

impl Watch<'_> {
    fn stopped(&self) -> bool {
        self.stop.load(Ordering::Relaxed)
    }
}

/// Finds a plan. See [`solve_watched`].
///
/// # Errors
/// As [`solve_watched`].
pub fn solve(
    scheme: &Scheme,
    progress: &Progress,
    options: &SearchOptions,
) -> Result<Plan, Refused> {
    let stop = AtomicBool::new(false);
    solve_watched(scheme, progress, options, &Watch { news: &|_| {}, stop: &stop })
}

/// Finds a plan, telling how it goes and stopping when asked; the best plan so far is kept.
///
/// Method: priority lists turned into plans by serial schedule generation (Kelley 1963; Kolisch
/// 1996), improved by moving works and groups of works in the list and changing ways, by annealing
/// (Kirkpatrick, Gelatt and Vecchi 1983) cooled again and again, with double justification (Valls,
/// Ballestín and Quintanilla 2005); few works are searched exhaustively. The years are from memory.
///
/// # Errors
/// [`Refused::Faults`] when the scheme cannot be done, [`Refused::NotInCalendar`] or
/// [`Refused::DeadEnd`] when no plan was found, [`Refused::Stopped`] when stopped before the first.
pub fn solve_watched(
    scheme: &Scheme,
    progress: &Progress,
    options: &SearchOptions,
    watch: &Watch<'_>,
) -> Result<Plan, Refused> {
    solve_from(scheme, progress, options, watch, None)
}

/// A plan to start from: an order of works and ways, and what leaving it costs.
pub(crate) struct Old<'a> {
    pub(crate) steps: &'a [Step],
    /// Only decode, do not search.
    pub(crate) keep: bool,
    /// Minutes that each changed work must save to be worth changing.
    pub(crate) minutes_a_change: u64,
}

pub(crate) fn solve_from(
    scheme: &Scheme,
    progress: &Progress,
    options: &SearchOptions,
    watch: &Watch<'_>,
    old: Option<&Old<'_>>,
) -> Result<Plan, Refused> {
    Ready::new(scheme, progress)?.solve(options, watch, old)
}

/// A scheme and what is true now, made ready for searching, more than once if need be.
pub(crate) struct Ready<'a> {
    scheme: &'a Scheme,
    progress: &'a Progress,
    net: Net,
    heads: bound::Heads,
}

impl<'a> Ready<'a> {
    pub(crate) fn new(scheme: &'a Scheme, progress: &'a Progress) -> Result<Self, Refused> {
        let findings = inspect(scheme);
        if !findings.faults.is_empty() {
            return Err(Refused::Faults(findings.faults));
        }
        let net = Net::new(scheme, progress, &findings.ways_out)?;
        if let Some(refused) = no_way_left(scheme, &net) {
            return Err(refused);
        }
        let heads = bound::Heads::new(&net);
        Ok(Self { scheme, progress, net, heads })
    }

    /// Works still to do in every plan.
    pub(crate) fn works_left(&self) -> usize {
        self.heads.certain.iter().filter(|c| **c).count()
    }

    pub(crate) fn solve(
        &self,
        options: &SearchOptions,
        watch: &Watch<'_>,
        old: Option<&Old<'_>>,
    ) -> Result<Plan, Refused> {
        let Self { scheme, progress, net, heads } = self;
        let bound = heads.bound;
        let mut best = improve::search(scheme, net, heads, &bound, options, watch, old)?;
        let rank = |c: &Cost| options.objective.rank(c);
        let mut optimal = rank(&best.cost()) == rank(&bound);
        let keep = old.is_some_and(|o| o.keep);
        if !optimal && options.exact_steps > 0 && !keep && !watch.stopped() {
            let proof = exact::prove(net, heads, &bound, options, watch, &best);
            optimal = proof.done;
            if let Some(better) = proof.better {
                best = better;
            }
        }
        let bound = if optimal { proven(&best.cost(), &bound, options.objective) } else { bound };
        Ok(written(scheme, net, &best, bound, options.objective, optimal, progress))
    }
}

/// The bound once the plan is proven: in order, elapsed time is; other parts only keep theirs.
fn proven(cost: &Cost, bound: &Cost, objective: Objective) -> Cost {
    match objective {
        Objective::InOrder => Cost { elapsed_min: cost.elapsed_min, ..*bound },
        Objective::Weighted(_) => *bound,
    }
}

fn no_way_left(scheme: &Scheme, net: &Net) -> Option<Refused> {
    let first: Vec<u16> = net.choices.iter().map(|c| c.first().copied().unwrap_or(0)).collect();
    let mut active = Vec::new();
    net.active(&first, &mut active);
    let gone = (0..active.len()).find(|w| active[*w] && net.choices[*w].is_empty())?;
    // Another way of a later work may not need it; only certain needs are refused here.
    ties::certain(net)[gone].then(|| Refused::DeadEnd {
        work: scheme.works[gone].tag.clone(),
        why: "every way of it is stuck or cannot be done".into(),
    })
}

/// A finished search, in ticks.
#[derive(Clone)]
pub(crate) struct Found {
    pub(crate) board: Board,
    pub(crate) ways: Vec<u16>,
    pub(crate) tick_min: u64,
    pub(crate) tried: u64,
}

impl Found {
    pub(crate) fn cost(&self) -> Cost {
        self.board.cost(self.tick_min)
    }
}

fn written(
    scheme: &Scheme,
    net: &Net,
    found: &Found,
    bound: Cost,
    objective: Objective,
    optimal: bool,
    progress: &Progress,
) -> Plan {
    let tick = net.tick_min;
    let mut steps: Vec<Step> = found
        .board
        .placed()
        .map(|w| {
            let way = found.ways[w] as usize;
            let start_min = found.board.start[w] as u64 * tick;
            let end_min = start_min + u64::from(scheme.works[w].ways[way].minutes);
            Step { work: WorkId(w), way, start_min, end_min }
        })
        .collect();
    steps.sort_by_key(|s| (s.start_min, s.end_min, s.work));
    let angle = |s: usize| net.angles_rad[s];
    let stays = &found.board.stays;
    let moves = stays
        .windows(2)
        .map(|pair| Move {
            from_rad: match pair[0].station {
                0 => progress.stands_rad.unwrap_or(scheme.stands_rad),
                s => angle(s),
            },
            to_rad: angle(pair[1].station),
            start_min: (pair[1].from - net.bar(pair[0].station, pair[1].station)) as u64 * tick,
            end_min: pair[1].from as u64 * tick,
        })
        .collect();
    Plan {
        steps,
        moves,
        cost: found.cost(),
        bound,
        objective,
        optimal,
        steps_searched: found.tried,
    }
}
