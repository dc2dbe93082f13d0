//! What an entry says, in a line.

use book::Said;

/// A remark in brackets, where there is one.
fn with(text: String, more: &str) -> String {
    if more.is_empty() { text } else { format!("{text} ({more})") }
}

/// The line.
pub(crate) fn line_of(said: &Said) -> String {
    match said {
        Said::Started { name } => format!("began the book of {name}"),
        Said::Person { name, roles, .. } => {
            let roles: Vec<String> = roles.iter().map(ToString::to_string).collect();
            if roles.is_empty() {
                format!("{name} has no role any more")
            } else {
                format!("{name}: {}", roles.join(", "))
            }
        }
        Said::Described { file, text } => {
            format!("described the engine: {file}, {} lines", text.lines().count())
        }
        Said::Readings { file, table } => {
            let rows: Vec<&str> = table.lines().filter(|l| !l.trim().is_empty()).skip(1).collect();
            match rows.as_slice() {
                [one] => format!("reading: {}", one.trim()),
                many => format!("{} readings ({file})", many.len()),
            }
        }
        Said::Calibrated { gauge, on, due, correction, note } => {
            let mut text = format!("{gauge} calibrated {on}");
            for (word, value) in [("until", due), ("correction", correction)] {
                if !value.is_empty() {
                    text.push_str(&format!(", {word} {value}"));
                }
            }
            with(text, note)
        }
        Said::Tagged { part, tag } => format!("{part} has tag {tag}"),
        Said::Moved { thing, to } if to == "engine" => format!("{thing} went back on the engine"),
        Said::Moved { thing, to } => format!("{thing} put in {to}"),
        Said::Found { part, feature, condition, note } => {
            with(format!("{} found {condition}", if feature.is_empty() { part } else { feature }), note)
        }
        Said::Attached { about, name, media, sha256, note, .. } => {
            with(format!("{name} ({media}) of {about}, sha256 {sha256}"), note)
        }
        Said::Decided { joint, repair, make, reason } => {
            let sizes: String = make.iter().map(|m| format!(", {} to {}", m.feature, m.to)).collect();
            with(format!("decided {joint}: {repair}{sizes}"), reason)
        }
        Said::Worked { about, what, reaches } if reaches.is_empty() => format!("{about}: {what}"),
        Said::Worked { about, what, reaches } => {
            format!("{about}: {what} (reaches hold point {reaches})")
        }
        Said::HoldPoint { id, about, what, not_by_doer } => with(
            format!("hold point {id} on {about}: {what}"),
            if *not_by_doer { "not released by who did the work" } else { "" },
        ),
        Said::Released { hold_point, note } => with(format!("released hold point {hold_point}"), note),
        Said::SignedOff { about, what } => format!("signed off {about}: {what}"),
        Said::StruckOut { entry, reason } => {
            format!("struck out the entry {}: {reason}", entry.get(..8).unwrap_or(entry))
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
            let mut text = format!("done: {work}");
            if !way.is_empty() {
                text.push_str(&format!(", {way}"));
            }
            if !minutes.is_empty() {
                text.push_str(&format!(", {minutes} min"));
            }
            with(text, note)
        }
        Said::WorkStuck { work, way, why } if way.is_empty() => format!("stuck: {work}: {why}"),
        Said::WorkStuck { work, way, why } => format!("stuck: {work}, {way}: {why}"),
        Said::WorkUndone { work, why } => format!("neither done nor stuck: {work}: {why}"),
        Said::DayPlanned { day, crew, .. } => {
            with(format!("the sheet of {day}"), &crew.join(", "))
        }
        Said::Concession { about, limit, what, until, reason } => {
            with(format!("concession on {about} for {limit} until {until}: {what}"), reason)
        }
        Said::ConcessionClosed { about, limit, reason } => {
            with(format!("closed the concession on {about} for {limit}"), reason)
        }
        Said::DeviceToken { device, person, until, .. } => {
            format!("the device {device} may write as {person} until {until}")
        }
        Said::DeviceTokenWithdrawn { device, reason } => {
            with(format!("the device {device} may write no longer"), reason)
        }
        other => format!("{}: {}", other.kind(), other.words().replace('\n', "; ")),
    }
}
