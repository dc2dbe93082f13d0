//! The repair of a joint, designed.

use super::joint::find;
use crate::drawings::{self, Drawn};
use crate::layout::Page;
use crate::marks::{cautions, encoded, verdict};
use crate::pieces::table;
use crate::snapshot::DesignShown;
use crate::trouble::Trouble;
use crate::visit::{Units, Visit};
use axum::extract::Path;
use axum::response::Response;
use engine::design::{DesignError, design as design_joint};
use engine::model::JointIx;
use engine::view::{DesignView, ItemView, SectionView, design_view};
use maud::{Markup, html};
use std::sync::Arc;

/// A line to try, from the address.
pub(crate) fn with(visit: &Visit) -> Vec<(String, String)> {
    visit
        .asked
        .given("with")
        .zip(visit.asked.given("value"))
        .map(|(name, value)| (name.to_owned(), value.to_owned()))
        .into_iter()
        .collect()
}

/// The page.
pub(crate) async fn design(visit: Visit, Path(id): Path<String>) -> Result<Response, Trouble> {
    let judged = visit.judged()?.clone();
    let ix = find(&judged, &id)?;
    let with = with(&visit);
    if with.is_empty() {
        let shown = as_it_stands(&visit, ix).await?;
        return Ok(page(&visit, &shown.view, &shown.pictures).answer(&visit));
    }
    let (view, pictures) = visit
        .bench
        .working_out(move || {
            let found = design_joint(&judged.judgement, ix, &with)?;
            let view = design_view(&judged.judgement, &found);
            let pictures = match paper::design_drawings(&view, &found) {
                Ok(all) => all.into_iter().map(drawings::picture).collect(),
                Err(why) => vec![Drawn::Not(why.to_string())],
            };
            Ok((view, pictures))
        })
        .await?
        .map_err(|e: DesignError| match e {
            DesignError::WhatIf { what, mend } => Trouble::wrong(what, mend),
            other => Trouble::wrong(other.to_string(), ""),
        })?;
    Ok(page(&visit, &view, &pictures).answer(&visit))
}

/// The repair with nothing tried: worked out once for what the book says now.
pub(crate) async fn as_it_stands(visit: &Visit, ix: JointIx) -> Result<Arc<DesignShown>, Trouble> {
    let judged = visit.judged()?.clone();
    if let Some(known) = judged.design_at_hand(ix) {
        return Ok(known);
    }
    visit.bench.working_out(move || judged.design(ix)).await?.map_err(|e| Trouble::wrong(e, ""))
}

fn page(visit: &Visit, view: &DesignView, pictures: &[Drawn]) -> Page {
    Page {
        title: format!("Design: {}", view.name),
        holding: html! {
            h1 { "Repair of " (view.name) }
            p { code { (view.joint) } ", " (view.kind) ", " (verdict(view.verdict)) }
            p.large { (view.words) }
            p { @match &view.decided_by { Some(who) => { "Decided by " (who) "." } None => { "Recommended, not decided." } } }
        },
        knowing: html! {
            @for p in pictures { (drawings::shown(p)) }
            @for wanted in [true, false] {
                @for s in view.sections.iter().filter(|s| s.to_make == wanted) { (section(visit.units, s)) }
            }
            @if !view.absent.is_empty() {
                h2 { "Not worked out" }
                ul.plain { @for a in &view.absent { li { b { (a.what) } ": " (if a.why.is_empty() { a.wants.join("; ") } else { a.why.clone() }) } } }
            }
            details {
                summary { "What it rests on" }
                (table("What it rests on", &["what", "as written", "from"], &html! {
                    @for g in &view.given { tr { td { (g.name) br; span.quiet { (g.what) } } td { (g.text) } td { (g.from) } } }
                }))
            }
            (cautions(&view.cautions))
            p.quiet { "Not considered: " (view.not_considered.join("; ")) ". A competent person, local rules and licensed practice decide how the work is done; the responsible engineer releases it." }
        },
        doing: html! {
            p { a.main href={ "/paper/repair/" (encoded(&view.joint)) ".pdf" (tried(visit)) } { "Print the sheet for the bench" } }
            p { a href={ "/joint/" (encoded(&view.joint)) "#decide" } { "Back to the joint, to decide" } }
            form.stack method="get" action={ (visit.uri.path()) } {
                label for="with" { "Try another figure for" }
                select #with name="with" { @for g in &view.given { option selected[visit.asked.get("with") == g.name] { (g.name) } } }
                label for="value" { "With its unit" }
                input #value name="value" value=(visit.asked.get("value")) required autocomplete="off";
                button { "Try it" }
                p.quiet { "Nothing is written." }
            }
        },
    }
}

/// What is tried, to be printed as it is shown.
fn tried(visit: &Visit) -> String {
    with(visit).first().map_or_else(String::new, |(name, value)| {
        format!("?with={}&value={}", encoded(name), encoded(value))
    })
}

fn section(units: Units, s: &SectionView) -> Markup {
    html! {
        h2 { (s.title) @if s.to_make { " – to make" } }
        dl.facts { @for i in &s.items { dt { (i.label) } dd { (item(units, i)) } } }
    }
}

fn item(units: Units, i: &ItemView) -> Markup {
    let (first, second) = match units {
        Units::Imperial if !i.imperial.is_empty() => (&i.imperial, &i.metric),
        _ => (&i.metric, &i.imperial),
    };
    let sign = match i.stands {
        "good" => "✓ good: ",
        "look" => "? look: ",
        "bad" => "✖ bad: ",
        _ => "",
    };
    // Words may be long; figures are kept in one piece.
    if i.si.is_empty() {
        return html! { (sign) (first) @if !i.note.is_empty() { br; span.quiet { (i.note) } } };
    }
    html! { span.figure { (sign) b { (first) } @if !second.is_empty() { " " small { (second) } } } @if !i.note.is_empty() { br; span.quiet { (i.note) } } }
}
