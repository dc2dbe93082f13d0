//! Verbs that carry a whole book somewhere.

use super::args::Hand;
use super::{failed, open, pen};
use crate::args::Args;
use crate::failure::{DONE, Failure, PARTLY};
use crate::folder::write_whole;
use crate::say;
use book::{Book, Hash, Said, SqliteStore, Store};
use std::fs::File;
use std::io::{BufReader, BufWriter};
use std::path::{Path, PathBuf};

fn free(to: &Path) -> Result<(), Failure> {
    if to.exists() {
        return Err(Failure::wrong(
            format!("{} is there already", to.display()),
            "name a file that does not exist yet; nothing was changed",
        ));
    }
    Ok(())
}

fn unwritten(to: &Path, e: &std::io::Error) -> Failure {
    Failure::Fault(format!("{} could not be written: {e}", to.display()))
}

/// Where a new book comes to stand: a file under another name until it is whole, or a server.
struct Place<'a> {
    to: &'a Path,
    part: PathBuf,
    on_server: bool,
}

impl<'a> Place<'a> {
    fn new(to: &'a Path) -> Result<Self, Failure> {
        free(to)?;
        let on_server = super::address_of(to).is_some();
        let mut part = to.as_os_str().to_owned();
        if !on_server {
            part.push(".part");
        }
        Ok(Place { to, part: PathBuf::from(part), on_server })
    }

    fn store(&self) -> Result<Box<dyn Store>, Failure> {
        if !self.on_server {
            // Left by one that was stopped in the middle; nobody else writes such a name.
            for name in left_over(&self.part) {
                let _ = std::fs::remove_file(name);
            }
        }
        super::new_store(&self.part)
    }

    /// Takes away what was begun.
    fn give_up(&self) {
        if !self.on_server {
            for name in left_over(&self.part) {
                let _ = std::fs::remove_file(name);
            }
        }
    }

    /// Gives it its name.
    fn keep(&self) -> Result<Book, Failure> {
        if !self.on_server {
            std::fs::rename(&self.part, self.to).map_err(|e| unwritten(self.to, &e))?;
        }
        open(self.to)
    }
}

/// The file of an unfinished book and SQLite's beside it.
fn left_over(part: &Path) -> [PathBuf; 3] {
    ["", "-wal", "-shm"].map(|more| {
        let mut name = part.as_os_str().to_owned();
        name.push(more);
        PathBuf::from(name)
    })
}

/// A backup is of a file; the keeper of a server has means of their own.
fn a_file(path: &Path) -> Result<(), Failure> {
    match super::address_of(path) {
        None => Ok(()),
        Some(_) => Err(Failure::wrong(
            "a book on a server is backed up by the keeper of the database",
            "`pinchbar book export` writes the whole book as an archive, from a server too",
        )),
    }
}

/// Copies a book in use, and looks the copy through.
pub(super) fn backup(args: &Args, path: &Path, to: &Path) -> Result<u8, Failure> {
    a_file(path)?;
    a_file(to)?;
    let mut store = SqliteStore::open(path).map_err(|e| failed(&e))?;
    store.backup(to).map_err(|e| failed(&e))?;
    looked_through(args, to)
}

/// Puts a backup in place.
pub(super) fn restore(args: &Args, backup: &Path, to: &Path) -> Result<u8, Failure> {
    a_file(backup)?;
    a_file(to)?;
    let mut store = SqliteStore::open(backup).map_err(|e| failed(&e))?;
    let verified = book::verify(&mut store, None).map_err(|e| failed(&e))?;
    if !verified.whole() {
        say::book::verified(&verified);
        return Err(Failure::wrong(
            format!("{} is damaged and was not put in place", backup.display()),
            "try an older backup, or `pinchbar book salvage`",
        ));
    }
    store.backup(to).map_err(|e| failed(&e))?;
    looked_through(args, to)
}

fn looked_through(args: &Args, to: &Path) -> Result<u8, Failure> {
    let mut book = open(to)?;
    let verified = book.verify(None).map_err(|e| failed(&e))?;
    if !verified.whole() {
        say::book::verified(&verified);
        return Err(Failure::Fault(format!("{} did not come out whole", to.display())));
    }
    say::book::carried(args, to, &book)?;
    Ok(DONE)
}

