//! The checkpoint: what a book says is the same with it and without, and one that does not fit is
//! left aside.

use crate::stores::{File, Shelf, begun, note, pen};
use crate::whole::{describe, engine_text, readings};
use book::{
    Attached, Book, Error, Hash, Looked, MadeTo, Make, Role, Said, SqliteStore, Store, Stretch,
    Tag, TakeStretch, Verified, Written,
};
use proptest::prelude::*;
use proptest::sample::Index;
use std::time::{Duration, Instant};

/// A store that neither has a checkpoint nor keeps one.
struct Without(Box<dyn Store>);

impl Store for Without {
    fn read(
        &mut self,
        after: u64,
        take: &mut dyn FnMut(u64, &str, Hash) -> Result<(), Error>,
    ) -> Result<(), Error> {
        self.0.read(after, take)
    }

    fn append(&mut self, seen: u64, make: Make<'_>) -> Result<(), Error> {
        self.0.append(seen, make)
    }

    fn attachment(&mut self, hash: &Hash) -> Result<Option<Vec<u8>>, Error> {
        self.0.attachment(hash)
    }

    fn attachments(&mut self) -> Result<Vec<Hash>, Error> {
        self.0.attachments()
    }

    fn find(&mut self, words: &[String], most: usize) -> Result<Vec<u64>, Error> {
        self.0.find(words, most)
    }

    fn look(&mut self) -> Result<Looked, Error> {
        self.0.look()
    }

    fn wait(&mut self, seen: u64, most: Duration) -> Result<bool, Error> {
        self.0.wait(seen, most)
    }

    fn checkpoint(&mut self, _: TakeStretch<'_>) -> Result<(), Error> {
        Ok(())
    }

    fn keep_checkpoint(&mut self, _: u64, _: u64, _: &[Stretch]) -> Result<bool, Error> {
        Ok(false)
    }

    fn again(&mut self) -> Result<(), Error> {
        self.0.again()
    }
}

/// The book as its entries alone say it.
fn fresh(shelf: &dyn Shelf) -> Book {
    let book = Book::open(Box::new(Without(shelf.store()))).expect("opens");
    assert_eq!(book.opened_from(), 0);
    book
}

fn opened(shelf: &dyn Shelf) -> Book {
    Book::open(shelf.store()).expect("opens")
}

fn stretches(shelf: &dyn Shelf) -> Vec<Stretch> {
    let mut all = Vec::new();
    let mut take = |bytes: &[u8], last: u64, _: Option<Hash>| {
        all.push(Stretch { last, bytes: bytes.to_vec() });
        Ok(())
    };
    shelf.store().checkpoint(&mut take).expect("reads");
    all
}

/// What a look through says, before an opening could mend anything.
fn looked(shelf: &dyn Shelf) -> Verified {
    book::verify(shelf.store().as_mut(), None).expect("reads")
}

/// Puts other stretches in the place of those that are there.
fn put(shelf: &dyn Shelf, stretches: &[Stretch]) {
    let there = self::stretches(shelf).last().map_or(0, |s| s.last);
    assert_eq!(shelf.store().keep_checkpoint(0, there, stretches), Ok(true));
}

/// With the SHA-256 of its new content, as somebody who knows how would leave it.
fn sealed(mut bytes: Vec<u8>) -> Vec<u8> {
    bytes.truncate(bytes.len() - 32);
    let hash = Hash::of(&bytes);
    bytes.extend(hash.bytes());
    bytes
}

fn with_all_roles(shelf: &dyn Shelf) -> Book {
    let mut book = begun(shelf);
    let all = Role::ALL.to_vec();
    let person = Said::Person { name: "R".into(), roles: all, password: String::new() };
    book.append(&pen("R", 1), person).expect("writes");
    book.append(&pen("R", 1), describe()).expect("writes");
    book
}

