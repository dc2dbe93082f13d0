//! Two copies of one book, each written on alone, joined.

use crate::stores::{File, Shelf, begun, note, pen};
use book::{Book, Entry, Hash, MadeTo, Pen, Role, Said, SqliteStore};
use std::collections::BTreeSet;

fn pen_of(device: &str, minute: u32) -> Pen {
    Pen::new("R", device, &format!("2026-11-21T09:{minute:02}:00Z")).expect("a pen")
}

fn decided(repair: &str) -> Said {
    let make = vec![MadeTo { feature: "bore".into(), to: "200 mm".into() }];
    Said::Decided { joint: "big-end".into(), repair: repair.into(), make, reason: String::new() }
}

fn moved(thing: &str, to: &str) -> Said {
    Said::Moved { thing: thing.into(), to: to.into() }
}

fn all(book: &mut Book) -> Vec<(Entry, Hash)> {
    let mut entries = Vec::new();
    book.each(&mut |entry, hash, _| {
        entries.push((entry.clone(), hash));
        Ok(())
    })
    .expect("reads");
    entries
}

/// Two copies that parted after entry 4.
fn parted() -> (File, File, Book, Book) {
    let (first, second) = (File::new(), File::new());
    let mut a = begun(&first);
    a.append(&pen("R", 1), note("shared")).expect("writes");
    a.append(&pen("R", 2), moved("rod", "bay 1")).expect("writes");
    SqliteStore::open(&first.path()).expect("opens").backup(&second.path()).expect("copies");
    let mut b = Book::open_file(&second.path()).expect("opens");
    let say = |book: &mut Book, device: &str, minute, said| {
        book.append(&pen_of(device, minute), said).expect("writes");
    };
    say(&mut a, "vice", 1, note("a1"));
    say(&mut a, "vice", 5, decided("close"));
    say(&mut a, "vice", 3, note("a3, the clock went back"));
    say(&mut a, "vice", 9, moved("rod", "bay 2"));
    say(&mut a, "vice", 9, moved("strap", "bay 3"));
    say(&mut b, "bench", 2, note("b1"));
    say(&mut b, "bench", 4, decided("renew"));
    say(&mut b, "bench", 9, moved("rod", "bay 7"));
    say(&mut b, "bench", 9, moved("strap", "bay 3"));
    (first, second, a, b)
}

fn texts(entries: &[(Entry, Hash)]) -> Vec<String> {
    entries
        .iter()
        .filter_map(|(e, _)| match &e.said {
            Said::Note { text, .. } => Some(text.clone()),
            _ => None,
        })
        .collect()
}

#[test]
fn no_entry_is_lost_and_the_order_is_stated() {
    let (_one, _two, mut a, mut b) = parted();
    let into = File::new();
    let (mut c, joined) =
        book::join(&mut a, &mut b, into.store(), &pen_of("vice", 30)).expect("joins");
    assert_eq!((joined.fork, joined.only_first, joined.only_second), (4, 5, 4));
    let entries = all(&mut c);
    assert_eq!(entries.len(), 4 + 5 + 4 + 1);
    let first_hashes: BTreeSet<Hash> = entries.iter().map(|(e, h)| e.first_hash(*h)).collect();
    for (_, hash) in all(&mut a).iter().chain(&all(&mut b)) {
        assert!(first_hashes.contains(hash), "{hash} is lost");
        assert!(c.fold().by_hash(hash).is_some(), "{hash} is found under its first hash");
    }
    // By time, but each copy's own order kept where its clock went back.
    assert_eq!(texts(&entries), ["shared", "a1", "b1", "a3, the clock went back"]);
    let verified = c.verify(Some(&a.head().hash)).expect("reads");
    assert!(
        verified.whole(),
        "the head of a copy, printed before the join, is found: {verified:?}"
    );
    assert!(c.verify(Some(&b.head().hash)).expect("reads").whole());

    let kinds: Vec<_> =
        joined.contradictions.iter().map(|c| (c.kind.as_str(), c.about.as_str())).collect();
    assert_eq!(kinds, [("decision", "big-end"), ("place", "rod")], "agreeing ones are none");
    assert_eq!(c.fold().open_contradictions().count(), 2);
    for contradiction in &joined.contradictions {
        let says: Vec<_> = contradiction
            .entries
            .iter()
            .map(|h| c.fold().by_hash(&Hash::parse(h).expect("a hash")).expect("known"))
            .collect();
        assert_eq!(says.len(), 2);
        assert_ne!(says[0], says[1]);
    }
    // A person settles them.
    c.append(&pen_of("vice", 31), moved("rod", "bay 7")).expect("writes");
    assert_eq!(c.fold().open_contradictions().count(), 1);
    c.append(&pen_of("vice", 32), decided("renew")).expect("writes");
    assert_eq!(c.fold().open_contradictions().count(), 0);
    drop(c);
    assert_eq!(Book::open(into.store()).expect("opens").fold().open_contradictions().count(), 0);
}

