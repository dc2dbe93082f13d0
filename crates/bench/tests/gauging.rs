//! Gauging, asked without a socket: the pages are whole without script, a figure is written once
//! however often it is sent, and nothing is written that should not be.

use axum::body::Body;
use axum::http::{Request, StatusCode, header};
use axum::response::Response;
use bench::{Bench, Reach, Settings, app};
use book::{Book, Entry, Pen, Role, Said, Start};
use http_body_util::BodyExt as _;
use std::path::Path;
use std::sync::Arc;
use tower::ServiceExt as _;

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

fn bench_on(at: &Path) -> Bench {
    let settings = Settings {
        reach: Reach::ThisMachine,
        encrypted: false,
        hosts: Vec::new(),
        clock: Arc::new(|| NOW.parse().expect("an instant")),
        today: None,
        demo: String::new(),
        authority: None,
        file: None,
    };
    Bench::new(Book::open_file(at).expect("opens"), settings).expect("a bench")
}

/// A browser: its cookie, and the token that goes with it.
struct Browser {
    bench: Bench,
    cookie: String,
    token: String,
    book: String,
}

async fn ask(bench: &Bench, request: Request<Body>) -> Response {
    app(bench.clone()).oneshot(request).await.expect("answers")
}

async fn text(response: Response) -> String {
    let bytes = response.into_body().collect().await.expect("a body").to_bytes();
    String::from_utf8(bytes.to_vec()).expect("text")
}

fn cookie_of(response: &Response) -> Option<String> {
    let all = response.headers().get_all(header::SET_COOKIE);
    let sent = all.iter().filter_map(|v| v.to_str().ok());
    sent.filter_map(|v| v.split(';').next()).find(|v| v.starts_with("pinchbar=")).map(str::to_owned)
}

fn form(fields: &[(&str, &str)]) -> String {
    let mut out = String::new();
    for (name, value) in fields {
        let value: String = value
            .bytes()
            .map(|b| {
                if b.is_ascii_alphanumeric() {
                    char::from(b).to_string()
                } else {
                    format!("%{b:02X}")
                }
            })
            .collect();
        out.push_str(&format!("{name}={value}&"));
    }
    out
}

impl Browser {
    async fn new(bench: &Bench) -> Browser {
        let (cookie, book) = (String::new(), String::new());
        let mut browser = Browser { bench: bench.clone(), cookie, token: String::new(), book };
        browser.look().await;
        browser
    }

    async fn signed_in(bench: &Bench, name: &str) -> Browser {
        let mut browser = Browser::new(bench).await;
        let fields = [("name", name), ("password", "")];
        let response = browser.post("/sign-in", &fields).await;
        assert_eq!(response.status(), StatusCode::SEE_OTHER);
        browser.cookie = cookie_of(&response).expect("a session");
        browser.look().await;
        browser
    }

    /// Who is signed in, and the token.
    async fn look(&mut self) {
        let response = self.get("/gauging/-/session").await;
        if let Some(cookie) = cookie_of(&response) {
            self.cookie = cookie;
        }
        let told: serde_json::Value = serde_json::from_str(&text(response).await).expect("JSON");
        self.token = told["token"].as_str().expect("a token").to_owned();
        self.book = told["book"].as_str().expect("a book").to_owned();
    }

    async fn get(&self, path: &str) -> Response {
        let request = Request::get(path).header(header::COOKIE, &self.cookie);
        ask(&self.bench, request.body(Body::empty()).expect("a request")).await
    }

    async fn post(&self, path: &str, fields: &[(&str, &str)]) -> Response {
        let request = Request::post(path)
            .header(header::COOKIE, &self.cookie)
            .header(header::CONTENT_TYPE, "application/x-www-form-urlencoded")
            .header(
                header::ACCEPT,
                if path.contains("/-/") { "application/json" } else { "text/html" },
            )
            .header("x-token", &self.token);
        ask(&self.bench, request.body(Body::from(form(fields))).expect("a request")).await
    }

