//! A sheet for the bench as one HTML page that holds everything it needs and prints well.

use crate::svg::escape_into;

/// One line of a table.
#[derive(Clone, Debug, Default)]
pub struct Row {
    /// What it is.
    pub label: String,
    /// What it says, in the system asked for first.
    pub first: String,
    /// The same in the other system.
    pub second: String,
    /// A remark.
    pub note: String,
    /// A sign before it: nothing, or what does not rest on colour.
    pub sign: &'static str,
}

/// Rows that belong together.
#[derive(Clone, Debug, Default)]
pub struct Table {
    /// Title.
    pub title: String,
    /// Rows.
    pub rows: Vec<Row>,
    /// A last column with a box to write what was made.
    pub boxes: bool,
}

/// A sheet.
#[derive(Clone, Debug, Default)]
pub struct Sheet {
    /// Title.
    pub title: String,
    /// Lines under the title.
    pub head: Vec<String>,
    /// Pictures as SVG.
    pub pictures: Vec<String>,
    /// Tables.
    pub tables: Vec<Table>,
    /// Cautions.
    pub cautions: Vec<String>,
    /// Small print.
    pub foot: Vec<String>,
    /// Names of boxes to sign.
    pub signed: Vec<String>,
}

const STYLE: &str = "body{font:10.5pt/1.35 Georgia,'Times New Roman',serif;max-width:185mm;margin:8mm auto;color:#111}\
h1{font-size:15pt;margin:0 0 2mm}h2{font-size:11.5pt;margin:5mm 0 1mm;border-bottom:.4pt solid #111}\
p{margin:.6mm 0}table{border-collapse:collapse;width:100%}td{padding:.7mm 1.5mm;vertical-align:top;border-bottom:.2pt solid #bbb}\
td.f{white-space:nowrap;font-variant-numeric:tabular-nums}td.n{color:#333;font-size:9pt}td.b{border:.6pt solid #111;width:24mm}\
.c{border:1.2pt solid #111;padding:2mm 3mm;margin:4mm 0}.c p{font-weight:bold}svg{max-width:100%;height:auto}\
.s{display:flex;gap:4mm;margin-top:8mm}.s div{border-top:.6pt solid #111;flex:1;font-size:9pt;padding-top:1mm}\
.t{font-size:9pt;color:#333}tr,.c,svg,.s{break-inside:avoid}@page{size:A4;margin:12mm}@media print{body{margin:0 auto}}";

/// The sheet as HTML. Words are escaped; pictures are set as they are and must come from this
/// crate.
pub fn sheet_html(sheet: &Sheet) -> String {
    let mut out = String::from(
        "<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"><meta name=\"viewport\" content=\"width=device-width\"><title>",
    );
    escape_into(&mut out, &sheet.title);
    out.push_str("</title><style>");
    out.push_str(STYLE);
    out.push_str("</style></head><body>\n<h1>");
    escape_into(&mut out, &sheet.title);
    out.push_str("</h1>\n");
    paragraphs(&mut out, &sheet.head);
    if !sheet.cautions.is_empty() {
        out.push_str("<div class=\"c\">\n");
        for c in &sheet.cautions {
            out.push_str("<p>! ");
            escape_into(&mut out, c);
            out.push_str("</p>\n");
        }
        out.push_str("</div>\n");
    }
    for picture in &sheet.pictures {
        out.push_str(picture);
    }
    for table in &sheet.tables {
        out.push_str("<h2>");
        escape_into(&mut out, &table.title);
        out.push_str("</h2>\n<table>\n");
        for row in &table.rows {
            out.push_str("<tr><td>");
            escape_into(&mut out, row.sign);
            escape_into(&mut out, &row.label);
            for (class, text) in [("f", &row.first), ("f", &row.second), ("n", &row.note)] {
                // Words that are not figures may be long and have to break.
                let class = if class == "f" && text.len() > 34 { "n" } else { class };
                out.push_str(&format!("</td><td class=\"{class}\">"));
                escape_into(&mut out, text);
            }
            out.push_str("</td>");
            if table.boxes {
                out.push_str("<td class=\"b\"></td>");
            }
            out.push_str("</tr>\n");
        }
        out.push_str("</table>\n");
    }
    out.push_str("<div class=\"t\">\n");
    paragraphs(&mut out, &sheet.foot);
    out.push_str("</div>\n");
    if !sheet.signed.is_empty() {
        out.push_str("<div class=\"s\">");
        for name in &sheet.signed {
            out.push_str("<div>");
            escape_into(&mut out, name);
            out.push_str("</div>");
        }
        out.push_str("</div>\n");
    }
    out.push_str("</body></html>\n");
    out
}

fn paragraphs(out: &mut String, texts: &[String]) {
    for text in texts {
        out.push_str("<p>");
        escape_into(out, text);
        out.push_str("</p>\n");
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_person_wrote_stays_text() {
        let sheet = Sheet {
            title: "<script>alert(1)</script>".into(),
            cautions: vec!["\"hot\" & heavy".into()],
            tables: vec![Table {
                title: "a<b".into(),
                rows: vec![Row { label: "<i>".into(), first: "1".into(), ..Row::default() }],
                boxes: true,
            }],
            ..Sheet::default()
        };
        let html = sheet_html(&sheet);
        assert!(!html.contains("<script>") && !html.contains("<i>"), "{html}");
        assert!(html.contains("&lt;script&gt;") && html.contains("&quot;hot&quot; &amp; heavy"));
        assert!(html.starts_with("<!doctype html>") && html.ends_with("</html>\n"));
    }
}
