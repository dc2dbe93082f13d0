//! A book as words on a terminal, or JSON.

use super::table;
use crate::args::Args;
use crate::failure::Failure;
use crate::failure::put;
use crate::verbs::print_json;
use book::{
    Book, Entry, Fold, Hash, Joined, Person, Said, Salvaged, Standing, Thing, Verified, Written,
};
use engine::readings::TableRead;
use serde_json::{Value, json};
use std::collections::BTreeSet;
use std::path::Path;

/// Rows of a table printed in a timeline before the rest are counted.
const MOST_ROWS: usize = 12;

/// A book was begun.
pub(crate) fn begun(args: &Args, to: &Path, book: &Book, more: usize) -> Result<(), Failure> {
    if args.json {
        return print_json(&json!({
            "book": to.display().to_string(), "id": book.id(), "engine": book.fold().name(),
            "entries": book.head().sequence, "head": book.head().hash.to_string(),
        }));
    }
    put!("{}: a book of {}, {more} entries from the folder.", to.display(), book.fold().name());
    put!("A book can stand wherever an engine folder can: pinchbar judge {}", to.display());
    Ok(())
}

/// An entry was written.
pub(crate) fn written(args: &Args, entry: &Entry, hash: Hash) -> Result<(), Failure> {
    if args.json {
        return print_json(&json_of(entry, hash, None)?);
    }
    put!("entry {}: {}", entry.sequence, entry.said.sentence());
    put!("  sha256 {hash}");
    Ok(())
}

/// Readings were written.
pub(crate) fn table_taken(args: &Args, written: Written, read: &TableRead) -> Result<(), Failure> {
    if args.json {
        let refused: Vec<_> = read
            .refused
            .iter()
            .map(|r| json!({ "line": r.line, "column": r.column, "what": r.what, "mend": r.mend, "row": r.row }))
            .collect();
        return print_json(&json!({
            "entry": written.sequence, "sha256": written.hash.to_string(), "rows": read.rows,
            "taken": read.taken, "findings": read.findings, "blank": read.blank,
            "refused": refused, "refused_unlisted": read.refused_unlisted,
        }));
    }
    put!(
        "entry {}: {} rows: {} readings and {} findings taken, {} refused",
        written.sequence,
        read.rows,
        read.taken,
        read.findings,
        read.refused_count()
    );
    for r in &read.refused {
        put!(
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
            put!("{day}");
        }
        put!(
            "  {}  {:>5}  {}: {}",
            clock.get(1..6).unwrap_or("     "),
            entry.sequence,
            entry.author,
            entry.said.sentence()
        );
        if let Said::Readings { table, .. } = &entry.said {
            rows(table, only);
        }
        if let Some(why) = fold.struck(entry.sequence) {
            put!("                STRUCK OUT: {why}");
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
        put!("                {}", row.trim());
    }
    if MOST_ROWS < all.len() {
        put!("                and {} rows more", all.len() - MOST_ROWS);
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
        [] => put!("{name}{tag}: its place was not told"),
        [first, ..] => {
            let places: Vec<_> = way.iter().map(|s| s.place.as_str()).collect();
            put!(
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
        put!("nothing");
        return Ok(());
    }
    let rows: Vec<Vec<String>> =
        names.iter().map(|(n, p)| vec![n.clone(), tag(n), p.clone()]).collect();
    table::print(&["part", "tag", "place"], &rows);
    Ok(())
}

/// What waits for somebody.
pub(crate) fn open_points(args: &Args, fold: &Fold) -> Result<(), Failure> {
    let holds: Vec<_> = fold.hold_points().iter().filter(|p| p.released.is_none()).collect();
    let contradictions: Vec<_> = fold.open_contradictions().collect();
    if args.json {
        let holds: Vec<_> = holds
            .iter()
            .map(|p| json!({ "hold_point": p.id, "about": p.about, "what": p.what, "reached": p.reached }))
            .collect();
        let against: Vec<_> = contradictions
            .iter()
            .map(|c| json!({ "kind": c.kind, "about": c.about, "entries": numbers(fold, &c.entries) }))
            .collect();
        return print_json(&json!({ "hold_points": holds, "contradictions": against }));
    }
    if holds.is_empty() && contradictions.is_empty() {
        put!("nothing waits");
    }
    for p in holds {
        let how = if p.reached.is_some() { "WORK WAITS" } else { "not reached yet" };
        put!("hold point {} on {}: {} ({how})", p.id, p.about, p.what);
    }
    for c in contradictions {
        let numbers: Vec<_> = numbers(fold, &c.entries).iter().map(ToString::to_string).collect();
        put!("CONTRADICTION: {} of {}, entries {}", c.kind, c.about, numbers.join(" and "));
        put!("    mend: say again which holds; a later entry settles it");
    }
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
    table::print(&["name", "roles", "password"], &rows);
    Ok(())
}

/// What came of looking through a book.
pub(crate) fn verified(v: &Verified) {
    if v.whole() {
        put!("whole: {} entries, {} attachments", v.entries, v.attachments);
        put!("  head: {} (print it, and check it with --head in years to come)", v.head);
    } else {
        match v.first_bad() {
            Some(bad) => put!("DAMAGED: the first bad entry is {}: {}", bad.sequence, bad.what),
            None => put!("DAMAGED, though every one of the {} entries is whole", v.entries),
        }
        for fault in v.faults.iter().take(MOST_ROWS) {
            match fault.sequence {
                0 => put!("  {}", fault.what),
                n => put!("  entry {n}: {}", fault.what),
            }
        }
        if MOST_ROWS < v.faults.len() {
            put!("  and {} faults more", v.faults.len() - MOST_ROWS);
        }
    }
    for what in &v.not_looked_at {
        put!("  not looked at: {what}");
    }
}

/// A book, or a part of it, went somewhere.
pub(crate) fn carried(args: &Args, to: &Path, book: &Book) -> Result<(), Failure> {
    let head = book.head();
    if args.json {
        return print_json(&json!({
            "file": to.display().to_string(), "entries": head.sequence, "head": head.hash.to_string(),
        }));
    }
    put!("{}: {} entries up to {}", to.display(), head.sequence, head.hash);
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
    put!(
        "{}: parted after entry {}; {} entries only in the first, {} only in the second, all there, by time",
        to.display(),
        joined.fork,
        joined.only_first,
        joined.only_second
    );
    for (c, numbers) in against {
        let numbers: Vec<_> = numbers.iter().map(ToString::to_string).collect();
        put!("  CONTRADICTION: {} of {}, entries {}", c.kind, c.about, numbers.join(" and "));
    }
    if !joined.contradictions.is_empty() {
        put!("  say again which holds; a later entry settles it");
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
    put!(
        "{}: {} whole entries up to {last}, {} attachments",
        to.display(),
        saved.entries.len(),
        saved.attachments.len()
    );
    for (from, to) in &saved.missing {
        put!("  MISSING: entries {from} to {to}");
    }
    if !broken.is_empty() {
        let broken: Vec<_> = broken.iter().take(MOST_ROWS).map(ToString::to_string).collect();
        put!("  the entry before is missing or another at: {}", broken.join(", "));
    }
    put!(
        "  what may have stood after entry {last} cannot be told from the file; compare with a backup or a printed head"
    );
    Ok(())
}
