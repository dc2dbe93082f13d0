//! Adding readings to an engine's folder.

use super::print_json;
use crate::args::{Args, Verb};
use crate::failure::put;
use crate::failure::{DONE, Failure, PARTLY};
use crate::folder::{append, folder_of, open, write_whole};
use engine::model::Date;
use engine::readings::{ByHand, TableRead, read_table};
use serde_json::json;
use std::fs;
use std::io::BufReader;
use std::path::{Path, PathBuf};

const BY_HAND: &str = "readings-by-hand.csv";

/// Adds a table, or one reading.
pub(super) fn add(args: &Args, today: Date) -> Result<u8, Failure> {
    let Verb::Add { engine, table, feature, .. } = &args.verb else {
        return Err(Failure::Fault("not `add`".to_owned()));
    };
    let folder = folder_of(engine)?;
    match (table, feature) {
        (Some(table), _) => add_table(args, folder, table, today),
        (None, Some(_)) => add_one(args, folder, today),
        (None, None) => Err(Failure::wrong(
            "nothing to add",
            "name a table of readings, or give --feature and --value",
        )),
    }
}

/// The table goes into the folder as it is: rows refused today may be mended tomorrow, and
/// nothing is lost.
fn add_table(args: &Args, folder: &Path, table: &Path, today: Date) -> Result<u8, Failure> {
    let mut engine = open(folder, Some(today))?.engine;
    let input = fs::File::open(table).map_err(|e| {
        Failure::wrong(format!("{} cannot be read: {e}", table.display()), "check the name")
    })?;
    let read = read_table(&mut engine, u16::MAX, BufReader::with_capacity(1 << 16, input))
        .map_err(|e| Failure::wrong(format!("{}: {e}", table.display()), ""))?;
    let to = free_name(folder, table)?;
    if let Some(to) = &to {
        let bytes = fs::read(table)
            .map_err(|e| Failure::Fault(format!("{} cannot be read: {e}", table.display())))?;
        write_whole(to, &bytes)?;
    }
    told(args, &read, to.as_deref().unwrap_or(table))?;
    Ok(if read.refused_count() == 0 { DONE } else { PARTLY })
}

/// A name in the folder that is not taken; `None` when the table is in the folder already.
fn free_name(folder: &Path, table: &Path) -> Result<Option<PathBuf>, Failure> {
    let same = |a: &Path, b: &Path| {
        fs::canonicalize(a).ok().zip(fs::canonicalize(b).ok()).is_some_and(|(a, b)| a == b)
    };
    let parent = table.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or(Path::new("."));
    if same(parent, folder) {
        return Ok(None);
    }
    let stem = table.file_stem().and_then(|s| s.to_str()).unwrap_or("readings");
    for n in 0..10_000 {
        let name = if n == 0 { format!("{stem}.csv") } else { format!("{stem}-{n}.csv") };
        let to = folder.join(name);
        if !to.exists() {
            return Ok(Some(to));
        }
    }
    Err(Failure::wrong(
        format!("{} has ten thousand tables of that name", folder.display()),
        "rename the table",
    ))
}

fn told(args: &Args, read: &TableRead, file: &Path) -> Result<(), Failure> {
    if args.json {
        let refused: Vec<_> = read.refused.iter().map(super::refused_row).collect();
        return print_json(&json!({
            "file": file.display().to_string(), "rows": read.rows, "taken": read.taken,
            "findings": read.findings, "blank": read.blank, "refused": refused,
            "refused_unlisted": read.refused_unlisted,
        }));
    }
    put!(
        "{}: {} rows: {} readings and {} findings taken, {} refused",
        file.display(),
        read.rows,
        read.taken,
        read.findings,
        read.refused_count()
    );
    for r in &read.refused {
        let column = if r.column.is_empty() { String::new() } else { format!(" {}", r.column) };
        put!("  line {}:{column} {}\n    mend: {}\n    row:  {}", r.line, r.what, r.mend, r.row);
    }
    Ok(())
}

fn add_one(args: &Args, folder: &Path, today: Date) -> Result<u8, Failure> {
    let Verb::Add { feature, value, station, direction, gauge, by, when, temperature, .. } =
        &args.verb
    else {
        return Err(Failure::Fault("not `add`".to_owned()));
    };
    let when = if when.is_empty() { today.to_string() } else { when.clone() };
    let by_hand = ByHand {
        feature: feature.as_deref().unwrap_or(""),
        station,
        direction,
        value: value.as_deref().unwrap_or(""),
        gauge,
        by,
        when: &when,
        temperature,
    };
    let mut engine = open(folder, Some(today))?.engine;
    let table = by_hand.table();
    let read = read_table(&mut engine, u16::MAX, table.as_bytes()).map_err(Failure::Fault)?;
    if let Some(r) = read.refused.first() {
        return Err(Failure::wrong(format!("{}: {}", r.column, r.what), r.mend.clone()));
    }
    append(&folder.join(BY_HAND), ByHand::HEADING, &by_hand.row())?;
    told(args, &read, &folder.join(BY_HAND))?;
    Ok(DONE)
}
