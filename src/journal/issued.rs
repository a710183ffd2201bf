//! What notes told customers, to and from tables.

use super::merge::Fate;
use super::record::{Issued, IssuedColour};
use super::rows::Groups;
use super::{Journal, pieces, valid};
use crate::colour::Lab;
use crate::error::Result;
use rusqlite::{Connection, Params, Row, params};

impl Journal {
    /// The note of the piece with this code that counts: the one issued last; `None` where none was.
    pub fn issued(&self, code: &str) -> Result<Option<Issued>> {
        self.view(|db| Ok(load(db, "issued_notes.piece = ?1", [code])?.pop()))
    }

    /// Every note that was issued, by piece, oldest first.
    pub fn issued_notes(&self) -> Result<Vec<Issued>> {
        self.view(|db| load(db, "1", []))
    }

    /// Keeps what notes told; each counts from now on, the earlier ones of its piece stay.
    ///
    /// # Errors
    /// `Caller` where a value is none, such as a share above 1; then nothing is written.
    pub fn issue(&mut self, notes: &[Issued]) -> Result<()> {
        for note in notes {
            valid::issued(note).map_err(|wrong| wrong.in_hand(&note.piece))?;
        }
        self.change(|db| notes.iter().try_for_each(|note| add(db, note)))
    }
}

/// The issued notes that `which` picks, by piece, oldest first.
pub(super) fn load<P: Params + Copy>(
    db: &Connection,
    which: &str,
    with: P,
) -> rusqlite::Result<Vec<Issued>> {
    let mut colours = db.prepare_cached(&format!(
        "SELECT piece, turn, word, standard, l, a, b, share, doubt
         FROM issued_notes JOIN issued_colours USING (piece, turn) WHERE {which} ORDER BY piece, turn, place"
    ))?;
    let colours = colours.query_map(with, |row| {
        Ok((
            (row.get::<_, String>(0)?, row.get::<_, i64>(1)?),
            colour(row)?,
        ))
    })?;
    let mut colours = Groups::of(colours);
    let mut notes = db.prepare_cached(&format!(
        "SELECT * FROM issued_notes WHERE {which} ORDER BY piece, turn"
    ))?;
    let notes = notes.query_map(with, |row| {
        let piece: String = row.get("piece")?;
        let key = (piece, row.get("turn")?);
        Ok(Issued {
            on: row.get("issued")?,
            photo: row.get("photo")?,
            taken: row.get("taken")?,
            state: row.get("state")?,
            basis: row.get("basis")?,
            colours: colours.take(&key)?,
            piece: key.0,
        })
    })?;
    notes.collect()
}

fn colour(row: &Row<'_>) -> rusqlite::Result<IssuedColour> {
    Ok(IssuedColour {
        word: row.get("word")?,
        standard: row.get("standard")?,
        lab: Lab::new(row.get("l")?, row.get("a")?, row.get("b")?),
        share: row.get("share")?,
        doubt: row.get("doubt")?,
    })
}

/// Adds a note after those that its piece has.
fn add(db: &Connection, note: &Issued) -> rusqlite::Result<()> {
    pieces::ensure(db, &note.piece)?;
    let turn: i64 = db
        .prepare_cached("SELECT coalesce(max(turn), 0) + 1 FROM issued_notes WHERE piece = ?1")?
        .query_row([&note.piece], |row| row.get(0))?;
    db.prepare_cached(
        "INSERT INTO issued_notes (piece, turn, issued, photo, taken, state, basis)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)",
    )?
    .execute(params![
        note.piece, turn, note.on, note.photo, note.taken, note.state, note.basis
    ])?;
    let mut insert = db.prepare_cached(
        "INSERT INTO issued_colours (piece, turn, place, word, standard, l, a, b, share, doubt)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10)",
    )?;
    for (place, colour) in (0_i64..).zip(&note.colours) {
        insert.execute(params![
            note.piece,
            turn,
            place,
            colour.word,
            colour.standard,
            colour.lab.l,
            colour.lab.a,
            colour.lab.b,
            colour.share,
            colour.doubt
        ])?;
    }
    Ok(())
}

/// Brings one note of an import in: one that is not here yet comes after those that are.
pub(super) fn merge(db: &Connection, theirs: &Issued) -> rusqlite::Result<Fate> {
    let ours = load(db, "issued_notes.piece = ?1", [theirs.piece.as_str()])?;
    if ours.contains(theirs) {
        return Ok(Fate::Same);
    }
    add(db, theirs)?;
    Ok(Fate::New)
}
