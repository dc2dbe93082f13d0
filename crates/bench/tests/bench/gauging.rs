//! Gauging, asked without a socket: the pages are whole without script, a figure is written once
//! however often it is sent, and nothing is written that should not be.

use crate::shop::{Browser, Shop, request};
use axum::http::{Method, StatusCode, header};
use bench::Reach;
use book::{Book, Entry, Pen, Role, Said, Start};
use std::path::Path;

const ENGINE: &str = r#"
[engine]
name = "the engine of the test"

[[gauge]]
id = "om-8"
kind = "micrometer"
from = "175 mm"
to = "205 mm"
error = "0.005 mm"
repeat = "0.003 mm"
calibrated = "2026-01-05"
due = "2027-01-05"

[[part]]
id = "crank"
name = "crank axle"

[[part]]
id = "brass"

[[feature]]
id = "pin"
part = "crank"
kind = "journal"
as-made = "200 mm"
stations = ["A", "B"]

[[feature]]
id = "bore"
part = "brass"
kind = "bore"
as-made = "200.2 mm"

[[joint]]
id = "big-end"
name = "big end"
kind = "running"
inner = "pin"
outer = "bore"

[[limit]]
on = "big-end"
of = "clearance"
when = "service"
max = "0.5 mm"
source = "common practice"
"#;
const NOW: &str = "2026-11-20T10:00:00Z";

fn a_book(at: &Path) {
    let pen = Pen::new("engineer", "office", "2026-11-01T08:00:00Z").expect("a pen");
    let start = Start { name: "No. 1".to_owned(), password: None };
    let mut book = Book::create_file(at, &pen, &start).expect("begins");
    let person = |name: &str, roles: &[Role]| Said::Person {
        name: name.to_owned(),
        roles: roles.to_vec(),
        password: String::new(),
    };
    let tag = book.fold().free_tag().code().to_owned();
    for said in [
        Said::Described { file: "engine.toml".to_owned(), text: ENGINE.to_owned() },
        person("fitter", &[Role::Records]),
        person("inspector", &[Role::Releases]),
        Said::Tagged { part: "crank".to_owned(), tag },
    ] {
        book.append(&pen, said).expect("writes");
    }
}

fn bench_on(at: &Path) -> Shop {
    Shop::on(at, Reach::ThisMachine)
}

/// The fitter, who has no password, signed in.
async fn a_fitter(shop: &Shop) -> Browser<'_> {
    shop.signed_in("fitter", "").await
}

/// What the pages' script asks and sends, which wants JSON.
const SCRIPT: [(&str, &str); 1] = [("accept", "application/json")];

/// Sends a reading, with what is said of it in place of the usual.
async fn reading(
    browser: &Browser<'_>,
    key: &str,
    more: &[(&str, &str)],
) -> (StatusCode, serde_json::Value) {
    let told = browser.get("/gauging/-/session").await.json();
    let book = told["book"].as_str().expect("a book").to_owned();
    let usual = [
        ("book", book.as_str()),
        ("key", key),
        ("feature", "pin"),
        ("station", "A"),
        ("direction", "45"),
        ("reading", "199.91 mm"),
        ("gauge", "om-8"),
        ("by", "fitter"),
        ("when", "2026-11-20"),
        ("temperature", "12"),
    ];
    // A name said by the test stands first, and the first counts.
    let fields = [more, &usual].concat();
    let answer = browser.post_with("/gauging/-/reading", &fields, &SCRIPT).await;
    (answer.status, serde_json::from_slice(&answer.bytes).unwrap_or_default())
}

fn entries(at: &Path) -> Vec<Entry> {
    let mut all = Vec::new();
    let mut book = Book::open_file(at).expect("opens");
    book.each(&mut |entry, _, _| {
        all.push(entry.clone());
        Ok(())
    })
    .expect("reads");
    all
}

fn readings(at: &Path) -> Vec<Entry> {
    let mut all = entries(at);
    all.retain(|e| matches!(e.said, Said::Readings { .. }));
    all
}

fn a_shelf() -> (tempfile::TempDir, std::path::PathBuf) {
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path().join("1.book");
    a_book(&at);
    (folder, at)
}

