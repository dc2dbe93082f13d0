//! One entry, and the line of text that is stored, hashed and exported.
//!
//! The line is a JSON object (RFC 8259) on one line: UTF-8, no space between tokens, keys in the
//! order of [`Line`], strings escaped only where JSON asks for it. Its SHA-256 is the entry's
//! hash; the next entry's `previous` is that hash. The hash itself is not in the line, so
//! `sha256sum` of a line gives what the next line quotes.

use crate::{Error, Hash, Said};
use serde::{Deserialize, Serialize};
use serde_json::value::RawValue;
use std::borrow::Cow;

/// Newest form of entries that this program writes and reads.
pub const FORMAT: u32 = 2;

/// Longest key of an entry, characters.
pub const LONGEST_KEY: usize = 100;

/// A longer line is refused: no description or table needs it.
pub(crate) const MAX_LINE_BYTES: usize = 96 << 20;

/// Where an entry stood before two copies of the book were joined. With it the line as first
/// written can be built again, so the chain of each copy stays checkable.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Origin {
    /// Number it had.
    pub sequence: u64,
    /// Hash before it.
    pub previous: Hash,
    /// Hash it had.
    pub hash: Hash,
}

/// One entry.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    /// Form it was written in.
    pub format: u32,
    /// Book it belongs to.
    pub book: String,
    /// Number, from 1.
    pub sequence: u64,
    /// Hash of the entry before; [`Hash::NONE`] for the first.
    pub previous: Hash,
    /// When, RFC 3339, as the writing device told it.
    pub time: String,
    /// Who.
    pub author: String,
    /// On what.
    pub device: String,
    /// The key that the sending device gave it, so that it stands once however often it is sent.
    pub key: Option<String>,
    /// Where it stood before a join.
    pub origin: Option<Origin>,
    /// What.
    pub said: Said,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Line<'a> {
    format: u32,
    #[serde(borrow)]
    book: Cow<'a, str>,
    sequence: u64,
    #[serde(borrow)]
    previous: Cow<'a, str>,
    #[serde(borrow)]
    time: Cow<'a, str>,
    #[serde(borrow)]
    author: Cow<'a, str>,
    #[serde(borrow)]
    device: Cow<'a, str>,
    #[serde(borrow, default, skip_serializing_if = "Option::is_none")]
    key: Option<Cow<'a, str>>,
    #[serde(borrow, default, skip_serializing_if = "Option::is_none")]
    origin: Option<OriginLine<'a>>,
    #[serde(borrow)]
    kind: Cow<'a, str>,
    #[serde(borrow)]
    body: &'a RawValue,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct OriginLine<'a> {
    sequence: u64,
    #[serde(borrow)]
    previous: Cow<'a, str>,
    #[serde(borrow)]
    hash: Cow<'a, str>,
}

/// Reads the number of the form and nothing else, so that a newer form is told as such.
#[derive(Deserialize)]
struct FormatOnly {
    format: u32,
}

impl Entry {
    /// The line of this entry.
    ///
    /// # Errors
    /// Longer than a line may be.
    pub fn line(&self) -> Result<String, Error> {
        let unwritable = |e: serde_json::Error| Error::wrong(format!("cannot be written: {e}"), "");
        let body =
            RawValue::from_string(self.said.body().map_err(unwritable)?).map_err(unwritable)?;
        let line = serde_json::to_string(&Line {
            format: self.format,
            book: Cow::Borrowed(&self.book),
            sequence: self.sequence,
            previous: Cow::Owned(self.previous.to_string()),
            time: Cow::Borrowed(&self.time),
            author: Cow::Borrowed(&self.author),
            device: Cow::Borrowed(&self.device),
            key: self.key.as_deref().map(Cow::Borrowed),
            origin: self.origin.as_ref().map(|o| OriginLine {
                sequence: o.sequence,
                previous: Cow::Owned(o.previous.to_string()),
                hash: Cow::Owned(o.hash.to_string()),
            }),
            kind: Cow::Borrowed(self.said.kind()),
            body: &body,
        })
        .map_err(unwritable)?;
        if line.len() > MAX_LINE_BYTES {
            return Err(Error::wrong(
                format!(
                    "an entry of {} bytes is more than one may have ({MAX_LINE_BYTES})",
                    line.len()
                ),
                "split the table",
            ));
        }
        Ok(line)
    }

