//! Flat-sided parts.

use crate::design::ask::{Ask, because};
use crate::design::plan::Plan;
use crate::design::shapes::{Design, Line, Of, Section};
use crate::design::wanted::interference;
use crate::model::Measure;

/// Flat-sided parts: a ring's formulas do not answer for them.
pub(in crate::design) fn flat_press(ask: &mut Ask<'_>, _plan: &Plan, out: &mut Design) {
    match interference(ask) {
        Ok(w) => out.sections.push(Section::new(
            "fit",
            vec![
                Line::band("interference wanted", w.min_m, w.max_m, Of::Difference),
                match ask.judgement.joint(ask.joint).measure(Measure::Interference) {
                    Some(e) => Line::one("interference as gauged", e.si(), Of::Difference)
                        .note(format!("± {:.3} mm (k = 2)", 2e3 * e.u())),
                    None => {
                        Line::words("interference as gauged", "not to be had from the readings")
                    }
                },
            ],
        )),
        Err(why) => out.absent.push(because("the fit", why)),
    }
    out.absent.push(because(
        "pressure, stress and press force",
        "the faces are flat: the ring formulas do not hold, and how the box spreads is not modelled",
    ));
    out.caution("pressing stores energy: guards, a competent person, nobody in line with the part");
}
