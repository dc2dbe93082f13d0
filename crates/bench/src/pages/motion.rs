//! The motion at any position of the wheels: where everything is, how far to bar it, what
//! clearance is left at the covers. A script turns the drawing; each position can be had without.

use crate::assets;
use crate::drawings::{self, Drawn};
use crate::layout::Page;
use crate::marks::{cautions, encoded, figure, verdict};
use crate::pieces::table;
use crate::state::spawn;
use crate::trouble::Trouble;
use crate::visit::{Units, Visit};
use ::drawing::motion::{DrawingStyle, DrawnUnits};
use axum::http::header::CONTENT_TYPE;
use axum::response::{IntoResponse, Response};
use engine::judge::Judgement;
use engine::motion::{self, Bringing, Mechanism, NoAnswer, Said};
use engine::view::{
    BringView, ClearancesView, MoveView, PositionView, bring_view, position_view, revolution_view,
};
use maud::{Markup, html};
use quantity::{Dimension, Quantity};

/// Steps of a turn as the page shows it moving: two degrees.
const STEPS: usize = 180;

/// The page.
pub(crate) async fn motion(visit: Visit) -> Result<Response, Trouble> {
    let judged = visit.judged()?.clone();
    // Thousands of engines are drawn for them when they are first asked for.
    let drawn = judged.clone();
    spawn(move || drawn.clearances().cylinders.len()).await?;
    let judgement = &judged.judgement;
    let model = &judgement.engine().motion;
    let first = model.cylinders.first().map_or("", |c| c.id.as_str());
    let said = asked(&visit, first);
    let placed = at(judgement, &said, DrawingStyle { text: LETTERS, ..style(visit.units) });
    let brought = visit.asked.given("to").map(|to| {
        brought(judgement, &said, to, visit.asked.given("doubt"))
            .map(|(mechanism, found)| bring_view(judgement, &mechanism, &found))
    });
    let ids: Vec<&str> = model.cylinders.iter().map(|c| c.id.as_str()).collect();
    let page = Page {
        title: "Motion".to_owned(),
        holding: html! {
            h1 { "Motion" }
            div #place role="status" {
                @match &placed {
                    Ok((view, _)) => { p.large { (view.said) } p { (format!("wheels at {:.1}°", view.wheel_deg)) } }
                    Err(_) => { p { "No position." } }
                }
            }
        },
        knowing: html! {
            @match &brought { Some(Ok(b)) => { (bring_shown(&visit, b)) } Some(Err(why)) => { section.result role="alert" { h2 { "That cannot be told" } p { (words(why)) } } } None => {} }
            @match &placed {
                Ok((view, pictures)) => {
                    (turner(&visit, &ids))
                    div #standing data-turn={ "/motion/turn.json?at=" (encoded(&said)) } { (position_shown(&visit, view, pictures)) }
                    script type="module" src=(assets::address("motion", "js")) {}
                }
                Err(why) => { p.warn { (words(why)) } }
            }
            (clearances_shown(&visit, judged.clearances()))
            (clearance_plots(judgement, style(visit.units)))
        },
        doing: doing(&visit, &said),
    };
    Ok(page.answer(&visit))
}

/// How drawings of the motion are set.
pub(super) fn style(units: Units) -> DrawingStyle {
    let units = match units {
        Units::Metric => DrawnUnits::Metric,
        Units::Imperial => DrawnUnits::Imperial,
    };
    DrawingStyle { units, ..DrawingStyle::default() }
}

/// Lettering of the drawings that turn, which stand on a phone as a whole: larger than on paper.
const LETTERS: f64 = 21.0;

/// Where every pin is through a turn from a position, for the script.
pub(crate) async fn turn(visit: Visit) -> Result<Response, Trouble> {
    let judgement = &visit.judged()?.judgement;
    let mechanism = Mechanism::of(judgement).map_err(no_answer)?;
    let from = position(judgement, visit.asked.get("at"))?;
    let view = revolution_view(judgement, &mechanism, &from, STEPS).map_err(no_answer)?;
    let json = serde_json::to_vec(&view).map_err(|e| Trouble::Inside(e.to_string()))?;
    Ok(([(CONTENT_TYPE, "application/json")], json).into_response())
}

/// The position asked for: in words, or a crank and its degrees.
fn asked(visit: &Visit, first: &str) -> String {
    if let Some(said) = visit.asked.given("at") {
        return said.to_owned();
    }
    let crank = visit.asked.given("crank").unwrap_or(first);
    let degrees = visit.asked.given("degrees").unwrap_or("0");
    format!("{crank} {degrees} past front")
}

