//! One suite, every store.

use book::{Attached, Batch, Book, Error, Hash, Pen, Role, Row, Said, SqliteStore, Start, Store};
use std::path::PathBuf;
use std::time::Duration;
use tempfile::TempDir;

/// A place for one book, and a way to open it again, as another process would.
pub(crate) trait Shelf {
    fn store(&self) -> Box<dyn Store>;
    /// Tries to change entries behind the program's back; gives what the database said each time.
    fn tamper(&self) -> Vec<Result<(), String>>;
}

pub(crate) struct File(TempDir);

impl File {
    pub(crate) fn new() -> Self {
        File(TempDir::new().expect("a temporary folder"))
    }

    pub(crate) fn path(&self) -> PathBuf {
        self.0.path().join("engine.book")
    }
}

impl Shelf for File {
    fn store(&self) -> Box<dyn Store> {
        let path = self.path();
        let store =
            if path.exists() { SqliteStore::open(&path) } else { SqliteStore::create(&path) };
        Box::new(store.expect("a store"))
    }

    fn tamper(&self) -> Vec<Result<(), String>> {
        let connection = rusqlite::Connection::open(self.path()).expect("opens");
        [
            "UPDATE entry SET line = 'x' WHERE sequence = 1",
            "DELETE FROM entry WHERE sequence = 3",
            "INSERT OR REPLACE INTO entry SELECT 3, line, hash FROM entry WHERE sequence = 2",
            "INSERT INTO entry SELECT 99, line, hash FROM entry WHERE sequence = 2",
            "DELETE FROM attachment",
            "UPDATE attachment SET bytes = x'00'",
        ]
        .into_iter()
        .map(|sql| connection.execute(sql, []).map(|_| ()).map_err(|e| e.to_string()))
        .collect()
    }
}

pub(crate) fn pen(author: &str, second: u32) -> Pen {
    let time = format!("2026-11-20T08:{:02}:{:02}Z", second / 60 % 60, second % 60);
    Pen::new(author, "bench", &time).expect("a pen")
}

pub(crate) fn note(text: &str) -> Said {
    Said::Note { about: "rod.left".into(), text: text.into() }
}

pub(crate) fn begun(shelf: &dyn Shelf) -> Book {
    let start = Start { name: "an engine".into(), password: None };
    Book::create(shelf.store(), &pen("R", 0), &start).expect("begins")
}

fn lines(store: &mut dyn Store) -> Vec<Row> {
    let mut rows = Vec::new();
    store
        .read(0, &mut |sequence, line, hash| {
            rows.push(Row { sequence, line: line.to_owned(), hash });
            Ok(())
        })
        .expect("reads");
    rows
}

fn an_entry_is_there_when_opened_again(shelf: &dyn Shelf) {
    let mut book = begun(shelf);
    let written = book.append(&pen("R", 1), note("bent\n\u{0}½ \"x\"")).expect("writes");
    assert_eq!((written.sequence, book.head()), (3, written));
    drop(book);
    let mut book = Book::open(shelf.store()).expect("opens");
    assert_eq!(book.head(), written);
    let (entry, hash) = book.entry(3).expect("there");
    assert_eq!(hash, written.hash);
    assert_eq!(entry.said, note("bent\n\u{0}½ \"x\""));
    assert_eq!((entry.author.as_str(), entry.device.as_str()), ("R", "bench"));
    assert!(matches!(book.entry(4), Err(Error::Missing(_))));
    assert!(matches!(book.entry(0), Err(Error::Missing(_))));
    let verified = book.verify(Some(&written.hash)).expect("reads");
    assert!(verified.whole(), "{verified:?}");
    assert_eq!(verified.entries, 3);
    assert!(!book.verify(Some(&Hash::of(b"x"))).expect("reads").whole(), "a head not in the chain");
}

