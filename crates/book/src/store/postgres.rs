//! Many books in one PostgreSQL database.
//!
//! A writer holds its book's row while it reads what is new and writes the next entry, so writers
//! of one book stand in line and writers of different books do not. Readers are told by NOTIFY.
//! The same rules as in the file: no UPDATE, no DELETE, no TRUNCATE, only the next number.

mod kept;

use super::sqlite::words_of;
use super::{Attached, Batch, Looked, Make, Row, Store, TakeStretch};
use crate::{Error, Hash, Stretch};
use postgres::error::SqlState;
use postgres::fallible_iterator::FallibleIterator;
use postgres::{Client, NoTls, Statement};
use std::collections::BTreeSet;
use std::time::{Duration, Instant};

/// Form of the tables; a newer one is refused.
const TABLES_FORMAT: i32 = 1;
const CHANNEL: &str = "pinchbar_book";
/// Different words of one entry that are indexed; more would not fit a `tsvector`.
const MOST_WORDS: usize = 40_000;
/// Longer words are not indexed; PostgreSQL takes none above 2046 bytes.
const LONGEST_WORD: usize = 200;

/// Body of the trigger that keeps entries and attachments as they are.
const STAYS: &str = "BEGIN RAISE EXCEPTION 'a book is only added to'; END";
/// Body of the trigger that takes the next entry only.
const NEXT: &str = "BEGIN IF NEW.sequence IS DISTINCT FROM (SELECT coalesce(max(sequence), 0) + 1 FROM pinchbar.entry WHERE book = NEW.book) THEN RAISE EXCEPTION 'an entry must be the next one'; END IF; RETURN NEW; END";

const TABLES: &str = "
CREATE SCHEMA pinchbar;
CREATE TABLE pinchbar.form (form integer NOT NULL);
CREATE TABLE pinchbar.book (name text PRIMARY KEY);
CREATE TABLE pinchbar.entry (
    book text NOT NULL REFERENCES pinchbar.book, sequence bigint NOT NULL, line text NOT NULL,
    hash bytea NOT NULL, words tsvector NOT NULL, PRIMARY KEY (book, sequence));
CREATE INDEX entry_words ON pinchbar.entry USING gin (words);
CREATE TABLE pinchbar.attachment (
    book text NOT NULL REFERENCES pinchbar.book, hash bytea NOT NULL, bytes bytea NOT NULL,
    PRIMARY KEY (book, hash));
CREATE TRIGGER entry_next BEFORE INSERT ON pinchbar.entry FOR EACH ROW EXECUTE FUNCTION pinchbar.next();
CREATE TRIGGER entry_stays BEFORE UPDATE OR DELETE ON pinchbar.entry FOR EACH ROW EXECUTE FUNCTION pinchbar.stays();
CREATE TRIGGER entry_never_goes BEFORE TRUNCATE ON pinchbar.entry FOR EACH STATEMENT EXECUTE FUNCTION pinchbar.stays();
CREATE TRIGGER attachment_stays BEFORE UPDATE OR DELETE ON pinchbar.attachment FOR EACH ROW EXECUTE FUNCTION pinchbar.stays();
CREATE TRIGGER attachment_never_goes BEFORE TRUNCATE ON pinchbar.attachment FOR EACH STATEMENT EXECUTE FUNCTION pinchbar.stays();
";
const TRIGGERS: [&str; 5] =
    ["attachment_never_goes", "attachment_stays", "entry_never_goes", "entry_next", "entry_stays"];

/// A book in a PostgreSQL database.
pub struct PostgresStore {
    address: String,
    name: String,
    client: Client,
    /// Prepared when there is first something to write.
    writing: Option<Writing>,
}

/// What a write asks, prepared once: every question is then one way there and back.
#[derive(Clone)]
struct Writing {
    lock: Statement,
    after: Statement,
    insert: Statement,
    /// The same, and tells those who listen when it is committed.
    insert_last: Statement,
}

impl Writing {
    fn prepare(client: &mut Client) -> Result<Self, Error> {
        let mut prepare = |text: &str| client.prepare(text).map_err(trouble);
        Ok(Writing {
            lock: prepare("SELECT name FROM pinchbar.book WHERE name = $1 FOR UPDATE")?,
            after: prepare(AFTER)?,
            insert: prepare(INSERT)?,
            insert_last: prepare(&format!("{INSERT} RETURNING pg_notify($6, $7)"))?,
        })
    }
}

impl std::fmt::Debug for PostgresStore {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        // The address may hold a password.
        write!(f, "PostgresStore {}", self.name)
    }
}

