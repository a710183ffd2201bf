//! What a journal holds, as plain records; their serde form is the JSON of the contract.

mod bath;
mod issued;

pub use bath::{Bath, BathAge, BathEvent, BathWork, Soaked, bath_age, named};
pub use issued::{Issued, IssuedColour};

use crate::reading::{Reading, State};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// One cloth with its rounds.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Piece {
    /// Its short code: `LB007`. No colon, no white space at the ends.
    pub code: String,
    /// What it is made of: silk, wool, cotton.
    #[serde(default)]
    pub fibre: Option<String>,
    /// How it is woven: crepe de chine, habotai.
    #[serde(default)]
    pub weave: Option<String>,
    /// Mass of the cloth, g/m².
    #[serde(default)]
    pub gsm: Option<f64>,
    /// Dry mass of the piece, g: weighed, or computed from size and gsm.
    #[serde(default)]
    pub dry_g: Option<f64>,
    /// Width, cm.
    #[serde(default)]
    pub width_cm: Option<f64>,
    /// Length, cm.
    #[serde(default)]
    pub length_cm: Option<f64>,
    /// `kept`, `for sale`, `sold`, `spoiled`.
    #[serde(default)]
    pub status: Option<String>,
    /// Price, in the studio's money.
    #[serde(default)]
    pub price: Option<f64>,
    /// Anything the studio wrote.
    #[serde(default)]
    pub remarks: Option<String>,
    /// Its passages through soaks, plants, bundle and pot, in order of `round`.
    #[serde(default)]
    pub rounds: Vec<Round>,
}

/// How a piece stands in the studio: what can be said of it after it was made.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Standing {
    /// `kept`, `for sale`, `sold`, `spoiled`.
    pub status: Option<String>,
    /// Price, in the studio's money, 0 or more.
    pub price: Option<f64>,
    /// Anything the studio wrote.
    pub remarks: Option<String>,
}

/// One passage of a piece through soaks, plants, bundle and pot.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Round {
    /// 1 for the first.
    pub round: u32,
    /// The roll it was in.
    #[serde(default)]
    pub bundle: Option<String>,
    /// The heating it was in; pieces of one pot are not independent.
    #[serde(default)]
    pub pot: Option<String>,
    /// Date, `YYYY-MM-DD`.
    #[serde(default)]
    pub made: Option<String>,
    /// Place in the roll, 1 next to the stick.
    #[serde(default)]
    pub layer: Option<u32>,
    /// Baths in the order in which the cloth went through them.
    #[serde(default)]
    pub soaks: Vec<Soak>,
    /// Plants laid on it.
    #[serde(default)]
    pub plants: Vec<PlantUse>,
    /// How it was heated.
    #[serde(default)]
    pub heat: Option<Heat>,
    /// Every other setting by its own name (`cool_h`, `blanket`, the studio's own columns).
    #[serde(default)]
    pub settings: BTreeMap<String, Setting>,
}

/// One bath in a round.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Soak {
    /// The salt or tannin, lower case: `alum`; empty where only its strength or date is known.
    #[serde(default)]
    pub mordant: String,
    /// How strong, in `unit`.
    #[serde(default)]
    pub strength: Option<f64>,
    /// `% wof` (of the weight of fibre) or `g/L`.
    #[serde(default)]
    pub unit: Option<StrengthUnit>,
    /// Date, `YYYY-MM-DD`.
    #[serde(default)]
    pub on: Option<String>,
    /// The bath's name, where the studio told; see [`bath_age`].
    #[serde(default)]
    pub bath: Option<String>,
}

/// What a strength is measured in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum StrengthUnit {
    /// Per cent of the weight of fibre.
    #[serde(rename = "% wof")]
    PercentOfFibre,
    /// Grams a litre.
    #[serde(rename = "g/L")]
    GramsPerLitre,
}

/// A plant and how it was used.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct PlantUse {
    /// Its name, lower case; empty where only its use is known.
    #[serde(default)]
    pub name: String,
    /// How: `fresh`, `vein side down`.
    #[serde(default)]
    pub how: Vec<String>,
}

/// How a pot was heated.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Heat {
    /// `simmer` or `steam`.
    #[serde(default)]
    pub kind: Option<HeatKind>,
    /// Lowest temperature, °C.
    #[serde(default)]
    pub low_c: Option<f64>,
    /// Highest temperature, °C.
    #[serde(default)]
    pub high_c: Option<f64>,
    /// How long, minutes.
    #[serde(default)]
    pub minutes: Option<f64>,
}

