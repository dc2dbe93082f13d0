//! Piston clearance through the mechanism, with exact derivatives by every size.

use super::bounds::ANGLE;
use super::{Bound, ChainSizes, Contributor, DeadCentres, MotionError, SliderCrank};
use std::ops::Index;

/// Where the slack of pins, journals and horns lies when the clearance is looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Float {
    /// Half each way: every pin in the middle of its brass.
    Middle,
    /// All taken up so that the piston stands as far forward as it can.
    Forward,
    /// All taken up so that the piston stands as far back as it can.
    Back,
}

/// Clearance at both covers with the crank at one angle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ClearanceAt {
    /// Crank angle from the line, rad.
    pub crank_angle_rad: f64,
    /// Between piston and front cover, m; negative: they would have met.
    pub front_m: f64,
    /// Between piston and back cover, m; negative: they would have met.
    pub back_m: f64,
}

/// Exact derivatives of one clearance by every size of the chain, m/m, by name.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ClearancePartials(pub(crate) [f64; Contributor::COUNT]);

impl Index<Contributor> for ClearancePartials {
    type Output = f64;

    fn index(&self, contributor: Contributor) -> &f64 {
        &self.0[contributor as usize]
    }
}

impl ClearancePartials {
    /// Name and derivative of every size, in the order of [`Contributor::ALL`].
    pub fn iter(&self) -> impl Iterator<Item = (Contributor, f64)> + '_ {
        Contributor::ALL.into_iter().zip(self.0)
    }
}

/// A checked chain from the axle through crank, rod, crosshead and piston to both covers.
///
/// Not considered: expansion when hot (cylinder, piston rod), spring of the parts under load,
/// water. The clearance needed for those is the responsible engineer's figure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ClearanceChain {
    pub(crate) sizes: ChainSizes,
}

/// Slider-crank of the chain, how far along the line its axle centre has moved, and the offset
/// from the axle centre.
#[derive(Debug, Clone, Copy)]
pub(crate) struct ChainCrank {
    pub(crate) sc: SliderCrank,
    pub(crate) along_m: f64,
}

// Own derivation. Along the line, from the foot of the axle centre as drawn, with B the back end
// face, L the cylinder, p spigots, j joints, c cone seat to piston back face, a pin to cone seat,
// t the piston and s the crosshead pin:
//
//   back cover face   B - jb + pb            piston back face   s + a + c
//   front cover face  B + L + jf - pf        piston front face  s + a + c + t
//
//   front = (B + L + jf - pf) - (s + a + c + t)
//   back  = (s + a + c) - (B - jb + pb)
//
// s is the slider-crank of throw r and centres l' = l + take-ups, about an axle centre moved by
// (dx, dz). Slack of big end, small end and journal lets the thrust along the rod move the
// crosshead as if the rod were longer or shorter by half of each; the horn gap moves dx by half
// of itself. With g the rod angle:
//
//   ds/dr = cos f - tan g sin f     ds/dl' = 1/cos g     ds/dh = -tan g
//   ds/ddx = cos b - tan g sin b    ds/ddz = sin b + tan g cos b
//
// At a dead centre ds/df = 0, so these are also the derivatives of the clearance there, although
// the angle of the dead centre moves too.
impl ClearanceChain {
    /// A chain of measured sizes.
    ///
    /// # Errors
    /// A size not finite or out of range; a rod too short to pass (slack included).
    pub fn new(sizes: ChainSizes) -> Result<Self, MotionError> {
        sizes.check()?;
        let chain = Self { sizes };
        for float in [Float::Middle, Float::Forward, Float::Back] {
            chain.crank(float)?;
        }
        Ok(chain)
    }

    /// The sizes.
    pub fn sizes(&self) -> &ChainSizes {
        &self.sizes
    }

    pub(crate) fn crank(&self, float: Float) -> Result<ChainCrank, MotionError> {
        let z = &self.sizes;
        let sign = match float {
            Float::Middle => 0.0,
            Float::Forward => 1.0,
            Float::Back => -1.0,
        };
        let pins = z.big_end_slack_m + z.small_end_slack_m + z.journal_slack_m;
        let rod = z.rod_centres_m + z.big_end_take_up_m + z.small_end_take_up_m;
        let (sin, cos) = z.incline_rad.sin_cos();
        let fore = z.axle_fore_m + 0.5 * sign * z.horn_slack_m;
        let along_m = fore * cos + z.axle_rise_m * sin;
        let across_m = z.axle_rise_m * cos - fore * sin;
        let sc =
            SliderCrank::new(z.crank_throw_m, rod + 0.5 * sign * pins, z.line_offset_m - across_m)?;
        Ok(ChainCrank { sc, along_m })
    }

