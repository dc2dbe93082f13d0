//! Shear in a taper pin.

use crate::design::ask::{Ask, because};
use crate::design::shapes::{Design, Line, Of, Section};
use mechanics::wedge::{ConeTaper, pin_shear_pa};

/// Shear under the torque given, at the pin's mean diameter.
pub(super) fn shear(
    ask: &mut Ask<'_>,
    large_m: f64,
    taper: ConeTaper,
    out: &mut Design,
) -> Option<f64> {
    let what = "shear in the taper pin";
    let inputs = (ask.one("torque"), ask.one("shaft"), ask.one("length"));
    let allowed = ask.one("shear-allowed");
    let ((Some(torque), Some(shaft_m), Some(length_m)), Some(allowed_pa)) = (inputs, allowed)
    else {
        out.absent.push(ask.absent(what));
        return None;
    };
    let mean_m = large_m - 0.5 * length_m * taper.on_diameter();
    match pin_shear_pa(torque, shaft_m, mean_m) {
        Ok(pa) => {
            out.sections.push(Section::new(
                "the taper pin under the torque given",
                vec![
                    Line::one("mean diameter", mean_m, Of::Size)
                        .note("half its length from the gauge plane"),
                    Line::one("shear in its two sections", pa, Of::Stress)
                        .good_if(pa <= allowed_pa)
                        .note(format!("{:.0} MPa is allowed", 1e-6 * allowed_pa)),
                ],
            ));
            out.caution("a taper pin driven out can fly: drift from the small end, catch it, eye protection");
            Some(pa)
        }
        Err(e) => {
            out.absent.push(because(what, e));
            None
        }
    }
}
