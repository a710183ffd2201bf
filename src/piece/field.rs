//! The picture as the outline sees it: small, and in a form in which shading moves one number only.

use super::mixture::Feature;
use crate::colour::CameraRgb;
use crate::picture::{Mask, Picture};
use palette::{IntoColor, Lab, LinSrgb, white_point::D65};

/// A small picture of features with the places that are known to be no cloth.
pub(super) struct Field {
    pub(super) features: Picture<Feature>,
    /// Tags and charts: neither cloth nor backdrop.
    pub(super) hidden: Mask,
}

/// Features are as wide as CIELAB at this lightness plus 16.
const SCALE: f32 = 60.0;

impl Field {
    pub(super) fn new(picture: &Picture<CameraRgb>, hidden: Mask) -> Self {
        let exposure = 0.6 / bright(picture).max(1e-4);
        Self {
            features: picture.map(|pixel| feature(*pixel, exposure)),
            hidden,
        }
    }

    pub(super) fn width(&self) -> usize {
        self.features.width
    }

    pub(super) fn height(&self) -> usize {
        self.features.height
    }
}

/// Means of blocks of `step` by `step` pixels.
pub(super) fn reduced(picture: &Picture<CameraRgb>, step: usize) -> Picture<CameraRgb> {
    let (width, height) = (picture.width.div_ceil(step), picture.height.div_ceil(step));
    let mut pixels = Vec::with_capacity(width * height);
    for top in (0..picture.height).step_by(step) {
        for left in (0..picture.width).step_by(step) {
            let (bottom, right) = (
                (top + step).min(picture.height),
                (left + step).min(picture.width),
            );
            let mut sum = [0f32; 3];
            for y in top..bottom {
                for pixel in &picture.pixels[y * picture.width + left..y * picture.width + right] {
                    sum[0] += pixel.r;
                    sum[1] += pixel.g;
                    sum[2] += pixel.b;
                }
            }
            let count = ((bottom - top) * (right - left)) as f32;
            let [r, g, b] = sum.map(|s| s / count);
            pixels.push(CameraRgb { r, g, b });
        }
    }
    Picture {
        width,
        height,
        pixels,
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
