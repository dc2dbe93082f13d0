//! What happened to works, where it is kept elsewhere than in the engine's files.

use super::model::{Happened, Moment, What};
use crate::model::Engine;

/// One word on a work, as it was said.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SaidOfWork<'a> {
    /// Work, by its id.
    pub work: &'a str,
    /// Way, by its id, or empty.
    pub way: &'a str,
    /// What.
    pub what: What,
    /// When: `2026-10-10 11:30`, or as RFC 3339 writes it, whose clock is taken as the shed's.
    pub when: &'a str,
    /// Why, or empty.
    pub why: &'a str,
    /// Who.
    pub by: &'a str,
}

/// Adds to what has happened. What names works or ways that are not described is left out and told.
pub fn take_happened<'a>(
    engine: &mut Engine,
    said: impl IntoIterator<Item = SaidOfWork<'a>>,
) -> Vec<String> {
    let mut refused = Vec::new();
    for s in said {
        match one(engine, &s) {
            Ok(h) => engine.works.progress.push(h),
            Err(why) => refused.push(why),
        }
    }
    refused
}

fn one(engine: &Engine, s: &SaidOfWork<'_>) -> Result<Happened, String> {
    let model = &engine.works;
    let work = model.work_by_id(s.work).ok_or_else(|| {
        format!("there is no work \"{}\": what was said of it is left out", s.work)
    })?;
    let way = match s.way.trim() {
        "" => None,
        name => {
            let found = model.works[work].ways.iter().position(|w| w.id == name);
            Some(found.ok_or_else(|| {
                format!(
                    "work \"{}\" has no way \"{name}\": what was said of it is left out",
                    s.work
                )
            })?)
        }
    };
    // "2026-10-10T11:30:00Z": the day and the minute are enough.
    let when = Moment::parse(s.when.get(..16).unwrap_or(s.when))?;
    let (why, by) = (s.why.to_owned(), s.by.to_owned());
    Ok(Happened { work, what: s.what, when, way, why, by, stands: None })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_not_described_is_told() {
        let mut engine = Engine::default();
        let said = SaidOfWork {
            work: "x",
            way: "",
            what: What::Stuck,
            when: "2026-10-10T11:30:00Z",
            why: "",
            by: "",
        };
        let refused = take_happened(&mut engine, [said]);
        assert!(refused[0].contains("\"x\""), "{refused:?}");
        assert!(engine.works.progress.is_empty());
    }
}
