//! A distance that runs through many parts.

use crate::layout::Page;
use crate::marks::{encoded, figure, figure_or_dash, verdict};
use crate::pieces::{history, remark, table};
use crate::trouble::Trouble;
use crate::visit::Visit;
use axum::extract::Path;
use axum::response::Response;
use engine::view::{SimulationView, chain_simulation, chain_view};
use maud::{Markup, html};

/// Draws of the simulation on the page; the command line has as many as wanted.
const DRAWS: u64 = 100_000;

/// All of them.
pub(crate) async fn chains(visit: Visit) -> Result<Response, Trouble> {
    let summary = visit.judged()?.summary();
    let page = Page {
        title: "Distances through many parts".to_owned(),
        holding: html! { h1 { "Distances through many parts" } },
        knowing: table(
            "Distances",
            &["distance", "is", "as made", "verdict"],
            &html! {
                @for c in &summary.chains {
                    tr {
                        td { a href={ "/chain/" (encoded(&c.id)) } { (if c.name.is_empty() { &c.id } else { &c.name }) } }
                        td { (figure_or_dash(visit.units, c.length.as_ref())) }
                        td { (figure_or_dash(visit.units, c.as_made.as_ref())) }
                        td { (verdict(c.verdict)) }
                    }
                }
            },
        ),
        doing: html! { p { a.main href="/" { "To the engine" } } },
    };
    Ok(page.answer(&visit))
}

/// One.
pub(crate) async fn chain(visit: Visit, Path(id): Path<String>) -> Result<Response, Trouble> {
    let judged = visit.judged()?.clone();
    let ix = judged.judgement.engine().chain_by_id(&id).ok_or_else(|| {
        Trouble::missing(
            format!("there is no distance \"{id}\""),
            "look for it from the engine's page",
        )
    })?;
    let view = chain_view(&judged.judgement, ix);
    let drawn = if visit.asked.ticked("draw") {
        let judged = judged.clone();
        let draw = move || chain_simulation(&judged.judgement, ix, DRAWS, 1);
        Some(visit.bench.working_out(draw).await?)
    } else {
        None
    };
    let units = visit.units;
    let page = Page {
        title: view.name.clone(),
        holding: html! {
            h1 { (if view.name.is_empty() { &view.id } else { &view.name }) }
            p { code { (view.id) } }
            p { (verdict(view.verdict)) }
        },
        knowing: html! {
            dl.facts {
                dt { "Length" } dd { (figure_or_dash(units, view.length.as_ref())) }
                dt { "As made" } dd { (figure_or_dash(units, view.as_made.as_ref())) }
                dt { "Change" } dd { (figure_or_dash(units, view.change.as_ref())) }
            }
            @if !view.missing.is_empty() { p.warn { "Not gauged: " (view.missing.join(", ")) } }
            @if !view.assumed.is_empty() { p.warn { "Taken as made, not gauged: " (view.assumed.join(", ")) } }
            (super::joint::limits(units, &view.limits))
            h2 { "What it runs through" }
            (table("Terms", &["factor", "feature", "size"], &html! {
                @for t in &view.terms { tr { td { (t.factor) } td { (t.feature) } td { (figure_or_dash(units, t.size.as_ref())) } } }
            }))
            (super::joint::budget(units, &view.budget, None))
            @match &drawn { Some(Ok(s)) => { (simulation(&visit, s)) } Some(Err(why)) => { p.warn { "It cannot be drawn at random: " (why) } } None => {} }
            (history(&visit, &id))
        },
        doing: html! {
            @if drawn.is_none() { p { a.main href={ "/chain/" (encoded(&id)) "?draw=yes" } { "Draw it at random " (DRAWS) " times" } } }
            (remark(&visit, &id))
        },
    };
    Ok(page.answer(&visit))
}

fn simulation(visit: &Visit, s: &SimulationView) -> Markup {
    let units = visit.units;
    html! {
        h2 { "Drawn at random " (s.draws) " times" }
        dl.facts {
            dt { "Mean" } dd { (figure(units, &s.mean)) }
            dt { "Standard deviation" } dd { (figure(units, &s.standard_deviation)) }
            dt { "95 of 100 lie between" } dd { (figure(units, &s.low)) " and " (figure(units, &s.high)) }
            dt { "Everything at its worst" } dd { (figure(units, &s.worst_low)) " to " (figure(units, &s.worst_high)) }
            @if let Some(inside) = s.inside { dt { "Inside its limits" } dd { (format!("{:.1} %", 100.0 * inside)) } }
        }
    }
}
