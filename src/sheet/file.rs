//! From a file to a table, whatever kind of file it is.

use super::table::Table;
use super::{delimited, workbook};
use crate::error::{Error, Result};
use std::io::{ErrorKind, Read};
use std::path::Path;

/// A sheet larger than this is no table of settings, bytes.
const LARGEST: u64 = 32 * 1024 * 1024;

/// Reads a CSV (comma, semicolon or tab; UTF-8, or UTF-16 with a byte order mark) or the first worksheet of an XLSX file,
/// told apart by what is in it, not by its name.
///
/// # Errors
/// The caller's where there is no such file, the machine's where it cannot be read, the file's where it is no table.
pub fn read(path: &Path) -> Result<Table> {
    let file = path
        .file_name()
        .unwrap_or(path.as_os_str())
        .to_string_lossy()
        .into_owned();
    let bytes = bytes(path)?;
    if bytes.starts_with(b"PK\x03\x04") {
        return workbook::parse(&file, bytes);
    }
    if bytes.starts_with(&[0xd0, 0xcf, 0x11, 0xe0]) {
        return Err(Error::file(format!(
            "“{file}” is a workbook of an old kind or locked with a password; save it as .xlsx without a password, or as .csv."
        )));
    }
    delimited::parse(&file, &bytes)
}

fn bytes(path: &Path) -> Result<Vec<u8>> {
    let shown = path.display();
    let failed = |error: std::io::Error| {
        match error.kind() {
            ErrorKind::NotFound => Error::caller(format!(
                "There is no sheet “{shown}”; check its name and folder."
            )),
            ErrorKind::IsADirectory => Error::caller(format!(
                "“{shown}” is a folder; name the sheet inside it."
            )),
            _ => Error::machine(format!(
                "The sheet “{shown}” could not be read; check that it is closed elsewhere and that you may open it."
            )),
        }
        .because(error)
    };
    let file = std::fs::File::open(path).map_err(failed)?;
    let mut bytes = Vec::new();
    file.take(LARGEST + 1)
        .read_to_end(&mut bytes)
        .map_err(failed)?;
    if bytes.len() as u64 > LARGEST {
        return Err(Error::file(format!(
            "The sheet “{shown}” is larger than {} MB; remove pictures, or split it.",
            LARGEST / 1024 / 1024
        )));
    }
    Ok(bytes)
}
