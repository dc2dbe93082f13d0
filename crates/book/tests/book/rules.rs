//! Who may say what.

use crate::stores::{Shelf, begun, note, pen};
use book::{Book, Error, Password, Pen, Role, Said};

fn person(name: &str, roles: &[Role], password: &str) -> Said {
    let password = if password.is_empty() {
        String::new()
    } else {
        Password::new(password).and_then(|p| p.hashed()).expect("hashes")
    };
    Said::Person { name: name.into(), roles: roles.to_vec(), password }
}

fn shown(book: &Book, name: &str, second: u32) -> Pen {
    let mut pen = pen(name, second);
    pen.show(book, &Password::new("long enough").expect("long")).expect("the password");
    pen
}

fn refused(done: Result<book::Written, Error>, word: &str) {
    match done {
        Err(Error::NotAllowed { what, .. } | Error::Wrong { what, .. }) => {
            assert!(what.contains(word), "\"{what}\" does not speak of {word}");
        }
        other => panic!("must be refused ({word}), was {other:?}"),
    }
}

/// The whole story of a hold point, and every refusal on the way.
pub(crate) fn all(shelf: &dyn Shelf) {
    let mut book = begun(shelf);
    let add = |book: &mut Book, said| book.append(&pen("R", 1), said);
    add(&mut book, person("Reader", &[Role::Records], "")).expect("added");
    add(&mut book, person("Fitter", &[Role::Fits, Role::Releases], "long enough")).expect("added");
    add(&mut book, person("Other", &[Role::Releases], "long enough")).expect("added");
    add(&mut book, person("R", &[Role::Responsible], "long enough")).expect("own password");
    let worked = |what: &str, reaches: &str| Said::Worked {
        about: "big-end.left".into(),
        what: what.into(),
        reaches: reaches.into(),
    };
    let hold = Said::HoldPoint {
        id: "bedding".into(),
        about: "big-end.left".into(),
        what: "look at the bedding".into(),
        not_by_doer: true,
    };
    let release = || Said::Released { hold_point: "bedding".into(), note: "four fifths".into() };
    let sign = |about: &str| Said::SignedOff { about: about.into(), what: "fit to run in".into() };

    refused(book.append(&pen("R", 2), note("x")), "has not shown the password");
    let wrong = Password::new("not that one").expect("long");
    assert!(pen("R", 2).show(&book, &wrong).is_err());
    let engineer = shown(&book, "R", 2);
    let (fitter, other) = (shown(&book, "Fitter", 3), shown(&book, "Other", 4));
    let reader = pen("Reader", 5);

    refused(book.append(&reader, hold.clone()), "hold-point");
    book.append(&engineer, hold.clone()).expect("set");
    refused(book.append(&engineer, hold), "already");
    refused(book.append(&reader, worked("scraped", "")), "worked");
    refused(book.append(&engineer, worked("scraped", "")), "worked");
    book.append(&fitter, worked("scraped", "")).expect("work before the hold point goes on");
    refused(book.append(&other, release()), "has not reached");
    refused(book.append(&fitter, worked("scraped", "nowhere")), "no hold point");
    book.append(&fitter, worked("blued", "bedding")).expect("reached");
    refused(book.append(&fitter, worked("bolted up", "")), "reached the hold point");
    refused(book.append(&engineer, sign("big-end.left")), "not released");
    refused(book.append(&engineer, sign("engine")), "not released");
    refused(book.append(&engineer, release()), "released");
    refused(book.append(&fitter, release()), "may not release");
    refused(book.append(&pen("Other", 6), release()), "has not shown");
    let seen = book.append(&other, release()).expect("released");
    refused(book.append(&other, release()), "already");
    refused(book.append(&fitter, sign("big-end.left")), "signed-off");
    // Struck out, the release holds no longer.
    let strike = Said::StruckOut { entry: seen.hash.to_string(), reason: "wrong side".into() };
    refused(book.append(&reader, strike.clone()), "was written by");
    book.append(&other, strike.clone()).expect("by its writer");
    refused(book.append(&other, strike), "already");
    refused(book.append(&fitter, worked("bolted up", "")), "reached the hold point");
    book.append(&other, release()).expect("released again");
    book.append(&fitter, worked("bolted up", "")).expect("goes on");
    book.append(&engineer, sign("engine")).expect("signed");

    refused(book.append(&engineer, person("R", &[], "")), "no responsible engineer");
    refused(book.append(&reader, person("Reader", &[Role::Responsible], "")), "person");
    book.append(&engineer, person("Reader", &[], "")).expect("leaves");
    refused(book.append(&reader, note("x")), "no role");
    names(&mut book, &engineer);
    tags_and_places(&mut book, &engineer);
    let again = Book::open(shelf.store()).expect("opens");
    assert_eq!(again.fold().hold_points(), book.fold().hold_points());
    assert_eq!(again.fold().people(), book.fold().people());
    assert!(again.fold().things().eq(book.fold().things()));
}

