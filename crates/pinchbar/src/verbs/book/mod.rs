//! The verbs of the book.

mod args;
mod ask;
mod carry;
mod figures;
mod slips;
mod write;

pub(crate) use args::BookVerb;

use crate::args::{Args, Verb};
use crate::failure::Failure;
use args::Hand;
use book::{Book, Error, Kind, Password, Pen, SqliteStore, Store};
use engine::model::Date;
use std::path::Path;

/// Runs a verb of the book.
pub(crate) fn run(args: &Args, verb: &BookVerb, today: Date) -> Result<u8, Failure> {
    match verb {
        BookVerb::Start { .. } => write::start(args, verb),
        BookVerb::History { book, about, all } => {
            ask::history(args, book, about.as_deref(), *all, today)
        }
        BookVerb::Find { book, words, most } => ask::find(args, book, words, *most),
        BookVerb::Where { .. } => ask::whereabouts(args, verb, today),
        BookVerb::Open { book } => ask::open_points(args, book, today),
        BookVerb::Device { device: None, book, .. } => ask::devices(args, book, today),
        BookVerb::Verify { book, head } => ask::verify(args, book, head.as_deref()),
        BookVerb::People { name: None, book, .. } => ask::people(args, book),
        BookVerb::Picture { book, which, to } => carry::picture(args, book, which, to),
        BookVerb::Backup { book, to } => carry::backup(args, book, to),
        BookVerb::Restore { backup, to } => carry::restore(args, backup, to),
        BookVerb::Export { book, to } => carry::export(args, book, to),
        BookVerb::Import { archive, to } => carry::import(args, archive, to),
        BookVerb::Join { first, second, to, hand } => carry::join(args, [first, second], to, hand),
        BookVerb::Salvage { damaged, to } => carry::salvage(args, damaged, to),
        _ => write::write(args, verb, today),
    }
}

/// `add`, `decide` and `strike-out` where the engine is a book.
pub(crate) fn on_a_book(args: &Args, path: &Path, today: Date) -> Result<u8, Failure> {
    match &args.verb {
        Verb::Add { .. } => figures::add(args, path, today),
        Verb::Decide { .. } => figures::decide(args, path, today),
        Verb::StrikeOut { .. } => figures::strike_figure(args, path, today),
        _ => Err(Failure::Fault("not a verb that adds to a book".to_owned())),
    }
}

/// Writes what happened to a work of the plan; the entry's number.
pub(crate) fn say_of_a_work(
    path: &Path,
    by: &str,
    time: Option<String>,
    said: book::Said,
) -> Result<u64, Failure> {
    let mut book = open(path)?;
    let hand = Hand { by: by.to_owned(), when: time, device: None, password_file: None };
    let pen = pen(&book, &hand)?;
    book.append(&pen, said).map(|w| w.sequence).map_err(|e| failed(&e))
}

/// Opens a book.
pub(crate) fn open(path: &Path) -> Result<Book, Failure> {
    Book::open(store(path)?).map_err(|e| failed(&e))
}

/// Opens what a book is kept in: a file, or `postgres://host/database#book`.
fn store(path: &Path) -> Result<Box<dyn Store>, Failure> {
    try_store(path).map_err(|e| failed(&e))
}

fn try_store(path: &Path) -> Result<Box<dyn Store>, Error> {
    match address_of(path) {
        Some(address) => on_a_server(address, false),
        None => Ok(Box::new(SqliteStore::open(path)?)),
    }
}

/// The address of a book on a server, if the path is one.
fn address_of(path: &Path) -> Option<&str> {
    path.to_str().filter(|p| p.starts_with("postgres:") || p.starts_with("postgresql:"))
}

/// Makes a new, empty place for a book.
fn new_store(path: &Path) -> Result<Box<dyn Store>, Failure> {
    match address_of(path) {
        Some(address) => on_a_server(address, true).map_err(|e| failed(&e)),
        None => Ok(Box::new(SqliteStore::create(path).map_err(|e| failed(&e))?)),
    }
}

#[cfg(feature = "postgres")]
fn on_a_server(address: &str, new: bool) -> Result<Box<dyn Store>, Error> {
    let (address, name) = book::PostgresStore::address(address)?;
    Ok(Box::new(if new {
        book::PostgresStore::create(address, name)?
    } else {
        book::PostgresStore::open(address, name)?
    }))
}

#[cfg(not(feature = "postgres"))]
fn on_a_server(_: &str, _: bool) -> Result<Box<dyn Store>, Error> {
    Err(Error::Wrong {
        what: "this program was built without PostgreSQL".to_owned(),
        mend: "cargo build --release --features postgres".to_owned(),
    })
}

pub(crate) fn failed(error: &Error) -> Failure {
    match error.kind() {
        Kind::Asked => Failure::wrong(error.to_string(), error.mend()),
        _ if error.mend().is_empty() => Failure::Fault(error.to_string()),
        _ => Failure::Fault(format!("{error}\n    mend: {}", error.mend())),
    }
}

/// The clock, as an entry quotes it.
fn now() -> String {
    let now = jiff::Timestamp::now();
    jiff::Timestamp::from_second(now.as_second()).unwrap_or(now).to_string()
}

/// The name of this machine.
fn device() -> String {
    let named = std::env::var("PINCHBAR_DEVICE").ok();
    named
        .or_else(|| std::fs::read_to_string("/etc/hostname").ok())
        .map(|n| n.trim().to_owned())
        .filter(|n| !n.is_empty())
        .unwrap_or_else(|| "a machine without a name".to_owned())
}

/// The password from a file, or from the surroundings.
fn password(file: Option<&Path>) -> Result<Option<Password>, Failure> {
    let text = match file {
        Some(file) => Some(std::fs::read_to_string(file).map_err(|e| {
            Failure::wrong(format!("{} cannot be read: {e}", file.display()), "check the name")
        })?),
        None => std::env::var("PINCHBAR_PASSWORD").ok(),
    };
    text.map(|t| Password::new(t.trim_end_matches(['\r', '\n'])).map_err(|e| failed(&e)))
        .transpose()
}

/// The pen of whoever writes, the password shown when the book has one of theirs.
fn pen(book: &Book, hand: &Hand) -> Result<Pen, Failure> {
    let time = hand.when.clone().unwrap_or_else(now);
    let device = hand.device.clone().unwrap_or_else(device);
    let mut pen = Pen::new(&hand.by, &device, &time).map_err(|e| failed(&e))?;
    let known = book.fold().person(pen.author()).is_some_and(|p| !p.password.is_empty());
    if known && let Some(password) = password(hand.password_file.as_deref())? {
        pen.show(book, &password).map_err(|e| failed(&e))?;
    }
    Ok(pen)
}
