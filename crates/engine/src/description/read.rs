//! TOML text to a [`Description`], with file, line, column and the mend.

use super::Description;
use crate::problem::{Place, Problem};

/// A description larger than this is refused: no engine needs it, and a mistaken file (a
/// picture, a readings table) should not fill the memory.
pub const MAX_DESCRIPTION_BYTES: usize = 64 << 20;

/// A text and the name of the file it came from, kept so that later checks can point into it.
#[derive(Clone, Debug)]
pub struct SourceText {
    /// File name as the caller gave it.
    pub file: String,
    /// The text.
    pub text: String,
}

impl SourceText {
    /// Bytes as read from a file. Drops a byte-order mark.
    ///
    /// # Errors
    /// Larger than [`MAX_DESCRIPTION_BYTES`], or not UTF-8: the problem names the line and column
    /// of the first bad byte.
    pub fn from_bytes(file: &str, bytes: &[u8]) -> Result<Self, Problem> {
        if bytes.len() > MAX_DESCRIPTION_BYTES {
            return Err(Problem::new(
                Place::file(file),
                format!("{} bytes is more than a description may be", bytes.len()),
                "readings belong in CSV files, which may be of any size",
            ));
        }
        let bytes = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes);
        match std::str::from_utf8(bytes) {
            Ok(text) => Ok(SourceText { file: file.to_owned(), text: text.to_owned() }),
            Err(error) => {
                let good = String::from_utf8_lossy(&bytes[..error.valid_up_to()]);
                let place = Place::at(file, &good, good.len());
                Err(Problem::new(
                    place,
                    format!("byte {:#04x} here is not UTF-8", bytes[error.valid_up_to()]),
                    "save the file as UTF-8 text",
                ))
            }
        }
    }

    /// The place of a byte offset.
    pub fn place(&self, offset: usize) -> Place {
        Place::at(&self.file, &self.text, offset)
    }
}

/// Texts laid end to end, so that one offset tells both the file and the place in it. An engine
/// is read from its pattern's text, its own file and the files beside it.
#[derive(Clone, Debug, Default)]
pub struct Sources {
    texts: Vec<(usize, SourceText)>,
    end: usize,
}

impl Sources {
    /// Reads one more text; offsets in the description are offsets into the whole.
    ///
    /// # Errors
    /// One problem: TOML is not readable past its first fault.
    pub fn read(&mut self, source: SourceText) -> Result<Description, Problem> {
        let start = self.end;
        // Blank lines before the text move every span by `start`; cheaper than a second pass
        // over the description.
        let mut shifted = "\n".repeat(start);
        shifted.push_str(&source.text);
        self.end = shifted.len() + 1;
        let name = source.file.clone();
        self.texts.push((start, source));
        let read = toml::from_str::<Description>(&shifted).map(|mut d| {
            // Written once for left and right: told apart before anything is laid over them.
            d.works = d.works.into_iter().flat_map(super::WorkText::for_each).collect();
            d.lifts = d.lifts.into_iter().flat_map(super::LiftText::for_each).collect();
            d
        });
        read.map_err(|error| {
            let place = match error.span() {
                Some(span) => self.place(span.start.max(start)),
                None => Place::file(&name),
            };
            let message = error.message().trim().replace('\n', ", ");
            let mend = mend_for(&message);
            Problem::new(place, message, mend)
        })
    }

    /// The place of an offset.
    pub fn place(&self, offset: usize) -> Place {
        match self.texts.iter().rev().find(|(start, _)| *start <= offset) {
            Some((start, text)) => text.place(offset - start),
            None => Place::file("engine"),
        }
    }

    /// Name of the engine's own file: the last text read.
    pub fn own_file(&self) -> &str {
        self.texts.last().map_or("engine", |(_, text)| text.file.as_str())
    }
}

fn mend_for(message: &str) -> &'static str {
    if message.contains("unknown field") {
        "use one of the names listed, or take the line out"
    } else if message.contains("duplicate") {
        "keep one of the two"
    } else if message.contains("invalid type") && message.contains("string") {
        "write it between quotation marks, with its unit: \"8 3/16 in\""
    } else if message.contains("string") || message.contains("quote") {
        "texts stand between quotation marks; a quotation mark for inches inside one is written \\\" or in"
    } else {
        "see docs/engine-file.md for the form of the file"
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn problem(text: &str) -> Problem {
        let source = SourceText { file: "e.toml".into(), text: text.into() };
        let mut sources = Sources::default();
        // A text before it, so that the shift is tested too.
        let first = SourceText { file: "p.toml".into(), text: "[engine]\n".into() };
        sources.read(first).expect("good");
        sources.read(source).map(|_| ()).unwrap_err()
    }

    #[test]
    fn faults_are_placed() {
        let p = problem("[engine]\nname = \"A\"\ncolour = \"green\"\n");
        assert_eq!((p.place.line, p.place.column), (3, 1), "{p}");
        assert!(p.what.contains("colour"), "{p}");
        let p = problem("[[feature]]\nid = \"a\"\nas-made = 7.5\n");
        assert_eq!(p.place.line, 3, "{p}");
        assert!(p.mend.contains("unit"), "{p}");
        let p = problem("[engine\n");
        assert_eq!(p.place.line, 1, "{p}");
    }

    #[test]
    fn not_utf8_is_placed() {
        let p = SourceText::from_bytes("e.toml", b"[engine]\nname = \"\xB0\"").unwrap_err();
        assert_eq!((p.place.line, p.place.column), (2, 9), "{p}");
    }
}
