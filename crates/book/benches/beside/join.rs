//! Two copies joined.

use crate::filled::{self, add, joints, pen};
use crate::time::timed;
use book::{Book, Said, SqliteStore, Store};
use std::path::Path;

/// Two copies of so many entries each, half of them shared.
pub(crate) fn two_copies(folder: &Path, entries: u64) {
    let named = |what: &str| folder.join(format!("{what}-{entries}.book"));
    let (one, other) = (named("one"), named("other"));
    let half = entries / 2;
    let store = SqliteStore::create(&one).expect("makes");
    let mut first = filled::book(Box::new(store), half);
    let mut store = SqliteStore::open(&one).expect("opens");
    store.backup(&other).expect("copies");
    let mut second = Book::open_file(&other).expect("opens");
    add(&mut first, joints(half), half, half);
    // Another entry first, or the same rows by the same pen would be the same chain.
    second
        .append(&pen(), Said::Note { about: "rod".into(), text: "apart".into() })
        .expect("writes");
    add(&mut second, joints(half), half, half - 1);
    drop((first, second));
    let (mut first, mut second) =
        (Book::open_file(&one).expect("opens"), Book::open_file(&other).expect("opens"));
    let into: Box<dyn Store> = Box::new(SqliteStore::create(&named("joined")).expect("makes"));
    let ((joined, what), clock) =
        timed(|| book::join(&mut first, &mut second, into, &pen()).expect("joins"));
    println!(
        "join of two copies of {} and {} entries, {} and {} of them their own: {:.2} s for {} entries{}",
        first.head().sequence,
        second.head().sequence,
        what.only_first,
        what.only_second,
        clock.as_secs_f64(),
        joined.head().sequence,
        if entries == 100_000 { " (wanted 5 s)" } else { "" }
    );
}
