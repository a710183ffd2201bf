//! Plain records of what was measured in one photo: light, outline, swatches, with their cautions.

use crate::colour::{CameraRgb, Lab, Matrix, Xyz, apply, triple};
use crate::error::Caution;
use palette::IntoColor;
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

    /// The state a word names, in any case.
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL
            .into_iter()
            .find(|state| state.word().eq_ignore_ascii_case(word))
    }
}

/// Code of the caution that a photo was taken as dry because nothing said what it shows.
pub const TAKEN_AS_DRY: &str = "state-taken-as-dry";

/// Cautions about the state that card and names tell; they outlive a new measurement, until the studio says the state.
pub const ABOUT_STATE: [&str; 2] = [TAKEN_AS_DRY, "card-name-differ"];

/// Cautions about the piece that tag and names tell; they outlive a new measurement, until the studio says the piece.
pub const ABOUT_PIECE: [&str; 2] = ["tag-name-differ", "name-unclear"];

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

/// From linear light as photographed to XYZ under D65.
///
/// The camera's tone curve came last and is undone first; then flare is taken off, then white balance and exposure are one
/// gain a channel, then `matrix` leads to XYZ: `XYZ = matrix · (gain ∘ max(0, undo(v) - flare))`.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Correction {
    /// The camera's tone curve.
    pub tone: Tone,
    /// Light that lens and air add everywhere, 0 to 1 a channel, in linear light before the tone curve.
    pub flare: [f64; 3],
    /// White balance and exposure, above 0 a channel.
    pub gain: [f64; 3],
    /// Balanced linear RGB in the file's primaries to XYZ (D65, Y = 1 for the perfect diffuser).
    pub matrix: Matrix,
    /// How the light changes over the photo.
    #[serde(default)]
    pub fall: Fall,
}

/// How the light changes over a photo, as a plane of its natural logarithm; the default is even light.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Fall {
    /// The place at which the gain is right, in pixels of the upright photo.
    pub from: [f64; 2],
    /// Natural logarithm of light a pixel to the right and a pixel down.
    pub slope: [f64; 2],
}

/// The most that light is taken to change between the reference and the cloth, as a natural logarithm: about 16 %.
const MOST_FALL: f64 = 0.15;

/// A camera's tone curve on top of the file's own; the default is a straight one.
///
/// In light encoded as sRGB encodes it (IEC 61966-2-1) the curve is `f(e) = (1 - s) e + s (3 e² - 2 e³)`: it holds black,
/// the middle and white in place, and for `s` above 0 darkens below the middle and lightens above it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Tone {
    /// `s`: 0 is straight, 1 the strongest S that still rises everywhere, below 0 shadows are lifted. From -1 to 1.
    pub strength: f64,
}

/// What is known of a photo's light and how far it can be trusted.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Light {
    /// What it was known from.
    #[serde(default)]
    pub basis: Basis,
    /// How far known references remain from their values, CIEDE2000; `None` where there was nothing to compare.
    #[serde(default)]
    pub residual: Option<f64>,
    /// How the photo was corrected; `None` for a reading made elsewhere.
    #[serde(default)]
    pub correction: Option<Correction>,
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

impl Tone {
    /// Linear light before the camera's curve, 0 to 1, of linear light after it, which is held to 0 to 1.
    ///
    /// With `e = 1/2 + t` the curve is the cubic `f - 1/2 = (1 + s/2) t - 2 s t³`. Its root between -1/2 and 1/2 follows from
    /// `sin 3θ = 3 sin θ - 4 sin³ θ` for `s` above 0 and from `sinh 3θ = 3 sinh θ + 4 sinh³ θ` below.
    pub fn undo(self, after: f64) -> f64 {
        use palette::encoding::{FromLinear, IntoLinear, Srgb};
        let s = self.strength.clamp(-1.0, 1.0);
        let encoded: f64 = Srgb::from_linear(after.clamp(0.0, 1.0));
        let (away, slope) = (encoded - 0.5, 1.0 + s / 2.0);
        let t = if s.abs() < 1e-9 {
            away
        } else {
            let scale = 2.0 * (slope / (6.0 * s.abs())).sqrt();
            let ratio = 3.0 * away / (slope * scale);
            if s > 0.0 {
                scale * (ratio.clamp(-1.0, 1.0).asin() / 3.0).sin()
            } else {
                scale * (ratio.asinh() / 3.0).sinh()
            }
        };
        Srgb::into_linear((0.5 + t).clamp(0.0, 1.0))
    }
}

