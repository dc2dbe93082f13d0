//! What an entry is about: the names under which its history is found.

use crate::{Fold, Said};
use engine::model::Engine;
use std::collections::BTreeSet;

impl Fold {
    /// The names under which a thing is spoken of: a joint brings its features, a part its features
    /// and its tag, a tag its part; each brings its hold points. Without an engine only what the
    /// book itself knows.
    pub fn names_of(&self, about: &str, engine: Option<&Engine>) -> BTreeSet<String> {
        let mut names = BTreeSet::from([about.to_owned()]);
        if let Ok((name, thing)) = self.thing(about) {
            names.insert(name.to_owned());
            names.extend(thing.tag.clone());
        }
        if let Some(engine) = engine {
            if let Some(ix) = engine.joint_by_id(about) {
                let joint = engine.joint(ix);
                for f in [joint.inner, joint.outer].into_iter().chain(joint.fills.iter().copied()) {
                    names.insert(engine.feature(f).id.clone());
                }
            }
            let parts: BTreeSet<String> = names.clone();
            for feature in &engine.features {
                if parts.contains(&engine.parts[feature.part.index()].id) {
                    names.insert(feature.id.clone());
                }
            }
        }
        let points: Vec<String> = self
            .hold_points()
            .iter()
            .filter(|p| names.contains(&p.about))
            .map(|p| p.id.clone())
            .collect();
        names.extend(points);
        names
    }
}

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