#[tokio::test]
async fn a_figure_is_written_once_however_often_it_is_sent() {
    let (_folder, at) = a_shelf();
    let shop = bench_on(&at);
    let fitter = a_fitter(&shop).await;
    let (status, first) = reading(&fitter, "k1", &[]).await;
    assert_eq!((status, &first["new"]), (StatusCode::OK, &serde_json::json!(true)), "{first}");
    let (status, again) = reading(&fitter, "k1", &[]).await;
    assert_eq!((status, &again["new"]), (StatusCode::OK, &serde_json::json!(false)));
    assert_eq!(first["entry"], again["entry"]);
    // The server was started again and knows nobody.
    let shop = bench_on(&at);
    let fitter = a_fitter(&shop).await;
    let (_, after) = reading(&fitter, "k1", &[]).await;
    assert_eq!((&after["entry"], &after["new"]), (&first["entry"], &serde_json::json!(false)));
    // All at once, as several tabs would.
    let (a, b, c) = tokio::join!(
        reading(&fitter, "k2", &[("reading", "199.92 mm")]),
        reading(&fitter, "k2", &[("reading", "199.92 mm")]),
        reading(&fitter, "k2", &[("reading", "199.92 mm")])
    );
    assert_eq!(
        [a.1["entry"].clone(), b.1["entry"].clone()],
        [c.1["entry"].clone(), c.1["entry"].clone()]
    );
    let all = readings(&at);
    assert_eq!(all.len(), 2);
    assert_eq!((all[0].author.as_str(), all[0].key.as_deref()), ("fitter", Some("k1")));
    let Said::Readings { table, .. } = &all[0].said else { panic!("readings") };
    assert!(table.ends_with("\npin,A,45,199.91 mm,om-8,fitter,2026-11-20,12,\n"), "{table}");
}

#[tokio::test]
async fn what_was_written_is_not_refused_when_the_engine_has_changed_since() {
    let (_folder, at) = a_shelf();
    let shop = bench_on(&at);
    let fitter = a_fitter(&shop).await;
    let (_, first) = reading(&fitter, "k1", &[]).await;
    let pen = Pen::new("engineer", "office", NOW).expect("a pen");
    let text = ENGINE.replace("id = \"om-8\"", "id = \"om-9\"");
    let mut book = Book::open_file(&at).expect("opens");
    book.append(&pen, Said::Described { file: "engine.toml".to_owned(), text }).expect("writes");
    drop(book);
    let shop = bench_on(&at);
    let fitter = a_fitter(&shop).await;
    let (status, again) = reading(&fitter, "k1", &[]).await;
    assert_eq!((status, &again["entry"]), (StatusCode::OK, &first["entry"]));
    let (status, _) = reading(&fitter, "k2", &[]).await;
    assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY, "a new one names a gauge that is gone");
}

#[tokio::test]
async fn nothing_is_written_without_a_person_a_token_a_role_and_the_right_book() {
    let (_folder, at) = a_shelf();
    let shop = bench_on(&at);
    let nobody = shop.visitor().await;
    assert_eq!(reading(&nobody, "k", &[]).await.0, StatusCode::UNAUTHORIZED);
    let mut fitter = a_fitter(&shop).await;
    let (status, told) = reading(&fitter, "k", &[("book", "another")]).await;
    assert_eq!(status, StatusCode::CONFLICT, "{told}");
    for (name, value) in [
        ("feature", "tyre"),
        ("station", "C"),
        ("direction", "up"),
        ("reading", "199.91"),
        ("reading", "199.91 kg"),
        ("reading", "cracked"),
        ("gauge", "om-99"),
        ("when", "yesterday"),
        ("temperature", "500"),
        ("by", "a\nb"),
        ("key", ""),
        ("key", "two words"),
    ] {
        let (status, told) = reading(&fitter, "k", &[(name, value)]).await;
        assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY, "{name} {value:?}: {told}");
        assert!(told["title"].as_str().is_some_and(|t| !t.is_empty()));
    }
    fitter.token = "0".repeat(64);
    assert_eq!(reading(&fitter, "k", &[]).await.0, StatusCode::FORBIDDEN);
    let inspector = shop.signed_in("inspector", "").await;
    assert_eq!(reading(&inspector, "k", &[]).await.0, StatusCode::FORBIDDEN, "who may not record");
    assert!(readings(&at).is_empty());
}

