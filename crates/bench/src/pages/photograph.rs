//! Photographs and drawings, as they are kept.

use crate::trouble::Trouble;
use crate::visit::Visit;
use axum::extract::Path;
use axum::http::HeaderValue;
use axum::http::header::{
    CACHE_CONTROL, CONTENT_DISPOSITION, CONTENT_SECURITY_POLICY, CONTENT_TYPE,
};
use axum::response::{IntoResponse, Response};
use book::{Hash, Said};

/// One, by the hash of its bytes: only what an entry speaks of.
pub(crate) async fn photograph(
    visit: Visit,
    Path(hash): Path<String>,
) -> Result<Response, Trouble> {
    let missing = || Trouble::missing("there is no such photograph or drawing", "");
    let media = visit
        .snap
        .timeline
        .iter()
        .rev()
        .find_map(|t| match &t.said {
            Said::Attached { sha256, media, .. } if *sha256 == hash => Some(media.as_str()),
            Said::Attached { thumbnail, .. } if *thumbnail == hash => Some("image/jpeg"),
            _ => None,
        })
        .ok_or_else(missing)?;
    let wanted = Hash::parse(&hash).map_err(|_| missing())?;
    // What the entry says it is, from the three that are ever taken.
    let (media, place) = match media {
        "image/jpeg" => ("image/jpeg", "inline"),
        "image/png" => ("image/png", "inline"),
        _ => ("application/pdf", "attachment; filename=\"drawing.pdf\""),
    };
    let bytes = visit.bench.write(move |book| book.attachment(&wanted)).await?;
    let headers = [
        (CONTENT_TYPE, HeaderValue::from_static(media)),
        (CONTENT_DISPOSITION, HeaderValue::from_static(place)),
        (CONTENT_SECURITY_POLICY, HeaderValue::from_static("default-src 'none'; sandbox")),
        (CACHE_CONTROL, HeaderValue::from_static("private, max-age=31536000, immutable")),
    ];
    Ok((headers, bytes).into_response())
}
