//! Baths and what was done to them, to and from tables.

use super::merge::Fate;
use super::record::{Bath, BathEvent};
use super::rows::Groups;
use super::{Journal, valid};
use crate::error::{Error, Result};
use rusqlite::{Connection, Row, params};

impl Journal {
    /// Every mordant bath that lives or lived, by name.
    pub fn baths(&self) -> Result<Vec<Bath>> {
        self.view(load)
    }

    /// Enters the baths that `plan` makes of those that are here, each whole in place of what stood under its name, as
    /// [`Journal::edit_pieces`] does with pieces.
    ///
    /// # Errors
    /// What `plan` refuses, and `Caller` where a value is none; then nothing is written.
    pub fn edit_baths<T>(
        &mut self,
        plan: impl FnOnce(&[Bath]) -> Result<(Vec<Bath>, T)>,
    ) -> Result<T> {
        self.change(|db| {
            let sound = |bath: &Bath| valid::bath(bath).map_err(|wrong| wrong.in_hand(&bath.name));
            let planned = plan(&load(db)?)
                .and_then(|(baths, told)| baths.iter().try_for_each(sound).map(|()| (baths, told)));
            match planned {
                Ok((baths, told)) => {
                    baths.iter().try_for_each(|bath| put(db, bath))?;
                    Ok(Ok(told))
                }
                Err(refused) => Ok(Err(refused)),
            }
        })?
    }
}

impl Journal {
    /// Takes back what was done to the bath of that name; with its last event the bath is gone. Soaks keep its name.
    ///
    /// # Errors
    /// `Caller` where it is not there any more, or where the rest could not be the life of a bath; then nothing is changed.
    pub fn take_back(&mut self, bath: &str, event: &BathEvent) -> Result<()> {
        self.change(|db| {
            let without = load(db)?.into_iter().find(|known| known.name == bath);
            let Some(left) = without.and_then(|known| without_event(known, event)) else {
                return Ok(Err(Error::caller(format!(
                    "Of bath {bath} that is not written any more; look at it again."
                ))));
            };
            if let Err((_, what)) = Bath::check_life(&left.events) {
                return Ok(Err(Error::caller(format!(
                    "Without that, bath {bath} {what}; take what came after it back first."
                ))));
            }
            match left.events.is_empty() {
                true => drop(db.execute("DELETE FROM baths WHERE name = ?1", [bath])?),
                false => put(db, &left)?,
            }
            Ok(Ok(()))
        })?
    }
}

fn without_event(mut bath: Bath, event: &BathEvent) -> Option<Bath> {
    let place = bath.events.iter().position(|known| known == event)?;
    bath.events.remove(place);
    Some(bath)
}

pub(super) fn load(db: &Connection) -> rusqlite::Result<Vec<Bath>> {
    let mut events = db.prepare_cached(
        "SELECT bath, happened, event, litres, grams, remarks FROM bath_events ORDER BY bath, place",
    )?;
    let mut events = Groups::of(events.query_map([], |row| Ok((row.get(0)?, event(row)?)))?);
    let mut select = db.prepare_cached("SELECT name, mordant FROM baths ORDER BY name")?;
    let baths = select.query_map([], |row| {
        let name: String = row.get(0)?;
        Ok(Bath {
            events: events.take(&name)?,
            name,
            mordant: row.get(1)?,
        })
    })?;
    baths.collect()
}

fn event(row: &Row<'_>) -> rusqlite::Result<BathEvent> {
    Ok(BathEvent {
        on: row.get("happened")?,
        what: row.get("event")?,
        litres: row.get("litres")?,
        grams: row.get("grams")?,
        remarks: row.get("remarks")?,
    })
}

/// Writes a bath whole.
fn put(db: &Connection, bath: &Bath) -> rusqlite::Result<()> {
    db.prepare_cached(
        "INSERT INTO baths (name, mordant) VALUES (?1, ?2)
         ON CONFLICT (name) DO UPDATE SET mordant = excluded.mordant",
    )?
    .execute([&bath.name, &bath.mordant])?;
    db.prepare_cached("DELETE FROM bath_events WHERE bath = ?1")?
        .execute([&bath.name])?;
    let mut insert = db.prepare_cached(
        "INSERT INTO bath_events (bath, place, happened, event, litres, grams, remarks)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)",
    )?;
    for (place, event) in (0_i64..).zip(&bath.events) {
        insert.execute(params![
            bath.name,
            place,
            event.on,
            event.what,
            event.litres,
            event.grams,
            event.remarks
        ])?;
    }
    Ok(())
}

/// Whether baths of an import can be what is here as well; nothing is written.
pub(super) fn agree(db: &Connection, theirs: &[Bath]) -> rusqlite::Result<Result<()>> {
    let ours = load(db)?;
    let agrees = |theirs: &Bath| {
        let Some(ours) = ours.iter().find(|bath| bath.name == theirs.name) else {
            return Ok(());
        };
        let both = joined(ours, theirs);
        // What stands here already is not the file's to answer for.
        match both == *ours {
            true => Ok(()),
            false => valid::life(&both.events).map_err(|wrong| {
                let at = format!("bath {}, joined with what is here,", theirs.name);
                wrong.below(&at).in_export()
            }),
        }
    };
    Ok(theirs.iter().try_for_each(agrees))
}

/// Brings one bath of an import in.
pub(super) fn merge(db: &Connection, theirs: &Bath) -> rusqlite::Result<Fate> {
    let known = load(db)?.into_iter().find(|bath| bath.name == theirs.name);
    let Some(ours) = known else {
        put(db, theirs)?;
        return Ok(Fate::New);
    };
    let both = joined(&ours, theirs);
    if both == ours {
        return Ok(Fate::Same);
    }
    put(db, &both)?;
    Ok(Fate::Changed)
}

/// What was done on a day here and there is one, the rest comes after what is here.
fn joined(ours: &Bath, theirs: &Bath) -> Bath {
    let mut both = ours.clone();
    if !theirs.mordant.is_empty() {
        both.mordant.clone_from(&theirs.mordant);
    }
    // The second top-up of a day is the second there too.
    let mut free: Vec<Option<BathEvent>> = ours.events.iter().cloned().map(Some).collect();
    for event in &theirs.events {
        let alike = |e: &BathEvent| (&e.on, e.what) == (&event.on, event.what);
        match free.iter().position(|one| one.as_ref().is_some_and(alike)) {
            Some(place) => {
                free[place] = None;
                join(&mut both.events[place], event);
            }
            None => both.events.push(event.clone()),
        }
    }
    if both.events.len() > ours.events.len() {
        both.events.sort_by(|one, other| one.on.cmp(&other.on));
    }
    both
}

fn join(ours: &mut BathEvent, theirs: &BathEvent) {
    ours.litres = theirs.litres.or(ours.litres);
    ours.grams = theirs.grams.or(ours.grams);
    ours.remarks = theirs.remarks.clone().or(ours.remarks.take());
}
