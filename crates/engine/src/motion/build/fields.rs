//! Fields of a record: figures, sizes, masses, words and ids, every fault with its place.

use super::super::model::{Figures, MassSum, Size};
use super::super::sum::{Term, terms};
use super::MotionBuilder;
use crate::description::Text;
use crate::model::JointIx;
use crate::problem::{Place as FilePlace, Problem, nearest};
use quantity::{Dimension, Quantity};
use std::collections::BTreeMap;

/// Fields by the name they have in the file.
pub(super) type Named<'a> = (&'static str, &'a Option<Text>);

impl MotionBuilder<'_> {
    pub(super) fn fault(&mut self, at: &Text, what: impl Into<String>, mend: impl Into<String>) {
        self.found.push(Problem::new(self.sources.place(at.span().start), what, mend));
    }

    pub(super) fn fault_file(&mut self, what: impl Into<String>, mend: impl Into<String>) {
        self.found.push(Problem::new(FilePlace::file(self.sources.own_file()), what, mend));
    }

    pub(super) fn number(&mut self, text: &Option<Text>, dimension: Dimension) -> Option<f64> {
        let text = text.as_ref()?;
        match Quantity::parse_as(text.get_ref(), dimension) {
            Ok(q) => Some(q.si()),
            Err(e) => {
                let what = format!("\"{}\": {}", text.get_ref(), e.reason());
                self.fault(text, what, e.hint());
                None
            }
        }
    }

    pub(super) fn numbers(&mut self, into: &mut Figures, list: &[Named<'_>], dimension: Dimension) {
        for (name, text) in list {
            if let Some(v) = self.number(text, dimension) {
                into.insert(name, v);
            }
        }
    }

    /// A share of one: `85 %` or `0.85`.
    pub(super) fn shares(&mut self, into: &mut Figures, list: &[Named<'_>]) {
        for (name, text) in list {
            let Some(v) = self.number(text, Dimension::Number) else { continue };
            if !(0.0..=1.0).contains(&v)
                && let Some(at) = text
            {
                let what = format!("{name} = \"{}\" is not a share", at.get_ref());
                self.fault(at, what, "write a figure from 0 % to 100 %");
                continue;
            }
            into.insert(name, v);
        }
    }

    /// Written sizes, features, chains and joints, added up.
    pub(super) fn size(&mut self, name: &str, text: &Text) -> Option<Size> {
        let written = text.get_ref().clone();
        let (sum, doubt) = match written.split_once('\u{b1}').or(written.split_once("+/-")) {
            Some((sum, doubt)) => (sum, Some(doubt.trim())),
            None => (written.as_str(), None),
        };
        let mut size = Size { text: written.trim().to_owned(), ..Size::default() };
        for term in terms(sum, Dimension::Length) {
            match term {
                Term::Written(si) => size.written_m += si,
                Term::Named(factor, id) => {
                    if let Some(ix) = self.engine.feature_by_id(&id) {
                        size.features.push((factor, ix));
                    } else if let Some(ix) = self.engine.chain_by_id(&id) {
                        let chain = self.engine.chain(ix);
                        size.features.extend(chain.terms.iter().map(|(f, t)| (factor * f, *t)));
                    } else if let Some(ix) = self.engine.joint_by_id(&id) {
                        size.joints.push((factor, ix));
                    } else {
                        let mend = match self.engine.nearest_id(&id) {
                            Some(near) => format!("did you mean \"{near}\"?"),
                            None => "write a size with its unit, or the id of a feature, a chain or a joint; terms are joined by \" + \" or \" - \"".to_owned(),
                        };
                        self.fault(text, format!("there is no \"{id}\" for {name}"), mend);
                        return None;
                    }
                }
                Term::Fault(what, mend) => {
                    self.fault(text, what, mend);
                    return None;
                }
            }
        }
        if let Some(doubt) = doubt {
            match Quantity::parse_as(doubt, Dimension::Length) {
                Ok(q) if q.si() >= 0.0 => {
                    let at = u32::try_from(self.model.written.len()).unwrap_or(u32::MAX);
                    self.model.written.push(name.to_owned());
                    size.doubt = Some((q.si(), at));
                }
                Ok(q) => {
                    let what = format!("plus and minus {} is negative", q.text());
                    self.fault(text, what, "write it without the sign");
                    return None;
                }
                Err(e) => {
                    self.fault(text, format!("\"{doubt}\": {}", e.reason()), e.hint());
                    return None;
                }
            }
        }
        Some(size)
    }

    pub(super) fn sizes(&mut self, of: &str, list: &[Named<'_>]) -> BTreeMap<&'static str, Size> {
        let mut out = BTreeMap::new();
        for (name, text) in list {
            let Some(text) = text else { continue };
            if let Some(size) = self.size(&format!("{name} of {of}"), text) {
                out.insert(*name, size);
            }
        }
        out
    }

    /// Joints by their ids.
    pub(super) fn joints(&mut self, list: &[Named<'_>]) -> BTreeMap<&'static str, JointIx> {
        let mut out = BTreeMap::new();
        for (name, text) in list {
            let Some(text) = text else { continue };
            let id = text.get_ref().trim();
            match self.engine.joint_by_id(id) {
                Some(ix) => {
                    out.insert(*name, ix);
                }
                None => {
                    let known = self.engine.joints.iter().map(|j| j.id.as_str());
                    let mend = match nearest(id, known) {
                        Some(near) => format!("did you mean \"{near}\"?"),
                        None => "name a joint of this engine".to_owned(),
                    };
                    self.fault(text, format!("there is no joint \"{id}\" for {name}"), mend);
                }
            }
        }
        out
    }

    pub(super) fn mass(&mut self, name: &str, text: &Text) -> Option<MassSum> {
        let mut mass = MassSum { text: text.get_ref().trim().to_owned(), ..MassSum::default() };
        for term in terms(text.get_ref(), Dimension::Mass) {
            match term {
                Term::Written(si) => mass.written_kg += si,
                Term::Named(factor, id) => match self.engine.index.parts.get(&id) {
                    Some(ix) => mass.parts.push((factor, *ix)),
                    None => {
                        let known = self.engine.parts.iter().map(|p| p.id.as_str());
                        let mend = match nearest(&id, known) {
                            Some(near) => format!("did you mean \"{near}\"?"),
                            None => "write a mass with its unit, or the ids of parts that have one, joined by \" + \"".to_owned(),
                        };
                        self.fault(text, format!("there is no part \"{id}\" for {name}"), mend);
                        return None;
                    }
                },
                Term::Fault(what, mend) => {
                    self.fault(text, what, mend);
                    return None;
                }
            }
        }
        Some(mass)
    }

    pub(super) fn masses(
        &mut self,
        of: &str,
        list: &[Named<'_>],
    ) -> BTreeMap<&'static str, MassSum> {
        let mut out = BTreeMap::new();
        for (name, text) in list {
            let Some(text) = text else { continue };
            if let Some(mass) = self.mass(&format!("{name} of {of}"), text) {
                out.insert(*name, mass);
            }
        }
        out
    }

    pub(super) fn word<T: Copy>(&mut self, text: &Option<Text>, list: &[(&str, T)]) -> Option<T> {
        let text = text.as_ref()?;
        let said = text.get_ref().split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase();
        if let Some((_, v)) = list.iter().find(|(word, _)| *word == said) {
            return Some(*v);
        }
        let all: Vec<&str> = list.iter().map(|(w, _)| *w).collect();
        let what = format!("\"{}\" is not a word known here", text.get_ref());
        self.fault(text, what, format!("use one of: {}", all.join(", ")));
        None
    }

    pub(super) fn id(&mut self, text: &Option<Text>, kind: &str, taken: bool) -> Option<String> {
        let Some(text) = text else {
            self.fault_file(format!("a {kind} has no id"), format!("give every [[{kind}]] an id"));
            return None;
        };
        let id = text.get_ref().split_whitespace().collect::<Vec<_>>().join(" ");
        if id.is_empty() || id.len() > 60 {
            let what = format!("the id of this {kind} is empty or too long");
            self.fault(text, what, "write a short name");
            return None;
        }
        if taken {
            let what = format!("{kind} \"{id}\" stands twice, or is the name of something else");
            self.fault(text, what, "give it another id");
            return None;
        }
        Some(id)
    }

    pub(super) fn find_cylinder(
        &mut self,
        text: &Option<Text>,
        record: &str,
        field: &str,
    ) -> Option<usize> {
        let Some(text) = text else {
            self.fault_file(
                format!("a {record} names no cylinder"),
                format!("write {field} = \"...\" in every [[{record}]]"),
            );
            return None;
        };
        let found = self.model.cylinder_by_id(text.get_ref());
        if found.is_none() {
            let ids: Vec<&str> = self.model.cylinders.iter().map(|c| c.id.as_str()).collect();
            let mend = if ids.is_empty() {
                "describe the cylinders in [[cylinder]] records".to_owned()
            } else {
                format!("there are: {}", ids.join(", "))
            };
            self.fault(text, format!("there is no cylinder \"{}\"", text.get_ref()), mend);
        }
        found
    }
}
