//! Tables of a CGATS.17 text file (ISO 28178), read as files in the wild are written.

use crate::error::{Error, Result};

/// One table: the names of its columns, in capitals, and its rows of text.
#[derive(Debug, Default)]
pub(super) struct Table {
    pub fields: Vec<String>,
    pub rows: Vec<Row>,
}

/// One row of a table.
#[derive(Debug)]
pub(super) struct Row {
    /// Its line in the file, from 1.
    pub line: usize,
    /// As many cells as the table has fields.
    pub cells: Vec<String>,
}

/// A file in its parts.
#[derive(Debug, Default)]
pub(super) struct Parts {
    /// Keywords in capitals, with their value; a keyword may come several times.
    pub keywords: Vec<(String, String)>,
    /// All tables that hold data.
    pub tables: Vec<Table>,
}

/// Which part of a file a line belongs to.
enum Place {
    Preamble,
    Format,
    Data,
}

/// Splits a file; counts are not needed, comments and blank lines are passed over.
pub(super) fn parts(text: &str, name: &str) -> Result<Parts> {
    let mut parts = Parts::default();
    let mut place = Place::Preamble;
    let mut fields: Vec<String> = Vec::new();
    let mut data: Vec<(usize, Vec<String>)> = Vec::new();
    let text = text.trim_start_matches('\u{feff}');
    for (number, line) in text.split(['\n', '\r']).scan(0, numbered(text)) {
        let words = words(line);
        let Some(first) = words.first().map(|w| w.to_ascii_uppercase()) else {
            continue;
        };
        match (first.as_str(), &place) {
            ("BEGIN_DATA_FORMAT", _) => {
                fields.clear();
                place = Place::Format;
            }
            ("BEGIN_DATA", _) => place = Place::Data,
            ("END_DATA_FORMAT", _) => place = Place::Preamble,
            ("END_DATA", _) => {
                parts
                    .tables
                    .push(table(&fields, std::mem::take(&mut data), name)?);
                place = Place::Preamble;
            }
            (_, Place::Format) => fields.extend(words.iter().map(|w| w.to_ascii_uppercase())),
            (_, Place::Data) => data.push((number, words)),
            (_, Place::Preamble) => parts.keywords.push((first, words[1..].join(" "))),
        }
    }
    // A file cut off after its last row is still whole enough; one cut off within a row is told by that row.
    if !data.is_empty() {
        parts.tables.push(table(&fields, data, name)?);
    }
    complete(&parts, name)?;
    Ok(parts)
}

/// Refuses a file that holds fewer rows than it says: it was cut short.
fn complete(parts: &Parts, name: &str) -> Result<()> {
    let said = parts
        .keywords
        .iter()
        .filter(|(key, _)| key == "NUMBER_OF_SETS");
    let said: usize = said
        .filter_map(|(_, value)| value.parse::<usize>().ok())
        .fold(0, usize::saturating_add);
    let held: usize = parts.tables.iter().map(|table| table.rows.len()).sum();
    if said > held && held > 0 {
        return Err(Error::file(format!(
            "{name} says that it has {said} rows but holds {held}, so it was not copied whole; copy it again."
        )));
    }
    Ok(())
}

/// Numbers lines; a line feed after a carriage return ends no line of its own.
fn numbered<'a>(whole: &'a str) -> impl FnMut(&mut usize, &'a str) -> Option<(usize, &'a str)> {
    move |count, line| {
        let at = line.as_ptr() as usize - whole.as_ptr() as usize;
        let before = &whole.as_bytes()[..at];
        *count += usize::from(!before.ends_with(b"\r\n"));
        Some((*count, line))
    }
}

/// The words of a line; a quoted one may hold spaces, and `#` outside of quotes begins a comment.
fn words(line: &str) -> Vec<String> {
    let mut words = Vec::new();
    let mut rest = line.trim();
    while !rest.is_empty() && !rest.starts_with('#') {
        let (word, after) = match rest.strip_prefix('"') {
            Some(quoted) => quoted.split_once('"').unwrap_or((quoted, "")),
            None => {
                let end = rest.find(|c: char| c.is_whitespace() || c == '#');
                rest.split_at(end.unwrap_or(rest.len()))
            }
        };
        words.push(word.to_owned());
        rest = after.trim_start();
    }
    words
}

/// Rows are told by the number of fields: one may be broken over several lines.
fn table(fields: &[String], data: Vec<(usize, Vec<String>)>, name: &str) -> Result<Table> {
    let count = fields.len();
    if count == 0 {
        return Err(Error::file(format!(
            "{name} has values but does not say what they are: its line BEGIN_DATA_FORMAT with the names of the columns is missing; export the chart's file again."
        )));
    }
    let total: usize = data.iter().map(|(_, words)| words.len()).sum();
    if !total.is_multiple_of(count) {
        let wrong = data.iter().find(|(_, words)| words.len() != count);
        let (line, words) = wrong.map_or((0, 0), |(line, words)| (*line, words.len()));
        return Err(Error::file(format!(
            "Line {line} of {name} has {words} values where its columns are {count}; add what is missing there, or export the chart's file again."
        )));
    }
    let cells = data
        .into_iter()
        .flat_map(|(line, words)| words.into_iter().map(move |word| (line, word)));
    let mut rows: Vec<Row> = Vec::new();
    for (line, cell) in cells {
        match rows.last_mut() {
            Some(row) if row.cells.len() < count => row.cells.push(cell),
            _ => rows.push(Row {
                line,
                cells: vec![cell],
            }),
        }
    }
    Ok(Table {
        fields: fields.to_vec(),
        rows,
    })
}
