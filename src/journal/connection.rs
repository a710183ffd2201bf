//! The database's file, and connections to it.

use rusqlite::{Connection, OpenFlags};
use std::path::{Path, PathBuf};
use std::time::Duration;

/// The database file of the journal in `dir`.
pub(super) fn database(dir: &Path) -> PathBuf {
    dir.join("journal.sqlite")
}

/// The folders in a journal's own that hold nothing but what it put there.
const OWN: [&str; 2] = ["photos", "backups"];

/// Whether `file` lies, or would lie, among what a journal keeps for itself.
pub(super) fn keeps(file: &Path) -> bool {
    let folder = match file.parent() {
        Some(folder) if folder.as_os_str().is_empty() => Path::new("."),
        Some(folder) => folder,
        None => return false,
    };
    // Where the folder is not there, nothing can be written either.
    let Ok(folder) = folder.canonicalize() else {
        return false;
    };
    let among = |dir: &Path| {
        let mut own = OWN.iter();
        own.any(|own| folder.starts_with(dir.join(own))) && database(dir).is_file()
    };
    let name = file.file_name().unwrap_or_default().to_string_lossy();
    let beside = database(&folder).is_file() && name.starts_with("journal.sqlite");
    beside || folder.ancestors().any(among)
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
