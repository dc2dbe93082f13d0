//! The day's list: to tick, to move works in, to hand out.

use super::{
    day_in, day_or_why, done, name_of, no_plan, other, otherwise, plan_of, span, stage, stage_of,
    word,
};
use crate::fields::Fields;
use crate::layout::{Page, token};
use crate::marks::{cautions, encoded};
use crate::order;
use crate::pages::say::back;
use crate::pieces::{has, key, line};
use crate::posted::Posted;
use crate::trouble::Trouble;
use crate::visit::Visit;
use axum::response::Response;
use book::{Role, Said};
use engine::view::{DayListView, LineView};
use engine::works::{Wanted, WorksModel, in_order};
use maud::{Markup, html};

/// Who may move works and hand out lists.
const PLANNERS: &[Role] = &[Role::Fits, Role::Responsible];

/// The page.
pub(crate) async fn today(visit: Visit) -> Result<Response, Trouble> {
    let judged = visit.judged()?.clone();
    let stage = stage(&visit);
    let view = match day_or_why(&visit, &visit.asked).await? {
        Ok(view) => view,
        Err(why) => return Ok(no_plan(&visit, stage, &why).answer(&visit)),
    };
    let works: Vec<&str> =
        view.lines.iter().map(|l| l.work.as_str()).filter(|w| !w.is_empty()).collect();
    let query = visit.uri.query().map_or_else(String::new, |q| format!("?{q}"));
    let page = Page {
        title: "Today".to_owned(),
        holding: html! {
            h1 { (view.weekday) " " span.whole { (view.date) } }
            p { (name_of(stage)) "; " (view.people) }
            p.quiet { "With the day like this the stage ends " (view.then_ends) "." }
            p { a href="#here" { "Another day, other people, weather or kit" } }
            @if !view.lines.is_empty() { p.quiet { (format!("That every way begun goes at once: {:.0} in 100.", view.all_go_percent)) } }
        },
        knowing: html! {
            @if view.lines.is_empty() { p.large { "Nothing can be done on this day." } }
            h2 { "What to do" }
            ol.tickets { @for l in &view.lines { (ticket(&visit, &view, l, &works)) } }
            (around(&view))
        },
        doing: html! {
            p { a.main href={ "/paper/day.pdf" (query) } { "Print the list" } }
            ul.ways {
                li { a href={ "/paper/cards.pdf" (query) } { "Print a card for each work" } }
                li { a href={ "/plan?stage=" (word(stage)) } { "The whole plan" } }
                li { a href={ "/today?stage=" (other(stage).0) } { (other(stage).1) } }
                li { a href="/lifts" { "Lifts" } }
            }
            h2 #here { "Who and what is here" }
            (here(&visit, &judged.judgement.engine().works, &view))
            @if has(&visit, PLANNERS) && !view.lines.is_empty() { (handing_out(&visit, &view)) }
        },
    };
    Ok(page.answer(&visit))
}

/// Day, people, weather, kit: as fields, so that the list is made for the day as it is.
fn here(visit: &Visit, model: &WorksModel, view: &DayListView) -> Markup {
    let asked = &visit.asked;
    let away: Vec<&str> = asked.all("without").collect();
    html! {
        form.stack method="get" action="/today" {
            input type="hidden" name="stage" value=(word(stage(visit)));
            label for="day" { "Day" }
            input #day name="day" type="date" value=(view.date);
            label for="people" { "People here" span.quiet { " (empty: as the calendar has it)" } }
            input #people name="people" type="number" min="1" max="100" inputmode="numeric" value=(asked.get("people"));
            (line("hours", "hours", "Hours to work", asked.get("hours"), false))
            label for="from" { "From" span.quiet { " (empty: as the day begins)" } }
            input #from name="from" type="time" value=(asked.get("from"));
            fieldset {
                legend { "Weather" }
                @for (name, words) in [("rain", "rain"), ("wind", "wind"), ("frost", "frost")] {
                    label.tick { input type="checkbox" name="weather" value=(name) checked[asked.all("weather").any(|w| w == name)]; " " (words) }
                }
            }
            details open[!away.is_empty()] {
                summary { "Not there today" }
                fieldset {
                    legend { "Kit" }
                    @for k in model.kit.iter().filter(|k| !k.ticket) {
                        label.tick { input type="checkbox" name="without" value=(k.id) checked[away.contains(&k.id.as_str())]; " " (if k.name.is_empty() { &k.id } else { &k.name }) }
                    }
                }
                fieldset {
                    legend { "Places that cannot be used" }
                    @for p in &model.places {
                        label.tick { input type="checkbox" name="without" value=(p.id) checked[away.contains(&p.id.as_str())]; " " (if p.name.is_empty() { &p.id } else { &p.name }) }
                    }
                }
            }
            button.main { "Make the list" }
        }
    }
}

