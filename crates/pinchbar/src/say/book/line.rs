//! An entry on one line.

use book::{Fold, Hash, Said};

/// An entry on one line; a struck entry by its number, by which the timeline lists it.
pub(super) fn line_of(fold: &Fold, said: &Said) -> String {
    let Said::StruckOut { entry, reason } = said else { return said.sentence() };
    let number = Hash::parse(entry).ok().and_then(|hash| fold.by_hash(&hash));
    let entry = number.map_or_else(|| entry.clone(), |n| n.to_string());
    format!("struck out entry {entry}: {reason}")
}
