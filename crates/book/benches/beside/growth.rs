//! How cost grows with the book.

use crate::child::{self, Told};
use crate::filled::{self, add, joints, pen};
use crate::time::{ms, of_some};
use book::{Book, Said, SqliteStore};
use std::path::Path;
use std::time::Instant;

/// Entries that an opening folds before it puts them into the checkpoint, less one: the most that a
/// later opening finds beside it.
const MOST_BESIDE: u64 = 1_999;

const RUNS: usize = 5;

pub(crate) fn heading() {
    println!(
        "opened, engine read and every joint judged by a cold process; least of 5, ms by the clock (by the processor, all threads)"
    );
}

/// The run that was soonest by the clock.
fn soonest(all: &[Told]) -> Told {
    let first = all[0];
    all.iter().fold(first, |best, t| if t.clock() < best.clock() { *t } else { best })
}

/// The least by the processor.
fn least(all: &[Told]) -> f64 {
    all.iter().map(|t| t.processor).fold(f64::INFINITY, f64::min)
}

pub(crate) fn of(folder: &Path, entries: u64) {
    let path = folder.join(format!("{entries}.book"));
    let begun = Instant::now();
    let store = SqliteStore::create(&path).expect("makes");
    drop(filled::book(Box::new(store), entries));
    let made = begun.elapsed();
    let size = |path: &Path| std::fs::metadata(path).map_or(f64::NAN, |m| m.len() as f64 / 1e6);
    let without = size(&path);
    // The first opening follows the chain of all entries and keeps the checkpoint.
    let first = child::run("judge", &path);
    let kept = size(&path);
    let mut runs: [Vec<Told>; 3] = Default::default();
    // Turn about, so that both meet the same machine.
    for _ in 0..RUNS {
        runs[0].push(child::run("bare", &path));
        runs[1].push(child::run("judge", &path));
    }
    let mut book = Book::open_file(&path).expect("opens");
    let from = book.opened_from();
    add(&mut book, joints(entries), entries, MOST_BESIDE.min(entries));
    drop(book);
    for _ in 0..RUNS {
        runs[2].push(child::run("judge", &path));
    }
    let [bare, judged, beside] = [0, 1, 2].map(|n| soonest(&runs[n]));
    println!(
        "{entries} entries (made in {:.1} s; {without:.1} MB, with the checkpoint {kept:.1} MB; checkpoint up to {from}); {} of {} joints measured:",
        made.as_secs_f64(),
        judged.count,
        joints(entries)
    );
    let of_bare = |clock: f64| clock / bare.clock();
    let line = |what: &str, told: &Told, spent: f64| {
        println!(
            "    {what:<58} {:>9.1} ({:>7.0})  {:>6.2} x bare ({:.2})",
            1e3 * told.clock(),
            1e3 * spent,
            of_bare(told.clock()),
            spent / least(&runs[0])
        );
    };
    line("rows read with bare SQLite", &bare, least(&runs[0]));
    for (n, what) in ["book opened", "engine read", "engine judged"].into_iter().enumerate() {
        let clock = judged.parts[n];
        println!("    {what:<58} {:>9.1}            {:>6.2} x bare", 1e3 * clock, of_bare(clock));
    }
    line("all of it (wanted 3.00)", &judged, least(&runs[1]));
    line("all of it, most entries since the checkpoint", &beside, least(&runs[2]));
    line("all of it, the first time, the checkpoint kept", &first, first.processor);
    let verified = child::run("verify", &path);
    line("verify (with every line, page and index)", &verified, verified.processor);
    let mut book = Book::open_file(&path).expect("opens");
    book.append(&pen(), Said::Note { about: "rod".into(), text: "cracked at the fork".into() })
        .expect("writes");
    let begun = Instant::now();
    assert_eq!(book.find("cracked fork", 20).expect("finds").len(), 1);
    let first_find = begun.elapsed();
    let rare = of_some(9, || book.find("cracked fork", 20).expect("finds"));
    let common = of_some(9, || book.find("journal mike", 20).expect("finds"));
    let appended = of_some(50, || {
        let said = Said::Note { about: "rod".into(), text: "x".into() };
        book.append(&pen(), said).expect("writes")
    });
    println!(
        "    find rare {:.2} ms, common {:.2} ms (first, indexing: {:.0} ms); append {:.2} ms; most memory of the cold process {:.0} MB, the first time {:.0} MB, of verify {:.0} MB",
        ms(rare),
        ms(common),
        ms(first_find),
        ms(appended),
        judged.memory_mb,
        first.memory_mb,
        verified.memory_mb
    );
}
