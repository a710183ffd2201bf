//! The first worksheet of an XLSX workbook (Office Open XML, ISO/IEC 29500), cell by cell.

use super::cell::Decimals;
use super::table::{Row, Table};
use crate::error::{Error, Result};
use calamine::{Cell, DataRef, Reader, Xlsx, XlsxError, open_workbook_from_rs};
use std::collections::BTreeMap;
use std::io::{Cursor, Read};
use zip::ZipArchive;

/// Cells further out are a stray mark, not settings; reading on would take memory for nothing.
const MOST_ROWS: u32 = 100_000;
const MOST_COLUMNS: u32 = 256;

/// A hundred thousand rows of thirty cells take half of that, bytes.
const LARGEST_UNPACKED: u64 = 256 * 1024 * 1024;

/// A table from the bytes of a workbook.
pub(super) fn parse(file: &str, bytes: Vec<u8>) -> Result<Table> {
    let broken = |error: XlsxError| {
        Error::file(format!(
            "“{file}” could not be read as a workbook; open it in a spreadsheet program and save it as .xlsx or .csv."
        ))
        .because(error)
    };
    if !unpacks_within(&bytes, LARGEST_UNPACKED) {
        return Err(Error::file(format!(
            "`{file}` unpacks to more than {} MB, which no table of settings does; copy the table into a new sheet and save that.",
            LARGEST_UNPACKED / 1024 / 1024
        )));
    }
    let mut book: Xlsx<_> = open_workbook_from_rs(Cursor::new(bytes)).map_err(broken)?;
    let first = book.sheet_names().into_iter().next().unwrap_or_default();
    let mut reader = book.worksheet_cells_reader(&first).map_err(broken)?;
    let mut rows: BTreeMap<u32, Vec<String>> = BTreeMap::new();
    while let Some(cell) = reader.next_cell().map_err(broken)? {
        let text = text(&cell);
        if !text.is_empty() {
            place(file, &mut rows, cell.get_position(), text)?;
        }
    }
    let rows = rows.into_iter().map(|(row, cells)| Row {
        number: row as usize + 1,
        cells,
    });
    Table::from_rows(file, rows.collect(), Decimals::Point)
}

/// Whether all parts of a workbook together unpack to at most `room` bytes, found by unpacking them: claims can lie, and
/// one cell of gigabytes would be held whole. What cannot be unpacked is left for the reader to refuse.
fn unpacks_within(bytes: &[u8], mut room: u64) -> bool {
    let Ok(mut archive) = ZipArchive::new(Cursor::new(bytes)) else {
        return true;
    };
    for index in 0..archive.len() {
        if let Ok(part) = archive.by_index(index)
            && let Ok(size) = std::io::copy(&mut part.take(room + 1), &mut std::io::sink())
        {
            let Some(left) = room.checked_sub(size) else {
                return false;
            };
            room = left;
        }
    }
    true
}

fn place(
    file: &str,
    rows: &mut BTreeMap<u32, Vec<String>>,
    (row, column): (u32, u32),
    text: String,
) -> Result<()> {
    if row >= MOST_ROWS || column >= MOST_COLUMNS {
        return Err(Error::file(format!(
            "The first worksheet of “{file}” has something in row {}, column {}, far outside a table; remove it there.",
            row + 1,
            column + 1
        )));
    }
    let cells = rows.entry(row).or_default();
    let column = column as usize;
    if cells.len() <= column {
        cells.resize(column + 1, String::new());
    }
    cells[column] = text;
    Ok(())
}

/// What a spreadsheet program would show: numbers with their 15 digits, dates as `YYYY-MM-DD`.
fn text(cell: &Cell<DataRef<'_>>) -> String {
    match cell.get_value() {
        DataRef::Int(value) => value.to_string(),
        DataRef::Float(value) => digits(*value),
        DataRef::String(text) | DataRef::DateTimeIso(text) | DataRef::DurationIso(text) => {
            text.trim().to_owned()
        }
        DataRef::SharedString(text) => text.trim().to_owned(),
        DataRef::Bool(true) => "yes".to_owned(),
        DataRef::Bool(false) => "no".to_owned(),
        DataRef::DateTime(when) => {
            let (year, month, day, hour, minute, ..) = when.to_ymd_hms_milli();
            let (date, time) = (
                format!("{year:04}-{month:02}-{day:02}"),
                format!("{hour:02}:{minute:02}"),
            );
            if when.as_f64() < 1.0 {
                time
            } else if hour == 0 && minute == 0 {
                date
            } else {
                format!("{date} {time}")
            }
        }
        DataRef::Error(error) => error.to_string(),
        DataRef::Empty => String::new(),
    }
}

