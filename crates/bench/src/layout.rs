//! The one layout of every page: what am I holding, what must I know, what do I do next.

use crate::assets;
use crate::marks::encoded;
use crate::trouble::Words;
use crate::visit::{Shade, Units, Visit, cookie_name};
use axum::http::HeaderValue;
use axum::http::header::{CONTENT_TYPE, SET_COOKIE};
use axum::response::{IntoResponse, Response};
use book::Said;
use maud::{DOCTYPE, Markup, html};

/// A page: three bands on a phone, three columns on a desk.
pub(crate) struct Page {
    /// For the window.
    pub(crate) title: String,
    /// What am I holding: name, tag, place, verdict.
    pub(crate) holding: Markup,
    /// What must I know: figures, drawings, limits, cautions.
    pub(crate) knowing: Markup,
    /// What do I do next: one main action, then others.
    pub(crate) doing: Markup,
}

/// Pages that are always one step away: address, name, key.
pub(crate) const PLACES: &[(&str, &str, &str)] = &[
    ("/", "Engine", "e"),
    ("/gauging", "Gauging", "r"),
    ("/parts", "Parts", "t"),
    ("/machine-to", "Machine to", "m"),
    ("/motion", "Motion", "o"),
    ("/today", "Works", "w"),
    ("/book", "Book", "b"),
    ("/paper", "Paper", "s"),
    ("/gauges", "Gauges", "g"),
    ("/people", "People", "p"),
];

impl Page {
    /// As an answer to a visit.
    pub(crate) fn answer(self, visit: &Visit) -> Response {
        let body = whole(&self.title, visit.shade, Some(visit), &self.bands(visit)).into_string();
        let mut response = ([(CONTENT_TYPE, "text/html; charset=utf-8")], body).into_response();
        if visit.new_cookie {
            set_cookie(&mut response, visit, &visit.cookie);
        }
        response
    }

    fn bands(&self, visit: &Visit) -> Markup {
        html! {
            @if let Some(entry) = visit.asked.given("written").and_then(|w| w.parse::<u64>().ok())
                .filter(|w| *w <= visit.snap.head.sequence) {
                p.written role="status" {
                    "Written: it is entry " a href={ "/book/entry/" (entry) } { (entry) } " of the book."
                    @if let Ok(at) = visit.snap.timeline.binary_search_by_key(&entry, |t| t.sequence) { (next(&visit.snap.timeline[at].said)) }
                }
            }
            div.bands {
                section.holding aria-label="What am I holding" { p.asks aria-hidden="true" { "What am I holding" } (self.holding) p.jump { a href="#next" { "What do I do next" } } }
                section.knowing aria-label="What must I know" { p.asks aria-hidden="true" { "What must I know" } (self.knowing) }
                section.doing #next aria-label="What do I do next" tabindex="-1" { p.asks aria-hidden="true" { "What do I do next" } (self.doing) }
            }
        }
    }
}

/// The session's cookie on an answer.
pub(crate) fn set_cookie(response: &mut Response, visit: &Visit, value: &str) {
    let encrypted = visit.bench.settings().encrypted;
    let secure = if encrypted { "; Secure" } else { "" };
    let text =
        format!("{}={value}; Path=/; HttpOnly; SameSite=Strict{secure}", cookie_name(encrypted));
    if let Ok(value) = HeaderValue::from_str(&text) {
        response.headers_mut().append(SET_COOKIE, value);
    }
}

/// A trouble as a page, without anything of the book on it.
pub(crate) fn trouble(shade: Shade, words: &Words) -> Markup {
    let body = html! {
        div.bands {
            section.holding { h1 { "That was not done" } }
            section.knowing role="alert" { p.large { (words.what) "." } @if !words.mend.is_empty() { p { (words.mend) "." } } }
            section.doing { p { a.main href="/" { "To the engine" } } }
        }
    };
    whole("That was not done", shade, None, &body)
}

