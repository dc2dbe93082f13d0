//! A book: a store, and what its entries say so far.

use crate::chain::{Verified, Walk};
use crate::checkpoint::{self, Keeping, Taken};
use crate::entry::LONGEST_KEY;
use crate::store::sqlite::SqliteStore;
use crate::store::{Attached, Batch, Row, Store};
use crate::verify::verify;
use crate::{Entry, Error, FORMAT, Fold, Hash, Password, Pen, Role, Said};
use std::path::Path;
use std::time::Duration;

/// Entries folded anew at an opening before they are put into the checkpoint: fewer are read nearly
/// as quickly as they could be written.
const WORTH_KEEPING: u64 = 2_000;
/// Times a write is tried again when the database went away in the middle of it.
const TRIES: u32 = 6;

/// How a book begins.
#[derive(Clone, Debug)]
pub struct Start {
    /// Name or number of the engine.
    pub name: String,
    /// Password of the one who begins it, who becomes its responsible engineer.
    pub password: Option<Password>,
}

/// An entry that is on the disk.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Written {
    /// Its number.
    pub sequence: u64,
    /// Its hash.
    pub hash: Hash,
}

/// What came of writing.
enum Outcome {
    /// All of it stands, newly.
    Written(Vec<Written>),
    /// Entries with the key stand already: their numbers.
    Known(Vec<u64>),
}

fn one(outcome: Outcome) -> Result<Written, Error> {
    let written = match outcome {
        Outcome::Written(all) => all.last().copied(),
        Outcome::Known(_) => None,
    };
    written.ok_or_else(|| Error::Unavailable("nothing was written".to_owned()))
}

/// A book.
pub struct Book {
    store: Box<dyn Store>,
    fold: Fold,
    walk: Walk,
    taken: Taken,
}

impl std::fmt::Debug for Book {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "Book at entry {}", self.walk.last)
    }
}

impl Book {
    /// Begins a book in an empty store: the first entry names the engine, the second the
    /// responsible engineer, who is the one that writes.
    ///
    /// # Errors
    /// The store has entries, or cannot be written.
    pub fn create(store: Box<dyn Store>, pen: &Pen, start: &Start) -> Result<Book, Error> {
        let mut book = Book::open(store)?;
        if 0 < book.walk.last {
            return Err(Error::wrong("the book has been begun already", ""));
        }
        let password = match &start.password {
            Some(password) => password.hashed()?,
            None => String::new(),
        };
        let roles = vec![Role::Responsible];
        let founder = Said::Person { name: pen.author().to_owned(), roles, password };
        book.append_all(pen, vec![Said::Started { name: start.name.clone() }, founder])?;
        Ok(book)
    }

    /// Begins a book in a new file.
    ///
    /// # Errors
    /// There is something at `path`, or it cannot be written.
    pub fn create_file(path: &Path, pen: &Pen, start: &Start) -> Result<Book, Error> {
        Book::create(Box::new(SqliteStore::create(path)?), pen, start)
    }

    /// Opens a book: takes what its checkpoint holds and reads every entry after that, following
    /// the chain. What it says is the same with a checkpoint and without; [`Book::verify`] looks at
    /// every entry in either case. Where many entries were read, they go into the checkpoint, if
    /// that can be done without waiting.
    ///
    /// # Errors
    /// An entry that was read is not as it was written (the text names it), or of a newer form.
    pub fn open(store: Box<dyn Store>) -> Result<Book, Error> {
        let mut book =
            Book { store, fold: Fold::default(), walk: Walk::default(), taken: Taken::default() };
        book.begin_again(Some(WORTH_KEEPING))?;
        Ok(book)
    }

    /// Folds everything: the checkpoint, then the entries. If these are at least `worth_keeping`,
    /// they are put into the checkpoint; gives whether that was done.
    fn begin_again(&mut self, worth_keeping: Option<u64>) -> Result<bool, Error> {
        let Book { store, fold, walk, taken } = self;
        (*fold, *walk) = (Fold::default(), Walk::default());
        *taken = checkpoint::take(store.as_mut(), fold, walk);
        let mut keeping = worth_keeping.map(|_| Keeping::after(walk.head));
        store.read(taken.last, &mut |sequence, line, hash| {
            let entry = walk.step(sequence, line, hash)?;
            if let Some(keeping) = &mut keeping {
                keeping.push(&entry, hash)?;
            }
            fold.take(entry, hash);
            Ok(())
        })?;
        fold.settle();
        let (Some(keeping), Some(worth_keeping)) = (keeping, worth_keeping) else {
            return Ok(false);
        };
        let outdated = taken.last != taken.there;
        if walk.last - taken.last < worth_keeping.max(1) && !outdated {
            return Ok(false);
        }
        // Only the next opening is slower for it if it cannot be kept.
        Ok(store.keep_checkpoint(taken.last, taken.there, &keeping.finish()).unwrap_or(false))
    }

