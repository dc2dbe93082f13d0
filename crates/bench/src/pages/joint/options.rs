//! What could be done with a joint, what would follow, and the decision.

use crate::fields::with_unit;
use crate::marks::{encoded, figure, figure_or_dash, pair, verdict};
use crate::pieces::{line, saying};
use crate::snapshot::{JointShown, Judged};
use crate::visit::{Units, Visit};
use engine::model::{JointIx, RepairKind};
use engine::repair::{Trial, parse_act};
use engine::view::{EffectView, OptionView, TrialView, trial_view};
use maud::{Markup, html};

/// Units of a what-if's size.
const WHAT_IF_UNITS: &[(&str, &str)] = &[("mm", "mm"), ("in", "inches"), ("thou", "thou")];

/// What could be done, with what it comes to.
pub(super) fn options(visit: &Visit, all: &[OptionView]) -> Markup {
    let units = visit.units;
    let (can, cannot): (Vec<_>, Vec<_>) = all.iter().partition(|o| o.can_be_done);
    html! {
        @if can.is_empty() { p { "Nothing that can be done was found." } }
        @for o in can {
            details.option open[o.recommended] {
                summary {
                    b { (o.repair) @if o.recommended { ", recommended" } } ": " (o.words)
                    @if let Some(f) = &o.after { "; afterwards " b { (pair(units, f).0) } }
                }
                @if !o.targets.is_empty() {
                    ul.plain {
                        @for t in &o.targets {
                            li {
                                (if t.name.is_empty() { &t.feature } else { &t.name }) " to " (figure(units, &t.to)) " ± " (pair(units, &t.tolerance).0) ", " (t.way)
                                @if let Some(suit) = &t.to_suit { ", to suit the finished " (suit) }
                            }
                        }
                    }
                }
                @if let Some(p) = o.probability { p.quiet { (format!("Inside the limits for putting back with a probability of {:.0} %.", 100.0 * p)) } }
                (moves(units, "Other joints that move", "/joint/", &o.joints))
                (moves(units, "Distances that move", "/chain/", &o.chains))
            }
        }
        @if !cannot.is_empty() {
            details {
                summary { "What cannot be done, and why" }
                ul.plain { @for o in cannot { li { b { (o.repair) } ": " (o.against.join("; ")) } } }
            }
        }
    }
}

fn moves(units: Units, title: &str, to: &str, all: &[EffectView]) -> Markup {
    html! {
        @if !all.is_empty() {
            p { (title) ":" }
            ul.plain {
                @for e in all {
                    li {
                        a href={ (to) (encoded(&e.id)) } { (e.id) } ", " (e.measure)
                        @if let Some(m) = &e.moves { " by " (pair(units, m).0) }
                        @if let (Some(b), Some(a)) = (&e.before, &e.after) { ": " (pair(units, b).0) " to " b { (pair(units, a).0) } }
                        @if e.verdict_before != e.verdict_after { "; " (verdict(e.verdict_before)) " to " (verdict(e.verdict_after)) }
                    }
                }
            }
        }
    }
}

pub(super) fn decide(visit: &Visit, shown: &JointShown) -> Markup {
    let v = &shown.view;
    let best = shown.options.iter().find(|o| o.recommended).map(|o| o.repair);
    let can: Vec<&str> = shown.options.iter().filter(|o| o.can_be_done).map(|o| o.repair).collect();
    saying(
        visit,
        "decided",
        visit.uri.path(),
        &html! {
            input type="hidden" name="joint" value=(v.id);
            label for="repair" { "What will be done" }
            select #repair name="repair" required {
                @if best.is_none() { option value="" { "choose" } }
                @for kind in RepairKind::ALL {
                    option value=(kind.word()) selected[best == Some(kind.word())] {
                        (kind.word())
                        @if best == Some(kind.word()) { " (recommended)" } @else if !can.contains(&kind.word()) { " (not worked out here)" }
                    }
                }
            }
            details {
                summary { "Sizes of your own" }
                p.quiet { "Left empty, they are worked out as above." }
                @for (n, f) in v.features.iter().enumerate() {
                    (line(&format!("make-{n}"), &format!("make.{}", f.id), &format!("{} to", f.id), "", false))
                }
            }
            (line("reason", "reason", "Why", "", false))
            button.main { "Record the decision" }
        },
    )
}

