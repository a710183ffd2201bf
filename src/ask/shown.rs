//! What photos of a journal show, as far as change needs it.

use crate::change::{Colour, Settings, Shown};
use crate::error::{Caution, Result};
use crate::journal::gist::{self, Gist, Glance, Piece, Setting};
use crate::journal::record::Photo;
use crate::journal::{Journal, Label};
use crate::reading::{State, WASHES};
use std::collections::HashMap;

/// The photos in `states` of the pieces with these codes; of all pieces where no code is named.
pub fn shown(journal: &Journal, codes: &[String], states: &[State]) -> Result<Vec<Shown>> {
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
    let colour = |colour: &gist::Colour| Colour {
        lab: colour.lab,
        share: colour.share,
        doubt: colour.doubt,
    };
    Shown {
        piece: piece.code.to_string(),
        file: label.file,
        state: photo.state,
        washes: (photo
            .washes
            .filter(|washes| photo.state.takes_washes(*washes)))
        .or_else(|| in_sheet(piece, photo.state)),
        taken: label.taken,
        round: photo.rounds,
        made: last.and_then(|round| Some(round.made.as_deref()?.to_owned())),
        settings: Settings {
            cloth: cloth(piece.fibre.as_deref(), piece.weave.as_deref()),
            mordant: last.and_then(|round| told(round.mordant())),
            trial: last.and_then(|round| round.trial()).map(|t| t.to_string()),
        },
        basis: photo.basis,
        cautions: photo.cautions.iter().filter_map(caution).collect(),
        colours: gist.colours(photo).iter().map(colour).collect(),
    }
}

/// What one photo shows, which need not be in the journal, taken as showing its piece in `state`.
pub fn of_photo(journal: Option<&Journal>, photo: &Photo, state: State) -> Result<Shown> {
    let code = photo.piece.clone().unwrap_or_default();
    let piece = match journal {
        Some(journal) => journal.piece(&code)?,
        None => None,
    };
    let rounds = (piece.as_ref()).map_or(&[][..], |p| p.rounds_shown(photo.taken.as_deref()));
    let last = rounds.last();
    let colour = |swatch: &crate::reading::Swatch| Colour {
        lab: swatch.lab,
        share: swatch.share,
        doubt: swatch.doubt,
    };
    Ok(Shown {
        piece: piece.as_ref().map_or(code, |piece| piece.code.clone()),
        file: photo.file.clone(),
        state,
        washes: photo.washes,
        taken: photo.taken.clone(),
        round: rounds.len(),
        made: last.and_then(|round| round.made.clone()),
        settings: Settings {
            cloth: (piece.as_ref()).and_then(|p| cloth(p.fibre.as_deref(), p.weave.as_deref())),
            mordant: last.and_then(|round| told(round.mordant())),
            trial: last.and_then(|round| round.trial()).map(str::to_owned),
        },
        basis: photo.reading.basis(),
        cautions: photo.reading.cautions.clone(),
        colours: photo.reading.swatches.iter().map(colour).collect(),
    })
}

fn cloth(fibre: Option<&str>, weave: Option<&str>) -> Option<String> {
    let both: Vec<&str> = [fibre, weave].into_iter().flatten().collect();
    told(both.join(" "))
}

fn told(text: String) -> Option<String> {
    Some(text).filter(|text| !text.is_empty())
}

/// The column `washes` of the studio's sheet: how often the piece was washed, for photos of which nobody said it.
fn in_sheet(piece: &Piece, state: State) -> Option<u32> {
    match (piece.rounds.last()?.setting("washes")).filter(|_| state.is_washed())? {
        Setting::Number(number) if number.fract() == 0.0 => {
            Some(*number as u32).filter(|washes| WASHES.contains(washes))
        }
        _ => None,
    }
}
