//! Gauging by phone: choose or scan a tag, type the figures, see the verdict; works out of range.

use crate::state::Bench;
use axum::Router;

/// Where gauging begins and what the way to it is called; nothing while there is no such page.
/// `ADDRESS/feature/ID` gauges one feature.
pub(crate) const DOOR: Option<(&str, &str)> = None;

/// Its pages.
pub(crate) fn routes() -> Router<Bench> {
    Router::new()
}
