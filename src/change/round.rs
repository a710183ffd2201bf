//! Which photos of a piece are compared, wet with dry: one way for what was measured and for what is learnt from it.

use super::cautions::Both;
use super::pair::Pair;
use super::shown::{Shown, counting};
use crate::reading::State;
use std::collections::BTreeMap;

/// A piece that dried darker by more L\* than light and measuring explain was mixed up.
const MIXED_UP: f64 = 3.0;

/// The photos of one piece after one round, of which each counts.
#[derive(Debug)]
pub struct WetAndDry<'a> {
    pub wet: Vec<&'a Shown>,
    pub dry: Vec<&'a Shown>,
    /// Whether one was left out since it shows exactly the same colours as another.
    pub twice: bool,
}

/// Each piece's wet and dry photos, by code.
pub fn by_piece(photos: &[Shown]) -> BTreeMap<&str, Vec<&Shown>> {
    let mut pieces: BTreeMap<&str, Vec<&Shown>> = BTreeMap::new();
    let useful = |shown: &&Shown| matches!(shown.state, State::Wet | State::Dry);
    for shown in photos.iter().filter(useful) {
        pieces.entry(&shown.piece).or_default().push(shown);
    }
    pieces
}

impl<'a> WetAndDry<'a> {
    /// Of the photos of one piece those of the last round that was seen both ways, or where none was, all of them.
    pub fn of(shown: &[&'a Shown]) -> Self {
        let has = |round, state| shown.iter().any(|s| s.round == round && s.state == state);
        let rounds = shown.iter().map(|s| s.round);
        let round = rounds
            .filter(|&r| has(r, State::Wet) && has(r, State::Dry))
            .max();
        let of = |state| {
            let counts = |s: &&&Shown| s.state == state && round.is_none_or(|r| s.round == r);
            counting(shown.iter().filter(counts).copied())
        };
        let ((wet, wet_twice), (dry, dry_twice)) = (of(State::Wet), of(State::Dry));
        Self {
            wet,
            dry,
            twice: wet_twice || dry_twice,
        }
    }

    /// Both sides and what to call them.
    pub fn both(&self) -> Both<'_> {
        Both {
            before: &self.wet,
            after: &self.dry,
            words: ["wet", "dry"],
        }
    }

    /// Its colours matched, where it was seen both ways.
    pub fn pair(&self) -> Option<Pair> {
        Pair::of(&self.wet, &self.dry)
    }

    /// Whether `pair` was sooner mixed up than right: a dry photo is older than the wet ones, or the piece dried much darker. Such
    /// a piece is told of, and no mean and no forecast rests on it.
    pub fn is_mixed_up(&self, pair: &Pair) -> bool {
        self.both().is_out_of_order() || pair.lightening().value < -MIXED_UP
    }
}
