//! The bench as a program asks it.

use crate::shop::{Answer, ENGINEER, PASSWORD, READER, Shop, request};
use axum::body::Body;
use axum::http::header::AUTHORIZATION;
use axum::http::{Method, StatusCode};
use bench::Reach;
use book::{Said, Token};
use serde_json::{Value, json};

/// A shop in which a device writes as the reader.
fn shop(reach: Reach) -> (Shop, Token) {
    let token = Token::new().expect("random bytes");
    let said = Said::DeviceToken {
        device: "phone 1".into(),
        person: READER.into(),
        hash: token.hash().to_string(),
        until: "2026-12-31".into(),
    };
    (Shop::with(reach, vec![said]), token)
}

async fn say(
    shop: &Shop,
    token: Option<&str>,
    key: Option<&str>,
    kind: &str,
    body: &Value,
) -> Answer {
    let mut asked = request(Method::POST, &format!("/api/say/{kind}"), "");
    if let Some(token) = token {
        let value = format!("Bearer {token}");
        asked.headers_mut().insert(AUTHORIZATION, value.parse().expect("a value"));
    }
    if let Some(key) = key {
        asked.headers_mut().insert("idempotency-key", key.parse().expect("a value"));
    }
    *asked.body_mut() = Body::from(body.to_string());
    shop.ask(asked).await
}

#[tokio::test]
async fn what_a_device_sends_twice_is_written_once() {
    let (shop, token) = shop(Reach::OtherMachines);
    let token = token.text();
    let before = shop.entries();
    let reading = json!({
        "feature": "crank-pin.left", "value": "7.6857 in", "station": "B", "direction": "V",
        "gauge": "om-8", "when": "2026-11-20", "time": "2026-11-20T07:55:00Z",
    });
    let first = say(&shop, Some(&token), Some("k-1"), "reading", &reading).await;
    assert_eq!(first.status, StatusCode::CREATED, "{}", first.text());
    let again = say(&shop, Some(&token), Some("k-1"), "reading", &reading).await;
    assert_eq!(again.status, StatusCode::OK);
    assert_eq!(first.json()["entry"], again.json()["entry"]);
    assert_eq!((&first.json()["new"], &again.json()["new"]), (&json!(true), &json!(false)));
    assert_eq!(shop.entries(), before + 1);
    let mut other = reading.clone();
    other["value"] = json!("7.6 in");
    let refused = say(&shop, Some(&token), Some("k-1"), "reading", &other).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY, "the key stands with another");
    let mut entry = request(Method::GET, &format!("/api/book/entry/{}", before + 1), "");
    entry.headers_mut().insert(AUTHORIZATION, format!("Bearer {token}").parse().expect("a value"));
    let entry = shop.ask(entry).await.json();
    assert_eq!((&entry["author"], &entry["device"]), (&json!(READER), &json!("phone 1")));
    assert_eq!(entry["time"], "2026-11-20T07:55:00Z");
}

#[tokio::test]
async fn a_device_is_asked_for_its_token_and_held_to_its_person_s_roles() {
    let (shop, token) = shop(Reach::ThisMachine);
    let note = json!({ "about": "frame", "text": "x" });
    let token = token.text();
    let cases = [
        (None, Some("a"), StatusCode::UNAUTHORIZED),
        (Some("0000-0000-0000-0000-0000-0000-0000-0000"), Some("a"), StatusCode::UNAUTHORIZED),
        (Some("nonsense"), Some("a"), StatusCode::UNAUTHORIZED),
        (Some(token.as_str()), None, StatusCode::BAD_REQUEST),
        (Some(token.as_str()), Some("two words"), StatusCode::UNPROCESSABLE_ENTITY),
        (Some(token.as_str()), Some("a"), StatusCode::CREATED),
    ];
    for (token, key, status) in cases {
        let answer = say(&shop, token, key, "note", &note).await;
        assert_eq!(answer.status, status, "{token:?} {key:?} {}", answer.text());
        if status.is_client_error() {
            assert_eq!(answer.headers["content-type"], "application/problem+json");
            assert_eq!(answer.json()["status"], status.as_u16());
        }
    }
    let decision = json!({ "joint": "big-end.left", "repair": "renew" });
    let refused = say(&shop, Some(&token), Some("b"), "decided", &decision).await;
    assert_eq!(refused.status, StatusCode::FORBIDDEN);
    for kind in ["signed-off", "released", "concession", "none"] {
        let answer = say(&shop, Some(&token), Some("c"), kind, &json!({})).await;
        assert_eq!(answer.status, StatusCode::NOT_FOUND, "{kind} is not for devices");
    }
    for body in [json!([]), json!({ "about": 3 }), json!("x"), json!({ "about": "frame" })] {
        let answer = say(&shop, Some(&token), Some("d"), "note", &body).await;
        assert!(answer.status.is_client_error(), "{body}");
    }
    // Withdrawn on the people's page by the responsible engineer.
    let engineer = shop.signed_in(ENGINEER, PASSWORD).await;
    let gone = engineer.post("/people/withdraw", &[("device", "phone 1")]).await;
    assert_eq!(gone.status, StatusCode::SEE_OTHER);
    let answer = say(&shop, Some(&token), Some("e"), "note", &note).await;
    assert_eq!(answer.status, StatusCode::UNAUTHORIZED);
    let form = [("device", "phone 2"), ("person", READER), ("until", "2026-12-01")];
    let given = engineer.post("/people/device", &form).await.text();
    let at = given.find("<code>").expect("the token is shown once") + 6;
    let new = given[at..].split('<').next().expect("an end").to_owned();
    let answer = say(&shop, Some(&new), Some("f"), "note", &note).await;
    assert_eq!(answer.status, StatusCode::CREATED, "{}", answer.text());
    assert!(!engineer.get("/people").await.text().contains(&new), "and only once");
}

