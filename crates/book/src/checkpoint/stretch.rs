//! One stretch: written from entries, read into a fold.
//!
//! First bytes, form, the book, numbers of the first and last entry, the hash before the first and
//! that of the last; the entries; the SHA-256 of all that. Of an entry of readings only what a fold takes of it is kept;
//! of any other all but what follows from its place in the chain.

use super::Stretch;
use super::bytes::{Reader, Writer, unreadable};
use crate::chain::Walk;
use crate::fold::{ReadingsSaid, split_heading};
use crate::{Entry, Error, Fold, Hash, Origin, Said};

const FIRST_BYTES: [u8; 4] = *b"PBsh";
/// Form of the stretches this program writes, the only one it reads.
pub(super) const FORM: u8 = 1;
const HEAD: usize = FIRST_BYTES.len() + 1;
const HASH: usize = 32;

const READINGS: u64 = 1;
const KEYED: u64 = 2;
const JOINED: u64 = 4;

pub(super) struct StretchWriter {
    book: String,
    first: u64,
    before: Hash,
    last: u64,
    after: Hash,
    entries: Writer,
}

impl StretchWriter {
    /// A stretch whose first entry has this number and follows the entry with this hash.
    pub(super) fn begin(book: &str, first: u64, before: Hash) -> Self {
        StretchWriter {
            book: book.to_owned(),
            first,
            before,
            last: first - 1,
            after: before,
            entries: Writer::default(),
        }
    }

    pub(super) fn entries(&self) -> u64 {
        self.last + 1 - self.first
    }

    pub(super) fn len(&self) -> usize {
        self.entries.bytes.len()
    }

    /// The next entry of the chain.
    pub(super) fn push(&mut self, entry: &Entry, hash: Hash) -> Result<(), Error> {
        (self.last, self.after) = (entry.sequence, hash);
        let to = &mut self.entries;
        let readings = matches!(entry.said, Said::Readings { .. });
        let flags = u64::from(readings) * READINGS
            + u64::from(entry.key.is_some()) * KEYED
            + u64::from(entry.origin.is_some()) * JOINED;
        to.number(flags);
        to.hash(hash);
        to.name(&entry.author);
        if let Some(key) = &entry.key {
            to.text(key);
        }
        if let Some(origin) = &entry.origin {
            to.number(origin.sequence);
            to.hash(origin.previous);
            to.hash(origin.hash);
        }
        if let Said::Readings { file, table } = &entry.said {
            let (heading, body) = split_heading(table);
            to.name(file);
            to.name(heading);
            to.text(body);
        } else {
            to.number(u64::from(entry.format));
            to.text(&entry.time);
            to.name(&entry.device);
            to.name(entry.said.kind());
            let unwritable =
                |e: serde_json::Error| Error::wrong(format!("cannot be written: {e}"), "");
            to.text(&entry.said.body().map_err(unwritable)?);
        }
        Ok(())
    }

    pub(super) fn finish(self) -> Stretch {
        let mut all = Writer::default();
        all.bytes.reserve(self.entries.bytes.len() + self.book.len() + 128);
        all.bytes.extend_from_slice(&FIRST_BYTES);
        all.bytes.push(FORM);
        all.text(&self.book);
        all.number(self.first);
        all.number(self.last);
        all.hash(self.before);
        all.hash(self.after);
        all.bytes.extend_from_slice(&self.entries.bytes);
        let hash = Hash::of(&all.bytes);
        all.hash(hash);
        Stretch { last: self.last, bytes: all.bytes }
    }
}

struct Head<'a> {
    book: &'a str,
    first: u64,
    last: u64,
    before: Hash,
    after: Hash,
}

/// What lies between the form and the SHA-256.
fn inside(stretch: &[u8]) -> Result<&[u8], Error> {
    stretch.get(HEAD..stretch.len().saturating_sub(HASH)).ok_or_else(unreadable)
}

