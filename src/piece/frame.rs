//! What the frame of a photo tells of the backdrop.

use super::field::Field;
use super::mixture::Feature;
use crate::picture::Mask;

/// A colour of the frame is backdrop where this many of a hundred pixels of the frame are like it, and this many far away.
const LIKE: usize = 9;
const AFAR: usize = 2;
/// How far a corner of the frame reaches, as a hundredth of the shorter side.
const CORNER: usize = 15;

/// Pixels of the frame whose colours are seen elsewhere on the frame, too.
pub(super) fn seeds(field: &Field) -> Mask {
    let (width, height) = (field.width(), field.height());
    let mut seeds = Mask::empty(width, height);
    let ring = ring(width, height);
    let shown: Vec<usize> = ring
        .iter()
        .copied()
        .filter(|&i| !field.hidden.pixels[i])
        .collect();
    let length = ring.len();
    let place: Vec<usize> = (0..length)
        .filter(|&k| !field.hidden.pixels[ring[k]])
        .collect();
    for (a, &i) in shown.iter().enumerate() {
        let (mut like, mut afar) = (0, 0);
        for (b, &j) in shown.iter().enumerate() {
            if alike(field.features.pixels[i], field.features.pixels[j]) {
                let apart = place[a].abs_diff(place[b]);
                like += 1;
                afar += usize::from(apart.min(length - apart) * 5 >= length);
            }
        }
        seeds.pixels[i] = like * 100 >= LIKE * length && afar * 100 >= AFAR * length;
    }
    if seeds.count() * 4 < length {
        for &i in &shown {
            seeds.pixels[i] = true;
        }
    }
    seeds
}

/// Pixels of the frame whose colours are seen near its corners, as often as to fill so many of the four.
pub(super) fn cornered(field: &Field, filled: f32) -> Mask {
    let (width, height) = (field.width(), field.height());
    let mut seeds = Mask::empty(width, height);
    let ring = ring(width, height);
    let reach = width.min(height) * CORNER / 100;
    let near = |at: usize, end: usize| at <= reach || at + reach >= end;
    let corners: Vec<usize> = ring
        .iter()
        .copied()
        .filter(|&i| !field.hidden.pixels[i] && near(i % width, width) && near(i / width, height))
        .collect();
    for i in ring {
        let like = corners
            .iter()
            .filter(|&&j| alike(field.features.pixels[i], field.features.pixels[j]))
            .count();
        seeds.pixels[i] =
            !field.hidden.pixels[i] && like as f32 * 4.0 >= filled * corners.len() as f32;
    }
    seeds
}

/// The outermost pixels but one, in order around the picture.
fn ring(width: usize, height: usize) -> Vec<usize> {
    let (right, bottom) = (width - 2, height - 2);
    let mut ring = Vec::new();
    ring.extend((1..right).map(|x| width + x));
    ring.extend((1..bottom).map(|y| y * width + right));
    ring.extend((2..=right).rev().map(|x| bottom * width + x));
    ring.extend((2..=bottom).rev().map(|y| y * width + 1));
    ring
}

/// Whether two colours may be one material in different shade.
fn alike(one: Feature, other: Feature) -> bool {
    let hue = (one[1] - other[1]).powi(2) + (one[2] - other[2]).powi(2);
    (one[0] - other[0]).abs() < 10.0 && hue < 4.0 * 4.0
}
