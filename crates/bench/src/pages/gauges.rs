//! Gauges and their calibration.

use crate::layout::Page;
use crate::marks::figure;
use crate::pieces::{for_roles, history, line, saying, table};
use crate::trouble::Trouble;
use crate::visit::Visit;
use axum::response::Response;
use book::Role;
use engine::model::Date;
use engine::view::GaugeView;
use maud::html;

/// The page.
pub(crate) async fn gauges(visit: Visit) -> Result<Response, Trouble> {
    let judged = visit.judged()?.clone();
    let all = &judged.summary().gauges;
    let lapsed = |g: &GaugeView| {
        let due = g.due.as_deref().and_then(|d| Date::parse(d).ok());
        due.zip(visit.snap.today).is_some_and(|(due, today)| due < today)
    };
    let chosen = visit.asked.get("gauge");
    let page = Page {
        title: "Gauges".to_owned(),
        holding: html! {
            h1 { "Gauges" }
            p { (all.len()) " gauges, " (all.iter().filter(|g| lapsed(g)).count()) " out of calibration" }
        },
        knowing: html! {
                        (table("Gauges", &["gauge", "calibration runs out", "error within; repeats within"], &html! {
                @for g in all {
                    tr {
                        td {
                            a href={ "/gauges?gauge=" (crate::marks::encoded(&g.id)) } { (g.id) } br; span.quiet { (g.kind) }
                            br; span.quiet { (g.readings) " readings" }
                            @if 0 < g.lapsed_readings { ", " b { (g.lapsed_readings) " after it ran out" } }
                        }
                        td {
                            @match &g.due { Some(due) => { (due) } None => { "not told" } }
                            @if lapsed(g) { br; b { "✖ run out" } }
                        }
                        td {
                            (figure(visit.units, &g.error)) br; (figure(visit.units, &g.repeatability))
                            br; span.quiet { @if 0.0 < g.repeats { (format!("from {:.0} repeats", g.repeats)) } @else { "as described" } }
                        }
                    }
                }
            }))
            @if !chosen.is_empty() { (history(&visit, chosen)) }
        },
        doing: html! {
            h2 { "A gauge was calibrated" }
            (for_roles(&visit, &[Role::Records, Role::Responsible], || saying(&visit, "calibrated", "/gauges", &html! {
                label for="gauge" { "Gauge" }
                select #gauge name="gauge" { @for g in all { option selected[g.id == chosen] { (g.id) } } }
                label for="on" { "Day" }
                input #on name="on" type="date" required;
                label for="due" { "Runs out on" }
                input #due name="due" type="date";
                (line("correction", "correction", "Known correction, with its unit", "", false))
                (line("certificate", "note", "Certificate or remark", "", false))
                button.main { "Write it in the book" }
            })))
        },
    };
    Ok(page.answer(&visit))
}
