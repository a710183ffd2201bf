//! What it costs to part neighbours: little where they differ.

use super::cut::{Grid, STEPS};
use super::mixture::Feature;
use crate::picture::Picture;

/// One unit of cost.
pub(super) const UNIT: f32 = 100.0;
/// The cost of a cut between pixels that look alike, against the evidence of one pixel.
const SMOOTH: f32 = 6.0;

/// Of the eight directions of [`STEPS`] the four that name each pair of neighbours once.
const ONCE: [usize; 4] = [0, 2, 4, 6];

/// A grid in which parting two neighbours costs the more, the more they are alike.
pub(super) fn tied(features: &Picture<Feature>) -> Grid {
    let contrast = contrast(features);
    let (width, height) = (features.width, features.height);
    let mut grid = Grid::new(width, height);
    for (i, &feature) in features.pixels.iter().enumerate() {
        let (x, y) = (i % width, i / width);
        for direction in ONCE {
            let (dx, dy) = STEPS[direction];
            let (Some(u), Some(v)) = (x.checked_add_signed(dx), y.checked_add_signed(dy)) else {
                continue;
            };
            if u < width && v < height {
                let alike = (-square(feature, *features.at(u, v)) / contrast).exp();
                let far = if direction >= 4 { 1.414 } else { 1.0 };
                let cost = (SMOOTH * (alike + 0.05) / far * UNIT) as i32;
                grid.tie(x, y, direction, cost);
                grid.tie(u, v, direction ^ 1, cost);
            }
        }
    }
    grid
}

fn square(one: Feature, other: Feature) -> f32 {
    (0..3).map(|i| (one[i] - other[i]).powi(2)).sum()
}

/// Twice the mean squared difference of neighbours.
fn contrast(features: &Picture<Feature>) -> f32 {
    let mut sum = 0.0;
    let mut count = 0.0;
    for row in features.pixels.chunks_exact(features.width) {
        for pair in row.windows(2) {
            sum += square(pair[0], pair[1]);
            count += 1.0;
        }
    }
    (2.0 * sum / f32::max(count, 1.0)).max(8.0)
}
