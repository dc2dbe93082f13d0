//! One figure that a person typed, as a row of a table: from there on it is read like any other.

/// A figure typed by hand; what was not said is empty.
#[derive(Clone, Copy, Debug, Default)]
pub struct ByHand<'a> {
    /// Feature.
    pub feature: &'a str,
    /// Station along the axis.
    pub station: &'a str,
    /// Direction around it.
    pub direction: &'a str,
    /// Figure and unit, as written.
    pub value: &'a str,
    /// Gauge.
    pub gauge: &'a str,
    /// Who read it.
    pub by: &'a str,
    /// Day.
    pub when: &'a str,
    /// Temperature of the part.
    pub temperature: &'a str,
}

impl ByHand<'_> {
    /// The heading of such rows.
    pub const HEADING: &'static str =
        "feature,station,direction,reading,gauge,by,when,temperature\n";

    /// The row, with its line end.
    pub fn row(&self) -> String {
        let cells = [
            self.feature,
            self.station,
            self.direction,
            self.value,
            self.gauge,
            self.by,
            self.when,
            self.temperature,
        ];
        format!("{}\n", cells.map(quoted).join(","))
    }

    /// A table of this row alone.
    pub fn table(&self) -> String {
        format!("{}{}", Self::HEADING, self.row())
    }
}

/// A cell of a table with commas (RFC 4180).
fn quoted(cell: &str) -> String {
    if cell.contains([',', '"', '\n', '\r']) {
        format!("\"{}\"", cell.replace('"', "\"\""))
    } else {
        cell.to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_typed_comes_back_from_a_csv_reader() {
        let typed = ByHand {
            feature: "a.b",
            value: "8 3/16\"",
            by: "Smith, J.",
            when: "two\nlines",
            ..ByHand::default()
        };
        let table = typed.table();
        let mut rows = csv::Reader::from_reader(table.as_bytes());
        let row = rows.records().next().expect("a row").expect("reads");
        let cells: Vec<&str> = row.iter().collect();
        assert_eq!(cells, ["a.b", "", "", "8 3/16\"", "", "Smith, J.", "two\nlines", ""]);
    }
}
