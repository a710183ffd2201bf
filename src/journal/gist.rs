//! What questions look at: every piece with its rounds, and of the claimed photos just what was measured, read quickly.
//!
//! A journal of many years holds more than memory should: words that repeat are held once, and of photos only those in the
//! states that are asked for are read.

mod glances;
mod interned;
mod pieces;

use super::Journal;
use super::record::{Heat, StrengthUnit};
use crate::colour::Lab;
use crate::error::Result;
use crate::reading::{Basis, Part, State};
use pieces::{Beside, Pieces};
use std::collections::{BTreeMap, HashSet};
use std::ops::Range;
use std::sync::{Arc, OnceLock};

/// What questions look at, as it stood at one moment.
#[derive(Debug, Default)]
pub struct Gist {
    /// Every piece, by code.
    pub pieces: Vec<Piece>,
    /// The photos with colours of known pieces in the states that were asked for: piece by piece, in each in the order in which
    /// they came.
    pub photos: Vec<Glance>,
    /// One sentence for each code of a caution that a photo here carries: the one of the first photo.
    pub sentences: BTreeMap<Arc<str>, String>,
    /// The colours of all photos, one after another.
    colours: Vec<Colour>,
    /// Where each piece's photos begin; one more entry than there are pieces.
    begins: Vec<usize>,
    /// The plants of all pieces in lower case, once they were asked for.
    plants: OnceLock<HashSet<String>>,
}

/// One cloth with its rounds, as far as a question needs it; see [`super::record::Piece`].
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// Its short code.
    pub code: Arc<str>,
    /// What it is made of.
    pub fibre: Option<Arc<str>>,
    /// How it is woven.
    pub weave: Option<Arc<str>>,
    /// Mass of the cloth, g/m².
    pub gsm: Option<f64>,
    /// `kept`, `for sale`, `sold`, `spoiled`.
    pub status: Option<Arc<str>>,
    /// Its rounds, in order.
    pub rounds: Vec<Round>,
}

/// One passage of a piece through soaks, plants, bundle and pot; see [`super::record::Round`].
#[derive(Clone, Debug, PartialEq)]
pub struct Round {
    /// 1 for the first.
    pub round: u32,
    /// The roll it was in.
    pub bundle: Option<Arc<str>>,
    /// The heating it was in.
    pub pot: Option<Arc<str>>,
    /// Date, `YYYY-MM-DD`.
    pub made: Option<Arc<str>>,
    /// Place in the roll, 1 next to the stick.
    pub layer: Option<u32>,
    /// Baths in order.
    pub soaks: Vec<Soak>,
    /// Plants laid on it.
    pub plants: Vec<PlantUse>,
    /// How it was heated.
    pub heat: Option<Heat>,
    /// Every other setting, by name in order.
    pub settings: Vec<(Arc<str>, Setting)>,
}

/// One bath in a round; see [`super::record::Soak`].
#[derive(Clone, Debug, PartialEq)]
pub struct Soak {
    /// The salt or tannin, lower case.
    pub mordant: Arc<str>,
    /// How strong, in `unit`.
    pub strength: Option<f64>,
    /// What the strength is measured in.
    pub unit: Option<StrengthUnit>,
    /// Date, `YYYY-MM-DD`.
    pub on: Option<Arc<str>>,
    /// The bath's name, where the studio told.
    pub bath: Option<Arc<str>>,
}

/// A plant and how it was used; see [`super::record::PlantUse`].
#[derive(Clone, Debug, PartialEq)]
pub struct PlantUse {
    /// Its name, lower case.
    pub name: Arc<str>,
    /// How: `fresh`, `vein side down`.
    pub how: Arc<[Arc<str>]>,
}

/// A value of a setting: a number where it reads as one, else its text.
#[derive(Clone, Debug, PartialEq)]
pub enum Setting {
    /// A number, in the unit its name tells.
    Number(f64),
    /// Text as written.
    Text(Arc<str>),
}

/// A photo of a known piece, as far as a question needs it.
#[derive(Clone, Debug, PartialEq)]
pub struct Glance {
    /// Its number in the journal.
    pub id: i64,
    /// The piece it shows: a place in [`Gist::pieces`].
    pub piece: usize,
    /// What it shows the piece as.
    pub state: State,
    /// How often the piece had been washed.
    pub washes: Option<u32>,
    /// The day it was taken, `YYYY-MM-DD`, or whatever stands in place of one.
    pub taken: Option<Arc<str>>,
    /// Through how many of its rounds the piece had gone; see [`super::record::Piece::rounds_shown`].
    pub rounds: usize,
    /// What its light was known from.
    pub basis: Option<Basis>,
    /// Codes of the cautions about its reading; their sentences are in [`Gist::sentences`].
    pub cautions: Arc<[Arc<str>]>,
    colours: Range<usize>,
}

