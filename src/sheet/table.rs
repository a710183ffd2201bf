//! A sheet as plain text in rows, whatever file it came from.

use super::cell::Decimals;
use crate::error::{Error, Result};

/// A sheet as written: headings and cells, nothing understood yet.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    /// The file's name, for messages.
    pub file: String,
    /// The first row that holds anything, column by column.
    pub headings: Vec<String>,
    /// The rows below that hold anything.
    pub rows: Vec<Row>,
    pub(super) decimals: Decimals,
}

/// One row of a sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// Its number in the sheet, from 1, as a spreadsheet program shows it.
    pub number: usize,
    /// Its cells without white space at their ends; may be fewer or more than the headings.
    pub cells: Vec<String>,
}

impl Row {
    /// A row of these cells, without the white space at their ends.
    pub fn new(number: usize, cells: impl IntoIterator<Item = String>) -> Self {
        Self {
            number,
            cells: cells
                .into_iter()
                .map(|cell| cell.trim().to_owned())
                .collect(),
        }
    }

    /// The cell in a column counted from 0; empty where the row ends before it.
    pub fn cell(&self, column: usize) -> &str {
        self.cells.get(column).map_or("", String::as_str)
    }

    fn is_empty(&self) -> bool {
        self.cells.iter().all(String::is_empty)
    }
}

#[cfg(test)]
impl Table {
    /// Every row with its number, the headings as row 0, against what is expected.
    #[track_caller]
    pub(super) fn check(self, expected: &[(usize, &[&str])]) {
        let mut got = vec![(0, self.headings)];
        got.extend(self.rows.into_iter().map(|row| (row.number, row.cells)));
        let owned = |(number, cells): &(usize, &[&str])| {
            (
                *number,
                cells.iter().map(|cell| (*cell).to_owned()).collect(),
            )
        };
        assert_eq!(
            got,
            expected
                .iter()
                .map(owned)
                .collect::<Vec<(usize, Vec<String>)>>()
        );
    }
}

impl Table {
    /// A table that was not read from a file but filled in elsewhere; `name` stands for the file in messages. Numbers are written
    /// with a decimal point, or with a comma where that can be nothing else.
    pub fn filled(name: &str, headings: &[&str], rows: Vec<Row>) -> Self {
        Self {
            file: name.to_owned(),
            headings: headings
                .iter()
                .map(|heading| (*heading).to_owned())
                .collect(),
            rows,
            decimals: Decimals::Point,
        }
    }

    /// A table whose first row that is not empty holds the headings.
    pub(super) fn from_rows(file: &str, rows: Vec<Row>, decimals: Decimals) -> Result<Self> {
        let mut rows = rows.into_iter().filter(|row| !row.is_empty());
        let headings = rows.next().ok_or_else(|| {
            Error::file(format!(
                "The sheet “{file}” is empty; fill it, or choose the file that holds the table."
            ))
        })?;
        Ok(Self {
            file: file.to_owned(),
            headings: headings.cells,
            rows: rows.collect(),
            decimals,
        })
    }
}
