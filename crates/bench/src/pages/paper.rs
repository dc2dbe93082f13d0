//! Sheets to print: each is set when it is asked for, off the threads that serve, one at a time.

use crate::layout::{Page, token};
use crate::marks::encoded;
use crate::pages::works;
use crate::snapshot::Judged;
use crate::trouble::Trouble;
use crate::visit::{Paper, Units, Visit};
use ::paper::{
    GaugeSheetOf, Links, PaperError, PaperSize, Rendered, ReportOptions, SheetOptions, TagSize,
    TagWords, UnitsFirst,
};
use axum::extract::Path;
use axum::http::HeaderValue;
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use engine::design::{DesignError, design};
use engine::judge::{Judgement, Verdict};
use engine::view::lift_view;
use engine::works::{Stage, lift as lift_answer};
use maud::{Markup, html};
use std::sync::Arc;

type Set = fn(&Judgement, &ReportOptions) -> Result<Rendered, PaperError>;

/// Sizes of tags: the word in the address, and what it is for.
const TAG_SIZES: [(&str, TagSize, &str); 4] = [
    ("tie-on", TagSize::TieOn, "60 x 120 mm with a hole, to tie on with wire"),
    ("tin", TagSize::Tin, "90 x 45 mm, for tins and drawers"),
    ("small", TagSize::Small, "45 x 25 mm, for pins, bolts, brasses"),
    ("large", TagSize::Large, "180 x 130 mm, for frames and wheels"),
];

/// All there is to print.
pub(crate) async fn sheets(visit: Visit) -> Result<Response, Trouble> {
    let engine = visit.snap.engine.as_ref().ok();
    let (other, words) = match visit.paper {
        Paper::A4 => ("letter", "US Letter"),
        Paper::Letter => ("a4", "A4"),
    };
    let tagged = visit.snap.fold.things().any(|(_, t)| t.tag.is_some())
        || engine.is_some_and(|j| j.judgement.engine().parts.iter().any(|p| p.tag.is_some()));
    let page = Page {
        title: "Paper".to_owned(),
        holding: html! {
            h1 { "Paper" }
            p { "Sheets are set for " b { (match visit.paper { Paper::A4 => "A4", Paper::Letter => "US Letter" }) } "." }
            form method="post" action="/look" {
                (token(&visit))
                input type="hidden" name="then" value="/paper";
                button name="paper" value=(other) { (words) " instead" }
            }
        },
        knowing: html! {
            h2 { "The overhaul" }
            ul.ways {
                li { a href="/paper/dossier.pdf" { "Dossier: everything the book says, each claim with its entry" } }
                @if engine.is_some() {
                    li { a href="/paper/condition-report.pdf" { "Condition report" } }
                    li { a href="/paper/machine-to.pdf" { "Machine-to sheets" } }
                    li { a href="/paper/repairs.pdf" { "Repair sheets of every joint beyond its limits: bolts, presses, re-metalling, wedges" } }
                }
            }
            @if let Some(judged) = engine {
                @if works::described(judged) { (of_works(judged)) }
                (of_joints(judged))
            }
            h2 { "Tags" }
            @if tagged {
                ul.ways { @for (word, _, what) in TAG_SIZES { li { a href={ "/paper/tags.pdf?size=" (word) } { "All tags, " (what) } } } }
            } @else { p { "Nothing is tagged yet. A part's page ties a tag to it." } }
        },
        doing: html! {
            p { "A sheet of one thing is on that thing's own page: the card on a work's, the sling diagram on a lift's, the gauge sheet and the repair on a joint's, the tag on a part's." }
            p.quiet { "Long ones take some seconds. One is set at a time; when too many wait, the page says so." }
            p { a href="/book" { "To the book" } }
        },
    };
    Ok(page.answer(&visit))
}

fn of_works(judged: &Judged) -> Markup {
    let lifts = &judged.judgement.engine().works.lifts;
    html! {
        h2 { "Strip and build" }
        ul.ways {
            @for (word, name) in [("strip", "strip"), ("build", "build")] {
                li { a href={ "/paper/day.pdf?stage=" (word) } { "The day's list, " (name) } }
                li { a href={ "/paper/cards.pdf?stage=" (word) } { "Job cards of the day, " (name) } }
                li { a href={ "/paper/plan.pdf?stage=" (word) } { "The whole plan, " (name) } }
            }
        }
        @if !lifts.is_empty() {
            details {
                summary { "Lift sheets: " (lifts.len()) }
                ul.ways { @for l in lifts { li { a href={ "/paper/lift/" (encoded(&l.id)) ".pdf" } { (if l.name.is_empty() { &l.id } else { &l.name }) } } } }
            }
        }
    }
}

