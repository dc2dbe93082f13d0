//! Running bearings: closing, re-metalling, lining with a bush, hot clearance, duty and film.

use super::ask::{Ask, because};
use super::film::{self, FilmCase};
use super::loading::{self, TurnLoad};
use super::metal::{self, PourDetail};
use super::plan::Plan;
use super::shapes::{Design, Line, Of, Section, Standing};
use super::wanted::{clearance_wanted, gauged, limit};
use super::{bush, press, pressure};
use crate::judge::Estimate;
use crate::model::{Measure, RepairKind, When};
use mechanics::bearing;
use mechanics::lining::{
    self as ml, BoreCentre, BorePoint, CleanUp, CleanUpFinding, ClosedBore, Closing, Expansion,
    FixedHalf, HotPair, JointFit, LinedBearing, Seating, Thickness,
};
use std::f64::consts::{FRAC_PI_2, PI, TAU};

/// Sizes at which the engine's sizes are stated, K.
const COLD_K: f64 = 293.15;

/// The calculation behind a bearing.
#[derive(Clone, Debug, PartialEq)]
pub struct BearingDetail {
    /// Journal when done, least and most (m).
    pub journal_m: (f64, f64),
    /// Bore when done, least and most (m).
    pub bore_m: (f64, f64),
    /// A split bearing closed: what is filed, the bore that then cleans up, and whether it bores
    /// clean at the size to be made.
    pub closed: Option<(Closing, ClosedBore, CleanUp)>,
    /// White metal and bronze.
    pub lined: Option<(LinedBearing, Thickness)>,
    /// Re-metalling.
    pub pour: Option<PourDetail>,
    /// The bush that lines it.
    pub bush: Option<bush::BushDetail>,
    /// Clearance at work, least and most (m).
    pub hot_m: Option<(f64, f64)>,
    /// Pressure and speed.
    pub duty: Option<bearing::Duty>,
    /// Load through a turn, from the motion.
    pub turn: Option<TurnLoad>,
    /// Films.
    pub films: Vec<FilmCase>,
    /// Arc of the brass (rad), a whole turn for a ring.
    pub arc_rad: f64,
    /// Split.
    pub split: bool,
}

pub(super) fn design_bearing(ask: &mut Ask<'_>, plan: &Plan, out: &mut Design) {
    let judgement = ask.judgement;
    let engine = judgement.engine();
    let joint = engine.joint(ask.joint);
    let outer = engine.feature(joint.outer);
    let split = !outer.halves.is_empty();
    let band = |f| -> Option<(f64, f64)> {
        if let Some(t) = plan.target(f) {
            return Some((t.to_m - t.tolerance_m, t.to_m + t.tolerance_m));
        }
        let e = judgement.feature(f).size.as_ref()?;
        Some((e.si() - 2.0 * e.u(), e.si() + 2.0 * e.u()))
    };
    let journal = band(joint.inner);
    let mut bore = band(joint.outer);
    let closed_by: f64 = outer
        .halves
        .iter()
        .filter_map(|h| {
            let now = judgement.feature(*h).size.as_ref()?.si();
            Some(now - plan.target(*h)?.to_m)
        })
        .sum();
    let closing = plan.repair == RepairKind::Close && closed_by > 0.0;
    if closing
        && plan.target(joint.outer).is_none()
        && let Some((along, _)) = &judgement.feature(joint.outer).along_and_across
    {
        let u = 2.0 * along.u().hypot(engine.workshop.holds(crate::model::Way::Filing));
        bore = Some((along.si() - closed_by - u, along.si() - closed_by + u));
    }
    let (Some(journal), Some(bore)) = (journal, bore) else {
        out.absent.push(press::nothing("the bearing"));
        return;
    };
    let mid = |b: (f64, f64)| 0.5 * (b.0 + b.1);
    let closed = if closing { close(ask, plan, mid(bore), out) } else { None };
    let crown_m = outer
        .halves
        .iter()
        .filter_map(|h| plan.finished_m(judgement, *h))
        .reduce(f64::min)
        .map(|h| h - 0.5 * mid(bore));
    let metalled = plan.repair == RepairKind::ReMetal;
    let lined = if metalled || ask.has("shell-bore") {
        metal::thickness(ask, mid(bore), crown_m, out)
    } else {
        None
    };
    let pour = if metalled { metal::pour(ask, mid(bore), split, out) } else { None };
    let bush_to_make = match plan.target(joint.outer) {
        Some(target) if plan.repair == RepairKind::Line => bush::design_bush(ask, target, out),
        _ => None,
    };
    if split {
        nip(ask, out);
    }
    let least = bore.0 - journal.1;
    let most = bore.1 - journal.0;
    let mut lines = vec![
        Line::band("clearance when done, cold", least, most, Of::Difference)
            .note("worst corners of journal and bore as they are to be made"),
    ];
    lines.extend(clearance_wanted(
        &joint.limits,
        (least, most),
        "gauge the journal finished and bore to suit",
    ));
    let bush = (plan.repair == RepairKind::Line).then(|| plan.target(joint.outer)).flatten();
    let hot_m = hot(ask, journal, bore, bush.map(|t| t.to_m), &mut lines, out);
    out.sections.push(Section::new("clearance", lines));
    let turn = loading::turn_load(ask, out);
    if let Some(t) = &turn {
        loading::turn_lines(ask, t, out);
    }
    let duty = pressure::duty(ask, Some(mid(journal)), turn.as_ref(), out);
    let films = if duty.is_some() {
        films(ask, (journal, least, most), turn.as_ref(), out)
    } else {
        Vec::new()
    };
    out.detail.bearing = Some(Box::new(BearingDetail {
        journal_m: journal,
        bore_m: bore,
        closed,
        lined,
        pour,
        bush: bush_to_make,
        hot_m,
        duty,
        turn,
        films,
        arc_rad: if split { TAU } else { ask.maybe("arc").unwrap_or(TAU) },
        split,
    }));
}

