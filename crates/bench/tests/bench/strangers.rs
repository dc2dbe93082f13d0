//! Forged, guessed, hostile and absurd requests.

use crate::shop::{ENGINEER, FITTER, HOST_NAME, PASSWORD, READER, Shop, request};
use axum::body::Body;
use axum::http::header::{HOST, RETRY_AFTER, SET_COOKIE};
use axum::http::{Method, StatusCode};
use bench::Reach;
use book::{Book, Said};

const NOTE: &[(&str, &str)] = &[("about", "frame"), ("text", "forged")];

#[tokio::test]
async fn a_forged_form_is_refused() {
    let shop = Shop::new();
    let before = shop.entries();
    let fitter = shop.signed_in(FITTER, "").await;
    let visitor = shop.visitor().await;
    let with = |token: &str| {
        [NOTE, &[("token", token)]]
            .concat()
            .iter()
            .map(|(a, b)| ((*a).to_owned(), (*b).to_owned()))
            .collect::<Vec<_>>()
    };
    for token in ["", "0", &visitor.token, &"0".repeat(64)] {
        let form = with(token);
        let form: Vec<(&str, &str)> = form.iter().map(|(a, b)| (a.as_str(), b.as_str())).collect();
        let answer = fitter.post("/say/note", &form).await;
        assert_eq!(answer.status, StatusCode::FORBIDDEN, "token {token:?}");
    }
    for header in [
        ("origin", "https://elsewhere.example"),
        ("origin", "null"),
        ("origin", "http://localhost:8471"),
        ("sec-fetch-site", "cross-site"),
        ("sec-fetch-site", "same-site"),
    ] {
        let answer = fitter.post_with("/say/note", NOTE, &[header]).await;
        assert_eq!(answer.status, StatusCode::FORBIDDEN, "{header:?}");
    }
    assert_eq!(shop.entries(), before);
    let own = [("origin", "http://localhost:8470"), ("sec-fetch-site", "same-origin")];
    assert_eq!(fitter.post_with("/say/note", NOTE, &own).await.status, StatusCode::SEE_OTHER);
    assert!(visitor.post("/say/note", NOTE).await.leads_to().starts_with("/sign-in"));
    assert_eq!(shop.entries(), before + 1);
}

#[tokio::test]
async fn guessing_a_password_is_slowed_down() {
    let shop = Shop::new();
    let visitor = shop.visitor().await;
    let guess = |password| [("name", ENGINEER), ("password", password)];
    for n in 0..6 {
        let answer = visitor.post("/sign-in", &guess("wrong password")).await;
        assert_eq!(answer.status, StatusCode::UNAUTHORIZED, "guess {n}");
        // Whether the name or the password was wrong is not told.
        assert!(answer.text().contains("do not go together"));
    }
    let answer = visitor.post("/sign-in", &guess(PASSWORD)).await;
    assert_eq!(answer.status, StatusCode::TOO_MANY_REQUESTS, "even the right one has to wait");
    let wait: i64 = answer.headers[RETRY_AFTER].to_str().expect("text").parse().expect("seconds");
    assert!((1..=900).contains(&wait));
    shop.wait_s(wait);
    assert_eq!(visitor.post("/sign-in", &guess(PASSWORD)).await.status, StatusCode::SEE_OTHER);
    let nobody = [("name", "Nobody <b>"), ("password", "wrong password")];
    let answer = visitor.post("/sign-in", &nobody).await;
    assert!(answer.text().contains("do not go together"), "{}", answer.text());
}

