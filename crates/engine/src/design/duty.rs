//! A duty as read: every value with what was written and where.

use super::fields::{FIELDS, Field, Form, field};
use crate::description::{Description, DutyValue, Sources};
use crate::model::{Engine, JointIx};
use crate::problem::{Place, Problem, nearest};
use indexmap::IndexMap;
use quantity::{Dimension, Quantity};
use std::collections::HashMap;

/// Where a line comes from that was laid over a duty to try it.
pub(super) const WHAT_IF: &str = "what if";

/// A value in SI.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// One figure.
    One(f64),
    /// Several figures.
    Many(Vec<f64>),
    /// From, to.
    Band(f64, f64),
    /// A word or text.
    Text(String),
    /// Several texts.
    Texts(Vec<String>),
    /// Kinematic viscosity (m2/s) at a temperature (K).
    OilPoint(f64, f64),
    /// Stroke (m) and force (N).
    Pairs(Vec<(f64, f64)>),
    /// Length, outside, bore (m).
    Slices(Vec<(f64, f64, f64)>),
}

/// A value with what was written and where.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// The value.
    pub value: Value,
    /// As written.
    pub text: String,
    /// Where it comes from: file and line, or "what if".
    pub from: String,
}

/// What a joint has to do and how it is to be made.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Duty {
    /// Lines by name.
    pub entries: IndexMap<&'static str, Entry>,
}

impl Duty {
    /// Lays a value over it, as `--with name=value` does.
    ///
    /// # Errors
    /// What is wrong, and the mend.
    pub fn set(&mut self, name: &str, text: &str) -> Result<(), (String, String)> {
        let field = known(name)?;
        let list: Vec<String> = text.split(';').map(|t| t.trim().to_owned()).collect();
        let value = match field.form {
            Form::Several(_)
            | Form::SeveralAny(_)
            | Form::Friction
            | Form::Texts
            | Form::PressRecord
            | Form::Slices => DutyValue::List(list),
            _ => DutyValue::One(text.to_owned()),
        };
        let entry = Entry {
            value: parse(field, &value)?,
            text: text.trim().to_owned(),
            from: WHAT_IF.to_owned(),
        };
        self.entries.insert(field.name, entry);
        Ok(())
    }
}

fn known(name: &str) -> Result<&'static Field, (String, String)> {
    field(name).ok_or_else(|| {
        let mend = match nearest(name, FIELDS.iter().map(|f| f.name)) {
            Some(near) => format!("did you mean \"{near}\"?"),
            None => "docs/design.md lists the lines of a duty".to_owned(),
        };
        (format!("a duty has no line \"{name}\""), mend)
    })
}

/// Reads every `[[duty]]` into the engine.
pub(crate) fn read_duties(
    description: &Description,
    sources: &Sources,
    engine: &mut Engine,
) -> Vec<Problem> {
    let mut problems = Vec::new();
    let mut likes: Vec<(JointIx, JointIx)> = Vec::new();
    let mut read: HashMap<JointIx, Duty> = HashMap::new();
    for text in &description.duties {
        let mut duty = Duty::default();
        let mut joint = None;
        let mut like = None;
        for (name, value) in &text.fields {
            let place = sources.place(value.span().start);
            let mut fault = |place: Place, (what, mend): (String, String)| {
                problems.push(Problem::new(place, what, mend));
            };
            let field = match known(name.get_ref()) {
                Ok(field) => field,
                Err(e) => {
                    fault(sources.place(name.span().start), e);
                    continue;
                }
            };
            let parsed = match parse(field, value.get_ref()) {
                Ok(value) => value,
                Err(e) => {
                    fault(place, e);
                    continue;
                }
            };
            if let ("of" | "like", Value::Text(id)) = (field.name, &parsed) {
                match engine.joint_by_id(id) {
                    Some(ix) if field.name == "of" => joint = Some(ix),
                    Some(ix) => like = Some(ix),
                    None => {
                        let mend = nearest(id, engine.joints.iter().map(|j| j.id.as_str()))
                            .map_or_else(
                                || "name a joint of this engine".to_owned(),
                                |near| format!("did you mean \"{near}\"?"),
                            );
                        fault(place, (format!("there is no joint \"{id}\""), mend));
                    }
                }
                continue;
            }
            let entry = Entry {
                value: parsed,
                text: as_written(value.get_ref()),
                from: format!("{}:{}", place.file, place.line),
            };
            duty.entries.insert(field.name, entry);
        }
        let Some(joint) = joint else {
            if text.text("of").is_none() {
                let place = text.fields.first().map_or_else(
                    || Place::file(sources.own_file()),
                    |(name, _)| sources.place(name.span().start),
                );
                problems.push(Problem::new(
                    place,
                    "a duty says not of which joint",
                    "write of = \"...\" with the joint's id",
                ));
            }
            continue;
        };
        if let Some(other) = like {
            likes.push((joint, other));
        }
        read.insert(joint, duty);
    }
    take_over(&mut read, &likes, engine, &mut problems);
    engine.duties = read;
    problems
}

