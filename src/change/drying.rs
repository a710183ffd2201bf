use super::side::{Match, Side};
use crate::error::Caution;
use crate::reading::{Basis, Reading, State};
use crate::stats;
use serde::Serialize;
use std::collections::BTreeMap;

/// What a photo shows, as far as drying needs it.
#[derive(Clone, Copy, Debug)]
pub struct Shown<'a> {
    /// Code of the piece.
    pub piece: &'a str,
    /// The photo's file, where it has one.
    pub file: Option<&'a str>,
    /// What it shows the piece as.
    pub state: State,
    /// Through how many rounds the piece had gone; only photos of one round are compared.
    pub round: usize,
    /// The pot (or bundle) of that round; pieces of one trial are not independent.
    pub trial: Option<&'a str>,
    /// What was measured.
    pub reading: &'a Reading,
}

/// How much lighter one piece dried.
#[derive(Clone, Debug, Serialize)]
pub struct Drying {
    /// Code of the piece.
    pub piece: String,
    /// File of the wet photo; several are joined by `, `.
    pub wet: Option<String>,
    /// File of the dry photo; several are joined by `, `.
    pub dry: Option<String>,
    /// Area-weighted L\* dry less wet; above 0 it dried lighter. `None` without both.
    pub lightening: Option<f64>,
    /// Lower end of its 95 % interval, from the readings' doubt; `None` where a doubt is not known.
    pub low: Option<f64>,
    /// Upper end of its 95 % interval.
    pub high: Option<f64>,
    /// Which wet colour became which dry one, largest share first.
    pub matched: Vec<Match>,
    /// What the reader must know.
    pub cautions: Vec<Caution>,
    /// The pot (or bundle) it was in.
    #[serde(skip)]
    pub trial: Option<String>,
}

/// How much lighter pieces dry as a rule.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Lightening {
    /// How many pieces were seen both wet and dry.
    pub pieces: usize,
    /// Mean over pots of each pot's mean, L\*.
    pub mean: Option<f64>,
    /// Lower end of its 95 % interval, Student's t over pots; `None` with fewer than two.
    pub low: Option<f64>,
    /// Upper end of its 95 % interval.
    pub high: Option<f64>,
}

/// The pieces by code, and all together.
#[derive(Clone, Debug, Serialize)]
pub struct DryingReport {
    /// Every piece seen wet or dry, by code.
    pub pieces: Vec<Drying>,
    /// All together.
    pub all: Lightening,
}

/// How much lighter each piece dried, and all of them.
///
/// Of each piece the last round that was seen both wet and dry counts. Several wet (or dry) photos count with their mean.
/// Photos without colours are passed over; those whose light is `assumed` count and leave a caution. The interval of a piece
/// takes a photo's doubt as one error common to its colours (they share the light), alike in all directions of colour, the
/// same in every photo of a state and independent between wet and dry. That is wide rather than narrow: what both share
/// cancels in truth.
pub fn drying(photos: &[Shown]) -> DryingReport {
    let mut by_piece: BTreeMap<&str, Vec<Shown>> = BTreeMap::new();
    let useful = |shown: &&Shown| {
        matches!(shown.state, State::Wet | State::Dry) && shown.reading.mean_lightness().is_some()
    };
    for shown in photos.iter().filter(useful) {
        by_piece.entry(shown.piece).or_default().push(*shown);
    }
    let pieces: Vec<Drying> = by_piece
        .into_values()
        .map(|shown| of_piece(&shown))
        .collect();
    let all = together(&pieces);
    DryingReport { pieces, all }
}

fn together(pieces: &[Drying]) -> Lightening {
    let mut by_trial: BTreeMap<(bool, &str), Vec<f64>> = BTreeMap::new();
    let mut count = 0;
    for piece in pieces {
        let Some(lightening) = piece.lightening else {
            continue;
        };
        let trial = piece.trial.as_deref();
        // A piece of no known pot is a trial of its own, and no pot's name may fall together with a piece's.
        let key = (trial.is_some(), trial.unwrap_or(&piece.piece));
        by_trial.entry(key).or_default().push(lightening);
        count += 1;
    }
    let means: Vec<f64> = by_trial.values().filter_map(|v| stats::mean(v)).collect();
    let estimate = stats::estimate(&means);
    Lightening {
        pieces: count,
        mean: estimate.map(|e| e.mean),
        low: estimate.and_then(|e| e.interval).map(|i| i.0),
        high: estimate.and_then(|e| e.interval).map(|i| i.1),
    }
}