#[tokio::test]
async fn from_other_machines_nothing_is_seen_without_a_password() {
    let shop = Shop::with(Reach::OtherMachines, Vec::new());
    for path in [
        "/",
        "/joint/big-end.left",
        "/book",
        "/people",
        "/paper/machine-to.pdf",
        "/book/whole.tar",
        "/find?what=x",
    ] {
        let answer = shop.get(path).await;
        assert_eq!(answer.status, StatusCode::SEE_OTHER, "{path}");
        assert!(answer.leads_to().starts_with("/sign-in?then=%2F"), "{path}");
    }
    assert_eq!(shop.get("/api/engine").await.status, StatusCode::UNAUTHORIZED);
    let page = shop.get("/sign-in").await;
    assert!(!page.text().contains(READER), "who works here is not told");
    let cookie = page.headers[SET_COOKIE].to_str().expect("text").to_owned();
    for word in ["__Host-pinchbar=", "Secure", "HttpOnly", "SameSite=Strict", "Path=/"] {
        assert!(cookie.contains(word), "{cookie}");
    }
    let visitor = shop.visitor().await;
    let nameless = visitor.post("/sign-in", &[("name", READER), ("password", "")]).await;
    assert_eq!(nameless.status, StatusCode::UNAUTHORIZED, "a name alone does not sign in");
    let engineer = shop.signed_in(ENGINEER, PASSWORD).await;
    assert_eq!(engineer.get("/").await.status, StatusCode::OK);
    let book = Book::open_file(&shop.file).expect("opens");
    let refused = bench::may_leave_this_machine(&book).expect_err("two have no password");
    assert!(refused.to_string().contains(READER) && refused.to_string().contains(FITTER));
}

#[tokio::test]
async fn every_answer_has_its_headers_and_other_names_are_not_answered() {
    let shop = Shop::new();
    for path in ["/", "/none", "/asset/none", "/api/none", "/photograph/none"] {
        let answer = shop.get(path).await;
        for (name, value) in [
            ("content-security-policy", "default-src 'none'"),
            ("x-content-type-options", "nosniff"),
            ("referrer-policy", "same-origin"),
        ] {
            let is = answer.headers[name].to_str().expect("text");
            assert!(is.contains(value), "{path} {name}: {is}");
        }
        let policy = answer.headers["content-security-policy"].to_str().expect("text");
        assert!(!policy.contains("unsafe") && policy.contains("frame-ancestors 'none'"));
    }
    for host in ["evil.example", "evil.example:8470", ""] {
        let mut asked = request(Method::GET, "/", "");
        asked.headers_mut().insert(HOST, host.parse().expect("a value"));
        assert_eq!(shop.ask(asked).await.status, StatusCode::MISDIRECTED_REQUEST, "{host}");
    }
    assert!(HOST_NAME.starts_with("localhost"));
}

#[tokio::test]
async fn paths_and_addresses_lead_nowhere_else() {
    let shop = Shop::new();
    for path in [
        "/asset/../Cargo.toml",
        "/asset/..%2f..%2fCargo.toml",
        "/asset/%2e%2e%2fbench.css",
        "/photograph/..%2f..%2f..%2fetc%2fpasswd",
        "/photograph/0000000000000000000000000000000000000000000000000000000000000000",
        "/book/..%2fwhole.tar",
        "/book/readings.csv%00",
        "/part/%ff%fe",
        "/joint/%00",
        "/book/entry/18446744073709551616",
        "/book/entry/-1",
        "//etc/passwd",
    ] {
        let answer = shop.get(path).await;
        assert!(answer.status.is_client_error(), "{path}: {}", answer.status);
    }
    let fitter = shop.signed_in(FITTER, "").await;
    for then in [
        "//evil.example",
        "https://evil.example",
        "/\\evil.example",
        "javascript:x",
        "",
        "/x\r\nset-cookie: a",
    ] {
        let form = [NOTE, &[("then", then)]].concat();
        let answer = fitter.post("/say/note", &form).await;
        assert!(
            answer.leads_to().starts_with("/?written="),
            "{then:?} leads to {}",
            answer.leads_to()
        );
    }
    let long = "x".repeat(5 << 20);
    let form = [("about", "frame"), ("text", long.as_str())];
    assert_eq!(fitter.post("/say/note", &form).await.status, StatusCode::PAYLOAD_TOO_LARGE);
    let mut asked = request(Method::DELETE, "/", &fitter.cookie);
    *asked.body_mut() = Body::from("x");
    assert_eq!(shop.ask(asked).await.status, StatusCode::METHOD_NOT_ALLOWED);
}

