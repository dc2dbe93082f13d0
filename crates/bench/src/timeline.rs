//! The entries as pages list them.

use book::{Book, Error, Said};
use std::collections::BTreeSet;
use std::sync::Arc;

/// An entry.
#[derive(Debug)]
pub(crate) struct Told {
    pub(crate) sequence: u64,
    pub(crate) hash: String,
    pub(crate) time: String,
    pub(crate) author: String,
    pub(crate) device: String,
    pub(crate) said: Said,
    /// What it is about.
    pub(crate) subjects: BTreeSet<String>,
}

/// Takes the entries that are not in the list yet.
pub(crate) fn read_on(book: &mut Book, timeline: &mut Vec<Arc<Told>>) -> Result<(), Error> {
    let have = timeline.last().map_or(0, |t| t.sequence);
    let head = book.head().sequence;
    let mut take = |entry: &book::Entry, hash: book::Hash| {
        timeline.push(Arc::new(Told {
            sequence: entry.sequence,
            hash: hash.to_string(),
            time: entry.time.clone(),
            author: entry.author.clone(),
            device: entry.device.clone(),
            said: entry.said.clone(),
            subjects: entry.said.subjects(),
        }));
    };
    // A few are asked for one by one; many are read through.
    if have + 64 < head {
        book.each(&mut |entry, hash, _| {
            if have < entry.sequence && entry.sequence <= head {
                take(entry, hash);
            }
            Ok(())
        })
    } else {
        for sequence in have + 1..=head {
            let (entry, hash) = book.entry(sequence)?;
            take(&entry, hash);
        }
        Ok(())
    }
}
