//! Strip and build: the plan, the day's list to tick, a work, a lift.

use crate::drawings::{self, Drawn};
use crate::layout::Page;
use crate::marks::{cautions, encoded};
use crate::pieces::{has, history, key, line, remark, saying, table};
use crate::snapshot::Judged;
use crate::state::spawn;
use crate::trouble::Trouble;
use crate::visit::{Units, Visit};
use axum::extract::Path;
use axum::response::Response;
use book::{Role, WorkWord};
use engine::model::Date;
use engine::view::{
    Amount, DayListView, LiftView, LineView, PlanView, WayView, chart_view, day_view, lift_view,
    plan_view, work_view,
};
use engine::works::{self, Moment, OnTheDay, Stage, day_list};
use maud::{Markup, html};

/// Plans tried for a day's list.
const FEW_STEPS: u64 = 600;

/// What this is about, when there are works at all.
pub(crate) fn described(judged: &Judged) -> bool {
    !judged.judgement.engine().works.works.is_empty()
}

fn stage(visit: &Visit) -> Stage {
    if visit.asked.get("stage") == "build" { Stage::Build } else { Stage::Strip }
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

/// The plan.
pub(crate) async fn plan(visit: Visit) -> Result<Response, Trouble> {
    let (judged, stage) = (visit.judged()?.clone(), stage(&visit));
    let _turn = visit.bench.setting().await?;
    let (view, chart) = spawn(move || {
        let planned = judged.plan(stage).as_ref().map_err(Clone::clone)?;
        let chart = match paper::plan_picture(&chart_view(&judged.judgement, planned)) {
            Ok(p) => drawings::picture(p),
            Err(why) => Drawn::Not(why.to_string()),
        };
        Ok((plan_view(&judged.judgement, planned), chart))
    })
    .await?
    .map_err(|why: String| Trouble::wrong(why, ""))?;
    let (word, name) = other(stage);
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
            (stuck_and_changed(&view))
            details { summary { "The plan as a chart" } (drawings::wide(&chart)) }
            @for day in &view.days {
                section aria-label=(day.date) {
                    h2 { (day.weekday) " " (day.date) }
                    p.quiet { (day.people.join(", ")) "; " (day.hours) }
                    (table(&format!("Works of {}", day.date), &["time", "what", "how"], &html! {
                        @for l in &day.lines { tr {
                            td { (l.from) " to " (l.until) }
                            td { @if l.work.is_empty() { (l.name) } @else { a href={ "/work/" (encoded(&l.work)) } { (l.name) } } br; span.quiet { (l.who.join(", ")) } }
                            td { (l.how) }
                        } }
                    }))
                    @if !day.hangs.is_empty() { p.warn { "Hangs when the day ends: " (day.hangs.join(", ")) } }
                }
            }
            @for n in view.notes.iter().chain(&view.ways_out) { p.quiet { (n) } }
            (cautions(&[view.caution]))
        },
        doing: html! {
            p { a.main href={ "/today?stage=" (if stage == Stage::Build { "build" } else { "strip" }) } { "Today" } }
            ul.ways {
                li { a href={ "/plan?stage=" (word) } { (name) } }
                li { a href="/lifts" { "Lifts" } }
                li { a href="/" { "To the engine" } }
            }
        },
    };
    Ok(page.answer(&visit))
}

