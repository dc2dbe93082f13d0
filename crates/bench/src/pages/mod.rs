//! One module a page.

mod home;
mod look;
mod sign_in;

pub(crate) use sign_in::see;

use crate::state::Bench;
use axum::Router;
use axum::routing::{get, post};

/// The pages.
pub(crate) fn routes() -> Router<Bench> {
    Router::new()
        .route("/", get(home::home))
        .route("/look", post(look::look))
        .route("/sign-in", get(sign_in::page).post(sign_in::sign_in))
        .route("/sign-out", post(sign_in::sign_out))
}
