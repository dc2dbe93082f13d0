//! Joining two copies of one book that each gained entries.
//!
//! Both chains share a beginning. After it, the entries of both are laid one after another by
//! time, then device, the order within each copy kept whatever its clock said; each is chained
//! anew and keeps the number, the predecessor and the hash it first had, so the chain of either
//! copy can still be followed. An entry that both have, from an earlier join perhaps, stands once.
//! No entry is lost, and joining the other way round gives the same order.

use crate::chain::Walk;
use crate::said::Contradiction;
use crate::store::{Attached, Batch, Row, Store};
use crate::{Book, Entry, Error, Hash, Origin, Pen, Said};
use std::collections::{BTreeMap, HashMap, HashSet};

/// What came of a join.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Joined {
    /// Last entry of the shared beginning.
    pub fork: u64,
    /// Entries that only the first copy had.
    pub only_first: u64,
    /// Entries that only the second copy had.
    pub only_second: u64,
    /// What the two say that cannot both be.
    pub contradictions: Vec<Contradiction>,
}

/// An entry after the shared beginning.
struct Later {
    entry: Entry,
    hash: Hash,
    /// When, in nanoseconds, for the order; a time that cannot be read comes first.
    instant: i128,
}

/// Joins two copies into an empty store. The pen signs the join itself, the last entry.
///
/// # Errors
/// The copies are of different books or damaged, have nothing to join, or the store cannot be
/// written.
pub fn join(
    first: &mut Book,
    second: &mut Book,
    into: Box<dyn Store>,
    pen: &Pen,
) -> Result<(Book, Joined), Error> {
    first.read_on()?;
    second.read_on()?;
    if first.id() != second.id() {
        return Err(Error::wrong(
            format!(
                "these are two books: \"{}\" and \"{}\"",
                first.fold().name(),
                second.fold().name()
            ),
            "only copies of one book can be joined",
        ));
    }
    let hashes_first = hashes(first)?;
    let hashes_second = hashes(second)?;
    let fork = hashes_first.iter().zip(&hashes_second).take_while(|(a, b)| a == b).count();
    let (mut rows, mut walk) = shared(first, fork as u64)?;
    let names_first = later_names(first, fork as u64)?;
    let names_second = later_names(second, fork as u64)?;
    let only_first = names_first.difference(&names_second).count() as u64;
    let only_second = names_second.difference(&names_first).count() as u64;
    for (only, which) in [(only_first, "first"), (only_second, "second")] {
        if only == 0 {
            return Err(Error::wrong(
                format!("the {which} copy has nothing that the other lacks"),
                "keep the other",
            ));
        }
    }
    let later_first = later(first, fork as u64, &HashSet::new())?;
    let later_second = later(second, fork as u64, &names_first)?;
    let contradictions = contradictions(&later_first, &later_second);
    let mut renamed: HashMap<Hash, Hash> = HashMap::new();
    for later in merged(later_first, later_second) {
        let row = chained_anew(&later, &mut walk)?;
        renamed.insert(later.hash, row.hash);
        rows.push(row);
    }
    let now = |hash: &Hash| renamed.get(hash).unwrap_or(hash).to_string();
    let contradictions: Vec<Contradiction> = contradictions
        .into_iter()
        .map(|(kind, about, pair)| Contradiction {
            kind: kind.to_owned(),
            about,
            entries: pair.iter().map(now).collect(),
        })
        .collect();
    let mut heads = vec![first.head().hash.to_string(), second.head().hash.to_string()];
    heads.sort();
    let said = Said::Joined { fork: fork as u64, heads, contradictions: contradictions.clone() };
    let last = Entry {
        book: first.id().to_owned(),
        sequence: walk.last + 1,
        previous: walk.head,
        time: pen.time().to_owned(),
        author: pen.author().to_owned(),
        device: pen.device().to_owned(),
        origin: None,
        said,
    };
    let line = last.line()?;
    rows.push(Row { sequence: walk.last + 1, hash: Hash::of(line.as_bytes()), line });
    let attachments = all_attachments(first, second)?;
    let book = Book::from_rows(into, Batch { rows, attachments })?;
    Ok((book, Joined { fork: fork as u64, only_first, only_second, contradictions }))
}

fn hashes(book: &mut Book) -> Result<Vec<Hash>, Error> {
    let mut hashes = Vec::new();
    book.store().read(0, &mut |_, _, hash| {
        hashes.push(hash);
        Ok(())
    })?;
    Ok(hashes)
}

fn shared(book: &mut Book, fork: u64) -> Result<(Vec<Row>, Walk), Error> {
    let (mut rows, mut walk) = (Vec::new(), Walk::default());
    let stop = Error::Missing(String::new());
    let read = book.store().read(0, &mut |sequence, line, hash| {
        if fork < sequence {
            return Err(stop.clone());
        }
        walk.step(sequence, line, hash)?;
        rows.push(Row { sequence, line: line.to_owned(), hash });
        Ok(())
    });
    match read {
        Err(e) if e != stop => Err(e),
        _ => Ok((rows, walk)),
    }
}

