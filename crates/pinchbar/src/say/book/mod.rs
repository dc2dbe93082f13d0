//! A book as words on a terminal, or JSON.

mod line;

use super::table;
use crate::args::Args;
use crate::failure::Failure;
use crate::verbs::print_json;
use book::{
    Book, Device, Entry, Fold, Hash, Joined, Person, Said, Salvaged, Standing, Thing, Token,
    Verified, Work, WorkWord, Written,
};
use engine::model::Date;
use engine::readings::TableRead;
use line::line_of;
use serde_json::{Value, json};
use std::collections::BTreeSet;
use std::path::Path;

/// Prints a line in which whatever would move the cursor, change colours or turn the text round is
/// written out: a book's words come from many hands.
macro_rules! tell {
    ($($arg:tt)*) => { $crate::failure::put!("{}", $crate::say::book::plain(&format!($($arg)*))) };
}

/// Text on one line, as it can be read.
pub(crate) fn plain(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '\n' => out.push_str(" / "),
            '\t' => out.push(' '),
            '\r' => {}
            '\u{200E}' | '\u{200F}' | '\u{202A}'..='\u{202E}' | '\u{2066}'..='\u{2069}' => {
                out.extend(c.escape_unicode());
            }
            c if c.is_control() => out.extend(c.escape_unicode()),
            c => out.push(c),
        }
    }
    out
}

/// Rows of a table printed in a timeline before the rest are counted.
const MOST_ROWS: usize = 12;

fn columns(heading: &[&str], rows: &[Vec<String>]) {
    let rows: Vec<Vec<String>> =
        rows.iter().map(|row| row.iter().map(|cell| plain(cell)).collect()).collect();
    table::print(heading, &rows);
}

/// A book was begun.
pub(crate) fn begun(args: &Args, to: &Path, book: &Book, more: usize) -> Result<(), Failure> {
    if args.json {
        return print_json(&json!({
            "book": to.display().to_string(), "id": book.id(), "engine": book.fold().name(),
            "entries": book.head().sequence, "head": book.head().hash.to_string(),
        }));
    }
    let from = match more {
        0 => String::new(),
        n => format!(", {n} files of the folder in it"),
    };
    tell!("{}: the book of {} is begun{from}.", to.display(), book.fold().name());
    tell!("A book can stand wherever an engine folder can: pinchbar judge {}", to.display());
    Ok(())
}

/// An entry was written.
pub(crate) fn written(args: &Args, fold: &Fold, entry: &Entry, hash: Hash) -> Result<(), Failure> {
    if args.json {
        return print_json(&json_of(entry, hash, None)?);
    }
    tell!("entry {}: {}", entry.sequence, line_of(fold, &entry.said));
    tell!("  sha256 {hash}");
    Ok(())
}

/// Readings were written.
pub(crate) fn table_taken(args: &Args, written: Written, read: &TableRead) -> Result<(), Failure> {
    if args.json {
        let refused: Vec<_> = read.refused.iter().map(crate::verbs::refused_row).collect();
        return print_json(&json!({
            "entry": written.sequence, "sha256": written.hash.to_string(), "rows": read.rows,
            "taken": read.taken, "findings": read.findings, "blank": read.blank,
            "refused": refused, "refused_unlisted": read.refused_unlisted,
        }));
    }
    tell!(
        "entry {}: {} rows: {} readings and {} findings taken, {} refused",
        written.sequence,
        read.rows,
        read.taken,
        read.findings,
        read.refused_count()
    );
    for r in &read.refused {
        tell!(
            "  line {}: {} {}\n    mend: {}\n    row:  {}",
            r.line,
            r.column,
            r.what,
            r.mend,
            r.row
        );
    }
    Ok(())
}

fn json_of(entry: &Entry, hash: Hash, struck: Option<&str>) -> Result<Value, Failure> {
    let fault = |e: String| Failure::Fault(e);
    let line = entry.line().map_err(|e| fault(e.to_string()))?;
    let mut value: Value = serde_json::from_str(&line).map_err(|e| fault(e.to_string()))?;
    value["sha256"] = json!(hash.to_string());
    value["struck_out"] = json!(struck);
    Ok(value)
}

/// Entries one after another.
pub(crate) fn timeline(
    args: &Args,
    fold: &Fold,
    entries: &[(Entry, Hash)],
    only: Option<&BTreeSet<String>>,
) -> Result<(), Failure> {
    if args.json {
        let all: Vec<Value> = entries
            .iter()
            .map(|(entry, hash)| json_of(entry, *hash, fold.struck(entry.sequence)))
            .collect::<Result<_, _>>()?;
        return print_json(&all);
    }
    let mut day = String::new();
    for (entry, _) in entries {
        let (this, clock) = entry.time.split_at_checked(10).unwrap_or((&entry.time, ""));
        if day != this {
            day = this.to_owned();
            tell!("{day}");
        }
        tell!(
            "  {}  {:>5}  {}: {}",
            clock.get(1..6).unwrap_or("     "),
            entry.sequence,
            entry.author,
            line_of(fold, &entry.said)
        );
        if let Said::Readings { table, .. } = &entry.said {
            rows(table, only);
        }
        if let Some(why) = fold.struck(entry.sequence) {
            tell!("                STRUCK OUT: {why}");
        }
    }
    Ok(())
}