impl Heat {
    /// Whether two accounts of one heating cannot both be true; what one leaves out it does not deny.
    pub fn contradicts(&self, other: &Self) -> bool {
        let differ =
            |one: Option<f64>, other: Option<f64>| one.zip(other).is_some_and(|(a, b)| a != b);
        let above = |low: Option<f64>, high: Option<f64>| low.zip(high).is_some_and(|(l, h)| l > h);
        self.kind.zip(other.kind).is_some_and(|(a, b)| a != b)
            || differ(self.low_c, other.low_c)
            || differ(self.high_c, other.high_c)
            || differ(self.minutes, other.minutes)
            || above(self.low_c, other.high_c)
            || above(other.low_c, self.high_c)
    }

    /// What both tell together; where they contradict each other, this one's word counts.
    pub fn or(&self, other: &Self) -> Self {
        Self {
            kind: self.kind.or(other.kind),
            low_c: self.low_c.or(other.low_c),
            high_c: self.high_c.or(other.high_c),
            minutes: self.minutes.or(other.minutes),
        }
    }
}

/// In water or over it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum HeatKind {
    /// In hot water below boiling.
    Simmer,
    /// In steam.
    Steam,
}

impl HeatKind {
    /// The word for it, lower case.
    pub fn word(self) -> &'static str {
        match self {
            Self::Simmer => "simmer",
            Self::Steam => "steam",
        }
    }
}

/// A value of a setting: a number where it reads as one, else its text.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(untagged, expecting = "neither a number nor text")]
pub enum Setting {
    /// A number, in the unit its name tells.
    Number(f64),
    /// Text as written.
    Text(String),
}

/// A photo with its current reading.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Photo {
    /// Its number in this journal; `None` before it is kept, and never in JSON.
    #[serde(skip)]
    pub id: Option<i64>,
    /// The file's name as ingested, never the kept copy's.
    #[serde(default)]
    pub file: Option<String>,
    /// BLAKE3 of its bytes, hexadecimal.
    #[serde(default)]
    pub hash: Option<String>,
    /// When it was taken, `YYYY-MM-DDTHH:MM:SS`, with an offset where the camera wrote one.
    #[serde(default)]
    pub taken: Option<String>,
    /// Code of the piece it shows; `None` while unclaimed.
    #[serde(default)]
    pub piece: Option<String>,
    /// What it shows the piece as.
    #[serde(default)]
    pub state: Option<State>,
    /// How often the piece had been washed.
    #[serde(default)]
    pub washes: Option<u32>,
    /// Pixels across, upright.
    #[serde(default)]
    pub width: Option<u32>,
    /// Pixels down, upright.
    #[serde(default)]
    pub height: Option<u32>,
    /// What it looks like: 64 bits as 16 hexadecimal digits, which photos of one view share but for a few.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub print: Option<String>,
    /// What the studio told about it for measuring.
    #[serde(default, skip_serializing_if = "Told::is_nothing")]
    pub told: Told,
    /// How it was exposed, as far as the camera wrote it.
    #[serde(default, skip_serializing_if = "Exposure::is_unknown")]
    pub exposure: Exposure,
    /// The reading that counts.
    #[serde(flatten)]
    pub reading: Reading,
    /// Readings by earlier methods, oldest first; nothing is thrown away.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub earlier: Vec<Reading>,
}

impl Photo {
    /// Takes back a number of washes that a piece in this state cannot have gone through.
    pub(super) fn keep_possible_washes(&mut self) {
        let takes = |washes: &u32| self.state.is_some_and(|state| state.takes_washes(*washes));
        self.washes = self.washes.filter(takes);
    }
}

/// What the studio told about a photo for measuring; it counts whenever the photo is measured.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Told {
    /// The chart in the picture, by its hash.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub chart: Option<String>,
    /// Where the chart is: the outer corners of its patches from A1 clockwise, pixels of the upright picture.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub corners: Option<[[f64; 2]; 4]>,
    /// Where the piece is: one polygon, pixels of the upright picture.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub outline: Option<Vec<[f64; 2]>>,
}