#[test]
fn either_way_round_is_the_same() {
    let (_one, _two, mut a, mut b) = parted();
    let (one, other) = (File::new(), File::new());
    let pen = pen_of("vice", 30);
    let (mut ab, _) = book::join(&mut a, &mut b, one.store(), &pen).expect("joins");
    let (mut ba, _) = book::join(&mut b, &mut a, other.store(), &pen).expect("joins");
    let order = |book: &mut Book| {
        all(book).iter().map(|(e, h)| e.first_hash(*h)).take(13).collect::<Vec<_>>()
    };
    assert_eq!(order(&mut ab), order(&mut ba));
}

#[test]
fn joined_again_an_entry_stands_once() {
    let (_one, _two, mut a, mut b) = parted();
    let into = File::new();
    let (mut c, _) = book::join(&mut a, &mut b, into.store(), &pen_of("vice", 30)).expect("joins");
    // The second copy is written on, not knowing of the join, and joined with it again.
    b.append(&pen_of("bench", 40), note("b5")).expect("writes");
    let again = File::new();
    let (mut d, joined) =
        book::join(&mut c, &mut b, again.store(), &pen_of("vice", 50)).expect("joins");
    assert_eq!(joined.only_second, 1);
    let entries = all(&mut d);
    assert_eq!(entries.len(), 14 + 1 + 1);
    let first: BTreeSet<Hash> = entries.iter().map(|(e, h)| e.first_hash(*h)).collect();
    assert_eq!(first.len(), entries.len(), "no entry stands twice");
    assert!(d.verify(Some(&b.head().hash)).expect("reads").whole());
    let nothing = File::new();
    assert!(
        book::join(&mut d, &mut b, nothing.store(), &pen_of("vice", 51)).is_err(),
        "nothing new"
    );
}

#[test]
fn two_books_are_not_joined() {
    let (one, other, into) = (File::new(), File::new(), File::new());
    let (mut a, mut b) = (begun(&one), begun(&other));
    let error =
        book::join(&mut a, &mut b, into.store(), &pen_of("vice", 1)).expect_err("two books");
    assert!(error.to_string().contains("two books"), "{error}");
}

#[test]
fn roles_given_in_one_copy_do_not_undo_what_the_other_wrote() {
    let (_one, _two, mut a, mut b) = parted();
    let person = |roles: &[Role]| Said::Person {
        name: "P".into(),
        roles: roles.to_vec(),
        password: String::new(),
    };
    a.append(&pen_of("vice", 20), person(&[Role::Fits])).expect("writes");
    b.append(&pen_of("bench", 20), person(&[Role::Records])).expect("writes");
    let into = File::new();
    let (c, joined) = book::join(&mut a, &mut b, into.store(), &pen_of("vice", 30)).expect("joins");
    assert!(joined.contradictions.iter().any(|c| c.kind == "person" && c.about == "P"));
    assert!(c.fold().person("P").is_some());
}
