//! Drying and washing, from what the journal holds.

use crate::change::{self, Colour, DryingReport, Shown, WashingReport};
use crate::error::{Caution, Result};
use crate::journal::gist::{Gist, Glance, Piece, Setting};
use crate::journal::{Journal, Label};
use crate::reading::State;
use std::collections::HashMap;

/// How much lighter the pieces with these codes dried, and all of them together; all pieces where no code is named.
///
/// # Errors
/// A journal that cannot be read.
pub fn drying(journal: &Journal, codes: &[String]) -> Result<DryingReport> {
    let shown = shown(journal, codes, &[State::Wet, State::Dry])?;
    Ok(change::drying(&shown))
}

/// How far the pieces with these codes changed in washing; all pieces where no code is named.
///
/// # Errors
/// A journal that cannot be read.
pub fn washing(journal: &Journal, codes: &[String]) -> Result<WashingReport> {
    let states = [State::Dry, State::Washed, State::Worn];
    Ok(change::washing(&shown(journal, codes, &states)?))
}

fn shown(journal: &Journal, codes: &[String], states: &[State]) -> Result<Vec<Shown>> {
    let gist = journal.gist(states)?;
    let asked = |piece: &Piece| codes.is_empty() || codes.iter().any(|c| **c == *piece.code);
    let photos = gist.photos.iter();
    let photos: Vec<&Glance> = photos.filter(|p| asked(&gist.pieces[p.piece])).collect();
    let ids: Vec<i64> = photos.iter().map(|photo| photo.id).collect();
    let mut labels = journal.labels(&ids)?;
    let of = |photo: &&Glance| one(&gist, photo, &mut labels);
    Ok(photos.iter().map(of).collect())
}

fn one(gist: &Gist, photo: &Glance, labels: &mut HashMap<i64, Label>) -> Shown {
    let piece = &gist.pieces[photo.piece];
    let last = piece.rounds[..photo.rounds].last();
    let label = labels.remove(&photo.id).unwrap_or_default();
    let caution = |code: &std::sync::Arc<str>| {
        let text = gist.sentences.get(code)?;
        Some(Caution::new(code, text.clone()))
    };
    let colour = |colour: &crate::journal::gist::Colour| Colour {
        lab: colour.lab,
        share: colour.share,
        doubt: colour.doubt,
    };
    Shown {
        piece: piece.code.to_string(),
        file: label.file,
        state: photo.state,
        washes: photo.washes.or_else(|| in_sheet(piece, photo.state)),
        taken: label.taken,
        round: photo.rounds,
        trial: last.and_then(|round| round.trial()).map(|t| t.to_string()),
        basis: photo.basis,
        cautions: photo.cautions.iter().filter_map(caution).collect(),
        colours: gist.colours(photo).iter().map(colour).collect(),
    }
}

/// The column `washes` of the studio's sheet: how often the piece was washed, for photos of which nobody said it.
fn in_sheet(piece: &Piece, state: State) -> Option<u32> {
    let washed = matches!(state, State::Washed | State::Worn);
    match piece.rounds.last()?.setting("washes").filter(|_| washed)? {
        Setting::Number(number) if *number >= 1.0 && number.fract() == 0.0 => Some(*number as u32),
        _ => None,
    }
}