/// Whether a value is as its schema says (JSON Schema 2020-12, the words that the document uses).
fn as_said(value: &Value, schema: &Value, document: &Value, at: &str) {
    if let Some(name) = schema["$ref"].as_str() {
        let record = name.strip_prefix("#/components/schemas/").expect("a record");
        return as_said(value, &document["components"]["schemas"][record], document, at);
    }
    if let Some(any) = schema["anyOf"].as_array() {
        assert_eq!(any[1]["type"], "null", "{at}");
        if !value.is_null() {
            as_said(value, &any[0], document, at);
        }
        return;
    }
    match schema["type"].as_str().unwrap_or_else(|| panic!("{at} has no type: {schema}")) {
        "string" => assert!(value.is_string(), "{at}: {value}"),
        "number" => assert!(value.is_number(), "{at}: {value}"),
        "integer" => assert!(value.is_u64(), "{at}: {value}"),
        "boolean" => assert!(value.is_boolean(), "{at}: {value}"),
        "array" => {
            let all = value.as_array().unwrap_or_else(|| panic!("{at}: {value}"));
            if let Some(each) = schema["prefixItems"].as_array() {
                assert_eq!(all.len(), each.len(), "{at}");
                all.iter().zip(each).for_each(|(v, s)| as_said(v, s, document, at));
            } else {
                all.iter().for_each(|v| as_said(v, &schema["items"], document, at));
            }
        }
        "object" => {
            let all = value.as_object().unwrap_or_else(|| panic!("{at}: {value}"));
            for name in schema["required"].as_array().into_iter().flatten() {
                assert!(all.contains_key(name.as_str().expect("a name")), "{at} lacks {name}");
            }
            for (name, value) in all {
                match schema["properties"].get(name) {
                    Some(schema) => as_said(value, schema, document, &format!("{at}.{name}")),
                    None => assert_ne!(schema["additionalProperties"], false, "{at}.{name}"),
                }
            }
        }
        other => panic!("{at}: {other}"),
    }
}

#[tokio::test]
async fn the_document_and_the_router_are_of_one_mind() {
    let (shop, token) = shop(Reach::ThisMachine);
    let document = shop.get("/api/openapi.json").await.json();
    assert_eq!(document["openapi"], "3.1.0");
    let paths = document["paths"].as_object().expect("paths");
    assert!(paths.len() > 25);
    shop.signed_in(READER, "").await.post("/say/tagged", &[("part", "frame")]).await;
    let lifts = shop.get("/lifts").await.text();
    let lift = lifts.split("href=\"/lift/").nth(1).expect("a lift");
    let lift = lift.split('"').next().expect("an id").to_owned();
    for (path, operations) in paths {
        let real = path
            .replace(
                "{id}",
                if path.contains("chain") { "rod-centres.left" } else { "big-end.left" },
            )
            .replace("{number}", "1");
        let id = match path.as_str() {
            "/api/work/{id}" | "/api/paper/card/{id}" => Some("scotch"),
            "/api/lift/{id}" | "/api/paper/lift/{id}" => Some(lift.as_str()),
            _ => None,
        };
        let real = id.map_or(real, |id| path.replace("{id}", id));
        let real = if path == "/api/part/{id}" { "/api/part/frame".to_owned() } else { real };
        let query = match path.as_str() {
            "/api/try" => "?act=close+big-end.left.bore+8+thou",
            "/api/motion/where" => "?at=left+40+past+front",
            "/api/motion/bring" => "?from=left+40+past+front&to=right+big+end+bottom",
            _ => "",
        };
        let operations = operations.as_object().expect("operations");
        if operations.contains_key("get") {
            let answer = shop.get(&format!("{real}{query}")).await;
            assert_eq!(answer.status, StatusCode::OK, "{path}: {}", answer.text());
            let content = &operations["get"]["responses"]["200"]["content"];
            if content["application/pdf"].is_object() {
                assert!(answer.bytes.starts_with(b"%PDF-"), "{path}");
            } else {
                let schema = &content["application/json"]["schema"];
                as_said(&answer.json(), schema, &document, path);
            }
            let wrong = shop.ask(request(Method::POST, &real, "")).await;
            assert_eq!(wrong.status, StatusCode::METHOD_NOT_ALLOWED, "{path}");
        } else {
            let kind = path.rsplit('/').next().expect("a word");
            let answer = say(&shop, Some(&token.text()), Some(kind), kind, &json!({})).await;
            // Every kind has a field that must be there.
            assert_eq!(
                answer.status,
                StatusCode::UNPROCESSABLE_ENTITY,
                "{path}: {}",
                answer.text()
            );
            let documented = &operations["post"]["responses"]["422"];
            assert!(documented.is_object(), "{path}");
        }
    }
    for path in ["/api/none", "/api/say/none", "/api", "/api/"] {
        assert_eq!(shop.get(path).await.status, StatusCode::NOT_FOUND, "{path}");
    }
}

#[tokio::test]
async fn a_program_is_told_what_the_page_shows() {
    let (shop, _) = shop(Reach::ThisMachine);
    let joint = shop.get("/api/joint/big-end.left").await.json();
    let page = shop.get("/joint/big-end.left").await.text();
    let clearance = joint["joint"]["measures"][0]["figure"]["metric"].as_str().expect("a figure");
    assert!(page.contains(clearance), "{clearance}");
    let engine = shop.get("/api/engine").await.json();
    assert_eq!(engine["head"]["entry"], shop.entries());
    let worst = engine["summary"]["joints"][0]["name"].as_str().expect("a name");
    assert!(shop.get("/").await.text().contains(worst));
}
