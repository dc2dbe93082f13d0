//! Several jobs, one engine: windows they have in common, or the fewest places to stop at.

use super::{Arc, Arcs, MotionError};

/// A job and the wheel angles at which it can be reached.
#[derive(Debug, Clone, PartialEq)]
pub struct Job {
    /// What it is called.
    pub name: String,
    /// Windows of the wheel angle, from [`Barring::wheel_windows`](super::Barring::wheel_windows).
    pub windows: Arcs,
}

/// One place to stop at.
#[derive(Debug, Clone, PartialEq)]
pub struct Stop {
    /// Wheel angles at which all its jobs can be reached.
    pub window: Arc,
    /// Numbers of the jobs done there, in the order given.
    pub jobs: Vec<usize>,
}

/// Places to stop at so that every job that has a window is reached once.
#[derive(Debug, Clone, PartialEq)]
pub struct StopPlan {
    /// The stops in forward order from where the engine stands.
    pub stops: Vec<Stop>,
    /// Jobs without any window.
    pub unreachable: Vec<usize>,
}

/// Most jobs that are looked at together: one bit each.
const JOB_LIMIT: usize = 64;
/// Most steps of the search for the fewest stops; far above what 64 windowed jobs need.
const SEARCH_LIMIT: usize = 5_000_000;

/// Windows in which every job can be reached; never when they have none in common.
pub fn common_window(jobs: &[Job]) -> Arcs {
    jobs.iter().fold(Arcs::always(), |common, job| common.and(&job.windows))
}

/// Fewest stops that reach every job, in forward order from a wheel angle.
///
/// Between two neighbouring ends of windows the set of jobs that can be reached does not change,
/// so only those pieces of the turn matter; the fewest that cover all jobs are searched for by
/// increasing number (exact). Own derivation. Of plans with equally few stops the one found first
/// from the starting angle is given.
///
/// # Errors
/// No job, more than 64, or (not seen yet) a search that grows past five million steps.
pub fn stop_plan(jobs: &[Job], start_rad: f64) -> Result<StopPlan, MotionError> {
    let count = |what, count, low, high| MotionError::Count { what, count, low, high };
    if jobs.is_empty() || JOB_LIMIT < jobs.len() {
        return Err(count("jobs to be reached", jobs.len(), 1, JOB_LIMIT));
    }
    if !start_rad.is_finite() {
        return Err(super::BoundError::NotFinite {
            what: "starting angle",
            value: start_rad,
            unit: "rad",
        }
        .into());
    }
    let unreachable: Vec<usize> = (0..jobs.len()).filter(|i| jobs[*i].windows.is_never()).collect();
    let wanted =
        (0..jobs.len()).filter(|i| !unreachable.contains(i)).fold(0_u64, |mask, i| mask | 1 << i);
    let pieces = pieces(jobs, start_rad);
    let mut search = Search { masks: &pieces, chosen: Vec::new(), steps: 0 };
    for stops in 0..=jobs.len() {
        if search.cover(wanted, stops) {
            return Ok(StopPlan {
                stops: stops_of(jobs, &search.chosen, wanted, start_rad),
                unreachable,
            });
        }
        if SEARCH_LIMIT <= search.steps {
            break;
        }
    }
    Err(count("steps of the search for the fewest stops", search.steps, 0, SEARCH_LIMIT))
}

/// Sets of jobs reachable together, as seen going forward from the start, largest sets only.
fn pieces(jobs: &[Job], start_rad: f64) -> Vec<u64> {
    let ahead = |angle: f64| super::angle::fold_turn(angle - start_rad);
    let mut cuts: Vec<f64> = jobs
        .iter()
        .flat_map(|j| j.windows.windows())
        .flat_map(|a| [ahead(a.from_rad), ahead(a.to_rad())])
        .chain([0.0, std::f64::consts::TAU])
        .collect();
    cuts.sort_by(f64::total_cmp);
    let mut masks: Vec<u64> = Vec::new();
    for pair in cuts.windows(2) {
        if pair[1] - pair[0] < 1e-9 {
            continue;
        }
        let middle = start_rad + 0.5 * (pair[0] + pair[1]);
        let mask = jobs
            .iter()
            .enumerate()
            .filter(|(_, j)| j.windows.contains(middle))
            .fold(0_u64, |m, (i, _)| m | 1 << i);
        if mask != 0 && !masks.contains(&mask) {
            masks.push(mask);
        }
    }
    let all = masks.clone();
    masks.retain(|m| !all.iter().any(|other| other != m && other & m == *m));
    masks
}

struct Search<'a> {
    masks: &'a [u64],
    chosen: Vec<u64>,
    steps: usize,
}

