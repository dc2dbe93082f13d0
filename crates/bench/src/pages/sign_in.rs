//! Signing in and out.

use crate::layout::{Page, set_cookie, token};
use crate::posted::Posted;
use crate::state::{Bench, Reach};
use crate::trouble::Trouble;
use crate::visit::{Anybody, Visit};
use axum::extract::{Request, State};
use axum::http::{HeaderValue, StatusCode, header::LOCATION};
use axum::response::{IntoResponse, Response};
use book::{Password, Pen};
use maud::html;

/// Goes to another page after a form.
pub(crate) fn see(to: &str) -> Response {
    let mut response = StatusCode::SEE_OTHER.into_response();
    let to = HeaderValue::from_str(to).unwrap_or(HeaderValue::from_static("/"));
    response.headers_mut().insert(LOCATION, to);
    response
}

/// An address on this bench; anything else leads to the first page.
pub(crate) fn local(then: &str) -> &str {
    let plain = then.starts_with('/')
        && !then.starts_with("//")
        && !then.contains('\\')
        && then.bytes().all(|b| b.is_ascii_graphic());
    if plain { then } else { "/" }
}

/// The page.
pub(crate) async fn page(Anybody(visit): Anybody) -> Response {
    let here = visit.bench.settings().reach == Reach::ThisMachine;
    // Who works in the shop is nobody's business who has not signed in from outside.
    let people: Vec<_> =
        visit.snap.fold.people().iter().filter(|p| here && !p.roles.is_empty()).collect();
    let then = local(visit.asked.get("then")).to_owned();
    let page = Page {
        title: "Sign in".to_owned(),
        holding: html! { h1 { "Sign in" } p { "Whatever is written in the book carries a name." } },
        knowing: html! {
            form.stack method="post" action="/sign-in" {
                (token(&visit))
                input type="hidden" name="then" value=(then);
                label for="name" { "Name" }
                @if here {
                    select #name name="name" required {
                        @for p in &people {
                            option value=(p.name) {
                                (p.name) ", " (p.roles.iter().map(ToString::to_string).collect::<Vec<_>>().join(", "))
                                @if p.password.is_empty() { " (no password)" }
                            }
                        }
                    }
                } @else {
                    input #name name="name" required autocomplete="username" autocapitalize="off";
                }
                label for="password" { "Password" }
                input #password name="password" type="password" autocomplete="current-password";
                button.main { "Sign in" }
            }
        },
        doing: html! {
            @if !visit.bench.settings().demo.is_empty() { p.aside { (visit.bench.settings().demo) } }
            @if here {
                p { "This bench answers this machine only. Who has no password here picks the name alone; whoever sits at this machine can do so, and the book shows no more than that." }
            } @else {
                p { "Ask the responsible engineer for a password if you have none." }
            }
        },
    };
    page.answer(&visit)
}

/// Signs in.
pub(crate) async fn sign_in(
    State(bench): State<Bench>,
    request: Request,
) -> Result<Response, Trouble> {
    let posted = Posted::by_anybody(request, &bench).await?;
    let visit = &posted.visit;
    let name = posted.fields.get("name").to_owned();
    let (pen, hashed) = shown(visit, &name, posted.fields.exactly("password")).await?;
    let now_s = bench.now().as_second();
    bench.sessions().end(&visit.cookie);
    // A new cookie, so that whoever knew the old one gains nothing.
    let cookie = bench.sessions().begin(pen, hashed, now_s).map_err(Trouble::Inside)?;
    let mut response = see(local(posted.fields.get("then")));
    set_cookie(&mut response, visit, &cookie);
    Ok(response)
}

/// The pen of somebody who shows their password, with the hash it matched; slowed down when they
/// slip.
pub(crate) async fn shown(
    visit: &Visit,
    name: &str,
    password: &str,
) -> Result<(Pen, String), Trouble> {
    let bench = &visit.bench;
    let who = [format!("person {name}"), format!("address {}", visit.address)];
    let now_s = bench.now().as_second();
    if let Some(wait) = bench.throttle().wait(&who, now_s) {
        return Err(Trouble::TooOften(wait));
    }
    let person = visit.snap.fold.person(name).filter(|p| !p.roles.is_empty());
    let hashed = person.map_or(String::new(), |p| p.password.clone());
    let free = person.is_some_and(|p| p.password.is_empty())
        && bench.settings().reach == Reach::ThisMachine;
    if free {
        return Ok((Pen::new(name, DEVICE, &bench.time())?, hashed));
    }
    // For a name that is not there a password is tried as well, so that the time taken does not
    // tell which names are.
    let known = person.is_some() && !hashed.is_empty();
    let against = if known { hashed.clone() } else { NOBODY.to_owned() };
    let text = password.to_owned();
    let right =
        bench.hashing(move || Password::new(&text).is_ok_and(|p| p.matches(&against))).await?;
    if !(known && right) {
        bench.throttle().slipped(&who, now_s);
        return Err(Trouble::Told {
            status: StatusCode::UNAUTHORIZED,
            what: "name and password do not go together".to_owned(),
            mend: "go back and try again".to_owned(),
        });
    }
    bench.throttle().right(&who[..1]);
    let mut pen = Pen::new(name, DEVICE, &bench.time())?;
    let password = Password::new(password)?;
    let pen = bench
        .write(move |book| {
            pen.show(book, &password)?;
            Ok(pen)
        })
        .await?;
    Ok((pen, hashed))
}

/// The device of entries written through a page.
const DEVICE: &str = "bench";
/// A hash that no password has, at the cost of the others (RFC 9106).
const NOBODY: &str = "$argon2id$v=19$m=19456,t=2,p=1$AAAAAAAAAAAAAAAAAAAAAA$AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA";

/// Signs out.
pub(crate) async fn sign_out(posted: Posted) -> Response {
    posted.visit.bench.sessions().end(&posted.visit.cookie);
    see("/")
}
