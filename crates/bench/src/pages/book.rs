//! The book: what waits for somebody, the timeline, search, looking through, and taking a copy.

use crate::layout::Page;
use crate::marks::encoded;
use crate::pieces::{entries, for_roles, has, line, password, saying, table, time};
use crate::snapshot::Snapshot;
use crate::state::spawn;
use crate::timeline::Told;
use crate::trouble::Trouble;
use crate::visit::Visit;
use axum::body::Body;
use axum::extract::Path;
use axum::http::HeaderValue;
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use book::{Hash, HoldPoint, Role, Said, SqliteStore};
use maud::{Markup, html};
use std::collections::BTreeSet;
use std::fs::File;
use std::io::{Read as _, Seek as _, SeekFrom};
use std::sync::Arc;

/// Entries on one page.
const MOST: usize = 60;

/// Which entries are asked for.
pub(crate) struct Wanted {
    words: String,
    about: String,
    before: Option<u64>,
    found: Option<Vec<u64>>,
    names: Option<BTreeSet<String>>,
}

impl Wanted {
    /// By the fields of the address: `find`, `about` and `before`.
    pub(crate) async fn of(visit: &Visit, most: usize) -> Result<Wanted, Trouble> {
        let (words, about) =
            (visit.asked.get("find").to_owned(), visit.asked.get("about").to_owned());
        let before = visit.asked.given("before").and_then(|b| b.parse::<u64>().ok());
        let found: Option<Vec<u64>> = match words.clone() {
            none if none.is_empty() => None,
            words => Some(visit.bench.write(move |book| book.find(&words, most)).await?),
        };
        let engine = visit.snap.engine.as_ref().ok().map(|j| j.judgement.engine());
        let names = (!about.is_empty()).then(|| visit.snap.fold.names_of(&about, engine));
        Ok(Wanted { words, about, before, found, names })
    }

    fn everything(&self) -> bool {
        self.found.is_none() && self.names.is_none() && self.before.is_none()
    }

    /// Those of them that are in the book.
    pub(crate) fn newest_first<'a>(
        &'a self,
        snap: &'a Snapshot,
    ) -> impl Iterator<Item = &'a Arc<Told>> {
        snap.timeline.iter().rev().filter(|t| {
            self.before.is_none_or(|b| t.sequence < b)
                && self.names.as_ref().is_none_or(|n| !n.is_disjoint(&t.subjects))
                && self.found.as_ref().is_none_or(|f| f.contains(&t.sequence))
        })
    }
}

/// The page.
pub(crate) async fn book(visit: Visit) -> Result<Response, Trouble> {
    let snap = visit.snap.clone();
    let wanted = Wanted::of(&visit, MOST).await?;
    let page: Vec<&Arc<Told>> = wanted.newest_first(&snap).take(MOST).collect();
    let more = page.len() == MOST && wanted.found.is_none();
    let older = page.last().filter(|_| more).map(|t| t.sequence);
    let (words, about, plain) = (&wanted.words, &wanted.about, wanted.everything());
    let page = Page {
        title: "The book".to_owned(),
        holding: html! {
            h1 { "The book of " (snap.fold.name()) }
            p { (snap.head.sequence) " entries. Nothing in it is changed or taken out; a mistake is struck out by a later entry." }
            p.quiet { "Its head: " code.hash { (snap.head.hash.to_string()) } }
        },
        knowing: html! {
            @if plain { (waiting(&visit)) (contradictions(&visit)) }
            section aria-labelledby="entries" {
                h2 #entries {
                    @if !words.is_empty() { "Entries with: " (words) }
                    @else if !about.is_empty() { "About: " (about) }
                    @else { "What was said, newest first" }
                }
                @if page.is_empty() { p { "Nothing." } }
                (entries(&snap, page.into_iter()))
                @if let Some(older) = older {
                    p { a href={ "/book?before=" (older) @if !about.is_empty() { "&about=" (encoded(about)) } } { "Older entries" } }
                }
            }
        },
        doing: doing(&visit, words),
    };
    Ok(page.answer(&visit))
}

