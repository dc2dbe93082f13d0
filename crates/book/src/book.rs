//! A book: a store, and what its entries say so far.

use crate::chain::{Fault, Verified, Walk, look_closely};
use crate::store::sqlite::SqliteStore;
use crate::store::{Attached, Batch, Row, Store};
use crate::{Entry, Error, Fold, Hash, Password, Role, Said};
use std::collections::HashSet;
use std::path::Path;
use std::time::Duration;

/// Times a write is tried again when the database went away in the middle of it.
const TRIES: u32 = 6;

/// Who writes, on what, and when.
#[derive(Clone, Debug)]
pub struct Pen {
    author: String,
    device: String,
    time: String,
    /// The hash that the password matched.
    shown: Option<String>,
}

impl Pen {
    /// A pen.
    ///
    /// # Errors
    /// No author or device, or `time` is not an RFC 3339 instant.
    pub fn new(author: &str, device: &str, time: &str) -> Result<Self, Error> {
        for (what, text) in [("who writes", author), ("the device", device)] {
            if text.trim().is_empty() || 200 < text.len() || text.chars().any(char::is_control) {
                return Err(Error::wrong(
                    format!("{what} cannot be \"{}\"", text.chars().take(40).collect::<String>()),
                    "a name of one line, at most 200 bytes",
                ));
            }
        }
        time.parse::<jiff::Timestamp>().map_err(|_| {
            Error::wrong(
                format!("\"{time}\" is not a time"),
                "as in RFC 3339: 2026-11-20T08:30:00Z",
            )
        })?;
        Ok(Pen {
            author: author.trim().to_owned(),
            device: device.trim().to_owned(),
            time: time.to_owned(),
            shown: None,
        })
    }

    /// Who writes.
    pub fn author(&self) -> &str {
        &self.author
    }

    /// On what.
    pub fn device(&self) -> &str {
        &self.device
    }

    /// When.
    pub fn time(&self) -> &str {
        &self.time
    }

    /// The same pen at another time.
    ///
    /// # Errors
    /// Not an RFC 3339 instant.
    pub fn at(&self, time: &str) -> Result<Self, Error> {
        let mut pen = Pen::new(&self.author, &self.device, time)?;
        pen.shown.clone_from(&self.shown);
        Ok(pen)
    }

    /// Shows the password. Takes a tenth of a second or more, as it should.
    ///
    /// # Errors
    /// Not a person of the book, or another password.
    pub fn show(&mut self, book: &Book, password: &Password) -> Result<(), Error> {
        let person = book.fold().person(&self.author).ok_or_else(|| {
            Error::not_allowed(
                format!("\"{}\" is not one of the people of this book", self.author),
                "",
            )
        })?;
        if person.password.is_empty() {
            return Ok(());
        }
        if !password.matches(&person.password) {
            return Err(Error::not_allowed(
                format!("that is not the password of {}", self.author),
                "",
            ));
        }
        self.shown = Some(person.password.clone());
        Ok(())
    }

    pub(crate) fn has_shown(&self, hashed: &str) -> bool {
        self.shown.as_deref() == Some(hashed)
    }
}

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

/// A book.
pub struct Book {
    store: Box<dyn Store>,
    fold: Fold,
    walk: Walk,
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
        let founder = Said::Person { name: pen.author.clone(), roles, password };
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

    /// Opens a book and reads every entry, following the chain.
    ///
    /// # Errors
    /// An entry is not as it was written (the text names it), or of a newer form.
    pub fn open(store: Box<dyn Store>) -> Result<Book, Error> {
        let mut book = Book { store, fold: Fold::default(), walk: Walk::default() };
        book.read_on()?;
        Ok(book)
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
        let Book { store, fold, walk } = self;
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
        let all = self.write(pen, vec![said], Vec::new())?;
        all.last().copied().ok_or_else(|| Error::Unavailable("nothing was written".to_owned()))
    }

    /// Writes several entries, all or none.
    ///
    /// # Errors
    /// As [`Book::append`].
    pub fn append_all(&mut self, pen: &Pen, said: Vec<Said>) -> Result<Vec<Written>, Error> {
        self.write(pen, said, Vec::new())
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
        let all = self.write(pen, vec![said], attachments)?;
        all.last().copied().ok_or_else(|| Error::Unavailable("nothing was written".to_owned()))
    }

