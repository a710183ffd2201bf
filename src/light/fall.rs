//! How the light changes over the photo, from what the tags, the backdrop and lenses in general say of it.

use super::Surroundings;
use super::backdrop::backdrop;
use super::cautions::SHADED;
use super::field::{Fit, median};
use super::sample::Sample;
use super::tone::Bend;
use crate::colour::Matrix;
use crate::reading::Fall;

/// One standard deviation of a tag's white against its neighbours': paper lies at its own angle, natural logarithm.
const LEVEL: f64 = 0.012;

/// One standard deviation of the slope over one tag, natural logarithm by half the longer side: paper curls.
const CURL: f64 = 0.03;

/// The light over a photo of `size`, 0 at the tags: a plane that bends down to all sides, from the slope over each tag, the
/// tags' whites against each other, the backdrop, and what is usual.
///
/// A tag whose channel is at its top or across which a shadow falls says nothing of slopes.
pub(super) fn fall(
    samples: &[Sample],
    bend: Bend,
    matrix: Matrix,
    around: &Surroundings<'_>,
) -> Fall {
    let tone = bend.tone;
    let lightness = |light: [f64; 3]| -> f64 {
        let sum: f64 = (0..3).map(|c| matrix[1][c] * tone.undo(light[c])).sum();
        sum.max(1e-6).ln()
    };
    let mut fit = Fit::usual(around.size);
    let mut places = Vec::new();
    for sample in samples {
        let points: Vec<[f64; 3]> = sample
            .whites
            .iter()
            .map(|m| [m.place[0], m.place[1], lightness(m.light)])
            .collect();
        let [x, y, _] = middle(&points);
        places.push([x, y]);
        if sample.clipped.contains(&true) {
            continue;
        }
        fit.add(fit.light([x, y]), lightness(sample.white), LEVEL);
        if sample.uneven <= SHADED {
            let slope = robust_plane(points);
            fit.add_slope([x, y], slope, [CURL; 2]);
        }
    }
    backdrop(&mut fit, around, lightness);
    fit.fall(&places)
}

/// How often modules that do not fit (a thumb, a stain, a shadow's edge) are set aside and the plane fitted anew.
const FITS: usize = 3;

/// The slopes of the least-squares plane through points that fit it; even where they do not span one.
fn robust_plane(mut points: Vec<[f64; 3]>) -> [f64; 2] {
    let mut slope = plane(&points);
    for _ in 0..FITS {
        points = fitting(points, slope);
        slope = plane(&points);
    }
    slope
}

/// The slopes of the least-squares plane; even where the points do not span one.
fn plane(points: &[[f64; 3]]) -> [f64; 2] {
    let [mx, my, mz] = middle(points);
    let (mut xx, mut xy, mut yy, mut xz, mut yz) = (0.0, 0.0, 0.0, 0.0, 0.0);
    for [x, y, z] in points.iter().map(|[x, y, z]| [x - mx, y - my, z - mz]) {
        xx += x * x;
        xy += x * y;
        yy += y * y;
        xz += x * z;
        yz += y * z;
    }
    let spread = xx * yy - xy * xy;
    if spread <= 1e-9 * xx * yy || spread <= 0.0 {
        return [0.0; 2];
    }
    [(xz * yy - yz * xy) / spread, (yz * xx - xz * xy) / spread]
}

/// The points within three (scaled) median deviations of the plane of this slope.
fn fitting(points: Vec<[f64; 3]>, slope: [f64; 2]) -> Vec<[f64; 3]> {
    let rest = |[x, y, z]: &[f64; 3]| z - slope[0] * x - slope[1] * y;
    let centre = median(points.iter().map(rest).collect());
    let off = |p: &[f64; 3]| (rest(p) - centre).abs();
    let usual = 1.4826 * median(points.iter().map(off).collect());
    points
        .into_iter()
        .filter(|p| off(p) <= 3.0 * usual + 1e-9)
        .collect()
}

fn middle(points: &[[f64; 3]]) -> [f64; 3] {
    [0, 1, 2].map(|axis| points.iter().map(|p| p[axis]).sum::<f64>() / points.len().max(1) as f64)
}
