//! What the routes answer, as schemas. The shapes of `engine::view` say themselves what they look like;
//! what the bench puts around them stands here.

use engine::view::{
    FeatureView, Field, GaugeView, JointView, OptionView, Record, Shape, Shaped, Summary,
};
use serde_json::{Map, Value, json};

type Records = Map<String, Value>;

/// A shape of `engine::view`; the records it is made of go into the map.
pub(super) fn of<T: Shaped>(records: &mut Records) -> Value {
    schema(&T::shape(), records)
}

fn schema(shape: &Shape, records: &mut Records) -> Value {
    match shape {
        Shape::Text => text(),
        Shape::Number => json!({ "type": "number" }),
        Shape::Whole => whole(),
        Shape::YesNo => json!({ "type": "boolean" }),
        Shape::Maybe(it) => maybe(schema(it, records)),
        Shape::List(it) => list(schema(it, records)),
        Shape::Row(all) => {
            let each: Vec<Value> = all.iter().map(|s| schema(s, records)).collect();
            json!({ "type": "array", "minItems": each.len(), "maxItems": each.len(), "prefixItems": each })
        }
        Shape::Record(record) => {
            if !records.contains_key(record.name) {
                // Named before it is filled in, in case it holds itself.
                records.insert(record.name.to_owned(), json!({}));
                let filled = filled(record, records);
                records.insert(record.name.to_owned(), filled);
            }
            json!({ "$ref": format!("#/components/schemas/{}", record.name) })
        }
    }
}

fn filled(record: &Record, records: &mut Records) -> Value {
    let fields: Vec<Field> = (record.fields)();
    let required: Vec<&str> = fields.iter().filter(|f| !f.may_lack).map(|f| f.name).collect();
    let mut properties = Map::new();
    for f in &fields {
        let mut value = schema(&f.shape, records);
        let what = f.what.trim();
        if let (Some(object), false) = (value.as_object_mut(), what.is_empty()) {
            object.insert("description".to_owned(), json!(what));
        }
        properties.insert(f.name.to_owned(), value);
    }
    json!({
        "type": "object", "description": record.what.trim(), "required": required,
        "properties": properties, "additionalProperties": false,
    })
}

fn text() -> Value {
    json!({ "type": "string" })
}

fn whole() -> Value {
    json!({ "type": "integer", "minimum": 0 })
}

fn maybe(value: Value) -> Value {
    json!({ "anyOf": [value, { "type": "null" }] })
}

fn list(value: Value) -> Value {
    json!({ "type": "array", "items": value })
}

/// An object with these fields and no others.
fn object(fields: &[(&str, Value)]) -> Value {
    let required: Vec<&str> = fields.iter().map(|f| f.0).collect();
    let properties: Map<String, Value> =
        fields.iter().map(|(name, value)| ((*name).to_owned(), value.clone())).collect();
    json!({ "type": "object", "required": required, "properties": properties, "additionalProperties": false })
}

fn hash() -> Value {
    json!({ "type": "string", "pattern": "^[0-9a-f]{64}$" })
}

pub(super) fn engine(records: &mut Records) -> Value {
    let not_taken = object(&[("place", text()), ("what", text()), ("mend", text())]);
    let head = object(&[("entry", whole()), ("sha256", hash())]);
    object(&[("summary", of::<Summary>(records)), ("not_taken", list(not_taken)), ("head", head)])
}

pub(super) fn joint(records: &mut Records) -> Value {
    object(&[("joint", of::<JointView>(records)), ("options", list(of::<OptionView>(records)))])
}

pub(super) fn parts(_: &mut Records) -> Value {
    let part = object(&[
        ("id", text()),
        ("name", text()),
        ("side", text()),
        ("tag", maybe(text())),
        ("place", list(text())),
    ]);
    object(&[("parts", list(part))])
}

pub(super) fn part(records: &mut Records) -> Value {
    object(&[
        ("id", text()),
        ("name", maybe(text())),
        ("tag", maybe(text())),
        ("place", list(text())),
        ("inside", list(text())),
        ("features", list(of::<FeatureView>(records))),
    ])
}

pub(super) fn gauges(records: &mut Records) -> Value {
    object(&[("gauges", list(of::<GaugeView>(records)))])
}

pub(super) fn people(_: &mut Records) -> Value {
    let person = object(&[
        ("name", text()),
        ("roles", list(text())),
        ("password", json!({ "type": "boolean", "description": "Whether one is set" })),
    ]);
    let device = object(&[
        ("name", text()),
        ("person", text()),
        ("until", text()),
        ("withdrawn", maybe(whole())),
    ]);
    object(&[("people", list(person)), ("devices", list(device))])
}

pub(super) fn concessions(_: &mut Records) -> Value {
    let one = object(&[
        ("about", text()),
        ("limit", text()),
        ("what", text()),
        ("until", text()),
        ("reason", text()),
        ("by", text()),
        ("when", text()),
        ("entry", whole()),
        ("closed", maybe(whole())),
        ("holds", json!({ "type": "boolean", "description": "On the day of judging" })),
    ]);
    object(&[("concessions", list(one))])
}

pub(super) fn book(_: &mut Records) -> Value {
    let entry = object(&[
        ("entry", whole()),
        ("sha256", hash()),
        ("time", text()),
        ("author", text()),
        ("device", text()),
        ("kind", text()),
        ("says", text()),
        ("struck_out", maybe(text())),
    ]);
    object(&[("entries", list(entry))])
}

/// The stored line, with what is known beside it.
pub(super) fn entry(_: &mut Records) -> Value {
    json!({
        "type": "object", "required": ["sha256", "struck_out", "author", "device", "time"],
        "properties": {
            "sha256": hash(), "struck_out": maybe(text()), "author": text(), "device": text(), "time": text(),
        },
        "description": "The entry as it is stored, field by field",
    })
}

pub(super) fn verify(_: &mut Records) -> Value {
    let fault = object(&[("entry", whole()), ("what", text())]);
    object(&[
        ("whole", json!({ "type": "boolean" })),
        ("entries", whole()),
        ("attachments", whole()),
        ("head", text()),
        ("time", text()),
        ("faults", list(fault)),
        ("not_looked_at", list(text())),
    ])
}

pub(super) fn document(_: &mut Records) -> Value {
    let object = json!({ "type": "object" });
    json!({
        "type": "object", "required": ["openapi", "info", "paths", "components"],
        "properties": { "openapi": text(), "info": object, "paths": object, "components": object },
        "additionalProperties": false,
    })
}