impl Search<'_> {
    fn cover(&mut self, wanted: u64, stops: usize) -> bool {
        if wanted == 0 {
            return true;
        }
        if stops == 0 || SEARCH_LIMIT <= self.steps {
            return false;
        }
        // The job with the fewest pieces must be in one of them: branch on that one.
        let choices = |job: u64| self.masks.iter().filter(|m| *m & job != 0).count();
        let jobs = (0..JOB_LIMIT).map(|i| 1_u64 << i).filter(|j| wanted & j != 0);
        let Some(hardest) = jobs.min_by_key(|j| choices(*j)) else { return false };
        for mask in self.masks {
            if mask & hardest == 0 {
                continue;
            }
            self.steps += 1;
            self.chosen.push(*mask);
            if self.cover(wanted & !mask, stops - 1) {
                return true;
            }
            self.chosen.pop();
        }
        false
    }
}

fn stops_of(jobs: &[Job], chosen: &[u64], wanted: u64, start_rad: f64) -> Vec<Stop> {
    let mut left = wanted;
    let mut stops: Vec<Stop> = Vec::new();
    for mask in chosen {
        let done = mask & left;
        left &= !mask;
        let numbers: Vec<usize> = (0..jobs.len()).filter(|i| done >> i & 1 == 1).collect();
        // Only the jobs really done here narrow the window.
        let window = numbers
            .iter()
            .fold(Arcs::always(), |w, i| w.and(&jobs[*i].windows))
            .next_forward(start_rad)
            .map(|(_, arc)| arc);
        if let Some(window) = window {
            stops.push(Stop { window, jobs: numbers });
        }
    }
    let ahead = |s: &Stop| {
        if s.window.contains(start_rad) {
            0.0
        } else {
            super::angle::fold_turn(s.window.from_rad - start_rad)
        }
    };
    stops.sort_by(|a, b| ahead(a).total_cmp(&ahead(b)));
    stops
}

#[cfg(test)]
mod tests {
    use super::*;
    use rand::{RngExt, SeedableRng};

    fn job(windows: &[(f64, f64)]) -> Job {
        Job { name: String::new(), windows: Arcs::from_to(windows).unwrap() }
    }

    #[test]
    fn one_stop_where_one_is_enough() -> Result<(), MotionError> {
        let jobs = [job(&[(6.0, 1.0)]), job(&[(0.5, 2.0)]), job(&[(0.8, 0.9), (3.0, 4.0)])];
        let common = common_window(&jobs);
        assert_eq!(common.windows().len(), 1);
        assert!((common.windows()[0].from_rad - 0.8).abs() < 1e-12);
        let plan = stop_plan(&jobs, 3.5)?;
        assert_eq!(plan.stops.len(), 1);
        assert_eq!(plan.stops[0].jobs, [0, 1, 2]);
        Ok(())
    }

    #[test]
    fn a_job_without_a_window_is_said_so() -> Result<(), MotionError> {
        let never = Job { name: "x".into(), windows: Arcs::never() };
        let jobs = [job(&[(1.0, 1.2)]), never, job(&[(2.0, 2.2)])];
        assert!(common_window(&jobs).is_never());
        let plan = stop_plan(&jobs, 1.5)?;
        assert_eq!(plan.unreachable, [1]);
        // Forward from 1.5 rad the third job comes first.
        assert_eq!(plan.stops[0].jobs, [2]);
        assert_eq!(plan.stops[1].jobs, [0]);
        assert!(stop_plan(&[], 0.0).is_err());
        assert!(stop_plan(&jobs, f64::NAN).is_err());
        Ok(())
    }

    /// Against trying every choice of piece for every number of stops.
    #[test]
    fn no_plan_with_fewer_stops_exists() -> Result<(), MotionError> {
        let mut rng = rand_xoshiro::Xoshiro256PlusPlus::seed_from_u64(3);
        for _ in 0..200 {
            let jobs: Vec<Job> = (0..6)
                .map(|_| {
                    let from = rng.random_range(0.0..6.2);
                    let second = rng.random_range(0.0..6.2);
                    job(&[(from, from + rng.random_range(0.1..1.5)), (second, second + 0.3)])
                })
                .collect();
            let plan = stop_plan(&jobs, 1.0)?;
            let best = fewest_by_trying(&jobs);
            assert_eq!(plan.stops.len(), best);
            let mut seen = [0; 6];
            for stop in &plan.stops {
                for j in &stop.jobs {
                    seen[*j] += 1;
                    assert!(jobs[*j].windows.contains(stop.window.middle_rad()));
                }
            }
            assert_eq!(seen, [1; 6]);
        }
        Ok(())
    }

    /// Every tenth of a degree is a place to stop at.
    fn fewest_by_trying(jobs: &[Job]) -> usize {
        let mut masks: Vec<u64> = (0..3600)
            .map(|i| f64::from(i).to_radians() * 0.1)
            .map(|x| {
                (0..jobs.len()).filter(|j| jobs[*j].windows.contains(x)).fold(0, |m, j| m | 1 << j)
            })
            .collect();
        masks.sort_unstable();
        masks.dedup();
        let all = (1_u64 << jobs.len()) - 1;
        let mut reached = vec![0_u64];
        for stops in 1..=jobs.len() {
            reached = reached.iter().flat_map(|r| masks.iter().map(move |m| r | m)).collect();
            reached.sort_unstable();
            reached.dedup();
            if reached.contains(&all) {
                return stops;
            }
        }
        usize::MAX
    }
}
