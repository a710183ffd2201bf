//! SQLite: schema, records, backup. The only area that speaks SQL.
//!
//! A journal is a folder: `journal.sqlite` holds every record, `photos/ab/<hash>.<ending>` the kept originals by the BLAKE3
//! of their bytes, `backups/` the copies made before the format changed. `docs/journal.md` describes it for those who come
//! with another tool.
//!
//! Three promises: a photo's row is never there without its file; every change is whole or not at all; what was read once
//! stays.

mod backup;
mod baths;
mod check;
mod colour_words;
mod connection;
mod degrees;
mod exchange;
mod foreign;
pub mod gist;
mod glances;
mod habits;
mod identity;
mod issued;
mod json;
mod merge;
mod moment;
mod originals;
mod photos;
mod pieces;
mod readings;
pub mod record;
mod references;
mod rows;
mod schema;
mod seek;
mod shelf;
#[cfg(test)]
mod tests;
mod trouble;
mod valid;
mod waiting;
mod words;

pub use check::Finding;
pub use colour_words::{check_colour_word, colour_word_name, colour_word_value, colour_words};
pub use degrees::Degrees;
pub use exchange::{Export, Imported};
pub use gist::Gist;
pub use habits::{Habit, Habits, check as check_habit, wof_name};
pub use originals::Original;
pub use photos::Label;
pub use seek::Shade;
pub use shelf::Shelf;

use crate::error::{Error, Result};
use record::{Piece, Standing, Studio};
use rusqlite::{Connection, Transaction, TransactionBehavior};
use std::io::Read;
use std::path::{Path, PathBuf};

/// An open journal. It may be open several times at once, in several programs; each change waits its turn.
#[derive(Debug)]
pub struct Journal {
    dir: PathBuf,
    db: Connection,
}

impl Journal {
    /// Opens the journal in the folder `dir`, bringing an older format to today's after a backup into `backups/`.
    ///
    /// # Errors
    /// `Caller` where there is none; `Journal` where it is newer than this program, another program's, damaged or in use;
    /// `Machine` where the folder cannot be written.
    pub fn open(dir: &Path) -> Result<Self> {
        Self::open_as(dir, schema::Opening::today(false))
    }

    /// Opens the journal in the folder `dir`, and makes folder and journal where there are none.
    ///
    /// # Errors
    /// As [`Journal::open`]. An empty database beside kept photos is not taken for a new journal.
    pub fn open_or_create(dir: &Path) -> Result<Self> {
        Self::open_as(dir, schema::Opening::today(true))
    }

    /// An empty journal that is kept nowhere, to measure a photo by where there is none. Photos cannot be kept in it, and questions
    /// cannot be asked of it.
    ///
    /// # Errors
    /// `Machine` where memory does not suffice.
    pub fn passing() -> Result<Self> {
        let dir = PathBuf::new();
        let db = schema::Opening::today(true).in_memory();
        db.map_err(|e| trouble::told(&dir, e))
            .map(|db| Self { dir, db })
    }

    /// Whether `file` would lie among what the journal of its folder, or of one above, keeps for itself: its database, the kept
    /// photos, the copies made before its format changed. Nothing else may be written there.
    pub fn keeps(file: &Path) -> bool {
        connection::keeps(file)
    }

    fn open_as(dir: &Path, opening: schema::Opening<'_>) -> Result<Self> {
        let db = opening.open(dir)?;
        Ok(Self {
            dir: dir.to_owned(),
            db,
        })
    }

    /// Whether `dir` holds a journal, judged by its file's name.
    pub fn exists(dir: &Path) -> bool {
        connection::database(dir).is_file()
    }

    /// Whether `file` is a database, a journal's or another: by the first 16 bytes of the SQLite file format.
    pub fn is_database(file: &Path) -> bool {
        let mut magic = [0; 16];
        std::fs::File::open(file)
            .and_then(|mut file| file.read_exact(&mut magic))
            .is_ok_and(|()| &magic == b"SQLite format 3\0")
    }

    /// The folder it is in.
    pub fn dir(&self) -> &Path {
        &self.dir
    }

    /// Every piece, by code.
    ///
    /// # Errors
    /// `Journal` or `Machine` where it cannot be read; so for all that follow.
    pub fn pieces(&self) -> Result<Vec<Piece>> {
        self.view(|db| pieces::load(db, "1", []))
    }

    /// The piece of that code, in whatever capitals; `None` where it is unknown.
    pub fn piece(&self, code: &str) -> Result<Option<Piece>> {
        self.view(|db| {
            let code = pieces::code(db, code)?;
            Ok(pieces::load(db, "pieces.code = ?1", [code.as_str()])?.pop())
        })
    }

    /// The pieces of exactly these codes, in their order; a code that is no piece's is passed over.
    pub fn pieces_coded(&self, codes: &[String]) -> Result<Vec<Piece>> {
        self.view(|db| {
            let piece = |code: &String| pieces::load(db, "pieces.code = ?1", [code.as_str()]);
            let found: Vec<_> = codes.iter().map(piece).collect::<rusqlite::Result<_>>()?;
            Ok(found.into_iter().flatten().collect())
        })
    }

    /// The codes of all pieces, in order.
    pub fn codes(&self) -> Result<Vec<String>> {
        self.view(pieces::codes)
    }

    /// The bundle that was written down or changed last; `None` where there is none.
    pub fn last_bundle(&self) -> Result<Option<String>> {
        self.view(pieces::last_bundle)
    }

