//! Looking for damage in the file of a book outside its entries: head, pages, rules, search index.

use super::schema::{CHECKPOINT, INDEX_SCHEMA, OWN_INDEX, SCHEMA, as_listed};
use super::{FILE_FORMAT, SqliteStore, trouble, words_of};
use crate::Error;
use crate::store::Looked;
use std::io::Read as _;
use std::path::Path;

impl SqliteStore {
    pub(super) fn look_through(&mut self) -> Result<Looked, Error> {
        let mut looked = Looked::default();
        self.look_at_head(&mut looked);
        {
            let mut check =
                self.connection.prepare("PRAGMA integrity_check(20)").map_err(trouble)?;
            let mut rows = check.query([]).map_err(trouble)?;
            while let Some(row) = rows.next().map_err(trouble)? {
                let text: String = row.get(0).map_err(trouble)?;
                if text != "ok" {
                    looked.faults.push(text);
                }
            }
            let mut select = self
                .connection
                .prepare("SELECT type, name, tbl_name, coalesce(sql, '') FROM sqlite_schema")
                .map_err(trouble)?;
            let mut rows = select.query([]).map_err(trouble)?;
            let mut there: Vec<[String; 4]> = Vec::new();
            while let Some(row) = rows.next().map_err(trouble)? {
                let text = |at: usize| row.get::<_, String>(at).map_err(trouble);
                there.push([text(0)?, text(1)?, text(2)?, text(3)?]);
            }
            let kept = there.iter().any(|found| found[1] == CHECKPOINT.0);
            let wanted: Vec<[&str; 4]> = SCHEMA
                .iter()
                .chain(INDEX_SCHEMA)
                .chain(kept.then_some(&CHECKPOINT))
                .map(as_listed)
                .collect();
            for row in wanted.iter().chain([&OWN_INDEX]) {
                if !there.iter().any(|found| found == row) {
                    let what = format!("the rule \"{}\" of the file is not as it was made", row[1]);
                    looked.faults.push(what);
                }
            }
            if there.len() != wanted.len() + 1 {
                looked.faults.push(format!(
                    "the file has {} tables and rules of {}",
                    there.len(),
                    wanted.len() + 1
                ));
            }
        }
        self.look_at_index(&mut looked)?;
        Ok(looked)
    }

    /// Compares the index with the entries, word for word.
    fn look_at_index(&mut self, looked: &mut Looked) -> Result<(), Error> {
        if self.writable {
            let checked =
                self.connection.execute("INSERT INTO find (find) VALUES ('integrity-check')", []);
            if let Err(e) = checked {
                looked.faults.push(format!("the search index is damaged: {e}"));
            }
            match self.index_is_as_made_anew() {
                Ok(true) => {}
                Ok(false) => {
                    looked.faults.push("the search index is not that of its words".to_owned());
                }
                Err(e) => looked.faults.push(format!("the search index cannot be read: {e}")),
            }
            // Numbers of pages, doubled: SQLite makes do with a wrong one and finds all the same.
            let odd: i64 = self
                .connection
                .query_row(
                    "SELECT count(*) FROM find_idx WHERE typeof(pgno) <> 'integer' OR pgno < 2",
                    [],
                    |r| r.get(0),
                )
                .map_err(trouble)?;
            if odd != 0 {
                looked.faults.push("the search index is damaged: a page has no number".to_owned());
            }
        } else {
            looked
                .not_looked_at
                .push("the inside of the search index, for the file cannot be written".into());
        }
        let mut select = self
            .connection
            .prepare("SELECT find.rowid, find.words, entry.line FROM find LEFT JOIN entry ON entry.sequence = find.rowid")
            .map_err(trouble)?;
        let mut rows = select.query([]).map_err(trouble)?;
        while let Some(row) = rows.next().map_err(trouble)? {
            let sequence: i64 = row.get(0).map_err(trouble)?;
            let words: Option<String> = row.get(1).map_err(trouble)?;
            let line: Option<String> = row.get(2).map_err(trouble)?;
            if line.is_none_or(|line| Some(words_of(&line)) != words) {
                looked.faults.push(format!("the search index is wrong at entry {sequence}"));
            }
        }
        Ok(())
    }

    /// Makes the index of the same words anew, beside the file, and compares every word at every
    /// place. The check FTS5 has itself adds up hashes, and an even number of equal changes, one
    /// changed letter of a word that stands twice, cancels out there.
    fn index_is_as_made_anew(&self) -> rusqlite::Result<bool> {
        self.connection.execute_batch(
            "ATTACH '' AS anew;
             CREATE VIRTUAL TABLE anew.find USING fts5(words, tokenize = 'unicode61 remove_diacritics 2');
             INSERT INTO anew.find (rowid, words) SELECT rowid, words FROM main.find;
             CREATE VIRTUAL TABLE temp.words_there USING fts5vocab(main, find, instance);
             CREATE VIRTUAL TABLE temp.words_anew USING fts5vocab(anew, find, instance);",
        )?;
        let same = {
            let mut there = self.connection.prepare("SELECT term, doc, offset FROM words_there")?;
            let mut anew = self.connection.prepare("SELECT term, doc, offset FROM words_anew")?;
            let (mut there, mut anew) = (there.query([])?, anew.query([])?);
            loop {
                match (there.next()?, anew.next()?) {
                    (None, None) => break true,
                    (Some(a), Some(b)) => {
                        let same = a.get_ref(0)? == b.get_ref(0)?
                            && a.get_ref(1)? == b.get_ref(1)?
                            && a.get_ref(2)? == b.get_ref(2)?;
                        if !same {
                            break false;
                        }
                    }
                    _ => break false,
                }
            }
        };
        self.connection
            .execute_batch("DROP TABLE words_there; DROP TABLE words_anew; DETACH anew;")?;
        Ok(same)
    }

