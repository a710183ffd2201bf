//! One photo from file to journal; photos are worked on side by side, the journal is written one at a time.

use super::Options;
use super::aids::Aids;
use super::walk::File;
use super::{belong, neighbour};
use crate::error::{Error, Kind, Result, refused};
use crate::journal::record::{Exposure, Photo, Told};
use crate::journal::{Journal, Original};
use crate::measure::{Corners, Known, Measured, measure};
use crate::photo::{self, Facts};
use crate::reading::Light;
use rayon::prelude::*;
use std::path::Path;
use std::sync::{Mutex, MutexGuard, PoisonError};

/// What came of one photo.
pub(super) enum Outcome {
    Known,
    Refused(String),
    New(Box<Photo>),
    /// Measured without any reference, and not kept yet: a neighbour may lend its light.
    Waiting(Box<Photo>),
}

/// What the work on every photo shares.
pub(super) struct Work<'a> {
    pub journal: &'a Mutex<&'a mut Journal>,
    pub codes: &'a [String],
    pub aids: &'a Aids,
    pub chart: Option<&'a String>,
    pub options: &'a Options,
}

/// One photo, measured and not kept.
struct Looked {
    photo: Photo,
    /// A card's name and where its chart was found to lie.
    card: Option<(String, Corners)>,
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
            if self.options.telling.is_of_one() {
                return Err(known_already(&file.name));
            }
            self.journal().keep(&hash, self.original(file, &bytes))?;
            return Ok(Outcome::Known);
        }
        match self.measured(file, &bytes, hash, None)? {
            Ok(photo) if neighbour::needs_light(&photo.reading) => {
                Ok(Outcome::Waiting(Box::new(photo)))
            }
            Ok(photo) => self.keep(file, &bytes, photo),
            Err(why) => Ok(Outcome::Refused(why)),
        }
    }

    /// Keeps what waited, in the light of a neighbour where one lends it.
    pub(super) fn in_borrowed_light(
        &self,
        files: &[File],
        outcomes: Vec<Result<Outcome>>,
    ) -> Result<Vec<Outcome>> {
        let outcomes: Vec<Outcome> = outcomes.into_iter().collect::<Result<_>>()?;
        let waits = |outcome: &Outcome| matches!(outcome, Outcome::Waiting(_));
        if !outcomes.iter().any(waits) {
            return Ok(outcomes);
        }
        let kept = |(file, outcome): (&File, Outcome)| match outcome {
            Outcome::Waiting(photo) => self.brighten(file, *photo),
            other => Ok(other),
        };
        files.par_iter().zip(outcomes).map(kept).collect()
    }

    fn brighten(&self, file: &File, photo: Photo) -> Result<Outcome> {
        let bytes = match std::fs::read(&file.path) {
            Ok(bytes) => bytes,
            Err(error) => {
                let told = refused("read", Path::new(&file.name), error);
                return Ok(Outcome::Refused(told.to_string()));
            }
        };
        let hash = blake3::hash(&bytes).to_hex().to_string();
        let lenders = neighbour::of_the_day(&self.journal(), &photo)?;
        let photo = match neighbour::light(&photo, &lenders) {
            Some(light) => self.measured(file, &bytes, hash, Some(light))?,
            None => Ok(photo),
        };
        match photo {
            Ok(photo) => self.keep(file, &bytes, photo),
            Err(why) => Ok(Outcome::Refused(why)),
        }
    }

    /// A file's bytes as a photo with its reading, or why they cannot be one.
    fn measured(
        &self,
        file: &File,
        bytes: &[u8],
        hash: String,
        borrowed: Option<&Light>,
    ) -> Result<std::result::Result<Photo, String>> {
        let Looked { photo, card } = match self.looked(file, bytes, hash, borrowed)? {
            Ok(looked) => looked,
            Err(why) => return Ok(Err(why)),
        };
        if let Some((name, corners)) = &card {
            self.journal().place_card(name, *corners)?;
        }
        Ok(Ok(photo))
    }

    /// The same; nothing is written.
    fn looked(
        &self,
        file: &File,
        bytes: &[u8],
        hash: String,
        borrowed: Option<&Light>,
    ) -> Result<std::result::Result<Looked, String>> {
        let opened = match photo::decode(bytes, &file.name) {
            Ok(opened) => opened,
            Err(error) => return Ok(Err(error.to_string())),
        };
        let size = [opened.photograph.width, opened.photograph.height].map(|side| side as u32);
        let told = self
            .options
            .telling
            .of(&Told::default(), self.chart, size)?;
        let known = Known {
            borrowed,
            ..self.aids.known(&told)
        };
        let measured = measure(&opened, &known);
        let (ground, card) = (measured.ground, measured.card.clone());
        let mut photo = self.record(file, hash, size, opened.facts, measured);
        let through = belong::show_through(&self.journal(), &photo, ground)?;
        photo.reading.cautions.extend(through);
        let photo = Photo { told, ..photo };
        Ok(Ok(Looked { photo, card }))
    }

    /// The photo of one file, measured as it would be taken in, or as it was; nothing is kept.
    ///
    /// # Errors
    /// A file that is no photo or cannot be read, a journal that cannot be.
    pub(super) fn glimpse(&self, file: &File) -> Result<Photo> {
        let bytes =
            std::fs::read(&file.path).map_err(|error| refused("read", &file.path, error))?;
        let hash = blake3::hash(&bytes).to_hex().to_string();
        if self.journal().knows(&hash)? {
            let known = self.journal().photos_named(&hash)?.pop();
            return known.ok_or_else(|| {
                Error::journal("That photo is not in the journal any more; try again.")
            });
        }
        let look = |borrowed| -> Result<Photo> {
            let looked = self.looked(file, &bytes, hash.clone(), borrowed)?;
            looked.map(|looked| looked.photo).map_err(Error::file)
        };
        let photo = look(None)?;
        if !neighbour::needs_light(&photo.reading) {
            return Ok(photo);
        }
        let lenders = neighbour::of_the_day(&self.journal(), &photo)?;
        match neighbour::light(&photo, &lenders) {
            Some(light) => look(Some(light)),
            None => Ok(photo),
        }
    }

    fn keep(&self, file: &File, bytes: &[u8], mut photo: Photo) -> Result<Outcome> {
        let original = self.original(file, bytes);
        let mut journal = self.journal();
        let neighbours = neighbour::of_the_day(&journal, &photo)?;
        let twin = neighbour::burst(&photo, &neighbours);
        photo.reading.cautions.extend(twin);
        match journal.add_photo(&photo, original) {
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
        size: [u32; 2],
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
            washes: belong::washes(state, self.options.washes, &file.hints),
            print: Some(format!("{:016x}", measured.print)),
            width: Some(size[0]),
            height: Some(size[1]),
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

fn known_already(name: &str) -> Error {
    Error::caller(format!(
        "{name} is in the journal already; tell it with “filemot remeasure {name}” and the same corners or outline."
    ))
}

fn ending(path: &Path) -> &str {
    path.extension()
        .and_then(|ending| ending.to_str())
        .unwrap_or("photo")
}
