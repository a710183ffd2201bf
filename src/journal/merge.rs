//! What an import does to what is here: the file's word counts where it says something, and what it leaves out stays.

use super::record::{Photo, Piece, Round};
use super::{identity, photos, pieces, readings};
use crate::reading::Reading;
use rusqlite::Connection;

/// What became of a piece or photo of the file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Fate {
    New,
    Changed,
    Same,
}

/// Brings one piece in; rounds go by their numbers.
pub(super) fn piece(db: &Connection, theirs: &Piece) -> rusqlite::Result<Fate> {
    let Some(ours) = pieces::load(db, "pieces.code = ?1", [theirs.code.as_str()])?.pop() else {
        pieces::put(db, theirs)?;
        return Ok(Fate::New);
    };
    let both = joined(&ours, theirs);
    if both == ours {
        return Ok(Fate::Same);
    }
    pieces::put(db, &both)?;
    Ok(Fate::Changed)
}

/// Brings one photo in. A reading that is not here yet comes after those that are.
pub(super) fn photo(db: &Connection, theirs: &Photo) -> rusqlite::Result<Fate> {
    let known = match identity::find(db, theirs)? {
        Some(id) => photos::load(db, "photos.id = ?1", [id])?
            .pop()
            .map(|ours| (id, ours)),
        None => None,
    };
    let Some((id, ours)) = known else {
        photos::insert(db, theirs)?;
        return Ok(Fate::New);
    };
    let mut both = described(&ours, theirs);
    let mut readings: Vec<&Reading> = ours.earlier.iter().chain([&ours.reading]).collect();
    let had = readings.len();
    for reading in theirs.earlier.iter().chain([&theirs.reading]) {
        if *reading != Reading::default() && !readings.contains(&reading) {
            readings::add(db, id, reading)?;
            readings.push(reading);
        }
    }
    let read_anew = readings.len() > had;
    if both == ours && !read_anew {
        return Ok(Fate::Same);
    }
    if let (true, Some(last)) = (read_anew, readings.last()) {
        both.reading = (*last).clone();
    }
    photos::update(db, id, &both)?;
    Ok(Fate::Changed)
}

fn joined(ours: &Piece, theirs: &Piece) -> Piece {
    let mut both = ours.clone();
    take(&mut both.fibre, &theirs.fibre);
    take(&mut both.weave, &theirs.weave);
    take(&mut both.gsm, &theirs.gsm);
    take(&mut both.dry_g, &theirs.dry_g);
    take(&mut both.width_cm, &theirs.width_cm);
    take(&mut both.length_cm, &theirs.length_cm);
    take(&mut both.status, &theirs.status);
    take(&mut both.price, &theirs.price);
    take(&mut both.remarks, &theirs.remarks);
    for round in &theirs.rounds {
        match both
            .rounds
            .iter_mut()
            .find(|known| known.round == round.round)
        {
            Some(known) => join_round(known, round),
            None => both.rounds.push(round.clone()),
        }
    }
    both.rounds.sort_by_key(|round| round.round);
    both
}

fn join_round(ours: &mut Round, theirs: &Round) {
    take(&mut ours.bundle, &theirs.bundle);
    take(&mut ours.pot, &theirs.pot);
    take(&mut ours.made, &theirs.made);
    take(&mut ours.layer, &theirs.layer);
    if !theirs.soaks.is_empty() {
        ours.soaks.clone_from(&theirs.soaks);
    }
    if !theirs.plants.is_empty() {
        ours.plants.clone_from(&theirs.plants);
    }
    if let Some(heat) = &theirs.heat {
        let mut both = ours.heat.take().unwrap_or_default();
        take(&mut both.kind, &heat.kind);
        take(&mut both.low_c, &heat.low_c);
        take(&mut both.high_c, &heat.high_c);
        take(&mut both.minutes, &heat.minutes);
        ours.heat = (both != Default::default()).then_some(both);
    }
    ours.settings.extend(theirs.settings.clone());
}

/// Our photo with what their file says about it, readings aside.
fn described(ours: &Photo, theirs: &Photo) -> Photo {
    let mut both = ours.clone();
    take(&mut both.file, &theirs.file);
    take(&mut both.taken, &theirs.taken);
    take(&mut both.piece, &theirs.piece);
    take(&mut both.state, &theirs.state);
    take(&mut both.washes, &theirs.washes);
    both.keep_possible_washes();
    take(&mut both.width, &theirs.width);
    take(&mut both.height, &theirs.height);
    take(&mut both.print, &theirs.print);
    take(&mut both.told.chart, &theirs.told.chart);
    take(&mut both.told.corners, &theirs.told.corners);
    take(&mut both.told.outline, &theirs.told.outline);
    take(&mut both.exposure.camera, &theirs.exposure.camera);
    take(&mut both.exposure.seconds, &theirs.exposure.seconds);
    take(&mut both.exposure.f_number, &theirs.exposure.f_number);
    take(&mut both.exposure.iso, &theirs.exposure.iso);
    take(&mut both.exposure.flash, &theirs.exposure.flash);
    both
}

fn take<T: Clone>(ours: &mut Option<T>, theirs: &Option<T>) {
    if theirs.is_some() {
        ours.clone_from(theirs);
    }
}
