//! Photos with their readings, to and from tables.

use super::originals::{self, Original};
use super::record::{Exposure, Photo, Told};
use super::{Journal, identity, pieces, readings, references, valid};
use crate::error::{Caution, Error, Result};
use crate::reading::{ABOUT_PIECE, ABOUT_STATE, Reading, SET_ASIDE, State};
use rusqlite::{Connection, OptionalExtension, Params, Row, params};
use std::collections::HashMap;

/// What a photo is called and when it was taken.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Label {
    /// The file's name as ingested.
    pub file: Option<String>,
    /// `YYYY-MM-DDTHH:MM:SS`, with an offset where the camera wrote one.
    pub taken: Option<String>,
}

impl Journal {
    /// Every photo with its current reading and the earlier ones, in the order in which they came.
    pub fn photos(&self) -> Result<Vec<Photo>> {
        self.view(|db| load(db, "1", []))
    }

    /// The photo with this number; `None` where there is none.
    pub fn photo(&self, id: i64) -> Result<Option<Photo>> {
        self.view(|db| Ok(load(db, "photos.id = ?1", [id])?.pop()))
    }

    /// The photo with these bytes: `hash` is their BLAKE3, hexadecimal.
    pub fn photo_hashed(&self, hash: &str) -> Result<Option<Photo>> {
        self.view(|db| Ok(load(db, "photos.hash = ?1", [hash])?.pop()))
    }

    /// The photos of one piece.
    pub fn photos_of(&self, code: &str) -> Result<Vec<Photo>> {
        self.view(|db| load(db, "photos.piece = ?1", [code]))
    }

    /// The photos of which nobody knows yet what piece they show.
    pub fn unclaimed(&self) -> Result<Vec<Photo>> {
        self.view(|db| load(db, "photos.piece IS NULL", []))
    }

    /// The photos taken on a day, `YYYY-MM-DD`, by the camera's clock.
    pub fn photos_of_day(&self, day: &str) -> Result<Vec<Photo>> {
        // “U” comes after the “T” between date and time.
        self.view(|db| load(db, "photos.taken >= ?1 AND photos.taken < ?1 || 'U'", [day]))
    }

