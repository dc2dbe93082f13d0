//! Keys and help.

use crate::layout::{PLACES, Page};
use crate::marks::verdict;
use crate::visit::Anybody;
use axum::response::Response;
use maud::html;

/// The page.
pub(crate) async fn keys(Anybody(visit): Anybody) -> Response {
    let page = Page {
        title: "Keys and help".to_owned(),
        holding: html! { h1 { "Keys and help" } },
        knowing: html! {
            h2 { "How every page is laid out" }
            p { "Left or on top: what you are holding. In the middle: what you must know. Right or below: what to do next, the likeliest thing first." }
            h2 { "The signs" }
            dl.facts {
                dt { (verdict("beyond")) } dd { "Proven outside its limit, the doubt of the reading allowed for." }
                dt { (verdict("near")) } dd { "Proven inside, with little of the wear allowance left." }
                dt { (verdict("cannot tell")) } dd { "Neither can be proven with what was read; the page says which gauge could." }
                dt { (verdict("within")) } dd { "Proven inside." }
                dt { (verdict("no limit")) } dd { "Nobody has set a limit." }
            }
            h2 { "Keys at the desk" }
            p { "One key each, without Ctrl or Alt, and never while a field is being filled in." }
            dl.facts {
                @for (_, name, key) in PLACES { dt { kbd { (key) } } dd { (name) } }
                dt { kbd { "/" } } dd { "Into the search field of the page" }
                dt { kbd { "?" } } dd { "This page" }
            }
        },
        doing: html! {
            p { a.main href="/" { "To the engine" } }
            p { a href="/trust" { "Use it on a phone" } }
        },
    };
    page.answer(&visit)
}