    /// Enters these pieces, each whole in place of what stood under its code; all of them or, on an error, none. Photos stay
    /// with their piece. A heat of which nothing is known is no heat.
    ///
    /// # Errors
    /// `Caller` where a value is none, such as a code with a colon, the same round twice or a number that is not finite.
    pub fn put_pieces(&mut self, pieces: &[Piece]) -> Result<()> {
        check_pieces(pieces)?;
        self.change(|db| pieces.iter().try_for_each(|piece| pieces::put(db, piece)))
    }

    /// Enters the pieces that `plan` makes of those that are here, as [`put_pieces`](Self::put_pieces) does; nobody else writes
    /// between the reading and the writing. Gives back what `plan` tells besides.
    ///
    /// # Errors
    /// What `plan` refuses, and then nothing is written; and those of `put_pieces`.
    pub fn edit_pieces<T>(
        &mut self,
        plan: impl FnOnce(&[Piece]) -> Result<(Vec<Piece>, T)>,
    ) -> Result<T> {
        self.change(|db| {
            let planned = plan(&pieces::load(db, "1", [])?);
            let checked = planned.and_then(|(put, told)| check_pieces(&put).map(|()| (put, told)));
            match checked {
                Ok((put, told)) => {
                    put.iter().try_for_each(|piece| pieces::put(db, piece))?;
                    Ok(Ok(told))
                }
                Err(refused) => Ok(Err(refused)),
            }
        })?
    }

    /// Says how the piece of exactly this code stands in the studio, in place of what was said before.
    ///
    /// # Errors
    /// `Caller` where there is no such piece, or the price is none.
    pub fn say_standing(&mut self, code: &str, said: &Standing) -> Result<()> {
        valid::standing(said).map_err(|wrong| wrong.in_hand(code))?;
        match self.change(|db| pieces::put_standing(db, code, said))? {
            true => Ok(()),
            false => Err(Error::caller(format!(
                "No piece is called {code} any more; look for it on the shelf."
            ))),
        }
    }

    /// Takes out those of these pieces of which nothing is left but a code and a cloth: no round, photo, note, status, price or
    /// remark.
    pub fn drop_bare(&mut self, codes: &[String]) -> Result<()> {
        self.change(|db| {
            codes
                .iter()
                .try_for_each(|code| pieces::drop_bare(db, code))
        })
    }

    /// The studio's own values.
    pub fn studio(&self) -> Result<Studio> {
        self.view(studio)
    }

    /// Sets one of the studio's own values, or with `None` takes it back.
    pub fn set(&mut self, name: &str, value: Option<&str>) -> Result<()> {
        self.change(|db| match value {
            Some(value) => set(db, name, value),
            None => db
                .execute("DELETE FROM studio WHERE name = ?1", [name])
                .map(drop),
        })
    }

    /// Reads what belongs together as it stood at one moment.
    fn view<T>(&self, read: impl FnOnce(&Connection) -> rusqlite::Result<T>) -> Result<T> {
        let moment = || self.db.unchecked_transaction();
        let read = || {
            let moment = moment()?;
            let found = read(&moment)?;
            moment.commit()?;
            Ok(found)
        };
        read().map_err(|e| trouble::told(&self.dir, e))
    }

    /// Reads two things side by side, both as they stood at the same moment.
    fn views<A, B: Send>(
        &self,
        one: impl FnOnce(&Connection) -> rusqlite::Result<A>,
        other: impl FnOnce(&Connection) -> rusqlite::Result<B> + Send,
    ) -> Result<(A, B)> {
        let read = || {
            let (moment, beside) = moment::two(&self.dir, &self.db)?;
            let both = std::thread::scope(|scope| {
                let beside = scope.spawn(move || other(&beside));
                let one = one(&moment);
                (one, beside.join())
            });
            moment.commit()?;
            match both {
                (one, Ok(other)) => Ok((one?, other?)),
                (_, Err(panic)) => std::panic::resume_unwind(panic),
            }
        };
        read().map_err(|e| trouble::told(&self.dir, e))
    }

    /// Sees to it that the glances are as the photos: an older format or another program may have left some to do.
    fn settled(&self) -> Result<()> {
        if !self.view(glances::due)? {
            return Ok(());
        }
        let settle = || {
            let turn = Transaction::new_unchecked(&self.db, TransactionBehavior::Immediate)?;
            glances::complete(&turn)?;
            turn.commit()
        };
        settle().map_err(|e| trouble::told(&self.dir, e))
    }

    /// Changes everything that `work` changes, or on an error nothing. The lock is taken at the start: who first reads and then
    /// writes would otherwise be turned away when another wrote in between.
    fn change<T>(
        &mut self,
        work: impl FnOnce(&Transaction<'_>) -> rusqlite::Result<T>,
    ) -> Result<T> {
        let db = &mut self.db;
        let change = || {
            let turn = db.transaction_with_behavior(TransactionBehavior::Immediate)?;
            let done = work(&turn)?;
            glances::complete(&turn)?;
            turn.commit()?;
            Ok(done)
        };
        let result: rusqlite::Result<T> = change();
        result.map_err(|e| trouble::told(&self.dir, e))
    }
}

fn check_pieces(pieces: &[Piece]) -> Result<()> {
    let check = |piece: &Piece| valid::piece(piece).map_err(|wrong| wrong.in_hand(&piece.code));
    pieces.iter().try_for_each(check)
}

fn studio(db: &Connection) -> rusqlite::Result<Studio> {
    let mut values = db.prepare_cached("SELECT name, value FROM studio")?;
    values
        .query_map([], |row| Ok((row.get(0)?, row.get(1)?)))?
        .collect()
}

fn set(db: &Connection, name: &str, value: &str) -> rusqlite::Result<()> {
    let sql = "INSERT INTO studio (name, value) VALUES (?1, ?2)
        ON CONFLICT (name) DO UPDATE SET value = excluded.value";
    db.prepare_cached(sql)?.execute([name, value]).map(drop)
}
