//! Photos, as far as a question needs them.

use super::interned::{Interned, Quick};
use super::pieces::word;
use super::{Colour, Gist, Glance, Piece};
use crate::colour::Lab;
use crate::journal::glances::{numbers, part};
use crate::journal::record::rounds_shown;
use crate::journal::rows::from_json;
use crate::reading::State;
use rusqlite::{Connection, OptionalExtension, Row, params};
use std::collections::{BTreeMap, HashMap};
use std::sync::Arc;

/// The photos in the states that were asked for, before their pieces are known.
#[derive(Default)]
pub struct Glances {
    photos: Vec<Glance>,
    /// The codes of their pieces, one after another, and where each ends.
    codes: String,
    ends: Vec<usize>,
    colours: Vec<Colour>,
    sentences: BTreeMap<Arc<str>, String>,
}

/// Every caution code that was met, lists of them held once, each code with the first photo that carries it.
#[derive(Default)]
struct Cautions {
    lists: HashMap<String, Arc<[Arc<str>]>, Quick>,
    first: BTreeMap<Arc<str>, i64>,
    /// The last one met: mostly the next is the same.
    last: Option<(String, Arc<[Arc<str>]>)>,
}

/// The photos in `states`.
pub fn read(db: &Connection, states: &[State]) -> rusqlite::Result<Glances> {
    let mut words = Interned::default();
    let mut cautions = Cautions::default();
    let mut glances = Glances::default();
    let sql = "SELECT photo, piece, washes, taken, basis, cautions, colours, parts, plants
        FROM glances WHERE state = ?1 ORDER BY piece, photo";
    let mut select = db.prepare_cached(sql)?;
    for state in State::ALL.iter().filter(|state| states.contains(state)) {
        let mut rows = select.query([state])?;
        while let Some(row) = rows.next()? {
            glances.add(row, *state, &mut words, &mut cautions)?;
        }
    }
    glances.sentences = cautions.sentences(db)?;
    Ok(glances)
}

impl Glances {
    fn add(
        &mut self,
        row: &Row<'_>,
        state: State,
        words: &mut Interned,
        cautions: &mut Cautions,
    ) -> rusqlite::Result<()> {
        let id = row.get(0)?;
        let begin = self.colours.len();
        self.add_colours(row, words)?;
        self.photos.push(Glance {
            id,
            piece: 0,
            state,
            washes: row.get(2)?,
            taken: word(row, 3, words)?,
            rounds: 0,
            basis: row.get(4)?,
            cautions: cautions.list(row.get_ref(5)?.as_str_or_null()?, id, words)?,
            colours: begin..self.colours.len(),
        });
        self.codes.push_str(row.get_ref(1)?.as_str()?);
        self.ends.push(self.codes.len());
        Ok(())
    }

    fn add_colours(&mut self, row: &Row<'_>, words: &mut Interned) -> rusqlite::Result<()> {
        let parts = row.get_ref(7)?.as_str_or_null()?;
        let plants: Vec<Option<String>> = match row.get_ref(8)?.as_str_or_null()? {
            Some(text) => from_json(8, text)?,
            None => Vec::new(),
        };
        for (at, [l, a, b, share, doubt]) in numbers(row.get_ref(6)?.as_blob()?).enumerate() {
            let plant = plants.get(at).and_then(Option::as_deref);
            self.colours.push(Colour {
                lab: Lab::new(l, a, b),
                share,
                doubt: (!doubt.is_nan()).then_some(doubt),
                part: part(parts, at),
                plant: plant.map(|plant| words.word(plant)),
            });
        }
        Ok(())
    }

    /// The gist of these photos and their pieces, which come by code.
    pub fn of(mut self, pieces: Vec<Piece>) -> Gist {
        let mut cursor = Cursor {
            pieces: &pieces,
            at: 0,
        };
        let (mut begin, mut ends) = (0, self.ends.iter());
        self.photos.retain_mut(|photo| {
            let end = *ends.next().unwrap_or(&begin);
            let found = cursor.find(&self.codes[begin..end]);
            begin = end;
            if let Some(place) = found {
                let rounds = pieces[place].rounds.iter();
                let made = rounds.map(|round| round.made.as_deref());
                photo.rounds = rounds_shown(made, photo.taken.as_deref());
                photo.piece = place;
            }
            found.is_some()
        });
        let mut photos = self.photos;
        photos.sort_unstable_by_key(|photo| (photo.piece, photo.id));
        Gist {
            begins: begins(pieces.len(), &photos),
            pieces,
            photos,
            sentences: self.sentences,
            colours: self.colours,
            plants: Default::default(),
        }
    }
}

/// Finds pieces whose codes are asked for in order, and begins again where they are not.
struct Cursor<'a> {
    pieces: &'a [Piece],
    at: usize,
}

impl Cursor<'_> {
    fn find(&mut self, code: &str) -> Option<usize> {
        let here = self.pieces.get(self.at);
        if here.is_none_or(|piece| *piece.code > *code) {
            self.at = 0;
        }
        let rest = self.pieces[self.at..].iter();
        self.at += rest.take_while(|piece| *piece.code < *code).count();
        let found = self.pieces.get(self.at)?;
        (*found.code == *code).then_some(self.at)
    }
}

impl Cautions {
    fn list(
        &mut self,
        text: Option<&str>,
        photo: i64,
        words: &mut Interned,
    ) -> rusqlite::Result<Arc<[Arc<str>]>> {
        let text = text.unwrap_or("[]");
        if let Some((_, list)) = self.last.as_ref().filter(|(last, _)| last == text) {
            return Ok(Arc::clone(list));
        }
        let list = self.read(text, photo, words)?;
        self.last = Some((text.to_owned(), Arc::clone(&list)));
        Ok(list)
    }

    fn read(
        &mut self,
        text: &str,
        photo: i64,
        words: &mut Interned,
    ) -> rusqlite::Result<Arc<[Arc<str>]>> {
        if let Some(known) = self.lists.get(text) {
            return Ok(Arc::clone(known));
        }
        let codes: Vec<String> = from_json(5, text)?;
        let list: Arc<[_]> = codes.iter().map(|code| words.word(code)).collect();
        for code in list.iter() {
            self.first.entry(Arc::clone(code)).or_insert(photo);
        }
        self.lists.insert(text.to_owned(), Arc::clone(&list));
        Ok(list)
    }

    fn sentences(self, db: &Connection) -> rusqlite::Result<BTreeMap<Arc<str>, String>> {
        let mut select = db.prepare_cached(
            "SELECT text FROM readings JOIN cautions ON cautions.reading = readings.id
             WHERE photo = ?1 AND code = ?2 ORDER BY turn DESC LIMIT 1",
        )?;
        let mut sentences = BTreeMap::new();
        for (code, photo) in self.first {
            let text = select.query_row(params![photo, &*code], |row| row.get(0));
            if let Some(text) = text.optional()? {
                sentences.insert(code, text);
            }
        }
        Ok(sentences)
    }
}

/// Where each piece's photos begin among those that come piece by piece, and where the last ones end.
fn begins(pieces: usize, photos: &[Glance]) -> Vec<usize> {
    let mut begins = Vec::with_capacity(pieces + 1);
    let mut at = 0;
    for piece in 0..=pieces {
        at += photos[at..].iter().take_while(|p| p.piece < piece).count();
        begins.push(at);
    }
    begins
}