#[tokio::test]
async fn markup_in_names_and_words_stays_text() {
    const MARKUP: &str = "<script>alert(1)</script><img src=x onerror=\"alert(2)\">&'";
    let description = "[engine]\nname = \"<script>alert(3)</script>\"\nnote = '<b onclick=\"x\">'\n[[part]]\nid = \"<i>p\"\nname = \"</title><script>alert(4)</script>\"\n[[feature]]\nid = \"<i>f\"\npart = \"<i>p\"\nkind = \"journal\"\nas-made = \"8 in\"\n[[feature]]\nid = \"g&\"\npart = \"<i>p\"\nkind = \"bore\"\n[[joint]]\nid = \"j<svg>\"\nname = \"<script>alert(5)</script>\"\nkind = \"running\"\ninner = \"<i>f\"\nouter = \"g&\"\n";
    let said = vec![
        Said::Described { file: "zz.toml".into(), text: description.into() },
        Said::Note { about: "<i>p".into(), text: MARKUP.into() },
        Said::Moved { thing: "<i>p".into(), to: MARKUP.into() },
        Said::HoldPoint {
            id: MARKUP.into(),
            about: "<i>p".into(),
            what: MARKUP.into(),
            not_by_doer: false,
        },
        Said::Person {
            name: "<b>\"x".into(),
            roles: vec![book::Role::Records],
            password: String::new(),
        },
    ];
    let shop = Shop::with(Reach::ThisMachine, said);
    let engineer = shop.signed_in(ENGINEER, PASSWORD).await;
    for path in [
        "/",
        "/part/%3Ci%3Ep",
        "/joint/j%3Csvg%3E",
        "/joint/%3Cscript%3Ealert(6)%3C%2Fscript%3E",
        "/find?what=%3Cscript%3Ealert(7)%3C/script%3E",
        "/motion?at=%3Cscript%3Ealert(8)%3C/script%3E",
        "/book",
        "/book?find=%22%3E%3Cscript%3Ealert(9)%3C/script%3E",
        "/people",
        "/parts",
        "/sign-in?then=%22%3E%3Cscript%3E",
        "/machine-to",
        "/gauges?gauge=%3Cscript%3E",
    ] {
        let text = engineer.get(path).await.text();
        for tag in text.split("<script").skip(1).filter_map(|rest| rest.split('>').next()) {
            assert!(tag.contains(" src=\"/asset/"), "{path} has a script that is not ours: {tag}");
        }
        for bad in ["<img src=x", "<b onclick", "<i>p", "<svg>\""] {
            assert!(!text.contains(bad), "{path}: {bad}");
        }
    }
}

#[tokio::test]
async fn an_upload_is_what_it_is_and_not_what_it_says() {
    let shop = Shop::new();
    let fitter = shop.signed_in(FITTER, "").await;
    let before = shop.entries();
    for (name, bytes) in [
        ("engine.jpg", &b"<html><script>alert(1)</script></html>"[..]),
        ("engine.jpg", b"GIF89a"),
        ("engine.jpg", b""),
        ("engine.png", b"\x89PNG\r\n\x1a\nand then nothing"),
        ("engine.jpg", &[0xFF, 0xD8, 0xFF, 0xE0, 0, 0]),
        ("engine.svg", b"<svg xmlns=\"http://www.w3.org/2000/svg\" onload=\"alert(1)\"/>"),
        ("engine.webp", b"RIFF\x00\x00\x00\x00WEBP"),
        // A few bytes that would be ten thousand million dots.
        ("huge.png", &png_of(100_000, 100_000)),
        ("nothing.png", &png_of(0, 1)),
    ] {
        let answer = fitter.upload("frame", name, bytes).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{name}");
    }
    assert_eq!(shop.entries(), before);
    let mut forged = shop.signed_in(FITTER, "").await;
    forged.token = "0".repeat(64);
    assert_eq!(forged.upload("frame", "a.png", PNG).await.status, StatusCode::FORBIDDEN);
    let taken = fitter.upload("frame", "../../<b>frame.png", PNG).await;
    assert_eq!(taken.status, StatusCode::SEE_OTHER, "{}", taken.text());
    let page = fitter.get("/part/frame").await.text();
    let at = page.find("/photograph/").expect("a photograph on the page");
    let address = page[at..].split('"').next().expect("an end");
    let picture = fitter.get(address).await;
    assert_eq!(picture.headers["content-type"], "image/png");
    assert!(picture.bytes.starts_with(b"\x89PNG"));
    assert!(picture.headers["content-security-policy"].to_str().expect("text").contains("sandbox"));
    // A drawing that could have script in it is handed out as a file and never shown in a page.
    let drawing = fitter.upload("cylinder.left", "drawing.jpg", b"%PDF-1.4 of /JavaScript").await;
    assert_eq!(drawing.status, StatusCode::SEE_OTHER);
    let page = fitter.get("/part/cylinder.left").await.text();
    let at = page.find("/photograph/").expect("a drawing on the page");
    let handed = fitter.get(page[at..].split('"').next().expect("an end")).await;
    assert_eq!(handed.headers["content-type"], "application/pdf");
    let disposition = handed.headers["content-disposition"].to_str().expect("text");
    assert!(disposition.starts_with("attachment"), "{disposition}");
    assert!(handed.headers["content-security-policy"].to_str().expect("text").contains("sandbox"));
    let (entry, _) = Book::open_file(&shop.file).expect("opens").entry(before + 1).expect("there");
    let Said::Attached { name, .. } = entry.said else { panic!("{:?}", entry.said) };
    assert_eq!(name, "<b>frame.png", "the last piece of the name, as text");
}

