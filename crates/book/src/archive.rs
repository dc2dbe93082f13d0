//! A whole book out and in: one tar archive that anyone can open and check without this program.
//!
//! The same book gives the same archive, byte for byte.

use crate::book::Book;
use crate::chain::Walk;
use crate::store::{Attached, Batch, Row, Store};
use crate::{Error, FORMAT, Hash, Said};
use serde_json::json;
use sha2::{Digest, Sha256};
use std::collections::HashSet;
use std::fmt::Write as _;
use std::io::{BufRead, Read, Write};

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

fn header(bytes: u64) -> tar::Header {
    let mut header = tar::Header::new_ustar();
    header.set_size(bytes);
    header.set_mode(0o644);
    header.set_mtime(0);
    header.set_entry_type(tar::EntryType::Regular);
    header
}

impl<W: Write> Files<W> {
    fn put(&mut self, name: &str, bytes: &[u8]) -> Result<(), Error> {
        self.tar.append_data(&mut header(bytes.len() as u64), name, bytes).map_err(unwritten)?;
        self.list(name, bytes.len() as u64, Hash::of(bytes));
        Ok(())
    }

    /// A file of so many bytes that is written as it is made.
    fn stream(
        &mut self,
        name: &str,
        bytes: u64,
        write: impl FnOnce(&mut Counted<&mut W>) -> Result<(), Error>,
    ) -> Result<(), Error> {
        const BLOCK: u64 = 512;
        let mut header = header(bytes);
        header.set_path(name).map_err(unwritten)?;
        header.set_cksum();
        // The head alone: the content comes after it, filled up to whole blocks (POSIX 1003.1, pax,
        // ustar interchange format).
        self.tar.append(&header, std::io::empty()).map_err(unwritten)?;
        let mut out = Counted { out: self.tar.get_mut(), bytes: 0, hash: Sha256::new() };
        write(&mut out)?;
        let (written, hash) = (out.bytes, out.hash.finalize());
        if written != bytes {
            return Err(Error::Damaged(format!(
                "{name} was to have {bytes} bytes and has {written}; did the book change meanwhile?"
            )));
        }
        let fill = vec![0; (BLOCK - bytes % BLOCK) as usize % BLOCK as usize];
        self.tar.get_mut().write_all(&fill).map_err(unwritten)?;
        self.list(name, bytes, Hash::from_bytes(&hash)?);
        Ok(())
    }

    fn list(&mut self, name: &str, bytes: u64, hash: Hash) {
        self.listed.push(json!({ "file": name, "bytes": bytes, "sha256": hash.to_string() }));
    }
}

/// Counts what goes through and takes its SHA-256.
struct Counted<W> {
    out: W,
    bytes: u64,
    hash: Sha256,
}

impl<W: Write> Write for Counted<W> {
    fn write(&mut self, bytes: &[u8]) -> std::io::Result<usize> {
        let written = self.out.write(bytes)?;
        self.hash.update(&bytes[..written]);
        self.bytes += written as u64;
        Ok(written)
    }

    fn flush(&mut self) -> std::io::Result<()> {
        self.out.flush()
    }
}

/// Writes the whole book as an archive, as it reads it: neither the entries nor the table of
/// readings need fit the memory a second time.
///
/// # Errors
/// The book is damaged, or the archive cannot be written.
pub fn export(book: &mut Book, out: impl Write) -> Result<(), Error> {
    book.read_on()?;
    let head = book.head();
    let mut files = Files { tar: tar::Builder::new(out), listed: Vec::new() };
    files.put("README.txt", README.as_bytes())?;
    // Once through for the length, which stands before the content, and for the chain.
    let mut length = 0;
    let mut walk = Walk::default();
    up_to(book, head.sequence, &mut |sequence, line, hash| {
        walk.step(sequence, line, hash)?;
        length += line.len() as u64 + 1;
        Ok(())
    })?;
    files.stream("entries.jsonl", length, |out| {
        up_to(book, head.sequence, &mut |_, line, _| {
            out.write_all(line.as_bytes()).and_then(|()| out.write_all(b"\n")).map_err(unwritten)
        })
    })?;
    let mut table = Counted { out: std::io::sink(), bytes: 0, hash: Sha256::new() };
    book.fold().readings_csv(&mut table)?;
    files.stream("readings.csv", table.bytes, |out| book.fold().readings_csv(out))?;
    let mut hashes = book.store().attachments()?;
    hashes.sort();
    for hash in hashes {
        let bytes = book.attachment(&hash)?;
        files.put(&format!("attachments/{hash}"), &bytes)?;
    }
    let manifest = json!({
        "what": "book archive", "format": FORMAT, "book": book.id(), "engine": book.fold().name(),
        "entries": head.sequence, "head": head.hash.to_string(), "files": files.listed,
    });
    let mut text =
        serde_json::to_string_pretty(&manifest).map_err(|e| Error::wrong(e.to_string(), ""))?;
    let _ = writeln!(text);
    files.put("manifest.json", text.as_bytes())?;
    files.tar.into_inner().and_then(|mut out| out.flush()).map_err(unwritten)
}

