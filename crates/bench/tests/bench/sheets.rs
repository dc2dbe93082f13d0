//! Paper from the pages: each sheet where a person stands, and what is printed on it leads back.

use crate::shop::{ENGINEER, FITTER, PASSWORD, READER, Shop};
use axum::http::StatusCode;
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_TYPE};
use bench::Reach;
use book::{Book, SqliteStore, Store as _};
use paper::Links;

#[tokio::test]
async fn every_sheet_is_linked_from_where_a_person_stands() {
    let shop = Shop::new();
    let reader = shop.signed_in(READER, "").await;
    let tag = [("part", "rod.left"), ("then", "/part/rod.left")];
    assert_eq!(reader.post("/say/tagged", &tag).await.status, StatusCode::SEE_OTHER);
    let lifts = shop.get("/lifts").await.text();
    let lift = lifts.split("href=\"").find(|l| l.starts_with("/lift/")).expect("a lift");
    let lift = lift.split('"').next().expect("an address").to_owned();
    for (page, link) in [
        ("/work/scotch", "/paper/card/scotch.pdf".to_owned()),
        (lift.as_str(), lift.replace("/lift/", "/paper/lift/") + ".pdf"),
        ("/joint/big-end.left", "/paper/repair/big-end.left.pdf".to_owned()),
        ("/joint/big-end.left/design", "/paper/repair/big-end.left.pdf".to_owned()),
        ("/joint/big-end.left", "/paper/gauge/big-end.left.pdf".to_owned()),
        ("/part/rod.left", "/paper/tags.pdf?part=rod.left&amp;size=tie-on".to_owned()),
        ("/part/rod.left", "/paper/tags.pdf?part=rod.left&amp;size=large".to_owned()),
        ("/today", "/paper/day.pdf".to_owned()),
        ("/today", "/paper/cards.pdf".to_owned()),
        ("/plan?stage=build", "/paper/plan.pdf?stage=build".to_owned()),
        ("/book", "/paper/dossier.pdf".to_owned()),
        ("/paper", "/paper/condition-report.pdf".to_owned()),
        ("/paper", "/paper/repairs.pdf".to_owned()),
    ] {
        let text = shop.get(page).await.text();
        assert!(text.contains(&format!("href=\"{link}\"")), "{page} has no link to {link}");
        let sheet = shop.get(&link.replace("&amp;", "&")).await;
        assert!(
            sheet.bytes.starts_with(b"%PDF-"),
            "{link}: {} {}",
            sheet.status,
            sheet.bytes.len()
        );
        assert_eq!(sheet.headers[CONTENT_TYPE], "application/pdf", "{link}");
        assert!(sheet.headers[CONTENT_DISPOSITION].to_str().expect("text").contains(".pdf"));
    }
    for (path, status) in [
        ("/paper/card/none.pdf", StatusCode::NOT_FOUND),
        ("/paper/lift/none.pdf", StatusCode::NOT_FOUND),
        ("/paper/repair/none.pdf", StatusCode::NOT_FOUND),
        ("/paper/repair/big-end.left.pdf?with=none&value=3", StatusCode::UNPROCESSABLE_ENTITY),
        ("/paper/tags.pdf?size=huge", StatusCode::UNPROCESSABLE_ENTITY),
        ("/paper/tags.pdf?part=frame", StatusCode::NOT_FOUND),
        ("/paper/day.pdf?people=900", StatusCode::UNPROCESSABLE_ENTITY),
        ("/paper/day.pdf?weather=hail", StatusCode::UNPROCESSABLE_ENTITY),
        ("/paper/day.pdf?without=none", StatusCode::UNPROCESSABLE_ENTITY),
    ] {
        assert_eq!(shop.get(path).await.status, status, "{path}");
    }
}

