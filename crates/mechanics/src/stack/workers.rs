//! How a simulation is shared out among threads without its result knowing.

use std::num::NonZeroUsize;
use std::sync::atomic::{AtomicU64, Ordering};

use super::StackError;
use super::block::{BLOCK, UNIT_BLOCKS};
use super::chain::Range;
use super::error::in_range;
use super::tally::{Departures, Histogram, Moments};

/// How to run a simulation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Simulation {
    /// Number of draws, 1000 to 10¹².
    pub draws: u64,
    /// Seed; the same seed gives the same result.
    pub seed: u64,
    /// Threads to share the work; at most 256 are used. The result does not depend on it.
    pub threads: NonZeroUsize,
    /// Least value that counts as inside, if any.
    pub min: Option<f64>,
    /// Greatest value that counts as inside, if any.
    pub max: Option<f64>,
}

impl Simulation {
    /// On one thread, with no limits.
    pub fn new(draws: u64, seed: u64) -> Self {
        Self { draws, seed, threads: NonZeroUsize::MIN, min: None, max: None }
    }

    pub(super) fn check(&self) -> Result<(), StackError> {
        in_range("number of draws", self.draws as f64, 1e3, 1e12)?;
        for limit in [self.min, self.max].into_iter().flatten() {
            in_range("limit", limit, -f64::MAX, f64::MAX)?;
        }
        match (self.min, self.max) {
            (Some(low), Some(high)) if low > high => {
                Err(StackError::Crossed { what: "limits", low, high })
            }
            _ => Ok(()),
        }
    }

    /// The limits as departures from a reference value.
    pub(super) fn departures(&self, reference: f64) -> Departures {
        Departures {
            min: self.min.map_or(f64::NEG_INFINITY, |min| min - reference),
            max: self.max.map_or(f64::INFINITY, |max| max - reference),
        }
    }

    pub(super) fn limits(&self) -> Option<Range> {
        (self.min.is_some() || self.max.is_some()).then(|| Range {
            low: self.min.unwrap_or(f64::NEG_INFINITY),
            high: self.max.unwrap_or(f64::INFINITY),
        })
    }
}

/// Draws in a unit of work.
const UNIT_DRAWS: u64 = BLOCK as u64 * UNIT_BLOCKS;
/// Groups of units; each group's sums are kept until the end, so this bounds the memory.
const GROUPS: u64 = 256;
const MOST_THREADS: usize = 256;

/// Sums of one group beside its moments, added in group order.
pub(super) trait Extra: Send {
    fn merge(&mut self, later: Self);
}

impl Extra for () {
    fn merge(&mut self, (): Self) {}
}

/// Everything that comes out of the shared work.
pub(super) struct Gathered<E> {
    pub(super) moments: Moments,
    pub(super) histogram: Histogram,
    pub(super) extra: E,
}

/// Runs `unit(number, draws, histogram) -> (moments, extra)` for every unit of work and merges the
/// results.
///
/// Units are numbered and have their own random streams; a fixed number of them in a row make a
/// group, summed in order by one worker; groups are merged in order at the end, and histograms,
/// being counts on a common grid, in any order. So which worker did what leaves no trace.
pub(super) fn share_out<E: Extra>(
    simulation: &Simulation,
    first_width: f64,
    unit: impl Fn(u64, u64, &mut Histogram) -> (Moments, E) + Sync,
) -> Result<Gathered<E>, StackError> {
    let units = simulation.draws.div_ceil(UNIT_DRAWS);
    let per_group = units.div_ceil(GROUPS);
    let groups = units.div_ceil(per_group);
    let next = AtomicU64::new(0);
    let work = || {
        let mut histogram = Histogram::new(first_width);
        let mut done = Vec::new();
        loop {
            let group = next.fetch_add(1, Ordering::Relaxed);
            if group >= groups {
                return (histogram, done);
            }
            let mut sums: Option<(Moments, E)> = None;
            for number in group * per_group..units.min((group + 1) * per_group) {
                let draws = UNIT_DRAWS.min(simulation.draws - number * UNIT_DRAWS);
                let (moments, extra) = unit(number, draws, &mut histogram);
                sums = Some(match sums {
                    None => (moments, extra),
                    Some((m, mut e)) => {
                        e.merge(extra);
                        (m.merge(moments), e)
                    }
                });
            }
            done.extend(sums.map(|s| (group, s)));
        }
    };
    let helpers = (simulation.threads.get().min(MOST_THREADS) as u64).min(groups) - 1;
    let (histogram, mut done) = std::thread::scope(|scope| {
        // A thread that cannot be started is done without: the others take its share.
        let started: Vec<_> = (0..helpers)
            .filter_map(|_| std::thread::Builder::new().spawn_scoped(scope, work).ok())
            .collect();
        let (mut histogram, mut done) = work();
        for helper in started {
            let (theirs, list) = helper.join().map_err(|_| StackError::WorkerLost)?;
            histogram.merge(&theirs);
            done.extend(list);
        }
        Ok::<_, StackError>((histogram, done))
    })?;
    done.sort_by_key(|(group, _)| *group);
    let mut total: Option<(Moments, E)> = None;
    for (_, (moments, extra)) in done {
        total = Some(match total {
            None => (moments, extra),
            Some((m, mut e)) => {
                e.merge(extra);
                (m.merge(moments), e)
            }
        });
    }
    let (moments, extra) = total.ok_or(StackError::Empty)?;
    Ok(Gathered { moments, histogram, extra })
}
