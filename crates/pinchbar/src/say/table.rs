//! Columns that line up.

use crate::failure::put;

/// Prints rows under a heading, every column as wide as it needs.
pub(super) fn print(heading: &[&str], rows: &[Vec<String>]) {
    let mut widths: Vec<usize> = heading.iter().map(|h| h.chars().count()).collect();
    for row in rows {
        for (width, cell) in widths.iter_mut().zip(row) {
            *width = (*width).max(cell.chars().count());
        }
    }
    let line = |cells: &[String]| {
        let mut out = String::from(" ");
        for (i, (cell, width)) in cells.iter().zip(&widths).enumerate() {
            out.push(' ');
            out.push_str(cell);
            if i + 1 < cells.len() {
                out.extend(std::iter::repeat_n(' ', width - cell.chars().count() + 1));
            }
        }
        put!("{}", out.trim_end());
    };
    line(&heading.iter().map(|h| (*h).to_owned()).collect::<Vec<_>>());
    for row in rows {
        line(row);
    }
}

/// Prints rows without a heading.
pub(super) fn rows(rows: &[Vec<String>]) {
    let columns = rows.iter().map(Vec::len).max().unwrap_or(0);
    let mut widths = vec![0; columns];
    for row in rows {
        for (width, cell) in widths.iter_mut().zip(row) {
            *width = (*width).max(cell.chars().count());
        }
    }
    for row in rows {
        let mut out = String::from("  ");
        for (i, (cell, width)) in row.iter().zip(&widths).enumerate() {
            out.push_str(cell);
            if i + 1 < row.len() {
                out.extend(std::iter::repeat_n(' ', width - cell.chars().count() + 2));
            }
        }
        put!("{}", out.trim_end());
    }
}
