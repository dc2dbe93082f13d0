//! Piston-rod cones, taper pins and other cones drawn home: where they seat, how far they still
//! go, and the force.

use std::f64::consts::PI;

use super::error::{Range, WedgeError, check_larger};
use super::friction::{Friction, Spread};
use super::taper::ConeTaper;

const DIAMETER: Range = Range::new("diameter of the cone", "m", 1e-3, 2.0);
const GAP: Range = Range::new("gap", "m", -0.1, 0.5);
const WEAR: Range = Range::new("wear on the diameter", "m", 0.0, 0.05);
const LENGTH: Range = Range::new("length of the cone that bears", "m", 1e-3, 2.0);
const DRAW: Range = Range::new("distance drawn home from hand tight", "m", 0.0, 0.1);
const OUTSIDE: Range = Range::new("outside of the socket", "m", 1e-3, 5.0);
const MODULUS: Range = Range::new("modulus of elasticity", "Pa", 1e9, 1e12);
const POISSON: Range = Range::new("Poisson's ratio", "(ratio)", 0.0, 0.49);
const PRESSURE: Range = Range::new("pressure on the cone", "Pa", 0.0, 5e9);

/// A cone in its socket, as gauged.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ConeSeat {
    /// Diameter of the rod's cone at its large end, m.
    pub rod_large_m: f64,
    /// Diameter of the socket at its mouth, m.
    pub socket_large_m: f64,
    /// Taper of both.
    pub taper: ConeTaper,
    /// From the cone's large end back to the shoulder that would meet the socket's face, m;
    /// `None` where there is no shoulder.
    pub shoulder_m: Option<f64>,
    /// How far the cotter, nut or slot can still draw the rod in from hand tight, m.
    pub draw_m: f64,
}

/// What stops a cone first.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DrawLimit {
    /// The shoulder meets the socket's face.
    Shoulder,
    /// The cotter or nut has no more draw.
    Draw,
}

/// Where a cone seats.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ConeStand {
    /// How far the cone's large end stands out of the mouth, hand tight, m; negative: inside.
    pub stands_out_m: f64,
    /// How far it can still go home before it stops bearing on the cone, m; negative: it already
    /// bears on something else, and the cone is loose.
    pub draw_left_m: f64,
    /// What stops it.
    pub limit: DrawLimit,
    /// Wear on the diameter that uses the draw up, m.
    pub wear_left_m: f64,
}

/// Where a cone seats in its socket and how far it can still go home.
///
/// **Equation.** `stand = (rod large - socket large) n`, taper 1 in `n` on the diameter; the
/// shoulder is `stand + shoulder` from the face. **Units.** m. **Range.** Same taper in both;
/// cones round. **Source.** Own derivation (geometry of a cone).
///
/// # Errors
///
/// [`WedgeError::OutOfRange`] on the sizes.
pub fn cone_stand(seat: &ConeSeat) -> Result<ConeStand, WedgeError> {
    let rod = DIAMETER.check(seat.rod_large_m)?;
    let socket = DIAMETER.check(seat.socket_large_m)?;
    let draw = GAP.check(seat.draw_m)?;
    let stands_out_m = (rod - socket) * seat.taper.n();
    let to_shoulder = seat
        .shoulder_m
        .map(|shoulder| Ok::<f64, WedgeError>(stands_out_m + GAP.check(shoulder)?))
        .transpose()?;
    let (draw_left_m, limit) = match to_shoulder {
        Some(gap) if gap < draw => (gap, DrawLimit::Shoulder),
        _ => (draw, DrawLimit::Draw),
    };
    let wear_left_m = draw_left_m * seat.taper.on_diameter();
    Ok(ConeStand { stands_out_m, draw_left_m, limit, wear_left_m })
}

/// How far a cone goes home for wear on its diameter (rod and socket together), m: `wear n`. One
/// thou on a cone of 1 in 8 is eight thou home.
///
/// # Errors
///
/// [`WedgeError::OutOfRange`] unless the wear is 0 to 50 mm.
pub fn home_for_wear_m(taper: ConeTaper, wear_on_diameter_m: f64) -> Result<f64, WedgeError> {
    Ok(WEAR.check(wear_on_diameter_m)? * taper.n())
}

/// A cone pressed together.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ConeGrip {
    /// Mean diameter of the part that bears, m.
    pub mean_diameter_m: f64,
    /// Length of the part that bears, along the axis, m.
    pub length_m: f64,
    /// Taper.
    pub taper: ConeTaper,
    /// Friction.
    pub friction: Friction,
}

