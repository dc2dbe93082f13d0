//! Saying: an entry by a device, with its token, once.

use super::read::answer;
use crate::fields::Fields;
use crate::said::{kind_of, said};
use crate::state::Bench;
use crate::trouble::Trouble;
use crate::visit::Visit;
use axum::body::to_bytes;
use axum::extract::{Request, State};
use axum::http::header::AUTHORIZATION;
use axum::http::{HeaderMap, StatusCode};
use axum::response::Response;
use book::{Pen, Token};
use serde_json::{Value, json};

/// Longest body.
const MOST_BYTES: usize = 4 << 20;

/// The pen of the device whose token is shown; nothing when none is.
pub(super) async fn bearer(
    bench: &Bench,
    visit: &Visit,
    headers: &HeaderMap,
) -> Result<Option<Pen>, Trouble> {
    let Some(shown) = headers.get(AUTHORIZATION) else { return Ok(None) };
    let who = [format!("address {}", visit.address)];
    let now_s = bench.now().as_second();
    if let Some(wait) = bench.throttle().wait(&who, now_s) {
        return Err(Trouble::TooOften(wait));
    }
    let token = shown
        .to_str()
        .ok()
        .and_then(|t| t.split_once(' '))
        .filter(|(scheme, _)| scheme.eq_ignore_ascii_case("bearer"))
        .and_then(|(_, text)| Token::parse(text).ok());
    let now = bench.time();
    let pen = match token {
        None => None,
        Some(token) => bench.write(move |book| Ok(Pen::by_token(book, &token, &now).ok())).await?,
    };
    if pen.is_none() {
        bench.throttle().slipped(&who, now_s);
        return Err(Trouble::Told {
            status: StatusCode::UNAUTHORIZED,
            what: "this token is not taken".to_owned(),
            mend: "the responsible engineer gives a new one on the people's page".to_owned(),
        });
    }
    Ok(pen)
}

/// Writes an entry.
pub(super) async fn say(State(bench): State<Bench>, request: Request) -> Result<Response, Trouble> {
    let (parts, body) = request.into_parts();
    let visit = Visit::of(&bench, &parts).await?;
    let pen = bearer(&bench, &visit, &parts.headers).await?.ok_or(Trouble::SignIn)?;
    let word = parts.uri.path().rsplit('/').next().unwrap_or("");
    let kind = kind_of(word)
        .filter(|k| !k.signature)
        .ok_or_else(|| Trouble::missing(format!("\"{word}\" cannot be said here"), ""))?;
    let key = parts
        .headers
        .get("idempotency-key")
        .and_then(|k| k.to_str().ok())
        .map(str::to_owned)
        .ok_or_else(|| bad("there is no Idempotency-Key", "send a random one with every entry"))?;
    let bytes = to_bytes(body, MOST_BYTES).await.map_err(|_| Trouble::Told {
        status: StatusCode::PAYLOAD_TOO_LARGE,
        what: format!("more was sent than is taken ({MOST_BYTES} bytes)"),
        mend: "send less at once".to_owned(),
    })?;
    let value: Value = serde_json::from_slice(&bytes)
        .map_err(|e| bad(format!("this is not JSON: {e}"), "send an object"))?;
    let fields = fields_of(&value)?;
    let pen = match fields.given("time") {
        Some(time) => pen.at(time)?,
        None => pen,
    };
    let what = said(kind, &fields, &visit.snap, pen.author())?;
    let (written, new) = bench.write(move |book| book.append_once(&pen, &key, what)).await?;
    let mut response = answer(&json!({
        "entry": written.sequence, "sha256": written.hash.to_string(), "new": new,
    }))?;
    *response.status_mut() = if new { StatusCode::CREATED } else { StatusCode::OK };
    Ok(response)
}

fn bad(what: impl Into<String>, mend: &str) -> Trouble {
    Trouble::Told { status: StatusCode::BAD_REQUEST, what: what.into(), mend: mend.to_owned() }
}

/// An object of texts as the fields of a form; `make` is an object of sizes by feature.
fn fields_of(value: &Value) -> Result<Fields, Trouble> {
    let object =
        value.as_object().ok_or_else(|| bad("this is not an object", "send an object of texts"))?;
    let mut fields = Fields::default();
    for (name, value) in object {
        match value {
            Value::String(text) => fields.push(name, text.clone()),
            Value::Bool(true) => fields.push(name, "yes".to_owned()),
            Value::Bool(false) | Value::Null => {}
            Value::Object(sizes) if name == "make" => {
                for (feature, size) in sizes {
                    let size = size
                        .as_str()
                        .ok_or_else(|| bad(format!("the size of {feature} is not a text"), ""))?;
                    fields.push(&format!("make.{feature}"), size.to_owned());
                }
            }
            _ => {
                return Err(bad(
                    format!("\"{name}\" is not a text"),
                    "send figures as they were written, with their unit, in quotation marks",
                ));
            }
        }
    }
    Ok(fields)
}