/// `shown`: wet and dry photos of one piece, at least one, all with colours.
fn of_piece(shown: &[Shown]) -> Drying {
    let round = round_seen_both(shown);
    let counts = |s: &&Shown| round.is_none_or(|r| s.round == r);
    let of = |state| -> Vec<&Shown> {
        let in_state = |s: &&Shown| s.state == state;
        shown.iter().filter(counts).filter(in_state).collect()
    };
    let (wet, dry) = (of(State::Wet), of(State::Dry));
    let side = |photos: &[&Shown]| Side::of(&photos.iter().map(|s| s.reading).collect::<Vec<_>>());
    let (wet_side, dry_side) = (side(&wet), side(&dry));
    let sides = wet_side.as_ref().zip(dry_side.as_ref());
    let lightening = sides.map(|(wet, dry)| dry.lightness - wet.lightness);
    let reach = sides.and_then(|(wet, dry)| Some(1.96 * wet.doubt?.hypot(dry.doubt?)));
    let mut cautions = cautions_of(wet.iter().chain(&dry).copied());
    cautions.extend(own_caution(wet_side.is_some(), lightening));
    let trial = shown.iter().find(counts).and_then(|s| s.trial);
    Drying {
        piece: shown[0].piece.to_owned(),
        wet: files(&wet),
        dry: files(&dry),
        lightening,
        low: lightening.zip(reach).map(|(l, r)| l - r),
        high: lightening.zip(reach).map(|(l, r)| l + r),
        matched: sides.map_or_else(Vec::new, |(wet, dry)| wet.matched(dry)),
        cautions,
        trial: trial.map(str::to_owned),
    }
}

fn own_caution(has_wet: bool, lightening: Option<f64>) -> Option<Caution> {
    let (code, text) = match lightening {
        Some(l) if l < 0.0 => (
            "dried-darker",
            "By these photos the piece dried darker, which is unusual: look whether the wet and the dry photo are mixed up, or whether one of them was badly lit.",
        ),
        Some(_) => return None,
        None if has_wet => (
            "no-dry-photo",
            "There is no dry photo of this piece yet, unwashed and of the same round as the wet one: take one when it has dried.",
        ),
        None => (
            "no-wet-photo",
            "There is no wet photo of this piece to compare with: photograph the next ones wet as well, drained and with the leaves off.",
        ),
    };
    Some(Caution::new(code, text))
}

fn round_seen_both(shown: &[Shown]) -> Option<usize> {
    let has = |round, state| shown.iter().any(|s| s.round == round && s.state == state);
    shown
        .iter()
        .map(|s| s.round)
        .filter(|&r| has(r, State::Wet) && has(r, State::Dry))
        .max()
}

fn files(photos: &[&Shown]) -> Option<String> {
    let names: Vec<&str> = photos.iter().filter_map(|p| p.file).collect();
    (!names.is_empty()).then(|| names.join(", "))
}

fn cautions_of<'a>(photos: impl Iterator<Item = &'a Shown<'a>>) -> Vec<Caution> {
    let mut cautions: Vec<Caution> = Vec::new();
    for photo in photos {
        let assumed = photo.reading.basis() == Some(Basis::Assumed);
        let own = (assumed && !photo.reading.has_caution("light-assumed")).then(|| {
            Caution::new("light-assumed", "The light of a photo was only assumed, so its lightness may be well off: hang the tag in the picture next time.")
        });
        for caution in photo.reading.cautions.iter().cloned().chain(own) {
            if cautions.iter().all(|c| c.code != caution.code) {
                cautions.push(caution);
            }
        }
    }
    cautions
}

#[cfg(test)]
mod tests;
