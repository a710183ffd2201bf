//! The four sides of a cloth.
//!
//! A thing that lies half under the cloth, and looks like it, belongs to the region that the colours give. But a cloth has
//! four nearly straight sides, and the thing sticks out of one. Of all quadrilaterals, the one that differs from the region
//! by the least area passes it by: like a median, a side heeds what holds along more than half of it.

use super::field::Field;
use super::shape;
use crate::picture::{Mask, Polygon};
use std::collections::BTreeMap;

/// What sticks out farther than this part of the longer side is no wave of the cloth's edge.
const WAVE: f32 = 0.022;
/// The region without what sticks out fits its quadrilateral at least so well, or it is no four-sided cloth.
const FOUR_SIDED: f64 = 0.90;
/// Colours are alike that fall into one bin of so many units of the features.
const BIN: f32 = 8.0;
/// A colour is common where one in so many pixels has it.
const COMMON: usize = 200;
/// Steps by which corners are moved, pixels.
const STEPS: [f64; 6] = [12.0, 6.0, 3.0, 1.5, 0.75, 0.4];
/// Rounds of moving at each step at most.
const ROUNDS: usize = 12;
/// Of the pixels of a region, every so many are enough to tell how it is turned.
const SPARSE: usize = 7;

/// The quadrilateral that differs least from a region.
pub(super) struct Sides {
    corners: [[f64; 2]; 4],
    /// Its overlap with the region: intersection over union, 0 to 1.
    pub(super) fit: f64,
}

impl Sides {
    /// `None` where the region is empty.
    pub(super) fn of(region: &Mask) -> Option<Self> {
        let rows = Rows::of(region);
        let mut corners = turned_box(region)?;
        let mut least = rows.difference(&corners);
        for step in STEPS {
            for _ in 0..ROUNDS {
                if !bettered(&rows, &mut corners, &mut least, step) {
                    break;
                }
            }
        }
        let both = rows.overlap(&corners);
        let union = both + least;
        Some(Self {
            corners,
            fit: both / union.max(1.0),
        })
    }

    /// The region of a four-sided cloth without what sticks out of these, its sides, and what its sides are then; `None`
    /// where nothing sticks out.
    pub(super) fn trimmed(&self, region: &Mask) -> Option<(Mask, Self)> {
        let beyond = self.beyond(region);
        if beyond.count() == 0 {
            return None;
        }
        let trimmed = without(region, &beyond);
        let sides = Self::of(&trimmed).filter(|sides| sides.fit > FOUR_SIDED)?;
        Some((trimmed, sides))
    }

    /// What of the region sticks out of these sides.
    fn beyond(&self, region: &Mask) -> Mask {
        let (width, height) = (region.width, region.height);
        let inside = Mask::inside(&Polygon::from(self.corners), width, height);
        let wave = WAVE * width.max(height) as f32;
        let far = shape::distances(&inside);
        let mut beyond = region.clone();
        for (out, &distance) in beyond.pixels.iter_mut().zip(&far) {
            *out &= distance > wave;
        }
        // Its foot, up to the side of the cloth.
        let mut foot = shape::grown(&beyond, 1.6 * wave);
        for ((out, &belongs), &within) in foot
            .pixels
            .iter_mut()
            .zip(&region.pixels)
            .zip(&inside.pixels)
        {
            *out &= belongs && !within;
        }
        foot
    }
}

/// Whether what was trimmed off a region has other colours than what remains: if not, it may be a print of a cloth whose
/// ground was lost.
pub(super) fn strange(field: &Field, region: &Mask, trimmed: &Mask) -> bool {
    let bin = |i: usize| field.features.pixels[i].map(|v| (v / BIN).round() as i32);
    let mut seen: BTreeMap<[i32; 3], usize> = BTreeMap::new();
    for i in (0..trimmed.pixels.len()).filter(|&i| trimmed.pixels[i]) {
        *seen.entry(bin(i)).or_default() += 1;
    }
    let enough = trimmed.count() / COMMON;
    let off = without(region, trimmed);
    let alike = (0..off.pixels.len())
        .filter(|&i| off.pixels[i] && seen.get(&bin(i)).is_some_and(|&count| count > enough));
    2 * alike.count() < off.count()
}

/// A region without another.
pub(super) fn without(region: &Mask, other: &Mask) -> Mask {
    let mut less = region.clone();
    for (belongs, &out) in less.pixels.iter_mut().zip(&other.pixels) {
        *belongs &= !out;
    }
    less
}

