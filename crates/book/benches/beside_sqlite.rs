//! The book beside bare SQLite, in the same run. `cargo bench -p book`; a number after `--` is the
//! largest book of the growth table (1 000 000 takes some minutes).

use book::{Book, Pen, Said, SqliteStore, Start, Store};
use rusqlite::{Connection, params};
use std::hint::black_box;
use std::path::Path;
use std::time::{Duration, Instant};

const HEADING: &str = "feature,reading,gauge,by,when\n";

fn pen() -> Pen {
    Pen::new("R", "bench", "2026-11-20T08:00:00Z").expect("a pen")
}

fn median(mut times: Vec<Duration>) -> Duration {
    times.sort();
    times[times.len() / 2]
}

fn ms(time: Duration) -> f64 {
    1e3 * time.as_secs_f64()
}

/// Processor time of this thread so far: on a busy machine it says more than the clock.
fn processor() -> Duration {
    let text = std::fs::read_to_string("/proc/thread-self/schedstat").unwrap_or_default();
    let spent = text.split_whitespace().next().and_then(|n| n.parse().ok());
    Duration::from_nanos(spent.unwrap_or(0))
}

/// By the clock and by the processor.
fn timed<T>(work: impl FnOnce() -> T) -> (T, [Duration; 2]) {
    let (begun, spent) = (Instant::now(), processor());
    let done = work();
    (done, [begun.elapsed(), processor() - spent])
}

/// The least by the clock and the least by the processor.
fn least(times: &[[Duration; 2]]) -> [f64; 2] {
    [0, 1].map(|which| times.iter().map(|t| ms(t[which])).fold(f64::INFINITY, f64::min))
}

/// The most memory this process has held, megabytes.
fn most_memory_mb() -> f64 {
    std::fs::read_to_string("/proc/self/status")
        .ok()
        .and_then(|s| {
            let line = s.lines().find(|l| l.starts_with("VmHWM"))?.to_owned();
            line.split_whitespace().nth(1)?.parse::<f64>().ok()
        })
        .map_or(f64::NAN, |kb| kb / 1024.0)
}

/// A book with one reading an entry, of every feature in turn, as a page at the vice writes them.
fn filled(path: &Path, entries: u64) -> Book {
    let start = Start { name: "bench".into(), password: None };
    let mut book = Book::create_file(path, &pen(), &start).expect("begins");
    let text = "[engine]\nname = \"bench\"\npattern = \"inside-six-coupled\"\n[[gauge]]\nid = \"mike\"\nkind = \"micrometer\"\nerror = \"0.0002 in\"\nrepeat = \"0.0001 in\"\ncalibrated = \"2026-01-05\"\ndue = \"2027-01-05\"\n";
    let said = Said::Described { file: "engine.toml".into(), text: text.into() };
    book.append(&pen(), said).expect("writes");
    let read = book.fold().engine_sources().read(None).expect("reads");
    let features: Vec<String> = read.engine.features.iter().map(|f| f.id.clone()).collect();
    add(&mut book, &features, entries.saturating_sub(3));
    book
}

fn add(book: &mut Book, features: &[String], count: u64) {
    let mut left = count;
    let mut n = 0usize;
    while 0 < left {
        let some = left.min(5_000);
        let said = (0..some)
            .map(|_| {
                n += 1;
                let feature = &features[n % features.len()];
                // Worn some thousandths, as readings of one thing are; not all over the inch.
                let row = format!(
                    "{feature},7.{} in,mike,R,2026-11-{:02}\n",
                    980 + n * 7 % 11,
                    n % 19 + 1
                );
                Said::Readings { file: "by hand".into(), table: format!("{HEADING}{row}") }
            })
            .collect();
        book.append_all(&pen(), said).expect("writes");
        left -= some;
    }
}

fn durable_append(folder: &Path) {
    const TIMES: u32 = 400;
    let mut book = filled(&folder.join("append.book"), 3);
    let bare = Connection::open(folder.join("bare.db")).expect("opens");
    bare.pragma_update(None, "journal_mode", "WAL").expect("set");
    bare.pragma_update(None, "synchronous", "FULL").expect("set");
    bare.execute_batch(
        "CREATE TABLE entry (sequence INTEGER PRIMARY KEY, line TEXT NOT NULL, hash BLOB NOT NULL)",
    )
    .expect("made");
    let table = format!("{HEADING}crank-pin.left,7.990 in,mike,R,2026-11-01\n");
    let line = "x".repeat(380);
    let (mut ours, mut theirs) = (Vec::new(), Vec::new());
    // Turn about, so that both meet the same disk.
    for n in 0..TIMES {
        let said = Said::Readings { file: "by hand".into(), table: table.clone() };
        let begun = Instant::now();
        black_box(book.append(&pen(), said).expect("writes"));
        ours.push(begun.elapsed());
        let begun = Instant::now();
        bare.prepare_cached("INSERT INTO entry VALUES (?1, ?2, ?3)")
            .and_then(|mut s| s.execute(params![n, line, &[0u8; 32][..]]))
            .expect("writes");
        theirs.push(begun.elapsed());
    }
    let least = |times: &[Duration]| times.iter().min().copied().map_or(f64::NAN, ms);
    let leasts = [least(&ours), least(&theirs)];
    let (ours, theirs) = (median(ours), median(theirs));
    println!(
        "durable append, median of {TIMES}: book {:.3} ms, bare SQLite {:.3} ms, ratio {:.2}; least {:.3} and {:.3} ms, ratio {:.2} (wanted 1.30)",
        ms(ours),
        ms(theirs),
        ours.as_secs_f64() / theirs.as_secs_f64(),
        leasts[0],
        leasts[1],
        leasts[0] / leasts[1]
    );
}

