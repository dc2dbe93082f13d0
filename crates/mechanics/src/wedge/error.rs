//! What can go wrong with a wedge.

pub(super) use crate::range::{OutOfRange, Range};

/// Why a wedge question could not be answered.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum WedgeError {
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
    /// Low, likely and high friction are not in order.
    #[error("friction runs {low}, {likely}, {high}: low, likely and high must not fall")]
    FrictionOutOfOrder {
        /// The low figure.
        low: f64,
        /// The likely figure.
        likely: f64,
        /// The high figure.
        high: f64,
    },
    /// Taper and friction together reach a right angle: no force drives it.
    #[error(
        "taper and friction together make {angle_deg:.1} degrees: it jams below 90 degrees only"
    )]
    Jams {
        /// Taper plus friction angle, degrees.
        angle_deg: f64,
    },
    /// The wedge's fully home stand is not less than its slack stand.
    #[error("home stand {home_m} m is not below slack stand {slack_m} m")]
    StandsOutOfOrder {
        /// Stand when fully home, m.
        home_m: f64,
        /// Stand when slack, m.
        slack_m: f64,
    },
    /// No liner, however thin, brings the wedge to the stand wanted.
    #[error("the brasses are {excess_m} m too thick for that stand even with no liner")]
    NoRoomForLiner {
        /// How much too thick, m.
        excess_m: f64,
    },
    /// The two states of a rod end do not have the same brass fixed, so they have no common face.
    #[error("one state has its brass fixed by the butt, the other by the strap")]
    FixedBrassDiffers,
    /// Nothing was given to choose from.
    #[error("no {what} given")]
    Empty {
        /// What is missing.
        what: &'static str,
    },
    /// A part of a joint is not larger than the part inside it.
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
}

impl WedgeError {
    /// What the person at the bench can do about it, where there is something.
    #[must_use]
    pub fn mend(&self) -> Option<&'static str> {
        match self {
            Self::OutOfRange { .. } => Some("check the figure and its unit"),
            Self::NoRoomForLiner { .. } => {
                Some("thin the brasses at the back, fit a thinner wedge, or ask for another stand")
            }
            Self::StandsOutOfOrder { .. } => {
                Some("a wedge driven further in stands out less: read both stands from one face")
            }
            Self::NotLarger { .. } => Some("check which size is which"),
            Self::FixedBrassDiffers => Some("measure both from the same seat"),
            Self::FrictionOutOfOrder { .. } | Self::Jams { .. } | Self::Empty { .. } => None,
        }
    }
}

impl From<OutOfRange> for WedgeError {
    fn from(o: OutOfRange) -> Self {
        let OutOfRange { what, value, low, high, unit } = o;
        Self::OutOfRange { what, value, low, high, unit }
    }
}

/// Refuses an outer size that is not larger than the inner one.
pub(super) fn check_larger(
    (outer, outer_m): (&'static str, f64),
    (inner, inner_m): (&'static str, f64),
) -> Result<(), WedgeError> {
    if outer_m > inner_m {
        Ok(())
    } else {
        Err(WedgeError::NotLarger { outer, outer_m, inner, inner_m })
    }
}
