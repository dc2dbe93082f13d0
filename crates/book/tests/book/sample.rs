//! A book of every form ever written still opens and says what it said.

use crate::stores::{File, begun, pen};
use book::{AttachedWords, Attachment, Book, Hash, Location, MadeTo, Role, Said, Tag};
use std::collections::BTreeSet;
use std::path::PathBuf;

/// Hash of the last entry of the sample, as `verify` gave it when the sample was made. It guards
/// the stored form against change; that the hashes are SHA-256 of the lines is checked against
/// `sha256sum` in the tests of archives.
const HEAD_OF_FORM_1: &str = include_str!("../samples/form-1.head");

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

#[test]
#[ignore = "not a test: writes the sample of the present form where there is none yet"]
fn write_the_sample() {
    let to = samples().join("form-1.book");
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
    // Joined with a copy of itself, so that the sample has that kind of entry and origins too.
    let copy = shelf.path().with_extension("copy");
    book::SqliteStore::open(&shelf.path()).and_then(|mut s| s.backup(&copy)).expect("copies");
    let mut other = Book::open_file(&copy).expect("opens");
    book.append(&pen("R", 5), Said::Moved { thing: "rod".into(), to: "bay 2".into() })
        .expect("writes");
    other
        .append(&pen("R", 6), Said::Moved { thing: "rod".into(), to: "bay 3".into() })
        .expect("writes");
    let store = book::SqliteStore::create(&to).expect("makes");
    let (joined, _) =
        book::join(&mut book, &mut other, Box::new(store), &pen("R", 7)).expect("joins");
    std::fs::write(samples().join("form-1.head"), joined.head().hash.to_string()).expect("writes");
}

#[test]
fn form_1_still_opens() {
    let shelf = File::new();
    std::fs::copy(samples().join("form-1.book"), shelf.path()).expect("the sample is there");
    let mut book = Book::open_file(&shelf.path()).expect("opens");
    let head = Hash::parse(HEAD_OF_FORM_1.trim()).expect("a hash");
    assert_eq!(book.head().hash, head);
    let verified = book.verify(Some(&head)).expect("reads");
    assert!(verified.whole(), "{verified:?}");
    let mut kinds = BTreeSet::new();
    let mut said = Vec::new();
    book.each(&mut |entry, _, _| {
        kinds.insert(entry.said.kind());
        said.push(entry.said.clone());
        Ok(())
    })
    .expect("reads");
    for wanted in everything() {
        assert!(said.contains(&wanted), "{wanted:?}");
    }
    for kind in ["started", "attached", "struck-out", "worked", "joined"] {
        assert!(kinds.contains(kind), "{kind}");
    }
    let fold = book.fold();
    assert_eq!(fold.thing(Tag::numbered(41).code()).expect("tagged").0, "rod");
    assert_eq!(fold.open_contradictions().count(), 1);
    let read = fold.engine_sources().read(None).expect("reads");
    assert_eq!(read.engine.readings.len(), 1);
    book.append(&pen("R", 8), Said::Moved { thing: "rod".into(), to: "bay 3".into() })
        .expect("goes on");
    assert_eq!(book.fold().open_contradictions().count(), 0);
}
