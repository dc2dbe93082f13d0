//! What form 2 brought: keys that make an entry stand once, works of the plan, concessions, devices.

use crate::stores::{Shelf, begun, note, pen};
use book::{Book, Concession, Error, Hash, Password, Pen, Role, Said, Token, WorkWord, Written};
use engine::model::Date;

const PASSWORD: &str = "long enough";

fn refused<T: std::fmt::Debug>(done: Result<T, Error>, word: &str) {
    match done {
        Err(Error::NotAllowed { what, .. } | Error::Wrong { what, .. } | Error::Missing(what)) => {
            assert!(what.contains(word), "\"{what}\" does not speak of {word}");
        }
        other => panic!("must be refused ({word}), was {other:?}"),
    }
}

fn done(work: &str) -> Said {
    Said::WorkDone {
        work: work.into(),
        way: "over the pit".into(),
        minutes: "45".into(),
        note: "cotter \"stiff\"".into(),
    }
}

fn stuck(work: &str) -> Said {
    Said::WorkStuck { work: work.into(), way: "over the pit".into(), why: "nut seized".into() }
}

fn undone(work: &str) -> Said {
    Said::WorkUndone { work: work.into(), why: "wrong side".into() }
}

fn concession(until: &str) -> Said {
    Said::Concession {
        about: "big-end.left".into(),
        limit: "clearance".into(),
        what: "0.5 mm, light engine only".into(),
        until: until.into(),
        reason: "brasses on order".into(),
    }
}

fn day(text: &str) -> Date {
    Date::parse(text).expect("a day")
}

/// People who can sign: the engineer R, a fitter F.
fn peopled(shelf: &dyn Shelf) -> (Book, Pen) {
    let mut book = begun(shelf);
    let hashed = Password::new(PASSWORD).and_then(|p| p.hashed()).expect("hashes");
    let person = |name: &str, roles: &[Role]| Said::Person {
        name: name.into(),
        roles: roles.to_vec(),
        password: hashed.clone(),
    };
    let said = vec![person("F", &[Role::Fits, Role::Releases]), person("R", &[Role::Responsible])];
    book.append_all(&pen("R", 1), said).expect("added");
    let engineer = shown(&book, "R", 2);
    (book, engineer)
}

fn shown(book: &Book, name: &str, second: u32) -> Pen {
    let mut pen = pen(name, second);
    pen.show(book, &Password::new(PASSWORD).expect("long")).expect("the password");
    pen
}

fn with_key(book: &mut Book, key: &str) -> usize {
    let mut count = 0;
    book.each(&mut |entry, _, _| {
        count += usize::from(entry.key.as_deref() == Some(key));
        Ok(())
    })
    .expect("reads");
    count
}

