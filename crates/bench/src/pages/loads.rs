//! What the motion carries through a turn, at a speed and with steam that are said.

use super::motion::{no_answer, style};
use crate::drawings::{self, Drawn};
use crate::fields::with_unit;
use crate::layout::Page;
use crate::marks::{cautions, encoded};
use crate::pieces::table;
use crate::snapshot::Judged;
use crate::state::spawn;
use crate::trouble::Trouble;
use crate::visit::{Units, Visit};
use axum::response::Response;
use engine::motion::{Mechanism, SteamSaid, working};
use engine::view::{Amount, BearingView, DutyView, LoadsView, loads_view};
use maud::{Markup, html};
use quantity::{Dimension, Quantity};
use std::sync::Arc;

/// What was asked: metres a second, and the steam.
type Asked = (f64, SteamSaid);

/// The page.
pub(crate) async fn loads(visit: Visit) -> Result<Response, Trouble> {
    let judged = visit.judged()?.clone();
    let found = match asked(&visit) {
        None => None,
        Some(Err(trouble)) => Some(Err(trouble)),
        Some(Ok(asked)) => {
            let units = visit.units;
            Some(spawn(move || worked(&judged, &asked, units)).await?)
        }
    };
    let page = Page {
        title: "Loads".to_owned(),
        holding: html! {
            h1 { "Loads of the motion" }
            @match &found {
                Some(Ok((view, _))) => { p.large { (amount(visit.units, &view.speed)) } p { (view.steam) } }
                _ => { p { "Say a speed and the steam." } }
            }
        },
        knowing: html! {
            @match &found {
                None => {
                    p.large { "Nothing is assumed: loads want a speed, and what the steam does." }
                    p { "Without a pressure the engine drifts. With a pressure and no cut-off it acts for the whole stroke: no ordinary running is harder on the parts." }
                }
                Some(Err(why)) => { section.result role="alert" { h2 { "That cannot be told" } p { (super::motion::words(why)) } } }
                Some(Ok((view, pictures))) => { (shown(&visit, view, pictures)) }
            }
        },
        doing: doing(&visit),
    };
    Ok(page.answer(&visit))
}

/// Units that are meant where a field names none.
fn usual(units: Units) -> (&'static str, &'static str) {
    match units {
        Units::Metric => ("km/h", "bar"),
        Units::Imperial => ("mph", "psi"),
    }
}

fn asked(visit: &Visit) -> Option<Result<Asked, Trouble>> {
    let speed = visit.asked.given("speed")?;
    let (speed_unit, pressure_unit) = usual(visit.units);
    let read = |text: &str, unit: &str, dimension| {
        Quantity::parse_as(&with_unit(text, unit), dimension)
            .map(|q| q.si())
            .map_err(|e| Trouble::wrong(e.reason().to_owned(), e.hint()))
    };
    let all = || {
        let speed = read(speed, speed_unit, Dimension::Speed)?;
        let pressure = visit.asked.given("pressure");
        let pressure = pressure.map(|p| read(p, pressure_unit, Dimension::Pressure)).transpose()?;
        let cut_off = visit.asked.given("cut-off");
        let cut_off = cut_off.map(|c| read(c, "%", Dimension::Number)).transpose()?;
        Ok((
            speed,
            match (pressure, cut_off) {
                (None, None) => SteamSaid::Drifting,
                (Some(pa), None) => SteamSaid::WholeStroke(pa),
                (Some(pa), Some(share)) => SteamSaid::CutOff(pa, share),
                (None, Some(_)) => {
                    return Err(Trouble::wrong("a cut-off without a pressure", "say the pressure"));
                }
            },
        ))
    };
    Some(all())
}

fn worked(
    judged: &Arc<Judged>,
    (speed_m_s, steam): &Asked,
    units: Units,
) -> Result<(LoadsView, Vec<Drawn>), Trouble> {
    let judgement = &judged.judgement;
    let mechanism = Mechanism::of(judgement).map_err(no_answer)?;
    let found = working(judgement, &mechanism, *speed_m_s, steam).map_err(no_answer)?;
    let view = loads_view(judgement, &mechanism, &found);
    let pictures = match paper::load_pictures(judgement, &mechanism, &found, &style(units)) {
        Ok(all) => all.into_iter().map(Drawn::titled).collect(),
        Err(why) => vec![Drawn::Not(why)],
    };
    Ok((view, pictures))
}

/// Both systems, the chosen one first.
fn amount(units: Units, a: &Amount) -> Markup {
    let (first, second) = match units {
        Units::Metric => (&a.metric, &a.imperial),
        Units::Imperial => (&a.imperial, &a.metric),
    };
    html! { span.figure { b { (first) } " " small { (second) } } }
}

