//! One SQLite file is one book.
//!
//! Write-ahead log with `synchronous=FULL`: a commit returns when the log is on the disk. The
//! table of entries refuses UPDATE, DELETE and any INSERT that is not the next number. The search
//! index is derived and is brought up to date when something is looked for, so that an entry
//! costs one insert and one sync.

mod kept;
mod look;
mod schema;

use super::{Attached, Batch, Looked, Make, Row, Store, TakeStretch};
use crate::{Entry, Error, Hash, Stretch};
use rusqlite::{
    Connection, ErrorCode, OpenFlags, OptionalExtension, TransactionBehavior, backup::Backup,
    params,
};
use schema::SCHEMA;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

/// Form of the file; a newer one is refused.
const FILE_FORMAT: i32 = 1;
/// "PBok", in the header of the file.
const APPLICATION_ID: i32 = 0x5042_6f6b;
/// How long a writer waits for another before it gives up.
const PATIENCE: Duration = Duration::from_secs(30);

/// A book in a file.
#[derive(Debug)]
pub struct SqliteStore {
    path: PathBuf,
    connection: Connection,
    writable: bool,
}

pub(crate) fn trouble(error: rusqlite::Error) -> Error {
    let text = error.to_string();
    match error.sqlite_error_code() {
        Some(ErrorCode::DiskFull) => Error::Full(text),
        Some(ErrorCode::ReadOnly | ErrorCode::PermissionDenied) => Error::ReadOnly(text),
        Some(ErrorCode::DatabaseCorrupt | ErrorCode::NotADatabase) => Error::Damaged(text),
        _ => match error {
            // A stored value of a kind that was never written there.
            rusqlite::Error::InvalidColumnType(..)
            | rusqlite::Error::FromSqlConversionFailure(..)
            | rusqlite::Error::Utf8Error(..)
            | rusqlite::Error::IntegralValueOutOfRange(..) => Error::Damaged(text),
            _ => Error::Unavailable(text),
        },
    }
}

impl SqliteStore {
    /// Whether a file is a book: by its first bytes, or, should these be damaged, by a name that
    /// ends in `.book`.
    pub fn is_book(path: &Path) -> bool {
        use std::io::Read;
        let mut head = [0u8; 72];
        let by_head = std::fs::File::open(path).and_then(|mut f| f.read_exact(&mut head)).is_ok()
            && head.starts_with(b"SQLite format 3\0")
            && head[68..72] == APPLICATION_ID.to_be_bytes();
        by_head || path.is_file() && path.extension().is_some_and(|e| e == "book")
    }

    /// Makes a new, empty file.
    ///
    /// # Errors
    /// There is something at `path`, or it cannot be written.
    pub fn create(path: &Path) -> Result<Self, Error> {
        // Claims the name first: two who begin the same book at once cannot both succeed.
        std::fs::OpenOptions::new().write(true).create_new(true).open(path).map_err(|e| match e
            .kind()
        {
            std::io::ErrorKind::AlreadyExists => Error::wrong(
                format!("{} is there already", path.display()),
                "name a file that does not exist yet; nothing was changed",
            ),
            _ => Error::Unavailable(format!("{} could not be made: {e}", path.display())),
        })?;
        let made = Self::lay_out(path);
        if made.is_err() {
            // Nothing but an empty file of our own making is taken away.
            let _ = std::fs::remove_file(path);
        }
        made
    }

    fn lay_out(path: &Path) -> Result<Self, Error> {
        let connection = Connection::open(path).map_err(trouble)?;
        connection.pragma_update(None, "journal_mode", "WAL").map_err(trouble)?;
        settings(&connection)?;
        let mut text = String::from("BEGIN IMMEDIATE;");
        for (_, sql) in SCHEMA {
            text.push_str(sql);
            text.push(';');
        }
        text.push_str(&format!(
            "PRAGMA application_id = {APPLICATION_ID}; PRAGMA user_version = {FILE_FORMAT}; COMMIT;"
        ));
        connection.execute_batch(&text).map_err(trouble)?;
        sync_folder_of(path);
        Ok(SqliteStore { path: path.to_owned(), connection, writable: true })
    }

