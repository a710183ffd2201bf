//! What a wet piece will look like dry, from the journal's records.

use crate::change::{Experience, Foreseen, Pair, Settings, Wish, matching};
use crate::colour::{Lab, triple};
use crate::error::{Caution, Error, Result};
use crate::journal::record::{Photo, Piece, Round};
use crate::reading::{Basis, Reading, State, TAKEN_AS_DRY};
use serde::Serialize;
use std::collections::HashMap;

/// What is foreseen of a photo; its serde form is `foresee --json`.
#[derive(Clone, Debug, Serialize)]
pub struct Outlook {
    /// The photo's file.
    pub photo: Option<String>,
    /// The piece it shows, where that is known.
    pub piece: Option<String>,
    /// `physics`, or `journal` where pieces that were seen wet and dry have a say.
    pub basis: &'static str,
    /// How many such pieces.
    pub pairs: usize,
    /// The mean error of such forecasts in this journal, each piece foreseen from all others, CIEDE2000; `None` without pairs.
    pub off: Option<f64>,
    /// The colours, largest share first.
    pub swatches: Vec<Foreseen>,
    /// The chance that it comes near to what is wished for, where something is.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub toward: Option<Chance>,
    /// What the reader must know.
    pub cautions: Vec<Caution>,
}

/// The chance that the dry piece comes near to what is wished for.
#[derive(Clone, Debug, Serialize)]
pub struct Chance {
    /// The piece it is to look like.
    pub piece: Option<String>,
    /// Or the colour one of its colours is to be, CIELAB.
    #[serde(with = "perhaps")]
    pub lab: Option<Lab>,
    /// How near counts, CIEDE2000.
    pub within: f64,
    /// 0 to 1.
    pub chance: f64,
}

/// What a dry piece is wished to look like.
#[derive(Clone, Debug, PartialEq)]
pub enum Toward {
    /// As this piece of the journal did, dry.
    Piece(String),
    /// It is to have this colour.
    Colour(Lab),
}

/// What is aimed at, and how near counts.
#[derive(Clone, Debug, PartialEq)]
pub struct Aim {
    /// Towards what.
    pub toward: Toward,
    /// How near counts, CIEDE2000, above 0.
    pub within: f64,
}

/// What the wet piece in `photo` will look like dry, learnt from all other pieces that were photographed both ways.
///
/// # Errors
/// `Caller` where the photo shows no wet piece, or what is aimed at has no dry photo.
pub fn foresee(
    pieces: &[Piece],
    photos: &[Photo],
    photo: &Photo,
    aim: Option<&Aim>,
) -> Result<Outlook> {
    is_wet(photo)?;
    let records = Records::of(pieces, photos);
    let own = photo.piece.as_deref();
    let (pairs, odd) = records.pairs(own);
    let experience = Experience::of(&pairs);
    let piece = own.and_then(|code| records.piece(code));
    let settings = piece.map_or_else(Settings::default, |piece| settings(piece, photo));
    let ahead = experience.ahead(&photo.reading, &settings);
    let ahead = ahead.ok_or_else(|| no_cloth(photo))?;
    let toward = match aim {
        Some(aim) => {
            let chance = ahead.chance(&records.wish(&aim.toward)?, aim.within);
            Some(Chance::of(aim, chance))
        }
        None => None,
    };
    let known = settings != Settings::default();
    let seen_dry = own.is_some_and(|code| records.is_dry(code, photo));
    Ok(Outlook {
        photo: photo.file.clone(),
        piece: photo.piece.clone(),
        basis: if experience.pairs() > 0 {
            "journal"
        } else {
            "physics"
        },
        pairs: experience.pairs(),
        off: experience.off(),
        swatches: ahead.colours(),
        toward,
        cautions: cautions(photo, experience.pairs(), known, seen_dry, &odd),
    })
}