/// The rows of a table that name one of the wanted; as written.
fn rows(table: &str, only: Option<&BTreeSet<String>>) {
    let wanted = |row: &&str| match only {
        None => true,
        Some(names) => {
            row.split([',', ';', '\t']).any(|cell| names.contains(cell.trim().trim_matches('"')))
        }
    };
    let all: Vec<&str> =
        table.lines().filter(|l| !l.trim().is_empty()).skip(1).filter(wanted).collect();
    for row in all.iter().take(MOST_ROWS) {
        tell!("                {}", row.trim());
    }
    if MOST_ROWS < all.len() {
        tell!("                and {} rows more", all.len() - MOST_ROWS);
    }
}

/// Where one thing is.
pub(crate) fn whereabouts(
    args: &Args,
    name: &str,
    thing: &Thing,
    way: &[&Standing],
) -> Result<(), Failure> {
    if args.json {
        let way: Vec<_> = way
            .iter()
            .map(|s| json!({ "place": s.place, "entry": s.sequence, "by": s.by, "when": s.when }))
            .collect();
        return print_json(&json!({ "thing": name, "tag": thing.tag, "way": way }));
    }
    let tag = thing.tag.as_ref().map_or(String::new(), |t| format!(" (tag {t})"));
    match way {
        [] => tell!("{name}{tag}: its place was not told"),
        [first, ..] => {
            let places: Vec<_> = way.iter().map(|s| s.place.as_str()).collect();
            tell!(
                "{name}{tag}: {}; put there by {}, {} (entry {})",
                places.join(", in "),
                first.by,
                first.when,
                first.sequence
            );
        }
    }
    Ok(())
}

/// A list of things and their places.
pub(crate) fn places(args: &Args, fold: &Fold, names: &[(String, String)]) -> Result<(), Failure> {
    let tag =
        |name: &str| fold.thing(name).ok().and_then(|(_, t)| t.tag.clone()).unwrap_or_default();
    if args.json {
        let all: Vec<_> =
            names.iter().map(|(n, p)| json!({ "thing": n, "tag": tag(n), "place": p })).collect();
        return print_json(&all);
    }
    if names.is_empty() {
        tell!("nothing");
        return Ok(());
    }
    let rows: Vec<Vec<String>> =
        names.iter().map(|(n, p)| vec![n.clone(), tag(n), p.clone()]).collect();
    columns(&["part", "tag", "place"], &rows);
    Ok(())
}

/// What waits for somebody.
pub(crate) fn open_points(args: &Args, fold: &Fold, today: Date) -> Result<(), Failure> {
    let holds: Vec<_> = fold.hold_points().iter().filter(|p| p.released.is_none()).collect();
    let contradictions: Vec<_> = fold.open_contradictions().collect();
    let is_stuck = |w: &&Work| matches!(w.word, WorkWord::Stuck { .. });
    let stuck: Vec<_> = fold.works_now().into_iter().filter(is_stuck).collect();
    let concessions: Vec<_> = fold.concessions().iter().filter(|c| c.closed.is_none()).collect();
    if args.json {
        let holds: Vec<_> = holds
            .iter()
            .map(|p| json!({ "hold_point": p.id, "about": p.about, "what": p.what, "reached": p.reached }))
            .collect();
        let against: Vec<_> = contradictions
            .iter()
            .map(|c| json!({ "kind": c.kind, "about": c.about, "entries": numbers(fold, &c.entries) }))
            .collect();
        let stuck: Vec<_> = stuck
            .iter()
            .map(|w| json!({ "work": w.work, "why": why(w), "by": w.by, "entry": w.sequence }))
            .collect();
        let concessions: Vec<_> = concessions
            .iter()
            .map(|c| {
                json!({
                    "about": c.about, "limit": c.limit, "what": c.what, "until": c.until,
                    "reason": c.reason, "by": c.by, "entry": c.sequence, "holds": c.holds_on(today),
                })
            })
            .collect();
        return print_json(&json!({
            "hold_points": holds, "contradictions": against, "works_stuck": stuck,
            "concessions": concessions,
        }));
    }
    if holds.is_empty() && contradictions.is_empty() && stuck.is_empty() && concessions.is_empty() {
        tell!("nothing waits");
    }
    for p in holds {
        let how = if p.reached.is_some() { "WORK WAITS" } else { "not reached yet" };
        tell!("hold point {} on {}: {} ({how})", p.id, p.about, p.what);
    }
    for c in contradictions {
        let numbers: Vec<_> = numbers(fold, &c.entries).iter().map(ToString::to_string).collect();
        tell!("CONTRADICTION: {} of {}, entries {}", c.kind, c.about, numbers.join(" and "));
        tell!("    mend: say again which holds, or strike out the one that does not");
    }
    for w in stuck {
        tell!("STUCK: {}: {} ({}, entry {})", w.work, why(w), w.by, w.sequence);
    }
    for c in concessions {
        let how =
            if c.holds_on(today) { "CONCESSION until" } else { "CONCESSION NOT IN FORCE, until" };
        tell!(
            "{how} {} on {}, beyond {}: {} ({}, entry {})",
            c.until,
            c.about,
            c.limit,
            c.what,
            c.by,
            c.sequence
        );
    }
    Ok(())
}

