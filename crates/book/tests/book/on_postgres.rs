//! What PostgreSQL alone must bear.

use crate::server::Server;
use crate::stores::{Shelf, begun, note, pen, suite};
use book::{Book, Error, PostgresStore, Store};
use std::sync::atomic::{AtomicU32, Ordering};
use std::time::Duration;

/// A book on the server.
pub(crate) struct OnServer {
    address: String,
    name: String,
}

impl OnServer {
    pub(crate) fn new(server: &Server) -> Self {
        static NUMBER: AtomicU32 = AtomicU32::new(0);
        let name = format!("book {}", NUMBER.fetch_add(1, Ordering::Relaxed));
        OnServer { address: server.address(), name }
    }

    /// As another process is told where it is.
    pub(crate) fn place(&self) -> String {
        format!("{}#{}", self.address, self.name)
    }
}

impl Shelf for OnServer {
    fn store(&self) -> Box<dyn Store> {
        let opened = PostgresStore::open(&self.address, &self.name)
            .or_else(|_| PostgresStore::create(&self.address, &self.name));
        Box::new(opened.expect("a store"))
    }

    fn tamper(&self) -> Vec<Result<(), String>> {
        let mut client =
            postgres::Client::connect(&self.address, postgres::NoTls).expect("connects");
        [
            "UPDATE pinchbar.entry SET line = 'x' WHERE sequence = 1",
            "DELETE FROM pinchbar.entry WHERE sequence = 3",
            "TRUNCATE pinchbar.entry",
            "INSERT INTO pinchbar.entry SELECT book, 99, line, hash, words FROM pinchbar.entry WHERE sequence = 2",
            "INSERT INTO pinchbar.entry SELECT book, 3, line, hash, words FROM pinchbar.entry WHERE sequence = 2 ON CONFLICT (book, sequence) DO UPDATE SET line = 'x'",
            "DELETE FROM pinchbar.attachment",
            "UPDATE pinchbar.attachment SET bytes = ''",
            "TRUNCATE pinchbar.attachment",
        ]
        .into_iter()
        .map(|sql| {
            client.batch_execute(sql).map_err(|e| {
                e.as_db_error().map_or_else(|| e.to_string(), |d| d.message().to_owned())
            })
        })
        .collect()
    }
}

#[test]
fn postgres_conforms() {
    let Some(server) = Server::start("fsync = off") else { return };
    suite(&|| Box::new(OnServer::new(&server)));
    refusals(&server);
}

fn refusals(server: &Server) {
    let address = server.address();
    assert!(matches!(PostgresStore::open(&address, "nowhere"), Err(Error::Missing(_))));
    assert!(matches!(PostgresStore::create(&address, "book 0"), Err(Error::Wrong { .. })));
    assert!(matches!(PostgresStore::open("host=/nowhere user=x", "x"), Err(Error::Unavailable(_))));
    assert!(PostgresStore::address("postgres://host/db").is_err());
    let split = PostgresStore::address("postgres://host/db#No. 1");
    assert_eq!(split, Ok(("postgres://host/db", "No. 1")));
    let mut client = postgres::Client::connect(&address, postgres::NoTls).expect("connects");
    client
        .batch_execute("ALTER TABLE pinchbar.entry DISABLE TRIGGER entry_stays")
        .expect("disabled");
    let mut store = PostgresStore::open(&address, "book 0").expect("opens");
    let verified = book::verify(&mut store, None).expect("reads");
    assert!(verified.faults.iter().any(|f| f.what.contains("entry_stays")), "{verified:?}");
    client.batch_execute("UPDATE pinchbar.form SET form = 2").expect("changed");
    let newer = PostgresStore::open(&address, "book 0").expect_err("newer");
    assert_eq!(newer, Error::Newer { found: 2, known: 1 });
}

/// The server stops and starts again while three write: every acknowledged entry is there once.
#[test]
fn postgres_stops_and_starts_in_mid_write() {
    let Some(server) = Server::start("") else { return };
    let shelf = OnServer::new(&server);
    drop(begun(&shelf));
    let mut acknowledged = Vec::new();
    std::thread::scope(|scope| {
        let writers: Vec<_> = (0..3)
            .map(|who| {
                let store = shelf.store();
                scope.spawn(move || {
                    let mut book = Book::open(store).expect("opens");
                    let mut told = Vec::new();
                    for n in 0..120 {
                        match book.append(&pen("R", n), note(&format!("{who} {n}"))) {
                            Ok(written) => told.push((format!("{who} {n}"), written)),
                            // It was away for too long; said to the writer, who goes on later.
                            Err(Error::Unavailable(_)) => {
                                std::thread::sleep(Duration::from_millis(200));
                            }
                            Err(other) => panic!("{other}"),
                        }
                    }
                    told
                })
            })
            .collect();
        for how in ["immediate", "fast", "immediate"] {
            std::thread::sleep(Duration::from_millis(250));
            server.down(how);
            server.up();
        }
        for writer in writers {
            acknowledged.extend(writer.join().expect("ends"));
        }
    });
    let mut book = Book::open(shelf.store()).expect("the chain is whole");
    assert!(book.verify(None).expect("reads").whole());
    let mut texts = std::collections::HashMap::new();
    book.each(&mut |entry, hash, _| {
        if let book::Said::Note { text, .. } = &entry.said {
            assert!(texts.insert(text.clone(), hash).is_none(), "{text} stands twice");
        }
        Ok(())
    })
    .expect("reads");
    assert!(100 < acknowledged.len(), "{}", acknowledged.len());
    for (text, written) in acknowledged {
        assert_eq!(texts.get(&text), Some(&written.hash), "{text} was acknowledged");
    }
}
