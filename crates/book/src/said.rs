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
    ($($(#[$doc:meta])* $variant:ident $kind:literal since $since:literal { $($(#[$field_doc:meta])* $field:ident: $type:ty,)* })*) => {
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

            /// The form of entries that this kind came with.
            pub(crate) fn since(&self) -> u32 {
                match self { $(Said::$variant { .. } => $since,)* }
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
    Started "started" since 1 {
        /// Name or number of the engine.
        name: String,
    }
    /// A person was added, or their roles or password changed.
    Person "person" since 1 {
        /// Name.
        name: String,
        /// Roles from now on; none takes them all away.
        roles: Vec<Role>,
        /// Argon2id hash in PHC form, or empty.
        password: String,
    }
    /// The engine was described or changed: one file of its description, whole.
    Described "described" since 1 {
        /// Name of the file; a later text of the same name takes its place.
        file: String,
        /// Its text.
        text: String,
    }
    /// Readings, as they stood in a table, heading and all.
    Readings "readings" since 1 {
        /// Name of the table.
        file: String,
        /// Its text.
        table: String,
    }
    /// A gauge was calibrated.
    Calibrated "calibrated" since 1 {
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
    Tagged "tagged" since 1 {
        /// Part.
        part: String,
        /// Code.
        tag: String,
    }
    /// A part, or a tin with parts in it, was put somewhere.
    Moved "moved" since 1 {
        /// Part or tin.
        thing: String,
        /// Place, a tin, or `engine` when it went back on.
        to: String,
    }
    /// A part was found in a condition.
    Found "found" since 1 {
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
    Attached "attached" since 1 {
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
    Decided "decided" since 1 {
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
    Worked "worked" since 1 {
        /// Part or joint.
        about: String,
        /// What.
        what: String,
        /// Hold point that the work has reached, or empty.
        reaches: String,
    }
    /// A point in the work that cannot be passed unsigned.
    HoldPoint "hold-point" since 1 {
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
    Released "released" since 1 {
        /// Hold point.
        hold_point: String,
        /// What was seen.
        note: String,
    }
    /// A part, a joint or the engine was signed off.
    SignedOff "signed-off" since 1 {
        /// Part, joint or `engine`.
        about: String,
        /// What is signed.
        what: String,
    }
    /// An earlier entry no longer counts.
    StruckOut "struck-out" since 1 {
        /// Hash of the entry.
        entry: String,
        /// Why.
        reason: String,
    }
    /// One figure among readings no longer counts.
    FigureStruckOut "figure-struck-out" since 1 {
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
    Note "note" since 1 {
        /// What it is about.
        about: String,
        /// The remark.
        text: String,
    }
    /// Two copies of the book that had each gained entries were joined.
    Joined "joined" since 1 {
        /// Last entry both had.
        fork: u64,
        /// Head of each copy.
        heads: Vec<String>,
        /// What the copies say that cannot both be, for a person to settle.
        contradictions: Vec<Contradiction>,
    }
    /// A work of the plan is done.
    WorkDone "work-done" since 2 {
        /// Work, by its id in the plan.
        work: String,
        /// The way in which it was done, or empty.
        way: String,
        /// Minutes it took, as written, or empty.
        minutes: String,
        /// Remark.
        note: String,
    }
    /// A work of the plan cannot go on.
    WorkStuck "work-stuck" since 2 {
        /// Work, by its id in the plan.
        work: String,
        /// The way that does not go, or empty for the work as a whole.
        way: String,
        /// Why.
        why: String,
    }
    /// A work was ticked by mistake: it is neither done nor stuck.
    WorkUndone "work-undone" since 2 {
        /// Work, by its id in the plan.
        work: String,
        /// Why.
        why: String,
    }
    /// What a day was meant to bring; a later one for the same day takes its place.
    DayPlanned "day-planned" since 2 {
        /// Day, year-month-day.
        day: String,
        /// Who was there.
        crew: Vec<String>,
        /// The day's sheet as it was handed out.
        text: String,
    }
    /// The responsible engineer lets something run beyond a limit until a day. A later one on the
    /// same thing and limit takes its place.
    Concession "concession" since 2 {
        /// Joint, feature or part.
        about: String,
        /// The limit that is passed.
        limit: String,
        /// What is allowed, and under what conditions.
        what: String,
        /// Last day it holds, year-month-day.
        until: String,
        /// Why.
        reason: String,
    }
    /// A concession no longer holds.
    ConcessionClosed "concession-closed" since 2 {
        /// Joint, feature or part.
        about: String,
        /// The limit.
        limit: String,
        /// Why.
        reason: String,
    }
    /// A device may write as a person, with a token it keeps. A later one for the same device takes
    /// its place.
    DeviceToken "device-token" since 2 {
        /// Device.
        device: String,
        /// Person whose entries it writes.
        person: String,
        /// SHA-256 of the token.
        hash: String,
        /// Last day (UTC) it is taken, year-month-day.
        until: String,
    }
    /// A device may write no longer.
    DeviceTokenWithdrawn "device-token-withdrawn" since 2 {
        /// Device.
        device: String,
        /// Why.
        reason: String,
    }
}

/// Two entries that cannot both stand.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Contradiction {
    /// `decision`, `place`, `tag`, `description`, `calibration`, `person`, `work`, `day`,
    /// `concession`, `device` or `key`.
    pub kind: String,
    /// Joint, part, tag, file, gauge, person, work, day, device or key.
    pub about: String,
    /// Hashes with which the entries were first written, one of each copy.
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
            Said::WorkDone { work, way, minutes, note } => vec![work, way, minutes, note],
            Said::WorkStuck { work, way, why } => vec![work, way, why],
            Said::WorkUndone { work, why } => vec![work, why],
            Said::DayPlanned { day, crew, text } => {
                [day.as_str(), text].into_iter().chain(crew.iter().map(String::as_str)).collect()
            }
            Said::Concession { about, limit, what, until, reason } => {
                vec![about, limit, what, until, reason]
            }
            Said::ConcessionClosed { about, limit, reason } => vec![about, limit, reason],
            // A token's hash is nobody's word.
            Said::DeviceToken { device, person, until, .. } => vec![device, person, until],
            Said::DeviceTokenWithdrawn { device, reason } => vec![device, reason],
        };
        texts.join("\n")
    }
}
