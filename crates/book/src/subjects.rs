//! What an entry is about: the names under which its history is found.

use crate::Said;
use std::collections::BTreeSet;

impl Said {
    /// Parts, joints, features, gauges, hold points, tags, works, days and devices this entry
    /// speaks of.
    pub fn subjects(&self) -> BTreeSet<String> {
        let mut names = BTreeSet::new();
        let mut add = |text: &str| {
            let text = text.trim();
            if !text.is_empty() {
                names.insert(text.to_owned());
            }
        };
        match self {
            Said::Readings { table, .. } => features_of(table, &mut add),
            Said::Calibrated { gauge, .. } => add(gauge),
            Said::Tagged { part, tag } => {
                add(part);
                add(tag);
            }
            Said::Moved { thing, to } => {
                add(thing);
                add(to);
            }
            Said::Found { part, feature, .. } => {
                add(part);
                add(feature);
            }
            Said::Attached { about, .. }
            | Said::SignedOff { about, .. }
            | Said::Note { about, .. } => add(about),
            Said::Decided { joint, make, .. } => {
                add(joint);
                make.iter().for_each(|m| add(&m.feature));
            }
            Said::Worked { about, reaches, .. } => {
                add(about);
                add(reaches);
            }
            Said::HoldPoint { id, about, .. } => {
                add(id);
                add(about);
            }
            Said::Released { hold_point, .. } => add(hold_point),
            Said::FigureStruckOut { feature, .. } => add(feature),
            Said::Person { name, .. } => add(name),
            Said::Joined { contradictions, .. } => {
                contradictions.iter().for_each(|c| add(&c.about))
            }
            Said::WorkDone { work, .. }
            | Said::WorkStuck { work, .. }
            | Said::WorkUndone { work, .. } => add(work),
            Said::DayPlanned { day, crew, .. } => {
                add(day);
                crew.iter().for_each(|who| add(who));
            }
            Said::Concession { about, .. } | Said::ConcessionClosed { about, .. } => add(about),
            Said::DeviceToken { device, person, .. } => {
                add(device);
                add(person);
            }
            Said::DeviceTokenWithdrawn { device, .. } => add(device),
            Said::Started { .. } | Said::Described { .. } | Said::StruckOut { .. } => {}
        }
        names
    }
}

/// The features a table names. Reads it as loosely as it can: this only finds, it does not judge.
fn features_of(table: &str, add: &mut impl FnMut(&str)) {
    let mut rows = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .delimiter(crate::fold::delimiter_of(table))
        .from_reader(table.trim_start_matches('\u{feff}').as_bytes());
    let mut column = None;
    for row in rows.records().map_while(Result::ok) {
        match column {
            None => {
                let at = row.iter().position(|c| c.trim().eq_ignore_ascii_case("feature"));
                if row.iter().all(|c| c.trim().is_empty()) {
                    continue;
                }
                let Some(at) = at else { return };
                column = Some(at);
            }
            Some(at) => add(row.get(at).unwrap_or("")),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tables_are_about_their_features() {
        let table =
            "\u{feff}station;feature;reading\n1;crank.left;7,5 mm\n2;\"crank.left\";x\n;rod;1\n";
        let said = Said::Readings { file: "t".into(), table: table.into() };
        assert_eq!(said.subjects().into_iter().collect::<Vec<_>>(), ["crank.left", "rod"]);
    }
}
