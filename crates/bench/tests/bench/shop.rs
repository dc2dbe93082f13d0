//! A shop to ask: the demo's engine in a book, people, a clock that stands still until it is moved.

use axum::Router;
use axum::body::Body;
use axum::http::header::{CONTENT_TYPE, COOKIE, HOST, LOCATION, SET_COOKIE};
use axum::http::{HeaderMap, Method, Request, StatusCode};
use bench::{Bench, Reach, Settings, app};
use book::{Book, Password, Pen, Role, Said, Start};
use engine::model::Date;
use http_body_util::BodyExt as _;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicI64, Ordering};
use tempfile::TempDir;
use tower::ServiceExt as _;

pub(crate) const HOST_NAME: &str = "localhost:8470";
pub(crate) const ENGINEER: &str = "An Engineer";
pub(crate) const PASSWORD: &str = "a long password";
const BEGAN: &str = "2026-11-20T08:00:00Z";
const BOUNDARY: &str = "----a-boundary-that-no-file-has";

/// Reader, fitter and inspector: the first two have no password.
pub(crate) const READER: &str = "A Reader";
pub(crate) const FITTER: &str = "A Fitter";
pub(crate) const INSPECTOR: &str = "An Inspector";

pub(crate) struct Shop {
    app: Router,
    clock_ms: Arc<AtomicI64>,
    /// Gone when the shop is; none where the book belongs to the test.
    _folder: Option<TempDir>,
    pub(crate) file: PathBuf,
}

pub(crate) struct Answer {
    pub(crate) status: StatusCode,
    pub(crate) headers: HeaderMap,
    pub(crate) bytes: Vec<u8>,
}

impl Answer {
    pub(crate) fn text(&self) -> String {
        String::from_utf8(self.bytes.clone()).expect("UTF-8")
    }

    pub(crate) fn json(&self) -> serde_json::Value {
        serde_json::from_slice(&self.bytes)
            .unwrap_or_else(|e| panic!("{e}: {}", String::from_utf8_lossy(&self.bytes)))
    }

    pub(crate) fn leads_to(&self) -> &str {
        self.headers.get(LOCATION).map_or("", |l| l.to_str().expect("text"))
    }
}

fn demo() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo/goods")
}

/// The demo's goods engine in a book.
pub(crate) fn book_in(folder: &Path, more: Vec<Said>) -> PathBuf {
    let file = folder.join("goods.book");
    let secret = Password::new(PASSWORD).expect("long enough");
    let mut pen = Pen::new(ENGINEER, "office", BEGAN).expect("a pen");
    let start = Start { name: "No. 27".into(), password: Some(secret.clone()) };
    let mut book = Book::create_file(&file, &pen, &start).expect("begins");
    pen.show(&book, &secret).expect("its password");
    let person = |name: &str, roles: &[Role], password: String| Said::Person {
        name: name.into(),
        roles: roles.to_vec(),
        password,
    };
    let mut said = vec![
        person(READER, &[Role::Records], String::new()),
        person(FITTER, &[Role::Fits], String::new()),
        person(INSPECTOR, &[Role::Releases], secret.hashed().expect("random bytes")),
    ];
    let mut texts: Vec<PathBuf> = std::fs::read_dir(demo())
        .expect("the demo")
        .map(|e| e.expect("a file").path())
        .filter(|p| p.extension().is_some_and(|e| e == "toml"))
        .collect();
    // The engine's own file first, the rest by name, as a folder is read.
    texts.sort_by_key(|p| (!p.ends_with("engine.toml"), p.clone()));
    for path in texts {
        let file = path.file_name().expect("a name").to_string_lossy().into_owned();
        let text = std::fs::read_to_string(&path).expect("the demo");
        said.push(Said::Described { file, text });
    }
    for name in ["readings-last-time.csv", "readings-strip.csv", "readings-wheels.csv"] {
        let table = std::fs::read_to_string(demo().join(name)).expect("the demo");
        said.push(Said::Readings { file: name.into(), table });
    }
    said.extend(more);
    book.append_all(&pen, said).expect("writes");
    file
}

impl Shop {
    pub(crate) fn new() -> Shop {
        Shop::with(Reach::ThisMachine, Vec::new())
    }

    pub(crate) fn with(reach: Reach, more: Vec<Said>) -> Shop {
        let folder = TempDir::new().expect("a folder");
        let file = book_in(folder.path(), more);
        Shop { _folder: Some(folder), ..Shop::on(&file, reach) }
    }

    /// A bench on a book of the test's own; a second one on the same book is the server started again.
    pub(crate) fn on(file: &Path, reach: Reach) -> Shop {
        let clock_ms = Arc::new(AtomicI64::new(
            BEGAN.parse::<jiff::Timestamp>().expect("an instant").as_millisecond(),
        ));
        let clock = Arc::clone(&clock_ms);
        let settings = Settings {
            reach,
            encrypted: reach == Reach::OtherMachines,
            hosts: vec![HOST_NAME.into()],
            clock: Arc::new(move || {
                jiff::Timestamp::from_millisecond(clock.load(Ordering::SeqCst)).expect("in range")
            }),
            today: Some(Date::new(2026, 11, 20).expect("a day")),
            demo: String::new(),
            authority: None,
            file: Some(file.to_owned()),
        };
        let book = Book::open_file(file).expect("opens");
        let app = app(Bench::new(book, settings).expect("a bench"));
        Shop { app, clock_ms, _folder: None, file: file.to_owned() }
    }

