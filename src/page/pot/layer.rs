//! A layer of a bundle as it is typed.

use super::bundles::soak;
use crate::journal::record::{Piece, Round};
use crate::sheet;

/// A layer as it is typed.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Layer {
    /// What the journal has it as in this bundle: the round and the code, `1 LB007`. Empty where it is new.
    pub known: String,
    pub code: String,
    pub round: String,
    /// 1 is next to the stick.
    pub layer: String,
    pub mordant: String,
    pub plants: String,
    pub fibre: String,
    pub weave: String,
    pub width_cm: String,
    pub length_cm: String,
    pub gsm: String,
}

impl Layer {
    /// Its fields by name.
    pub(super) fn fields(&self) -> [(&'static str, &String); 11] {
        [
            ("code", &self.code),
            ("known", &self.known),
            ("round", &self.round),
            ("layer", &self.layer),
            ("mordant", &self.mordant),
            ("plants", &self.plants),
            ("fibre", &self.fibre),
            ("weave", &self.weave),
            ("width_cm", &self.width_cm),
            ("length_cm", &self.length_cm),
            ("gsm", &self.gsm),
        ]
    }

    /// One of them, to be written.
    pub(super) fn field(&mut self, name: &str) -> Option<&mut String> {
        Some(match name {
            "known" => &mut self.known,
            "code" => &mut self.code,
            "round" => &mut self.round,
            "layer" => &mut self.layer,
            "mordant" => &mut self.mordant,
            "plants" => &mut self.plants,
            "fibre" => &mut self.fibre,
            "weave" => &mut self.weave,
            "width_cm" => &mut self.width_cm,
            "length_cm" => &mut self.length_cm,
            "gsm" => &mut self.gsm,
            _ => return None,
        })
    }

    /// The layer that a round of a piece was.
    pub(super) fn of(piece: &Piece, round: &Round) -> Self {
        let text = |value: &Option<String>| value.clone().unwrap_or_default();
        Self {
            known: format!("{} {}", round.round, piece.code),
            code: piece.code.clone(),
            round: round.round.to_string(),
            layer: round
                .layer
                .map_or_else(String::new, |layer| layer.to_string()),
            mordant: sheet::print_mordant(&round.soaks),
            plants: sheet::print_plants(&round.plants),
            fibre: text(&piece.fibre),
            weave: text(&piece.weave),
            width_cm: number(piece.width_cm),
            length_cm: number(piece.length_cm),
            gsm: number(piece.gsm),
        }
    }

    /// The same cloth and settings, for another piece.
    pub(super) fn again(&self, code: String) -> Self {
        let soaks = sheet::mordant(&self.mordant);
        let again = |soaks: Vec<_>| soaks.iter().map(soak).collect::<Vec<_>>().join(" > ");
        Self {
            known: String::new(),
            code,
            round: "1".to_owned(),
            mordant: soaks.map_or_else(|_| self.mordant.clone(), again),
            ..self.clone()
        }
    }
}

impl Layer {
    /// The code and the round that the journal has it as; `None` where it is new.
    pub(super) fn was(&self) -> Option<(&str, u32)> {
        let (round, code) = self.known.split_once(' ')?;
        Some((code, round.parse().ok()?))
    }

    /// The code and the round that it is to be.
    pub(super) fn is(&self) -> (&str, u32) {
        (&self.code, self.round.parse().unwrap_or(1))
    }

    /// Whether it is what the journal has it as.
    pub(super) fn stays(&self) -> bool {
        self.was() == Some(self.is())
    }
}

/// A number as it is kept.
pub(super) fn number(value: Option<f64>) -> String {
    value.map_or_else(String::new, |value| value.to_string())
}

impl Layer {
    /// Its weight in g/m² where it is typed in momme, as silk is sold.
    pub(super) fn with_weight_in_grams(mut self) -> Self {
        let momme = ["momme", "mm"].iter().find_map(|unit| {
            let number = self.gsm.to_lowercase();
            let number = number.strip_suffix(unit)?.trim().replace(',', ".");
            number.parse::<f64>().ok()
        });
        if let Some(momme) = momme {
            self.gsm = format!("{:.2}", momme * sheet::GRAMS_PER_MOMME);
        }
        self
    }

    /// With what the journal knows of its cloth where nothing is typed, unless it is a layer that stays what it was.
    pub(super) fn with_cloth_of(&self, piece: Option<&Piece>) -> Self {
        let mut filled = self.clone();
        let Some(piece) = piece.filter(|_| !self.stays()) else {
            return filled;
        };
        let cloth = Self::of(piece, &Round::default());
        for (field, kept) in [
            (&mut filled.fibre, cloth.fibre),
            (&mut filled.weave, cloth.weave),
            (&mut filled.width_cm, cloth.width_cm),
            (&mut filled.length_cm, cloth.length_cm),
            (&mut filled.gsm, cloth.gsm),
        ] {
            if field.is_empty() {
                *field = kept;
            }
        }
        filled
    }
}
