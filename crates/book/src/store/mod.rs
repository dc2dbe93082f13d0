//! Where entries are kept. One small trait, two databases, one set of tests.

#[cfg(feature = "postgres")]
pub(crate) mod postgres;
pub(crate) mod sqlite;

use crate::{Error, Hash, Stretch};
use std::time::Duration;

/// A stored entry.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    /// Number, from 1.
    pub sequence: u64,
    /// The line, byte for byte.
    pub line: String,
    /// SHA-256 as stored beside it.
    pub hash: Hash,
}

/// A photograph or drawing on its way into the store.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Attached {
    /// SHA-256 of the bytes.
    pub hash: Hash,
    /// The bytes.
    pub bytes: Vec<u8>,
}

/// What is written in one go, whole or not at all.
#[derive(Clone, Debug, Default)]
pub struct Batch {
    /// Entries, in order.
    pub rows: Vec<Row>,
    /// Attachments they speak of.
    pub attachments: Vec<Attached>,
}

/// What a look into the surroundings of the entries found wrong.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Looked {
    /// Faults of the file or database itself.
    pub faults: Vec<String>,
    /// What could not be looked at, and why.
    pub not_looked_at: Vec<String>,
}

/// Makes a batch, inside the lock, from the entries that came since the caller last looked.
pub type Make<'a> = &'a mut dyn FnMut(&[Row]) -> Result<Batch, Error>;

/// Takes a stretch of the checkpoint: its bytes, its last entry, and the hash that stands beside
/// that entry.
pub type TakeStretch<'a> = &'a mut dyn FnMut(&[u8], u64, Option<Hash>) -> Result<(), Error>;

/// A place where one book is kept.
pub trait Store: Send {
    /// Calls `take` with every entry after number `after`, in order.
    ///
    /// # Errors
    /// The store cannot be read, or whatever `take` says.
    fn read(
        &mut self,
        after: u64,
        take: &mut dyn FnMut(u64, &str, Hash) -> Result<(), Error>,
    ) -> Result<(), Error>;

    /// Takes the book's lock, hands the entries after `seen` to `make`, and writes what it
    /// returns. When this returns `Ok`, the batch survives the power going off; when it returns
    /// `Err`, nothing of it was kept, except that after [`Error::Unavailable`] the caller must
    /// look whether the commit had come through before the line went dead.
    ///
    /// # Errors
    /// Whatever `make` says, or the store cannot be written.
    fn append(&mut self, seen: u64, make: Make<'_>) -> Result<(), Error>;

    /// An attachment's bytes.
    ///
    /// # Errors
    /// The store cannot be read.
    fn attachment(&mut self, hash: &Hash) -> Result<Option<Vec<u8>>, Error>;

    /// The hashes of all attachments.
    ///
    /// # Errors
    /// The store cannot be read.
    fn attachments(&mut self) -> Result<Vec<Hash>, Error>;

    /// Numbers of the entries that have all these words, newest first.
    ///
    /// # Errors
    /// The store cannot be read.
    fn find(&mut self, words: &[String], most: usize) -> Result<Vec<u64>, Error>;

    /// Looks for damage outside the entries: pages, schema, index.
    ///
    /// # Errors
    /// The store cannot be read at all.
    fn look(&mut self) -> Result<Looked, Error>;

    /// Waits until an entry after `seen` is there, or the time is over.
    ///
    /// # Errors
    /// The store cannot be read.
    fn wait(&mut self, seen: u64, most: Duration) -> Result<bool, Error>;

    /// Calls `take` with every stretch of the checkpoint, in order; with none when there is none.
    ///
    /// # Errors
    /// The store cannot be read, or whatever `take` says.
    fn checkpoint(&mut self, take: TakeStretch<'_>) -> Result<(), Error>;

    /// Puts stretches into the checkpoint in the place of all after entry `after`; whether it was
    /// done. Nobody waits for it: when others write, when the checkpoint does not end at entry
    /// `there` any more, or when the store can be read only, it is left as it is.
    ///
    /// # Errors
    /// The store cannot be written; the checkpoint is then as it was.
    fn keep_checkpoint(
        &mut self,
        after: u64,
        there: u64,
        stretches: &[Stretch],
    ) -> Result<bool, Error>;

    /// Opens the connection anew, after the other side went away.
    ///
    /// # Errors
    /// It is still away.
    fn again(&mut self) -> Result<(), Error>;
}
