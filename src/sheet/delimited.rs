//! CSV as spreadsheet programs write it: RFC 4180, with the separators, marks and line ends of other countries and times.

use super::cell::Decimals;
use super::column::plain;
use super::table::{Row, Table};
use crate::error::{Error, Result};

/// Ends the text; if it does not come back as a row of its own, a quotation mark was never closed.
const END: &str = "\u{3}";

/// A table from the bytes of a delimited text file.
pub(super) fn parse(file: &str, bytes: &[u8]) -> Result<Table> {
    let text = decode(file, bytes)?;
    let (separator, text) = separator(&text);
    let rows = rows(file, &text, separator)?;
    let decimals = match separator {
        b';' => Decimals::Comma,
        _ => Decimals::Point,
    };
    Table::from_rows(file, rows, decimals)
}

/// Text with `\n` at the ends of lines.
fn decode(file: &str, bytes: &[u8]) -> Result<String> {
    let advice = "save it again as CSV in UTF-8";
    let refuse = |what: String| Err(Error::file(format!("The sheet “{file}” {what}; {advice}.")));
    let text = match bytes {
        [0xff, 0xfe, rest @ ..] => utf16(rest, u16::from_le_bytes),
        [0xfe, 0xff, rest @ ..] => utf16(rest, u16::from_be_bytes),
        [0xef, 0xbb, 0xbf, rest @ ..] | rest => match std::str::from_utf8(rest) {
            Ok(text) => Some(text.to_owned()),
            Err(error) => {
                let good = &rest[..error.valid_up_to()];
                let line = good.iter().filter(|b| **b == b'\n').count() + 1;
                return refuse(format!(
                    "holds letters in an unknown encoding in row {line}"
                ));
            }
        },
    };
    match text {
        None => refuse("holds broken UTF-16 text".to_owned()),
        Some(text) if text.contains('\0') => refuse("is not a text file".to_owned()),
        Some(text) => Ok(text.replace("\r\n", "\n").replace('\r', "\n")),
    }
}

fn utf16(bytes: &[u8], unit: fn([u8; 2]) -> u16) -> Option<String> {
    let (pairs, rest) = bytes.as_chunks::<2>();
    let text = char::decode_utf16(pairs.iter().map(|pair| unit(*pair)))
        .collect::<std::result::Result<_, _>>();
    text.ok().filter(|_| rest.is_empty())
}

/// The separator: told by a first line `sep=;`, else the one that makes `piece` a heading, else the most frequent.
fn separator(text: &str) -> (u8, String) {
    if let Some(told) = text.strip_prefix("sep=")
        && let Some(separator @ (b',' | b';' | b'\t')) = told.bytes().next()
        && told[1..].starts_with('\n')
    {
        return (separator, told[1..].to_owned());
    }
    let first = text
        .lines()
        .find(|line| !line.trim().is_empty())
        .unwrap_or("");
    let rank = |separator: &u8| {
        let mut cells = first.split(char::from(*separator));
        let piece = cells.any(|cell| plain(cell) == "piece");
        (piece, first.bytes().filter(|b| b == separator).count())
    };
    let best = [b'\t', b';', b','].into_iter().max_by_key(rank);
    (best.unwrap_or(b','), text.to_owned())
}

