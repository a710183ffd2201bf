//! Pieces and their rounds: each table once from end to end, in the order of its own keys, without a join.

use super::interned::{Interned, Quick};
use super::{Piece, PlantUse, Round, Setting, Soak};
use crate::journal::record::Heat;
use crate::journal::rows::from_json;
use rusqlite::{Connection, Row};
use std::collections::HashMap;
use std::sync::Arc;

/// Pieces whose rounds have soaks, but not yet plants and settings.
pub struct Pieces {
    pieces: Vec<Piece>,
    /// By id.
    placed: Vec<Placed>,
}

/// A round's id, its piece's place, and its own place there.
type Placed = (i64, usize, usize);

/// Parts of rounds, each with its round's id, by which they are sorted.
type Parts<T> = Vec<(i64, T)>;

/// What of rounds can be read beside the pieces, on another thread.
pub struct Beside {
    plants: Parts<PlantUse>,
    settings: Parts<(Arc<str>, Setting)>,
}

impl Pieces {
    /// Every piece, by code.
    pub fn read(db: &Connection) -> rusqlite::Result<Self> {
        let mut words = Interned::default();
        let pieces = bare(db, &mut words)?;
        let mut read = Self {
            pieces,
            placed: Vec::new(),
        };
        read.add_rounds(db, &mut words)?;
        let soaks = soaks(db, &mut words)?;
        read.hand_out(soaks, |round| &mut round.soaks);
        Ok(read)
    }

    /// The whole pieces.
    pub fn with(mut self, beside: Beside) -> Vec<Piece> {
        self.hand_out(beside.plants, |round| &mut round.plants);
        self.hand_out(beside.settings, |round| &mut round.settings);
        for piece in &mut self.pieces {
            piece.rounds.sort_by_key(|round| round.round);
        }
        self.pieces
    }

    fn add_rounds(&mut self, db: &Connection, words: &mut Interned) -> rusqlite::Result<()> {
        let sql = "SELECT id, piece, round, bundle, pot, made, layer, heat, low_c, high_c, minutes
            FROM rounds ORDER BY id";
        let mut select = db.prepare_cached(sql)?;
        let mut rows = select.query([])?;
        let mut last = 0;
        while let Some(row) = rows.next()? {
            if let Some(place) = self.find(row.get_ref(1)?.as_str()?, last) {
                last = place;
                let rounds = &mut self.pieces[place].rounds;
                self.placed.push((row.get(0)?, place, rounds.len()));
                rounds.reserve_exact(1);
                rounds.push(round(row, words)?);
            }
        }
        Ok(())
    }

    /// The place of the piece of this code: mostly the `last` one or the next, for sheets are filled in order.
    fn find(&self, code: &str, last: usize) -> Option<usize> {
        let mut near = last..self.pieces.len().min(last + 2);
        near.find(|&place| *self.pieces[place].code == *code)
            .or_else(|| {
                let found = self
                    .pieces
                    .binary_search_by(|piece| (*piece.code).cmp(code));
                found.ok()
            })
    }

    /// Gives each part to the list of its round.
    fn hand_out<T>(&mut self, parts: Parts<T>, list: impl Fn(&mut Round) -> &mut Vec<T>) {
        let (mut at, mut parts) = (0, parts.into_iter());
        while let Some(&(id, _)) = parts.as_slice().first() {
            let alike = |(other, _): &&(i64, T)| *other == id;
            let many = parts.as_slice().iter().take_while(alike).count();
            let of_round = parts.by_ref().take(many).map(|(_, part)| part);
            while self.placed.get(at).is_some_and(|placed| placed.0 < id) {
                at += 1;
            }
            match self.placed.get(at) {
                Some(&(known, piece, round)) if known == id => {
                    let list = list(&mut self.pieces[piece].rounds[round]);
                    // Room for four in each of hundreds of thousands of lists would be most of the memory.
                    list.reserve_exact(many);
                    list.extend(of_round);
                }
                _ => of_round.for_each(drop),
            }
        }
    }
}

impl Beside {
    /// Plants and settings of all rounds.
    pub fn read(db: &Connection) -> rusqlite::Result<Self> {
        let mut words = Interned::default();
        Ok(Self {
            plants: plants(db, &mut words)?,
            settings: settings(db, &mut words)?,
        })
    }
}

