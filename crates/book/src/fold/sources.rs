//! What the fold hands to the engine crate: texts and tables, in a fixed order.

use super::Fold;
use super::derived::Derived;
use crate::Error;
use engine::description::SourceText;
use engine::model::{Date, Engine};
use engine::problem::Problem;
use engine::readings::{Sheet, TableRead, read_sheet};
use engine::side_by_side::each;
use std::fmt::Write as _;

/// Name of the text in which [`EngineSources`] say what later entries do to the description.
pub const BY_THE_BOOK: &str = "book.toml";
/// Entries of one table; the next has the same heading again. What is read does not depend on it.
const ENTRIES_OF_A_TABLE: usize = 8_192;
/// From here on tables are read side by side.
const MANY_ENTRIES: usize = 20_000;
const FINDINGS: &str = "findings";
const FINDINGS_HEADING: &str = "feature,reading,by,when,note\n";

/// A table put together from entries that follow one another and have one heading.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Table {
    /// Name for telling refused rows: the file, or the entries.
    pub name: String,
    /// The table.
    pub text: String,
    /// Line at which each entry begins, and its number.
    pub starts: Vec<(u64, u64)>,
    /// Lines of the heading, which the entries after the first had too.
    pub heading_lines: u64,
}

impl Table {
    /// The entry a line came from.
    pub fn entry_of(&self, line: u64) -> Option<u64> {
        self.place_of(line).map(|(entry, _)| entry)
    }

    /// The entry a line came from, and the line it has in the table of that entry.
    pub fn place_of(&self, line: u64) -> Option<(u64, u64)> {
        let after = self.starts.partition_point(|(start, _)| *start <= line);
        self.place_at(after.checked_sub(1)?, line)
    }

    /// Reads the table for an engine. Readings are told by the line in the table as it was handed
    /// in, not in those laid end to end.
    fn read(&self, engine: &Engine, position: usize) -> Result<Sheet, String> {
        let position = u16::try_from(position).unwrap_or(u16::MAX);
        let mut sheet = read_sheet(engine, position, self.text.as_bytes())?;
        // Rows come in the order of the lines, so the places are gone through once.
        let mut at = 0;
        sheet.renumber(|row| {
            let line = u64::from(row);
            while self.starts.get(at + 1).is_some_and(|(start, _)| *start <= line) {
                at += 1;
            }
            let place = self.place_at(at, line);
            place.and_then(|(_, line)| u32::try_from(line).ok()).unwrap_or(row)
        });
        Ok(sheet)
    }

    /// The same, for a line that is known to lie in the entry at this place of `starts`.
    fn place_at(&self, at: usize, line: u64) -> Option<(u64, u64)> {
        let (start, entry) = *self.starts.get(at)?;
        let before = if at == 0 { 0 } else { self.heading_lines };
        Some((entry, line - start + 1 + before))
    }
}

/// Texts and tables of an engine, as `engine::load` and `engine::readings::read_sheet` take them.
#[derive(Clone, Debug)]
pub struct EngineSources {
    /// Descriptions, the engine's own first; then what later entries say.
    pub texts: Vec<SourceText>,
    /// Readings and findings.
    pub tables: Vec<Table>,
}

/// All readings of a book as rows of text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AllReadings {
    /// Names of the columns.
    pub heading: Vec<String>,
    /// Rows; a row may have fewer cells than the heading.
    pub rows: Vec<Vec<String>>,
}

/// An engine read from a book.
#[derive(Debug)]
pub struct EngineRead {
    /// The engine, without what is at fault.
    pub engine: Engine,
    /// What is at fault in descriptions.
    pub problems: Vec<Problem>,
    /// Tables and what came of reading each.
    pub tables: Vec<(Table, TableRead)>,
}

impl EngineSources {
    /// Reads the engine.
    ///
    /// # Errors
    /// A table has no heading that can be read: its name and why.
    pub fn read(self, today: Option<Date>) -> Result<EngineRead, String> {
        let mut loaded = engine::load(self.texts, today);
        let entries: usize = self.tables.iter().map(|table| table.starts.len()).sum();
        let sheets = each(self.tables.len(), MANY_ENTRIES <= entries, &|position| {
            self.tables[position].read(&loaded.engine, position)
        });
        loaded.engine.readings.reserve(entries);
        let mut tables = Vec::with_capacity(self.tables.len());
        for (table, sheet) in self.tables.into_iter().zip(sheets) {
            let mut read =
                sheet.map_err(|e| format!("{}: {e}", table.name))?.take_into(&mut loaded.engine);
            for refused in &mut read.refused {
                if let Some((entry, line)) = table.place_of(refused.line) {
                    refused.line = line;
                    refused.what = format!("{} (entry {entry})", refused.what);
                }
            }
            tables.push((table, read));
        }
        let (engine, problems) = loaded.finish();
        Ok(EngineRead { engine, problems, tables })
    }
}

