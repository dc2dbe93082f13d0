//! Writing an entry from a form.

use super::sign_in::{local, see, shown};
use crate::posted::Posted;
use crate::said::{kind_of, said};
use crate::trouble::Trouble;
use axum::extract::{Path, Request, State};
use axum::response::Response;

/// Writes what the form says, and goes back to where it came from.
pub(crate) async fn say(
    State(bench): State<crate::Bench>,
    Path(word): Path<String>,
    request: Request,
) -> Result<Response, Trouble> {
    let kind = kind_of(&word)
        .ok_or_else(|| Trouble::missing(format!("\"{word}\" cannot be said here"), ""))?;
    let posted = Posted::by_somebody(request, &bench).await?;
    let name = posted.session()?.name().to_owned();
    if kind.signature {
        // Signed in is not signed: the password is the signature, each time.
        shown(&posted.visit, &name, posted.fields.exactly("password")).await?;
    }
    let what = said(kind, &posted.fields, &posted.visit.snap, &name)?;
    let written = posted.say(what).await?;
    Ok(back(&posted, written.sequence))
}

/// Back to the page the form was on, which says what was written.
pub(crate) fn back(posted: &Posted, entry: u64) -> Response {
    let then = local(posted.fields.get("then"));
    let joiner = if then.contains('?') { '&' } else { '?' };
    see(&format!("{then}{joiner}written={entry}"))
}
