//! Sizes of one cylinder's parts as they are drawn.

use super::DrawingError;
use mechanics::motion::{Bound, ClearanceChain, Float};

/// Sizes of one cylinder's parts as they are drawn, m. Places along the line are counted from the
/// foot of the axle centre as drawn, like the crosshead's own.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CylinderBody {
    /// Cylinder bore.
    pub bore_m: f64,
    /// Inner face of the back cover along the line.
    pub back_cover_m: f64,
    /// Inner face of the front cover along the line.
    pub front_cover_m: f64,
    /// Crosshead pin to the piston's back face.
    pub pin_to_piston_m: f64,
    /// Piston over its faces.
    pub piston_thickness_m: f64,
    /// Piston rod diameter.
    pub piston_rod_m: f64,
    /// Crosshead (slipper) length.
    pub crosshead_length_m: f64,
    /// Distance between the slide bars.
    pub bars_apart_m: f64,
    /// Outer diameter of the big end.
    pub big_end_m: f64,
    /// Outer diameter of the small end.
    pub small_end_m: f64,
    /// Depth of the rod's shank.
    pub rod_depth_m: f64,
    /// Crank pin diameter.
    pub crank_pin_m: f64,
    /// Axle diameter.
    pub axle_m: f64,
}

impl CylinderBody {
    /// Covers and piston from a clearance chain, exactly; ends, crosshead and pins in the usual
    /// proportion to the bore, for the look of it only.
    ///
    /// # Errors
    /// Bore or rod out of range; a chain that cannot turn.
    pub fn from_chain(
        chain: &ClearanceChain,
        bore_m: f64,
        piston_rod_m: f64,
    ) -> Result<Self, DrawingError> {
        let z = chain.sizes();
        let pin_to_piston_m = z.pin_to_cone_m + z.cone_to_piston_m;
        // The clearances tell where the covers are from where the piston is.
        let [front, back] = chain.at_dead_centres(Float::Middle)?;
        let ends = chain.dead_centres(Float::Middle)?;
        let body = Self {
            bore_m,
            back_cover_m: ends.back_m + pin_to_piston_m - back.back_m,
            front_cover_m: ends.front_m + pin_to_piston_m + z.piston_thickness_m + front.front_m,
            pin_to_piston_m,
            piston_thickness_m: z.piston_thickness_m,
            piston_rod_m,
            crosshead_length_m: 0.85 * bore_m,
            bars_apart_m: 0.60 * bore_m,
            big_end_m: 0.68 * bore_m,
            small_end_m: 0.40 * bore_m,
            rod_depth_m: 0.24 * bore_m,
            crank_pin_m: 0.40 * bore_m,
            axle_m: 0.44 * bore_m,
        };
        body.check()?;
        Ok(body)
    }

    pub(super) fn check(&self) -> Result<(), DrawingError> {
        const SIZE: Bound = Bound::new("size of a part to be drawn", "m", 0.005, 5.0);
        const PLACE: Bound = Bound::new("place along the cylinder line", "m", 0.0, 20.0);
        for size in [
            self.bore_m,
            self.pin_to_piston_m,
            self.piston_thickness_m,
            self.piston_rod_m,
            self.crosshead_length_m,
            self.bars_apart_m,
            self.big_end_m,
            self.small_end_m,
            self.rod_depth_m,
            self.crank_pin_m,
            self.axle_m,
        ] {
            SIZE.check(size)?;
        }
        PLACE.check(self.back_cover_m)?;
        PLACE.check(self.front_cover_m)?;
        Ok(())
    }
}