/// The entries up to one, whatever others have written since.
fn up_to(
    book: &mut Book,
    last: u64,
    take: &mut dyn FnMut(u64, &str, Hash) -> Result<(), Error>,
) -> Result<(), Error> {
    let mut done = last == 0;
    // The only way to end a reading early.
    let stop = Error::Missing(String::new());
    let read = book.store().read(0, &mut |sequence, line, hash| {
        if done {
            return Err(stop.clone());
        }
        done = sequence == last;
        take(sequence, line, hash)
    });
    match read {
        Err(error) if done && error == stop => Ok(()),
        Err(error) => Err(error),
        Ok(()) if done => Ok(()),
        Ok(()) => Err(Error::Damaged(format!("there is no entry {last} any more"))),
    }
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
    let (mut manifest, mut rows) = (None, None);
    let mut attached = HashSet::new();
    for file in archive.entries().map_err(unread)? {
        let mut file = file.map_err(unread)?;
        let name = file.path().map_err(unread)?.to_string_lossy().into_owned();
        let mut bytes = Vec::new();
        match name.as_str() {
            "entries.jsonl" => rows = Some(rows_of(file)?),
            "manifest.json" => {
                file.read_to_end(&mut bytes).map_err(unread)?;
                manifest = Some(bytes);
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
    let Rows { rows, wanted } = rows.ok_or_else(|| missing("entries.jsonl"))??;
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
    if let Some((sequence, sha256)) = wanted.iter().find(|(_, sha256)| !attached.contains(sha256)) {
        return Err(Error::Damaged(format!(
            "attachment {sha256} of entry {sequence} is not in the archive"
        )));
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

/// Entries of an archive, and the attachments they speak of.
struct Rows {
    rows: Vec<Row>,
    wanted: Vec<(u64, String)>,
}

/// Lines as rows, the chain followed. A line at fault is told when the manifest has been read: that
/// may say that the archive is of a newer form.
///
/// # Errors
/// The archive itself cannot be read.
fn rows_of(file: impl Read) -> Result<Result<Rows, Error>, Error> {
    let mut file = std::io::BufReader::with_capacity(1 << 16, file);
    let mut walk = Walk::default();
    let mut all = Rows { rows: Vec::new(), wanted: Vec::new() };
    let mut line = Vec::new();
    loop {
        line.clear();
        if file.read_until(b'\n', &mut line).map_err(unread)? == 0 {
            return Ok(Ok(all));
        }
        if line.ends_with(b"\n") {
            line.pop();
        }
        let (sequence, hash) = (walk.last + 1, Hash::of(&line));
        let row = std::str::from_utf8(&line)
            .map_err(unread)
            .and_then(|line| Ok((line.to_owned(), walk.step(sequence, line, hash)?)));
        match row {
            Ok((line, entry)) => {
                if let Said::Attached { sha256, .. } = entry.said {
                    all.wanted.push((sequence, sha256));
                }
                all.rows.push(Row { sequence, line, hash });
            }
            Err(error) => {
                std::io::copy(&mut file, &mut std::io::sink()).map_err(unread)?;
                return Ok(Err(error));
            }
        }
    }
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