pub(super) fn what_if(visit: &Visit, judged: &Judged, ix: JointIx, shown: &JointShown) -> Markup {
    let engine = judged.judgement.engine();
    let joint = engine.joint(ix);
    let features: Vec<&str> = [joint.inner, joint.outer]
        .into_iter()
        .chain(joint.fills.iter().copied())
        .map(|f| engine.feature(f).id.as_str())
        .collect();
    let split =
        [joint.inner, joint.outer].into_iter().find(|f| engine.feature(*f).halves.len() == 2);
    let now = |id: &str| {
        let size = shown.view.features.iter().find(|f| f.id == id)?.size.as_ref()?;
        Some(pair(visit.units, size).0.to_owned())
    };
    let chosen = visit.asked.get("act");
    let (usual, like) = match visit.units {
        Units::Metric => ("mm", "0.2, 195.8 or 7 11/16 in + 23 thou"),
        Units::Imperial => ("in", "0.008, 7 11/16 or 7 11/16 in + 23 thou"),
    };
    let unit = visit.asked.given("unit").unwrap_or(usual);
    html! {
        form.stack method="get" action={ (visit.uri.path()) "#tried" } {
            label for="act" { "What if we" }
            select #act name="act" {
                @if let Some(bore) = split {
                    @let value = format!("close {}", engine.feature(bore).id);
                    option value=(value) selected[chosen == value] { "close the bearing by" }
                }
                @for f in &features {
                    @let value = format!("make {f}");
                    option value=(value) selected[chosen == value] {
                        "make " (f) " to" @if let Some(now) = now(f) { " (now " (now) ")" }
                    }
                }
                @let value = format!("line {}", joint.id);
                option value=(value) selected[chosen == value] { "put in a liner of" }
            }
            div.sized {
                div {
                    label for="size" { "Size" }
                    input #size name="size" value=(visit.asked.get("size")) autocomplete="off" autocapitalize="none" spellcheck="false" required aria-describedby="size-how";
                }
                div {
                    label for="unit" { "in" }
                    select #unit name="unit" {
                        @for (word, words) in WHAT_IF_UNITS { option value=(word) selected[*word == unit] { (words) } }
                    }
                }
            }
            p.quiet #size-how { "As: " (like) ". A unit written in the figure goes before the one chosen." }
            button { "Try it" }
            p.quiet { "Nothing is written." }
        }
    }
}

/// What was asked to be tried, if anything was.
pub(super) fn tried(visit: &Visit, judged: &Judged) -> Option<Result<TrialView, String>> {
    let (act, size) = (visit.asked.given("act")?, visit.asked.given("size")?);
    let text = format!("{act} {}", size_asked(size, visit.asked.get("unit")));
    Some(parse_act(&judged.judgement, &text).and_then(|act| {
        let mut trial = Trial::default();
        act.lay_on(&judged.judgement, &mut trial)?;
        Ok(trial_view(&judged.judgement, &[text], &trial.run(&judged.judgement)))
    }))
}

pub(super) fn tried_shown(units: Units, t: &TrialView) -> Markup {
    html! {
        section #tried.result role="status" aria-labelledby="tried-what" {
            h2 #tried-what { "If we " (t.acts.join(" and ")) }
            ul.plain {
                @for s in &t.sizes {
                    li { (s.feature) ": " (figure_or_dash(units, s.before.as_ref())) " to " (figure(units, &s.after)) }
                }
            }
            @if t.joints.is_empty() && t.chains.is_empty() { p { "Nothing else moves." } }
            (moves(units, "Joints that move", "/joint/", &t.joints))
            (moves(units, "Distances that move", "/chain/", &t.chains))
            @if !t.pistons.is_empty() {
                p { "Piston clearances that move:" }
                ul.plain { @for e in &t.pistons { li { (e.id) @if let Some(m) = &e.moves { " by " (pair(units, m).0) } "; " (verdict(e.verdict_before)) " to " (verdict(e.verdict_after)) } } }
            }
        }
    }
}

/// The size as it was asked: a fraction without a unit is of an inch, whatever the unit chosen.
fn size_asked(size: &str, unit: &str) -> String {
    let known = WHAT_IF_UNITS.iter().find(|(u, _)| *u == unit).map_or("", |(u, _)| *u);
    with_unit(size, if size.contains('/') { "in" } else { known })
}
