//! The photos' files: kept below the journal's folder under the hash of their bytes, or left where they lie.

use super::record::Photo;
use super::{Journal, identity};
use crate::error::{Error, Result, refused};
use rusqlite::{Connection, OptionalExtension, params};
use std::fs::{self, File};
use std::io::Write;
use std::path::{Path, PathBuf};

/// What becomes of a photo's file.
#[derive(Clone, Copy, Debug)]
pub enum Original<'a> {
    /// A copy is kept in the journal.
    Copy {
        /// The file's bytes, whose hash the photo carries.
        bytes: &'a [u8],
        /// The ending of the file's name, without the dot: `jpg`.
        ending: &'a str,
    },
    /// It stays where it is, at this path.
    InPlace(&'a Path),
    /// There is none: the reading was made elsewhere.
    None,
}

/// Where a photo's file is, as columns `original` and `place` say it.
pub(super) struct Place {
    kind: &'static str,
    place: String,
}

impl Journal {
    /// Where the photo's file is, or should be; `None` where the journal never had it.
    pub fn original(&self, photo: &Photo) -> Result<Option<PathBuf>> {
        self.view(|db| match (photo.id, &photo.hash) {
            (Some(id), _) => located(db, &self.dir, id),
            (None, Some(hash)) => match identity::with_hash(db, hash)? {
                Some(id) => located(db, &self.dir, id),
                None => Ok(None),
            },
            (None, None) => Ok(None),
        })
    }

    /// Gives a known photo its file where the journal has none or no longer finds it: after an import, or when a photo that was
    /// left in place has moved. True where something was amiss and now is not.
    ///
    /// # Errors
    /// `Machine` where the copy cannot be written.
    pub fn keep(&mut self, hash: &str, original: Original<'_>) -> Result<bool> {
        let missing = self.view(|db| match identity::with_hash(db, hash)? {
            Some(id) => Ok(is_missing(db, &self.dir, id)?.then_some(id)),
            None => Ok(None),
        })?;
        let Some(id) = missing else { return Ok(false) };
        let Some(place) = settle(&self.dir, Some(hash), original)? else {
            return Ok(false);
        };
        self.change(|db| record(db, id, &place))?;
        Ok(true)
    }
}

/// Brings the file to where it belongs, before any row names it: a broken-off ingest leaves at worst a file without a row.
pub(super) fn settle(
    dir: &Path,
    hash: Option<&str>,
    original: Original<'_>,
) -> Result<Option<Place>> {
    match original {
        Original::None => Ok(None),
        Original::InPlace(path) => in_place(path).map(Some),
        Original::Copy { bytes, ending } => match hash {
            Some(hash) if hash == blake3::hash(bytes).to_hex().as_str() => {
                copy(dir, hash, bytes, ending).map(Some)
            }
            _ => Err(Error::file(
                "A photo changed while it was read; wait until it has been copied to this computer, then ingest it again.",
            )),
        },
    }
}

/// Notes where the photo's file is.
pub(super) fn record(db: &Connection, id: i64, place: &Place) -> rusqlite::Result<()> {
    db.prepare_cached("UPDATE photos SET original = ?2, place = ?3 WHERE id = ?1")?
        .execute(params![id, place.kind, place.place])
        .map(drop)
}

/// Whether the photo has no file where the journal would look for it.
pub(super) fn is_missing(db: &Connection, dir: &Path, id: i64) -> rusqlite::Result<bool> {
    Ok(!located(db, dir, id)?.is_some_and(|path| path.is_file()))
}

fn located(db: &Connection, dir: &Path, id: i64) -> rusqlite::Result<Option<PathBuf>> {
    // Joining an absolute path gives that path: `place` is one where the photo was left in place.
    let path = |row: &rusqlite::Row<'_>| row.get::<_, Option<String>>(0);
    let place = db
        .prepare_cached("SELECT place FROM photos WHERE id = ?1")?
        .query_row([id], path)
        .optional()?;
    Ok(place.flatten().map(|place| dir.join(place)))
}

fn in_place(path: &Path) -> Result<Place> {
    let path = std::path::absolute(path).map_err(|e| refused("find", path, e))?;
    match path.to_str() {
        Some(text) => Ok(Place {
            kind: "in place",
            place: text.to_owned(),
        }),
        None => Err(Error::file(format!(
            "The name of {} is not readable as text, so it cannot be left in place; rename it, or let it be copied.",
            path.display()
        ))),
    }
}

fn copy(dir: &Path, hash: &str, bytes: &[u8], ending: &str) -> Result<Place> {
    let plain = !ending.is_empty()
        && ending.len() <= 8
        && ending.bytes().all(|b| b.is_ascii_alphanumeric());
    let name = match plain {
        true => format!("{hash}.{}", ending.to_ascii_lowercase()),
        false => hash.to_owned(),
    };
    let place = format!("photos/{}/{name}", &hash[..2]);
    let target = dir.join(&place);
    write(&target, bytes).map_err(|e| refused("write the photo", &target, e))?;
    Ok(Place {
        kind: "kept",
        place,
    })
}

/// Writes a file so that it is there whole or not at all, also when the power fails.
fn write(target: &Path, bytes: &[u8]) -> std::io::Result<()> {
    let folder = target.parent().unwrap_or(Path::new("."));
    fs::create_dir_all(folder)?;
    // Two ingests of the same photo at once must not write into one another's file.
    let unfinished = target.with_extension(format!(
        "{}-{:?}.part",
        std::process::id(),
        std::thread::current().id()
    ));
    let whole = || {
        let mut file = File::create(&unfinished)?;
        file.write_all(bytes)?;
        file.sync_all()?;
        fs::rename(&unfinished, target)
    };
    whole().inspect_err(|_| {
        let _ = fs::remove_file(&unfinished);
    })?;
    sync_folder(folder)
}

/// The new name, too, must outlast a power failure; only Unix lets a folder be written through.
fn sync_folder(folder: &Path) -> std::io::Result<()> {
    if cfg!(unix) {
        File::open(folder)?.sync_all()
    } else {
        Ok(())
    }
}
