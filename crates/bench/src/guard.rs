//! What is around every handler: which host was asked, the headers of safety, troubles as pages.

use crate::layout;
use crate::state::Bench;
use crate::trouble::{Trouble, Words};
use crate::visit::{Anybody, Shade, cookie};
use axum::Router;
use axum::body::to_bytes;
use axum::extract::{DefaultBodyLimit, Request, State};
use axum::http::header::{
    ACCEPT_ENCODING, CACHE_CONTROL, CONTENT_ENCODING, CONTENT_LENGTH, CONTENT_SECURITY_POLICY,
    CONTENT_TYPE, HOST, LOCATION, REFERRER_POLICY, STRICT_TRANSPORT_SECURITY, VARY,
    WWW_AUTHENTICATE, X_CONTENT_TYPE_OPTIONS,
};
use axum::http::{HeaderMap, HeaderName, HeaderValue, Method, StatusCode};
use axum::middleware::{Next, from_fn_with_state};
use axum::response::{IntoResponse, Response};
use flate2::Compression;
use flate2::write::GzEncoder;
use std::io::Write as _;

/// Script, style, letters and pictures from here alone, none written into a page; in no frame.
const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; font-src 'self'; \
    img-src 'self' data: blob:; connect-src 'self'; manifest-src 'self'; worker-src 'self'; \
    form-action 'self'; base-uri 'none'; frame-ancestors 'none'";

/// Everything the bench answers, to be served or to be asked in a test without a socket.
pub fn app(bench: Bench) -> Router {
    Router::new()
        .merge(crate::pages::routes())
        .merge(crate::gauging::routes())
        .merge(crate::api::routes())
        .route("/asset/{name}", axum::routing::get(crate::assets::serve))
        .fallback(nothing_there)
        // Handlers read their bodies with limits of their own.
        .layer(DefaultBodyLimit::disable())
        .layer(from_fn_with_state(bench.clone(), around))
        .with_state(bench)
}

async fn nothing_there(Anybody(_): Anybody) -> Trouble {
    Trouble::missing("there is nothing here", "go to the engine's page and on from there")
}

async fn around(State(bench): State<Bench>, mut request: Request, next: Next) -> Response {
    name_the_host(&mut request);
    let asked = Asked::of(&request);
    let mut response = if host_is_ours(&bench, request.headers()) {
        next.run(request).await
    } else {
        Trouble::Told {
            status: StatusCode::MISDIRECTED_REQUEST,
            what: "this bench does not go by that name".to_owned(),
            mend: "use the address that was printed when it was started".to_owned(),
        }
        .into_response()
    };
    if let Some(words) = response.extensions_mut().remove::<Words>() {
        response = told(&asked, response, &words);
    } else if response.status() == StatusCode::METHOD_NOT_ALLOWED {
        let words = Words {
            what: "that cannot be done here".to_owned(),
            mend: "go back and use the page's own buttons".to_owned(),
            sign_in: false,
        };
        response = told(&asked, response, &words);
    }
    if asked.takes_gzip {
        response = packed(response).await;
    }
    let headers = response.headers_mut();
    let mut set = |name: HeaderName, value: &'static str| {
        headers.entry(name).or_insert(HeaderValue::from_static(value));
    };
    set(CONTENT_SECURITY_POLICY, POLICY);
    set(X_CONTENT_TYPE_OPTIONS, "nosniff");
    set(REFERRER_POLICY, "same-origin");
    set(CACHE_CONTROL, "no-store");
    set(HeaderName::from_static("cross-origin-opener-policy"), "same-origin");
    set(HeaderName::from_static("cross-origin-resource-policy"), "same-origin");
    set(
        HeaderName::from_static("permissions-policy"),
        "camera=(self), geolocation=(), microphone=()",
    );
    if bench.settings().encrypted {
        set(STRICT_TRANSPORT_SECURITY, "max-age=86400");
    }
    response
}

/// In HTTP/2 the host that is asked stands in the address and not in a header (RFC 9113, 8.3.1); what
/// comes after asks the header alone.
fn name_the_host(request: &mut Request) {
    if request.headers().contains_key(HOST) {
        return;
    }
    let host = request.uri().authority().map(|a| HeaderValue::from_str(a.as_str()));
    if let Some(Ok(host)) = host {
        request.headers_mut().insert(HOST, host);
    }
}

