//! Fits of flat faces: a strap on its butt, a cotter in its way.

use super::ask::{Ask, because};
use super::cone;
use super::plan::Plan;
use super::shapes::{Design, Line, Of, Section, Standing};
use super::wanted::interference;
use crate::model::Measure;

/// Fits of flat faces: a strap on its butt, a cotter in its way.
pub(super) fn flat_fit(ask: &mut Ask<'_>, plan: &Plan, out: &mut Design) {
    let wanted = match interference(ask) {
        Ok(w) => w,
        Err(why) => {
            out.absent.push(because("the fit", why));
            return;
        }
    };
    let joint = ask.judgement.engine().joint(ask.joint);
    let mut lines =
        vec![Line::band("interference wanted", wanted.min_m, wanted.max_m, Of::Difference)];
    match ask.judgement.joint(ask.joint).measure(Measure::Interference) {
        Some(e) => {
            let (i, g) = (e.si(), 1.645 * e.u());
            let standing = if i - g >= wanted.min_m && i + g <= wanted.max_m {
                Standing::Good
            } else if i + g < wanted.min_m || i - g > wanted.max_m {
                Standing::Bad
            } else {
                Standing::Look
            };
            lines.push(
                Line::one("interference as gauged", i, Of::Difference)
                    .stands(standing)
                    .note(format!("± {:.3} mm (k = 2)", 2e3 * e.u())),
            );
        }
        None => lines.push(
            Line::words("interference as gauged", "not to be had from the readings")
                .stands(Standing::Look),
        ),
    }
    if let Some(outer) = plan.finished_m(ask.judgement, joint.outer) {
        let guard = ask.judgement.feature(joint.outer).size.as_ref().map_or(0.0, |e| 1.645 * e.u());
        let (low, high) = (outer + wanted.min_m + guard, outer + wanted.max_m - guard);
        if low <= high {
            lines.push(
                Line::band("make the inner to", low, high, Of::Size)
                    .note("its gap as it will be, guards taken off"),
            );
        } else {
            out.absent.push(because(
                "the size of the inner",
                "the gap is not gauged well enough for the interference wanted",
            ));
        }
    }
    out.sections.push(Section::making("the fit", lines));
    if cone::cotter_asked(ask) {
        let with_gib = ask.maybe_text("held-by") == Some("gib and cotter");
        cone::cotter_drive(ask, with_gib, out);
    }
    out.absent.push(because(
        "forces and stresses",
        "the faces are flat: nothing here models how they spring",
    ));
}