impl Fold {
    /// The engine as the entries describe it.
    pub fn engine_sources(&self) -> EngineSources {
        let mut texts: Vec<SourceText> = Vec::new();
        for (file, text) in &self.derived.descriptions {
            texts.push(SourceText { file: file.clone(), text: text.clone() });
        }
        let later = later_text(&self.derived);
        if !later.is_empty() {
            texts.push(SourceText { file: BY_THE_BOOK.to_owned(), text: later });
        }
        let mut tables = self.tables();
        if let Some(findings) = findings(&self.derived) {
            tables.push(findings);
        }
        EngineSources { texts, tables }
    }

    /// Every row of readings as written, with the entry it stands in, under one heading.
    pub fn all_readings(&self) -> AllReadings {
        let mut rows = Vec::new();
        let heading = self.each_row(&mut |row| {
            rows.push(row);
            Ok(())
        });
        // The closure refuses nothing.
        AllReadings { heading: heading.unwrap_or_default(), rows }
    }

    /// The same as a table for a spreadsheet, written as it is made.
    ///
    /// # Errors
    /// It cannot be written.
    pub fn readings_csv(&self, out: impl std::io::Write) -> Result<(), Error> {
        let unwritten = |e: csv::Error| Error::Unavailable(format!("cannot be written: {e}"));
        // The heading is known when all has been read.
        let heading = self.each_row(&mut |_| Ok(()))?;
        let mut out = csv::WriterBuilder::new().flexible(true).from_writer(out);
        out.write_record(&heading).map_err(unwritten)?;
        self.each_row(&mut |row| out.write_record(&row).map_err(unwritten))?;
        out.flush().map_err(|e| unwritten(e.into()))
    }

    /// Makes the rows one after another; the heading they are under in the end.
    fn each_row(
        &self,
        take: &mut dyn FnMut(Vec<String>) -> Result<(), Error>,
    ) -> Result<Vec<String>, Error> {
        let mut all = ["entry", "table", "struck out"].map(str::to_owned).to_vec();
        let mut columns: std::collections::HashMap<String, usize> =
            std::collections::HashMap::new();
        for entry in &self.readings {
            let heading = self.headings.text(entry.heading);
            let text = format!("{heading}{}", &self.rows[entry.rows.clone()]);
            let text = text.trim_start_matches('\u{feff}');
            let mut places = None;
            let mut rows = csv::ReaderBuilder::new()
                .has_headers(false)
                .flexible(true)
                .delimiter(delimiter_of(heading))
                .from_reader(text.as_bytes());
            for row in rows.records().map_while(Result::ok) {
                if row.iter().all(|c| c.trim().is_empty()) {
                    continue;
                }
                let Some(places) = &places else {
                    let found: Vec<usize> = row
                        .iter()
                        .map(|cell| {
                            let name = cell.trim().to_lowercase();
                            *columns.entry(name.clone()).or_insert_with(|| {
                                all.push(name);
                                all.len() - 1
                            })
                        })
                        .collect();
                    places = Some(found);
                    continue;
                };
                let struck = self.struck(entry.sequence).unwrap_or("").to_owned();
                let mut out = vec![
                    entry.sequence.to_string(),
                    self.files.text(entry.file).to_owned(),
                    struck,
                ];
                for (n, cell) in row.iter().enumerate() {
                    // Cells beyond the heading keep their place at the end.
                    let at = places.get(n).copied().unwrap_or(all.len() + n);
                    if out.len() <= at {
                        out.resize(at + 1, String::new());
                    }
                    out[at] = cell.to_owned();
                }
                take(out)?;
            }
        }
        Ok(all)
    }

    fn tables(&self) -> Vec<Table> {
        let mut tables: Vec<Table> = Vec::new();
        let mut open: Option<(u32, u64)> = None;
        let known: Vec<bool> = self.headings.texts.iter().map(|h| quotes_closed(h)).collect();
        for entry in &self.readings {
            if self.struck.contains_key(&entry.sequence) {
                continue;
            }
            let heading = self.headings.text(entry.heading);
            let body = &self.rows[entry.rows.clone()];
            let mergeable = known[entry.heading as usize] && quotes_closed(body);
            let lines = body.bytes().filter(|b| *b == b'\n').count() as u64
                + u64::from(!body.is_empty() && !body.ends_with('\n'));
            match (&mut open, tables.last_mut()) {
                (Some((known, line)), Some(table))
                    if *known == entry.heading
                        && mergeable
                        && table.starts.len() < ENTRIES_OF_A_TABLE =>
                {
                    table.starts.push((*line, entry.sequence));
                    push_lines(&mut table.text, body);
                    *line += lines;
                }
                _ => {
                    let mut text = String::with_capacity(heading.len() + entry.rows.len() + 2);
                    push_lines(&mut text, heading);
                    push_lines(&mut text, body);
                    let next = text.bytes().filter(|b| *b == b'\n').count() as u64 + 1;
                    tables.push(Table {
                        name: self.files.text(entry.file).to_owned(),
                        text,
                        starts: vec![(1, entry.sequence)],
                        heading_lines: heading.bytes().filter(|b| *b == b'\n').count() as u64,
                    });
                    open = mergeable.then_some((entry.heading, next));
                }
            }
        }
        tables
    }
}

