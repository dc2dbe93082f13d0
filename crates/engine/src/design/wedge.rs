//! Wedged joints: what fills the slot, what is hidden in it, the liner, and the forces.

use super::ask::{Ask, because};
use super::plan::plan_for;
use super::press::nothing;
use super::shapes::{Design, Line, Of, Section, Standing};
use crate::judge::Estimate;
use crate::model::{FeatureIx, Measure};
use mechanics::wedge::{
    self as mw, DrawEffort, FixedBrass, Friction, Holding, LinerAdvice, MetalGone, RodEnd, Spread,
    Stack, StackAccount, StackBefore, Taper, Wedge, WedgeGauge, WedgeTravel,
};

/// The calculation behind a wedge.
#[derive(Clone, Debug, PartialEq)]
pub struct WedgeDetail {
    /// The wedge.
    pub wedge: WedgeGauge,
    /// Where it stands (m).
    pub stand_m: f64,
    /// What fills the slot, as gauged.
    pub stack: Stack,
    /// The sum.
    pub account: StackAccount,
    /// Expanded uncertainty of what is unaccounted (m), k = 2.
    pub expanded_m: f64,
    /// Travel as it stands.
    pub travel: WedgeTravel,
    /// Metal gone since made or last put right.
    pub gone: Option<MetalGone>,
    /// The stack as it will be: brasses after their repair, packing out.
    pub after: Stack,
    /// The liner for mid travel, and its corners (m).
    pub liner: Option<(LinerAdvice, f64, f64)>,
    /// The liner off the shelf.
    pub from_shelf: Option<LinerAdvice>,
    /// Does it stay by itself?
    pub holding: Holding,
    /// Force to drive and to start out (N).
    pub forces: Option<(Spread, Spread)>,
}