fn why(work: &Work) -> String {
    match &work.word {
        WorkWord::Stuck { way, why } if way.is_empty() => why.clone(),
        WorkWord::Stuck { way, why } => format!("{way}: {why}"),
        _ => String::new(),
    }
}

/// Devices and their tokens.
pub(crate) fn devices(args: &Args, devices: &[Device], today: Date) -> Result<(), Failure> {
    if args.json {
        let all: Vec<_> = devices
            .iter()
            .map(|d| {
                json!({
                    "device": d.name, "person": d.person, "until": d.until,
                    "withdrawn": d.withdrawn, "stands": d.stands_on(today).is_ok(),
                })
            })
            .collect();
        return print_json(&all);
    }
    if devices.is_empty() {
        tell!("no device has a token");
        return Ok(());
    }
    let rows: Vec<Vec<String>> = devices
        .iter()
        .map(|d| {
            let stands = match (d.withdrawn, d.stands_on(today)) {
                (Some(entry), _) => format!("withdrawn, entry {entry}"),
                (None, Ok(())) => "stands".to_owned(),
                (None, Err(_)) => "ran out".to_owned(),
            };
            vec![d.name.clone(), d.person.clone(), d.until.clone(), stands]
        })
        .collect();
    columns(&["device", "writes as", "until", "token"], &rows);
    Ok(())
}

/// A device was given a token: the one time it is shown.
pub(crate) fn token_given(
    args: &Args,
    fold: &Fold,
    entry: &Entry,
    hash: Hash,
    token: &Token,
) -> Result<(), Failure> {
    if args.json {
        let mut value = json_of(entry, hash, None)?;
        value["token"] = json!(token.text());
        return print_json(&value);
    }
    tell!("entry {}: {}", entry.sequence, line_of(fold, &entry.said));
    tell!("  sha256 {hash}");
    tell!("  token  {}", token.text());
    tell!("  Put it into the device now. It is kept nowhere and will not be shown again.");
    Ok(())
}

fn numbers(fold: &Fold, hashes: &[String]) -> Vec<u64> {
    hashes.iter().filter_map(|h| fold.by_hash(&Hash::parse(h).ok()?)).collect()
}

/// People and roles.
pub(crate) fn people(args: &Args, people: &[Person]) -> Result<(), Failure> {
    if args.json {
        let all: Vec<_> = people
            .iter()
            .map(|p| {
                let roles: Vec<_> = p.roles.iter().map(|r| r.word()).collect();
                json!({ "name": p.name, "roles": roles, "password": !p.password.is_empty() })
            })
            .collect();
        return print_json(&all);
    }
    let rows: Vec<Vec<String>> = people
        .iter()
        .map(|p| {
            let roles: Vec<_> = p.roles.iter().map(ToString::to_string).collect();
            let password = if p.password.is_empty() { "no: cannot sign" } else { "yes" };
            vec![p.name.clone(), roles.join(", "), password.to_owned()]
        })
        .collect();
    columns(&["name", "roles", "password"], &rows);
    Ok(())
}

/// What came of looking through a book.
pub(crate) fn verified(v: &Verified) {
    if v.whole() {
        tell!("whole: {} entries, {} attachments", v.entries, v.attachments);
        tell!("  head: {} (print it, and check it with --head in years to come)", v.head);
    } else {
        match v.first_bad() {
            Some(bad) => tell!("DAMAGED: the first bad entry is {}: {}", bad.sequence, bad.what),
            None => tell!("DAMAGED, though every one of the {} entries is whole", v.entries),
        }
        for fault in v.faults.iter().take(MOST_ROWS) {
            match fault.sequence {
                0 => tell!("  {}", fault.what),
                n => tell!("  entry {n}: {}", fault.what),
            }
        }
        if MOST_ROWS < v.faults.len() {
            tell!("  and {} faults more", v.faults.len() - MOST_ROWS);
        }
    }
    for what in &v.not_looked_at {
        tell!("  not looked at: {what}");
    }
}