#[tokio::test]
async fn a_decision_leads_straight_to_its_sheet_and_the_paper_is_chosen_once() {
    let shop = Shop::new();
    let engineer = shop.signed_in(ENGINEER, PASSWORD).await;
    let decision =
        [("joint", "strap.right.1"), ("repair", "renew"), ("then", "/joint/strap.right.1")];
    let done = engineer.post("/say/decided", &decision).await;
    let page = engineer.get(done.leads_to()).await.text();
    let told = page.split("role=\"status\"").nth(1).expect("what was written is told");
    let told = told.split("</p>").next().expect("an end");
    assert!(told.contains("href=\"/paper/repair/strap.right.1.pdf\""), "{told}");
    assert!(told.contains("href=\"/paper/machine-to.pdf\""), "{told}");
    let chosen = engineer.post("/look", &[("paper", "letter"), ("then", "/paper")]).await;
    let cookie = chosen.headers["set-cookie"].to_str().expect("text").to_owned();
    assert!(cookie.starts_with("paper=letter;"), "{cookie}");
    assert!(
        engineer
            .get("/paper?paper=letter")
            .await
            .text()
            .contains("Sheets are set for <b>US Letter")
    );
}

/// What is printed as a code on a sheet must open a page of the server that printed it.
#[tokio::test]
async fn every_kind_of_code_on_a_sheet_leads_to_a_page() {
    let shop = Shop::new();
    let reader = shop.signed_in(READER, "").await;
    reader.post("/say/tagged", &[("part", "rod.left")]).await;
    let book = Book::open_file(&shop.file).expect("opens");
    let code = book.fold().thing("rod.left").expect("tagged").1.tag.clone().expect("a code");
    let Links { gauge, tag, thing, work } = Links::under("https://shed.local:8443");
    for (link, names) in [
        (gauge, vec!["crank-pin.left", "big-end.left.bore"]),
        (tag, vec![code.as_str()]),
        (thing, vec!["rod.left", "big-end.left", "crank-pin.left", "rod-centres.left"]),
        (work, vec!["cold", "scotch"]),
    ] {
        for name in names {
            let mut path = format!("{}{name}", link.trim_start_matches("https://shed.local:8443"));
            // A code may lead on to another page, a few times at most.
            for _ in 0..4 {
                let answer = reader.get(&path).await;
                match answer.status {
                    StatusCode::SEE_OTHER => path = answer.leads_to().to_owned(),
                    status => {
                        assert_eq!(status, StatusCode::OK, "{link}{name} leads to {path}");
                        path.clear();
                        break;
                    }
                }
            }
            assert!(path.is_empty(), "{link}{name} leads on and on");
        }
    }
}

#[tokio::test]
async fn a_work_is_moved_by_buttons_and_the_plan_is_made_around_it() {
    let shop = Shop::new();
    let fitter = shop.signed_in(FITTER, "").await;
    let before = shop.entries();
    let list = fitter.get("/today").await.text();
    let order = |page: &str| -> Vec<String> {
        let tickets = page.split("ol class=\"tickets\"").nth(1).expect("a list");
        let links = tickets.split("href=\"/work/").skip(1);
        links.map(|l| l.split('"').next().expect("an id").to_owned()).collect()
    };
    let works = order(&list);
    let day = list.split("name=\"day\" value=\"").nth(1).expect("the day");
    let day = day.split('"').next().expect("an end").to_owned();
    // One that must be: each pair of neighbours is tried until one is taken and one is refused.
    let (mut taken, mut refused) = (None, 0);
    for pair in works.windows(2) {
        let words = format!("{} before {}", pair[1], pair[0]);
        assert!(list.contains(&format!("value=\"{words}\"")), "a button says {words}");
        let form = [("move", words.as_str()), ("day", day.as_str()), ("then", "/today")];
        let answer = fitter.post("/today/order", &form).await;
        match answer.status {
            StatusCode::SEE_OTHER => {
                taken = Some((pair[1].clone(), pair[0].clone()));
                break;
            }
            StatusCode::UNPROCESSABLE_ENTITY => {
                assert!(answer.text().contains("cannot come before"), "{}", answer.text());
                refused += 1;
            }
            other => panic!("{other}: {}", answer.text()),
        }
    }
    let (first, then) = taken.unwrap_or_else(|| panic!("none of {works:?} could be moved"));
    assert!(refused > 0, "nothing is put before what must come first");
    assert_eq!(shop.entries(), before + 1, "it is kept");
    let plan = shop.get("/api/plan").await.json();
    let lines: Vec<String> = plan["days"]
        .as_array()
        .expect("days")
        .iter()
        .flat_map(|d| d["lines"].as_array().expect("lines").iter())
        .map(|l| l["work"].as_str().expect("an id").to_owned())
        .collect();
    let at = |work: &str| lines.iter().position(|w| w == work).expect("it is in the plan");
    assert!(at(&first) < at(&then), "{first} before {then}");
    // Taken back by the other button.
    let words = format!("{then} before {first}");
    let form = [("move", words.as_str()), ("day", day.as_str()), ("then", "/today")];
    assert_eq!(fitter.post("/today/order", &form).await.status, StatusCode::SEE_OTHER);
    let book = Book::open_file(&shop.file).expect("opens");
    let sheet = book.fold().day_plans().last().expect("a sheet").text.clone();
    assert!(!sheet.contains("Wanted so"), "{sheet}");
    let kept = [("asked", ""), ("day", day.as_str()), ("then", "/today")];
    assert_eq!(fitter.post("/today/sheet", &kept).await.status, StatusCode::SEE_OTHER);
    let reader = shop.signed_in(READER, "").await;
    assert_eq!(reader.post("/today/order", &form).await.status, StatusCode::FORBIDDEN);
}