/// A key stands once: sent again, after a restart, from another process, from many at once.
pub(crate) fn keys(shelf: &dyn Shelf) {
    let mut book = begun(shelf);
    let (first, new) = book.append_once(&pen("R", 1), "k-1", note("once")).expect("writes");
    assert!(new);
    assert_eq!(book.append_once(&pen("R", 2), "k-1", note("once")), Ok((first, false)), "again");
    refused(book.append_once(&pen("R", 3), "k-1", note("other")), "with other content");
    // Another writer whose book was opened before, and one opened anew.
    let mut other = Book::open(shelf.store()).expect("opens");
    let (second, new) = other.append_once(&pen("R", 4), "k-2", note("two")).expect("writes");
    assert!(new);
    assert_eq!(book.append_once(&pen("R", 5), "k-2", note("two")), Ok((second, false)));
    drop((book, other));
    let mut book = Book::open(shelf.store()).expect("opens");
    assert_eq!(book.append_once(&pen("R", 6), "k-1", note("once")), Ok((first, false)), "restart");
    let table = |reading: &str| Said::Readings {
        file: "by hand".into(),
        table: format!("feature,reading\npin,{reading}\n"),
    };
    let (third, _) = book.append_once(&pen("R", 7), "k-3", table("7 in")).expect("writes");
    assert_eq!(book.append_once(&pen("R", 8), "k-3", table("7 in")), Ok((third, false)));
    refused(book.append_once(&pen("R", 8), "k-3", table("8 in")), "with other content");
    // What the rules refuse takes no key.
    refused(book.append_once(&pen("nobody", 9), "k-4", note("x")), "not one of the people");
    let (_, new) = book.append_once(&pen("R", 9), "k-4", note("x")).expect("writes");
    assert!(new);
    for bad in ["", " ", "a b", "\u{7}", "\u{e9}", &"k".repeat(101)] {
        refused(book.append_once(&pen("R", 9), bad, note("x")), "not the key of an entry");
    }
    let before = book.head().sequence;
    let news: usize = std::thread::scope(|scope| {
        let senders: Vec<_> = (0..6)
            .map(|_| {
                let store = shelf.store();
                scope.spawn(move || {
                    let mut book = Book::open(store).expect("opens");
                    (0..5)
                        .filter(|n| {
                            let key = format!("same-{n}");
                            let said = note(&format!("sent {n}"));
                            book.append_once(&pen("R", 10), &key, said).expect("writes").1
                        })
                        .count()
                })
            })
            .collect();
        senders.into_iter().map(|s| s.join().expect("ends")).sum()
    });
    assert_eq!(news, 5, "each is new to one sender");
    book.read_on().expect("reads");
    assert_eq!(book.head().sequence, before + 5);
    for key in ["k-1", "k-2", "k-3", "k-4", "same-0", "same-4"] {
        assert_eq!(with_key(&mut book, key), 1, "{key}");
    }
    assert!(book.verify(None).expect("reads").whole());
}

pub(crate) fn works_and_concessions(shelf: &dyn Shelf) {
    let (mut book, engineer) = peopled(shelf);
    let fitter = shown(&book, "F", 3);
    refused(book.append(&engineer, done("rod-off")), "work-done");
    book.append(&fitter, done("rod-off")).expect("done");
    book.append(&fitter, stuck("strap-off")).expect("stuck");
    book.append(&fitter, done("pin-out")).expect("done");
    book.append(&fitter, undone("pin-out")).expect("taken back");
    refused(book.append(&fitter, undone("pin-out")), "neither done nor stuck");
    refused(book.append(&fitter, undone("never")), "neither done nor stuck");
    let minutes = |minutes: &str| Said::WorkDone {
        work: "w".into(),
        way: String::new(),
        minutes: minutes.into(),
        note: String::new(),
    };
    for bad in ["an hour", "-1", "NaN", "inf"] {
        refused(book.append(&fitter, minutes(bad)), "minutes");
    }
    refused(book.append(&fitter, done(" ")), "not given");
    let said: Vec<_> = book.fold().works().iter().map(|w| w.work.as_str()).collect();
    assert_eq!(said, ["rod-off", "strap-off", "pin-out", "pin-out"]);
    let now: Vec<_> = book.fold().works_now().iter().map(|w| w.work.clone()).collect();
    assert_eq!(now, ["rod-off", "strap-off"]);
    let word = &book.fold().works()[0].word;
    assert!(matches!(word, WorkWord::Done { minutes, .. } if minutes == "45"), "{word:?}");
    // A hold point on a work stops it like one on a part.
    let hold = Said::HoldPoint {
        id: "h".into(),
        about: "strap-on".into(),
        what: "look".into(),
        not_by_doer: true,
    };
    book.append(&engineer, hold).expect("set");
    let reached =
        Said::Worked { about: "strap-on".into(), what: "offered up".into(), reaches: "h".into() };
    book.append(&fitter, reached).expect("reached");
    refused(book.append(&fitter, done("strap-on")), "reached the hold point");

    let plan = |day: &str, text: &str| Said::DayPlanned {
        day: day.into(),
        crew: vec!["F".into(), "R".into()],
        text: text.into(),
    };
    refused(book.append(&fitter, plan("20/11/2026", "x")), "not a day");
    book.append(&engineer, plan("2026-11-21", "rods off")).expect("planned");
    book.append(&fitter, plan("2026-11-20", "look over")).expect("planned");
    book.append(&fitter, plan("2026-11-21", "rods and straps")).expect("planned anew");
    let plans: Vec<_> = book.fold().day_plans().map(|p| p.text.as_str()).collect();
    assert_eq!(plans, ["look over", "rods and straps"]);

    refused(book.append(&fitter, concession("2026-12-31")), "concession");
    refused(book.append(&pen("R", 4), concession("2026-12-31")), "has not shown the password");
    refused(book.append(&engineer, concession("2026-11-19")), "before");
    refused(book.append(&engineer, concession("Christmas")), "not a day");
    book.append(&engineer, concession("2026-12-31")).expect("given");
    let on = |book: &Book, text: &str| book.fold().concessions_on(day(text)).count();
    assert_eq!(on(&book, "2026-11-19"), 0, "not before it is given");
    assert_eq!(
        (on(&book, "2026-11-20"), on(&book, "2026-12-31"), on(&book, "2027-01-01")),
        (1, 1, 0)
    );
    book.append(&engineer, concession("2027-03-31")).expect("given anew");
    assert_eq!((book.fold().concessions().len(), on(&book, "2027-01-01")), (1, 1));
    let close = Said::ConcessionClosed {
        about: "big-end.left".into(),
        limit: "clearance".into(),
        reason: "new brasses in".into(),
    };
    refused(book.append(&fitter, close.clone()), "concession-closed");
    book.append(&engineer, close.clone()).expect("closed");
    refused(book.append(&engineer, close), "no open concession");
    assert_eq!(on(&book, "2026-12-01"), 0);
    // Struck out, a tick no longer counts.
    let tick = book.append(&fitter, done("rod-on")).expect("done");
    let strike = Said::StruckOut { entry: tick.hash.to_string(), reason: "wrong work".into() };
    book.append(&fitter, strike).expect("struck");
    assert!(book.fold().works().iter().all(|w| w.work != "rod-on"));
    assert_eq!(book.find("seized", 5).expect("finds").len(), 1);
    assert_eq!(book.find("light engine", 5).expect("finds").len(), 2);
    let again = Book::open(shelf.store()).expect("opens");
    assert_eq!(again.fold().works(), book.fold().works());
    assert_eq!(again.fold().concessions(), book.fold().concessions());
    assert!(again.fold().day_plans().eq(book.fold().day_plans()));
}

