//! `[[duty]]`: what a joint has to do and how it is to be made, field by field with its place.

use super::Text;
use serde::Deserialize;
use serde::de::{Deserializer, MapAccess, SeqAccess, Visitor};
use std::fmt;
use toml::Spanned;

/// One `[[duty]]`, as written. Which fields there are, and what each means, stands in
/// [`crate::design::FIELDS`]; nothing is checked here.
#[derive(Clone, Debug, Default)]
pub struct DutyText {
    /// Name and value of each line.
    pub fields: Vec<(Text, Spanned<DutyValue>)>,
}

impl DutyText {
    /// The text of a field, when it is there and is a text.
    pub fn text(&self, name: &str) -> Option<&str> {
        self.fields.iter().find(|(n, _)| n.get_ref() == name).and_then(|(_, v)| match v.get_ref() {
            DutyValue::One(text) => Some(text.trim()),
            _ => None,
        })
    }

    /// This duty laid over another of the same joint: fields given here win.
    pub(crate) fn over(self, base: DutyText) -> DutyText {
        let mut fields = base.fields;
        for (name, value) in self.fields {
            match fields.iter_mut().find(|(n, _)| n.get_ref() == name.get_ref()) {
                Some(slot) => *slot = (name, value),
                None => fields.push((name, value)),
            }
        }
        DutyText { fields }
    }
}

/// A value as written.
#[derive(Clone, Debug, PartialEq)]
pub enum DutyValue {
    /// A text.
    One(String),
    /// A list of texts.
    List(Vec<String>),
    /// Something else, in TOML's word for it: it is refused with its place.
    Other(&'static str),
}

impl<'de> Deserialize<'de> for DutyText {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Fields;
        impl<'de> Visitor<'de> for Fields {
            type Value = DutyText;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a duty: lines of name = \"value\"")
            }

            fn visit_map<M: MapAccess<'de>>(self, mut map: M) -> Result<DutyText, M::Error> {
                let mut fields = Vec::new();
                while let Some(entry) = map.next_entry()? {
                    fields.push(entry);
                }
                Ok(DutyText { fields })
            }
        }
        deserializer.deserialize_map(Fields)
    }
}

impl<'de> Deserialize<'de> for DutyValue {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Value;
        impl<'de> Visitor<'de> for Value {
            type Value = DutyValue;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a text between quotation marks, or a list of them")
            }

            fn visit_str<E>(self, text: &str) -> Result<DutyValue, E> {
                Ok(DutyValue::One(text.to_owned()))
            }

            fn visit_i64<E>(self, number: i64) -> Result<DutyValue, E> {
                Ok(DutyValue::One(number.to_string()))
            }

            fn visit_f64<E>(self, number: f64) -> Result<DutyValue, E> {
                Ok(DutyValue::One(number.to_string()))
            }

            fn visit_bool<E>(self, _: bool) -> Result<DutyValue, E> {
                Ok(DutyValue::Other("true or false"))
            }

            fn visit_seq<S: SeqAccess<'de>>(self, mut seq: S) -> Result<DutyValue, S::Error> {
                let mut list = Vec::new();
                while let Some(item) = seq.next_element::<DutyValue>()? {
                    match item {
                        DutyValue::One(text) => list.push(text),
                        _ => return Ok(DutyValue::Other("a list of lists")),
                    }
                }
                Ok(DutyValue::List(list))
            }

            fn visit_map<M: MapAccess<'de>>(self, mut map: M) -> Result<DutyValue, M::Error> {
                while map.next_entry::<serde::de::IgnoredAny, serde::de::IgnoredAny>()?.is_some() {}
                Ok(DutyValue::Other("a table"))
            }
        }
        deserializer.deserialize_any(Value)
    }
}