fn bare(db: &Connection, words: &mut Interned) -> rusqlite::Result<Vec<Piece>> {
    let sql = "SELECT code, fibre, weave, gsm, status FROM pieces";
    let mut pieces = rows(db, sql, |row| {
        Ok(Piece {
            code: Arc::from(row.get_ref(0)?.as_str()?),
            fibre: word(row, 1, words)?,
            weave: word(row, 2, words)?,
            gsm: row.get(3)?,
            status: word(row, 4, words)?,
            rounds: Vec::new(),
        })
    })?;
    // Quicker than by the index, which would fetch row after row from all over the table.
    pieces.sort_by(|one, other| one.code.cmp(&other.code));
    Ok(pieces)
}

fn round(row: &Row<'_>, words: &mut Interned) -> rusqlite::Result<Round> {
    let heat = Heat {
        kind: row.get(7)?,
        low_c: row.get(8)?,
        high_c: row.get(9)?,
        minutes: row.get(10)?,
    };
    Ok(Round {
        round: row.get(2)?,
        bundle: word(row, 3, words)?,
        pot: word(row, 4, words)?,
        made: word(row, 5, words)?,
        layer: row.get(6)?,
        soaks: Vec::new(),
        plants: Vec::new(),
        heat: (heat != Heat::default()).then_some(heat),
        settings: Vec::new(),
    })
}

fn soaks(db: &Connection, words: &mut Interned) -> rusqlite::Result<Parts<Soak>> {
    let sql = "SELECT in_round, mordant, strength, unit, soaked, bath FROM soaks ORDER BY in_round, place";
    rows(db, sql, |row| {
        let soak = Soak {
            mordant: words.word(row.get_ref(1)?.as_str()?),
            strength: row.get(2)?,
            unit: row.get(3)?,
            on: word(row, 4, words)?,
            bath: word(row, 5, words)?,
        };
        Ok((row.get(0)?, soak))
    })
}

fn plants(db: &Connection, words: &mut Interned) -> rusqlite::Result<Parts<PlantUse>> {
    let mut known: HashMap<String, Arc<[Arc<str>]>, Quick> = HashMap::default();
    let sql = "SELECT in_round, name, how FROM plants ORDER BY in_round, place";
    rows(db, sql, |row| {
        let text = row.get_ref(2)?.as_str()?;
        let how = match known.get(text) {
            Some(how) => Arc::clone(how),
            None => {
                let list: Vec<String> = from_json(2, text)?;
                let how: Arc<[_]> = list.iter().map(|word| words.word(word)).collect();
                known.insert(text.to_owned(), Arc::clone(&how));
                how
            }
        };
        let name = words.word(row.get_ref(1)?.as_str()?);
        Ok((row.get(0)?, PlantUse { name, how }))
    })
}

fn settings(db: &Connection, words: &mut Interned) -> rusqlite::Result<Parts<(Arc<str>, Setting)>> {
    let sql = "SELECT in_round, name, number, text FROM settings ORDER BY in_round, name";
    rows(db, sql, |row| {
        let setting = match row.get(2)? {
            Some(number) => Setting::Number(number),
            None => Setting::Text(words.word(row.get_ref(3)?.as_str()?)),
        };
        let name = words.word(row.get_ref(1)?.as_str()?);
        Ok((row.get(0)?, (name, setting)))
    })
}

fn rows<T>(
    db: &Connection,
    sql: &str,
    mut one: impl FnMut(&Row<'_>) -> rusqlite::Result<T>,
) -> rusqlite::Result<Vec<T>> {
    let mut select = db.prepare_cached(sql)?;
    let mut rows = select.query([])?;
    let mut all = Vec::new();
    while let Some(row) = rows.next()? {
        all.push(one(row)?);
    }
    Ok(all)
}

/// A word that may be unknown.
pub fn word(
    row: &Row<'_>,
    column: usize,
    words: &mut Interned,
) -> rusqlite::Result<Option<Arc<str>>> {
    let text = row.get_ref(column)?.as_str_or_null()?;
    Ok(text.map(|text| words.word(text)))
}
