//! Bearing duty: pressure, rubbing speed, the oil film and its supply.
//!
//! - [`bearing_duty`], [`judge_duty`]: projected pressure, rubbing speed and their product beside
//!   handbook figures, each with its source and whether it was read or recalled.
//! - [`film`]: the steady film without units, solved from Reynolds' equation.
//! - [`film_for_load`]: where a journal settles under a steady load, in SI units.
//! - [`Oil`], [`warm_film`]: viscosity that falls as oil warms, and the running temperature.
//! - [`film_map`]: the same over a sheet of clearances and loads.
//! - [`felt_flow`], [`filling_lasts`]: what a felt or trimming brings and for how long.
//! - [`load_swing`]: what a load that swings or reverses leaves of the oil wedge.
//! - [`judge_film`]: the verdict in plain words.
//!
//! All of it holds for loads that do not change in size or direction. A big end's load reverses
//! every turn: there the verdict is [`FilmVerdict::CannotTell`], and pressure and speed are all
//! that is judged.
//!
//! # Example
//!
//! ```
//! use mechanics::bearing::{JournalBearing, JournalOptions, SteadyDuty, film::Arc, film_for_load};
//!
//! # fn main() -> Result<(), mechanics::bearing::BearingError> {
//! // 500 lbf on a 1.5 in journal at 30 turns a second: Shigley's example 12-1.
//! let bearing = JournalBearing {
//!     journal_diameter_m: 0.0381,
//!     length_m: 0.0381,
//!     diametral_clearance_m: 76.2e-6,
//!     tilt_m: 0.0,
//!     arc: Arc::FullRing,
//! };
//! let duty = SteadyDuty { load_n: 2224.11, speed_rad_s: 188.496 };
//! let film = film_for_load(&bearing, &duty, 0.027_579, &JournalOptions::default())?;
//! assert!((film.minimum_film_m / 25.4e-6 - 0.64).abs() < 0.01);
//! # Ok(())
//! # }
//! ```

mod closed_form;
mod duty;
mod error;
mod felt;
pub mod film;
mod journal;
mod map;
mod oil;
mod pair;
mod root;
mod seek;
mod swing;
mod verdict;
mod warm;

pub use closed_form::{ClosedForm, dubois_ocvirk_1953, iso_7902_2_load_number, sommerfeld_1904};
pub use duty::{
    BearingMetal, Duty, DutyInput, HANDBOOK_PRESSURES, HANDBOOK_PROPORTIONS, HandbookPressure,
    HandbookProportion, METAL_LIMITS, MetalLimit, Place, PressureBasis, Stand, Standing,
    bearing_duty, metal_limit, stand,
};
pub use error::BearingError;
pub use felt::{
    Felt, FeltFlow, FeltOil, Filling, FillingEnd, Keep, felt_flow, filling_lasts,
    permeability_from_drip, pore_from_lift, trimming_flow,
};
pub use journal::{
    FrictionConvention, JournalBearing, JournalOptions, RunningFilm, SteadyDuty, film_for_load,
};
pub use map::{FilmMap, MapControl, MapEnd, MapInput, film_map};
pub use oil::{Oil, OilPoint, OilSheet, ViscosityLaw};
pub use swing::{LoadSwing, SwingStep, load_swing};
pub use verdict::{
    DutyJudgement, DutyVerdict, FilmJudgement, FilmSetting, FilmVerdict, LoadCharacter, judge_duty,
    judge_film,
};
pub use warm::{HeatPath, OilCooling, WarmFilm, warm_film};