fn trouble(error: postgres::Error) -> Error {
    let Some(said) = error.as_db_error() else {
        return Error::Unavailable(error.to_string());
    };
    let text = said.message().to_owned();
    let code = said.code();
    match code {
        c if *c == SqlState::DISK_FULL => Error::Full(text),
        c if *c == SqlState::READ_ONLY_SQL_TRANSACTION
            || *c == SqlState::INSUFFICIENT_PRIVILEGE =>
        {
            Error::ReadOnly(text)
        }
        c if *c == SqlState::DATA_CORRUPTED || *c == SqlState::INDEX_CORRUPTED => {
            Error::Damaged(text)
        }
        c if *c == SqlState::RAISE_EXCEPTION => Error::wrong(text, ""),
        _ => Error::Unavailable(text),
    }
}

fn connect(address: &str) -> Result<Client, Error> {
    let mut client = Client::connect(address, NoTls).map_err(trouble)?;
    client.batch_execute("SET synchronous_commit = on").map_err(trouble)?;
    Ok(client)
}

impl PostgresStore {
    /// Splits `postgres://.../database#book` into the address and the name of the book.
    ///
    /// # Errors
    /// No name after a `#`.
    pub fn address(text: &str) -> Result<(&str, &str), Error> {
        text.rsplit_once('#').filter(|(_, name)| !name.trim().is_empty()).ok_or_else(|| {
            Error::wrong(
                "the address does not say which book",
                "write its name after a #: postgres://host/database#book",
            )
        })
    }

    /// Makes a new, empty book, and the tables if this is the first.
    ///
    /// # Errors
    /// There is one of that name with entries in it, or the database cannot be reached.
    pub fn create(address: &str, name: &str) -> Result<Self, Error> {
        let mut client = connect(address)?;
        let mut transaction = client.transaction().map_err(trouble)?;
        // Two who make the first book at once stand in line here.
        transaction.batch_execute("SELECT pg_advisory_xact_lock(5791265462)").map_err(trouble)?;
        let there: bool = transaction
            .query_one("SELECT to_regclass('pinchbar.form') IS NOT NULL", &[])
            .map_err(trouble)?
            .get(0);
        if !there {
            let text = format!(
                "CREATE SCHEMA IF NOT EXISTS pinchbar;
                 CREATE FUNCTION pinchbar.stays() RETURNS trigger LANGUAGE plpgsql AS $${STAYS}$$;"
            );
            let tables = TABLES.replacen("CREATE SCHEMA pinchbar;", "", 1);
            // The function that looks at the entries can be made before them: its body is read
            // when it is called.
            let next = format!(
                "CREATE FUNCTION pinchbar.next() RETURNS trigger LANGUAGE plpgsql AS $${NEXT}$$;"
            );
            let form = format!("INSERT INTO pinchbar.form VALUES ({TABLES_FORMAT});");
            transaction.batch_execute(&(text + &next + &tables + &form)).map_err(trouble)?;
        }
        let made = transaction
            .execute("INSERT INTO pinchbar.book VALUES ($1) ON CONFLICT DO NOTHING", &[&name])
            .map_err(trouble)?;
        // One that was begun and has no entry yet is taken for new: an import that failed leaves such.
        let begun = "SELECT 1 FROM pinchbar.entry WHERE book = $1 LIMIT 1";
        if made == 0 && transaction.query_opt(begun, &[&name]).map_err(trouble)?.is_some() {
            return Err(Error::wrong(
                format!("there is a book \"{name}\" already"),
                "give it another name; nothing was changed",
            ));
        }
        transaction.commit().map_err(trouble)?;
        drop(client);
        Self::open(address, name)
    }

    /// Opens a book.
    ///
    /// # Errors
    /// Not there, of a newer form, or the database cannot be reached.
    pub fn open(address: &str, name: &str) -> Result<Self, Error> {
        let mut client = connect(address)?;
        let missing = || Error::Missing(format!("there is no book \"{name}\" in this database"));
        let there: bool = client
            .query_one("SELECT to_regclass('pinchbar.form') IS NOT NULL", &[])
            .map_err(trouble)?
            .get(0);
        if !there {
            return Err(missing());
        }
        let form: i32 = client
            .query_one("SELECT coalesce(max(form), 0) FROM pinchbar.form", &[])
            .map_err(trouble)?
            .get(0);
        match u32::try_from(form) {
            Ok(found) if TABLES_FORMAT < form => {
                return Err(Error::Newer { found, known: TABLES_FORMAT as u32 });
            }
            Ok(1) => {}
            _ => return Err(Error::Damaged(format!("there is no form {form} of the tables"))),
        }
        client
            .query_opt("SELECT name FROM pinchbar.book WHERE name = $1", &[&name])
            .map_err(trouble)?
            .ok_or_else(missing)?;
        client.batch_execute(&format!("LISTEN {CHANNEL}")).map_err(trouble)?;
        Ok(PostgresStore {
            address: address.to_owned(),
            name: name.to_owned(),
            client,
            writing: None,
        })
    }

