use super::departure::{self, Departure, Stray};
use super::forecast::{Ahead, Number, expect};
use super::learning::{Learnt, learnt};
use super::shades::{self, Shade, mean, plain};
use super::water::Drier;
use crate::change::matching::apart;
use crate::change::shown::{Settings, Shown};
use crate::change::side::Side;
use crate::stats::{GROUPINGS, Levels, Prior, Seen, Standing};
use std::collections::HashMap;

/// What is held likely of each number of a departure before any piece was seen both wet and dry; chosen on our own seasons and tried
/// on others (see the docs, “Foreseeing”). The slope of lightness is per 10 L\* of the wet piece: a dark wet photo is likelier than
/// a light one to show a cloth that is very wet, since dry cloths are not all alike.
const PRIORS: [Prior; Departure::COUNT] = [
    prior(1.5, 3.4, -1.5, 0.5),
    prior(1.5, 1.0, 0.0, 0.0),
    prior(0.04, 0.04, 0.0, 0.0),
    prior(0.03, 0.03, 0.0, 0.0),
];

const fn prior(mean: f64, scatter: f64, slope: f64, slope_doubt: f64) -> Prior {
    Prior {
        mean,
        scatter,
        slope,
        slope_doubt,
    }
}

/// The mean L\* that a wet piece usually has.
const USUAL: f64 = 50.0;

/// What a journal's pairs of wet and dry photos teach.
pub struct Experience {
    drier: Drier,
    groups: HashMap<(usize, String), usize>,
    pieces: Vec<Learnt>,
    /// Codes of pieces that nothing was learnt from, since their photos were sooner mixed up than right.
    odd: Vec<String>,
    stray: Stray,
    seen: [Vec<Seen>; Departure::COUNT],
}

impl Experience {
    /// Learns from the newest pieces among these photos that were seen wet and dry and of which drying can be measured.
    pub fn of(photos: &[Shown]) -> Self {
        let drier = Drier::new();
        let (pieces, odd) = learnt(photos);
        let shown: Vec<departure::Shown> = pieces
            .iter()
            .map(|piece| departure::shown(&dried(&drier, &piece.wet), &piece.dry))
            .collect();
        let mut groups = HashMap::new();
        let standings: Vec<Standing> = pieces
            .iter()
            .map(|piece| {
                let groups = named(&piece.settings).map(|name| {
                    let next = groups.len();
                    name.map(|name| *groups.entry(name).or_insert(next))
                });
                standing(groups, &piece.wet)
            })
            .collect();
        let seen = std::array::from_fn(|number| {
            let one = |(standing, shown): (&Standing, &departure::Shown)| Seen {
                standing: standing.clone(),
                y: shown.departure.array()[number],
                known: shown.known[number],
            };
            standings.iter().zip(&shown).map(one).collect()
        });
        Self {
            stray: Stray::of(&shown),
            drier,
            groups,
            pieces,
            odd,
            seen,
        }
    }

    /// On how many pieces it rests.
    pub fn pairs(&self) -> usize {
        self.pieces.len()
    }

    /// Codes of the pieces that nothing was learnt from, since their photos were sooner mixed up than right.
    pub fn odd(&self) -> &[String] {
        &self.odd
    }

    /// What the piece of a wet photo will look like dry; `None` where the photo has no colours.
    pub fn ahead(&self, wet: &Shown) -> Option<Ahead> {
        let side = Side::of(&[wet]).filter(|side| !side.palette.is_empty())?;
        let shades = shades::of(&side);
        let groups = named(&wet.settings).map(|name| self.groups.get(&name?).copied());
        let at = standing(groups, &shades);
        let numbers = self.levels().map(|levels| {
            let (mean, variance) = levels.expect(&at);
            Number { mean, variance }
        });
        let water = dried(&self.drier, &shades);
        Some(Ahead::of(
            &shades,
            &water,
            numbers,
            self.stray,
            darkest(self.pieces.iter()),
        ))
    }

    /// The mean CIEDE2000 by which such forecasts were off, each piece foreseen from all others; `None` without pairs.
    pub fn off(&self) -> Option<f64> {
        let left_out = self.levels().map(|levels| levels.left_out());
        let of_one = |(n, piece): (usize, &Learnt)| {
            let departure = Departure::from(std::array::from_fn(|number| left_out[number][n]));
            let water = dried(&self.drier, &piece.wet);
            let others = self
                .pieces
                .iter()
                .enumerate()
                .filter(|(other, _)| *other != n);
            let darkest = darkest(others.map(|(_, piece)| piece));
            let (foreseen, _) = expect(&piece.wet, &water, departure, darkest);
            let photos = piece.dry_photos.iter();
            let far: Vec<f64> = photos.map(|p| apart(&plain(&foreseen), p)).collect();
            crate::stats::mean(&far).unwrap_or_default()
        };
        let each: Vec<f64> = self.pieces.iter().enumerate().map(of_one).collect();
        crate::stats::mean(&each)
    }

    fn levels(&self) -> [Levels<'_>; Departure::COUNT] {
        std::array::from_fn(|number| Levels::of(&self.seen[number], PRIORS[number]))
    }
}

/// The names of the groups that a piece belongs to, where they are known, each with its grouping.
fn named(settings: &Settings) -> [Option<(usize, String)>; GROUPINGS] {
    let names = [&settings.cloth, &settings.mordant, &settings.trial];
    std::array::from_fn(|grouping| names[grouping].clone().map(|name| (grouping, name)))
}

fn standing(groups: [Option<usize>; GROUPINGS], wet: &[Shade]) -> Standing {
    Standing {
        groups,
        x: (mean(wet, |s| s.lab.l) - USUAL) / 10.0,
    }
}

/// The most by which one of these pieces dried darker as a whole, L\*, 0 or below.
fn darkest<'a>(pieces: impl Iterator<Item = &'a Learnt>) -> f64 {
    let lighter = |piece: &Learnt| mean(&piece.dry, |s| s.lab.l) - mean(&piece.wet, |s| s.lab.l);
    pieces.map(lighter).fold(0.0, f64::min)
}

/// A wet palette as water alone would let it dry.
fn dried(drier: &Drier, wet: &[Shade]) -> Vec<Shade> {
    let one = |shade: &Shade| Shade {
        lab: drier.dried(shade.lab),
        ..*shade
    };
    wet.iter().map(one).collect()
}
