//! A joint: how it stands and why, what could be done, what would follow, and the decision.

mod options;
mod surfaces;

use self::options::{decide, options, tried, tried_shown, what_if};
use self::surfaces::feature;
use crate::drawings;
use crate::layout::Page;
use crate::marks::{cautions, encoded, figure, figure_or_dash, verdict};
use crate::pieces::{for_roles, history, line, photographs, remark, saying, table};
use crate::snapshot::{JointShown, Judged};
use crate::trouble::Trouble;
use crate::visit::{Units, Visit};
use axum::extract::Path;
use axum::response::Response;
use book::Role;
use engine::model::{JointIx, RepairKind};
use engine::view::{ContributorView, JointView, LimitView, TrialView};
use maud::{Markup, html};

/// The page.
pub(crate) async fn joint(visit: Visit, Path(id): Path<String>) -> Result<Response, Trouble> {
    let judged = visit.judged()?.clone();
    let ix = find(&judged, &id)?;
    let shown = judged.joint(ix);
    let tried = tried(&visit, &judged);
    let page = Page {
        title: name(&shown),
        holding: holding(&visit, &judged, ix, &shown),
        knowing: knowing(&visit, &shown, tried.as_ref()),
        doing: doing(&visit, &judged, ix, &shown),
    };
    Ok(page.answer(&visit))
}

/// The joint of an id; a feature's id leads to the joint it is in.
pub(crate) fn find(judged: &Judged, id: &str) -> Result<JointIx, Trouble> {
    let engine = judged.judgement.engine();
    engine.joint_by_id(id).ok_or_else(|| {
        let near =
            engine.nearest_id(id).map_or_else(String::new, |n| format!("did you mean \"{n}\"?"));
        Trouble::missing(format!("there is no joint \"{id}\""), near)
    })
}

fn name(shown: &JointShown) -> String {
    let v = &shown.view;
    if v.name.is_empty() { v.id.clone() } else { v.name.clone() }
}

fn holding(visit: &Visit, judged: &Judged, ix: JointIx, shown: &JointShown) -> Markup {
    let engine = judged.judgement.engine();
    let joint = engine.joint(ix);
    let mut parts: Vec<usize> = [joint.inner, joint.outer]
        .into_iter()
        .chain(joint.fills.iter().copied())
        .map(|f| engine.feature(f).part.index())
        .collect();
    parts.dedup();
    let v = &shown.view;
    html! {
        h1 { (name(shown)) }
        p { code { (v.id) } ", " (v.kind) }
        p.large { (verdict(v.verdict)) }
        p { "To put back: " (verdict(v.refit_verdict)) }
        (decided(v))
        ul.plain {
            @for p in parts {
                @let part = &engine.parts[p];
                li {
                    a href={ "/part/" (encoded(&part.id)) } { (if part.name.is_empty() { &part.id } else { &part.name }) }
                    (super::part::whereabouts(visit, &part.id))
                }
            }
        }
    }
}

/// The decision that stands, and the sheet that goes to the machine with it.
fn decided(v: &JointView) -> Markup {
    let Some(d) = v.decisions.last() else { return html! {} };
    html! {
        div.decided {
            p { "Decided: " b { (d.repair) } @if !d.make.is_empty() { ", " (d.make.join(", ")) } }
            p.quiet { (d.by) " " (d.when) @if !d.reason.is_empty() { ": " (d.reason) } }
            @if RepairKind::Leave.word() != d.repair {
                p { a.main href="/paper/machine-to.pdf" { "Print the machine-to sheets" } }
                p { a href="/machine-to" { "What to machine every part to" } }
            }
        }
    }
}

