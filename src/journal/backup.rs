//! Copies of the database, made while it is in use.

use super::Journal;
use super::connection::{connect, database};
use super::trouble::told;
use crate::error::{Error, Result, refused};
use rusqlite::backup::{Backup, StepResult};
use rusqlite::{Connection, ErrorCode};
use std::fs;
use std::path::Path;
use std::time::Duration;

impl Journal {
    /// Copies the database, not the photos, into the new file `file`, while others may go on working.
    ///
    /// The copy is one file that opens by itself; as `journal.sqlite` in a folder it is a journal again. A file that is
    /// already there is not overwritten (it may be the only good backup).
    ///
    /// # Errors
    /// `Caller` where `file` exists, `Machine` where it cannot be written.
    pub fn backup(&self, file: &Path) -> Result<()> {
        copy(&self.dir, &self.db, file)
    }
}

/// The copy that stands in `backups/` before the format changes.
pub(super) fn before_change(dir: &Path, from: usize, to: usize) -> Result<()> {
    let folder = dir.join("backups");
    fs::create_dir_all(&folder).map_err(|e| refused("make the folder", &folder, e))?;
    let named = |n: u32| folder.join(format!("format-{from}-before-{to}-{n}.sqlite"));
    let mut number = 1;
    while named(number).exists() {
        number += 1;
    }
    // Its own connection, for the other one is in the transaction that holds writers off.
    let source =
        connect(&database(dir), false, Duration::from_secs(30)).map_err(|e| told(dir, e))?;
    copy(dir, &source, &named(number))
}

fn copy(dir: &Path, source: &Connection, file: &Path) -> Result<()> {
    if file.exists() {
        return Err(Error::caller(format!(
            "{} is already there and was left as it is; give the backup another name.",
            file.display()
        )));
    }
    // Under another name until it is whole: half a backup must not be taken for one.
    let mut unfinished = file.as_os_str().to_owned();
    unfinished.push(".part");
    let unfinished = Path::new(&unfinished);
    let whole = write(source, unfinished).map_err(|e| match e.sqlite_error_code() {
        Some(ErrorCode::DatabaseBusy | ErrorCode::DatabaseCorrupt | ErrorCode::NotADatabase) => told(dir, e),
        _ => Error::machine(format!(
            "The backup {} could not be written; see that its folder is there, may be written and has room, then try again.",
            file.display()
        ))
        .because(e),
    });
    whole
        .and_then(|()| fs::rename(unfinished, file).map_err(|e| refused("write", file, e)))
        .inspect_err(|_| {
            let _ = fs::remove_file(unfinished);
        })
}

fn write(source: &Connection, file: &Path) -> rusqlite::Result<()> {
    let mut target = Connection::open(file)?;
    // All pages in one step: under WAL that holds nobody up, and a step after another's change would have to start anew.
    let step = Backup::new(source, &mut target)?.step(-1)?;
    if matches!(step, StepResult::Busy | StepResult::Locked) {
        let busy = rusqlite::ffi::Error::new(rusqlite::ffi::SQLITE_BUSY);
        return Err(rusqlite::Error::SqliteFailure(busy, None));
    }
    // The copy inherits WAL, which would want two more files beside it.
    target.pragma_update_and_check(None, "journal_mode", "delete", |_| Ok(()))?;
    target.close().map_err(|(_, error)| error)
}