/// What is said must be about something, in words that a person can read.
fn names(book: &mut Book, pen: &Pen) {
    let note = |about: &str, text: &str| Said::Note { about: about.into(), text: text.into() };
    refused(book.append(pen, note("", "x")), "not given");
    refused(book.append(pen, note("rod", " \n")), "not given");
    for bad in ["rod\u{1b}[31m", "a\nb", "\u{202e}dor", &"x".repeat(301)] {
        refused(book.append(pen, note(bad, "x")), "cannot be");
        refused(book.append(pen, person(bad, &[Role::Fits], "")), "cannot be");
    }
    let found = |part: &str, condition: &str| Said::Found {
        part: part.into(),
        feature: String::new(),
        condition: condition.into(),
        note: String::new(),
    };
    refused(book.append(pen, found("rod", "")), "the condition is not given");
    refused(book.append(pen, found("", "bent")), "the part is not given");
    // A remark may have lines.
    book.append(pen, note("rod", "bent\nand cracked")).expect("written");
}

fn tags_and_places(book: &mut Book, pen: &Pen) {
    let tag = book.fold().free_tag();
    let tagged = |part: &str, tag: &str| Said::Tagged { part: part.into(), tag: tag.into() };
    let moved = |thing: &str, to: &str| Said::Moved { thing: thing.into(), to: to.into() };
    refused(book.append(pen, tagged("strap.left", "0001")), "check character");
    book.append(pen, tagged("strap.left", tag.code())).expect("tagged");
    refused(book.append(pen, tagged("strap.right", tag.code())), "is on");
    let second = book.fold().free_tag();
    assert_ne!(second, tag);
    book.append(pen, tagged("strap.right", second.code())).expect("tagged");
    book.append(pen, moved("tin 4", "store, bay 2")).expect("moved");
    book.append(pen, moved("cotter.left", "tin 4")).expect("moved");
    book.append(pen, moved("strap.left", "tin 4")).expect("moved");
    refused(book.append(pen, moved("tin 4", "tin 4")), "cannot lie");
    refused(book.append(pen, moved("tin 4", "cotter.left")), "cannot lie");
    let way: Vec<_> = book
        .fold()
        .whereabouts(&tag.code().to_lowercase())
        .expect("found by its tag")
        .iter()
        .map(|s| s.place.clone())
        .collect();
    assert_eq!(way, ["tin 4", "store, bay 2"]);
    let inside: Vec<_> = book.fold().inside("tin 4").map(|(n, _)| n.to_owned()).collect();
    assert_eq!(inside, ["cotter.left", "strap.left"]);
    book.append(pen, moved("strap.left", "engine")).expect("refitted");
    let off: Vec<_> = book.fold().never_went_back().map(|(n, _)| n.to_owned()).collect();
    assert_eq!(off, ["cotter.left", "tin 4"]);
    // A tag tied to another part when it fell off: struck out, it is free again.
    let last =
        book.append(pen, tagged("strap.left", book.fold().free_tag().code())).expect("new tag");
    assert!(book.fold().thing(tag.code()).is_err(), "the old tag is free");
    let strike = Said::StruckOut { entry: last.hash.to_string(), reason: "wrong part".into() };
    book.append(pen, strike).expect("struck");
    assert_eq!(book.fold().thing(tag.code()).expect("back").0, "strap.left");
}
