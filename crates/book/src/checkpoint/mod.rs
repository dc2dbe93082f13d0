//! The checkpoint: the entries in a short form that is quick to read, kept beside them.
//!
//! It is derived, never the source of truth: an opening that finds none, or one that does not fit
//! the entries, reads these instead, and what the book says is the same. It is made of stretches,
//! each of so many entries one after another, and each follows from those entries alone, to the
//! byte; `verify` makes every stretch anew and compares. A stretch holds what entries say and not
//! what follows from it, so a program that folds differently reads the old stretches and is right.
//!
//! A stretch counts at an opening when its own SHA-256 is right, it is of the present form, it
//! begins where the one before ended (number and hash), and the store has the hash of its last
//! entry beside that entry. The first that does not, and all after it, are left aside.

mod bytes;
mod stretch;

use stretch::{FORM, StretchWriter, form_of, is_whole, read_stretch};

use crate::chain::Walk;
use crate::store::Store;
use crate::{Error, Fold, Hash};

/// Entries of one stretch; at the end of a checkpoint it may be shorter.
const LONGEST: u64 = 8_192;
/// A stretch of more bytes than this takes no further entry.
const HEAVIEST: usize = 2 << 20;

/// A stretch of a checkpoint, as it is stored.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stretch {
    /// Number of its last entry.
    pub last: u64,
    /// Its bytes.
    pub bytes: Vec<u8>,
}

/// What a store has of a checkpoint.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Taken {
    /// Last entry taken from it.
    pub(crate) last: u64,
    /// Last entry it speaks of, fitting or not.
    pub(crate) there: u64,
}

/// Folds the entries of the checkpoint, as far as it fits the book. Whatever is wrong with it, the
/// fold and the walk are then those of the entries up to [`Taken::last`].
pub(crate) fn take(store: &mut dyn Store, fold: &mut Fold, walk: &mut Walk) -> Taken {
    let mut taken = Taken::default();
    let mut fits = true;
    let read = store.checkpoint(&mut |stretch, last, hash| {
        taken.there = last;
        if !fits {
            return Ok(());
        }
        fits = hash.is_some_and(|hash| is_whole(stretch, last, hash, walk));
        if fits {
            read_stretch(stretch, fold, walk)?;
            taken.last = last;
        }
        Ok(())
    });
    if read.is_err() {
        // Half of a stretch may have been folded.
        *fold = Fold::default();
        *walk = Walk::default();
        taken.last = 0;
    }
    taken
}

/// Puts entries into stretches as they are folded.
pub(crate) struct Keeping {
    before: Hash,
    open: Option<StretchWriter>,
    done: Vec<Stretch>,
}

impl Keeping {
    /// After the entry with this hash.
    pub(crate) fn after(before: Hash) -> Self {
        Keeping { before, open: None, done: Vec::new() }
    }

    pub(crate) fn push(&mut self, entry: &crate::Entry, hash: Hash) -> Result<(), Error> {
        let open = self
            .open
            .get_or_insert_with(|| StretchWriter::begin(&entry.book, entry.sequence, self.before));
        open.push(entry, hash)?;
        self.before = hash;
        if LONGEST <= open.entries() || HEAVIEST < open.len() {
            self.done.extend(self.open.take().map(StretchWriter::finish));
        }
        Ok(())
    }

    pub(crate) fn finish(mut self) -> Vec<Stretch> {
        self.done.extend(self.open.take().map(StretchWriter::finish));
        self.done
    }
}

/// Compares the stretches a store has with those that its entries give.
pub(crate) struct Comparing {
    /// Last entry and SHA-256 of each stretch of the present form, in order.
    wanted: std::vec::IntoIter<(u64, Hash)>,
    next: Option<(u64, Hash)>,
    before: Hash,
    /// Of the stretch that is being made anew; none when an entry of it is at fault.
    open: Option<StretchWriter>,
    begun: bool,
    pub(crate) faults: Vec<String>,
    pub(crate) not_looked_at: Vec<String>,
}

impl Comparing {
    pub(crate) fn with(store: &mut dyn Store) -> Self {
        let (mut wanted, mut faults, mut not_looked_at) = (Vec::new(), Vec::new(), Vec::new());
        let read = store.checkpoint(&mut |stretch, last, _| {
            match form_of(stretch) {
                Some(FORM) => wanted.push((last, Hash::of(stretch))),
                Some(form) => not_looked_at.push(format!(
                    "the checkpoint up to entry {last}: it is of form {form}, which this program neither reads nor needs"
                )),
                None => faults.push(damaged(last)),
            }
            Ok(())
        });
        if let Err(e) = read {
            faults.push(format!("the checkpoint cannot be read: {e}"));
        }
        let mut wanted = wanted.into_iter();
        let next = wanted.next();
        let (before, open, begun) = (Hash::NONE, None, false);
        Comparing { wanted, next, before, open, begun, faults, not_looked_at }
    }

    /// The next entry of the chain, or `None` for one that is at fault itself.
    pub(crate) fn push(&mut self, sequence: u64, entry: Option<&crate::Entry>, hash: Hash) {
        let Some((last, wanted)) = self.next else { return };
        if let Some(entry) = entry {
            if !self.begun {
                self.open = Some(StretchWriter::begin(&entry.book, sequence, self.before));
            }
            self.open = self.open.take().and_then(|mut o| o.push(entry, hash).is_ok().then_some(o));
        } else {
            self.open = None;
        }
        (self.begun, self.before) = (true, hash);
        if sequence < last {
            return;
        }
        // An entry at fault is told as such; what its stretch should be cannot be said then.
        if let Some(made) = self.open.take().map(StretchWriter::finish)
            && (made.last, Hash::of(&made.bytes)) != (last, wanted)
        {
            self.faults.push(damaged(last));
        }
        (self.next, self.begun) = (self.wanted.next(), false);
    }

    /// At the end of the chain: stretches beyond it belong to entries that are not there.
    pub(crate) fn finish(&mut self) {
        let left: Vec<_> = self.next.take().into_iter().chain(self.wanted.by_ref()).collect();
        self.faults.extend(left.into_iter().map(|(last, _)| damaged(last)));
    }
}

fn damaged(last: u64) -> String {
    format!("the checkpoint up to entry {last} is not what the entries say")
}
