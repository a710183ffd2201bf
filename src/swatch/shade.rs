//! How brightly each place of a cloth is lit, told from its colours.

use super::groups::{self, Group, Histogram, Point};
use crate::colour::{Lab, Lab32};
use crate::picture::{Mask, Picture};

/// Pixels this near to the cloth's edge are mixed with the backdrop.
const RIM: usize = 2;
/// Cells that are enough to know a cloth by.
const ENOUGH: usize = 40_000;
/// Folds and uneven light change the cube root of light by at most this part.
const MOST: f32 = 0.12;
/// The part of the cells that look most like their neighbours: colours are known from these.
const CALM: f64 = 0.7;

/// The cloth in cells of a few pixels.
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
        let inner = inner(mask);
        let step = cells(inner.iter().filter(|&&i| i).count());
        let (width, height) = (picture.width.div_ceil(step), picture.height.div_ceil(step));
        let mut sums = vec![[0f32; 3]; width * height];
        let mut counts = vec![0f32; width * height];
        for (i, pixel) in picture.pixels.iter().enumerate() {
            if inner[i] {
                let cell = i / picture.width / step * width + i % picture.width / step;
                counts[cell] += 1.0;
                for (sum, value) in sums[cell]
                    .iter_mut()
                    .zip([pixel.l + 16.0, pixel.a, pixel.b])
                {
                    *sum += value;
                }
            }
        }
        let colours: Vec<[f32; 3]> = sums
            .iter()
            .zip(&counts)
            .map(|(sum, count)| sum.map(|s| s / count.max(1.0)))
            .collect();
        let belongs: Vec<bool> = counts.iter().map(|&c| c > 0.0).collect();
        Self {
            calm: calm(&colours, &belongs, width),
            light: vec![0.0; belongs.len()],
            width,
            height,
            colours,
            belongs,
        }
    }

    /// The histogram of the cells in even light: of the calm ones, or of all.
    pub(super) fn points(&self, calm: bool) -> Vec<Point> {
        let mut histogram = Histogram::default();
        for i in 0..self.colours.len() {
            if self.belongs[i] && (!calm || self.calm[i]) {
                histogram.add(self.even(i));
            }
        }
        histogram.points()
    }

    fn even(&self, cell: usize) -> Lab {
        let [l, a, b] = self.colours[cell].map(|v| f64::from(v * (-self.light[cell]).exp()));
        Lab::new(l - 16.0, a, b)
    }

    /// Tells the light of each place from the colours found, averaged over `reach`.
    pub(super) fn relight(&mut self, found: &[Group], reach: f64) {
        let mut light = vec![0f32; self.colours.len()];
        let mut weight = light.clone();
        for i in 0..light.len() {
            if self.belongs[i] && self.calm[i] {
                let group = found[groups::nearest(found, self.even(i))];
                let ratio = (self.colours[i][0].max(1.0) / (group.mean.l as f32 + 16.0)).ln();
                light[i] = ratio.clamp(-MOST, MOST);
                weight[i] = 1.0;
            }
        }
        let area = self.belongs.iter().filter(|&&b| b).count() as f64;
        let radius = ((reach * area.sqrt()) as usize).max(1);
        for map in [&mut light, &mut weight] {
            for _ in 0..2 {
                *map = blurred(map, self.width, self.height, radius);
            }
        }
        let (mut sum, mut total) = (0f64, 0f64);
        for i in 0..light.len() {
            self.light[i] = light[i] / weight[i].max(1e-3);
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

/// The side of a cell, pixels, for a cloth of so many pixels.
fn cells(pixels: usize) -> usize {
    (pixels as f64 / ENOUGH as f64).sqrt().ceil().max(1.0) as usize
}

/// Which pixels lie wholly inside; all of the mask where it is thinner than its rim.
fn inner(mask: &Mask) -> Vec<bool> {
    let (width, height) = (mask.width, mask.height);
    let mut inside = mask.pixels.clone();
    for _ in 0..RIM {
        let before = inside.clone();
        for (i, belongs) in inside.iter_mut().enumerate() {
            let (x, y) = (i % width, i / width);
            *belongs = before[i]
                && (x == 0 || before[i - 1])
                && (x + 1 == width || before[i + 1])
                && (y == 0 || before[i - width])
                && (y + 1 == height || before[i + width]);
        }
    }
    if inside.contains(&true) {
        inside
    } else {
        mask.pixels.clone()
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
    let changes: Vec<f32> = (0..colours.len()).map(change).collect();
    let mut sorted: Vec<f32> = (0..colours.len())
        .filter(|&i| belongs[i])
        .map(|i| changes[i])
        .collect();
    sorted.sort_unstable_by(f32::total_cmp);
    let at = (sorted.len() as f64 * CALM) as usize;
    let limit = sorted.get(at).copied().unwrap_or(f32::MAX);
    (0..colours.len())
        .map(|i| belongs[i] && changes[i] <= limit)
        .collect()
}

/// Means over squares of `2 * radius + 1` cells; what lies outside counts as nothing.
fn blurred(map: &[f32], width: usize, height: usize, radius: usize) -> Vec<f32> {
    let mut out = vec![0f32; map.len()];
    let mut across = vec![0f32; map.len()];
    for y in 0..height {
        let row = y * width;
        slide(width, radius, |k| map[row + k], |k, v| across[row + k] = v);
    }
    for x in 0..width {
        slide(
            height,
            radius,
            |k| across[k * width + x],
            |k, v| out[k * width + x] = v,
        );
    }
    out
}

fn slide(
    length: usize,
    radius: usize,
    value: impl Fn(usize) -> f32,
    mut put: impl FnMut(usize, f32),
) {
    let mut sum: f64 = (0..radius.min(length)).map(|k| f64::from(value(k))).sum();
    for k in 0..length {
        if k + radius < length {
            sum += f64::from(value(k + radius));
        }
        put(k, (sum / (2 * radius + 1) as f64) as f32);
        if k >= radius {
            sum -= f64::from(value(k - radius));
        }
    }
}
