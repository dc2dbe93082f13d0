//! Writing through forms: who may, once, and what is refused.

use crate::shop::{ENGINEER, FITTER, INSPECTOR, PASSWORD, READER, Shop};
use axum::http::StatusCode;
use book::{Book, Said};

const DECISION: &[(&str, &str)] = &[
    ("joint", "strap.right.1"),
    ("repair", "renew"),
    ("reason", "loose in its hole"),
    ("then", "/joint/strap.right.1"),
];

#[tokio::test]
async fn a_decision_is_written_by_who_may_and_judged_at_once() {
    let shop = Shop::new();
    let before = shop.entries();
    let reader = shop.signed_in(READER, "").await;
    let refused = reader.post("/say/decided", DECISION).await;
    assert_eq!(refused.status, StatusCode::FORBIDDEN);
    assert!(refused.text().contains("responsible engineer"), "{}", refused.text());
    assert_eq!(shop.entries(), before, "nothing was written");
    let engineer = shop.signed_in(ENGINEER, PASSWORD).await;
    let done = engineer.post("/say/decided", DECISION).await;
    assert_eq!(done.status, StatusCode::SEE_OTHER, "{}", done.text());
    assert_eq!(done.leads_to(), format!("/joint/strap.right.1?written={}", before + 1));
    let page = engineer.get(done.leads_to()).await.text();
    assert!(page.contains("Written: it is entry") && page.contains("loose in its hole"));
    assert!(engineer.get("/machine-to").await.text().contains("decided by An Engineer"));
    let mut book = Book::open_file(&shop.file).expect("opens");
    let (entry, _) = book.entry(before + 1).expect("there");
    assert_eq!((entry.author.as_str(), entry.device.as_str()), (ENGINEER, "bench"));
    let own = [
        ("joint", "big-end.left"),
        ("repair", "re-metal"),
        ("make.big-end.left.bore", "195.4 mm"),
        ("make.crank-pin.left", ""),
    ];
    assert_eq!(engineer.post("/say/decided", &own).await.status, StatusCode::SEE_OTHER);
    let (entry, _) = Book::open_file(&shop.file).expect("opens").entry(before + 2).expect("there");
    let Said::Decided { make, .. } = entry.said else { panic!("{:?}", entry.said) };
    assert_eq!((make.len(), make[0].to.as_str()), (1, "195.4 mm"));
    for (size, words) in [("195.4 furlongs", "furlongs"), ("-3 mm", "cannot be")] {
        let wrong = [("joint", "big-end.left"), ("repair", "line"), ("make.crank-pin.left", size)];
        let answer = engineer.post("/say/decided", &wrong).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
        assert!(answer.text().contains(words), "{}", answer.text());
    }
}

#[tokio::test]
async fn a_form_sent_twice_is_written_once() {
    let shop = Shop::new();
    let before = shop.entries();
    let fitter = shop.signed_in(FITTER, "").await;
    let form = [("key", "k1"), ("about", "frame"), ("text", "cleaned"), ("then", "/part/frame")];
    let first = fitter.post("/say/note", &form).await;
    let second = fitter.post("/say/note", &form).await;
    assert_eq!(first.leads_to(), second.leads_to());
    assert_eq!(shop.entries(), before + 1);
}

