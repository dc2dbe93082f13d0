//! What to machine every part to.

use crate::layout::Page;
use crate::marks::{cautions, encoded, figure, pair};
use crate::trouble::Trouble;
use crate::visit::Visit;
use axum::response::Response;
use engine::repair::{Scope, machine_to_within};
use engine::view::{MachineToView, machine_to_view};
use maud::{Markup, html};

/// The page.
pub(crate) async fn machine_to(visit: Visit) -> Result<Response, Trouble> {
    let judged = visit.judged()?.clone();
    let refit = visit.asked.ticked("refit");
    let page = if refit {
        let view = crate::state::spawn(move || {
            machine_to_view(&judged.judgement, &machine_to_within(&judged.judgement, Scope::Refit))
        })
        .await?;
        page(&visit, &view, refit)
    } else {
        page(&visit, judged.machine_to(), refit)
    };
    Ok(page.answer(&visit))
}

fn page(visit: &Visit, view: &MachineToView, refit: bool) -> Page {
    let decided = view.lines.iter().filter(|l| l.decided_by.is_some()).count();
    Page {
        title: "Machine to".to_owned(),
        holding: html! {
            h1 { "Machine to" }
            p { (view.lines.len()) " sizes to make, " (decided) " of them decided" }
            @if refit { p { "With what is within in service, but beyond what it may be when put back." } }
        },
        knowing: html! {
            @if view.lines.iter().any(|l| l.conflict) {
                p.warn role="alert" { "Two decisions want two sizes of one surface; they are marked." }
            }
            (sizes(visit, view))
            (rest(view))
            (cautions(&view.cautions))
        },
        doing: html! {
            p { a.main href="/paper/machine-to.pdf" { "Print the sheets" } }
            ul.ways {
                li { a href="/paper/repairs.pdf" { "Repair sheets of every joint beyond its limits" } }
                li { a href="/paper" { "All sheets, and their paper" } }
                @if refit { li { a href="/machine-to" { "Only what is beyond in service" } } }
                @else { li { a href="/machine-to?refit=yes" { "With everything beyond its refit limit" } } }
                li { a href="/" { "To the engine" } }
            }
        },
    }
}

fn sizes(visit: &Visit, view: &MachineToView) -> Markup {
    let units = visit.units;
    html! {
        ul.cards aria-label="Sizes to make" {
            @for l in &view.lines {
                li {
                    h2 { (if l.name.is_empty() { &l.feature } else { &l.name }) }
                    @if l.part != l.name { p.quiet { (l.part) } }
                    p.large { (figure(units, &l.to)) " ± " (pair(units, &l.tolerance).0) }
                    p { (l.way) @if let Some(now) = &l.now { "; now " (figure(units, now)) } }
                    @if let Some(suit) = &l.to_suit {
                        p { "To suit the finished " (suit) @if let Some(more) = &l.more { ", and " (more.both()) } }
                    }
                    @if l.conflict { p.warn { "Two decisions want two sizes of it." } }
                    p {
                        a href={ "/joint/" (encoded(&l.joint)) } { (l.joint) }
                        span.quiet { ": " (l.repair) ", " @match &l.decided_by { Some(who) => { "decided by " (who) } None => { "recommended, not decided" } } }
                    }
                }
            }
        }
    }
}

fn rest(view: &MachineToView) -> Markup {
    html! {
        @if !view.to_do.is_empty() {
            h2 { "To do, without a size" }
            ul.plain { @for o in &view.to_do { li { a href={ "/joint/" (encoded(&o.joint)) } { (o.joint) } ": " (o.why) } } }
        }
        @if !view.liners.is_empty() {
            h2 { "Liners" }
            ul.plain { @for l in &view.liners { li { a href={ "/joint/" (encoded(&l.joint)) } { (l.joint) } ": " (l.thickness.both()) } } }
        }
        @if !view.families.is_empty() {
            h2 { "Best made to one size" }
            ul.plain { @for f in &view.families { li { (f.family) ": " (f.members.join(", ")) ", all to " b { (f.common.both()) } } } }
        }
        @if !view.open.is_empty() {
            h2 { "Still open" }
            ul.plain { @for o in &view.open { li { a href={ "/joint/" (encoded(&o.joint)) } { (o.joint) } ": " (o.why) } } }
        }
    }
}