fn rows(file: &str, text: &str, separator: u8) -> Result<Vec<Row>> {
    let text = format!("{text}\n{END}");
    let mut reader = csv::ReaderBuilder::new()
        .delimiter(separator)
        .has_headers(false)
        .flexible(true)
        .from_reader(text.as_bytes());
    let mut rows = Vec::new();
    let mut number = 0;
    let mut record = csv::StringRecord::new();
    loop {
        let start = reader.position().byte() as usize;
        let found = reader.read_record(&mut record).map_err(|error| {
            Error::file(format!("The sheet “{file}” could not be read after row {number}; save it again as CSV in UTF-8."))
                .because(error)
        })?;
        // The reader passes over blank lines; a spreadsheet program counts them.
        let blank = text[start..].bytes().take_while(|b| *b == b'\n').count();
        number += blank + 1;
        if !found || &record == [END].as_slice() {
            return Ok(rows);
        }
        if record
            .iter()
            .next_back()
            .is_some_and(|cell| cell.ends_with(END))
        {
            return Err(Error::file(format!(
                "In row {number} of the sheet “{file}” a quotation mark is opened and never closed; close or remove it."
            )));
        }
        let cells = record.iter().map(|cell| cell.trim().to_owned()).collect();
        rows.push(Row { number, cells });
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(bytes: &[u8], expected: &[(usize, &[&str])]) {
        parse("s.csv", bytes).unwrap().check(expected);
    }

    #[track_caller]
    fn refuse(bytes: &[u8], part: &str) {
        let error = parse("s.csv", bytes).unwrap_err().to_string();
        assert!(error.contains(part), "{error}");
    }

    const PLAIN: [(usize, &[&str]); 2] = [(0, &["piece", "remarks"]), (2, &["A1", "grün"])];

    #[test]
    fn separators_marks_and_line_ends() {
        let text = "piece,remarks\nA1,grün\n";
        check(text.as_bytes(), &PLAIN);
        check(text.replace(',', ";").as_bytes(), &PLAIN);
        check(text.replace(',', "\t").as_bytes(), &PLAIN);
        check(text.replace('\n', "\r\n").as_bytes(), &PLAIN);
        check(text.replace('\n', "\r").as_bytes(), &PLAIN);
        check(text.trim_end().as_bytes(), &PLAIN);
        check(format!("\u{feff}{text}").as_bytes(), &PLAIN);
        let wide: Vec<u8> = format!("\u{feff}{text}")
            .encode_utf16()
            .flat_map(u16::to_le_bytes)
            .collect();
        check(&wide, &PLAIN);
        let wide: Vec<u8> = format!("\u{feff}{text}")
            .encode_utf16()
            .flat_map(u16::to_be_bytes)
            .collect();
        check(&wide, &PLAIN);
    }

    /// RFC 4180, section 2, rules 5 to 7.
    #[test]
    fn quoted_cells() {
        check(
            b"piece,remarks\r\nA1,\"a \"\"b\"\", c\nd\"\r\nA2,x",
            &[
                (0, &["piece", "remarks"]),
                (2, &["A1", "a \"b\", c\nd"]),
                (3, &["A2", "x"]),
            ],
        );
        check(
            b"piece,remarks\nA1,14\" wide\n",
            &[(0, &["piece", "remarks"]), (2, &["A1", "14\" wide"])],
        );
    }

    #[test]
    fn rows_are_counted_as_a_spreadsheet_does() {
        check(
            b"\n\npiece,remarks\n\n\nA1,x\n,\nA2,y\n\n",
            &[
                (0, &["piece", "remarks"]),
                (6, &["A1", "x"]),
                (8, &["A2", "y"]),
            ],
        );
        check(
            b"sep=;\npiece;a,b\nA1;x\n",
            &[(0, &["piece", "a,b"]), (3, &["A1", "x"])],
        );
    }

    #[test]
    fn a_heading_decides_between_separators() {
        check(
            b"piece;a,b,c,d\nA1;x\n",
            &[(0, &["piece", "a,b,c,d"]), (2, &["A1", "x"])],
        );
        check(b"piece\nA1\n", &[(0, &["piece"]), (2, &["A1"])]);
    }

    #[test]
    fn what_is_no_table() {
        refuse(b"", "is empty");
        refuse(b" \n;;\n", "is empty");
        refuse(b"piece,remarks\nA1,gr\xfcn\n", "encoding in row 2");
        refuse(b"p\0i\0e\0", "not a text file");
        refuse(b"\xff\xfep\0i", "UTF-16");
        refuse(b"piece,remarks\nA1,\"never closed\nA2,x\n", "row 2");
    }
}
