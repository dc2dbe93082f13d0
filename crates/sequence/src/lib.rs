//! In what order an engine is stripped and built, which way each work is done, and with the engine
//! stood where.
//!
//! A [`Scheme`] holds *works* (a part comes off or goes on, or a state changes), each with one or
//! more *ways*: people, minutes, kit, crank positions at which it can be done, what must be off or
//! supported first and why, what it leaves hanging. [`solve`] finds an order and the ways; the
//! [`Plan`] carries a proven lower bound. [`audit`](fn@audit) re-checks any plan by code that shares nothing
//! with the planner. [`today`](fn@today), [`repair`](fn@repair) and [`Explainer`] answer the day's questions.
//!
//! The crate knows no engines, files, clock or screens. The same scheme, seed and step budget give
//! the same plan; a time budget enters only as a stop ([`Watch`]), which belongs to the caller.
//!
//! ```
//! use sequence::{Calendar, Objective, Progress, Scheme, SearchOptions, Way, Work, solve};
//! let mut scheme = Scheme::new(Calendar::even(1, 480, 2));
//! let nuts = scheme.add(Work::new("nuts", "slack the strap nuts").way(Way::new("spanner", 20, 1)));
//! let strap = Work::new("strap", "draw the strap")
//!     .after(nuts, "the nuts hold the strap")
//!     .way(Way::new("by jack", 30, 2));
//! scheme.add(strap);
//! let plan = solve(&scheme, &Progress::default(), &SearchOptions::default())?;
//! assert_eq!(plan.cost.elapsed_min, 50);
//! assert_eq!(plan.bound.elapsed_min, 50);
//! assert!(sequence::audit(&scheme, &Progress::default(), &plan).is_empty());
//! # Ok::<(), sequence::Refused>(())
//! ```
#![warn(missing_docs)]

mod audit;
mod circle;
mod events;
mod explain;
mod faults;
mod net;
mod output;
mod plan;
mod repair;
mod scheme;
mod search;
mod today;

pub use audit::{Breach, audit};
pub use circle::Link;
pub use events::{Event, apply};
pub use explain::{Cause, Explainer, Saving, Why};
pub use faults::{Fault, Findings, Reason, WayOut, inspect};
pub use output::{GanttBar, GanttRow, Lane, gantt, listing};
pub use plan::{Cost, Move, Objective, Plan, Progress, Refused, Step, Weights};
pub use repair::{Change, RepairOptions, Repaired, Turned, carry_on, repair};
pub use scheme::{
    Arc, Barring, Before, Break, Calendar, Day, Hanging, Hazard, Kind, Kit, KitId, Place, PlaceId,
    Scheme, SetUps, Staying, Targets, Tie, Wait, Wanted, Way, Weather, Where, Window, Work, WorkId,
};
pub use search::{News, SearchOptions, Watch, solve, solve_watched};
pub use today::{DayList, Here, Line, today};
