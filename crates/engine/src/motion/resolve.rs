//! From sizes by name to values with their uncertainty: as read where there is a reading, else as
//! made with a note, else said to be missing.

use super::error::{Missing, NoAnswer};
use super::model::{Figures, MassSum, Size};
use crate::judge::{Sizes, Source};
use crate::model::{Engine, FeatureIx, JointIx};
use quantity::Uncertain;
use std::collections::{BTreeMap, BTreeSet};

/// What an answer rests on besides readings.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Notes {
    /// Features that nobody has gauged, taken as the drawing made them.
    pub as_made: BTreeSet<FeatureIx>,
    /// Things not described and taken as nothing.
    pub nothing: BTreeSet<String>,
    /// Anything else worth saying.
    pub said: BTreeSet<String>,
}

impl Notes {
    pub(crate) fn take(&mut self, other: &Notes) {
        self.as_made.extend(&other.as_made);
        self.nothing.extend(other.nothing.iter().cloned());
        self.said.extend(other.said.iter().cloned());
    }

    /// Sizes that nobody has gauged and whose description does not let them be taken as made: what
    /// rests on them is a figure, and no verdict.
    pub fn ungauged(&self, engine: &Engine) -> Vec<FeatureIx> {
        self.as_made.iter().copied().filter(|f| !engine.feature(*f).assume_as_made).collect()
    }

    /// In words, one sentence each.
    pub fn words(&self, engine: &Engine) -> Vec<String> {
        let mut out = Vec::new();
        if !self.as_made.is_empty() {
            let names: Vec<&str> =
                self.as_made.iter().map(|f| engine.feature(*f).id.as_str()).collect();
            out.push(format!("not gauged, taken as made: {}", names.join(", ")));
        }
        if !self.nothing.is_empty() {
            let names: Vec<&str> = self.nothing.iter().map(String::as_str).collect();
            out.push(format!("not described, taken as nothing: {}", names.join(", ")));
        }
        out.extend(self.said.iter().cloned());
        out
    }
}

/// Sizes nobody has read: everything is as made.
pub(crate) struct AsMade;

impl Sizes for AsMade {
    fn size(&self, _: FeatureIx) -> Option<&Uncertain> {
        None
    }
    fn largest(&self, _: FeatureIx) -> Option<&Uncertain> {
        None
    }
    fn smallest(&self, _: FeatureIx) -> Option<&Uncertain> {
        None
    }
}

pub(super) struct Resolver<'a, S: Sizes + ?Sized> {
    pub(super) engine: &'a Engine,
    sizes: &'a S,
    pub(super) notes: Notes,
    pub(super) missing: Vec<Missing>,
}

impl<'a, S: Sizes + ?Sized> Resolver<'a, S> {
    pub(super) fn new(engine: &'a Engine, sizes: &'a S) -> Self {
        Resolver { engine, sizes, notes: Notes::default(), missing: Vec::new() }
    }

    /// What was found, or all that is missing.
    pub(super) fn done<T>(&mut self, found: T) -> Result<T, NoAnswer> {
        if self.missing.is_empty() {
            Ok(found)
        } else {
            let mut missing = std::mem::take(&mut self.missing);
            missing.sort();
            missing.dedup();
            Err(NoAnswer::Missing(missing))
        }
    }

    pub(super) fn lack(&mut self, what: impl Into<String>, write: impl Into<String>) {
        self.missing.push(Missing { what: what.into(), write: write.into() });
    }

    /// One feature; `working` for the bore that works in a running joint.
    fn feature(&mut self, ix: FeatureIx, working: bool) -> Option<Uncertain> {
        let read = if working { self.sizes.working(ix) } else { self.sizes.size(ix) };
        if let Some(read) = read {
            return Some(read.clone());
        }
        let feature = self.engine.feature(ix);
        let Some(made) = &feature.as_made else {
            self.lack(
                format!("the size of {}", feature.id),
                "gauge it, or give it an as-made size",
            );
            return None;
        };
        self.notes.as_made.insert(ix);
        let u = feature.tolerance_m / 3f64.sqrt();
        Some(Uncertain::new(made.si(), Source::Drawing(ix).id(), u))
    }

