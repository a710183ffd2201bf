use super::cautions::{Both, join, of_photos};
use super::doubt::NINETY_FIVE;
use super::matching::Match;
use super::pair::{Alone, Pair, Range};
use super::round::{WetAndDry, by_piece};
use super::shown::{Shown, files};
use crate::error::Caution;
use crate::stats::{Fit, Pieces};
use serde::Serialize;
use std::collections::HashMap;

/// How much lighter one piece dried, and how else its colours changed.
#[derive(Clone, Debug, Default, Serialize)]
pub struct Drying {
    /// Code of the piece.
    pub piece: String,
    /// File of the wet photo, the newest of several.
    pub wet: Option<String>,
    /// File of the dry photo, the newest of several.
    pub dry: Option<String>,
    /// Files of all wet photos that count, oldest first.
    pub wet_photos: Vec<String>,
    /// Files of all dry photos that count, oldest first.
    pub dry_photos: Vec<String>,
    /// Area-weighted L\* dry less wet; above 0 it dried lighter. `None` without both, or where it was not measured.
    pub lightening: Option<f64>,
    /// Lower end of its 95 % interval, from the readings' doubt; `None` where a doubt is not known.
    pub low: Option<f64>,
    /// Upper end of its 95 % interval.
    pub high: Option<f64>,
    /// C\* dry less wet, the mean of matched colours by area.
    pub chroma: Option<Range>,
    /// The turn of hue in degrees, above 0 from red towards yellow, the mean of matched colours by area and chroma; `None` for
    /// cloth that is nearly grey.
    pub hue: Option<Range>,
    /// CIEDE2000 between wet and dry, the mean of matched colours by area.
    pub de00: Option<Range>,
    /// Which wet colour became which dry one, largest share first.
    pub matched: Vec<Match>,
    /// Colours without a partner that cover 2 % or more.
    pub alone: Vec<Alone>,
    /// What the reader must know.
    pub cautions: Vec<Caution>,
    /// The pot (or bundle) it was in.
    #[serde(skip)]
    pub trial: Option<String>,
    /// Whether its photos were sooner mixed up than right: a dry one is older than the wet ones, or it dried darker by more than 3 L\*.
    #[serde(skip)]
    pub mixed_up: bool,
}

/// How much lighter pieces dry as a rule.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Lightening {
    /// How many pieces were measured both wet and dry.
    pub pieces: usize,
    /// Their mean, L\*, weighed by how far pots, pieces and readings scatter.
    pub mean: Option<f64>,
    /// Lower end of its 95 % interval, with pots as the independent units; `None` where one pot alone tells.
    pub low: Option<f64>,
    /// Upper end of its 95 % interval.
    pub high: Option<f64>,
    /// In how many pots (or bundles) those pieces were, as far as that is known.
    pub pots: usize,
    /// How many of them were in no known pot; each counts as a pot of its own.
    pub without_pot: usize,
}

