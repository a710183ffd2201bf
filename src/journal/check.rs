//! Looks a journal over: is everything there, and is it what it was.

use super::record::Photo;
use super::{Export, Journal, glances, trouble, valid};
use crate::error::Result;
use rusqlite::{Connection, Transaction, TransactionBehavior};
use serde::Serialize;
use std::collections::HashSet;
use std::fs::{self, File};
use std::path::{Path, PathBuf};

/// Something that is not as it should be, or that waits for somebody.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Finding {
    /// What was found, one sentence.
    pub what: String,
    /// What to do about it, one sentence.
    pub advice: String,
    /// Whether something is lost or may get lost.
    pub serious: bool,
}

/// A photo with a file, as the rows say.
struct Filed {
    name: String,
    hash: Option<String>,
    kept: bool,
    path: PathBuf,
}

impl Journal {
    /// Looks over the database and every photo's file, which is read whole; the worst first. Empty where all is well. What
    /// questions look at follows from the rest: where it does not, it is written anew, and told.
    ///
    /// # Errors
    /// `Journal` or `Machine` where it cannot even be looked at.
    pub fn check(&self) -> Result<Vec<Finding>> {
        let damage = match self.view(damage) {
            Ok(findings) if findings.is_empty() => findings,
            Ok(findings) => return Ok(findings),
            Err(error) => {
                return Ok(vec![finding(
                    true,
                    error.to_string(),
                    "Until then, enter nothing new.",
                )]);
            }
        };
        let unfit = self.unfit();
        if !unfit.is_empty() {
            return Ok(unfit);
        }
        let filed = self.view(|db| filed(db, &self.dir))?;
        let mut findings = damage;
        match self.glances() {
            Ok(found) => findings.extend(found),
            Err(error) => findings.push(finding(true, error.to_string(), RESTORE)),
        }
        findings.extend(of_files(&filed));
        findings.extend(self.view(of_rows)?);
        findings.extend(orphans(&self.dir, &filed));
        findings.sort_by_key(|finding| !finding.serious);
        Ok(findings)
    }

    /// Compares what questions look at with what it follows from, and mends it.
    fn glances(&self) -> Result<Option<Finding>> {
        self.settled()?;
        let rebuild = || {
            let turn = Transaction::new_unchecked(&self.db, TransactionBehavior::Immediate)?;
            let wrong = glances::rebuild(&turn)?;
            // Where all was well, nothing needs to be written.
            match wrong {
                0 => turn.rollback()?,
                _ => turn.commit()?,
            }
            Ok(wrong)
        };
        let wrong = rebuild().map_err(|e| trouble::told(&self.dir, e))?;
        Ok((wrong > 0).then(|| {
            let photos = match wrong {
                1 => "one photo".to_owned(),
                many => format!("{many} photos"),
            };
            finding(
                true,
                format!(
                    "What questions look at was lost or damaged for {photos}; it was written anew from the readings, which are \
                     sound."
                ),
                "Ask again what you asked since the last check, for answers may have been wrong, and find out which program or disk did that.",
            )
        }))
    }

    /// What cannot be read, or is none of the values that may stand in a journal; SQLite's own examinations do not know either.
    fn unfit(&self) -> Vec<Finding> {
        let Export {
            pieces,
            photos,
            baths,
            notes,
            ..
        } = match self.export() {
            Ok(all) => all,
            Err(error) => return vec![finding(true, error.to_string(), RESTORE)],
        };
        let of_pieces = pieces
            .iter()
            .filter_map(|piece| Some((piece.code.clone(), valid::piece(piece).err()?)));
        let of_photos = photos
            .iter()
            .filter_map(|photo| Some((name(photo), valid::photo(photo).err()?)));
        let of_baths = baths
            .iter()
            .filter_map(|bath| Some((format!("the bath {}", bath.name), valid::bath(bath).err()?)));
        let of_notes = notes.iter().filter_map(|note| {
            let name = format!("the note of {}", note.piece);
            Some((name, valid::issued(note).err()?))
        });
        of_pieces
            .chain(of_photos)
            .chain(of_baths)
            .chain(of_notes)
            .map(|(name, wrong)| {
                let what = format!(
                    "What stands under {name} cannot be right: {}.",
                    wrong.told()
                );
                finding(true, what, RESTORE)
            })
            .collect()
    }
}

fn name(photo: &Photo) -> String {
    let known = photo.file.as_ref().or(photo.hash.as_ref());
    known.map_or_else(|| "a photo without a name".to_owned(), Clone::clone)
}

const RESTORE: &str =
    "Copy the whole folder first, then put the newest good backup in place of journal.sqlite.";

fn finding(serious: bool, what: impl Into<String>, advice: &str) -> Finding {
    Finding {
        what: what.into(),
        advice: advice.to_owned(),
        serious,
    }
}

/// SQLite's own two examinations.
fn damage(db: &Connection) -> rusqlite::Result<Vec<Finding>> {
    let mut findings = Vec::new();
    let mut integrity = db.prepare("PRAGMA integrity_check(1)")?;
    let said: String = integrity.query_row([], |row| row.get(0))?;
    if said != "ok" {
        findings.push(finding(
            true,
            format!("The database is damaged ({said})."),
            RESTORE,
        ));
    }
    let mut loose = db.prepare("PRAGMA foreign_key_check")?;
    let tables: HashSet<String> = loose
        .query_map([], |row| row.get(0))?
        .collect::<rusqlite::Result<_>>()?;
    if !tables.is_empty() {
        let tables = some(tables.into_iter());
        findings.push(finding(
            true,
            format!("Rows that belong to nothing stand in the tables {tables}."),
            RESTORE,
        ));
    }
    Ok(findings)
}

