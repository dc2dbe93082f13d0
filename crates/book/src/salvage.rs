//! Getting out of a damaged file every entry that is whole, before the damage and after it.
//!
//! Does not ask SQLite, which stops at the first torn page it needs: every page of the file (and
//! of its write-ahead log, if there is one) is looked at by itself, as the SQLite file format
//! describes it (section 1.6, B-tree pages; section 2.1, record format). What counts is the hash:
//! an entry is taken when its line has the SHA-256 that stands beside it.

use crate::{Entry, Error, Hash};
use std::collections::BTreeMap;
use std::path::Path;

/// An entry that was got out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Saved {
    /// The line, byte for byte.
    pub line: String,
    /// Its hash.
    pub hash: Hash,
    /// The entry before it was got out too and is the one it quotes.
    pub follows: bool,
}

/// What was got out.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Salvaged {
    /// Entries by number.
    pub entries: BTreeMap<u64, Saved>,
    /// Attachments by hash.
    pub attachments: BTreeMap<Hash, Vec<u8>>,
    /// Numbers that are missing between the first and the last that were got out, as ranges.
    pub missing: Vec<(u64, u64)>,
}

/// Looks at every page of a file.
///
/// # Errors
/// The file cannot be read at all.
pub fn salvage(path: &Path) -> Result<Salvaged, Error> {
    let unread = |e: std::io::Error| Error::Unavailable(format!("{}: {e}", path.display()));
    let file = std::fs::read(path).map_err(unread)?;
    let mut out = Salvaged::default();
    let page = PAGE;
    let mut pages: BTreeMap<u32, &[u8]> = BTreeMap::new();
    for (number, bytes) in file.chunks_exact(page).enumerate() {
        pages.insert(number as u32 + 1, bytes);
    }
    take_all(&pages, &mut out);
    let mut log = path.as_os_str().to_owned();
    log.push("-wal");
    let log = std::fs::read(Path::new(&log)).unwrap_or_default();
    // A log: a head of 32 bytes, then pages with a head of 24 that begins with the page's number.
    for frame in log.get(32..).unwrap_or_default().chunks_exact(24 + page) {
        pages.insert(u32::from_be_bytes([frame[0], frame[1], frame[2], frame[3]]), &frame[24..]);
    }
    if !log.is_empty() {
        take_all(&pages, &mut out);
    }
    let mut before: Option<(u64, Hash)> = None;
    for (number, saved) in &mut out.entries {
        let quotes = Entry::parse(&saved.line).map_or(Hash::NONE, |e| e.previous);
        saved.follows = match before {
            None => *number == 1 && quotes == Hash::NONE,
            Some((last, hash)) => last + 1 == *number && quotes == hash,
        };
        let last = before.map_or(0, |(last, _)| last);
        if last + 1 < *number {
            out.missing.push((last + 1, number - 1));
        }
        before = Some((*number, saved.hash));
    }
    Ok(out)
}

/// Size of the pages this program writes.
const PAGE: usize = 4096;
/// A leaf of a table.
const LEAF: u8 = 0x0D;

fn take_all(pages: &BTreeMap<u32, &[u8]>, out: &mut Salvaged) {
    for (number, page) in pages {
        let head = if *number == 1 { 100 } else { 0 };
        if page.get(head) != Some(&LEAF) {
            continue;
        }
        let cells = usize::from(u16::from_be_bytes([page[head + 3], page[head + 4]]));
        for cell in 0..cells {
            let Some(pointer) = page.get(head + 8 + 2 * cell..head + 10 + 2 * cell) else { break };
            let at = usize::from(u16::from_be_bytes([pointer[0], pointer[1]]));
            if let Some((row, payload)) = cell_at(pages, page, at) {
                take_record(row, &payload, out);
            }
        }
    }
}

/// A cell of a leaf: length, row, the payload with its overflow pages.
fn cell_at(pages: &BTreeMap<u32, &[u8]>, page: &[u8], mut at: usize) -> Option<(u64, Vec<u8>)> {
    let length = usize::try_from(varint(page, &mut at)?).ok()?;
    let row = varint(page, &mut at)?;
    if pages.len().checked_mul(PAGE)? < length {
        return None;
    }
    // How much of it lies in the page itself (section 1.6).
    let (most, least) = (PAGE - 35, (PAGE - 12) * 32 / 255 - 23);
    let inside = if length <= most {
        length
    } else {
        let rest = least + (length - least) % (PAGE - 4);
        if rest <= most { rest } else { least }
    };
    let mut payload = page.get(at..at + inside)?.to_vec();
    if inside < length {
        let mut next = page.get(at + inside..at + inside + 4)?;
        while payload.len() < length {
            let number = u32::from_be_bytes([next[0], next[1], next[2], next[3]]);
            let overflow = pages.get(&number)?;
            let more = (length - payload.len()).min(PAGE - 4);
            payload.extend(&overflow[4..4 + more]);
            next = &overflow[..4];
        }
    }
    Some((row, payload))
}

/// A big-endian number of seven bits a byte, nine bytes at most.
fn varint(bytes: &[u8], at: &mut usize) -> Option<u64> {
    let mut value = 0u64;
    for n in 0..9 {
        let byte = *bytes.get(*at)?;
        *at += 1;
        if n == 8 {
            return Some(value << 8 | u64::from(byte));
        }
        value = value << 7 | u64::from(byte & 0x7F);
        if byte & 0x80 == 0 {
            return Some(value);
        }
    }
    None
}

/// Entries are (number, text, blob of 32), attachments (number, blob of 32, blob).
fn take_record(row: u64, payload: &[u8], out: &mut Salvaged) -> Option<()> {
    let mut at = 0;
    let head = usize::try_from(varint(payload, &mut at)?).ok()?;
    let mut kinds = Vec::new();
    while at < head && kinds.len() < 4 {
        kinds.push(varint(payload, &mut at)?);
    }
    let [0, second, third] = kinds[..] else { return None };
    let size = |kind: u64| usize::try_from(kind.checked_sub(12)? / 2).ok();
    let (second_size, third_size) = (size(second)?, size(third)?);
    let middle = head.checked_add(second_size)?;
    let (a, b) =
        (payload.get(head..middle)?, payload.get(middle..middle.checked_add(third_size)?)?);
    if second % 2 == 1 && b.len() == 32 {
        let hash = Hash::from_bytes(b).ok()?;
        let line = std::str::from_utf8(a).ok()?;
        if Hash::of(a) == hash && Entry::parse(line).ok()?.sequence == row {
            out.entries.insert(row, Saved { line: line.to_owned(), hash, follows: false });
        }
    } else if second % 2 == 0 && a.len() == 32 {
        let hash = Hash::from_bytes(a).ok()?;
        if Hash::of(b) == hash {
            out.attachments.insert(hash, b.to_vec());
        }
    }
    Some(())
}
