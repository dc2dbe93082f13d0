//! From what a person wrote to an engine whose parts agree with one another.
//!
//! Nothing stops at the first fault: every problem is collected with its place. A record that is
//! at fault is left out, so that what depends on it can be reported too.

use super::kinds::{
    Condition, FeatureKind, JointKind, LimitSource, Measure, Metal, RepairKind, Surface, Way, When,
};
use super::names::{ChainIx, FeatureIx, GaugeIx, JointIx, MaterialIx, PartIx};
use super::readings::Date;
use super::{
    Chain, Decision, Engine, Feature, Finding, Gauge, Joint, Limit, Make, Material, Part,
    WedgeStand, Workshop,
};
use crate::description::{Description, LimitText, Sources, Text, WorkshopText};
use crate::problem::{Problem, nearest};
use quantity::{Dimension, Quantity};
use std::collections::HashMap;

/// More of any one thing than this is refused; a million readings do not count here.
const MOST_RECORDS: usize = 1_000_000;
/// Sizes outside this are a slip of the pen, metres.
const LONGEST_M: f64 = 100.0;

/// An engine with everything that was wrong in its description.
#[derive(Debug)]
pub struct Built {
    /// The engine, without the records at fault.
    pub engine: Engine,
    /// What was wrong.
    pub problems: Vec<Problem>,
}

/// Builds an engine; `sources` are the texts the description was read from.
pub fn build_engine(description: &Description, sources: &Sources) -> Built {
    let mut b = Builder { source: sources, engine: Engine::default(), problems: Vec::new() };
    b.head(description);
    b.materials(description);
    b.gauges(description);
    b.parts(description);
    b.features(description);
    b.joints(description);
    b.chains(description);
    let (motion, found) = crate::motion::build(description, sources, &b.engine);
    b.engine.motion = motion;
    b.problems.extend(found);
    b.limits(description);
    b.findings(description);
    b.decisions(description);
    b.problems.extend(crate::design::read_duties(description, sources, &mut b.engine));
    let (works, found) = crate::works::build(description, sources, &b.engine);
    b.engine.works = works;
    b.problems.extend(found);
    Built { engine: b.engine, problems: b.problems }
}

struct Builder<'a> {
    source: &'a Sources,
    engine: Engine,
    problems: Vec<Problem>,
}

