//! A book of every form ever written still opens and says what it said.

use crate::stores::{File, begun, pen};
use book::{AttachedWords, Attachment, Book, Hash, Location, MadeTo, Password, Role, Said, Tag};
use std::collections::BTreeSet;
use std::path::PathBuf;

/// Hash of the last entry of each sample, as `verify` gave it when the sample was made. They guard
/// the stored form against change; that the hashes are SHA-256 of the lines is checked against
/// `sha256sum` in the tests of archives.
const HEADS: [(&str, &str); 2] = [
    ("form-1", include_str!("../samples/form-1.head")),
    ("form-2", include_str!("../samples/form-2.head")),
];

fn samples() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/samples")
}

fn everything() -> Vec<Said> {
    let text = |t: &str| t.to_owned();
    vec![
        Said::Person {
            name: text("F"),
            roles: vec![Role::Fits, Role::Releases],
            password: text(""),
        },
        Said::Described {
            file: text("engine.toml"),
            text: text(
                "[engine]\nname = \"sample\"\n[[part]]\nid = \"rod\"\n[[feature]]\nid = \"bore\"\npart = \"rod\"\nkind = \"bore\"\nas-made = \"8 in\"\n",
            ),
        },
        Said::Readings {
            file: text("t.csv"),
            table: text("feature,reading,note\nbore,8 3/64 in,½\n"),
        },
        Said::Calibrated {
            gauge: text("mike"),
            on: text("2026-01-05"),
            due: text(""),
            correction: text(""),
            note: text("certificate 1"),
        },
        Said::Tagged { part: text("rod"), tag: Tag::numbered(41).code().to_owned() },
        Said::Moved { thing: text("rod"), to: text("bay 1") },
        Said::Found {
            part: text("rod"),
            feature: text("bore"),
            condition: text("scored"),
            note: text(""),
        },
        Said::Decided {
            joint: text("big-end"),
            repair: text("renew"),
            make: vec![MadeTo { feature: text("bore"), to: text("8 in") }],
            reason: text("worn"),
        },
        Said::HoldPoint {
            id: text("h"),
            about: text("rod"),
            what: text("look"),
            not_by_doer: true,
        },
        Said::FigureStruckOut {
            feature: text("bore"),
            value: text("8 3/64 in"),
            station: text(""),
            direction: text(""),
            reason: text("slip"),
        },
        Said::Note { about: text("rod"), text: text("a \"note\"\n\u{1}") },
    ]
}

/// What form 2 brought, by whom.
fn everything_of_form_2() -> Vec<(&'static str, Said)> {
    let text = |t: &str| t.to_owned();
    vec![
        (
            "F",
            Said::WorkDone {
                work: text("rod-off"),
                way: text("pit"),
                minutes: text("45"),
                note: text("½ h"),
            },
        ),
        ("F", Said::WorkStuck { work: text("pin-out"), way: text(""), why: text("seized") }),
        ("F", Said::WorkDone { work: text("x"), way: text(""), minutes: text(""), note: text("") }),
        ("F", Said::WorkUndone { work: text("x"), why: text("slip") }),
        (
            "F",
            Said::DayPlanned {
                day: text("2026-11-21"),
                crew: vec![text("F"), text("R")],
                text: text("rods\noff"),
            },
        ),
        (
            "S",
            Said::Concession {
                about: text("big-end"),
                limit: text("clearance"),
                what: text("0.5 mm"),
                until: text("2026-12-31"),
                reason: text("on order"),
            },
        ),
        (
            "S",
            Said::Concession {
                about: text("big-end"),
                limit: text("taper"),
                what: text("1 thou"),
                until: text("2026-12-31"),
                reason: text("on order"),
            },
        ),
        (
            "S",
            Said::ConcessionClosed {
                about: text("big-end"),
                limit: text("taper"),
                reason: text("renewed"),
            },
        ),
        (
            "S",
            Said::DeviceToken {
                device: text("phone"),
                person: text("F"),
                hash: Hash::of(b"a token").to_string(),
                until: text("2026-12-31"),
            },
        ),
        (
            "S",
            Said::DeviceToken {
                device: text("pad"),
                person: text("R"),
                hash: Hash::of(b"another").to_string(),
                until: text("2026-12-31"),
            },
        ),
        ("S", Said::DeviceTokenWithdrawn { device: text("pad"), reason: text("lost") }),
    ]
}