pub(super) fn design_wedge(ask: &mut Ask<'_>, out: &mut Design) {
    let what = "the wedge";
    let judgement = ask.judgement;
    let engine = judgement.engine();
    let joint = engine.joint(ask.joint);
    let plan = plan_for(judgement, ask.joint);
    let (Some(taper), Some(stand)) = (joint.taper, joint.stand) else {
        out.absent.push(because(what, "the joint has no taper or no stand: write taper, stand, stand-least and stand-most in its [[joint]]"));
        return;
    };
    let size = |f: FeatureIx| judgement.feature(f).size.as_ref().map(Estimate::si);
    let sizes = (size(joint.inner), size(joint.outer), size(stand.feature));
    let (Some(thickness), Some(slot), Some(stand_m)) = sizes else {
        out.absent.push(because(what, "wedge, slot and stand must all be gauged"));
        return;
    };
    // The brasses are those that another joint closes or makes; the rest of the fill is packing.
    let is_brass = |f: FeatureIx| engine.features.iter().any(|g| g.halves.contains(&f));
    let sum = |brass: bool, of: &dyn Fn(FeatureIx) -> Option<f64>| -> Option<f64> {
        joint.fills.iter().filter(|f| is_brass(**f) == brass).map(|f| of(*f)).sum()
    };
    let (Some(brasses_m), Some(packing_m)) = (sum(true, &size), sum(false, &size)) else {
        out.absent.push(nothing(what));
        return;
    };
    let wedge = WedgeGauge {
        slope: taper,
        reference_thickness_m: thickness,
        reference_stand_m: 0.0,
        home_stand_m: stand.least_m,
        slack_stand_m: stand.most_m,
    };
    let stack = Stack { slot_m: slot, brasses_m, packing_m, wedge, stand_m };
    let expanded_m =
        judgement.joint(ask.joint).measure(Measure::Unaccounted).map_or(0.0, |e| 2.0 * e.u());
    let (account, travel) = match (mw::account_for(&stack, expanded_m), wedge.travel(stand_m)) {
        (Ok(a), Ok(t)) => (a, t),
        (Err(e), _) | (_, Err(e)) => {
            out.absent.push(because(what, e));
            return;
        }
    };
    let hidden = account.unaccounted_m > expanded_m;
    let mut lines = vec![
        Line::one("slot", slot, Of::Size),
        Line::one("brasses together", brasses_m, Of::Size),
        Line::one("liners and packing that are known of", packing_m, Of::Size),
        Line::one("wedge where it stands", account.wedge_m, Of::Size).note(format!(
            "{:.1} mm stand, {:.3} mm at none, 1 in {:.0}",
            1e3 * stand_m,
            1e3 * thickness,
            1.0 / taper
        )),
        Line::one("nobody accounts for", account.unaccounted_m, Of::Difference)
            .stands(if account.finding == mw::StackFinding::Closed {
                Standing::Good
            } else {
                Standing::Bad
            })
            .note(format!("± {:.3} mm (k = 2): {}", 1e3 * expanded_m, account.finding.text())),
        Line::one("drive left as it stands", travel.drive_left_m, Of::Length)
            .note(format!("{:.0} % of its travel", 100.0 * travel.share_left)),
        Line::one("take-up left", travel.take_up_left_m, Of::Difference),
        Line::one("take-up for each inch driven", 0.0254 * taper, Of::Difference),
    ];
    if hidden {
        let bare_m = stand_m - account.unaccounted_m / taper;
        lines.push(
            Line::one("with that packing out the wedge would stand at", bare_m, Of::Length)
                .stands(if bare_m < stand.least_m { Standing::Bad } else { Standing::Look })
                .note(if bare_m < stand.least_m {
                    format!(
                        "past home ({:.1} mm): the packing hides that the wedge has no travel left",
                        1e3 * stand.least_m
                    )
                } else {
                    format!(
                        "it looks as if {:.1} mm of travel were left; really {:.1} mm",
                        1e3 * travel.drive_left_m,
                        1e3 * (bare_m - stand.least_m)
                    )
                }),
        );
    }
    out.sections.push(Section::new("what fills the slot", lines));
    let gone = gone(ask, &stack, account.unaccounted_m.max(0.0), expanded_m, out);
    // After the repair: brasses as the machine-to list makes them, all packing out.
    let finished = |f: FeatureIx| plan.finished_m(judgement, f);
    let after =
        Stack { brasses_m: sum(true, &finished).unwrap_or(brasses_m), packing_m: 0.0, ..stack };
    let liner = match mw::liner_for_mid_travel(&after) {
        Ok(advice) => {
            // Corners: everything in the slot as far out as it may be.
            let u = judgement.joint(ask.joint).measure(Measure::Unaccounted).map_or(0.0, |e| e.u());
            let holds = engine.workshop.holds(crate::model::Way::Filing);
            let brass_count = joint.fills.iter().filter(|f| is_brass(**f)).count() as f64;
            let corner = 2.0 * u.hypot(holds * brass_count.sqrt());
            let mut lines = vec![
                Line::one("brasses after their repair", after.brasses_m, Of::Size).note(format!(
                    "{:+.3} mm against now",
                    1e3 * (after.brasses_m - brasses_m)
                )),
                Line::one("liner in all, all packing out", advice.liner_m, Of::Size).note(
                    "puts the wedge at mid travel; one piece, flat and parallel, not a pile of shims",
                ),
                Line::band(
                    "it may come to, once the brasses are finished and gauged",
                    advice.liner_m - corner,
                    advice.liner_m + corner,
                    Of::Size,
                ),
                Line::one("more than the liners known of by", advice.liner_m - packing_m, Of::Difference)
                    .note(format!(
                        "{:+.3} mm with the brasses as they are now",
                        1e3 * (advice.liner_m - packing_m + after.brasses_m - brasses_m)
                    )),
            ];
            lines.extend(rod_lines(ask, &finished, advice.liner_m));
            lines.push(Line::one("the wedge then stands", advice.stand_m, Of::Length));
            lines.push(
                Line::one("take-up left then", advice.travel.take_up_left_m, Of::Difference)
                    .note(format!("{:.0} % of its travel", 100.0 * advice.travel.share_left)),
            );
            out.sections.push(Section::making("the liner", lines));
            Some((advice, advice.liner_m - corner, advice.liner_m + corner))
        }
        Err(e) => {
            out.absent.push(because("the liner for mid travel", e));
            None
        }
    };
    let from_shelf = shelf(ask, &after, out);
    let friction = ask.friction((0.08, 0.12, 0.18), "greased steel or bronze on steel");
    let spread = Friction::new(friction.0, friction.1, friction.2);
    let (holding, forces) = match Taper::from_slope(taper).and_then(|t| Ok((t, spread?))) {
        Ok((t, f)) => {
            let w = Wedge::one_sided(t, f);
            let holding = mw::holding(&w);
            (holding, force_lines(ask, &w, holding, out))
        }
        Err(e) => {
            out.absent.push(because("forces on the wedge", e));
            return;
        }
    };
    out.caution("a wedge under load can let go at once: chock and support first, hands clear of the slot, eye protection when it is struck");
    out.not_considered.push("shock and loads that reverse: the forces are those of statics");
    out.detail.wedge = Some(Box::new(WedgeDetail {
        wedge,
        stand_m,
        stack,
        account,
        expanded_m,
        travel,
        gone,
        after,
        liner,
        from_shelf,
        holding,
        forces,
    }));
}

