//! The checkpoint in the file of a book.

use super::schema::CHECKPOINT;
use super::{SqliteStore, number, trouble};
use crate::store::TakeStretch;
use crate::{Error, Hash, Stretch};
use rusqlite::{Connection, OpenFlags, TransactionBehavior, params};
use std::path::Path;
use std::time::Duration;

fn is_there(connection: &Connection) -> Result<bool, Error> {
    connection
        .query_row("SELECT count(*) FROM sqlite_schema WHERE name = ?1", [CHECKPOINT.0], |r| {
            Ok(r.get::<_, i64>(0)? != 0)
        })
        .map_err(trouble)
}

impl SqliteStore {
    pub(super) fn read_checkpoint(&mut self, take: TakeStretch<'_>) -> Result<(), Error> {
        if !is_there(&self.connection)? {
            return Ok(());
        }
        let mut select = self
            .connection
            .prepare(
                "SELECT checkpoint.bytes, checkpoint.last, entry.hash FROM checkpoint
                 LEFT JOIN entry ON entry.sequence = checkpoint.last ORDER BY checkpoint.last",
            )
            .map_err(trouble)?;
        let mut rows = select.query([]).map_err(trouble)?;
        while let Some(row) = rows.next().map_err(trouble)? {
            let damaged = |e: rusqlite::types::FromSqlError| Error::Damaged(e.to_string());
            let bytes = row.get_ref(0).map_err(trouble)?.as_blob().map_err(damaged)?;
            let last = u64::try_from(row.get::<_, i64>(1).map_err(trouble)?).unwrap_or(0);
            let hash = row.get_ref(2).map_err(trouble)?.as_blob_or_null().map_err(damaged)?;
            take(bytes, last, hash.and_then(|h| Hash::from_bytes(h).ok()))?;
        }
        Ok(())
    }

    pub(super) fn write_checkpoint(
        &mut self,
        after: u64,
        there: u64,
        stretches: &[Stretch],
    ) -> Result<bool, Error> {
        if !self.writable {
            return Ok(false);
        }
        match write_now(&self.path, after, there, stretches) {
            // Somebody else is writing.
            Err(Error::Unavailable(_)) => Ok(false),
            other => other,
        }
    }
}

/// Over a connection of its own, so that the settings under which entries are written stay as they
/// are.
fn write_now(path: &Path, after: u64, there: u64, stretches: &[Stretch]) -> Result<bool, Error> {
    let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let mut connection = Connection::open_with_flags(path, flags).map_err(trouble)?;
    connection.busy_timeout(Duration::ZERO).map_err(trouble)?;
    // What is lost of it in a power cut is made again: it need not be waited for. The next entry
    // brings the log to disk with everything before it.
    connection.pragma_update(None, "synchronous", "NORMAL").map_err(trouble)?;
    let transaction =
        connection.transaction_with_behavior(TransactionBehavior::Immediate).map_err(trouble)?;
    let last: i64 = if is_there(&transaction)? {
        transaction
            .query_row("SELECT coalesce(max(last), 0) FROM checkpoint", [], |r| r.get(0))
            .map_err(trouble)?
    } else {
        transaction.execute_batch(CHECKPOINT.1).map_err(trouble)?;
        0
    };
    if last != number(there)? {
        return Ok(false);
    }
    transaction
        .execute("DELETE FROM checkpoint WHERE last > ?1", [number(after)?])
        .map_err(trouble)?;
    for Stretch { last, bytes } in stretches {
        transaction
            .execute("INSERT INTO checkpoint VALUES (?1, ?2)", params![number(*last)?, bytes])
            .map_err(trouble)?;
    }
    transaction.commit().map_err(trouble)?;
    Ok(true)
}