/// Why there is no answer.
pub(crate) fn no_answer(e: NoAnswer) -> Trouble {
    match e {
        NoAnswer::Words { what, mend } => Trouble::wrong(what, mend),
        other => Trouble::wrong(other.to_string(), ""),
    }
}

/// A position in words.
pub(crate) fn position(judgement: &Judgement, text: &str) -> Result<Said, Trouble> {
    motion::parse_said(&judgement.engine().motion, text).map_err(no_answer)
}

fn at(
    judgement: &Judgement,
    text: &str,
    style: DrawingStyle,
) -> Result<(PositionView, Vec<Drawn>), Trouble> {
    // What is missing in the engine is told before what is wrong with the words: nobody has typed
    // any when the page is first opened.
    let mechanism = Mechanism::of(judgement).map_err(no_answer)?;
    let standing = motion::standing(&mechanism, &position(judgement, text)?).map_err(no_answer)?;
    let view = position_view(judgement, &mechanism, &standing);
    let words = format!("The motion with {}", view.said);
    let pictures = match paper::motion_pictures(judgement, &mechanism, standing.wheel, &style) {
        Ok(all) => all
            .into_iter()
            .enumerate()
            .map(|(n, svg)| Drawn::Picture { svg, words: format!("{words}, picture {}", n + 1) })
            .collect(),
        Err(why) => vec![Drawn::Not(why)],
    };
    Ok((view, pictures))
}

/// From one position to another.
pub(crate) fn brought(
    judgement: &Judgement,
    from: &str,
    to: &str,
    doubt: Option<&str>,
) -> Result<(Mechanism, Bringing), Trouble> {
    let (from, to) = (position(judgement, from)?, position(judgement, to)?);
    let mechanism = Mechanism::of(judgement).map_err(no_answer)?;
    let doubt_rad = match doubt {
        None => 0.0,
        Some(text) => Quantity::parse_as(text, Dimension::Angle)
            .map_err(|e| Trouble::wrong(e.reason().to_owned(), e.hint()))?
            .si(),
    };
    let found = motion::bring(&mechanism, &from, doubt_rad, &to).map_err(no_answer)?;
    Ok((mechanism, found))
}

/// What a trouble says, where it stands in the middle of a page.
pub(super) fn words(trouble: &Trouble) -> String {
    match trouble {
        Trouble::Told { what, mend, .. } if mend.is_empty() => what.clone(),
        Trouble::Told { what, mend, .. } => format!("{what}; {mend}"),
        _ => "it cannot be told".to_owned(),
    }
}

fn bring_shown(visit: &Visit, b: &BringView) -> Markup {
    let way = |m: &MoveView| {
        html! { b { (m.way) } ", " (figure(visit.units, &m.distance)) " along the rail (" (format!("{:.1}°", m.turn_deg)) ")"
        @if 0.0 < m.arrival_doubt_deg { ", arriving within " (format!("{:.1}°", m.arrival_doubt_deg)) " (standard uncertainty)" } }
    };
    html! {
        section.result role="status" {
            h2 { "From " (b.from.said) " to " (b.to.said) }
            p.large { "Bar it " (way(&b.shorter)) }
            p { "Or " (way(&b.other)) }
            (cautions(&b.cautions))
            @for n in &b.notes { p.quiet { (n) } }
        }
    }
}

fn position_shown(visit: &Visit, view: &PositionView, pictures: &[Drawn]) -> Markup {
    html! {
        @for p in pictures { (drawings::shown(p)) }
        (table("Where everything is", &["cylinder", "crank past front", "pin", "piston from the front end", "going"], &html! {
            @for c in &view.cylinders {
                tr {
                    td { b { (c.cylinder) } br; span.quiet { (c.place) } }
                    td { (format!("{:.1}°", c.past_front_deg)) }
                    td { (c.pin) }
                    td { (figure(visit.units, &c.piston_from_front)) span.quiet { (format!(" {:.1} %", c.stroke_percent)) } }
                    td { (c.going) }
                }
            }
        }))
        @for n in &view.notes { p.quiet { (n) } }
    }
}