fn a_book_is_begun_once(shelf: &dyn Shelf) {
    drop(begun(shelf));
    let start = Start { name: "another".into(), password: None };
    assert!(Book::create(shelf.store(), &pen("X", 1), &start).is_err());
    assert_eq!(Book::open(shelf.store()).expect("opens").fold().name(), "an engine");
}

fn what_is_refused_leaves_nothing(shelf: &dyn Shelf) {
    let mut book = begun(shelf);
    let before = book.head();
    let stranger = book.append(&pen("nobody", 1), note("x"));
    assert!(matches!(stranger, Err(Error::NotAllowed { .. })), "{stranger:?}");
    // The second of three is refused: none of them stays.
    let moved = |to: &str| Said::Moved { thing: "rod".into(), to: to.into() };
    let all = book.append_all(&pen("R", 2), vec![moved("bay 1"), moved(" "), moved("bay 2")]);
    assert!(matches!(all, Err(Error::Wrong { .. })), "{all:?}");
    assert_eq!(book.head(), before);
    assert!(book.fold().thing("rod").is_err(), "the fold does not run ahead of the store");
    assert_eq!(lines(shelf.store().as_mut()).len(), 2);
    let all = book.append_all(&pen("R", 3), vec![moved("bay 1"), moved("bay 2")]).expect("writes");
    assert_eq!(all.iter().map(|w| w.sequence).collect::<Vec<_>>(), [3, 4]);
    assert_eq!(book.fold().whereabouts("rod").expect("known")[0].place, "bay 2");
}

fn the_database_itself_refuses_changes(shelf: &dyn Shelf) {
    let mut book = begun(shelf);
    book.append(&pen("R", 1), note("x")).expect("writes");
    let mut store = shelf.store();
    let bytes = b"picture".to_vec();
    let attached = Attached { hash: Hash::of(&bytes), bytes };
    let mut batch = Some(Batch { rows: Vec::new(), attachments: vec![attached.clone()] });
    store.append(3, &mut |_| Ok(batch.take().unwrap_or_default())).expect("writes");
    let before = lines(store.as_mut());
    for (n, said) in shelf.tamper().into_iter().enumerate() {
        let refusal = said.expect_err(&format!("change {n} must be refused"));
        assert!(
            refusal.contains("only added to") || refusal.contains("must be the next"),
            "change {n}: {refusal}"
        );
    }
    assert_eq!(lines(store.as_mut()), before);
    assert_eq!(store.attachment(&attached.hash).expect("reads"), Some(attached.bytes));
    let verified = Book::open(shelf.store()).expect("opens").verify(None).expect("reads");
    assert!(verified.whole(), "{verified:?}");
}

fn two_who_write_at_once_do_not_fork(shelf: &dyn Shelf) {
    let mut first = begun(shelf);
    let mut second = Book::open(shelf.store()).expect("opens");
    for n in 0..20 {
        // Each writes without having read what the other wrote.
        first.append(&pen("R", n), note("first")).expect("writes");
        second.append(&pen("R", n), note("second")).expect("writes");
    }
    assert_eq!(second.head().sequence, 42);
    assert_eq!(first.read_on().expect("reads"), 1);
    assert_eq!(first.head(), second.head());
    assert!(first.verify(None).expect("reads").whole());
}

fn writers_side_by_side(shelf: &dyn Shelf, writers: u32, each: u32) {
    drop(begun(shelf));
    let stores: Vec<_> = (0..writers).map(|_| shelf.store()).collect();
    std::thread::scope(|scope| {
        for (who, store) in stores.into_iter().enumerate() {
            scope.spawn(move || {
                let mut book = Book::open(store).expect("opens");
                for n in 0..each {
                    book.append(&pen("R", n), note(&format!("{who} {n}"))).expect("writes");
                }
            });
        }
    });
    let mut book = Book::open(shelf.store()).expect("opens");
    assert_eq!(book.head().sequence, u64::from(writers * each) + 2);
    assert!(book.verify(None).expect("reads").whole());
    let mut seen = std::collections::BTreeSet::new();
    book.each(&mut |entry, _, _| {
        if let Said::Note { text, .. } = &entry.said {
            assert!(seen.insert(text.clone()), "{text} stands twice");
        }
        Ok(())
    })
    .expect("reads");
    assert_eq!(seen.len(), (writers * each) as usize, "every acknowledged entry is there");
}

