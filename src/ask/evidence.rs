//! From the journal to one value a piece.

use super::question::{Filter, Question};
use super::setting::mordant;
use super::terms::{Measure, Narrowing};
use crate::change::{Shown, drying};
use crate::colour::{Lab, warmth};
use crate::journal::record::{Photo, Piece, Round};
use crate::reading::{State, Swatch};
use crate::stats::weighted_mean;
use crate::words::family;
use std::collections::HashMap;

/// What the journal shows of one piece in the state that was asked for.
#[derive(Debug)]
pub struct Seen<'a> {
    /// The piece.
    pub piece: &'a Piece,
    /// The rounds it had gone through.
    pub rounds: &'a [Round],
    /// Its photos of that state after those rounds, all with colours; at least one.
    pub photos: Vec<&'a Photo>,
}

/// What counts as one independent trial.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Trial {
    /// The pot.
    Pot(String),
    /// The bundle, where no pot is known.
    Bundle(String),
    /// The piece by itself, where neither is known.
    Piece(String),
}

/// A piece's value of what was asked.
#[derive(Clone, Debug)]
pub struct Measured {
    /// In the measure's unit.
    pub value: f64,
    /// Share of the cloth that the value rests on, 0 to 1.
    pub share: f64,
    /// The colours it rests on.
    pub colours: Vec<Swatch>,
}

impl Trial {
    /// The trial of a piece after these rounds.
    pub fn of(piece: &Piece, rounds: &[Round]) -> Self {
        let last = rounds.last();
        let pot = last.and_then(|r| r.pot.clone()).map(Self::Pot);
        let bundle = || last.and_then(|r| r.bundle.clone()).map(Self::Bundle);
        pot.or_else(bundle)
            .unwrap_or_else(|| Self::Piece(piece.code.clone()))
    }

    /// Its name in the journal; `None` where it is only the piece itself.
    pub fn name(&self) -> Option<&str> {
        match self {
            Self::Pot(name) | Self::Bundle(name) => Some(name),
            Self::Piece(_) => None,
        }
    }
}

/// The photos of each piece by its code, those with colours.
pub fn by_piece(photos: &[Photo]) -> HashMap<&str, Vec<&Photo>> {
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
    by_piece
}

/// What `photos` show of `piece` in all of `states`, after as many rounds as they show; `None` where a state is missing.
///
/// Only photos after the same rounds count together: an earlier round's photo shows another result.
pub fn seen<'a>(piece: &'a Piece, photos: &[&'a Photo], states: &[State]) -> Option<Seen<'a>> {
    let rounds_of = |photo: &Photo| piece.rounds_shown(photo.taken.as_deref()).len();
    let with = |state: State, rounds: usize| {
        photos
            .iter()
            .any(|p| p.state == Some(state) && rounds_of(p) == rounds)
    };
    let rounds = photos
        .iter()
        .map(|photo| rounds_of(photo))
        .filter(|&rounds| states.iter().all(|&state| with(state, rounds)))
        .max()?;
    let counts = |photo: &&&Photo| {
        photo.state.is_some_and(|s| states.contains(&s)) && rounds_of(photo) == rounds
    };
    Some(Seen {
        piece,
        rounds: &piece.rounds[..rounds],
        photos: photos.iter().filter(counts).copied().collect(),
    })
}

/// The states that a question needs photos of.
pub fn states(question: &Question) -> &'static [State] {
    match (question.measure, question.state) {
        (Measure::Lightening, _) => &[State::Wet, State::Dry],
        (_, State::Wet) => &[State::Wet],
        (_, State::Dry) => &[State::Dry],
        (_, State::Washed) => &[State::Washed],
        (_, State::Worn) => &[State::Worn],
    }
}

/// Whether a piece after these rounds is what the filter asks for.
pub fn passes(filter: &Filter, piece: &Piece, rounds: &[Round]) -> bool {
    let named = |name: &str| name.to_lowercase() == filter.name;
    let used = || {
        let plant = |round: &Round| round.plants.iter().any(|p| named(&p.name));
        let soak = |round: &Round| round.soaks.iter().any(|s| named(&s.mordant));
        let sequence = |round: &Round| named(&round.mordant());
        rounds.iter().any(|r| plant(r) || soak(r) || sequence(r)) || named(&mordant(rounds))
    };
    match filter.narrowing {
        Narrowing::With => used(),
        Narrowing::Without => !used(),
        Narrowing::On => [&piece.fibre, &piece.weave]
            .into_iter()
            .flatten()
            .any(|n| named(n)),
    }
}

/// The piece's value; `None` where it has no colour of the family.
pub fn measure(seen: &Seen, question: &Question) -> Option<Measured> {
    let wanted = |lab: Lab| question.family.is_none_or(|f| family(lab) == f);
    let mut of_family = colours(seen, question.state);
    of_family.retain(|(swatch, _)| wanted(swatch.lab));
    of_family.sort_by(|a, b| b.1.total_cmp(&a.1));
    let share = of_family.iter().map(|c| c.1).sum::<f64>();
    let mean = |of: fn(Lab) -> f64| weighted_mean(of_family.iter().map(|c| (of(c.0.lab), c.1)));
    let value = match question.measure {
        Measure::Warmth => mean(warmth)?,
        Measure::Lightness => mean(|lab| lab.l)?,
        Measure::Chroma => mean(|lab| lab.a.hypot(lab.b))?,
        Measure::Share => share,
        Measure::Lightening => lightening(seen, wanted)?,
    };
    Some(Measured {
        value,
        share,
        colours: of_family
            .into_iter()
            .map(|(swatch, share)| Swatch {
                share,
                ..swatch.clone()
            })
            .collect(),
    })
}

/// The colours of all photos of `state`, each with its share of all of them, every photo counting the same.
fn colours<'a>(seen: &Seen<'a>, state: State) -> Vec<(&'a Swatch, f64)> {
    let photos = seen.photos.iter().filter(|p| p.state == Some(state));
    let many = photos.clone().count() as f64;
    let mut all = Vec::new();
    for photo in photos {
        let swatches = &photo.reading.swatches;
        let whole: f64 = swatches.iter().map(|s| s.share).sum();
        all.extend(swatches.iter().map(|s| (s, s.share / whole / many)));
    }
    all
}

/// L\* dry less wet of the cloth that is of the family when dry.
fn lightening(seen: &Seen, wanted: impl Fn(Lab) -> bool) -> Option<f64> {
    let shown: Vec<Shown> = seen
        .photos
        .iter()
        .filter_map(|p| shown(seen.piece, p))
        .collect();
    let report = drying(&shown);
    let matched = &report.pieces.first()?.matched;
    let of_family = matched.iter().filter(|m| wanted(m.dry));
    weighted_mean(of_family.map(|m| (m.dry.l - m.wet.l, m.share)))
}

/// A photo of `piece` as drying looks at it; `None` where its state is not known.
pub fn shown<'a>(piece: &'a Piece, photo: &'a Photo) -> Option<Shown<'a>> {
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