    async fn reading(&self, key: &str, more: &[(&str, &str)]) -> (StatusCode, serde_json::Value) {
        let mut fields = vec![("book", self.book.as_str()), ("key", key)];
        let usual = [
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
        fields.splice(0..0, more.iter().copied());
        fields.extend(usual);
        let response = self.post("/gauging/-/reading", &fields).await;
        let status = response.status();
        (status, serde_json::from_str(&text(response).await).unwrap_or_default())
    }
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
    let fitter = Browser::signed_in(&bench_on(&at), "fitter").await;
    let (status, first) = fitter.reading("k1", &[]).await;
    assert_eq!((status, &first["new"]), (StatusCode::OK, &serde_json::json!(true)), "{first}");
    let (status, again) = fitter.reading("k1", &[]).await;
    assert_eq!((status, &again["new"]), (StatusCode::OK, &serde_json::json!(false)));
    assert_eq!(first["entry"], again["entry"]);
    // The server was started again and knows nobody.
    let fitter = Browser::signed_in(&bench_on(&at), "fitter").await;
    let (_, after) = fitter.reading("k1", &[]).await;
    assert_eq!((&after["entry"], &after["new"]), (&first["entry"], &serde_json::json!(false)));
    // All at once, as several tabs would.
    let (a, b, c) = tokio::join!(
        fitter.reading("k2", &[("reading", "199.92 mm")]),
        fitter.reading("k2", &[("reading", "199.92 mm")]),
        fitter.reading("k2", &[("reading", "199.92 mm")])
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
    let bench = bench_on(&at);
    let fitter = Browser::signed_in(&bench, "fitter").await;
    let (_, first) = fitter.reading("k1", &[]).await;
    let pen = Pen::new("engineer", "office", NOW).expect("a pen");
    let text = ENGINE.replace("id = \"om-8\"", "id = \"om-9\"");
    let mut book = Book::open_file(&at).expect("opens");
    book.append(&pen, Said::Described { file: "engine.toml".to_owned(), text }).expect("writes");
    drop(book);
    let fitter = Browser::signed_in(&bench_on(&at), "fitter").await;
    let (status, again) = fitter.reading("k1", &[]).await;
    assert_eq!((status, &again["entry"]), (StatusCode::OK, &first["entry"]));
    let (status, _) = fitter.reading("k2", &[]).await;
    assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY, "a new one names a gauge that is gone");
}

#[tokio::test]
async fn nothing_is_written_without_a_person_a_token_a_role_and_the_right_book() {
    let (_folder, at) = a_shelf();
    let bench = bench_on(&at);
    let nobody = Browser::new(&bench).await;
    assert_eq!(nobody.reading("k", &[]).await.0, StatusCode::UNAUTHORIZED);
    let mut fitter = Browser::signed_in(&bench, "fitter").await;
    let (status, told) = fitter.reading("k", &[("book", "another")]).await;
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
        let (status, told) = fitter.reading("k", &[(name, value)]).await;
        assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY, "{name} {value:?}: {told}");
        assert!(told["title"].as_str().is_some_and(|t| !t.is_empty()));
    }
    fitter.token = "0".repeat(64);
    assert_eq!(fitter.reading("k", &[]).await.0, StatusCode::FORBIDDEN);
    let inspector = Browser::signed_in(&bench, "inspector").await;
    assert_eq!(inspector.reading("k", &[]).await.0, StatusCode::FORBIDDEN, "who may not record");
    assert!(readings(&at).is_empty());
}

#[tokio::test]
async fn the_verdict_comes_back_at_once_and_a_slip_is_told() {
    let (_folder, at) = a_shelf();
    let fitter = Browser::signed_in(&bench_on(&at), "fitter").await;
    fitter.reading("k1", &[]).await;
    let bore = [("feature", "bore"), ("station", ""), ("reading", "200.30 mm")];
    let (_, told) = fitter.reading("k2", &bore).await;
    let joint = &told["joints"][0];
    assert_eq!((&joint["id"], &joint["verdict"]), (&"big-end".into(), &"within".into()), "{told}");
    let worn = [("feature", "bore"), ("station", ""), ("direction", "0"), ("reading", "201.90 mm")];
    let (_, told) = fitter.reading("k3", &worn).await;
    assert_eq!(told["joints"][0]["verdict"], "beyond", "{told}");
    let slip =
        [("feature", "bore"), ("station", ""), ("direction", "90"), ("reading", "200.31 in")];
    let (_, told) = fitter.reading("k4", &slip).await;
    let said = told["said"].to_string();
    assert!(said.contains("millimetres written as inches"), "{told}");
}

