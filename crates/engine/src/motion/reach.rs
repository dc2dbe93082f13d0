//! Windows: at which positions of the wheels a joint can be got at, which jobs have a position in
//! common, and where to stop so that every job is reached.

use super::error::NoAnswer;
use super::mechanism::Mechanism;
use super::model::{MotionModel, Reach};
use super::said::Said;
use mechanics::motion::{
    Arcs, Barring, Caution, CylinderNo, Job, Move, StandingAt, Stop, Wanted, barring_cautions,
    common_window, stop_plan,
};

/// One window of one job, and the moves into it.
#[derive(Clone, Debug)]
pub struct JobWindow {
    /// The record it comes from.
    pub reach: Reach,
    /// Wheel angles.
    pub windows: Arcs,
    /// Forward and backward to its near edge, with the margin inside.
    pub moves: Option<[Move; 2]>,
}

/// One place to stop at.
#[derive(Clone, Debug)]
pub struct PlannedStop {
    /// The stop; jobs are positions in [`Reaching::jobs`].
    pub stop: Stop,
    /// How far forward from the last stop (or from where the engine stands) to the middle of it.
    pub forward: Move,
}

/// The windows of a set of jobs.
#[derive(Clone, Debug)]
pub struct Reaching {
    /// Every job with its windows: those to the same thing from different places are apart.
    pub jobs: Vec<JobWindow>,
    /// Windows in which all can be reached.
    pub common: Arcs,
    /// Moves into the nearest common window, forward and backward.
    pub common_moves: Option<[Move; 2]>,
    /// Fewest stops in forward order.
    pub stops: Vec<PlannedStop>,
    /// Everything to be gone through before the engine is moved.
    pub cautions: &'static [Caution],
}

/// Angle kept inside a window's edge when going to it.
const MARGIN_RAD: f64 = 0.05;

/// Windows of the jobs named (all that are described when none is named), from where the engine
/// stands.
///
/// # Errors
/// A job without a window, saying where to write it; the tyre is not described.
pub fn reaching(
    model: &MotionModel,
    mechanism: &Mechanism,
    named: &[String],
    from: &Said,
    doubt_rad: f64,
) -> Result<Reaching, NoAnswer> {
    let barring = Barring::new(&mechanism.motion, mechanism.tyre()?, mechanism.axle)?;
    for name in named {
        if !model.reaches.iter().any(|r| r.to == name.trim()) {
            return Err(NoAnswer::one_missing(
                format!("where the wheels must stand to get at {name}"),
                format!(
                    "write a [[reach]] with to = \"{name}\", crank, from, until and by; see docs/motion.md"
                ),
            ));
        }
    }
    let wanted: Vec<&Reach> = model
        .reaches
        .iter()
        .filter(|r| named.is_empty() || named.iter().any(|n| n.trim() == r.to))
        .collect();
    if wanted.is_empty() {
        return Err(NoAnswer::one_missing(
            "no window is described",
            "write [[reach]] records: to, crank, from, until, by; see docs/motion.md",
        ));
    }
    let start = from.wheel_angle(mechanism)?;
    let now = StandingAt { position: Wanted::Wheel(start), standard_rad: doubt_rad };
    let mut windows = Vec::new();
    for reach in wanted {
        let arcs = barring
            .wheel_windows(CylinderNo(reach.cylinder), &[(reach.from_rad, reach.until_rad)])?;
        let moves = barring.moves_into(now, &arcs, MARGIN_RAD)?;
        windows.push(JobWindow { reach: reach.clone(), windows: arcs, moves });
    }
    // Windows to the same thing by the same way are alternatives of one job.
    let mut jobs: Vec<JobWindow> = Vec::new();
    for w in windows {
        match jobs.iter_mut().find(|j| j.reach.to == w.reach.to && j.reach.by == w.reach.by) {
            Some(job) => {
                job.windows = job.windows.or(&w.windows);
                job.moves = barring.moves_into(now, &job.windows, MARGIN_RAD)?;
            }
            None => jobs.push(w),
        }
    }
    let plain: Vec<Job> =
        jobs.iter().map(|j| Job { name: j.reach.to.clone(), windows: j.windows.clone() }).collect();
    let common = common_window(&plain);
    let common_moves = barring.moves_into(now, &common, MARGIN_RAD)?;
    let plan = stop_plan(&plain, start.rad())?;
    let mut stops = Vec::new();
    let mut last = now;
    for stop in plan.stops {
        let middle = mechanics::motion::WheelAngle::from_rad(stop.window.middle_rad())?;
        let choice = barring.moves(last, Wanted::Wheel(middle))?;
        let forward = [choice.shorter, choice.other]
            .into_iter()
            .find(|m| m.way == mechanics::motion::Way::Forward)
            .unwrap_or(choice.shorter);
        stops.push(PlannedStop { stop, forward });
        // Each stop is marked afresh on wheel and rail.
        last = StandingAt { position: Wanted::Wheel(middle), standard_rad: doubt_rad };
    }
    Ok(Reaching { jobs, common, common_moves, stops, cautions: barring_cautions() })
}
