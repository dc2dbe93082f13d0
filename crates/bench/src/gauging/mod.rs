//! Gauging by phone: choose or scan a tag, type the figures, see the verdict; works out of range.

use crate::state::Bench;
use axum::Router;

/// Its pages.
pub(crate) fn routes() -> Router<Bench> {
    Router::new()
}
