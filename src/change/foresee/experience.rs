use super::departure::{Departure, Shown, Stray, shown};
use super::forecast::{Ahead, Number};
use super::shades::{self, Shade, mean};
use super::water::Drier;
use super::{Pair, Settings};
use crate::reading::Reading;
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

/// So many pairs, the newest, are learnt from; more add next to nothing and cost much.
const MOST: usize = 120;

/// What a journal's pairs of wet and dry photos teach.
pub struct Experience {
    drier: Drier,
    groups: HashMap<(usize, String), usize>,
    pieces: Vec<Learnt>,
    stray: Stray,
    seen: [Vec<Seen>; Departure::COUNT],
}

/// What is kept of a pair.
struct Learnt {
    wet: Vec<Shade>,
    dry: Vec<Shade>,
}

impl Experience {
    /// Learns from the last of `pairs`, which come oldest first; those without colours on either side are passed over.
    pub fn of(pairs: &[Pair<'_>]) -> Self {
        let drier = Drier::new();
        let colours = |pair: &Pair<'_>| Learnt {
            wet: shades::of(&pair.wet),
            dry: shades::of(&pair.dry),
        };
        let both = |(_, learnt): &(_, Learnt)| !learnt.wet.is_empty() && !learnt.dry.is_empty();
        let useful = pairs.iter().rev().map(|pair| (pair, colours(pair)));
        let (pairs, pieces): (Vec<_>, Vec<_>) = useful.filter(both).take(MOST).unzip();
        let shown: Vec<Shown> = pieces
            .iter()
            .map(|piece| shown(&dried(&drier, &piece.wet), &piece.dry))
            .collect();
        let mut groups = HashMap::new();
        let standings: Vec<Standing> = pairs
            .iter()
            .zip(&pieces)
            .map(|(pair, piece)| {
                let groups = named(&pair.settings).map(|name| {
                    let next = groups.len();
                    name.map(|name| *groups.entry(name).or_insert(next))
                });
                standing(groups, &piece.wet)
            })
            .collect();
        let seen = std::array::from_fn(|number| {
            let one = |(standing, shown): (&Standing, &Shown)| Seen {
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
            seen,
        }
    }

    /// On how many pieces it rests.
    pub fn pairs(&self) -> usize {
        self.pieces.len()
    }

    /// What the wet piece of a reading will look like dry; `None` where the reading has no colours.
    pub fn ahead(&self, wet: &Reading, settings: &Settings) -> Option<Ahead> {
        let wet = shades::of(&[wet]);
        let groups = named(settings).map(|name| self.groups.get(&name?).copied());
        let at = standing(groups, &wet);
        let numbers = self.levels().map(|levels| {
            let (mean, variance) = levels.expect(&at);
            Number { mean, variance }
        });
        let water = dried(&self.drier, &wet);
        (!wet.is_empty()).then(|| Ahead::of(&wet, &water, numbers, self.stray))
    }

    /// The mean CIEDE2000 by which such forecasts were off, each piece foreseen from all others; `None` without pairs.
    pub fn off(&self) -> Option<f64> {
        let left_out = self.levels().map(|levels| levels.left_out());
        let of_one = |(n, piece): (usize, &Learnt)| {
            let departure = Departure::from(std::array::from_fn(|number| left_out[number][n]));
            let water = dried(&self.drier, &piece.wet);
            let middle = mean(&water, |s| s.lab.l);
            let foreseen: Vec<Shade> = water
                .iter()
                .map(|shade| Shade {
                    lab: departure.of(shade.lab, middle),
                    ..*shade
                })
                .collect();
            shades::apart(&foreseen, &piece.dry)
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

/// A wet palette as water alone would let it dry.
fn dried(drier: &Drier, wet: &[Shade]) -> Vec<Shade> {
    let one = |shade: &Shade| Shade {
        lab: drier.dried(shade.lab),
        ..*shade
    };
    wet.iter().map(one).collect()
}