    /// The names and times of the photos with these numbers; numbers of no photo are passed over.
    pub fn labels(&self, ids: &[i64]) -> Result<HashMap<i64, Label>> {
        self.view(|db| {
            let mut select = db.prepare_cached("SELECT file, taken FROM photos WHERE id = ?1")?;
            let label = |row: &Row<'_>| {
                Ok(Label {
                    file: row.get(0)?,
                    taken: row.get(1)?,
                })
            };
            let mut labels = HashMap::new();
            for id in ids {
                let found = select.query_row([id], label).optional()?;
                labels.extend(found.map(|label| (*id, label)));
            }
            Ok(labels)
        })
    }

    /// The photos that `name` names: by the file's name as ingested; else by the last part of that name; else by the first six
    /// or more digits of the hash. The first of these ways that finds any counts.
    pub fn photos_named(&self, name: &str) -> Result<Vec<Photo>> {
        const LAST_PART: &str = "substr(photos.file, -length(?1) - 1) IN ('/' || ?1, '\\' || ?1)";
        let is_hash = name.len() >= 6 && name.bytes().all(|b| b.is_ascii_hexdigit());
        self.view(|db| {
            let mut found = load(db, "photos.file = ?1", [name])?;
            if found.is_empty() && !name.is_empty() {
                found = load(db, LAST_PART, [name])?;
            }
            if found.is_empty() && is_hash {
                // “g” comes after every hexadecimal digit.
                let within = "photos.hash >= ?1 AND photos.hash < ?1 || 'g'";
                found = load(db, within, [name.to_ascii_lowercase().as_str()])?;
            }
            Ok(found)
        })
    }

    /// Whether a photo with these bytes is here: `hash` is their BLAKE3, hexadecimal.
    pub fn knows(&self, hash: &str) -> Result<bool> {
        self.view(|db| Ok(identity::with_hash(db, hash)?.is_some()))
    }

    /// Keeps a photo with its file, its reading and the earlier ones; the file first, then all rows in one transaction. A piece
    /// that no sheet has entered yet begins as a bare one. `photo.id` is not looked at.
    ///
    /// False where a photo of the same hash is here already, or of the same content where there is no hash: then nothing
    /// changes, but that a lost file is found again (see [`Journal::keep`]).
    ///
    /// # Errors
    /// `Caller` where a value is none, `File` where the bytes do not have the hash, `Machine` where the file cannot be written.
    pub fn add_photo(&mut self, photo: &Photo, original: Original<'_>) -> Result<bool> {
        let name = photo.file.as_deref().unwrap_or("a photo");
        valid::photo(photo).map_err(|wrong| wrong.in_hand(name))?;
        if let Some(hash) = &photo.hash
            && self.knows(hash)?
        {
            self.keep(hash, original)?;
            return Ok(false);
        }
        let place = originals::settle(&self.dir, photo.hash.as_deref(), original)?;
        self.change(|db| {
            if identity::find(db, photo)?.is_some() {
                return Ok(false);
            }
            let id = insert(db, photo)?;
            if let Some(place) = &place {
                originals::record(db, id, place)?;
            }
            Ok(true)
        })
    }

    /// Adds a reading to the photo `id`: it becomes the one that counts, the others stay. The same reading once more changes
    /// nothing.
    ///
    /// # Errors
    /// `Caller` where there is no such photo or a value is none.
    pub fn add_reading(&mut self, id: i64, reading: &Reading) -> Result<()> {
        valid::reading(reading).map_err(|wrong| wrong.in_hand("the new reading"))?;
        let found = self.change(|db| {
            let Some(photo) = load(db, "photos.id = ?1", [id])?.pop() else {
                return Ok(false);
            };
            add(db, id, photo, reading)?;
            Ok(true)
        })?;
        known(found, id)
    }

    /// Adds the reading that `made` of the photo as it stands now, and keeps `told` with it. False where something else than
    /// `before` was told of the photo meanwhile: then nothing is changed, and it is to be measured by that. Nobody writes between.
    ///
    /// # Errors
    /// As [`Journal::add_reading`].
    pub fn read_anew(
        &mut self,
        id: i64,
        before: &Told,
        told: &Told,
        made: impl FnOnce(&Photo) -> Reading,
    ) -> Result<bool> {
        valid::told(told).map_err(|wrong| wrong.in_hand("what was told"))?;
        self.change(|db| {
            let Some(mut photo) = load(db, "photos.id = ?1", [id])?.pop() else {
                return Ok(known(false, id).map(|()| false));
            };
            if photo.told != *before {
                return Ok(Ok(false));
            }
            let reading = made(&photo);
            if let Err(wrong) = valid::reading(&reading) {
                return Ok(Err(wrong.in_hand("the new reading")));
            }
            if photo.told != *told {
                photo.told = told.clone();
                update(db, id, &photo)?;
            }
            add(db, id, photo, &reading)?;
            Ok(Ok(true))
        })?
    }

    /// Says that the photo `id` shows the piece `piece`, in whatever capitals, what it shows it as, and after how many washes;
    /// what is not said of state and washes stays as it was, but that a wet or a dry piece is not washed yet. A piece that no sheet
    /// has entered yet begins as a bare one, as in an ingest; one of which this photo was all there was goes. Cautions about what
    /// the names tell are settled by it.
    ///
    /// # Errors
    /// `Caller` where there is no such photo or `piece` cannot be a code.
    pub fn claim(
        &mut self,
        id: i64,
        piece: &str,
        state: Option<State>,
        washes: Option<u32>,
    ) -> Result<()> {
        crate::error::check_code(piece)?;
        let found = self.change(|db| {
            let Some(mut photo) = load(db, "photos.id = ?1", [id])?.pop() else {
                return Ok(false);
            };
            let before = photo.piece.replace(pieces::code(db, piece)?);
            photo.state = state.or(photo.state);
            photo.washes = washes.or(photo.washes);
            photo.keep_possible_washes();
            update(db, id, &photo)?;
            let about_state = ABOUT_STATE.iter().filter(|_| state.is_some());
            for code in ABOUT_PIECE.iter().chain(about_state) {
                settle(db, id, code)?;
            }
            left(db, before)?;
            Ok(true)
        })?;
        known(found, id)
    }

    /// Says that the photo `id` shows no piece that is known: it waits for one again or, `aside`, waits for none. A piece of which
    /// this photo was all there was goes.
    ///
    /// # Errors
    /// `Caller` where there is no such photo.
    pub fn unclaim(&mut self, id: i64, aside: bool) -> Result<()> {
        let found = self.change(|db| {
            let Some(mut photo) = load(db, "photos.id = ?1", [id])?.pop() else {
                return Ok(false);
            };
            let before = photo.piece.take();
            update(db, id, &photo)?;
            for code in ABOUT_PIECE {
                settle(db, id, code)?;
            }
            if aside {
                readings::add_caution(db, id, &set_aside())?;
            }
            left(db, before)?;
            Ok(true)
        })?;
        known(found, id)
    }
}

fn set_aside() -> Caution {
    Caution::new(
        SET_ASIDE,
        "This photo is set aside: it shows no piece of the studio and waits for none; say which piece it shows if it does after all.",
    )
}

