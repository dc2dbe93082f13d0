//! Sliding joints and flat fits: liners, re-metalled slippers, pressure on the bars.

use super::ask::{Ask, because};
use super::film;
use super::metal;
use super::plan::{Plan, judgement_size};
use super::shapes::{Design, Line, Of, Section, Standing};
use super::wanted::{interference, limit};
use crate::model::{Measure, RepairKind, When};

pub(super) fn design_slide(ask: &mut Ask<'_>, plan: &Plan, out: &mut Design) {
    let judgement = ask.judgement;
    let engine = judgement.engine();
    let joint = engine.joint(ask.joint);
    liner(ask, plan, out);
    if plan.repair == RepairKind::ReMetal {
        // A gap is metalled on both its faces, and so is a crosshead over its slippers.
        metal::pour_flat(ask, 2.0, out);
    }
    let band = |f| {
        plan.target(f).map(|t| (t.to_m - t.tolerance_m, t.to_m + t.tolerance_m)).or_else(|| {
            let e = judgement.feature(f).size.as_ref()?;
            Some((e.si() - 2.0 * e.u(), e.si() + 2.0 * e.u()))
        })
    };
    let (Some(inner), Some(outer)) = (band(joint.inner), band(joint.outer)) else {
        out.absent.push(because("clearance when done", "both faces must be gauged"));
        return;
    };
    let (least, most) = (outer.0 - inner.1, outer.1 - inner.0);
    let mut lines =
        vec![Line::band("clearance when done", least, most, Of::Difference).note("worst corners")];
    if let Some((low, high)) = limit(&joint.limits, Measure::Clearance, When::Refit)
        .and_then(|l| Some((l.min_si()?, l.max_si()?)))
    {
        let inside = least >= low && most <= high;
        lines.push(
            Line::band("wanted when put back", low, high, Of::Difference)
                .stands(if inside { Standing::Good } else { Standing::Look })
                .note(if inside {
                    "every corner lies inside"
                } else {
                    "a corner lies outside: finish the one and make the other to suit"
                }),
        );
    }
    out.sections.push(Section::new("clearance", lines));
    if ["load", "rubbing-speed", "width"].iter().any(|n| ask.has(n)) {
        film::duty(ask, None, out);
    }
    let _ = ask.absent("");
}

/// What a liner must be: half of what each face has to give up when both are lined, all of it
/// when one is.
fn liner(ask: &mut Ask<'_>, plan: &Plan, out: &mut Design) {
    if plan.repair != RepairKind::Line {
        return;
    }
    let engine = ask.judgement.engine();
    let joint = engine.joint(ask.joint);
    for f in [joint.inner, joint.outer] {
        let (Some(t), Some(now)) = (plan.target(f), judgement_size(ask.judgement, f)) else {
            continue;
        };
        let needs = (t.to_m - now).abs();
        let mut lines =
            vec![Line::one("the gap is to close by", needs, Of::Difference).note(format!(
                "from {:.3} to {:.3} mm",
                1e3 * now,
                1e3 * t.to_m
            ))];
        match ask.maybe("metal-thickness") {
            Some(liner) => {
                let machined = 2.0 * liner - needs;
                lines.push(
                    Line::one("liner on each face", liner, Of::Length)
                        .note("one piece, bedded all over and secured as the engineer says"),
                );
                lines.push(
                    Line::one("machine off the two faces together first", machined, Of::Difference)
                        .stands(if machined >= 0.0 { Standing::Plain } else { Standing::Bad })
                        .note(if machined >= 0.0 { "so that the liners come flush to the size" } else { "the liners are thinner than the gap has to close: thicker ones are wanted" }),
                );
                lines.push(
                    Line::one("one face lined only: machine off", liner - needs, Of::Difference)
                        .stands(if liner >= needs { Standing::Plain } else { Standing::Look }),
                );
            }
            None => {
                lines.push(Line::one("liner on one face alone, not machined", needs, Of::Size));
                lines.push(Line::one("or on each of two faces", 0.5 * needs, Of::Size).note("thin liners do not stay: machine the faces back for a thicker one; metal-thickness in the duty gives the depths"));
            }
        }
        let name = format!("lining {}", engine.feature(f).name);
        out.sections.push(Section::making(&name, lines));
        if let Some(fit) = limit(&joint.limits, Measure::Clearance, When::Refit)
            && fit.min_si().is_none()
        {
            out.absent
                .push(because("the least clearance", "the limit for putting back has no least"));
        }
    }
}

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
    out.absent.push(because(
        "forces and stresses",
        "the faces are flat: nothing here models how they spring",
    ));
}