/// One line of the list, to be ticked.
fn ticket(visit: &Visit, view: &DayListView, l: &LineView, works: &[&str]) -> Markup {
    html! {
        li {
            h3 { (l.from) " " @if l.work.is_empty() { (l.name) } @else { a href={ "/work/" (encoded(&l.work)) } { (l.name) } } }
            @if l.kind == "hold point" { p.warn { b { "Hold point." } " Nobody goes on before it is released." } }
            p { (l.how) @if !l.who.is_empty() { "; " (l.who.join(", ")) } @else if l.people == 1 { "; 1 person" } @else if 1 < l.people { "; " (l.people) " people" } "; " (l.minutes) " min" @if !l.place.is_empty() { "; " (l.place) } }
            @if !l.position.is_empty() { p { "Wheels: " (l.position) } }
            @if !l.kit.is_empty() || !l.bring.is_empty() { p.quiet { "Fetch: " (l.kit.iter().chain(&l.bring).map(String::as_str).collect::<Vec<_>>().join(", ")) } }
            @for c in &l.cautions { p.warn { (c) } }
            @if !l.leaves.is_empty() { p.warn { "Leaves hanging: " (l.leaves.join(", ")) } }
            @if !l.stays.is_empty() { p { "Stays there: " (l.stays.join("; ")) } }
            @if let Some(lift) = &l.lift { p { a href={ "/lift/" (encoded(lift)) } { "Its lift" } } }
            @if !l.why.is_empty() { details { summary { "Why it comes here" } p { (l.why) } } }
            @if !l.work.is_empty() {
                @let planned = span(&view.date, l);
                div.acts {
                    @if has(visit, &[Role::Fits]) { (done(visit, &l.work, &l.way, Some(&planned))) }
                    @if has(visit, PLANNERS) { (moves(visit, view, &l.work, works)) }
                }
                @if has(visit, &[Role::Fits]) { (otherwise(visit, &l.work, &l.way, Some(&planned))) }
            }
        }
    }
}

/// Earlier and later: this work before the one above it, or the one below before this.
fn moves(visit: &Visit, view: &DayListView, work: &str, works: &[&str]) -> Markup {
    let at = works.iter().position(|w| *w == work);
    let above = at.and_then(|at| at.checked_sub(1)).map(|at| works[at]);
    let below = at.and_then(|at| works.get(at + 1)).copied();
    html! {
        form.moves method="post" action="/today/order" {
            (token(visit))
            input type="hidden" name="key" value=(key());
            input type="hidden" name="day" value=(view.date);
            input type="hidden" name="then" value=(visit.here());
            @if let Some(above) = above { button name="move" value=(order::said(work, above)) { "Earlier" } }
            @if let Some(below) = below { button name="move" value=(order::said(below, work)) { "Later" } }
        }
    }
}

fn handing_out(visit: &Visit, view: &DayListView) -> Markup {
    html! {
        details {
            summary { "Keep this list in the book" }
            p.quiet { "As it is handed out: what the day was meant to bring stands in the book then." }
            form.stack method="post" action="/today/sheet" {
                (token(visit))
                input type="hidden" name="key" value=(key());
                input type="hidden" name="asked" value=(visit.uri.query().unwrap_or(""));
                input type="hidden" name="day" value=(view.date);
                input type="hidden" name="then" value=(visit.here());
                button { "Keep it" }
            }
        }
    }
}

fn around(view: &DayListView) -> Markup {
    html! {
        @if !view.lifts.is_empty() { h2 { "Lifts of the day" } ul.ways { @for l in &view.lifts { li { a href={ "/lift/" (encoded(l)) } { (l) } } } } }
        @if !view.waits.is_empty() { h2 { "What waits, and for what" } ul { @for w in &view.waits { li { (w) } } } }
        @if !view.fetch.is_empty() || !view.bring.is_empty() { h2 { "To fetch" } p { (view.fetch.iter().chain(&view.bring).map(String::as_str).collect::<Vec<_>>().join(", ")) } }
        @if !view.hangs_overnight.is_empty() { p.warn { "Hangs overnight: " (view.hangs_overnight.join(", ")) } }
        @for n in &view.notes { p.quiet { (n) } }
        (cautions(&view.cautions))
    }
}

/// Moves a work: kept in the book, and planned around from then on.
pub(crate) async fn move_work(posted: Posted) -> Result<Response, Trouble> {
    let judged = posted.visit.judged()?.clone();
    let text = posted.fields.wanted("move", "the work to move")?;
    let (first, then) = order::heard(&text)
        .map(|(a, b)| (a.trim().to_owned(), b.trim().to_owned()))
        .ok_or_else(|| Trouble::wrong("no two works are named", "use the buttons of the list"))?;
    let stage = stage_of(&judged, &first)?;
    if stage_of(&judged, &then)? != stage {
        return Err(Trouble::wrong("one is of the strip and one of the build", ""));
    }
    let pairs = order::with(&judged.wanted, &first, &then);
    let adds = pairs.len() > judged.wanted.len();
    if adds {
        let planned = plan_of(&posted.visit, stage).await?.planned.clone();
        let wanted = [Wanted { first: first.clone(), then: then.clone(), why: String::new() }];
        let for_it = judged.clone();
        let (_, refused) = posted
            .visit
            .bench
            .working_out(move || in_order(&for_it.judgement, planned, &wanted))
            .await?
            .map_err(|e| Trouble::wrong(e.to_string(), "the list stays as it is"))?;
        if !refused.is_empty() {
            return Err(Trouble::wrong(refused.join("; "), "the list stays as it is"));
        }
    }
    let day = posted.fields.wanted("day", "the day")?;
    let text = order::moved(&judged, &first, &then, &pairs);
    let written = posted.say(Said::DayPlanned { day, crew: Vec::new(), text }).await?;
    Ok(back(&posted, written.sequence))
}

/// Keeps the list as it is handed out.
pub(crate) async fn hand_out(posted: Posted) -> Result<Response, Trouble> {
    let judged = posted.visit.judged()?.clone();
    let asked = Fields::parse(posted.fields.get("asked").as_bytes());
    let view = day_in(&posted.visit, &asked).await?;
    let mut crew: Vec<String> = view.lines.iter().flat_map(|l| l.who.iter().cloned()).collect();
    crew.sort();
    crew.dedup();
    let text = order::sheet(&view, &judged.wanted);
    let said = Said::DayPlanned { day: view.date.clone(), crew, text };
    let written = posted.say(said).await?;
    Ok(back(&posted, written.sequence))
}