impl Outlook {
    /// Whether another round is worth thinking about, in a sentence or two, and what it rests on.
    pub fn in_words(&self) -> (String, String) {
        let piece = self.piece.as_deref().unwrap_or("The piece");
        let lighter: f64 = self
            .swatches
            .iter()
            .map(|s| s.share * (s.dry.l - s.wet.l))
            .sum();
        let way = if lighter < 0.0 { "darker" } else { "lighter" };
        let mut told = format!("{piece} will dry about {:.0} L* {way}.", lighter.abs());
        if let Some(aim) = &self.toward {
            told.push_str(&format!(" {}", aim.in_words()));
        }
        let rests = match (self.pairs, self.off) {
            (1, Some(off)) => format!("From what water does to cloth and one piece seen wet and dry; water alone was off by {off:.1} CIEDE2000 there."),
            (pairs, Some(off)) => format!("From what water does to cloth and {pairs} pieces seen wet and dry; each foreseen from the others was off by {off:.1} CIEDE2000 on average."),
            _ => "From what water does to cloth alone: no other piece has been seen both wet and dry.".to_owned(),
        };
        (
            told,
            format!(
                "{rests} Of twenty dry photos nineteen should show each number within its range."
            ),
        )
    }
}

impl Chance {
    /// The chance as a sentence.
    fn in_words(&self) -> String {
        let near = format!("within {} CIEDE2000", self.within);
        let hundred = match 100.0 * self.chance {
            least if least < 1.0 => "less than 1".to_owned(),
            most if most > 99.0 => "more than 99".to_owned(),
            chance => format!("about {chance:.0}"),
        };
        let aim = match (&self.piece, self.lab) {
            (Some(code), _) => format!("it comes {near} of {code} as that dried"),
            (None, Some(lab)) => format!(
                "it has a colour {near} of {:.0},{:.0},{:.0}",
                lab.l, lab.a, lab.b
            ),
            (None, None) => format!("it comes {near}"),
        };
        format!("The chance that {aim}: {hundred} in a hundred.")
    }

    fn of(aim: &Aim, chance: f64) -> Self {
        let (piece, lab) = match &aim.toward {
            Toward::Piece(code) => (Some(code.clone()), None),
            Toward::Colour(lab) => (None, Some(*lab)),
        };
        Self {
            piece,
            lab,
            within: aim.within,
            chance,
        }
    }
}

/// A number without its decimals, and without a minus where nothing is left of it.
pub fn whole(number: f64) -> f64 {
    number.round() + 0.0
}

/// Refuses a photo that shows its piece as anything but wet; where nothing said what it shows, whoever asks says it.
fn is_wet(photo: &Photo) -> Result<()> {
    if photo.state == Some(State::Wet) || photo.reading.has_caution(TAKEN_AS_DRY) {
        return Ok(());
    }
    let name = name(photo);
    let state = photo.state.map_or("in no known state", State::word);
    Err(Error::caller(format!(
        "{name} shows its piece {state}, and only of a wet one it can be foreseen how it dries; if it is wet, say so with “filemot claim PHOTO PIECE --state wet”, or --state wet for a photo that is not in the journal."
    )))
}

fn no_cloth(photo: &Photo) -> Error {
    Error::caller(format!(
        "No piece was found in {}, so there is nothing to foresee: photograph it whole, with its tag, on a plain ground, or ingest the photo and give its outline with “filemot remeasure PHOTO --outline …”.",
        name(photo)
    ))
}

fn name(photo: &Photo) -> &str {
    photo.file.as_deref().unwrap_or("The photo")
}

/// The journal's pieces and their photos that have colours.
struct Records<'a> {
    pieces: &'a [Piece],
    by_piece: HashMap<&'a str, Vec<&'a Photo>>,
}

impl<'a> Records<'a> {
    fn of(pieces: &'a [Piece], photos: &'a [Photo]) -> Self {
        let mut by_piece: HashMap<&str, Vec<&Photo>> = HashMap::new();
        for photo in photos {
            let coloured = photo.reading.mean_lightness().is_some();
            if let Some(code) = photo.piece.as_deref().filter(|_| coloured) {
                by_piece.entry(code).or_default().push(photo);
            }
        }
        Self { pieces, by_piece }
    }