fn bare_read(path: &Path) {
    let bare = Connection::open(path).expect("opens");
    let mut select =
        bare.prepare("SELECT sequence, line, hash FROM entry ORDER BY sequence").expect("prepares");
    let mut rows = select.query([]).expect("reads");
    let mut sum = 0i64;
    while let Some(row) = rows.next().expect("reads") {
        let line: String = row.get(1).expect("text");
        let hash: Vec<u8> = row.get(2).expect("bytes");
        sum += row.get::<_, i64>(0).expect("number") + line.len() as i64 + i64::from(hash[0]);
    }
    black_box(sum);
}

fn growth(folder: &Path, entries: u64) {
    let path = folder.join(format!("{entries}.book"));
    let begun = Instant::now();
    drop(filled(&path, entries));
    let made = begun.elapsed();
    let (mut bare, mut opened, mut read, mut judged) = (vec![], vec![], vec![], vec![]);
    for _ in 0..3 {
        // Turn about, so that both meet the same machine.
        bare.push(timed(|| bare_read(&path)).1);
        let (book, time) = timed(|| Book::open_file(&path).expect("opens"));
        opened.push(time);
        let today = engine::model::Date::new(2026, 11, 20).ok();
        let (engine, time) = timed(|| book.fold().engine_sources().read(today).expect("reads"));
        read.push(time);
        assert_eq!(engine.engine.readings.len() as u64, entries - 3);
        judged.push(timed(|| black_box(engine::judge::Judgement::of(engine.engine))).1);
    }
    let mut book = Book::open_file(&path).expect("opens");
    book.append(&pen(), Said::Note { about: "rod".into(), text: "cracked at the fork".into() })
        .expect("writes");
    let begun = Instant::now();
    assert_eq!(book.find("cracked fork", 20).expect("finds").len(), 1);
    let first_find = begun.elapsed();
    let find = |book: &mut Book, words: &str| {
        median(
            (0..9)
                .map(|_| {
                    let begun = Instant::now();
                    black_box(book.find(words, 20).expect("finds"));
                    begun.elapsed()
                })
                .collect(),
        )
    };
    let (rare, common) = (find(&mut book, "cracked fork"), find(&mut book, "crank pin mike"));
    let appended = median(
        (0..50)
            .map(|_| {
                let begun = Instant::now();
                let said = Said::Note { about: "rod".into(), text: "x".into() };
                book.append(&pen(), said).expect("writes");
                begun.elapsed()
            })
            .collect(),
    );
    let [bare, opened, read, judged] =
        [&bare, &opened, &read, &judged].map(|times| least(times.as_slice()));
    println!(
        "{entries} entries, made in {:.1} s; least of 3, ms by the clock (by the processor):",
        made.as_secs_f64()
    );
    let told = |what: &str, [clock, spent]: [f64; 2]| {
        println!(
            "    {what:<44} {clock:>9.1} ({spent:>9.1})  {:>6.2} x bare ({:.2})",
            clock / bare[0],
            spent / bare[1]
        );
    };
    told("rows read with bare SQLite", bare);
    told("book opened, chain followed", opened);
    told("tables laid together and read by the engine", read);
    told("engine judged", judged);
    told("all of it", [0, 1].map(|n| opened[n] + read[n] + judged[n]));
    println!(
        "    find rare {:.2} ms, common {:.2} ms (first, indexing: {:.0} ms); append {:.2} ms; most memory so far {:.0} MB",
        ms(rare),
        ms(common),
        ms(first_find),
        ms(appended),
        most_memory_mb()
    );
}

fn joining(folder: &Path) {
    let (one, other) = (folder.join("one.book"), folder.join("other.book"));
    let mut first = filled(&one, 50_000);
    let mut store = SqliteStore::open(&one).expect("opens");
    store.backup(&other).expect("copies");
    let mut second = Book::open_file(&other).expect("opens");
    let features = vec!["crank-pin.left".to_owned()];
    add(&mut first, &features, 50_000);
    // Another entry first, or the same rows by the same pen would be the same chain.
    second
        .append(&pen(), Said::Note { about: "rod".into(), text: "apart".into() })
        .expect("writes");
    add(&mut second, &features, 49_999);
    drop((first, second));
    let (mut first, mut second) =
        (Book::open_file(&one).expect("opens"), Book::open_file(&other).expect("opens"));
    let into: Box<dyn Store> =
        Box::new(SqliteStore::create(&folder.join("joined.book")).expect("makes"));
    let ((joined, what), [clock, spent]) =
        timed(|| book::join(&mut first, &mut second, into, &pen()).expect("joins"));
    println!(
        "join of two copies of {} and {} entries, {} and {} of them their own: {:.2} s ({:.2} s of the processor) for {} entries (wanted 5 s)",
        first.head().sequence,
        second.head().sequence,
        what.only_first,
        what.only_second,
        clock.as_secs_f64(),
        spent.as_secs_f64(),
        joined.head().sequence
    );
}

fn main() {
    let most = std::env::args().filter_map(|a| a.parse::<u64>().ok()).next().unwrap_or(200_000);
    let folder = tempfile::TempDir::new().expect("a folder");
    durable_append(folder.path());
    for entries in [1_000, 10_000, 100_000, 200_000, 1_000_000] {
        if entries <= most {
            growth(folder.path(), entries);
        }
    }
    joining(folder.path());
}
