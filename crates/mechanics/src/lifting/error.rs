//! What can go wrong with a lift, a jack or a draw.

pub(super) use crate::range::{OutOfRange, Range};

/// Why a handling question could not be answered, or a rigging is refused.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum LiftingError {
    /// A value is not a number, is infinite, or lies outside the range the formula holds for.
    #[error("{what} is {value} {unit}: it must lie between {low} and {high} {unit}")]
    OutOfRange {
        /// The quantity, in words.
        what: &'static str,
        /// The value that was given.
        value: f64,
        /// The least value accepted.
        low: f64,
        /// The greatest value accepted.
        high: f64,
        /// The unit of all three.
        unit: &'static str,
    },
    /// Too few or too many things of one kind.
    #[error("{given} {what} were given: {least} to {most} are wanted")]
    Count {
        /// The things, in words.
        what: &'static str,
        /// How many were given.
        given: usize,
        /// The fewest.
        least: usize,
        /// The most.
        most: usize,
    },
    /// A size that must be the larger is not.
    #[error("{outer} {outer_m} m is not larger than {inner} {inner_m} m")]
    NotLarger {
        /// The outer size, in words.
        outer: &'static str,
        /// Its value, m.
        outer_m: f64,
        /// The inner size, in words.
        inner: &'static str,
        /// Its value, m.
        inner_m: f64,
    },
    /// More is cut away or taken off than there is.
    #[error("what is left weighs {mass_kg} kg: more was taken away than there was")]
    NothingLeft {
        /// The mass that remains, kg.
        mass_kg: f64,
    },
    /// A piece names a density that was not given.
    #[error("density number {number} was named, {given} were given")]
    NoSuchDensity {
        /// The number named, from 0.
        number: usize,
        /// How many there are.
        given: usize,
    },
    /// Two plumb lines that should cross run almost alongside each other.
    #[error("the plumb lines cross at {angle_deg:.1} degrees: at least {least_deg:.0} are wanted")]
    LinesTooParallel {
        /// Angle between the lines, degrees.
        angle_deg: f64,
        /// The least accepted, degrees.
        least_deg: f64,
    },
    /// Points that must span an area lie in one line or in one place.
    #[error("the {what} lie in one line: spread over {spread_m} m across it")]
    InLine {
        /// The points, in words.
        what: &'static str,
        /// Their spread across that line, m.
        spread_m: f64,
    },
    /// The legs cannot all reach one hook.
    #[error("the legs cannot reach one hook above the load: they miss by {short_m:.3} m at least")]
    LegsDoNotMeet {
        /// How much the legs are short of meeting, m; 0 where only the other side is reachable.
        short_m: f64,
    },
    /// The load hangs upright only as a stick stands on its end: it turns over.
    #[error(
        "the load would turn over: its balance point lies {above_m:.3} m above the line or eye it \
         hangs by"
    )]
    TurnsOver {
        /// How far the balance point lies above the line of the eyes (or the eye), m; 0 for a load
        /// that is free to roll because its balance point lies on that line.
        above_m: f64,
    },
    /// A leg goes slack: the load does not hang as rigged.
    #[error("leg {} goes slack by {gap_m:.3} m: the load swings to {tilt_deg:.1} degrees", leg + 1)]
    LegSlack {
        /// The leg, from 0.
        leg: usize,
        /// How much of its length is not taken up, m.
        gap_m: f64,
        /// The tilt at which the other legs would carry, degrees.
        tilt_deg: f64,
    },
    /// Statics asks a leg or support to push or pull the wrong way.
    #[error("{what} {} would have to carry {force_n:.0} N: it cannot push that way", number + 1)]
    WrongWay {
        /// The thing, in words.
        what: &'static str,
        /// Its number, from 0.
        number: usize,
        /// The force asked of it, N.
        force_n: f64,
    },
    /// The balance point lies outside what supports it.
    #[error("the balance point lies {outside_m:.3} m outside the area of the supports")]
    OutsideSupports {
        /// By how much, m.
        outside_m: f64,
    },
    /// A leg lies flatter than any rating covers.
    #[error("a leg stands {angle_deg:.1} degrees from upright: no rating holds above 60 degrees")]
    LegTooFlat {
        /// Angle of the leg to the vertical, degrees.
        angle_deg: f64,
    },
    /// The search for an equilibrium did not settle.
    #[error("no equilibrium found: {residual} of the weight unbalanced after {iterations} steps")]
    NotConverged {
        /// Steps taken.
        iterations: usize,
        /// Unbalanced force over weight.
        residual: f64,
    },
}

impl LiftingError {
    /// What the person at the bench can do about it, where there is something.
    #[must_use]
    pub fn mend(&self) -> Option<&'static str> {
        match self {
            Self::OutOfRange { .. } => Some("check the figure and its unit"),
            Self::NotLarger { .. } => Some("check which size is which"),
            Self::NothingLeft { .. } => Some("check which pieces are holes"),
            Self::LinesTooParallel { .. } => {
                Some("hang the part from a second point well away from the first")
            }
            Self::InLine { .. } => Some("spread the points"),
            Self::LegsDoNotMeet { .. } => Some("check eyes and leg lengths, or use longer legs"),
            Self::TurnsOver { .. } => {
                Some("sling from eyes above the balance point, or use legs that spread round it")
            }
            Self::LegSlack { .. } => {
                Some("move the hook over the balance point by other leg lengths or other eyes")
            }
            Self::OutsideSupports { .. } => Some("move the supports so that they surround it"),
            Self::LegTooFlat { .. } => Some("use longer legs or a spreader beam"),
            Self::Count { .. }
            | Self::NoSuchDensity { .. }
            | Self::WrongWay { .. }
            | Self::NotConverged { .. } => None,
        }
    }
}

impl From<OutOfRange> for LiftingError {
    fn from(o: OutOfRange) -> Self {
        let OutOfRange { what, value, low, high, unit } = o;
        Self::OutOfRange { what, value, low, high, unit }
    }
}

/// Any place on or about a part, m from its datum.
pub(super) const PLACE: Range = Range::new("a place", "m", -1000.0, 1000.0);
/// A mass to be handled, kg.
pub(super) const MASS: Range = Range::new("mass", "kg", 1e-6, 1e6);
/// A force, N.
pub(super) const FORCE: Range = Range::new("force", "N", 0.0, 1e8);

/// Refuses a number of things outside what is wanted.
pub(super) fn check_count(
    what: &'static str,
    given: usize,
    (least, most): (usize, usize),
) -> Result<(), LiftingError> {
    if (least..=most).contains(&given) {
        Ok(())
    } else {
        Err(LiftingError::Count { what, given, least, most })
    }
}

/// Refuses a place that is not three plain numbers.
pub(super) fn check_place(place_m: &[f64; 3]) -> Result<nalgebra::Vector3<f64>, LiftingError> {
    for &m in place_m {
        PLACE.check(m)?;
    }
    Ok(nalgebra::Vector3::from(*place_m))
}

/// Refuses an outer size that is not larger than the inner one.
pub(super) fn check_larger(
    (outer, outer_m): (&'static str, f64),
    (inner, inner_m): (&'static str, f64),
) -> Result<(), LiftingError> {
    if outer_m > inner_m {
        Ok(())
    } else {
        Err(LiftingError::NotLarger { outer, outer_m, inner, inner_m })
    }
}
