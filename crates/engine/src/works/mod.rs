//! Strip, lift and build: from the engine and what has been done so far to plans, day's lists,
//! reasons and lifts. This is the whole of it for a page, a paper or a command line:
//!
//! 1. [`plan`] plans a stage ([`Ask`]: strip or build, how far, seed, steps), or takes up the plan
//!    there was ([`Kept`], a plan as it is stored) and mends it around what the engine's `[[progress]]`
//!    records say ([`WorksModel::progress`]). It hands back a [`Planned`]: scheme, progress, plan,
//!    changes with their reasons, and [`Planned::kept`] to store again.
//! 2. [`day_list`] cuts a day's list from it for those who are there ([`OnTheDay`]).
//!    [`in_order`] mends it around an order of works that somebody wants.
//! 3. [`why`] says why one work is before another, [`soonest`] how soon something can be off, and
//!    [`savings`] what one more person or one more crane day would save.
//! 4. [`lift`] computes a lift with the engine's masses: leg tensions, load transfer, jacks, draw.
//! 5. `engine::view`: [`plan_view`](crate::view::plan_view), [`day_view`](crate::view::day_view),
//!    [`why_view`](crate::view::why_view), [`lift_view`](crate::view::lift_view) turn all of these into
//!    words and figures; the pictures are `drawing::day_chart` and `drawing::lifting`.
//!
//! What happened stands in `[[progress]]` records of the engine's files. A caller that keeps it elsewhere
//! (a book's entries) hands it over with [`take_happened`] after loading and before judging.
//!
//! A caller that keeps nothing gives no [`Kept`]: the same engine, seed and steps then give the same
//! plan, made from nothing without what has happened and mended around it once, so that it stays what
//! it was as records are added.
//!
//! Nothing here knows files, books or the clock. To stop a search after some seconds, set
//! [`Watch::stop`] from another thread; the best plan so far is handed back.
//!
//! A computed plan or lift is no permission: a competent person decides.

mod build;
mod calendar;
mod crew;
mod day;
mod explain;
mod happened;
mod kept;
mod lifts;
mod masses;
mod model;
mod no_plan;
mod order;
mod plan;
mod scheme;
mod ties;
pub(crate) mod words;

pub(crate) use build::build;
pub use calendar::Spell;
pub use crew::{PersonBar, people_bars};
pub use day::{DayAnswer, OnTheDay, day_list, weather};
pub use explain::{SavingAnswer, Soonest, WhyAnswer, savings, soonest, why};
pub use happened::{SaidOfWork, take_happened};
pub use kept::{Kept, KeptMove, KeptPlans, KeptStep};
pub use lifts::{LiftAnswer, SlideAnswer, SlingAnswer, lift};
pub use masses::{Load, PartMass, load_of, part_body};
pub use model::{
    Draw, Happened, JackAt, Jacks, KitItem, Lift, Moment, On, PartSolid, PartTies, Person, Shed,
    Shift, Slide, Sling, Stage, Standing, Stated, Way, What, Work, WorkKind, WorksModel,
};
pub use no_plan::NoPlan;
pub use order::{Wanted, in_order};
pub use plan::{Ask, Planned, plan};
pub use scheme::{Assembled, assemble, progress, progress_of, target};
pub use ties::{TieFrom, WorkTie, ties};

pub use sequence::{News, Step, Watch, WorkId};

pub(crate) use build::weather_of;