/// Takes the piece out that a photo showed before, if nothing is left of it.
fn left(db: &Connection, before: Option<String>) -> rusqlite::Result<()> {
    before.map_or(Ok(()), |code| pieces::drop_empty(db, &code))
}

/// Adds a reading to a photo, unless it is the one that counts already.
fn add(db: &Connection, id: i64, mut photo: Photo, reading: &Reading) -> rusqlite::Result<()> {
    if photo.reading != *reading {
        readings::add(db, id, reading)?;
        photo.reading = reading.clone();
        identity::note(db, id, &photo)?;
    }
    Ok(())
}

/// Takes a caution from the reading that counts: what it was about is settled.
fn settle(db: &Connection, photo: i64, code: &str) -> rusqlite::Result<()> {
    let counts = "SELECT id FROM readings WHERE photo = ?1 ORDER BY turn DESC LIMIT 1";
    let sql = format!("DELETE FROM cautions WHERE code = ?2 AND reading = ({counts})");
    db.execute(&sql, params![photo, code])?;
    Ok(())
}

fn known(found: bool, id: i64) -> Result<()> {
    match found {
        true => Ok(()),
        false => Err(Error::caller(format!(
            "There is no photo number {id} in this journal; ask for it by its file's name."
        ))),
    }
}

/// The photos that the condition `which` on the table `photos` picks, in the order in which they came.
pub(super) fn load<P: Params + Copy>(
    db: &Connection,
    which: &str,
    with: P,
) -> rusqlite::Result<Vec<Photo>> {
    let sql = format!("SELECT * FROM photos WHERE {which} ORDER BY id");
    let mut select = db.prepare_cached(&sql)?;
    let mut photos = select
        .query_map(with, photo)?
        .collect::<rusqlite::Result<Vec<_>>>()?;
    let (mut at, mut begun) = (0, false);
    readings::load(db, which, with, |id, reading| {
        while photos[at].id != Some(id) {
            (at, begun) = (at + 1, false);
        }
        let before = std::mem::replace(&mut photos[at].reading, reading);
        if std::mem::replace(&mut begun, true) {
            photos[at].earlier.push(before);
        }
    })?;
    Ok(photos)
}

/// Adds a photo that is not here yet, with all its readings.
pub(super) fn insert(db: &Connection, photo: &Photo) -> rusqlite::Result<i64> {
    let id = db
        .prepare_cached("INSERT INTO photos (hash) VALUES (?1)")?
        .insert([&photo.hash])?;
    update(db, id, photo)?;
    for reading in photo.earlier.iter().chain([&photo.reading]) {
        readings::add(db, id, reading)?;
    }
    Ok(id)
}

/// Writes everything about a photo but its hash, its file's place and its readings.
pub(super) fn update(db: &Connection, id: i64, photo: &Photo) -> rusqlite::Result<()> {
    if let Some(code) = &photo.piece {
        pieces::ensure(db, code)?;
    }
    db.prepare_cached(
        "UPDATE photos SET file = ?2, taken = ?3, piece = ?4, state = ?5, washes = ?6, width = ?7, height = ?8,
            camera = ?9, seconds = ?10, f_number = ?11, iso = ?12, flash = ?13,
            chart = ?14, corners = ?15, outline = ?16, print = ?17 WHERE id = ?1",
    )?
    .execute(params![
        id,
        photo.file,
        photo.taken,
        photo.piece,
        photo.state,
        photo.washes,
        photo.width,
        photo.height,
        photo.exposure.camera,
        photo.exposure.seconds,
        photo.exposure.f_number,
        photo.exposure.iso,
        photo.exposure.flash,
        photo.told.chart,
        photo.told.corners.as_ref().map(|c| readings::points(c)),
        photo.told.outline.as_deref().map(readings::points),
        photo.print,
    ])?;
    identity::note(db, id, photo)
}

fn photo(row: &Row<'_>) -> rusqlite::Result<Photo> {
    let exposure = Exposure {
        camera: row.get("camera")?,
        seconds: row.get("seconds")?,
        f_number: row.get("f_number")?,
        iso: row.get("iso")?,
        flash: row.get("flash")?,
    };
    let told = Told {
        chart: row.get("chart")?,
        corners: references::four(row, "corners")?,
        outline: references::polygon(row, "outline")?,
    };
    let mut photo = Photo {
        id: row.get("id")?,
        file: row.get("file")?,
        hash: row.get("hash")?,
        taken: row.get("taken")?,
        piece: row.get("piece")?,
        state: row.get("state")?,
        washes: row.get("washes")?,
        width: row.get("width")?,
        height: row.get("height")?,
        print: row.get("print")?,
        told,
        exposure,
        ..Photo::default()
    };
    // An earlier program let in what cannot be.
    photo.keep_possible_washes();
    Ok(photo)
}
