//! One moment on two connections, so that two threads can read the same journal.

use super::connection::{connect, database};
use rusqlite::ffi::{Error, SQLITE_BUSY};
use rusqlite::{Connection, Transaction};
use std::path::Path;
use std::time::Duration;

/// Others commit a few times a second at most, and a try takes less than a millisecond.
const TRIES: usize = 1000;

/// A transaction on `db` and another connection within one, both of which see the journal in `dir` as it stands now.
///
/// The second asks for the count of others' commits, `PRAGMA data_version`, before the first begins and after it has itself
/// begun: where that is the same, nothing was committed in between. (SQLite has no way to pass a moment from one connection to
/// another, unless it was compiled for it.)
pub(super) fn two<'a>(
    dir: &Path,
    db: &'a Connection,
) -> rusqlite::Result<(Transaction<'a>, Connection)> {
    let second = connect(&database(dir), false, Duration::from_secs(30))?;
    for _ in 0..TRIES {
        let before = commits(&second)?;
        let first = db.unchecked_transaction()?;
        // A transaction begins when it first reads.
        commits(&first)?;
        second.execute_batch("BEGIN")?;
        if commits(&second)? == before {
            return Ok((first, second));
        }
        second.execute_batch("COMMIT")?;
    }
    Err(rusqlite::Error::SqliteFailure(
        Error::new(SQLITE_BUSY),
        None,
    ))
}

fn commits(db: &Connection) -> rusqlite::Result<i64> {
    db.pragma_query_value(None, "data_version", |row| row.get(0))
}
