//! From a pixel as photographed to its true colour.

use crate::colour::{CameraRgb, Lab, Matrix, Xyz, apply};
use palette::IntoColor;
use serde::{Deserialize, Serialize};

/// From linear light as photographed to XYZ under D65.
///
/// The camera's tone curve came last and is undone first; then flare is taken off, then white balance and exposure are one
/// gain a channel, then `matrix` and `roots` lead to XYZ: with `c = gain ∘ max(0, undo(v) - flare)`,
/// `XYZ = matrix · c + roots · (√(c₀c₁), √(c₁c₂), √(c₂c₀))`, which is the root-polynomial of degree 2 of Finlayson, Mackiewicz &
/// Hurlbert 2015, doi 10.1109/TIP.2015.2405336: twice the light is still twice the XYZ.
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
    /// What the root terms add to XYZ; all 0 for a plain matrix.
    #[serde(default)]
    pub roots: Matrix,
    /// How the light changes over the photo.
    #[serde(default)]
    pub fall: Fall,
}

/// How the light changes over a photo, as the natural logarithm of light: a plane that bends down to all sides from the
/// middle. Places are pixels of the upright photo; the default is even light.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Fall {
    /// The place around which the light bends down, usually the middle of the photo.
    #[serde(alias = "from")]
    pub middle: [f64; 2],
    /// The light there; 0 is the light at which the gain is right.
    #[serde(default)]
    pub level: f64,
    /// Its change a pixel to the right and a pixel down.
    pub slope: [f64; 2],
    /// What it loses by the square of the distance from the middle in pixels, 0 or more.
    #[serde(default)]
    pub bend: f64,
}

/// The most that light is taken to change between the reference and the cloth, as a natural logarithm: by half.
const MOST_FALL: f64 = 0.4;

impl Fall {
    /// The natural logarithm of light at a place by that at which the gain is right, held to half as much again or two thirds.
    pub fn at(&self, place: [f64; 2]) -> f64 {
        let [x, y] = [0, 1].map(|axis| place[axis] - self.middle[axis]);
        let plane = self.level + self.slope[0] * x + self.slope[1] * y;
        (plane - self.bend * (x * x + y * y)).clamp(-MOST_FALL, MOST_FALL)
    }
}

/// A camera's tone curve on top of the file's own; the default is a straight one.
///
/// In light encoded as sRGB encodes it (IEC 61966-2-1) the curve is `f(g(e))`. First `g(e) = (1 + k) e / (1 + k e)`, a shoulder:
/// it lifts the middle and levels off towards white. Then `f(e) = (1 - s) e + s (3 e² - 2 e³)`, an S: it holds black, the middle
/// and white in place, and for `s` above 0 darkens below the middle and lightens above it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Tone {
    /// `s`: 0 is straight, 1 the strongest S that still rises everywhere, below 0 shadows are lifted. From -1 to 1.
    pub strength: f64,
    /// `k`: 0 is none; below 0 the middle is darkened instead. From -0.9 to 9.
    #[serde(default)]
    pub shoulder: f64,
}

/// A correction made ready for the many pixels of a picture: the tone curve is undone by a table.
pub struct Corrector<'a> {
    correction: &'a Correction,
    /// [`Tone::undo`] of the squares of 0 to 1 in even steps: steps of the square root are fine where the dark is.
    undone: Vec<f64>,
}

/// Steps of the table: with them no colour is off by more than 0.01 CIEDE2000, far below a step of an 8-bit file.
const STEPS: usize = 4096;

impl Tone {
    /// Linear light before the camera's curve, 0 to 1, of linear light after it, which is held to 0 to 1.
    pub fn undo(self, after: f64) -> f64 {
        self.undo_shoulder(self.undo_strength(after))
    }

    /// Encoded light between the shoulder and the S, 0 to 1, of linear light after both, which is held to 0 to 1.
    ///
    /// With `e = 1/2 + t` the curve is the cubic `f - 1/2 = (1 + s/2) t - 2 s t³`. Its root between -1/2 and 1/2 follows from
    /// `sin 3θ = 3 sin θ - 4 sin³ θ` for `s` above 0 and from `sinh 3θ = 3 sinh θ + 4 sinh³ θ` below.
    pub fn undo_strength(self, after: f64) -> f64 {
        use palette::encoding::{FromLinear, Srgb};
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
        (0.5 + t).clamp(0.0, 1.0)
    }

    /// Linear light before the shoulder, 0 to 1, of encoded light after it, 0 to 1.
    pub fn undo_shoulder(self, bent: f64) -> f64 {
        use palette::encoding::{IntoLinear, Srgb};
        let k = self.shoulder.clamp(-0.9, 9.0);
        Srgb::into_linear(bent / (1.0 + k - k * bent))
    }
}

impl Correction {
    /// The true colour of one pixel in the light of the reference.
    pub fn to_lab(&self, pixel: CameraRgb) -> Lab {
        self.balanced(pixel, self.gain, |light| self.tone.undo(light))
    }

    /// The true colour of one pixel at `place`, in pixels of the upright photo. For many pixels see
    /// [`for_picture`](Self::for_picture).
    pub fn to_lab_at(&self, pixel: CameraRgb, place: [f64; 2]) -> Lab {
        self.balanced(pixel, self.gain_at(place), |light| self.tone.undo(light))
    }

    /// The gain at a place, in pixels of the upright photo: it follows the fall of light.
    pub fn gain_at(&self, place: [f64; 2]) -> [f64; 3] {
        let gain = (-self.fall.at(place)).exp();
        self.gain.map(|g| g * gain)
    }