impl Told {
    /// Whether nothing was told.
    pub fn is_nothing(&self) -> bool {
        *self == Self::default()
    }
}

/// A chart's file.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct ChartFile {
    /// BLAKE3 of its text, hexadecimal.
    pub hash: String,
    /// The name of the file it came from.
    pub name: String,
    /// Its text, CGATS.17.
    pub text: String,
}

/// A chart glued beside a printed code that says `card:` and its name.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Card {
    /// Its name, by the rules of a piece's code.
    pub name: String,
    /// Its chart, by hash.
    pub chart: String,
    /// The outer corners of the chart's patches from A1 clockwise, in modules of the code, whose own top left corner is 0, 0 (see
    /// [`crate::tag::Sighting`]); `None` before they were seen.
    #[serde(default)]
    pub corners: Option<[[f64; 2]; 4]>,
}

/// How a photo was exposed, from EXIF.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Exposure {
    /// Maker and model of the camera.
    #[serde(default)]
    pub camera: Option<String>,
    /// Exposure time, s.
    #[serde(default)]
    pub seconds: Option<f64>,
    /// f-number.
    #[serde(default)]
    pub f_number: Option<f64>,
    /// ISO speed.
    #[serde(default)]
    pub iso: Option<f64>,
    /// Whether the flash fired.
    #[serde(default)]
    pub flash: Option<bool>,
}

impl Exposure {
    /// Whether the camera wrote nothing.
    pub fn is_unknown(&self) -> bool {
        *self == Self::default()
    }
}

/// The studio's own values and units, kept as text by name (`paper`, `ink`, `unit`).
pub type Studio = BTreeMap<String, String>;

impl Piece {
    /// How it stands in the studio.
    pub fn standing(&self) -> Standing {
        Standing {
            status: self.status.clone(),
            price: self.price,
            remarks: self.remarks.clone(),
        }
    }

    /// The rounds that a photo taken at `taken` (`YYYY-MM-DD…`) shows: those made on or before that day, in order.
    ///
    /// Where a date is not known, or the photo is dated before the first round (a camera's clock was wrong), all of them.
    pub fn rounds_shown(&self, taken: Option<&str>) -> &[Round] {
        let made = self.rounds.iter().map(|round| round.made.as_deref());
        let shown = rounds_shown(made, taken);
        &self.rounds[..shown]
    }
}

/// How many of the rounds made on these days a photo taken at `taken` shows; see [`Piece::rounds_shown`].
pub(super) fn rounds_shown<'a>(
    made: impl ExactSizeIterator<Item = Option<&'a str>> + Clone,
    taken: Option<&str>,
) -> usize {
    let day = taken.and_then(|t| t.get(..10));
    let later = |made: Option<&str>| day < made;
    match day.and_then(|_| made.clone().position(later)) {
        None | Some(0) => made.len(),
        Some(first_later) => first_later,
    }
}

impl Round {
    /// The soaks in one line, as people write them: `tannin > alum`; empty where there were none.
    pub fn mordant(&self) -> String {
        self.soaks
            .iter()
            .map(|soak| soak.mordant.as_str())
            .collect::<Vec<_>>()
            .join(" > ")
    }

    /// What counts as one independent trial: the pot, else the bundle, else nothing known.
    pub fn trial(&self) -> Option<&str> {
        self.pot.as_deref().or(self.bundle.as_deref())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(made: [Option<&str>; 2], taken: Option<&str>, wanted: usize) {
        let round = |made: Option<&str>| Round {
            made: made.map(str::to_owned),
            ..Round::default()
        };
        let piece = Piece {
            rounds: made.map(round).to_vec(),
            ..Piece::default()
        };
        assert_eq!(piece.rounds_shown(taken).len(), wanted);
    }

    #[test]
    fn a_photo_shows_the_rounds_made_before_it() {
        let made = [Some("2026-05-03"), Some("2026-06-10")];
        check(made, Some("2026-05-20T08:00:00"), 1);
        check(made, Some("2026-06-10T19:00:00"), 2);
        check(made, Some("2019-01-01T00:00:00"), 2);
        check(made, None, 2);
        check(made, Some("odd"), 2);
        check([None, Some("2026-06-10")], Some("2026-05-20"), 1);
        check([Some("2026-05-03"), None], Some("2026-05-20"), 2);
    }
}