    /// Opens a book; read-only when the file or its folder cannot be written.
    ///
    /// # Errors
    /// Not there, not a book, damaged at its head, or of a newer form.
    pub fn open(path: &Path) -> Result<Self, Error> {
        if !path.is_file() {
            return Err(Error::Missing(format!("there is no book at {}", path.display())));
        }
        if std::fs::metadata(path).is_ok_and(|m| m.len() == 0) {
            return Err(Error::Damaged(format!("{} is empty", path.display())));
        }
        let damaged = |e: Error| match e {
            Error::Damaged(what) => Error::Damaged(format!(
                "{} is not a book, or is damaged so that it cannot be opened ({what})",
                path.display()
            )),
            other => other,
        };
        let mut writable =
            std::fs::OpenOptions::new().write(true).open(path).is_ok() && !read_only_bits(path);
        let connection = if writable {
            Connection::open_with_flags(
                path,
                OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX,
            )
        } else {
            open_read_only(path)
        }
        .map_err(|e| damaged(trouble(e)))?;
        settings(&connection).map_err(damaged)?;
        let number = |name: &str| -> Result<i32, Error> {
            connection.pragma_query_value(None, name, |r| r.get(0)).map_err(|e| damaged(trouble(e)))
        };
        if number("application_id")? != APPLICATION_ID {
            return Err(Error::wrong(
                format!("{} is a database, but not a book", path.display()),
                "`pinchbar book start` makes a book; a book whose head is damaged can be salvaged with `pinchbar book salvage`",
            ));
        }
        let found = number("user_version")?;
        if found != FILE_FORMAT {
            return Err(match u32::try_from(found) {
                Ok(found) if found > FILE_FORMAT as u32 => {
                    Error::Newer { found, known: FILE_FORMAT as u32 }
                }
                _ => Error::Damaged(format!("{}: there is no form {found}", path.display())),
            });
        }
        if connection.is_readonly("main").map_err(trouble)? {
            writable = false;
        }
        Ok(SqliteStore { path: path.to_owned(), connection, writable })
    }

    /// Copies the book, while it is in use, to a new file, and brings that to disk.
    ///
    /// # Errors
    /// There is something at `to`, or reading or writing fails.
    pub fn backup(&mut self, to: &Path) -> Result<(), Error> {
        if to.exists() {
            return Err(Error::wrong(
                format!("{} is there already", to.display()),
                "name a file that does not exist yet; nothing was changed",
            ));
        }
        if to.parent().is_some_and(|p| !p.as_os_str().is_empty() && !p.is_dir()) {
            return Err(Error::Missing(format!("there is no folder for {}", to.display())));
        }
        let mut part = to.as_os_str().to_owned();
        part.push(".part");
        let part = PathBuf::from(part);
        let _ = std::fs::remove_file(&part);
        {
            let mut copy = Connection::open(&part).map_err(trouble)?;
            let backup = Backup::new(&self.connection, &mut copy).map_err(trouble)?;
            backup.run_to_completion(1024, Duration::from_millis(1), None).map_err(trouble)?;
        }
        let unwritten = |e: std::io::Error| {
            Error::Unavailable(format!("{} could not be written: {e}", to.display()))
        };
        std::fs::File::open(&part).and_then(|f| f.sync_all()).map_err(unwritten)?;
        // Checked before it gets the name of a backup.
        SqliteStore::open(&part)?.look()?;
        std::fs::rename(&part, to).map_err(unwritten)?;
        sync_folder_of(to);
        Ok(())
    }

    /// Where the file is.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Brings the search index up to the newest entry.
    fn index(&mut self) -> Result<(), Error> {
        let transaction = self
            .connection
            .transaction_with_behavior(TransactionBehavior::Immediate)
            .map_err(trouble)?;
        {
            let from: i64 = transaction
                .query_row("SELECT coalesce(max(rowid), 0) FROM find", [], |r| r.get(0))
                .map_err(trouble)?;
            let mut insert = transaction
                .prepare("INSERT INTO find (rowid, words) VALUES (?1, ?2)")
                .map_err(trouble)?;
            let mut select = transaction
                .prepare("SELECT sequence, line FROM entry WHERE sequence > ?1 ORDER BY sequence")
                .map_err(trouble)?;
            let mut rows = select.query([from]).map_err(trouble)?;
            while let Some(row) = rows.next().map_err(trouble)? {
                let sequence: i64 = row.get(0).map_err(trouble)?;
                let line = row.get_ref(1).map_err(trouble)?;
                let words = words_of(line.as_str().map_err(|e| Error::Damaged(e.to_string()))?);
                insert.execute(params![sequence, words]).map_err(trouble)?;
            }
        }
        transaction.commit().map_err(trouble)
    }

