//! Export and import: everything in a journal but the photos' files, as the JSON of `docs/journal.md`.

use super::json::{self, Texts};
use super::merge::{self, Fate};
use super::record::{Bath, Card, ChartFile, Issued, Photo, Piece, Studio};
use super::{Journal, baths, foreign, issued, photos, pieces, references, valid};
use crate::error::{Error, Result, short};
use crate::reading::Reading;
use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};
use serde_json::Value;
use serde_json::value::RawValue;
use std::collections::{HashMap, HashSet};

/// The schema that this program writes and reads.
const SCHEMA: &str = "filemot/1";

/// Everything in a journal but the photos' files.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Export {
    /// `filemot/1`.
    pub schema: String,
    /// The studio's own values.
    #[serde(skip_serializing_if = "Studio::is_empty")]
    pub studio: Studio,
    /// Charts, by hash.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub charts: Vec<ChartFile>,
    /// The studio's own cards, by name.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub cards: Vec<Card>,
    /// Mordant baths that live on, by name.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub baths: Vec<Bath>,
    /// Pieces, by code.
    pub pieces: Vec<Piece>,
    /// Photos, in the order in which they came.
    pub photos: Vec<Photo>,
    /// What notes told customers, by piece, oldest first.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub notes: Vec<Issued>,
}

/// What an import changed.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Imported {
    /// Pieces that were not here.
    pub pieces_new: usize,
    /// Pieces of which the file said something else or more.
    pub pieces_changed: usize,
    /// Photos that were not here.
    pub photos_new: usize,
    /// Photos of which the file said something else, or had another reading.
    pub photos_changed: usize,
    /// The studio's own values, charts and cards that are now others.
    pub values_changed: usize,
    /// Baths that were not here, or of which the file said something else or more.
    pub baths_changed: usize,
    /// Issued notes that were not here.
    pub notes_new: usize,
}

impl Journal {
    /// Everything in the journal but the photos' files, as it stood at one moment.
    pub fn export(&self) -> Result<Export> {
        self.view(|db| {
            Ok(Export {
                schema: SCHEMA.to_owned(),
                studio: super::studio(db)?,
                charts: references::charts(db)?,
                cards: references::cards(db)?,
                baths: baths::load(db)?,
                pieces: pieces::load(db, "1", [])?,
                photos: photos::load(db, "1", [])?,
                notes: issued::load(db, "1", [])?,
            })
        })
    }

    /// Brings in everything of an export, or on an error nothing.
    ///
    /// Where the file says something about a piece or photo that is here, its word counts; what it leaves out stays as it is. A
    /// reading that is not here comes after those that are and counts from then on. So the same file once more changes nothing.
    /// Photos are known again by their hash, or without one by piece, file, date, state, washes, method, colours and shares.
    ///
    /// # Errors
    /// `File` where the schema is another, a value is none, or a bath would have a life that cannot be; the sentence says where.
    pub fn import(&mut self, export: &Export) -> Result<Imported> {
        check(export)?;
        self.change(|db| {
            if let Err(refused) = baths::agree(db, &export.baths)? {
                return Ok(Err(refused));
            }
            let mut done = Imported::default();
            for (name, value) in &export.studio {
                let sql = "SELECT count(*) FROM studio WHERE name = ?1 AND value = ?2";
                if db.query_row(sql, [name, value], |row| row.get::<_, i64>(0))? == 0 {
                    super::set(db, name, value)?;
                    done.values_changed += 1;
                }
            }
            for chart in &export.charts {
                done.values_changed += usize::from(references::put_chart(db, chart)?);
            }
            for card in &export.cards {
                done.values_changed += usize::from(references::put_card(db, card)?);
            }
            for bath in &export.baths {
                done.baths_changed += usize::from(baths::merge(db, bath)? != Fate::Same);
            }
            for piece in &export.pieces {
                match merge::piece(db, piece)? {
                    Fate::New => done.pieces_new += 1,
                    Fate::Changed => done.pieces_changed += 1,
                    Fate::Same => {}
                }
            }
            for photo in &export.photos {
                match merge::photo(db, photo)? {
                    Fate::New => done.photos_new += 1,
                    Fate::Changed => done.photos_changed += 1,
                    Fate::Same => {}
                }
            }
            for note in &export.notes {
                done.notes_new += usize::from(issued::merge(db, note)? != Fate::Same);
            }
            Ok(Ok(done))
        })?
    }
}

impl Export {
    /// The JSON of the export, to be read again by [`Export::from_json`].
    ///
    /// # Errors
    /// `Journal` where it holds what JSON cannot say.
    pub fn to_json(&self) -> Result<String> {
        let text = serde_json::to_string_pretty(self).map_err(|error| {
            Error::journal("The journal holds something that JSON cannot say; run check.")
                .because(error)
        })?;
        Ok(text + "\n")
    }

