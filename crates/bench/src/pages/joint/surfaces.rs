//! The surfaces of a joint and their readings, as written, each to be struck out where it stands.

use crate::marks::{encoded, figure};
use crate::pieces::{line, saying, table};
use crate::visit::Visit;
use book::Role;
use engine::view::{FeatureView, ReadingView};
use maud::{Markup, html};

pub(super) fn feature(visit: &Visit, f: &FeatureView) -> Markup {
    let units = visit.units;
    let (now, before): (Vec<&ReadingView>, Vec<_>) =
        f.readings.iter().partition(|r| r.status != "last time");
    html! {
        section.feature {
            h3 { (if f.name.is_empty() { &f.id } else { &f.name }) }
            p {
                code { (f.id) } ", " (f.kind)
                @if let Some(c) = f.condition { ", found " b { (c) } }
                @if let Some(why) = &f.missing { ": " (why) }
            }
            dl.facts {
                @if let Some(x) = &f.size { dt { "size, mean at 20 °C" } dd { (figure(units, x)) } }
                @if let Some(x) = &f.as_made { dt { "as made" } dd { (figure(units, x)) } }
                @if let Some(x) = &f.worn_since_made { dt { "worn since made" } dd { (figure(units, x)) } }
                @for m in &f.form { dt { (m.measure) } dd { (figure(units, &m.figure)) } }
                @if let Some(x) = &f.clean_up { dt { "cleans up at" } dd { (figure(units, x)) } }
            }
            @if !now.is_empty() {
                // What does not count is what one has come to look at.
                details open[now.iter().any(|r| !r.counted)] {
                    summary { (now.len()) @if now.len() == 1 { " reading" } @else { " readings" } ", as written" }
                    (readings(&format!("Readings of {}", f.id), &now))
                    (strike(visit, f, &now))
                }
            }
            @if !before.is_empty() {
                details { summary { "Last time: " (before.len()) " readings" } (readings(&format!("Readings of {}, last time", f.id), &before)) }
            }
            @if let Some((gauging, _)) = crate::gauging::DOOR { p { a href={ (gauging) "/feature/" (encoded(&f.id)) } { "Gauge it" } } }
        }
    }
}

fn readings(name: &str, all: &[&ReadingView]) -> Markup {
    table(
        name,
        &["where", "as written", "gauge, who, when", "does it count"],
        &html! {
            @for r in all {
                tr.struck[r.struck] {
                    td {
                        @if r.station.is_empty() { "place not given" } @else { (r.station) }
                        @if let Some(d) = r.direction_deg { ", " (format!("{d:.0}°")) }
                    }
                    td { b { (r.text) } @if r.kind == "dial" { " (dial)" } }
                    td { (r.gauge) span.quiet { " " (r.by) " " (r.when) } }
                    td { @if !r.counted { (r.status) } }
                }
            }
        },
    )
}

/// One figure struck out, with its reason.
fn strike(visit: &Visit, f: &FeatureView, now: &[&ReadingView]) -> Markup {
    let stand: Vec<&&ReadingView> = now.iter().filter(|r| !r.struck).collect();
    if stand.is_empty() || !crate::pieces::has(visit, &[Role::Records, Role::Responsible]) {
        return html! {};
    }
    let id = |what: &str| format!("{what}-{}", f.id);
    html! {
        details {
            summary { "Strike a figure out" }
            (saying(visit, "figure-struck-out", visit.uri.path(), &html! {
                input type="hidden" name="feature" value=(f.id);
                label for=(id("figure")) { "Figure" }
                select id=(id("figure")) name="figure" required {
                    @for r in &stand {
                        option value=(figure_key(r)) { (r.text) ", " @if r.station.is_empty() { "place not given" } @else { (r.station) } @if let Some(d) = r.direction_deg { ", " (format!("{d:.0}°")) } }
                    }
                }
                (line(&id("strike-why"), "reason", "Why it does not count", "", true))
                p.quiet { "It stays in the book, struck through." }
                button { "Strike it out" }
            }))
        }
    }
}

/// Figure, station and direction of a reading, as one choice of a form.
fn figure_key(r: &ReadingView) -> String {
    let direction = r.direction_deg.map_or_else(String::new, |d| format!("{d}"));
    format!("{}|{}|{direction}", r.text, r.station)
}