#[tokio::test]
async fn a_signature_wants_the_password_each_time() {
    let point = Said::HoldPoint {
        id: "bedding".into(),
        about: "big-end.left".into(),
        what: "look at it".into(),
        not_by_doer: true,
    };
    let shop = Shop::with(bench::Reach::ThisMachine, vec![point]);
    let fitter = shop.signed_in(FITTER, "").await;
    let work = [("about", "big-end.left"), ("what", "scraped in"), ("reaches", "bedding")];
    assert_eq!(fitter.post("/say/worked", &work).await.status, StatusCode::SEE_OTHER);
    let on = [("about", "big-end.left"), ("what", "cottered up")];
    let held = fitter.post("/say/worked", &on).await;
    assert_eq!(held.status, StatusCode::FORBIDDEN, "work stops at a hold point");
    let inspector = shop.signed_in(INSPECTOR, PASSWORD).await;
    assert!(inspector.get("/book").await.text().contains("Release it"));
    for password in ["", "another password"] {
        let form = [("hold_point", "bedding"), ("note", "even"), ("password", password)];
        let answer = inspector.post("/say/released", &form).await;
        assert_eq!(answer.status, StatusCode::UNAUTHORIZED, "{password:?}");
    }
    let form = [("hold_point", "bedding"), ("note", "even"), ("password", PASSWORD)];
    assert_eq!(inspector.post("/say/released", &form).await.status, StatusCode::SEE_OTHER);
    assert_eq!(fitter.post("/say/worked", &on).await.status, StatusCode::SEE_OTHER);
}

#[tokio::test]
async fn a_session_ends_with_its_password_its_roles_and_in_time() {
    let shop = Shop::new();
    let engineer = shop.signed_in(ENGINEER, PASSWORD).await;
    let inspector = shop.signed_in(INSPECTOR, PASSWORD).await;
    let note = [("about", "frame"), ("text", "x")];
    let gone = [("name", INSPECTOR), ("new", "quite another password"), ("role", "releases")];
    assert_eq!(engineer.post("/people", &gone).await.status, StatusCode::SEE_OTHER);
    assert!(inspector.post("/say/note", &note).await.leads_to().starts_with("/sign-in"));
    let own = [("password", PASSWORD), ("new", "a third password")];
    assert_eq!(engineer.post("/people/password", &own).await.status, StatusCode::SEE_OTHER);
    assert!(engineer.post("/say/note", &note).await.leads_to().starts_with("/sign-in"));
    let engineer = shop.signed_in(ENGINEER, "a third password").await;
    shop.wait_s(11 * 3600);
    assert_eq!(engineer.post("/say/note", &note).await.status, StatusCode::SEE_OTHER);
    shop.wait_s(13 * 3600);
    assert!(engineer.post("/say/note", &note).await.leads_to().starts_with("/sign-in"));
    let fitter = shop.signed_in(FITTER, "").await;
    fitter.post("/sign-out", &[]).await;
    assert!(fitter.post("/say/note", &note).await.leads_to().starts_with("/sign-in"));
}

#[tokio::test]
async fn readings_tags_places_and_strike_outs_go_through_the_book_s_rules() {
    let shop = Shop::new();
    let reader = shop.signed_in(READER, "").await;
    let reading = |value| {
        [
            ("feature", "crank-pin.left"),
            ("value", value),
            ("station", "B"),
            ("direction", "V"),
            ("gauge", "om-8"),
        ]
    };
    let refused = reader.post("/say/reading", &reading("7.7 acres")).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    let taken = reader.post("/say/reading", &reading("7.6857 in")).await;
    assert_eq!(taken.status, StatusCode::SEE_OTHER, "{}", taken.text());
    assert!(reader.get("/joint/big-end.left").await.text().contains("7.6857 in"));
    let strike = [("feature", "crank-pin.left"), ("value", "7.6857 in"), ("reason", "slipped")];
    assert_eq!(reader.post("/say/figure-struck-out", &strike).await.status, StatusCode::SEE_OTHER);
    let tag = [("part", "frame")];
    assert_eq!(reader.post("/say/tagged", &tag).await.status, StatusCode::SEE_OTHER);
    let book = Book::open_file(&shop.file).expect("opens");
    let code = book.fold().thing("frame").expect("tagged").1.tag.clone().expect("a tag");
    assert_eq!(shop.get(&format!("/tag/{code}")).await.leads_to(), "/part/frame");
    let moved = [("thing", code.as_str()), ("to", "wheel road")];
    assert_eq!(reader.post("/say/moved", &moved).await.status, StatusCode::SEE_OTHER);
    assert!(shop.get("/part/frame").await.text().contains("wheel road"));
    assert!(shop.get("/part/wheel%20road").await.text().contains("frame"));
    let entry = shop.entries().to_string();
    let strike = [("entry", entry.as_str()), ("reason", "it is not there")];
    assert_eq!(reader.post("/say/struck-out", &strike).await.status, StatusCode::SEE_OTHER);
    assert!(shop.get(&format!("/book/entry/{entry}")).await.text().contains("it is not there"));
}

