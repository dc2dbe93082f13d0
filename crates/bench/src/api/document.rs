//! The OpenAPI document (OpenAPI Specification 3.1.0), made of the table of routes.

use super::{Answers, Route, table};
use crate::said::Kind;
use crate::visit::Anybody;
use axum::http::header::CONTENT_TYPE;
use axum::response::{IntoResponse, Response};
use serde_json::{Map, Value, json};

/// Serves it.
pub(super) async fn serve(_: Anybody) -> Response {
    ([(CONTENT_TYPE, "application/json")], document().to_string()).into_response()
}

/// The document.
pub(super) fn document() -> Value {
    let mut paths = Map::new();
    let mut records = Map::new();
    for route in table() {
        let method = if route.says.is_some() { "post" } else { "get" };
        let operation = operation(&route, &mut records);
        paths.insert(route.path.clone(), json!({ method: operation }));
    }
    let mut document = json!({
        "openapi": "3.1.0",
        "info": {
            "title": "Pinchbar bench",
            "version": env!("CARGO_PKG_VERSION"),
            "description": "One engine's book: what is known, judged and decided. Lengths are metres in fields named si; figures in words stand beside them in both systems. Signatures are given on the pages alone, with a password.",
        },
        "paths": paths,
        "components": {
            "securitySchemes": {
                "device": { "type": "http", "scheme": "bearer", "description": "The token of a device, from the people's page. On the machine itself reading needs none." }
            },
            "schemas": {
                "Written": {
                    "type": "object",
                    "required": ["entry", "sha256", "new"],
                    "properties": {
                        "entry": { "type": "integer", "minimum": 1, "description": "Number of the entry" },
                        "sha256": { "type": "string", "pattern": "^[0-9a-f]{64}$" },
                        "new": { "type": "boolean", "description": "False when the key stands already: it was written before and is not written again" },
                    },
                },
                "Problem": {
                    "type": "object",
                    "description": "RFC 9457",
                    "required": ["title", "status"],
                    "properties": {
                        "title": { "type": "string", "description": "What is wrong" },
                        "detail": { "type": "string", "description": "The mend" },
                        "status": { "type": "integer" },
                    },
                },
            },
        },
    });
    if let Some(schemas) = document["components"]["schemas"].as_object_mut() {
        schemas.extend(records);
    }
    document
}

fn operation(route: &Route, records: &mut Map<String, Value>) -> Value {
    let mut parameters: Vec<Value> = route
        .parameters
        .iter()
        .map(|p| {
            json!({
                "name": p.name, "in": if p.in_path { "path" } else { "query" },
                "required": p.must, "description": p.what, "schema": { "type": "string" },
            })
        })
        .collect();
    let problem = |what: &str| {
        json!({
            "description": what,
            "content": { "application/problem+json": { "schema": { "$ref": "#/components/schemas/Problem" } } },
        })
    };
    let id: String = route.path.replace("/api/", "").replace(['/', '{', '}', '.'], "-");
    let mut responses = Map::new();
    for (status, what) in [
        ("401", "The token is missing, or not taken"),
        ("404", "There is nothing of that name"),
        ("422", "What was sent cannot be"),
        ("429", "Tried too often"),
        ("500", "A fault of the program; the log has the cause"),
        ("503", "The book cannot be reached just now"),
    ] {
        responses.insert(status.to_owned(), problem(what));
    }
    let Some(kind) = route.says else {
        let content = match route.answers {
            Answers::Json(schema) => json!({ "application/json": { "schema": schema(records) } }),
            Answers::Pdf => {
                json!({ "application/pdf": { "schema": { "type": "string", "format": "binary" } } })
            }
            Answers::Written => json!({}),
        };
        responses.insert("200".to_owned(), json!({ "description": "It", "content": content }));
        return json!({
            "operationId": id, "summary": route.what, "parameters": parameters,
            "security": [{ "device": [] }, {}], "responses": responses,
        });
    };
    parameters.push(json!({
        "name": "Idempotency-Key", "in": "header", "required": true,
        "description": "1 to 100 printable characters without spaces, of which no two things a device sends may have the same: what is sent twice is written once",
        "schema": { "type": "string", "minLength": 1, "maxLength": 100, "pattern": "^[!-~]+$" },
    }));
    let written = |what: &str| {
        json!({
            "description": what,
            "content": { "application/json": { "schema": { "$ref": "#/components/schemas/Written" } } },
        })
    };
    responses.insert("200".to_owned(), written("It stands already under this key"));
    responses.insert("201".to_owned(), written("Written: it is on the disk"));
    responses.insert("400".to_owned(), problem("Not JSON, or no key"));
    responses
        .insert("403".to_owned(), problem("The rules of the book do not let this person say this"));
    responses.insert("413".to_owned(), problem("Too long"));
    json!({
        "operationId": id, "summary": route.what, "parameters": parameters,
        "security": [{ "device": [] }],
        "requestBody": { "required": true, "content": { "application/json": { "schema": body(kind) } } },
        "responses": responses,
    })
}

/// What is sent.
fn body(kind: &Kind) -> Value {
    let mut properties = Map::new();
    for field in kind.fields {
        properties
            .insert(field.name.to_owned(), json!({ "type": "string", "description": field.what }));
    }
    properties.insert(
        "time".to_owned(),
        json!({ "type": "string", "format": "date-time", "description": "When it was said; now when not given" }),
    );
    if kind.word == "decided" {
        properties.insert(
            "make".to_owned(),
            json!({ "type": "object", "additionalProperties": { "type": "string" }, "description": "Sizes to make, by feature" }),
        );
    }
    let required: Vec<&str> = kind.fields.iter().filter(|f| f.must).map(|f| f.name).collect();
    json!({ "type": "object", "required": required, "properties": properties })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_route_is_in_the_document_once_and_every_reference_leads_somewhere() {
        let document = document();
        let paths = document["paths"].as_object().expect("paths");
        assert_eq!(paths.len(), table().len(), "no two routes share an address");
        let mut ids = std::collections::BTreeSet::new();
        for (path, operations) in paths {
            for operation in operations.as_object().expect("operations").values() {
                assert!(ids.insert(operation["operationId"].as_str().expect("an id").to_owned()));
                let named: Vec<&str> = operation["parameters"]
                    .as_array()
                    .expect("parameters")
                    .iter()
                    .filter(|p| p["in"] == "path")
                    .map(|p| p["name"].as_str().expect("a name"))
                    .collect();
                let in_path: Vec<&str> = path
                    .split('/')
                    .filter_map(|s| s.strip_prefix('{')?.strip_suffix('}'))
                    .collect();
                assert_eq!(named, in_path, "{path}");
            }
        }
        let text = document.to_string();
        for piece in text.split("#/components/schemas/").skip(1) {
            let name = piece.split('"').next().expect("a name");
            assert!(document["components"]["schemas"].get(name).is_some(), "{name}");
        }
    }
}