#[tokio::test]
async fn a_figure_is_looked_at_without_being_kept() {
    let (_folder, at) = a_shelf();
    let browser = Browser::new(&bench_on(&at)).await;
    let check = async |figure: &str, gauge: &str| {
        let asked = form(&[
            ("feature", "pin"),
            ("station", "A"),
            ("direction", "45"),
            ("reading", figure),
            ("gauge", gauge),
        ]);
        let response = browser.get(&format!("/gauging/-/check?{asked}")).await;
        let status = response.status();
        (status, text(response).await)
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
    let fitter = Browser::signed_in(&bench_on(&at), "fitter").await;
    let page = text(fitter.get("/gauging/pin").await).await;
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
    assert_eq!(asked.status(), StatusCode::OK);
    let asked = text(asked).await;
    assert!(asked.contains("10.01 mm larger than the others just typed; typed right?"), "{asked}");
    assert!(asked.contains("value=\"209.92\"") && asked.contains("name=\"y1\""));
    let refused =
        fitter.post("/gauging/pin", &with(&[("r0", "199.91"), ("r1", "about 200")])).await;
    assert!(text(refused).await.contains("Nothing is written yet"));
    assert!(readings(&at).is_empty());
    // A gauge that is not named is asked about once: without one a figure does not count.
    let without = [("key", "form0"), ("unit", "mm"), ("by", "fitter"), ("r0", "199.91")];
    let asked = text(fitter.post("/gauging/pin", &without).await).await;
    assert!(asked.contains("no gauge is named") && asked.contains("name=\"no_gauge\""), "{asked}");
    assert!(readings(&at).is_empty());
    let all = with(&[("r0", "199.91"), ("r1", "209.92"), ("y1", "yes"), ("r7", "7 7/8 in")]);
    for _ in 0..2 {
        let taken = fitter.post("/gauging/pin", &all).await;
        assert_eq!(taken.status(), StatusCode::SEE_OTHER);
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
    let browser = Browser::new(&bench_on(&at)).await;
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
        let page = text(browser.get(&format!("/gauging/{what}")).await).await;
        assert!(page.contains("id=\"gauging-form\""), "{what} leads to its one surface");
    }
    let joint = text(browser.get("/gauging/big-end").await).await;
    assert!(joint.contains("/gauging/pin") && joint.contains("/gauging/bore"));
    for elsewhere in ["/gauge/pin", "/gauging/feature/pin"] {
        let response = browser.get(elsewhere).await;
        assert_eq!(response.headers()[header::LOCATION], "/gauging/pin");
    }
    assert_eq!(browser.get("/gauging/nothing").await.status(), StatusCode::NOT_FOUND);
    let list = text(browser.get("/gauging").await).await;
    assert!(list.contains("Still wants readings") && list.contains("/gauging/bore"));
    let found = text(browser.get("/gauging?what=journ").await).await;
    assert!(found.contains("Found") && found.contains("/gauging/pin"));
}

#[tokio::test]
async fn a_phone_is_told_everything_once_and_its_worker_keeps_every_file() {
    let (_folder, at) = a_shelf();
    let bench = bench_on(&at);
    let browser = Browser::new(&bench).await;
    let response = browser.get("/gauging/-/engine.json").await;
    let tag = response.headers()[header::ETAG].clone();
    let told: serde_json::Value = serde_json::from_str(&text(response).await).expect("JSON");
    assert_eq!(told["features"].as_array().map(Vec::len), Some(2));
    assert_eq!(told["features"][0]["places"].as_array().map(Vec::len), Some(8));
    assert!(told["sketches"][0].as_str().is_some_and(|s| s.starts_with("<svg")));
    let again = Request::get("/gauging/-/engine.json").header(header::IF_NONE_MATCH, &tag);
    let again = ask(&bench, again.body(Body::empty()).expect("a request")).await;
    assert_eq!(again.status(), StatusCode::NOT_MODIFIED);
    Browser::signed_in(&bench, "fitter").await.reading("k", &[]).await;
    let news = text(browser.get("/gauging/-/engine.json").await).await;
    assert!(news.contains("199.91 mm"), "the figure before is told from now on");

    let worker = browser.get("/gauging/-/worker.js").await;
    assert_eq!(worker.headers()["service-worker-allowed"], "/");
    let script = text(worker).await;
    let list = script.split_once("const ASSETS = ").and_then(|(_, rest)| rest.split_once(";\n"));
    let kept: Vec<String> = serde_json::from_str(list.expect("a list").0).expect("JSON");
    for address in &kept {
        assert_eq!(browser.get(address).await.status(), StatusCode::OK, "{address}");
    }
    let shell = text(browser.get("/gauging/-/shell").await).await;
    assert!(
        !shell.contains("engine of the test") && !shell.contains("No. 1"),
        "nothing of the book"
    );
    for script in kept.iter().filter(|k| k.ends_with(".js")) {
        let text = text(browser.get(script).await).await;
        assert!(!text.contains("from \"./"), "{script} names another without its hash");
    }
}