/// Fills duties from those they are like. A chain is followed to its end; a circle is told.
fn take_over(
    read: &mut HashMap<JointIx, Duty>,
    likes: &[(JointIx, JointIx)],
    engine: &Engine,
    problems: &mut Vec<Problem>,
) {
    for (joint, first) in likes {
        let mut at = *first;
        let mut seen = vec![*joint];
        loop {
            if seen.contains(&at) {
                problems.push(Problem::new(
                    Place::file("[[duty]]"),
                    format!("the duty of \"{}\" is like itself", engine.joint(*joint).id),
                    "take one of the `like` lines out",
                ));
                break;
            }
            seen.push(at);
            let Some(base) = read.get(&at).cloned() else {
                problems.push(Problem::new(
                    Place::file("[[duty]]"),
                    format!(
                        "the duty of \"{}\" is like that of \"{}\", which has none",
                        engine.joint(*joint).id,
                        engine.joint(at).id
                    ),
                    "describe that duty, or take the `like` line out",
                ));
                break;
            };
            if let Some(duty) = read.get_mut(joint) {
                for (name, entry) in base.entries {
                    duty.entries.entry(name).or_insert(entry);
                }
            }
            match likes.iter().find(|(j, _)| *j == at) {
                Some((_, next)) => at = *next,
                None => break,
            }
        }
    }
}

fn as_written(value: &DutyValue) -> String {
    match value {
        DutyValue::One(text) => text.clone(),
        DutyValue::List(list) => list.join("; "),
        DutyValue::Other(what) => (*what).to_owned(),
    }
}

type Fault = (String, String);

fn parse(field: &Field, value: &DutyValue) -> Result<Value, Fault> {
    let example = || format!("write {} = {}", field.name, quoted(field.example));
    match (value, field.form) {
        (
            DutyValue::List(list),
            Form::Several(_)
            | Form::SeveralAny(_)
            | Form::Friction
            | Form::Texts
            | Form::PressRecord
            | Form::Slices,
        ) => parse_list(field, list),
        (DutyValue::One(text), Form::Friction | Form::Several(_) | Form::SeveralAny(_)) => {
            parse_list(field, std::slice::from_ref(text))
        }
        (DutyValue::One(text), _) => parse_one(field, text.trim()),
        (other, _) => {
            Err((format!("{} is written as {}", field.name, as_written(other)), example()))
        }
    }
}

fn quoted(example: &str) -> String {
    if example.starts_with('[') { example.to_owned() } else { format!("\"{example}\"") }
}

fn parse_one(field: &Field, text: &str) -> Result<Value, Fault> {
    let example = || format!("write {} = {}", field.name, quoted(field.example));
    let wrong = |what: String| (format!("{} = \"{text}\": {what}", field.name), example());
    match field.form {
        Form::Above(d) => number(field, text, d, |v| v > 0.0, "must be above zero").map(Value::One),
        Form::FromZero(d) => {
            number(field, text, d, |v| v >= 0.0, "cannot be negative").map(Value::One)
        }
        Form::Any(d) => number(field, text, d, |_| true, "").map(Value::One),
        Form::Band => {
            let (low, high) = text
                .split_once(" to ")
                .ok_or_else(|| wrong("not of the form LEAST to MOST".to_owned()))?;
            let d = Dimension::Length;
            let high_si = number(field, high, d, |_| true, "")?;
            // "0.02 to 0.08 mm": the unit may stand at the end for both.
            let low_si = match number(field, low, d, |_| true, "") {
                Ok(v) => v,
                Err(e) => {
                    let unit = Quantity::parse_as(high, d).map(|q| q.unit().symbol()).unwrap_or("");
                    number(field, &format!("{low} {unit}"), d, |_| true, "").map_err(|_| e)?
                }
            };
            if low_si > high_si {
                return Err(wrong("the least is above the most".to_owned()));
            }
            Ok(Value::Band(low_si, high_si))
        }
        Form::OilPoint => {
            let (nu, at) = text
                .split_once(" at ")
                .ok_or_else(|| wrong("not of the form VISCOSITY at TEMPERATURE".to_owned()))?;
            let nu = odd(nu, &["mm2/s", "mm²/s", "cSt"])
                .filter(|v| *v > 0.0)
                .ok_or_else(|| wrong(format!("\"{}\" is not a viscosity in mm2/s", nu.trim())))?;
            let at =
                number(field, at, Dimension::Temperature, |v| v > 0.0, "is below absolute zero")?;
            Ok(Value::OilPoint(nu * 1e-6, at))
        }
        Form::Odd(unit) => odd(text, &[unit])
            .filter(|v| *v > 0.0)
            .map(Value::One)
            .ok_or_else(|| wrong(format!("not a figure above zero in {unit}"))),
        Form::Taper => quantity::Taper::parse(text)
            .map(|t| Value::One(t.ratio()))
            .map_err(|e| (format!("{} = \"{text}\": {}", field.name, e.reason()), example())),
        Form::Word(words) => words
            .iter()
            .find(|w| w.eq_ignore_ascii_case(text))
            .map(|w| Value::Text((*w).to_owned()))
            .ok_or_else(|| {
                (
                    format!("{} = \"{text}\" is not a word known here", field.name),
                    format!("use one of: {}", words.join(", ")),
                )
            }),
        Form::Text if text.is_empty() => Err(wrong("nothing is written".to_owned())),
        Form::Text => Ok(Value::Text(text.to_owned())),
        _ => Err(wrong("a list is wanted".to_owned())),
    }
}

