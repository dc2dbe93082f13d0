//! A form that was sent: from a page of ours, by somebody who is signed in.

use crate::fields::Fields;
use crate::session::Session;
use crate::state::Bench;
use crate::trouble::Trouble;
use crate::visit::Visit;
use axum::body::{Body, to_bytes};
use axum::extract::{FromRequest, Multipart, Request};
use axum::http::header::{CONTENT_TYPE, HOST, ORIGIN};
use axum::http::{HeaderMap, StatusCode};
use book::{Pen, Said, Written};

/// Longest form without files: a description or a table pasted in.
const MOST_FORM_BYTES: usize = 4 << 20;
/// Fields beside a file.
const MOST_FIELD_BYTES: usize = 64 << 10;

/// A form.
#[derive(Debug)]
pub(crate) struct Posted {
    pub(crate) visit: Visit,
    pub(crate) fields: Fields,
}

/// A form with a file.
#[derive(Debug)]
pub(crate) struct Uploaded {
    pub(crate) visit: Visit,
    pub(crate) fields: Fields,
    /// Name as it came, and the bytes.
    pub(crate) file: Option<(String, Vec<u8>)>,
}

/// Refuses what did not come from a page of ours. The browser says where a form comes from and a
/// page cannot change it; the token shows that the page was ours even where a browser says nothing.
fn from_our_page(visit: &Visit, headers: &HeaderMap, token: &str) -> Result<(), Trouble> {
    let text = |name: &str| headers.get(name).map(|v| v.to_str().unwrap_or("?"));
    let same_site = matches!(text("sec-fetch-site"), None | Some("same-origin"));
    let host = headers.get(HOST).and_then(|v| v.to_str().ok()).unwrap_or("");
    let same_origin = headers.get(ORIGIN).is_none_or(|origin| {
        origin
            .to_str()
            .ok()
            .and_then(|o| o.split_once("://"))
            .is_some_and(|(_, from)| from == host && !host.is_empty())
    });
    if same_site && same_origin && visit.bench.sessions().belongs(&visit.cookie, token) {
        return Ok(());
    }
    Err(Trouble::forbidden(
        "this form did not come from a page of this bench, or the page was too old",
        "open the page again and fill it in anew",
    ))
}

async fn read(body: Body, most: usize) -> Result<Vec<u8>, Trouble> {
    to_bytes(body, most).await.map(|b| b.to_vec()).map_err(|_| Trouble::Told {
        status: StatusCode::PAYLOAD_TOO_LARGE,
        what: format!("more was sent than is taken ({most} bytes)"),
        mend: "send less at once".to_owned(),
    })
}

impl Posted {
    /// A form from our page, whether or not anybody is signed in.
    pub(crate) async fn by_anybody(request: Request, bench: &Bench) -> Result<Posted, Trouble> {
        let (parts, body) = request.into_parts();
        let visit = Visit::of(bench, &parts).await?;
        let fields = Fields::parse(&read(body, MOST_FORM_BYTES).await?);
        from_our_page(&visit, &parts.headers, token_of(&parts.headers, &fields))?;
        Ok(Posted { visit, fields })
    }

    /// A form from our page, by somebody who is signed in.
    pub(crate) async fn by_somebody(request: Request, bench: &Bench) -> Result<Posted, Trouble> {
        let posted = Posted::by_anybody(request, bench).await?;
        posted.session()?;
        Ok(posted)
    }

    /// Who sent it.
    pub(crate) fn session(&self) -> Result<&Session, Trouble> {
        self.visit.who.as_ref().ok_or(Trouble::SignIn)
    }

    /// Their pen, now.
    pub(crate) fn pen(&self) -> Result<Pen, Trouble> {
        Ok(self.session()?.pen.at(&self.visit.bench.time())?)
    }

    /// Writes an entry; once, however often the form is sent, when it has a key.
    pub(crate) async fn say(&self, said: Said) -> Result<Written, Trouble> {
        self.say_at(said, &self.visit.bench.time()).await
    }

    /// The same of something that happened at another time.
    pub(crate) async fn say_at(&self, said: Said, time: &str) -> Result<Written, Trouble> {
        let (pen, key) = (self.session()?.pen.at(time)?, self.fields.get("key").to_owned());
        self.visit
            .bench
            .write(move |book| match key.as_str() {
                "" => book.append(&pen, said),
                key => book.append_once(&pen, key, said).map(|(written, _)| written),
            })
            .await
    }
}

/// A script sends the token beside the body, a form in it.
fn token_of<'a>(headers: &'a HeaderMap, fields: &'a Fields) -> &'a str {
    headers.get("x-token").and_then(|v| v.to_str().ok()).unwrap_or_else(|| fields.get("token"))
}

impl FromRequest<Bench> for Posted {
    type Rejection = Trouble;

    async fn from_request(request: Request, bench: &Bench) -> Result<Posted, Trouble> {
        Posted::by_somebody(request, bench).await
    }
}

impl FromRequest<Bench> for Uploaded {
    type Rejection = Trouble;

    async fn from_request(request: Request, bench: &Bench) -> Result<Uploaded, Trouble> {
        let (parts, body) = request.into_parts();
        let visit = Visit::of(bench, &parts).await?;
        // Nothing is read from somebody who may not write.
        if visit.who.is_none() {
            return Err(Trouble::SignIn);
        }
        let headers = parts.headers.clone();
        if !headers.get(CONTENT_TYPE).is_some_and(|t| t.as_bytes().starts_with(b"multipart/")) {
            return Err(Trouble::wrong("this form has no file in it", ""));
        }
        let (mut fields, mut file) = (Fields::default(), None);
        let request = Request::from_parts(parts, body);
        let mut form = Multipart::from_request(request, bench)
            .await
            .map_err(|e| Trouble::wrong(e.to_string(), "choose the file again"))?;
        while let Some(mut part) = form.next_field().await.map_err(|e| cut_short(&e))? {
            let name = part.name().unwrap_or("").to_owned();
            let file_name = part.file_name().map(str::to_owned);
            let most = match &file_name {
                Some(_) => book::MAX_ATTACHMENT_BYTES,
                None => MOST_FIELD_BYTES,
            };
            // The token stands before the file: who has none sends nothing more.
            if file_name.is_some() {
                from_our_page(&visit, &headers, token_of(&headers, &fields))?;
            }
            let mut bytes = Vec::new();
            while let Some(chunk) = part.chunk().await.map_err(|e| cut_short(&e))? {
                if most < bytes.len() + chunk.len() {
                    return Err(Trouble::Told {
                        status: StatusCode::PAYLOAD_TOO_LARGE,
                        what: format!("the file is larger than {} MiB", most >> 20),
                        mend: "make it smaller".to_owned(),
                    });
                }
                bytes.extend_from_slice(&chunk);
            }
            match file_name {
                Some(given) => file = Some((given, bytes)),
                None => fields.push(&name, String::from_utf8_lossy(&bytes).into_owned()),
            }
        }
        from_our_page(&visit, &headers, token_of(&headers, &fields))?;
        Ok(Uploaded { visit, fields, file })
    }
}

fn cut_short(error: &axum::extract::multipart::MultipartError) -> Trouble {
    Trouble::wrong(format!("the form could not be read: {error}"), "send it again")
}
