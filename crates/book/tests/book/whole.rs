//! What is folded is the engine; what is damaged or newer is told.

use crate::stores::{File, Shelf, begun, note, pen};
use book::{Book, Error, Hash, MadeTo, Said, SqliteStore, Store};
use engine::judge::Judgement;
use engine::model::Date;
use proptest::prelude::*;

const DESCRIPTION: &str = r#"
[engine]
name = "one joint"

[[gauge]]
id = "mike"
kind = "micrometer"
error = "0.005 mm"
repeat = "0.003 mm"
calibrated = "2026-01-05"
due = "2027-01-05"

[[part]]
id = "crank"

[[part]]
id = "brass"

[[feature]]
id = "pin"
part = "crank"
kind = "journal"
as-made = "200 mm"

[[feature]]
id = "bore"
part = "brass"
kind = "bore"
as-made = "200.2 mm"

[[joint]]
id = "big-end"
kind = "running"
inner = "pin"
outer = "bore"
"#;

pub(crate) fn describe() -> Said {
    Said::Described { file: "engine.toml".into(), text: DESCRIPTION.into() }
}

pub(crate) fn readings(rows: &str) -> Said {
    let table = format!("feature,reading,gauge,by,when\n{rows}");
    Said::Readings { file: "by hand".into(), table }
}

fn day() -> Option<Date> {
    Date::new(2026, 11, 20).ok()
}

/// Everything the engine holds, and its judgement, as text: floats print so that they differ when
/// one bit does.
pub(crate) fn engine_text(book: &Book) -> String {
    let read = book.fold().engine_sources().read(day()).expect("reads");
    let e = &read.engine;
    // The engine's index of names is left out: its order is not part of what it says.
    let engine = format!(
        "{:?}\n{:?}\n{:?}\n{:?}\n{:?}\n{:?}",
        e.gauges, e.parts, e.readings, e.findings, e.decisions, read.tables
    );
    let judgement = Judgement::of(read.engine);
    let view = engine::view::summary(&judgement);
    format!("{engine}\n{}", serde_json::to_string(&view).expect("writes"))
}

