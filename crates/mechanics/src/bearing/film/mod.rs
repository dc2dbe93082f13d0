//! The steady oil film of a journal bearing of finite length.
//!
//! Reynolds' equation for a thin film of constant viscosity is solved on a grid around and
//! across the bearing (see `stencil`), with the film allowed to break where it would have to pull
//! (see `rupture`), by a direct banded factor that is only redone where the film's end moved
//! (see `band`).
//!
//! # Which cavitation, and why
//!
//! **Reynolds' rupture condition** is the default: pressure and its slope reach zero together
//! at the film's end. It conserves oil at the end of the film (a mass-conserving
//! Elrod/Jakobsson-Floberg-Olsson model gives the same end for a steady load), and the published
//! charts of Raimondi & Boyd are drawn with it, so answers can be checked against them. It does
//! not say how a film forms again after it broke; here the arc starts at an oil inlet that is
//! taken as full, so that question is left to the supply (see [`super::felt_flow`]). A starved inlet
//! carries less than computed here, and no steady model says how much less without knowing the
//! supply. Where the gap widens first and the film begins inside the arc, [`FilmStart`] says so.
//!
//! Half-Sommerfeld (Gümbel) and full Sommerfeld are there to check against closed forms.
//!
//! # Friction
//!
//! Two figures are given. `friction_ring` counts shear over the whole arc, even past rupture: the
//! convention of Raimondi & Boyd's charts. `friction_streamers` counts past rupture only the
//! streamers that are left, and lies 10 to 20 per cent lower. Power and temperature use the
//! ring figure unless told otherwise.
//!
//! # Not considered
//!
//! Loads that change in size or direction (a big end, a coupling rod), squeeze, inertia and
//! turbulence of the oil, bending of journal or brass, viscosity that varies within the film,
//! grooves inside the arc.

mod band;
mod gap;
mod grid;
mod numbers;
mod problem;
mod rupture;
mod solver;
mod stencil;
mod totals;

pub use numbers::{Convergence, Film, FilmField, FilmNumbers, FilmStart};
pub use problem::{Arc, Cavitation, FilmOptions, FilmProblem, Spacing};
pub use solver::{FilmSolver, solve_film};
