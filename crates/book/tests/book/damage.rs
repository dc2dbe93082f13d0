//! Damaged files: every changed byte is told, and what is whole is got out.

use crate::stores::{File, begun, note, pen};
use book::{AttachedWords, Attachment, Book, Error, Hash, Location, Said, SqliteStore};
use std::path::Path;

/// A small book with everything in it: rows that fill pages, one that needs overflow pages, an
/// attachment, a checkpoint, an index.
fn small(shelf: &File) -> Vec<u8> {
    let mut book = begun(shelf);
    let table = format!("feature,reading\n{}", "pin,7.990 in\n".repeat(500));
    book.append(&pen("R", 1), Said::Readings { file: "t".into(), table }).expect("writes");
    for n in 0..12 {
        book.append(&pen("R", n), note(&format!("note number {n}"))).expect("writes");
    }
    let pdf = Attachment::of(&b"%PDF-1.7 drawing ".repeat(700), Location::Kept).expect("a PDF");
    let words = AttachedWords { about: "rod".into(), name: "d.pdf".into(), ..Default::default() };
    book.attach(&pen("R", 20), &pdf, words).expect("attaches");
    assert!(book.keep_checkpoint().expect("opens"));
    book.append(&pen("R", 21), note("the last")).expect("writes");
    assert_eq!(book.find("last", 3).expect("finds"), [17]);
    drop(book);
    assert!(!shelf.path().with_extension("book-wal").exists(), "closed, the file stands alone");
    std::fs::read(shelf.path()).expect("reads")
}

/// What the book holds, all of it: lines, hashes, attachments, what a search finds.
fn content(path: &Path) -> Result<Vec<u8>, Error> {
    let mut book = Book::open_file(path)?;
    let mut all = Vec::new();
    book::export(&mut book, &mut all)?;
    for words in ["note", "last", "pin", "990", "number 3"] {
        all.extend(format!("{:?}", book.find(words, 50)?).into_bytes());
    }
    Ok(all)
}

/// Told, or harmless: the whole content is byte for byte what it was, and the book goes on.
fn told(path: &Path, whole: &[u8], at: usize) -> bool {
    let Ok(mut store) = SqliteStore::open(path) else { return true };
    // Before an opening, which puts a right checkpoint in the place of one that does not fit.
    if !book::verify(&mut store, None).is_ok_and(|v| v.whole()) {
        return true;
    }
    drop(store);
    assert_eq!(content(path).as_deref(), Ok(whole), "byte {at} changed what the book says, untold");
    let mut book = Book::open_file(path).expect("opens");
    book.append(&pen("R", 30), note("goes on")).expect("writes");
    assert!(book.verify(None).expect("reads").whole(), "byte {at}: what goes on is whole");
    false
}

/// Which bytes of the file carry content, by the SQLite file format: the rest is the gap between
/// a page's cell pointers and its cells, and two numbers in the head that are rewritten with every
/// change (40..44 schema cookie, 96..100 the version of the library that wrote last).
fn is_slack(file: &[u8], at: usize) -> bool {
    if (40..44).contains(&at) || (96..100).contains(&at) {
        return true;
    }
    let page = at / 4096 * 4096;
    let head = if page == 0 { 100 } else { 0 };
    let bytes = &file[page..page + 4096];
    let kind = bytes[head];
    let pointers = match kind {
        0x02 | 0x05 => head + 12,
        0x0A | 0x0D => head + 8,
        // An overflow page: what lies behind the end of its payload. Which pages are that and
        // where their payload ends is not worked out here; see below.
        _ => return false,
    };
    let two = |at: usize| usize::from(u16::from_be_bytes([bytes[at], bytes[at + 1]]));
    let gap = pointers + 2 * two(head + 3)..two(head + 5);
    gap.contains(&(at - page)) || freed(bytes, head, at - page)
}

/// In a free block of a page, behind its four bytes of bookkeeping, or in a fragment.
fn freed(bytes: &[u8], head: usize, at: usize) -> bool {
    let two = |at: usize| usize::from(u16::from_be_bytes([bytes[at], bytes[at + 1]]));
    let mut block = two(head + 1);
    while block != 0 && block + 4 <= bytes.len() {
        if (block + 4..block + two(block + 2)).contains(&at) {
            return true;
        }
        block = two(block);
    }
    false
}

/// The one record of FTS5's bookkeeping that a search does not read: in the index's structure
/// record (row 10 of `find_data`) a cookie of four bytes and, after the numbers of levels and
/// segments, a counter of writes.
fn bookkeeping(path: &Path, file: &[u8]) -> Vec<usize> {
    let connection = rusqlite::Connection::open(path).expect("opens");
    let record: Vec<u8> = connection
        .query_row("SELECT block FROM find_data WHERE id = 10", [], |r| r.get(0))
        .expect("an index");
    let at = file.windows(record.len()).position(|w| w == record).expect("in the file");
    vec![at, at + 1, at + 2, at + 3, at + 6]
}

