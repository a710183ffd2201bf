//! From photo files to readings in the journal: walk folders, hash, claim, measure, keep, store.

mod again;
mod aids;
mod belong;
mod neighbour;
mod walk;
mod work;

use crate::error::{Error, Result};
use crate::journal::Journal;
use crate::journal::record::Photo;
use crate::reading::{Basis, Reading, State, TAKEN_AS_DRY};
use aids::Aids;
use rayon::prelude::*;
use serde::Serialize;
use std::path::{Path, PathBuf};
use std::sync::Mutex;
use work::{Outcome, Work};

pub use again::{Remeasured, is_photo, marks, original, photo_of, remeasure};
pub use aids::{Saying, Telling, chart_file, record_card};

/// How photos are to be taken in.
#[derive(Clone, Debug, Default)]
pub struct Options {
    /// The state of all of them, whatever tags and names say.
    pub state: Option<State>,
    /// How often all of them that show a washed or worn piece had been washed, whatever names say; 1 or more.
    pub washes: Option<u32>,
    /// Leave the originals where they are instead of keeping copies in the journal.
    pub in_place: bool,
    /// What is told about them.
    pub telling: Telling,
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
    /// Their names.
    #[serde(skip)]
    pub dry_untold: Vec<String>,
    /// Photos in which no cloth was found.
    #[serde(skip)]
    pub without_cloth: Vec<String>,
    /// Photos that were known already, and of which a chart was told that they were not measured by.
    #[serde(skip)]
    pub told_in_vain: usize,
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
    options.telling.check(files.len())?;
    let codes = journal.codes()?;
    let (aids, chart) = Aids::load(journal, &options.telling)?;
    step(files.len());
    let journal = Mutex::new(journal);
    let work = Work {
        journal: &journal,
        codes: &codes,
        aids: &aids,
        chart: chart.as_ref(),
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
    let outcomes = work.in_borrowed_light(&files, outcomes)?;
    let mut summary = Summary {
        found: files.len(),
        refused,
        ..Summary::default()
    };
    for (file, outcome) in files.iter().zip(outcomes) {
        summary.count(&file.name, outcome);
    }
    if options.telling.chart != Saying::Nothing {
        summary.told_in_vain = summary.known;
    }
    Ok(summary)
}

/// Measures one photo file as [`ingest`] would, and keeps nothing of it; a photo that the journal holds comes as it was measured.
///
/// # Errors
/// `File` where it is no photo or a damaged one, `Caller` where it is a folder or not there, or a journal that cannot be read.
pub fn glimpse(journal: &mut Journal, file: &Path, state: Option<State>) -> Result<Photo> {
    let folder = || Error::caller(format!("{} is a folder; name one photo.", file.display()));
    // Looked at first: all that lies below a folder could be a whole disk.
    if file.is_dir() {
        return Err(folder());
    }
    let (files, _) = walk::photos(&[file.to_owned()])?;
    let one = files.first().ok_or_else(folder)?;
    let codes = journal.codes()?;
    let options = Options {
        state,
        ..Options::default()
    };
    let (aids, chart) = Aids::load(journal, &options.telling)?;
    let work = Work {
        journal: &Mutex::new(journal),
        codes: &codes,
        aids: &aids,
        chart: chart.as_ref(),
        options: &options,
    };
    work.glimpse(one)
}

impl Summary {
    fn count(&mut self, name: &str, outcome: Outcome) {
        match outcome {
            Outcome::Known => self.known += 1,
            Outcome::Refused(why) => self.refused.push(Refused {
                photo: name.to_owned(),
                why,
            }),
            Outcome::New(photo) | Outcome::Waiting(photo) => {
                self.count_new(name, &photo.reading, photo.piece.is_none());
            }
        }
    }

    fn count_new(&mut self, name: &str, reading: &Reading, unclaimed: bool) {
        self.new += 1;
        if reading.has_caution(TAKEN_AS_DRY) {
            self.taken_as_dry += 1;
            self.dry_untold.push(name.to_owned());
        }
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
