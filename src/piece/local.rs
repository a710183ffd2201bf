//! The backdrop's colours, each where it is at home: a backdrop may be of several materials.

use super::field::Field;
use super::mixture::{self, Feature, Part, STRANGE};
use crate::picture::Mask;

/// Where in the picture each part of the backdrop is at home.
pub(super) struct Local {
    /// A share for each part, pixel by pixel.
    shares: Vec<Vec<f32>>,
}

impl Local {
    pub(super) fn new(field: &Field, backdrop: &[Part], known: &Mask) -> Self {
        let (width, height) = (field.width(), field.height());
        let mut maps = vec![vec![0f32; width * height]; backdrop.len()];
        let mut weight = vec![0f32; width * height];
        let mut shares = vec![0f32; backdrop.len()];
        for i in 0..width * height {
            if known.pixels[i] && !field.hidden.pixels[i] {
                mixture::responsibilities(backdrop, field.features.pixels[i], &mut shares);
                for (map, &share) in maps.iter_mut().zip(&shares) {
                    map[i] = share;
                }
                weight[i] = 1.0;
            }
        }
        let radius = width.max(height) / 10;
        for map in maps.iter_mut().chain([&mut weight]) {
            for _ in 0..2 {
                *map = blurred(map, width, height, radius);
            }
        }
        for (map, part) in maps.iter_mut().zip(backdrop) {
            for (share, &total) in map.iter_mut().zip(&weight) {
                // Where nothing is known near by, the part's share of the whole stands in.
                let prior = 0.02;
                *share = (*share + prior * part.share) / (total + prior);
            }
        }
        Self { shares: maps }
    }

    /// The log density of the backdrop at pixel `at`, in light or in the shade of the cloth.
    pub(super) fn log_density(&self, backdrop: &[Part], feature: Feature, at: usize) -> f32 {
        let mut best = STRANGE - 3.0;
        for (part, shares) in backdrop.iter().zip(&self.shares) {
            let share = shares[at].max(1e-4).ln();
            let lit = part.log_density(feature);
            // The same material in the shade of the cloth.
            let below = part.mean[0] - feature[0];
            let shaded = if below > 0.0 {
                let lift = below.min(12.0);
                part.log_density([feature[0] + lift, feature[1], feature[2]]) - 2.5
            } else {
                f32::MIN
            };
            best = best.max(share + lit.max(shaded));
        }
        best
    }
}

/// Means over squares of `2 * radius + 1` pixels, cut at the frame; sums there count the missing as nothing.
fn blurred(map: &[f32], width: usize, height: usize, radius: usize) -> Vec<f32> {
    let across = slid(map, width, height, radius, 1, width);
    slid(&across, height, width, radius, width, 1)
}

fn slid(
    map: &[f32],
    length: usize,
    lines: usize,
    radius: usize,
    step: usize,
    skip: usize,
) -> Vec<f32> {
    let mut out = vec![0f32; map.len()];
    let count = (2 * radius + 1) as f32;
    for line in 0..lines {
        let at = |k: usize| line * skip + k * step;
        let mut sum: f32 = (0..radius.min(length)).map(|k| map[at(k)]).sum();
        for k in 0..length {
            if k + radius < length {
                sum += map[at(k + radius)];
            }
            out[at(k)] = sum.max(0.0) / count;
            if k >= radius {
                sum -= map[at(k - radius)];
            }
        }
    }
    out
}