#[test]
#[ignore = "not a test: writes the sample of the present form where there is none yet"]
fn write_the_sample() {
    let to = samples().join(format!("form-{}.book", book::FORMAT));
    if to.exists() {
        return;
    }
    let shelf = File::new();
    let mut book = begun(&shelf);
    let written = book.append_all(&pen("R", 1), everything()).expect("writes");
    let pdf = Attachment::of(b"%PDF-1.4 sample", Location::Kept).expect("a PDF");
    let words = AttachedWords { about: "rod".into(), name: "s.pdf".into(), note: String::new() };
    book.attach(&pen("R", 2), &pdf, words).expect("attaches");
    let last = written.last().expect("some").hash.to_string();
    book.append(&pen("R", 3), Said::StruckOut { entry: last, reason: "wrong".into() })
        .expect("writes");
    let worked = Said::Worked { about: "rod".into(), what: "bored".into(), reaches: "h".into() };
    book.append(&pen("F", 4), worked).expect("writes");
    // Somebody who can sign.
    let password = Password::new("the sample's password").expect("long enough");
    let signs = Said::Person {
        name: "S".into(),
        roles: vec![Role::Responsible],
        password: password.hashed().expect("hashes"),
    };
    book.append(&pen("R", 4), signs).expect("writes");
    let mut signing = pen("S", 4);
    signing.show(&book, &password).expect("shows");
    for (n, (who, said)) in everything_of_form_2().into_iter().enumerate() {
        let pen = if who == "S" { signing.clone() } else { pen(who, 4) };
        book.append_once(&pen, &format!("key-{n}"), said).expect("writes");
    }
    // Joined with a copy of itself, so that the sample has that kind of entry and origins too.
    let copy = shelf.path().with_extension("copy");
    book::SqliteStore::open(&shelf.path()).and_then(|mut s| s.backup(&copy)).expect("copies");
    let mut other = Book::open_file(&copy).expect("opens");
    let moved = |to: &str| Said::Moved { thing: "rod".into(), to: to.into() };
    book.append(&pen("R", 5), moved("bay 2")).expect("writes");
    other.append(&pen("R", 6), moved("bay 3")).expect("writes");
    let note = || Said::Note { about: "rod".into(), text: "sent to both".into() };
    book.append_once(&pen("R", 6), "twice", note()).expect("writes");
    other.append_once(&pen("R", 7), "twice", note()).expect("writes");
    let store = book::SqliteStore::create(&to).expect("makes");
    let (joined, _) =
        book::join(&mut book, &mut other, Box::new(store), &pen("R", 7)).expect("joins");
    let head = samples().join(format!("form-{}.head", book::FORMAT));
    std::fs::write(head, joined.head().hash.to_string()).expect("writes");
}

/// Opens a copy of a sample, looks through it, and gives all it says.
fn opened(number: usize) -> (File, Book, Vec<Said>) {
    let (name, head) = HEADS[number - 1];
    let shelf = File::new();
    let sample = samples().join(format!("{name}.book"));
    std::fs::copy(sample, shelf.path()).expect("the sample is there");
    let mut book = Book::open_file(&shelf.path()).expect("opens");
    let head = Hash::parse(head.trim()).expect("a hash");
    assert_eq!(book.head().hash, head);
    let verified = book.verify(Some(&head)).expect("reads");
    assert!(verified.whole(), "{verified:?}");
    let mut kinds = BTreeSet::new();
    let mut said = Vec::new();
    book.each(&mut |entry, _, _| {
        assert_eq!(entry.format as usize, number);
        kinds.insert(entry.said.kind());
        said.push(entry.said.clone());
        Ok(())
    })
    .expect("reads");
    for kind in ["started", "attached", "struck-out", "worked", "joined"] {
        assert!(kinds.contains(kind), "{kind}");
    }
    for wanted in everything() {
        assert!(said.contains(&wanted), "{wanted:?}");
    }
    let fold = book.fold();
    assert_eq!(fold.thing(Tag::numbered(41).code()).expect("tagged").0, "rod");
    assert_eq!(fold.open_contradictions().count(), 1);
    let read = fold.engine_sources().read(None).expect("reads");
    assert_eq!(read.engine.readings.len(), 1);
    (shelf, book, said)
}

#[test]
fn form_1_still_opens_and_goes_on_in_the_present_form() {
    let (_shelf, mut book, _) = opened(1);
    book.append(&pen("R", 8), Said::Moved { thing: "rod".into(), to: "bay 3".into() })
        .expect("goes on");
    assert_eq!(book.fold().open_contradictions().count(), 0);
    let stuck = Said::WorkStuck { work: "w".into(), way: String::new(), why: "y".into() };
    book.append_once(&pen("F", 9), "k", stuck).expect("goes on");
    assert!(book.verify(None).expect("reads").whole());
    // What the form-1 program would meet: a line that says it is of form 2.
    let mut last = String::new();
    book.each(&mut |_, _, line| {
        line.clone_into(&mut last);
        Ok(())
    })
    .expect("reads");
    assert!(last.starts_with("{\"format\":2,"), "{last}");
}

#[test]
fn form_2_still_opens() {
    let (_shelf, mut book, said) = opened(2);
    for (_, wanted) in everything_of_form_2() {
        assert!(said.contains(&wanted), "{wanted:?}");
    }
    let fold = book.fold();
    let now: Vec<_> = fold.works_now().iter().map(|w| w.work.as_str()).collect();
    assert_eq!(now, ["rod-off", "pin-out"]);
    assert_eq!(fold.concessions().iter().filter(|c| c.closed.is_none()).count(), 1);
    assert_eq!(fold.devices().iter().filter(|d| d.withdrawn.is_none()).count(), 1);
    assert_eq!(fold.day_plans().count(), 1);
    let twice =
        said.iter().filter(|s| matches!(s, Said::Note { text, .. } if text == "sent to both"));
    assert_eq!(twice.count(), 2);
    let note = Said::Note { about: "rod".into(), text: "sent to both".into() };
    let (known, new) = book.append_once(&pen("R", 9), "twice", note).expect("known");
    assert!(!new && book.fold().struck(known.sequence).is_none());
}
