//! Every size that has a say in the piston clearance.

use super::bounds::{AXLE_SHIFT, CRANK_THROW, INCLINE, OFFSET, ROD_CENTRES};
use super::{Bound, MotionError};

macro_rules! contributors {
    ($($(#[$doc:meta])* $variant:ident, $field:ident, $words:literal, $bound:expr;)*) => {
        /// The sizes of a piston-clearance chain as they were measured, m (but the incline).
        ///
        /// Signs follow the [module](super): along the line positive towards the front. What is
        /// not there (no joint, a cover without a spigot, no slack) is entered as 0.
        #[derive(Debug, Clone, Copy, PartialEq)]
        pub struct ChainSizes {
            /// Incline of the cylinder line, rad; taken as exact.
            pub incline_rad: f64,
            $($(#[$doc])* pub $field: f64,)*
        }

        /// Name of one size of the chain.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub enum Contributor { $($(#[$doc])* $variant,)* }

        impl Contributor {
            /// All of them, in the order of [`ChainSizes`].
            pub const ALL: [Self; Self::COUNT] = [$(Self::$variant,)*];

            /// How many there are.
            pub const COUNT: usize = [$(stringify!($variant),)*].len();

            /// The words a fitter would use.
            pub fn words(self) -> &'static str {
                match self { $(Self::$variant => $words,)* }
            }

            pub(crate) fn bound(self) -> Bound {
                match self { $(Self::$variant => Bound { what: $words, ..$bound },)* }
            }
        }

        impl ChainSizes {
            /// One size by name, m.
            pub fn get(&self, contributor: Contributor) -> f64 {
                match contributor { $(Contributor::$variant => self.$field,)* }
            }

            /// The same chain with one size changed.
            #[must_use]
            pub fn with(mut self, contributor: Contributor, size_m: f64) -> Self {
                match contributor { $(Contributor::$variant => self.$field = size_m,)* }
                self
            }

            pub(crate) fn to_array(self) -> [f64; Contributor::COUNT] {
                [$(self.$field,)*]
            }
        }
    };
}

const LENGTH: Bound = Bound::new("", "m", 0.01, 20.0);
const SMALL: Bound = Bound::new("", "m", -0.5, 0.5);
const JOINT: Bound = Bound::new("", "m", 0.0, 0.1);
const SLACK: Bound = Bound::new("", "m", 0.0, 0.05);

contributors! {
    /// Cylinder over its end faces, where the covers bed.
    CylinderLength, cylinder_length_m, "cylinder length over the end faces", LENGTH;
    /// How far the front cover reaches into the cylinder past its bedding face.
    FrontCoverSpigot, front_cover_spigot_m, "front cover spigot", SMALL;
    /// How far the back cover reaches into the cylinder past its bedding face.
    BackCoverSpigot, back_cover_spigot_m, "back cover spigot", SMALL;
    /// Thickness of the front cover joint as pulled up.
    FrontJoint, front_joint_m, "front cover joint", JOINT;
    /// Thickness of the back cover joint as pulled up.
    BackJoint, back_joint_m, "back cover joint", JOINT;
    /// Piston over the faces that would meet the covers (its nut or bosses included).
    PistonThickness, piston_thickness_m, "piston thickness", Bound { low: 0.001, ..LENGTH };
    /// Piston rod from the gauge plane of its cone seat in the crosshead to the piston's back face.
    ConeToPiston, cone_to_piston_m, "rod cone seat to piston face", LENGTH;
    /// Crosshead from the pin centre forward to the gauge plane of the rod cone seat.
    PinToCone, pin_to_cone_m, "crosshead pin to rod cone seat", Bound { low: -1.0, ..LENGTH };
    /// Connecting rod centres as last measured.
    RodCentres, rod_centres_m, "connecting rod centres", ROD_CENTRES;
    /// Change of the rod centres by taking up the big-end brasses since, lengthening positive.
    BigEndTakeUp, big_end_take_up_m, "big-end brass take-up", SMALL;
    /// Change of the rod centres by taking up the small-end brasses since, lengthening positive.
    SmallEndTakeUp, small_end_take_up_m, "small-end brass take-up", SMALL;
    /// Crank throw.
    CrankThrow, crank_throw_m, "crank throw", CRANK_THROW;
    /// Height of the cylinder line over the middle of the horns at drawn ride height, square to
    /// the line.
    LineOffset, line_offset_m, "offset of the cylinder line", OFFSET;
    /// Along the line from the foot of the axle centre as drawn to the cylinder's back end face.
    AxleToCylinder, axle_to_cylinder_m, "horn centre to cylinder back face", LENGTH;
    /// Axle centre forward of its drawing place: box bored out of centre, liners, uneven horn wear.
    AxleFore, axle_fore_m, "axlebox position in the horns", AXLE_SHIFT;
    /// Axle up against the frames: spring travel and ride height.
    AxleRise, axle_rise_m, "spring travel", AXLE_SHIFT;
    /// Big-end clearance on the diameter.
    BigEndSlack, big_end_slack_m, "big-end slack", SLACK;
    /// Small-end clearance on the diameter.
    SmallEndSlack, small_end_slack_m, "small-end slack", SLACK;
    /// Axle journal clearance on the diameter, as far as thrust along the rod can take it up.
    JournalSlack, journal_slack_m, "axle journal slack", SLACK;
    /// Whole gap of the box between its horn faces, fore and aft.
    HornSlack, horn_slack_m, "horn slack", SLACK;
}

impl ChainSizes {
    /// Every finding at once would be kinder, but one size out of range already makes the rest of
    /// the chain meaningless: the first is reported.
    pub(crate) fn check(&self) -> Result<(), MotionError> {
        INCLINE.check(self.incline_rad)?;
        for contributor in Contributor::ALL {
            contributor.bound().check(self.get(contributor))?;
        }
        Ok(())
    }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;

    /// Plain numbers of a small inclined engine; 6 mm clearance or so at each end.
    pub(crate) fn plain_sizes() -> ChainSizes {
        ChainSizes {
            incline_rad: 0.1,
            cylinder_length_m: 0.800,
            front_cover_spigot_m: 0.012,
            back_cover_spigot_m: 0.014,
            front_joint_m: 0.001,
            back_joint_m: 0.001,
            piston_thickness_m: 0.124,
            cone_to_piston_m: 1.000,
            pin_to_cone_m: 0.150,
            rod_centres_m: 1.900,
            big_end_take_up_m: 0.0,
            small_end_take_up_m: 0.0,
            crank_throw_m: 0.320,
            line_offset_m: 0.040,
            axle_to_cylinder_m: 2.7113,
            axle_fore_m: 0.0,
            axle_rise_m: 0.0,
            big_end_slack_m: 0.0003,
            small_end_slack_m: 0.0002,
            journal_slack_m: 0.0003,
            horn_slack_m: 0.0004,
        }
    }

    #[test]
    fn every_size_is_found_by_its_name() {
        let sizes = plain_sizes();
        for (i, c) in Contributor::ALL.into_iter().enumerate() {
            let changed = sizes.with(c, 0.777);
            assert_eq!(changed.get(c), 0.777);
            assert_eq!(changed.to_array()[i], 0.777);
            assert_eq!(changed.with(c, sizes.get(c)), sizes);
        }
    }
}