#[test]
fn the_engine_crate_judges_what_the_book_says() {
    let shelf = File::new();
    let mut book = begun(&shelf);
    let mut say = |said| book.append(&pen("R", 1), said).expect("writes");
    say(describe());
    say(readings("pin,199.90 mm,mike,R,2026-11-01\n"));
    let second = say(readings("pin,199.80 mm,mike,R,2026-11-02\nbore,200.30 mm,mike,R,2026-11-02"));
    say(readings("bore,cracked,,R,2026-11-02\n"));
    say(Said::Calibrated {
        gauge: "mike".into(),
        on: "2026-11-03".into(),
        due: "2027-11-03".into(),
        correction: String::new(),
        note: String::new(),
    });
    say(Said::Tagged { part: "crank".into(), tag: book::Tag::numbered(7).code().into() });
    say(Said::Moved { thing: "crank".into(), to: "tin 1".into() });
    say(Said::Moved { thing: "tin 1".into(), to: "bay 3".into() });
    say(Said::Moved { thing: "crank".into(), to: "bay \"2\"".into() });
    say(Said::Found {
        part: "brass".into(),
        feature: "bore".into(),
        condition: "scored".into(),
        note: "a \"deep\" one, left".into(),
    });
    say(Said::FigureStruckOut {
        feature: "pin".into(),
        value: "199.90 mm".into(),
        station: String::new(),
        direction: String::new(),
        reason: "slip".into(),
    });
    say(Said::Decided {
        joint: "big-end".into(),
        repair: "close".into(),
        make: vec![MadeTo { feature: "bore".into(), to: "200.05 mm".into() }],
        reason: "wear".into(),
    });
    let read = book.fold().engine_sources().read(day()).expect("reads");
    assert_eq!(read.problems, []);
    assert!(read.tables.iter().all(|(_, t)| t.refused_count() == 0), "{:?}", read.tables);
    let engine = &read.engine;
    assert_eq!(engine.readings.len(), 3);
    assert_eq!(engine.readings.iter().filter(|r| r.struck).count(), 1);
    assert_eq!(engine.findings.len(), 2);
    assert_eq!(engine.parts[0].place.as_deref(), Some("bay \"2\""));
    assert!(engine.parts[0].tag.is_some());
    assert_eq!(engine.parts.len(), 2, "what things once lay in is no part");
    assert_eq!(engine.decisions.len(), 1);
    assert_eq!(read.tables[0].0.entry_of(2), Some(4));
    assert_eq!(read.tables[0].0.entry_of(3), Some(5));
    assert_eq!(read.tables[0].0.entry_of(4), Some(5));
    // A whole entry of readings struck out takes its rows with it.
    let strike = Said::StruckOut { entry: second.hash.to_string(), reason: "wrong engine".into() };
    book.append(&pen("R", 2), strike).expect("writes");
    let read = book.fold().engine_sources().read(day()).expect("reads");
    assert_eq!(read.engine.readings.len(), 1);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]

    /// The same entries give the same engine to the bit: folded as they come, folded at opening,
    /// and with the tables laid end to end as one table.
    #[test]
    fn the_same_entries_give_the_same_engine(
        sizes in proptest::collection::vec((0..3u8, 19_900..20_100u32, 1..28u8), 1..40),
        strike in any::<proptest::sample::Index>(),
    ) {
        let shelf = File::new();
        let mut book = begun(&shelf);
        book.append(&pen("R", 1), describe()).expect("writes");
        let mut hashes = Vec::new();
        let mut kept = Vec::new();
        for (what, size, day) in &sizes {
            let feature = ["pin", "bore", "nothing"][usize::from(*what)];
            let row = format!("{feature},{}.{:02} mm,mike,R,2026-11-{day:02}\n", size / 100, size % 100);
            hashes.push(book.append(&pen("R", 2), readings(&row)).expect("writes").hash);
            kept.push(row);
        }
        let struck = strike.index(hashes.len());
        let reason = "slip".to_owned();
        let said = Said::StruckOut { entry: hashes[struck].to_string(), reason };
        book.append(&pen("R", 3), said).expect("writes");
        kept.remove(struck);
        let as_it_came = engine_text(&book);
        drop(book);
        let opened = Book::open(shelf.store()).expect("opens");
        prop_assert!(as_it_came == engine_text(&opened), "folded at opening, the engine differs");
        // Beside a single table read by the engine crate alone.
        let mut loaded = engine::load(
            vec![engine::description::SourceText { file: "engine.toml".into(), text: DESCRIPTION.into() }],
            day(),
        );
        let table = format!("feature,reading,gauge,by,when\n{}", kept.concat());
        if !kept.is_empty() {
            engine::readings::read_table(&mut loaded.engine, 0, table.as_bytes()).expect("reads");
        }
        let (mut alone, _) = loaded.finish();
        let read = opened.fold().engine_sources().read(day()).expect("reads");
        // A reading of a book is told by its row in its own entry, here the one below the heading.
        alone.readings.iter_mut().for_each(|r| r.row = 2);
        prop_assert_eq!(format!("{:?}", alone.readings), format!("{:?}", read.engine.readings));
    }
}

#[test]
fn a_newer_file_is_refused_with_words() {
    let shelf = File::new();
    drop(begun(&shelf));
    let connection = rusqlite::Connection::open(shelf.path()).expect("opens");
    connection.pragma_update(None, "user_version", 2).expect("writes");
    drop(connection);
    let error = Book::open_file(&shelf.path()).expect_err("newer");
    assert_eq!(error, Error::Newer { found: 2, known: 1 });
    assert!(error.to_string().contains("newer program"), "{error}");
}

#[test]
fn what_is_not_a_book_is_refused_with_words() {
    let shelf = File::new();
    assert!(matches!(SqliteStore::open(&shelf.path()), Err(Error::Missing(_))));
    std::fs::write(shelf.path(), b"[engine]\nname = \"x\"\n".repeat(400)).expect("writes");
    assert!(SqliteStore::is_book(&shelf.path()), "by its name: its head may be damaged");
    let description = shelf.path().with_extension("toml");
    std::fs::copy(shelf.path(), &description).expect("copies");
    assert!(!SqliteStore::is_book(&description));
    assert!(matches!(SqliteStore::open(&shelf.path()), Err(Error::Damaged(_))));
    assert!(matches!(SqliteStore::create(&shelf.path()), Err(Error::Wrong { .. })));
    let other = shelf.path().with_extension("db");
    rusqlite::Connection::open(&other)
        .and_then(|c| c.execute_batch("CREATE TABLE t (x)"))
        .expect("another database");
    assert!(matches!(SqliteStore::open(&other), Err(Error::Wrong { .. })));
}