fn gone(
    ask: &mut Ask<'_>,
    stack: &Stack,
    found_m: f64,
    expanded_m: f64,
    out: &mut Design,
) -> Option<MetalGone> {
    let what = "metal really gone";
    let judgement = ask.judgement;
    let engine = judgement.engine();
    let joint = engine.joint(ask.joint);
    let stand = joint.stand?;
    let (mut since_last, mut since_made) = (true, true);
    let mut before = |f: FeatureIx| {
        let last = judgement.feature(f).last.as_ref().map(Estimate::si);
        let made = engine.feature(f).as_made.as_ref().map(|q| q.si());
        since_last &= last.is_some();
        since_made &= last.is_none();
        last.or(made)
    };
    let packing: Option<f64> = joint
        .fills
        .iter()
        .filter(|f| !engine.features.iter().any(|g| g.halves.contains(f)))
        .map(|f| before(*f))
        .sum();
    let (slot, stand_m) = (before(joint.outer), before(stand.feature));
    let (Some(packing_m), Some(slot_m), Some(stand_m)) = (packing, slot, stand_m) else {
        out.absent
            .push(because(what, "sizes as made or last time are wanted of slot, stand and liners"));
        return None;
    };
    match mw::metal_gone(&StackBefore { slot_m, packing_m, stand_m }, stack, found_m) {
        Ok(g) => {
            let since = if since_last {
                "since last time"
            } else if since_made {
                "since made"
            } else {
                "since last time, or made where no size was kept"
            };
            out.sections.push(Section::new(
                "metal gone from the brasses",
                vec![
                    Line::one("the wedge shows", g.shown_by_wedge_m, Of::Difference).note(since),
                    Line::one("packing put in since hides", g.hidden_by_packing_m, Of::Difference),
                    Line::one("the slot has grown", g.slot_grown_m, Of::Difference),
                    Line::one(
                        "really gone from brasses and joint faces",
                        g.from_brasses_m,
                        Of::Difference,
                    )
                    .note(format!(
                        "± {:.3} mm (k = 2), and what the sizes then are in doubt",
                        1e3 * expanded_m
                    ))
                    .stands(Standing::Look),
                ],
            ));
            Some(g)
        }
        Err(e) => {
            out.absent.push(because(what, e));
            None
        }
    }
}

