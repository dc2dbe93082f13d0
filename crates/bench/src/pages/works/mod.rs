//! Strip and build: the plan, the day's list to tick, a work, a lift.
//!
//! What takes long is worked out once for what the book says, and kept with it.

mod lift;
mod plan;
mod today;
mod work;

pub(crate) use lift::{lift, lifts};
pub(crate) use plan::{chart, plan};
pub(crate) use today::{hand_out, move_work, today};
pub(crate) use work::work;

use crate::fields::Fields;
use crate::layout::Page;
use crate::marks::encoded;
use crate::pieces::{line, saying, time};
use crate::snapshot::{Judged, PlanShown};
use crate::trouble::Trouble;
use crate::visit::{Units, Visit};
use book::WorkWord;
use engine::model::Date;
use engine::view::{Amount, DayListView, LineView};
use engine::works::{Moment, OnTheDay, Stage, weather};
use maud::{Markup, html};
use std::sync::Arc;

/// What this is about, when there are works at all.
pub(crate) fn described(judged: &Judged) -> bool {
    !judged.judgement.engine().works.works.is_empty()
}

/// The stage that an address asks for.
pub(crate) fn stage(visit: &Visit) -> Stage {
    stage_in(&visit.asked)
}

fn stage_in(fields: &Fields) -> Stage {
    if fields.get("stage") == "build" { Stage::Build } else { Stage::Strip }
}

fn word(stage: Stage) -> &'static str {
    if stage == Stage::Build { "build" } else { "strip" }
}

fn other(stage: Stage) -> (&'static str, &'static str) {
    match stage {
        Stage::Strip => ("build", "Building up"),
        Stage::Build => ("strip", "Stripping"),
    }
}

fn name_of(stage: Stage) -> &'static str {
    match stage {
        Stage::Strip => "Stripping",
        Stage::Build => "Building up",
    }
}

/// The place of a work in the engine's list.
fn at(judged: &Judged, id: &str) -> Result<usize, Trouble> {
    let model = &judged.judgement.engine().works;
    model.work_by_id(id).ok_or_else(|| {
        let near =
            model.nearest_work(id).map_or_else(String::new, |n| format!("did you mean \"{n}\"?"));
        Trouble::missing(format!("there is no work \"{id}\""), near)
    })
}

/// The stage of a work.
pub(crate) fn stage_of(judged: &Judged, id: &str) -> Result<Stage, Trouble> {
    Ok(judged.judgement.engine().works.works[at(judged, id)?].stage)
}

/// The place of a lift in the engine's list.
pub(crate) fn lift_by_id(judged: &Judged, id: &str) -> Result<usize, Trouble> {
    judged.judgement.engine().works.lift_by_id(id).ok_or_else(|| {
        Trouble::missing(format!("there is no lift \"{id}\""), "the page of all lifts lists them")
    })
}

/// There is no plan as things stand: why, and what was said that may be in the way.
fn no_plan(visit: &Visit, stage: Stage, why: &str) -> Page {
    let stuck: Vec<_> = visit
        .snap
        .fold
        .works_now()
        .into_iter()
        .filter_map(|w| match &w.word {
            WorkWord::Stuck { why, .. } => Some((w, why)),
            _ => None,
        })
        .collect();
    Page {
        title: "No plan".to_owned(),
        holding: html! { h1 { (name_of(stage)) } p.large { "It cannot be planned as things stand." } },
        knowing: html! {
            @for line in why.lines() { p.warn { (line) } }
            @if !stuck.is_empty() {
                h2 { "Stuck" }
                ul.plain { @for (w, why) in &stuck { li { a href={ "/work/" (encoded(&w.work)) } { (w.work) } ": " (why) span.quiet { " (" (w.by) ", " (time(&w.when)) ")" } } } }
                p { "A work whose every way is stuck stops what comes after it. When it has moved after all, or can be done another way, its page takes the word back." }
            }
        },
        doing: html! {
            p { a.main href={ "/today?stage=" (word(stage)) } { "Today, as the calendar has it" } }
            ul.ways {
                li { a href={ "/plan?stage=" (other(stage).0) } { (other(stage).1) } }
                li { a href="/book" { "To the book" } }
            }
        },
    }
}

