//! Gauging by phone: choose or scan a tag, type the figures, see the verdict; works out of range.
//!
//! - `round`: the places of a feature in the order a person goes round, and what was read there;
//! - `known`: all that is told to a phone, so that any feature can be gauged out of range;
//! - `find`: from what was typed or scanned to features;
//! - `doubt`: figures that are asked about before they are kept;
//! - `taken`: a figure that was sent, checked by the engine's own reader and written once;
//! - `pages`, `form`: the pages without script; `wire`: what the script asks and sends.
//!
//! Every reading is an entry of its own under a key that was made when it was typed (by the script)
//! or when the form was opened, so that it is written once however often it is sent.

mod doubt;
mod find;
mod form;
mod known;
mod pages;
mod round;
mod taken;
mod wire;

use crate::state::Bench;
use axum::routing::{get, post};
use axum::{Extension, Router};

/// Where gauging begins and what the way to it is called; nothing while there is no such page.
/// `ADDRESS/feature/ID` gauges one feature.
pub(crate) const DOOR: Option<(&str, &str)> = Some(("/gauging", "Gauging"));

/// Its pages.
pub(crate) fn routes() -> Router<Bench> {
    Router::new()
        .route("/gauging", get(pages::list))
        .route("/gauging/{what}", get(pages::about).post(form::taken))
        // What other pages link to, and what sheets have printed on them.
        .route("/gauging/feature/{what}", get(pages::elsewhere))
        .route("/gauge/{what}", get(pages::elsewhere))
        .route("/gauging/-/worker.js", get(wire::worker))
        .route("/gauging/-/shell", get(wire::shell))
        .route("/gauging/-/engine.json", get(wire::engine))
        .route("/gauging/-/session", get(wire::session))
        .route("/gauging/-/check", get(wire::check))
        .route("/gauging/-/reading", post(wire::reading))
        .route("/gauging/-/strike", post(wire::strike))
        .layer(Extension(known::Kept::default()))
}