/// Moves each side, and each end of it, where that brings the quadrilateral nearer to the region; whether anything did.
fn bettered(rows: &Rows, corners: &mut [[f64; 2]; 4], least: &mut f64, step: f64) -> bool {
    let mut better = false;
    for side in 0..4 {
        let ends = (side, (side + 1) % 4);
        for (first, second) in [(1.0, 1.0), (1.0, 0.0), (0.0, 1.0)] {
            for out in [step, -step] {
                let mut moved = *corners;
                let normal = normal(corners[ends.0], corners[ends.1]);
                for k in 0..2 {
                    moved[ends.0][k] += first * out * normal[k];
                    moved[ends.1][k] += second * out * normal[k];
                }
                let difference = rows.difference(&moved);
                if difference < *least {
                    (*corners, *least, better) = (moved, difference, true);
                }
            }
        }
    }
    better
}

/// The direction square to the line between two points; none where they are one.
fn normal(from: [f64; 2], to: [f64; 2]) -> [f64; 2] {
    let (dx, dy) = (to[0] - from[0], to[1] - from[1]);
    let length = dx.hypot(dy).max(1e-9);
    [dy / length, -dx / length]
}

/// The smallest of the boxes, turned by steps of five degrees, that hold most of a region's pixels along both directions.
fn turned_box(region: &Mask) -> Option<[[f64; 2]; 4]> {
    let points: Vec<[f64; 2]> = (0..region.pixels.len())
        .filter(|&i| region.pixels[i])
        .step_by(SPARSE)
        .map(|i| {
            [
                (i % region.width) as f64 + 0.5,
                (i / region.width) as f64 + 0.5,
            ]
        })
        .collect();
    let boxes = (0..18).map(|turn| {
        let (sin, cos) = f64::from(5 * turn).to_radians().sin_cos();
        let across = reach(points.iter().map(|[x, y]| x * cos + y * sin));
        let down = reach(points.iter().map(|[x, y]| y * cos - x * sin));
        let corner = |u: f64, v: f64| [u * cos - v * sin, u * sin + v * cos];
        let corners = [
            corner(across[0], down[0]),
            corner(across[1], down[0]),
            corner(across[1], down[1]),
            corner(across[0], down[1]),
        ];
        ((across[1] - across[0]) * (down[1] - down[0]), corners)
    });
    if points.is_empty() {
        return None;
    }
    boxes.min_by(|a, b| a.0.total_cmp(&b.0)).map(|b| b.1)
}

/// The values below and above which a twenty-fifth lies.
fn reach(values: impl Iterator<Item = f64>) -> [f64; 2] {
    let mut values: Vec<f64> = values.collect();
    let cut = values.len() / 25;
    let high = values.len() - 1 - cut;
    [cut, high].map(|at| *values.select_nth_unstable_by(at, f64::total_cmp).1)
}

/// A region's pixels counted from the left of each row.
struct Rows {
    width: usize,
    height: usize,
    counts: Vec<u32>,
    area: f64,
}

impl Rows {
    fn of(region: &Mask) -> Self {
        let mut counts = Vec::with_capacity((region.width + 1) * region.height);
        for row in region.pixels.chunks_exact(region.width.max(1)) {
            let mut count = 0;
            counts.push(0);
            for &belongs in row {
                count += u32::from(belongs);
                counts.push(count);
            }
        }
        Self {
            width: region.width,
            height: region.height,
            counts,
            area: region.count() as f64,
        }
    }

    /// The pixels that are in a convex quadrilateral and in the region.
    fn overlap(&self, corners: &[[f64; 2]; 4]) -> f64 {
        self.counted(corners).1
    }

    /// The pixels that are in one of a convex quadrilateral and the region, but not in both.
    fn difference(&self, corners: &[[f64; 2]; 4]) -> f64 {
        let (all, both) = self.counted(corners);
        all + self.area - 2.0 * both
    }

    /// The pixels of a convex quadrilateral, and those of them in the region.
    fn counted(&self, corners: &[[f64; 2]; 4]) -> (f64, f64) {
        let ys = corners.map(|c| c[1]);
        let top = ys.into_iter().fold(f64::MAX, f64::min).max(0.0) as usize;
        let bottom = ys.into_iter().fold(0.0, f64::max).ceil() as usize;
        let (mut all, mut both) = (0, 0);
        for y in top..bottom.min(self.height) {
            if let Some((from, to)) = span(corners, y as f64 + 0.5, self.width) {
                let row = y * (self.width + 1);
                all += to - from;
                both += self.counts[row + to] - self.counts[row + from];
            }
        }
        (all as f64, f64::from(both))
    }
}

