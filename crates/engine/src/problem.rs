//! What is wrong with an input, where, and how to mend it.
//!
//! Reading an engine never stops at the first fault: every problem found is kept, each with its
//! place, so that a person mends them all in one go.

use std::fmt;

/// A place in a file, counted from 1 as editors do.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Place {
    /// File name as the caller gave it.
    pub file: String,
    /// Line, from 1; 0 when the fault belongs to the file as a whole.
    pub line: usize,
    /// Column in characters, from 1; 0 when the fault belongs to the whole line.
    pub column: usize,
}

impl Place {
    /// A place that is the file as a whole.
    pub fn file(file: &str) -> Self {
        Place { file: file.to_owned(), line: 0, column: 0 }
    }

    /// The place of a byte offset in a text.
    pub fn at(file: &str, text: &str, offset: usize) -> Self {
        let mut offset = offset.min(text.len());
        while !text.is_char_boundary(offset) {
            offset -= 1;
        }
        let before = &text[..offset];
        let line_start = before.rfind('\n').map_or(0, |i| i + 1);
        Place {
            file: file.to_owned(),
            line: before.bytes().filter(|b| *b == b'\n').count() + 1,
            column: before[line_start..].chars().count() + 1,
        }
    }
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match (self.line, self.column) {
            (0, _) => write!(f, "{}", self.file),
            (line, 0) => write!(f, "{}:{line}", self.file),
            (line, column) => write!(f, "{}:{line}:{column}", self.file),
        }
    }
}

/// One fault in an input: where it is, what it is, and the mend.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problem {
    /// Where.
    pub place: Place,
    /// What is wrong, with the value that is wrong.
    pub what: String,
    /// What to do about it; empty when nothing better than the statement can be said.
    pub mend: String,
}

impl Problem {
    /// A problem at a place.
    pub fn new(place: Place, what: impl Into<String>, mend: impl Into<String>) -> Self {
        Problem { place, what: what.into(), mend: mend.into() }
    }
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.place, self.what)?;
        if !self.mend.is_empty() {
            write!(f, "\n    mend: {}", self.mend)?;
        }
        Ok(())
    }
}

/// The nearest of some known names to one that is not known, for "did you mean".
pub(crate) fn nearest<'a>(wanted: &str, known: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    // A long list makes the search quadratic in the number of faults; a spelling hint is not
    // worth that.
    known
        .take(5_000)
        .map(|name| (edit_distance(wanted, name), name))
        .filter(|(distance, name)| *distance <= 2 + name.chars().count() / 6)
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, name)| name)
}

fn edit_distance(a: &str, b: &str) -> usize {
    let b: Vec<char> = b.chars().take(80).collect();
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, ca) in a.chars().take(80).enumerate() {
        let mut diagonal = row[0];
        row[0] = i + 1;
        for (j, cb) in b.iter().enumerate() {
            let substituted = diagonal + usize::from(ca != *cb);
            diagonal = row[j + 1];
            row[j + 1] = substituted.min(row[j] + 1).min(diagonal + 1);
        }
    }
    row[b.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn place_counts_lines_and_characters() {
        let text = "ab\nçd\n";
        assert_eq!(Place::at("f", text, 0), Place { file: "f".into(), line: 1, column: 1 });
        assert_eq!(Place::at("f", text, 5), Place { file: "f".into(), line: 2, column: 2 });
        assert_eq!(Place::at("f", text, 4).column, 1, "inside a character: its start");
        assert_eq!(Place::at("f", text, 999).line, 3);
    }

    #[test]
    fn nearest_finds_slips_only() {
        let known = ["rod.left", "rod.right", "strap.left"];
        assert_eq!(nearest("rod.lft", known.into_iter()), Some("rod.left"));
        assert_eq!(nearest("firebox", known.into_iter()), None);
    }
}
