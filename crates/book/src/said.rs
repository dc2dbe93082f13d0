//! Everything that can be said about an engine.
//!
//! The shapes here are the stored form: fields are added only with a new [`crate::FORMAT`], and
//! every form ever written stays readable.

use crate::{Error, Role};
use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};

/// A size a feature will be made to, as written.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MadeTo {
    /// Feature.
    pub feature: String,
    /// Size and unit, as written.
    pub to: String,
}

macro_rules! said {
    ($($(#[$doc:meta])* $variant:ident $kind:literal { $($(#[$field_doc:meta])* $field:ident: $type:ty,)* })*) => {
        /// What an entry says.
        #[derive(Clone, Debug, PartialEq, Eq)]
        #[non_exhaustive]
        pub enum Said {
            $($(#[$doc])* $variant { $($(#[$field_doc])* $field: $type,)* },)*
        }

        $(
            #[derive(Serialize, Deserialize)]
            #[serde(deny_unknown_fields)]
            struct $variant { $($field: $type,)* }
        )*

        impl Said {
            /// The word for this kind of entry in the stored form.
            pub fn kind(&self) -> &'static str {
                match self { $(Said::$variant { .. } => $kind,)* }
            }

            pub(crate) fn body(&self) -> Result<String, serde_json::Error> {
                match self {
                    $(Said::$variant { $($field),* } => serde_json::to_string(
                        &$variant { $($field: $field.clone(),)* }
                    ),)*
                }
            }

            pub(crate) fn read(kind: &str, body: &str) -> Result<Said, Error> {
                match kind {
                    $($kind => parse::<$variant>(kind, body)
                        .map(|$variant { $($field),* }| Said::$variant { $($field),* }),)*
                    other => Err(Error::Damaged(format!("there is no kind of entry \"{other}\""))),
                }
            }
        }
    };
}

fn parse<T: DeserializeOwned>(kind: &str, body: &str) -> Result<T, Error> {
    serde_json::from_str(body).map_err(|e| Error::Damaged(format!("{kind}: {e}")))
}

said! {
    /// The book was begun. Always the first entry, and only that.
    Started "started" {
        /// Name or number of the engine.
        name: String,
    }
    /// A person was added, or their roles or password changed.
    Person "person" {
        /// Name.
        name: String,
        /// Roles from now on; none takes them all away.
        roles: Vec<Role>,
        /// Argon2id hash in PHC form, or empty.
        password: String,
    }
    /// The engine was described or changed: one file of its description, whole.
    Described "described" {
        /// Name of the file; a later text of the same name takes its place.
        file: String,
        /// Its text.
        text: String,
    }
    /// Readings, as they stood in a table, heading and all.
    Readings "readings" {
        /// Name of the table.
        file: String,
        /// Its text.
        table: String,
    }
    /// A gauge was calibrated.
    Calibrated "calibrated" {
        /// Gauge.
        gauge: String,
        /// Day, year-month-day.
        on: String,
        /// Day it runs out, or empty.
        due: String,
        /// Known correction as written, or empty.
        correction: String,
        /// Certificate or remark.
        note: String,
    }
    /// A tag was tied to a part.
    Tagged "tagged" {
        /// Part.
        part: String,
        /// Code.
        tag: String,
    }
    /// A part, or a tin with parts in it, was put somewhere.
    Moved "moved" {
        /// Part or tin.
        thing: String,
        /// Place, a tin, or `engine` when it went back on.
        to: String,
    }
    /// A part was found in a condition.
    Found "found" {
        /// Part.
        part: String,
        /// Feature, or empty for the part as a whole.
        feature: String,
        /// Condition, in one of the engine's words where a feature is named.
        condition: String,
        /// Remark.
        note: String,
    }
    /// A photograph or drawing was attached.
    Attached "attached" {
        /// Part, joint or feature it shows.
        about: String,
        /// File name as it came.
        name: String,
        /// What it is by its content: image/jpeg, image/png, application/pdf.
        media: String,
        /// SHA-256 of the bytes as kept.
        sha256: String,
        /// Their number.
        bytes: u64,
        /// SHA-256 of a small picture of it, or empty.
        thumbnail: String,
        /// Remark.
        note: String,
    }
    /// It was decided what will be done with a joint.
    Decided "decided" {
        /// Joint.
        joint: String,
        /// Repair, in the engine's words.
        repair: String,
        /// Sizes; none leaves them to be worked out.
        make: Vec<MadeTo>,
        /// Why.
        reason: String,
    }
    /// Work was done.
    Worked "worked" {
        /// Part or joint.
        about: String,
        /// What.
        what: String,
        /// Hold point that the work has reached, or empty.
        reaches: String,
    }
    /// A point in the work that cannot be passed unsigned.
    HoldPoint "hold-point" {
        /// Short name.
        id: String,
        /// Part or joint whose work it stops.
        about: String,
        /// What is to be looked at.
        what: String,
        /// Who did the work may not release it.
        not_by_doer: bool,
    }
    /// A hold point was released.
    Released "released" {
        /// Hold point.
        hold_point: String,
        /// What was seen.
        note: String,
    }
    /// A part, a joint or the engine was signed off.
    SignedOff "signed-off" {
        /// Part, joint or `engine`.
        about: String,
        /// What is signed.
        what: String,
    }
    /// An earlier entry no longer counts.
    StruckOut "struck-out" {
        /// Hash of the entry.
        entry: String,
        /// Why.
        reason: String,
    }
    /// One figure among readings no longer counts.
    FigureStruckOut "figure-struck-out" {
        /// Feature.
        feature: String,
        /// Figure, character for character.
        value: String,
        /// Station, or empty.
        station: String,
        /// Direction, or empty.
        direction: String,
        /// Why.
        reason: String,
    }
    /// A remark.
    Note "note" {
        /// What it is about.
        about: String,
        /// The remark.
        text: String,
    }
    /// Two copies of the book that had each gained entries were joined.
    Joined "joined" {
        /// Last entry both had.
        fork: u64,
        /// Head of each copy.
        heads: Vec<String>,
        /// What the copies say that cannot both be, for a person to settle.
        contradictions: Vec<Contradiction>,
    }
}

/// Two entries that cannot both stand.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Contradiction {
    /// `decision`, `place`, `tag`, `description`, `calibration` or `person`.
    pub kind: String,
    /// Joint, part, tag, file, gauge or person.
    pub about: String,
    /// Hashes of the entries, one of each copy.
    pub entries: Vec<String>,
}

impl Said {
    /// The text that a search looks through.
    pub fn words(&self) -> String {
        let texts: Vec<&str> = match self {
            Said::Started { name } => vec![name],
            Said::Person { name, .. } => vec![name],
            Said::Described { file, text } => vec![file, text],
            Said::Readings { file, table } => vec![file, table],
            Said::Calibrated { gauge, on, due, correction, note } => {
                vec![gauge, on, due, correction, note]
            }
            Said::Tagged { part, tag } => vec![part, tag],
            Said::Moved { thing, to } => vec![thing, to],
            Said::Found { part, feature, condition, note } => vec![part, feature, condition, note],
            Said::Attached { about, name, note, .. } => vec![about, name, note],
            Said::Decided { joint, repair, make, reason } => {
                let sizes = make.iter().flat_map(|m| [m.feature.as_str(), m.to.as_str()]);
                [joint.as_str(), repair, reason].into_iter().chain(sizes).collect()
            }
            Said::Worked { about, what, reaches } => vec![about, what, reaches],
            Said::HoldPoint { id, about, what, .. } => vec![id, about, what],
            Said::Released { hold_point, note } => vec![hold_point, note],
            Said::SignedOff { about, what } => vec![about, what],
            Said::StruckOut { reason, .. } => vec![reason],
            Said::FigureStruckOut { feature, value, station, direction, reason } => {
                vec![feature, value, station, direction, reason]
            }
            Said::Note { about, text } => vec![about, text],
            Said::Joined { contradictions, .. } => {
                contradictions.iter().map(|c| c.about.as_str()).collect()
            }
        };
        texts.join("\n")
    }
}