fn waiting(visit: &Visit) -> Markup {
    let all: Vec<&HoldPoint> =
        visit.snap.fold.hold_points().iter().filter(|p| p.released.is_none()).collect();
    html! {
        @if !all.is_empty() {
            section aria-labelledby="waiting" {
                h2 #waiting { "Hold points" }
                @for p in all {
                    section.feature {
                        h3 { (p.id) }
                        p { "On " a href={ "/find?what=" (encoded(&p.about)) } { (p.about) } ": " (p.what) }
                        @if p.not_by_doer { p.quiet { "Not to be released by who did the work." } }
                        @match p.reached {
                            None => { p.quiet { "The work has not reached it." } }
                            Some(entry) => {
                                p { b { "Reached" } " (entry " a href={ "/book/entry/" (entry) } { (entry) } "); it waits to be released." }
                                @if has(visit, &[Role::Releases]) { (release(visit, p)) }
                            }
                        }
                    }
                }
            }
        }
    }
}

fn release(visit: &Visit, p: &HoldPoint) -> Markup {
    let id = |what: &str| format!("{what}-{}", p.reached.unwrap_or(0));
    saying(
        visit,
        "released",
        "/book",
        &html! {
            input type="hidden" name="hold_point" value=(p.id);
            (line(&id("seen"), "note", "What was seen", "", true))
            (password(&id("password")))
            button { "Release it" }
        },
    )
}

fn contradictions(visit: &Visit) -> Markup {
    let all: Vec<_> = visit.snap.fold.open_contradictions().collect();
    html! {
        @if !all.is_empty() {
            section aria-labelledby="contradictions" {
                h2 #contradictions { "Contradictions that a join brought" }
                ul.plain { @for c in all { li { (c.kind) " of " b { (c.about) } ": settle it by saying it anew, or by striking out one of the two" } } }
            }
        }
    }
}

fn doing(visit: &Visit, words: &str) -> Markup {
    html! {
        form.stack method="get" action="/book" role="search" {
            label for="find-words" { "Look for words" }
            input #find-words name="find" value=(words) data-key="/" autocomplete="off";
            button.main { "Look" }
        }
        ul.ways {
            li { a href="/paper/dossier.pdf" { "Dossier, to print" } }
            li { a href="/paper" { "All sheets, and their paper" } }
            li { a href="/concessions" { "Concessions" } }
            li { a href="/book/write" { "Write a table of readings, or a description" } }
            li { a href="/book/verify" { "Look through everything, and follow the chain" } }
            @if has(visit, &[Role::Responsible]) {
                li { a href="/book/whole.tar" download { "The whole book as an archive, to keep elsewhere" } }
                @if visit.bench.settings().file.is_some() {
                    li { a href="/book/copy.book" download { "A copy of the book's file, to go on from" } }
                }
            }
            li { a href="/book/readings.csv" download { "All readings, as a table (CSV)" } }
            li { a href="/book/readings.xlsx" download { "All readings, as a workbook (XLSX)" } }
        }
        (for_roles(visit, &[Role::Responsible], || html! {
            details {
                summary { "Sign the engine off" }
                (saying(visit, "signed-off", "/book", &html! {
                    input type="hidden" name="about" value="engine";
                    (line("sign-what", "what", "What is signed", "", true))
                    (password("sign-password"))
                    button { "Sign" }
                }))
            }
        }))
    }
}