#[tokio::test]
async fn a_work_ticked_on_the_page_is_done_in_the_plan() {
    let shop = Shop::new();
    let fitter = shop.signed_in(FITTER, "").await;
    assert!(fitter.get("/work/cold").await.text().contains("to do"));
    for (kind, form) in [
        ("work-done", [("work", "none"), ("way", "")]),
        ("work-done", [("work", "cold"), ("way", "no such way")]),
        ("work-stuck", [("work", "cold"), ("why", "")]),
    ] {
        let answer = fitter.post(&format!("/say/{kind}"), &form).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{kind} {form:?}");
    }
    let before = fitter.get("/plan").await.text();
    assert!(before.contains(", 0 done"), "nothing is done yet");
    let done = fitter.post("/say/work-done", &[("work", "cold"), ("then", "/work/cold")]).await;
    assert_eq!(done.status, StatusCode::SEE_OTHER, "{}", done.text());
    assert!(fitter.get("/work/cold").await.text().contains("✓ done"));
    assert!(fitter.get("/plan").await.text().contains("1 done"));
    assert!(!fitter.get("/").await.text().contains("What could not be read"), "the engine took it");
    // Written afterwards, a word counts from when it was done; never from a day to come.
    let later = [("work", "scotch"), ("at", "2026-11-21T09:00"), ("then", "/today")];
    let answer = fitter.post("/say/work-done", &later).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "a day to come");
    let page = fitter.get("/work/scotch").await.text();
    assert!(page.contains("name=\"at\" value=\"2026-"), "it was planned for a day that is over");
    let before = [("work", "scotch"), ("at", "2026-10-06T19:00"), ("then", "/today")];
    let done = fitter.post("/say/work-done", &before).await;
    assert_eq!(done.status, StatusCode::SEE_OTHER, "{}", done.text());
    let entry = format!("/api/book/entry/{}", shop.entries());
    assert_eq!(shop.get(&entry).await.json()["time"], "2026-10-06T19:00:00Z");
    let reader = shop.signed_in(READER, "").await;
    let answer = reader.post("/say/work-done", &[("work", "cold")]).await;
    assert_eq!(answer.status, StatusCode::FORBIDDEN, "fitting is for those who fit");
    let undone = fitter.post("/say/work-undone", &[("work", "cold"), ("why", "slip")]).await;
    assert_eq!(undone.status, StatusCode::SEE_OTHER);
    assert!(fitter.get("/plan").await.text().contains(", 1 done"));
}

