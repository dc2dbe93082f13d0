//! Screws that draw or jack: a wedge wound round a bar.

use std::f64::consts::PI;

use super::error::{Range, WedgeError};
use super::friction::{Friction, Spread};

const DIAMETER: Range = Range::new("mean diameter of the thread", "m", 1e-4, 1.0);
const LEAD: Range = Range::new("lead of the thread", "m", 1e-5, 0.5);
const FLANK: Range = Range::new("flank angle of the thread", "rad", 0.0, 1.0);
const COLLAR: Range = Range::new("mean diameter of the collar", "m", 0.0, 2.0);
const LOAD: Range = Range::new("load on the screw", "N", 0.0, 1e9);

/// A screw under load.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Screw {
    /// Mean diameter of the thread, m.
    pub mean_diameter_m: f64,
    /// Lead, m: pitch times the number of starts.
    pub lead_m: f64,
    /// Angle of the flank to the square, rad: 0 for a square thread, 14.5 degrees for Acme, 30 for
    /// a vee.
    pub flank_rad: f64,
    /// Friction in the thread.
    pub thread: Friction,
    /// Mean diameter of the collar that turns under load, m; 0 where there is none.
    pub collar_diameter_m: f64,
    /// Friction under the collar.
    pub collar: Friction,
}

/// Torque on a screw.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ScrewTorque {
    /// Lead angle, rad.
    pub lead_angle_rad: f64,
    /// To tighten or raise, N m.
    pub raise_n_m: Spread,
    /// To slacken or lower, N m; negative: it runs back by itself.
    pub lower_n_m: Spread,
    /// Work got out over work put in, raising.
    pub efficiency: Spread,
}

/// Torque to raise and lower a load with a screw.
///
/// **Equation.** `T = (F d / 2) (l + pi f d s) / (pi d - f l s) + F fc dc / 2` to raise and
/// `(F d / 2) (pi f d s - l) / (pi d + f l s) + F fc dc / 2` to lower, `s = 1 / cos(flank)`;
/// efficiency `F l / (2 pi T)`. **Units.** SI. **Range.** Denominator positive. **Source.** Shigley's
/// Mechanical Engineering Design, 9th ed. (2011), eqs. 8-1 to 8-6. **Worked value.** 32 mm square
/// double thread of 4 mm pitch, 6.4 kN, friction 0.08, collar 40 mm: 26.18 and 9.77 N m, 0.311
/// (example 8-1, from memory).
///
/// # Errors
///
/// [`WedgeError::OutOfRange`] on the inputs, [`WedgeError::Jams`] when no torque raises it.
pub fn screw_torque(screw: &Screw, load_n: f64) -> Result<ScrewTorque, WedgeError> {
    let d = DIAMETER.check(screw.mean_diameter_m)?;
    let lead = LEAD.check(screw.lead_m)?;
    let secant = 1.0 / FLANK.check(screw.flank_rad)?.cos();
    let collar = COLLAR.check(screw.collar_diameter_m)?;
    let load = LOAD.check(load_n)?;
    let threads = [screw.thread.low(), screw.thread.likely(), screw.thread.high()];
    let collars = [screw.collar.low(), screw.collar.likely(), screw.collar.high()];
    let (mut raise, mut lower, mut efficiency) = ([0.0; 3], [0.0; 3], [0.0; 3]);
    for i in 0..3 {
        let f = threads[i] * secant;
        let under_collar = 0.5 * load * collars[i] * collar;
        let gap = PI * d - f * lead;
        if gap <= 0.0 {
            let angle = (lead / (PI * d)).atan() + f.atan();
            return Err(WedgeError::Jams { angle_deg: angle.to_degrees() });
        }
        let up = (lead + PI * f * d) / gap;
        raise[i] = 0.5 * load * d * up + under_collar;
        lower[i] = 0.5 * load * d * (PI * f * d - lead) / (PI * d + f * lead) + under_collar;
        // Without the load, so that it holds for a load of nothing too.
        efficiency[i] = lead / (PI * (d * up + collars[i] * collar));
    }
    Ok(ScrewTorque {
        lead_angle_rad: (lead / (PI * d)).atan(),
        raise_n_m: Spread::from_three(raise),
        lower_n_m: Spread::from_three(lower),
        efficiency: Spread::from_three(efficiency),
    })
}
