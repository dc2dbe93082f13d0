//! An engine's folder: reading it, and adding to it so that nothing is lost.

use crate::failure::Failure;
use engine::description::SourceText;
use engine::judge::Judgement;
use engine::model::{Date, Engine};
use engine::problem::Problem;
use engine::readings::{Refused, TableRead, read_table};
use std::fs::{self, File};
use std::io::{BufReader, Write};
use std::path::{Path, PathBuf};

/// An engine as far as it could be read, with everything that was refused.
pub(crate) struct Opened {
    pub(crate) engine: Engine,
    pub(crate) problems: Vec<Problem>,
    pub(crate) tables: Vec<(PathBuf, TableRead)>,
}

impl Opened {
    /// Nothing was refused.
    pub(crate) fn whole(&self) -> bool {
        self.problems.is_empty() && self.tables.iter().all(|(_, t)| t.refused_count() == 0)
    }

    /// Refused rows with their files.
    pub(crate) fn refused(&self) -> impl Iterator<Item = (&Path, &Refused)> {
        self.tables.iter().flat_map(|(file, t)| t.refused.iter().map(move |r| (file.as_path(), r)))
    }

    /// Judged.
    pub(crate) fn judge(self) -> Judgement {
        Judgement::of(self.engine)
    }
}

/// Reads an engine from a folder or from one file.
pub(crate) fn open(path: &Path, today: Option<Date>) -> Result<Opened, Failure> {
    open_with(path, today, None)
}

/// The same with one more text laid over all others.
pub(crate) fn open_with(
    path: &Path,
    today: Option<Date>,
    more: Option<SourceText>,
) -> Result<Opened, Failure> {
    if is_book(path) {
        return book_with(&crate::verbs::book::open(path)?, today, more);
    }
    let (texts, tables) = files(path)?;
    let mut problems = Vec::new();
    let mut sources = Vec::new();
    for file in &texts {
        let bytes = read_limited(file)?;
        match SourceText::from_bytes(&file.display().to_string(), &bytes) {
            Ok(source) => sources.push(source),
            Err(problem) => problems.push(problem),
        }
    }
    if sources.is_empty() {
        let what =
            problems.first().map_or("no engine file could be read".to_owned(), Problem::to_string);
        return Err(Failure::wrong(what, ""));
    }
    sources.extend(more);
    let mut loaded = engine::load(sources, today);
    let mut read = Vec::new();
    for (position, file) in tables.iter().enumerate() {
        read.push((file.clone(), read_one(&mut loaded.engine, position, file)?));
    }
    let (engine, found) = loaded.finish();
    problems.extend(found);
    Ok(Opened { engine, problems, tables: read })
}

/// Whether a path leads to a book.
pub(crate) fn is_book(path: &Path) -> bool {
    book::SqliteStore::is_book(path)
        || path.to_str().is_some_and(|p| p.starts_with("postgres:") || p.starts_with("postgresql:"))
}

/// An engine as its book says it is.
pub(crate) fn from_book(book: &book::Book, today: Option<Date>) -> Result<Opened, Failure> {
    book_with(book, today, None)
}

fn book_with(
    book: &book::Book,
    today: Option<Date>,
    more: Option<SourceText>,
) -> Result<Opened, Failure> {
    let mut sources = book.fold().engine_sources();
    if sources.texts.is_empty() {
        return Err(Failure::wrong(
            "no engine is described in this book yet",
            "`pinchbar book describe BOOK engine.toml` does it",
        ));
    }
    sources.texts.extend(more);
    let read = sources.read(today).map_err(|e| Failure::wrong(e, ""))?;
    let tables =
        read.tables.into_iter().map(|(table, read)| (PathBuf::from(table.name), read)).collect();
    Ok(Opened { engine: read.engine, problems: read.problems, tables })
}

/// Files by name, whole.
type Files = Vec<(String, Vec<u8>)>;

/// The texts and tables of an engine's folder, for a book to be begun from.
pub(crate) fn texts_and_tables(path: &Path) -> Result<[Files; 2], Failure> {
    let (texts, tables) = files(path)?;
    let all = |files: Vec<PathBuf>| -> Result<Files, Failure> {
        files
            .into_iter()
            .map(|file| {
                let name = file.file_name().unwrap_or_default().to_string_lossy().into_owned();
                fs::read(&file).map(|bytes| (name, bytes)).map_err(|e| cannot_read(&file, &e))
            })
            .collect()
    };
    Ok([all(texts)?, all(tables)?])
}

