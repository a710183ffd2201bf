//! Regions grown, shrunk, closed and opened by round distances.

use super::trace;
use crate::picture::Mask;

/// Steps to a neighbour beside and to one at a corner, whose ratio is √2 within 0.03 %: whole numbers are quick to compare.
const BESIDE: i16 = 29;
const CORNER: i16 = 41;

/// The distance of each pixel from the nearest one that belongs, in pixels, at most 8.3 % too far (a chamfer of 1 and √2; Borgefors
/// 1986, doi 10.1016/S0734-189X(86)80047-0). What lies outside the picture counts as far away.
pub(super) fn distances(mask: &Mask) -> Vec<f32> {
    let width = mask.width.max(1);
    let start = |&belongs: &bool| if belongs { 0 } else { i16::MAX };
    let mut near: Vec<i16> = mask.pixels.iter().map(start).collect();
    let mut before = vec![i16::MAX; width];
    for row in near.chunks_exact_mut(width) {
        lowered(row, &before);
        along(row.iter_mut());
        before.copy_from_slice(row);
    }
    before.fill(i16::MAX);
    for row in near.chunks_exact_mut(width).rev() {
        lowered(row, &before);
        along(row.iter_mut().rev());
        before.copy_from_slice(row);
    }
    near.into_iter()
        .map(|steps| f32::from(steps) / f32::from(BESIDE))
        .collect()
}

/// A row held to what can be reached from the row before it.
fn lowered(row: &mut [i16], before: &[i16]) {
    for (near, &there) in row.iter_mut().zip(before) {
        *near = (*near).min(there.saturating_add(BESIDE));
    }
    for (near, &there) in row.iter_mut().skip(1).zip(before) {
        *near = (*near).min(there.saturating_add(CORNER));
    }
    for (near, &there) in row.iter_mut().zip(before.iter().skip(1)) {
        *near = (*near).min(there.saturating_add(CORNER));
    }
}

/// A row held to what can be reached along it.
fn along<'a>(row: impl Iterator<Item = &'a mut i16>) {
    let mut last = i16::MAX;
    for near in row {
        last = last.saturating_add(BESIDE).min(*near);
        *near = last;
    }
}

/// The region grown by `radius` pixels.
pub(super) fn grown(mask: &Mask, radius: f32) -> Mask {
    within(mask, |distance| distance <= radius)
}

/// The region shrunk by `radius` pixels; the frame does not shrink it.
pub(super) fn shrunk(mask: &Mask, radius: f32) -> Mask {
    within(&mask.map(|p| !p), |distance| distance > radius)
}

/// Gaps and bays narrower than `2 * radius` pixels filled.
pub(super) fn closed(mask: &Mask, radius: f32) -> Mask {
    shrunk(&trace::filled(&grown(mask, radius)), radius)
}

/// Spurs and bridges narrower than `2 * radius` pixels taken away.
pub(super) fn opened(mask: &Mask, radius: f32) -> Mask {
    grown(&shrunk(mask, radius), radius)
}

fn within(mask: &Mask, keep: impl Fn(f32) -> bool) -> Mask {
    Mask {
        width: mask.width,
        height: mask.height,
        pixels: distances(mask).into_iter().map(keep).collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Against the distances from the definition.
    #[test]
    fn distances_are_round_within_a_twelfth() {
        let mut mask = Mask::empty(40, 30);
        for (x, y) in [(3, 4), (30, 20)] {
            mask.pixels[y * 40 + x] = true;
        }
        for (i, &distance) in distances(&mask).iter().enumerate() {
            let to = |x: f32, y: f32| ((i % 40) as f32 - x).hypot((i / 40) as f32 - y);
            let exact = to(3.0, 4.0).min(to(30.0, 20.0));
            assert!((0.9995 * exact..=1.083 * exact + 1e-3).contains(&distance));
        }
    }

    #[test]
    fn a_spur_is_opened_and_a_bay_closed() {
        let mut square = Mask::empty(40, 40);
        for y in 10..30 {
            square.pixels[y * 40 + 10..y * 40 + 30].fill(true);
        }
        let mut spurred = square.clone();
        spurred.pixels[20 * 40 + 30..20 * 40 + 38].fill(true);
        assert!(!*opened(&spurred, 3.0).at(36, 20));
        let mut bayed = square.clone();
        bayed.pixels[20 * 40 + 24..20 * 40 + 30].fill(false);
        assert!(*closed(&bayed, 3.0).at(26, 20));
    }
}
