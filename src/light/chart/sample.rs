//! The patches of a chart as the photo shows them.

use super::grid::Grid;
use super::{Chart, Corners};
use crate::colour::Xyz;
use crate::picture::Photograph;

/// The inner part of a patch that is read, each way: edges, blur and sharpening stay outside.
const INNER: f64 = 0.5;

/// Points read across a patch, each way.
const POINTS: usize = 16;

/// How wide a patch may be by the distance to the next: from wide gaps to none.
const SIZES: [f64; 5] = [0.6, 0.7, 0.8, 0.9, 1.0];

/// Linear light from which a channel counts as being at the top of its range (sample 253 of 255 in sRGB).
const TOP: f64 = 0.982;

/// Linear light up to which a channel counts as being at its bottom (sample 2 of 255 in sRGB).
const BOTTOM: f64 = 0.0007;

/// One patch as photographed, and what it should be.
#[derive(Clone, Debug)]
pub(super) struct Sample {
    /// Its place on the chart, such as `A1`.
    pub id: String,
    /// Its true colour.
    pub xyz: Xyz,
    /// Its middle, in pixels of the photo.
    pub place: [f64; 2],
    /// Linear light as photographed: the median of each channel.
    pub seen: [f64; 3],
    /// Natural logarithm of light a pixel to the right and a pixel down within the patch, before the tone curve is undone.
    pub slope: [f64; 2],
    /// How far light strays from that slope within the patch, as part of it.
    pub spread: f64,
    /// Whether a channel is at its top.
    pub clipped: bool,
    /// Whether a channel is at its bottom: the colour is more vivid than the file's primaries can hold.
    pub beyond: bool,
}

impl Sample {
    /// Whether the file could hold the colour, so that it can be fitted.
    pub fn holds(&self) -> bool {
        !self.clipped && !self.beyond
    }
}

/// All patches that lie wholly in the photo.
pub(super) fn take(photo: &Photograph, chart: &Chart, corners: Corners) -> Vec<Sample> {
    let sizes = SIZES
        .iter()
        .flat_map(|&across| SIZES.map(|down| [across, down]));
    let grids = sizes.filter_map(|size| Grid::new(chart, corners, size));
    let unrest = |grid: &Grid| unrest(photo, chart, grid);
    let best = grids
        .map(|grid| (unrest(&grid), grid))
        .min_by(|a, b| a.0.total_cmp(&b.0));
    best.map_or_else(Vec::new, |(_, grid)| patches(photo, chart, &grid))
}

/// How much light changes over the patches, edges included: least where the grid's patches are the chart's own.
fn unrest(photo: &Photograph, chart: &Chart, grid: &Grid) -> f64 {
    let mut all: Vec<f64> = Vec::with_capacity(chart.patches.len());
    for patch in &chart.patches {
        let points = [-0.7, 0.0, 0.7].map(|v| [-0.7, 0.0, 0.7].map(|u| [u, v]));
        let seen = points.as_flattened().iter().filter_map(|&p| {
            let [r, g, b] = read(photo, grid.point(patch.row, patch.column, p))?;
            Some([r.sqrt(), g.sqrt(), b.sqrt()])
        });
        let seen: Vec<[f64; 3]> = seen.collect();
        let reach = |c: usize| {
            let values = seen.iter().map(|s| s[c]);
            values.clone().fold(0.0, f64::max) - values.fold(1.0, f64::min)
        };
        all.push((0..3).map(reach).fold(0.0, f64::max));
    }
    all.sort_by(f64::total_cmp);
    // Half of the patches, so that glare over some does not decide; smaller patches are quieter by nature.
    let quiet = all.iter().take(all.len().div_ceil(2)).sum::<f64>();
    quiet + 0.01 * all.len() as f64 * (2.0 - grid.patch[0] - grid.patch[1])
}

fn patches(photo: &Photograph, chart: &Chart, grid: &Grid) -> Vec<Sample> {
    let mut all = Vec::with_capacity(chart.patches.len());
    for patch in &chart.patches {
        let step = |n: usize| INNER * (2.0 * (n as f64 + 0.5) / POINTS as f64 - 1.0);
        let places: Vec<[f64; 2]> = (0..POINTS * POINTS)
            .map(|n| {
                grid.point(
                    patch.row,
                    patch.column,
                    [step(n % POINTS), step(n / POINTS)],
                )
            })
            .collect();
        let Some(seen) = places
            .iter()
            .map(|&p| read(photo, p))
            .collect::<Option<Vec<_>>>()
        else {
            continue;
        };
        let at_top = seen.iter().filter(|s| s.iter().any(|v| *v >= TOP)).count();
        let (slope, spread) = slope(&places, &seen);
        let at_bottom = seen
            .iter()
            .filter(|s| s.iter().any(|v| *v <= BOTTOM))
            .count();
        all.push(Sample {
            id: patch.id.clone(),
            xyz: patch.xyz,
            place: grid.to_photo.at([patch.column as f64, patch.row as f64]),
            seen: [0, 1, 2].map(|c| median(seen.iter().map(|s| s[c]).collect())),
            slope,
            spread,
            clipped: 4 * at_top > seen.len(),
            beyond: 4 * at_bottom > seen.len(),
        });
    }
    all
}

/// Linear light at a point; `None` outside the photo.
pub(super) fn read(photo: &Photograph, [x, y]: [f64; 2]) -> Option<[f64; 3]> {
    let held = (0.0..photo.width as f64).contains(&x) && (0.0..photo.height as f64).contains(&y);
    held.then(|| photo.linear(x as usize, y as usize).array())
}

/// The plane of the logarithm of light over a patch, and the scaled median deviation from it.
fn slope(places: &[[f64; 2]], seen: &[[f64; 3]]) -> ([f64; 2], f64) {
    let light: Vec<f64> = seen
        .iter()
        .map(|[r, g, b]| (0.3 * r + 0.6 * g + 0.1 * b).max(1e-5).ln())
        .collect();
    let count = light.len() as f64;
    let mean = [0, 1].map(|axis| places.iter().map(|p| p[axis]).sum::<f64>() / count);
    let middle = light.iter().sum::<f64>() / count;
    let (mut xx, mut xy, mut yy, mut xz, mut yz) = (0.0, 0.0, 0.0, 0.0, 0.0);
    for (place, light) in places.iter().zip(&light) {
        let (x, y, z) = (place[0] - mean[0], place[1] - mean[1], light - middle);
        xx += x * x;
        xy += x * y;
        yy += y * y;
        xz += x * z;
        yz += y * z;
    }
    let whole = xx * yy - xy * xy;
    let slope = if whole > 1e-9 * xx * yy {
        [(xz * yy - yz * xy) / whole, (yz * xx - xz * xy) / whole]
    } else {
        [0.0; 2]
    };
    let off = places.iter().zip(&light).map(|(p, light)| {
        (light - middle - slope[0] * (p[0] - mean[0]) - slope[1] * (p[1] - mean[1])).abs()
    });
    (slope, 1.4826 * median(off.collect()))
}

/// The middle value; 0 of nothing.
pub(super) fn median(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    values.get(values.len() / 2).copied().unwrap_or(0.0)
}
