//! Books made for measuring: one reading an entry, as a page at the vice writes them, of an engine
//! with one surface for every 400 readings, so that every surface is gauged like one that was
//! looked at many times and every joint gets its verdict.

use book::{Book, Pen, Said, Start, Store};
use std::fmt::Write as _;

const HEADING: &str = "feature,station,direction,reading,gauge,by,when\n";

pub(crate) fn pen() -> Pen {
    Pen::new("R", "bench", "2026-11-20T08:00:00Z").expect("a pen")
}

pub(crate) fn joints(entries: u64) -> u64 {
    (entries / 800).max(5)
}

fn described(joints: u64) -> String {
    let mut text = "[engine]\nname = \"bench\"\n[[material]]\nid = \"steel\"\nexpansion = \"11.5e-6 /K\"\n[[gauge]]\nid = \"mike\"\nkind = \"micrometer\"\nerror = \"0.0002 in\"\nrepeat = \"0.0001 in\"\nmaterial = \"steel\"\ncalibrated = \"2026-01-05\"\ndue = \"2027-01-05\"\n[[part]]\nid = \"p\"\nmaterial = \"steel\"\n".to_owned();
    for n in 0..joints {
        for (kind, size) in [("journal", "8.000"), ("bore", "8.012")] {
            let _ = write!(
                text,
                "[[feature]]\nid = \"{kind}.{n}\"\npart = \"p\"\nkind = \"{kind}\"\nas-made = \"{size} in\"\nstations = [\"A\", \"B\", \"C\"]\nlength = \"6 in\"\n"
            );
        }
        let _ = write!(
            text,
            "[[joint]]\nid = \"joint.{n}\"\nkind = \"running\"\ninner = \"journal.{n}\"\nouter = \"bore.{n}\"\n[[limit]]\non = \"joint.{n}\"\nof = \"clearance\"\nmax = \"0.030 in\"\nsource = \"common practice\"\n"
        );
    }
    text
}

/// A book with so many entries. Small ones are written as one does; the checkpoint comes with the
/// first opening.
pub(crate) fn book(store: Box<dyn Store>, entries: u64) -> Book {
    let start = Start { name: "bench".into(), password: None };
    let mut book = Book::create(store, &pen(), &start).expect("begins");
    let said = Said::Described { file: "engine.toml".into(), text: described(joints(entries)) };
    book.append(&pen(), said).expect("writes");
    add(&mut book, joints(entries), 0, entries.saturating_sub(3));
    book
}

/// The reading of one entry.
pub(crate) fn reading(n: u64, joints: u64) -> Said {
    let (kind, size) = if n.is_multiple_of(2) { ("journal", 7_990) } else { ("bore", 8_010) };
    let joint = n / 2 % joints;
    // Of one surface after another all round it: three stations, four directions, then again on
    // another day. Worn some thousandths, as readings of one thing are.
    let round = n / 2 / joints;
    let (station, direction) = (["A", "B", "C"][round as usize % 3], round / 3 % 4 * 45);
    let figure = size + n * 7 % 11 + round * 5 % 7;
    let day = round / 12 % 19 + 1;
    let row = format!(
        "{kind}.{joint},{station},{direction},{}.{:03} in,mike,R,2026-11-{day:02}\n",
        figure / 1000,
        figure % 1000
    );
    Said::Readings { file: "by hand".into(), table: format!("{HEADING}{row}") }
}

pub(crate) fn add(book: &mut Book, joints: u64, from: u64, count: u64) {
    let all: Vec<u64> = (from..from + count).collect();
    for some in all.chunks(5_000) {
        let said = some.iter().map(|n| reading(*n, joints)).collect();
        book.append_all(&pen(), said).expect("writes");
    }
}
