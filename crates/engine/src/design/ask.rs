//! Asking a duty for what a calculation needs. What is not there is named, with where to write it;
//! nothing is taken for granted in silence.

use super::duty::{Duty, Entry, Value, WHAT_IF};
use super::fields::field;
use super::shapes::{Absent, Given};
use crate::judge::Judgement;
use crate::model::{FeatureIx, JointIx, Material};
use mechanics::press;

/// What one design asks for, and what was found missing.
pub(super) struct Ask<'a> {
    pub(super) judgement: &'a Judgement,
    pub(super) joint: JointIx,
    duty: &'a Duty,
    given: Vec<Given>,
    missing: Vec<String>,
}

impl<'a> Ask<'a> {
    pub(super) fn new(judgement: &'a Judgement, joint: JointIx, duty: &'a Duty) -> Self {
        Ask { judgement, joint, duty, given: Vec::new(), missing: Vec::new() }
    }

    fn entry(&mut self, name: &'static str) -> Option<&'a Entry> {
        let entry = self.duty.entries.get(name)?;
        if !self.given.iter().any(|g| g.name == name) {
            let what = field(name).map_or("", |f| f.what);
            self.given.push(Given {
                name: name.to_owned(),
                what: what.to_owned(),
                text: entry.text.clone(),
                from: entry.from.clone(),
            });
        }
        Some(entry)
    }

    /// Takes note of something that was used without standing in the duty.
    pub(super) fn note(&mut self, name: &str, text: impl Into<String>, from: impl Into<String>) {
        if !self.given.iter().any(|g| g.name == name) {
            self.given.push(Given {
                name: name.to_owned(),
                what: String::new(),
                text: text.into(),
                from: from.into(),
            });
        }
    }

    pub(super) fn has(&self, name: &str) -> bool {
        self.duty.entries.contains_key(name)
    }

    /// Where a line stands.
    pub(super) fn from(&self, name: &str) -> String {
        self.duty.entries.get(name).map_or_else(String::new, |e| e.from.clone())
    }

    /// The line was laid over the duty to try it.
    pub(super) fn is_what_if(&self, name: &str) -> bool {
        self.duty.entries.get(name).is_some_and(|e| e.from == WHAT_IF)
    }

    fn want(&mut self, name: &'static str) {
        let (what, example) = field(name).map_or(("", ""), |f| (f.what, f.example));
        let example =
            if example.starts_with('[') { example.to_owned() } else { format!("\"{example}\"") };
        let line = format!("{name} = {example} ({what})");
        if !self.missing.contains(&line) {
            self.missing.push(line);
        }
    }

    /// Something that belongs elsewhere than in the duty is missing.
    pub(super) fn want_elsewhere(&mut self, what: String) {
        if !self.missing.contains(&what) {
            self.missing.push(what);
        }
    }

    pub(super) fn maybe(&mut self, name: &'static str) -> Option<f64> {
        match &self.entry(name)?.value {
            Value::One(v) => Some(*v),
            _ => None,
        }
    }

    pub(super) fn one(&mut self, name: &'static str) -> Option<f64> {
        let v = self.maybe(name);
        if v.is_none() {
            self.want(name);
        }
        v
    }

    pub(super) fn maybe_many(&mut self, name: &'static str) -> Option<&'a [f64]> {
        match &self.entry(name)?.value {
            Value::Many(v) => Some(v),
            _ => None,
        }
    }

    pub(super) fn many(&mut self, name: &'static str) -> Option<&'a [f64]> {
        let v = self.maybe_many(name);
        if v.is_none() {
            self.want(name);
        }
        v
    }

    pub(super) fn maybe_band(&mut self, name: &'static str) -> Option<(f64, f64)> {
        match &self.entry(name)?.value {
            Value::Band(a, b) => Some((*a, *b)),
            _ => None,
        }
    }

    pub(super) fn maybe_text(&mut self, name: &'static str) -> Option<&'a str> {
        match &self.entry(name)?.value {
            Value::Text(t) => Some(t),
            _ => None,
        }
    }

    pub(super) fn text(&mut self, name: &'static str) -> Option<&'a str> {
        let v = self.maybe_text(name);
        if v.is_none() {
            self.want(name);
        }
        v
    }

    pub(super) fn maybe_texts(&mut self, name: &'static str) -> Option<&'a [String]> {
        match &self.entry(name)?.value {
            Value::Texts(t) => Some(t),
            _ => None,
        }
    }

    pub(super) fn maybe_pairs(&mut self, name: &'static str) -> Option<&'a [(f64, f64)]> {
        match &self.entry(name)?.value {
            Value::Pairs(t) => Some(t),
            _ => None,
        }
    }

    pub(super) fn maybe_slices(&mut self, name: &'static str) -> Option<&'a [(f64, f64, f64)]> {
        match &self.entry(name)?.value {
            Value::Slices(t) => Some(t),
            _ => None,
        }
    }

    pub(super) fn oil_point(&mut self, name: &'static str) -> Option<(f64, f64)> {
        match self.entry(name).map(|e| &e.value) {
            Some(Value::OilPoint(nu, t)) => Some((*nu, *t)),
            _ => {
                self.want(name);
                None
            }
        }
    }

    /// Friction from the duty, else a range of common practice that is printed as such.
    pub(super) fn friction(&mut self, usual: (f64, f64, f64), of_what: &str) -> (f64, f64, f64) {
        match self.maybe_many("friction") {
            Some([low, likely, high]) => (*low, *likely, *high),
            _ => {
                self.note(
                    "friction",
                    format!("{} / {} / {}", usual.0, usual.1, usual.2),
                    format!(
                        "common practice for {of_what}; write friction in the duty to change it"
                    ),
                );
                usual
            }
        }
    }

    pub(super) fn friction_band(
        &mut self,
        usual: press::FrictionBand,
        of_what: &str,
    ) -> press::FrictionBand {
        let (low, likely, high) = self.friction((usual.low, usual.likely, usual.high), of_what);
        press::FrictionBand { low, likely, high }
    }

    fn material_named(&mut self, name: &str) -> Option<&'a Material> {
        let found = self.judgement.engine().materials.iter().find(|m| m.id == name);
        if found.is_none() {
            self.want_elsewhere(format!("[[material]] id = \"{name}\""));
        }
        found
    }

    /// The material of the part a feature is on.
    pub(super) fn material_of(&mut self, feature: FeatureIx) -> Option<&'a Material> {
        let engine = self.judgement.engine();
        let part = &engine.parts[engine.feature(feature).part.index()];
        match part.material {
            Some(m) => Some(&engine.materials[m.index()]),
            None => {
                self.want_elsewhere(format!("material of [[part]] \"{}\"", part.id));
                None
            }
        }
    }

    /// Strength of a material, from its record.
    pub(super) fn strength(&mut self, m: &Material) -> Option<press::Material> {
        let mut want = |present: bool, line: &str| {
            if !present {
                self.want_elsewhere(format!("[[material]] \"{}\": {line}", m.id));
            }
        };
        want(m.modulus_pa.is_some(), "modulus = \"206 GPa\"");
        want(m.poisson.is_some(), "poisson = \"0.3\"");
        want(m.yield_pa.is_some(), "yield-strength = \"250 MPa\"");
        want(m.density_kg_m3.is_some(), "density = \"7850 kg/m3\"");
        let made = press::Material {
            youngs_pa: m.modulus_pa?,
            poisson: m.poisson?,
            expansion_per_k: m.expansion_per_k,
            density_kg_m3: m.density_kg_m3?,
            yield_pa: m.yield_pa?,
        };
        self.note(
            &format!("strength of {}", m.id),
            format!(
                "modulus {:.0} GPa, ratio {:.2}, yield {:.0} MPa",
                made.youngs_pa * 1e-9,
                made.poisson,
                made.yield_pa * 1e-6
            ),
            m.strength_source.clone(),
        );
        Some(made)
    }

    pub(super) fn strength_of(&mut self, feature: FeatureIx) -> Option<press::Material> {
        let m = self.material_of(feature)?;
        self.strength(m)
    }

    pub(super) fn strength_named(&mut self, name: &str) -> Option<press::Material> {
        let m = self.material_named(name)?;
        self.strength(m)
    }

    /// What has been asked for in vain since the last call, as the reason why something is not
    /// worked out.
    pub(super) fn absent(&mut self, what: &str) -> Absent {
        let wants = std::mem::take(&mut self.missing);
        Absent { what: what.to_owned(), why: String::new(), wants }
    }

    pub(super) fn into_given(self) -> Vec<Given> {
        self.given
    }
}

/// A reason from a calculation that could not be done.
pub(super) fn because(what: &str, why: impl std::fmt::Display) -> Absent {
    Absent { what: what.to_owned(), why: why.to_string(), wants: Vec::new() }
}
