//! Concessions: leave to run beyond a limit until a day. Who may gives and closes them; anybody asks.

use crate::layout::Page;
use crate::marks::{encoded, verdict};
use crate::pieces::{ANY_ROLE, has, line, password, saying};
use crate::trouble::Trouble;
use crate::visit::Visit;
use axum::response::Response;
use book::{Concession, Role};
use engine::model::Date;
use engine::view::LimitView;
use maud::{Markup, html};

/// The page.
pub(crate) async fn concessions(visit: Visit) -> Result<Response, Trouble> {
    let fold = &visit.snap.fold;
    let today = visit.snap.today;
    // One that begins after the day of judging is not over.
    let holds = |c: &&Concession| {
        let over = today.is_some_and(|day| Date::parse(&c.until).is_ok_and(|until| until < day));
        c.closed.is_none() && !over
    };
    let (open, past): (Vec<&Concession>, Vec<&Concession>) =
        fold.concessions().iter().partition(|c| holds(c));
    let wanting = undecided(&visit);
    let page = Page {
        title: "Concessions".to_owned(),
        holding: html! {
            h1 { "Concessions" }
            p { "Leave to run beyond a limit until a day. The responsible engineer gives it, under a password; it is in the dossier." }
        },
        knowing: html! {
            h2 { "In force" }
            @if open.is_empty() { p { "None." } }
            @for c in &open { (one(&visit, c)) }
            @if !wanting.is_empty() {
                h2 { "Beyond, with neither a decision nor a concession" }
                ul.plain { @for (id, name) in &wanting { li { (verdict("beyond")) " " a href={ "/joint/" (encoded(id)) "#concession" } { (name) } } } }
            }
            @if !past.is_empty() {
                h2 { "Closed or run out" }
                ul.plain { @for c in &past { li { (words(c)) @if let Some(n) = c.closed { "; closed by entry " a href={ "/book/entry/" (n) } { (n) } } @else { "; run out" } } } }
            }
        },
        doing: html! {
            p { "One is given on the page of the joint or part it is about." }
            ul.ways {
                li { a href="/paper/dossier.pdf" { "Dossier, to print" } }
                li { a href="/book" { "To the book" } }
            }
        },
    };
    Ok(page.answer(&visit))
}

/// Joints beyond their limits about which nobody has said anything.
fn undecided(visit: &Visit) -> Vec<(String, String)> {
    let Ok(judged) = visit.snap.engine.as_ref() else { return Vec::new() };
    let engine = judged.judgement.engine();
    let open = |about: &str| {
        visit.snap.fold.concessions().iter().any(|c| c.about == about && c.closed.is_none())
    };
    judged
        .summary()
        .joints
        .iter()
        .filter(|j| j.verdict == "beyond" && !open(&j.id))
        .filter(|j| {
            let ix = engine.joint_by_id(&j.id);
            ix.is_some_and(|ix| engine.decisions.iter().all(|d| d.joint != ix))
        })
        .map(|j| (j.id.clone(), if j.name.is_empty() { j.id.clone() } else { j.name.clone() }))
        .collect()
}

fn words(c: &Concession) -> Markup {
    html! { a href={ "/find?what=" (encoded(&c.about)) } { (c.about) } ", " (c.limit) ", from " (c.when) " until " b { (c.until) } ": " (c.what) span.quiet { " (" (c.by) ": " (c.reason) "; entry " a href={ "/book/entry/" (c.sequence) } { (c.sequence) } ")" } }
}

fn one(visit: &Visit, c: &Concession) -> Markup {
    html! {
        section.feature {
            p { (words(c)) }
            @if has(visit, &[Role::Responsible]) { (close(visit, c)) }
        }
    }
}

fn close(visit: &Visit, c: &Concession) -> Markup {
    html! {
        details {
            summary { "It no longer holds" }
            (saying(visit, "concession-closed", visit.uri.path(), &html! {
                input type="hidden" name="about" value=(c.about);
                input type="hidden" name="limit" value=(c.limit);
                (line(&format!("close-{}", c.sequence), "reason", "Why", "", true))
                button { "Close it" }
            }))
        }
    }
}

/// On the page of the joint it is about: those that hold, and the form.
pub(crate) fn about(visit: &Visit, id: &str, limits: &[LimitView]) -> Markup {
    let open: Vec<&Concession> = visit
        .snap
        .fold
        .concessions()
        .iter()
        .filter(|c| c.about == id && c.closed.is_none())
        .collect();
    html! {
        div #concession {
            @for c in &open { p.warn { "Concession until " b { (c.until) } ", beyond " (c.limit) } @if has(visit, &[Role::Responsible]) { (close(visit, c)) } }
            @if has(visit, &[Role::Responsible]) { (give(visit, id, limits)) } @else if has(visit, ANY_ROLE) { (ask(visit, id)) }
        }
    }
}

/// A limit in words.
fn limit_words(l: &LimitView) -> String {
    let of = l.feature.as_ref().map_or_else(String::new, |f| format!(" of {f}"));
    let when = match l.when {
        "refit" => "to put back",
        "service" => "in service",
        "made" => "as made",
        other => other,
    };
    format!("{}{of}, {when}", l.of)
}

fn give(visit: &Visit, id: &str, limits: &[LimitView]) -> Markup {
    let (passed, others): (Vec<&LimitView>, Vec<&LimitView>) =
        limits.iter().partition(|l| l.verdict == "beyond");
    html! {
        details {
            summary { "Give a concession" }
            (saying(visit, "concession", visit.uri.path(), &html! {
                input type="hidden" name="about" value=(id);
                @if limits.is_empty() {
                    (line("limit", "limit", "The limit that is passed", "", true))
                } @else {
                    label for="limit" { "The limit that is passed" }
                    select #limit name="limit" required {
                        @for l in passed.iter().chain(&others) { option { (limit_words(l)) } }
                    }
                }
                (line("concession-what", "what", "What is allowed, and under what conditions", "", true))
                label for="until" { "Last day" }
                input #until name="until" type="date" required;
                (line("concession-reason", "reason", "Why", "", true))
                (password("concession-password"))
                button { "Sign the concession" }
            }))
        }
    }
}

/// Who may not give one asks for it, in the book.
fn ask(visit: &Visit, id: &str) -> Markup {
    html! {
        details {
            summary { "Ask for a concession" }
            (saying(visit, "note", visit.uri.path(), &html! {
                input type="hidden" name="about" value=(id);
                label for="asks" { "What should be allowed, until when, and why" }
                textarea #asks name="text" rows="3" required { "Asks for a concession: " }
                button { "Write it in the book" }
                p.quiet { "The responsible engineer answers: with a concession, or a remark." }
            }))
        }
    }
}
