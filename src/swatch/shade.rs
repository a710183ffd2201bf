//! How brightly each place of a cloth is lit, told from its colours.

use super::groups::{self, Group, Point};
use crate::colour::{Lab, Lab32};
use crate::picture::{Mask, Picture};

/// Folds and uneven light change the cube root of light by at most this part.
const MOST: f32 = 0.12;
/// The part of the cells that look most like their neighbours: colours are known from these.
const CALM: f64 = 0.7;

/// The cloth, cell by cell.
pub(super) struct Cloth {
    width: usize,
    height: usize,
    /// (L\* + 16, a\*, b\*) of each cell: under another light all three scale alike.
    colours: Vec<[f32; 3]>,
    belongs: Vec<bool>,
    calm: Vec<bool>,
    /// The logarithm of how much brighter than the cloth's mean a cell is lit.
    light: Vec<f32>,
}

impl Cloth {
    pub(super) fn new(picture: &Picture<Lab32>, mask: &Mask) -> Self {
        let colours: Vec<[f32; 3]> = picture
            .pixels
            .iter()
            .map(|cell| [cell.l + 16.0, cell.a, cell.b])
            .collect();
        let belongs = mask.pixels.clone();
        Self {
            calm: calm(&colours, &belongs, picture.width),
            light: vec![0.0; belongs.len()],
            width: picture.width,
            height: picture.height,
            colours,
            belongs,
        }
    }

    /// The histogram of the cells in even light: of the calm ones, or of all.
    pub(super) fn points(&self, calm: bool) -> Vec<Point> {
        let colours: Vec<Lab> = (0..self.colours.len())
            .filter(|&i| self.belongs[i] && (!calm || self.calm[i]))
            .map(|i| self.even(i))
            .collect();
        groups::histogram(&colours)
    }

    fn even(&self, cell: usize) -> Lab {
        let [l, a, b] = self.colours[cell].map(|v| f64::from(v * (-self.light[cell]).exp()));
        Lab::new(l - 16.0, a, b)
    }

    /// Tells the light of each place from the colours found, averaged over `reach`.
    pub(super) fn relight(&mut self, found: &[Group], reach: f64) {
        let mut light = Picture {
            width: self.width,
            height: self.height,
            pixels: vec![0f32; self.colours.len()],
        };
        let mut weight = light.clone();
        for i in 0..self.colours.len() {
            if self.belongs[i] && self.calm[i] {
                let group = found[groups::nearest(found, self.even(i))];
                let ratio = (self.colours[i][0].max(1.0) / (group.mean.l as f32 + 16.0)).ln();
                light.pixels[i] = ratio.clamp(-MOST, MOST);
                weight.pixels[i] = 1.0;
            }
        }
        let area = self.belongs.iter().filter(|&&b| b).count() as f64;
        let radius = ((reach * area.sqrt()) as usize).max(1);
        for map in [&mut light, &mut weight] {
            *map = map.blurred(radius).blurred(radius);
        }
        let (mut sum, mut total) = (0f64, 0f64);
        for i in 0..self.colours.len() {
            self.light[i] = light.pixels[i] / weight.pixels[i].max(1e-3);
            if self.belongs[i] {
                sum += f64::from(self.light[i]);
                total += 1.0;
            }
        }
        let mean = (sum / f64::max(total, 1.0)) as f32;
        for value in &mut self.light {
            *value -= mean;
        }
    }
}

/// The cells that look most like their neighbours.
fn calm(colours: &[[f32; 3]], belongs: &[bool], width: usize) -> Vec<bool> {
    let change = |i: usize| {
        [i.wrapping_sub(1), i + 1, i.wrapping_sub(width), i + width]
            .into_iter()
            .filter(|&j| j < colours.len() && belongs[j])
            .map(|j| {
                (0..3)
                    .map(|c| (colours[i][c] - colours[j][c]).powi(2))
                    .sum::<f32>()
            })
            .fold(0f32, f32::max)
    };
    let changes: Vec<f32> = (0..colours.len())
        .map(|i| if belongs[i] { change(i) } else { 0.0 })
        .collect();
    let mut within: Vec<f32> = (0..colours.len())
        .filter(|&i| belongs[i])
        .map(|i| changes[i])
        .collect();
    let at = (within.len() as f64 * CALM) as usize;
    let limit = if at < within.len() {
        *within.select_nth_unstable_by(at, f32::total_cmp).1
    } else {
        f32::MAX
    };
    (0..colours.len())
        .map(|i| belongs[i] && changes[i] <= limit)
        .collect()
}
