//! From the records of the file to a [`WorksModel`], every fault with its place and its mend.

mod lift;
mod shed;
mod work;

pub(crate) use shed::weather_of;

use super::model::{Moment, On, WorksModel};
use crate::description::{Count, Description, Sources, Text, YesNo};
use crate::model::{Date, Engine, FeatureIx, JointIx, PartIx};
use crate::problem::{Place, Problem, nearest};
use quantity::{Dimension, Quantity};

/// More works, lifts or solids than this are a slip.
const MOST: usize = 20_000;
/// Longer than this is a slip, minutes.
const LONGEST_MIN: f64 = 100_000.0;

/// Builds the works of an engine whose parts, joints and motion are known.
pub(crate) fn build(
    description: &Description,
    sources: &Sources,
    engine: &Engine,
) -> (WorksModel, Vec<Problem>) {
    let model = WorksModel::default();
    let mut r = Reader { sources, engine, model, found: Vec::new() };
    r.parts(description);
    r.crew(description);
    r.kit_and_places(description);
    r.solids(description);
    r.lifts(description);
    r.works(description);
    r.shed(description);
    r.progress(description);
    (r.model, r.found)
}

struct Reader<'a> {
    sources: &'a Sources,
    engine: &'a Engine,
    model: WorksModel,
    found: Vec<Problem>,
}

