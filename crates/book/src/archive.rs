//! A whole book out and in: one tar archive that anyone can open and check without this program.
//!
//! The same book gives the same archive, byte for byte.

use crate::book::Book;
use crate::store::{Attached, Batch, Row, Store};
use crate::{Entry, Error, FORMAT, Hash, Said};
use serde_json::json;
use std::collections::HashSet;
use std::fmt::Write as _;
use std::io::{Read, Write};

const README: &str = "\
A book: the record of everything said about an engine, entry by entry.

entries.jsonl   one entry a line, JSON, oldest first. The SHA-256 of a line (without its line end)
                is what the next line has under \"previous\"; the first has 64 zeros.
attachments/    photographs and drawings, each named by the SHA-256 of its bytes.
readings.csv    every reading as it was written, with the number of its entry.
manifest.json   number of entries, SHA-256 of the last line, and SHA-256 of every other file.

To check a line by hand (here line 5 against line 6):

    sed -n 5p entries.jsonl | tr -d '\\n' | sha256sum
    sed -n 6p entries.jsonl | grep -o '\"previous\":\"[0-9a-f]*\"'

To check all of them:

    previous=0000000000000000000000000000000000000000000000000000000000000000
    while IFS= read -r line; do
        case $line in *\"\\\"previous\\\":\\\"$previous\\\"\"*) ;; *) echo \"broken before: $line\";; esac
        previous=$(printf %s \"$line\" | sha256sum | cut -d' ' -f1)
    done < entries.jsonl
    echo \"head: $previous\"

To check the attachments: cd attachments && sha256sum * (each name is its sum).
";

fn unwritten(e: std::io::Error) -> Error {
    Error::Unavailable(format!("the archive could not be written: {e}"))
}

fn unread(e: impl std::fmt::Display) -> Error {
    Error::wrong(
        format!("the archive cannot be read: {e}"),
        "is this the archive of a book, as `pinchbar book export` makes it?",
    )
}

struct Files<W: Write> {
    tar: tar::Builder<W>,
    listed: Vec<serde_json::Value>,
}

impl<W: Write> Files<W> {
    fn put(&mut self, name: &str, bytes: &[u8]) -> Result<(), Error> {
        let mut header = tar::Header::new_ustar();
        header.set_size(bytes.len() as u64);
        header.set_mode(0o644);
        header.set_mtime(0);
        header.set_entry_type(tar::EntryType::Regular);
        self.tar.append_data(&mut header, name, bytes).map_err(unwritten)?;
        self.listed.push(
            json!({ "file": name, "bytes": bytes.len(), "sha256": Hash::of(bytes).to_string() }),
        );
        Ok(())
    }
}

/// Writes the whole book as an archive.
///
/// # Errors
/// The book is damaged, or the archive cannot be written.
pub fn export(book: &mut Book, out: impl Write) -> Result<(), Error> {
    book.read_on()?;
    let mut lines = String::new();
    let mut count = 0u64;
    book.each(&mut |_, _, line| {
        lines.push_str(line);
        lines.push('\n');
        count += 1;
        Ok(())
    })?;
    let mut files = Files { tar: tar::Builder::new(out), listed: Vec::new() };
    files.put("README.txt", README.as_bytes())?;
    files.put("entries.jsonl", lines.as_bytes())?;
    drop(lines);
    files.put("readings.csv", book.fold().all_readings().csv()?.as_bytes())?;
    let mut hashes = book.store().attachments()?;
    hashes.sort();
    for hash in hashes {
        let bytes = book.attachment(&hash)?;
        files.put(&format!("attachments/{hash}"), &bytes)?;
    }
    let manifest = json!({
        "what": "book archive", "format": FORMAT, "book": book.id(), "engine": book.fold().name(),
        "entries": count, "head": book.head().hash.to_string(), "files": files.listed,
    });
    let mut text =
        serde_json::to_string_pretty(&manifest).map_err(|e| Error::wrong(e.to_string(), ""))?;
    let _ = writeln!(text);
    files.put("manifest.json", text.as_bytes())?;
    files.tar.into_inner().and_then(|mut out| out.flush()).map_err(unwritten)
}

/// Reads an archive into an empty store. Every entry is checked before the first is written;
/// attachments are checked and written one by one as they come, so that they need not all fit the
/// memory.
///
/// # Errors
/// The archive is not whole, or the store is not empty or cannot be written. Attachments may then
/// have been written, but no entry.
pub fn import(input: impl Read, mut store: Box<dyn Store>) -> Result<Book, Error> {
    let mut archive = tar::Archive::new(input);
    let (mut manifest, mut lines) = (None, None);
    let mut attached = HashSet::new();
    for file in archive.entries().map_err(unread)? {
        let mut file = file.map_err(unread)?;
        let name = file.path().map_err(unread)?.to_string_lossy().into_owned();
        let mut bytes = Vec::new();
        match name.as_str() {
            "entries.jsonl" | "manifest.json" => {
                file.read_to_end(&mut bytes).map_err(unread)?;
                *(if name == "manifest.json" { &mut manifest } else { &mut lines }) = Some(bytes);
            }
            _ => {
                let Some(quoted) = name.strip_prefix("attachments/").filter(|q| !q.is_empty())
                else {
                    continue;
                };
                file.read_to_end(&mut bytes).map_err(unread)?;
                let hash = Hash::of(&bytes);
                if quoted != hash.to_string() {
                    return Err(Error::Damaged(format!(
                        "{name} in the archive has the SHA-256 {hash}"
                    )));
                }
                attached.insert(hash.to_string());
                put_attachments(store.as_mut(), vec![Attached { hash, bytes }])?;
            }
        }
    }
    let missing = |name: &str| {
        Error::wrong(format!("there is no {name} in it"), "is this the archive of a book?")
    };
    let manifest = manifest.ok_or_else(|| missing("manifest.json"))?;
    let manifest: serde_json::Value = serde_json::from_slice(&manifest).map_err(unread)?;
    let format = manifest["format"].as_u64().unwrap_or(0);
    if u64::from(FORMAT) < format {
        let found = u32::try_from(format).unwrap_or(u32::MAX);
        return Err(Error::Newer { found, known: FORMAT });
    }
    let lines =
        String::from_utf8(lines.ok_or_else(|| missing("entries.jsonl"))?).map_err(unread)?;
    let rows = rows_of(&lines)?;
    let head = rows.last().map_or(Hash::NONE, |r| r.hash).to_string();
    if manifest["head"].as_str() != Some(&head)
        || manifest["entries"].as_u64() != Some(rows.len() as u64)
    {
        return Err(Error::Damaged(format!(
            "the archive has {} entries up to {head}, and its manifest says {} up to {}",
            rows.len(),
            manifest["entries"],
            manifest["head"].as_str().unwrap_or("nothing")
        )));
    }
    for row in &rows {
        if let Said::Attached { sha256, .. } = Entry::parse(&row.line)?.said
            && !attached.contains(&sha256)
        {
            return Err(Error::Damaged(format!(
                "attachment {sha256} of entry {} is not in the archive",
                row.sequence
            )));
        }
    }
    Book::from_rows(store, Batch { rows, attachments: Vec::new() })
}

/// Writes attachments into a store that has no entries yet.
pub(crate) fn put_attachments(store: &mut dyn Store, all: Vec<Attached>) -> Result<(), Error> {
    let mut batch = Some(Batch { rows: Vec::new(), attachments: all });
    store.append(0, &mut |news| {
        if news.is_empty() { Ok(batch.take().unwrap_or_default()) } else { Err(not_empty()) }
    })
}

pub(crate) fn not_empty() -> Error {
    Error::wrong("there are entries in this book already", "name an empty one")
}

/// Lines as rows, the chain followed.
fn rows_of(lines: &str) -> Result<Vec<Row>, Error> {
    let mut walk = crate::chain::Walk::default();
    let mut rows = Vec::new();
    for line in lines.lines() {
        let (sequence, hash) = (walk.last + 1, Hash::of(line.as_bytes()));
        walk.step(sequence, line, hash)?;
        rows.push(Row { sequence, line: line.to_owned(), hash });
    }
    Ok(rows)
}

impl crate::AllReadings {
    /// As a table for a spreadsheet.
    ///
    /// # Errors
    /// None that is known; writing into memory does not fail.
    pub fn csv(&self) -> Result<String, Error> {
        let failed = |e: String| Error::Unavailable(e);
        let mut out = csv::WriterBuilder::new().flexible(true).from_writer(Vec::new());
        out.write_record(&self.heading).map_err(|e| failed(e.to_string()))?;
        for row in &self.rows {
            out.write_record(row).map_err(|e| failed(e.to_string()))?;
        }
        let bytes = out.into_inner().map_err(|e| failed(e.to_string()))?;
        String::from_utf8(bytes).map_err(|e| failed(e.to_string()))
    }
}