fn of_joints(judged: &Judged) -> Markup {
    let judgement = &judged.judgement;
    let beyond: Vec<_> = judgement
        .worst_first()
        .into_iter()
        .filter(|j| judgement.joint(*j).verdict == Verdict::Beyond)
        .map(|j| judgement.engine().joint(j))
        .collect();
    html! {
        @if !beyond.is_empty() {
            h2 { "Joints beyond their limits" }
            details {
                summary { "Repair sheet or blank gauge sheet of one: " (beyond.len()) }
                ul.plain { @for j in &beyond { li {
                    b { (if j.name.is_empty() { &j.id } else { &j.name }) } ": "
                    a href={ "/paper/repair/" (encoded(&j.id)) ".pdf" } { "repair" } ", "
                    a href={ "/paper/gauge/" (encoded(&j.id)) ".pdf" } { "gauge sheet" }
                } } }
            }
        }
    }
}

/// The condition report.
pub(crate) async fn condition_report(visit: Visit) -> Result<Response, Trouble> {
    set(&visit, "condition-report.pdf", ::paper::condition_report).await
}

/// The machine-to sheets.
pub(crate) async fn machine_to(visit: Visit) -> Result<Response, Trouble> {
    set(&visit, "machine-to.pdf", ::paper::machine_to_sheet).await
}

/// Everything the book says.
pub(crate) async fn dossier(visit: Visit) -> Result<Response, Trouble> {
    let (snap, options) = (visit.snap.clone(), options(&visit));
    let bench = visit.bench.clone();
    // The book is read before a turn is waited for, so that nobody who writes waits for paper.
    let record = {
        let snap = snap.clone();
        bench
            .write(move |book| {
                let judgement = snap.engine.as_ref().ok().map(|j| &j.judgement);
                ::dossier::record(book, judgement, snap.today)
            })
            .await?
    };
    let rendered = bench
        .printing(move || {
            let judgement = snap.engine.as_ref().ok().map(|j| &j.judgement);
            ::paper::dossier(judgement, &record, &options).map_err(failed)
        })
        .await??;
    Ok(pdf("dossier.pdf", rendered))
}

/// How sheets are wanted: on the paper asked for, with codes that open this bench where phones reach
/// it.
fn options(visit: &Visit) -> SheetOptions {
    let links = (visit.bench.settings().reach == crate::Reach::OtherMachines)
        .then(|| Links::under(&format!("https://{}", visit.host)));
    SheetOptions { paper: size(visit), units: units(visit), links }
}

fn units(visit: &Visit) -> UnitsFirst {
    match visit.units {
        Units::Metric => UnitsFirst::Metric,
        Units::Imperial => UnitsFirst::Imperial,
    }
}

fn size(visit: &Visit) -> PaperSize {
    match visit.paper {
        Paper::Letter => PaperSize::UsLetter,
        Paper::A4 => PaperSize::A4,
    }
}

fn failed(error: PaperError) -> Trouble {
    match error {
        PaperError::Nothing(what) => Trouble::missing(what, "there is nothing of it to print"),
        other => Trouble::Inside(other.to_string()),
    }
}

/// A name without the ending that makes it a file.
fn bare(name: &str) -> String {
    name.strip_suffix(".pdf").unwrap_or(name).to_owned()
}

/// A blank gauge sheet of a part or joint.
pub(crate) async fn gauge(visit: Visit, Path(name): Path<String>) -> Result<Response, Trouble> {
    let judged = visit.judged()?.clone();
    let (id, options) = (bare(&name), options(&visit));
    let engine = judged.judgement.engine();
    let joint = engine.joint_by_id(&id).is_some();
    if !joint && engine.parts.iter().all(|p| p.id != id) {
        return Err(Trouble::missing(format!("there is neither part nor joint \"{id}\""), ""));
    }
    let set = move |judged: &Judged| {
        let of = if joint { GaugeSheetOf::Joint(&id) } else { GaugeSheetOf::Part(&id) };
        ::paper::gauge_sheet(&judged.judgement, of, &options)
    };
    printed(&visit, judged, "gauge-sheet.pdf", set).await
}