    /// Clearance of the piston from both covers when the crosshead pin is at `s` (m).
    fn at_crosshead(&self, crank_angle_rad: f64, s: f64) -> ClearanceAt {
        let (front_m, back_m) = self.covers();
        ClearanceAt { crank_angle_rad, front_m: front_m - s, back_m: s - back_m }
    }

    /// Crosshead pin positions at which the piston would touch the front and the back cover.
    pub(crate) fn covers(&self) -> (f64, f64) {
        let z = &self.sizes;
        let rod = z.pin_to_cone_m + z.cone_to_piston_m;
        let back_cover = z.axle_to_cylinder_m - z.back_joint_m + z.back_cover_spigot_m;
        let front_cover =
            z.axle_to_cylinder_m + z.cylinder_length_m + z.front_joint_m - z.front_cover_spigot_m;
        (front_cover - rod - z.piston_thickness_m, back_cover - rod)
    }

    /// Clearance at both covers with the crank at an angle from its line.
    ///
    /// Equation: `front = (B + L + jf - pf) - (s + a + c + t)`,
    /// `back = (s + a + c) - (B - jb + pb)` with `s` the exact slider-crank; own derivation,
    /// shown in the source.
    /// Units: rad in, m out. Valid range: angle within ±1e5 rad.
    ///
    /// # Errors
    /// The angle is not finite or out of range.
    pub fn at(&self, crank_angle_rad: f64, float: Float) -> Result<ClearanceAt, MotionError> {
        let crank = self.crank(float)?;
        let s = crank.sc.at(crank_angle_rad)?.position_m + crank.along_m;
        Ok(self.at_crosshead(crank_angle_rad, s))
    }

    /// Clearances at the front dead centre, then at the back dead centre: the least front
    /// clearance is in the first, the least back clearance in the second.
    ///
    /// Equation: as [`ClearanceChain::at`] with the exact dead centres. Units: m, rad.
    ///
    /// # Errors
    /// A slack that makes the rod too short to pass (refused already by [`ClearanceChain::new`]).
    pub fn at_dead_centres(&self, float: Float) -> Result<[ClearanceAt; 2], MotionError> {
        let ChainCrank { sc, along_m } = self.crank(float)?;
        let ends = sc.dead_centres();
        Ok([
            self.at_crosshead(ends.front_crank_rad, ends.front_m + along_m),
            self.at_crosshead(ends.back_crank_rad, ends.back_m + along_m),
        ])
    }

    /// Exact dead centres of the chain's own slider-crank, as drawn position of the axle for zero.
    ///
    /// # Errors
    /// As [`ClearanceChain::at_dead_centres`].
    pub fn dead_centres(&self, float: Float) -> Result<DeadCentres, MotionError> {
        let ChainCrank { sc, along_m } = self.crank(float)?;
        let ends = sc.dead_centres();
        Ok(DeadCentres { front_m: ends.front_m + along_m, back_m: ends.back_m + along_m, ..ends })
    }

    /// Exact derivatives of the front and the back clearance by every size, at a fixed crank
    /// angle.
    ///
    /// Equation: shown in the source. Units: m/m. A caller who carries shared errors multiplies
    /// these into them.
    ///
    /// # Errors
    /// The angle is not finite or out of range.
    pub fn partials(
        &self,
        crank_angle_rad: f64,
        float: Float,
    ) -> Result<[ClearancePartials; 2], MotionError> {
        const CRANK: Bound = Bound { what: "crank angle", ..ANGLE };
        CRANK.check(crank_angle_rad)?;
        let crank = self.crank(float)?;
        Ok(self.partials_of(&crank, crank_angle_rad, float))
    }

    /// Exact derivatives of the front clearance at the front dead centre and of the back
    /// clearance at the back dead centre.
    ///
    /// Equation: as [`ClearanceChain::partials`]; exact although the dead centres move with the
    /// sizes, because the crosshead stands still there. Units: m/m.
    ///
    /// # Errors
    /// As [`ClearanceChain::at_dead_centres`].
    pub fn partials_at_dead_centres(
        &self,
        float: Float,
    ) -> Result<[ClearancePartials; 2], MotionError> {
        let crank = self.crank(float)?;
        let ends = crank.sc.dead_centres();
        let [front, _] = self.partials_of(&crank, ends.front_crank_rad, float);
        let [_, back] = self.partials_of(&crank, ends.back_crank_rad, float);
        Ok([front, back])
    }

