//! A journal leafed through: some of its pieces at a time, by words that stand with them.

use super::Journal;
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

/// Every place in which a word may stand, as a condition on a piece with `?` for the word.
const STANDS: &str = "(
    instr(lower(code), ?) OR instr(lower(coalesce(fibre, '')), ?) OR instr(lower(coalesce(weave, '')), ?)
    OR instr(lower(coalesce(status, '')), ?) OR instr(lower(coalesce(remarks, '')), ?)
    OR EXISTS (SELECT 1 FROM rounds WHERE rounds.piece = code AND (
        instr(lower(coalesce(bundle, '')), ?) OR instr(lower(coalesce(pot, '')), ?) OR instr(coalesce(made, ''), ?)
        OR EXISTS (SELECT 1 FROM soaks WHERE in_round = rounds.id AND instr(lower(mordant), ?))
        OR EXISTS (SELECT 1 FROM plants WHERE in_round = rounds.id AND instr(lower(name), ?))))
    OR EXISTS (SELECT 1 FROM photos JOIN current_readings ON photo = photos.id JOIN swatches ON reading = current_readings.id
        WHERE photos.piece = code AND instr(lower(coalesce(word, '')), ?)))";

impl Journal {
    /// The pieces with which every one of the `words` stands (code, cloth, bundle, pot, day, mordant, plant, colour, remarks; in
    /// any capitals): how many there are, and at most `most` of them after the first `skip`.
    pub fn shelf(&self, words: &[String], skip: usize, most: usize) -> Result<Shelf> {
        let words: Vec<String> = words.iter().map(|word| word.to_lowercase()).collect();
        self.view(|db| shelf(db, &words, skip, most))
    }
}

fn shelf(db: &Connection, words: &[String], skip: usize, most: usize) -> rusqlite::Result<Shelf> {
    // The bound words are numbered, so that one of them can stand in many places.
    let stands = (1..=words.len()).map(|n| STANDS.replace('?', &format!("?{n}")));
    let stands = stands.collect::<Vec<_>>().join(" AND ");
    let which = if words.is_empty() { "1" } else { &stands };
    let count = db
        .prepare_cached(&format!("SELECT count(*) FROM pieces WHERE {which}"))?
        .query_row(params_from_iter(words), |row| row.get::<_, u32>(0))? as usize;
    let mut codes = db.prepare_cached(&format!(
        "SELECT code FROM pieces WHERE {which}
         ORDER BY (SELECT max(taken) FROM photos WHERE photos.piece = code) DESC NULLS LAST, code LIMIT {most} OFFSET {skip}"
    ))?;
    let codes = codes.query_map(params_from_iter(words), |row| row.get(0))?;
    Ok(Shelf {
        count,
        codes: codes.collect::<rusqlite::Result<_>>()?,
    })
}
