//! Plans, day's lists, reasons and lifts as they are shown.

mod chart;
mod lift;
mod plan;
mod shapes;

pub use chart::chart_view;
pub use lift::lift_view;
pub use plan::{changes_view, day_view, plan_view, soonest_view, why_view, work_view, works_view};
pub use shapes::*;
