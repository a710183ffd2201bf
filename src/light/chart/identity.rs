//! Whether a grid of colours in a picture is the chart's.

use super::Chart;
use crate::colour::{Matrix, apply, inverse};
use nalgebra::{Matrix4, Matrix4x3, RowVector3, Vector4};

/// The share of patches that may be hidden by glare or shadow without harm.
const HIDDEN: f64 = 0.2;

/// The chart's colours as a picture in true light would show them: encoded, in the file's primaries, patch by patch.
pub(super) fn expected(chart: &Chart, to_xyz: &Matrix) -> Vec<[f64; 3]> {
    let back = inverse(*to_xyz);
    let light = |p: &super::Patch| apply(back, [p.xyz.x, p.xyz.y, p.xyz.z]);
    chart
        .patches
        .iter()
        .map(|p| light(p).map(encoded))
        .collect()
}

/// Light as steps an eye finds even, about the square root.
pub(super) fn encoded(light: f64) -> f64 {
    light.max(0.0).sqrt()
}

/// How well colours seen can be the chart's under some light and camera: of what they differ among one another, the part that
/// an affine map of the expected colours explains, from 1 (all of it) down; the worst fifth does not count. At most 0 where
/// a channel would have to run backwards.
pub(super) fn likeness(expected: &[[f64; 3]], seen: &[Option<[f64; 3]>]) -> f64 {
    let mut pairs: Vec<([f64; 3], [f64; 3])> = expected
        .iter()
        .zip(seen)
        .filter_map(|(e, s)| Some((*e, (*s)?)))
        .collect();
    if pairs.len() * 2 < expected.len() || pairs.len() < 6 {
        return 0.0;
    }
    let hidden = (HIDDEN * pairs.len() as f64) as usize;
    for left in (0..=hidden).rev() {
        let Some(map) = map(&pairs) else { return 0.0 };
        if left == 0 {
            return explained(&pairs, &map);
        }
        let off = |pair: &([f64; 3], [f64; 3])| rest(pair, &map).norm_squared();
        let worst = (0..pairs.len()).max_by(|&a, &b| off(&pairs[a]).total_cmp(&off(&pairs[b])));
        pairs.remove(worst.unwrap_or_default());
    }
    0.0
}

fn terms([r, g, b]: [f64; 3]) -> Vector4<f64> {
    Vector4::new(r, g, b, 1.0)
}

fn map(pairs: &[([f64; 3], [f64; 3])]) -> Option<Matrix4x3<f64>> {
    let mut square = Matrix4::identity() * 1e-4;
    let mut right = Matrix4x3::zeros();
    for (expected, seen) in pairs {
        let terms = terms(*expected);
        square += terms * terms.transpose();
        right += terms * RowVector3::from(*seen);
    }
    Some(square.cholesky()?.solve(&right))
}

fn rest((expected, seen): &([f64; 3], [f64; 3]), map: &Matrix4x3<f64>) -> RowVector3<f64> {
    RowVector3::from(*seen) - terms(*expected).transpose() * map
}

fn explained(pairs: &[([f64; 3], [f64; 3])], map: &Matrix4x3<f64>) -> f64 {
    if (0..3).any(|c| map[(c, c)] <= 0.0) {
        return 0.0;
    }
    let count = pairs.len() as f64;
    let mean = pairs
        .iter()
        .map(|(_, s)| RowVector3::from(*s))
        .sum::<RowVector3<f64>>()
        / count;
    let all: f64 = pairs
        .iter()
        .map(|(_, s)| (RowVector3::from(*s) - mean).norm_squared())
        .sum();
    let left: f64 = pairs
        .iter()
        .map(|pair| rest(pair, map).norm_squared())
        .sum();
    // Four terms a channel explain as much of pure chance as four patches are of all.
    1.0 - left / all.max(1e-9) * (count - 1.0) / (count - 4.0).max(1.0)
}
