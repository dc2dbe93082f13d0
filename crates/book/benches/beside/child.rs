//! What a cold process does, measured inside it and told on one line.

use crate::time::{most_memory_mb, processor, timed};
use book::Book;
use rusqlite::Connection;
use std::hint::black_box;
use std::path::Path;
use std::process::Command;
use std::time::Duration;

const CHILD: &str = "child";

/// Times and the most memory held.
#[derive(Clone, Copy)]
pub(crate) struct Told {
    /// Each part by the clock, seconds.
    pub(crate) parts: [f64; 3],
    /// All of the process by the processor, all its threads, its beginning and end too, seconds.
    pub(crate) processor: f64,
    pub(crate) memory_mb: f64,
    /// What was counted, to see that it was done.
    pub(crate) count: u64,
}

impl Told {
    pub(crate) fn clock(&self) -> f64 {
        self.parts.iter().sum()
    }
}

/// Runs this program again for one thing.
pub(crate) fn run(what: &str, path: &Path) -> Told {
    let program = std::env::current_exe().expect("this program");
    let out = Command::new(program).args([CHILD, what]).arg(path).output().expect("starts");
    let text = String::from_utf8_lossy(&out.stdout).into_owned();
    assert!(out.status.success(), "{what}: {text}{}", String::from_utf8_lossy(&out.stderr));
    let n: Vec<f64> = text.split_whitespace().filter_map(|w| w.parse().ok()).collect();
    assert_eq!(n.len(), 6, "{text}");
    Told { parts: [n[0], n[1], n[2]], processor: n[3], memory_mb: n[4], count: n[5] as u64 }
}

/// Whether this is such a run; then it has been done.
pub(crate) fn asked(words: &[String]) -> bool {
    let [first, what, path] = words else { return false };
    if first != CHILD {
        return false;
    }
    let path = Path::new(path);
    let (parts, count) = match what.as_str() {
        "bare" => bare(path),
        "judge" => judge(path),
        "verify" => verify(path),
        other => panic!("{other}"),
    };
    for clock in parts {
        print!("{} ", clock.as_secs_f64());
    }
    println!("{} {} {count}", processor().as_secs_f64(), most_memory_mb());
    true
}

type Parts = ([Duration; 3], u64);

/// The rows read with bare SQLite, every value of them taken out.
fn bare(path: &Path) -> Parts {
    let (count, time) = timed(|| {
        let bare = Connection::open(path).expect("opens");
        let mut select = bare
            .prepare("SELECT sequence, line, hash FROM entry ORDER BY sequence")
            .expect("prepares");
        let mut rows = select.query([]).expect("reads");
        let (mut sum, mut count) = (0i64, 0);
        while let Some(row) = rows.next().expect("reads") {
            let line: String = row.get(1).expect("text");
            let hash: Vec<u8> = row.get(2).expect("bytes");
            sum += row.get::<_, i64>(0).expect("number") + line.len() as i64 + i64::from(hash[0]);
            count += 1;
        }
        black_box(sum);
        count
    });
    ([time, Default::default(), Default::default()], count)
}

/// The book opened, its engine read, every joint judged; counts the joints with a verdict.
fn judge(path: &Path) -> Parts {
    let (book, opened) = timed(|| Book::open_file(path).expect("opens"));
    let today = engine::model::Date::new(2026, 11, 20).ok();
    let (read, taken) = timed(|| book.fold().engine_sources().read(today).expect("reads"));
    let refused: u64 = read.tables.iter().map(|(_, t)| t.refused_count()).sum();
    assert_eq!((refused, read.problems.len()), (0, 0));
    let (judgement, judged) = timed(|| engine::judge::Judgement::of(read.engine));
    let with = judgement.joints().iter().filter(|j| !j.measures.is_empty()).count();
    ([opened, taken, judged], with as u64)
}

fn verify(path: &Path) -> Parts {
    let (verified, time) = timed(|| {
        let mut store = book::SqliteStore::open(path).expect("opens");
        book::verify(&mut store, None).expect("reads")
    });
    assert!(verified.whole(), "{verified:?}");
    ([time, Default::default(), Default::default()], verified.entries)
}
