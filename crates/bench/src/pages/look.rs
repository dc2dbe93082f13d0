//! The switches: light or dark, which units first, which paper.

use crate::pages::sign_in::{local, see};
use crate::posted::Posted;
use crate::state::Bench;
use crate::trouble::Trouble;
use crate::visit::{Paper, Shade};
use axum::extract::{Request, State};
use axum::http::HeaderValue;
use axum::http::header::SET_COOKIE;
use axum::response::Response;

/// A year.
const KEPT_S: u32 = 31_536_000;

/// Keeps the choice in a cookie and goes back.
pub(crate) async fn look(
    State(bench): State<Bench>,
    request: Request,
) -> Result<Response, Trouble> {
    let posted = Posted::by_anybody(request, &bench).await?;
    let mut response = see(local(posted.fields.get("then")));
    let mut keep = |name: &str, value: &str| {
        let text = format!("{name}={value}; Path=/; Max-Age={KEPT_S}; HttpOnly; SameSite=Strict");
        if let Ok(value) = HeaderValue::from_str(&text) {
            response.headers_mut().append(SET_COOKIE, value);
        }
    };
    if let Some(shade) = posted.fields.given("shade") {
        keep("shade", Shade::parse(shade).word());
    }
    match posted.fields.get("units") {
        "imperial" => keep("units", "imperial"),
        "metric" => keep("units", "metric"),
        _ => {}
    }
    match Paper::parse(posted.fields.get("paper")) {
        Some(Paper::A4) => keep("paper", "a4"),
        Some(Paper::Letter) => keep("paper", "letter"),
        None => {}
    }
    Ok(response)
}