/// A page elsewhere can make its own name lead to this machine, and a browser would then take this
/// server for that page's. Only the names we go by are answered.
fn host_is_ours(bench: &Bench, headers: &HeaderMap) -> bool {
    let hosts = &bench.settings().hosts;
    let asked = headers.get(HOST).and_then(|v| v.to_str().ok()).unwrap_or("");
    hosts.is_empty() || hosts.iter().any(|h| h.eq_ignore_ascii_case(asked))
}

/// Text packed for a slow line. A packed page with a secret in it could be guessed at by whoever can
/// make the reader's browser ask for it again and again; the session's cookie goes with no request
/// from another site (SameSite), so a page asked for from there has no secret worth guessing.
async fn packed(response: Response) -> Response {
    /// Shorter texts gain nothing.
    const WORTH_IT: usize = 1024;
    let media = response.headers().get(CONTENT_TYPE).and_then(|v| v.to_str().ok()).unwrap_or("");
    let text = media.starts_with("text/")
        || media.starts_with("application/json")
        || media.starts_with("application/problem+json");
    if !text || response.headers().contains_key(CONTENT_ENCODING) {
        return response;
    }
    let (mut parts, body) = response.into_parts();
    let Ok(bytes) = to_bytes(body, usize::MAX).await else {
        return StatusCode::INTERNAL_SERVER_ERROR.into_response();
    };
    if bytes.len() < WORTH_IT {
        return Response::from_parts(parts, bytes.into());
    }
    let mut out = GzEncoder::new(Vec::with_capacity(bytes.len() / 4), Compression::fast());
    // Writing into memory does not fail; if it did, the plain text is as good.
    match out.write_all(&bytes).and_then(|()| out.finish()) {
        Ok(small) => {
            parts.headers.insert(CONTENT_ENCODING, HeaderValue::from_static("gzip"));
            parts.headers.insert(VARY, HeaderValue::from_static("accept-encoding"));
            parts.headers.remove(CONTENT_LENGTH);
            Response::from_parts(parts, small.into())
        }
        Err(_) => Response::from_parts(parts, bytes.into()),
    }
}

/// What is kept of a request for telling its troubles.
struct Asked {
    api: bool,
    get: bool,
    takes_gzip: bool,
    here: String,
    shade: Shade,
}

impl Asked {
    fn of(request: &Request) -> Asked {
        let path = request.uri().path();
        let wants_json = request
            .headers()
            .get("accept")
            .and_then(|v| v.to_str().ok())
            .is_some_and(|a| a.starts_with("application/json"));
        Asked {
            api: path.starts_with("/api/") || wants_json,
            get: request.method() == Method::GET,
            takes_gzip: request
                .headers()
                .get(ACCEPT_ENCODING)
                .and_then(|v| v.to_str().ok())
                .is_some_and(|v| v.split(',').any(|e| e.trim() == "gzip")),
            here: request.uri().path_and_query().map_or("/", |p| p.as_str()).to_owned(),
            shade: Shade::parse(cookie(request.headers(), "shade").unwrap_or("")),
        }
    }
}

/// The trouble as a page, or as JSON (RFC 9457) where that was asked for.
fn told(asked: &Asked, response: Response, words: &Words) -> Response {
    let (mut parts, _) = response.into_parts();
    if words.sign_in && !asked.api {
        let then: String = if asked.get {
            form_urlencoded::byte_serialize(asked.here.as_bytes()).collect()
        } else {
            String::new()
        };
        let mut go = StatusCode::SEE_OTHER.into_response();
        if let Ok(to) = HeaderValue::from_str(&format!("/sign-in?then={then}")) {
            go.headers_mut().insert(LOCATION, to);
        }
        return go;
    }
    let (media, body) = if asked.api {
        let body = serde_json::json!({
            "title": words.what, "detail": words.mend, "status": parts.status.as_u16(),
        });
        ("application/problem+json", body.to_string())
    } else {
        ("text/html; charset=utf-8", layout::trouble(asked.shade, words).into_string())
    };
    parts.headers.insert(CONTENT_TYPE, HeaderValue::from_static(media));
    if asked.api && parts.status == StatusCode::UNAUTHORIZED {
        parts.headers.insert(WWW_AUTHENTICATE, HeaderValue::from_static("Bearer"));
    }
    parts.headers.remove(CONTENT_LENGTH);
    Response::from_parts(parts, body.into())
}
