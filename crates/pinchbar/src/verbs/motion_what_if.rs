//! Changes that a question about the motion takes for granted: acts, and lines of the description.

use crate::failure::Failure;
use crate::folder::{Opened, open_with};
use engine::description::SourceText;
use engine::judge::Judgement;
use engine::model::Date;
use engine::repair::{Trial, parse_act};
use std::path::Path;

/// The name under which faults of a change are told.
const NAME: &str = "--if";

/// What is taken for granted.
pub(super) struct WhatIf {
    acts: Vec<String>,
    lines: String,
}

impl WhatIf {
    /// A change with an equals sign is a line of the description, any other an act as `try` takes
    /// them.
    pub(super) fn read(changes: &[String]) -> Result<WhatIf, Failure> {
        let mut out = WhatIf { acts: Vec::new(), lines: String::new() };
        let mut records = toml::Table::new();
        for change in changes {
            match change.split_once('=') {
                None => out.acts.push(change.clone()),
                Some((what, value)) => line(&mut records, what, value.trim()).ok_or_else(|| {
                    Failure::wrong(
                        format!("\"{change}\" does not say which line of the description"),
                        "write \"left throw = 13 1/16 in\", \"left-box-rise = 1/2 in\", \"axle driving left-weight = 520 lb\" or \"part piston.left mass = 240 lb\"",
                    )
                })?,
            }
        }
        if !records.is_empty() {
            out.lines = toml::to_string(&records)
                .map_err(|e| Failure::Fault(format!("the change cannot be written down: {e}")))?;
        }
        Ok(out)
    }

    /// The engine with the lines laid over its description.
    pub(super) fn open(&self, path: &Path, today: Date) -> Result<Opened, Failure> {
        let more = (!self.lines.is_empty())
            .then(|| SourceText { file: NAME.to_owned(), text: self.lines.clone() });
        let opened = open_with(path, Some(today), more)?;
        // A change that was refused would otherwise be answered as if it had not been asked.
        let refused: Vec<String> = opened
            .problems
            .iter()
            .filter(|p| p.place.file == NAME)
            .map(|p| format!("{}; {}", p.what, p.mend))
            .collect();
        if refused.is_empty() { Ok(opened) } else { Err(Failure::wrong(refused.join("\n"), "")) }
    }

    /// The judgement as if the acts were done.
    pub(super) fn lay_on(&self, judgement: Judgement) -> Result<Judgement, Failure> {
        if self.acts.is_empty() {
            return Ok(judgement);
        }
        let mut trial = Trial::default();
        for text in &self.acts {
            let act = parse_act(&judgement, text).map_err(|e| Failure::wrong(e, ""))?;
            act.lay_on(&judgement, &mut trial)
                .map_err(|e| Failure::wrong(e, "gauge it, or make it to a size"))?;
        }
        Ok(trial.as_if(&judgement))
    }
}

/// `axle driving left-weight` and its value as a record of the description.
fn line(records: &mut toml::Table, what: &str, value: &str) -> Option<()> {
    let words: Vec<&str> = what.split_whitespace().collect();
    let (field, of) = words.split_last()?;
    let value = toml::Value::String(value.to_owned());
    let (kind, id) = match of {
        [] => {
            let motion = records
                .entry("motion")
                .or_insert_with(|| toml::Value::Table(toml::Table::new()))
                .as_table_mut()?;
            motion.insert((*field).to_owned(), value);
            return Some(());
        }
        [kind @ ("axle" | "part" | "turning-mass" | "fatigue" | "material"), id @ ..]
            if !id.is_empty() =>
        {
            (*kind, id.join(" "))
        }
        id => ("cylinder", id.join(" ")),
    };
    let list =
        records.entry(kind).or_insert_with(|| toml::Value::Array(Vec::new())).as_array_mut()?;
    let same = |r: &toml::Value| r.get("id").and_then(toml::Value::as_str) == Some(id.as_str());
    let at = match list.iter().position(same) {
        Some(at) => at,
        None => {
            let mut fresh = toml::Table::new();
            fresh.insert("id".to_owned(), toml::Value::String(id.clone()));
            list.push(toml::Value::Table(fresh));
            list.len() - 1
        }
    };
    list.get_mut(at)?.as_table_mut()?.insert((*field).to_owned(), value);
    Some(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn changes_become_records_and_acts() {
        let said = [
            "close big-end.left.bore 8 thou",
            "left-box-rise = 1/2 in",
            "left throw = 13 1/16 in",
            "left bore = 17 1/2 in",
            "axle driving left-weight = 520 lb",
        ]
        .map(str::to_owned);
        let Ok(got) = WhatIf::read(&said) else { panic!("refused") };
        assert_eq!(got.acts, ["close big-end.left.bore 8 thou"]);
        let Ok(table) = got.lines.parse::<toml::Table>() else { panic!("{}", got.lines) };
        assert_eq!(table["motion"]["left-box-rise"].as_str(), Some("1/2 in"));
        assert_eq!(table["cylinder"][0]["throw"].as_str(), Some("13 1/16 in"));
        assert_eq!(table["cylinder"][0]["bore"].as_str(), Some("17 1/2 in"));
        assert_eq!(table["axle"][0]["id"].as_str(), Some("driving"));
        assert!(WhatIf::read(&["= 4 in".to_owned()]).is_err());
    }
}
