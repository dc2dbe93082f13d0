//! An entry in one sentence, for whoever leafs through the book.

use crate::Said;

impl Said {
    /// What is said, on one line.
    pub fn sentence(&self) -> String {
        let with = |text: String, more: &str| {
            if more.is_empty() { text } else { format!("{text} ({more})") }
        };
        match self {
            Said::Started { name } => format!("began the book of {name}"),
            Said::Person { name, roles, .. } => {
                let roles: Vec<_> = roles.iter().map(ToString::to_string).collect();
                if roles.is_empty() {
                    format!("{name} has no role any more")
                } else {
                    format!("{name}: {}", roles.join(", "))
                }
            }
            Said::Described { file, text } => {
                let lines = text.lines().count();
                let lines = if lines == 1 { "1 line".to_owned() } else { format!("{lines} lines") };
                format!("described the engine: {file}, {lines}")
            }
            Said::Readings { file, table } => {
                let rows = table.lines().filter(|l| !l.trim().is_empty()).count().saturating_sub(1);
                format!("{rows} {} ({file})", if rows == 1 { "reading" } else { "readings" })
            }
            Said::Calibrated { gauge, on, due, note, .. } => {
                let due = if due.is_empty() { String::new() } else { format!(", due {due}") };
                with(format!("{gauge} calibrated {on}{due}"), note)
            }
            Said::Tagged { part, tag } => format!("{part} has tag {tag}"),
            Said::Moved { thing, to } if to == "engine" => {
                format!("{thing} went back on the engine")
            }
            Said::Moved { thing, to } => format!("{thing} put in {to}"),
            Said::Found { part, feature, condition, note } => {
                let what = if feature.is_empty() { part } else { feature };
                with(format!("{what} found {condition}"), note)
            }
            Said::Attached { about, name, media, sha256, note, .. } => {
                with(format!("{name} ({media}) of {about}, sha256 {sha256}"), note)
            }
            Said::Decided { joint, repair, make, reason } => {
                let sizes: Vec<_> =
                    make.iter().map(|m| format!("{} to {}", m.feature, m.to)).collect();
                let sizes = if sizes.is_empty() {
                    String::new()
                } else {
                    format!(", {}", sizes.join(", "))
                };
                with(format!("decided {joint}: {repair}{sizes}"), reason)
            }
            Said::Worked { about, what, reaches } => {
                let reached = if reaches.is_empty() {
                    String::new()
                } else {
                    format!("reaches hold point {reaches}")
                };
                with(format!("{about}: {what}"), &reached)
            }
            Said::HoldPoint { id, about, what, not_by_doer } => {
                let who = if *not_by_doer { "not by who did the work" } else { "" };
                with(format!("hold point {id} on {about}: {what}"), who)
            }
            Said::Released { hold_point, note } => {
                with(format!("released hold point {hold_point}"), note)
            }
            Said::SignedOff { about, what } => format!("signed off {about}: {what}"),
            Said::StruckOut { entry, reason } => {
                format!("struck out the entry {}...: {reason}", entry.get(..12).unwrap_or(entry))
            }
            Said::FigureStruckOut { feature, value, reason, .. } => {
                format!("struck out {value} of {feature}: {reason}")
            }
            Said::Note { about, text } => format!("{about}: {text}"),
            Said::Joined { fork, contradictions, .. } => format!(
                "joined two copies that had parted after entry {fork}; {} contradictions",
                contradictions.len()
            ),
            Said::WorkDone { work, way, minutes, note } => {
                let way = if way.is_empty() { String::new() } else { format!(", {way}") };
                let took =
                    if minutes.is_empty() { String::new() } else { format!(", {minutes} min") };
                with(format!("done: {work}{way}{took}"), note)
            }
            Said::WorkStuck { work, way, why } => {
                let way = if way.is_empty() { String::new() } else { format!(", {way}") };
                format!("STUCK: {work}{way}: {why}")
            }
            Said::WorkUndone { work, why } => format!("not done after all: {work}: {why}"),
            Said::DayPlanned { day, crew, text } => {
                let crew = crew.join(", ");
                with(format!("sheet for {day}: {}", text.lines().next().unwrap_or("")), &crew)
            }
            Said::Concession { about, limit, what, until, reason } => {
                with(format!("CONCESSION until {until} on {about}, beyond {limit}: {what}"), reason)
            }
            Said::ConcessionClosed { about, limit, reason } => {
                format!("concession on {about} for {limit} closed: {reason}")
            }
            Said::DeviceToken { device, person, until, .. } => {
                format!("{device} may write as {person} until {until}")
            }
            Said::DeviceTokenWithdrawn { device, reason } => {
                format!("{device} may write no longer: {reason}")
            }
        }
    }
}
