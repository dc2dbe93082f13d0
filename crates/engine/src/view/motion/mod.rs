//! The motion as it is shown.

mod clearances;
mod loads;
mod pistons;
mod positions;
mod revolution;
mod shapes;

pub use clearances::{centre_view, clearances_view};
pub use loads::{balance_view, loads_view};
pub use positions::{bring_view, position_view, reach_view};
pub use revolution::{revolution_view, turn_from};
pub use shapes::*;

pub(super) use clearances::piston_effect;
pub(super) use pistons::{piston_counts, piston_lines, piston_words};

use super::figure::Figure;
use mechanics::motion::{CylinderNo, Motion, Running, WheelAngle};

/// A length shown to a step, with no uncertainty claimed for it.
fn shown_to(si: f64, step_m: f64) -> Figure {
    Figure { u_si: None, ..Figure::of_size(si, Some(step_m)) }
}

/// A small difference shown to a step, with no uncertainty claimed for it.
fn difference_to(si: f64, step_m: f64) -> Figure {
    Figure { u_si: None, ..Figure::of_difference(si, Some(step_m)) }
}

/// A wheel angle as a position of the first crank that is easy to see, in words that read back.
fn in_words(
    motion: &Motion,
    running: &Running,
    id: &str,
    cylinder: usize,
    wheel_rad: f64,
) -> String {
    let past = WheelAngle::from_rad(wheel_rad)
        .and_then(|w| motion.cylinder_at(CylinderNo(cylinder), w, running))
        .map(|s| s.past_front_dead_centre_rad.to_degrees());
    match past {
        // A tenth of a degree is more than anyone reads on a wheel.
        Ok(deg) => format!("{id} {:.1} past front", (10.0 * deg).round().rem_euclid(3600.0) / 10.0),
        Err(_) => format!("wheel {:.1}", wheel_rad.to_degrees()),
    }
}
