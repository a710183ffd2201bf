//! How finely a photo tells colours apart.
//!
//! A pale cloth on pale plaster differs from it by a few units of colour. Grain is often far finer than that, so an eye that
//! knows the grain sees the edge at once.

use super::mixture::Feature;
use crate::picture::Picture;

/// The grain of the colour ratios is stretched to this at most, in units of the features: the mixtures' parts are no narrower.
const GRAIN: f32 = 2.0;
/// Colours are stretched by no more than this: slow changes of light and dirt are not grain, and they are stretched as well.
const MOST: f32 = 6.0;
/// The median of the squared length of a normally distributed pair, over the variance of one: 2 ln 2.
const MEDIAN: f32 = 1.386;
/// The variance of a pixel less its neighbours' mean, twice, over that of one pixel: 1 + 1 + 4.
const SECOND: f32 = 6.0;

/// The picture with its two colour ratios stretched where they are hardly grainy.
pub(super) fn stretched(features: &Picture<Feature>) -> Picture<Feature> {
    let factor = (GRAIN / grain(features).max(GRAIN / MOST)).max(1.0);
    features.map(|&[light, a, b]| [light, factor * a, factor * b])
}

/// The standard deviation of grain in one colour ratio. The median of second differences along rows passes over edges and
/// slopes (after Immerkær 1996, Fast noise variance estimation, doi 10.1006/cviu.1996.0060).
fn grain(features: &Picture<Feature>) -> f32 {
    let rows = features.pixels.chunks_exact(features.width.max(1));
    let mut squares: Vec<f32> = rows.flat_map(|row| row.windows(3)).map(bend).collect();
    if squares.is_empty() {
        return GRAIN;
    }
    let middle = squares.len() / 2;
    let median = *squares.select_nth_unstable_by(middle, f32::total_cmp).1;
    (median / SECOND / MEDIAN).sqrt()
}

/// The squared second difference of the colour ratios of three neighbours.
fn bend(three: &[Feature]) -> f32 {
    (1..3)
        .map(|k| (three[0][k] - 2.0 * three[1][k] + three[2][k]).powi(2))
        .sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A slope with an edge in it and grain of standard deviation `grain`, from sums of twelve even draws.
    fn grainy(grain: f32) -> Picture<Feature> {
        let mut state = 7u32;
        let mut draw = || {
            let sum: f32 = (0..12)
                .map(|_| {
                    state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                    (state >> 8) as f32 / (1u32 << 24) as f32
                })
                .sum();
            grain * (sum - 6.0)
        };
        let pixels = (0..120 * 90)
            .map(|i| {
                let x = (i % 120) as f32;
                let edge = if x > 70.0 { 30.0 } else { 0.0 };
                [
                    5.0 * draw(),
                    0.1 * x + edge + draw(),
                    edge - 0.05 * x + draw(),
                ]
            })
            .collect();
        Picture {
            width: 120,
            height: 90,
            pixels,
        }
    }

    #[test]
    fn grain_is_told_from_slopes_and_edges() {
        for true_grain in [0.2, 1.0, 4.0] {
            let found = grain(&grainy(true_grain));
            assert!((found / true_grain - 1.0).abs() < 0.05, "{found}");
        }
    }

    #[test]
    fn colours_are_stretched_as_far_as_their_grain_allows() {
        for (true_grain, factor) in [(0.05, MOST), (0.5, 4.0), (4.0, 1.0)] {
            let before = grainy(true_grain);
            let after = stretched(&before);
            let ratio = after.pixels[80][1] / before.pixels[80][1];
            assert!((ratio / factor - 1.0).abs() < 0.05, "{ratio}");
            assert_eq!(after.pixels[80][0], before.pixels[80][0]);
        }
    }
}
