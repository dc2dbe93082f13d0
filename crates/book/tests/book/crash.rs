//! Writers killed in the middle, disks that fill, files that cannot be written.

use crate::stores::{File, Shelf, begun, note, pen};
use book::{Book, Error, Hash, Said, SqliteStore, Store};
use std::collections::HashMap;
use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::sync::mpsc;
use std::time::Duration;

/// Says to a child what to open: a file, or `address#name` of a book on a server.
const WHERE: &str = "PINCHBAR_TEST_BOOK";
/// And the name it writes under in its notes.
const WHO: &str = "PINCHBAR_TEST_WRITER";
const HOW_MANY: &str = "PINCHBAR_TEST_ENTRIES";

fn open(place: &str) -> Box<dyn Store> {
    #[cfg(feature = "postgres")]
    if let Ok((address, name)) = book::PostgresStore::address(place) {
        return Box::new(book::PostgresStore::open(address, name).expect("opens"));
    }
    Box::new(SqliteStore::open(Path::new(place)).expect("opens"))
}

/// The writer: appends until it is killed, and tells every entry once it is acknowledged.
#[test]
#[ignore = "not a test by itself: the tests here start it as a process of its own"]
fn child() {
    let Ok(place) = std::env::var(WHERE) else { return };
    let who = std::env::var(WHO).unwrap_or_default();
    let most = std::env::var(HOW_MANY).ok().and_then(|n| n.parse().ok()).unwrap_or(u64::MAX);
    let mut book = Book::open(open(&place)).expect("opens");
    for n in 0..most {
        let text = format!("{who} {n}");
        let written = book.append(&pen("R", n as u32), note(&text)).expect("writes");
        println!("ACK {text} {}", written.hash);
    }
}

fn writer(place: &str, who: &str, most: u64) -> Child {
    Command::new(std::env::current_exe().expect("this program"))
        .args(["--exact", "crash::child", "--include-ignored", "--nocapture"])
        .env(WHERE, place)
        .env(WHO, who)
        .env(HOW_MANY, most.to_string())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .expect("starts")
}

/// Lines as they come, so that waiting for one can end.
fn acknowledged(child: &mut Child) -> mpsc::Receiver<(String, Hash)> {
    let (send, receive) = mpsc::channel();
    let out = BufReader::new(child.stdout.take().expect("piped"));
    std::thread::spawn(move || {
        for line in out.lines().map_while(Result::ok) {
            // The last line of a killed writer may be half a line: no acknowledgement then.
            let Some((_, told)) = line.split_once("ACK ") else { continue };
            let Some((text, hash)) = told.rsplit_once(' ') else { continue };
            if let Ok(hash) = Hash::parse(hash)
                && send.send((text.to_owned(), hash)).is_err()
            {
                break;
            }
        }
    });
    receive
}

/// Kills writers at random moments until so many entries were acknowledged in all.
fn kill_until(shelf: &dyn Shelf, place: &str, wanted: usize) {
    drop(begun(shelf));
    let mut told: HashMap<String, Hash> = HashMap::new();
    // A fixed seed (Knuth's MMIX generator), so that a failure can be repeated.
    let mut seed = 0x5EED_u64;
    let mut kills = 0;
    while told.len() < wanted {
        let mut child = writer(place, &format!("w{kills}"), u64::MAX);
        let lines = acknowledged(&mut child);
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        // After the first, so that every writer gets to write; then anywhere in an append.
        let first = lines.recv_timeout(Duration::from_secs(60)).expect("the writer writes");
        told.insert(first.0, first.1);
        std::thread::sleep(Duration::from_micros(seed >> 46));
        child.kill().expect("kill -9");
        child.wait().expect("ends");
        told.extend(lines.iter());
        kills += 1;
    }
    let mut book = Book::open(shelf.store()).expect("the chain is whole");
    let verified = book.verify(None).expect("reads");
    assert!(verified.whole(), "{verified:?}");
    let mut there = HashMap::new();
    book.each(&mut |entry, hash, _| {
        if let Said::Note { text, .. } = &entry.said {
            assert!(there.insert(text.clone(), hash).is_none(), "{text} stands twice");
        }
        Ok(())
    })
    .expect("reads");
    for (text, hash) in &told {
        assert_eq!(there.get(text), Some(hash), "{text} was acknowledged");
    }
    // At most the one entry in hand when a writer died can be there without a word.
    assert!(there.len() <= told.len() + kills, "{} {} {kills}", there.len(), told.len());
    eprintln!("{} entries acknowledged over {kills} kills; all there, chain whole", told.len());
}

#[test]
fn killed_writers_lose_nothing() {
    let shelf = File::new();
    kill_until(&shelf, &shelf.path().display().to_string(), 1_000);
}

#[test]
#[ignore = "long on a busy machine: ten thousand appends"]
fn killed_writers_lose_nothing_in_ten_thousand() {
    let shelf = File::new();
    kill_until(&shelf, &shelf.path().display().to_string(), 10_000);
}