/// One entry, whole.
pub(crate) async fn entry(visit: Visit, Path(number): Path<String>) -> Result<Response, Trouble> {
    let snap = visit.snap.clone();
    let at = number
        .parse::<u64>()
        .ok()
        .and_then(|n| snap.timeline.binary_search_by_key(&n, |t| t.sequence).ok());
    let told = at
        .map(|at| &snap.timeline[at])
        .ok_or_else(|| Trouble::missing(format!("there is no entry {number}"), ""))?;
    let before = at.and_then(|at| at.checked_sub(1)).map(|at| snap.timeline[at].sequence);
    let after = at.and_then(|at| snap.timeline.get(at + 1)).map(|t| t.sequence);
    let struck = snap.fold.struck(told.sequence);
    let page = Page {
        title: format!("Entry {}", told.sequence),
        holding: html! {
            h1 { "Entry " (told.sequence) }
            p { (time(&told.time)) br; (told.author) br; span.quiet { "on: " (told.device) } }
            p.quiet { "sha256 " code.hash { (told.hash) } }
        },
        knowing: html! {
            @if let Some(why) = struck { p.warn { b { "Struck out: " } (why) } }
            p.large { (told.said.sentence()) }
            (body(&told.said))
            @if !told.subjects.is_empty() {
                p { "About: " @for (n, s) in told.subjects.iter().take(40).enumerate() { @if 0 < n { ", " } a href={ "/find?what=" (encoded(s)) } { (s) } } }
            }
        },
        doing: html! {
            ul.ways {
                @if let Some(n) = before { li { a href={ "/book/entry/" (n) } { "The entry before" } } }
                @if let Some(n) = after { li { a href={ "/book/entry/" (n) } { "The entry after" } } }
                li { a href="/book" { "To the book" } }
            }
            @if struck.is_none() && visit.who.is_some() {
                details {
                    summary { "Strike it out" }
                    (saying(&visit, "struck-out", visit.uri.path(), &html! {
                        input type="hidden" name="entry" value=(told.sequence);
                        (line("strike-reason", "reason", "Why it no longer counts", "", true))
                        p.quiet { "It stays in the book, with this reason beside it." }
                        button { "Strike it out" }
                    }))
                }
            }
        },
    };
    Ok(page.answer(&visit))
}

/// What an entry has that does not go into a sentence.
fn body(said: &Said) -> Markup {
    /// Lines of a text or table that are shown; the copy of the book has all.
    const LINES: usize = 200;
    let text = match said {
        Said::Readings { table, .. } => table,
        Said::Described { text, .. } | Said::DayPlanned { text, .. } => text,
        Said::Attached { sha256, name, .. } => {
            return html! { p { a href={ "/photograph/" (sha256) } { (name) } } };
        }
        _ => return html! {},
    };
    let all = text.lines().count();
    let shown: Vec<&str> = text.lines().take(LINES).collect();
    html! {
        pre.wide tabindex="0" { (shown.join("\n")) }
        @if LINES < all { p.quiet { "And " (all - LINES) " lines more." } }
    }
}

/// Looks through everything; what was found since the last entry is shown again, with its time.
pub(crate) async fn verify(visit: Visit) -> Result<Response, Trouble> {
    let head = visit.asked.given("head").map(Hash::parse).transpose()?;
    let (verified, when) = match head {
        Some(head) => {
            let verified = visit.bench.write(move |book| book.verify(Some(&head))).await?;
            (verified, visit.bench.time())
        }
        None => {
            let known = visit.bench.looked_through(visit.asked.ticked("again")).await?;
            (known.verified.clone(), known.time.clone())
        }
    };
    let page = Page {
        title: "The book looked through".to_owned(),
        holding: html! {
            h1 { "The book looked through" }
            p { (verified.entries) " entries, " (verified.attachments) " photographs and drawings" }
            p.quiet { "Looked through " (time(&when)) ". Nothing was written since." }
        },
        knowing: html! {
            @if verified.whole() { p.large { "Whole: every entry is as it was written, and the chain holds." } }
            @else {
                p.large role="alert" { "Not whole." }
                (table("Faults", &["entry", "what"], &html! { @for f in &verified.faults { tr { td { @if 0 < f.sequence { (f.sequence) } @else { "–" } } td { (f.what) } } } }))
            }
            @for n in &verified.not_looked_at { p.quiet { "Not looked at: " (n) } }
            p.quiet { "The chain shows that nothing before its head was changed. Print the head on paper that leaves the shop: whoever holds that paper can ask years later whether it is still in the chain." }
            p { "Head: " code.hash { (verified.head) } }
        },
        doing: html! {
            p { a.main href="/book/verify?again=yes" { "Look through it again now" } }
            form.stack method="get" action="/book/verify" {
                label for="head" { "Is this head, from a paper, in the chain?" }
                input #head name="head" value=(visit.asked.get("head")) autocomplete="off" required;
                button { "Look" }
            }
            ul.ways { li { a href="/book" { "To the book" } } }
        },
    };
    Ok(page.answer(&visit))
}

/// The book leaves the shop by one hand only: it holds everybody's password, hashed, and a hash can
/// be guessed at in peace.
fn may_take_it(visit: &Visit) -> Result<(), Trouble> {
    if visit.who.is_none() {
        return Err(Trouble::SignIn);
    }
    if has(visit, &[Role::Responsible]) {
        return Ok(());
    }
    Err(Trouble::forbidden(
        "the whole book is for the responsible engineer to take",
        "anybody may take the readings and the dossier",
    ))
}

