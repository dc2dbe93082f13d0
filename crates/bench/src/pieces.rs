//! Pieces that several pages are made of.

use crate::layout::token;
use crate::marks::encoded;
use crate::snapshot::Snapshot;
use crate::timeline::Told;
use crate::visit::Visit;
use book::{Role, Said};
use maud::{Markup, PreEscaped, html};
use std::collections::BTreeSet;
use std::sync::Arc;

/// The beginning of a form that says something: where it goes, the token, and a key of its own, so
/// that the same form sent twice is written once.
pub(crate) fn saying(visit: &Visit, kind: &str, then: &str, body: &Markup) -> Markup {
    html! {
        form.stack method="post" action={ "/say/" (kind) } {
            (token(visit))
            input type="hidden" name="key" value=(key());
            input type="hidden" name="then" value=(then);
            (body)
        }
    }
}

/// A random key for an entry.
pub(crate) fn key() -> String {
    let mut bytes = [0u8; 12];
    match getrandom::fill(&mut bytes) {
        Ok(()) => bytes.iter().map(|b| format!("{b:02x}")).collect(),
        // Without one the entry is written each time it is sent.
        Err(_) => String::new(),
    }
}

/// A field for one line with its label.
pub(crate) fn line(id: &str, name: &str, label: &str, value: &str, must: bool) -> Markup {
    html! {
        label for=(id) { (label) @if !must { span.quiet { " (may be empty)" } } }
        input id=(id) name=(name) value=(value) required[must] autocomplete="off";
    }
}

/// The password again, where a signature is asked for.
pub(crate) fn password(id: &str) -> Markup {
    html! {
        label for=(id) { "Your password, as your signature" }
        input id=(id) name="password" type="password" required autocomplete="current-password";
    }
}

/// Whether whoever is signed in has one of these roles.
pub(crate) fn has(visit: &Visit, roles: &[Role]) -> bool {
    visit
        .who
        .as_ref()
        .and_then(|s| visit.snap.fold.person(s.name()))
        .is_some_and(|p| roles.iter().any(|r| p.roles.contains(r)))
}

/// A form for those who may use it; for others who may.
pub(crate) fn for_roles(visit: &Visit, roles: &[Role], form: impl FnOnce() -> Markup) -> Markup {
    if has(visit, roles) {
        return form();
    }
    let who: Vec<String> = roles.iter().map(ToString::to_string).collect();
    html! {
        @if visit.who.is_none() {
            p { a.main href={ "/sign-in?then=" (encoded(visit.here())) } { "Sign in to write" } }
        }
        p.quiet { "For: " (who.join("; ")) "." }
    }
}

/// Everybody with a role.
pub(crate) const ANY_ROLE: &[Role] = &Role::ALL;

/// A remark on something.
pub(crate) fn remark(visit: &Visit, about: &str) -> Markup {
    if !has(visit, ANY_ROLE) {
        return html! {};
    }
    html! {
        (saying(
            visit,
            "note",
            visit.uri.path(),
            &html! {
                input type="hidden" name="about" value=(about);
                label for="remark" { "A remark" }
                textarea #remark name="text" rows="3" required {}
                button { "Write the remark" }
            },
        ))
    }
}

/// The day and the clock of an entry.
pub(crate) fn time(text: &str) -> String {
    let (day, clock) = text.split_at_checked(10).unwrap_or((text, ""));
    match clock.get(1..6) {
        Some(clock) => format!("{day} {clock}"),
        None => day.to_owned(),
    }
}

/// Entries, newest first.
pub(crate) fn entries<'a>(snap: &Snapshot, all: impl Iterator<Item = &'a Arc<Told>>) -> Markup {
    html! {
        ol.entries {
            @for told in all {
                @let struck = snap.fold.struck(told.sequence);
                li.struck[struck.is_some()] {
                    a href={ "/book/entry/" (told.sequence) } { (told.sequence) }
                    " " span.quiet { (time(&told.time)) ", " (told.author) } br;
                    span.said { (short(&told.said.sentence())) }
                    @if let Some(why) = struck { br; b { "Struck out: " (why) } }
                }
            }
        }
    }
}

/// A sentence that may be as long as a person made it.
fn short(text: &str) -> String {
    const MOST: usize = 240;
    match text.char_indices().nth(MOST) {
        None => text.to_owned(),
        Some((at, _)) => format!("{}...", &text[..at]),
    }
}