/// Something to say, chosen by three numbers.
fn something(kind: u8, a: u8, b: u8, written: &[Written], at: &Index) -> Said {
    let named = |n: u8| ["crank", "brass", "rod", "tin"][usize::from(n % 4)].to_owned();
    let feature = |n: u8| ["pin", "bore", "nothing"][usize::from(n % 3)].to_owned();
    let day = format!("2026-11-{:02}", b % 27 + 1);
    match kind {
        0..=5 => {
            let row = |n: u8| format!("{},{}.{n:03} mm,mike,R,{day}\n", feature(a), 199 + b % 2);
            readings(&(row(a) + &row(b)))
        }
        6 => Said::Readings {
            file: format!("sheet {}", a % 3),
            table: format!("\u{feff}reading;feature\n20{},5 mm;{}", b % 10, feature(a)),
        },
        7 => {
            Said::Readings { file: "odd".into(), table: "\n feature,reading,\"by\nwho\"\n".into() }
        }
        8 => note(&format!("½ \"{a}\"\n\u{0}")),
        9 => Said::Moved { thing: named(a), to: format!("bay {}", b % 3) },
        10 => Said::Tagged { part: named(a), tag: Tag::numbered(u64::from(b % 5)).code().into() },
        11 => Said::Found {
            part: named(a),
            feature: feature(b),
            condition: "scored".into(),
            note: "x, \"y\"".into(),
        },
        12 => Said::Decided {
            joint: "big-end".into(),
            repair: "close".into(),
            make: vec![MadeTo { feature: "bore".into(), to: format!("200.{b:02} mm") }],
            reason: format!("{a}"),
        },
        13 => Said::Calibrated {
            gauge: "mike".into(),
            on: day,
            due: "2027-11-03".into(),
            correction: String::new(),
            note: String::new(),
        },
        14 => Said::FigureStruckOut {
            feature: feature(a),
            value: format!("199.{b:03} mm"),
            station: String::new(),
            direction: String::new(),
            reason: "slip".into(),
        },
        15 => Said::WorkDone {
            work: named(a),
            way: String::new(),
            minutes: format!("{b}"),
            note: String::new(),
        },
        16 => Said::WorkStuck { work: named(a), way: "w".into(), why: "tight".into() },
        17 => Said::DayPlanned { day, crew: vec!["R".into()], text: format!("{a}") },
        18 => Said::HoldPoint {
            id: format!("h{}", a % 5),
            about: named(b),
            what: "look".into(),
            not_by_doer: false,
        },
        _ => Said::StruckOut {
            entry: written[at.index(written.len())].hash.to_string(),
            reason: format!("wrong {a}"),
        },
    }
}

type Choice = (u8, u8, u8, Index, bool);

fn choices(most: usize) -> impl Strategy<Value = Vec<Choice>> {
    let one = (0..24u8, any::<u8>(), any::<u8>(), any::<Index>(), any::<bool>());
    proptest::collection::vec(one, 1..most)
}

/// Says all that the rules allow; some of it under keys that come more than once.
fn say(book: &mut Book, choices: &[Choice], device: &str) {
    let mut written = vec![book.head()];
    for (n, (kind, a, b, at, keyed)) in choices.iter().enumerate() {
        let said = something(*kind, *a, *b, &written, at);
        let pen = book::Pen::new("R", device, &format!("2026-11-20T09:{:02}:00Z", n % 60));
        let pen = pen.expect("a pen");
        let done = if *keyed {
            book.append_once(&pen, &format!("k{}", a % 40), said).map(|(written, _)| written)
        } else {
            book.append(&pen, said)
        };
        written.extend(done);
    }
}

fn same(shelf: &dyn Shelf, from: u64) {
    let (with, without) = (opened(shelf), fresh(shelf));
    assert_eq!(with.opened_from(), from, "taken from the checkpoint");
    assert!(with.fold() == without.fold(), "the fold differs");
    assert_eq!((with.head(), with.id()), (without.head(), without.id()));
    assert!(engine_text(&with) == engine_text(&without), "the engine differs");
}