fn push_lines(text: &mut String, more: &str) {
    text.push_str(more);
    if !more.is_empty() && !more.ends_with('\n') {
        text.push('\n');
    }
}

/// A table can be laid end to end with another when no quotation is left open.
fn quotes_closed(text: &str) -> bool {
    text.bytes().filter(|b| *b == b'"').count() % 2 == 0
}

/// The lines up to and with the first that is not blank, and the rest.
pub(crate) fn split_heading(table: &str) -> (&str, &str) {
    let mut end = 0;
    for line in table.split_inclusive('\n') {
        end += line.len();
        if !line.trim_matches(['\u{feff}', ',', ';', '\t', '\r', '\n', ' ']).is_empty() {
            break;
        }
    }
    // A heading with a line break inside a quoted cell is not split.
    if quotes_closed(&table[..end]) { table.split_at(end) } else { (table, "") }
}

/// The delimiter of a table, by its heading, as the engine crate tells it.
pub(crate) fn delimiter_of(heading: &str) -> u8 {
    let first = heading.lines().find(|l| !l.trim().is_empty()).unwrap_or("");
    [b';', b'\t', b',']
        .into_iter()
        .max_by_key(|d| (first.bytes().filter(|b| b == d).count(), *d == b','))
        .unwrap_or(b',')
}

/// A TOML basic string (TOML 1.0, section String).
fn quoted(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 2);
    out.push('"');
    for c in text.chars() {
        match c {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            '\n' => out.push_str("\\n"),
            '\r' => out.push_str("\\r"),
            '\t' => out.push_str("\\t"),
            c if c.is_control() => {
                let _ = write!(out, "\\u{:04X}", u32::from(c));
            }
            c => out.push(c),
        }
    }
    out.push('"');
    out
}

/// What entries after the descriptions say about gauges, parts, decisions and figures.
fn later_text(derived: &Derived) -> String {
    let mut text = String::new();
    // Only the last calibration of a gauge counts: within one text an id may stand once.
    let mut seen = std::collections::HashSet::new();
    let mut calibrations: Vec<_> =
        derived.calibrations.iter().rev().filter(|c| seen.insert(c.gauge.as_str())).collect();
    calibrations.reverse();
    for c in calibrations {
        let _ =
            write!(text, "[[gauge]]\nid = {}\ncalibrated = {}\n", quoted(&c.gauge), quoted(&c.on));
        for (name, value) in [("due", &c.due), ("correction", &c.correction)] {
            if !value.is_empty() {
                let _ = writeln!(text, "{name} = {}", quoted(value));
            }
        }
    }
    // What others ever lay in is a tin or a shelf, not a part of the engine.
    for (name, thing) in derived.things.iter().filter(|(name, _)| !derived.places.contains(*name)) {
        let _ = writeln!(text, "[[part]]\nid = {}", quoted(name));
        if let Some(tag) = &thing.tag {
            let _ = writeln!(text, "tag = {}", quoted(tag));
        }
        if let Some(standing) = &thing.standing {
            let _ = writeln!(text, "place = {}", quoted(&standing.place));
        }
    }
    for d in &derived.decisions {
        let _ = write!(
            text,
            "[[decision]]\njoint = {}\nrepair = {}\nby = {}\nwhen = {}\n",
            quoted(&d.joint),
            quoted(&d.repair),
            quoted(&d.by),
            quoted(&d.when)
        );
        if !d.reason.is_empty() {
            let _ = writeln!(text, "reason = {}", quoted(&d.reason));
        }
        if !d.make.is_empty() {
            let sizes: Vec<String> = d
                .make
                .iter()
                .map(|m| format!("{{ feature = {}, to = {} }}", quoted(&m.feature), quoted(&m.to)))
                .collect();
            let _ = writeln!(text, "make = [{}]", sizes.join(", "));
        }
    }
    for s in &derived.figure_strikes {
        let _ = write!(
            text,
            "[[strike-out]]\nfeature = {}\nvalue = {}\n",
            quoted(&s.feature),
            quoted(&s.value)
        );
        for (name, value) in [("station", &s.station), ("direction", &s.direction)] {
            if !value.is_empty() {
                let _ = writeln!(text, "{name} = {}", quoted(value));
            }
        }
        let _ = writeln!(text, "reason = {}\nby = {}", quoted(&s.reason), quoted(&s.by));
    }
    text
}

fn findings(derived: &Derived) -> Option<Table> {
    if derived.findings.is_empty() {
        return None;
    }
    let mut rows = csv::WriterBuilder::new().from_writer(Vec::new());
    for f in &derived.findings {
        // Writing into memory does not fail.
        let _ = rows.write_record([&f.feature, &f.condition, &f.by, &f.when, &f.note]);
    }
    let body = rows.into_inner().ok().and_then(|bytes| String::from_utf8(bytes).ok())?;
    let name = FINDINGS.to_owned();
    Some(Table {
        name,
        text: format!("{FINDINGS_HEADING}{body}"),
        starts: Vec::new(),
        heading_lines: 1,
    })
}
