//! Regions of even colour, which patches are.

use super::identity::encoded;
use crate::colour::CameraRgb;
use crate::picture::Picture;

/// A picture in steps an eye finds even.
pub(super) type Even = Picture<[f32; 3]>;

/// A region's area by that of the parallelogram with its second moments: 1 for any parallelogram, 1.05 for an ellipse, less
/// for anything ragged, hollow or bent.
const LIKE_A_PATCH: std::ops::Range<f64> = 0.86..1.06;
/// The longer axis of a patch by its shorter at most, slant included.
const LONGEST: f64 = 3.5;
/// The smallest region, pixels.
const SMALLEST: usize = 9;
/// How far a region's edge lies inside the patch's own, pixels: the reach of the difference and some blur.
const EDGE: f64 = 1.2;

/// A region shaped like a patch.
#[derive(Clone, Debug)]
pub(super) struct Region {
    /// Its middle, in the picture's pixels.
    pub middle: [f64; 2],
    /// The second moments of the patch around its middle, pixels squared: xx, xy, yy.
    pub moments: [f64; 3],
    /// The side of a square of the patch's area.
    pub side: f64,
}

pub(super) fn even(picture: &Picture<CameraRgb>) -> Even {
    picture.map(|p| p.array().map(|v| encoded(v) as f32))
}

/// All regions shaped like a patch in which neighbours two pixels apart differ by less than `step` in every channel, and
/// that cover `most` pixels at most.
pub(super) fn regions(picture: &Even, step: f32, most: usize) -> Vec<Region> {
    let mut flat = flat(picture, step);
    let mut found = Vec::new();
    let mut stack = Vec::new();
    for start in 0..flat.len() {
        if !flat[start] {
            continue;
        }
        let mut sums = Sums::default();
        flat[start] = false;
        stack.push(start);
        while let Some(at) = stack.pop() {
            let (x, y) = (at % picture.width, at / picture.width);
            sums.add(x as f64 + 0.5, y as f64 + 0.5);
            // The frame of the picture is never flat, so neighbours exist.
            for next in [at - 1, at + 1, at - picture.width, at + picture.width] {
                if flat[next] {
                    flat[next] = false;
                    stack.push(next);
                }
            }
        }
        found.extend(sums.region(most));
    }
    found
}

fn flat(picture: &Even, step: f32) -> Vec<bool> {
    let (width, height) = (picture.width, picture.height);
    let mut flat = vec![false; width * height];
    for y in 1..height.saturating_sub(1) {
        let row = |y: usize| &picture.pixels[y * width..(y + 1) * width];
        let (above, here, below) = (row(y - 1), row(y), row(y + 1));
        for x in 1..width.saturating_sub(1) {
            let near = |a: &[f32; 3], b: &[f32; 3]| (0..3).all(|c| (a[c] - b[c]).abs() < step);
            flat[y * width + x] = near(&here[x - 1], &here[x + 1]) && near(&above[x], &below[x]);
        }
    }
    flat
}

/// Moments of a region as it grows.
#[derive(Default)]
struct Sums {
    count: usize,
    first: [f64; 2],
    second: [f64; 3],
}

impl Sums {
    fn add(&mut self, x: f64, y: f64) {
        self.count += 1;
        self.first = [self.first[0] + x, self.first[1] + y];
        let [xx, xy, yy] = self.second;
        self.second = [xx + x * x, xy + x * y, yy + y * y];
    }

    /// The region, where it is shaped like a patch.
    fn region(&self, most: usize) -> Option<Region> {
        if self.count < SMALLEST || self.count > most {
            return None;
        }
        let count = self.count as f64;
        let [x, y] = self.first.map(|s| s / count);
        // A pixel is a square, not a point: a twelfth.
        let xx = self.second[0] / count - x * x + 1.0 / 12.0;
        let xy = self.second[1] / count - x * y;
        let yy = self.second[2] / count - y * y + 1.0 / 12.0;
        let whole = (xx * yy - xy * xy).max(1e-9);
        if !LIKE_A_PATCH.contains(&(count / (12.0 * whole.sqrt()))) {
            return None;
        }
        let half = (xx + yy) / 2.0;
        let apart = (half * half - whole).max(0.0).sqrt();
        let (long, short) = ((half + apart).sqrt(), (half - apart).max(1e-9).sqrt());
        if long > LONGEST * short {
            return None;
        }
        // A side of s has a second moment of s²/12; the patch reaches over the region by EDGE at each end of both axes.
        let grown = |axis: f64| (axis * 12f64.sqrt() + 2.0 * EDGE) / (axis * 12f64.sqrt());
        let grown = (grown(long) * grown(short)).sqrt();
        Some(Region {
            middle: [x, y],
            moments: [xx, xy, yy].map(|m| m * grown * grown),
            side: count.sqrt() * grown,
        })
    }
}
