//! Piston clearances as they are shown.

use super::super::build::{budget, limit_view};
use super::super::figure::Figure;
use super::super::shapes::EffectView;
use super::shapes::*;
use super::{difference_to, shown_to};
use crate::judge::Judgement;
use crate::motion::{
    BumpCheck, Centring, ClearancePart, Clearances, EndClearance, From, Notes, PistonEffect,
    bump_check, clearances, field_of,
};
use mechanics::motion::{BumpFinding, Contributor, Fault, SideEffect};

/// Contributors shown; the rest are too small to act on.
const MOST_CULPRITS: usize = 5;

const CAUTIONS: &[&str] = &[
    "Cold sizes, at 20 degC: expansion of cylinder and rod when hot, water and the spring of parts under load come off these clearances. What is needed for them the responsible engineer says.",
    "Prove it before steam: bar the engine a full turn both ways by hand with drain cocks open, and mark the bars.",
];

/// Clearances of every cylinder.
pub fn clearances_view(judgement: &Judgement) -> ClearancesView {
    let engine = judgement.engine();
    let mut missing = Vec::new();
    let mut cylinders = Vec::new();
    for (at, c) in engine.motion.cylinders.iter().enumerate() {
        match clearances(judgement, at) {
            Ok(found) => {
                let bump = match bump_check(judgement, at) {
                    Ok(bump) => bump,
                    Err(e) => {
                        missing.push(format!("cylinder {}: {e}", c.id));
                        None
                    }
                };
                cylinders.push(cylinder(judgement, &c.id, &found, bump.as_ref()));
            }
            Err(e) => missing.push(format!("cylinder {}: {e}", c.id)),
        }
    }
    ClearancesView { cylinders, missing, cautions: CAUTIONS.to_vec() }
}

fn cylinder(
    judgement: &Judgement,
    id: &str,
    c: &Clearances,
    bump: Option<&BumpCheck>,
) -> CylinderClearanceView {
    let mut notes = Notes::clone(&c.inputs.notes);
    if let Some(b) = bump {
        notes.take(&b.notes);
    }
    CylinderClearanceView {
        cylinder: id.to_owned(),
        stroke: shown_to(c.stroke_m, 1e-5),
        ends: c.ends.iter().map(|e| end(judgement, c, e)).collect(),
        correlation: c.correlation,
        bump: bump.map(bump_view),
        notes: notes.words(judgement.engine()),
    }
}

fn end(judgement: &Judgement, c: &Clearances, e: &EndClearance) -> EndView {
    use crate::motion::End;
    let (least, greatest, drawn) = match e.end {
        End::Front => (c.worst.front_least_m, c.worst.front_greatest_m, &c.monte_carlo.front),
        End::Back => (c.worst.back_least_m, c.worst.back_greatest_m, &c.monte_carlo.back),
    };
    EndView {
        end: e.end.word(),
        clearance: Figure::size(&e.middle),
        slack_taken_up: shown_to(e.slack_up_m, e.middle.u()),
        as_made: e.as_made_m.map(|m| shown_to(m, 1e-5)),
        verdict: e.verdict.word(),
        refit_verdict: e.refit_verdict.word(),
        limits: e.limits.iter().map(|l| limit_view(judgement.engine(), l)).collect(),
        worst_least: shown_to(least, e.middle.u()),
        worst_greatest: shown_to(greatest, e.middle.u()),
        drawn_low: shown_to(drawn.low_m, e.middle.u()),
        drawn_high: shown_to(drawn.high_m, e.middle.u()),
        drawn_mean: Figure::of_size(drawn.mean_m, Some(drawn.standard_m)),
        drawn_below_percent: 100.0 * drawn.below_least,
        sizes: e.parts.iter().map(size_part).collect(),
        budget: budget(judgement, Some(&e.middle)),
    }
}

fn size_part(p: &ClearancePart) -> SizePartView {
    let u = p.size_u_m;
    SizePartView {
        size: p.contributor.words(),
        field: field_of(p.contributor),
        value: Figure::of_size(p.value_m, Some(u)),
        per_size: p.partial,
        u: difference_to(p.u_m, (p.u_m / 20.0).max(5e-7)),
    }
}