/// The plan of a stage as the book has it now.
pub(crate) async fn plan_of(visit: &Visit, stage: Stage) -> Result<Arc<PlanShown>, Trouble> {
    plan_or_why(visit, stage).await?.map_err(|why| Trouble::wrong(why, ""))
}

async fn plan_or_why(
    visit: &Visit,
    stage: Stage,
) -> Result<Result<Arc<PlanShown>, String>, Trouble> {
    let judged = visit.judged()?.clone();
    Ok(match judged.plan_at_hand(stage) {
        Some(known) => known,
        None => visit.bench.working_out(move || judged.plan_shown(stage)).await?,
    })
}

/// The day's list that the address asks for.
pub(crate) async fn day_of(visit: &Visit) -> Result<Arc<DayListView>, Trouble> {
    day_in(visit, &visit.asked).await
}

async fn day_in(visit: &Visit, fields: &Fields) -> Result<Arc<DayListView>, Trouble> {
    day_or_why(visit, fields).await?.map_err(|why| Trouble::wrong(why, ""))
}

async fn day_or_why(
    visit: &Visit,
    fields: &Fields,
) -> Result<Result<Arc<DayListView>, String>, Trouble> {
    let (judged, stage, here) = (visit.judged()?.clone(), stage_in(fields), on_the_day(fields)?);
    let view = match judged.day_at_hand(stage, &here) {
        Some(known) => known,
        None => visit.bench.working_out(move || judged.day(stage, &here)).await?,
    };
    // The mend of the command line is no help here.
    Ok(view.map_err(|why| match why.split_once("; say --people") {
        Some((what, _)) => format!("{what}; say how many people are here, and for how many hours"),
        None => why,
    }))
}

fn on_the_day(fields: &Fields) -> Result<OnTheDay, Trouble> {
    let wrong = |e: String| Trouble::wrong(e, "");
    let number = |name: &str, least: f64, most: f64| match fields.given(name) {
        None => Ok(None),
        Some(text) => match text.replace(',', ".").parse::<f64>() {
            Ok(n) if (least..=most).contains(&n) => Ok(Some(n)),
            _ => Err(wrong(format!("{name}: \"{text}\" cannot be; {least} to {most}"))),
        },
    };
    Ok(OnTheDay {
        day: fields.given("day").map(Date::parse).transpose().map_err(wrong)?,
        from: fields
            .given("from")
            .map(|t| Moment::parse(&format!("2000-01-01 {t}")))
            .transpose()
            .map_err(wrong)?
            .and_then(|m| m.clock_min),
        // Whole and small by the limits.
        people: number("people", 1.0, 100.0)?.map(|n| n as u32),
        minutes: number("hours", 0.1, 24.0)?.map(|h| (h * 60.0).round() as u32),
        weather: fields
            .all("weather")
            .filter(|w| !w.is_empty())
            .map(weather)
            .collect::<Result<Vec<_>, _>>()
            .map_err(wrong)?,
        without: fields.all("without").filter(|w| !w.is_empty()).map(str::to_owned).collect(),
        ..crate::order::usual_day()
    })
}

/// Day and clock of a line's beginning and end, as a form field has them; empty where the line does
/// not tell them.
fn span(date: &str, l: &LineView) -> [String; 2] {
    let at = |text: &str| {
        let clock = |c: &str| c.len() == 5 && c.as_bytes().get(2) == Some(&b':');
        // The end of one that goes on has its own day: Sat 2026-10-10 11:30.
        let mut words = text.split(' ').rev();
        match (words.next(), words.next()) {
            (Some(c), None) if clock(c) => format!("{date}T{c}"),
            (Some(c), Some(day)) if clock(c) && day.len() == 10 => format!("{day}T{c}"),
            _ => String::new(),
        }
    };
    [at(&l.from), at(&l.until)]
}

