//! Who asks, with what, and what the book says just now: what a page is given.

use crate::fields::Fields;
use crate::session::Session;
use crate::snapshot::{Judged, Snapshot};
use crate::state::{Bench, Reach};
use crate::trouble::Trouble;
use axum::extract::{ConnectInfo, FromRequestParts};
use axum::http::header::{COOKIE, HOST};
use axum::http::request::Parts;
use axum::http::{HeaderMap, Uri};
use std::net::SocketAddr;
use std::sync::Arc;

/// Light or dark, by the switch on the page; without it the device's own choice holds.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Shade {
    /// As the device has it.
    #[default]
    Device,
    /// Light.
    Light,
    /// Dark.
    Dark,
}

impl Shade {
    /// The word in the cookie.
    pub(crate) fn word(self) -> &'static str {
        match self {
            Shade::Device => "device",
            Shade::Light => "light",
            Shade::Dark => "dark",
        }
    }

    /// From its word.
    pub(crate) fn parse(word: &str) -> Shade {
        match word {
            "light" => Shade::Light,
            "dark" => Shade::Dark,
            _ => Shade::Device,
        }
    }
}

/// Which system of units stands first, by the switch on the page.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Units {
    /// Millimetres.
    #[default]
    Metric,
    /// Inches and thou.
    Imperial,
}

/// Which paper sheets are set for, by the switch on the page of sheets.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Paper {
    /// 210 by 297 mm.
    #[default]
    A4,
    /// 8 1/2 by 11 in.
    Letter,
}

impl Paper {
    /// From its word; what is no word of it is not said.
    pub(crate) fn parse(word: &str) -> Option<Paper> {
        match word {
            "a4" => Some(Paper::A4),
            "letter" => Some(Paper::Letter),
            _ => None,
        }
    }
}

/// A request, as a handler is given it.
#[derive(Clone, Debug)]
pub(crate) struct Visit {
    pub(crate) bench: Bench,
    pub(crate) snap: Arc<Snapshot>,
    /// Who is signed in.
    pub(crate) who: Option<Session>,
    /// The cookie they came with, or one made for them now.
    pub(crate) cookie: String,
    /// The cookie was made now and must be sent.
    pub(crate) new_cookie: bool,
    pub(crate) shade: Shade,
    pub(crate) units: Units,
    /// By the address, else by the switch.
    pub(crate) paper: Paper,
    pub(crate) uri: Uri,
    /// Host and port that were asked; one of those the bench goes by.
    pub(crate) host: String,
    /// The fields of the address.
    pub(crate) asked: Fields,
    /// Where the request came from, for the throttle.
    pub(crate) address: String,
}

/// Name of the session's cookie. The prefix makes a browser refuse it from anywhere but this very
/// host over an encrypted connection (RFC 6265bis).
pub(crate) fn cookie_name(encrypted: bool) -> &'static str {
    if encrypted { "__Host-pinchbar" } else { "pinchbar" }
}

/// A cookie of the request.
pub(crate) fn cookie<'a>(headers: &'a HeaderMap, name: &str) -> Option<&'a str> {
    headers
        .get_all(COOKIE)
        .iter()
        .filter_map(|v| v.to_str().ok())
        .flat_map(|v| v.split(';'))
        .filter_map(|c| c.trim().split_once('='))
        .find(|(n, _)| *n == name)
        .map(|(_, v)| v)
}

impl Visit {
    pub(crate) async fn of(bench: &Bench, parts: &Parts) -> Result<Visit, Trouble> {
        let snap = bench.snapshot().await?;
        let name = cookie_name(bench.settings().encrypted);
        let sent = cookie(&parts.headers, name).unwrap_or("");
        let sessions = bench.sessions();
        let who = sessions.find(sent, bench.now().as_second()).filter(|s| {
            // Whoever lost their roles or changed their password is not signed in any more.
            let held = snap.fold.person(s.name()).is_some_and(|p| p.password == s.hashed);
            if !held {
                sessions.end(sent);
            }
            held
        });
        let new_cookie = sessions.token(sent).is_empty();
        let cookie_text =
            if new_cookie { sessions.cookie().map_err(Trouble::Inside)? } else { sent.to_owned() };
        let address = parts
            .extensions
            .get::<ConnectInfo<SocketAddr>>()
            .map_or_else(|| "unknown".to_owned(), |c| c.0.ip().to_string());
        let asked = Fields::parse(parts.uri.query().unwrap_or("").as_bytes());
        Ok(Visit {
            paper: Paper::parse(asked.get("paper"))
                .or_else(|| Paper::parse(cookie(&parts.headers, "paper").unwrap_or("")))
                .unwrap_or_default(),
            bench: bench.clone(),
            snap,
            who,
            cookie: cookie_text,
            new_cookie,
            shade: Shade::parse(cookie(&parts.headers, "shade").unwrap_or("")),
            units: match cookie(&parts.headers, "units") {
                Some("imperial") => Units::Imperial,
                _ => Units::Metric,
            },
            uri: parts.uri.clone(),
            host: parts.headers.get(HOST).and_then(|h| h.to_str().ok()).unwrap_or("").to_owned(),
            asked,
            address,
        })
    }

    /// The token that every form carries.
    pub(crate) fn token(&self) -> String {
        self.bench.sessions().token(&self.cookie)
    }

    /// The engine, judged.
    pub(crate) fn judged(&self) -> Result<&Arc<Judged>, Trouble> {
        self.snap.engine.as_ref().map_err(|why| {
            Trouble::missing(why.clone(), "describe the engine: `pinchbar book describe`")
        })
    }

    /// Whether what was asked may be read without signing in.
    pub(crate) fn may_read(&self) -> bool {
        self.who.is_some() || self.bench.settings().reach == Reach::ThisMachine
    }

    /// Path and query, for coming back to.
    pub(crate) fn here(&self) -> &str {
        self.uri.path_and_query().map_or("/", |p| p.as_str())
    }
}

/// A visit to what may be read: signed in, or on this machine.
impl FromRequestParts<Bench> for Visit {
    type Rejection = Trouble;

    async fn from_request_parts(parts: &mut Parts, bench: &Bench) -> Result<Visit, Trouble> {
        let visit = Visit::of(bench, parts).await?;
        if visit.may_read() { Ok(visit) } else { Err(Trouble::SignIn) }
    }
}

/// A visit to what anybody may see: signing in, how to trust the certificate.
#[derive(Clone, Debug)]
pub(crate) struct Anybody(pub(crate) Visit);

impl FromRequestParts<Bench> for Anybody {
    type Rejection = Trouble;

    async fn from_request_parts(parts: &mut Parts, bench: &Bench) -> Result<Anybody, Trouble> {
        Visit::of(bench, parts).await.map(Anybody)
    }
}