    fn row(row: &postgres::Row) -> Result<Row, Error> {
        let sequence: i64 = row.try_get(0).map_err(trouble)?;
        let hash: &[u8] = row.try_get(2).map_err(trouble)?;
        Ok(Row {
            sequence: u64::try_from(sequence).unwrap_or(0),
            line: row.try_get(1).map_err(trouble)?,
            hash: Hash::from_bytes(hash)?,
        })
    }
}

/// The words of a line, each once, apart from one another: PostgreSQL's own parser would take
/// `rod.left` for the name of a host.
fn indexed(line: &str) -> String {
    let words = words_of(line);
    let words: BTreeSet<&str> = words
        .split(|c: char| !c.is_alphanumeric())
        .filter(|w| !w.is_empty() && w.len() <= LONGEST_WORD)
        .collect();
    words.into_iter().take(MOST_WORDS).collect::<Vec<_>>().join(" ")
}

const AFTER: &str = "SELECT sequence, line, hash FROM pinchbar.entry WHERE book = $1 AND sequence > $2 ORDER BY sequence";

const INSERT: &str =
    "INSERT INTO pinchbar.entry VALUES ($1, $2, $3, $4, to_tsvector('simple', $5::text))";

fn put(
    transaction: &mut postgres::Transaction<'_>,
    writing: &Writing,
    name: &str,
    batch: &Batch,
) -> Result<(), Error> {
    for Attached { hash, bytes } in &batch.attachments {
        transaction
            .execute(
                "INSERT INTO pinchbar.attachment VALUES ($1, $2, $3) ON CONFLICT DO NOTHING",
                &[&name, &&hash.bytes()[..], bytes],
            )
            .map_err(trouble)?;
    }
    let Some((last, before)) = batch.rows.split_last() else { return Ok(()) };
    for row in before {
        let (sequence, words) = (row.sequence as i64, indexed(&row.line));
        transaction
            .execute(
                &writing.insert,
                &[&name, &sequence, &row.line, &&row.hash.bytes()[..], &words],
            )
            .map_err(trouble)?;
    }
    let (sequence, words) = (last.sequence as i64, indexed(&last.line));
    let told = format!("{} {name}", last.sequence);
    transaction
        .execute(
            &writing.insert_last,
            &[&name, &sequence, &last.line, &&last.hash.bytes()[..], &words, &CHANNEL, &told],
        )
        .map_err(trouble)?;
    Ok(())
}

impl Store for PostgresStore {
    fn read(
        &mut self,
        after: u64,
        take: &mut dyn FnMut(u64, &str, Hash) -> Result<(), Error>,
    ) -> Result<(), Error> {
        let after = i64::try_from(after).unwrap_or(i64::MAX);
        let with: [&(dyn postgres::types::ToSql + Sync); 2] = [&self.name, &after];
        let mut rows = self.client.query_raw(AFTER, with).map_err(trouble)?;
        while let Some(row) = rows.next().map_err(trouble)? {
            let row = Self::row(&row)?;
            take(row.sequence, &row.line, row.hash)?;
        }
        Ok(())
    }

    fn append(&mut self, seen: u64, make: Make<'_>) -> Result<(), Error> {
        let seen = i64::try_from(seen).unwrap_or(i64::MAX);
        let writing = match &self.writing {
            Some(writing) => writing.clone(),
            None => self.writing.insert(Writing::prepare(&mut self.client)?).clone(),
        };
        let mut transaction = self.client.transaction().map_err(trouble)?;
        transaction.query_one(&writing.lock, &[&self.name]).map_err(trouble)?;
        let news = transaction
            .query(&writing.after, &[&self.name, &seen])
            .map_err(trouble)?
            .iter()
            .map(Self::row)
            .collect::<Result<Vec<_>, _>>()?;
        let batch = make(&news)?;
        put(&mut transaction, &writing, &self.name, &batch)?;
        transaction.commit().map_err(trouble)
    }

