//! Plain records of what was measured in one photo: light, outline, swatches, with their cautions.

mod correction;

pub use correction::{Correction, Corrector, Fall, Tone, root_terms};

use crate::colour::{Lab, de00, triple};
use crate::error::Caution;
use serde::{Deserialize, Serialize};

/// What a photo shows a piece as.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum State {
    /// Drained, leaves off, still wet.
    Wet,
    /// Dry, not yet washed.
    Dry,
    /// Washed and dry again.
    Washed,
    /// After being worn.
    Worn,
}

impl State {
    /// All states, in the order in which a piece goes through them.
    pub const ALL: [Self; 4] = [Self::Wet, Self::Dry, Self::Washed, Self::Worn];

    /// The word for it, lower case.
    pub fn word(self) -> &'static str {
        match self {
            Self::Wet => "wet",
            Self::Dry => "dry",
            Self::Washed => "washed",
            Self::Worn => "worn",
        }
    }

    /// Whether it comes after the first wash; a piece that is wet or dry was never washed.
    pub fn is_washed(self) -> bool {
        matches!(self, Self::Washed | Self::Worn)
    }

    /// Whether a piece in this state can have been washed so often: 0 times before its first wash.
    pub fn takes_washes(self, washes: u32) -> bool {
        match self.is_washed() {
            true => WASHES.contains(&washes),
            false => washes == 0,
        }
    }

    /// The state a word names, in any case.
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL
            .into_iter()
            .find(|state| state.word().eq_ignore_ascii_case(word))
    }
}

/// How often a piece can have been washed; a larger number is a date or the count of a photo.
pub const WASHES: std::ops::RangeInclusive<u32> = 1..=500;

/// Code of the caution that a photo was taken as dry because nothing said what it shows.
pub const TAKEN_AS_DRY: &str = "state-taken-as-dry";

/// Cautions about the state that card and names tell; they outlive a new measurement, until the studio says the state.
pub const ABOUT_STATE: [&str; 2] = [TAKEN_AS_DRY, "card-name-differ"];

/// Cautions about the piece that tag and names tell; they outlive a new measurement, until the studio says the piece.
pub const ABOUT_PIECE: [&str; 3] = ["tag-name-differ", "name-unclear", SET_ASIDE];

/// Code of the caution that the studio set a photo aside: it shows no piece of theirs, and waits for none.
pub const SET_ASIDE: &str = "set-aside";

/// Code of the caution that the light of a photo is that of another, which had a reference.
pub const LIGHT_BORROWED: &str = "light-borrowed";

/// What the light of a photo was known from.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Basis {
    /// A chart of known patches.
    Chart,
    /// The white and black of a tag.
    Tag,
    /// Nothing but the picture itself; also a light that came without word of what it rests on.
    #[default]
    Assumed,
}

/// What is known of a photo's light and how far it can be trusted.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Light {
    /// What it was known from.
    #[serde(default)]
    pub basis: Basis,
    /// How far known references remain from their values, CIEDE2000; `None` where there was nothing to compare.
    #[serde(default)]
    pub residual: Option<f64>,
    /// How far a cloth colour in it is from the truth; `None` for a reading made elsewhere.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub doubt: Option<Doubt>,
    /// How far each patch of the chart remains from its colour; empty without a chart.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub patches: Vec<Remaining>,
    /// How the photo was corrected; `None` for a reading made elsewhere.
    #[serde(default)]
    pub correction: Option<Correction>,
}

/// How far one patch of a chart remains from its colour.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Remaining {
    /// Its place on the chart, such as `A1`.
    pub id: String,
    /// CIEDE2000, from 0 up.
    pub de00: f64,
    /// Whether it was left out of the fit: glare, shadow, dirt, or a channel at its top.
    #[serde(default)]
    pub left_out: bool,
}

/// How far a colour in some light may be from the truth: one standard deviation's worth, CIEDE2000.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Doubt {
    /// What all colours share, 0 or more.
    pub common: f64,
    /// What the camera's own way of seeing adds to a grey, 0 or more.
    pub grey: f64,
    /// And to a colour for each unit of its chroma, 0 or more.
    pub chroma: f64,
}

impl Doubt {
    /// The same for every colour.
    pub fn even(common: f64) -> Self {
        Self {
            common,
            ..Self::default()
        }
    }

    /// That of one colour.
    pub fn of(self, lab: Lab) -> f64 {
        self.common
            .hypot(self.grey + self.chroma * lab.a.hypot(lab.b))
    }