fn bump_view(b: &BumpCheck) -> BumpView {
    let r = &b.report;
    let u = Some(b.mark_standard_m);
    let culprits = culprits(&r.findings);
    let words = match culprits.first() {
        Some(c) if c.by.is_none() => {
            format!("marks and sizes agree: nothing wrong with {:.0} %", 100.0 * c.probability)
        }
        Some(c) => {
            let which = if c.what.len() > 1 { "one of these, measure again: " } else { "" };
            format!("marks and sizes do not agree; look first at {which}{}", c.what.join(", "))
        }
        None => String::new(),
    };
    BumpView {
        marks: b.marks.to_vec(),
        front: Figure::of_size(r.front_m, u),
        back: Figure::of_size(r.back_m, u),
        stroke: Figure::of_size(r.stroke_m, u),
        misfit: [0, 1, 2]
            .map(|k| Figure::of_difference(r.misfit_m[k], Some(r.misfit_standard_m[k])))
            .to_vec(),
        by_chance: r.misfit_p_value,
        words,
        culprits,
        left_over: r.left_over_p_value,
        priors: b.priors.clone(),
    }
}

/// Explanations, those that the marks cannot tell apart as one.
fn culprits(findings: &[BumpFinding]) -> Vec<CulpritView> {
    let mut told: Vec<Fault> = Vec::new();
    let mut out = Vec::new();
    for f in findings {
        if told.contains(&f.fault) {
            continue;
        }
        let group: Vec<&BumpFinding> = findings
            .iter()
            .filter(|o| o.fault == f.fault || f.not_told_from.contains(&o.fault))
            .collect();
        told.extend(group.iter().map(|o| o.fault));
        out.push(CulpritView {
            what: group.iter().map(|o| o.fault.words()).collect(),
            probability: group.iter().map(|o| o.probability).sum(),
            odds: f.odds_to_none,
            by: (f.fault != Fault::None)
                .then(|| Figure::of_difference(f.size_m, Some(f.size_standard_m))),
        });
    }
    out.sort_by(|a, b| b.probability.total_cmp(&a.probability));
    out.truncate(MOST_CULPRITS);
    out
}

/// Ways to centre a piston.
pub fn centre_view(judgement: &Judgement, c: &Centring) -> CentreView {
    let engine = judgement.engine();
    let size = |m: f64| shown_to(m, 1e-5);
    CentreView {
        cylinder: engine.motion.cylinders[c.cylinder].id.clone(),
        from: match c.from {
            From::Chain => "the sizes as read",
            From::BumpTest => "the bump test",
        },
        front: size(c.front_m),
        back: size(c.back_m),
        wanted: difference_to(c.wanted_m, 1e-5),
        ways: c
            .ways
            .iter()
            .map(|w| CentreWayView {
                change: w.change.contributor.words(),
                by: difference_to(w.change.change_m, 1e-5),
                direction: direction(w.change.contributor, w.change.change_m),
                possible: w.change.possible,
                front: size(w.change.front_m),
                back: size(w.change.back_m),
                elsewhere: w.change.side_effects.iter().map(side_effect).collect(),
                joints: w.joints.iter().map(|j| engine.joint(*j).id.clone()).collect(),
                chains: w.chains.iter().map(|j| engine.chain(*j).id.clone()).collect(),
            })
            .collect(),
        notes: c.notes.words(engine),
    }
}

fn direction(contributor: Contributor, by_m: f64) -> &'static str {
    use Contributor as C;
    let more = by_m > 0.0;
    let pick = |plus: &'static str, minus: &'static str| if more { plus } else { minus };
    match contributor {
        C::RodCentres | C::BigEndTakeUp | C::SmallEndTakeUp => pick("rod longer", "rod shorter"),
        C::ConeToPiston => pick("piston forward on its rod", "piston back on its rod"),
        C::AxleFore => pick("axle forward", "axle back"),
        C::FrontCoverSpigot | C::BackCoverSpigot => pick("deeper", "shallower"),
        _ => pick("thicker", "thinner"),
    }
}

fn side_effect(s: &SideEffect) -> String {
    let by = difference_to(s.amount_m(), 1e-5);
    format!("{} (by {})", s.words(), by.both())
}

/// A piston clearance that a trial moves.
pub(in crate::view) fn piston_effect(judgement: &Judgement, e: &PistonEffect) -> EffectView {
    let id = &judgement.engine().motion.cylinders[e.cylinder].id;
    EffectView {
        id: format!("{id} {}", e.end.word()),
        measure: "piston clearance",
        before: e.before.as_ref().map(Figure::size),
        after: e.after.as_ref().map(Figure::size),
        moves: e
            .before
            .as_ref()
            .zip(e.after.as_ref())
            .map(|(b, a)| difference_to(a.si() - b.si(), 1e-6)),
        verdict_before: e.verdict_before.word(),
        verdict_after: e.verdict_after.word(),
        probability: e.probability,
    }
}
