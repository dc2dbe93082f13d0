//! The names an entry must have, and what no name may have in it.

use crate::{Error, Said};

/// Longest name, bytes.
const LONGEST: usize = 300;

impl Said {
    /// The names in it: what each is called, and whether it must be given.
    fn names(&self) -> Vec<(&'static str, &str, bool)> {
        match self {
            Said::Started { name } => vec![("the name of the engine", name, true)],
            Said::Person { name, .. } => vec![("the name", name, true)],
            Said::Described { file, .. } | Said::Readings { file, .. } => {
                vec![("the name of the file", file, true)]
            }
            Said::Calibrated { gauge, .. } => vec![("the gauge", gauge, true)],
            Said::Tagged { part, .. } => vec![("the part", part, true)],
            Said::Moved { thing, to } => vec![("the part", thing, true), ("the place", to, true)],
            Said::Found { part, feature, condition, .. } => vec![
                ("the part", part, feature.is_empty()),
                ("the feature", feature, false),
                ("the condition", condition, true),
            ],
            Said::Attached { about, name, .. } => vec![
                ("the part, joint or feature it shows", about, true),
                ("the name of the file", name, true),
            ],
            Said::Decided { joint, repair, .. } => {
                vec![("the joint", joint, true), ("the repair", repair, true)]
            }
            Said::Worked { about, reaches, .. } => {
                vec![("the part or joint", about, true), ("the hold point", reaches, false)]
            }
            Said::HoldPoint { id, about, .. } => {
                vec![("the name of the hold point", id, true), ("the part or joint", about, true)]
            }
            Said::Released { hold_point, .. } => vec![("the hold point", hold_point, true)],
            Said::SignedOff { about, .. } => vec![("what is signed off", about, true)],
            Said::FigureStruckOut { feature, .. } => vec![("the feature", feature, true)],
            Said::Note { about, .. } => vec![("what it is about", about, true)],
            Said::WorkDone { work, way, .. } | Said::WorkStuck { work, way, .. } => {
                vec![("the work", work, true), ("the way", way, false)]
            }
            Said::WorkUndone { work, .. } => vec![("the work", work, true)],
            Said::DayPlanned { day, crew, .. } => std::iter::once(("the day", day.as_str(), true))
                .chain(crew.iter().map(|who| ("who is there", who.as_str(), true)))
                .collect(),
            Said::Concession { about, limit, .. } | Said::ConcessionClosed { about, limit, .. } => {
                vec![("the joint, feature or part", about, true), ("the limit", limit, true)]
            }
            Said::DeviceToken { device, person, .. } => {
                vec![("the device", device, true), ("the person", person, true)]
            }
            Said::DeviceTokenWithdrawn { device, .. } => vec![("the device", device, true)],
            Said::StruckOut { .. } | Said::Joined { .. } => Vec::new(),
        }
    }
}

/// Whether a character moves the cursor, changes colours or turns the text round instead of being
/// read.
fn hidden(c: char) -> bool {
    c.is_control()
        || matches!(c, '\u{200E}' | '\u{200F}' | '\u{202A}'..='\u{202E}' | '\u{2066}'..='\u{2069}')
}

/// Every name that must be there is, and each is one that a person can read.
pub(super) fn names_are_given(said: &Said) -> Result<(), Error> {
    for (what, text, must) in said.names() {
        if must && text.trim().is_empty() {
            return Err(Error::wrong(format!("{what} is not given"), ""));
        }
        if LONGEST < text.len() || text.chars().any(hidden) {
            let begins: String = text.chars().take(40).collect();
            return Err(Error::wrong(
                format!("{what} cannot be \"{}\"", begins.escape_debug()),
                format!("a name of one line, at most {LONGEST} bytes, without control characters"),
            ));
        }
    }
    Ok(())
}
