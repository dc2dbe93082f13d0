//! What has no thing to stand beside: tables of readings, and the engine's own description.

use crate::layout::Page;
use crate::marks::encoded;
use crate::pieces::{for_roles, line, saying};
use crate::trouble::Trouble;
use crate::visit::Visit;
use axum::response::Response;
use book::{BY_THE_BOOK, Role};
use engine::description::SourceText;
use engine::readings::ByHand;
use maud::{Markup, html};

/// The page.
pub(crate) async fn write(visit: Visit) -> Result<Response, Trouble> {
    let mut texts = visit.snap.fold.engine_sources().texts;
    texts.retain(|t| t.file != BY_THE_BOOK);
    let chosen = visit.asked.get("file");
    let page = Page {
        title: "Write in the book".to_owned(),
        holding: html! {
            h1 { "Write in the book" }
            p { "Most things are said on the page of what they are about: a joint's, a part's, a work's, a gauge's. Here are those that stand beside nothing." }
        },
        knowing: html! {
            h2 { "A table of readings" }
            (for_roles(&visit, &[Role::Records, Role::Responsible], || readings(&visit)))
            h2 #description { "The engine's description" }
            (for_roles(&visit, &[Role::Responsible], || description(&visit, &texts, chosen)))
        },
        doing: html! {
            @if !texts.is_empty() {
                h2 { "Texts there are" }
                ul.ways { @for t in &texts { li { a href={ "/book/write?file=" (encoded(&t.file)) "#description" } { (t.file) } } } }
            }
            ul.ways {
                @if let Some((address, name)) = crate::gauging::DOOR { li { a href=(address) { (name) ": one figure after another" } } }
                li { a href="/book" { "To the book" } }
            }
        },
    };
    Ok(page.answer(&visit))
}

fn readings(visit: &Visit) -> Markup {
    let heading = ByHand::HEADING;
    saying(
        visit,
        "readings",
        "/book",
        &html! {
            input type="hidden" name="ask_back" value="yes";
            (line("file", "file", "Name of the table", "", true))
            label for="table" { "The table, with its heading, as a spreadsheet saves it (CSV)" }
            textarea #table name="table" rows="8" required spellcheck="false" aria-describedby="table-like" { }
            p.quiet #table-like { "A heading like " code { (heading.trim()) } "; figures as they were read, with their unit. Columns may stand in any order." }
            label.tick { input type="checkbox" name="anyway" value="yes"; " write it even where rows cannot be taken; they are listed on the engine's page" }
            button.main { "Write it in the book" }
        },
    )
}

fn description(visit: &Visit, texts: &[SourceText], chosen: &str) -> Markup {
    let text = texts.iter().find(|t| t.file == chosen).map_or("", |t| t.text.as_str());
    html! {
        p { "A text of the same name takes the place of the one before; that one stays in the book. What a text may say is in the handbook of the engine file." }
        (saying(visit, "described", "/", &html! {
            (line("description-file", "file", "Name of the text", if chosen.is_empty() { "engine.toml" } else { chosen }, true))
            label for="text" { "The whole text (TOML)" }
            textarea #text name="text" rows="16" required spellcheck="false" { (text) }
            label.tick { input type="checkbox" name="anyway" value="yes"; " write it even with faults; they are listed on the engine's page" }
            button { "Write it in the book" }
        }))
    }
}