/// A book of all sorts, with checkpoints kept in the middle and at the end; then a copy that gains
/// entries of its own, and both joined.
fn is_the_same(new_shelf: &dyn Fn() -> Box<dyn Shelf>, parts: [&[Choice]; 4]) {
    let shelf = new_shelf();
    let mut book = with_all_roles(shelf.as_ref());
    say(&mut book, parts[0], "vice");
    same(shelf.as_ref(), 0);
    assert!(book.keep_checkpoint().expect("opens"));
    let first = book.head().sequence;
    same(shelf.as_ref(), first);
    say(&mut book, parts[1], "vice");
    same(shelf.as_ref(), first);
    if first < book.head().sequence {
        assert!(book.keep_checkpoint().expect("opens"));
    }
    assert!(!book.keep_checkpoint().expect("opens"), "there is nothing more to keep");
    same(shelf.as_ref(), book.head().sequence);
    let mut archive = Vec::new();
    book::export(&mut book, &mut archive).expect("exports");
    let (copied, joined) = (new_shelf(), new_shelf());
    let mut copy = book::import(archive.as_slice(), copied.store()).expect("imports");
    say(&mut book, parts[2], "vice");
    say(&mut copy, parts[3], "lathe");
    let both = book::join(&mut book, &mut copy, joined.store(), &pen("R", 50));
    // One of them may have gained nothing, when all of it was refused.
    if let Ok((mut both, _)) = both {
        same(joined.as_ref(), 0);
        assert!(both.keep_checkpoint().expect("opens"));
        same(joined.as_ref(), both.head().sequence);
        assert!(both.verify(None).expect("reads").whole());
    }
    let verified = opened(shelf.as_ref()).verify(None).expect("reads");
    assert!(verified.whole(), "{verified:?}");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]

    #[test]
    fn with_a_checkpoint_the_book_says_the_same(
        a in choices(40), b in choices(20), c in choices(12), d in choices(12),
    ) {
        is_the_same(&|| Box::new(File::new()), [&a, &b, &c, &d]);
    }
}

/// The same on any store, with what one seed chooses.
pub(crate) fn on(new_shelf: &dyn Fn() -> Box<dyn Shelf>) {
    use proptest::strategy::ValueTree;
    let mut runner = proptest::test_runner::TestRunner::deterministic();
    for _ in 0..4 {
        let all = [40, 20, 12, 12]
            .map(|most| choices(most).new_tree(&mut runner).expect("one").current());
        is_the_same(new_shelf, [&all[0], &all[1], &all[2], &all[3]]);
    }
}

fn with_checkpoint(shelf: &dyn Shelf) -> Book {
    let mut book = with_all_roles(shelf);
    for n in 0..20 {
        let row = format!("pin,199.{n:03} mm,mike,R,2026-11-01\n");
        book.append(&pen("R", n), readings(&row)).expect("writes");
    }
    assert!(book.keep_checkpoint().expect("opens"));
    book
}

pub(crate) fn what_does_not_fit_is_left_aside(shelf: &dyn Shelf) {
    let mut book = with_checkpoint(shelf);
    let last = book.head().sequence;
    let whole = stretches(shelf);
    assert_eq!(whole.len(), 1);
    let bytes = &whole[0].bytes;
    let told = |what: &str| {
        let verified = looked(shelf);
        assert!(
            verified.faults.iter().any(|f| f.what.contains("checkpoint")),
            "{what}: {verified:?}"
        );
    };
    // Any one byte changed, cut short, or not its own end.
    for at in (0..bytes.len()).step_by(97).chain([0, 4, bytes.len() - 1]) {
        let mut changed = bytes.clone();
        changed[at] ^= 0x21;
        put(shelf, &[Stretch { last, bytes: changed }]);
        told(&format!("byte {at}"));
        // An opening leaves it aside, and puts a right one in its place.
        let again = opened(shelf);
        assert_eq!(again.opened_from(), 0, "byte {at}");
        assert!(again.fold() == book.fold(), "byte {at}");
        assert_eq!(stretches(shelf), whole, "byte {at}");
        same(shelf, last);
    }
    for cut in [0, 1, 36, bytes.len() / 2] {
        put(shelf, &[Stretch { last, bytes: bytes[..cut].to_vec() }]);
        told("cut");
        assert_eq!(opened(shelf).opened_from(), 0);
    }
    put(shelf, &[Stretch { last: last - 1, bytes: bytes.clone() }]);
    told("another end");
    assert_eq!(opened(shelf).opened_from(), 0);
    // It ends after the last entry there is.
    put(shelf, &[Stretch { last: last + 5, bytes: bytes.clone() }]);
    told("beyond the end");
    assert_eq!(opened(shelf).opened_from(), 0);
    // One of another form is neither used nor a fault.
    let mut newer = bytes.clone();
    newer[4] += 1;
    put(shelf, &[Stretch { last, bytes: sealed(newer.clone()) }]);
    let verified = looked(shelf);
    assert!(verified.whole(), "{verified:?}");
    assert!(verified.not_looked_at.iter().any(|w| w.contains("form 2")), "{verified:?}");
    assert_eq!(opened(shelf).opened_from(), 0);
    // Whoever changes it and knows how to seal it deceives an opening, but not a look through.
    let at = bytes.windows(7).position(|w| w == b"199.007").expect("there");
    let mut forged = bytes.clone();
    forged[at + 6] = b'8';
    put(shelf, &[Stretch { last, bytes: sealed(forged) }]);
    assert_eq!(opened(shelf).opened_from(), last);
    told("forged");
    put(shelf, &whole);
    assert!(book.verify(None).expect("reads").whole());
    // None at all.
    put(shelf, &[]);
    assert_eq!(stretches(shelf), []);
    same(shelf, 0);
}

