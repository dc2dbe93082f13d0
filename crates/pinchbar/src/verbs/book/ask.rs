//! Verbs that ask a book without changing it.

use super::{BookVerb, failed, open};
use crate::args::Args;
use crate::failure::put;
use crate::failure::{BEYOND, DONE, Failure};
use crate::folder::from_book;
use crate::say;
use crate::verbs::print_json;
use book::{Entry, Error, Hash};
use engine::model::Date;
use serde_json::json;
use std::path::Path;

/// The timeline of a part or joint.
pub(super) fn history(
    args: &Args,
    path: &Path,
    about: Option<&str>,
    all: bool,
    today: Date,
) -> Result<u8, Failure> {
    let mut book = open(path)?;
    // What the engine knows is a help to reading, not a condition for it.
    let opened = about.and_then(|_| from_book(&book, Some(today)).ok());
    let engine = opened.as_ref().map(|o| &o.engine);
    let names = about.map(|about| book.fold().names_of(about, engine));
    let mut entries: Vec<(Entry, Hash)> = Vec::new();
    book.each(&mut |entry, hash, _| {
        let wanted = match &names {
            None => true,
            Some(names) => {
                names.contains(&entry.author) || !names.is_disjoint(&entry.said.subjects())
            }
        };
        if wanted {
            entries.push((entry.clone(), hash));
        }
        Ok(())
    })
    .map_err(|e| failed(&e))?;
    if entries.is_empty() {
        let what = about.unwrap_or("anything");
        return Err(Failure::wrong(
            format!("the book does not speak of \"{what}\""),
            "`pinchbar book find BOOK WORDS` looks through all of it",
        ));
    }
    say::book::timeline(args, book.fold(), &entries, names.as_ref().filter(|_| !all))?;
    Ok(DONE)
}

/// Entries by their words.
pub(super) fn find(args: &Args, path: &Path, words: &[String], most: usize) -> Result<u8, Failure> {
    let mut book = open(path)?;
    let found = book.find(&words.join(" "), most).map_err(|e| failed(&e))?;
    let mut entries = Vec::new();
    for sequence in found {
        entries.push(book.entry(sequence).map_err(|e| failed(&e))?);
    }
    if entries.is_empty() && !args.json {
        put!("nothing found");
        return Ok(DONE);
    }
    say::book::timeline(args, book.fold(), &entries, None)?;
    Ok(DONE)
}

/// Where things are.
pub(super) fn whereabouts(args: &Args, verb: &BookVerb, today: Date) -> Result<u8, Failure> {
    let BookVerb::Where { book: path, thing, inside, off, missing_from } = verb else {
        return Err(Failure::Fault("not `where`".to_owned()));
    };
    let book = open(path)?;
    let fold = book.fold();
    if let Some(name) = thing {
        let way = fold.whereabouts(name).map_err(|e| failed(&e))?;
        let (name, thing) = fold.thing(name).map_err(|e| failed(&e))?;
        say::book::whereabouts(args, name, thing, &way)?;
        return Ok(DONE);
    }
    let mut names: Vec<(String, String)> = Vec::new();
    let place = |name: &str| {
        fold.thing(name)
            .ok()
            .and_then(|(_, t)| t.standing.as_ref())
            .map_or("place not told".to_owned(), |s| s.place.clone())
    };
    if let Some(place) = inside {
        names.extend(fold.inside(place).map(|(n, _)| (n.to_owned(), place.clone())));
    } else if *off {
        names.extend(fold.never_went_back().map(|(n, s)| (n.to_owned(), s.place.clone())));
    } else if let Some(assembly) = missing_from {
        let opened = from_book(&book, Some(today))?;
        let engine = &opened.engine;
        let Some(whole) = engine.parts.iter().position(|p| p.id == *assembly) else {
            return Err(Failure::wrong(format!("there is no part \"{assembly}\""), ""));
        };
        let around = place(assembly);
        for part in &engine.parts {
            let mut up = part.inside;
            let mut steps = 0;
            while let Some(ix) = up.filter(|_| steps < engine.parts.len()) {
                if engine.parts[ix.index()].id == engine.parts[whole].id {
                    let at = place(&part.id);
                    if at != *assembly && at != "engine" && at != around {
                        names.push((part.id.clone(), at));
                    }
                    break;
                }
                up = engine.parts[ix.index()].inside;
                steps += 1;
            }
        }
    } else {
        names.extend(fold.things().map(|(n, _)| (n.to_owned(), place(n))));
    }
    say::book::places(args, fold, &names)?;
    Ok(DONE)
}

/// What waits for somebody.
pub(super) fn open_points(args: &Args, path: &Path, today: Date) -> Result<u8, Failure> {
    let book = open(path)?;
    say::book::open_points(args, book.fold(), today)?;
    Ok(DONE)
}

/// Devices and their tokens.
pub(super) fn devices(args: &Args, path: &Path, today: Date) -> Result<u8, Failure> {
    let book = open(path)?;
    say::book::devices(args, book.fold().devices(), today)?;
    Ok(DONE)
}

/// People and roles.
pub(super) fn people(args: &Args, path: &Path) -> Result<u8, Failure> {
    let book = open(path)?;
    say::book::people(args, book.fold().people())?;
    Ok(DONE)
}

/// Looks through everything.
pub(super) fn verify(args: &Args, path: &Path, head: Option<&str>) -> Result<u8, Failure> {
    let head = head.map(Hash::parse).transpose().map_err(|e| failed(&e))?;
    let mut store = match super::try_store(path) {
        Ok(store) => store,
        // Opened or not, what is there to be said about a damaged file is said.
        Err(Error::Damaged(why)) => {
            let saved = book::salvage(path).map_err(|e| failed(&e))?;
            say::book::not_opened(args, path, &why, &saved)?;
            return Ok(BEYOND);
        }
        Err(e) => return Err(failed(&e)),
    };
    let verified = book::verify(store.as_mut(), head.as_ref()).map_err(|e| failed(&e))?;
    if args.json {
        let faults: Vec<_> = verified
            .faults
            .iter()
            .map(|f| json!({ "entry": f.sequence, "what": f.what }))
            .collect();
        print_json(&json!({
            "whole": verified.whole(), "entries": verified.entries,
            "attachments": verified.attachments, "head": verified.head, "faults": faults,
            "first_bad": verified.first_bad().map(|f| f.sequence),
            "not_looked_at": verified.not_looked_at,
        }))?;
    } else {
        say::book::verified(&verified);
    }
    Ok(if verified.whole() { DONE } else { BEYOND })
}