fn filed(db: &Connection, dir: &Path) -> rusqlite::Result<Vec<Filed>> {
    let mut rows = db.prepare(
        "SELECT coalesce(file, hash, 'photo ' || id), hash, original = 'kept', place FROM photos
         WHERE place IS NOT NULL ORDER BY id",
    )?;
    let filed = |row: &rusqlite::Row<'_>| {
        Ok(Filed {
            name: row.get(0)?,
            hash: row.get(1)?,
            kept: row.get(2)?,
            path: dir.join(row.get::<_, String>(3)?),
        })
    };
    rows.query_map([], filed)?.collect()
}

/// Whether each file is there and still has its hash.
fn of_files(filed: &[Filed]) -> Vec<Finding> {
    let (mut gone, mut moved, mut spoiled, mut edited) = (vec![], vec![], vec![], vec![]);
    for photo in filed {
        let as_it_was =
            hash(&photo.path).map(|hash| photo.hash.as_ref().is_none_or(|was| *was == hash));
        match (as_it_was, photo.kept) {
            (Ok(true), _) => {}
            (Ok(false), true) => spoiled.push(&photo.name),
            (Ok(false), false) => edited.push(&photo.name),
            (Err(_), true) => gone.push(&photo.name),
            (Err(_), false) => moved.push(&photo.name),
        }
    }
    let kinds = [
        (
            true,
            gone,
            "Kept photos are missing or cannot be read",
            "Their readings are safe; ingest the same photos again, or fetch the folder photos from a backup.",
        ),
        (
            true,
            spoiled,
            "Kept photos are no longer what they were",
            "Their readings are safe; take these files out of the folder photos, then ingest the same photos again.",
        ),
        (
            false,
            moved,
            "Photos that were left in place are no longer there",
            "Put them back, or ingest the folder where they are now; until then they cannot be measured again.",
        ),
        (
            false,
            edited,
            "Photos that were left in place have been changed",
            "Put the unchanged photos back; their readings belong to those.",
        ),
    ];
    kinds
        .into_iter()
        .filter(|(_, names, ..)| !names.is_empty())
        .map(|(serious, names, what, advice)| {
            finding(
                serious,
                format!("{what}: {}.", some(names.into_iter())),
                advice,
            )
        })
        .collect()
}

/// What the rows say by themselves.
fn of_rows(db: &Connection) -> rusqlite::Result<Vec<Finding>> {
    let kinds = [
        (
            true,
            "Photos have no reading",
            "id NOT IN (SELECT photo FROM readings)",
            "Measure them again with “filemot remeasure”.",
        ),
        (
            false,
            "Photos show a piece that nobody has named yet",
            "piece IS NULL AND NOT EXISTS (SELECT 1 FROM current_readings JOIN cautions ON reading = current_readings.id
                WHERE photo = photos.id AND code = 'set-aside')",
            "Say which with “filemot claim PHOTO PIECE”.",
        ),
        (
            false,
            "Photos came without their files",
            "place IS NULL AND hash IS NOT NULL",
            "Ingest the folder with those photos, should you want to measure them again.",
        ),
    ];
    let mut findings = Vec::new();
    for (serious, what, which, advice) in kinds {
        let sql = format!(
            "SELECT coalesce(file, hash, 'photo ' || id) FROM photos WHERE {which} ORDER BY id"
        );
        let mut rows = db.prepare(&sql)?;
        let names: Vec<String> = rows
            .query_map([], |row| row.get(0))?
            .collect::<rusqlite::Result<_>>()?;
        if !names.is_empty() {
            findings.push(finding(
                serious,
                format!("{what}: {}.", some(names.iter())),
                advice,
            ));
        }
    }
    Ok(findings)
}

/// Files below `photos/` that no photo names: the rest of an ingest that was broken off.
fn orphans(dir: &Path, filed: &[Filed]) -> Option<Finding> {
    let known: HashSet<&Path> = filed.iter().map(|photo| photo.path.as_path()).collect();
    let entries = |folder: &Path| {
        fs::read_dir(folder)
            .into_iter()
            .flatten()
            .flatten()
            .map(|entry| entry.path())
    };
    let mut files: Vec<String> = entries(&dir.join("photos"))
        .flat_map(|folder| entries(&folder).collect::<Vec<_>>())
        .filter(|path| !known.contains(path.as_path()))
        .filter_map(|path| {
            path.strip_prefix(dir)
                .ok()
                .map(|path| path.display().to_string())
        })
        .collect();
    files.sort();
    let advice = "An ingest was broken off: run it again; files that are still named here afterwards can be deleted.";
    (!files.is_empty()).then(|| {
        finding(
            false,
            format!("Files belong to no photo: {}.", some(files.iter())),
            advice,
        )
    })
}

fn hash(path: &Path) -> std::io::Result<String> {
    let mut hasher = blake3::Hasher::new();
    hasher.update_reader(File::open(path)?)?;
    Ok(hasher.finalize().to_string())
}

/// How many, and the first three by name.
fn some(names: impl ExactSizeIterator<Item: AsRef<str>>) -> String {
    let count = names.len();
    let first: Vec<String> = names.take(3).map(|name| name.as_ref().to_owned()).collect();
    let more = if count > 3 {
        format!(" and {} more", count - 3)
    } else {
        String::new()
    };
    format!("{}{more}", first.join(", "))
}
