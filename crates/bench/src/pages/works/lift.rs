//! Lifts: what hangs on the hook, leg by leg and stage by stage.

use super::{amount, lift_by_id};
use crate::drawings::{self, Drawn};
use crate::layout::Page;
use crate::marks::{cautions, encoded};
use crate::pieces::table;
use crate::trouble::Trouble;
use crate::visit::{Units, Visit};
use axum::extract::Path;
use axum::response::Response;
use engine::view::{LiftView, lift_view};
use engine::works;
use maud::{Markup, html};

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
    let at = lift_by_id(&judged, &id)?;
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
            @for p in &pictures { (drawings::wide(p)) }
            (lift_shown(visit.units, &view))
            @for n in &view.notes { p.quiet { (n) } }
        },
        doing: html! {
            p { a.main href={ "/paper/lift/" (encoded(&view.lift)) ".pdf" } { "Print the lift sheet" } }
            @if !view.used_by.is_empty() { h2 { "Works that use it" } ul.ways { @for w in &view.used_by { li { a href={ "/work/" (encoded(w)) } { (w) } } } } }
            ul.ways { li { a href="/today" { "Today" } } li { a href="/lifts" { "All lifts" } } }
        },
    };
    Ok(page.answer(&visit))
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
            (table("Coming off its seat", &["out", "seat, inner edge", "seat, outer edge", "crane", "hands", "pull", "it"], &html! {
                @for r in &s.stages { tr { td { (crate::marks::figure(units, &r.out)) } td { (amount(units, &r.seat_inner)) } td { (amount(units, &r.seat_outer)) } td { (amount(units, &r.crane)) } td { (amount(units, &r.hands)) } td { (amount(units, &r.pull)) } td { @if r.bad { b { "✖ " (r.state) } } @else { (r.state) } } } }
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
