//! The book: the append-only record of everything said about an engine, each entry chained to
//! the one before by SHA-256.
//!
//! A book stores; it does not judge. Folding its entries gives texts and tables in the form the
//! `engine` crate reads, so one crate stays the single judge, and the same entries give the same
//! engine, to the bit. It reads no clock: the time of an entry is an argument.
//!
//! Invariants:
//! - an entry that was acknowledged is on the disk, and is never changed or taken out; the
//!   databases themselves refuse it;
//! - the bytes that are stored are the bytes that are hashed;
//! - every rule about who may say what is asked inside the same lock in which the entry is
//!   written, against every entry before it;
//! - a book of a newer form is refused, never half read.
//!
//! ```
//! # fn main() -> Result<(), book::Error> {
//! # let folder = tempfile::tempdir().map_err(|e| book::Error::Unavailable(e.to_string()))?;
//! use book::{Book, Pen, Said, Start};
//! let file = folder.path().join("engine.book");
//! let pen = Pen::new("A. Fitter", "laptop by the vice", "2026-11-20T08:00:00Z")?;
//! let start = Start { name: "an engine".to_owned(), password: None };
//! let mut book = Book::create_file(&file, &pen, &start)?;
//! let written = book.append(&pen, Said::Note { about: "rod.left".into(), text: "bent".into() })?;
//! assert_eq!(written.sequence, 3);
//! assert!(book.verify(None)?.whole());
//! # Ok(())
//! # }
//! ```

mod archive;
mod attachment;
mod book;
mod chain;
mod checkpoint;
mod crc;
mod entry;
mod error;
mod fold;
mod hash;
mod join;
mod pen;
mod people;
mod said;
mod salvage;
mod sentence;
mod store;
mod subjects;
mod tag;
mod token;
mod verify;
mod xlsx;

pub use archive::{export, import};
pub use attachment::{AttachedWords, Attachment, Location, MAX_ATTACHMENT_BYTES};
pub use book::{Book, Start, Written};
pub use chain::{Fault, Verified};
pub use checkpoint::Stretch;
pub use entry::{Entry, FORMAT, LONGEST_KEY, Origin};
pub use error::{Error, Kind};
pub use fold::{
    AllReadings, BY_THE_BOOK, Concession, DayPlan, Device, EngineRead, EngineSources, Fold,
    HoldPoint, Standing, Table, Thing, Work, WorkWord,
};
pub use hash::Hash;
pub use join::{Joined, join};
pub use pen::Pen;
pub use people::{Password, Person, Role};
pub use said::{Contradiction, MadeTo, Said};
pub use salvage::{Salvaged, Saved, salvage};
#[cfg(feature = "postgres")]
pub use store::postgres::PostgresStore;
pub use store::sqlite::SqliteStore;
pub use store::{Attached, Batch, Looked, Make, Row, Store, TakeStretch};
pub use tag::Tag;
pub use token::Token;
pub use verify::verify;
