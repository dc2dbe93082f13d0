//! Joining two copies of one book that each gained entries.
//!
//! Both chains share a beginning. After it, the entries of both are laid one after another by
//! time, then device, the order within each copy kept whatever its clock said; each is chained
//! anew and keeps the number, the predecessor and the hash it first had, so the chain of either
//! copy can still be followed. An entry that both have, from an earlier join perhaps, stands once.
//! No entry is lost, and joining the other way round gives the same order.

use crate::archive::put_attachments;
use crate::chain::Walk;
use crate::fold::on_limit;
use crate::said::Contradiction;
use crate::store::{Attached, Batch, Row, Store};
use crate::{Book, Entry, Error, FORMAT, Hash, Origin, Pen, Said};
use std::collections::{BTreeMap, HashSet};

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
    /// The hash it was first written with: the same in every copy.
    first: Hash,
    /// When, in nanoseconds, for the order; a time that cannot be read comes first.
    instant: i128,
}

impl Later {
    fn key(&self) -> (i128, &str, Hash) {
        (self.instant, &self.entry.device, self.first)
    }
}

/// Joins two copies into an empty store. The pen signs the join itself, the last entry.
///
/// # Errors
/// The copies are of different books or damaged, have nothing to join, or the store cannot be
/// written.
pub fn join(
    first: &mut Book,
    second: &mut Book,
    mut into: Box<dyn Store>,
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
    let fork = hashes_first.iter().zip(&hashes_second).take_while(|(a, b)| a == b).count() as u64;
    drop((hashes_first, hashes_second));
    let (mut rows, mut walk) = shared(first, fork)?;
    let (later_first, later_second) = (later(first, fork)?, later(second, fork)?);
    let names = |later: &[Later]| later.iter().map(|l| l.first).collect::<HashSet<Hash>>();
    let (names_first, names_second) = (names(&later_first), names(&later_second));
    let only_first: Vec<&Later> =
        later_first.iter().filter(|l| !names_second.contains(&l.first)).collect();
    let only_second: Vec<&Later> =
        later_second.iter().filter(|l| !names_first.contains(&l.first)).collect();
    for (only, which) in [(&only_first, "first"), (&only_second, "second")] {
        if only.is_empty() {
            return Err(Error::wrong(
                format!("the {which} copy has nothing that the other lacks"),
                "keep the other",
            ));
        }
    }
    let (count_first, count_second) = (only_first.len() as u64, only_second.len() as u64);
    let contradictions: Vec<Contradiction> = contradictions(&only_first, &only_second)
        .into_iter()
        .map(|(kind, about, mut pair)| {
            pair.sort();
            Contradiction {
                kind: kind.to_owned(),
                about,
                entries: pair.iter().map(ToString::to_string).collect(),
            }
        })
        .collect();
    for later in merged(later_first, later_second, names_first, names_second) {
        rows.push(chained_anew(later, &mut walk)?);
    }
    let mut heads = vec![first.head().hash.to_string(), second.head().hash.to_string()];
    heads.sort();
    let said = Said::Joined { fork, heads, contradictions: contradictions.clone() };
    let last = Entry {
        format: FORMAT,
        book: first.id().to_owned(),
        sequence: walk.last + 1,
        previous: walk.head,
        time: pen.time().to_owned(),
        author: pen.author().to_owned(),
        device: pen.device().to_owned(),
        key: None,
        origin: None,
        said,
    };
    let line = last.line()?;
    rows.push(Row { sequence: walk.last + 1, hash: Hash::of(line.as_bytes()), line });
    carry_attachments(first, second, into.as_mut())?;
    let book = Book::from_rows(into, Batch { rows, attachments: Vec::new() })?;
    let joined =
        Joined { fork, only_first: count_first, only_second: count_second, contradictions };
    Ok((book, joined))
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

fn later(book: &mut Book, fork: u64) -> Result<Vec<Later>, Error> {
    let mut all = Vec::new();
    book.store().read(fork, &mut |_, line, hash| {
        let entry = Entry::parse(line)?;
        let instant =
            entry.time.parse::<jiff::Timestamp>().map_or(i128::MIN, jiff::Timestamp::as_nanosecond);
        let first = entry.first_hash(hash);
        all.push(Later { entry, hash, first, instant });
        Ok(())
    })?;
    Ok(all)
}

/// The earlier of the two next entries, again and again; each copy keeps its own order. An entry
/// that both have waits until it is the next in both. Where the two copies have such entries the
/// other way round from each other, which takes clocks that went back and three copies, the
/// earlier goes first.
fn merged(
    first: Vec<Later>,
    second: Vec<Later>,
    mut left_first: HashSet<Hash>,
    mut left_second: HashSet<Hash>,
) -> Vec<Later> {
    let mut all = Vec::with_capacity(first.len() + second.len());
    let (mut first, mut second) = (first.into_iter().peekable(), second.into_iter().peekable());
    loop {
        // What was taken from the other copy already is passed over.
        while first.next_if(|l| !left_first.contains(&l.first)).is_some() {}
        while second.next_if(|l| !left_second.contains(&l.first)).is_some() {}
        let from_first = match (first.peek(), second.peek()) {
            (Some(a), Some(b)) => {
                let waits = (left_second.contains(&a.first), left_first.contains(&b.first));
                match waits {
                    (true, false) => false,
                    (false, true) => true,
                    _ => a.key() <= b.key(),
                }
            }
            (Some(_), None) => true,
            (None, Some(_)) => false,
            (None, None) => return all,
        };
        let Some(next) = (if from_first { first.next() } else { second.next() }) else {
            return all;
        };
        left_first.remove(&next.first);
        left_second.remove(&next.first);
        all.push(next);
    }
}

fn chained_anew(later: Later, walk: &mut Walk) -> Result<Row, Error> {
    let Later { mut entry, hash, .. } = later;
    // An entry that was joined before keeps the hash it had at first.
    let origin = entry.origin.take().unwrap_or(Origin {
        sequence: entry.sequence,
        previous: entry.previous,
        hash,
    });
    entry.sequence = walk.last + 1;
    entry.previous = walk.head;
    if origin.sequence != entry.sequence || origin.previous != entry.previous {
        entry.origin = Some(origin);
    }
    let line = entry.line()?;
    let hash = Hash::of(line.as_bytes());
    walk.last = entry.sequence;
    walk.head = hash;
    Ok(Row { sequence: entry.sequence, line, hash })
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
        Said::WorkDone { work, way, .. } => vec![("work", work.clone(), format!("done {way}"))],
        Said::WorkStuck { work, way, .. } => vec![("work", work.clone(), format!("stuck {way}"))],
        Said::WorkUndone { work, .. } => vec![("work", work.clone(), "undone".to_owned())],
        Said::DayPlanned { day, crew, text } => {
            vec![("day", day.clone(), format!("{crew:?} {text}"))]
        }
        Said::Concession { about, limit, what, until, .. } => {
            vec![("concession", on_limit(about, limit), format!("{until} {what}"))]
        }
        Said::ConcessionClosed { about, limit, .. } => {
            vec![("concession", on_limit(about, limit), "closed".to_owned())]
        }
        Said::DeviceToken { device, hash, .. } => vec![("device", device.clone(), hash.clone())],
        Said::DeviceTokenWithdrawn { device, .. } => {
            vec![("device", device.clone(), "withdrawn".to_owned())]
        }
        _ => Vec::new(),
    }
}

