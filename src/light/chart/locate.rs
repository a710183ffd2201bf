//! The chart in a picture, by itself.

use super::flat::{Even, Region, even, regions};
use super::homography::Homography;
use super::identity::{expected, likeness};
use super::lattice::{Cell, Lattice, lattices};
use super::sample::median;
use super::{Chart, Corners};
use crate::colour::CameraRgb;
use crate::picture::{Photograph, Picture};

/// How much neighbours two pixels apart may differ within a patch, from a clean picture to a noisy one.
const STEPS: [f32; 3] = [0.02, 0.035, 0.012];
/// The likeness from which a grid of colours is the chart; grids of other things stay below 0.6.
const SURE: f64 = 0.85;
/// The likeness from which nothing better is looked for.
const CERTAIN: f64 = 0.95;
/// The part of a lattice's regions that must lie on the chart.
const ON_THE_CHART: f64 = 0.65;

/// A way to lay the chart into the picture.
struct Laid {
    likeness: f64,
    /// From the chart's coordinates, in which patch (row, column) has its middle at (column, row), to the picture's pixels.
    to_picture: Homography,
    /// How wide and high a patch is by the distance to the next.
    patch: [f64; 2],
}

/// Finds the chart in a photo: `picture` is the photo reduced to about 1000 pixels on the longer side. The chart may be turned
/// anyhow and stand at a slant, with patches down to about 10 pixels of the picture; it needs two rows and two columns.
///
/// `None` where no grid in the picture has the chart's colours under any light.
pub fn find(photo: &Photograph, picture: &Picture<CameraRgb>, chart: &Chart) -> Option<Corners> {
    if chart.rows < 2 || chart.columns < 2 || picture.width.min(picture.height) < 16 {
        return None;
    }
    let expected = expected(chart, &photo.encoding.to_xyz);
    let step = (photo.width as f64 / picture.width as f64).round().max(1.0) as usize;
    if let Some(corners) = corners_in(picture, chart, &expected) {
        return Some(corners.map(|corner| corner.map(|p| p * step as f64)));
    }
    // A chart that is small in the picture shows in a finer one.
    let finer = step.div_ceil(2);
    let corners = (finer < step).then(|| corners_in(&photo.reduced(finer), chart, &expected))?;
    Some(corners?.map(|corner| corner.map(|p| p * finer as f64)))
}

/// The chart's corners in the picture's pixels.
fn corners_in(
    picture: &Picture<CameraRgb>,
    chart: &Chart,
    expected: &[[f64; 3]],
) -> Option<Corners> {
    let even = even(picture);
    let mut best: Option<Laid> = None;
    for step in STEPS {
        let regions = regions(&even, step, even.pixels.len() / chart.patches.len());
        let least = (chart.patches.len() / 3).clamp(5, 24);
        for lattice in lattices(&regions, least) {
            for laid in laid(&lattice, &regions, chart, &even, expected) {
                if best.as_ref().is_none_or(|b| laid.likeness > b.likeness) {
                    best = Some(laid);
                }
            }
        }
        if best.as_ref().is_some_and(|b| b.likeness > CERTAIN) {
            break;
        }
    }
    best.filter(|b| b.likeness > SURE).map(|b| b.corners(chart))
}

/// The chart on a lattice at each of the four turns and each shift that leaves enough of the lattice on it.
fn laid(
    lattice: &Lattice,
    regions: &[Region],
    chart: &Chart,
    even: &Even,
    expected: &[[f64; 3]],
) -> Vec<Laid> {
    let mut all = Vec::new();
    let least = (ON_THE_CHART * lattice.cells.len() as f64).ceil() as usize;
    for turn in 0..4 {
        let turned: Vec<Cell> = lattice
            .cells
            .keys()
            .map(|&cell| turned(cell, turn))
            .collect();
        for shift in shifts(&turned, chart, least) {
            // Back from the chart to the lattice: shifted, then turned the rest of the way round.
            let pairs: Vec<_> = [[0, 0], [8, 0], [8, 8], [0, 8]]
                .map(|[c, r]: Cell| {
                    let cell = self::turned([c - shift[0], r - shift[1]], (4 - turn) % 4);
                    (
                        [f64::from(c), f64::from(r)],
                        lattice.to_picture.at(cell.map(f64::from)),
                    )
                })
                .to_vec();
            let Some(to_picture) = Homography::fitted(&pairs) else {
                continue;
            };
            let seen: Vec<_> = chart
                .patches
                .iter()
                .map(|p| seen(even, &to_picture, p.column, p.row))
                .collect();
            all.push(Laid {
                likeness: likeness(expected, &seen),
                patch: patch_size(lattice, regions, &to_picture),
                to_picture,
            });
        }
    }
    all
}

