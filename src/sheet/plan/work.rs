//! The pieces of a plan, each with one round before it, and what is known and not known of their cloth.

use super::step::grams;
use crate::care;
use crate::journal::record::{Piece, PlantUse, Round, Setting, Soak};
use crate::sheet::unit::cloth_mass_g;
use std::collections::BTreeMap;

/// One round of one piece that is to be made.
#[derive(Clone, Debug)]
pub(super) struct Work {
    pub code: String,
    /// Dry weight, g.
    pub grams: Option<f64>,
    pub round: Round,
    /// Its baths, without what is no bath or must not be.
    pub soaks: Vec<Soak>,
    /// Whether the cloth was in iron in an earlier round.
    iron_before: bool,
}

impl Work {
    /// Whether the cloth holds iron once it is in its bath of that number, from 0.
    pub fn is_ironed_in(&self, soak: usize) -> bool {
        let in_bath = |soak: &Soak| care::is_iron(&soak.mordant);
        self.iron_before || self.soaks[..=soak].iter().any(in_bath)
    }

    /// Whether cloth or blanket bring iron into its roll.
    pub fn is_ironed(&self) -> bool {
        let bath = !self.soaks.is_empty() && self.is_ironed_in(self.soaks.len() - 1);
        bath || self.iron_before || self.text("blanket").is_some_and(|b| care::is_iron(&b))
    }

    /// A setting in words.
    pub fn text(&self, name: &str) -> Option<String> {
        match self.round.settings.get(name)? {
            Setting::Text(text) => Some(text.clone()),
            Setting::Number(number) => Some(number.to_string()),
        }
    }

    /// A setting that counts something, at most ten years of days.
    pub fn number(&self, name: &str) -> Option<f64> {
        match self.round.settings.get(name)? {
            Setting::Number(number) => Some(number.clamp(0.0, 3_650.0)),
            Setting::Text(_) => None,
        }
    }
}

/// A weighed cloth and its size times g/m² may differ by that part: edges, hems and a damp day count for less.
const WEIGHTS_AGREE: f64 = 0.25;

/// Every round of the pieces as work, and what is open about their cloth and baths. `known` are the pieces of the journal.
pub(super) fn works(known: &[Piece], intended: &[Piece]) -> (Vec<Work>, Vec<String>) {
    let mut found = Vec::new();
    let mut open = Vec::new();
    let mut unweighed = Vec::new();
    let mut barred = Barred::default();
    for piece in intended {
        open.extend(contradiction(piece));
        let grams = piece.dry_g.filter(|grams| *grams > 0.0);
        if grams.is_none() {
            unweighed.push(piece.code.as_str());
        }
        let before = known.iter().find(|other| other.code == piece.code);
        for round in &piece.rounds {
            let Some(round) = barred.without(&piece.code, round) else {
                continue;
            };
            let number = round.round;
            let earlier = before.iter().flat_map(|p| &p.rounds).chain(&piece.rounds);
            let mut soaked = earlier
                .filter(|other| other.round < number)
                .flat_map(|other| &other.soaks);
            found.push(Work {
                code: piece.code.clone(),
                grams,
                soaks: baths(&piece.code, &round, &mut open),
                round,
                iron_before: soaked.any(|soak| care::is_iron(&soak.mordant)),
            });
        }
        if piece.rounds.is_empty() {
            open.push(format!(
                "{}: nothing is written of how it is to be made, so it is not in the plan.",
                piece.code
            ));
        }
    }
    open.extend(barred.told());
    if !unweighed.is_empty() {
        open.push(format!(
            "{}: the dry weight is not known, so salt and water for it are not counted in: write dry_g, or width, length and \
             momme or gsm.",
            unweighed.join(", ")
        ));
    }
    (found, open)
}

/// Plants that must never be bundled, with the pieces on which they were to lie.
#[derive(Default)]
struct Barred<'a> {
    plants: BTreeMap<&'a str, Vec<&'a str>>,
    /// Pieces on which nothing else was to lie.
    bare: Vec<&'a str>,
}

impl<'a> Barred<'a> {
    /// The round without such plants; `None` where no other was to lie in it.
    fn without(&mut self, code: &'a str, round: &'a Round) -> Option<Round> {
        let (out, kept): (Vec<&PlantUse>, Vec<&PlantUse>) = round
            .plants
            .iter()
            .partition(|plant| care::is_barred_plant(&plant.name));
        for plant in &out {
            self.plants.entry(&plant.name).or_default().push(code);
        }
        if kept.is_empty() && !out.is_empty() {
            self.bare.push(code);
            return None;
        }
        Some(Round {
            plants: kept.into_iter().cloned().collect(),
            ..round.clone()
        })
    }

    fn told(&self) -> Vec<String> {
        let plant = |(plant, codes): (&&str, &Vec<&str>)| {
            format!(
                "{}: {plant} must never be bundled or heated and was left out of the plan; choose another plant.",
                codes.join(", ")
            )
        };
        let mut told: Vec<String> = self.plants.iter().map(plant).collect();
        if !self.bare.is_empty() {
            told.push(format!(
                "{}: no other plant was to lie there, so it is not in the plan.",
                self.bare.join(", ")
            ));
        }
        told
    }
}

fn contradiction(piece: &Piece) -> Option<String> {
    let weighed = piece.dry_g?;
    let (gsm, width, length) = (piece.gsm?, piece.width_cm?, piece.length_cm?);
    let computed = cloth_mass_g(gsm, width, length);
    ((weighed - computed).abs() > WEIGHTS_AGREE * computed).then(|| {
        format!(
            "{}: {} are written as its dry weight, and its size times g/m² comes to {}; the first was reckoned with, so weigh it \
             again or mend the size.",
            piece.code,
            grams(weighed),
            grams(computed)
        )
    })
}

fn baths(code: &str, round: &Round, open: &mut Vec<String>) -> Vec<Soak> {
    let mut baths = Vec::new();
    for soak in &round.soaks {
        if care::is_barred(&soak.mordant) {
            open.push(format!(
                "{code}: {} is not for a home studio and was left out of the plan; choose another mordant.",
                soak.mordant
            ));
        } else if !soak.mordant.is_empty() && !care::is_no_bath(&soak.mordant) {
            baths.push(soak.clone());
        }
    }
    baths
}
