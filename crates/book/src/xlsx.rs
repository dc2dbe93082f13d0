//! Readings as a workbook (ECMA-376, SpreadsheetML): one sheet, every cell a text exactly as it was
//! written, in a ZIP without compression. A library for it would bring a compressor and more
//! crates than the rest of this one.

use crate::crc::crc;
use crate::{AllReadings, Error};
use std::fmt::Write as _;

/// Rows and columns a sheet may have, and characters a cell may.
const MOST_ROWS: usize = 1_048_576;
const MOST_COLUMNS: usize = 16_384;
const MOST_CHARACTERS: usize = 32_767;

const TYPES: &str = r#"<?xml version="1.0" encoding="UTF-8" standalone="yes"?>
<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/><Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/><Override PartName="/xl/worksheets/sheet1.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/></Types>"#;
const ROOT: &str = r#"<?xml version="1.0" encoding="UTF-8" standalone="yes"?>
<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="xl/workbook.xml"/></Relationships>"#;
const WORKBOOK: &str = r#"<?xml version="1.0" encoding="UTF-8" standalone="yes"?>
<workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets><sheet name="readings" sheetId="1" r:id="rId1"/></sheets></workbook>"#;
const WORKBOOK_PARTS: &str = r#"<?xml version="1.0" encoding="UTF-8" standalone="yes"?>
<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet1.xml"/></Relationships>"#;

impl AllReadings {
    /// As a workbook.
    ///
    /// # Errors
    /// More rows, columns or characters than a sheet may have.
    pub fn xlsx(&self) -> Result<Vec<u8>, Error> {
        let columns = self.rows.iter().map(Vec::len).chain([self.heading.len()]).max().unwrap_or(0);
        if MOST_ROWS <= self.rows.len() || MOST_COLUMNS < columns {
            return Err(Error::wrong(
                format!(
                    "{} rows of {columns} columns are more than a sheet may have",
                    self.rows.len()
                ),
                "take the .csv, which may be of any size",
            ));
        }
        let mut sheet = String::from(
            "<?xml version=\"1.0\" encoding=\"UTF-8\" standalone=\"yes\"?>\n<worksheet xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\"><sheetData>",
        );
        for row in std::iter::once(&self.heading).chain(&self.rows) {
            sheet.push_str("<row>");
            for cell in row {
                if MOST_CHARACTERS < cell.chars().count() {
                    return Err(Error::wrong(
                        "a cell has more characters than a sheet may have",
                        "take the .csv",
                    ));
                }
                sheet.push_str("<c t=\"inlineStr\"><is><t xml:space=\"preserve\">");
                escape(&mut sheet, cell);
                sheet.push_str("</t></is></c>");
            }
            sheet.push_str("</row>");
        }
        sheet.push_str("</sheetData></worksheet>");
        zip(&[
            ("[Content_Types].xml", TYPES),
            ("_rels/.rels", ROOT),
            ("xl/workbook.xml", WORKBOOK),
            ("xl/_rels/workbook.xml.rels", WORKBOOK_PARTS),
            ("xl/worksheets/sheet1.xml", &sheet),
        ])
    }
}

/// XML text; characters that XML cannot hold are written as ECMA-376 part 1, 22.9.2.19 says
/// (`_x0007_`), and so is an underscore that would read as such.
fn escape(out: &mut String, text: &str) {
    let mut rest = text.chars();
    while let Some(c) = rest.next() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '\t' | '\n' => out.push(c),
            '_' if rest.as_str().starts_with('x') => out.push_str("_x005F_"),
            c if u32::from(c) < 32 || matches!(c, '\u{FFFE}' | '\u{FFFF}') => {
                let _ = write!(out, "_x{:04X}_", u32::from(c));
            }
            c => out.push(c),
        }
    }
}

/// A ZIP of stored files (APPNOTE 6.3, sections 4.3.7, 4.3.12, 4.3.16), dated 1980-01-01.
fn zip(files: &[(&str, &str)]) -> Result<Vec<u8>, Error> {
    let (mut out, mut list) = (Vec::new(), Vec::new());
    for (name, text) in files {
        let too_large = || Error::wrong("the workbook is larger than 4 GiB", "take the .csv");
        let at = u32::try_from(out.len()).map_err(|_| too_large())?;
        let size = u32::try_from(text.len()).map_err(|_| too_large())?;
        // Needed version 2.0, UTF-8 names, stored, time and date.
        let mut common = vec![20, 0, 0, 8, 0, 0, 0, 0, 0x21, 0];
        common.extend(crc(text.as_bytes()).to_le_bytes());
        common.extend(size.to_le_bytes());
        common.extend(size.to_le_bytes());
        common.extend((name.len() as u16).to_le_bytes());
        common.extend([0, 0]);
        out.extend(b"PK\x03\x04");
        out.extend(&common);
        out.extend(name.as_bytes());
        out.extend(text.as_bytes());
        list.extend(b"PK\x01\x02\x14\0");
        list.extend(&common);
        list.extend([0; 10]);
        list.extend(at.to_le_bytes());
        list.extend(name.as_bytes());
    }
    let at = u32::try_from(out.len())
        .map_err(|_| Error::wrong("the workbook is larger than 4 GiB", ""))?;
    let count = (files.len() as u16).to_le_bytes();
    let size = (list.len() as u32).to_le_bytes();
    out.extend(list);
    out.extend(b"PK\x05\x06\0\0\0\0");
    out.extend(count);
    out.extend(count);
    out.extend(size);
    out.extend(at.to_le_bytes());
    out.extend([0, 0]);
    Ok(out)
}

#[cfg(test)]
mod tests {
    use crate::AllReadings;
    use calamine::{Data, Reader, Xlsx};
    use std::io::Cursor;

    /// Read back with an independent reader (the calamine crate).
    #[test]
    fn a_workbook_reads_back() {
        let row = |cells: &[&str]| cells.iter().map(|c| (*c).to_owned()).collect::<Vec<_>>();
        let all = AllReadings {
            heading: row(&["entry", "reading"]),
            rows: vec![row(&["3", "7 1/2\" & <b> ½"]), row(&["4", " spaces "]), row(&["5", "1e5"])],
        };
        let bytes = all.xlsx().expect("writes");
        let mut book: Xlsx<_> = Xlsx::new(Cursor::new(bytes)).expect("opens");
        let sheet = book.worksheet_range("readings").expect("the sheet");
        let back: Vec<Vec<String>> = sheet
            .rows()
            .map(|r| {
                r.iter()
                    .map(|c| match c {
                        Data::String(s) => s.clone(),
                        other => panic!("not a text: {other:?}"),
                    })
                    .collect()
            })
            .collect();
        assert_eq!(back[0], all.heading);
        assert_eq!(back[1..], all.rows);
    }

    #[test]
    fn characters_that_xml_cannot_hold() {
        let mut out = String::new();
        super::escape(&mut out, "a\u{7}b_x0007_");
        assert_eq!(out, "a_x0007_b_x005F_x0007_");
    }
}