pub(crate) fn of_another_book(new_shelf: &dyn Fn() -> Box<dyn Shelf>) {
    let (one, other) = (new_shelf(), new_shelf());
    drop((with_checkpoint(one.as_ref()), with_checkpoint(other.as_ref())));
    put(one.as_ref(), &stretches(other.as_ref()));
    let book = opened(one.as_ref());
    assert_eq!(book.opened_from(), 0);
    assert!(book.fold() == fresh(one.as_ref()).fold());
}

/// Who comes second leaves it; nobody waits, and nothing is half written.
pub(crate) fn kept_by_many_at_once(shelf: &dyn Shelf) {
    let mut book = with_all_roles(shelf);
    let said = (0..2_200).map(|n| note(&format!("note {n}"))).collect();
    book.append_all(&pen("R", 1), said).expect("writes");
    drop(book);
    let stores: Vec<_> = (0..6).map(|_| shelf.store()).collect();
    std::thread::scope(|scope| {
        for store in stores {
            scope.spawn(move || {
                let mut book = Book::open(store).expect("opens");
                book.append(&pen("R", 2), note("and on")).expect("writes");
            });
        }
    });
    let mut book = opened(shelf);
    // One of them may have found the log in use; the next opening keeps it then.
    assert!([0, 2_204].contains(&book.opened_from()) || 2_204 < book.opened_from());
    assert!(book.verify(None).expect("reads").whole());
    drop(book);
    assert!(2_204 <= opened(shelf).opened_from());
    let last = stretches(shelf).last().map_or(0, |s| s.last);
    let mut store = shelf.store();
    let there = stretches(shelf);
    assert_eq!(store.keep_checkpoint(0, last - 1, &[]), Ok(false), "somebody else kept one since");
    assert_eq!(stretches(shelf), there);
}

#[test]
fn a_checkpoint_is_not_waited_for() {
    let shelf = File::new();
    let mut book = with_all_roles(&shelf);
    let said = (0..2_200).map(|n| note(&format!("note {n}"))).collect();
    book.append_all(&pen("R", 1), said).expect("writes");
    drop(book);
    // Somebody is in the middle of writing, for long.
    let other = rusqlite::Connection::open(shelf.path()).expect("opens");
    other.execute_batch("BEGIN IMMEDIATE").expect("begins");
    let begun = Instant::now();
    let book = opened(&shelf);
    assert!(begun.elapsed() < Duration::from_secs(15), "it waited");
    assert_eq!(book.head().sequence, 2_204);
    assert_eq!(stretches(&shelf), []);
    other.execute_batch("ROLLBACK").expect("ends");
    drop(book);
    assert_eq!(opened(&shelf).opened_from(), 0);
    same(&shelf, 2_204);
}

