//! Words of a person on their way to the page.

use serde::{Serialize, Serializer};

/// Runs longer than this without a place to break are given one.
const LONGEST_RUN: usize = 22;
/// Longer texts are cut; the report says so.
const LONGEST_TEXT: usize = 600;

/// A text that may be broken wherever it has to be.
///
/// It reaches the typesetter as one string, or as a list of pieces between which a line may break
/// without a hyphen: ids are long and columns narrow, and an id copied out of the PDF must come
/// out whole.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Words(String);

impl Words {
    /// Takes a text as it is, but for control characters and an absurd length.
    pub(crate) fn new(text: &str) -> Words {
        let mut out = String::with_capacity(text.len().min(4 * LONGEST_TEXT));
        for (i, c) in text.chars().enumerate() {
            if i == LONGEST_TEXT {
                out.push('…');
                break;
            }
            out.push(match c {
                '\n' | '\r' | '\t' => ' ',
                c if c.is_control() => '\u{FFFD}',
                // These turn the direction of all that follows them.
                '\u{202A}'..='\u{202E}' | '\u{2066}'..='\u{2069}' => '\u{FFFD}',
                c => c,
            });
        }
        Words(out)
    }

    /// Whether a text is cut on the page.
    pub(crate) fn cuts(text: &str) -> bool {
        text.chars().nth(LONGEST_TEXT).is_some()
    }

    /// The text.
    pub(crate) fn text(&self) -> &str {
        &self.0
    }

    /// Nothing to print.
    pub(crate) fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// Pieces between which a line may break; one piece when no run is long.
    fn pieces(&self) -> Vec<&str> {
        if self.0.split_whitespace().all(|w| w.chars().count() <= LONGEST_RUN / 2) {
            return vec![&self.0];
        }
        self.pieces_of(LONGEST_RUN)
    }

    /// Pieces with runs up to a length.
    fn pieces_of(&self, longest: usize) -> Vec<&str> {
        let mut pieces = Vec::new();
        let (mut start, mut run, mut previous) = (0, 0, ' ');
        for (at, c) in self.0.char_indices() {
            let between = matches!(previous, '.' | '/' | '_' | ':' | '=') && c.is_alphanumeric();
            if (between && run > 2) || run >= longest {
                pieces.push(&self.0[start..at]);
                (start, run) = (at, 0);
            }
            run = if c.is_whitespace() { 0 } else { run + 1 };
            previous = c;
        }
        pieces.push(&self.0[start..]);
        pieces
    }
}

impl From<&str> for Words {
    fn from(text: &str) -> Words {
        Words::new(text)
    }
}

impl From<&String> for Words {
    fn from(text: &String) -> Words {
        Words::new(text)
    }
}

impl From<String> for Words {
    fn from(text: String) -> Words {
        Words::new(&text)
    }
}

impl Serialize for Words {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self.pieces().as_slice() {
            [one] => serializer.serialize_str(one),
            many => serializer.collect_seq(many),
        }
    }
}

/// A text for a column that takes N letters.
#[derive(Clone, Debug)]
pub(crate) struct Narrow<const N: usize>(Words);

impl<const N: usize> From<&String> for Narrow<N> {
    fn from(text: &String) -> Narrow<N> {
        Narrow(Words::from(text))
    }
}

impl<const N: usize> Narrow<N> {
    /// A text as it is, but for control characters and an absurd length.
    pub(crate) fn new(text: &str) -> Narrow<N> {
        Narrow(Words::new(text))
    }
}

impl<const N: usize> Serialize for Narrow<N> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        if self.0.text().split_whitespace().all(|w| w.chars().count() <= N) {
            serializer.serialize_str(self.0.text())
        } else {
            serializer.collect_seq(self.0.pieces_of(N))
        }
    }
}

/// A text for a wide column: broken like [`Words`], but only where a run would not fit, because a
/// long list of pieces takes the typesetter time.
#[derive(Clone, Debug)]
pub(crate) struct Line(Words);

/// Runs up to this fit a wide column.
const FITTING_RUN: usize = 40;

impl From<Words> for Line {
    fn from(words: Words) -> Line {
        Line(words)
    }
}

impl Serialize for Line {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        if self.0.text().split_whitespace().all(|w| w.chars().count() <= FITTING_RUN) {
            serializer.serialize_str(self.0.text())
        } else {
            self.0.serialize(serializer)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str, pieces: &[&str]) {
        assert_eq!(Words::new(text).pieces(), pieces, "{text}");
    }

    #[test]
    fn breaks_ids_at_their_joints() {
        check("clearance 0.61 mm", &["clearance 0.61 mm"]);
        check("big-end.left.bore", &["big-end.", "left.", "bore"]);
        check("", &[""]);
        let long = "x".repeat(50);
        check(&long, &[&long[..22], &long[22..44], &long[44..]]);
    }

    #[test]
    fn pieces_make_the_whole() {
        for text in ["a.b.c/d_e", "#panic() $x$ \\ `", &"æ".repeat(100), "1.25 mm of 0.5"] {
            assert_eq!(Words::new(text).pieces().concat(), text);
        }
    }

    #[test]
    fn cuts_the_absurd_and_the_hidden() {
        assert_eq!(Words::new(&"n".repeat(4000)).text().chars().count(), LONGEST_TEXT + 1);
        assert!(Words::cuts(&"n".repeat(4000)) && !Words::cuts("n"));
        assert_eq!(Words::new("a\u{0}b\u{202E}c\nd").text(), "a\u{FFFD}b\u{FFFD}c d");
    }
}