/// The entries about a thing, newest first; the number that are left out when there are many.
pub(crate) fn history(visit: &Visit, about: &str) -> Markup {
    /// Shown at once; the earlier ones are folded away, so that a phone's page is not all history.
    const FIRST: usize = 3;
    const MOST: usize = 30;
    let snap = &visit.snap;
    let engine = snap.engine.as_ref().ok().map(|j| j.judgement.engine());
    let names: BTreeSet<String> = snap.fold.names_of(about, engine);
    let all: Vec<&Arc<Told>> =
        snap.timeline.iter().rev().filter(|t| !names.is_disjoint(&t.subjects)).collect();
    html! {
        section aria-labelledby="history" {
            h2 #history { "What the book says of it" }
            @if all.is_empty() { p.quiet { "Nothing yet." } }
            (entries(snap, all.iter().take(FIRST).copied()))
            @if FIRST < all.len() {
                details {
                    summary { (all.len() - FIRST) " earlier" }
                    (entries(snap, all.iter().take(MOST).skip(FIRST).copied()))
                    @if MOST < all.len() {
                        p { a href={ "/book?about=" (encoded(about)) } { "All " (all.len()) " entries" } }
                    }
                }
            }
        }
    }
}

/// Photographs and drawings of a thing.
pub(crate) fn photographs(visit: &Visit, about: &str) -> Markup {
    let snap = &visit.snap;
    let engine = snap.engine.as_ref().ok().map(|j| j.judgement.engine());
    let names = snap.fold.names_of(about, engine);
    let all = snap.timeline.iter().rev().filter_map(|t| match &t.said {
        Said::Attached { about, name, media, sha256, thumbnail, note, .. }
            if names.contains(about) && snap.fold.struck(t.sequence).is_none() =>
        {
            Some((about, name, media, sha256, thumbnail, note, t.time.as_str()))
        }
        _ => None,
    });
    html! {
        ul.photographs {
            @for (about, name, media, sha256, thumbnail, note, when) in all {
                li {
                    a href={ "/photograph/" (sha256) } {
                        @if thumbnail.is_empty() { (name) " (" (media) ")" }
                        @else { img src={ "/photograph/" (thumbnail) } alt={ (about) ": " (name) } loading="lazy"; }
                    }
                    span.quiet { (time(when)) @if !note.is_empty() { ": " (note) } }
                }
            }
        }
    }
}

/// A table. Where the screen is narrow each row stands as a block, and its cells say what they are.
pub(crate) fn table(name: &str, columns: &[&str], rows: &Markup) -> Markup {
    html! {
        div.wide role="region" aria-label=(name) tabindex="0" {
            table role="table" {
                thead role="rowgroup" { tr role="row" { @for c in columns { th scope="col" role="columnheader" { (c) } } } }
                tbody role="rowgroup" { (labelled(columns, &rows.0)) }
            }
        }
    }
}

/// Rows with the name of its column at each cell. The roles are said because a table that is laid out
/// as blocks is none to a browser otherwise. Words of a person cannot be taken for a cell: they are
/// escaped.
fn labelled(columns: &[&str], rows: &str) -> Markup {
    let mut out = String::with_capacity(rows.len() * 5 / 4);
    for (n, row) in rows.split("<tr").enumerate() {
        if 0 < n {
            out.push_str("<tr role=\"row\"");
        }
        for (k, cell) in row.split("<td").enumerate() {
            if let Some(at) = k.checked_sub(1) {
                let label = html! { (columns.get(at).copied().unwrap_or("")) };
                out.push_str("<td role=\"cell\" data-label=\"");
                out.push_str(&label.0);
                out.push('"');
            }
            out.push_str(cell);
        }
    }
    PreEscaped(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_cell_says_its_column_and_words_stay_words() {
        let rows = html! { tr.struck { td.a { "<td>" } td { b { "2" } } } tr { td {} td {} td { "too many" } } };
        let labelled = labelled(&["\"where\" & how", "what"], &rows.0).0;
        assert_eq!(
            labelled,
            "<tr role=\"row\" class=\"struck\"><td role=\"cell\" data-label=\"&quot;where&quot; &amp; how\" class=\"a\">&lt;td&gt;</td>\
             <td role=\"cell\" data-label=\"what\"><b>2</b></td></tr>\
             <tr role=\"row\"><td role=\"cell\" data-label=\"&quot;where&quot; &amp; how\"></td>\
             <td role=\"cell\" data-label=\"what\"></td><td role=\"cell\" data-label=\"\">too many</td></tr>"
        );
    }
}
