//! Verbs that carry a whole book somewhere.

use super::args::Hand;
use super::{failed, open, pen};
use crate::args::Args;
use crate::failure::{DONE, Failure, PARTLY};
use crate::folder::write_whole;
use crate::say;
use book::{Book, Hash, SqliteStore};
use std::fs::File;
use std::io::{BufReader, BufWriter};
use std::path::Path;

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

/// Copies a book in use, and looks the copy through.
pub(super) fn backup(args: &Args, path: &Path, to: &Path) -> Result<u8, Failure> {
    let mut store = SqliteStore::open(path).map_err(|e| failed(&e))?;
    store.backup(to).map_err(|e| failed(&e))?;
    looked_through(args, to)
}

/// Puts a backup in place.
pub(super) fn restore(args: &Args, backup: &Path, to: &Path) -> Result<u8, Failure> {
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
            let text = book.fold().all_readings().csv().map_err(|e| failed(&e))?;
            write_whole(to, text.as_bytes())?;
        }
        Some("xlsx") => {
            write_whole(to, &book.fold().all_readings().xlsx().map_err(|e| failed(&e))?)?
        }
        other => {
            return Err(Failure::wrong(
                format!("a book is not exported as \".{}\"", other.unwrap_or("")),
                "name a .tar for the whole book, a .csv or .xlsx for its readings",
            ));
        }
    }
    say::book::carried(args, to, &book)?;
    Ok(DONE)
}

/// A book from an archive. It gets its name when it is whole.
pub(super) fn import(args: &Args, archive: &Path, to: &Path) -> Result<u8, Failure> {
    free(to)?;
    let file = File::open(archive).map_err(|e| {
        Failure::wrong(format!("{} cannot be read: {e}", archive.display()), "check the name")
    })?;
    let mut part = to.as_os_str().to_owned();
    part.push(".part");
    let part = Path::new(&part);
    let store = SqliteStore::create(part).map_err(|e| failed(&e))?;
    let brought = book::import(BufReader::new(file), Box::new(store));
    let book = match brought {
        Ok(book) => book,
        Err(e) => {
            let _ = std::fs::remove_file(part);
            return Err(failed(&e));
        }
    };
    drop(book);
    std::fs::rename(part, to).map_err(|e| unwritten(to, &e))?;
    say::book::carried(args, to, &open(to)?)?;
    Ok(DONE)
}

/// An attachment as a file.
pub(super) fn picture(args: &Args, path: &Path, sha256: &str, to: &Path) -> Result<u8, Failure> {
    free(to)?;
    let mut book: Book = open(path)?;
    let hash = Hash::parse(sha256).map_err(|e| failed(&e))?;
    let bytes = book.attachment(&hash).map_err(|e| failed(&e))?;
    write_whole(to, &bytes)?;
    say::book::carried(args, to, &book)?;
    Ok(DONE)
}

/// Two copies as one.
pub(super) fn join(args: &Args, copies: [&Path; 2], to: &Path, hand: &Hand) -> Result<u8, Failure> {
    free(to)?;
    let (mut first, mut second) = (open(copies[0])?, open(copies[1])?);
    let pen = pen(&first, hand)?;
    let mut part = to.as_os_str().to_owned();
    part.push(".part");
    let part = Path::new(&part);
    let store = SqliteStore::create(part).map_err(|e| failed(&e))?;
    let joined = match book::join(&mut first, &mut second, Box::new(store), &pen) {
        Ok((book, joined)) => {
            drop(book);
            joined
        }
        Err(e) => {
            let _ = std::fs::remove_file(part);
            return Err(failed(&e));
        }
    };
    std::fs::rename(part, to).map_err(|e| unwritten(to, &e))?;
    let book = open(to)?;
    say::book::joined(args, to, &book, &joined)?;
    Ok(DONE)
}

/// What is whole of a damaged file, as lines and files in a folder.
pub(super) fn salvage(args: &Args, damaged: &Path, to: &Path) -> Result<u8, Failure> {
    free(to)?;
    let saved = book::salvage(damaged).map_err(|e| failed(&e))?;
    std::fs::create_dir(to).map_err(|e| unwritten(to, &e))?;
    let lines: String = saved.entries.values().map(|s| format!("{}\n", s.line)).collect();
    write_whole(&to.join("entries.jsonl"), lines.as_bytes())?;
    for (hash, bytes) in &saved.attachments {
        write_whole(&to.join(hash.to_string()), bytes)?;
    }
    say::book::salvaged(args, to, &saved)?;
    Ok(if saved.missing.is_empty() { DONE } else { PARTLY })
}
