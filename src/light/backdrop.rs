//! What the backdrop says of how the light changes over a photo.

use super::Surroundings;
use super::field::{Fit, median};
use nalgebra::Vector4;

/// How many independent pairs of places all of the backdrop is worth: its stains and grain are large.
const WORTH: f64 = 40.0;

/// A cell of backdrop, as part of the photo's longer side.
const CELL: f64 = 1.0 / 42.0;

/// Cells that are compared lie so many cells apart.
const APART: usize = 20;

/// Cells of one material differ by at most this, natural logarithms: of light, and of a channel by another.
const ALIKE: (f64, f64) = (0.4, 0.12);

/// How often the pairs that fit badly lose weight and the light is fitted anew.
const ROUNDS: usize = 8;

/// Adds what pairs of cells of the same material say; pairs that fit badly (stains, shadows, another material after all)
/// count for little.
pub(super) fn backdrop(
    fit: &mut Fit,
    around: &Surroundings<'_>,
    lightness: impl Fn([f64; 3]) -> f64,
) {
    let pairs = pairs(fit, around, lightness);
    if pairs.is_empty() {
        return;
    }
    let (normal, right) = (fit.normal, fit.right);
    for _ in 0..ROUNDS {
        let found = fit.solved();
        let rest = |(row, change): &(Vector4<f64>, f64)| change - row.dot(&found);
        let usual = 1.4826 * median(pairs.iter().map(|p| rest(p).abs()).collect()) + 1e-4;
        (fit.normal, fit.right) = (normal, right);
        for pair in &pairs {
            let weight = WORTH / pairs.len() as f64 / (1.0 + (rest(pair) / usual).powi(2));
            fit.add(pair.0, pair.1, usual / weight.sqrt());
        }
    }
}

/// Pairs of cells of the same material: how their light should differ, and does.
fn pairs(
    fit: &Fit,
    around: &Surroundings<'_>,
    lightness: impl Fn([f64; 3]) -> f64,
) -> Vec<(Vector4<f64>, f64)> {
    let (cells, across) = cells(around);
    let down = cells.len() / across.max(1);
    let known: Vec<Option<(Vector4<f64>, [f64; 3])>> = cells
        .iter()
        .map(|cell| {
            let (place, light) = (*cell)?;
            let [r, g, b] = light.map(|v| v.max(1e-4).ln());
            Some((fit.light(place), [lightness(light), r - g, b - g]))
        })
        .collect();
    let at = |x: usize, y: usize| {
        let inside = x < across && y < down;
        inside.then(|| known[y * across + x]).flatten()
    };
    let mut pairs = Vec::new();
    for (x, y) in (0..down).flat_map(|y| (0..across).map(move |x| (x, y))) {
        let others = [
            (x + APART, y),
            (x, y + APART),
            (x + APART, y + APART),
            (x.wrapping_sub(APART), y + APART),
        ];
        let Some((here, one)) = at(x, y) else {
            continue;
        };
        for (there, other) in others.into_iter().filter_map(|(x, y)| at(x, y)) {
            let [light, red, blue] = [0, 1, 2].map(|i| other[i] - one[i]);
            if light.abs() < ALIKE.0 && red.abs() < ALIKE.1 && blue.abs() < ALIKE.1 {
                pairs.push((there - here, light));
            }
        }
    }
    pairs
}

/// The middle of a cell, in pixels of the upright photo, and its mean light as photographed.
type Cell = ([f64; 2], [f64; 3]);

/// The cells of the photo, row by row, with how many there are in a row; none where something else than backdrop is.
fn cells(around: &Surroundings<'_>) -> (Vec<Option<Cell>>, usize) {
    let (picture, bare) = (around.picture, around.bare);
    let side = (picture.width.max(picture.height) as f64 * CELL)
        .round()
        .max(1.0) as usize;
    let (across, down) = (picture.width / side, picture.height / side);
    let cell = |n: usize| {
        let (left, top) = (n % across * side, n / across * side);
        let mut sum = [0f64; 3];
        for y in top..top + side {
            let row = y * picture.width + left;
            if bare.pixels[row..row + side].contains(&false) {
                return None;
            }
            for pixel in &picture.pixels[row..row + side] {
                for (sum, value) in sum.iter_mut().zip(pixel.array()) {
                    *sum += value;
                }
            }
        }
        let middle = [left, top].map(|p| (p as f64 + side as f64 / 2.0) * around.step as f64);
        Some((middle, sum.map(|s| s / (side * side) as f64)))
    };
    ((0..across * down).map(cell).collect(), across)
}
