//! Rows of a table as a stream gives them, cut into cells, in bounded memory.

use csv_core::{ReadRecordResult, Reader, ReaderBuilder};
use std::io::BufRead;

/// Longer rows than this are refused: a row of readings has some two hundred bytes.
pub const MAX_ROW_BYTES: usize = 16 << 10;
const MOST_CELLS: usize = 256;

/// Looks at the start of the stream without taking it: the delimiter that the first line has most
/// of, outside quotation marks.
pub(super) fn sniff_delimiter(input: &mut impl BufRead) -> Result<u8, String> {
    let start = input.fill_buf().map_err(|e| format!("could not be read: {e}"))?;
    let start = start.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(start);
    if start.starts_with(b"\xFF\xFE") || start.starts_with(b"\xFE\xFF") {
        return Err("the table is UTF-16; save it as \"CSV UTF-8\"".to_owned());
    }
    let line = start
        .split(|b| *b == b'\n')
        .find(|l| !l.iter().all(|b| b",;\t\r ".contains(b)))
        .unwrap_or(b"");
    let count = |d: u8| {
        let mut quoted = false;
        line.iter()
            .filter(|b| {
                quoted ^= **b == b'"';
                !quoted && **b == d
            })
            .count()
    };
    Ok([b';', b'\t', b','].into_iter().max_by_key(|d| (count(*d), *d == b',')).unwrap_or(b','))
}

/// The cells of one row.
pub(super) struct Cells<'a> {
    /// All of them, end to end.
    text: &'a str,
    ends: &'a [usize],
}

impl<'a> Cells<'a> {
    pub(super) fn len(&self) -> usize {
        self.ends.len()
    }

    pub(super) fn get(&self, at: usize) -> Option<&'a str> {
        let start = if at == 0 { 0 } else { *self.ends.get(at - 1)? };
        self.text.get(start..*self.ends.get(at)?)
    }

    pub(super) fn iter(&self) -> impl Iterator<Item = &'a str> {
        (0..self.ends.len()).filter_map(|at| self.get(at))
    }

    /// The row for a person to find it by.
    pub(super) fn whole(&self) -> String {
        if self.len() > 1 {
            self.iter().collect::<Vec<_>>().join(" | ")
        } else {
            self.text.to_owned()
        }
    }
}

/// Rows of a stream, in bounded memory.
pub(super) struct Rows<R> {
    input: R,
    reader: Reader,
    started: bool,
    output: Vec<u8>,
    ends: Vec<usize>,
    /// Of the last row: bytes in `output`, cells in `ends`, and whether it was too long to keep.
    row: (usize, usize, bool),
    finished: bool,
}

impl<R: BufRead> Rows<R> {
    pub(super) fn new(input: R, delimiter: u8) -> Self {
        Rows {
            input,
            reader: ReaderBuilder::new().delimiter(delimiter).build(),
            started: false,
            output: vec![0; MAX_ROW_BYTES],
            ends: vec![0; MOST_CELLS],
            row: (0, 0, false),
            finished: false,
        }
    }

    /// Reads the next row, for [`Rows::cells`] to give; its line.
    pub(super) fn next_row(&mut self) -> Result<Option<u64>, String> {
        if self.finished {
            return Ok(None);
        }
        let (mut out_at, mut ends_at) = (0, 0);
        let mut too_long = false;
        let line = self.reader.line();
        loop {
            let buffer = self
                .input
                .fill_buf()
                .map_err(|e| format!("could not be read past line {line}: {e}"))?;
            let mut skip = 0;
            if !self.started {
                self.started = true;
                skip = if buffer.starts_with(b"\xEF\xBB\xBF") { 3 } else { 0 };
            }
            let (result, taken, written, ended) = self.reader.read_record(
                &buffer[skip..],
                &mut self.output[out_at..],
                &mut self.ends[ends_at..],
            );
            self.input.consume(taken + skip);
            out_at += written;
            ends_at += ended;
            match result {
                ReadRecordResult::InputEmpty => {}
                ReadRecordResult::OutputFull | ReadRecordResult::OutputEndsFull => {
                    // Read on to the end of the row, keeping nothing.
                    too_long = true;
                    out_at = 0;
                    ends_at = 0;
                }
                ReadRecordResult::Record => {
                    let line = line.max(self.reader.line().saturating_sub(1)).max(1);
                    self.row = (out_at, ends_at, too_long);
                    return Ok(Some(line));
                }
                ReadRecordResult::End => {
                    self.finished = true;
                    return Ok(None);
                }
            }
        }
    }

    /// The cells of the last row; or what is wrong with it and the mend.
    pub(super) fn cells(&self) -> Result<Cells<'_>, (String, String)> {
        let (out_at, ends_at, too_long) = self.row;
        if too_long {
            return Err((
                format!("a row longer than {MAX_ROW_BYTES} bytes or {MOST_CELLS} cells"),
                "a quotation mark left open? every cell that begins with one must end with one"
                    .to_owned(),
            ));
        }
        let ends = &self.ends[..ends_at];
        // Cells that are text only when taken together are not.
        let text = std::str::from_utf8(&self.output[..out_at])
            .ok()
            .filter(|text| ends.iter().all(|end| text.is_char_boundary(*end)));
        if let Some(text) = text {
            return Ok(Cells { text, ends });
        }
        let mut start = 0;
        for (at, end) in ends.iter().enumerate() {
            let cell = &self.output[start..*end];
            if std::str::from_utf8(cell).is_err() {
                return Err((
                    format!("cell {} is not UTF-8: {:?}", at + 1, String::from_utf8_lossy(cell)),
                    "save the table as \"CSV UTF-8\"".to_owned(),
                ));
            }
            start = *end;
        }
        Err(("the row is not UTF-8".to_owned(), "save the table as \"CSV UTF-8\"".to_owned()))
    }
}