#[test]
fn a_changed_entry_is_named() {
    let shelf = File::new();
    let mut book = begun(&shelf);
    for n in 0..5 {
        book.append(&pen("R", n), note(&format!("note {n}"))).expect("writes");
    }
    drop(book);
    let connection = rusqlite::Connection::open(shelf.path()).expect("opens");
    // Someone with the file and patience: takes the rule away, changes a word, mends the hash.
    let line: String = connection
        .query_row("SELECT line FROM entry WHERE sequence = 4", [], |r| r.get(0))
        .expect("there");
    let line = line.replace("note 1", "note 9");
    connection
        .execute_batch("DROP TRIGGER entry_stays")
        .and_then(|()| {
            connection.execute(
                "UPDATE entry SET line = ?1, hash = ?2 WHERE sequence = 4",
                (&line, &Hash::of(line.as_bytes()).bytes()[..]),
            )
        })
        .expect("changed");
    drop(connection);
    let error = Book::open_file(&shelf.path()).expect_err("the chain is broken");
    assert!(error.to_string().contains("entry 5"), "{error}");
    let mut store = SqliteStore::open(&shelf.path()).expect("opens");
    let verified = book::verify(&mut store, None).expect("reads");
    assert_eq!(verified.first_bad().map(|f| f.sequence), Some(5));
    assert!(verified.faults.iter().any(|f| f.what.contains("entry_stays")), "{verified:?}");
}

/// A store whose answer to a commit is lost on the way, as when a network goes down.
struct LosesAnswers {
    inner: SqliteStore,
    lose: u32,
}

impl Store for LosesAnswers {
    fn read(
        &mut self,
        after: u64,
        take: &mut dyn FnMut(u64, &str, Hash) -> Result<(), Error>,
    ) -> Result<(), Error> {
        self.inner.read(after, take)
    }

    fn append(&mut self, seen: u64, make: book::Make<'_>) -> Result<(), Error> {
        self.inner.append(seen, make)?;
        if self.lose == 0 {
            return Ok(());
        }
        self.lose -= 1;
        Err(Error::Unavailable("the line went dead after the commit".into()))
    }

    fn attachment(&mut self, hash: &Hash) -> Result<Option<Vec<u8>>, Error> {
        self.inner.attachment(hash)
    }

    fn attachments(&mut self) -> Result<Vec<Hash>, Error> {
        self.inner.attachments()
    }

    fn find(&mut self, words: &[String], most: usize) -> Result<Vec<u64>, Error> {
        self.inner.find(words, most)
    }

    fn look(&mut self) -> Result<book::Looked, Error> {
        self.inner.look()
    }

    fn wait(&mut self, seen: u64, most: std::time::Duration) -> Result<bool, Error> {
        self.inner.wait(seen, most)
    }

    fn checkpoint(&mut self, take: book::TakeStretch<'_>) -> Result<(), Error> {
        self.inner.checkpoint(take)
    }

    fn keep_checkpoint(
        &mut self,
        after: u64,
        there: u64,
        stretches: &[book::Stretch],
    ) -> Result<bool, Error> {
        self.inner.keep_checkpoint(after, there, stretches)
    }

    fn again(&mut self) -> Result<(), Error> {
        Ok(())
    }
}

#[test]
fn a_commit_whose_answer_was_lost_is_not_written_twice() {
    let shelf = File::new();
    drop(begun(&shelf));
    let open = || SqliteStore::open(&shelf.path()).expect("opens");
    let mut book = Book::open(Box::new(LosesAnswers { inner: open(), lose: 1 })).expect("opens");
    let one = book.append(&pen("R", 1), note("once")).expect("came through");
    assert_eq!(book.head(), one);
    let mut book = Book::open(Box::new(LosesAnswers { inner: open(), lose: 1 })).expect("opens");
    let three = vec![note("a"), note("b"), note("c")];
    let written = book.append_all(&pen("R", 2), three).expect("came through");
    assert_eq!(written.iter().map(|w| w.sequence).collect::<Vec<_>>(), [4, 5, 6]);
    assert_eq!(book.head().sequence, 6);
    assert!(book.verify(None).expect("reads").whole());
    let after = book.append(&pen("R", 3), note("and on")).expect("writes");
    assert_eq!(after.sequence, 7);
}
