//! The names a journal holds: they belong to the question language only after `with`, `without` and `on`, so a plant called
//! smokebush or olive never stands in the way of a colour.

use super::terms::{Factor, Narrowing};
use crate::journal::record::Piece;
use std::collections::{BTreeMap, BTreeSet};

/// What questions about one journal may name.
#[derive(Debug, Default)]
pub struct Names {
    /// Plants, mordants and whole sequences of mordants, lower case.
    used: BTreeSet<String>,
    /// Fibres and weaves, lower case.
    cloths: BTreeSet<String>,
    /// The studio's own columns: as written in a question, and as in the journal.
    columns: BTreeMap<String, String>,
}

/// The longest name that is looked for, in words.
pub const LONGEST_NAME: usize = 8;

impl Names {
    /// All names in these pieces.
    pub fn of(pieces: &[Piece]) -> Self {
        let mut names = Self::default();
        for piece in pieces {
            let cloth = [&piece.fibre, &piece.weave];
            let cloth = cloth.into_iter().flatten().map(|n| n.to_lowercase());
            names.cloths.extend(cloth);
            for round in &piece.rounds {
                let plants = round.plants.iter().map(|plant| plant.name.to_lowercase());
                let soaks = round.soaks.iter().map(|soak| soak.mordant.to_lowercase());
                names.used.extend(plants.chain(soaks));
                names.used.insert(round.mordant().to_lowercase());
                for key in round.settings.keys() {
                    names.columns.insert(key.to_lowercase(), key.clone());
                    let spaced = key.to_lowercase().replace('_', " ");
                    // A column `washed_on` must not swallow the `on` of `washed on silk`.
                    if !spaced.ends_with(" on") {
                        names.columns.insert(spaced, key.clone());
                    }
                }
            }
        }
        names.used.remove("");
        names
    }

    /// The column of this name.
    pub fn column(&self, phrase: &str) -> Option<Factor> {
        self.columns.get(phrase).cloned().map(Factor::Column)
    }

    /// Whether `phrase` is a name that may follow this word.
    pub fn has(&self, narrowing: Narrowing, phrase: &str) -> bool {
        self.after(narrowing).contains(phrase)
    }

    /// The names that may follow this word.
    pub fn after(&self, narrowing: Narrowing) -> &BTreeSet<String> {
        match narrowing {
            Narrowing::With | Narrowing::Without => &self.used,
            Narrowing::On => &self.cloths,
        }
    }

    /// The names of columns as written in a question.
    pub fn columns(&self) -> impl Iterator<Item = &String> {
        self.columns.keys()
    }
}
