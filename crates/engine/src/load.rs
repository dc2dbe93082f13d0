//! From texts to an engine: pattern, own files, readings in them, strike-outs.

use crate::description::{Description, SourceText, Sources};
use crate::model::{Date, Engine, build_engine};
use crate::pattern::Pattern;
use crate::problem::{Place, Problem};
use crate::readings::{add_own_readings, strike_out};
use indexmap::IndexMap;
use quantity::{Dimension, Quantity};

/// An engine as far as it could be read.
#[derive(Debug)]
pub struct Loaded {
    /// The engine, without what is at fault.
    pub engine: Engine,
    /// What is at fault.
    pub problems: Vec<Problem>,
    description: Description,
    sources: Sources,
}

/// Reads an engine from its texts: the first is its own file, later ones add to it. Tables of
/// readings are read into [`Loaded::engine`] afterwards, and [`Loaded::finish`] called when all
/// are in.
pub fn load(texts: Vec<SourceText>, today: Option<Date>) -> Loaded {
    let mut problems = Vec::new();
    let mut sources = Sources::default();
    let mut own = Description::default();
    let mut order = Vec::new();
    // The pattern's text must be laid before the own texts so that its faults can be placed, but
    // which pattern it is stands in the own text: that is read once to find out.
    let head = texts.first().cloned().map(|t| Sources::default().read(t));
    let pattern = match &head {
        Some(Ok(d)) => expand_pattern(d, &mut problems),
        _ => None,
    };
    let base = pattern.and_then(|text| match sources.read(text) {
        Ok(d) => Some(d),
        Err(p) => {
            problems.push(p);
            None
        }
    });
    for text in texts {
        match sources.read(text) {
            Ok(d) => order.push(d),
            Err(p) => problems.push(p),
        }
    }
    for d in order {
        own = d.laid_over(own);
    }
    let description = match base {
        Some(base) => own.laid_over(base),
        None => own,
    };
    let built = build_engine(&description, &sources);
    problems.extend(built.problems);
    let mut engine = built.engine;
    engine.today = today;
    problems.extend(add_own_readings(&mut engine, &description, &sources));
    Loaded { engine, problems, description, sources }
}

impl Loaded {
    /// Applies strike-outs, when all readings are in.
    pub fn finish(mut self) -> (Engine, Vec<Problem>) {
        self.problems.extend(strike_out(&mut self.engine, &self.description, &self.sources));
        (self.engine, self.problems)
    }
}

fn expand_pattern(d: &Description, problems: &mut Vec<Problem>) -> Option<SourceText> {
    let id = d.engine.as_ref()?.pattern.as_ref()?.get_ref().clone();
    let pattern = match Pattern::find(&id) {
        Ok(p) => p,
        Err(what) => {
            problems.push(Problem::new(Place::file("[engine] pattern"), what, ""));
            return None;
        }
    };
    let mut answers = IndexMap::new();
    for (name, text) in &d.dimensions {
        match Quantity::parse_as(text.get_ref(), Dimension::Length) {
            Ok(q) => {
                answers.insert(name.clone(), q);
            }
            Err(e) => problems.push(Problem::new(
                Place::file("[dimensions]"),
                format!("{name} = \"{}\": {}", text.get_ref(), e.reason()),
                e.hint(),
            )),
        }
    }
    match pattern.expand(&answers) {
        Ok(text) => Some(SourceText { file: format!("pattern {id}"), text }),
        Err(found) => {
            problems.extend(found);
            None
        }
    }
}