pub(crate) fn devices(shelf: &dyn Shelf) {
    let (mut book, engineer) = peopled(shelf);
    let fitter = shown(&book, "F", 3);
    let token = Token::new().expect("random bytes");
    let given = |device: &str, person: &str, token: &Token, until: &str| Said::DeviceToken {
        device: device.into(),
        person: person.into(),
        hash: token.hash().to_string(),
        until: until.into(),
    };
    let now = "2026-11-20T09:00:00Z";
    refused(book.append(&fitter, given("phone", "F", &token, "2026-12-31")), "device-token");
    refused(book.append(&engineer, given("phone", "X", &token, "2026-12-31")), "not one of the");
    refused(book.append(&engineer, given("phone", "F", &token, "2026-11-01")), "before");
    refused(Pen::by_token(&book, &token, now), "no device of this book");
    book.append(&engineer, given("phone", "F", &token, "2026-12-31")).expect("given");
    refused(book.append(&engineer, given("pad", "R", &token, "2026-12-31")), "another device");
    let mut stored = String::new();
    book.each(&mut |_, _, line| {
        stored.push_str(line);
        Ok(())
    })
    .expect("reads");
    assert!(!stored.contains(&token.text().replace('-', "")), "the token itself is not kept");

    let phone = Pen::by_token(&book, &token, now).expect("in date");
    assert_eq!((phone.author(), phone.device()), ("F", "phone"));
    let (one, _) = book.append_once(&phone, "p-1", done("rod-off")).expect("writes");
    let (entry, _) = book.entry(one.sequence).expect("there");
    assert_eq!((entry.author.as_str(), entry.device.as_str()), ("F", "phone"));
    // Said yesterday with no way to send it.
    let earlier = phone.at("2026-11-19T16:00:00Z").expect("a time");
    book.append_once(&earlier, "p-0", note("strap is bent")).expect("writes");
    // What a role does not allow, a token of that person does not either; and it never signs.
    refused(book.append(&phone, concession("2026-12-31")), "may not write");
    let hold = Said::HoldPoint {
        id: "h".into(),
        about: "rod".into(),
        what: "look".into(),
        not_by_doer: false,
    };
    book.append(&engineer, hold).expect("set");
    let reached = Said::Worked { about: "rod".into(), what: "blued".into(), reaches: "h".into() };
    book.append(&phone, reached).expect("reached");
    let release = Said::Released { hold_point: "h".into(), note: String::new() };
    refused(book.append(&phone, release.clone()), "does not do for");
    let person = Said::Person {
        name: "F".into(),
        roles: vec![Role::Fits, Role::Releases],
        password: String::new(),
    };
    refused(book.append(&phone, person), "does not do for");
    let mut signing = phone.clone();
    signing.show(&book, &Password::new(PASSWORD).expect("long")).expect("the password");
    book.append(&signing, release).expect("signed with the password");
    let pad = Token::new().expect("random bytes");
    book.append(&engineer, given("pad", "R", &pad, "2026-12-31")).expect("given");
    let engineers = Pen::by_token(&book, &pad, now).expect("in date");
    refused(book.append(&engineers, concession("2026-12-31")), "does not do for");
    refused(book.append(&engineers, given("x", "R", &token, "2026-12-31")), "does not do for");

    refused(Pen::by_token(&book, &token, "2027-01-01T00:00:00Z"), "ran out");
    // The day is that of UTC: half past one on the first of January in Helsinki is still December.
    assert!(Pen::by_token(&book, &token, "2027-01-01T01:30:00+02:00").is_ok());
    // Withdrawn by its owner, from another process; a pen made before is refused.
    let withdraw =
        |device: &str| Said::DeviceTokenWithdrawn { device: device.into(), reason: "lost".into() };
    let mut other = Book::open(shelf.store()).expect("opens");
    refused(other.append(&fitter, withdraw("pad")), "may not write");
    refused(other.append(&fitter, withdraw("nothing")), "may not write");
    other.append(&fitter, withdraw("phone")).expect("their own");
    refused(other.append(&fitter, withdraw("phone")), "already");
    refused(book.append(&phone, note("x")), "was withdrawn");
    assert_eq!(book.append_once(&phone, "p-1", done("rod-off")), Ok((one, false)), "it stands");
    refused(Pen::by_token(&book, &token, now), "withdrawn");
    // Given a new one, the old one is dead.
    let second = Token::new().expect("random bytes");
    book.append(&engineer, given("phone", "F", &second, "2026-12-31")).expect("given");
    refused(Pen::by_token(&book, &token, now), "no device");
    let phone = Pen::by_token(&book, &second, now).expect("in date");
    book.append(&phone, note("y")).expect("writes");
    let sequence = book.fold().devices()[0].sequence;
    let (_, hash) = book.entry(sequence).expect("there");
    let strike = Said::StruckOut { entry: hash.to_string(), reason: "x".into() };
    refused(book.append(&engineer, strike), "cannot be struck out");
    book.append(
        &engineer,
        Said::Person { name: "F".into(), roles: vec![], password: String::new() },
    )
    .expect("leaves");
    refused(book.append(&phone, note("z")), "no role");
    let again = Book::open(shelf.store()).expect("opens");
    assert_eq!(again.fold().devices(), book.fold().devices());
}

