//! Serves the bench.

use super::book::{failed, open as open_book};
use crate::args::{Args, Verb};
use crate::failure::put;
use crate::failure::{DONE, Failure};
use crate::folder::is_book;
use bench::{Certificate, Reach, ServeError, Settings, fingerprint, may_leave_this_machine, serve};
use engine::model::Date;
use std::net::{IpAddr, SocketAddr, TcpListener};
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// Serves a book, or the demo's.
pub(super) fn run(args: &Args) -> Result<u8, Failure> {
    let Verb::Bench { book, at, known_as, authority, demo } = &args.verb else {
        return Err(Failure::Fault("not `bench`".to_owned()));
    };
    let today = match &args.today {
        Some(text) => {
            Some(Date::parse(text).map_err(|e| Failure::wrong(format!("--today: {e}"), ""))?)
        }
        // The demo's calibrations must not lapse as the years pass.
        None if *demo => Some(crate::demo::day()?),
        None => None,
    };
    let file = match book {
        Some(book) => asked_for(book)?,
        None => demo_book()?,
    };
    let book = open_book(&file)?;
    let here = at.ip().is_loopback();
    if !here {
        may_leave_this_machine(&book).map_err(not_served)?;
    }
    let listener = TcpListener::bind(at).map_err(|e| {
        Failure::wrong(
            format!("nothing can be served at {at}: {e}"),
            "name another address: --at 127.0.0.1:8471",
        )
    })?;
    let at = listener.local_addr().map_err(|e| Failure::Fault(e.to_string()))?;
    let names = names(at, known_as);
    let certificate = if here {
        None
    } else {
        let folder = authority.clone().unwrap_or_else(|| beside(&file));
        let made = Certificate::in_folder(&folder, &names, jiff::Timestamp::now());
        Some(made.map_err(|e| {
            Failure::wrong(
                e.to_string(),
                "name what other machines call this one: --known-as shed.local",
            )
        })?)
    };
    let settings = Settings {
        reach: if here { Reach::ThisMachine } else { Reach::OtherMachines },
        encrypted: certificate.is_some(),
        hosts: names.iter().map(|n| with_port(n, at.port())).collect(),
        clock: Arc::new(jiff::Timestamp::now),
        today,
        demo: if *demo { told_in_the_demo() } else { String::new() },
        authority: certificate.as_ref().map(|c| c.authority_pem.clone()),
        // A book on a server has an address in the place of a file.
        file: file.is_file().then(|| file.clone()),
    };
    let mark = certificate.as_ref().map(|c| fingerprint(&c.authority_pem));
    told(args, &file, at, &names, mark.as_deref());
    serve(book, settings, listener, certificate.as_ref()).map_err(not_served)?;
    Ok(DONE)
}

/// A book, or the way to one.
fn asked_for(path: &Path) -> Result<PathBuf, Failure> {
    if is_book(path) {
        return Ok(path.to_owned());
    }
    if path.is_dir() {
        return Err(Failure::wrong(
            format!("{} is an engine's folder; the bench is served from a book", path.display()),
            format!(
                "begin one: pinchbar book start {0}.book --from {0} --by \"YOUR NAME\"; or look at the demo: pinchbar bench --demo",
                path.display()
            ),
        ));
    }
    Err(Failure::wrong(
        format!("there is no book at {}", path.display()),
        "`pinchbar book start` begins one; `pinchbar bench --demo` shows the demo's",
    ))
}

fn demo_book() -> Result<PathBuf, Failure> {
    let folder = std::env::temp_dir().join(format!("pinchbar-demo-{}", std::process::id()));
    std::fs::create_dir_all(&folder)
        .map_err(|e| Failure::Fault(format!("{} could not be made: {e}", folder.display())))?;
    let file = folder.join("goods.book");
    crate::demo::book_of_today(&file)?;
    Ok(file)
}

fn told_in_the_demo() -> String {
    format!(
        "This is the demo. Who has a password here has this one: {}",
        crate::demo_book::PASSWORD
    )
}

/// Where the authority is kept: beside the book, or in the working folder for one on a server.
fn beside(book: &Path) -> PathBuf {
    let mut name = match book.parent() {
        Some(folder) if book.exists() => folder.join("pinchbar"),
        _ => PathBuf::from("pinchbar"),
    }
    .into_os_string();
    name.push("-authority");
    PathBuf::from(name)
}

/// Names under which the bench is asked for.
fn names(at: SocketAddr, known_as: &[String]) -> Vec<String> {
    let mut names = known_as.to_vec();
    if at.ip().is_loopback() {
        names.extend(["localhost".to_owned(), "127.0.0.1".to_owned(), "::1".to_owned()]);
    } else if !at.ip().is_unspecified() {
        names.push(at.ip().to_string());
    }
    names
}

/// As a browser sends it: no port where it is the usual one, brackets about an IPv6 address.
fn with_port(name: &str, port: u16) -> String {
    let name = match name.parse::<IpAddr>() {
        Ok(IpAddr::V6(a)) => format!("[{a}]"),
        _ => name.to_owned(),
    };
    if matches!(port, 80 | 443) { name } else { format!("{name}:{port}") }
}

fn told(args: &Args, file: &Path, at: SocketAddr, names: &[String], mark: Option<&str>) {
    let name = if at.ip().is_loopback() { None } else { names.first() };
    let host = name.map_or_else(|| at.to_string(), |n| with_port(n, at.port()));
    let address = format!("http{}://{host}/", if mark.is_some() { "s" } else { "" });
    if args.json {
        put!(
            "{}",
            serde_json::json!({ "book": file.display().to_string(), "address": address, "authority_sha256": mark })
        );
        return;
    }
    put!("the bench of {} is at {address} (Ctrl-C stops it)", file.display());
    if let Some(mark) = mark {
        put!("the fingerprint of its authority (SHA-256), to compare with what a phone shows:");
        put!("  {mark}");
    } else {
        put!("it answers this machine only; docs/bench.md says how to serve phones");
    }
}

fn not_served(error: ServeError) -> Failure {
    match error {
        ServeError::Refused { what, mend } => Failure::wrong(what, mend),
        ServeError::Book(e) => failed(&e),
        other => Failure::Fault(other.to_string()),
    }
}