    /// Reads a line.
    ///
    /// # Errors
    /// Not an entry, or of a newer form.
    pub fn parse(line: &str) -> Result<Entry, Error> {
        let read: Line<'_> = match serde_json::from_str(line) {
            Ok(read) => read,
            Err(e) => {
                return Err(match serde_json::from_str::<FormatOnly>(line) {
                    Ok(FormatOnly { format }) if format > FORMAT => {
                        Error::Newer { found: format, known: FORMAT }
                    }
                    _ => Error::Damaged(format!("not an entry: {e}")),
                });
            }
        };
        match read.format {
            1 if read.key.is_some() => {
                return Err(Error::Damaged("an entry of form 1 has no key".to_owned()));
            }
            1 | 2 => {}
            found if found > FORMAT => return Err(Error::Newer { found, known: FORMAT }),
            other => return Err(Error::Damaged(format!("there is no form {other}"))),
        }
        let origin = match read.origin {
            None => None,
            Some(o) => Some(Origin {
                sequence: o.sequence,
                previous: Hash::parse(&o.previous)?,
                hash: Hash::parse(&o.hash)?,
            }),
        };
        let said = Said::read(&read.kind, read.body.get())?;
        if read.format < said.since() {
            return Err(Error::Damaged(format!(
                "there is no kind of entry \"{}\" in form {}",
                said.kind(),
                read.format
            )));
        }
        Ok(Entry {
            format: read.format,
            book: read.book.into_owned(),
            sequence: read.sequence,
            previous: Hash::parse(&read.previous)?,
            time: read.time.into_owned(),
            author: read.author.into_owned(),
            device: read.device.into_owned(),
            key: read.key.map(Cow::into_owned),
            origin,
            said,
        })
    }

    /// The hash it was first written with: that of its origin, or the given one of its own line.
    pub fn first_hash(&self, own: Hash) -> Hash {
        self.origin.as_ref().map_or(own, |o| o.hash)
    }

    /// The entry as it stood before the join, if it came through one.
    pub fn before_join(&self) -> Option<Entry> {
        let origin = self.origin.as_ref()?;
        Some(Entry {
            sequence: origin.sequence,
            previous: origin.previous,
            origin: None,
            ..self.clone()
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn entry() -> Entry {
        Entry {
            format: FORMAT,
            book: "b".into(),
            sequence: 7,
            previous: Hash::of(b"before"),
            time: "2026-11-20T08:00:00Z".into(),
            author: "A \"B\" ü".into(),
            device: "vice\n".into(),
            key: None,
            origin: None,
            said: Said::Note { about: "rod".into(), text: "\u{0}\u{2028}½".into() },
        }
    }

    #[test]
    fn a_line_reads_back_and_is_one_line() {
        let mut entry = entry();
        let line = entry.line().expect("writes");
        assert!(!line.contains('\n'));
        assert_eq!(Entry::parse(&line), Ok(entry.clone()));
        let hash = Hash::of(line.as_bytes());
        entry.origin = Some(Origin { sequence: 7, previous: entry.previous, hash });
        entry.sequence = 9;
        let line = entry.line().expect("writes");
        let back = Entry::parse(&line).expect("reads");
        assert_eq!(back, entry);
        let first = back.before_join().expect("has an origin").line().expect("writes");
        assert_eq!(Hash::of(first.as_bytes()), hash, "the first line can be built again");
    }

    #[test]
    fn newer_forms_are_told_as_such() {
        let line = entry().line().expect("writes");
        let newer = line.replacen("\"format\":2", "\"format\":3", 1);
        assert_eq!(Entry::parse(&newer), Err(Error::Newer { found: 3, known: 2 }));
        let unknown = newer.replacen("\"kind\"", "\"colour\":1,\"kind\"", 1);
        assert_eq!(Entry::parse(&unknown), Err(Error::Newer { found: 3, known: 2 }));
        let unknown = line.replacen("\"kind\"", "\"colour\":1,\"kind\"", 1);
        assert!(matches!(Entry::parse(&unknown), Err(Error::Damaged(_))));
        assert!(matches!(Entry::parse("[]"), Err(Error::Damaged(_))));
    }

    #[test]
    fn form_1_has_neither_keys_nor_the_kinds_of_form_2() {
        let mut entry = entry();
        entry.format = 1;
        let line = entry.line().expect("writes");
        assert!(line.starts_with("{\"format\":1,"));
        assert_eq!(Entry::parse(&line), Ok(entry.clone()));
        entry.key = Some("k".into());
        assert!(matches!(Entry::parse(&entry.line().expect("writes")), Err(Error::Damaged(_))));
        entry.key = None;
        entry.said = Said::WorkUndone { work: "w".into(), why: "y".into() };
        assert!(matches!(Entry::parse(&entry.line().expect("writes")), Err(Error::Damaged(_))));
        entry.format = 2;
        entry.key = Some("k \"1\"".into());
        let line = entry.line().expect("writes");
        assert!(line.contains(r#""device":"vice\n","key":"k \"1\"","kind""#), "{line}");
        assert_eq!(Entry::parse(&line), Ok(entry));
    }
}
