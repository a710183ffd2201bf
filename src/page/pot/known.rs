//! Which names of a journal are taken.

use super::bundles::Bundle;
use super::layer::Layer;
use crate::journal::record::{Piece, Round};
use std::collections::BTreeMap;

/// Which names are taken.
pub(super) struct Known<'a> {
    pub bundles: Vec<&'a str>,
    pub pots: Vec<&'a str>,
    /// The code after which new ones are counted on.
    pub last_code: Option<&'a str>,
    /// Pieces that went through no round yet, such as those that were photographed before anything of them was written down.
    pub waiting: Vec<&'a str>,
    pieces: BTreeMap<String, &'a Piece>,
}

/// The codes of pieces that went through no round yet.
pub(super) fn waiting(pieces: &[Piece]) -> impl Iterator<Item = &str> {
    let bare = pieces.iter().filter(|piece| piece.rounds.is_empty());
    bare.map(|piece| piece.code.as_str())
}

impl<'a> Known<'a> {
    pub(super) fn of(pieces: &'a [Piece], bundles: &[Bundle<'a>]) -> Self {
        let rounds = pieces.iter().flat_map(|piece| &piece.rounds);
        let newest = bundles.first();
        let last =
            newest.and_then(|bundle| bundle.layers.iter().map(|(piece, _)| &piece.code).max());
        Self {
            bundles: bundles.iter().map(|bundle| bundle.name).collect(),
            pots: rounds.filter_map(|round| round.pot.as_deref()).collect(),
            last_code: last
                .or(pieces.last().map(|piece| &piece.code))
                .map(String::as_str),
            waiting: waiting(pieces).collect(),
            pieces: pieces
                .iter()
                .map(|piece| (piece.code.to_lowercase(), piece))
                .collect(),
        }
    }

    /// The piece of that code, in whatever capitals.
    pub(super) fn piece(&self, code: &str) -> Option<&'a Piece> {
        self.pieces.get(&code.to_lowercase()).copied()
    }

    /// The round that the journal has this layer as.
    pub(super) fn round_of(&self, layer: &Layer) -> Option<&'a Round> {
        let (code, number) = layer.was()?;
        let mut rounds = self.piece(code)?.rounds.iter();
        rounds.find(|round| round.round == number)
    }

    /// Whether there is one.
    pub(super) fn has(&self, code: &str) -> bool {
        self.piece(code).is_some()
    }
}
