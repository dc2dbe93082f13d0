//! From a book to the sheets printed from it: the record of an overhaul as `paper` sets it, and the
//! words of its tags.
//!
//! Stands between `book`, which knows no paper, and `paper`, which knows no storage, so that the
//! command line and the page server say the same. Judges nothing, reads no clock, writes nothing.
//!
//! ```
//! # fn main() -> Result<(), Box<dyn std::error::Error>> {
//! # let folder = tempfile::tempdir()?;
//! use book::{Book, Pen, Start};
//! let pen = Pen::new("A. Fitter", "laptop by the vice", "2026-11-20T08:00:00Z")?;
//! let start = Start { name: "No. 1".to_owned(), password: None };
//! let mut book = Book::create_file(&folder.path().join("engine.book"), &pen, &start)?;
//! let record = dossier::record(&mut book, None, None)?;
//! let set = paper::dossier(None, &record, &paper::SheetOptions::default())?;
//! assert!(set.pdf.starts_with(b"%PDF-"));
//! # Ok(())
//! # }
//! ```

mod readings;
mod record;
mod tags;

pub use record::record;
pub use tags::tags;