    /// Clearance of a joint: outer less inner less what fills the space.
    fn clearance(&mut self, ix: JointIx) -> Option<Uncertain> {
        let joint = self.engine.joint(ix);
        let mut terms = Vec::with_capacity(2 + joint.fills.len());
        terms.push((1.0, self.feature(joint.outer, true)?));
        terms.push((-1.0, self.feature(joint.inner, false)?));
        for f in &joint.fills {
            terms.push((-1.0, self.feature(*f, false)?));
        }
        Some(linear(0.0, &terms))
    }

    /// A size, where everything it names has one.
    pub(super) fn size(&mut self, size: &Size) -> Option<Uncertain> {
        let mut terms = Vec::with_capacity(size.features.len() + size.joints.len());
        let mut whole = true;
        for (factor, ix) in &size.features {
            match self.feature(*ix, false) {
                Some(v) => terms.push((*factor, v)),
                None => whole = false,
            }
        }
        for (factor, ix) in &size.joints {
            match self.clearance(*ix) {
                Some(v) => terms.push((*factor, v)),
                None => whole = false,
            }
        }
        if !whole {
            return None;
        }
        let value = linear(size.written_m, &terms);
        Some(match size.doubt {
            // Plus and minus as limits, alike within: half width over root three (JCGM 100, 4.3.7).
            Some((half, at)) => value.with_part(Source::Written(at).id(), half / 3f64.sqrt()),
            None => value,
        })
    }

    /// A size that must be there.
    pub(super) fn want(
        &mut self,
        sizes: &BTreeMap<&'static str, Size>,
        name: &'static str,
        of: &str,
        record: &str,
    ) -> Option<Uncertain> {
        match sizes.get(name) {
            Some(size) => self.size(size),
            None => {
                self.lack(format!("{name} of {of}"), format!("write {name} = \"...\" in {record}"));
                None
            }
        }
    }

    /// A number that must be there.
    pub(super) fn figure(
        &mut self,
        figures: &Figures,
        name: &'static str,
        of: &str,
        record: &str,
    ) -> Option<f64> {
        let found = figures.get(name).copied();
        if found.is_none() {
            self.lack(format!("{name} of {of}"), format!("write {name} = \"...\" in {record}"));
        }
        found
    }

    /// A number that is nothing when not described, with a note.
    pub(super) fn figure_or_nothing(
        &mut self,
        figures: &Figures,
        name: &'static str,
        of: &str,
    ) -> f64 {
        match figures.get(name) {
            Some(v) => *v,
            None => {
                self.notes.nothing.insert(format!("{name} of {of}"));
                0.0
            }
        }
    }

    /// A mass; parts without one are missing.
    pub(super) fn mass(&mut self, mass: &MassSum) -> Option<f64> {
        let mut sum = mass.written_kg;
        let mut whole = true;
        for (factor, ix) in &mass.parts {
            let part = &self.engine.parts[ix.index()];
            match &part.mass {
                Some(q) => sum += factor * q.si(),
                None => {
                    let what = format!("the mass of part {}", part.id);
                    self.lack(what, "weigh it and write mass = \"...\" in its [[part]]");
                    whole = false;
                }
            }
        }
        whole.then_some(sum)
    }

    pub(super) fn want_mass(
        &mut self,
        masses: &BTreeMap<&'static str, MassSum>,
        name: &'static str,
        of: &str,
        record: &str,
    ) -> Option<f64> {
        match masses.get(name) {
            Some(mass) => self.mass(mass),
            None => {
                self.lack(
                    format!("{name} of {of}"),
                    format!("write {name} = \"... kg\", or the parts it is made of, in {record}"),
                );
                None
            }
        }
    }
}

pub(super) fn linear(constant: f64, terms: &[(f64, Uncertain)]) -> Uncertain {
    let refs: Vec<(f64, &Uncertain)> = terms.iter().map(|(f, v)| (*f, v)).collect();
    Uncertain::linear(constant, &refs)
}