fn read_one(engine: &mut Engine, position: usize, file: &Path) -> Result<TableRead, Failure> {
    let input = File::open(file).map_err(|e| cannot_read(file, &e))?;
    // Positions beyond the field are only lost for telling rows of the 65 536th file apart.
    let position = u16::try_from(position).unwrap_or(u16::MAX);
    read_table(engine, position, BufReader::with_capacity(1 << 16, input))
        .map_err(|e| Failure::wrong(format!("{}: {e}", file.display()), ""))
}

/// Reads a description, but not one that could only be a mistake in size.
fn read_limited(file: &Path) -> Result<Vec<u8>, Failure> {
    let size = fs::metadata(file).map_err(|e| cannot_read(file, &e))?.len();
    let most = engine::description::MAX_DESCRIPTION_BYTES as u64;
    if size > most {
        return Err(Failure::wrong(
            format!("{}: {size} bytes is more than a description may be ({most})", file.display()),
            "readings belong in .csv files, which may be of any size",
        ));
    }
    fs::read(file).map_err(|e| cannot_read(file, &e))
}

fn cannot_read(file: &Path, error: &std::io::Error) -> Failure {
    Failure::wrong(
        format!("{} cannot be read: {error}", file.display()),
        "check the name and the rights to it",
    )
}

/// The description files, the engine's own first, and the tables.
fn files(path: &Path) -> Result<(Vec<PathBuf>, Vec<PathBuf>), Failure> {
    if path.is_file() {
        return Ok((vec![path.to_owned()], Vec::new()));
    }
    if !path.is_dir() {
        return Err(Failure::wrong(
            format!("there is no engine at {}", path.display()),
            "name a folder with engine.toml in it; `pinchbar new` makes one",
        ));
    }
    let (mut texts, mut tables) = (Vec::new(), Vec::new());
    let entries = fs::read_dir(path).map_err(|e| cannot_read(path, &e))?;
    for entry in entries {
        let file = entry.map_err(|e| cannot_read(path, &e))?.path();
        match file.extension().and_then(|e| e.to_str()).map(str::to_ascii_lowercase).as_deref() {
            Some("toml") if file.is_file() => texts.push(file),
            Some("csv") if file.is_file() => tables.push(file),
            _ => {}
        }
    }
    let own = path.join("engine.toml");
    if !texts.contains(&own) {
        return Err(Failure::wrong(
            format!("{} has no engine.toml", path.display()),
            "`pinchbar new` makes an engine's folder",
        ));
    }
    texts.retain(|t| *t != own);
    texts.sort();
    texts.insert(0, own);
    tables.sort();
    Ok((texts, tables))
}

/// The folder of an engine, for adding to it.
pub(crate) fn folder_of(path: &Path) -> Result<&Path, Failure> {
    if path.join("engine.toml").is_file() {
        Ok(path)
    } else {
        Err(Failure::wrong(
            format!("{} is not an engine's folder", path.display()),
            "adding needs a folder with engine.toml in it",
        ))
    }
}

/// Appends to a file of the folder, whole or not at all: the new text is written beside it,
/// brought to disk, and put in its place.
pub(crate) fn append(file: &Path, heading: &str, addition: &str) -> Result<(), Failure> {
    let fault =
        |e: std::io::Error| Failure::Fault(format!("{} could not be written: {e}", file.display()));
    let mut text = match fs::read_to_string(file) {
        Ok(text) => text,
        Err(e) if e.kind() == std::io::ErrorKind::NotFound => heading.to_owned(),
        Err(e) => return Err(fault(e)),
    };
    if !text.is_empty() && !text.ends_with('\n') {
        text.push('\n');
    }
    text.push_str(addition);
    write_whole(file, text.as_bytes())
}

/// Writes a file whole or not at all.
pub(crate) fn write_whole(file: &Path, bytes: &[u8]) -> Result<(), Failure> {
    let fault =
        |e: std::io::Error| Failure::Fault(format!("{} could not be written: {e}", file.display()));
    let mut beside = file.as_os_str().to_owned();
    beside.push(".part");
    let beside = PathBuf::from(beside);
    let mut out = File::create(&beside).map_err(fault)?;
    out.write_all(bytes).and_then(|()| out.sync_all()).map_err(fault)?;
    fs::rename(&beside, file).map_err(fault)
}
