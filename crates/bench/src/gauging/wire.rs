//! What the script of the gauging pages asks and sends: the worker and the shell that work out of
//! range, all features at once, who is signed in, a figure looked at, a figure written.

use super::doubt::{Expected, doubts, far_from_before, gains};
use super::find::meant;
use super::form::suspicions;
use super::known::{Kept, head_of, joints_told, people};
use super::round::round;
use super::taken::{self, Typed};
use crate::assets;
use crate::layout;
use crate::posted::Posted;
use crate::state::Bench;
use crate::trouble::Trouble;
use crate::visit::{Anybody, Visit};
use axum::Extension;
use axum::extract::State;
use axum::http::header::{
    ACCEPT_ENCODING, CACHE_CONTROL, CONTENT_ENCODING, CONTENT_TYPE, ETAG, IF_NONE_MATCH,
};
use axum::http::{HeaderMap, HeaderName, HeaderValue, StatusCode};
use axum::response::{IntoResponse, Response};
use book::Said;
use engine::view::Figure;
use flate2::{Compression, write::GzEncoder};
use serde_json::{Value, json};
use std::io::Write as _;

const JSON: &str = "application/json";

/// The worker: it keeps the pages for when there is no server. Its address stays the same, for a
/// browser looks there for a newer one.
pub(crate) async fn worker() -> Response {
    let headers = [
        (CONTENT_TYPE, "text/javascript; charset=utf-8"),
        (CACHE_CONTROL, "no-cache"),
        (HeaderName::from_static("service-worker-allowed"), "/"),
    ];
    (headers, assets::worker()).into_response()
}