impl Reader<'_> {
    fn fault(&mut self, at: &Text, what: impl Into<String>, mend: impl Into<String>) {
        self.fault_at(at.span().start, what, mend);
    }

    fn fault_at(&mut self, at: usize, what: impl Into<String>, mend: impl Into<String>) {
        self.found.push(Problem::new(self.sources.place(at), what, mend));
    }

    fn fault_file(&mut self, what: impl Into<String>, mend: impl Into<String>) {
        self.found.push(Problem::new(Place::file(self.sources.own_file()), what, mend));
    }

    fn say(text: &Option<Text>) -> String {
        text.as_ref().map(|t| t.get_ref().trim().to_owned()).unwrap_or_default()
    }

    /// The id of a record, new among its kind.
    fn id(&mut self, id: &Option<Text>, kind: &str, taken: &[String]) -> Option<String> {
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
        if taken.contains(&name) {
            self.fault(
                text,
                format!("{kind} \"{name}\" stands twice"),
                "give one of the two another id",
            );
            return None;
        }
        Some(name)
    }

    /// A figure in SI within limits.
    fn number(
        &mut self,
        text: &Text,
        dimension: Dimension,
        (low, high): (f64, f64),
    ) -> Option<f64> {
        match Quantity::parse_as(text.get_ref().trim(), dimension) {
            Ok(q) if q.si() >= low && q.si() <= high => Some(q.si()),
            Ok(q) => {
                let symbol = dimension.si_symbol();
                self.fault(
                    text,
                    format!("{} cannot be here", q.text()),
                    format!("it lies from {low} to {high} {symbol}; check figure and unit"),
                );
                None
            }
            Err(e) => {
                self.fault(text, format!("\"{}\": {}", text.get_ref(), e.reason()), e.hint());
                None
            }
        }
    }

    fn optional(
        &mut self,
        text: &Option<Text>,
        dimension: Dimension,
        limits: (f64, f64),
    ) -> Option<f64> {
        text.as_ref().and_then(|t| self.number(t, dimension, limits))
    }

    /// A share: `30 %` or `0.3`.
    fn share(&mut self, text: &Option<Text>) -> Option<f64> {
        self.optional(text, Dimension::Number, (0.0, 1.0))
    }

    fn minutes(&mut self, text: &Text) -> Option<u32> {
        let seconds = self.number(text, Dimension::Time, (0.0, LONGEST_MIN * 60.0))?;
        Some((seconds / 60.0).round() as u32)
    }

    fn count(&mut self, count: &Option<Count>, what: &str) -> Option<u32> {
        let count = count.as_ref()?;
        match u32::try_from(*count.get_ref()) {
            Ok(n) if n <= 1000 => Some(n),
            _ => {
                let (n, at) = (count.get_ref(), count.span().start);
                self.fault_at(at, format!("{what} of {n} cannot be"), "write 0 to 1000");
                None
            }
        }
    }

    fn yes(text: &Option<YesNo>) -> bool {
        text.as_ref().is_some_and(|y| *y.get_ref())
    }

    /// Three lengths.
    fn place_m(&mut self, list: &Option<Vec<Text>>, named: &str) -> Option<[f64; 3]> {
        let list = list.as_ref()?;
        self.lengths(list, named).and_then(|v| <[f64; 3]>::try_from(v).ok()).or_else(|| {
            self.wrong_number(list, named, 3);
            None
        })
    }

    /// Two lengths.
    fn pair_m(&mut self, list: &Option<Vec<Text>>, named: &str) -> Option<[f64; 2]> {
        let list = list.as_ref()?;
        self.lengths(list, named).and_then(|v| <[f64; 2]>::try_from(v).ok()).or_else(|| {
            self.wrong_number(list, named, 2);
            None
        })
    }

    fn wrong_number(&mut self, list: &[Text], named: &str, wanted: usize) {
        if list.len() != wanted
            && let Some(at) = list.first()
        {
            self.fault(
                at,
                format!("{named} has {} lengths, not {wanted}", list.len()),
                if wanted == 3 {
                    "write along, across and up: [\"1 m\", \"0 m\", \"0.2 m\"]"
                } else {
                    "write two lengths: [\"0 in\", \"4 in\"]"
                },
            );
        }
    }

    fn lengths(&mut self, list: &[Text], _named: &str) -> Option<Vec<f64>> {
        let all: Vec<Option<f64>> =
            list.iter().map(|t| self.number(t, Dimension::Length, (-100.0, 100.0))).collect();
        all.into_iter().collect()
    }

    /// One figure, or low, likely and high joined by `;`.
    fn three(
        &mut self,
        text: &Option<Text>,
        dimension: Dimension,
        limits: (f64, f64),
    ) -> Option<[f64; 3]> {
        let text = text.as_ref()?;
        let mut all = Vec::new();
        for part in text.get_ref().split(';') {
            let piece = toml::Spanned::new(text.span(), part.trim().to_owned());
            all.push(self.number(&piece, dimension, limits)?);
        }
        match all.as_slice() {
            [one] => Some([*one; 3]),
            [a, b, c] if a <= b && b <= c => Some([*a, *b, *c]),
            _ => {
                self.fault(
                    text,
                    format!(
                        "\"{}\" is neither one figure nor low, likely and high",
                        text.get_ref()
                    ),
                    "write 0.12, or 0.08; 0.12; 0.2",
                );
                None
            }
        }
    }

    fn day(&mut self, text: &Option<Text>) -> Option<Date> {
        let text = text.as_ref()?;
        match Date::parse(text.get_ref()) {
            Ok(d) => Some(d),
            Err(what) => {
                self.fault(text, what, "year-month-day");
                None
            }
        }
    }

    fn moment(&mut self, text: &Text) -> Option<Moment> {
        match Moment::parse(text.get_ref()) {
            Ok(m) => Some(m),
            Err(what) => {
                self.fault(text, what, "write 2026-10-10 or 2026-10-10 11:30");
                None
            }
        }
    }

    /// Days of the week and dates.
    fn on(&mut self, list: &[Text]) -> Vec<On> {
        const DAYS: [&str; 7] =
            ["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"];
        let mut all = Vec::new();
        for text in list {
            let word = text.get_ref().trim().to_ascii_lowercase();
            match DAYS.iter().position(|d| *d == word) {
                Some(d) => all.push(On::Weekday(d)),
                None => match Date::parse(&word) {
                    Ok(d) => all.push(On::Date(d)),
                    Err(_) => self.fault(
                        text,
                        format!("\"{}\" is no day", text.get_ref()),
                        "write Saturday or 2026-10-10",
                    ),
                },
            }
        }
        all
    }

    fn part(&mut self, text: &Text) -> Option<PartIx> {
        let name = text.get_ref().trim();
        if let Some(ix) = self.engine.part_by_id(name) {
            return Some(ix);
        }
        let near = nearest(name, self.engine.parts.iter().map(|p| p.id.as_str()));
        let mend = near.map_or_else(
            || "describe it in a [[part]] or correct the name".to_owned(),
            |n| format!("did you mean \"{n}\"?"),
        );
        self.fault(text, format!("there is no part \"{name}\""), mend);
        None
    }

    fn part_list(&mut self, list: &Option<Vec<Text>>) -> Vec<PartIx> {
        list.iter().flatten().filter_map(|t| self.part(t)).collect()
    }

    fn joint(&mut self, text: &Text) -> Option<JointIx> {
        let name = text.get_ref().trim();
        if let Some(ix) = self.engine.joint_by_id(name) {
            return Some(ix);
        }
        let near = nearest(name, self.engine.joints.iter().map(|j| j.id.as_str()));
        let mend = near.map_or_else(
            || "describe it in a [[joint]] or correct the name".to_owned(),
            |n| format!("did you mean \"{n}\"?"),
        );
        self.fault(text, format!("there is no joint \"{name}\""), mend);
        None
    }

    fn joint_list(&mut self, list: &Option<Vec<Text>>) -> Vec<JointIx> {
        list.iter().flatten().filter_map(|t| self.joint(t)).collect()
    }

    /// Features by their own name, or by that of a joint or chain they are in.
    fn features(&mut self, list: &Option<Vec<Text>>) -> Vec<FeatureIx> {
        let mut all = Vec::new();
        for text in list.iter().flatten() {
            let name = text.get_ref().trim();
            let engine = self.engine;
            if let Some(f) = engine.feature_by_id(name) {
                all.push(f);
            } else if let Some(j) = engine.joint_by_id(name) {
                let joint = engine.joint(j);
                all.extend([joint.inner, joint.outer]);
                all.extend(&joint.fills);
            } else if let Some(c) = engine.chain_by_id(name) {
                all.extend(engine.chain(c).terms.iter().map(|t| t.1));
            } else {
                let mend = engine.nearest_id(name).map_or_else(
                    || "name a feature, joint or chain".to_owned(),
                    |n| format!("did you mean \"{n}\"?"),
                );
                self.fault(text, format!("there is no feature, joint or chain \"{name}\""), mend);
            }
        }
        all.sort();
        all.dedup();
        all
    }

    /// A name among a few.
    fn named(&mut self, text: &Text, kind: &str, known: &[String]) -> Option<usize> {
        let name = text.get_ref().trim();
        if let Some(at) = known.iter().position(|k| k == name) {
            return Some(at);
        }
        let mend = nearest(name, known.iter().map(String::as_str)).map_or_else(
            || format!("describe it in a [[{kind}]] or correct the name"),
            |n| format!("did you mean \"{n}\"?"),
        );
        self.fault(text, format!("there is no {kind} \"{name}\""), mend);
        None
    }
}