    /// The fixed fields of the file's head (SQLite file format, section 1.3) that SQLite itself
    /// lets pass when they change.
    fn look_at_head(&self, looked: &mut Looked) {
        // Until the log is written back, the head of the file itself is an old one.
        let written_back = if self.writable {
            self.connection
                .query_row("PRAGMA wal_checkpoint(FULL)", [], |r| {
                    Ok(r.get::<_, i64>(0)? == 0 && r.get::<_, i64>(1)? == r.get::<_, i64>(2)?)
                })
                .unwrap_or(false)
        } else {
            let mut log = self.path.as_os_str().to_owned();
            log.push("-wal");
            std::fs::metadata(Path::new(&log)).map_or(0, |m| m.len()) == 0
        };
        if !written_back {
            looked.not_looked_at.push("the head of the file, for others are writing".to_owned());
            return;
        }
        let mut head = [0u8; 100];
        if std::fs::File::open(&self.path).and_then(|mut f| f.read_exact(&mut head)).is_err() {
            looked.faults.push("the head of the file cannot be read".into());
            return;
        }
        let page = head[16..18].to_vec();
        let wanted: [(&str, std::ops::Range<usize>, Vec<u8>); 9] = [
            ("first bytes", 0..16, b"SQLite format 3\0".to_vec()),
            ("size of a page", 16..18, if page == [0x10, 0] { page } else { vec![0x10, 0] }),
            ("way of writing", 18..24, vec![2, 2, 0, 64, 32, 32]),
            ("form of the schema", 44..48, vec![0, 0, 0, 4]),
            ("size of the cache", 48..52, vec![0; 4]),
            ("vacuum", 52..56, vec![0; 4]),
            ("form of text", 56..60, vec![0, 0, 0, 1]),
            ("form of the book", 60..64, FILE_FORMAT.to_be_bytes().to_vec()),
            ("kept free", 72..92, vec![0; 20]),
        ];
        for (what, at, wanted) in wanted {
            if head[at.clone()] != wanted[..] {
                looked
                    .faults
                    .push(format!("the head of the file is damaged ({what}, byte {})", at.start));
            }
        }
        if head[64..68] != [0; 4] {
            looked.faults.push("the head of the file is damaged (vacuum, byte 64)".into());
        }
        // SQLite writes the change counter and the "version valid for" number together.
        if head[24..28] != head[92..96] {
            looked.faults.push("the head of the file is damaged (counters, byte 24)".into());
        }
        if let Err(e) = self.look_at_rows(looked) {
            looked.faults.push(format!("the file cannot be read: {e}"));
        }
    }

    /// Every table of a book is numbered by its rows, and a record then has NULL, type 0, in its
    /// first place (SQLite file format, section 2.1). SQLite never reads that byte, so nothing else
    /// tells when it is changed.
    fn look_at_rows(&self, looked: &mut Looked) -> std::io::Result<()> {
        const PAGE: usize = 4096;
        const LEAF: u8 = 0x0D;
        let two =
            |page: &[u8], at: usize| usize::from(u16::from_be_bytes([page[at], page[at + 1]]));
        let mut file = std::io::BufReader::new(std::fs::File::open(&self.path)?);
        let mut page = [0u8; PAGE];
        // The schema's own pages are another matter: names of tables stand first there.
        let mut schema = vec![1];
        for number in 1.. {
            match file.read_exact(&mut page) {
                Err(e) if e.kind() == std::io::ErrorKind::UnexpectedEof => break,
                done => done?,
            }
            let cells = |head: usize, pointers: usize| {
                let count = two(&page, head + 3).min((PAGE - pointers) / 2);
                (0..count).map(move |n| pointers + 2 * n)
            };
            if number == 1 && page[100] == 0x05 {
                let child = |at: usize| page.get(at..at + 4).map(|b| [b[0], b[1], b[2], b[3]]);
                let children = cells(100, 112).filter_map(|at| child(two(&page, at)));
                schema.extend(children.chain(child(108)).map(u32::from_be_bytes));
            }
            if page[0] != LEAF || schema.contains(&number) {
                continue;
            }
            for pointer in cells(0, 8) {
                let at = two(&page, pointer);
                let Some(first) = first_type(page.get(at..).unwrap_or(&[])) else { continue };
                if first != 0 {
                    looked.faults.push(format!(
                        "a row in page {number} of the file is not in the form rows are written in"
                    ));
                }
            }
        }
        Ok(())
    }
}

/// The type of the first value of a cell: after the length of the payload, the number of the row
/// and the length of the record's head.
fn first_type(cell: &[u8]) -> Option<u8> {
    let mut at = 0;
    for _ in 0..3 {
        let rest = cell.get(at..)?.iter().take(9);
        at += 1 + rest.take_while(|b| **b & 0x80 != 0).count().min(8);
    }
    cell.get(at).copied()
}