    fn partials_of(
        &self,
        crank: &ChainCrank,
        crank_angle_rad: f64,
        float: Float,
    ) -> [ClearancePartials; 2] {
        let (sin_f, cos_f) = crank_angle_rad.sin_cos();
        let rod = crank.sc.rod_line(sin_f, cos_f);
        let tan_g = rod.u * rod.iq;
        let sec_g = crank.sc.rod_centres_m() * rod.iq;
        let (sin_b, cos_b) = self.sizes.incline_rad.sin_cos();
        let half = match float {
            Float::Middle => 0.0,
            Float::Forward => 0.5,
            Float::Back => -0.5,
        };
        let by_fore = cos_b - tan_g * sin_b;
        // Derivative of the crosshead position, then those of the cover faces where the piston
        // would touch (front, back).
        let one = |contributor| -> (f64, f64, f64) {
            use Contributor as C;
            match contributor {
                C::CylinderLength => (0.0, 1.0, 0.0),
                C::FrontCoverSpigot => (0.0, -1.0, 0.0),
                C::BackCoverSpigot => (0.0, 0.0, 1.0),
                C::FrontJoint => (0.0, 1.0, 0.0),
                C::BackJoint => (0.0, 0.0, -1.0),
                C::PistonThickness => (0.0, -1.0, 0.0),
                C::ConeToPiston | C::PinToCone => (0.0, -1.0, -1.0),
                C::RodCentres | C::BigEndTakeUp | C::SmallEndTakeUp => (sec_g, 0.0, 0.0),
                C::CrankThrow => (cos_f - tan_g * sin_f, 0.0, 0.0),
                C::LineOffset => (-tan_g, 0.0, 0.0),
                C::AxleToCylinder => (0.0, 1.0, 1.0),
                C::AxleFore => (by_fore, 0.0, 0.0),
                C::AxleRise => (sin_b + tan_g * cos_b, 0.0, 0.0),
                C::BigEndSlack | C::SmallEndSlack | C::JournalSlack => (half * sec_g, 0.0, 0.0),
                C::HornSlack => (half * by_fore, 0.0, 0.0),
            }
        };
        let mut front = [0.0; Contributor::COUNT];
        let mut back = [0.0; Contributor::COUNT];
        for (i, contributor) in Contributor::ALL.into_iter().enumerate() {
            let (s, front_cover, back_cover) = one(contributor);
            front[i] = front_cover - s;
            back[i] = s - back_cover;
        }
        [ClearancePartials(front), ClearancePartials(back)]
    }
}

#[cfg(test)]
mod tests {
    use super::super::chain::tests::plain_sizes;
    use super::*;

    /// Derivatives against central differences of the exact clearance, at fixed angles and at the
    /// dead centres (where the angle moves with the sizes).
    #[test]
    fn derivatives_agree_with_differences() -> Result<(), MotionError> {
        let step = 1e-6;
        let sizes = plain_sizes();
        let chain = ClearanceChain::new(sizes)?;
        for float in [Float::Middle, Float::Forward, Float::Back] {
            let at_ends = chain.partials_at_dead_centres(float)?;
            for c in Contributor::ALL {
                let with = |d: f64| ClearanceChain::new(sizes.with(c, sizes.get(c) + d));
                // A joint of 1 mm and slacks of 0.2 mm leave room for both steps.
                let (more, less) = (with(step)?, with(-step).or_else(|_| with(0.0))?);
                let width = more.sizes.get(c) - less.sizes.get(c);
                for angle in [0.3, 1.9, 4.0] {
                    let [front, back] = chain.partials(angle, float)?;
                    let (m, l) = (more.at(angle, float)?, less.at(angle, float)?);
                    assert!((front[c] - (m.front_m - l.front_m) / width).abs() < 2e-6, "{c:?}");
                    assert!((back[c] - (m.back_m - l.back_m) / width).abs() < 2e-6, "{c:?}");
                }
                let (m, l) = (more.at_dead_centres(float)?, less.at_dead_centres(float)?);
                let front = (m[0].front_m - l[0].front_m) / width;
                let back = (m[1].back_m - l[1].back_m) / width;
                assert!((at_ends[0][c] - front).abs() < 2e-6, "{c:?} {front}");
                assert!((at_ends[1][c] - back).abs() < 2e-6, "{c:?} {back}");
            }
        }
        Ok(())
    }

    #[test]
    fn no_angle_is_tighter_than_its_dead_centre() -> Result<(), MotionError> {
        let chain = ClearanceChain::new(plain_sizes())?;
        let ends = chain.at_dead_centres(Float::Forward)?;
        for i in 0..720 {
            let at = chain.at(f64::from(i) * 0.5_f64.to_radians(), Float::Forward)?;
            assert!(ends[0].front_m <= at.front_m + 1e-15);
            assert!(ends[1].back_m <= at.back_m + 1e-15);
        }
        Ok(())
    }
}