    fn rows_after(connection: &Connection, seen: u64) -> Result<Vec<Row>, Error> {
        let mut select = connection
            .prepare_cached(
                "SELECT sequence, line, hash FROM entry WHERE sequence > ?1 ORDER BY sequence",
            )
            .map_err(trouble)?;
        let mut rows = select.query([number(seen)?]).map_err(trouble)?;
        let mut news = Vec::new();
        while let Some(row) = rows.next().map_err(trouble)? {
            let hash: Vec<u8> = row.get(2).map_err(trouble)?;
            news.push(Row {
                sequence: row.get::<_, i64>(0).map_err(trouble)?.try_into().unwrap_or(0),
                line: row.get(1).map_err(trouble)?,
                hash: Hash::from_bytes(&hash)?,
            });
        }
        Ok(news)
    }

    fn scan_for(&mut self, words: &[String], most: usize) -> Result<Vec<u64>, Error> {
        let wanted: Vec<String> = words.iter().map(|w| w.to_lowercase()).collect();
        let mut found = Vec::new();
        self.read(0, &mut |sequence, line, _| {
            let words = words_of(line).to_lowercase();
            if wanted.iter().all(|w| words.contains(w.as_str())) {
                found.push(sequence);
            }
            Ok(())
        })?;
        found.reverse();
        found.truncate(most);
        Ok(found)
    }
}

/// What a line is found by: its words and who wrote it.
pub(crate) fn words_of(line: &str) -> String {
    match Entry::parse(line) {
        Ok(entry) => format!("{}\n{}\n{}", entry.author, entry.said.kind(), entry.said.words()),
        Err(_) => String::new(),
    }
}

fn number(sequence: u64) -> Result<i64, Error> {
    i64::try_from(sequence).map_err(|_| Error::wrong(format!("no book has {sequence} entries"), ""))
}

fn settings(connection: &Connection) -> Result<(), Error> {
    connection.busy_timeout(PATIENCE).map_err(trouble)?;
    for (name, value) in [
        ("synchronous", "FULL"),
        ("cell_size_check", "ON"),
        ("trusted_schema", "OFF"),
        ("recursive_triggers", "ON"),
    ] {
        connection.pragma_update(None, name, value).map_err(trouble)?;
    }
    Ok(())
}

fn read_only_bits(path: &Path) -> bool {
    std::fs::metadata(path).is_ok_and(|m| m.permissions().readonly())
}

/// A write-ahead log cannot be shared from a folder that cannot be written; when there is none,
/// the file is whole by itself and is opened as one that nobody changes.
fn open_read_only(path: &Path) -> rusqlite::Result<Connection> {
    let flags = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let opened = Connection::open_with_flags(path, flags)?;
    let readable =
        opened.query_row("SELECT count(*) FROM sqlite_schema", [], |r| r.get::<_, i64>(0));
    let mut log = path.as_os_str().to_owned();
    log.push("-wal");
    if readable.is_ok() || Path::new(&log).exists() {
        return Ok(opened);
    }
    let absolute = std::fs::canonicalize(path).unwrap_or_else(|_| path.to_owned());
    let mut uri = String::from("file:");
    for byte in absolute.to_string_lossy().bytes() {
        if byte.is_ascii_alphanumeric() || b"/._-".contains(&byte) {
            uri.push(char::from(byte));
        } else {
            uri.push_str(&format!("%{byte:02X}"));
        }
    }
    uri.push_str("?immutable=1");
    Connection::open_with_flags(uri, flags | OpenFlags::SQLITE_OPEN_URI)
}

/// A new name is on the disk only when its folder is.
fn sync_folder_of(path: &Path) {
    let folder = path.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or(Path::new("."));
    // Not every system can sync a folder; the file itself is synced in any case.
    let _ = std::fs::File::open(folder).and_then(|f| f.sync_all());
}

fn put(transaction: &rusqlite::Transaction<'_>, batch: &Batch) -> rusqlite::Result<()> {
    let mut attach = transaction
        .prepare_cached("INSERT OR IGNORE INTO attachment (hash, bytes) VALUES (?1, ?2)")?;
    for Attached { hash, bytes } in &batch.attachments {
        attach.execute(params![&hash.bytes()[..], bytes])?;
    }
    let mut insert = transaction
        .prepare_cached("INSERT INTO entry (sequence, line, hash) VALUES (?1, ?2, ?3)")?;
    for row in &batch.rows {
        insert.execute(params![row.sequence as i64, row.line, &row.hash.bytes()[..]])?;
    }
    Ok(())
}