/// Only the last word of each copy on a thing can contradict the other's, and only one that the
/// other copy did not know. Entries are named by the
/// hash they were first written with, which every later join keeps.
fn last_words(later: &[&Later]) -> BTreeMap<(&'static str, String), (String, Hash)> {
    let mut last = BTreeMap::new();
    for l in later {
        for (kind, about, what) in settles(&l.entry.said) {
            last.insert((kind, about), (what, l.first));
        }
    }
    last
}

/// Each side's entries that carry a key.
fn keyed<'a>(later: &[&'a Later]) -> BTreeMap<&'a str, &'a Later> {
    later.iter().filter_map(|l| Some((l.entry.key.as_deref()?, *l))).collect()
}

fn contradictions(first: &[&Later], second: &[&Later]) -> Vec<(&'static str, String, [Hash; 2])> {
    let keyed_second = keyed(second);
    let keys = keyed(first).into_iter().filter_map(|(key, a)| {
        let b = keyed_second.get(key)?;
        let differ = a.entry.said != b.entry.said || a.entry.author != b.entry.author;
        differ.then(|| ("key", key.to_owned(), [a.first, b.first]))
    });
    let second = last_words(second);
    last_words(first)
        .into_iter()
        .filter_map(|((kind, about), (what, hash))| {
            let (other, other_hash) = second.get(&(kind, about.clone()))?;
            (*other != what).then_some((kind, about, [hash, *other_hash]))
        })
        .chain(keys)
        .collect()
}

/// Carries the attachments of both over, some megabytes at a time.
fn carry_attachments(
    first: &mut Book,
    second: &mut Book,
    into: &mut dyn Store,
) -> Result<(), Error> {
    const AT_ONCE: usize = 32 << 20;
    let mut carried = HashSet::new();
    let (mut waiting, mut size) = (Vec::new(), 0);
    for book in [first, second] {
        for hash in book.store().attachments()? {
            if carried.insert(hash) {
                let bytes = book.attachment(&hash)?;
                size += bytes.len();
                waiting.push(Attached { hash, bytes });
            }
            if AT_ONCE < size {
                put_attachments(into, std::mem::take(&mut waiting))?;
                size = 0;
            }
        }
    }
    put_attachments(into, waiting)
}