fn news_is_waited_for(shelf: &dyn Shelf) {
    let mut writer = begun(shelf);
    let mut reader = Book::open(shelf.store()).expect("opens");
    assert_eq!(reader.wait(Duration::from_millis(30)).expect("reads"), 0);
    let waiting = std::thread::spawn(move || {
        let news = reader.wait(Duration::from_secs(20)).expect("reads");
        (news, reader.head())
    });
    std::thread::sleep(Duration::from_millis(100));
    let written = writer.append(&pen("R", 1), note("news")).expect("writes");
    assert_eq!(waiting.join().expect("ends"), (1, written));
}

fn words_are_found(shelf: &dyn Shelf) {
    let mut book = begun(shelf);
    let roles = vec![Role::Records];
    let person = Said::Person { name: "Zoë Quill".into(), roles, password: String::new() };
    book.append(&pen("R", 1), person).expect("writes");
    book.append(&pen("Zoë Quill", 2), note("the Strap is bent")).expect("writes");
    book.append(&pen("R", 3), note("strap straightened; \"cold\" OR hot")).expect("writes");
    let mut find = |words: &str| book.find(words, 10).expect("finds");
    assert_eq!(find("strap"), [5, 4], "newest first, capitals or not");
    assert_eq!(find("STRAP bent"), [4], "all the words");
    assert_eq!(find("straighten"), [5], "the beginning of a word");
    assert_eq!(find("quill"), [4, 3], "people");
    assert_eq!(find("rod.left"), [5, 4], "parts");
    assert_eq!(find("cold OR"), [5], "nothing a person types is taken for an operator");
    assert_eq!(find("\"'); DROP TABLE entry; --"), [0u64; 0]);
    assert_eq!(find("  "), [0u64; 0]);
    assert_eq!(find("body kind previous"), [0u64; 0], "the words of the form are not found");
    assert_eq!(book.find("strap", 1).expect("finds"), [5]);
}

/// All of it, on one kind of shelf.
pub(crate) fn suite(new_shelf: &dyn Fn() -> Box<dyn Shelf>) {
    type Part = (&'static str, fn(&dyn Shelf));
    let parts: [Part; 15] = [
        ("opened again", an_entry_is_there_when_opened_again),
        ("begun once", a_book_is_begun_once),
        ("refused", what_is_refused_leaves_nothing),
        ("append-only", the_database_itself_refuses_changes),
        ("no fork", two_who_write_at_once_do_not_fork),
        ("sixteen writers", |shelf| writers_side_by_side(shelf, 16, 8)),
        ("news", news_is_waited_for),
        ("words", words_are_found),
        ("rules", crate::rules::all),
        ("out and in", crate::carried::out_and_in),
        ("keys", crate::form_2::keys),
        ("works and concessions", crate::form_2::works_and_concessions),
        ("devices", crate::form_2::devices),
        ("checkpoint left aside", crate::kept::what_does_not_fit_is_left_aside),
        ("checkpoint at once", crate::kept::kept_by_many_at_once),
    ];
    for (name, part) in parts {
        eprintln!("-- {name}");
        part(new_shelf().as_ref());
    }
    eprintln!("-- keys, joined");
    crate::form_2::keys_joined(new_shelf().as_ref(), new_shelf);
    eprintln!("-- checkpoint");
    crate::kept::of_another_book(new_shelf);
    crate::kept::on(new_shelf);
}

#[test]
fn sqlite_conforms() {
    suite(&|| Box::new(File::new()));
}