    pub(crate) fn wait_s(&self, seconds: i64) {
        self.clock_ms.fetch_add(seconds * 1000, Ordering::SeqCst);
    }

    pub(crate) async fn ask(&self, request: Request<Body>) -> Answer {
        let response = self.app.clone().oneshot(request).await.expect("answers");
        let (parts, body) = response.into_parts();
        let bytes = body.collect().await.expect("a body").to_bytes().to_vec();
        Answer { status: parts.status, headers: parts.headers, bytes }
    }

    pub(crate) async fn get(&self, path: &str) -> Answer {
        self.ask(request(Method::GET, path, "")).await
    }

    /// A browser with a fresh cookie and the token that goes with it.
    pub(crate) async fn visitor(&self) -> Browser<'_> {
        let answer = self.get("/sign-in").await;
        assert_eq!(answer.status, StatusCode::OK);
        let cookie = cookie_of(&answer).expect("a cookie for a visitor");
        let token = token_in(&answer.text());
        Browser { shop: self, cookie, token }
    }

    /// A browser of somebody who is signed in.
    pub(crate) async fn signed_in(&self, name: &str, password: &str) -> Browser<'_> {
        let visitor = self.visitor().await;
        let answer = visitor.post("/sign-in", &[("name", name), ("password", password)]).await;
        assert_eq!(answer.status, StatusCode::SEE_OTHER, "{}", answer.text());
        let cookie = cookie_of(&answer).expect("a cookie for who signed in");
        assert_ne!(cookie, visitor.cookie, "a new cookie at signing in");
        let mut browser = Browser { shop: self, cookie, token: String::new() };
        browser.token = token_in(&browser.get("/keys").await.text());
        browser
    }

    /// The book as another program reads it.
    pub(crate) fn entries(&self) -> u64 {
        Book::open_file(&self.file).expect("opens").head().sequence
    }
}

pub(crate) struct Browser<'a> {
    pub(crate) shop: &'a Shop,
    pub(crate) cookie: String,
    pub(crate) token: String,
}

impl Browser<'_> {
    pub(crate) async fn get(&self, path: &str) -> Answer {
        self.shop.ask(request(Method::GET, path, &self.cookie)).await
    }

    pub(crate) async fn post(&self, path: &str, fields: &[(&str, &str)]) -> Answer {
        self.post_with(path, fields, &[]).await
    }

    pub(crate) async fn post_with(
        &self,
        path: &str,
        fields: &[(&str, &str)],
        headers: &[(&str, &str)],
    ) -> Answer {
        let mut form = form_urlencoded::Serializer::new(String::new());
        if !fields.iter().any(|(n, _)| *n == "token") {
            form.append_pair("token", &self.token);
        }
        for (name, value) in fields {
            form.append_pair(name, value);
        }
        let mut request = request(Method::POST, path, &self.cookie);
        for (name, value) in headers {
            let name: axum::http::HeaderName = name.parse().expect("a header");
            request.headers_mut().insert(name, value.parse().expect("a value"));
        }
        *request.body_mut() = Body::from(form.finish());
        self.shop.ask(request).await
    }

    pub(crate) async fn upload(&self, about: &str, name: &str, bytes: &[u8]) -> Answer {
        let mut body = Vec::new();
        for (field, value) in [("token", self.token.as_str()), ("about", about), ("then", "/parts")]
        {
            body.extend_from_slice(
                format!("--{BOUNDARY}\r\nContent-Disposition: form-data; name=\"{field}\"\r\n\r\n{value}\r\n").as_bytes(),
            );
        }
        body.extend_from_slice(
            format!("--{BOUNDARY}\r\nContent-Disposition: form-data; name=\"file\"; filename=\"{name}\"\r\nContent-Type: image/jpeg\r\n\r\n").as_bytes(),
        );
        body.extend_from_slice(bytes);
        body.extend_from_slice(format!("\r\n--{BOUNDARY}--\r\n").as_bytes());
        let mut request = request(Method::POST, "/photograph", &self.cookie);
        let media = format!("multipart/form-data; boundary={BOUNDARY}");
        request.headers_mut().insert(CONTENT_TYPE, media.parse().expect("a value"));
        *request.body_mut() = Body::from(body);
        self.shop.ask(request).await
    }
}

pub(crate) fn request(method: Method, path: &str, cookie: &str) -> Request<Body> {
    let mut request = Request::builder().method(method).uri(path).header(HOST, HOST_NAME);
    if !cookie.is_empty() {
        request = request.header(COOKIE, cookie);
    }
    request.body(Body::empty()).expect("a request")
}

/// Name and value of the cookie an answer sets.
fn cookie_of(answer: &Answer) -> Option<String> {
    let all = answer.headers.get_all(SET_COOKIE);
    all.iter()
        .filter_map(|v| v.to_str().ok()?.split(';').next().map(str::to_owned))
        .find(|c| c.contains("pinchbar="))
}

pub(crate) fn token_in(page: &str) -> String {
    let at = page.find("name=\"token\" value=\"").expect("a form with a token") + 20;
    page[at..].split('"').next().expect("its end").to_owned()
}
