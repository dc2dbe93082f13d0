//! The same on PostgreSQL, beside a bare client on the same server with the same sync.

use crate::append::{LINE_BYTES, told};
use crate::filled::{self, joints, pen, reading};
use crate::server::Server;
use crate::time::{least, ms, of_some, timed};
use ::postgres::{Client, NoTls};
use book::{Book, PostgresStore, Said};
use std::hint::black_box;
use std::time::{Duration, Instant};

pub(crate) fn all(entries: u64) {
    // Its own settings: fsync on, every commit waited for.
    let Some(server) = Server::start("") else { return };
    let address = server.address();
    durable(&address);
    at(&address, entries);
}

fn durable(address: &str) {
    let store = PostgresStore::create(address, "append").expect("makes");
    let mut book = filled::book(Box::new(store), 3);
    let mut bare = Client::connect(address, NoTls).expect("connects");
    bare.batch_execute(
        "CREATE TABLE bare (sequence bigint PRIMARY KEY, line text NOT NULL, hash bytea NOT NULL)",
    )
    .expect("made");
    let insert = bare.prepare("INSERT INTO bare VALUES ($1, $2, $3)").expect("prepares");
    let line = "x".repeat(LINE_BYTES);
    let (mut ours, mut theirs) = (Vec::new(), Vec::new());
    for n in 0..300u64 {
        let said = reading(n, 5);
        let begun = Instant::now();
        black_box(book.append(&pen(), said).expect("writes"));
        ours.push(begun.elapsed());
        let begun = Instant::now();
        bare.execute(&insert, &[&(n as i64), &line, &&[0u8; 32][..]]).expect("writes");
        theirs.push(begun.elapsed());
    }
    told("PostgreSQL", ours, theirs);
}

fn at(address: &str, entries: u64) {
    let store = PostgresStore::create(address, "large").expect("makes");
    let (mut book, made) = timed(|| filled::book(Box::new(store), entries));
    book.append(&pen(), Said::Note { about: "rod".into(), text: "cracked at the fork".into() })
        .expect("writes");
    let mut search = || {
        let rare = of_some(9, || book.find("cracked fork", 20).expect("finds"));
        (rare, of_some(9, || book.find("journal mike", 20).expect("finds")))
    };
    let (rare_at_once, common_at_once) = search();
    // What the server's autovacuum does by itself within minutes: without statistics it takes every
    // word for a rare one.
    Client::connect(address, NoTls)
        .and_then(|mut client| client.batch_execute("ANALYZE pinchbar.entry"))
        .expect("takes its statistics");
    let (rare, common) = search();
    drop(book);
    let mut bare: Vec<Duration> = Vec::new();
    let mut opened: Vec<Duration> = Vec::new();
    let mut judged: Vec<Duration> = Vec::new();
    let open = || {
        let store = PostgresStore::open(address, "large").expect("opens");
        Book::open(Box::new(store)).expect("opens")
    };
    let (book, first) = timed(open);
    assert_eq!(book.opened_from(), 0);
    for _ in 0..3 {
        bare.push(timed(|| rows(address)).1);
        let (book, time) = timed(open);
        assert!(0 < book.opened_from());
        opened.push(time);
        let today = engine::model::Date::new(2026, 11, 20).ok();
        let read = || book.fold().engine_sources().read(today).expect("reads");
        let (judgement, time) = timed(|| engine::judge::Judgement::of(read().engine));
        assert_eq!(judgement.joints().len() as u64, joints(entries));
        judged.push(time);
    }
    let (bare, opened, judged) = (least(&bare), least(&opened), least(&judged));
    println!(
        "PostgreSQL, {entries} entries (made in {:.1} s): find rare {:.2} ms, common {:.2} ms (wanted 50; {:.2} and {:.2} ms before the server had its statistics); rows read with the bare client {bare:.0} ms, book opened {opened:.0} ms (the first time {:.0} ms), engine read and judged {judged:.0} ms; opened and judged {:.2} x bare",
        made.as_secs_f64(),
        ms(rare),
        ms(common),
        ms(rare_at_once),
        ms(common_at_once),
        ms(first),
        (opened + judged) / bare
    );
}

fn rows(address: &str) {
    let mut client = Client::connect(address, NoTls).expect("connects");
    let all = "SELECT sequence, line, hash FROM pinchbar.entry WHERE book = $1 ORDER BY sequence";
    let mut sum = 0usize;
    // Row by row, as the book reads them.
    let mut rows = client.query_raw(all, [&"large"]).expect("reads");
    while let Some(row) =
        ::postgres::fallible_iterator::FallibleIterator::next(&mut rows).expect("reads")
    {
        sum += row.get::<_, String>(1).len() + row.get::<_, Vec<u8>>(2).len();
        sum += row.get::<_, i64>(0) as usize;
    }
    black_box(sum);
}