/// The whole book as an archive that needs no program of ours. It is written beside before it is
/// sent, so that a slow line does not hold up whoever writes.
pub(crate) async fn whole(visit: Visit) -> Result<Response, Trouble> {
    may_take_it(&visit)?;
    let file = spawn(crate::state::scratch).await?.map_err(|e| Trouble::Inside(e.to_string()))?;
    let file = visit
        .bench
        .write(move |book| {
            let mut out = std::io::BufWriter::new(&file);
            book::export(book, &mut out)?;
            drop(out);
            Ok(file)
        })
        .await?;
    Ok(download("application/x-tar", "book.tar", sent(file)))
}

/// The book's file, copied whole while it is in use, for the responsible engineer to keep elsewhere.
pub(crate) async fn copy(visit: Visit) -> Result<Response, Trouble> {
    may_take_it(&visit)?;
    let from = visit.bench.settings().file.clone().ok_or_else(|| {
        Trouble::missing(
            "this book is not a file: it lies on a database server",
            "the keeper of that server copies it; the archive can be taken here",
        )
    })?;
    let copied = visit.bench.working_out(move || copied(&from)).await??;
    let day = visit.bench.time();
    let name = format!("book-{}.book", day.get(..10).unwrap_or("copy"));
    Ok(download("application/vnd.sqlite3", &name, sent(copied)))
}

/// A copy in a folder of its own, which nobody else may look into and which is gone afterwards.
fn copied(from: &std::path::Path) -> Result<File, Trouble> {
    let inside = |e: std::io::Error| Trouble::Inside(e.to_string());
    let folder = crate::state::scratch_folder().map_err(inside)?;
    let to = folder.join("copy.book");
    let done = SqliteStore::open(from).and_then(|mut store| store.backup(&to));
    let file = done.map_err(Trouble::from).and_then(|()| File::open(&to).map_err(inside));
    // Where an open file cannot be unnamed it is left to the system's own tidying.
    let _ = std::fs::remove_dir_all(&folder);
    file
}

/// A file as it is read, piece by piece.
fn sent(mut file: File) -> Body {
    let (send, receive) = tokio::sync::mpsc::channel::<Result<Vec<u8>, std::io::Error>>(4);
    tokio::task::spawn_blocking(move || {
        if let Err(e) = file.seek(SeekFrom::Start(0)) {
            let _ = send.blocking_send(Err(e));
            return;
        }
        loop {
            let mut chunk = vec![0; 64 << 10];
            match file.read(&mut chunk) {
                Ok(0) => return,
                Ok(n) => {
                    chunk.truncate(n);
                    // Whoever asked has gone away.
                    if send.blocking_send(Ok(chunk)).is_err() {
                        return;
                    }
                }
                Err(e) => {
                    let _ = send.blocking_send(Err(e));
                    return;
                }
            }
        }
    });
    Body::from_stream(crate::state::Received(receive))
}

/// All readings as a table.
pub(crate) async fn readings(visit: Visit, Path(form): Path<String>) -> Result<Response, Trouble> {
    let snap = visit.snap.clone();
    let (media, name) = match form.as_str() {
        "readings.csv" => ("text/csv; charset=utf-8", "readings.csv"),
        "readings.xlsx" => {
            ("application/vnd.openxmlformats-officedocument.spreadsheetml.sheet", "readings.xlsx")
        }
        _ => return Err(Trouble::missing("there is nothing here", "go to the book's page")),
    };
    let csv = name == "readings.csv";
    let bytes = spawn(move || {
        let all = snap.fold.all_readings();
        if csv { all.csv().map(String::into_bytes) } else { all.xlsx() }
    })
    .await??;
    Ok(download(media, name, Body::from(bytes)))
}

fn download(media: &'static str, name: &str, body: Body) -> Response {
    let mut response = ([(CONTENT_TYPE, media)], body).into_response();
    if let Ok(value) = HeaderValue::from_str(&format!("attachment; filename=\"{name}\"")) {
        response.headers_mut().insert(CONTENT_DISPOSITION, value);
    }
    response
}
