//! A work: its ways, what each takes and what can hurt, where the wheels must stand.

use super::{at, plan_of, tick};
use crate::drawings;
use crate::layout::Page;
use crate::marks::encoded;
use crate::pieces::{has, history, line, remark, saying};
use crate::trouble::Trouble;
use crate::visit::Visit;
use axum::extract::Path;
use axum::response::Response;
use book::{Role, WorkWord};
use engine::view::{LineView, WayView};
use engine::works::{Way, WorksModel};
use maud::{Markup, html};

/// The page.
pub(crate) async fn work(visit: Visit, Path(id): Path<String>) -> Result<Response, Trouble> {
    let judged = visit.judged()?.clone();
    let engine = judged.judgement.engine();
    let model = &engine.works;
    let described = &model.works[at(&judged, &id)?];
    let view = judged
        .works(described.stage)
        .iter()
        .find(|w| w.work == described.id)
        .ok_or_else(|| Trouble::missing(format!("there is no work \"{id}\""), ""))?;
    // A work is a work where no plan can be made.
    let shown = plan_of(&visit, described.stage).await.ok();
    let planned: Option<(&str, &LineView)> = shown.as_ref().and_then(|s| {
        let mut lines =
            s.view.days.iter().flat_map(|d| d.lines.iter().map(|l| (d.date.as_str(), l)));
        lines.find(|(_, l)| l.work == view.work)
    });
    let word = visit.snap.fold.works_now().into_iter().find(|w| w.work == view.work).cloned();
    let way = planned
        .map(|(_, l)| l.way.as_str())
        .or(view.ways.first().map(|w| w.way.as_str()))
        .unwrap_or("")
        .to_owned();
    let when = planned.map(|(date, l)| super::span(date, l));
    let position = planned.map(|(_, l)| l.position.as_str()).filter(|p| !p.is_empty());
    let drawn = position.and_then(|p| judged.position(p));
    let parts: Vec<_> =
        described.takes_off.iter().chain(&described.puts_on).map(|p| engine.part(*p)).collect();
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
            @if let Some((date, l)) = planned {
                p { "Planned for " (date) ", " (l.from) " to " (l.until) @if !l.who.is_empty() { ": " (l.who.join(", ")) } }
            }
            @if !parts.is_empty() {
                ul.ways { @for p in &parts { li { a href={ "/part/" (encoded(&p.id)) } { (if p.name.is_empty() { &p.id } else { &p.name }) } } } }
            }
        },
        knowing: html! {
            @if let Some(position) = position {
                h2 { "Where the wheels stand" }
                p.large { (position) }
                @if let Some(drawn) = &drawn { (drawings::shown(drawn)) }
            }
            h2 { "Ways to do it" }
            @for (w, shown) in described.ways.iter().zip(&view.ways) { (one_way(model, w, shown, shown.way == way && planned.is_some())) }
            @if !described.note.is_empty() { p { (described.note) } }
            @if !view.after.is_empty() { h2 { "What comes first" } ul.plain { @for a in &view.after { li { (a) } } } }
            p.quiet { "A computed plan is no permission: whoever leads the work decides, and a competent person checks lifts and jacking." }
            (history(&visit, &id))
        },
        doing: html! {
            @if planned.is_some() { p { a.main href={ "/paper/card/" (encoded(&view.work)) ".pdf" } { "Print its job card" } } }
            @if has(&visit, &[Role::Fits]) {
                @match word { Some(_) => {
                    (saying(&visit, "work-undone", visit.uri.path(), &html! {
                        input type="hidden" name="work" value=(id);
                        (line("undone", "why", "Not so after all: why", "", true))
                        button { "Write it" }
                    }))
                } None => { (tick(&visit, &id, &way, when.as_ref())) } }
            }
            ul.ways {
                li { a href={ "/today?stage=" (view.stage) } { "Today" } }
                li { a href={ "/plan?stage=" (view.stage) } { "The whole plan" } }
            }
            (crate::pages::joint_work(&visit, &id))
            (remark(&visit, &id))
        },
    };
    Ok(page.answer(&visit))
}

fn one_way(model: &WorksModel, w: &Way, shown: &WayView, planned: bool) -> Markup {
    let kit: Vec<String> = w
        .kit
        .iter()
        .map(|(k, n)| {
            if *n == 1 { model.kit[*k].name.clone() } else { format!("{n} {}", model.kit[*k].name) }
        })
        .chain(w.bring.iter().cloned())
        .collect();
    let place = match (w.bench, w.from) {
        (true, _) => "at the bench".to_owned(),
        (false, Some(p)) => model.places[p].name.clone(),
        (false, None) => String::new(),
    };
    let clear: Vec<&str> = w.keeps_clear.iter().map(|p| model.places[*p].name.as_str()).collect();
    let positions: Vec<String> = w.at.iter().map(ToString::to_string).collect();
    let leaves: Vec<String> = w
        .leaves
        .iter()
        .map(|(what, until)| match until.first() {
            Some(u) => format!("{what}, until: {}", model.works[*u].name),
            None => what.clone(),
        })
        .collect();
    let stays = w.stays.iter().map(|(kit, n, until)| {
        let (kit, until) = (&model.kit[*kit].name, &model.works[*until].name);
        if *n == 1 {
            format!("{kit}, until: {until}")
        } else {
            format!("{n} {kit}, until: {until}")
        }
    });
    let stays: Vec<String> = stays.collect();
    let mut said: Vec<String> = w.hazards.iter().map(|h| h.caution()).collect();
    said.dedup();
    html! {
        section.feature {
            h3 { (w.how) @if shown.stuck { " – stuck" } @else if planned { " – as planned" } }
            dl.facts {
                dt { "takes" } dd { (w.minutes) " min, " @if w.people == 1 { "1 person" } @else { (w.people) " people" } }
                @if !place.is_empty() { dt { "from" } dd { (place) } }
                @if !clear.is_empty() { dt { "nobody in" } dd { (clear.join(", ")) } }
                @if !kit.is_empty() { dt { "kit" } dd { (kit.join(", ")) } }
                @if !stays.is_empty() { dt { "stays there" } dd { (stays.join("; ")) } }
                @if !positions.is_empty() { dt { "wheels" } dd { (positions.join(", or ")) } }
                @if !shown.needs.is_empty() { dt { "first" } dd { (shown.needs.join(", ")) } }
                @if 0.0 < w.fails { dt { "will not go" } dd { (format!("{:.0} in 100", 100.0 * w.fails)) } }
                @if let Some(l) = w.lift { dt { "lift" } dd { a href={ "/lift/" (encoded(&model.lifts[l].id)) } { (if model.lifts[l].name.is_empty() { &model.lifts[l].id } else { &model.lifts[l].name }) } } }
            }
            @if !leaves.is_empty() { p.warn { "Leaves hanging: " (leaves.join("; ")) } }
            @for c in &said { p.warn { (c) } }
        }
    }
}
