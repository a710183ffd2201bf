//! Which pieces a batch of notes is of.

use crate::error::Result;
use crate::journal::Journal;
use crate::journal::record::{Photo, Piece};
use crate::reading::State;

/// The pieces that were photographed dry or washed, by code; of one bundle alone where it is named, in whatever capitals.
///
/// # Errors
/// A journal that cannot be read.
pub fn ready(journal: &Journal, bundle: Option<&str>) -> Result<Vec<Piece>> {
    let mut ready = Vec::new();
    for piece in journal.pieces()? {
        let is_of = bundle.is_none_or(|name| rolled(&piece, name));
        if is_of && is_ready(journal, &piece)? {
            ready.push(piece);
        }
    }
    Ok(ready)
}

/// Whether the piece was photographed dry or washed, so that a note can tell of it.
///
/// # Errors
/// A journal that cannot be read.
pub fn is_ready(journal: &Journal, piece: &Piece) -> Result<bool> {
    let photos = journal.photos_of(&piece.code)?;
    let tells = |photo: &Photo| {
        let passing = matches!(photo.state, Some(State::Wet | State::Worn));
        !passing && !photo.reading.swatches.is_empty()
    };
    Ok(photos.iter().any(tells))
}

/// Whether the piece was ever in the bundle of this name, in whatever capitals.
pub fn rolled(piece: &Piece, bundle: &str) -> bool {
    let bundle = bundle.to_lowercase();
    let names = piece.rounds.iter().filter_map(|it| it.bundle.as_deref());
    names.into_iter().any(|name| name.to_lowercase() == bundle)
}