    /// Puts every entry into the checkpoint that is not in it yet, however few; whether there were
    /// any and it could be done.
    ///
    /// # Errors
    /// As [`Book::open`].
    pub fn keep_checkpoint(&mut self) -> Result<bool, Error> {
        self.begin_again(Some(1))
    }

    /// The last entry that the last opening took from the checkpoint; 0 when it took none.
    pub fn opened_from(&self) -> u64 {
        self.taken.last
    }

    /// Opens a book in a file.
    ///
    /// # Errors
    /// As [`SqliteStore::open`] and [`Book::open`].
    pub fn open_file(path: &Path) -> Result<Book, Error> {
        Book::open(Box::new(SqliteStore::open(path)?))
    }

    /// Reads entries that others have written since; the number of them.
    ///
    /// # Errors
    /// As [`Book::open`].
    pub fn read_on(&mut self) -> Result<u64, Error> {
        let before = self.walk.last;
        let Book { store, fold, walk, .. } = self;
        store.read(before, &mut |sequence, line, hash| {
            let entry = walk.step(sequence, line, hash)?;
            fold.take(entry, hash);
            Ok(())
        })?;
        fold.settle();
        Ok(self.walk.last - before)
    }

    /// Waits for entries by others, and reads them; the number of them.
    ///
    /// # Errors
    /// As [`Book::open`].
    pub fn wait(&mut self, most: Duration) -> Result<u64, Error> {
        if self.store.wait(self.walk.last, most)? { self.read_on() } else { Ok(0) }
    }

    /// What the book says.
    pub fn fold(&self) -> &Fold {
        &self.fold
    }

    /// Its id; empty before the first entry.
    pub fn id(&self) -> &str {
        self.walk.book.as_deref().unwrap_or("")
    }

    /// Number and hash of the last entry.
    pub fn head(&self) -> Written {
        Written { sequence: self.walk.last, hash: self.walk.head }
    }

    /// Writes an entry. When this returns `Ok`, it is on the disk.
    ///
    /// # Errors
    /// The rules of the book refuse it, or it could not be written; nothing of it was kept.
    pub fn append(&mut self, pen: &Pen, said: Said) -> Result<Written, Error> {
        one(self.write(pen, None, vec![said], Vec::new())?)
    }

    /// Writes several entries, all or none.
    ///
    /// # Errors
    /// As [`Book::append`].
    pub fn append_all(&mut self, pen: &Pen, said: Vec<Said>) -> Result<Vec<Written>, Error> {
        match self.write(pen, None, said, Vec::new())? {
            Outcome::Written(all) => Ok(all),
            Outcome::Known(_) => Ok(Vec::new()),
        }
    }

    /// Writes an entry once, however often it is sent: `key` is given by the sending device, and no
    /// two things that it sends may have the same one. Gives the entry, and whether it is new; one
    /// that was written before, here or by another process, today or years ago, is given again.
    ///
    /// # Errors
    /// As [`Book::append`]; or the key stands already with other content or another writer; or it
    /// is not 1 to 100 printable ASCII characters without spaces.
    pub fn append_once(
        &mut self,
        pen: &Pen,
        key: &str,
        said: Said,
    ) -> Result<(Written, bool), Error> {
        self.append_once_with(pen, key, said, Vec::new())
    }

