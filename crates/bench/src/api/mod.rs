//! The same as JSON.

use crate::state::Bench;
use axum::Router;

/// Its routes.
pub(crate) fn routes() -> Router<Bench> {
    Router::new()
}
