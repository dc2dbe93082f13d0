//! What temperature and speed do to the interference.

use super::error::need;
use super::{PressError, Section};

/// How a joint runs, against how it was measured.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Running {
    /// Rise of the hub's temperature above that of the measuring (K).
    pub hub_rise_k: f64,
    /// Rise of the pin's temperature above that of the measuring (K).
    pub pin_rise_k: f64,
    /// Angular speed (rad/s).
    pub speed_rad_s: f64,
}

/// Interference and pressure in running.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RunningState {
    /// Interference lost to temperature (m); negative when heat tightens the joint.
    pub lost_to_heat_m: f64,
    /// Interference lost to speed (m).
    pub lost_to_speed_m: f64,
    /// Interference left (m); negative is clearance.
    pub interference_m: f64,
    /// Elastic joint pressure left (Pa).
    pub pressure_pa: f64,
    /// Hoop stress at the hub's bore (Pa), pressure and rotation together.
    pub hub_bore_hoop_pa: f64,
}

/// Interference and pressure of a joint that is warm and turning.
///
/// Heat: `loss = d (alpha_h dT_h - alpha_p dT_p)`. Speed, each member as a free disc of constant
/// thickness: with radii a (joint), b (outside), i (pin bore),
/// hub bore opens `rho w^2 a [(3+nu) b^2 + (1-nu) a^2]/(4 E)`,
/// pin grows `rho w^2 a [(1-nu) a^2 + (3+nu) i^2]/(4 E)`; the loss is twice the difference.
/// Hub bore hoop stress from speed `rho w^2 [(3+nu) b^2 + (1-nu) a^2]/4`.
///
/// A tyre warmed by its brake blocks is the case of heat: the tyre is the hub and is hot, the
/// wheel centre is the pin and is cold. Only the difference matters, and a tyre of the usual
/// shrinkage (about 1 in 1000) has lost all of it some 90 K above its centre.
///
/// Valid range: elastic members, discs (thin against their diameter), constants that do not
/// change with temperature. Source: Timoshenko, *Strength of Materials* II, art. 44 (rotating
/// discs); Kollmann (1984) for the joint; heat from first principles.
///
/// # Errors
/// [`PressError::BadNumber`].
pub fn running(
    section: &Section,
    interference_m: f64,
    how: Running,
) -> Result<RunningState, PressError> {
    section.check_interference(interference_m)?;
    for (what, rise) in [("rise of the hub", how.hub_rise_k), ("rise of the pin", how.pin_rise_k)] {
        need(what, rise, "K", rise.abs() <= 2000.0, "within 2000 K of the measuring temperature")?;
    }
    let speed = how.speed_rad_s;
    need("speed", speed, "rad/s", (0.0..=1e5).contains(&speed), "from 0 to 100000")?;
    let (hub, pin) = (section.hub(), section.pin());
    let joint_m = section.geometry().joint_m;
    let lost_to_heat_m =
        joint_m * (hub.expansion_per_k * how.hub_rise_k - pin.expansion_per_k * how.pin_rise_k);
    let lost_to_speed_m = speed_loss_per_square(section) * how.speed_rad_s.powi(2);
    let left = interference_m - lost_to_heat_m - lost_to_speed_m;
    let pressure_pa = section.elastic_pressure_pa(left);
    let q2 = section.hub_ratio().powi(2);
    let b = 0.5 * section.geometry().hub_outer_m;
    let a = 0.5 * joint_m;
    let from_speed = hub.density_kg_m3
        * how.speed_rad_s.powi(2)
        * ((3.0 + hub.poisson) * b * b + (1.0 - hub.poisson) * a * a)
        / 4.0;
    Ok(RunningState {
        lost_to_heat_m,
        lost_to_speed_m,
        interference_m: left,
        pressure_pa,
        hub_bore_hoop_pa: pressure_pa * (1.0 + q2) / (1.0 - q2) + from_speed,
    })
}

/// The speed (rad/s) at which a joint at even temperature loses contact, or `None` when speed
/// does not loosen it (a pin that grows as fast as its hub).
///
/// `w = sqrt(delta / loss per w^2)`. For a solid pin of the hub's material this is
/// `w^2 = 32 p0/[rho (3+nu) D^2 (1-Q^2)]`, DIN 7190 and Kollmann (from memory).
///
/// # Errors
/// [`PressError::BadNumber`] for an interference that is not finite or is negative.
pub fn loosening_speed_rad_s(
    section: &Section,
    interference_m: f64,
) -> Result<Option<f64>, PressError> {
    need("interference", interference_m, "m", interference_m >= 0.0, "not negative")?;
    let rate = speed_loss_per_square(section);
    Ok((rate > 0.0).then(|| (interference_m / rate).sqrt()))
}

/// How far (K) the hub must be above its measuring temperature for the joint to lose contact at
/// rest, the pin being at `pin_rise_k` above.
///
/// # Errors
/// [`PressError::BadNumber`].
pub fn loosening_temperature_k(
    section: &Section,
    interference_m: f64,
    pin_rise_k: f64,
) -> Result<f64, PressError> {
    need("interference", interference_m, "m", interference_m >= 0.0, "not negative")?;
    need("rise of the pin", pin_rise_k, "K", true, "a number")?;
    let joint_m = section.geometry().joint_m;
    let taken = interference_m / joint_m + section.pin().expansion_per_k * pin_rise_k;
    Ok(taken / section.hub().expansion_per_k)
}

/// Diametral interference lost per square of the angular speed (m s^2).
fn speed_loss_per_square(section: &Section) -> f64 {
    let (hub, pin) = (section.hub(), section.pin());
    let g = section.geometry();
    let (a, b, i) = (0.5 * g.joint_m, 0.5 * g.hub_outer_m, 0.5 * g.pin_bore_m);
    let hub_opens = hub.density_kg_m3 * a / (4.0 * hub.youngs_pa)
        * ((3.0 + hub.poisson) * b * b + (1.0 - hub.poisson) * a * a);
    let pin_grows = pin.density_kg_m3 * a / (4.0 * pin.youngs_pa)
        * ((1.0 - pin.poisson) * a * a + (3.0 + pin.poisson) * i * i);
    2.0 * (hub_opens - pin_grows)
}
