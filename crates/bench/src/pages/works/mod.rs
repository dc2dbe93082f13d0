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
use crate::pieces::{line, saying};
use crate::snapshot::{Judged, PlanShown};
use crate::trouble::Trouble;
use crate::visit::{Units, Visit};
use engine::model::Date;
use engine::view::{Amount, DayListView};
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

/// The plan of a stage as the book has it now.
pub(crate) async fn plan_of(visit: &Visit, stage: Stage) -> Result<Arc<PlanShown>, Trouble> {
    let judged = visit.judged()?.clone();
    let shown = match judged.plan_at_hand(stage) {
        Some(known) => known,
        None => visit.bench.working_out(move || judged.plan_shown(stage)).await?,
    };
    shown.map_err(|why| Trouble::wrong(why, ""))
}

/// The day's list that the address asks for.
pub(crate) async fn day_of(visit: &Visit) -> Result<Arc<DayListView>, Trouble> {
    day_in(visit, &visit.asked).await
}

async fn day_in(visit: &Visit, fields: &Fields) -> Result<Arc<DayListView>, Trouble> {
    let (judged, stage, here) = (visit.judged()?.clone(), stage_in(fields), on_the_day(fields)?);
    let view = match judged.day_at_hand(stage, &here) {
        Some(known) => known,
        None => visit.bench.working_out(move || judged.day(stage, &here)).await?,
    };
    // The mend of the command line is no help here.
    view.map_err(|why| match why.split_once("; say --people") {
        Some((what, _)) => {
            Trouble::wrong(what, "say how many people are here, and for how many hours")
        }
        None => Trouble::wrong(why, ""),
    })
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

/// Done, or stuck.
fn tick(visit: &Visit, work: &str, way: &str) -> Markup {
    let here = visit.here();
    let id = |what: &str| format!("{what}-{}", crate::pieces::key());
    html! {
        (saying(visit, "work-done", here, &html! {
            input type="hidden" name="work" value=(work);
            input type="hidden" name="way" value=(way);
            button.main { "Done" }
        }))
        details {
            summary { "It is stuck" }
            (saying(visit, "work-stuck", here, &html! {
                input type="hidden" name="work" value=(work);
                input type="hidden" name="way" value=(way);
                (line(&id("why"), "why", "Why it does not go this way", "", true))
                button { "Write it, and plan around it" }
            }))
        }
        details {
            summary { "Done, with a remark" }
            (saying(visit, "work-done", here, &html! {
                input type="hidden" name="work" value=(work);
                input type="hidden" name="way" value=(way);
                (line(&id("minutes"), "minutes", "Minutes it took", "", false))
                (line(&id("note"), "note", "Remark", "", false))
                button { "Done" }
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
