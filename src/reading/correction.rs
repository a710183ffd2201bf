//! From a pixel as photographed to its true colour.

use crate::colour::{CameraRgb, Lab, Matrix, Xyz, apply};
use palette::IntoColor;
use serde::{Deserialize, Serialize};

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
    /// The true colour of one pixel in the light of the reference.
    pub fn to_lab(&self, pixel: CameraRgb) -> Lab {
        self.balanced(pixel, self.gain, |light| self.tone.undo(light))
    }

    /// The gain at a place, in pixels of the upright photo: it follows the fall of light, by 16 % at most.
    pub fn gain_at(&self, place: [f64; 2]) -> [f64; 3] {
        let Fall { from, slope } = self.fall;
        let change = slope[0] * (place[0] - from[0]) + slope[1] * (place[1] - from[1]);
        let gain = (-change.clamp(-MOST_FALL, MOST_FALL)).exp();
        self.gain.map(|g| g * gain)
    }

    fn balanced(&self, pixel: CameraRgb, gain: [f64; 3], undo: impl Fn(f64) -> f64) -> Lab {
        let seen = pixel.array();
        let light = [0, 1, 2].map(|channel| {
            let clean = undo(seen[channel]) - self.flare[channel];
            gain[channel] * clean.max(0.0)
        });
        let [x, y, z] = apply(self.matrix, light);
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

        /// The table of a picture against the formula, pixel by pixel.
        #[test]
        fn a_picture_is_corrected_as_its_pixels_are(strength in -1.0..=1.0f64, rgb in prop::array::uniform3(0.0..=1.0f32)) {
            let correction = Correction {
                tone: Tone { strength },
                flare: [0.003; 3],
                gain: [1.1, 1.0, 0.9],
                matrix: crate::colour::srgb_to_xyz(),
                fall: Fall { from: [100.0, 100.0], slope: [1e-4, 0.0] },
            };
            let [r, g, b] = rgb;
            let pixel = CameraRgb { r, g, b };
            let found = correction.for_picture().to_lab(pixel, [100.0, 900.0]);
            let off = crate::colour::de00(found, correction.to_lab(pixel));
            prop_assert!(off < 0.01, "{off}");
        }

        #[test]
        fn more_light_is_never_darker(strength in -1.0..=1.0f64, one in 0.0..1.0f64, more in 0.0..1.0f64) {
            let tone = Tone { strength };
            prop_assert!(tone.undo(one) <= tone.undo((one + more).min(1.0)) + 1e-12);
        }
    }
}