/// A picture (PNG, ISO/IEC 15948) that says it is this large, and has nothing in it.
fn png_of(width: u32, height: u32) -> Vec<u8> {
    let mut out = b"\x89PNG\r\n\x1a\n".to_vec();
    let mut head = width.to_be_bytes().to_vec();
    head.extend(height.to_be_bytes());
    head.extend([8, 0, 0, 0, 0]);
    for (kind, data) in [(b"IHDR", head), (b"IDAT", EMPTY_STREAM.to_vec()), (b"IEND", Vec::new())] {
        out.extend(u32::try_from(data.len()).expect("short").to_be_bytes());
        let from = out.len();
        out.extend(kind);
        out.extend(data);
        let sum = crc(&out[from..]);
        out.extend(sum.to_be_bytes());
    }
    out
}

/// A zlib stream of nothing (RFC 1950, 1951).
const EMPTY_STREAM: [u8; 8] = [0x78, 0x9C, 0x03, 0x00, 0x00, 0x00, 0x00, 0x01];

/// The checksum of PNG (annex D of the standard).
fn crc(bytes: &[u8]) -> u32 {
    let step = |c: u32| if c & 1 == 1 { 0xEDB8_8320 ^ (c >> 1) } else { c >> 1 };
    !bytes.iter().fold(!0, |c, b| (0..8).fold(c ^ u32::from(*b), |c, _| step(c)))
}

#[test]
fn the_checksum_is_the_one_of_the_standard() {
    // That of an empty IEND, at the end of every PNG.
    assert_eq!(crc(b"IEND"), 0xAE42_6082);
}

/// One grey pixel: a signature, a header, a zlib stream and an end, as in PNG (ISO/IEC 15948),
/// written out with the checksums of that standard by Python's zlib.
const PNG: &[u8] = &[
    0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A, 0x00, 0x00, 0x00, 0x0D, 0x49, 0x48, 0x44, 0x52,
    0x00, 0x00, 0x00, 0x01, 0x00, 0x00, 0x00, 0x01, 0x08, 0x00, 0x00, 0x00, 0x00, 0x3A, 0x7E, 0x9B,
    0x55, 0x00, 0x00, 0x00, 0x0A, 0x49, 0x44, 0x41, 0x54, 0x78, 0x9C, 0x63, 0x68, 0x00, 0x00, 0x00,
    0x82, 0x00, 0x81, 0x77, 0xCD, 0x72, 0xB6, 0x00, 0x00, 0x00, 0x00, 0x49, 0x45, 0x4E, 0x44, 0xAE,
    0x42, 0x60, 0x82,
];
