//! A readings table as a spreadsheet saves it.
//!
//! Takes a byte-order mark, commas, semicolons or tabs, decimal commas, blank lines, quoted cells
//! and any order of columns. Every row that cannot be taken is listed with its reason; none is
//! dropped in silence. Reads a stream: memory grows with the readings kept, not with the file.

use super::direction::parse_direction;
use super::last_row::LastRow;
use super::rows::{Cells, Rows, sniff_delimiter};
use crate::model::{
    Condition, DIRECTION_UNSAID, Date, Engine, Finding, PersonIx, Reading, ReadingKind,
    STATION_UNSAID,
};
use crate::problem::nearest;
use indexmap::IndexSet;
use quantity::{Dimension, Quantity, Unit};
use std::io::BufRead;

/// Refused rows listed in full; beyond this they are counted.
const MOST_REFUSED_LISTED: usize = 10_000;
/// Most readings that room is made for before they are read.
const MOST_ROOM: usize = 16_384;

/// A row that was not taken.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refused {
    /// Line in the file, from 1.
    pub line: u64,
    /// Column name, when the fault is in one.
    pub column: String,
    /// What is wrong.
    pub what: String,
    /// The mend.
    pub mend: String,
    /// The row as it stood, shortened.
    pub row: String,
}

/// What came of reading a table.
#[derive(Clone, Debug, Default)]
pub struct TableRead {
    /// Rows with something in them, without the heading.
    pub rows: u64,
    /// Readings taken.
    pub taken: u64,
    /// Findings taken.
    pub findings: u64,
    /// Blank rows passed over.
    pub blank: u64,
    /// Rows not taken.
    pub refused: Vec<Refused>,
    /// Rows not taken and not listed, for there were too many.
    pub refused_unlisted: u64,
}

impl TableRead {
    fn refuse(&mut self, refused: Refused) {
        if self.refused.len() < MOST_REFUSED_LISTED {
            self.refused.push(refused);
        } else {
            self.refused_unlisted += 1;
        }
    }

    /// Rows not taken.
    pub fn refused_count(&self) -> u64 {
        self.refused.len() as u64 + self.refused_unlisted
    }
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Column {
    Feature,
    Station,
    Direction,
    Value,
    Unit,
    Kind,
    Gauge,
    By,
    When,
    Temperature,
    Repeats,
    Note,
    Ignored,
}

impl Column {
    const COUNT: usize = Column::Ignored as usize + 1;
}

const HEADINGS: &[(&str, Column)] = &[
    ("feature", Column::Feature),
    ("station", Column::Station),
    ("at", Column::Station),
    ("direction", Column::Direction),
    ("dir", Column::Direction),
    ("reading", Column::Value),
    ("value", Column::Value),
    ("size", Column::Value),
    ("unit", Column::Unit),
    ("units", Column::Unit),
    ("kind", Column::Kind),
    ("gauge", Column::Gauge),
    ("by", Column::By),
    ("person", Column::By),
    ("who", Column::By),
    ("when", Column::When),
    ("date", Column::When),
    ("day", Column::When),
    ("temperature", Column::Temperature),
    ("temp", Column::Temperature),
    ("repeats", Column::Repeats),
    ("times", Column::Repeats),
    ("note", Column::Note),
    ("remark", Column::Note),
];

/// A table that was read and not yet given to its engine.
#[derive(Debug, Default)]
pub struct Sheet {
    readings: Vec<Reading>,
    findings: Vec<Finding>,
    /// People by the numbers that `readings` have for them.
    people: IndexSet<String>,
    read: TableRead,
}

impl Sheet {
    /// Tells the readings by other rows: `row` gives the one for the one in the table.
    pub fn renumber(&mut self, mut row: impl FnMut(u32) -> u32) {
        for reading in &mut self.readings {
            reading.row = row(reading.row);
        }
    }