    fn write(
        &mut self,
        pen: &Pen,
        said: Vec<Said>,
        attachments: Vec<Attached>,
    ) -> Result<Vec<Written>, Error> {
        if said.is_empty() {
            return Ok(Vec::new());
        }
        let mut tried: Vec<Row> = Vec::new();
        for attempt in 0..TRIES {
            match self.try_to_write(pen, &said, &attachments, &mut tried) {
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
        said: &[Said],
        attachments: &[Attached],
        tried: &mut Vec<Row>,
    ) -> Result<Vec<Written>, Error> {
        let seen = self.walk.last;
        let Book { store, fold, walk } = self;
        let mut came_through = false;
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
                    book: id.clone(),
                    sequence: walk.last + 1,
                    previous: walk.head,
                    time: pen.time.clone(),
                    author: pen.author.clone(),
                    device: pen.device.clone(),
                    origin: None,
                    said: said.clone(),
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
                *fold = Fold::default();
                *walk = Walk::default();
                // If the store cannot be read now either, the next write or look reads it.
                let _ = self.read_on();
            }
            return Err(error);
        }
        if !came_through && let Some((entry, row)) = entries.pop() {
            walk.step(row.sequence, &row.line, row.hash)?;
            fold.take(entry, row.hash);
            fold.settle();
        }
        Ok(tried.iter().map(|r| Written { sequence: r.sequence, hash: r.hash }).collect())
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
                return Err(Error::wrong(
                    "there are entries in this book already",
                    "name an empty one",
                ));
            }
            Ok(batch.take().unwrap_or_default())
        })?;
        Book::open(store)
    }
}

/// Looks through a store, whether or not its entries can be folded.
///
/// # Errors
/// Only when it cannot be read at all.
pub fn verify(store: &mut dyn Store, head: Option<&Hash>) -> Result<Verified, Error> {
    let mut verified = Verified::default();
    let looked = store.look();
    let mut walk = Walk::default();
    let mut found_head = head.is_none();
    let mut faults = Vec::new();
    let mut wanted: Vec<(u64, String)> = Vec::new();
    let read = store.read(0, &mut |sequence, line, hash| {
        verified.entries += 1;
        match walk.step(sequence, line, hash) {
            Ok(entry) => {
                found_head |= head == Some(&hash) || head == entry.origin.as_ref().map(|o| &o.hash);
                if let Err(e) = look_closely(&entry, line) {
                    faults.push(fault_of(sequence, &e));
                }
                if let Said::Attached { sha256, thumbnail, .. } = entry.said {
                    wanted.extend(
                        [sha256, thumbnail]
                            .into_iter()
                            .filter(|h| !h.is_empty())
                            .map(|h| (sequence, h)),
                    );
                }
            }
            Err(e) => faults.push(fault_of(sequence, &e)),
        }
        Ok(())
    });
    if let Err(e) = read {
        faults.push(fault_of(walk.last + 1, &e));
    }
    verified.faults = faults;
    if 0 < walk.last {
        verified.head = walk.head.to_string();
    }
    if let Some(head) = head
        && !found_head
    {
        let what = format!("no entry has the hash {head}");
        verified.faults.push(Fault { sequence: 0, what });
    }
    look_at_attachments(store, &wanted, &mut verified);
    match looked {
        Ok(looked) => {
            let others = looked.faults.into_iter().map(|what| Fault { sequence: 0, what });
            verified.faults.extend(others);
            verified.not_looked_at = looked.not_looked_at;
        }
        Err(e) => verified.faults.push(Fault { sequence: 0, what: e.to_string() }),
    }
    Ok(verified)
}

fn fault_of(sequence: u64, error: &Error) -> Fault {
    let text = error.to_string();
    let what = text.strip_prefix(&format!("entry {sequence}: ")).unwrap_or(&text).to_owned();
    Fault { sequence, what }
}

fn look_at_attachments(store: &mut dyn Store, wanted: &[(u64, String)], verified: &mut Verified) {
    let there = match store.attachments() {
        Ok(there) => there,
        Err(e) => {
            verified.faults.push(Fault { sequence: 0, what: format!("attachments: {e}") });
            return;
        }
    };
    for hash in &there {
        verified.attachments += 1;
        let what = match store.attachment(hash) {
            Ok(Some(bytes)) if Hash::of(&bytes) == *hash => continue,
            Ok(_) => format!("the attachment {hash} is not as it was attached"),
            Err(e) => format!("the attachment {hash}: {e}"),
        };
        verified.faults.push(Fault { sequence: 0, what });
    }
    let there: HashSet<String> = there.iter().map(ToString::to_string).collect();
    for (sequence, hash) in wanted {
        if !there.contains(hash) {
            let what = format!("its attachment {hash} is missing");
            verified.faults.push(Fault { sequence: *sequence, what });
        }
    }
}

/// A name for a book that no other has: 128 random bits.
fn new_id() -> Result<String, Error> {
    let mut bytes = [0u8; 16];
    getrandom::fill(&mut bytes).map_err(|e| Error::Unavailable(format!("no random bytes: {e}")))?;
    Ok(bytes.iter().map(|b| format!("{b:02x}")).collect())
}