/// One dominant colour of a photo; see [`crate::reading::Swatch`].
#[derive(Clone, Debug, PartialEq)]
pub struct Colour {
    /// CIELAB, 2°, D65.
    pub lab: Lab,
    /// Its share of the cloth, 0 to 1; the shares of a photo sum to about 1.
    pub share: f64,
    /// One standard deviation's worth, CIEDE2000.
    pub doubt: Option<f64>,
    /// Ground or print, where the studio said so.
    pub part: Option<Part>,
    /// The plant that printed it, where the studio said so.
    pub plant: Option<Arc<str>>,
}

impl Gist {
    /// The colours of a photo of this gist, largest share first; at least one.
    pub fn colours(&self, photo: &Glance) -> &[Colour] {
        &self.colours[photo.colours.clone()]
    }

    /// Whether any piece was made with a plant of this lower-case name.
    pub fn has_plant(&self, name: &str) -> bool {
        let plants = self.plants.get_or_init(|| {
            let rounds = self.pieces.iter().flat_map(|piece| &piece.rounds);
            let names: HashSet<&str> = rounds
                .flat_map(|round| round.plants.iter().map(|plant| &*plant.name))
                .collect();
            names.into_iter().map(str::to_lowercase).collect()
        });
        plants.contains(name)
    }

    /// The photos here of the piece at this place in `pieces`, in the order in which they came.
    pub fn photos_of(&self, piece: usize) -> &[Glance] {
        &self.photos[self.begins[piece]..self.begins[piece + 1]]
    }
}

impl Round {
    /// The soaks in one line, as people write them: `tannin > alum`; empty where there were none.
    pub fn mordant(&self) -> String {
        let names: Vec<&str> = self.soaks.iter().map(|soak| &*soak.mordant).collect();
        names.join(" > ")
    }

    /// What counts as one independent trial: the pot, else the bundle, else nothing known.
    pub fn trial(&self) -> Option<&Arc<str>> {
        self.pot.as_ref().or(self.bundle.as_ref())
    }

    /// The setting of that name.
    pub fn setting(&self, name: &str) -> Option<&Setting> {
        let found = self.settings.iter().find(|(known, _)| **known == *name);
        found.map(|(_, setting)| setting)
    }
}

impl Journal {
    /// What questions look at: every piece, and the photos in `states`.
    pub fn gist(&self, states: &[State]) -> Result<Gist> {
        self.settled()?;
        let beside = |db: &_| Ok((Beside::read(db)?, glances::read(db, states)?));
        let (pieces, (parts, glances)) = self.views(Pieces::read, beside)?;
        Ok(glances.of(pieces.with(parts)))
    }
}

/// Pieces as a journal would read them, for tests of questions.
#[cfg(test)]
impl From<&super::record::Piece> for Piece {
    fn from(piece: &super::record::Piece) -> Self {
        let word = |word: &str| Arc::<str>::from(word);
        let told = |told: &Option<String>| told.as_deref().map(word);
        let round = |round: &super::record::Round| Round {
            round: round.round,
            bundle: told(&round.bundle),
            pot: told(&round.pot),
            made: told(&round.made),
            layer: round.layer,
            soaks: round
                .soaks
                .iter()
                .map(|soak| Soak {
                    mordant: word(&soak.mordant),
                    strength: soak.strength,
                    unit: soak.unit,
                    on: told(&soak.on),
                    bath: told(&soak.bath),
                })
                .collect(),
            plants: round
                .plants
                .iter()
                .map(|plant| PlantUse {
                    name: word(&plant.name),
                    how: plant.how.iter().map(|how| word(how)).collect(),
                })
                .collect(),
            heat: round.heat.clone(),
            settings: round
                .settings
                .iter()
                .map(|(name, setting)| match setting {
                    super::record::Setting::Number(number) => {
                        (word(name), Setting::Number(*number))
                    }
                    super::record::Setting::Text(text) => (word(name), Setting::Text(word(text))),
                })
                .collect(),
        };
        Self {
            code: word(&piece.code),
            fibre: told(&piece.fibre),
            weave: told(&piece.weave),
            gsm: piece.gsm,
            status: told(&piece.status),
            rounds: piece.rounds.iter().map(round).collect(),
        }
    }
}