fn films(
    ask: &mut Ask<'_>,
    (journal, least, most): ((f64, f64), f64, f64),
    turn: Option<&TurnLoad>,
    out: &mut Design,
) -> Vec<FilmCase> {
    let joint = ask.judgement.engine().joint(ask.joint);
    let mut clearances = Vec::new();
    let mut push = |name: &str, m: f64| {
        if m > 1e-6 {
            clearances.push((name.to_owned(), m));
        }
    };
    push("the least clearance", least);
    push("the greatest clearance", most);
    if let Some(worn) =
        limit(&joint.limits, Measure::Clearance, When::Service).and_then(|l| l.max_si())
    {
        push("the clearance at its limit in service", worn);
    }
    if clearances.is_empty() {
        out.absent.push(because("the oil film", "there is no clearance to run in"));
        return Vec::new();
    }
    film::films(ask, 0.5 * (journal.0 + journal.1), &clearances, turn, out)
}

/// Closes a split bearing by what the plan files off its halves, and says whether it bores clean.
fn close(
    ask: &mut Ask<'_>,
    plan: &Plan,
    bore_m: f64,
    out: &mut Design,
) -> Option<(Closing, ClosedBore, CleanUp)> {
    let what = "whether it bores clean when closed";
    let judgement = ask.judgement;
    let engine = judgement.engine();
    let joint = engine.joint(ask.joint);
    let outer = engine.feature(joint.outer);
    let filed = |i: usize| -> Option<f64> {
        let h = *outer.halves.get(i)?;
        Some((judgement.feature(h).size.as_ref()?.si() - plan.target(h)?.to_m).max(0.0))
    };
    let (Some(upper_filed_m), Some(lower_filed_m)) = (filed(0), filed(1)) else {
        out.absent.push(press::nothing(what));
        return None;
    };
    let (readings, _) = gauged(judgement, joint.outer);
    // A two-point diameter tells nothing of the centre: both its ends are taken half of it away.
    let points: Vec<BorePoint> = readings
        .iter()
        .filter_map(|r| Some((r.direction_rad? - outer.closes_at_rad + FRAC_PI_2, 0.5 * r.size_m)))
        .flat_map(|(angle, radius_m)| {
            let angle_rad = angle.rem_euclid(TAU);
            [
                BorePoint { angle_rad, radius_m },
                BorePoint { angle_rad: (angle_rad + PI).rem_euclid(TAU), radius_m },
            ]
        })
        .collect();
    // The halves are named fixed first, so the fixed half is the upper one here.
    let closing = Closing {
        upper_filed_m,
        lower_filed_m,
        least_cut_m: 0.5 * engine.workshop.least_cut_m,
        fixed: FixedHalf::Upper,
    };
    let both = ml::close_bore(&points, &closing)
        .and_then(|c| Ok((c, ml::clean_up(&points, &closing, bore_m, BoreCentre::Free)?)));
    match both {
        Ok((closed, clean)) => {
            let (words, standing) = match clean.finding {
                CleanUpFinding::CleansUp => ("bores clean all round", Standing::Good),
                CleanUpFinding::BarelyCleansUp => (
                    "the tool touches all round, somewhere by less than the least cut",
                    Standing::Look,
                ),
                CleanUpFinding::LeavesOldSurface => {
                    ("does not bore clean: closed only, it runs on its old surface", Standing::Look)
                }
            };
            out.sections.push(Section::making(
                "closing the brasses",
                vec![
                    Line::one("file off each joint face of the fixed half", upper_filed_m, Of::Difference),
                    Line::one("file off each joint face of the moving half", lower_filed_m, Of::Difference)
                        .note("square and in line with the back, blued to a plate"),
                    Line::one("bore across the joint when closed", closed.crown_to_crown_m, Of::Size)
                        .note(format!("closed by {:.3} mm", 1e3 * closed.closed_m)),
                    Line::one("smallest bore that would clean up all round", closed.least_bore_m, Of::Size),
                    Line::words(format!("at {:.3} mm it", 1e3 * bore_m), words)
                        .stands(standing)
                        .note(format!("least cut {:+.3} mm on the radius, at {:.0} deg from the joint", 1e3 * clean.least_cut_m, clean.least_cut_rad.to_degrees())),
                    Line::one("bearing's centre moves towards the fixed half by", upper_filed_m, Of::Difference)
                        .note("it feeds the chains of rod centres and piston clearance: see `pinchbar try`"),
                ],
            ));
            Some((closing, closed, clean))
        }
        Err(e) => {
            out.absent.push(because(what, e));
            None
        }
    }
}