#[tokio::test]
async fn a_concession_is_signed_shown_and_closed_by_who_may() {
    let shop = Shop::new();
    let engineer = shop.signed_in(ENGINEER, PASSWORD).await;
    let page = engineer.get("/joint/big-end.left").await.text();
    assert!(page.contains("Sign the concession") && !page.contains("Ask for a concession"));
    let asked = shop.signed_in(READER, "").await;
    assert!(asked.get("/joint/big-end.left").await.text().contains("Ask for a concession"));
    let form = |password, until| {
        [
            ("about", "big-end.left"),
            ("limit", "clearance, in service"),
            ("what", "to the yard and back, light"),
            ("until", until),
            ("reason", "the brass is on order"),
            ("password", password),
            ("then", "/concessions"),
        ]
    };
    let refused = engineer.post("/say/concession", &form("wrong", "2026-12-31")).await;
    assert_eq!(refused.status, StatusCode::UNAUTHORIZED);
    let late = engineer.post("/say/concession", &form(PASSWORD, "2026-11-01")).await;
    assert_eq!(late.status, StatusCode::UNPROCESSABLE_ENTITY, "a day that is over");
    let fitter = shop.signed_in(FITTER, "").await;
    let not = fitter.post("/say/concession", &form("", "2026-12-31")).await;
    assert_eq!(not.status, StatusCode::FORBIDDEN);
    let given = engineer.post("/say/concession", &form(PASSWORD, "2026-12-31")).await;
    assert_eq!(given.status, StatusCode::SEE_OTHER, "{}", given.text());
    for path in ["/concessions", "/joint/big-end.left"] {
        let text = shop.get(path).await.text();
        assert!(text.contains("to the yard and back, light"), "{path}");
    }
    assert_eq!(shop.get("/api/concessions").await.json()["concessions"][0]["holds"], true);
    let close =
        [("about", "big-end.left"), ("limit", "clearance, in service"), ("reason", "re-metalled")];
    assert_eq!(fitter.post("/say/concession-closed", &close).await.status, StatusCode::FORBIDDEN);
    let closed = engineer.post("/say/concession-closed", &close).await;
    assert_eq!(closed.status, StatusCode::SEE_OTHER, "{}", closed.text());
    assert!(shop.get("/concessions").await.text().contains("closed by entry"));
}

#[tokio::test]
async fn tables_and_descriptions_are_asked_about_before_they_are_written_with_faults() {
    let shop = Shop::new();
    let engineer = shop.signed_in(ENGINEER, PASSWORD).await;
    let before = shop.entries();
    let heading = "feature,station,direction,reading,gauge,by,when\r\n";
    let good = format!("{heading}crank-pin.left,B,V,7.6857 in,om-8,A Reader,2026-11-20\r\n");
    let bad = format!("{good}crank-pin.left,B,V,7.7 acres,om-8,A Reader,2026-11-20\r\n");
    let form = |table, anyway| {
        [("file", "sheet 4"), ("table", table), ("ask_back", "yes"), ("anyway", anyway)]
    };
    let refused = engineer.post("/say/readings", &form(bad.as_str(), "")).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(refused.text().contains("acres"), "{}", refused.text());
    assert_eq!(shop.entries(), before);
    for (table, anyway) in [(good.as_str(), ""), (bad.as_str(), "yes")] {
        let taken = engineer.post("/say/readings", &form(table, anyway)).await;
        assert_eq!(taken.status, StatusCode::SEE_OTHER, "{}", taken.text());
    }
    let text = |text, anyway| [("file", "more.toml"), ("text", text), ("anyway", anyway)];
    let wrong = engineer.post("/say/described", &text("[[part]]\nid = 3\n", "")).await;
    assert_eq!(wrong.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(wrong.text().contains("more.toml, line"), "{}", wrong.text());
    let name = [("file", "../more.toml"), ("text", "x")];
    assert_eq!(
        engineer.post("/say/described", &name).await.status,
        StatusCode::UNPROCESSABLE_ENTITY
    );
    let part = "[[part]]\r\nid = \"lamp\"\r\nname = \"head lamp\"\r\n";
    let taken = engineer.post("/say/described", &text(part, "")).await;
    assert_eq!(taken.status, StatusCode::SEE_OTHER, "{}", taken.text());
    assert!(engineer.get("/part/lamp").await.text().contains("head lamp"));
    assert!(engineer.get("/book/write?file=more.toml").await.text().contains("head lamp"));
    let fitter = shop.signed_in(FITTER, "").await;
    assert_eq!(fitter.post("/say/described", &text(part, "")).await.status, StatusCode::FORBIDDEN);
    let struck =
        [("feature", "crank-pin.left"), ("figure", "7.6857 in|B|90"), ("reason", "slipped")];
    let done = engineer.post("/say/figure-struck-out", &struck).await;
    assert!(
        matches!(done.status, StatusCode::SEE_OTHER | StatusCode::UNPROCESSABLE_ENTITY),
        "{}",
        done.text()
    );
}
