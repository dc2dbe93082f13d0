//! Names that are most likely slips of the pen.

use crate::say;
use book::{Book, Said};

/// Tells of a name that the engine does not know but knows something like: most likely a slip. It is
/// written all the same, for not everything that is said is about what was described.
pub(super) fn unknown_names(book: &Book, said: &Said) {
    let about = match said {
        Said::Tagged { part, .. } | Said::Found { part, .. } => part,
        Said::Moved { thing, .. } => thing,
        Said::Attached { about, .. }
        | Said::Worked { about, .. }
        | Said::HoldPoint { about, .. }
        | Said::SignedOff { about, .. }
        | Said::Concession { about, .. }
        | Said::Note { about, .. } => about,
        _ => return,
    };
    let mut texts = book.fold().engine_sources().texts;
    // Only what was described: the book's own text has every part that was ever moved or tagged.
    texts.retain(|text| text.file != book::BY_THE_BOOK);
    if texts.is_empty() || about == "engine" {
        return;
    }
    let (engine, _) = engine::load(texts, None).finish();
    let names = || {
        let parts = engine.parts.iter().map(|p| p.id.as_str());
        let joints = engine.joints.iter().map(|j| j.id.as_str());
        parts.chain(joints).chain(engine.features.iter().map(|f| f.id.as_str()))
    };
    if names().any(|name| name == about) {
        return;
    }
    if let Some(near) = names().find(|name| slips(name, about, 2)) {
        eprintln!(
            "\"{}\" is nothing the engine's description knows; did you mean \"{near}\"? (`pinchbar book strike` takes an entry back)",
            say::book::plain(about)
        );
    }
}

/// Whether at most so many characters were left out, put in or changed.
fn slips(a: &str, b: &str, most: usize) -> bool {
    let (a, b): (Vec<char>, Vec<char>) = (a.chars().collect(), b.chars().collect());
    if most < a.len().abs_diff(b.len()) || a.len() <= 2 * most {
        return false;
    }
    // Row by row of the table of distances (Wagner and Fischer 1974).
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, from) in a.iter().enumerate() {
        let mut corner = std::mem::replace(&mut row[0], i + 1);
        for (j, to) in b.iter().enumerate() {
            let changed = corner + usize::from(from != to);
            corner = row[j + 1];
            row[j + 1] = changed.min(row[j] + 1).min(corner + 1);
        }
    }
    row[b.len()] <= most
}