/// The first pixel of a row inside a convex quadrilateral, and the one after the last.
fn span(corners: &[[f64; 2]; 4], y: f64, width: usize) -> Option<(usize, usize)> {
    let (mut left, mut right) = (f64::MAX, f64::MIN);
    for side in 0..4 {
        let ([x0, y0], [x1, y1]) = (corners[side], corners[(side + 1) % 4]);
        if (y0 <= y) != (y1 <= y) {
            let x = x0 + (y - y0) / (y1 - y0) * (x1 - x0);
            left = left.min(x);
            right = right.max(x);
        }
    }
    let edge = |x: f64| (x - 0.5).ceil().clamp(0.0, width as f64) as usize;
    (left < right).then(|| (edge(left), edge(right)))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A four-sided region with wavy sides, `turn` degrees round, in a picture of 250 by 190 pixels.
    fn cloth(turn: f64) -> Mask {
        let mut region = Mask::empty(250, 190);
        let (sin, cos) = turn.to_radians().sin_cos();
        for (i, belongs) in region.pixels.iter_mut().enumerate() {
            let (x, y) = ((i % 250) as f64 - 124.5, (i / 250) as f64 - 94.5);
            let (u, v) = (x * cos + y * sin, y * cos - x * sin);
            *belongs = (u + 0.1 * v).abs() < 45.0 + 2.0 * (v / 9.0).sin()
                && v.abs() < 62.0 + 2.0 * (u / 8.0).sin();
        }
        region
    }

    fn with_disc(region: &Mask, middle: [f64; 2], radius: f64) -> Mask {
        let mut more = region.clone();
        for (i, belongs) in more.pixels.iter_mut().enumerate() {
            let (x, y) = ((i % 250) as f64, (i / 250) as f64);
            *belongs |= (x - middle[0]).hypot(y - middle[1]) < radius;
        }
        more
    }

    fn overlap(one: &Mask, other: &Mask) -> f64 {
        let pairs = || one.pixels.iter().zip(&other.pixels);
        let both = pairs().filter(|(a, b)| **a && **b).count();
        both as f64 / pairs().filter(|(a, b)| **a || **b).count() as f64
    }

    fn trimmed(region: &Mask) -> Option<Mask> {
        Some(Sides::of(region)?.trimmed(region)?.0)
    }

    #[test]
    fn a_quadrilateral_is_fitted_at_any_turn() {
        for turn in [0.0, 13.0, 45.0, 71.0, 88.0] {
            let sides = Sides::of(&cloth(turn)).expect("a region");
            assert!(sides.fit > 0.95, "{turn}: {}", sides.fit);
        }
    }

    #[test]
    fn what_sticks_out_of_a_side_is_cut_off() {
        for (middle, radius) in [
            ([175.0, 95.0], 18.0),
            ([125.0, 25.0], 15.0),
            ([85.0, 155.0], 14.0),
        ] {
            let plain = cloth(4.0);
            let stuck = with_disc(&plain, middle, radius);
            let trimmed = trimmed(&stuck).expect("something sticks out");
            assert!(overlap(&stuck, &plain) < overlap(&trimmed, &plain));
            assert!(overlap(&trimmed, &plain) > 0.97, "{middle:?}");
        }
    }

    #[test]
    fn a_wavy_cloth_and_a_round_one_stay_as_they_are() {
        let plain = cloth(-8.0);
        assert!(trimmed(&plain).is_none());
        let round = with_disc(&Mask::empty(250, 190), [120.0, 90.0], 70.0);
        assert!(trimmed(&round).is_none());
        assert!(Sides::of(&Mask::empty(20, 20)).is_none());
    }

    /// Against the pixels of the drawn polygon, counted one by one.
    #[test]
    fn rows_count_what_a_polygon_covers() {
        let region = cloth(20.0);
        let corners = [[60.0, -20.0], [200.5, 30.0], [180.0, 240.0], [-30.0, 150.0]];
        let drawn = Mask::inside(&Polygon::from(corners), 250, 190);
        let pairs = || drawn.pixels.iter().zip(&region.pixels);
        let rows = Rows::of(&region);
        let both = pairs().filter(|(a, b)| **a && **b).count() as f64;
        let one = pairs().filter(|(a, b)| a != b).count() as f64;
        assert_eq!(
            (rows.overlap(&corners), rows.difference(&corners)),
            (both, one)
        );
    }
}