    pub(crate) fn append_once_with(
        &mut self,
        pen: &Pen,
        key: &str,
        said: Said,
        attachments: Vec<Attached>,
    ) -> Result<(Written, bool), Error> {
        let printable = key.bytes().all(|b| b.is_ascii_graphic());
        if key.is_empty() || LONGEST_KEY < key.len() || !printable {
            return Err(Error::wrong(
                format!(
                    "\"{}\" is not the key of an entry",
                    key.chars().take(40).collect::<String>().escape_debug()
                ),
                format!("1 to {LONGEST_KEY} printable ASCII characters without spaces"),
            ));
        }
        let wanted = said.clone();
        let known = match self.write(pen, Some(key), vec![said], attachments)? {
            Outcome::Known(known) => known,
            new @ Outcome::Written(_) => return Ok((one(new)?, true)),
        };
        let wanted = self.fold.as_first_written(&wanted);
        for sequence in &known {
            let (entry, hash) = self.entry(*sequence)?;
            if entry.author == pen.author() && entry.said == wanted {
                return Ok((Written { sequence: *sequence, hash }, false));
            }
        }
        let first = known.first().copied().unwrap_or(0);
        Err(Error::wrong(
            format!("the key \"{key}\" stands at entry {first} with other content"),
            "a device gives every entry a key of its own; nothing was written",
        ))
    }

    /// Writes an entry together with the attachments it speaks of.
    ///
    /// # Errors
    /// As [`Book::append`].
    pub(crate) fn append_with(
        &mut self,
        pen: &Pen,
        said: Said,
        attachments: Vec<Attached>,
    ) -> Result<Written, Error> {
        one(self.write(pen, None, vec![said], attachments)?)
    }

    /// `key` goes with one entry only.
    fn write(
        &mut self,
        pen: &Pen,
        key: Option<&str>,
        said: Vec<Said>,
        attachments: Vec<Attached>,
    ) -> Result<Outcome, Error> {
        if said.is_empty() {
            return Ok(Outcome::Written(Vec::new()));
        }
        let mut tried: Vec<Row> = Vec::new();
        for attempt in 0..TRIES {
            match self.try_to_write(pen, key, &said, &attachments, &mut tried) {
                Err(Error::Unavailable(_)) if attempt + 1 < TRIES => {
                    // The other side went away; whether the commit had come through shows when
                    // the entries since are read.
                    std::thread::sleep(Duration::from_millis(100 << attempt));
                    let _ = self.store.again();
                }
                done => return done,
            }
        }
        Err(Error::Unavailable("it went away too often".to_owned()))
    }

    /// One try. `tried` is what an earlier try may have written.
    fn try_to_write(
        &mut self,
        pen: &Pen,
        key: Option<&str>,
        said: &[Said],
        attachments: &[Attached],
        tried: &mut Vec<Row>,
    ) -> Result<Outcome, Error> {
        let seen = self.walk.last;
        let Book { store, fold, walk, .. } = self;
        let mut came_through = false;
        let mut known = Vec::new();
        // Entries of this batch that the fold has taken before they are on the disk, so that the
        // next of the batch is asked about with them in place.
        let mut ahead = 0;
        let mut entries: Vec<(Entry, Row)> = Vec::new();
        let stored = store.append(seen, &mut |news| {
            for row in news {
                let entry = walk.step(row.sequence, &row.line, row.hash)?;
                fold.take(entry, row.hash);
            }
            fold.settle();
            // Among the news, or read already when the fold was begun again.
            if tried.last().is_some_and(|last| fold.by_hash(&last.hash).is_some()) {
                came_through = true;
                return Ok(Batch::default());
            }
            if let Some(key) = key {
                known = fold.with_key(key);
                if !known.is_empty() {
                    return Ok(Batch::default());
                }
            }
            let id = match &walk.book {
                Some(id) => id.clone(),
                None => new_id()?,
            };
            for said in said {
                if let Some((entry, row)) = entries.last() {
                    walk.step(row.sequence, &row.line, row.hash)?;
                    fold.take(entry.clone(), row.hash);
                    fold.settle();
                    ahead += 1;
                }
                fold.admit(pen, said)?;
                let entry = Entry {
                    format: FORMAT,
                    book: id.clone(),
                    sequence: walk.last + 1,
                    previous: walk.head,
                    time: pen.time().to_owned(),
                    author: pen.author().to_owned(),
                    device: pen.device().to_owned(),
                    key: key.map(str::to_owned),
                    origin: None,
                    said: fold.as_first_written(said),
                };
                let line = entry.line()?;
                let hash = Hash::of(line.as_bytes());
                entries.push((entry, Row { sequence: walk.last + 1, line, hash }));
            }
            *tried = entries.iter().map(|(_, row)| row.clone()).collect();
            Ok(Batch { rows: tried.clone(), attachments: attachments.to_vec() })
        });
        if let Err(error) = stored {
            if 0 < ahead {
                // The fold ran ahead of the disk: begin again from what is written.
                // If the store cannot be read now either, the next write or look reads it.
                let _ = self.begin_again(None);
            }
            return Err(error);
        }
        if !known.is_empty() {
            return Ok(Outcome::Known(known));
        }
        if !came_through && let Some((entry, row)) = entries.pop() {
            walk.step(row.sequence, &row.line, row.hash)?;
            fold.take(entry, row.hash);
            fold.settle();
        }
        let written = |r: &Row| Written { sequence: r.sequence, hash: r.hash };
        Ok(Outcome::Written(tried.iter().map(written).collect()))
    }

