//! Photos that wait for a person's hand, and what a person says of a photo's colours.

use super::record::Photo;
use super::{Journal, photos, valid};
use crate::error::{Error, Result};
use crate::reading::{Part, SET_ASIDE};
use rusqlite::{Connection, params};

/// The photos whose current reading carries the caution `?1`.
const CAUTIONED: &str = "SELECT photo FROM current_readings JOIN cautions ON reading = current_readings.id WHERE code = ?1";

impl Journal {
    /// The newest photos, at most `most`, whose current reading carries the caution `code`, and how many there are in all. A
    /// photo of which nobody knows the piece is not among them: that is asked first.
    pub fn cautioned(&self, code: &str, most: usize) -> Result<(usize, Vec<Photo>)> {
        self.view(|db| {
            some(
                db,
                &format!("photos.piece IS NOT NULL AND photos.id IN ({CAUTIONED})"),
                code,
                most,
            )
        })
    }

    /// The newest photos, at most `most`, of which nobody knows yet what piece they show, and how many there are in all. Those that
    /// were set aside are not among them.
    pub fn unclaimed_newest(&self, most: usize) -> Result<(usize, Vec<Photo>)> {
        self.of_no_piece("NOT IN", most)
    }

    /// The newest photos, at most `most`, that were set aside, and how many there are in all.
    pub fn set_aside_newest(&self, most: usize) -> Result<(usize, Vec<Photo>)> {
        self.of_no_piece("IN", most)
    }

    fn of_no_piece(&self, among: &str, most: usize) -> Result<(usize, Vec<Photo>)> {
        let which = format!("photos.piece IS NULL AND photos.id {among} ({CAUTIONED})");
        self.view(|db| some(db, &which, SET_ASIDE, most))
    }

    /// Says of the colour at `place` (from 0, in the order of the current reading) of the photo `id` whether it is ground or print,
    /// and of which plant; `None` takes back what was said.
    ///
    /// # Errors
    /// `Caller` where there is no such photo or colour, or the plant's name cannot be one.
    pub fn mark(
        &mut self,
        id: i64,
        place: usize,
        part: Option<Part>,
        plant: Option<&str>,
    ) -> Result<()> {
        let plant = plant
            .map(|plant| plant.trim().to_lowercase())
            .filter(|plant| !plant.is_empty());
        let marked = self.change(|db| {
            let Some(mut photo) = photos::load(db, "photos.id = ?1", [id])?.pop() else {
                return Ok(Ok(false));
            };
            let Some(swatch) = photo.reading.swatches.get_mut(place) else {
                return Ok(Ok(false));
            };
            (swatch.part, swatch.plant) = (part, plant.clone());
            if let Err(wrong) = valid::reading(&photo.reading) {
                return Ok(Err(wrong.in_hand("the colour")));
            }
            let current = "SELECT id FROM readings WHERE photo = ?1 ORDER BY turn DESC LIMIT 1";
            db.execute(
                &format!("UPDATE swatches SET part = ?3, plant = ?4 WHERE place = ?2 AND reading = ({current})"),
                params![id, place as i64, part, plant],
            )?;
            Ok(Ok(true))
        })?;
        match marked? {
            true => Ok(()),
            false => Err(Error::caller(
                "There is no such colour in this photo any more; look at the photo again.",
            )),
        }
    }
}

fn some(
    db: &Connection,
    which: &str,
    with: &str,
    most: usize,
) -> rusqlite::Result<(usize, Vec<Photo>)> {
    let mut ids = db.prepare_cached(&format!(
        "SELECT id FROM photos WHERE {which} ORDER BY id DESC"
    ))?;
    let ids: Vec<i64> = ids
        .query_map([with], |row| row.get(0))?
        .collect::<rusqlite::Result<_>>()?;
    let one = |id: &i64| photos::load(db, "photos.id = ?1", [id]);
    let found: Vec<_> = ids
        .iter()
        .take(most)
        .map(one)
        .collect::<rusqlite::Result<_>>()?;
    Ok((ids.len(), found.into_iter().flatten().collect()))
}