    fn balanced(&self, pixel: CameraRgb, gain: [f64; 3], undo: impl Fn(f64) -> f64) -> Lab {
        let seen = pixel.array();
        let light = [0, 1, 2].map(|channel| {
            let clean = undo(seen[channel]) - self.flare[channel];
            gain[channel] * clean.max(0.0)
        });
        let [mut x, mut y, mut z] = apply(self.matrix, light);
        if self.roots != Matrix::default() {
            let more = apply(self.roots, root_terms(light));
            (x, y, z) = (x + more[0], y + more[1], z + more[2]);
        }
        Xyz::new(x, y, z).into_color()
    }

    /// Makes the correction ready for a picture.
    pub fn for_picture(&self) -> Corrector<'_> {
        let undone =
            (0..=STEPS + 1).map(|step| self.tone.undo((step as f64 / STEPS as f64).powi(2)));
        Corrector {
            correction: self,
            undone: undone.collect(),
        }
    }
}

/// The terms that degree 2 of the root-polynomial adds to light of red, green and blue, which is not below 0.
pub fn root_terms([r, g, b]: [f64; 3]) -> [f64; 3] {
    [r * g, g * b, b * r].map(f64::sqrt)
}

impl Corrector<'_> {
    /// The true colour of the pixel at `place`, in pixels of the upright photo.
    pub fn to_lab(&self, pixel: CameraRgb, place: [f64; 2]) -> Lab {
        let gain = self.correction.gain_at(place);
        self.correction
            .balanced(pixel, gain, |light| self.undo(light))
    }

    fn undo(&self, light: f64) -> f64 {
        let place = light.clamp(0.0, 1.0).sqrt() * STEPS as f64;
        let (low, part) = (place as usize, place.fract());
        self.undone[low] + part * (self.undone[low + 1] - self.undone[low])
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use palette::encoding::{FromLinear, IntoLinear, Srgb};
    use proptest::prelude::*;

    /// The curve as its documentation gives it, from before to after, written apart from the way back.
    fn bent(strength: f64, shoulder: f64, before: f64) -> f64 {
        let e: f64 = Srgb::from_linear(before);
        let e = (1.0 + shoulder) * e / (1.0 + shoulder * e);
        Srgb::into_linear((1.0 - strength) * e + strength * (3.0 * e * e - 2.0 * e * e * e))
    }

    /// The expansion of one colour that stands in the tests of colour-science 0.4.7 (Finlayson 2015, degree 2).
    #[test]
    fn root_terms_are_as_another_library_has_them() {
        let found = root_terms([0.172_248_10, 0.091_706_60, 0.064_169_38]);
        for (found, printed) in found
            .into_iter()
            .zip([0.125_683_28, 0.076_712_16, 0.105_133_50])
        {
            assert!((found - printed).abs() < 6e-9, "{found}, {printed}");
        }
    }

    proptest! {
        #[test]
        fn undo_takes_the_curve_back(
            strength in -1.0..=1.0f64, shoulder in -0.5..=2.0f64, before in 0.0..=1.0f64
        ) {
            let found = Tone { strength, shoulder }.undo(bent(strength, shoulder, before));
            // At the ends of the strongest curve the slope is nothing, so there the way back is loose.
            let tolerance = if strength.abs() > 0.95 { 1e-5 } else { 1e-9 };
            prop_assert!((found - before).abs() < tolerance, "{found} for {before}");
        }

        #[test]
        fn a_colour_is_always_a_number(
            strength in -9.0..9.0f64, shoulder in -99.0..99.0f64, flare in -1.0..1.0f64, root in -9.0..9.0f64, gain in 0.0..1e6f64, rgb in prop::array::uniform3(-1.0..2.0f32)
        ) {
            let correction = Correction {
                tone: Tone { strength, shoulder },
                flare: [flare; 3],
                gain: [gain; 3],
                matrix: crate::colour::srgb_to_xyz(),
                roots: [[root; 3]; 3],
                fall: Fall::default(),
            };
            let [r, g, b] = rgb;
            let lab = correction.to_lab(CameraRgb { r, g, b });
            prop_assert!(lab.l.is_finite() && lab.a.is_finite() && lab.b.is_finite());
        }

        /// The table of a picture against the formula, pixel by pixel.
        #[test]
        fn a_picture_is_corrected_as_its_pixels_are(
            strength in -1.0..=1.0f64, shoulder in -0.5..=2.0f64, rgb in prop::array::uniform3(0.0..=1.0f32)
        ) {
            let correction = Correction {
                tone: Tone { strength, shoulder },
                flare: [0.003; 3],
                gain: [1.1, 1.0, 0.9],
                matrix: crate::colour::srgb_to_xyz(),
                roots: [[0.02, -0.01, 0.0]; 3],
                fall: Fall { middle: [100.0, 100.0], slope: [1e-4, 0.0], ..Fall::default() },
            };
            let [r, g, b] = rgb;
            let pixel = CameraRgb { r, g, b };
            let found = correction.for_picture().to_lab(pixel, [100.0, 900.0]);
            let off = crate::colour::de00(found, correction.to_lab(pixel));
            prop_assert!(off < 0.01, "{off}");
        }

        #[test]
        fn more_light_is_never_darker(strength in -1.0..=1.0f64, shoulder in -9.0..20.0f64, one in 0.0..1.0f64, more in 0.0..1.0f64) {
            let tone = Tone { strength, shoulder };
            prop_assert!(tone.undo(one) <= tone.undo((one + more).min(1.0)) + 1e-12);
        }
    }
}