/// How much of the liner goes behind the fixed brass, so that the bearing's centre stands where the
/// rod was made to have it, and how much behind the wedge.
fn rod_lines(
    ask: &Ask<'_>,
    finished: &dyn Fn(FeatureIx) -> Option<f64>,
    liner_m: f64,
) -> Vec<Line> {
    let engine = ask.judgement.engine();
    let joint = engine.joint(ask.joint);
    let made = |f: FeatureIx| engine.feature(f).as_made.as_ref().map(|q| q.si());
    let bearing = engine.features.iter().find(|f| f.halves.iter().any(|h| joint.fills.contains(h)));
    let rest: Option<f64> = joint
        .fills
        .iter()
        .filter(|f| !engine.features.iter().any(|g| g.halves.contains(f)))
        .map(|f| made(*f))
        .sum();
    let hold = bearing.and_then(|b| {
        let fixed = *b.halves.first()?;
        let bore_m = b.as_made.as_ref()?.si();
        // With the joint closed a half is its crown and half the bore together.
        let end = |height_m: f64, liner_m: f64| RodEnd {
            fixed: FixedBrass::ByStrap,
            liner_m,
            crown_m: height_m - 0.5 * bore_m,
            bore_m,
        };
        let before = end(made(fixed)?, rest?);
        mw::liner_to_hold_centre_m(&before, &end(finished(fixed)?, 0.0)).ok()
    });
    let Some(hold) = hold else { return Vec::new() };
    let behind_fixed = hold.min(liner_m);
    vec![
        Line::one("of it behind the fixed brass", behind_fixed, Of::Size)
            .note("brings the bearing's centre, and the rod's length, back to as made"),
        Line::one("and behind the wedge", liner_m - behind_fixed, Of::Size)
            .note("moves no centre; every tenth changed over moves rod centres and piston clearance by a tenth: see `pinchbar try`"),
    ]
}

fn shelf(ask: &mut Ask<'_>, after: &Stack, out: &mut Design) -> Option<LinerAdvice> {
    let liners = ask.maybe_many("liners")?;
    match mw::liner_from_stock(after, liners) {
        Ok(Some(a)) => {
            out.sections.push(Section::new(
                "off the shelf",
                vec![Line::one("nearest liner", a.liner_m, Of::Size).note(format!(
                    "the wedge would stand {:.1} mm, {:.0} % of its travel left",
                    1e3 * a.stand_m,
                    100.0 * a.travel.share_left
                ))],
            ));
            Some(a)
        }
        Ok(None) => {
            out.absent.push(because(
                "a liner off the shelf",
                "none on the shelf brings the wedge within its travel",
            ));
            None
        }
        Err(e) => {
            out.absent.push(because("a liner off the shelf", e));
            None
        }
    }
}

fn force_lines(
    ask: &mut Ask<'_>,
    wedge: &Wedge,
    holding: Holding,
    out: &mut Design,
) -> Option<(Spread, Spread)> {
    let what = "forces on the wedge";
    let mut lines =
        vec![Line::words("by itself it", holding.text()).stands(if holding == Holding::Holds {
            Standing::Good
        } else {
            Standing::Bad
        })];
    let Some(preload) = ask.one("preload") else {
        out.sections.push(Section::new("forces, at low, likely and high friction", lines));
        out.absent.push(ask.absent(what));
        return None;
    };
    let forces = drive_and_draw(ask, wedge, (preload, what, "to drive it"), &mut lines, out);
    if forces.is_some() {
        out.sections.push(Section::new("forces, at low, likely and high friction", lines));
    }
    forces
}

/// Force to drive a wedge or cotter for a preload and to start it out again, and what the duty says
/// it took. `said` is the preload (N), what is worked out, and the words for driving it.
pub(super) fn drive_and_draw(
    ask: &mut Ask<'_>,
    wedge: &Wedge,
    said: (f64, &'static str, &'static str),
    lines: &mut Vec<Line>,
    out: &mut Design,
) -> Option<(Spread, Spread)> {
    let (preload, what, to_drive) = said;
    let both = mw::drive_force_n(wedge, preload)
        .and_then(|d| Ok((d, mw::start_out_force_n(wedge, preload)?)));
    match both {
        Ok((drive, start)) => {
            let three = |s: &Spread| (s.at_low, s.at_likely, s.at_high);
            lines.push(Line::one("for a preload of", preload, Of::Force));
            lines.push(Line::spread(to_drive, three(&drive), Of::Force));
            lines.push(Line::spread("to start it out", three(&start), Of::Force));
            if let Some(seen) = ask.maybe("drawn-with")
                && let Ok(effort) = mw::judge_draw_effort(wedge, preload, seen)
            {
                lines.push(
                    Line::one("it was started out with", seen, Of::Force)
                        .note(effort.text())
                        .stands(if effort == DrawEffort::AsFrictionHasIt {
                            Standing::Good
                        } else {
                            Standing::Look
                        }),
                );
            }
            Some((drive, start))
        }
        Err(e) => {
            out.absent.push(because(what, e));
            None
        }
    }
}
