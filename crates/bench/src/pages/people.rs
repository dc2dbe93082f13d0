//! People, what they may write, their passwords and their devices.

use super::say::back;
use super::sign_in::shown;
use crate::layout::{Page, token};
use crate::pieces::{for_roles, key, line, password, table};
use crate::posted::Posted;
use crate::trouble::Trouble;
use crate::visit::Visit;
use axum::extract::{Request, State};
use axum::response::Response;
use book::{Device, Password, Role, Said, Token};
use engine::model::Date;
use maud::{Markup, html};

/// The page.
pub(crate) async fn people(visit: Visit) -> Result<Response, Trouble> {
    Ok(page(&visit, None).answer(&visit))
}

/// The page; with a new device's token, which is shown this once.
fn page(visit: &Visit, new: Option<(&str, &Token)>) -> Page {
    let fold = &visit.snap.fold;
    Page {
        title: "People".to_owned(),
        holding: html! { h1 { "People" } p { "Whoever writes in the book writes under their name; what they may write goes by their roles." } },
        knowing: html! {
            @if let Some((device, token)) = new {
                section.result role="status" {
                    h2 { "The token of " (device) }
                    p.large { code { (token.text()) } }
                    p { "Give it to that device now. It is shown this once; the book keeps a hash of it only." }
                }
            }
            (table("People", &["name", "roles", "password"], &html! {
                @for p in fold.people() {
                    tr {
                        td { b { (p.name) } }
                        td { @if p.roles.is_empty() { "no role any more" } (p.roles.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ")) }
                        td { @if p.password.is_empty() { "none" } @else { "set" } }
                    }
                }
            }))
            @if !fold.devices().is_empty() {
                h2 { "Devices" }
                (table("Devices", &["device", "writes as", "until", ""], &html! {
                    @for d in fold.devices() {
                        tr {
                            td { (d.name) } td { (d.person) } td { (d.until) }
                            td { @match stands(visit, d) { None => { (withdraw(visit, d)) } Some(why) => { (why) } } }
                        }
                    }
                }))
            }
            p.quiet { "Roles: records readings (and calibrations, tags, places); fits (work done, tags, places); releases hold points; responsible engineer (descriptions, decisions, hold points, people, signing off)." }
        },
        doing: doing(visit),
    }
}

/// Why a device's token is not taken; nothing when it is.
fn stands(visit: &Visit, device: &Device) -> Option<String> {
    let day = visit.bench.time();
    let day = Date::parse(day.get(..10).unwrap_or("")).ok()?;
    device.stands_on(day).err().map(|e| e.to_string())
}

fn withdraw(visit: &Visit, d: &Device) -> Markup {
    let own = visit.who.as_ref().is_some_and(|s| s.name() == d.person);
    html! {
        @if own || crate::pieces::has(visit, &[Role::Responsible]) {
            form method="post" action="/people/withdraw" {
                (token(visit))
                input type="hidden" name="device" value=(d.name);
                button.plain { "Take its token away" }
            }
        }
    }
}

fn form(visit: &Visit, to: &str, body: &Markup) -> Markup {
    html! {
        form.stack method="post" action=(to) {
            (token(visit))
            input type="hidden" name="key" value=(key());
            input type="hidden" name="then" value="/people";
            (body)
        }
    }
}

fn doing(visit: &Visit) -> Markup {
    let fold = &visit.snap.fold;
    let own = visit.who.as_ref().and_then(|s| fold.person(s.name()));
    html! {
        @if let Some(own) = own {
            details {
                summary { @if own.password.is_empty() { "Set your password" } @else { "Change your password" } }
                (form(visit, "/people/password", &html! {
                    @if !own.password.is_empty() { (password("old-password")) }
                    label for="new-password" { "New password, at least 8 characters" }
                    input #new-password name="new" type="password" required minlength="8" autocomplete="new-password";
                    button { "Set it" }
                }))
            }
        }
        h2 { "Add or change a person" }
        (for_roles(visit, &[Role::Responsible], || html! {
            (form(visit, "/people", &html! {
                label for="name" { "Name" }
                input #name name="name" list="known" required autocomplete="off";
                datalist #known { @for p in fold.people() { option value=(p.name) {} } }
                fieldset {
                    legend { "Roles from now on; none takes them all away" }
                    @for role in Role::ALL {
                        label.tick { input type="checkbox" name="role" value=(role.word()); " " (role.to_string()) }
                    }
                }
                label for="person-password" { "Password" span.quiet { " (empty keeps what there is)" } }
                input #person-password name="new" type="password" autocomplete="new-password";
                button.main { "Write it in the book" }
            }))
            details {
                summary { "Give a device a token" }
                p.quiet { "A phone with a token writes readings in the name of one person without signing in. It never signs." }
                (form(visit, "/people/device", &html! {
                    (line("device", "device", "Name of the device", "", true))
                    label for="person" { "Writes as" }
                    select #person name="person" { @for p in fold.people().iter().filter(|p| !p.roles.is_empty()) { option { (p.name) } } }
                    label for="until" { "Until" }
                    input #until name="until" type="date" required;
                    button { "Give it a token" }
                }))
            }
        }))
    }
}

/// Adds a person, or changes their roles or password.
pub(crate) async fn change(posted: Posted) -> Result<Response, Trouble> {
    let name = posted.fields.wanted("name", "the name")?;
    let roles = posted.fields.all("role").map(Role::parse).collect::<Result<Vec<_>, _>>()?;
    let known = posted.visit.snap.fold.person(&name).map(|p| p.password.clone());
    let password = match posted.fields.exactly("new") {
        "" => known.unwrap_or_default(),
        new => hashed(&posted.visit, new).await?,
    };
    let written = posted.say(Said::Person { name, roles, password }).await?;
    Ok(back(&posted, written.sequence))
}

async fn hashed(visit: &Visit, text: &str) -> Result<String, Trouble> {
    let password = Password::new(text)?;
    Ok(visit.bench.hashing(move || password.hashed()).await??)
}

/// Sets one's own password.
pub(crate) async fn password_of_ones_own(
    State(bench): State<crate::Bench>,
    request: Request,
) -> Result<Response, Trouble> {
    let posted = Posted::by_somebody(request, &bench).await?;
    let name = posted.session()?.name().to_owned();
    let person = posted.visit.snap.fold.person(&name).cloned().ok_or(Trouble::SignIn)?;
    if !person.password.is_empty() {
        shown(&posted.visit, &name, posted.fields.exactly("password")).await?;
    }
    let password = hashed(&posted.visit, posted.fields.exactly("new")).await?;
    posted.say(Said::Person { name, roles: person.roles, password }).await?;
    // Every session of theirs rests on the old password and ends with it.
    Ok(super::sign_in::see("/sign-in?then=/people"))
}

/// Gives a device a token, and shows it once.
pub(crate) async fn device(posted: Posted) -> Result<Response, Trouble> {
    let device = posted.fields.wanted("device", "the name of the device")?;
    let until = posted.fields.wanted("until", "the last day")?;
    Date::parse(&until).map_err(|e| Trouble::wrong(e, ""))?;
    let person = posted.fields.wanted("person", "the person")?;
    let token = Token::new()?;
    let hash = token.hash().to_string();
    let said = Said::DeviceToken { device: device.clone(), person, hash, until };
    let pen = posted.pen()?;
    posted.visit.bench.write(move |book| book.append(&pen, said)).await?;
    let mut visit = posted.visit;
    visit.snap = visit.bench.snapshot().await?;
    Ok(page(&visit, Some((&device, &token))).answer(&visit))
}

/// Takes a device's token away.
pub(crate) async fn withdraw_token(posted: Posted) -> Result<Response, Trouble> {
    let device = posted.fields.wanted("device", "the device")?;
    let reason = "taken away on the people's page".to_owned();
    posted.say(Said::DeviceTokenWithdrawn { device, reason }).await?;
    Ok(super::sign_in::see("/people"))
}