    /// With another doubt, independent of it, that all colours share.
    pub fn with(self, common: f64) -> Self {
        Self {
            common: self.common.hypot(common),
            ..self
        }
    }
}

/// Ground cloth or the print of a leaf.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Part {
    /// The cloth between the prints.
    Ground,
    /// Where a leaf lay.
    Print,
}

/// One dominant colour of a piece.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Swatch {
    /// CIELAB, 2°, D65.
    #[serde(with = "triple")]
    pub lab: Lab,
    /// Its share of the cloth, 0 to 1; the shares of a reading sum to 1.
    pub share: f64,
    /// One standard deviation's worth, CIEDE2000.
    #[serde(default)]
    pub doubt: Option<f64>,
    /// Its colour word.
    #[serde(default)]
    pub word: Option<String>,
    /// The ISCC-NBS level of the word, 1 to 3; `None` for the studio's own word.
    #[serde(default)]
    pub word_level: Option<u8>,
    /// The nearest sRGB colour, `#rrggbb`.
    #[serde(default)]
    pub srgb: Option<String>,
    /// Ground or print, where the studio said so.
    #[serde(default)]
    pub part: Option<Part>,
    /// The plant that printed it, where the studio said so.
    #[serde(default)]
    pub plant: Option<String>,
}

/// The result of measuring one photo.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Reading {
    /// The version of the method that made it.
    #[serde(default)]
    pub method: Option<String>,
    /// What is known of the light.
    #[serde(default)]
    pub light: Option<Light>,
    /// Where the piece is: one polygon, pixels of the upright picture, origin top left.
    #[serde(default)]
    pub outline: Option<Vec<[f64; 2]>>,
    /// The dominant colours, largest share first; empty where no piece was found.
    #[serde(default)]
    pub swatches: Vec<Swatch>,
    /// What the reader must know.
    #[serde(default)]
    pub cautions: Vec<Caution>,
}

impl Reading {
    /// The mean L\* of the cloth, weighted by share; `None` without swatches.
    pub fn mean_lightness(&self) -> Option<f64> {
        crate::colour::mean(self.swatches.iter().map(|s| (s.lab, s.share))).map(|lab| lab.l)
    }

    /// Takes over what the studio said of the colours of an earlier reading of the same photo: each colour here is what the nearest
    /// colour there was said to be, unless that is further away than 6 CIEDE2000.
    pub fn keep_marks(&mut self, before: &Self) {
        // Another outline or light moves a colour by less, and the colours of one cloth are mostly further apart.
        const SAME: f64 = 6.0;
        for swatch in &mut self.swatches {
            let far = |other: &&Swatch| de00(swatch.lab, other.lab);
            let nearest = before
                .swatches
                .iter()
                .min_by(|a, b| far(a).total_cmp(&far(b)));
            if let Some(other) = nearest.filter(|other| far(other) <= SAME) {
                (swatch.part, swatch.plant) = (other.part, other.plant.clone());
            }
        }
    }

    /// What its light was known from; `None` where nothing is known of the light.
    pub fn basis(&self) -> Option<Basis> {
        self.light.as_ref().map(|light| light.basis)
    }

    /// Whether a caution of this code stands with it.
    pub fn has_caution(&self, code: &str) -> bool {
        self.cautions.iter().any(|c| c.code == code)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_said_of_a_colour_goes_over_to_the_same_colour() {
        let swatch = |l: f64, part: Option<Part>| Swatch {
            lab: Lab::new(l, 0.0, 0.0),
            share: 0.5,
            doubt: None,
            word: None,
            word_level: None,
            srgb: None,
            part,
            plant: part.map(|_| "walnut".to_owned()),
        };
        let reading = |swatches| Reading {
            swatches,
            ..Reading::default()
        };
        let before = reading(vec![swatch(40.0, Some(Part::Print)), swatch(60.0, None)]);
        let mut after = reading(vec![
            swatch(42.0, None),
            swatch(58.0, None),
            swatch(30.0, None),
        ]);
        after.keep_marks(&before);
        let parts: Vec<_> = after.swatches.iter().map(|swatch| swatch.part).collect();
        assert_eq!(parts, [Some(Part::Print), None, None]);
        assert_eq!(after.swatches[0].plant.as_deref(), Some("walnut"));
        after.keep_marks(&Reading::default());
        assert_eq!(after.swatches[0].part, Some(Part::Print));
    }
}