/// The page that is shown out of range: nothing of the book is in it.
pub(crate) async fn shell(State(_): State<Bench>) -> Response {
    let page = layout::shell(
        "Gauging",
        &maud::html! {
            (super::pages::script())
            div.bands {
                section.holding { h1 { "Gauging" } }
                section.knowing { div #gauging-list { p { "Looking for what this phone keeps of the engine." } } }
            }
        },
    );
    ([(CONTENT_TYPE, "text/html; charset=utf-8")], page).into_response()
}

/// Every feature, for keeping.
pub(crate) async fn engine(
    visit: Visit,
    Extension(kept): Extension<Kept>,
    headers: HeaderMap,
) -> Result<Response, Trouble> {
    let tag = HeaderValue::from_str(&format!("\"{}\"", head_of(&visit.snap)))
        .map_err(|e| Trouble::Inside(e.to_string()))?;
    if headers.get(IF_NONE_MATCH) == Some(&tag) {
        return Ok((StatusCode::NOT_MODIFIED, [(ETAG, tag)]).into_response());
    }
    let judged = visit.judged()?;
    let fixed_day = visit.bench.settings().today.is_some();
    let json = kept.json(&visit.snap, judged, fixed_day).map_err(Trouble::Inside)?;
    let mut response =
        ([(CONTENT_TYPE, HeaderValue::from_static(JSON)), (ETAG, tag)]).into_response();
    let packs =
        headers.get(ACCEPT_ENCODING).is_some_and(|v| v.to_str().is_ok_and(|v| v.contains("gzip")));
    let body = if packs {
        let mut pack = GzEncoder::new(Vec::new(), Compression::fast());
        pack.write_all(&json).map_err(|e| Trouble::Inside(e.to_string()))?;
        response.headers_mut().insert(CONTENT_ENCODING, HeaderValue::from_static("gzip"));
        pack.finish().map_err(|e| Trouble::Inside(e.to_string()))?
    } else {
        json.to_vec()
    };
    *response.body_mut() = body.into();
    Ok(response)
}

fn answer(value: &Value) -> Response {
    ([(CONTENT_TYPE, JSON)], value.to_string()).into_response()
}

/// Who is signed in, on which book; and the token to send with.
pub(crate) async fn session(Anybody(visit): Anybody) -> Response {
    let name = visit.who.as_ref().map(|s| s.name().to_owned());
    let reads = visit.may_read();
    let mut response = answer(&json!({
        "name": name,
        "token": visit.token(),
        "book": reads.then(|| visit.snap.book_id.clone()),
        "head": reads.then(|| head_of(&visit.snap)),
        "people": if reads { people(&visit.snap) } else { Vec::new() },
    }));
    if visit.new_cookie {
        layout::set_cookie(&mut response, &visit, &visit.cookie);
    }
    response
}

/// A figure as it was sent.
fn typed(fields: &crate::fields::Fields) -> Typed {
    let text = |name: &str| fields.get(name).to_owned();
    Typed {
        key: text("key"),
        feature: text("feature"),
        station: text("station"),
        direction: text("direction"),
        reading: text("reading"),
        gauge: text("gauge"),
        by: text("by"),
        when: text("when"),
        temperature: text("temperature"),
        note: text("note"),
    }
}

/// Looks at a figure without keeping it.
pub(crate) async fn check(visit: Visit) -> Result<Response, Trouble> {
    let judged = visit.judged()?;
    let engine = judged.judgement.engine();
    let figure = typed(&visit.asked);
    let reading = figure.read(engine)?;
    let feature = engine.feature(reading.feature);
    let (places, _) = round(&judged.judgement, reading.feature);
    let usual = super::known::expected(feature, &places);
    let there = places
        .iter()
        .find(|p| p.station == figure.station && p.direction == figure.direction)
        .and_then(|p| p.previous.as_ref())
        .map(|p| Expected {
            si: p.si,
            words: format!("the last ({})", p.text),
            far_m: far_from_before(p.si),
            gains: gains(feature.kind),
        });
    let fellows: Vec<f64> = visit.asked.all("fellow").filter_map(|f| f.parse().ok()).collect();
    let range = reading.gauge.map(|g| engine.gauge(g)).and_then(|g| g.from_m.zip(g.to_m));
    let inches = ["in", "thou", "\""].iter().any(|u| figure.reading.contains(u));
    let asked = doubts(
        reading.si,
        usual.as_ref().and(there.as_ref()).or(usual.as_ref()),
        if usual.is_some() { &fellows } else { &[] },
        range,
        inches,
    );
    let both = Figure::of_size(reading.si, None);
    Ok(answer(&json!({
        "si": reading.si, "metric": both.metric, "imperial": both.imperial, "asked": asked,
    })))
}

/// What was typed for another book stays out of this one.
fn of_this_book(posted: &Posted) -> Result<(), Trouble> {
    if posted.fields.get("book") == posted.visit.snap.book_id {
        return Ok(());
    }
    Err(Trouble::Told {
        status: StatusCode::CONFLICT,
        what: "this was typed for another book".to_owned(),
        mend: "it is sent when that book is served here again".to_owned(),
    })
}

/// Writes a reading, once.
pub(crate) async fn reading(posted: Posted) -> Result<Response, Trouble> {
    of_this_book(&posted)?;
    let visit = &posted.visit;
    let figure = typed(&posted.fields);
    let ix = match figure.read(visit.judged()?.judgement.engine()) {
        Ok(reading) => Some(reading.feature),
        Err(refused) => {
            if !taken::known(&visit.bench, &figure.key).await? {
                return Err(refused);
            }
            None
        }
    };
    let (feature, text) = (figure.feature.clone(), figure.reading.clone());
    let written = taken::write(&visit.bench, posted.pen()?, vec![figure]).await?;
    let Some((entry, new)) = written.first() else {
        return Err(Trouble::Inside("nothing was written".to_owned()));
    };
    // What the book says now, with this figure in it.
    let snap = visit.bench.snapshot().await?;
    let Ok(judged) = &snap.engine else {
        return Ok(answer(
            &json!({ "entry": entry.sequence, "hash": entry.hash.to_string(), "new": new }),
        ));
    };
    let told = joints_told(judged);
    let engine = judged.judgement.engine();
    let joints: Vec<_> = meant(&snap, engine, &feature)
        .iter()
        .flat_map(|m| &m.features)
        .flat_map(|f| &engine.feature(*f).in_joints)
        .filter_map(|j| told.get(engine.joint(*j).id.as_str()))
        .collect();
    let size = ix.and_then(|ix| judged.judgement.feature(ix).size.as_ref()).map(Figure::size);
    let said = ix.map_or(Vec::new(), |ix| suspicions(judged, ix, &text));
    Ok(answer(&json!({
        "entry": entry.sequence, "hash": entry.hash.to_string(), "new": new, "joints": joints,
        "size": size.map(|s| [s.metric, s.imperial]), "said": said,
    })))
}

/// Strikes out a reading that was typed wrong, once.
pub(crate) async fn strike(posted: Posted) -> Result<Response, Trouble> {
    of_this_book(&posted)?;
    let fields = &posted.fields;
    let said = Said::StruckOut {
        entry: fields.wanted("entry", "the entry")?,
        reason: fields.wanted("reason", "the reason")?,
    };
    let (key, pen) = (fields.wanted("key", "the key")?, posted.pen()?);
    let (written, new) =
        posted.visit.bench.write(move |book| book.append_once(&pen, &key, said)).await?;
    Ok(answer(&json!({ "entry": written.sequence, "hash": written.hash.to_string(), "new": new })))
}
