//! Films over a whole sheet of clearances and loads, on every core that is lent.

use std::num::NonZeroUsize;
use std::sync::Mutex;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};

use super::error::{BearingError, check_count};
use super::journal::{Journal, JournalBearing, JournalOptions, SteadyDuty};
use super::oil::Oil;
use super::warm::{HeatPath, WarmFilm, check_heat};

/// The points of one clearance.
type Row = Vec<Result<WarmFilm, BearingError>>;

/// What a map is drawn over.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MapInput<'a> {
    /// The bearing; its own clearance is not used.
    pub bearing: JournalBearing,
    /// Speed of the journal, rad/s.
    pub speed_rad_s: f64,
    /// The oil.
    pub oil: Oil,
    /// Where heat can go.
    pub heat: HeatPath,
    /// Diametral clearances, m: the rows of the map.
    pub diametral_clearances_m: &'a [f64],
    /// Loads, N: the columns.
    pub loads_n: &'a [f64],
}

/// Who works on a map, who is told, and who may stop it.
pub struct MapControl<'a> {
    /// How many threads to use.
    pub threads: NonZeroUsize,
    /// Told, from any of the threads, how many points are done and how many there are.
    pub progress: &'a (dyn Fn(usize, usize) + Sync),
    /// Set it to `true` from anywhere and the map stops after the points in hand.
    pub stop: &'a AtomicBool,
}

impl std::fmt::Debug for MapControl<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("MapControl")
            .field("threads", &self.threads)
            .field("stop", &self.stop)
            .finish_non_exhaustive()
    }
}

/// How a map ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MapEnd {
    /// Every point was tried.
    Complete,
    /// Stopped on request: points not tried are `None`.
    Stopped,
}

/// A map, as far as it got.
#[derive(Debug, Clone, PartialEq)]
pub struct FilmMap {
    /// Point of clearance row `i` and load column `j` at `i * loads + j`: `None` when not
    /// tried, else the film or why there is none.
    pub points: Vec<Option<Result<WarmFilm, BearingError>>>,
    /// Number of columns.
    pub loads: usize,
    /// How it ended.
    pub end: MapEnd,
}

impl FilmMap {
    /// The point of clearance row `i` and load column `j`.
    #[must_use]
    pub fn point(&self, i: usize, j: usize) -> Option<&Result<WarmFilm, BearingError>> {
        if j >= self.loads {
            return None;
        }
        self.points.get(i * self.loads + j)?.as_ref()
    }

    /// How many points were tried.
    #[must_use]
    pub fn tried(&self) -> usize {
        self.points.iter().filter(|point| point.is_some()).count()
    }
}

/// Warm films over clearances and loads.
///
/// Rows are dealt to the threads one at a time; along a row each film starts from its
/// neighbour. The answer does not depend on the number of threads.
///
/// # Errors
///
/// [`BearingError::CountOutOfRange`] unless there are 1 to 10 000 clearances and loads;
/// [`BearingError::OutOfRange`] on the heat path. What goes wrong at a point is kept at that point.
pub fn film_map(
    input: &MapInput<'_>,
    control: &MapControl<'_>,
    options: &JournalOptions,
) -> Result<FilmMap, BearingError> {
    let rows = check_count("clearances", input.diametral_clearances_m.len(), 1, 10_000)?;
    let columns = check_count("loads", input.loads_n.len(), 1, 10_000)?;
    check_heat(&input.heat)?;
    let next_row = AtomicUsize::new(0);
    let done = AtomicUsize::new(0);
    let finished: Mutex<Vec<(usize, Row)>> = Mutex::new(Vec::with_capacity(rows));
    let threads = control.threads.get().min(rows);
    let work = || {
        while !control.stop.load(Ordering::Relaxed) {
            let row = next_row.fetch_add(1, Ordering::Relaxed);
            let Some(clearance) = input.diametral_clearances_m.get(row) else { break };
            let bearing = JournalBearing { diametral_clearance_m: *clearance, ..input.bearing };
            let mut journal = Journal::new(&bearing, options);
            let mut points = Vec::with_capacity(columns);
            for load_n in input.loads_n {
                if control.stop.load(Ordering::Relaxed) {
                    break;
                }
                let duty = SteadyDuty { load_n: *load_n, speed_rad_s: input.speed_rad_s };
                points.push(match &mut journal {
                    Ok(journal) => journal.warm(&duty, &input.oil, &input.heat),
                    Err(error) => Err(*error),
                });
                let so_far = done.fetch_add(1, Ordering::Relaxed) + 1;
                (control.progress)(so_far, rows * columns);
            }
            // A poisoned lock only means that another row was lost; this one is whole.
            let mut list = finished.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
            list.push((row, points));
        }
    };
    std::thread::scope(|scope| {
        // This thread works too.
        for _ in 1..threads {
            scope.spawn(work);
        }
        work();
    });
    let mut points = vec![None; rows * columns];
    let list = finished.into_inner().unwrap_or_else(std::sync::PoisonError::into_inner);
    for (row, found) in list {
        for (column, point) in found.into_iter().enumerate() {
            points[row * columns + column] = Some(point);
        }
    }
    let end = if points.iter().all(Option::is_some) { MapEnd::Complete } else { MapEnd::Stopped };
    Ok(FilmMap { points, loads: columns, end })
}