fn stuck_and_changed(view: &PlanView) -> Markup {
    html! {
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

/// The day's list.
pub(crate) async fn today(visit: Visit) -> Result<Response, Trouble> {
    let (judged, stage, here) = (visit.judged()?.clone(), stage(&visit), on_the_day(&visit)?);
    let _turn = visit.bench.setting().await?;
    let view = spawn(move || {
        let planned = judged.plan(stage).as_ref().map_err(Clone::clone)?.clone();
        day_list(&judged.judgement, planned, &here)
            .map(|answer| day_view(&judged.judgement, &answer))
            .map_err(|e| e.to_string())
    })
    .await?
    .map_err(|why: String| Trouble::wrong(why, ""))?;
    let word = if stage == Stage::Build { "build" } else { "strip" };
    let page = Page {
        title: "Today".to_owned(),
        holding: html! {
            h1 { (view.weekday) " " (view.date) }
            p { (name_of(stage)) "; " (view.people) }
            p.quiet { "With the day like this the stage ends " (view.then_ends) "." }
        },
        knowing: html! {
            @if view.lines.is_empty() { p.large { "Nothing can be done on this day." } }
            h2 { "What to do" }
            ol.tickets { @for l in &view.lines { (ticket(&visit, l)) } }
            (around(&view))
        },
        doing: html! {
            form.stack method="get" action="/today" {
                input type="hidden" name="stage" value=(word);
                label for="day" { "Another day" }
                input #day name="day" type="date" value=(view.date);
                (line("people", "people", "People here", visit.asked.get("people"), false))
                (line("hours", "hours", "Hours to work", visit.asked.get("hours"), false))
                (line("without", "without", "Kit or place that is not there, by id", visit.asked.get("without"), false))
                button.main { "Make the list" }
            }
            ul.ways {
                li { a href={ "/plan?stage=" (word) } { "The whole plan" } }
                li { a href={ "/today?stage=" (other(stage).0) } { (other(stage).1) } }
                li { a href="/lifts" { "Lifts" } }
            }
        },
    };
    Ok(page.answer(&visit))
}

fn on_the_day(visit: &Visit) -> Result<OnTheDay, Trouble> {
    let wrong = |e: String| Trouble::wrong(e, "");
    let number = |name: &str, least: f64, most: f64| match visit.asked.given(name) {
        None => Ok(None),
        Some(text) => match text.parse::<f64>() {
            Ok(n) if (least..=most).contains(&n) => Ok(Some(n)),
            _ => Err(wrong(format!("{name}: \"{text}\" cannot be; {least} to {most}"))),
        },
    };
    Ok(OnTheDay {
        day: visit.asked.given("day").map(Date::parse).transpose().map_err(wrong)?,
        from: visit
            .asked
            .given("from")
            .map(|t| Moment::parse(&format!("2000-01-01 {t}")))
            .transpose()
            .map_err(wrong)?
            .and_then(|m| m.clock_min),
        // Whole and small by the limits.
        people: number("people", 1.0, 100.0)?.map(|n| n as u32),
        minutes: number("hours", 0.1, 24.0)?.map(|h| (h * 60.0).round() as u32),
        weather: Vec::new(),
        without: visit.asked.all("without").filter(|w| !w.is_empty()).map(str::to_owned).collect(),
        steps: FEW_STEPS,
        seed: 1,
    })
}

/// One line of the list, to be ticked.
fn ticket(visit: &Visit, l: &LineView) -> Markup {
    html! {
        li {
            h3 { (l.from) " " @if l.work.is_empty() { (l.name) } @else { a href={ "/work/" (encoded(&l.work)) } { (l.name) } } }
            p { (l.how) @if !l.who.is_empty() { "; " (l.who.join(", ")) } @else if l.people == 1 { "; 1 person" } @else if 1 < l.people { "; " (l.people) " people" } "; " (l.minutes) " min" }
            @if !l.position.is_empty() { p { "Wheels: " (l.position) } }
            @if !l.kit.is_empty() || !l.bring.is_empty() { p.quiet { "Fetch: " (l.kit.iter().chain(&l.bring).map(String::as_str).collect::<Vec<_>>().join(", ")) } }
            @for c in &l.cautions { p.warn { (c) } }
            @if !l.leaves.is_empty() { p.warn { "Leaves hanging: " (l.leaves.join(", ")) } }
            @if let Some(lift) = &l.lift { p { a href={ "/lift/" (encoded(lift)) } { "Its lift" } } }
            @if !l.why.is_empty() { details { summary { "Why it comes here" } p { (l.why) } } }
            @if !l.work.is_empty() && has(visit, &[Role::Fits]) { (tick(visit, &l.work, &l.way)) }
        }
    }
}

/// Done, or stuck.
fn tick(visit: &Visit, work: &str, way: &str) -> Markup {
    let here = visit.here();
    html! {
        (saying(visit, "work-done", here, &html! {
            input type="hidden" name="work" value=(work);
            input type="hidden" name="way" value=(way);
            button { "Done" }
        }))
        details {
            summary { "It is stuck" }
            @let id = format!("why-{}", key());
            (saying(visit, "work-stuck", here, &html! {
                input type="hidden" name="work" value=(work);
                input type="hidden" name="way" value=(way);
                (line(&id, "why", "Why it does not go this way", "", true))
                button { "Write it, and plan around it" }
            }))
        }
    }
}

fn around(view: &DayListView) -> Markup {
    html! {
        @if !view.lifts.is_empty() { h2 { "Lifts of the day" } ul.ways { @for l in &view.lifts { li { a href={ "/lift/" (encoded(l)) } { (l) } } } } }
        @if !view.fetch.is_empty() || !view.bring.is_empty() { h2 { "To fetch" } p { (view.fetch.iter().chain(&view.bring).map(String::as_str).collect::<Vec<_>>().join(", ")) } }
        @if !view.hangs_overnight.is_empty() { p.warn { "Hangs overnight: " (view.hangs_overnight.join(", ")) } }
        @for n in &view.notes { p.quiet { (n) } }
        (cautions(&view.cautions))
    }
}

/// A work.
pub(crate) async fn work(visit: Visit, Path(id): Path<String>) -> Result<Response, Trouble> {
    let judged = visit.judged()?.clone();
    let model = &judged.judgement.engine().works;
    let at = model.work_by_id(&id).ok_or_else(|| {
        let near =
            model.nearest_work(&id).map_or_else(String::new, |n| format!("did you mean \"{n}\"?"));
        Trouble::missing(format!("there is no work \"{id}\""), near)
    })?;
    let view = work_view(&judged.judgement, at)
        .ok_or_else(|| Trouble::missing(format!("there is no work \"{id}\""), ""))?;
    let word = visit.snap.fold.works_now().into_iter().find(|w| w.work == id).cloned();
    let way = view.ways.first().map_or("", |w| w.way.as_str()).to_owned();
    let page = Page {
        title: view.name.clone(),
        holding: html! {
            h1 { (view.name) }
            p { code { (view.work) } ", " (view.kind) ", " (view.stage) }
            @match word.as_ref().map(|w| &w.word) {
                Some(WorkWord::Done { .. }) => { p.large { "✓ done" } }
                Some(WorkWord::Stuck { why, .. }) => { p.large { "✖ stuck: " (why) } }
                _ => { p.large { "to do" } }
            }
            @if !view.parts.is_empty() { ul.ways { @for p in &view.parts { li { a href={ "/find?what=" (encoded(p)) } { (p) } } } } }
        },
        knowing: html! {
            h2 { "Ways to do it" }
            @for w in &view.ways { (way_shown(w)) }
            @if !view.after.is_empty() { h2 { "What comes first" } ul.plain { @for a in &view.after { li { (a) } } } }
            (history(&visit, &id))
        },
        doing: html! {
            @if has(&visit, &[Role::Fits]) {
                @match word { Some(_) => {
                    (saying(&visit, "work-undone", visit.uri.path(), &html! {
                        input type="hidden" name="work" value=(id);
                        (line("undone", "why", "Not so after all: why", "", true))
                        button { "Write it" }
                    }))
                } None => { (tick(&visit, &id, &way)) } }
            }
            p { a.main href="/today" { "Today" } }
            ul.ways { li { a href={ "/plan?stage=" (view.stage) } { "The whole plan" } } }
            (super::joint::work(&visit, &id))
            (remark(&visit, &id))
        },
    };
    Ok(page.answer(&visit))
}

fn way_shown(w: &WayView) -> Markup {
    html! {
        section.feature {
            h3 { (w.how) @if w.stuck { " – stuck" } }
            p { (w.minutes) " min, " (w.people) " people" }
            @if !w.needs.is_empty() { p.quiet { "Needs first: " (w.needs.join(", ")) } }
        }
    }
}

/// All lifts.
pub(crate) async fn lifts(visit: Visit) -> Result<Response, Trouble> {
    let judged = visit.judged()?.clone();
    let all = &judged.judgement.engine().works.lifts;
    let page = Page {
        title: "Lifts".to_owned(),
        holding: html! { h1 { "Lifts" } p { (all.len()) " lifts described" } },
        knowing: html! {
            ul.ways { @for l in all { li { a href={ "/lift/" (encoded(&l.id)) } { (if l.name.is_empty() { &l.id } else { &l.name }) } } } }
            p.warn { "A computed lift is no permission: a competent person plans and releases it." }
        },
        doing: html! { p { a.main href="/plan" { "The plan" } } },
    };
    Ok(page.answer(&visit))
}

/// A lift.
pub(crate) async fn lift(visit: Visit, Path(id): Path<String>) -> Result<Response, Trouble> {
    let judged = visit.judged()?.clone();
    let engine = judged.judgement.engine();
    let at = engine.works.lift_by_id(&id).ok_or_else(|| {
        Trouble::missing(format!("there is no lift \"{id}\""), "the page of all lifts lists them")
    })?;
    let answer = works::lift(engine, at).map_err(|e| Trouble::wrong(e.to_string(), ""))?;
    let view = lift_view(engine, &answer);
    let pictures: Vec<Drawn> = match paper::lift_pictures(engine, &answer) {
        Ok(all) => all.into_iter().map(drawings::picture).collect(),
        Err(why) => vec![Drawn::Not(why.to_string())],
    };
    let page = Page {
        title: view.name.clone(),
        holding: html! {
            h1 { (view.name) }
            p { code { (view.lift) } }
            p.large { (amount(visit.units, &view.mass)) }
            p.quiet { "standard uncertainty " (amount(visit.units, &view.mass_doubt)) }
        },
        knowing: html! {
            (cautions(&view.cautions))
            @for p in &pictures { (drawings::shown(p)) }
            (lift_shown(visit.units, &view))
            @for n in &view.notes { p.quiet { (n) } }
        },
        doing: html! {
            @if !view.used_by.is_empty() { h2 { "Works that use it" } ul.ways { @for w in &view.used_by { li { a href={ "/work/" (encoded(w)) } { (w) } } } } }
            p { a.main href="/today" { "Today" } }
            p { a href="/lifts" { "All lifts" } }
        },
    };
    Ok(page.answer(&visit))
}

fn amount(units: Units, a: &Amount) -> Markup {
    let (first, second) = match units {
        Units::Metric => (&a.metric, &a.imperial),
        Units::Imperial => (&a.imperial, &a.metric),
    };
    html! { span.figure { b { (first) } " " small { (second) } } }
}

fn lift_shown(units: Units, view: &LiftView) -> Markup {
    html! {
        h2 { "On the hook" }
        (table("On the hook", &["part", "mass", "how it is known"], &html! {
            @for p in &view.parts { tr { td { a href={ "/part/" (encoded(&p.part)) } { (p.name) } } td { (amount(units, &p.mass)) } td { (p.how) } } }
        }))
        @if let Some(s) = &view.sling {
            h2 { "Slings" }
            p { (s.gear) "; one leg is rated " (amount(units, &s.rated)) }
            (table("Legs", &["leg", "from the vertical", "tension", "at most", "of its rating"], &html! {
                @for l in &s.legs { tr { td { (l.leg) } td { (format!("{:.0}°", l.angle_deg)) } td { (amount(units, &l.tension)) } td { (amount(units, &l.most)) } td { (format!("{:.0} %", l.share_percent)) } } }
            }))
            p { @if s.within_by_statics && s.within_by_mode { "Within its rating, both ways of reckoning." } @else { b { "✖ Not within its rating." } } (format!(" Tilt {:.1}°.", s.tilt_deg)) }
            @for f in &s.findings { p.warn { (f) } }
        }
        @if let Some(s) = &view.slide {
            h2 { "Coming off its seat" }
            (table("Coming off its seat", &["out", "crane", "hands", "pull", ""], &html! {
                @for r in &s.stages { tr { td { (crate::marks::figure(units, &r.out)) } td { (amount(units, &r.crane)) } td { (amount(units, &r.hands)) } td { (amount(units, &r.pull)) } td { @if r.bad { b { "✖ " (r.state) } } @else { (r.state) } } } }
            }))
            @for t in s.events.iter().chain(&s.advice) { p { (t) } }
        }
        @if let Some(j) = &view.jacks {
            h2 { "Jacks and packing" }
            (table("Jacks and packing", &["support", "load", "at most", "of its rating"], &html! {
                @for l in &j.loads { tr { td { (l.support) " " (l.kind) } td { (amount(units, &l.load)) } td { (amount(units, &l.most)) } td { @if let Some(p) = l.share_percent { (format!("{p:.0} %")) } } } }
            }))
            p { (format!("It would tip at {:.1}°.", j.tip_deg)) }
            @for f in &j.findings { p.warn { (f) } }
        }
        @if let Some(d) = &view.draw {
            h2 { "Drawing it off" }
            p { "Force: " @for (n, f) in d.force.iter().enumerate() { @if 0 < n { ", " } (amount(units, f)) } "; " (d.source) }
            p { (d.finding) }
        }
    }
}