/// On any shelf: a thing sent to two copies counts once when they are joined, and a strike-out made
/// in a joined book still holds when that is joined again.
pub(crate) fn keys_joined(shelf: &dyn Shelf, new_shelf: &dyn Fn() -> Box<dyn Shelf>) {
    let archive = |book: &mut Book| {
        let mut bytes = Vec::new();
        book::export(book, &mut bytes).expect("exports");
        bytes
    };
    let copy = |book: &mut Book, shelf: &dyn Shelf| {
        book::import(archive(book).as_slice(), shelf.store()).expect("imports")
    };
    let mut a = begun(shelf);
    let person =
        Said::Person { name: "F".into(), roles: vec![Role::Fits], password: String::new() };
    a.append(&pen("R", 1), person).expect("added");
    let other = new_shelf();
    let mut b = copy(&mut a, other.as_ref());
    let table = Said::Readings { file: "t".into(), table: "feature,reading\npin,7 in\n".into() };
    let send = |book: &mut Book, second: u32| -> Vec<Written> {
        let f = pen("F", second);
        let r = pen("R", second);
        vec![
            book.append_once(&f, "w", done("rod-off")).expect("writes").0,
            book.append_once(&r, "t", table.clone()).expect("writes").0,
            book.append_once(&r, "n", note("said once")).expect("writes").0,
        ]
    };
    a.append(&pen("R", 2), note("only here")).expect("writes");
    let in_a = send(&mut a, 10);
    let in_b = send(&mut b, 20);
    a.append_once(&pen("F", 30), "clash", stuck("x")).expect("writes");
    b.append_once(&pen("F", 31), "clash", done("y")).expect("writes");
    b.append(&pen("F", 32), stuck("rod-off")).expect("writes");
    let into = new_shelf();
    let (mut c, joined) = book::join(&mut a, &mut b, into.store(), &pen("R", 40)).expect("joins");
    let kinds: Vec<_> = joined.contradictions.iter().map(|c| c.kind.as_str()).collect();
    assert_eq!(kinds, ["work", "key"], "{:?}", joined.contradictions);
    for written in in_a.iter().chain(&in_b) {
        assert!(c.fold().by_hash(&written.hash).is_some(), "no entry is lost");
    }
    let works: Vec<_> = c.fold().works().iter().map(|w| w.work.clone()).collect();
    assert_eq!(works, ["rod-off", "x", "y", "rod-off"], "sent to both, it counts once");
    assert_eq!(c.fold().all_readings().rows.iter().filter(|r| r[2].is_empty()).count(), 1);
    let (again, new) = c.append_once(&pen("R", 50), "n", note("said once")).expect("known");
    assert!(!new);
    assert_eq!(c.fold().by_hash(&in_a[2].hash), Some(again.sequence), "the first of the two");
    for said in [stuck("x"), done("y")] {
        let (_, new) = c.append_once(&pen("F", 51), "clash", said).expect("both stand");
        assert!(!new);
    }
    refused(c.append_once(&pen("F", 51), "clash", done("z")), "with other content");
    // Struck out in the joined book by the hash it has there; a second copy is written on.
    let (_, hash) = c.entry(again.sequence).expect("there");
    let strike = Said::StruckOut { entry: hash.to_string(), reason: "not so".into() };
    // By a device whose clock is far behind: it must not come before what it strikes out.
    c.append(&pen("R", 3), strike).expect("struck");
    let open = |book: &Book| book.fold().open_contradictions().count();
    assert_eq!(open(&c), 2);
    b.append(&pen("R", 5), note("written early, sorted before the rest")).expect("writes");
    let last = new_shelf();
    let (mut d, _) = book::join(&mut b, &mut c, last.store(), &pen("R", 60)).expect("joins");
    let first: Hash = in_a[2].hash;
    let turned = new_shelf();
    let (mut e, _) = book::join(&mut c, &mut b, turned.store(), &pen("R", 60)).expect("joins");
    assert_eq!(d.head(), e.head(), "whichever copy is named first");
    assert!(e.verify(Some(&in_b[0].hash)).expect("reads").whole());
    let at = d.fold().by_hash(&first).expect("there");
    assert_eq!(d.fold().struck(at), Some("not so"), "the strike-out holds in the new order");
    assert_eq!(open(&d), 2, "what was open is open");
    let clash = d.fold().open_contradictions().find(|c| c.kind == "key").expect("open").clone();
    for hash in &clash.entries {
        let hash = Hash::parse(hash).expect("a hash");
        assert!(d.fold().by_hash(&hash).is_some(), "its entries are found in the new order");
    }
    let strike = Said::StruckOut { entry: clash.entries[0].clone(), reason: "the other".into() };
    d.append(&pen("R", 70), strike).expect("struck");
    assert_eq!(open(&d), 1, "one of two struck out settles it");
    d.append(&pen("F", 71), done("rod-off")).expect("said again");
    assert_eq!(open(&d), 0);
    assert!(d.verify(None).expect("reads").whole());
    let _: &[Concession] = d.fold().concessions();
}