#[tokio::test]
async fn the_verdict_comes_back_at_once_and_a_slip_is_told() {
    let (_folder, at) = a_shelf();
    let shop = bench_on(&at);
    let fitter = a_fitter(&shop).await;
    reading(&fitter, "k1", &[]).await;
    let bore = [("feature", "bore"), ("station", ""), ("reading", "200.30 mm")];
    let (_, told) = reading(&fitter, "k2", &bore).await;
    let joint = &told["joints"][0];
    assert_eq!((&joint["id"], &joint["verdict"]), (&"big-end".into(), &"within".into()), "{told}");
    let worn = [("feature", "bore"), ("station", ""), ("direction", "0"), ("reading", "201.90 mm")];
    let (_, told) = reading(&fitter, "k3", &worn).await;
    assert_eq!(told["joints"][0]["verdict"], "beyond", "{told}");
    let slip =
        [("feature", "bore"), ("station", ""), ("direction", "90"), ("reading", "200.31 in")];
    let (_, told) = reading(&fitter, "k4", &slip).await;
    let said = told["said"].to_string();
    assert!(said.contains("millimetres written as inches"), "{told}");
}

#[tokio::test]
async fn a_figure_is_looked_at_without_being_kept() {
    let (_folder, at) = a_shelf();
    let shop = bench_on(&at);
    let browser = shop.visitor().await;
    let check = async |figure: &str, gauge: &str| {
        let asked = form_urlencoded::Serializer::new(String::new())
            .extend_pairs([("feature", "pin"), ("station", "A"), ("direction", "45")])
            .extend_pairs([("reading", figure), ("gauge", gauge)])
            .finish();
        let response = browser.get(&format!("/gauging/-/check?{asked}")).await;
        let status = response.status;
        (status, response.text())
    };
    // 7 7/8 in is 200.025 mm: 25.4 mm an inch, exactly.
    let (status, told) = check("7 7/8 in", "").await;
    let told: serde_json::Value = serde_json::from_str(&told).expect("JSON");
    assert_eq!((status, told["si"].as_f64()), (StatusCode::OK, Some(0.200025)));
    assert_eq!(told["asked"], serde_json::json!([]));
    let (_, told) = check("8 7/8 in", "").await;
    assert!(told.contains("1.001 in larger than its drawing (200 mm)"), "{told}");
    let (_, told) = check("150 mm", "om-8").await;
    assert!(told.contains("outside the range of the gauge"), "{told}");
    assert_eq!(check("7 7/9 in", "").await.0, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(readings(&at).is_empty());
}

#[tokio::test]
async fn the_form_without_script_asks_and_writes_once() {
    let (_folder, at) = a_shelf();
    let shop = bench_on(&at);
    let fitter = a_fitter(&shop).await;
    let page = fitter.get("/gauging/pin").await.text();
    // Two stations by four directions.
    assert_eq!(page.matches("<li><label for=\"r").count(), 8);
    assert!(page.contains("at A, across 45°") && page.contains("<svg") && page.contains("om-8"));
    let base = [
        ("key", "form1"),
        ("unit", "mm"),
        ("gauge", "om-8"),
        ("by", "fitter"),
        ("when", "2026-11-20"),
    ];
    let with = |more: &[(&'static str, &'static str)]| [&base, more].concat();
    let asked = fitter.post("/gauging/pin", &with(&[("r0", "199.91"), ("r1", "209.92")])).await;
    assert_eq!(asked.status, StatusCode::OK);
    let asked = asked.text();
    assert!(asked.contains("10.01 mm larger than the others just typed; typed right?"), "{asked}");
    assert!(asked.contains("value=\"209.92\"") && asked.contains("name=\"y1\""));
    let refused =
        fitter.post("/gauging/pin", &with(&[("r0", "199.91"), ("r1", "about 200")])).await;
    assert!(refused.text().contains("Nothing is written yet"));
    assert!(readings(&at).is_empty());
    // A gauge that is not named is asked about once: without one a figure does not count.
    let without = [("key", "form0"), ("unit", "mm"), ("by", "fitter"), ("r0", "199.91")];
    let asked = text(fitter.post("/gauging/pin", &without).await).await;
    assert!(asked.contains("no gauge is named") && asked.contains("name=\"no_gauge\""), "{asked}");
    assert!(readings(&at).is_empty());
    let all = with(&[("r0", "199.91"), ("r1", "209.92"), ("y1", "yes"), ("r7", "7 7/8 in")]);
    for _ in 0..2 {
        let taken = fitter.post("/gauging/pin", &all).await;
        assert_eq!(taken.status, StatusCode::SEE_OTHER);
    }
    let written = readings(&at);
    let figures: Vec<String> = written
        .iter()
        .filter_map(|e| match &e.said {
            Said::Readings { table, .. } => table.lines().nth(1).map(str::to_owned),
            _ => None,
        })
        .collect();
    assert_eq!(figures.len(), 3, "{figures:?}");
    assert!(figures[0].starts_with("pin,A,0,199.91 mm,om-8,fitter,2026-11-20,"));
    assert!(
        figures[1].contains("209.92 mm") && figures[1].ends_with("\"asked about: yes, as typed\"")
    );
    assert!(figures[2].starts_with("pin,B,135,7 7/8 in,"));
}

#[tokio::test]
async fn tags_parts_joints_and_sheets_lead_to_what_is_gauged() {
    let (_folder, at) = a_shelf();
    let shop = bench_on(&at);
    let browser = shop.visitor().await;
    let tag = Book::open_file(&at)
        .expect("opens")
        .fold()
        .thing("crank")
        .expect("tagged")
        .1
        .tag
        .clone()
        .expect("a tag");
    let lower = tag.to_lowercase();
    for what in ["pin", "crank", tag.as_str(), lower.as_str()] {
        let page = browser.get(&format!("/gauging/{what}")).await.text();
        assert!(page.contains("id=\"gauging-form\""), "{what} leads to its one surface");
    }
    let joint = browser.get("/gauging/big-end").await.text();
    assert!(joint.contains("/gauging/pin") && joint.contains("/gauging/bore"));
    for elsewhere in ["/gauge/pin", "/gauging/feature/pin"] {
        let response = browser.get(elsewhere).await;
        assert_eq!(response.headers[header::LOCATION], "/gauging/pin");
    }
    assert_eq!(browser.get("/gauging/nothing").await.status, StatusCode::NOT_FOUND);
    let list = browser.get("/gauging").await.text();
    assert!(list.contains("Still wants readings") && list.contains("/gauging/bore"));
    let found = browser.get("/gauging?what=journ").await.text();
    assert!(found.contains("Found") && found.contains("/gauging/pin"));
}

#[tokio::test]
async fn a_phone_is_told_everything_once_and_its_worker_keeps_every_file() {
    let (_folder, at) = a_shelf();
    let shop = bench_on(&at);
    let browser = shop.visitor().await;
    let response = browser.get("/gauging/-/engine.json").await;
    let tag = response.headers[header::ETAG].clone();
    let told: serde_json::Value = serde_json::from_str(&response.text()).expect("JSON");
    assert_eq!(told["features"].as_array().map(Vec::len), Some(2));
    assert_eq!(told["features"][0]["places"].as_array().map(Vec::len), Some(8));
    assert!(told["sketches"][0].as_str().is_some_and(|s| s.starts_with("<svg")));
    let mut again = request(Method::GET, "/gauging/-/engine.json", "");
    again.headers_mut().insert(header::IF_NONE_MATCH, tag);
    let again = shop.ask(again).await;
    assert_eq!(again.status, StatusCode::NOT_MODIFIED);
    reading(&a_fitter(&shop).await, "k", &[]).await;
    let news = browser.get("/gauging/-/engine.json").await.text();
    assert!(news.contains("199.91 mm"), "the figure before is told from now on");

    let worker = browser.get("/gauging/-/worker.js").await;
    assert_eq!(worker.headers["service-worker-allowed"], "/");
    let script = worker.text();
    let list = script.split_once("const ASSETS = ").and_then(|(_, rest)| rest.split_once(";\n"));
    let kept: Vec<String> = serde_json::from_str(list.expect("a list").0).expect("JSON");
    for address in &kept {
        assert_eq!(browser.get(address).await.status, StatusCode::OK, "{address}");
    }
    let shell = browser.get("/gauging/-/shell").await.text();
    assert!(
        !shell.contains("engine of the test") && !shell.contains("No. 1"),
        "nothing of the book"
    );
    for script in kept.iter().filter(|k| k.ends_with(".js")) {
        let text = browser.get(script).await.text();
        assert!(!text.contains("from \"./"), "{script} names another without its hash");
    }
}
