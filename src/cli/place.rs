//! Where the journal is.

use super::World;
use crate::error::{Error, Result};
use crate::journal::Journal;
use std::path::{Path, PathBuf};

/// The folder's name where none was given.
const USUAL: &str = "filemot-journal";

/// The journal, made now if there is none yet.
pub(super) fn open_or_create(world: &World) -> Result<Journal> {
    Journal::open_or_create(&folder(world))
}

/// The journal that must be there already.
pub(super) fn open(world: &World) -> Result<Journal> {
    let folder = folder(world);
    match Journal::exists(&folder) {
        true => Journal::open(&folder),
        false => Err(missing(&folder)),
    }
}

fn missing(folder: &Path) -> Error {
    Error::caller(format!(
        "There is no journal at {}; start one with “filemot enter SHEET” or “filemot ingest FOLDER”, or name yours with --journal.",
        folder.display()
    ))
}

/// The journal, where there is one.
///
/// # Errors
/// A journal that was named and is not there: whoever names one means it.
pub(super) fn open_if_there(world: &World) -> Result<Option<Journal>> {
    let folder = folder(world);
    match Journal::exists(&folder) {
        true => Journal::open(&folder).map(Some),
        false if world.journal.is_some() => Err(missing(&folder)),
        false => Ok(None),
    }
}

/// What was named on the command line or in the environment, else the nearest journal in this folder or above, else the usual name here.
pub(super) fn folder(world: &World) -> PathBuf {
    let nearest = || {
        world
            .here
            .ancestors()
            .flat_map(candidates)
            .find(|folder| Journal::exists(folder))
    };
    world
        .journal
        .clone()
        .or_else(nearest)
        .unwrap_or_else(|| world.here.join(USUAL))
}

fn candidates(folder: &Path) -> [PathBuf; 2] {
    [folder.join(USUAL), folder.to_path_buf()]
}