/// Forces along the axis, N.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ConeForce {
    /// To draw it in against this pressure.
    pub draw_in_n: Spread,
    /// To push it out again; negative: it comes out by itself.
    pub push_out_n: Spread,
}

/// Axial force to draw a cone in and to push it out at a pressure on its surface.
///
/// **Equation.** Own derivation. The conical surface is `pi d L / cos a`; its pressure has the
/// axial share `sin a` and friction along it `cos a`, so `in = pi d L p (mu + tan a)`,
/// `out = pi d L p (mu - tan a)`, `a` half the angle of the cone. **Units.** SI. **Range.** Pressure
/// even over the cone. **Source.** As for a taper press fit (textbook relation).
///
/// # Errors
///
/// [`WedgeError::OutOfRange`] on the inputs.
pub fn cone_force_n(grip: &ConeGrip, pressure_pa: f64) -> Result<ConeForce, WedgeError> {
    let pressure = PRESSURE.check(pressure_pa)?;
    let surface =
        PI * DIAMETER.check(grip.mean_diameter_m)? * LENGTH.check(grip.length_m)? * pressure;
    let slope = grip.taper.half_angle_rad().tan();
    let friction = [grip.friction.low(), grip.friction.likely(), grip.friction.high()];
    Ok(ConeForce {
        draw_in_n: Spread::from_three(friction.map(|mu| surface * (mu + slope))),
        push_out_n: Spread::from_three(friction.map(|mu| surface * (mu - slope))),
    })
}

/// Rod and socket as they stretch.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ConeElastic {
    /// Mean diameter of the cone, m.
    pub mean_diameter_m: f64,
    /// Outside diameter of the socket there, m.
    pub socket_outside_m: f64,
    /// Modulus of the rod, Pa (solid rod).
    pub rod_modulus_pa: f64,
    /// Poisson's ratio of the rod.
    pub rod_poisson: f64,
    /// Modulus of the socket, Pa.
    pub socket_modulus_pa: f64,
    /// Poisson's ratio of the socket.
    pub socket_poisson: f64,
}

/// What drawing a cone home does.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ConeGripPressure {
    /// Interference on the diameter, m: draw over `n`.
    pub interference_m: f64,
    /// Pressure on the cone, Pa.
    pub pressure_pa: f64,
    /// Hoop tension in the socket's bore, Pa.
    pub socket_hoop_pa: f64,
}

/// Pressure from drawing a cone home a distance past hand tight.
///
/// **Equation.** `delta = draw / n`; Lamé for a solid rod in a ring of the mean diameter:
/// `p = (delta / d) / [ (1/Eh)((D2+d2)/(D2-d2) + nuh) + (1/Es)(1 - nus) ]`, squares understood; hoop
/// `p (D2+d2)/(D2-d2)`. **Units.** SI. **Range.** Elastic; the cone taken as a cylinder of its mean
/// diameter. **Source.** Lamé, as in Norton, Machine Design. **Worked value.** 0.781 in solid steel
/// in cast iron 3.00 in, 0.0015 in: 15 265 psi.
///
/// # Errors
///
/// [`WedgeError::OutOfRange`] on the inputs, [`WedgeError::NotLarger`] when the socket's outside is
/// not larger than the cone.
pub fn pressure_from_draw(
    elastic: &ConeElastic,
    taper: ConeTaper,
    draw_m: f64,
) -> Result<ConeGripPressure, WedgeError> {
    let d = DIAMETER.check(elastic.mean_diameter_m)?;
    let outside = OUTSIDE.check(elastic.socket_outside_m)?;
    check_larger(("outside of the socket", outside), ("mean diameter of the cone", d))?;
    let (rod, socket) =
        (MODULUS.check(elastic.rod_modulus_pa)?, MODULUS.check(elastic.socket_modulus_pa)?);
    let (rod_nu, socket_nu) =
        (POISSON.check(elastic.rod_poisson)?, POISSON.check(elastic.socket_poisson)?);
    let interference_m = DRAW.check(draw_m)? * taper.on_diameter();
    let ring = (outside * outside + d * d) / (outside * outside - d * d);
    let give = (ring + socket_nu) / socket + (1.0 - rod_nu) / rod;
    let pressure_pa = interference_m / d / give;
    Ok(ConeGripPressure { interference_m, pressure_pa, socket_hoop_pa: pressure_pa * ring })
}