fn parse_list(field: &Field, list: &[String]) -> Result<Value, Fault> {
    let example = || format!("write {} = {}", field.name, field.example);
    if list.is_empty() || list.len() > 1000 {
        return Err((format!("{} lists {} values", field.name, list.len()), example()));
    }
    let wrong = |text: &str, what: &str| (format!("{}: \"{text}\" {what}", field.name), example());
    match field.form {
        Form::Texts => Ok(Value::Texts(list.to_vec())),
        Form::Several(d) => list
            .iter()
            .map(|t| number(field, t, d, |v| v > 0.0, "must be above zero"))
            .collect::<Result<_, _>>()
            .map(Value::Many),
        Form::SeveralAny(d) => list
            .iter()
            .map(|t| number(field, t, d, |_| true, ""))
            .collect::<Result<_, _>>()
            .map(Value::Many),
        Form::Friction => {
            let values: Vec<f64> = list
                .iter()
                .map(|t| {
                    number(
                        field,
                        t,
                        Dimension::Number,
                        |v| v > 0.0 && v <= 1.5,
                        "lies outside 0 to 1.5",
                    )
                })
                .collect::<Result<_, _>>()?;
            match values.as_slice() {
                [one] => Ok(Value::Many(vec![*one; 3])),
                [low, likely, high] if low <= likely && likely <= high => Ok(Value::Many(values)),
                _ => Err((
                    "friction wants low, likely and high, in that order".to_owned(),
                    example(),
                )),
            }
        }
        Form::PressRecord => list
            .iter()
            .map(|t| {
                let (stroke, force) =
                    t.split_once(':').ok_or_else(|| wrong(t, "is not STROKE: FORCE"))?;
                Ok((
                    number(field, stroke, Dimension::Length, |v| v >= 0.0, "cannot be negative")?,
                    number(field, force, Dimension::Force, |v| v >= 0.0, "cannot be negative")?,
                ))
            })
            .collect::<Result<_, Fault>>()
            .map(Value::Pairs),
        Form::Slices => list
            .iter()
            .map(|t| {
                let parts: Vec<&str> = t.split(" x ").collect();
                let [length, outside, bore] = parts.as_slice() else {
                    return Err(wrong(t, "is not LENGTH x OUTSIDE x BORE"));
                };
                let d = Dimension::Length;
                Ok((
                    number(field, length, d, |v| v > 0.0, "must be above zero")?,
                    number(field, outside, d, |v| v > 0.0, "must be above zero")?,
                    number(field, bore, d, |v| v >= 0.0, "cannot be negative")?,
                ))
            })
            .collect::<Result<_, Fault>>()
            .map(Value::Slices),
        _ => Err((format!("{} is one value, not a list", field.name), example())),
    }
}

fn number(
    field: &Field,
    text: &str,
    dimension: Dimension,
    holds: impl Fn(f64) -> bool,
    must: &str,
) -> Result<f64, Fault> {
    let text = text.trim();
    let q = Quantity::parse_as(text, dimension).map_err(|e| {
        (format!("{} = \"{text}\": {}", field.name, e.reason()), e.hint().to_owned())
    })?;
    if !q.si().is_finite() || q.si().abs() > 1e15 || !holds(q.si()) {
        let must = if must.is_empty() { "cannot be" } else { must };
        return Err((
            format!("{} = \"{text}\" {must}", field.name),
            format!("write {} = {}", field.name, quoted(field.example)),
        ));
    }
    Ok(q.si())
}

/// A plain number before one of some units.
fn odd(text: &str, units: &[&str]) -> Option<f64> {
    let text = text.trim();
    units
        .iter()
        .find_map(|unit| text.strip_suffix(unit))
        .and_then(|n| n.trim().parse::<f64>().ok())
        .filter(|v| v.is_finite())
}
