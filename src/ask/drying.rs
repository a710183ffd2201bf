//! Drying, from the journal's records.

use crate::change::{self, DryingReport, Shown};
use crate::journal::record::{Photo, Piece, Round};
use std::collections::HashMap;

/// How much lighter each piece dried, and all of them, from the journal's records.
pub fn drying(pieces: &[Piece], photos: &[Photo]) -> DryingReport {
    let mut by_piece: HashMap<&str, Vec<&Photo>> = HashMap::new();
    for photo in photos {
        if let Some(code) = photo
            .piece
            .as_deref()
            .filter(|_| photo.reading.mean_lightness().is_some())
        {
            by_piece.entry(code).or_default().push(photo);
        }
    }
    let shown = pieces.iter().flat_map(|piece| {
        let photos = by_piece.get(piece.code.as_str()).into_iter().flatten();
        photos.filter_map(|photo| shown(piece, photo))
    });
    change::drying(&shown.collect::<Vec<_>>())
}

/// A photo of `piece` as drying looks at it; `None` where its state is not known.
fn shown<'a>(piece: &'a Piece, photo: &'a Photo) -> Option<Shown<'a>> {
    let rounds = piece.rounds_shown(photo.taken.as_deref());
    Some(Shown {
        piece: &piece.code,
        file: photo.file.as_deref(),
        state: photo.state?,
        round: rounds.len(),
        trial: rounds.last().and_then(Round::trial),
        reading: &photo.reading,
    })
}