impl Correction {
    /// The same light at another place of the photo, in pixels of the upright photo: the gain follows the fall of light,
    /// by 16 % at most.
    #[must_use]
    pub fn at(&self, place: [f64; 2]) -> Self {
        let Fall { from, slope } = self.fall;
        let change = slope[0] * (place[0] - from[0]) + slope[1] * (place[1] - from[1]);
        let gain = (-change.clamp(-MOST_FALL, MOST_FALL)).exp();
        Self {
            gain: self.gain.map(|g| g * gain),
            fall: Fall { from: place, slope },
            ..self.clone()
        }
    }

    /// The true colour of one pixel, in the light of the place to which [`at`](Self::at) moved it (else, of the reference).
    pub fn to_lab(&self, pixel: CameraRgb) -> Lab {
        let seen = pixel.array();
        let light = [0, 1, 2].map(|channel| {
            let clean = self.tone.undo(seen[channel]) - self.flare[channel];
            self.gain[channel] * clean.max(0.0)
        });
        let [x, y, z] = apply(self.matrix, light);
        Xyz::new(x, y, z).into_color()
    }
}

impl Reading {
    /// The mean L\* of the cloth, weighted by share; `None` without swatches.
    pub fn mean_lightness(&self) -> Option<f64> {
        crate::colour::mean(self.swatches.iter().map(|s| (s.lab, s.share))).map(|lab| lab.l)
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
    use palette::encoding::{FromLinear, IntoLinear, Srgb};
    use proptest::prelude::*;

    /// The curve as its documentation gives it, from before to after, written apart from the way back.
    fn bent(strength: f64, before: f64) -> f64 {
        let e: f64 = Srgb::from_linear(before);
        Srgb::into_linear((1.0 - strength) * e + strength * (3.0 * e * e - 2.0 * e * e * e))
    }

    proptest! {
        #[test]
        fn undo_takes_the_curve_back(strength in -1.0..=1.0f64, before in 0.0..=1.0f64) {
            let found = Tone { strength }.undo(bent(strength, before));
            // At the ends of the strongest curve the slope is nothing, so there the way back is loose.
            let tolerance = if strength.abs() > 0.95 { 1e-5 } else { 1e-9 };
            prop_assert!((found - before).abs() < tolerance, "{found} for {before}");
        }

        #[test]
        fn a_colour_is_always_a_number(
            strength in -9.0..9.0f64, flare in -1.0..1.0f64, gain in 0.0..1e6f64, rgb in prop::array::uniform3(-1.0..2.0f32)
        ) {
            let correction = Correction {
                tone: Tone { strength },
                flare: [flare; 3],
                gain: [gain; 3],
                matrix: crate::colour::srgb_to_xyz(),
                fall: Fall::default(),
            };
            let [r, g, b] = rgb;
            let lab = correction.to_lab(CameraRgb { r, g, b });
            prop_assert!(lab.l.is_finite() && lab.a.is_finite() && lab.b.is_finite());
        }

        #[test]
        fn more_light_is_never_darker(strength in -1.0..=1.0f64, one in 0.0..1.0f64, more in 0.0..1.0f64) {
            let tone = Tone { strength };
            prop_assert!(tone.undo(one) <= tone.undo((one + more).min(1.0)) + 1e-12);
        }
    }
}