    /// Reads the JSON of an export. What is null counts as left out.
    ///
    /// # Errors
    /// `File` where it is no JSON, of another schema, or a field holds what it cannot; the sentence names the field.
    pub fn from_json(text: &str) -> Result<Self> {
        #[derive(Deserialize)]
        struct Outer<'a> {
            schema: Option<Value>,
            #[serde(borrow)]
            studio: Option<&'a RawValue>,
            #[serde(borrow)]
            charts: Option<&'a RawValue>,
            #[serde(borrow)]
            cards: Option<&'a RawValue>,
            #[serde(borrow)]
            baths: Option<&'a RawValue>,
            #[serde(borrow)]
            pieces: Option<&'a RawValue>,
            #[serde(borrow)]
            photos: Option<&'a RawValue>,
            #[serde(borrow)]
            notes: Option<&'a RawValue>,
        }
        let outer: Outer<'_> = serde_json::from_str(text.trim_start_matches('\u{feff}')).map_err(|e| {
            let told = e.to_string();
            if let Some(name) = told.strip_prefix("duplicate field `").and_then(|told| told.split('`').next()) {
                return valid::Wrong::new("", format!("“{name}” stands twice")).in_export();
            }
            let message = format!(
                "The file is no export of a journal: its line {} cannot be read from column {} on; choose one that “filemot export” wrote.",
                e.line(),
                e.column()
            );
            Error::file(message).because(e)
        })?;
        check_schema(outer.schema.as_ref().and_then(Value::as_str))?;
        let export = Self {
            schema: SCHEMA.to_owned(),
            studio: match outer.studio {
                Some(raw) => field(raw, "studio")?,
                None => Studio::new(),
            },
            charts: list(outer.charts, "charts", Texts::Files, |_| None)?,
            cards: list(outer.cards, "cards", Texts::Lines, |_| None)?,
            baths: list(outer.baths, "baths", Texts::Prose, |_| None)?,
            pieces: list(outer.pieces, "pieces", Texts::Prose, |_| None)?,
            // Photo takes its reading's fields in a way that forgets where they stood; the reading alone knows.
            photos: list(outer.photos, "photos", Texts::Lines, |value| {
                json::fitting::<Reading>(value).err()
            })?,
            notes: list(outer.notes, "notes", Texts::Prose, |_| None)?,
        };
        check(&export)?;
        Ok(export)
    }
}

fn check_schema(schema: Option<&str>) -> Result<()> {
    match schema {
        Some(SCHEMA) => Ok(()),
        Some(other) => Err(Error::file(format!(
            "The file's schema is “{}”, but this program reads {SCHEMA}; update filemot, or export once more.",
            short(other)
        ))),
        None => Err(Error::file(format!(
            "The file does not say which schema it has, so it is no export of a journal; it must begin with \"schema\": \"{SCHEMA}\"."
        ))),
    }
}

fn check(export: &Export) -> Result<()> {
    check_schema(Some(&export.schema))?;
    for (name, value) in &export.studio {
        valid::studio(name, value).map_err(|wrong| wrong.below("studio").in_export())?;
    }
    valid::references(&export.charts, &export.cards, &export.photos)
        .map_err(valid::Wrong::in_export)?;
    let mut names = HashSet::new();
    for (index, bath) in export.baths.iter().enumerate() {
        let at = format!("baths[{index}]");
        valid::bath(bath)
            .and_then(|()| valid::life(&bath.events))
            .map_err(|wrong| wrong.below(&at).in_export())?;
        if !names.insert(&bath.name) {
            let what = format!("is “{}” a second time", short(&bath.name));
            return Err(valid::Wrong::new("name", what).below(&at).in_export());
        }
    }
    let mut codes = HashSet::new();
    for (index, piece) in export.pieces.iter().enumerate() {
        let at = format!("pieces[{index}]");
        valid::piece(piece).map_err(|wrong| wrong.below(&at).in_export())?;
        if !codes.insert(&piece.code) {
            let what = format!("is “{}” a second time", short(&piece.code));
            return Err(valid::Wrong::new("code", what).below(&at).in_export());
        }
    }
    let mut hashes = HashMap::new();
    for (index, photo) in export.photos.iter().enumerate() {
        let at = format!("photos[{index}]");
        valid::photo(photo)
            .and_then(|()| foreign::photo(photo))
            .map_err(|wrong| wrong.below(&at).in_export())?;
        let hash = photo.hash.as_deref();
        if let Some(first) = hash.and_then(|hash| hashes.insert(hash, index)) {
            let what = format!("is that of photos[{first}] too, but one photo stands there once");
            return Err(valid::Wrong::new("hash", what).below(&at).in_export());
        }
    }
    for (index, note) in export.notes.iter().enumerate() {
        valid::issued(note).map_err(|wrong| wrong.below(&format!("notes[{index}]")).in_export())?;
    }
    Ok(())
}

/// The entries of a list; `finer` finds the place of a misfit more exactly.
fn list<T: DeserializeOwned>(
    raw: Option<&RawValue>,
    name: &str,
    texts: Texts,
    finer: impl Fn(&Value) -> Option<valid::Wrong>,
) -> Result<Vec<T>> {
    let Some(raw) = raw else {
        return Ok(Vec::new());
    };
    let entries: Vec<&RawValue> = serde_json::from_str(raw.get())
        .map_err(|_| valid::Wrong::new(name, "is no list").in_export())?;
    let entry = |(index, raw): (usize, &&RawValue)| {
        let read = json::value(raw, texts).and_then(|value| {
            json::fitting(&value).map_err(|wrong| finer(&value).unwrap_or(wrong))
        });
        read.map_err(|wrong| wrong.below(&format!("{name}[{index}]")).in_export())
    };
    entries.iter().enumerate().map(entry).collect()
}

fn field<T: DeserializeOwned>(raw: &RawValue, name: &str) -> Result<T> {
    let read = json::value(raw, Texts::Lines).and_then(|value| json::fitting(&value));
    read.map_err(|wrong| wrong.below(name).in_export())
}
