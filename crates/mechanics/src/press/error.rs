//! What can go wrong in a press or shrink fit.

use thiserror::Error;

/// Why a pressed joint could not be worked out.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
#[non_exhaustive]
pub enum PressError {
    /// A figure is not finite or fails its condition.
    #[error("{what} is {value} {unit}, it must be finite and {condition}")]
    BadNumber {
        /// Which input.
        what: &'static str,
        /// The value given.
        value: f64,
        /// Its unit.
        unit: &'static str,
        /// The condition it fails.
        condition: &'static str,
    },
    /// The diameters of a joint are not in order.
    #[error(
        "diameters are out of order: pin bore {pin_bore_m} m, joint {joint_m} m, hub outside {hub_outer_m} m; each must be smaller than the next"
    )]
    DiametersOutOfOrder {
        /// Bore of the pin (m), 0 when solid.
        pin_bore_m: f64,
        /// Joint diameter (m).
        joint_m: f64,
        /// Outside diameter of the hub (m).
        hub_outer_m: f64,
    },
    /// The pin yields before the pressure is reached.
    #[error(
        "pin yields: joint pressure {pressure_pa} Pa is above its limit {limit_pa} Pa; less interference, a stronger pin or a smaller bore in it"
    )]
    PinYields {
        /// The joint pressure (Pa).
        pressure_pa: f64,
        /// The pin's limit (Pa).
        limit_pa: f64,
    },
    /// The hub is plastic right through before the interference is taken up.
    #[error(
        "hub is plastic right through at an interference of {limit_m} m, below the {interference_m} m asked for"
    )]
    HubFullyPlastic {
        /// The interference asked for (m).
        interference_m: f64,
        /// The interference at which the hub is wholly plastic (m).
        limit_m: f64,
    },
    /// Holding needs more interference than yield allows.
    #[error(
        "no size of pin will do: holding needs {needed_m} m of interference, yield allows {allowed_m} m; longer joint, stronger hub, better finish or a smaller duty"
    )]
    NoBand {
        /// Interference needed, losses included (m).
        needed_m: f64,
        /// Interference allowed (m).
        allowed_m: f64,
    },
    /// The band of interference is there, but the hole's spread eats it.
    #[error(
        "no pin band is left: the hole's spread and guard take {taken_m} m of a band {band_m} m wide; true the hole or measure it more closely"
    )]
    HoleTooSpread {
        /// Spread of the hole plus guards (m).
        taken_m: f64,
        /// Width of the interference band (m).
        band_m: f64,
    },
    /// A list that must not be empty, or not be shorter than a number, is.
    #[error("{what}: {given} given, at least {least} needed")]
    TooFew {
        /// Which list.
        what: &'static str,
        /// How many were given.
        given: usize,
        /// How many are needed.
        least: usize,
    },
    /// Stations along a member do not run forward.
    #[error(
        "{what} station {index} lies at {at_m} m, before the one ahead of it; list them in order from the entry"
    )]
    StationsOutOfOrder {
        /// Which member.
        what: &'static str,
        /// Index of the station, from 0.
        index: usize,
        /// Where it lies (m).
        at_m: f64,
    },
    /// A tyre outside the range of the rule asked for.
    #[error(
        "tyre inner diameter {diameter_m} m is outside the rule, which covers {from_m} to {to_m} m"
    )]
    TyreOutsideRule {
        /// Inner diameter (m).
        diameter_m: f64,
        /// Rule's smallest diameter (m).
        from_m: f64,
        /// Rule's largest diameter (m).
        to_m: f64,
    },
}

pub(super) fn need(
    what: &'static str,
    value: f64,
    unit: &'static str,
    holds: bool,
    condition: &'static str,
) -> Result<(), PressError> {
    if value.is_finite() && holds {
        Ok(())
    } else {
        Err(PressError::BadNumber { what, value, unit, condition })
    }
}