/// A quarter turn clockwise, `turn` times.
fn turned([across, down]: Cell, turn: usize) -> Cell {
    (0..turn).fold([across, down], |[a, d], _| [-d, a])
}

/// Shifts that bring at least `least` of the cells onto the chart.
fn shifts(cells: &[Cell], chart: &Chart, least: usize) -> Vec<Cell> {
    let size = [chart.columns as i32, chart.rows as i32];
    let range = |axis: usize| {
        let places = cells.iter().map(|c| c[axis]);
        let (low, high) = places.fold((i32::MAX, i32::MIN), |(l, h), p| (l.min(p), h.max(p)));
        // From the last cell on the first column to the first cell on the last one.
        -high..size[axis] - low
    };
    let on = |shift: &Cell| {
        let inside = cells
            .iter()
            .filter(|c| (0..2).all(|i| (0..size[i]).contains(&(c[i] + shift[i]))));
        inside.count() >= least
    };
    let all = range(0).flat_map(|across| range(1).map(move |down| [across, down]));
    all.filter(on).collect()
}

/// The mean colour around the middle of a patch; `None` outside the picture.
fn seen(even: &Even, to_picture: &Homography, column: usize, row: usize) -> Option<[f64; 3]> {
    let [x, y] = to_picture.at([column as f64, row as f64]);
    let held =
        (1.0..even.width as f64 - 1.0).contains(&x) && (1.0..even.height as f64 - 1.0).contains(&y);
    let (x, y) = (x as usize, y as usize);
    held.then(|| {
        let mut sum = [0.0; 3];
        for pixel in (y - 1..=y + 1).flat_map(|y| (x - 1..=x + 1).map(move |x| even.at(x, y))) {
            (0..3).for_each(|c| sum[c] += f64::from(pixel[c]) / 9.0);
        }
        sum
    })
}

/// The size of patches by the distance to the next, each way: the median over the regions.
fn patch_size(lattice: &Lattice, regions: &[Region], to_picture: &Homography) -> [f64; 2] {
    let Some(back) = to_picture.inverse() else {
        return [1.0; 2];
    };
    let sizes: Vec<[f64; 2]> = lattice
        .cells
        .values()
        .map(|&number| {
            let Region {
                middle: [x, y],
                moments: [xx, xy, yy],
                ..
            } = regions[number];
            let here = back.at([x, y]);
            let (right, down) = (back.at([x + 1.0, y]), back.at([x, y + 1.0]));
            [0, 1].map(|axis| {
                let (a, b) = (right[axis] - here[axis], down[axis] - here[axis]);
                (12.0 * (a * a * xx + 2.0 * a * b * xy + b * b * yy)).sqrt()
            })
        })
        .collect();
    [0, 1].map(|axis| median(sizes.iter().map(|s| s[axis]).collect()).clamp(0.3, 1.0))
}

impl Laid {
    fn corners(&self, chart: &Chart) -> Corners {
        let [left, top] = self.patch.map(|p| -p / 2.0);
        let (right, bottom) = (
            chart.columns as f64 - 1.0 - left,
            chart.rows as f64 - 1.0 - top,
        );
        [[left, top], [right, top], [right, bottom], [left, bottom]]
            .map(|corner| self.to_picture.at(corner))
    }
}