#[cfg(feature = "postgres")]
fn killed_on_postgres(wanted: usize) {
    let Some(server) = crate::server::Server::start("") else { return };
    let shelf = crate::on_postgres::OnServer::new(&server);
    let place = shelf.place();
    kill_until(&shelf, &place, wanted);
}

#[cfg(feature = "postgres")]
#[test]
fn killed_writers_lose_nothing_on_postgres() {
    killed_on_postgres(300);
}

#[cfg(feature = "postgres")]
#[test]
#[ignore = "long on a busy machine: ten thousand appends"]
fn killed_writers_lose_nothing_in_ten_thousand_on_postgres() {
    killed_on_postgres(10_000);
}

#[test]
fn two_processes_write_one_file() {
    let shelf = File::new();
    drop(begun(&shelf));
    let place = shelf.path().display().to_string();
    let mut children = [writer(&place, "a", 60), writer(&place, "b", 60)];
    let mut told = Vec::new();
    let lines: Vec<_> = children.iter_mut().map(acknowledged).collect();
    for receive in lines {
        told.extend(receive.iter());
    }
    for child in &mut children {
        assert!(child.wait().expect("ends").success());
    }
    assert_eq!(told.len(), 120);
    let mut book = Book::open(shelf.store()).expect("the chain is whole");
    assert_eq!(book.head().sequence, 122);
    assert!(book.verify(None).expect("reads").whole());
    for (text, hash) in told {
        assert!(book.fold().by_hash(&hash).is_some(), "{text}");
    }
}

/// A file system of one megabyte, taken away again in the end.
struct Small(tempfile::TempDir);

impl Small {
    fn new() -> Option<Small> {
        let dir = tempfile::TempDir::new().expect("a folder");
        let mounted = Command::new("mount")
            .args(["-t", "tmpfs", "-o", "size=1m", "tmpfs"])
            .arg(dir.path())
            .stderr(Stdio::null())
            .status()
            .is_ok_and(|s| s.success());
        if !mounted {
            eprintln!(
                "\nNOT RUN: a small tmpfs cannot be mounted here (it needs root); a full disk was not tested\n"
            );
            return None;
        }
        Some(Small(dir))
    }
}

impl Drop for Small {
    fn drop(&mut self) {
        let _ = Command::new("umount").arg(self.0.path()).status();
    }
}

#[test]
fn a_full_disk_keeps_what_was_acknowledged() {
    let Some(small) = Small::new() else { return };
    let path = small.0.path().join("engine.book");
    let start = book::Start { name: "x".into(), password: None };
    let mut book = Book::create_file(&path, &pen("R", 0), &start).expect("begins");
    let long = "long ".repeat(2000);
    let mut last = book.head();
    let refusal = loop {
        match book.append(&pen("R", 1), note(&long)) {
            Ok(written) => last = written,
            Err(error) => break error,
        }
        assert!(last.sequence < 1000, "a megabyte never fills");
    };
    assert!(matches!(refusal, Error::Full(_)), "{refusal:?}");
    assert!(refusal.to_string().contains("no room left"), "{refusal}");
    assert!(10 < last.sequence);
    assert_eq!(book.head(), last, "the refused entry is not in the fold either");
    drop(book);
    // Without a byte to spare the book opens and reads; when there is room again it goes on.
    std::fs::copy(&path, std::env::temp_dir().join("pinchbar-full-copy")).expect("reads");
    let _ = std::fs::remove_file(std::env::temp_dir().join("pinchbar-full-copy"));
    let mut book = Book::open_file(&path).expect("opens");
    assert_eq!(book.head(), last);
    let bigger = Command::new("mount")
        .args(["-o", "remount,size=4m"])
        .arg(small.0.path())
        .status()
        .is_ok_and(|s| s.success());
    assert!(bigger, "more room");
    book.append(&pen("R", 2), note(&long)).expect("goes on");
    let verified = book.verify(None).expect("reads");
    assert!(verified.whole(), "{verified:?}");
    drop(book);
}

#[test]
fn a_read_only_file_is_read_and_not_written() {
    let shelf = File::new();
    let mut book = begun(&shelf);
    book.append(&pen("R", 1), note("bent strap")).expect("writes");
    drop(book);
    let mut rights = std::fs::metadata(shelf.path()).expect("there").permissions();
    rights.set_readonly(true);
    std::fs::set_permissions(shelf.path(), rights).expect("changed");
    let before = std::fs::read(shelf.path()).expect("reads");
    let mut book = Book::open_file(&shelf.path()).expect("opens");
    assert_eq!(book.head().sequence, 3);
    assert_eq!(book.find("strap", 5).expect("finds"), [3], "found without an index");
    let error = book.append(&pen("R", 2), note("x")).expect_err("refused");
    assert!(matches!(error, Error::ReadOnly(_)), "{error:?}");
    let verified = book.verify(None).expect("reads");
    assert!(verified.whole() && !verified.not_looked_at.is_empty(), "{verified:?}");
    drop(book);
    assert_eq!(std::fs::read(shelf.path()).expect("reads"), before);
}