    fn piece(&self, code: &str) -> Option<&'a Piece> {
        self.pieces.iter().find(|piece| piece.code == code)
    }

    fn photos(&self, code: &str, state: State) -> impl Iterator<Item = &'a Photo> {
        let photos = self.by_piece.get(code).cloned().unwrap_or_default();
        photos
            .into_iter()
            .filter(move |photo| photo.state == Some(state))
    }

    /// The readings of a piece in a state after so many rounds.
    fn readings(&self, piece: &Piece, state: State, round: usize) -> Vec<&'a Reading> {
        self.photos(&piece.code, state)
            .filter(|photo| rounds(piece, photo) == round)
            .map(|photo| &photo.reading)
            .collect()
    }

    /// Every piece that was photographed wet and dry after the same round and of which drying can be measured, but for `own`, oldest
    /// first; and the codes of those left out because they dried much darker, which is a mix-up sooner than the truth.
    fn pairs(&self, own: Option<&str>) -> (Vec<Pair<'a>>, Vec<String>) {
        let mut found = Vec::new();
        let mut odd = Vec::new();
        for piece in self.pieces.iter().filter(|p| Some(p.code.as_str()) != own) {
            let Some(pair) = self.pair(piece).filter(tells_of_drying) else {
                continue;
            };
            let lightness = |side: &[&Reading]| {
                let each: Vec<f64> = side.iter().filter_map(|r| r.mean_lightness()).collect();
                crate::stats::mean(&each).unwrap_or_default()
            };
            if lightness(&pair.dry) < lightness(&pair.wet) - MIXED_UP {
                odd.push(piece.code.clone());
            } else {
                let made = piece.rounds.last().and_then(|round| round.made.clone());
                found.push((made, pair));
            }
        }
        found.sort_by(|one, other| one.0.cmp(&other.0));
        (found.into_iter().map(|(_, pair)| pair).collect(), odd)
    }

    /// The last round of a piece that was seen both ways.
    fn pair(&self, piece: &Piece) -> Option<Pair<'a>> {
        let wet = self.photos(&piece.code, State::Wet);
        let mut seen: Vec<(usize, &Photo)> = wet.map(|wet| (rounds(piece, wet), wet)).collect();
        seen.sort_by_key(|(round, _)| std::cmp::Reverse(*round));
        seen.into_iter().find_map(|(round, wet)| {
            let dry = self.readings(piece, State::Dry, round);
            (!dry.is_empty()).then(|| Pair {
                settings: settings(piece, wet),
                wet: self.readings(piece, State::Wet, round),
                dry,
            })
        })
    }

    /// Whether the piece has been photographed dry after the round that `photo` shows.
    fn is_dry(&self, code: &str, photo: &Photo) -> bool {
        let after = |piece| {
            !self
                .readings(piece, State::Dry, rounds(piece, photo))
                .is_empty()
        };
        self.piece(code).is_some_and(after)
    }

    fn wish(&self, toward: &Toward) -> Result<Wish> {
        let code = match toward {
            Toward::Colour(lab) => return Ok(Wish::Colour(*lab)),
            Toward::Piece(code) => code,
        };
        let piece = self.piece(code).ok_or_else(|| {
            Error::caller(format!(
                "There is no piece {code} in the journal; name one of those that “filemot show” lists, or a colour such as 62,14,38."
            ))
        })?;
        let last = self
            .photos(code, State::Dry)
            .map(|photo| rounds(piece, photo))
            .max();
        let dry = last.map_or_else(Vec::new, |last| self.readings(piece, State::Dry, last));
        let colours: Vec<(Lab, f64)> = dry
            .iter()
            .flat_map(|reading| reading.swatches.iter().map(|s| (s.lab, s.share)))
            .collect();
        if colours.is_empty() {
            return Err(Error::caller(format!(
                "There is no dry photo of {code} to aim at; ingest one, or name a colour such as 62,14,38."
            )));
        }
        Ok(Wish::Palette(colours))
    }
}

/// A piece that dried darker by more L\* than light and measuring explain was mixed up.
const MIXED_UP: f64 = 3.0;

/// Through how many rounds a piece had gone.
fn rounds(piece: &Piece, photo: &Photo) -> usize {
    piece.rounds_shown(photo.taken.as_deref()).len()
}