impl Builder<'_> {
    fn fault(&mut self, at: &Text, what: impl Into<String>, mend: impl Into<String>) {
        let place = self.source.place(at.span().start);
        self.problems.push(Problem::new(place, what, mend));
    }

    fn fault_file(&mut self, what: impl Into<String>, mend: impl Into<String>) {
        let place = crate::problem::Place::file(self.source.own_file());
        self.problems.push(Problem::new(place, what, mend));
    }

    /// A quantity of a dimension, or the problem.
    fn quantity(&mut self, text: &Text, dimension: Dimension) -> Option<Quantity> {
        match Quantity::parse_as(text.get_ref(), dimension) {
            Ok(q) => Some(q),
            Err(error) => {
                self.fault(
                    text,
                    format!("\"{}\": {}", text.get_ref(), error.reason()),
                    error.hint(),
                );
                None
            }
        }
    }

    fn optional(&mut self, text: &Option<Text>, dimension: Dimension) -> Option<Quantity> {
        text.as_ref().and_then(|t| self.quantity(t, dimension))
    }

    /// A quantity that must be above zero.
    fn above_zero(&mut self, text: &Option<Text>, dimension: Dimension) -> Option<f64> {
        let text = text.as_ref()?;
        let q = self.quantity(text, dimension)?;
        if q.si() > 0.0 && q.si().is_finite() {
            return Some(q.si());
        }
        self.fault(text, format!("{} must be above zero", q.text()), "check figure and unit");
        None
    }

    /// A length that must be positive and not absurd.
    fn size(&mut self, text: &Option<Text>) -> Option<Quantity> {
        let text = text.as_ref()?;
        let q = self.quantity(text, Dimension::Length)?;
        if q.si() <= 0.0 || q.si() > LONGEST_M {
            self.fault(
                text,
                format!("a size of {} cannot be", q.text()),
                format!("sizes lie above 0 and up to {LONGEST_M} m; check figure and unit"),
            );
            return None;
        }
        Some(q)
    }

    /// A length that may be zero but not negative.
    fn width(&mut self, text: &Option<Text>) -> Option<f64> {
        let text = text.as_ref()?;
        let q = self.quantity(text, Dimension::Length)?;
        if q.si() < 0.0 || q.si() > LONGEST_M {
            self.fault(
                text,
                format!("{} cannot be negative or so large", q.text()),
                "check figure and unit",
            );
            return None;
        }
        Some(q.si())
    }

    fn word<T>(
        &mut self,
        text: &Option<Text>,
        parse: impl Fn(&str) -> Result<T, String>,
    ) -> Option<T> {
        let text = text.as_ref()?;
        match parse(text.get_ref()) {
            Ok(v) => Some(v),
            Err(mend) => {
                self.fault(text, format!("\"{}\" is not a word known here", text.get_ref()), mend);
                None
            }
        }
    }

    fn date(&mut self, text: &Option<Text>) -> Option<Date> {
        let text = text.as_ref()?;
        match Date::parse(text.get_ref()) {
            Ok(d) => Some(d),
            Err(what) => {
                self.fault(text, what, "year-month-day");
                None
            }
        }
    }

    /// The id of a record, new among its kind.
    fn id(
        &mut self,
        id: &Option<Text>,
        kind: &str,
        taken: impl Fn(&Engine, &str) -> bool,
    ) -> Option<String> {
        let Some(text) = id else {
            self.fault_file(
                format!("a {kind} has no id"),
                format!("give every [[{kind}]] an id = \"...\""),
            );
            return None;
        };
        let name = text.get_ref().trim().to_owned();
        if name.is_empty() {
            self.fault(text, format!("the id of this {kind} is empty"), "write a short name");
            return None;
        }
        if taken(&self.engine, &name) {
            self.fault(
                text,
                format!("{kind} \"{name}\" stands twice"),
                "give one of the two another id",
            );
            return None;
        }
        Some(name)
    }

    /// A name that must exist.
    fn find<T: Copy>(
        &mut self,
        text: &Text,
        what: &str,
        index: impl Fn(&Engine) -> &HashMap<String, T>,
    ) -> Option<T> {
        let name = text.get_ref().trim();
        if let Some(ix) = index(&self.engine).get(name) {
            return Some(*ix);
        }
        let mend = match nearest(name, index(&self.engine).keys().map(String::as_str)) {
            Some(near) => format!("did you mean \"{near}\"?"),
            None => format!("describe it in a [[{what}]] or correct the name"),
        };
        self.fault(text, format!("there is no {what} \"{name}\""), mend);
        None
    }

    fn find_feature(&mut self, text: &Text) -> Option<FeatureIx> {
        self.find(text, "feature", |e| &e.index.features)
    }

    fn head(&mut self, d: &Description) {
        match &d.engine {
            Some(head) => {
                let say =
                    |t: &Option<Text>| t.as_ref().map(|t| t.get_ref().clone()).unwrap_or_default();
                self.engine.name = say(&head.name);
                self.engine.railway = say(&head.railway);
                self.engine.note = say(&head.note);
                self.engine.pattern = head.pattern.as_ref().map(|t| t.get_ref().clone());
                self.engine.overhaul_began = self.date(&head.overhaul_began);
                if self.engine.name.trim().is_empty() {
                    self.fault_file("the engine has no name", "write [engine] name = \"...\"");
                }
            }
            None => self.fault_file(
                "there is no [engine] table",
                "begin the file with [engine] and its name",
            ),
        }
        if let Some(w) = &d.workshop {
            self.workshop(w);
        }
    }

    fn workshop(&mut self, w: &WorkshopText) {
        let mut shop = Workshop::default();
        for (text, way) in [
            (&w.turning, Way::Turning),
            (&w.grinding, Way::Grinding),
            (&w.boring, Way::Boring),
            (&w.metal_boring, Way::MetalBoring),
            (&w.reaming, Way::Reaming),
            (&w.planing, Way::Planing),
            (&w.filing, Way::Filing),
        ] {
            if let Some(m) = self.width(text) {
                shop.holds_m[way as usize] = m;
            }
        }
        if let Some(q) = self.size(&w.repair_step) {
            shop.repair_step_m = q.si();
            shop.repair_step_text = q.text().to_owned();
        }
        if let Some(m) = self.width(&w.least_cut) {
            shop.least_cut_m = m;
        }
        if let Some(q) = self.optional(&w.temperature, Dimension::Temperature) {
            shop.temperature_c = q.si() - 273.15;
        }
        for (text, slot) in [
            (&w.temperature_doubt, &mut shop.temperature_doubt_k),
            (&w.thermometer, &mut shop.thermometer_k),
            (&w.soak_doubt, &mut shop.soak_doubt_k),
        ] {
            if let Some(text) = text {
                match Quantity::parse_as(text.get_ref(), Dimension::TemperatureDifference) {
                    Ok(q) if q.si() >= 0.0 => *slot = q.si(),
                    Ok(q) => {
                        let what = format!("a doubt of {} is negative", q.text());
                        self.problems.push(Problem::new(
                            self.source.place(text.span().start),
                            what,
                            "write it without the sign",
                        ));
                    }
                    Err(e) => self.problems.push(Problem::new(
                        self.source.place(text.span().start),
                        format!("\"{}\": {}", text.get_ref(), e.reason()),
                        "a temperature difference is written 2 K",
                    )),
                }
            }
        }
        for (value, slot, low, high, name) in [
            (&w.confidence, &mut shop.confidence, 50.0, 99.999, "confidence"),
            (&w.near, &mut shop.near, 0.0, 100.0, "near"),
        ] {
            if let Some(v) = value {
                if *v.get_ref() > low && *v.get_ref() < high {
                    *slot = *v.get_ref() / 100.0;
                } else {
                    self.problems.push(Problem::new(
                        self.source.place(v.span().start),
                        format!("{name} = {} per cent cannot be", v.get_ref()),
                        format!("write a figure between {low} and {high}"),
                    ));
                }
            }
        }
        self.engine.workshop = shop;
    }

    fn materials(&mut self, d: &Description) {
        for m in &d.materials {
            let Some(id) = self.id(&m.id, "material", |e, n| e.index.materials.contains_key(n))
            else {
                continue;
            };
            let Some(expansion) = self.optional(&m.expansion, Dimension::Expansion) else {
                if let (None, Some(at)) = (&m.expansion, &m.id) {
                    self.fault(
                        at,
                        format!("material \"{id}\" has no expansion"),
                        "write expansion = \"11.5e-6 /K\"",
                    );
                }
                continue;
            };
            if !(-1e-4..=1e-3).contains(&expansion.si()) {
                if let Some(at) = &m.expansion {
                    self.fault(
                        at,
                        format!("an expansion of {} cannot be", expansion.text()),
                        "metals lie between 1e-6 and 40e-6 /K",
                    );
                }
                continue;
            }
            let doubt = self
                .optional(&m.expansion_doubt, Dimension::Expansion)
                .map_or(expansion.si().abs() * 0.1, |q| q.si().abs());
            let density = self.optional(&m.density, Dimension::Density).map(|q| q.si());
            let modulus_pa = self.above_zero(&m.modulus, Dimension::Pressure);
            let poisson = self.above_zero(&m.poisson, Dimension::Number);
            let yield_pa = self.above_zero(&m.yield_strength, Dimension::Pressure);
            if let (Some(ratio), Some(at)) = (poisson, &m.poisson)
                && ratio >= 0.5
            {
                self.fault(
                    at,
                    format!("a Poisson's ratio of {ratio} cannot be"),
                    "metals lie between 0.2 and 0.45",
                );
                continue;
            }
            let strength_source =
                m.strength_source.as_ref().map(|t| t.get_ref().clone()).unwrap_or_default();
            if let (true, Some(at)) = (
                strength_source.trim().is_empty(),
                m.modulus.as_ref().or(m.yield_strength.as_ref()),
            ) {
                self.fault(
                    at,
                    format!("the strength of material \"{id}\" says not where it comes from"),
                    "write strength-source = \"...\": certificate, standard, handbook, from memory",
                );
            }
            let ix = MaterialIx::new(self.engine.materials.len());
            self.engine.index.materials.insert(id.clone(), ix);
            self.engine.materials.push(Material {
                id,
                expansion_per_k: expansion.si(),
                expansion_doubt_per_k: doubt,
                density_kg_m3: density,
                modulus_pa,
                poisson,
                yield_pa,
                strength_source,
                source: m.source.as_ref().map(|t| t.get_ref().clone()).unwrap_or_default(),
            });
        }
    }

    fn gauges(&mut self, d: &Description) {
        for g in &d.gauges {
            let Some(id) = self.id(&g.id, "gauge", |e, n| e.index.gauges.contains_key(n)) else {
                continue;
            };
            let from_m = self.optional(&g.from, Dimension::Length).map(|q| q.si());
            let to_m = self.optional(&g.to, Dimension::Length).map(|q| q.si());
            if let (Some(a), Some(b), Some(at)) = (from_m, to_m, &g.to)
                && a >= b
            {
                self.fault(
                    at,
                    format!("gauge \"{id}\" ends where it begins, or before"),
                    "from must be less than to",
                );
            }
            if g.error.is_none()
                && let Some(at) = &g.id
            {
                self.fault(
                    at,
                    format!("gauge \"{id}\" has no limits of error"),
                    "write error = \"0.0002 in\" from its certificate: without it nothing read with it can be judged",
                );
                continue;
            }
            let Some(error_m) = self.width(&g.error) else { continue };
            let repeat_m = self.width(&g.repeat).unwrap_or(error_m / 2.0);
            let correction_m =
                self.optional(&g.correction, Dimension::Length).map_or(0.0, |q| q.si());
            let material =
                g.material.as_ref().and_then(|t| self.find(t, "material", |e| &e.index.materials));
            let calibrated = self.date(&g.calibrated);
            let due = self.date(&g.due);
            let ix = GaugeIx::new(self.engine.gauges.len());
            self.engine.index.gauges.insert(id.clone(), ix);
            self.engine.gauges.push(Gauge {
                id,
                kind: g.kind.as_ref().map(|t| t.get_ref().clone()).unwrap_or_default(),
                from_m,
                to_m,
                error_m,
                repeat_m,
                correction_m,
                material,
                calibrated,
                due,
            });
        }
    }

    fn parts(&mut self, d: &Description) {
        let mut parents: Vec<Option<&Text>> = Vec::new();
        for p in d.parts.iter().take(MOST_RECORDS) {
            let Some(id) = self.id(&p.id, "part", |e, n| e.index.parts.contains_key(n)) else {
                continue;
            };
            let material =
                p.material.as_ref().and_then(|t| self.find(t, "material", |e| &e.index.materials));
            let mass = self.optional(&p.mass, Dimension::Mass);
            if let (Some(q), Some(at)) = (&mass, &p.mass)
                && q.si() <= 0.0
            {
                self.fault(
                    at,
                    format!("a mass of {} cannot be", q.text()),
                    "masses are above zero",
                );
            }
            let say = |t: &Option<Text>| t.as_ref().map(|t| t.get_ref().clone());
            let ix = PartIx::new(self.engine.parts.len());
            self.engine.index.parts.insert(id.clone(), ix);
            self.engine.parts.push(Part {
                name: say(&p.name).unwrap_or_else(|| id.clone()),
                id,
                inside: None,
                side: say(&p.side).unwrap_or_default(),
                material,
                mass: mass.filter(|q| q.si() > 0.0),
                tag: say(&p.tag),
                place: say(&p.place),
            });
            parents.push(p.inside.as_ref());
        }
        for (i, parent) in parents.iter().enumerate() {
            if let Some(text) = parent {
                self.engine.parts[i].inside = self.find(text, "part", |e| &e.index.parts);
            }
        }
        self.break_circles(&parents);
    }

    /// A part inside itself, however far round, is reported once and taken out of its parent.
    fn break_circles(&mut self, parents: &[Option<&Text>]) {
        let n = self.engine.parts.len();
        let mut state = vec![0u8; n]; // 0 not seen, 1 on this walk, 2 known good
        for start in 0..n {
            let mut walk = Vec::new();
            let mut at = start;
            loop {
                match state[at] {
                    2 => break,
                    1 => {
                        let from = walk.iter().position(|p| *p == at).unwrap_or(0);
                        let names: Vec<&str> = walk[from..]
                            .iter()
                            .map(|p: &usize| self.engine.parts[*p].id.as_str())
                            .collect();
                        let what = format!(
                            "parts stand inside one another in a circle: {} -> {}",
                            names.join(" -> "),
                            self.engine.parts[at].id
                        );
                        if let Some(text) = parents[at] {
                            self.fault(text, what, "correct one of these `inside` lines");
                        }
                        self.engine.parts[at].inside = None;
                        break;
                    }
                    _ => {
                        state[at] = 1;
                        walk.push(at);
                        match self.engine.parts[at].inside {
                            Some(next) => at = next.index(),
                            None => break,
                        }
                    }
                }
            }
            for p in walk {
                state[p] = 2;
            }
        }
    }

    fn features(&mut self, d: &Description) {
        let mut halves: Vec<(usize, &Vec<Text>)> = Vec::new();
        for f in d.features.iter().take(MOST_RECORDS) {
            let Some(id) = self.id(&f.id, "feature", |e, n| e.index.features.contains_key(n))
            else {
                continue;
            };
            let Some(id_text) = &f.id else { continue };
            let Some(part_text) = &f.part else {
                self.fault(
                    id_text,
                    format!("feature \"{id}\" is on no part"),
                    "write part = \"...\"",
                );
                continue;
            };
            let Some(part) = self.find(part_text, "part", |e| &e.index.parts) else { continue };
            if f.kind.is_none() {
                self.fault(
                    id_text,
                    format!("feature \"{id}\" has no kind"),
                    FeatureKind::parse("").err().unwrap_or_default(),
                );
                continue;
            }
            let Some(kind) = self.word(&f.kind, FeatureKind::parse) else { continue };
            // A stand may be zero or negative; everything else has size.
            let as_made = if matches!(kind, FeatureKind::Stand | FeatureKind::Length) {
                self.optional(&f.as_made, Dimension::Length)
            } else {
                self.size(&f.as_made)
            };
            let stations: Vec<String> =
                f.stations.iter().flatten().map(|t| t.get_ref().trim().to_owned()).collect();
            let station_at_m = self.station_places(f, &stations, id_text);
            let can = match &f.can {
                Some(list) => {
                    list.iter().filter_map(|t| self.word(&Some(t.clone()), Way::parse)).collect()
                }
                None => default_ways(kind),
            };
            let closes_at_rad = match &f.closes_at {
                Some(t) => match crate::readings::parse_direction(t.get_ref()) {
                    Ok(rad) => rad,
                    Err(mend) => {
                        self.fault(t, format!("\"{}\" is not a direction", t.get_ref()), mend);
                        0.0
                    }
                },
                None => 0.0,
            };
            let least = self.size(&f.least);
            let most = self.size(&f.most);
            if let (Some(a), Some(b), Some(at)) = (&least, &most, &f.least)
                && a.si() >= b.si()
            {
                self.fault(
                    at,
                    format!("least {} is not below most {}", a.text(), b.text()),
                    "exchange or correct them",
                );
            }
            let feature = Feature {
                name: f.name.as_ref().map_or_else(|| id.clone(), |t| t.get_ref().clone()),
                part,
                kind,
                as_made,
                tolerance_m: self.width(&f.tolerance).unwrap_or(0.0),
                last: self.optional(&f.last, Dimension::Length),
                stations,
                station_at_m,
                least,
                most,
                surface: self.word(&f.surface, Surface::parse).unwrap_or(Surface::Wears),
                can,
                halves: Vec::new(),
                closes_at_rad,
                family: f.family.as_ref().map(|t| t.get_ref().clone()),
                assume_as_made: f.assume_as_made.as_ref().is_some_and(|b| *b.get_ref()),
                limits: Vec::new(),
                in_joints: Vec::new(),
                in_chains: Vec::new(),
                id: id.clone(),
            };
            let ix = FeatureIx::new(self.engine.features.len());
            if let Some(list) = &f.halves {
                halves.push((ix.index(), list));
            }
            self.engine.index.features.insert(id, ix);
            self.engine.features.push(feature);
        }
        for (at, list) in halves {
            if list.len() != 2 {
                if let Some(first) = list.first() {
                    self.fault(
                        first,
                        format!("a split bearing has two halves, not {}", list.len()),
                        "name the fixed half first, then the other",
                    );
                }
                continue;
            }
            let found: Vec<FeatureIx> = list.iter().filter_map(|t| self.find_feature(t)).collect();
            if found.len() == 2 {
                self.engine.features[at].halves = found;
            }
        }
    }

    fn station_places(
        &mut self,
        f: &crate::description::FeatureText,
        stations: &[String],
        at: &Text,
    ) -> Vec<f64> {
        let n = stations.len();
        if n >= usize::from(super::STATION_UNSAID) {
            self.fault(at, format!("{n} stations are too many"), "a few dozen will do");
            return vec![0.0; n];
        }
        if let Some(list) = &f.station_at {
            if list.len() != n {
                self.fault(
                    at,
                    format!("{} places for {n} stations", list.len()),
                    "one station-at for each station",
                );
            } else {
                return list
                    .iter()
                    .map(|t| self.quantity(t, Dimension::Length).map_or(0.0, |q| q.si()))
                    .collect();
            }
        }
        let length = self.size(&f.length).map(|q| q.si());
        match (length, n) {
            // Evenly spread with half a space at each end, as a person lays a gauge along a pin.
            (Some(length), n) if n > 0 => {
                (0..n).map(|i| length * (i as f64 + 0.5) / n as f64).collect()
            }
            (_, n) => (0..n).map(|i| i as f64).collect(),
        }
    }

    fn joints(&mut self, d: &Description) {
        for j in d.joints.iter().take(MOST_RECORDS) {
            let Some(id) = self.id(&j.id, "joint", |e, n| e.index.joints.contains_key(n)) else {
                continue;
            };
            let Some(id_text) = &j.id else { continue };
            if j.kind.is_none() {
                self.fault(
                    id_text,
                    format!("joint \"{id}\" has no kind"),
                    JointKind::parse("").err().unwrap_or_default(),
                );
                continue;
            }
            let Some(kind) = self.word(&j.kind, JointKind::parse) else { continue };
            let (Some(inner), Some(outer)) = (&j.inner, &j.outer) else {
                self.fault(
                    id_text,
                    format!("joint \"{id}\" wants an inner and an outer feature"),
                    "name both",
                );
                continue;
            };
            let (inner_ix, outer_ix) = (self.find_feature(inner), self.find_feature(outer));
            let (Some(inner_ix), Some(outer_ix)) = (inner_ix, outer_ix) else { continue };
            if inner_ix == outer_ix {
                self.fault(
                    outer,
                    format!("joint \"{id}\" mates a feature with itself"),
                    "name two features",
                );
                continue;
            }
            let (inside, outside) =
                (self.engine.feature(inner_ix).kind, self.engine.feature(outer_ix).kind);
            if inside.metal() != Metal::Inside || outside.metal() != Metal::Outside {
                self.fault(
                    inner,
                    format!("joint \"{id}\" has a {inside} inside a {outside}"),
                    "inner wants an outside surface (journal, pin, piston, cone, thickness), outer an inside one (bore, cylinder, hole, socket, gap)",
                );
                continue;
            }
            let fills: Vec<FeatureIx> =
                j.fills.iter().flatten().filter_map(|t| self.find_feature(t)).collect();
            let taper = self.taper(&j.taper, id_text, kind, &id);
            if matches!(kind, JointKind::Tapered | JointKind::Wedged) && taper.is_none() {
                continue;
            }
            let stand = match &j.stand {
                Some(t) => {
                    let least =
                        self.optional(&j.stand_least, Dimension::Length).map_or(0.0, |q| q.si());
                    let most = self.optional(&j.stand_most, Dimension::Length).map(|q| q.si());
                    match (self.find_feature(t), most) {
                        (Some(feature), Some(most_m)) if most_m > least => {
                            Some(WedgeStand { feature, least_m: least, most_m })
                        }
                        (Some(_), _) => {
                            self.fault(
                                t,
                                format!("the wedge of \"{id}\" has no travel"),
                                "give stand-most greater than stand-least",
                            );
                            None
                        }
                        _ => None,
                    }
                }
                None => None,
            };
            if kind == JointKind::Wedged && stand.is_none() {
                self.fault(
                    id_text,
                    format!("wedged joint \"{id}\" wants stand, stand-least and stand-most"),
                    "stand names the feature that says how far the wedge stands",
                );
                continue;
            }
            let ix = JointIx::new(self.engine.joints.len());
            let mut members = vec![inner_ix, outer_ix];
            members.extend(&fills);
            members.extend(stand.iter().map(|s| s.feature));
            members.sort_unstable();
            members.dedup();
            for m in members {
                self.engine.features[m.index()].in_joints.push(ix);
            }
            self.engine.index.joints.insert(id.clone(), ix);
            self.engine.joints.push(Joint {
                name: j.name.as_ref().map_or_else(|| id.clone(), |t| t.get_ref().clone()),
                id,
                kind,
                inner: inner_ix,
                outer: outer_ix,
                fills,
                taper,
                stand,
                group: j.group.as_ref().map(|t| t.get_ref().clone()),
                limits: Vec::new(),
            });
        }
    }

    fn taper(
        &mut self,
        text: &Option<Text>,
        id_text: &Text,
        kind: JointKind,
        id: &str,
    ) -> Option<f64> {
        match text {
            Some(t) => match quantity::Taper::parse(t.get_ref()) {
                Ok(taper) => Some(taper.ratio()),
                Err(e) => {
                    self.fault(t, format!("\"{}\": {}", t.get_ref(), e.reason()), e.hint());
                    None
                }
            },
            None => {
                if matches!(kind, JointKind::Tapered | JointKind::Wedged) {
                    self.fault(
                        id_text,
                        format!("{kind} joint \"{id}\" has no taper"),
                        "write taper = \"1 in 12\"",
                    );
                }
                None
            }
        }
    }

    fn chains(&mut self, d: &Description) {
        for c in d.chains.iter().take(MOST_RECORDS) {
            let Some(id) = self.id(&c.id, "chain", |e, n| e.index.chains.contains_key(n)) else {
                continue;
            };
            let mut terms = Vec::new();
            let mut good = true;
            for t in c.terms.iter().flatten() {
                match self.term(t) {
                    Some(term) => terms.push(term),
                    None => good = false,
                }
            }
            if terms.is_empty() && good {
                if let Some(at) = &c.id {
                    self.fault(
                        at,
                        format!("chain \"{id}\" has no terms"),
                        "write terms = [\"+ feature\", \"- feature\"]",
                    );
                }
                continue;
            }
            if !good {
                continue;
            }
            let as_made = self.optional(&c.as_made, Dimension::Length);
            let ix = ChainIx::new(self.engine.chains.len());
            let mut members: Vec<FeatureIx> = terms.iter().map(|(_, f)| *f).collect();
            members.sort_unstable();
            members.dedup();
            for m in members {
                self.engine.features[m.index()].in_chains.push(ix);
            }
            self.engine.index.chains.insert(id.clone(), ix);
            self.engine.chains.push(Chain {
                name: c.name.as_ref().map_or_else(|| id.clone(), |t| t.get_ref().clone()),
                id,
                terms,
                as_made,
                limits: Vec::new(),
            });
        }
    }

    /// `+ feature`, `- feature`, `0.5 feature`, `-0.5 feature`, `feature`.
    fn term(&mut self, text: &Text) -> Option<(f64, FeatureIx)> {
        let written = text.get_ref().trim();
        let (sign, rest) = match written.strip_prefix(['+', '-', '\u{2212}']) {
            Some(rest) => (if written.starts_with('+') { 1.0 } else { -1.0 }, rest.trim()),
            None => (1.0, written),
        };
        let (factor, name) = match rest.split_once(char::is_whitespace) {
            Some((first, name)) if first.parse::<f64>().is_ok_and(f64::is_finite) => {
                (first.parse::<f64>().unwrap_or(1.0), name.trim())
            }
            _ => (1.0, rest),
        };
        if let Some(ix) = self.engine.index.features.get(name) {
            return Some((sign * factor, *ix));
        }
        let mend = match nearest(name, self.engine.index.features.keys().map(String::as_str)) {
            Some(near) => format!("did you mean \"{near}\"?"),
            None => "a term is a sign, a factor if it is not 1, and a feature".to_owned(),
        };
        self.fault(text, format!("there is no feature \"{name}\" for this term"), mend);
        None
    }

    fn limits(&mut self, d: &Description) {
        for l in &d.limits {
            let Some(on) = &l.on else {
                self.fault_file("a limit is on nothing", "write on = \"feature, joint or chain\"");
                continue;
            };
            let Some(limit) = self.limit(l, on) else { continue };
            let name = on.get_ref().trim().to_owned();
            let measure = limit.measure;
            if let Some(ends) = self.engine.motion.ends_named(&name) {
                if measure == Measure::Clearance {
                    self.engine.motion.put_limit(ends, &limit);
                } else {
                    self.fault(
                        on,
                        format!("a cylinder has no {measure}"),
                        "write of = \"clearance\": that of the piston from its covers",
                    );
                }
                continue;
            }
            let index = &self.engine.index;
            let taken =
                match (index.features.get(&name), index.joints.get(&name), index.chains.get(&name))
                {
                    (Some(ix), ..) if measure.of_feature() => {
                        self.engine.features[ix.index()].limits.push(limit);
                        true
                    }
                    (_, Some(ix), _) if measure.of_joint() => {
                        self.engine.joints[ix.index()].limits.push(limit);
                        true
                    }
                    (.., Some(ix)) if measure == Measure::Length => {
                        self.engine.chains[ix.index()].limits.push(limit);
                        true
                    }
                    (None, None, None) => {
                        let mend = match self.engine.nearest_id(&name) {
                            Some(near) => format!("did you mean \"{near}\"?"),
                            None => "name a feature, a joint or a chain".to_owned(),
                        };
                        self.fault(on, format!("there is no \"{name}\" to put a limit on"), mend);
                        true
                    }
                    _ => false,
                };
            if !taken {
                self.fault(
                    on,
                    format!("\"{name}\" has no {measure}"),
                    "features have size, ovality, taper, barrel, roundness, wear; joints have clearance, greatest clearance, interference, draw, travel left, unaccounted; chains have length",
                );
            }
        }
    }

    fn limit(&mut self, l: &LimitText, on: &Text) -> Option<Limit> {
        if l.of.is_none() {
            self.fault(
                on,
                "this limit does not say of what",
                Measure::parse("").err().unwrap_or_default(),
            );
            return None;
        }
        let measure = self.word(&l.of, Measure::parse)?;
        let when = match &l.when {
            Some(_) => self.word(&l.when, When::parse)?,
            None => When::Service,
        };
        let source = match &l.source {
            Some(_) => self.word(&l.source, LimitSource::parse)?,
            None => {
                self.fault(
                    on,
                    "this limit does not say where it comes from",
                    LimitSource::parse("").err().unwrap_or_default(),
                );
                return None;
            }
        };
        let min = self.optional(&l.min, measure.dimension());
        let max = self.optional(&l.max, measure.dimension());
        if l.min.is_none() && l.max.is_none() {
            self.fault(on, "this limit has neither min nor max", "give one or both");
            return None;
        }
        if (l.min.is_some() && min.is_none()) || (l.max.is_some() && max.is_none()) {
            return None;
        }
        if let (Some(a), Some(b)) = (&min, &max)
            && a.si() > b.si()
        {
            self.fault(on, format!("min {} is above max {}", a.text(), b.text()), "exchange them");
            return None;
        }
        Some(Limit {
            measure,
            when,
            min,
            max,
            source,
            note: l.note.as_ref().map(|t| t.get_ref().clone()).unwrap_or_default(),
        })
    }

    fn findings(&mut self, d: &Description) {
        for f in &d.findings {
            let Some(on) = &f.on else {
                self.fault_file("a finding is on nothing", "write on = \"feature\"");
                continue;
            };
            let Some(feature) = self.find_feature(on) else { continue };
            let Some(condition) = self.word(&f.condition, Condition::parse) else {
                if f.condition.is_none() {
                    self.fault(
                        on,
                        "this finding has no condition",
                        Condition::parse("").err().unwrap_or_default(),
                    );
                }
                continue;
            };
            let say =
                |t: &Option<Text>| t.as_ref().map(|t| t.get_ref().clone()).unwrap_or_default();
            let when = self.date(&f.when);
            self.engine.findings.push(Finding {
                feature,
                condition,
                by: say(&f.by),
                when,
                note: say(&f.note),
            });
        }
    }

    fn decisions(&mut self, d: &Description) {
        for x in &d.decisions {
            let Some(joint_text) = &x.joint else {
                self.fault_file("a decision is about no joint", "write joint = \"...\"");
                continue;
            };
            let Some(joint) = self.find(joint_text, "joint", |e| &e.index.joints) else { continue };
            let Some(repair) = self.word(&x.repair, RepairKind::parse) else {
                if x.repair.is_none() {
                    self.fault(
                        joint_text,
                        "this decision does not say what will be done",
                        RepairKind::parse("").err().unwrap_or_default(),
                    );
                }
                continue;
            };
            let mut make = Vec::new();
            for m in x.make.iter().flatten() {
                let Some(name) = &m.feature else {
                    self.fault(
                        joint_text,
                        "a target names no feature",
                        "write feature = \"...\", to = \"...\"",
                    );
                    continue;
                };
                let Some(feature) = self.find_feature(name) else { continue };
                if m.to.is_none() {
                    self.fault(name, "this target has no size", "write to = \"203.2 mm\"");
                    continue;
                }
                let Some(to) = self.size(&m.to) else { continue };
                let tolerance = self.optional(&m.tolerance, Dimension::Length);
                make.push(Make { feature, to, tolerance });
            }
            let say =
                |t: &Option<Text>| t.as_ref().map(|t| t.get_ref().clone()).unwrap_or_default();
            let when = self.date(&x.when);
            self.engine.decisions.push(Decision {
                joint,
                repair,
                make,
                by: say(&x.by),
                when,
                reason: say(&x.reason),
            });
        }
    }
}

/// Ways a surface is usually worked when the file does not say (common practice).
fn default_ways(kind: FeatureKind) -> Vec<Way> {
    use FeatureKind as K;
    match kind {
        K::Journal | K::Piston | K::Cone => vec![Way::Turning, Way::New],
        K::Pin => vec![Way::New],
        K::Thickness => vec![Way::Planing, Way::New],
        K::Bore => vec![Way::Boring, Way::Lining],
        K::Cylinder => vec![Way::Boring, Way::Lining],
        K::Hole => vec![Way::Reaming],
        K::Socket => vec![Way::Boring],
        K::Gap => vec![Way::Planing, Way::Filing],
        K::Centres | K::Length | K::Stand => vec![],
    }
}