fn head<'a>(from: &mut Reader<'a>) -> Result<Head<'a>, Error> {
    Ok(Head {
        book: from.text()?,
        first: from.number()?,
        last: from.number()?,
        before: from.hash()?,
        after: from.hash()?,
    })
}

/// The form a stretch is of, when its first bytes and its SHA-256 are right.
pub(super) fn form_of(stretch: &[u8]) -> Option<u8> {
    let (content, hash) = stretch.split_at_checked(stretch.len().checked_sub(HASH)?)?;
    let form = content.strip_prefix(&FIRST_BYTES)?.first()?;
    (Hash::of(content).bytes()[..] == *hash).then_some(*form)
}

/// Whether a stretch is as it was written, goes on where the walk stands, and ends with the entry of
/// this number and hash.
pub(super) fn is_whole(stretch: &[u8], last: u64, hash: Hash, walk: &Walk) -> bool {
    let goes_on = |head: &Head<'_>| {
        walk.book.as_deref().is_none_or(|book| book == head.book)
            && head.first == walk.last + 1
            && head.first <= head.last
            && head.last == last
            && head.before == walk.head
            && head.after == hash
    };
    form_of(stretch) == Some(FORM)
        && inside(stretch)
            .and_then(|bytes| head(&mut Reader::new(bytes)))
            .is_ok_and(|head| goes_on(&head))
}

/// Folds the entries of a stretch.
///
/// # Errors
/// It is not what this program writes. Some entries may have been folded then.
pub(super) fn read_stretch(stretch: &[u8], fold: &mut Fold, walk: &mut Walk) -> Result<(), Error> {
    let mut from = Reader::new(inside(stretch)?);
    let head = head(&mut from)?;
    // Every entry has its hash in it.
    let most = stretch.len() / HASH;
    fold.reserve(usize::try_from(head.last - head.first).map_or(most, |n| most.min(n + 1)));
    // Numbers in the fold of the names in the stretch.
    let (mut files, mut headings) = (Known::default(), Known::default());
    for sequence in head.first..=head.last {
        let flags = from.number()?;
        let hash = from.hash()?;
        let author = from.name()?;
        let key = if flags & KEYED == 0 { None } else { Some(from.text()?) };
        let origin = if flags & JOINED == 0 {
            None
        } else {
            Some(Origin { sequence: from.number()?, previous: from.hash()?, hash: from.hash()? })
        };
        if flags & READINGS == 0 {
            let format = u32::try_from(from.number()?).map_err(|_| unreadable())?;
            let (time, device) = (from.text()?.to_owned(), from.name()?.to_owned());
            let said = Said::read(from.name()?, from.text()?)?;
            let entry = Entry {
                format,
                book: head.book.to_owned(),
                sequence,
                previous: walk.head,
                time,
                author: author.to_owned(),
                device,
                key: key.map(str::to_owned),
                origin,
                said,
            };
            fold.take(entry, hash);
        } else {
            let (file, place) = from.name_and_place()?;
            let file = files.number(place, || fold.file(file));
            let (heading, place) = from.name_and_place()?;
            let heading = headings.number(place, || fold.heading(heading));
            fold.take_readings(&ReadingsSaid {
                sequence,
                hash,
                origin: origin.map(|o| o.hash),
                key,
                author,
                file,
                heading,
                body: from.text()?,
            });
        }
        walk.last = sequence;
        walk.head = hash;
    }
    if !from.at_end() || walk.head != head.after {
        return Err(unreadable());
    }
    walk.book.get_or_insert_with(|| head.book.to_owned());
    Ok(())
}

#[derive(Default)]
struct Known(Vec<Option<u32>>);

impl Known {
    fn number(&mut self, place: usize, first: impl FnOnce() -> u32) -> u32 {
        if self.0.len() <= place {
            self.0.resize(place + 1, None);
        }
        *self.0[place].get_or_insert_with(first)
    }
}
