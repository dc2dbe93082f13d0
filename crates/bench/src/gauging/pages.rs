//! The pages to choose what is gauged. Each works without script; with it they are quicker.

use super::find::{meant, search};
use super::form;
use crate::assets;
use crate::layout::Page;
use crate::marks::encoded;
use crate::pages::see;
use crate::trouble::Trouble;
use crate::visit::Visit;
use axum::extract::Path;
use axum::response::Response;
use engine::model::{Engine, FeatureIx};
use maud::{Markup, html};

/// Lines of a list at most; a search finds the rest.
const MOST_LINES: usize = 60;

/// Style and script of these pages, and where the script puts what is waiting.
pub(super) fn script() -> Markup {
    html! {
        link rel="stylesheet" href=(assets::address("gauging", "css"));
        script type="module" src=(assets::address("gauging", "js")) {}
        section #gauging-waiting aria-label="Waiting to be sent" hidden {}
    }
}

/// Choose what to gauge.
pub(crate) async fn list(visit: Visit) -> Result<Response, Trouble> {
    // What was typed or scanned, without script.
    if let Some(what) = visit.asked.given("what") {
        let judged = visit.judged()?;
        if meant(&visit.snap, judged.judgement.engine(), what).is_some() {
            return Ok(see(&format!("/gauging/{}", encoded(what))));
        }
    }
    let words = visit.asked.get("what").to_owned();
    let judged = visit.judged()?;
    let judgement = &judged.judgement;
    let engine = judgement.engine();
    let found = if words.is_empty() { Vec::new() } else { search(engine, &words) };
    let wanting: Vec<FeatureIx> = engine
        .features
        .iter()
        .filter_map(|f| engine.feature_by_id(&f.id))
        .filter(|ix| judgement.feature(*ix).size.is_none())
        .collect();
    let page = Page {
        title: "Gauging".to_owned(),
        holding: html! {
            (script())
            h1 { "Gauging" }
            p { "What have you got in front of you?" }
        },
        knowing: html! {
            div #gauging-list {
                form.stack method="get" action="/gauging" role="search" {
                    label for="what" { "Tag, part, joint or feature" }
                    input #what name="what" type="search" value=(words) autocapitalize="none" autocomplete="off" spellcheck="false" enterkeyhint="go";
                    button.main { "Find" }
                }
                @if !words.is_empty() {
                    h2 { "Found" }
                    @if found.is_empty() {
                        p role="status" { "Nothing goes by \"" (words) "\". Try a part of its name: rod, journal, left." }
                    }
                    (lines(engine, &found))
                }
                h2 { "Still wants readings" }
                @if wanting.is_empty() { p { "Everything described has been gauged." } }
                (lines(engine, &wanting))
                details {
                    summary { "All parts" }
                    ul.gauging-lines {
                        @for part in &engine.parts {
                            li { a href={ "/gauging/" (encoded(&part.id)) } { (if part.name.is_empty() { &part.id } else { &part.name }) } }
                        }
                    }
                }
            }
        },
        doing: html! {},
    };
    Ok(page.answer(&visit))
}

fn lines(engine: &Engine, features: &[FeatureIx]) -> Markup {
    html! {
        ul.gauging-lines {
            @for ix in features.iter().take(MOST_LINES) {
                @let feature = engine.feature(*ix);
                li {
                    a href={ "/gauging/" (encoded(&feature.id)) } {
                        b { (if feature.name.is_empty() { &feature.id } else { &feature.name }) }
                        " " span.quiet { (feature.kind.word()) ", " (feature.id) }
                    }
                }
            }
        }
        @if MOST_LINES < features.len() {
            p.quiet { "and " (features.len() - MOST_LINES) " more; type more of the name" }
        }
    }
}

/// A tag, part, joint or feature.
pub(crate) async fn about(visit: Visit, Path(what): Path<String>) -> Result<Response, Trouble> {
    let judged = visit.judged()?;
    let engine = judged.judgement.engine();
    let Some(meant) = meant(&visit.snap, engine, &what) else {
        return Err(Trouble::missing(
            format!("there is no tag, part, joint or feature \"{}\"", short(&what)),
            "read the tag again, or look for it by name on the gauging page",
        ));
    };
    if let [one] = meant.features.as_slice() {
        return form::page(&visit, *one, &form::Filled::default());
    }
    let page = Page {
        title: meant.name.clone(),
        holding: html! {
            (script())
            h1 { (meant.name) }
            @if !meant.tag.is_empty() { p { "Tag " b { (meant.tag) } } }
        },
        knowing: html! {
            div #gauging-list {
                @if meant.features.is_empty() {
                    p { "No surface of it is described, so there is nothing to gauge." }
                } @else {
                    h2 { "Which surface?" }
                    (lines(engine, &meant.features))
                }
            }
        },
        doing: html! { p { a href="/gauging" { "Something else" } } },
    };
    Ok(page.answer(&visit))
}

/// The other addresses of a feature.
pub(crate) async fn elsewhere(Path(what): Path<String>) -> Response {
    see(&format!("/gauging/{}", encoded(&what)))
}

/// A text of somebody's, not too long to be read.
fn short(text: &str) -> String {
    text.chars().take(60).collect()
}
