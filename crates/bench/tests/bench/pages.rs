//! Every page answers, is well formed, and leads nowhere that is not there.

use crate::shop::{ENGINEER, PASSWORD, Shop, request};
use axum::http::header::CONTENT_TYPE;
use axum::http::{Method, StatusCode};
use book::{Book, Pen, Said};
use std::collections::{BTreeSet, VecDeque};

/// Elements that have no end (HTML Living Standard, section 13.1.2 "Elements", void elements).
const VOID: &[&str] = &[
    "area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "track",
    "wbr",
];

/// Tags nest, attributes are quoted, ids are given once, labels and fragments lead somewhere.
fn well_formed(page: &str, path: &str) -> Vec<String> {
    assert!(page.starts_with("<!DOCTYPE html>"), "{path}");
    let (mut open, mut ids, mut wanted, mut links) =
        (Vec::<String>::new(), BTreeSet::new(), Vec::new(), Vec::new());
    let mut rest = page["<!DOCTYPE html>".len()..].trim_start();
    while let Some(at) = rest.find('<') {
        let text = &rest[..at];
        assert!(!text.contains('>'), "{path}: a stray > in {text:?}");
        rest = &rest[at + 1..];
        let end = rest.find('>').unwrap_or_else(|| panic!("{path}: a tag without an end"));
        let tag = &rest[..end];
        rest = &rest[end + 1..];
        if let Some(name) = tag.strip_prefix('/') {
            assert_eq!(open.pop().as_deref(), Some(name), "{path}: </{name}>");
            continue;
        }
        let closed = tag.ends_with('/');
        let tag = tag.trim_end_matches('/');
        let name = tag.split_whitespace().next().unwrap_or("").to_owned();
        let mut attributes = tag[name.len()..].trim();
        while !attributes.is_empty() {
            let cut = attributes.find(['=', ' ']).unwrap_or(attributes.len());
            let key = attributes[..cut].to_owned();
            attributes = &attributes[cut..];
            let mut value = String::new();
            if let Some(quoted) = attributes.strip_prefix("=\"") {
                let end = quoted.find('"').unwrap_or_else(|| panic!("{path}: {tag}"));
                value = quoted[..end].to_owned();
                attributes = &quoted[end + 1..];
            } else {
                assert!(!attributes.starts_with('='), "{path}: not quoted: {tag}");
            }
            attributes = attributes.trim_start();
            match key.as_str() {
                "id" => assert!(ids.insert(value.clone()), "{path}: id {value} twice"),
                "for" | "aria-labelledby" | "list" => wanted.push(value),
                "href" => match value.strip_prefix('#') {
                    Some(id) => wanted.push(id.to_owned()),
                    None => links.push(value.replace("&amp;", "&")),
                },
                "style" | "onclick" => panic!("{path}: {key} in the page"),
                _ => {}
            }
        }
        if !closed && !VOID.contains(&name.as_str()) {
            open.push(name);
        }
    }
    assert!(open.is_empty(), "{path}: left open: {open:?}");
    for id in wanted {
        assert!(ids.contains(&id), "{path}: nothing has the id {id}");
    }
    links
}

#[tokio::test]
async fn every_link_leads_to_a_page_that_is_whole() {
    let point = Said::HoldPoint {
        id: "bedding".into(),
        about: "big-end.left".into(),
        what: "look at it".into(),
        not_by_doer: true,
    };
    let shop = Shop::with(bench::Reach::ThisMachine, vec![point]);
    let browser = shop.signed_in(ENGINEER, PASSWORD).await;
    let mut seen = BTreeSet::from(["/".to_owned()]);
    let mut waiting = VecDeque::from(["/".to_owned()]);
    // Pages of one kind beyond this many look like the others.
    let mut of_a_kind = std::collections::BTreeMap::<String, usize>::new();
    while let Some(path) = waiting.pop_front() {
        let answer = browser.get(&path).await;
        assert!(
            matches!(answer.status, StatusCode::OK | StatusCode::SEE_OTHER),
            "{path}: {} {}",
            answer.status,
            answer.text()
        );
        let media = answer.headers.get(CONTENT_TYPE).map_or("", |m| m.to_str().expect("text"));
        if !media.starts_with("text/html") {
            continue;
        }
        for link in well_formed(&answer.text(), &path) {
            let link = link.split('#').next().unwrap_or("").to_owned();
            let kind = link.split(['/', '?']).nth(1).unwrap_or("").to_owned();
            // Sheets take seconds each; they have a test of their own.
            if !link.starts_with('/') || link.contains(".pdf") || link.contains(".tar") {
                continue;
            }
            let of_kind = of_a_kind.entry(kind).or_default();
            if *of_kind < 40 && seen.insert(link.clone()) {
                *of_kind += 1;
                waiting.push_back(link);
            }
        }
    }
    for path in ["/joint/big-end.left", "/part/brass.left.moving", "/motion", "/gauges", "/people"]
    {
        assert!(seen.contains(path), "{path} is not reached from the first page: {seen:?}");
    }
    assert!(seen.len() > 120, "{}", seen.len());
}