fn knowing(visit: &Visit, shown: &JointShown, tried: Option<&Result<TrialView, String>>) -> Markup {
    let (v, units) = (&shown.view, visit.units);
    html! {
        @match tried {
            Some(Ok(trial)) => { (tried_shown(units, trial)) }
            Some(Err(why)) => {
                section #tried.result role="alert" { h2 { "That cannot be tried" } pre { (why) } }
            }
            None => {}
        }
        @if !v.missing.is_empty() { p.warn { "Not gauged: " (v.missing.join(", ")) } }
        dl.facts {
            @for m in &v.measures { dt { (m.measure) } dd { (figure(units, &m.figure)) } }
            @if let Some(f) = &v.as_made { dt { "as made" } dd { (figure(units, f)) } }
            @if let Some(f) = &v.last_time { dt { "last time" } dd { (figure(units, f)) } }
            @if let Some(f) = &v.change_since_last { dt { "change since last time" } dd { (figure(units, f)) } }
        }
        @for d in &shown.bars { (drawings::shown(d)) }
        (limits(units, &v.limits))
        (concessions(visit, &v.id))
        @for d in &shown.plots { (drawings::shown(d)) }
        section aria-labelledby="readings" {
            h2 #readings { "Surfaces and their readings, as written" }
            @for f in &v.features { (feature(visit, f)) }
        }
        (budget(units, &v.budget, v.degrees_of_freedom))
        @if !v.chains.is_empty() {
            p { "It is part of: " @for (n, c) in v.chains.iter().enumerate() { @if 0 < n { ", " } a href={ "/chain/" (encoded(c)) } { (c) } } }
        }
        (cautions(&v.cautions))
        (photographs(visit, &v.id))
        (history(visit, &v.id))
    }
}

fn concessions(visit: &Visit, id: &str) -> Markup {
    let Some(day) = visit.snap.today else { return html! {} };
    html! {
        @for c in visit.snap.fold.concessions_on(day).filter(|c| c.about == id) {
            p.warn { b { "Concession until " (c.until) } ", beyond " (c.limit) ": " (c.what) " (" (c.by) ", " (c.reason) ")" }
        }
    }
}

/// Verdict by limit, with who says so: what is not within first.
pub(crate) fn limits(units: Units, all: &[LimitView]) -> Markup {
    let (wanting, well): (Vec<_>, Vec<_>) =
        all.iter().partition(|l| l.verdict != "within" && l.verdict != "no limit");
    html! {
        @if !all.is_empty() {
            h2 { "Limits, and who says so" }
            @if wanting.is_empty() { p { "Within every limit." } }
            ul.limits { @for l in &wanting { (limit(units, l)) } }
            @if !well.is_empty() {
                details open[wanting.is_empty()] {
                    summary { (well.len()) " within" }
                    ul.limits { @for l in &well { (limit(units, l)) } }
                }
            }
        }
    }
}

fn limit(units: Units, l: &LimitView) -> Markup {
    html! {
        li {
            (verdict(l.verdict))
            div {
                b { (l.of) } @if let Some(f) = &l.feature { " of " (f) } ", " (when_words(l.when)) ": "
                (figure_or_dash(units, l.value.as_ref())) "; may be "
                @match (&l.min, &l.max) {
                    (Some(min), Some(max)) => { (figure(units, min)) " to " (figure(units, max)) }
                    (Some(min), None) => { (figure(units, min)) " or more" }
                    (None, Some(max)) => { (figure(units, max)) " or less" }
                    (None, None) => { "anything" }
                }
            }
            div.more {
                "Source: " (l.source) @if !l.note.is_empty() { " – " (l.note) } "."
                @if let Some(p) = l.allowance_left_percent { " " (format!("{:.0} % of the wear allowance left.", p.max(0.0))) }
                @if l.gauge_lapsed { " " b { "The gauge was out of calibration." } }
                @if !l.could_tell.is_empty() { " Could tell: " (l.could_tell.join(", ")) "." }
            }
        }
    }
}

fn when_words(when: &str) -> &str {
    match when {
        "refit" => "to put back",
        "service" => "in service",
        "made" => "as made",
        other => other,
    }
}

