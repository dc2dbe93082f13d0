//! Piston clearances among the verdicts of an engine, and what a repair does to them.

use super::super::build::{limit_view, limit_words};
use super::super::figure::Figure;
use super::super::shapes::{PistonCounts, PistonLine};
use super::{difference_to, shown_to};
use crate::judge::{Judgement, Verdict};
use crate::model::{Engine, FeatureIx, When};
use crate::motion::{End, EndClearance, PistonEffect, piston_ends};

/// Sizes named as the source of the doubt.
const MOST_SIZES: usize = 3;

/// Every end of every cylinder, worst first: beyond, near, cannot tell, within; in each the least
/// room left first. A cylinder that is not described in full cannot be told.
pub(in crate::view) fn piston_lines(judgement: &Judgement) -> Vec<PistonLine> {
    let engine = judgement.engine();
    let mut found: Vec<(Verdict, f64, PistonLine)> = Vec::new();
    for (at, c) in engine.motion.cylinders.iter().enumerate() {
        match piston_ends(judgement, at) {
            Ok(ends) => {
                for e in &ends.ends {
                    let margin = e
                        .limits
                        .iter()
                        .filter(|l| l.when == When::Service && l.margin_si.is_finite())
                        .map(|l| l.margin_si)
                        .fold(f64::INFINITY, f64::min);
                    found.push((e.verdict, margin, line(judgement, &c.id, e)));
                }
            }
            Err(why) => {
                let missing: Vec<&str> = why.missing().iter().map(|m| m.what.as_str()).collect();
                let because = if missing.is_empty() {
                    why.to_string()
                } else {
                    format!("not described: {}", missing.join(", "))
                };
                for end in [End::Front, End::Back] {
                    let judged = !c.limits(end).is_empty();
                    let verdict = if judged { Verdict::CannotTell } else { Verdict::NoLimit };
                    found.push((verdict, f64::INFINITY, unknown(&c.id, end, verdict, &because)));
                }
            }
        }
    }
    found.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)));
    found.into_iter().map(|(_, _, line)| line).collect()
}

fn name(cylinder: &str, end: End) -> String {
    format!("{cylinder} piston to {} cover", end.word())
}

fn line(judgement: &Judgement, cylinder: &str, e: &EndClearance) -> PistonLine {
    let engine = judgement.engine();
    let deciding = e
        .limits
        .iter()
        .filter(|l| l.when == When::Service && l.verdict == e.verdict)
        .min_by(|a, b| a.margin_si.total_cmp(&b.margin_si));
    PistonLine {
        id: format!("{cylinder} {}", e.end.word()),
        cylinder: cylinder.to_owned(),
        end: e.end.word(),
        name: name(cylinder, e.end),
        verdict: e.verdict.word(),
        refit_verdict: e.refit_verdict.word(),
        clearance: Some(Figure::size(&e.middle)),
        slack_taken_up: Some(shown_to(e.slack_up_m, e.middle.u())),
        as_made: e.as_made_m.map(|m| shown_to(m, 1e-5)),
        change: e.as_made_m.map(|m| difference_to(e.middle.si() - m, e.middle.u())),
        because: if e.ungauged.is_empty() || deciding.is_none() {
            deciding.map_or_else(String::new, |l| limit_words(engine, l))
        } else {
            not_gauged(engine, &e.ungauged)
        },
        limits: e.limits.iter().map(|l| limit_view(engine, l)).collect(),
        doubt_from: e
            .parts
            .iter()
            .filter(|p| 0.0 < p.u_m)
            .take(MOST_SIZES)
            .map(|p| p.contributor.words().to_owned())
            .collect(),
    }
}

fn not_gauged(engine: &Engine, features: &[FeatureIx]) -> String {
    let named: Vec<&str> =
        features.iter().take(MOST_SIZES).map(|f| engine.feature(*f).id.as_str()).collect();
    let more = features.len() - named.len();
    let names = named.join(", ");
    if more == 0 {
        format!("not gauged: {names}")
    } else {
        format!("not gauged: {names} and {more} more")
    }
}

fn unknown(cylinder: &str, end: End, verdict: Verdict, because: &str) -> PistonLine {
    PistonLine {
        id: format!("{cylinder} {}", end.word()),
        cylinder: cylinder.to_owned(),
        end: end.word(),
        name: name(cylinder, end),
        verdict: verdict.word(),
        refit_verdict: verdict.word(),
        clearance: None,
        slack_taken_up: None,
        as_made: None,
        change: None,
        because: because.to_owned(),
        limits: Vec::new(),
        doubt_from: Vec::new(),
    }
}

/// How many of each verdict.
pub(in crate::view) fn piston_counts(lines: &[PistonLine]) -> PistonCounts {
    let count = |v: Verdict| lines.iter().filter(|l| l.verdict == v.word()).count();
    PistonCounts {
        beyond: count(Verdict::Beyond),
        near: count(Verdict::Near),
        cannot_tell: count(Verdict::CannotTell),
        within: count(Verdict::Within),
        no_limit: count(Verdict::NoLimit),
    }
}

/// What an act does to the pistons, one sentence a cylinder.
pub(in crate::view) fn piston_words(
    judgement: &Judgement,
    act: &str,
    effects: &[PistonEffect],
) -> Vec<String> {
    let engine = judgement.engine();
    let mut out = Vec::new();
    for (at, c) in engine.motion.cylinders.iter().enumerate() {
        let ends: Vec<String> = effects
            .iter()
            .filter(|e| e.cylinder == at && e.moves())
            .map(|e| match (&e.before, &e.after) {
                (Some(before), Some(after)) => {
                    let moved = after.si() - before.si();
                    let more = if 0.0 < moved { "more" } else { "less" };
                    format!(
                        "{} by {} {more}, to {}",
                        e.end.word(),
                        difference_to(moved.abs(), 1e-6).both(),
                        Figure::size(after).both()
                    )
                }
                _ => format!("{} by what cannot be told", e.end.word()),
            })
            .collect();
        if !ends.is_empty() {
            out.push(format!(
                "{act}: this moves the piston clearance of the {} cylinder at the {}",
                c.id,
                ends.join(" and at the ")
            ));
        }
    }
    out
}