/// Under which hash each entry after the fork was first written.
fn later_names(book: &mut Book, fork: u64) -> Result<HashSet<Hash>, Error> {
    let mut names = HashSet::new();
    book.store().read(fork, &mut |_, line, hash| {
        let entry = Entry::parse(line)?;
        names.insert(entry.first_hash(hash));
        Ok(())
    })?;
    Ok(names)
}

/// Entries after the fork but those already known.
fn later(book: &mut Book, fork: u64, known: &HashSet<Hash>) -> Result<Vec<Later>, Error> {
    let mut all = Vec::new();
    book.store().read(fork, &mut |_, line, hash| {
        let entry = Entry::parse(line)?;
        if !known.contains(&entry.first_hash(hash)) {
            let instant = entry
                .time
                .parse::<jiff::Timestamp>()
                .map_or(i128::MIN, jiff::Timestamp::as_nanosecond);
            all.push(Later { entry, hash, instant });
        }
        Ok(())
    })?;
    Ok(all)
}

/// The earlier of the two next entries, again and again; each copy keeps its own order.
fn merged(first: Vec<Later>, second: Vec<Later>) -> Vec<Later> {
    let mut all = Vec::with_capacity(first.len() + second.len());
    let (mut first, mut second) = (first.into_iter().peekable(), second.into_iter().peekable());
    let key = |l: &Later| (l.instant, l.entry.device.clone(), l.entry.first_hash(l.hash));
    loop {
        let from_first = match (first.peek(), second.peek()) {
            (Some(a), Some(b)) => key(a) <= key(b),
            (Some(_), None) => true,
            (None, Some(_)) => false,
            (None, None) => return all,
        };
        all.extend(if from_first { first.next() } else { second.next() });
    }
}

fn chained_anew(later: &Later, walk: &mut Walk) -> Result<Row, Error> {
    let mut entry = later.entry.clone();
    let sequence = walk.last + 1;
    if entry.sequence != sequence || entry.previous != walk.head {
        // An entry that was joined before keeps the hash it had at first.
        entry.origin.get_or_insert(Origin {
            sequence: later.entry.sequence,
            previous: later.entry.previous,
            hash: later.hash,
        });
        entry.sequence = sequence;
        entry.previous = walk.head;
    }
    let line = entry.line()?;
    let hash = Hash::of(line.as_bytes());
    walk.last = sequence;
    walk.head = hash;
    Ok(Row { sequence, line, hash })
}

/// What an entry settles: two entries that settle the same thing differently contradict.
fn settles(said: &Said) -> Vec<(&'static str, String, String)> {
    match said {
        Said::Decided { joint, repair, make, .. } => {
            vec![("decision", joint.clone(), format!("{repair} {make:?}"))]
        }
        Said::Moved { thing, to } => vec![("place", thing.clone(), to.clone())],
        Said::Tagged { part, tag } => {
            vec![("tag", part.clone(), tag.clone()), ("tag", tag.clone(), part.clone())]
        }
        Said::Described { file, text } => vec![("description", file.clone(), text.clone())],
        Said::Calibrated { gauge, on, due, correction, .. } => {
            vec![("calibration", gauge.clone(), format!("{on} {due} {correction}"))]
        }
        Said::Person { name, roles, .. } => vec![("person", name.clone(), format!("{roles:?}"))],
        _ => Vec::new(),
    }
}

/// Only the last word of each copy on a thing can contradict the other's.
fn last_words(later: &[Later]) -> BTreeMap<(&'static str, String), (String, Hash)> {
    let mut last = BTreeMap::new();
    for l in later {
        for (kind, about, what) in settles(&l.entry.said) {
            last.insert((kind, about), (what, l.hash));
        }
    }
    last
}

fn contradictions(first: &[Later], second: &[Later]) -> Vec<(&'static str, String, [Hash; 2])> {
    let second = last_words(second);
    last_words(first)
        .into_iter()
        .filter_map(|((kind, about), (what, hash))| {
            let (other, other_hash) = second.get(&(kind, about.clone()))?;
            (*other != what).then_some((kind, about, [hash, *other_hash]))
        })
        .collect()
}

fn all_attachments(first: &mut Book, second: &mut Book) -> Result<Vec<Attached>, Error> {
    let mut all = BTreeMap::new();
    for book in [first, second] {
        for hash in book.store().attachments()? {
            if let std::collections::btree_map::Entry::Vacant(place) = all.entry(hash) {
                place.insert(book.attachment(&hash)?);
            }
        }
    }
    Ok(all.into_iter().map(|(hash, bytes)| Attached { hash, bytes }).collect())
}