fn clearances_shown(visit: &Visit, view: &ClearancesView) -> Markup {
    let units = visit.units;
    html! {
        @if !view.cylinders.is_empty() {
            h2 #clearances { "Piston clearances" }
            @for c in &view.cylinders {
                h3 id={ "clearance-" (c.cylinder) } { (c.cylinder) " cylinder, stroke " (figure(units, &c.stroke)) }
                (table(&format!("Piston clearances, {} cylinder, end by end", c.cylinder), &["end", "verdict", "pins in the middle", "all slack taken up"], &html! {
                    @for e in &c.ends {
                        tr {
                            td { (e.end) }
                            td { (verdict(e.verdict)) @if e.refit_verdict != e.verdict { br; span.quiet { "to put back " (e.refit_verdict) } } }
                            td { (figure(units, &e.clearance)) }
                            td { (figure(units, &e.slack_taken_up)) }
                        }
                    }
                }))
                @for e in &c.ends {
                    details {
                        summary { "Why, at the " (e.end) " of the " (c.cylinder) " cylinder" }
                        (super::joint::limits(units, &e.limits))
                        (table(&format!("Sizes that make the clearance, {} {}", c.cylinder, e.end), &["size", "value", "clearance for 1 mm of it", "its doubt in the clearance"], &html! {
                            @for s in &e.sizes {
                                tr { td { (s.size) } td { (figure(units, &s.value)) } td { (format!("{:+.2} mm", s.per_size)) } td { (figure(units, &s.u)) } }
                            }
                        }))
                        p.quiet {
                            "Every size at its worst: " (figure(units, &e.worst_least)) " to " (figure(units, &e.worst_greatest))
                            ". 95 engines of 100 drawn lie between " (figure(units, &e.drawn_low)) " and " (figure(units, &e.drawn_high)) "."
                        }
                    }
                }
                @for n in &c.notes { p.quiet { (n) } }
            }
        }
        @for m in &view.missing { p.warn { (m) } }
        (cautions(&view.cautions))
    }
}

fn clearance_plots(judgement: &Judgement, style: DrawingStyle) -> Markup {
    let all = paper::clearance_pictures(judgement, &style);
    html! {
        @if !all.is_empty() {
            details {
                summary { "Clearance near the dead centres, drawn" }
                @for (c, picture) in judgement.engine().motion.cylinders.iter().zip(all) {
                    (drawings::wide(&match picture {
                        Ok(svg) => Drawn::Picture { svg, words: format!("Clearance of the {} piston near both dead centres", c.id) },
                        Err(why) => Drawn::Not(why),
                    }))
                }
            }
        }
    }
}

/// Turns the wheels; it stands with the drawings, so that what it does is seen.
fn turner(visit: &Visit, cylinders: &[&str]) -> Markup {
    let degrees = visit.asked.given("degrees").and_then(|d| d.parse::<f64>().ok()).unwrap_or(0.0);
    html! {
        form #turning.turner method="get" action="/motion" data-live="yes" aria-label="Turn the wheels" {
            div {
                label for="crank" { "Crank" }
                select #crank name="crank" { @for c in cylinders { option selected[visit.asked.get("crank") == *c] { (c) } } }
            }
            div {
                label for="degrees" { "past front " output for="degrees" { (degrees) "°" } }
                input #degrees name="degrees" type="range" min="0" max="355" step="5" value=(degrees);
            }
            button.main { "Show it" }
        }
    }
}

fn doing(visit: &Visit, said: &str) -> Markup {
    html! {
        h2 { "Put the wheels elsewhere" }
        form.stack method="get" action="/motion" {
            label for="at" { "Say where it stands" }
            input #at name="at" value=(said) autocomplete="off" required;
            button { "Show it" }
            p.quiet { "As: left big end bottom; right 40 past front; left 1/3 from front going back." }
        }
        h2 { "Bring it somewhere" }
        form.stack method="get" action="/motion" {
            label for="from" { "It stands now at" }
            input #from name="at" value=(said) required autocomplete="off";
            label for="to" { "It is wanted at" }
            input #to name="to" value=(visit.asked.get("to")) required autocomplete="off" placeholder="right big end bottom";
            label for="doubt" { "How well its place now is known" span.quiet { " (may be empty)" } }
            input #doubt name="doubt" value=(visit.asked.get("doubt")) placeholder="2 deg" autocomplete="off";
            button { "How far to bar it" }
        }
        ul.ways {
            li { a href="/motion/loads" { "What it carries: loads through a turn" } }
            li { a href="#clearances" { "Piston clearances" } }
        }
    }
}
