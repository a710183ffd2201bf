//! The picture as the outline sees it: small, and in a form in which shading moves one number only.

use super::cut::Grid;
use super::mixture::Feature;
use super::noise;
use super::ties::tied;
use crate::colour::CameraRgb;
use crate::picture::{Mask, Picture};
use palette::{IntoColor, Lab, LinSrgb, white_point::D65};

/// A small picture of features with the places that are known to be no cloth.
pub(super) struct Field {
    pub(super) features: Picture<Feature>,
    /// The same features, coordinate by coordinate: so several pixels are weighed at once.
    pub(super) planes: [Vec<f32>; 3],
    /// A grid whose ties are what it costs to part a pixel from its neighbours.
    pub(super) tied: Grid,
    /// Tags and charts: neither cloth nor backdrop.
    pub(super) hidden: Mask,
}

/// Features are as wide as CIELAB at this lightness plus 16.
const SCALE: f32 = 60.0;

impl Field {
    /// `stretched`: colours are drawn apart as far as their grain allows.
    pub(super) fn new(picture: &Picture<CameraRgb>, hidden: Mask, stretched: bool) -> Self {
        let exposure = 0.6 / bright(picture).max(1e-4);
        let mut features = picture.map(|pixel| feature(*pixel, exposure));
        if stretched {
            features = noise::stretched(&features);
        }
        Self {
            tied: tied(&features),
            planes: [0, 1, 2].map(|k| features.pixels.iter().map(|f| f[k]).collect()),
            features,
            hidden,
        }
    }

    /// The features of row `y`, coordinate by coordinate.
    pub(super) fn row(&self, y: usize) -> [&[f32]; 3] {
        let row = y * self.width()..(y + 1) * self.width();
        self.planes.each_ref().map(|plane| &plane[row.clone()])
    }

    pub(super) fn width(&self) -> usize {
        self.features.width
    }

    pub(super) fn height(&self) -> usize {
        self.features.height
    }
}

/// The green light below which 95 % of the pixels lie.
fn bright(picture: &Picture<CameraRgb>) -> f32 {
    let mut greens: Vec<f32> = picture.pixels.iter().map(|p| p.g).collect();
    if greens.is_empty() {
        return 1.0;
    }
    let at = (greens.len() * 95 / 100).min(greens.len() - 1);
    *greens.select_nth_unstable_by(at, f32::total_cmp).1
}

/// CIELAB divided by lightness: with `s` shading and the cube root of CIELAB, (L\* + 16, a\*, b\*) all scale alike, so the
/// logarithm of the first moves and the two ratios stay.
fn feature(pixel: CameraRgb, exposure: f32) -> Feature {
    let lab: Lab<D65, f32> = LinSrgb::new(
        pixel.r.max(0.0) * exposure,
        pixel.g.max(0.0) * exposure,
        pixel.b.max(0.0) * exposure,
    )
    .into_color();
    let light = lab.l + 16.0;
    [
        SCALE * (light / 66.0).ln(),
        SCALE * lab.a / light,
        SCALE * lab.b / light,
    ]
}