/// A binary number in the 15 digits that spreadsheet programs keep: 0.1 + 0.2 is 0.3.
fn digits(value: f64) -> String {
    let rounded = format!("{value:.14e}").parse().unwrap_or(value);
    format!("{rounded}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use rust_xlsxwriter::{ExcelDateTime, Format, Formula, Workbook};

    #[test]
    fn what_a_workbook_unpacks_to_is_bounded() {
        let mut book = Workbook::new();
        let sheet = book.add_worksheet();
        for row in 0..2_000 {
            sheet.write(row, 0, "LB007").unwrap();
        }
        let bytes = book.save_to_buffer().unwrap();
        let size = |bytes: &[u8]| {
            let mut archive = ZipArchive::new(Cursor::new(bytes)).unwrap();
            let sizes = (0..archive.len()).map(|index| archive.by_index(index).unwrap().size());
            sizes.sum::<u64>()
        };
        let whole = size(&bytes);
        assert!(whole > 5 * bytes.len() as u64, "it packs well");
        assert!(unpacks_within(&bytes, whole));
        assert!(!unpacks_within(&bytes, whole - 1));
        // The unpacked size stands 24 bytes into each entry of the directory (PKWARE, APPNOTE.TXT, 4.3.12).
        let mut lying = bytes;
        for at in 0..lying.len() - 28 {
            if lying[at..].starts_with(b"PK\x01\x02") {
                lying[at + 24..at + 28].fill(0);
            }
        }
        assert_eq!(size(&lying), 0);
        assert!(
            parse("s.xlsx", lying).is_err(),
            "a lie is refused when it shows"
        );
    }

    /// Files come from another implementation of ISO/IEC 29500, the crate `rust_xlsxwriter`.
    #[track_caller]
    fn check(fill: impl Fn(&mut Workbook), expected: &[(usize, &[&str])]) {
        let mut book = Workbook::new();
        fill(&mut book);
        parse("s.xlsx", book.save_to_buffer().unwrap())
            .unwrap()
            .check(expected);
    }

    #[test]
    fn text_numbers_dates_and_formulas() {
        check(
            |book| {
                let sheet = book.add_worksheet();
                let date = Format::new().set_num_format("dd/mm/yyyy");
                let clock = Format::new().set_num_format("hh:mm");
                for (column, heading) in ["piece", "made", "momme", "at", "sun", "sum"]
                    .iter()
                    .enumerate()
                {
                    sheet.write(1, column as u16, *heading).unwrap();
                }
                sheet.write(4, 0, " A1 ").unwrap();
                let when = ExcelDateTime::from_ymd(2026, 5, 3).unwrap();
                sheet.write_with_format(4, 1, &when, &date).unwrap();
                sheet.write(4, 2, 0.1 + 0.2).unwrap();
                let noon = ExcelDateTime::from_hms(12, 30, 0).unwrap();
                sheet.write_with_format(4, 3, &noon, &clock).unwrap();
                sheet.write(4, 4, true).unwrap();
                sheet
                    .write_formula(4, 5, Formula::new("=6*7").set_result("42"))
                    .unwrap();
                sheet.write(5, 0, 7).unwrap();
                book.add_worksheet().write(0, 0, "another").unwrap();
            },
            &[
                (0, &["piece", "made", "momme", "at", "sun", "sum"]),
                (5, &["A1", "2026-05-03", "0.3", "12:30", "yes", "42"]),
                (6, &["7"]),
            ],
        );
    }

    #[track_caller]
    fn refuse(bytes: Vec<u8>, part: &str) {
        let error = parse("s.xlsx", bytes).unwrap_err().to_string();
        assert!(error.contains(part), "{error}");
    }

    #[test]
    fn what_is_no_workbook() {
        refuse(
            b"PK\x03\x04 and nothing more".to_vec(),
            "could not be read as a workbook",
        );
        let mut book = Workbook::new();
        book.add_worksheet();
        let whole = book.save_to_buffer().unwrap();
        refuse(whole.clone(), "is empty");
        refuse(
            whole[..whole.len() / 2].to_vec(),
            "could not be read as a workbook",
        );
        let mut book = Workbook::new();
        book.add_worksheet()
            .write(1_000_000, 16_000, "stray")
            .unwrap();
        refuse(book.save_to_buffer().unwrap(), "row 1000001");
    }
}
