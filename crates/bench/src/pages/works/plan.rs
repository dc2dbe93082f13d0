//! The plan of a stage, day by day, each day with its chart.

use super::{name_of, no_plan, other, plan_of, plan_or_why, stage, word};
use crate::layout::Page;
use crate::marks::{cautions, encoded};
use crate::pieces::table;
use crate::snapshot::{DayChart, PlanShown};
use crate::trouble::Trouble;
use crate::visit::Visit;
use axum::http::HeaderValue;
use axum::http::header::{CONTENT_SECURITY_POLICY, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use engine::view::{PlanDayView, PlanView};
use maud::{Markup, html};

/// The page.
pub(crate) async fn plan(visit: Visit) -> Result<Response, Trouble> {
    let stage = stage(&visit);
    let shown = match plan_or_why(&visit, stage).await? {
        Ok(shown) => shown,
        Err(why) => return Ok(no_plan(&visit, stage, &why).answer(&visit)),
    };
    let view = &shown.view;
    let (to, name) = other(stage);
    let page = Page {
        title: format!("Plan: {}", name_of(stage)),
        holding: html! {
            h1 { (name_of(stage)) }
            p { (view.works) " works to do, " (view.done.len()) " done" }
            p.large { "Ends " (view.ends) }
            p { "Working time " (view.elapsed) }
            p.quiet { @if view.optimal { "No plan is shorter: proven." } @else { (format!("At most {:.0} % above the shortest there can be.", view.gap_percent)) } }
        },
        knowing: html! {
            (stuck_and_changed(view, &shown.refused))
            @if view.days.is_empty() { p.large { "Nothing is left to do." } }
            @for day in &view.days { (one_day(&shown, day, word(stage))) }
            @for n in view.notes.iter().chain(&view.ways_out) { p.quiet { (n) } }
            (cautions(&[view.caution]))
        },
        doing: html! {
            p { a.main href={ "/today?stage=" (word(stage)) } { "Today" } }
            @if 1 < view.days.len() {
                details {
                    summary { "Go to a day: " (view.days.len()) }
                    ul.ways { @for d in &view.days { li { a href={ "#day-" (d.date) } { (d.weekday) " " (d.date) } } } }
                }
            }
            ul.ways {
                li { a href={ "/paper/plan.pdf?stage=" (word(stage)) } { "The plan, to print" } }
                li { a href={ "/plan?stage=" (to) } { (name) } }
                li { a href="/lifts" { "Lifts" } }
                li { a href="/" { "To the engine" } }
            }
        },
    };
    Ok(page.answer(&visit))
}

fn one_day(shown: &PlanShown, day: &PlanDayView, stage: &str) -> Markup {
    let chart = shown.charts.iter().find(|c| c.label.contains(&day.date));
    html! {
        section aria-label=(day.date) {
            h2 id={ "day-" (day.date) } { (day.weekday) " " (day.date) }
            p.quiet { (day.people.join(", ")) "; " (day.hours) }
            @if !day.goes_on.is_empty() { p { "Goes on from before: " (day.goes_on.join("; ")) } }
            @match chart.map(|c| &c.drawn) {
                Some(Ok((_, width, height))) => {
                    figure.drawing.by-day {
                        img src={ "/plan/chart?stage=" (stage) "&day=" (encoded(&day.date)) } alt={ "Who does what when on " (day.date) "; the same stands in the table below" }
                            width=(width) height=(height) loading="lazy";
                    }
                }
                Some(Err(why)) => { p.quiet { "Not drawn: " (why) "." } }
                None => {}
            }
            div.lines {
                (table(&format!("Works of {}", day.date), &["time", "what", "how"], &html! {
                    @for l in &day.lines { tr {
                        td { (l.from) " to " (l.until) @if let Some(n) = l.number { span.quiet { " no. " (n) } } }
                        td { @if l.work.is_empty() { (l.name) } @else { a href={ "/work/" (encoded(&l.work)) } { (l.name) } } br; span.quiet { (l.who.join(", ")) } }
                        td { (l.how) @if l.kind == "hold point" { br; b { "Hold point" } } @if let Some(lift) = &l.lift { br; a href={ "/lift/" (encoded(lift)) } { "its lift" } } }
                    } }
                }))
            }
            @if !day.hangs.is_empty() { p.warn { "Hangs when the day ends: " (day.hangs.join(", ")) } }
        }
    }
}

fn stuck_and_changed(view: &PlanView, refused: &[String]) -> Markup {
    html! {
        @for why in refused { p.warn { "An order that was wanted cannot be: " (why) "." } }
        @if !view.stuck.is_empty() {
            h2 { "Stuck" }
            @for s in &view.stuck { p.warn { a href={ "/work/" (encoded(&s.work)) } { (s.name) } ", " (s.how) ": " (s.why) } }
        }
        @let changed: Vec<_> = view.changes.iter().filter(|c| !c.only_time).collect();
        @if !changed.is_empty() {
            details open {
                summary { "Otherwise than in the plan before: " (changed.len()) }
                ul.plain { @for c in changed { li { b { (c.name) } ": " (c.what) "; " (c.why) } } }
            }
        }
    }
}

/// The chart of a day, by itself: a phone, which shows the list, need not fetch it.
pub(crate) async fn chart(visit: Visit) -> Result<Response, Trouble> {
    let shown = plan_of(&visit, stage(&visit)).await?;
    let day = visit.asked.wanted("day", "the day")?;
    let missing = || Trouble::missing(format!("the plan has no chart of {day}"), "");
    let chart: &DayChart =
        shown.charts.iter().find(|c| c.label.contains(&day)).ok_or_else(missing)?;
    let (svg, ..) = chart.drawn.as_ref().map_err(|_| missing())?;
    let headers = [
        (CONTENT_TYPE, HeaderValue::from_static("image/svg+xml")),
        (
            CONTENT_SECURITY_POLICY,
            HeaderValue::from_static("default-src 'none'; style-src 'unsafe-inline'; sandbox"),
        ),
    ];
    Ok((headers, svg.clone()).into_response())
}
