//! One durable entry beside one durable row.

use crate::filled::{self, pen, reading};
use crate::time::{least, median, ms};
use book::SqliteStore;
use rusqlite::{Connection, params};
use std::hint::black_box;
use std::path::Path;
use std::time::{Duration, Instant};

/// The size of a line of such an entry.
pub(crate) const LINE_BYTES: usize = 400;

pub(crate) fn durable(folder: &Path) {
    const TIMES: u64 = 400;
    let store = SqliteStore::create(&folder.join("append.book")).expect("makes");
    let mut book = filled::book(Box::new(store), 3);
    let bare = Connection::open(folder.join("bare.db")).expect("opens");
    bare.pragma_update(None, "journal_mode", "WAL").expect("set");
    bare.pragma_update(None, "synchronous", "FULL").expect("set");
    bare.execute_batch(
        "CREATE TABLE entry (sequence INTEGER PRIMARY KEY, line TEXT NOT NULL, hash BLOB NOT NULL)",
    )
    .expect("made");
    let line = "x".repeat(LINE_BYTES);
    let (mut ours, mut theirs) = (Vec::new(), Vec::new());
    // Turn about, so that both meet the same disk.
    for n in 0..TIMES {
        let said = reading(n, 5);
        let begun = Instant::now();
        black_box(book.append(&pen(), said).expect("writes"));
        ours.push(begun.elapsed());
        let begun = Instant::now();
        bare.prepare_cached("INSERT INTO entry VALUES (?1, ?2, ?3)")
            .and_then(|mut s| s.execute(params![n as i64, line, &[0u8; 32][..]]))
            .expect("writes");
        theirs.push(begun.elapsed());
    }
    told("SQLite", ours, theirs);
}

pub(crate) fn told(peer: &str, ours: Vec<Duration>, theirs: Vec<Duration>) {
    let (least_ours, least_theirs) = (least(&ours), least(&theirs));
    let runs = ours.len();
    let (ours, theirs) = (ms(median(ours)), ms(median(theirs)));
    println!(
        "durable append, median of {runs}: book {ours:.3} ms, bare {peer} {theirs:.3} ms, ratio {:.2}; least {least_ours:.3} and {least_theirs:.3} ms, ratio {:.2} (wanted 1.30)",
        ours / theirs,
        least_ours / least_theirs
    );
}
