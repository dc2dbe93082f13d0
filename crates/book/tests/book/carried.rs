//! Out and in again.

use crate::stores::{File, Shelf, begun, note, pen};
use book::{Attached, Batch, Book, Error, Hash, Said};
use std::process::Command;

fn filled(shelf: &dyn Shelf) -> Book {
    let mut book = begun(shelf);
    let table = "feature,reading\n\"a,b\",7 mm\n";
    let said = Said::Readings { file: "t.csv".into(), table: table.into() };
    book.append(&pen("R", 1), said).expect("writes");
    let table = "\u{feff}reading;feature\n8 mm;c;extra\n";
    let said = Said::Readings { file: "u.csv".into(), table: table.into() };
    book.append(&pen("R", 1), said).expect("writes");
    for n in 0..20 {
        book.append(&pen("R", n), note(&format!("\"{n}\" ½ \\ \u{7}"))).expect("writes");
    }
    book
}

fn export(book: &mut Book) -> Vec<u8> {
    let mut bytes = Vec::new();
    book::export(book, &mut bytes).expect("exports");
    bytes
}

/// On any shelf: out and in gives the same book, which exports to the same bytes.
pub(crate) fn out_and_in(shelf: &dyn Shelf) {
    let mut book = filled(shelf);
    let archive = export(&mut book);
    let other = File::new();
    let mut back = book::import(archive.as_slice(), other.store()).expect("imports");
    assert_eq!(back.head(), book.head());
    assert!(export(&mut back) == archive, "the same book gives the same archive");
    assert!(book::import(archive.as_slice(), other.store()).is_err(), "not on top of another");
    back.append(&pen("R", 9), note("goes on")).expect("writes");
}

#[test]
fn an_archive_is_checked_with_common_tools() {
    let shelf = File::new();
    let mut book = filled(&shelf);
    let head = book.head().hash.to_string();
    let folder = shelf.path().with_extension("out");
    std::fs::create_dir(&folder).expect("a folder");
    std::fs::write(folder.join("a.tar"), export(&mut book)).expect("writes");
    // The very commands that README.txt in the archive gives.
    let script = "tar xf a.tar && sed -n '/^    previous=/,/^    echo/p' README.txt > check.sh && sh check.sh";
    let out = Command::new("sh").arg("-c").arg(script).current_dir(&folder).output();
    let out = out.expect("sh, tar and sha256sum are there");
    let text = String::from_utf8_lossy(&out.stdout);
    assert_eq!(text.trim(), format!("head: {head}"), "{}", String::from_utf8_lossy(&out.stderr));
    let csv = std::fs::read_to_string(folder.join("readings.csv")).expect("there");
    assert_eq!(
        csv,
        "entry,table,struck out,feature,reading\n3,t.csv,,\"a,b\",7 mm\n4,u.csv,,c,8 mm,,,extra\n"
    );
}

#[test]
fn a_changed_archive_is_refused() {
    let shelf = File::new();
    let mut book = filled(&shelf);
    let archive = export(&mut book);
    for at in (0..archive.len()).step_by(307) {
        let mut changed = archive.clone();
        changed[at] ^= 0x20;
        let other = File::new();
        // Names and times of the tar itself may change without harm; entries may not.
        if let Ok(back) = book::import(changed.as_slice(), other.store()) {
            assert_eq!(back.head(), book.head(), "byte {at}");
        }
    }
    let other = File::new();
    assert!(matches!(
        book::import(&archive[..archive.len() / 2], other.store()),
        Err(Error::Damaged(_) | Error::Wrong { .. })
    ));
}

#[test]
fn a_backup_is_made_while_the_book_is_in_use() {
    let shelf = File::new();
    let mut book = filled(&shelf);
    let to = shelf.path().with_extension("backup");
    let mut store = book::SqliteStore::open(&shelf.path()).expect("opens");
    std::thread::scope(|scope| {
        let writing = scope.spawn(|| {
            for n in 0..30 {
                book.append(&pen("R", n), note("meanwhile")).expect("writes");
            }
        });
        store.backup(&to).expect("copies");
        writing.join().expect("ends");
    });
    let mut copy = Book::open_file(&to).expect("opens");
    assert!(copy.verify(None).expect("reads").whole());
    assert!(24 <= copy.head().sequence);
    assert!(store.backup(&to).is_err(), "never over another file");
}

#[test]
fn an_attachment_that_is_gone_is_told() {
    let shelf = File::new();
    drop(begun(&shelf));
    let mut store = shelf.store();
    let bytes = b"bytes".to_vec();
    let mut batch = Some(Batch {
        rows: Vec::new(),
        attachments: vec![Attached { hash: Hash::of(b"other bytes"), bytes }],
    });
    store.append(2, &mut |_| Ok(batch.take().unwrap_or_default())).expect("writes");
    let verified = book::verify(store.as_mut(), None).expect("reads");
    assert!(verified.faults.iter().any(|f| f.what.contains("not as it was attached")));
}