/// Where the uncertainty comes from.
pub(crate) fn budget(units: Units, all: &[ContributorView], degrees: Option<f64>) -> Markup {
    html! {
        @if !all.is_empty() {
            details {
                summary { "Where its uncertainty comes from" }
                (table("Uncertainty budget", &["source", "standard uncertainty", "share of the variance"], &html! {
                    @for b in all { tr { td { (b.source) } td { (figure(units, &b.u)) } td { (format!("{:.0} %", b.share_percent)) } } }
                }))
                @if let Some(n) = degrees { p.quiet { (format!("{n:.0} effective degrees of freedom.")) } }
            }
        }
    }
}

fn doing(visit: &Visit, judged: &Judged, ix: JointIx, shown: &JointShown) -> Markup {
    let v = &shown.view;
    html! {
        h2 #decide { @if v.decisions.is_empty() { "Decide" } @else { "Decide otherwise" } }
        (options(visit, &shown.options))
        (for_roles(visit, &[Role::Responsible], || decide(visit, shown)))
        (super::concessions::about(visit, &v.id, &v.limits))
        h2 #try { "Try it first" }
        (what_if(visit, judged, ix, shown))
        ul.ways {
            li { a href={ "/joint/" (encoded(&v.id)) "/design" } { "Design the repair: forces, stresses, sheet" } }
            li { a href={ "/paper/repair/" (encoded(&v.id)) ".pdf" } { "Repair sheet for the bench, to print" } }
            li { a href={ "/paper/gauge/" (encoded(&v.id)) ".pdf" } { "Blank gauge sheet, to print" } }
            li { a href="/machine-to" { "What to machine every part to" } }
            li { a href="/" { "To the engine" } }
        }
        (work(visit, &v.id))
        (remark(visit, &v.id))
    }
}

/// Work done on it, hold points, and signing it off.
pub(crate) fn work(visit: &Visit, about: &str) -> Markup {
    let fold = &visit.snap.fold;
    let points: Vec<_> =
        fold.hold_points().iter().filter(|p| p.about == about && p.released.is_none()).collect();
    let here = visit.uri.path();
    html! {
        @for p in &points {
            p.warn {
                b { "Hold point: " (p.id) } br; (p.what)
                @if p.reached.is_some() { br; a href="/book#waiting" { "It waits to be released." } }
            }
        }
        @if crate::pieces::has(visit, &[Role::Fits]) {
            details {
                summary { "Work done on it" }
                (saying(visit, "worked", here, &html! {
                    input type="hidden" name="about" value=(about);
                    label for="what-work" { "What was done" }
                    textarea #what-work name="what" rows="2" required {}
                    @if points.iter().any(|p| p.reached.is_none()) {
                        label for="reaches" { "The work has reached" }
                        select #reaches name="reaches" {
                            option value="" { "no hold point" }
                            @for p in points.iter().filter(|p| p.reached.is_none()) { option value=(p.id) { (p.id) } }
                        }
                    }
                    button { "Write it in the book" }
                }))
            }
        }
        @if crate::pieces::has(visit, &[Role::Responsible]) {
            details {
                summary { "Set a hold point" }
                (saying(visit, "hold-point", here, &html! {
                    input type="hidden" name="about" value=(about);
                    (line("hold-id", "id", "Short name", "", true))
                    (line("hold-what", "what", "What is to be looked at", "", true))
                    label.tick { input type="checkbox" name="not_by_doer" value="yes"; " not released by who did the work" }
                    button { "Set it" }
                }))
            }
            details {
                summary { "Sign it off" }
                (saying(visit, "signed-off", here, &html! {
                    input type="hidden" name="about" value=(about);
                    (line("sign-what", "what", "What is signed", "", true))
                    (crate::pieces::password("sign-password"))
                    button { "Sign" }
                }))
            }
        }
    }
}