/// The repair of a joint: a bolt's drawing, a press or re-metalling sheet, whatever it takes.
pub(crate) async fn repair(visit: Visit, Path(name): Path<String>) -> Result<Response, Trouble> {
    let judged = visit.judged()?.clone();
    let (id, options) = (bare(&name), options(&visit));
    let ix = super::joint::find(&judged, &id)?;
    let with = super::design::with(&visit);
    let rendered = visit
        .bench
        .printing(move || {
            let found = design(&judged.judgement, ix, &with).map_err(undesigned)?;
            ::paper::repair_sheets(&judged.judgement, &[found], &options).map_err(failed)
        })
        .await??;
    Ok(pdf(&format!("repair-{}.pdf", plain(&id)), rendered))
}

fn undesigned(error: DesignError) -> Trouble {
    match error {
        DesignError::WhatIf { what, mend } => Trouble::wrong(what, mend),
        other => Trouble::wrong(other.to_string(), ""),
    }
}

/// The repairs of every joint that is beyond its limits, the worst first.
pub(crate) async fn repairs(visit: Visit) -> Result<Response, Trouble> {
    let (judged, options) = (visit.judged()?.clone(), options(&visit));
    let set = move |judged: &Judged| {
        let judgement = &judged.judgement;
        let designs: Vec<_> = judgement
            .worst_first()
            .into_iter()
            .filter(|j| judgement.joint(*j).verdict == Verdict::Beyond)
            // Only lines laid over a duty can be wrong, and there are none.
            .filter_map(|j| design(judgement, j, &[]).ok())
            .collect();
        ::paper::repair_sheets(judgement, &designs, &options)
    };
    printed(&visit, judged, "repairs.pdf", set).await
}

/// A work's card, as the plan has it.
pub(crate) async fn card(visit: Visit, Path(name): Path<String>) -> Result<Response, Trouble> {
    let judged = visit.judged()?.clone();
    let (id, options, units) = (bare(&name), options(&visit), units(&visit));
    let stage = works::stage_of(&judged, &id)?;
    let shown = works::plan_of(&visit, stage).await?;
    let rendered = visit
        .bench
        .printing(move || {
            let lines = shown.view.days.iter().flat_map(|d| d.lines.iter().map(move |l| (d, l)));
            let card = lines
                .filter(|(_, l)| l.work == id)
                .find_map(|(d, l)| ::paper::card_of(&judged.judgement, l, &d.date, units))
                .ok_or_else(|| {
                    Trouble::missing(
                        format!("the plan has no work \"{id}\" to do"),
                        "it is done, or not needed as things stand",
                    )
                })?;
            ::paper::job_cards(&[card], &options).map_err(failed)
        })
        .await??;
    Ok(pdf(&format!("card-{}.pdf", plain(&bare(&name))), rendered))
}

/// The cards of a day's list.
pub(crate) async fn cards(visit: Visit) -> Result<Response, Trouble> {
    let judged = visit.judged()?.clone();
    let (options, units) = (options(&visit), units(&visit));
    let view = works::day_of(&visit).await?;
    let set = move |judged: &Judged| {
        let all: Vec<_> = view
            .lines
            .iter()
            .filter_map(|l| ::paper::card_of(&judged.judgement, l, &view.date, units))
            .collect();
        ::paper::job_cards(&all, &options)
    };
    printed(&visit, judged, "job-cards.pdf", set).await
}

/// A day's list.
pub(crate) async fn day(visit: Visit) -> Result<Response, Trouble> {
    let (judged, options) = (visit.judged()?.clone(), options(&visit));
    let view = works::day_of(&visit).await?;
    let set = move |_: &Judged| ::paper::plan_sheet(&::paper::day_of(&view), &options);
    printed(&visit, judged, "day.pdf", set).await
}

/// A plan, with a chart a day.
pub(crate) async fn plan(visit: Visit) -> Result<Response, Trouble> {
    let (judged, options) = (visit.judged()?.clone(), options(&visit));
    let stage = works::stage(&visit);
    let shown = works::plan_of(&visit, stage).await?;
    let set = move |judged: &Judged| {
        let chart = engine::view::chart_view(&judged.judgement, &shown.planned);
        // A day that cannot be drawn is in words on the sheet all the same.
        let charts = ::paper::day_pictures(&chart).unwrap_or_default();
        ::paper::plan_sheet(&::paper::plan_of(&shown.view, &charts), &options)
    };
    let name = if stage == Stage::Build { "plan-build.pdf" } else { "plan-strip.pdf" };
    printed(&visit, judged, name, set).await
}