    /// Gives readings and findings to the engine they were read for.
    pub fn take_into(self, engine: &mut Engine) -> TableRead {
        let Sheet { mut readings, mut findings, people, read } = self;
        let people: Vec<PersonIx> = people.iter().map(|name| engine.person(name)).collect();
        for reading in &mut readings {
            reading.by = reading.by.and_then(|by| people.get(by.index()).copied());
        }
        if engine.readings.is_empty() && engine.readings.capacity() == 0 {
            engine.readings = readings;
        } else {
            engine.readings.append(&mut readings);
        }
        engine.findings.append(&mut findings);
        read
    }
}

/// Reads a table into the engine. `file` is the position of the file in the caller's list and is
/// kept with every reading.
///
/// # Errors
/// Only when nothing can be read at all: an I/O error, or no heading with `feature` and
/// `reading`. The text says which and the mend.
pub fn read_table(
    engine: &mut Engine,
    file: u16,
    input: impl BufRead,
) -> Result<TableRead, String> {
    read_sheet(engine, file, input).map(|sheet| sheet.take_into(engine))
}

/// Reads a table for an engine, without giving it what was read: several can be read at once.
///
/// # Errors
/// As [`read_table`].
pub fn read_sheet(engine: &Engine, file: u16, mut input: impl BufRead) -> Result<Sheet, String> {
    let mut sheet = Sheet::default();
    let delimiter = sniff_delimiter(&mut input)?;
    // A row of readings has some fifty bytes; a table in memory lies in the first buffer whole.
    let first = input.fill_buf().map_or(0, <[u8]>::len);
    sheet.readings.reserve((first / 50).min(MOST_ROOM));
    let mut rows = Rows::new(input, delimiter);
    let mut heading: Option<Columns> = None;
    let mut last = LastRow::default();
    while let Some(line) = rows.next_row()? {
        let cells = match rows.cells() {
            Ok(cells) => cells,
            Err((what, mend)) => {
                sheet.read.rows += 1;
                sheet.read.refuse(Refused {
                    line,
                    column: String::new(),
                    what,
                    mend,
                    row: String::new(),
                });
                continue;
            }
        };
        if cells.iter().all(|c| c.trim().is_empty()) {
            sheet.read.blank += 1;
            continue;
        }
        let Some(columns) = &heading else {
            heading = Some(read_heading(&cells)?);
            continue;
        };
        sheet.read.rows += 1;
        let decimal_comma = delimiter != b',';
        match read_row(engine, file, line, columns, &cells, decimal_comma, &mut last, &mut sheet) {
            Ok(Taken::Reading) => sheet.read.taken += 1,
            Ok(Taken::Finding) => sheet.read.findings += 1,
            Err(fault) => sheet.read.refuse(Refused {
                line,
                column: fault.column.to_owned(),
                what: fault.what,
                mend: fault.mend,
                row: cells.whole().chars().take(160).collect(),
            }),
        }
    }
    if heading.is_none() {
        return Err("the table is empty; its first row names the columns: feature, station, direction, reading, unit, gauge, by, when, temperature".to_owned());
    }
    Ok(sheet)
}

/// What the columns of a table are.
struct Columns {
    count: usize,
    /// Where each kind of column stands first.
    places: [Option<usize>; Column::COUNT],
}

impl Columns {
    fn of(columns: &[Column]) -> Columns {
        let mut places = [None; Column::COUNT];
        for (at, column) in columns.iter().enumerate() {
            places[*column as usize].get_or_insert(at);
        }
        Columns { count: columns.len(), places }
    }
}

fn read_heading(cells: &Cells<'_>) -> Result<Columns, String> {
    let columns: Vec<Column> = cells
        .iter()
        .map(|cell| {
            let name = cell.trim().to_lowercase();
            HEADINGS.iter().find(|(h, _)| *h == name).map_or(Column::Ignored, |(_, c)| *c)
        })
        .collect();
    for (wanted, name) in [(Column::Feature, "feature"), (Column::Value, "reading")] {
        match columns.iter().filter(|c| **c == wanted).count() {
            1 => {}
            0 => {
                let seen = cells.iter().map(|c| c.trim()).collect::<Vec<_>>().join(", ");
                let seen: String = seen.chars().take(200).collect();
                return Err(format!(
                    "the first row has no column \"{name}\" (it has: {seen}); name the columns feature, station, direction, reading, unit, gauge, by, when, temperature"
                ));
            }
            _ => return Err(format!("two columns are named \"{name}\"; keep one")),
        }
    }
    Ok(Columns::of(&columns))
}

pub(super) struct Fault {
    column: &'static str,
    what: String,
    mend: String,
}

impl Fault {
    fn new(column: &'static str, what: impl Into<String>, mend: impl Into<String>) -> Self {
        Fault { column, what: what.into(), mend: mend.into() }
    }
}

enum Taken {
    Reading,
    Finding,
}

#[expect(clippy::too_many_arguments, reason = "the place and state of one row")]
fn read_row(
    engine: &Engine,
    file: u16,
    line: u64,
    columns: &Columns,
    cells: &Cells<'_>,
    decimal_comma: bool,
    last: &mut LastRow,
    sheet: &mut Sheet,
) -> Result<Taken, Fault> {
    if cells.iter().skip(columns.count).any(|c| !c.trim().is_empty()) {
        return Err(Fault::new(
            "",
            format!("{} cells under {} headings", cells.len(), columns.count),
            "a comma inside a cell? put the cell between quotation marks",
        ));
    }
    let cell = |wanted: Column| -> &str {
        columns.places[wanted as usize].and_then(|at| cells.get(at)).map_or("", str::trim)
    };
    let name = cell(Column::Feature);
    let Some(feature) = engine.feature_by_id(name) else {
        let mend = match nearest(name, engine.features.iter().map(|f| f.id.as_str())) {
            Some(near) => format!("did you mean \"{near}\"?"),
            None => "use a feature id of the engine".to_owned(),
        };
        return Err(Fault::new("feature", format!("there is no feature \"{name}\""), mend));
    };
    let text = cell(Column::Value);
    if text.is_empty() {
        return Err(Fault::new(
            "reading",
            "no figure",
            "write what the gauge showed, or take the row out",
        ));
    }
    let when = match cell(Column::When) {
        "" => None,
        t => Some(
            last.when
                .read(t, || Date::parse(t).map_err(|e| Fault::new("when", e, "year-month-day")))?,
        ),
    };
    let by = cell(Column::By);
    if let Some(condition) = Condition::of_word(text) {
        let note = cell(Column::Note).to_owned();
        let by = by.to_owned();
        sheet.findings.push(Finding { feature, condition, by, when, note });
        return Ok(Taken::Finding);
    }
    let unit = match cell(Column::Unit) {
        "" => None,
        t => Some(Unit::find(t).ok_or_else(|| {
            Fault::new(
                "unit",
                format!("\"{t}\" is not a unit known here"),
                "mm, in, thou, hundredths ...",
            )
        })?),
    };
    let value = read_figure(text, unit, decimal_comma)?;
    if value.dimension() != Dimension::Length {
        return Err(Fault::new(
            "reading",
            format!("\"{text}\" is a {}, not a length", value.dimension().name()),
            "features are gauged as lengths; check the unit",
        ));
    }
    let kind = match cell(Column::Kind).to_lowercase().as_str() {
        "" | "across" | "diameter" | "two-point" => ReadingKind::Across,
        "dial" | "run-out" | "runout" => ReadingKind::Dial,
        other => {
            return Err(Fault::new(
                "kind",
                format!("\"{other}\" is not a way of reading"),
                "across or dial",
            ));
        }
    };
    let station = station_of(engine, feature, cell(Column::Station))?;
    let direction_rad = match cell(Column::Direction) {
        "" => DIRECTION_UNSAID,
        t => parse_direction(t)
            .map_err(|mend| Fault::new("direction", format!("\"{t}\" is not a direction"), mend))?,
    };
    let gauge = match cell(Column::Gauge) {
        "" => None,
        t => Some(last.gauge.read(t, || {
            engine.gauge_by_id(t).ok_or_else(|| {
                let mend = match nearest(t, engine.gauges.iter().map(|g| g.id.as_str())) {
                    Some(near) => format!("did you mean \"{near}\"?"),
                    None => "describe the gauge in a [[gauge]]".to_owned(),
                };
                Fault::new("gauge", format!("there is no gauge \"{t}\""), mend)
            })
        })?),
    };
    let temperature_c = match cell(Column::Temperature) {
        "" => None,
        t => Some(last.temperature.read(t, || read_temperature(t))?),
    };
    let repeats = match cell(Column::Repeats) {
        "" => 1,
        t => t.parse::<u16>().ok().filter(|n| (1..=1000).contains(n)).ok_or_else(|| {
            Fault::new(
                "repeats",
                format!("\"{t}\" is not a count"),
                "how often the reading was taken: 1, 2, 3 ...",
            )
        })?,
    };
    let by = match by {
        "" => None,
        t => Some(last.by.read(t, || Ok(person(&mut sheet.people, t)))?),
    };
    let (si, resolution_si) = (value.si(), value.resolution_si());
    sheet.readings.push(Reading {
        text: as_written(unit, value),
        si,
        resolution_si,
        direction_rad,
        temperature_c,
        feature,
        gauge,
        by,
        when,
        station,
        repeats,
        kind,
        file,
        row: u32::try_from(line).unwrap_or(u32::MAX),
        struck: false,
    });
    Ok(Taken::Reading)
}

/// The number of a person of this sheet.
fn person(people: &mut IndexSet<String>, name: &str) -> PersonIx {
    let known = people.get_index_of(name);
    PersonIx::new(known.unwrap_or_else(|| people.insert_full(name.to_owned()).0))
}

/// The figure with the unit of its column, so that it can be understood alone; character for
/// character what stood in the cells.
fn as_written(unit: Option<Unit>, value: Quantity) -> Box<str> {
    let text = value.into_text();
    match unit {
        Some(unit)
            if !text.chars().any(char::is_alphabetic) && !text.contains(['"', '\'', '″', '′']) =>
        {
            format!("{text} {}", unit.symbol()).into()
        }
        _ => text.into(),
    }
}

fn read_figure(text: &str, unit: Option<Unit>, decimal_comma: bool) -> Result<Quantity, Fault> {
    let fault = |e: quantity::ParseError| {
        Fault::new("reading", format!("\"{text}\": {}", e.reason()), e.hint().to_owned())
    };
    if decimal_comma && text.contains(',') {
        return Quantity::parse_decimal_comma(text, unit).map_err(fault);
    }
    match unit {
        Some(unit) => Quantity::parse_in(text, unit).map_err(fault),
        None => Quantity::parse(text).map_err(fault),
    }
}

fn read_temperature(text: &str) -> Result<f32, Fault> {
    let point = text.replace(',', ".");
    let celsius = match point.parse::<f64>() {
        Ok(c) => c,
        Err(_) => {
            Quantity::parse_as(text, Dimension::Temperature)
                .map_err(|e| {
                    Fault::new(
                        "temperature",
                        format!("\"{text}\": {}", e.reason()),
                        "degrees Celsius, or 54 degF",
                    )
                })?
                .si()
                - 273.15
        }
    };
    if (-60.0..=200.0).contains(&celsius) {
        Ok(celsius as f32)
    } else {
        Err(Fault::new(
            "temperature",
            format!("a part at {text} was not gauged"),
            "degrees Celsius, or 54 degF",
        ))
    }
}

fn station_of(engine: &Engine, feature: crate::model::FeatureIx, text: &str) -> Result<u16, Fault> {
    if text.is_empty() {
        return Ok(STATION_UNSAID);
    }
    let stations = &engine.feature(feature).stations;
    match stations.iter().position(|s| s.eq_ignore_ascii_case(text)) {
        // The count of stations is held below STATION_UNSAID when the engine is built.
        Some(at) => Ok(at as u16),
        None => Err(Fault::new(
            "station",
            format!("{} has no station \"{text}\"", engine.feature(feature).id),
            if stations.is_empty() {
                "give the feature stations = [\"A\", \"B\"], or leave the cell empty".to_owned()
            } else {
                format!("its stations are {}", stations.join(", "))
            },
        )),
    }
}