impl Lightening {
    /// The mean as a sentence; `None` where nothing was measured.
    pub fn in_words(&self) -> Option<String> {
        let mean = self.mean?;
        let few = match self.pieces {
            1 => Some("Only one of these pieces was measured"),
            2 => Some("Only two of these pieces were measured"),
            _ => None,
        };
        if let Some(few) = few {
            return Some(format!(
                "{few} both wet and dry; an average is told from three on."
            ));
        }
        let (way, sign) = if mean < 0.0 {
            ("darker", -1.0)
        } else {
            ("lighter", 1.0)
        };
        let sure = match self.low.zip(self.high) {
            Some((low, high)) => {
                let (one, other) = (sign * low, sign * high);
                let rests = match self.without_pot {
                    0 => "as far as these pots tell",
                    _ => {
                        "if every piece of no known pot is taken as a pot of its own, which may promise too much"
                    }
                };
                format!(
                    "; the mean lies between {:.1} and {:.1}, {rests}",
                    one.min(other),
                    one.max(other)
                )
            }
            None if self.pots == 1 && self.without_pot == 0 => {
                "; all were in one pot, which cannot tell how far pots differ".to_owned()
            }
            None => String::new(),
        };
        Some(format!(
            "On average {} pieces dried {:.1} L* {way}{sure}.",
            self.pieces,
            mean.abs()
        ))
    }
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
/// Of each piece the last round that was seen both wet and dry counts. Several wet (or dry) photos are averaged, which narrows the
/// doubt as far as they agree; a photo whose light was guessed is passed over where there is a better one, and two guessed lights
/// measure no lightening. No mean rests on a piece whose photos were sooner mixed up than right.
pub fn drying(photos: &[Shown]) -> DryingReport {
    let pieces: Vec<Drying> = by_piece(photos)
        .iter()
        .map(|(code, shown)| of_piece(code, shown))
        .collect();
    let all = together(&pieces);
    DryingReport { pieces, all }
}

/// The mean of all pieces by the same model as a question's: pieces in pots, one column of ones.
fn together(pieces: &[Drying]) -> Lightening {
    let mut pots: HashMap<(bool, &str), usize> = HashMap::new();
    let (mut y, mut pot, mut known) = (Vec::new(), Vec::new(), Vec::new());
    let mut without_pot = 0;
    for piece in pieces {
        let Some(lightening) = piece.lightening.filter(|_| !piece.mixed_up) else {
            continue;
        };
        let trial = piece.trial.as_deref();
        // A piece of no known pot is a trial of its own, and no pot's name may fall together with a piece's.
        let key = (trial.is_some(), trial.unwrap_or(&piece.piece));
        without_pot += usize::from(trial.is_none());
        let next = pots.len();
        pot.push(*pots.entry(key).or_insert(next));
        y.push(lightening);
        let reach = piece.high.map_or(0.0, |high| high - lightening);
        known.push((reach / NINETY_FIVE).powi(2));
    }
    let pieces = y.len();
    let fit = Fit::of(Pieces {
        x: vec![1.0; pieces],
        columns: 1,
        y,
        pot,
        known,
    });
    let contrast = fit.as_ref().and_then(|fit| fit.contrast(&[1.0]));
    Lightening {
        pieces,
        mean: fit.and_then(|fit| fit.value(&[1.0])),
        low: contrast.map(|c| c.low),
        high: contrast.map(|c| c.high),
        pots: pots.len() - without_pot,
        without_pot,
    }
}

/// `shown`: wet and dry photos of one piece, at least one.
fn of_piece(code: &str, shown: &[&Shown]) -> Drying {
    let seen = WetAndDry::of(shown);
    let photos = || seen.wet.iter().chain(&seen.dry).copied();
    let (wet_photos, dry_photos) = (files(&seen.wet), files(&seen.dry));
    let mut found = Drying {
        piece: code.to_owned(),
        wet: wet_photos.last().cloned(),
        dry: dry_photos.last().cloned(),
        wet_photos,
        dry_photos,
        cautions: of_photos(photos()),
        trial: photos().next().and_then(|s| s.settings.trial.clone()),
        ..Drying::default()
    };
    match seen.pair() {
        None => found.cautions.push(missing(seen.wet.is_empty())),
        Some(pair) => {
            let both = seen.both();
            found.measure(&pair, &both);
            found.mixed_up = seen.is_mixed_up(&pair);
            join(&mut found.cautions, both.cautions(&pair, seen.twice));
        }
    }
    found
}

impl Drying {
    fn measure(&mut self, pair: &Pair, both: &Both) {
        self.matched = pair.matched();
        self.alone = pair.alone();
        if !both.tell(pair) {
            return;
        }
        let lightening = pair.lightening();
        self.lightening = Some(lightening.value);
        (self.low, self.high) = (lightening.low, lightening.high);
        (self.chroma, self.hue, self.de00) = (pair.chroma(), pair.hue(), pair.de00());
        if lightening.value < 0.0 {
            self.cautions.push(Caution::new(
                "dried-darker",
                "By these photos the piece dried darker, which is unusual: look whether the wet and the dry photo are mixed up, or whether one of them was badly lit.",
            ));
        }
    }
}

fn missing(wet: bool) -> Caution {
    match wet {
        false => Caution::new(
            "no-dry-photo",
            "There is no dry photo of this piece yet, unwashed and of the same round as the wet one: take one when it has dried.",
        ),
        true => Caution::new(
            "no-wet-photo",
            "There is no wet photo of this piece to compare with: photograph the next ones wet as well, drained and with the leaves off.",
        ),
    }
}