/// How the piece in a photo was made.
fn settings(piece: &Piece, photo: &Photo) -> Settings {
    let round = piece.rounds_shown(photo.taken.as_deref()).last();
    let cloth: Vec<&str> = [&piece.fibre, &piece.weave]
        .into_iter()
        .filter_map(|told| told.as_deref())
        .collect();
    let told = |text: String| Some(text).filter(|text| !text.is_empty());
    Settings {
        cloth: told(cloth.join(" ")),
        mordant: round.map(Round::mordant).and_then(told),
        trial: round.and_then(Round::trial).map(str::to_owned),
    }
}

fn cautions(
    photo: &Photo,
    pairs: usize,
    known: bool,
    seen_dry: bool,
    odd: &[String],
) -> Vec<Caution> {
    let own = photo.reading.cautions.iter();
    let mut cautions: Vec<Caution> = own.filter(|c| c.code != TAKEN_AS_DRY).cloned().collect();
    let mut say = |when: bool, code: &str, text: &str| {
        if when {
            cautions.push(Caution::new(code, text));
        }
    };
    say(
        photo.reading.has_caution(TAKEN_AS_DRY),
        "taken-as-wet",
        "Nothing says whether the piece is wet; since you ask how it will dry, it was taken as wet.",
    );
    say(
        photo.reading.basis() == Some(Basis::Assumed)
            && !photo.reading.has_caution("light-assumed"),
        "light-assumed",
        "The light of the photo was only assumed, so the bands are wide: hang the tag in the picture and ask again.",
    );
    say(
        pairs == 0,
        "physics-alone",
        "No other piece has been seen both wet and dry yet, so this rests on how a film of water darkens cloth in general. Thin cloth also turns translucent when wet, and colours change in the air after unrolling: of both it knows nothing. Photograph pieces wet and dry, and it learns from them.",
    );
    say(
        !known,
        "settings-unknown",
        "No sheet tells how this piece was made, so its cloth and mordant could not be used: enter its sheet, or claim the photo for its piece.",
    );
    say(
        seen_dry,
        "dry-already",
        "This piece has been photographed dry already; it was foreseen as if it had not, so that you can compare.",
    );
    if !odd.is_empty() {
        cautions.push(Caution::new(
            "pair-left-out",
            format!(
                "By their photos these pieces dried darker, so nothing was learnt from them: {}; look whether wet and dry are mixed up, and put it right with “filemot claim PHOTO PIECE --state STATE”.",
                odd.join(", ")
            ),
        ));
    }
    cautions
}

/// Serde form of a colour that may be missing.
mod perhaps {
    use super::{Lab, triple};
    use serde::{Serialize, Serializer};

    pub fn serialize<S: Serializer>(lab: &Option<Lab>, to: S) -> Result<S::Ok, S::Error> {
        #[derive(Serialize)]
        struct Told(#[serde(with = "triple")] Lab);
        lab.map(Told).serialize(to)
    }
}

/// Whether drying could be measured of a pair: not where both lights were guessed, where the same colours stand under both states
/// (one photo under two names), or where less than half of the cloth finds itself again.
fn tells_of_drying(pair: &Pair) -> bool {
    let guessed = |side: &[&Reading]| side.iter().all(|r| r.basis() == Some(Basis::Assumed));
    let colours = |side: &[&Reading]| -> Vec<(Lab, f64)> {
        let all = side.iter().flat_map(|reading| &reading.swatches);
        all.map(|swatch| (swatch.lab, swatch.share)).collect()
    };
    let (wet, dry) = (colours(&pair.wet), colours(&pair.dry));
    let of_wet: f64 = wet.iter().map(|c| c.1).sum();
    let sides = [(&wet, of_wet), (&dry, dry.iter().map(|c| c.1).sum())];
    let [wet_parts, dry_parts] = sides.map(|(side, whole): (&Vec<(Lab, f64)>, f64)| -> Vec<_> {
        side.iter()
            .map(|&(lab, share)| (lab, share / whole))
            .collect()
    });
    let found: f64 = matching(&wet_parts, &dry_parts)
        .moves
        .iter()
        .map(|m| m.2)
        .sum();
    wet != dry && found >= 0.5 && !(guessed(&pair.wet) && guessed(&pair.dry))
}