/// A page without anything of the book on it, for a phone to keep.
pub(crate) fn shell(title: &str, body: &Markup) -> String {
    whole(title, Shade::Device, None, body).into_string()
}

/// The hidden field with the token.
pub(crate) fn token(visit: &Visit) -> Markup {
    html! { input type="hidden" name="token" value=(visit.token()); }
}

fn whole(title: &str, shade: Shade, visit: Option<&Visit>, body: &Markup) -> Markup {
    html! {
        (DOCTYPE)
        html lang="en" data-shade=(shade.word()) {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                title { (title) }
                link rel="icon" href="data:,";
                link rel="stylesheet" href=(assets::address("bench", "css"));
                script src=(assets::address("bench", "js")) defer {}
            }
            body {
                a.skip href="#main" { "To the page" }
                @if let Some(visit) = visit { (head(visit)) }
                main #main tabindex="-1" { (body) }
                @if let Some(visit) = visit { (foot(visit)) }
            }
        }
    }
}

/// Whether there is anything to plan.
fn has_works(visit: &Visit) -> bool {
    visit.snap.engine.as_ref().is_ok_and(|j| !j.judgement.engine().works.works.is_empty())
}

/// What was written, as told where it was written: what to do next with it.
fn next(said: &Said) -> Markup {
    html! {
        @match said {
            Said::Decided { joint, .. } => {
                " " a href={ "/paper/repair/" (encoded(joint)) ".pdf" } { "Print its repair sheet" }
                ", or " a href="/paper/machine-to.pdf" { "all machine-to sheets" } "."
            }
            Said::Tagged { part, .. } => { " " a href={ "/paper/tags.pdf?part=" (encoded(part)) } { "Print the tag" } "." }
            Said::WorkStuck { .. } | Said::WorkDone { .. } | Said::WorkUndone { .. } | Said::DayPlanned { .. } => {
                " The plan is made around it."
            }
            Said::Concession { .. } => { " " a href="/concessions" { "All concessions" } "." }
            _ => {}
        }
    }
}

fn head(visit: &Visit) -> Markup {
    let path = visit.uri.path();
    html! {
        header {
            nav aria-label="Places" {
                @if visit.may_read() {
                    @for (address, name, key) in PLACES.iter().filter(|p| p.0 != "/today" || has_works(visit)) {
                        a href=(address) data-key=(key) aria-current=[(path == *address).then_some("page")] { (name) }
                    }
                }
            }
            div.who {
                @match &visit.who {
                    Some(session) => {
                        span { (session.name()) }
                        form method="post" action="/sign-out" { (token(visit)) button.plain { "Sign out" } }
                    }
                    None => { a href={ "/sign-in?then=" (encoded(visit.here())) } { "Sign in" } }
                }
            }
        }
    }
}

fn foot(visit: &Visit) -> Markup {
    let units = match visit.units {
        Units::Metric => ("imperial", "Inches first"),
        Units::Imperial => ("metric", "Millimetres first"),
    };
    html! {
        footer {
            form.switches method="post" action="/look" {
                (token(visit))
                input type="hidden" name="then" value=(visit.here());
                button.plain name="units" value=(units.0) { (units.1) }
                @for shade in [Shade::Light, Shade::Dark, Shade::Device] {
                    @if shade != visit.shade {
                        button.plain name="shade" value=(shade.word()) {
                            @match shade { Shade::Light => "Light", Shade::Dark => "Dark", Shade::Device => "As the device" }
                        }
                    }
                }
            }
            p {
                a href="/keys" data-key="?" { "Keys and help" }
                " · " a href="/trust" { "Use it on a phone" }
            }
            @if visit.may_read() {
                p.quiet {
                    (visit.snap.fold.name()) ", entry " (visit.snap.head.sequence)
                    @if let Some(day) = visit.snap.today { ", judged on " (day.to_string()) }
                }
            }
        }
    }
}
