//! Opening the database: whose it is, which format it has, and the steps that lead to today's.

use super::backup;
use super::connection::{connect, database};
use super::trouble::told;
use crate::error::{Error, Result, refused};
use rusqlite::{Connection, TransactionBehavior};
use std::path::Path;
use std::time::Duration;

/// Marks the file as a journal of this program in SQLite's header: the letters FMOT.
pub(super) const APPLICATION: i32 = i32::from_be_bytes(*b"FMOT");

/// The steps from an empty file to today's format; format n is what the first n of them make.
pub(super) const STEPS: &[&str] = &[
    include_str!("schema/1.sql"),
    include_str!("schema/2.sql"),
    include_str!("schema/3.sql"),
    include_str!("schema/4.sql"),
    include_str!("schema/5.sql"),
];

/// How a journal is opened.
pub(super) struct Opening<'a> {
    /// The steps known.
    pub steps: &'a [&'a str],
    /// Whether a new one is made where there is none.
    pub make: bool,
    /// How long another program is waited for.
    pub patience: Duration,
}

impl Opening<'_> {
    /// Today's format. An ingest in another window holds the journal for milliseconds a photo, an import for seconds.
    pub const fn today(make: bool) -> Opening<'static> {
        Opening {
            steps: STEPS,
            make,
            patience: Duration::from_secs(30),
        }
    }

    /// Opens the database of the journal in `dir` and brings it to the last of the steps.
    pub fn open(&self, dir: &Path) -> Result<Connection> {
        let file = database(dir);
        if self.make {
            std::fs::create_dir_all(dir).map_err(|e| refused("make the folder", dir, e))?;
        } else if !file.is_file() {
            return Err(Error::caller(format!(
                "There is no journal in {}; name its folder with --journal, or ingest photos to begin one.",
                dir.display()
            )));
        }
        let mut db = connect(&file, self.make, self.patience).map_err(|e| told(dir, e))?;
        // The three things that tell a file's format are read at one moment: another program may just be making it.
        let moment = db.unchecked_transaction().map_err(|e| told(dir, e))?;
        let format = self.format(dir, &moment)?;
        drop(moment);
        // A step may rebuild a table, which foreign keys would take for a loss; they are checked before the commit.
        db.pragma_update(None, "foreign_keys", false)
            .and_then(|()| quiet(&db))
            .map_err(|e| told(dir, e))?;
        if format < self.steps.len() {
            self.climb(dir, &mut db)?;
        }
        db.pragma_update(None, "foreign_keys", true)
            .map_err(|e| told(dir, e))?;
        Ok(db)
    }

    /// The format of the file, 0 for an empty one; an error where it is not for this program to open.
    fn format(&self, dir: &Path, db: &Connection) -> Result<usize> {
        let ask = |pragma: &str| db.pragma_query_value(None, pragma, |row| row.get::<_, i32>(0));
        let place = dir.display();
        let read =
            || rusqlite::Result::Ok((ask("application_id")?, ask("user_version")?, is_empty(db)?));
        let (application, format, empty) = read().map_err(|e| told(dir, e))?;
        if empty && application == 0 {
            return match self.make && !has_photos(dir) {
                true => Ok(0),
                false => Err(Error::journal(format!(
                    "journal.sqlite in {place} is empty; put your newest backup in its place, or take it away to begin anew."
                ))),
            };
        }
        if application != APPLICATION {
            return Err(Error::journal(format!(
                "journal.sqlite in {place} belongs to another program; choose another folder for the journal."
            )));
        }
        let newest = self.steps.len();
        match usize::try_from(format) {
            Ok(format) if format <= newest => Ok(format),
            _ => Err(Error::journal(format!(
                "The journal in {place} was written by a newer filemot (its format is {format}, this program knows {newest}); update the program, the journal is as it was."
            ))),
        }
    }

    /// Takes every step that is missing in one transaction, after a backup where there is something to lose.
    fn climb(&self, dir: &Path, db: &mut Connection) -> Result<()> {
        let work = db
            .transaction_with_behavior(TransactionBehavior::Immediate)
            .map_err(|e| told(dir, e))?;
        // Asked again behind the lock: another program may have been quicker.
        let from = self.format(dir, &work)?;
        if from > 0 && from < self.steps.len() {
            backup::before_change(dir, from, self.steps.len())?;
        }
        if !self.take(from, &work).map_err(|e| told(dir, e))? {
            return Err(Error::journal(format!(
                "The journal in {} could not be brought to the new format, so it was left as it was; run “filemot check” with the earlier program.",
                dir.display()
            )));
        }
        work.commit().map_err(|e| told(dir, e))
    }

    /// Takes the steps after the first `from`; false where they left an entry that refers to nothing.
    fn take(&self, from: usize, db: &Connection) -> rusqlite::Result<bool> {
        for step in &self.steps[from..] {
            db.execute_batch(step)?;
        }
        db.pragma_update(None, "application_id", APPLICATION)?;
        db.pragma_update(None, "user_version", self.steps.len() as i64)?;
        let mut loose = db.prepare("PRAGMA foreign_key_check")?;
        loose.exists([]).map(|found| !found)
    }

    /// The database of a new journal in memory, which nobody else sees and which is gone with the connection.
    pub fn in_memory(&self) -> rusqlite::Result<Connection> {
        let db = Connection::open_in_memory()?;
        self.take(0, &db)?;
        Ok(db)
    }
}

/// Readers do not wait for a writer (WAL), and what was called kept stays kept when the power fails (FULL): people clear
/// their phones after an ingest, and next to measuring a photo the wait for the disk is small.
fn quiet(db: &Connection) -> rusqlite::Result<()> {
    db.pragma_update_and_check(None, "journal_mode", "wal", |_| Ok(()))?;
    db.pragma_update(None, "synchronous", "full")
}

fn is_empty(db: &Connection) -> rusqlite::Result<bool> {
    db.query_row("SELECT count(*) = 0 FROM sqlite_schema", [], |row| {
        row.get(0)
    })
}

fn has_photos(dir: &Path) -> bool {
    std::fs::read_dir(dir.join("photos")).is_ok_and(|mut entries| entries.next().is_some())
}