#[tokio::test]
async fn what_is_asked_in_an_address_is_answered_or_refused_in_words() {
    let shop = Shop::new();
    for (path, words) in [
        ("/joint/big-end.left?act=close+big-end.left.bore&size=8+thou", "If we close"),
        ("/joint/big-end.left?act=close+big-end.left.bore&size=8+furlongs", "cannot be tried"),
        ("/joint/big-end.left/design", "What it rests on"),
        ("/chain/rod-centres.left?draw=yes", "Drawn at random"),
        ("/motion?at=left+40+past+front&to=right+big+end+bottom&doubt=2+deg", "Bar it"),
        ("/motion?at=nonsense", "nonsense"),
        ("/machine-to?refit=yes", "when put back"),
        ("/book?find=knock", "Entries with"),
        ("/book?about=big-end.left", "About"),
        ("/book/verify", "Whole"),
        ("/find?what=big+end", "joint:"),
        ("/part/frame", "main frames"),
        ("/plan", "Working time"),
        ("/plan?stage=build", "Building up"),
        ("/today", "With the day like this"),
        ("/today?people=2&hours=4", "With the day like this"),
        ("/lifts", "competent person"),
    ] {
        let answer = shop.get(path).await;
        assert_eq!(answer.status, StatusCode::OK, "{path}");
        let text = answer.text();
        well_formed(&text, path);
        // Source of the words: the pages themselves; this guards that each answer is on its page.
        assert!(text.contains(words), "{path} does not say {words:?}");
    }
    for path in [
        "/joint/none",
        "/work/none",
        "/lift/none",
        "/today?people=900",
        "/chain/none",
        "/part/none",
        "/tag/0000",
        "/book/entry/99999",
        "/x",
    ] {
        let answer = shop.get(path).await;
        assert!(answer.status.is_client_error(), "{path}: {}", answer.status);
        well_formed(&answer.text(), path);
    }
}

#[tokio::test]
async fn a_sheet_is_a_pdf_and_the_first_page_is_light() {
    let shop = Shop::new();
    for path in ["/paper/machine-to.pdf", "/paper/gauge/big-end.left.pdf", "/paper/tags.pdf"] {
        let sheet = shop.get(path).await;
        assert!(sheet.bytes.starts_with(b"%PDF-"), "{path}");
    }
    let page = shop.get("/").await.text();
    let packed = |path: &str| {
        let mut asked = request(Method::GET, path, "");
        asked.headers_mut().insert("accept-encoding", "gzip, br".parse().expect("a value"));
        asked
    };
    // Page, style, script, and both weights of the letters, which the style names: 100 kB is the
    // most that a slow phone is asked to wait for.
    let mut bytes = shop.ask(packed("/")).await.bytes.len();
    let style = page.split('"').find(|p| p.ends_with(".css")).expect("a style").to_owned();
    let script = page.split('"').find(|p| p.ends_with(".js")).expect("a script").to_owned();
    let style_text = shop.get(&style).await.text();
    let letters = style_text.split('"').filter(|p| p.ends_with(".woff2")).map(str::to_owned);
    for path in [style.clone(), script].into_iter().chain(letters) {
        let answer = shop.ask(packed(&path)).await;
        assert_eq!(answer.status, StatusCode::OK, "{path}");
        bytes += answer.bytes.len();
    }
    assert!((30_000..100_000).contains(&bytes), "{bytes} bytes");
}

#[tokio::test]
async fn what_another_program_writes_is_on_the_page_a_moment_later() {
    let shop = Shop::new();
    assert!(!shop.get("/book").await.text().contains("written from elsewhere"));
    let mut book = Book::open_file(&shop.file).expect("opens");
    let pen = Pen::new(crate::shop::READER, "elsewhere", "2026-11-20T08:00:00Z").expect("a pen");
    let text = "written from elsewhere".to_owned();
    book.append(&pen, Said::Note { about: "frame".into(), text }).expect("writes");
    shop.wait_s(1);
    assert!(shop.get("/book").await.text().contains("written from elsewhere"));
}