#[tokio::test]
async fn a_copy_of_the_file_is_for_the_responsible_engineer_and_is_whole() {
    let shop = Shop::new();
    for whole in ["/book/copy.book", "/book/whole.tar"] {
        assert!(shop.get(whole).await.leads_to().starts_with("/sign-in"), "{whole}");
    }
    let fitter = shop.signed_in(FITTER, "").await;
    for whole in ["/book/copy.book", "/book/whole.tar"] {
        assert_eq!(fitter.get(whole).await.status, StatusCode::FORBIDDEN, "{whole}");
        assert!(!fitter.get("/book").await.text().contains(whole));
    }
    let engineer = shop.signed_in(ENGINEER, PASSWORD).await;
    assert!(engineer.get("/book").await.text().contains("href=\"/book/copy.book\""));
    let copy = engineer.get("/book/copy.book").await;
    assert_eq!(copy.status, StatusCode::OK);
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("copy.book");
    std::fs::write(&file, &copy.bytes).expect("writes");
    let mut store = SqliteStore::open(&file).expect("a book");
    store.look().expect("undamaged");
    let mut copied = Book::open_file(&file).expect("opens");
    assert!(copied.verify(None).expect("reads").whole());
    assert_eq!(copied.head(), Book::open_file(&shop.file).expect("opens").head());
}

#[tokio::test]
async fn a_book_that_was_looked_through_says_when_and_looks_again_after_an_entry() {
    let shop = Shop::new();
    let first = shop.get("/api/book/verify").await.json();
    shop.wait_s(3600);
    let same = shop.get("/api/book/verify").await.json();
    assert_eq!(first["time"], same["time"], "nothing was written since");
    let again = shop.get("/api/book/verify?again=yes").await.json();
    assert_ne!(again["time"], first["time"]);
    shop.wait_s(60);
    let reader = shop.signed_in(READER, "").await;
    reader.post("/say/note", &[("about", "frame"), ("text", "x")]).await;
    let after = shop.get("/api/book/verify").await.json();
    assert_eq!(after["entries"].as_u64(), first["entries"].as_u64().map(|n| n + 1));
    assert_ne!(after["time"], again["time"]);
    assert!(shop.get("/book/verify").await.text().contains("Looked through 2026-11-20"));
}

#[tokio::test]
async fn whoever_is_off_this_machine_signs_in_before_any_paper() {
    let shop = Shop::with(Reach::OtherMachines, Vec::new());
    for path in ["/paper/dossier.pdf", "/paper/day.pdf", "/paper/tags.pdf", "/book/copy.book"] {
        assert!(shop.get(path).await.leads_to().starts_with("/sign-in"), "{path}");
    }
    assert_eq!(shop.get("/api/paper/dossier").await.status, StatusCode::UNAUTHORIZED);
}