    fn attachment(&mut self, hash: &Hash) -> Result<Option<Vec<u8>>, Error> {
        let row = self
            .client
            .query_opt(
                "SELECT bytes FROM pinchbar.attachment WHERE book = $1 AND hash = $2",
                &[&self.name, &&hash.bytes()[..]],
            )
            .map_err(trouble)?;
        row.map(|r| r.try_get(0).map_err(trouble)).transpose()
    }

    fn attachments(&mut self) -> Result<Vec<Hash>, Error> {
        self.client
            .query(
                "SELECT hash FROM pinchbar.attachment WHERE book = $1 ORDER BY hash",
                &[&self.name],
            )
            .map_err(trouble)?
            .iter()
            .map(|r| Hash::from_bytes(r.try_get(0).map_err(trouble)?))
            .collect()
    }

    fn find(&mut self, words: &[String], most: usize) -> Result<Vec<u64>, Error> {
        if words.is_empty() {
            return Ok(Vec::new());
        }
        // Words are letters and digits only; quoted all the same.
        let query: Vec<String> =
            words.iter().map(|w| format!("'{}':*", w.replace(['\'', '\\'], " "))).collect();
        let most = i64::try_from(most).unwrap_or(i64::MAX);
        let rows = self
            .client
            .query(
                "SELECT sequence FROM pinchbar.entry WHERE book = $1 AND words @@ to_tsquery('simple', $2) ORDER BY sequence DESC LIMIT $3",
                &[&self.name, &query.join(" & "), &most],
            )
            .map_err(trouble)?;
        rows.iter()
            .map(|r| Ok(u64::try_from(r.try_get::<_, i64>(0).map_err(trouble)?).unwrap_or(0)))
            .collect()
    }

    fn look(&mut self) -> Result<Looked, Error> {
        let mut looked = Looked::default();
        let rows = self
            .client
            .query(
                "SELECT t.tgname::text, p.prosrc, t.tgenabled::text FROM pg_trigger t
                 JOIN pg_proc p ON p.oid = t.tgfoid JOIN pg_class c ON c.oid = t.tgrelid
                 JOIN pg_namespace n ON n.oid = c.relnamespace
                 WHERE n.nspname = 'pinchbar' AND NOT t.tgisinternal ORDER BY t.tgname",
                &[],
            )
            .map_err(trouble)?;
        for name in TRIGGERS {
            let wanted = if name == "entry_next" { NEXT } else { STAYS };
            let as_made = rows.iter().any(|r| {
                let is = |at: usize, text: &str| {
                    r.try_get::<_, String>(at).is_ok_and(|found| found == text)
                };
                is(0, name) && is(1, wanted) && is(2, "O")
            });
            if !as_made {
                looked
                    .faults
                    .push(format!("the rule \"{name}\" of the tables is not as it was made"));
            }
        }
        for setting in ["fsync", "full_page_writes"] {
            let on: String =
                self.client.query_one(&format!("SHOW {setting}"), &[]).map_err(trouble)?.get(0);
            if on != "on" {
                looked.not_looked_at.push(format!(
                    "what a power cut would leave: this server runs with {setting} = {on}"
                ));
            }
        }
        looked.not_looked_at.push(
            "the pages of the database itself: its keeper runs pg_amcheck and keeps data checksums on"
                .to_owned(),
        );
        Ok(looked)
    }

    fn wait(&mut self, seen: u64, most: Duration) -> Result<bool, Error> {
        let until = Instant::now() + most;
        loop {
            let last: i64 = self
                .client
                .query_one(
                    "SELECT coalesce(max(sequence), 0) FROM pinchbar.entry WHERE book = $1",
                    &[&self.name],
                )
                .map_err(trouble)?
                .get(0);
            if seen < u64::try_from(last).unwrap_or(0) {
                return Ok(true);
            }
            let left = until.saturating_duration_since(Instant::now());
            if left.is_zero() {
                return Ok(false);
            }
            // Told of any book of this database; the question above is asked again then.
            self.client.notifications().timeout_iter(left).next().map_err(trouble)?;
        }
    }

    fn checkpoint(&mut self, take: TakeStretch<'_>) -> Result<(), Error> {
        self.read_checkpoint(take)
    }

    fn keep_checkpoint(
        &mut self,
        after: u64,
        there: u64,
        stretches: &[Stretch],
    ) -> Result<bool, Error> {
        self.write_checkpoint(after, there, stretches)
    }

    fn again(&mut self) -> Result<(), Error> {
        *self = PostgresStore::open(&self.address, &self.name)?;
        Ok(())
    }
}
