//! From photo files to readings in the journal: walk folders, hash, claim, measure, keep, store.

mod belong;
mod walk;
mod work;

use crate::error::Result;
use crate::journal::Journal;
use crate::journal::record::Studio;
use crate::measure::{self, References};
use crate::reading::{Basis, Reading, State, TAKEN_AS_DRY};
use rayon::prelude::*;
use serde::Serialize;
use std::path::PathBuf;
use std::sync::Mutex;
use work::{Outcome, Work};

pub use work::{Remeasured, remeasure};

/// How photos are to be taken in.
#[derive(Clone, Debug, Default)]
pub struct Options {
    /// The state of all of them, whatever tags and names say.
    pub state: Option<State>,
    /// Leave the originals where they are instead of keeping copies in the journal.
    pub in_place: bool,
}

/// What came of it; its serde form is `ingest --json`.
#[derive(Clone, Debug, Default, Serialize)]
pub struct Summary {
    /// Photo files found.
    pub found: usize,
    /// Photos that are new in the journal.
    pub new: usize,
    /// Photos whose very bytes the journal had already; they were not measured again.
    pub known: usize,
    /// Photos that could not be read, and folders and links that could not be looked into.
    pub refused: Vec<Refused>,
    /// Photos whose piece is not known.
    pub unclaimed: Vec<String>,
    /// Photos taken as dry because nothing said what they show.
    pub taken_as_dry: usize,
    /// Photos in which no cloth was found.
    #[serde(skip)]
    pub without_cloth: Vec<String>,
    /// Photos whose light had to be guessed.
    #[serde(skip)]
    pub light_assumed: Vec<String>,
}

/// A photo that could not be read.
#[derive(Clone, Debug, Serialize)]
pub struct Refused {
    /// Its name.
    pub photo: String,
    /// What is wrong with it and what to do, in one sentence.
    pub why: String,
}

/// Takes photos in: every photo under `paths` is measured once and kept, one transaction a photo.
///
/// `step` is called once with the number of photos, then after each photo with 0; a bad photo never stops the others.
///
/// # Errors
/// A path that is not there, a folder that cannot be read, or a journal that cannot be written.
pub fn ingest(
    journal: &mut Journal,
    paths: &[PathBuf],
    options: &Options,
    step: &(dyn Fn(usize) + Sync),
) -> Result<Summary> {
    let (files, refused) = walk::photos(paths)?;
    let codes = journal.codes()?;
    let references = references(&journal.studio()?)?;
    step(files.len());
    let journal = Mutex::new(journal);
    let work = Work {
        journal: &journal,
        codes: &codes,
        references: &references,
        options,
    };
    let outcomes: Vec<Result<Outcome>> = files
        .par_iter()
        .map(|file| {
            let outcome = work.take_in(file);
            step(0);
            outcome
        })
        .collect();
    let mut summary = Summary {
        found: files.len(),
        refused,
        ..Summary::default()
    };
    for (file, outcome) in files.iter().zip(outcomes) {
        summary.count(&file.name, outcome?);
    }
    Ok(summary)
}

/// What the studio said of its tags' paper and ink.
fn references(studio: &Studio) -> Result<References> {
    measure::references(
        studio.get("paper").map(String::as_str),
        studio.get("ink").map(String::as_str),
    )
}

impl Summary {
    fn count(&mut self, name: &str, outcome: Outcome) {
        match outcome {
            Outcome::Known => self.known += 1,
            Outcome::Refused(why) => self.refused.push(Refused {
                photo: name.to_owned(),
                why,
            }),
            Outcome::New(photo) => self.count_new(name, &photo.reading, photo.piece.is_none()),
        }
    }

    fn count_new(&mut self, name: &str, reading: &Reading, unclaimed: bool) {
        self.new += 1;
        self.taken_as_dry += usize::from(reading.has_caution(TAKEN_AS_DRY));
        if unclaimed {
            self.unclaimed.push(name.to_owned());
        }
        if reading.swatches.is_empty() {
            self.without_cloth.push(name.to_owned());
        }
        if reading.basis() == Some(Basis::Assumed) {
            self.light_assumed.push(name.to_owned());
        }
    }
}
