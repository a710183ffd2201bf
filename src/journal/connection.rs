//! The database's file, and connections to it.

use rusqlite::{Connection, OpenFlags};
use std::path::{Path, PathBuf};
use std::time::Duration;

/// The database file of the journal in `dir`.
pub(super) fn database(dir: &Path) -> PathBuf {
    dir.join("journal.sqlite")
}

/// A connection that waits for others.
pub(super) fn connect(file: &Path, make: bool, patience: Duration) -> rusqlite::Result<Connection> {
    let mut flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    flags.set(OpenFlags::SQLITE_OPEN_CREATE, make);
    let db = Connection::open_with_flags(file, flags)?;
    db.busy_timeout(patience)?;
    db.set_prepared_statement_cache_capacity(64);
    Ok(db)
}