/// A lift, with its sling diagram.
pub(crate) async fn lift(visit: Visit, Path(name): Path<String>) -> Result<Response, Trouble> {
    let judged = visit.judged()?.clone();
    let (id, options, units) = (bare(&name), options(&visit), units(&visit));
    let at = works::lift_by_id(&judged, &id)?;
    let rendered = visit
        .bench
        .printing(move || {
            let engine = judged.judgement.engine();
            let answer = lift_answer(engine, at).map_err(|e| Trouble::wrong(e.to_string(), ""))?;
            let pictures = ::paper::lift_pictures(engine, &answer)
                .map_err(|e| Trouble::Inside(e.to_string()))?;
            let view = lift_view(engine, &answer);
            let sheet = ::paper::lift_of(&engine.name, &view, pictures, units);
            ::paper::lift_sheet(&sheet, &options).map_err(failed)
        })
        .await??;
    Ok(pdf(&format!("lift-{}.pdf", plain(&bare(&name))), rendered))
}

/// Tags of everything that has a code, or of one part.
pub(crate) async fn tags(visit: Visit) -> Result<Response, Trouble> {
    let options = options(&visit);
    let wanted = visit.asked.get("part").to_owned();
    let asked = visit.asked.given("size").unwrap_or("small");
    let size =
        TAG_SIZES.iter().find(|(word, ..)| *word == asked).map(|s| s.1).ok_or_else(|| {
            let known: Vec<&str> = TAG_SIZES.iter().map(|s| s.0).collect();
            Trouble::wrong(format!("there is no tag \"{asked}\""), known.join(", "))
        })?;
    let snap = visit.snap.clone();
    let engine = snap.engine.as_ref().ok().map(|j| j.judgement.engine());
    let mut all: Vec<TagWords> = ::dossier::tags(Some(&snap.fold), engine);
    all.retain(|t| !t.code.is_empty() && (wanted.is_empty() || t.part == wanted));
    if all.is_empty() {
        return Err(Trouble::missing(
            if wanted.is_empty() {
                "nothing has a tag yet".to_owned()
            } else {
                format!("\"{wanted}\" has no tag yet")
            },
            "a part's page ties a tag to it",
        ));
    }
    let rendered = visit
        .bench
        .printing(move || ::paper::tag_sheets(&all, size, &options).map_err(failed))
        .await??;
    Ok(pdf("tags.pdf", rendered))
}

/// Links to a part's tag in each size.
pub(crate) fn tag_links(part: &str) -> Markup {
    html! {
        details {
            summary { "Its tag, to print" }
            ul.ways { @for (word, _, what) in TAG_SIZES { li { a href={ "/paper/tags.pdf?part=" (encoded(part)) "&size=" (word) } { (what) } } } }
        }
    }
}

async fn set(visit: &Visit, name: &'static str, set: Set) -> Result<Response, Trouble> {
    let judged = visit.judged()?.clone();
    let options = ReportOptions { paper: size(visit), ..ReportOptions::default() };
    printed(visit, judged, name, move |judged| set(&judged.judgement, &options)).await
}

async fn printed(
    visit: &Visit,
    judged: Arc<Judged>,
    name: &'static str,
    set: impl FnOnce(&Judged) -> Result<Rendered, PaperError> + Send + 'static,
) -> Result<Response, Trouble> {
    let rendered = visit.bench.printing(move || set(&judged)).await?.map_err(failed)?;
    Ok(pdf(name, rendered))
}

/// A name as a file may have it.
fn plain(name: &str) -> String {
    name.chars().map(|c| if c.is_ascii_alphanumeric() || c == '-' { c } else { '-' }).collect()
}

/// A PDF as an answer. What the typesetter warned of is for whoever keeps the machine.
fn pdf(name: &str, rendered: Rendered) -> Response {
    for warning in &rendered.warnings {
        eprintln!("sheet {name}: {}", warning.escape_debug());
    }
    let mut response = ([(CONTENT_TYPE, "application/pdf")], rendered.pdf).into_response();
    if let Ok(value) = HeaderValue::from_str(&format!("inline; filename=\"{name}\"")) {
        response.headers_mut().insert(CONTENT_DISPOSITION, value);
    }
    response
}
