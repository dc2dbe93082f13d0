//! What comes out: steps, moves, cost and bound; and what is already true when planning begins.

use crate::faults::Fault;
use crate::scheme::WorkId;

/// One work in a plan, in working minutes (see [`Calendar`](crate::Calendar)).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Step {
    /// Which work.
    pub work: WorkId,
    /// Which of its ways.
    pub way: usize,
    /// When it begins.
    pub start_min: u64,
    /// When it ends.
    pub end_min: u64,
}

/// One barring of the engine.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Move {
    /// Crank angle before, radians.
    pub from_rad: f64,
    /// Crank angle after, radians.
    pub to_rad: f64,
    /// When it begins.
    pub start_min: u64,
    /// When it ends.
    pub end_min: u64,
}

/// What a plan costs, in the order in which it counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Cost {
    /// Working minutes from the calendar's start to the end of the last work.
    pub elapsed_min: u64,
    /// How often the engine is moved.
    pub moves: u64,
    /// How often the crane (any kit whose set-ups are counted) is set up.
    pub set_ups: u64,
    /// People times minutes, works and moves.
    pub people_min: u64,
}

/// What the parts of the cost weigh in [`Objective::Weighted`].
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Weights {
    /// A minute of elapsed time.
    pub elapsed_min: u32,
    /// A move of the engine.
    pub moves: u32,
    /// A set-up of the crane.
    pub set_ups: u32,
    /// A person for a minute.
    pub people_min: u32,
}

/// What is to be small.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Objective {
    /// Elapsed minutes; of plans alike in that, moves; then set-ups; then people-minutes.
    #[default]
    InOrder,
    /// The weighted sum.
    Weighted(Weights),
}

impl Objective {
    /// One number that orders costs; smaller is better. Larger parts never give a smaller number.
    #[must_use]
    pub fn rank(&self, cost: &Cost) -> u128 {
        match self {
            Self::InOrder => {
                // Four fields of 32 bits; a part that does not fit is held at the top of its field.
                let field = |v: u64| u128::from(v.min(u64::from(u32::MAX)));
                field(cost.elapsed_min) << 96
                    | field(cost.moves) << 64
                    | field(cost.set_ups) << 32
                    | field(cost.people_min)
            }
            Self::Weighted(w) => {
                let part = |weight: u32, v: u64| u128::from(weight) * u128::from(v);
                part(w.elapsed_min, cost.elapsed_min)
                    + part(w.moves, cost.moves)
                    + part(w.set_ups, cost.set_ups)
                    + part(w.people_min, cost.people_min)
            }
        }
    }
}

/// An order, the ways, where the engine stands, and how good that is.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// The works still to do, by start.
    pub steps: Vec<Step>,
    /// The moves of the engine, by start.
    pub moves: Vec<Move>,
    /// What it costs.
    pub cost: Cost,
    /// No plan of this scheme costs less than this in any part.
    pub bound: Cost,
    /// What was made small.
    pub objective: Objective,
    /// Proven: no plan ranks better under the objective.
    pub optimal: bool,
    /// Steps the search took.
    pub steps_searched: u64,
}

impl Plan {
    /// How far, at most, the plan is above the best there can be, as a part of its own cost:
    /// (cost - bound) / cost. In elapsed minutes for [`Objective::InOrder`], in the weighted sum
    /// else; 0 when proven optimal.
    #[must_use]
    pub fn gap(&self) -> f64 {
        let (cost, bound) = match self.objective {
            _ if self.optimal => return 0.0,
            Objective::InOrder => (self.cost.elapsed_min as f64, self.bound.elapsed_min as f64),
            Objective::Weighted(_) => {
                let rank = |c: &Cost| self.objective.rank(c) as f64;
                (rank(&self.cost), rank(&self.bound))
            }
        };
        if cost > 0.0 { ((cost - bound) / cost).max(0.0) } else { 0.0 }
    }

    /// The step of a work.
    #[must_use]
    pub fn step(&self, work: WorkId) -> Option<&Step> {
        self.steps.iter().find(|s| s.work == work)
    }

    /// Crank angle at a working minute; during a move, where it began.
    #[must_use]
    pub fn stands_rad(&self, at_start_rad: f64, working_min: u64) -> f64 {
        let last = self.moves.iter().rev().find(|m| m.end_min <= working_min);
        last.map_or(at_start_rad, |m| m.to_rad)
    }
}

/// What is already true: planning goes on from there.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Progress {
    /// Working minute that it is now.
    pub now_min: u64,
    /// Works done, with the way and the times as they were.
    pub done: Vec<Step>,
    /// Works begun and expected to end at their `end_min`, after now.
    pub running: Vec<Step>,
    /// Ways that will not go.
    pub stuck: Vec<(WorkId, usize)>,
    /// Where the engine stands now, if other than the scheme's start, radians.
    pub stands_rad: Option<f64>,
    /// A move under way: it ends then, at that angle in `stands_rad`.
    pub moving_until_min: Option<u64>,
    /// Works that are no longer wanted (the part went with another).
    pub dropped: Vec<WorkId>,
}

/// Why there is no plan.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum Refused {
    /// The scheme contradicts itself or cannot be done; each fault is named.
    #[error("the scheme has {} fault(s); first: {}", .0.len(), .0.first().map_or(String::new(), ToString::to_string))]
    Faults(Vec<Fault>),
    /// The calendar ends before the work does.
    #[error(
        "no plan found within the {calendar_min} working minutes of the calendar; at least {needed_min} are needed for what was planned or proven; add days"
    )]
    NotInCalendar {
        /// Working minutes there are.
        calendar_min: u64,
        /// Working minutes proven to be needed.
        needed_min: u64,
    },
    /// The search met a dead end at every try: something hangs and what frees it cannot be done.
    #[error(
        "no order found: {work} cannot be reached with any way tried ({why}); more steps may find one"
    )]
    DeadEnd {
        /// Tag of a work that could not be placed.
        work: String,
        /// What stopped it.
        why: String,
    },
    /// Stopped before any plan was found.
    #[error("stopped before a first plan was found")]
    Stopped,
    /// A work or way named is not in the scheme.
    #[error("work {0} or the way named for it is not in the scheme")]
    NotThere(usize),
}