fn nip(ask: &mut Ask<'_>, out: &mut Design) {
    let (Some(gap), Some(nip)) = (ask.maybe("joint-gap"), ask.maybe("nip")) else { return };
    match ml::file_for_nip(gap, nip) {
        Ok(a) => {
            let now = match a.now {
                JointFit::Gap(_) => "a gap",
                JointFit::MetalToMetal => "metal to metal",
                JointFit::Nip(_) => "proud: a nip",
            };
            out.sections.push(Section::making(
                "nip at the joint",
                vec![
                    Line::one(
                        "file off both joint faces of a side together",
                        a.file_m,
                        Of::Difference,
                    )
                    .note(if a.file_m < 0.0 {
                        format!("now {now}; negative: a shim of that thickness is wanting")
                    } else {
                        format!("now {now}")
                    }),
                ],
            ));
        }
        Err(e) => out.absent.push(because("nip at the joint", e)),
    }
}

fn hot(
    ask: &mut Ask<'_>,
    journal: (f64, f64),
    bore: (f64, f64),
    bush_bore_m: Option<f64>,
    lines: &mut Vec<Line>,
    out: &mut Design,
) -> Option<(f64, f64)> {
    let what = "clearance at working heat";
    let joint = ask.judgement.engine().joint(ask.joint);
    let temperatures = (ask.one("journal-hot"), ask.one("bearing-hot"));
    let metals = (ask.material_of(joint.inner), ask.material_of(joint.outer));
    let ((Some(journal_hot_k), Some(bearing_hot_k)), (Some(inner), Some(outer))) =
        (temperatures, metals)
    else {
        out.absent.push(ask.absent(what));
        return None;
    };
    let lined = bush_bore_m.and_then(|bore_m| {
        let name = ask.maybe_text("bush-material")?;
        let wall = ask.maybe("bush-wall")?;
        let m = ask.judgement.engine().materials.iter().find(|m| m.id == name)?;
        Some((m, bore_m + 2.0 * wall, m.poisson?))
    });
    let (metal, seating) = match lined {
        Some((m, outside_m, poisson)) => {
            let housing = Expansion { per_k: outer.expansion_per_k };
            (m, Seating::HeldInHousing { outside_m, housing, poisson })
        }
        None => (outer, Seating::Free),
    };
    let pair = |journal_m| HotPair {
        journal_m,
        journal: Expansion { per_k: inner.expansion_per_k },
        journal_hot_k,
        bearing: Expansion { per_k: metal.expansion_per_k },
        bearing_hot_k,
        cold_k: COLD_K,
        seating,
    };
    let both = ml::hot_clearance_m(&pair(journal.1), bore.0)
        .and_then(|least| Ok((least, ml::hot_clearance_m(&pair(journal.0), bore.1)?)));
    match both {
        Ok((least, most)) => {
            lines.push(
                Line::band("clearance at work, hot", least, most, Of::Difference)
                    .stands(if least > 0.0 { Standing::Plain } else { Standing::Bad })
                    .note(match seating {
                        Seating::Free => format!("{} and {}, free to grow", inner.id, metal.id),
                        _ => {
                            format!("{} and {}, the bush held in {}", inner.id, metal.id, outer.id)
                        }
                    }),
            );
            if let Some((low, high)) = ask.maybe_band("clearance-hot") {
                let nominal =
                    Estimate::new(quantity::Uncertain::exact(0.5 * (journal.0 + journal.1))).si();
                lines.push(
                    Line::band("wanted at work", low, high, Of::Difference)
                        .good_if(least >= low && most <= high),
                );
                let ends = (
                    ml::cold_bore_for_m(&pair(nominal), low),
                    ml::cold_bore_for_m(&pair(nominal), high),
                );
                if let (Ok(a), Ok(b)) = ends {
                    lines.push(
                        Line::band("for that, bore cold to", a, b, Of::Size)
                            .note("on the journal at the middle of its band"),
                    );
                }
            }
            Some((least, most))
        }
        Err(e) => {
            out.absent.push(because(what, e));
            None
        }
    }
}
