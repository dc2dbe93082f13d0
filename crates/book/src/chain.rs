//! Walking the chain: does every entry stand where and as it was written.

use crate::{Entry, Error, Hash};

/// What is wrong with one entry.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// Number of the entry; 0 when the fault is not in one.
    pub sequence: u64,
    /// What is wrong.
    pub what: String,
}

/// What came of looking through a whole book.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Verified {
    /// Entries read.
    pub entries: u64,
    /// Attachments read.
    pub attachments: u64,
    /// Hash of the last entry, as hexadecimal digits; empty when there is none.
    pub head: String,
    /// Everything found wrong, the first bad entry first.
    pub faults: Vec<Fault>,
    /// What could not be looked at.
    pub not_looked_at: Vec<String>,
}

impl Verified {
    /// Nothing is wrong.
    pub fn whole(&self) -> bool {
        self.faults.is_empty()
    }

    /// The first entry that is not as it was written.
    pub fn first_bad(&self) -> Option<&Fault> {
        self.faults.iter().filter(|f| f.sequence > 0).min_by_key(|f| f.sequence)
    }
}

/// Follows a chain entry by entry.
#[derive(Clone, Debug)]
pub(crate) struct Walk {
    pub(crate) book: Option<String>,
    pub(crate) last: u64,
    pub(crate) head: Hash,
}

impl Default for Walk {
    fn default() -> Self {
        Walk { book: None, last: 0, head: Hash::NONE }
    }
}

impl Walk {
    /// Takes the next stored entry.
    ///
    /// # Errors
    /// It is not the next, not what was written, or of a newer form. The walk has then gone on
    /// past it all the same, so that what follows can be looked at.
    pub(crate) fn step(&mut self, sequence: u64, line: &str, stored: Hash) -> Result<Entry, Error> {
        let hash = Hash::of(line.as_bytes());
        let (wanted, before) = (self.last + 1, self.head);
        self.last = sequence;
        self.head = hash;
        let at = |what: String| Err(Error::Damaged(format!("entry {sequence}: {what}")));
        if hash != stored {
            return at(format!("its SHA-256 is {hash}, and {stored} was written beside it"));
        }
        let entry = match Entry::parse(line) {
            Ok(entry) => entry,
            Err(Error::Damaged(what)) => return at(what),
            Err(other) => return Err(other),
        };
        if sequence != wanted {
            return at(format!("entry {wanted} is missing before it"));
        }
        if entry.sequence != sequence {
            return at(format!("it says it is entry {}", entry.sequence));
        }
        if entry.previous != before {
            return at(format!(
                "it follows {}, and the entry before it is {before}",
                entry.previous
            ));
        }
        match &self.book {
            None => self.book = Some(entry.book.clone()),
            Some(book) if *book != entry.book => {
                return at(format!("it belongs to the book {}", entry.book));
            }
            Some(_) => {}
        }
        Ok(entry)
    }
}

/// Whether the line is in the one form in which entries are written, and whether the entry it was
/// before a join still has the hash that is quoted.
pub(crate) fn look_closely(entry: &Entry, line: &str) -> Result<(), Error> {
    if entry.line()? != line {
        return Err(Error::Damaged(format!(
            "entry {}: its line is not in the form entries are written in",
            entry.sequence
        )));
    }
    if let (Some(origin), Some(before)) = (&entry.origin, entry.before_join()) {
        let hash = Hash::of(before.line()?.as_bytes());
        if hash != origin.hash {
            return Err(Error::Damaged(format!(
                "entry {}: before the join it had the hash {}, but what it says gives {hash}",
                entry.sequence, origin.hash
            )));
        }
    }
    Ok(())
}
