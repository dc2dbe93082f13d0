//! Handling beside published values: masses, slings, load transfer, jacks, slopes and drawing.
//!
//! "From memory" at a check means that the published figure was recalled and not looked up;
//! "verified" that the source, or a copy of it, was read.

// Helpers of a test may unwrap as its tests do.
#![allow(clippy::unwrap_used)]

#[path = "lifting/gear.rs"]
mod gear;
#[path = "lifting/ground.rs"]
mod ground;
#[path = "lifting/hanging.rs"]
mod hanging;
#[path = "lifting/masses.rs"]
mod masses;
#[path = "lifting/nonsense.rs"]
mod nonsense;
#[path = "lifting/transfer.rs"]
mod transfer;

use mechanics::lifting::{Body, STANDARD_GRAVITY_M_S2};

fn near(got: f64, expected: f64, apart: f64) -> bool {
    (got - expected).abs() <= apart
}

/// A body with exact figures.
fn body(mass_kg: f64, centre_m: [f64; 3]) -> Body {
    Body::weighed((mass_kg, 0.0), centre_m, [0.0; 3]).unwrap()
}

fn weight(mass_kg: f64) -> f64 {
    mass_kg * STANDARD_GRAVITY_M_S2
}
