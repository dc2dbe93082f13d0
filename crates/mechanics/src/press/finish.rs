//! Interference lost to the smoothing of the surfaces.

use super::PressError;
use super::error::need;

/// Diametral interference (m) lost when the surfaces are pressed smooth.
///
/// `loss = 0.8 (Rz_hub + Rz_pin)`: each surface is smoothed by 0.4 Rz on each side.
///
/// Valid range: turned or ground surfaces pressed or shrunk together. Source: DIN 7190-1:2017
/// (Glättung), from memory. Roughness in metres, not micrometres.
///
/// # Errors
/// [`PressError::BadNumber`] for a roughness that is negative, not finite, or above 1 mm.
pub fn smoothing_loss_m(hub_rz_m: f64, pin_rz_m: f64) -> Result<f64, PressError> {
    for (what, value) in [("roughness of the hub", hub_rz_m), ("roughness of the pin", pin_rz_m)] {
        need(what, value, "m", (0.0..=1e-3).contains(&value), "from 0 to 0.001")?;
    }
    Ok(0.8 * (hub_rz_m + pin_rz_m))
}
