//! One photo from file to journal; photos are worked on side by side, the journal is written one at a time.

use super::belong;
use super::walk::File;
use super::{Options, references};
use crate::error::{Error, Kind, Result, refused};
use crate::journal::record::{Exposure, Photo};
use crate::journal::{Journal, Original};
use crate::measure::{Measured, References, measure};
use crate::photo::{self, Facts};
use crate::reading::{ABOUT_PIECE, ABOUT_STATE};
use rayon::prelude::*;
use std::path::Path;
use std::sync::{Mutex, MutexGuard, PoisonError};

/// What came of one photo.
pub(super) enum Outcome {
    Known,
    Refused(String),
    New(Box<Photo>),
}

/// What the work on every photo shares.
pub(super) struct Work<'a> {
    pub journal: &'a Mutex<&'a mut Journal>,
    pub codes: &'a [String],
    pub references: &'a References,
    pub options: &'a Options,
}

impl<'a> Work<'a> {
    /// Reads, measures and keeps one file. A file that is no good is an outcome; a journal that is not, an error.
    pub(super) fn take_in(&self, file: &File) -> Result<Outcome> {
        let bytes = match std::fs::read(&file.path) {
            Ok(bytes) => bytes,
            Err(error) => {
                let told = refused("read", Path::new(&file.name), error);
                return Ok(Outcome::Refused(told.to_string()));
            }
        };
        let hash = blake3::hash(&bytes).to_hex().to_string();
        if self.journal().knows(&hash)? {
            self.journal().keep(&hash, self.original(file, &bytes))?;
            return Ok(Outcome::Known);
        }
        let opened = match photo::decode(&bytes, &file.name) {
            Ok(opened) => opened,
            Err(error) => return Ok(Outcome::Refused(error.to_string())),
        };
        let measured = measure(&opened, self.references);
        let size = (
            opened.photograph.width as u32,
            opened.photograph.height as u32,
        );
        let facts = opened.facts;
        drop(opened.photograph);
        let photo = self.record(file, hash, size, facts, measured);
        let kept = self
            .journal()
            .add_photo(&photo, self.original(file, &bytes));
        match kept {
            Ok(true) => Ok(Outcome::New(Box::new(photo))),
            Ok(false) => Ok(Outcome::Known),
            Err(error) if matches!(error.kind(), Kind::Caller | Kind::File) => {
                Ok(Outcome::Refused(error.to_string()))
            }
            Err(error) => Err(error),
        }
    }

    fn journal(&self) -> MutexGuard<'a, &'a mut Journal> {
        // A worker that panicked held no half-written state: every write is one transaction.
        self.journal.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn original<'b>(&self, file: &'b File, bytes: &'b [u8]) -> Original<'b> {
        if self.options.in_place {
            return Original::InPlace(&file.path);
        }
        Original::Copy {
            bytes,
            ending: ending(&file.path),
        }
    }

    fn record(
        &self,
        file: &File,
        hash: String,
        size: (u32, u32),
        facts: Facts,
        measured: Measured,
    ) -> Photo {
        let mut reading = measured.reading;
        let piece = belong::piece(
            &measured.codes,
            &file.hints,
            self.codes,
            &mut reading.cautions,
        );
        let state = belong::state(
            self.options.state,
            &measured.states,
            &file.hints,
            &mut reading.cautions,
        );
        Photo {
            file: Some(file.name.clone()),
            hash: Some(hash),
            taken: facts.taken,
            piece,
            state: Some(state),
            width: Some(size.0),
            height: Some(size.1),
            exposure: Exposure {
                camera: facts.camera,
                seconds: facts.seconds,
                f_number: facts.f_number,
                iso: facts.iso,
                flash: facts.flash,
            },
            reading,
            ..Photo::default()
        }
    }
}

fn ending(path: &Path) -> &str {
    path.extension()
        .and_then(|ending| ending.to_str())
        .unwrap_or("photo")
}

/// What came of measuring kept photos again.
#[derive(Clone, Debug, Default)]
pub struct Remeasured {
    /// How many have a new reading.
    pub measured: usize,
    /// Why a photo's old reading stands, one sentence each: its file is gone or no longer readable.
    pub left: Vec<String>,
}

/// Measures kept photos again with today's method; the old readings stay beneath.
///
/// `step` is called after each photo.
///
/// # Errors
/// A journal that cannot be read or written.
pub fn remeasure(
    journal: &mut Journal,
    photos: &[Photo],
    step: &(dyn Fn() + Sync),
) -> Result<Remeasured> {
    let references = references(&journal.studio()?)?;
    let journal = Mutex::new(journal);
    let outcomes: Vec<Result<()>> = photos
        .par_iter()
        .map(|photo| {
            let outcome = again(&journal, photo, &references);
            step();
            outcome
        })
        .collect();
    let mut result = Remeasured::default();
    for outcome in outcomes {
        match outcome {
            Ok(()) => result.measured += 1,
            Err(error) if error.kind() == Kind::File => {
                result.left.push(error.to_string());
            }
            Err(error) => return Err(error),
        }
    }
    Ok(result)
}

fn again(journal: &Mutex<&mut Journal>, photo: &Photo, references: &References) -> Result<()> {
    let name = photo.file.as_deref().unwrap_or("a reading without a photo");
    let lock = || journal.lock().unwrap_or_else(PoisonError::into_inner);
    let (Some(id), Some(path)) = (photo.id, lock().original(photo)?) else {
        return Err(Error::file(format!(
            "{name} has no kept photo; its reading stands as it was given."
        )));
    };
    let bytes = std::fs::read(&path).map_err(|error| {
        Error::file(format!(
            "The kept photo of {name} cannot be read; “filemot check” says what to do."
        ))
        .because(error)
    })?;
    let changed = |hash: &String| *hash != blake3::hash(&bytes).to_hex().as_str();
    if photo.hash.as_ref().is_some_and(changed) {
        return Err(Error::file(format!(
            "{name} is no longer the photo that was ingested; put the unchanged one back, or ingest the changed one as a new photo."
        )));
    }
    let mut reading = measure(&photo::decode(&bytes, name)?, references).reading;
    let said = |code: &str| ABOUT_STATE.contains(&code) || ABOUT_PIECE.contains(&code);
    reading.cautions.extend(
        photo
            .reading
            .cautions
            .iter()
            .filter(|c| said(&c.code))
            .cloned(),
    );
    lock().add_reading(id, &reading)
}
