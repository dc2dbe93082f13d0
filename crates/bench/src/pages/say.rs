//! Writing an entry from a form.

use super::sign_in::{local, see, shown};
use crate::posted::Posted;
use crate::said::{kind_of, said};
use crate::trouble::Trouble;
use axum::extract::{Path, Request, State};
use axum::response::Response;
use engine::works::Moment;

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
    let written = match posted.fields.given("at").filter(|_| kind.word.starts_with("work-")) {
        Some(at) => {
            let time = at_the_clock(at, &posted.visit.bench.time())?;
            posted.say_at(what, &time).await?
        }
        None => posted.say(what).await?,
    };
    Ok(back(&posted, written.sequence))
}

/// A day and a clock as a form has them, as an entry has them: the shed's clock, as it stands.
fn at_the_clock(text: &str, now: &str) -> Result<String, Trouble> {
    let wrong = |why: &str| {
        Trouble::wrong(
            format!("\"{text}\" {why}"),
            "a day and a clock that have been, or nothing for now",
        )
    };
    let moment =
        Moment::parse(&text.replace('T', " ")).map_err(|_| wrong("is no day and clock"))?;
    let clock = moment.clock_min.ok_or_else(|| wrong("has no clock"))?;
    let time = format!("{}T{:02}:{:02}:00Z", moment.date, clock / 60, clock % 60);
    // The shed's clock may be ahead of Universal Time by half a day: the day after is still to come.
    if now.get(..10) < time.get(..10) {
        return Err(wrong("is still to come"));
    }
    Ok(time)
}

/// Back to the page the form was on, which says what was written.
pub(crate) fn back(posted: &Posted, entry: u64) -> Response {
    let then = local(posted.fields.get("then"));
    let joiner = if then.contains('?') { '&' } else { '?' };
    see(&format!("{then}{joiner}written={entry}"))
}
