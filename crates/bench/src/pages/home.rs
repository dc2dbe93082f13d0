//! The engine: what is beyond first.

use crate::drawings;
use crate::layout::Page;
use crate::marks::{encoded, figure, verdict};
use crate::pieces::table;
use crate::snapshot::Judged;
use crate::trouble::Trouble;
use crate::visit::Visit;
use axum::response::Response;
use engine::view::{JointLine, Summary, SuspicionView};
use maud::{Markup, html};

/// Things that want somebody, shown before the rest are counted.
const MOST: usize = 12;

/// The page.
pub(crate) async fn home(visit: Visit) -> Result<Response, Trouble> {
    let Ok(judged) = visit.snap.engine.as_ref() else { return Ok(bare(&visit)) };
    let summary = judged.summary();
    let page = Page {
        title: summary.engine.clone(),
        holding: holding(summary),
        knowing: html! {
            // The list before the drawing, for a phone shows one after the other; on a desk they stand
            // beside one another.
            div.engine {
                div.listed { (worst(&visit, summary)) (pistons(&visit, summary)) }
                div.drawn { (drawings::wide(judged.gear())) }
            }
            (suspicious(judged, &summary.suspicious))
            (others(summary))
            (not_taken(judged))
            (crate::marks::cautions(&summary.cautions))
        },
        doing: doing(&visit, judged, summary),
    };
    Ok(page.answer(&visit))
}

/// Piston clearances, worst first.
fn pistons(visit: &Visit, summary: &Summary) -> Markup {
    html! {
        @if !summary.pistons.is_empty() {
            section aria-labelledby="pistons" {
                h2 #pistons { "Piston clearances" }
                ol.joints {
                    @for p in &summary.pistons {
                        li {
                            a href={ "/motion#clearance-" (encoded(&p.cylinder)) } {
                                span.top.unnumbered { (verdict(p.verdict)) b { (p.name) } }
                                span.because {
                                    @if let Some(c) = &p.clearance { (figure(visit.units, c)) "; " }
                                    (p.because)
                                    @if let Some(c) = &p.change { "; " (figure(visit.units, c)) " against as made" }
                                }
                            }
                        }
                    }
                }
            }
        }
    }
}

/// A book without an engine that can be judged.
fn bare(visit: &Visit) -> Response {
    let why = visit.snap.engine.as_ref().err().map_or("", |w| w.as_str());
    Page {
        title: visit.snap.fold.name().to_owned(),
        holding: html! { h1 { (visit.snap.fold.name()) } },
        knowing: html! { p.large { (why) "." } },
        doing: html! {
            p { "The engine is described with the command line: " code { "pinchbar book describe BOOK engine.toml" } "." }
            p { a.main href="/book" { "To the book" } }
        },
    }
    .answer(visit)
}

fn holding(summary: &Summary) -> Markup {
    let c = &summary.counts;
    html! {
        h1 { (summary.engine) }
        @if !summary.railway.is_empty() { p { (summary.railway) } }
        ul.counts aria-label="Joints by verdict" {
            @for (word, count) in [("beyond", c.beyond), ("near", c.near), ("cannot tell", c.cannot_tell), ("within", c.within), ("no limit", c.no_limit)] {
                @if 0 < count { li { b { (count) } " " (verdict(word)) } }
            }
        }
        p.quiet {
            (c.features_gauged) " of " (c.features) " features gauged, " (c.readings) " readings"
            @if let Some(day) = &summary.overhaul_began { "; overhaul began " (day) }
        }
        @if !summary.note.is_empty() { p.quiet { (summary.note) } }
    }
}

fn worst(visit: &Visit, summary: &Summary) -> Markup {
    let (wanting, well): (Vec<(usize, &JointLine)>, Vec<_>) = summary
        .joints
        .iter()
        .enumerate()
        .partition(|(_, j)| j.verdict != "within" && j.verdict != "no limit");
    html! {
        section aria-labelledby="worst" {
            h2 #worst { "Worst first" }
            @if wanting.is_empty() { p { "No joint is beyond or near its limit, and every one can be told." } }
            ol.joints { @for (n, j) in wanting { (joint(visit, n, j)) } }
            @if !well.is_empty() {
                details {
                    summary { (well.len()) " more joints, within or without a limit" }
                    ol.joints { @for (n, j) in well { (joint(visit, n, j)) } }
                }
            }
        }
    }
}

fn joint(visit: &Visit, n: usize, j: &JointLine) -> Markup {
    html! {
        li value=(n + 1) {
            a href={ "/joint/" (encoded(&j.id)) } {
                span.top { span.number { (n + 1) } (verdict(j.verdict)) b { (if j.name.is_empty() { &j.id } else { &j.name }) } }
                span.because {
                    (j.because)
                    @if let Some(v) = &j.value { @if !j.because.starts_with(j.measure) { "; " (j.measure) " " (figure(visit.units, v)) } }
                }
            }
        }
    }
}

