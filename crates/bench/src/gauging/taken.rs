//! A figure that was sent: checked by the engine's own reader, and written once.

use crate::state::Bench;
use crate::trouble::Trouble;
use book::{Book, Pen, Said, Written};
use engine::model::{Date, Engine, Reading};
use engine::readings::read_table;

/// A figure as it was typed, with all that goes with it. What the entry says follows from this
/// alone: sent again, it says the same.
#[derive(Clone, Debug, Default)]
pub(crate) struct Typed {
    /// Made when it was typed.
    pub(crate) key: String,
    pub(crate) feature: String,
    pub(crate) station: String,
    pub(crate) direction: String,
    /// Figure and unit, character for character.
    pub(crate) reading: String,
    pub(crate) gauge: String,
    pub(crate) by: String,
    pub(crate) when: String,
    pub(crate) temperature: String,
    /// What the person said when they were asked about the figure.
    pub(crate) note: String,
}

/// Name of the table that such readings stand in.
const TABLE: &str = "gauging.csv";
const HEADING: &str = "feature,station,direction,reading,gauge,by,when,temperature,note\n";
/// No figure is longer, nor any name.
const LONGEST: usize = 200;

/// A cell of a table with commas (RFC 4180).
fn quoted(cell: &str) -> String {
    if cell.contains([',', '"', '\n', '\r', ';', '\t']) || cell.trim() != cell {
        format!("\"{}\"", cell.replace('"', "\"\""))
    } else {
        cell.to_owned()
    }
}

impl Typed {
    fn cells(&self) -> [&str; 9] {
        [
            &self.feature,
            &self.station,
            &self.direction,
            &self.reading,
            &self.gauge,
            &self.by,
            &self.when,
            &self.temperature,
            &self.note,
        ]
    }

    /// What the entry says.
    pub(crate) fn said(&self) -> Said {
        let row = self.cells().map(quoted).join(",");
        Said::Readings { file: TABLE.to_owned(), table: format!("{HEADING}{row}\n") }
    }

    /// The reading, as the engine's reader takes it.
    pub(crate) fn read(&self, engine: &Engine) -> Result<Reading, Trouble> {
        let wrong = |what: &str, mend: &str| Err(Trouble::wrong(what, mend));
        if let Some(cell) = self.cells().iter().find(|c| LONGEST < c.chars().count()) {
            let start: String = cell.chars().take(20).collect();
            return wrong(&format!("\"{start}...\" is too long to be a figure or a name"), "");
        }
        if self.cells().iter().any(|c| c.chars().any(char::is_control)) {
            return wrong("a figure or a name has a control character in it", "type it again");
        }
        // A word for a condition is no figure; it is said on the part's page.
        if engine::model::Condition::parse(&self.reading).is_ok() {
            return wrong("that is a condition, not a figure", "say it on the page of the part");
        }
        let mut engine = engine.clone();
        engine.readings.clear();
        let Said::Readings { table, .. } = self.said() else {
            return Err(Trouble::Inside("a typed figure is not a reading".to_owned()));
        };
        let read = read_table(&mut engine, 0, table.as_bytes())
            .map_err(|e| Trouble::wrong(e, "type it again"))?;
        if let Some(refused) = read.refused.first() {
            return wrong(&refused.what, &refused.mend);
        }
        match engine.readings.pop() {
            Some(reading) if engine.readings.is_empty() => Ok(reading),
            _ => wrong("that is not one figure", "type it again"),
        }
    }
}

/// Writes figures, each once. Gives the entries and whether each is new.
pub(crate) async fn write(
    bench: &Bench,
    pen: Pen,
    all: Vec<Typed>,
) -> Result<Vec<(Written, bool)>, Trouble> {
    bench
        .write(move |book| {
            all.iter().map(|typed| book.append_once(&pen, &typed.key, typed.said())).collect()
        })
        .await
}

/// Whether a key stands in the book already: what was written is not refused when it comes again,
/// whatever has changed since.
pub(crate) async fn known(bench: &Bench, key: &str) -> Result<bool, Trouble> {
    let key = key.to_owned();
    bench
        .write(move |book: &mut Book| {
            let mut found = false;
            book.each(&mut |entry, _, _| {
                found |= entry.key.as_deref() == Some(key.as_str());
                Ok(())
            })?;
            Ok(found)
        })
        .await
}

/// The day a figure was read, from what was sent: a day, or the day it is.
pub(crate) fn day(sent: &str, today: Option<Date>) -> String {
    match sent {
        "" => today.map(|d| d.to_string()).unwrap_or_default(),
        day => day.to_owned(),
    }
}
