//! The backdrop's colours, each where it is at home: a backdrop may be of several materials.

use super::field::Field;
use super::mixture::{self, Part, STRANGE};
use crate::picture::{Mask, Picture};

/// Homes are told apart to this part of the longer side.
const HOMES: usize = 64;
/// How far around a place its home reaches, homes.
const REACH: usize = 6;
/// Where nothing is known near by, the part's share of the whole stands in with this weight.
const PRIOR: f32 = 0.02;
/// The most that the shade of the cloth takes from a colour's lightness, and the log of how seldom that is.
const SHADE: (f32, f32) = (12.0, -2.5);

/// Where in the picture each part of the backdrop is at home.
pub(super) struct Local {
    /// Pixels of the field that a place of the maps measures, each way.
    step: usize,
    /// The logarithm of a share for each part, place by place.
    shares: Vec<Picture<f32>>,
}

impl Local {
    pub(super) fn new(field: &Field, backdrop: &[Part], known: &Mask) -> Self {
        let step = field.width().max(field.height()).div_ceil(HOMES);
        let (width, height) = (field.width().div_ceil(step), field.height().div_ceil(step));
        let empty = Picture {
            width,
            height,
            pixels: vec![0f32; width * height],
        };
        let mut maps = vec![empty.clone(); backdrop.len()];
        let mut weight = empty;
        let mut shares = vec![0f32; backdrop.len()];
        // Neighbours are much alike: a few pixels stand for a place.
        let stride = (step / 2).max(1);
        let unit = (stride as f32 / step as f32).powi(2);
        for y in (0..field.height()).step_by(stride) {
            for x in (0..field.width()).step_by(stride) {
                let i = y * field.width() + x;
                if !known.pixels[i] || field.hidden.pixels[i] {
                    continue;
                }
                mixture::responsibilities(backdrop, field.features.pixels[i], &mut shares);
                let place = y / step * width + x / step;
                for (map, &share) in maps.iter_mut().zip(&shares) {
                    map.pixels[place] += unit * share;
                }
                weight.pixels[place] += unit;
            }
        }
        for map in maps.iter_mut().chain([&mut weight]) {
            *map = map.blurred(REACH).blurred(REACH);
        }
        for (map, part) in maps.iter_mut().zip(backdrop) {
            for (share, &total) in map.pixels.iter_mut().zip(&weight.pixels) {
                let here = (*share + PRIOR * part.share) / (total + PRIOR);
                *share = here.clamp(1e-4, 1.0).ln();
            }
        }
        Self { step, shares: maps }
    }

    /// The log densities of the backdrop in row `y` of the field, in light or in the shade of the cloth.
    pub(super) fn log_densities(&self, field: &Field, backdrop: &[Part], y: usize) -> Vec<f32> {
        let [lights, a, b] = field.row(y);
        let mut best = vec![STRANGE - 3.0; lights.len()];
        let mut home = best.clone();
        for (part, shares) in backdrop.iter().zip(&self.shares) {
            let row = y / self.step * shares.width;
            for (home, &share) in home.chunks_mut(self.step).zip(&shares.pixels[row..]) {
                home.fill(share);
            }
            let colours = lights.iter().zip(a).zip(b);
            for ((best, &home), ((&light, &a), &b)) in best.iter_mut().zip(&home).zip(colours) {
                let lit = part.log_density([light, a, b]);
                // The same material in the shade of the cloth.
                let lift = (part.mean[0] - light).max(0.0).min(SHADE.0);
                let shaded = part.log_density([light + lift, a, b]) + SHADE.1;
                let likely = home + if shaded > lit { shaded } else { lit };
                *best = if likely > *best { likely } else { *best };
            }
        }
        best
    }
}