fn suspicious(judged: &Judged, all: &[SuspicionView]) -> Markup {
    let engine = judged.judgement.engine();
    let leads_to = |feature: &str| {
        let ix = engine.feature_by_id(feature)?;
        let joint = engine.feature(ix).in_joints.first()?;
        Some(format!("/joint/{}#readings", encoded(&engine.joint(*joint).id)))
    };
    html! {
        @if !all.is_empty() {
            section aria-labelledby="suspicious" {
                h2 #suspicious { "Readings that look like slips" }
                ul.plain {
                    @for s in all.iter().take(MOST) {
                        li {
                            @match leads_to(&s.feature) {
                                Some(address) => { a href=(address) { (s.feature) } }
                                None => { (s.feature) }
                            }
                            ": " b { (s.text) } ", " (s.why)
                            @if let Some(meant) = &s.meant { "; meant perhaps " (meant.both()) }
                            @if s.set_aside { ". Set aside: it does not count until somebody says otherwise." } @else { ". It counts." }
                        }
                    }
                }
                @if MOST < all.len() { p.quiet { "And " (all.len() - MOST) " more." } }
            }
        }
    }
}

fn others(summary: &Summary) -> Markup {
    let chains: Vec<_> = summary
        .chains
        .iter()
        .filter(|c| c.verdict != "within" && c.verdict != "no limit")
        .collect();
    html! {
        @if !chains.is_empty() {
            section aria-labelledby="chains" {
                h2 #chains { "Distances through many parts" }
                ul.plain { @for c in &chains { li { a href={ "/chain/" (encoded(&c.id)) } { (verdict(c.verdict)) " " (c.name) } } } }
            }
        }
        @if !summary.swaps.is_empty() {
            section aria-labelledby="swaps" {
                h2 #swaps { "Exchanged parts?" }
                ul.plain { @for s in &summary.swaps { li { a href={ "/joint/" (encoded(&s.joint)) } { (s.joint) } ": " (s.words) } } }
            }
        }
        @if !summary.loose_features.is_empty() {
            section aria-labelledby="loose" {
                h2 #loose { "Features in no joint" }
                ul.plain { @for l in &summary.loose_features { li { (verdict(l.verdict)) " " (l.feature.as_deref().unwrap_or("")) ", " (l.of) } } }
            }
        }
        @if !summary.findings.is_empty() {
            section aria-labelledby="findings" {
                h2 #findings { "Conditions found" }
                ul.plain { @for f in &summary.findings { li { b { (f.feature) " " (f.condition) } ", " (f.by) " " (f.when) @if !f.note.is_empty() { ": " (f.note) } } } }
            }
        }
        p { a href="/chains" { "All distances through many parts" } }
    }
}

fn not_taken(judged: &Judged) -> Markup {
    html! {
        @if !judged.not_taken.is_empty() {
            section aria-labelledby="not-taken" {
                h2 #not-taken { "What could not be read" }
                (table("What could not be read", &["where", "what", "mend"], &html! {
                    @for n in judged.not_taken.iter().take(100) { tr { td { (n.place) } td { (n.what) } td { (n.mend) } } }
                }))
            }
        }
    }
}

fn doing(visit: &Visit, judged: &Judged, summary: &Summary) -> Markup {
    let fold = &visit.snap.fold;
    let engine = judged.judgement.engine();
    let undecided = |j: &&JointLine| {
        let ix = engine.joint_by_id(&j.id);
        j.verdict == "beyond" && ix.is_some_and(|ix| engine.decisions.iter().all(|d| d.joint != ix))
    };
    let open: Vec<&JointLine> = summary.joints.iter().filter(undecided).collect();
    let waiting =
        fold.hold_points().iter().filter(|p| p.reached.is_some() && p.released.is_none()).count();
    let ungauged = summary.counts.features - summary.counts.features_gauged;
    let set_aside = summary.suspicious.iter().filter(|s| s.set_aside).count();
    html! {
        @match open.first() {
            Some(j) => {
                p { "The worst joint that nobody has decided on" @if 1 < open.len() { ", the first of " (open.len()) } ":" }
                p { a.main href={ "/joint/" (encoded(&j.id)) "#decide" } { (if j.name.is_empty() { &j.id } else { &j.name }) } }
            }
            None => {
                p { "Every joint that is beyond its limit has been decided on." }
                p { a.main href="/machine-to" { "What to machine every part to" } }
            }
        }
        ul.ways {
            @if let Some((address, name)) = crate::gauging::DOOR {
                li { a href=(address) { (name) @if 0 < ungauged { ": " (count(ungauged, "surface still wants", "surfaces still want")) " readings" } } }
            }
            @if 0 < set_aside { li { a href="#suspicious" { (count(set_aside, "reading is", "readings are")) " set aside as slips" } } }
            @if 0 < waiting { li { a href="/book#waiting" { (count(waiting, "hold point waits", "hold points wait")) " to be released" } } }
            @if fold.open_contradictions().next().is_some() { li { a href="/book#contradictions" { "Contradictions to settle" } } }
            @if super::works::described(judged) { li { a href="/today" { "What to do today" } } li { a href="/plan" { "The plan of strip and build" } } }
            li { a href="/machine-to" { "What to machine every part to" } }
            li { a href="/paper/condition-report.pdf" { "Condition report, to print" } }
        }
        (find())
    }
}

/// "1 reading is", "3 readings are".
fn count(n: usize, one: &str, more: &str) -> String {
    format!("{n} {}", if n == 1 { one } else { more })
}

/// The form that finds a part, a tag or a joint.
pub(crate) fn find() -> Markup {
    html! {
        form.stack method="get" action="/find" role="search" {
            label for="find" { "Find a part, a tag or a joint" }
            input #find name="what" data-key="/" autocomplete="off";
            button { "Find" }
        }
    }
}