fn shown(visit: &Visit, view: &LoadsView, pictures: &[Drawn]) -> Markup {
    let units = visit.units;
    html! {
        dl.facts {
            dt { "tractive effort, mean" } dd { (amount(units, &view.tractive_mean)) }
            dt { "least" } dd { (amount(units, &view.tractive_least)) " " span.quiet { (view.least_at) } }
            dt { "greatest" } dd { (amount(units, &view.tractive_greatest)) " " span.quiet { (view.greatest_at) } }
            @if let Some(a) = &view.tractive_standard { dt { "by the standard formula" } dd { (amount(units, a)) } }
        }
        (bearings(units, &view.bearings))
        (cylinders(units, view))
        @if !view.fatigue.is_empty() {
            h2 { "Fatigue" }
            (table("Fatigue of rods and pins", &["part", "stress", "strength used", "by"], &html! {
                @for f in &view.fatigue {
                    tr {
                        td { b { (f.part) } " of " (f.of) }
                        td { @if let (Some(l), Some(g)) = (&f.least, &f.greatest) { (amount(units, l)) " to " (amount(units, g)) } @else { "–" } }
                        td { @if let Some(p) = f.used_percent { (format!("{p:.0} %")) } @else { "–" } }
                        td { @if let Some(c) = f.criterion { (c) ", " } (f.source) }
                    }
                }
            }))
        }
        @for m in &view.missing { p.warn { (m) } }
        h2 { "Through the turn" }
        @for p in pictures { (drawings::wide(p)) }
        @for n in &view.notes { p.quiet { (n) } }
        (cautions(&view.cautions))
    }
}

fn bearings(units: Units, all: &[BearingView]) -> Markup {
    html! {
        @if !all.is_empty() {
            h2 { "What every bearing carries" }
            (table("Bearing loads", &["bearing", "greatest", "mean", "the other way"], &html! {
                @for b in all {
                    tr {
                        td {
                            @match &b.joint { Some(id) => { a href={ "/joint/" (encoded(id)) } { (b.name) } } None => { (b.name) } }
                            @for l in &b.left_out { br; span.quiet { (l) } }
                        }
                        td { (amount(units, &b.greatest)) br; span.quiet { (b.greatest_at) } }
                        td { (amount(units, &b.mean)) }
                        td { @if b.reverses { (amount(units, &b.opposite)) } @else { "never turns round" } }
                    }
                }
            }))
        }
    }
}

fn cylinders(units: Units, view: &LoadsView) -> Markup {
    let duty = |d: &DutyView| {
        html! { (amount(units, &d.greatest)) ", mean " (amount(units, &d.mean)) ", rubbing " (amount(units, &d.rubbing)) }
    };
    html! {
        h2 { "Cylinder by cylinder" }
        @for c in &view.cylinders {
            h3 { (c.cylinder) }
            dl.facts {
                dt { "greatest steam force" } dd { (amount(units, &c.steam)) }
                dt { "crank pin" } dd { (amount(units, &c.pin)) " " span.quiet { (format!("crank {:.0}° past front", c.pin_at_deg)) } }
                dt { "crosshead pin" } dd { (amount(units, &c.small_end)) }
                dt { "upper bar" } dd { (amount(units, &c.upper_bar)) }
                dt { "lower bar" } dd { (amount(units, &c.lower_bar)) }
                @if let Some(p) = &c.bar_pressure { dt { "pressure on the bars" } dd { (amount(units, p)) } }
                @if let Some(d) = &c.big_end { dt { "big end, pressure" } dd { (duty(d)) } }
                @if let Some(d) = &c.gudgeon { dt { "small end, pressure" } dd { (duty(d)) } }
                @if let Some(r) = &c.rod {
                    dt { "rod as a strut" } dd { (amount(units, &r.thrust)) @if let Some(f) = r.factor { span.quiet { (format!(" buckles at {f:.1} times") ) } } }
                    dt { "rod, greatest stress" } dd { (amount(units, &r.stress)) span.quiet { (format!(" {:.0} % of yield", r.yield_percent)) } }
                }
            }
        }
    }
}

fn doing(visit: &Visit) -> Markup {
    let (speed, pressure) = usual(visit.units);
    html! {
        h2 { "Say how it runs" }
        form.stack method="get" action="/motion/loads" {
            label for="speed" { "Speed" span.quiet { ", " (speed) " unless you name another" } }
            input #speed name="speed" value=(visit.asked.get("speed")) required autocomplete="off" inputmode="decimal";
            label for="pressure" { "Steam pressure" span.quiet { ", " (pressure) "; empty: drifting" } }
            input #pressure name="pressure" value=(visit.asked.get("pressure")) autocomplete="off" inputmode="decimal";
            label for="cut-off" { "Cut-off" span.quiet { ", % of the stroke; empty: steam for the whole stroke" } }
            input #cut-off name="cut-off" value=(visit.asked.get("cut-off")) autocomplete="off" inputmode="decimal";
            button.main { "Work it out" }
        }
        p { a href="/motion" { "To the motion" } }
    }
}