/// Changes every `step`th byte from `from` on, one at a time; the numbers tried and harmless, and
/// the harmless ones that are not slack.
fn flip_from(
    file: &[u8],
    whole: &[u8],
    path: &Path,
    from: usize,
    step: usize,
) -> (u32, u32, Vec<usize>) {
    let (mut tried, mut harmless, mut unexplained) = (0, 0, Vec::new());
    for at in (from..file.len()).step_by(step) {
        for more in ["-wal", "-shm"] {
            let mut beside = path.as_os_str().to_owned();
            beside.push(more);
            let _ = std::fs::remove_file(Path::new(&beside));
        }
        let mut changed = file.to_vec();
        // A different change at every place, never none.
        changed[at] ^= (at as u8).wrapping_mul(29) | 1;
        std::fs::write(path, changed).expect("writes");
        tried += 1;
        if !told(path, whole, at) {
            harmless += 1;
            if !is_slack(file, at) {
                unexplained.push(at);
            }
        }
    }
    (tried, harmless, unexplained)
}

fn flip(step: usize) {
    const SIDE_BY_SIDE: usize = 4;
    let shelf = File::new();
    let file = small(&shelf);
    let whole = content(&shelf.path()).expect("opens");
    let known = bookkeeping(&shelf.path(), &file);
    let (mut tried, mut harmless, mut unexplained) = (0, 0, Vec::new());
    std::thread::scope(|scope| {
        let workers: Vec<_> = (0..SIDE_BY_SIDE)
            .map(|n| {
                let path = shelf.path().with_extension(format!("flipped-{n}"));
                let (file, whole) = (&file, &whole);
                scope.spawn(move || flip_from(file, whole, &path, n * step, step * SIDE_BY_SIDE))
            })
            .collect();
        for worker in workers {
            let (t, h, u) = worker.join().expect("ends");
            tried += t;
            harmless += h;
            unexplained.extend(u);
        }
    });
    unexplained.retain(|at| !known.contains(at));
    eprintln!(
        "{tried} bytes of {} changed one at a time: {} told; {harmless} carry no content, {} of them in the tails of overflow pages",
        file.len(),
        tried - harmless,
        unexplained.len()
    );
    // What is left must be the unused tail of an overflow page. (Their first byte is the high byte
    // of a small page number, so none is taken for a page with cells.)
    let with_cells: Vec<_> = unexplained
        .into_iter()
        .filter(|at| matches!(file[at / 4096 * 4096], 0x02 | 0x05 | 0x0A | 0x0D) || *at < 4096)
        .collect();
    assert!(with_cells.is_empty(), "not slack, and their change was not told: {with_cells:?}");
}

#[test]
fn a_changed_byte_is_told() {
    flip(211);
}

#[test]
#[ignore = "long: every byte of the file, one at a time"]
fn every_changed_byte_is_told() {
    flip(1);
}

#[test]
fn what_is_whole_is_got_out() {
    let shelf = File::new();
    let file = small(&shelf);
    let saved = book::salvage(&shelf.path()).expect("reads");
    assert_eq!(saved.entries.len(), 17);
    assert!(saved.entries.values().all(|s| s.follows) && saved.missing.is_empty());
    assert_eq!(saved.attachments.len(), 1);
    // One page after another is lost; every entry that does not lie in it is got out.
    let path = shelf.path().with_extension("torn");
    for page in 0..file.len() / 4096 {
        let mut torn = file.clone();
        torn[page * 4096..(page + 1) * 4096].fill(0xA5);
        std::fs::write(&path, &torn).expect("writes");
        let saved = book::salvage(&path).expect("reads");
        for (number, entry) in &saved.entries {
            assert_eq!(Hash::of(entry.line.as_bytes()), entry.hash, "{number}");
        }
        let lost: u64 = saved.missing.iter().map(|(a, b)| b - a + 1).sum();
        let after = 17 - saved.entries.keys().max().copied().unwrap_or(0);
        assert_eq!(saved.entries.len() as u64 + lost + after, 17, "page {page}");
    }
    // The first page, with SQLite's own schema, is lost: nothing of the book is.
    let mut torn = file.clone();
    torn[..4096].fill(0);
    std::fs::write(&path, &torn).expect("writes");
    assert!(SqliteStore::open(&path).is_err());
    assert_eq!(book::salvage(&path).expect("reads").entries.len(), 17);
    // Cut short, or no book at all: no panic, and nothing made up.
    for cut in [0, 1, 99, 4095, 4096, 9000] {
        std::fs::write(&path, &file[..cut]).expect("writes");
        let saved = book::salvage(&path).expect("reads");
        assert!(saved.entries.len() <= 17);
    }
    std::fs::write(
        &path,
        (0..40_960u32).map(|n| (n.wrapping_mul(2_654_435_761) >> 13) as u8).collect::<Vec<_>>(),
    )
    .expect("writes");
    assert_eq!(book::salvage(&path).expect("reads").entries.len(), 0);
}

#[test]
fn a_log_left_by_a_crash_is_salvaged_too() {
    let shelf = File::new();
    let mut book = begun(&shelf);
    for n in 0..5 {
        book.append(&pen("R", n), note("in the log")).expect("writes");
    }
    // Copied while open: what was written last is in the log beside the file.
    let path = shelf.path().with_extension("crashed");
    std::fs::copy(shelf.path(), &path).expect("copies");
    let log = |path: &Path| {
        let mut log = path.as_os_str().to_owned();
        log.push("-wal");
        std::path::PathBuf::from(log)
    };
    std::fs::copy(log(&shelf.path()), log(&path)).expect("copies");
    assert_eq!(book::salvage(&path).expect("reads").entries.len(), 7);
}