/// The whole book, or its readings.
pub(super) fn export(args: &Args, path: &Path, to: &Path) -> Result<u8, Failure> {
    free(to)?;
    let mut book = open(path)?;
    match to.extension().and_then(|e| e.to_str()).map(str::to_ascii_lowercase).as_deref() {
        Some("tar") => {
            let mut part = to.as_os_str().to_owned();
            part.push(".part");
            let part = Path::new(&part);
            let file = File::create(part).map_err(|e| unwritten(to, &e))?;
            book::export(&mut book, BufWriter::new(&file)).map_err(|e| failed(&e))?;
            file.sync_all().map_err(|e| unwritten(to, &e))?;
            std::fs::rename(part, to).map_err(|e| unwritten(to, &e))?;
        }
        Some("csv") => {
            let mut text = Vec::new();
            book.fold().readings_csv(&mut text).map_err(|e| failed(&e))?;
            write_whole(to, &text)?;
        }
        Some("xlsx") => {
            write_whole(to, &book.fold().all_readings().xlsx().map_err(|e| failed(&e))?)?
        }
        other => {
            return Err(Failure::wrong(
                match other {
                    Some(other) => format!("a book is not exported as .{other}"),
                    None => format!("{} does not say what to write", to.display()),
                },
                "name a .tar for the whole book, a .csv or .xlsx for its readings",
            ));
        }
    }
    say::book::carried(args, to, &book)?;
    Ok(DONE)
}

/// A book from an archive. It gets its name when it is whole.
pub(super) fn import(args: &Args, archive: &Path, to: &Path) -> Result<u8, Failure> {
    let place = Place::new(to)?;
    let file = File::open(archive).map_err(|e| {
        Failure::wrong(format!("{} cannot be read: {e}", archive.display()), "check the name")
    })?;
    if let Err(e) = book::import(BufReader::new(file), place.store()?) {
        place.give_up();
        return Err(failed(&e));
    }
    say::book::carried(args, to, &place.keep()?)?;
    Ok(DONE)
}

/// An attachment as a file, by the number of its entry or its SHA-256.
pub(super) fn picture(args: &Args, path: &Path, which: &str, to: &Path) -> Result<u8, Failure> {
    free(to)?;
    let mut book: Book = open(path)?;
    let sha256 = match which.parse::<u64>() {
        Ok(number) if which.len() < 20 => {
            match book.entry(number).map_err(|e| failed(&e))?.0.said {
                Said::Attached { sha256, .. } => sha256,
                other => {
                    return Err(Failure::wrong(
                        format!("entry {number} attaches nothing; it is \"{}\"", other.kind()),
                        "`pinchbar book history` lists what is attached",
                    ));
                }
            }
        }
        _ => which.to_owned(),
    };
    let hash = Hash::parse(&sha256).map_err(|e| failed(&e))?;
    let bytes = book.attachment(&hash).map_err(|e| failed(&e))?;
    write_whole(to, &bytes)?;
    say::book::picture(args, to, &hash, bytes.len())?;
    Ok(DONE)
}

/// Two copies as one.
pub(super) fn join(args: &Args, copies: [&Path; 2], to: &Path, hand: &Hand) -> Result<u8, Failure> {
    let place = Place::new(to)?;
    let (mut first, mut second) = (open(copies[0])?, open(copies[1])?);
    let pen = pen(&first, hand)?;
    let joined = match book::join(&mut first, &mut second, place.store()?, &pen) {
        Ok((book, joined)) => {
            drop(book);
            joined
        }
        Err(e) => {
            place.give_up();
            return Err(failed(&e));
        }
    };
    say::book::joined(args, to, &place.keep()?, &joined)?;
    Ok(DONE)
}

/// What is whole of a damaged file, as lines and files in a folder.
pub(super) fn salvage(args: &Args, damaged: &Path, to: &Path) -> Result<u8, Failure> {
    free(to)?;
    let saved = book::salvage(damaged).map_err(|e| failed(&e))?;
    if saved.entries.is_empty() && saved.attachments.is_empty() {
        return Err(Failure::wrong(
            format!("no entry of a book is to be found in {}", damaged.display()),
            "is it the right file? take the last backup; nothing was written",
        ));
    }
    std::fs::create_dir(to).map_err(|e| unwritten(to, &e))?;
    let lines: String = saved.entries.values().map(|s| format!("{}\n", s.line)).collect();
    write_whole(&to.join("entries.jsonl"), lines.as_bytes())?;
    for (hash, bytes) in &saved.attachments {
        write_whole(&to.join(hash.to_string()), bytes)?;
    }
    say::book::salvaged(args, to, &saved)?;
    Ok(if saved.missing.is_empty() { DONE } else { PARTLY })
}