/// A file that cannot be opened as a book, and what could be got out of it.
pub(crate) fn not_opened(
    args: &Args,
    path: &Path,
    why: &str,
    saved: &Salvaged,
) -> Result<(), Failure> {
    let entries = saved.entries.len();
    if args.json {
        return print_json(&json!({
            "whole": false, "entries": 0, "attachments": 0, "head": "",
            "faults": [{ "entry": 0, "what": why }], "first_bad": null, "not_looked_at": [],
            "to_be_salvaged": { "entries": entries, "missing": saved.missing },
        }));
    }
    tell!("DAMAGED: {why}");
    for (from, to) in &saved.missing {
        tell!("  not to be found in it: entries {from} to {to}");
    }
    match saved.entries.keys().max() {
        None => tell!("  no entry of a book is to be found in it; take the last backup"),
        Some(last) => tell!(
            "  {entries} whole entries up to {last} are to be found in it; take the last backup, or `pinchbar book salvage {} FOLDER`",
            path.display()
        ),
    }
    Ok(())
}

/// A book, or a part of it, went somewhere.
pub(crate) fn carried(args: &Args, to: &Path, book: &Book) -> Result<(), Failure> {
    let head = book.head();
    if args.json {
        return print_json(&json!({
            "file": to.display().to_string(), "entries": head.sequence, "head": head.hash.to_string(),
        }));
    }
    tell!("{}: {} entries up to {}", to.display(), head.sequence, head.hash);
    Ok(())
}

/// An attachment was written to a file.
pub(crate) fn picture(args: &Args, to: &Path, hash: &Hash, bytes: usize) -> Result<(), Failure> {
    if args.json {
        return print_json(&json!({
            "file": to.display().to_string(), "sha256": hash.to_string(), "bytes": bytes,
        }));
    }
    tell!("{}: {bytes} bytes, sha256 {hash}", to.display());
    Ok(())
}

/// Two copies were joined.
pub(crate) fn joined(args: &Args, to: &Path, book: &Book, joined: &Joined) -> Result<(), Failure> {
    let against: Vec<_> =
        joined.contradictions.iter().map(|c| (c, numbers(book.fold(), &c.entries))).collect();
    if args.json {
        let against: Vec<_> = against
            .iter()
            .map(|(c, numbers)| json!({ "kind": c.kind, "about": c.about, "entries": numbers }))
            .collect();
        return print_json(&json!({
            "book": to.display().to_string(), "fork": joined.fork, "only_first": joined.only_first,
            "only_second": joined.only_second, "contradictions": against,
            "entries": book.head().sequence, "head": book.head().hash.to_string(),
        }));
    }
    tell!(
        "{}: parted after entry {}; {} entries only in the first, {} only in the second, all there, by time",
        to.display(),
        joined.fork,
        joined.only_first,
        joined.only_second
    );
    for (c, numbers) in against {
        let numbers: Vec<_> = numbers.iter().map(ToString::to_string).collect();
        tell!("  CONTRADICTION: {} of {}, entries {}", c.kind, c.about, numbers.join(" and "));
    }
    if !joined.contradictions.is_empty() {
        tell!("  say again which holds; a later entry settles it");
    }
    Ok(())
}

/// What was got out of a damaged file.
pub(crate) fn salvaged(args: &Args, to: &Path, saved: &Salvaged) -> Result<(), Failure> {
    let last = saved.entries.keys().max().copied().unwrap_or(0);
    let broken: Vec<u64> =
        saved.entries.iter().filter(|(_, s)| !s.follows).map(|(n, _)| *n).collect();
    if args.json {
        let all: Vec<_> = saved
            .entries
            .iter()
            .map(|(n, s)| json!({ "entry": n, "sha256": s.hash.to_string(), "follows": s.follows }))
            .collect();
        return print_json(&json!({
            "folder": to.display().to_string(), "entries": all, "last": last,
            "missing": saved.missing, "attachments": saved.attachments.len(),
        }));
    }
    tell!(
        "{}: {} whole entries up to {last}, {} attachments",
        to.display(),
        saved.entries.len(),
        saved.attachments.len()
    );
    for (from, to) in &saved.missing {
        tell!("  MISSING: entries {from} to {to}");
    }
    if !broken.is_empty() {
        let broken: Vec<_> = broken.iter().take(MOST_ROWS).map(ToString::to_string).collect();
        tell!("  the entry before is missing or another at: {}", broken.join(", "));
    }
    tell!(
        "  what may have stood after entry {last} cannot be told from the file; compare with a backup or a printed head"
    );
    Ok(())
}
