//! A journal leafed through: some of its pieces at a time, by words that stand with them.

use super::Journal;
use super::rows::to_json;
use super::seek::{self, Shade};
use crate::error::Result;
use rusqlite::{Connection, params_from_iter};

/// Some of a journal's pieces.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Shelf {
    /// How many pieces there are of which the words stand.
    pub count: usize,
    /// The codes of those that were asked for: the piece with the newest photo first, those without a dated one last.
    pub codes: Vec<String>,
}

impl Journal {
    /// The pieces with which every one of the `words` stands; see [`find_shelf`](Self::find_shelf).
    pub fn shelf(&self, words: &[String], skip: usize, most: usize) -> Result<Shelf> {
        self.find_shelf(words, &[], skip, most)
    }

    /// The pieces with which every one of the `words` stands (code, cloth, status, bundle, pot, day and month, mordant, plant, colour
    /// in the standard's words or as one of the `shades`, state of a photo, remarks; in any capitals): how many there are, and at
    /// most `most` of them after the first `skip`.
    ///
    /// A word is looked for whole, then without the s of its plural, and only if nothing has it so, as a part of others: of
    /// “alum”, aluminium is none. One that holds “ > ” is a row of mordants as [`super::record::Round::mordant`] writes it.
    pub fn find_shelf(
        &self,
        words: &[String],
        shades: &[Shade<'_>],
        skip: usize,
        most: usize,
    ) -> Result<Shelf> {
        self.view(|db| shelf(db, words, shades, skip, most))
    }
}

fn shelf(
    db: &Connection,
    words: &[String],
    shades: &[Shade<'_>],
    skip: usize,
    most: usize,
) -> rusqlite::Result<Shelf> {
    let (which, found) = match words {
        [] => ("1", None),
        _ => {
            let found = seek::pieces(db, words, shades)?;
            ("code IN (SELECT value FROM json_each(?1))", Some(found))
        }
    };
    let count = match &found {
        Some(found) => found.len(),
        None => db
            .prepare_cached("SELECT count(*) FROM pieces")?
            .query_row([], |row| row.get::<_, u32>(0))? as usize,
    };
    let mut codes = db.prepare_cached(&format!(
        "SELECT code FROM pieces WHERE {which}
         ORDER BY (SELECT max(taken) FROM photos WHERE photos.piece = code) DESC NULLS LAST, code LIMIT {most} OFFSET {skip}"
    ))?;
    let found = found.map(|found| to_json(&found)).transpose()?;
    let codes = codes.query_map(params_from_iter(found), |row| row.get(0))?;
    Ok(Shelf {
        count,
        codes: codes.collect::<rusqlite::Result<_>>()?,
    })
}