impl Store for SqliteStore {
    fn read(
        &mut self,
        after: u64,
        take: &mut dyn FnMut(u64, &str, Hash) -> Result<(), Error>,
    ) -> Result<(), Error> {
        let mut select = self
            .connection
            .prepare_cached(
                "SELECT sequence, line, hash FROM entry WHERE sequence > ?1 ORDER BY sequence",
            )
            .map_err(trouble)?;
        let mut rows = select.query([number(after)?]).map_err(trouble)?;
        let mut last = after;
        while let Some(row) = rows.next().map_err(|e| {
            let what = trouble(e);
            match what {
                Error::Damaged(text) => Error::Damaged(format!("after entry {last}: {text}")),
                other => other,
            }
        })? {
            let sequence: i64 = row.get(0).map_err(trouble)?;
            let sequence = u64::try_from(sequence).unwrap_or(0);
            let at = |what: String| Error::Damaged(format!("entry {sequence}: {what}"));
            let line = row.get_ref(1).map_err(trouble)?;
            let line = line.as_str().map_err(|e| at(e.to_string()))?;
            let hash = row.get_ref(2).map_err(trouble)?;
            let hash = Hash::from_bytes(hash.as_blob().map_err(|e| at(e.to_string()))?)
                .map_err(|e| at(e.to_string()))?;
            take(sequence, line, hash)?;
            last = sequence;
        }
        Ok(())
    }

    fn append(&mut self, seen: u64, make: Make<'_>) -> Result<(), Error> {
        if !self.writable {
            return Err(Error::ReadOnly(self.path.display().to_string()));
        }
        let transaction = self
            .connection
            .transaction_with_behavior(TransactionBehavior::Immediate)
            .map_err(trouble)?;
        let news = Self::rows_after(&transaction, seen)?;
        let batch = make(&news)?;
        put(&transaction, &batch).map_err(trouble)?;
        transaction.commit().map_err(trouble)
    }

    fn attachment(&mut self, hash: &Hash) -> Result<Option<Vec<u8>>, Error> {
        self.connection
            .query_row("SELECT bytes FROM attachment WHERE hash = ?1", [&hash.bytes()[..]], |r| {
                r.get(0)
            })
            .optional()
            .map_err(trouble)
    }

    fn attachments(&mut self) -> Result<Vec<Hash>, Error> {
        let mut select = self
            .connection
            .prepare("SELECT hash FROM attachment ORDER BY number")
            .map_err(trouble)?;
        let mut rows = select.query([]).map_err(trouble)?;
        let mut hashes = Vec::new();
        while let Some(row) = rows.next().map_err(trouble)? {
            hashes.push(Hash::from_bytes(&row.get::<_, Vec<u8>>(0).map_err(trouble)?)?);
        }
        Ok(hashes)
    }

    fn find(&mut self, words: &[String], most: usize) -> Result<Vec<u64>, Error> {
        if words.is_empty() {
            return Ok(Vec::new());
        }
        if !self.writable {
            return self.scan_for(words, most);
        }
        self.index()?;
        // Quoted, so that nothing a person types is taken for a word of the query language; the
        // star takes longer words that begin the same.
        let query: Vec<String> =
            words.iter().map(|w| format!("\"{}\"*", w.replace('"', "\"\""))).collect();
        let most = i64::try_from(most).unwrap_or(i64::MAX);
        let mut select = self
            .connection
            .prepare_cached(
                "SELECT rowid FROM find WHERE find MATCH ?1 ORDER BY rowid DESC LIMIT ?2",
            )
            .map_err(trouble)?;
        let rows = select
            .query_map(params![query.join(" "), most], |r| r.get::<_, i64>(0))
            .map_err(trouble)?;
        rows.map(|r| r.map_err(trouble).map(|s| u64::try_from(s).unwrap_or(0))).collect()
    }

    fn look(&mut self) -> Result<Looked, Error> {
        self.look_through()
    }

    fn wait(&mut self, seen: u64, most: Duration) -> Result<bool, Error> {
        let until = Instant::now() + most;
        loop {
            let last: i64 = self
                .connection
                .query_row("SELECT coalesce(max(sequence), 0) FROM entry", [], |r| r.get(0))
                .map_err(trouble)?;
            if u64::try_from(last).unwrap_or(0) > seen {
                return Ok(true);
            }
            let now = Instant::now();
            if until <= now {
                return Ok(false);
            }
            // SQLite tells nobody; a look ten times a second costs next to nothing.
            std::thread::sleep((until - now).min(Duration::from_millis(100)));
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
        *self = SqliteStore::open(&self.path)?;
        Ok(())
    }
}
