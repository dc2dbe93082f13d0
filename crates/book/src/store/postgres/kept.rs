//! The checkpoint of a book in a PostgreSQL database.

use super::{PostgresStore, trouble};
use crate::store::TakeStretch;
use crate::{Error, Hash, Stretch};
use postgres::fallible_iterator::FallibleIterator;

/// Made when there is first something to keep in it. Its bytes are figures mostly: pressing them
/// together would cost more than it saves.
const CHECKPOINT: &str = "
CREATE TABLE IF NOT EXISTS pinchbar.checkpoint (
    book text NOT NULL REFERENCES pinchbar.book, last bigint NOT NULL, bytes bytea NOT NULL,
    PRIMARY KEY (book, last));
ALTER TABLE pinchbar.checkpoint ALTER COLUMN bytes SET STORAGE EXTERNAL;
";

fn has_checkpoint(client: &mut impl postgres::GenericClient) -> Result<bool, Error> {
    let there = client
        .query_one("SELECT to_regclass('pinchbar.checkpoint') IS NOT NULL", &[])
        .map_err(trouble)?;
    Ok(there.get(0))
}

impl PostgresStore {
    pub(super) fn read_checkpoint(&mut self, take: TakeStretch<'_>) -> Result<(), Error> {
        if !has_checkpoint(&mut self.client)? {
            return Ok(());
        }
        let with: [&(dyn postgres::types::ToSql + Sync); 1] = [&self.name];
        let mut rows = self
            .client
            .query_raw(
                "SELECT c.bytes, c.last, e.hash FROM pinchbar.checkpoint c
                 LEFT JOIN pinchbar.entry e ON e.book = c.book AND e.sequence = c.last
                 WHERE c.book = $1 ORDER BY c.last",
                with,
            )
            .map_err(trouble)?;
        while let Some(row) = rows.next().map_err(trouble)? {
            let last: i64 = row.try_get(1).map_err(trouble)?;
            let hash: Option<&[u8]> = row.try_get(2).map_err(trouble)?;
            let hash = hash.and_then(|h| Hash::from_bytes(h).ok());
            take(row.try_get(0).map_err(trouble)?, u64::try_from(last).unwrap_or(0), hash)?;
        }
        Ok(())
    }

    pub(super) fn write_checkpoint(
        &mut self,
        after: u64,
        there: u64,
        stretches: &[Stretch],
    ) -> Result<bool, Error> {
        let number = |n: u64| i64::try_from(n).unwrap_or(i64::MAX);
        let mut transaction = self.client.transaction().map_err(trouble)?;
        // One at a time, in all books of this database; who comes second leaves it.
        let alone: bool = transaction
            .query_one("SELECT pg_try_advisory_xact_lock(5791265463)", &[])
            .map_err(trouble)?
            .get(0);
        if !alone {
            return Ok(false);
        }
        // What is lost of it in a power cut is made again.
        transaction.batch_execute("SET LOCAL synchronous_commit = off").map_err(trouble)?;
        if !has_checkpoint(&mut transaction)? {
            transaction.batch_execute(CHECKPOINT).map_err(trouble)?;
        }
        let last: i64 = transaction
            .query_one(
                "SELECT coalesce(max(last), 0) FROM pinchbar.checkpoint WHERE book = $1",
                &[&self.name],
            )
            .map_err(trouble)?
            .get(0);
        if last != number(there) {
            return Ok(false);
        }
        transaction
            .execute(
                "DELETE FROM pinchbar.checkpoint WHERE book = $1 AND last > $2",
                &[&self.name, &number(after)],
            )
            .map_err(trouble)?;
        for Stretch { last, bytes } in stretches {
            transaction
                .execute(
                    "INSERT INTO pinchbar.checkpoint VALUES ($1, $2, $3)",
                    &[&self.name, &number(*last), bytes],
                )
                .map_err(trouble)?;
        }
        transaction.commit().map_err(trouble)?;
        Ok(true)
    }
}