/// Done, or stuck.
fn tick(visit: &Visit, work: &str, way: &str, planned: Option<&[String; 2]>) -> Markup {
    html! { (done(visit, work, way, planned)) (otherwise(visit, work, way, planned)) }
}

/// On the day itself a word counts from when it is written; afterwards from when it was planned,
/// unless somebody says otherwise.
fn afterwards<'a>(visit: &Visit, planned: Option<&'a [String; 2]>) -> Option<&'a [String; 2]> {
    let now = visit.bench.time();
    planned.filter(|p| !p[0].is_empty() && !p[1].is_empty() && p[1].get(..10) < now.get(..10))
}

fn done(visit: &Visit, work: &str, way: &str, planned: Option<&[String; 2]>) -> Markup {
    saying(
        visit,
        "work-done",
        visit.here(),
        &html! {
            input type="hidden" name="work" value=(work);
            input type="hidden" name="way" value=(way);
            @if let Some([_, until]) = afterwards(visit, planned) { input type="hidden" name="at" value=(until); }
            button.main { "Done" }
        },
    )
}

fn otherwise(visit: &Visit, work: &str, way: &str, planned: Option<&[String; 2]>) -> Markup {
    let here = visit.here();
    let id = |what: &str| format!("{what}-{}", crate::pieces::key());
    let at = |label: &str, which: usize| {
        let id = id("at");
        let value = afterwards(visit, planned).map_or("", |p| p[which].as_str());
        html! {
            label for=(id) { (label) span.quiet { " (empty: now)" } }
            input id=(id) name="at" type="datetime-local" value=(value);
        }
    };
    html! {
        details {
            summary { "It is stuck, or was done with a remark" }
            (saying(visit, "work-stuck", here, &html! {
                input type="hidden" name="work" value=(work);
                input type="hidden" name="way" value=(way);
                (line(&id("why"), "why", "Stuck: why it does not go this way", "", true))
                (at("Since when", 0))
                button { "Write it, and plan around it" }
            }))
            (saying(visit, "work-done", here, &html! {
                input type="hidden" name="work" value=(work);
                input type="hidden" name="way" value=(way);
                (line(&id("minutes"), "minutes", "Done: minutes it took", "", false))
                (line(&id("note"), "note", "Remark", "", false))
                (at("When it was done", 1))
                button { "Done, with this" }
            }))
        }
    }
}

fn amount(units: Units, a: &Amount) -> Markup {
    let (first, second) = match units {
        Units::Metric => (&a.metric, &a.imperial),
        Units::Imperial => (&a.imperial, &a.metric),
    };
    html! { span.figure { b { (first) } " " small { (second) } } }
}

#[cfg(test)]
mod tests {
    use super::*;
    use engine::view::LineView;

    #[test]
    fn the_ends_of_a_line_are_day_and_clock_or_nothing() {
        let line = |from: &str, until: &str| LineView {
            number: None,
            kind: "off",
            from: from.to_owned(),
            until: until.to_owned(),
            minutes: 0,
            work: String::new(),
            name: String::new(),
            way: String::new(),
            how: String::new(),
            people: 0,
            who: Vec::new(),
            kit: Vec::new(),
            bring: Vec::new(),
            place: String::new(),
            position: String::new(),
            cautions: Vec::new(),
            leaves: Vec::new(),
            stays: Vec::new(),
            why: String::new(),
            others: Vec::new(),
            lift: None,
            fails_percent: 0.0,
            note: String::new(),
        };
        let day = "2026-10-10";
        for (from, until, is) in [
            ("09:00", "10:15", ["2026-10-10T09:00", "2026-10-10T10:15"]),
            ("09:00", "Sun 2026-10-11 10:15", ["2026-10-10T09:00", "2026-10-11T10:15"]),
            ("?", "goes on", ["", ""]),
            ("", "Sun 2026-10-11", ["", ""]),
        ] {
            assert_eq!(span(day, &line(from, until)), is, "{from} {until}");
        }
    }
}
