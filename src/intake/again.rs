//! Kept photos measured again.

use super::aids::{Aids, Telling};
use super::{belong, neighbour};
use crate::error::{Error, Kind, Result};
use crate::journal::Journal;
use crate::journal::record::Photo;
use crate::measure::{self, Known, Mark, measure};
use crate::photo::{self, Opened};
use crate::reading::{ABOUT_PIECE, ABOUT_STATE};
use rayon::prelude::*;
use std::path::Path;
use std::sync::{Mutex, MutexGuard, PoisonError};

/// What came of measuring kept photos again.
#[derive(Clone, Debug, Default)]
pub struct Remeasured {
    /// How many have a new reading.
    pub measured: usize,
    /// Why a photo's old reading stands, one sentence each: its file is gone or no longer readable.
    pub left: Vec<String>,
}

/// Measures kept photos again with today's method and what is told now or was told before; the old readings stay beneath.
///
/// `step` is called after each photo.
///
/// # Errors
/// What was told is none, or is of one photo and there are several; a journal that cannot be read or written.
pub fn remeasure(
    journal: &mut Journal,
    photos: &[Photo],
    telling: &Telling,
    step: &(dyn Fn() + Sync),
) -> Result<Remeasured> {
    telling.check(photos.len())?;
    let (aids, chart) = Aids::load(journal, telling)?;
    let journal = Mutex::new(journal);
    let again = Again {
        journal: &journal,
        aids: &aids,
        chart: chart.as_ref(),
        telling,
    };
    let outcomes: Vec<Result<()>> = photos
        .par_iter()
        .map(|photo| {
            let outcome = again.measure(photo);
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

/// The references in a kept photo, by what the journal knows of charts and cards, to be shown.
///
/// # Errors
/// A journal that cannot be read.
pub fn marks(journal: &mut Journal, photo: &Photo, opened: &Opened) -> Result<Vec<Mark>> {
    let (aids, _) = Aids::load(journal, &Telling::default())?;
    Ok(measure::marks(&opened.photograph, &aids.known(&photo.told)))
}

/// The number of a photo and the bytes of its file.
///
/// # Errors
/// `File` where the journal holds none, or it is not the file that was ingested.
pub fn original(journal: &Journal, photo: &Photo) -> Result<(i64, Vec<u8>)> {
    let name = photo.file.as_deref().unwrap_or("a reading without a photo");
    let (Some(id), Some(path)) = (photo.id, journal.original(photo)?) else {
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
    Ok((id, bytes))
}

/// Whether a file is a photo of the journal, wherever it lies.
///
/// # Errors
/// A journal that cannot be read.
pub fn is_photo(journal: &Journal, file: &Path) -> Result<bool> {
    Ok(photo_of(journal, file)?.is_some())
}

/// The photo of the journal that a file holds, wherever it lies; `None` where it holds none, or cannot be read.
///
/// # Errors
/// A journal that cannot be read.
pub fn photo_of(journal: &Journal, file: &Path) -> Result<Option<Photo>> {
    match std::fs::read(file) {
        Ok(bytes) => journal.photo_hashed(blake3::hash(&bytes).to_hex().as_str()),
        Err(_) => Ok(None),
    }
}

struct Again<'a> {
    journal: &'a Mutex<&'a mut Journal>,
    aids: &'a Aids,
    chart: Option<&'a String>,
    telling: &'a Telling,
}

impl<'a> Again<'a> {
    fn measure(&self, photo: &Photo) -> Result<()> {
        let name = photo.file.as_deref().unwrap_or("a reading without a photo");
        let (id, bytes) = original(&self.journal(), photo)?;
        let opened = photo::decode(&bytes, name)?;
        // What is told while a photo is measured counts: it is measured once more.
        while !self.read(id, &opened)? {}
        Ok(())
    }

    /// Measures the photo as it stands in the journal; false where something else was told of it meanwhile.
    fn read(&self, id: i64, opened: &Opened) -> Result<bool> {
        let photo = self.journal().photo(id)?;
        let photo = photo.ok_or_else(|| {
            Error::caller(format!(
                "Photo number {id} is not in this journal any more."
            ))
        })?;
        let size = [opened.photograph.width, opened.photograph.height].map(|side| side as u32);
        let told = self.telling.of(&photo.told, self.chart, size)?;
        let known = self.aids.known(&told);
        let mut measured = measure(opened, &known);
        if neighbour::needs_light(&measured.reading) {
            let lenders = neighbour::of_the_day(&self.journal(), &photo)?;
            if let Some(light) = neighbour::light(&photo, &lenders) {
                let borrowed = Some(light);
                measured = measure(opened, &Known { borrowed, ..known });
            }
        }
        let mut journal = self.journal();
        let through = belong::show_through(&journal, &photo, measured.ground)?;
        if let Some((name, corners)) = &measured.card {
            journal.place_card(name, *corners)?;
        }
        journal.read_anew(id, &photo.told, &told, |now| {
            let mut reading = measured.reading;
            let said = now.reading.cautions.iter().filter(|c| is_said(&c.code));
            reading.cautions.extend(said.cloned());
            reading.keep_marks(&now.reading);
            reading.cautions.extend(through);
            reading
        })
    }

    fn journal(&self) -> MutexGuard<'a, &'a mut Journal> {
        self.journal.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// Whether a caution is about what was said of a photo, and not about what is seen in it.
fn is_said(code: &str) -> bool {
    ABOUT_STATE.contains(&code) || ABOUT_PIECE.contains(&code) || code == neighbour::TWIN
}