#[test]
fn what_can_only_be_read_goes_on_without() {
    let shelf = File::new();
    let mut book = with_all_roles(&shelf);
    let said = (0..2_200).map(|n| note(&format!("note {n}"))).collect();
    book.append_all(&pen("R", 1), said).expect("writes");
    drop(book);
    let mut rights = std::fs::metadata(shelf.path()).expect("there").permissions();
    rights.set_readonly(true);
    std::fs::set_permissions(shelf.path(), rights).expect("changed");
    let before = std::fs::read(shelf.path()).expect("reads");
    let mut book = opened(&shelf);
    assert_eq!((book.head().sequence, book.opened_from()), (2_204, 0));
    assert_eq!(book.keep_checkpoint(), Ok(false));
    drop(book);
    assert_eq!(std::fs::read(shelf.path()).expect("reads"), before);
}

/// The end of the chain cut off by somebody with other tools: the checkpoint does not bring back
/// what is not there, and the look through tells.
#[test]
fn entries_cut_off_are_not_said() {
    let shelf = File::new();
    let last = with_checkpoint(&shelf).head().sequence;
    let connection = rusqlite::Connection::open(shelf.path()).expect("opens");
    connection
        .execute_batch(&format!(
            "DROP TRIGGER entry_never_goes; DELETE FROM entry WHERE sequence > {}",
            last - 5
        ))
        .expect("cut");
    drop(connection);
    let verified =
        book::verify(&mut SqliteStore::open(&shelf.path()).expect("opens"), None).expect("reads");
    assert!(verified.faults.iter().any(|f| f.what.contains("checkpoint")), "{verified:?}");
    let book = opened(&shelf);
    assert_eq!((book.opened_from(), book.head().sequence), (0, last - 5));
}

/// Large enough for several stretches and for tables and features to be read side by side: the
/// same as one table read by itself.
#[test]
fn many_stretches_say_the_same() {
    let shelf = File::new();
    let mut book = with_all_roles(&shelf);
    let mut rows = String::new();
    for from in (0..21_000).step_by(3_000) {
        let some: Vec<String> = (from..from + 3_000u32)
            .map(|n| {
                let feature = ["pin", "bore", "nothing"][n as usize % 3];
                let by = ["R", "S", "T"][n as usize / 7 % 3];
                format!("{feature},{}.{:03} mm,mike,{by},2026-11-01\n", 199 + n % 2, n % 997)
            })
            .collect();
        rows.extend(some.iter().map(String::as_str));
        let said = some.iter().map(|row| readings(row)).collect();
        book.append_all(&pen("R", 2), said).expect("writes");
    }
    drop(book);
    drop(opened(&shelf));
    assert!(1 < stretches(&shelf).len());
    same(&shelf, 21_004);
    let book = opened(&shelf);
    let day = engine::model::Date::new(2026, 11, 20).ok();
    let read = book.fold().engine_sources().read(day).expect("reads");
    assert!(1 < read.tables.len());
    let mut loaded = engine::load(book.fold().engine_sources().texts, day);
    let table = format!("feature,reading,gauge,by,when\n{rows}");
    let alone = engine::readings::read_table(&mut loaded.engine, 0, table.as_bytes());
    let refused: u64 = read.tables.iter().map(|(_, t)| t.refused_count()).sum();
    assert_eq!((refused, 7_000), (alone.expect("reads").refused_count(), 7_000));
    let (mut alone, _) = loaded.finish();
    assert_eq!(read.engine.people, alone.people);
    // Told by its place in its own entry, wherever that stands.
    alone.readings.iter_mut().for_each(|r| r.row = 2);
    let mut by_book = read.engine.readings.clone();
    by_book.iter_mut().for_each(|r| r.file = 0);
    assert!(format!("{:?}", alone.readings) == format!("{by_book:?}"));
}

#[test]
fn attachments_have_no_part_in_it() {
    let shelf = File::new();
    drop(with_checkpoint(&shelf));
    let mut store = shelf.store();
    let bytes = b"picture".to_vec();
    let mut batch = Some(book::Batch {
        rows: Vec::new(),
        attachments: vec![Attached { hash: Hash::of(&bytes), bytes }],
    });
    store.append(0, &mut |_| Ok(batch.take().unwrap_or_default())).expect("writes");
    assert_ne!(opened(&shelf).opened_from(), 0);
}