    /// Every entry with its hash, in order.
    ///
    /// # Errors
    /// An entry is not as it was written.
    pub fn each(
        &mut self,
        take: &mut dyn FnMut(&Entry, Hash, &str) -> Result<(), Error>,
    ) -> Result<(), Error> {
        let mut walk = Walk::default();
        self.store.read(0, &mut |sequence, line, hash| {
            let entry = walk.step(sequence, line, hash)?;
            take(&entry, hash, line)
        })
    }

    /// One entry.
    ///
    /// # Errors
    /// There is none of that number.
    pub fn entry(&mut self, sequence: u64) -> Result<(Entry, Hash), Error> {
        let mut found = None;
        let before = sequence.saturating_sub(1);
        // The first after the one before is the one; reading stops there.
        let stop = Error::Missing(String::new());
        let read = self.store.read(before, &mut |at, line, hash| {
            if at == sequence {
                found = Some((Entry::parse(line)?, hash));
            }
            Err(stop.clone())
        });
        match (found, read) {
            (Some(found), _) => Ok(found),
            (None, Err(Error::Missing(_)) | Ok(())) => {
                Err(Error::Missing(format!("there is no entry {sequence}")))
            }
            (None, Err(other)) => Err(other),
        }
    }

    /// Numbers of the entries that have all these words, newest first.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn find(&mut self, words: &str, most: usize) -> Result<Vec<u64>, Error> {
        let words: Vec<String> = words
            .split(|c: char| !c.is_alphanumeric())
            .filter(|w| !w.is_empty())
            .map(str::to_owned)
            .collect();
        self.store.find(&words, most)
    }

    /// An attachment's bytes, checked against their hash.
    ///
    /// # Errors
    /// Not there, or not as it was attached.
    pub fn attachment(&mut self, hash: &Hash) -> Result<Vec<u8>, Error> {
        let bytes = self
            .store
            .attachment(hash)?
            .ok_or_else(|| Error::Missing(format!("there is no attachment {hash}")))?;
        let is = Hash::of(&bytes);
        if is != *hash {
            return Err(Error::Damaged(format!("the attachment {hash} has the hash {is}")));
        }
        Ok(bytes)
    }

    /// Looks through everything: file or database, every entry, every attachment. `head` is a
    /// hash kept elsewhere, on paper say: it must be in the chain.
    ///
    /// # Errors
    /// Only when the store cannot be read at all.
    pub fn verify(&mut self, head: Option<&Hash>) -> Result<Verified, Error> {
        verify(self.store.as_mut(), head)
    }

    pub(crate) fn store(&mut self) -> &mut dyn Store {
        self.store.as_mut()
    }

    /// Writes entries as they are, into an empty store.
    pub(crate) fn from_rows(mut store: Box<dyn Store>, batch: Batch) -> Result<Book, Error> {
        let mut batch = Some(batch);
        store.append(0, &mut |news| {
            if !news.is_empty() {
                return Err(crate::archive::not_empty());
            }
            Ok(batch.take().unwrap_or_default())
        })?;
        Book::open(store)
    }
}

/// A name for a book that no other has: 128 random bits.
fn new_id() -> Result<String, Error> {
    let mut bytes = [0u8; 16];
    getrandom::fill(&mut bytes).map_err(|e| Error::Unavailable(format!("no random bytes: {e}")))?;
    Ok(bytes.iter().map(|b| format!("{b:02x}")).collect())
}
