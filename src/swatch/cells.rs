//! A cloth in cells of a few pixels: enough to know its colours by, and far fewer to bring into true light.

use crate::colour::CameraRgb;
use crate::picture::{Mask, Picture};

/// Pixels this near to the cloth's edge are mixed with the backdrop.
const RIM: usize = 2;
/// Cells that are enough to know a cloth by.
const ENOUGH: usize = 40_000;

/// A cloth in cells.
#[derive(Clone, Debug)]
pub struct Cells {
    /// The mean light of each cell, of what is cloth in it.
    pub light: Picture<CameraRgb>,
    /// Which cells hold cloth.
    pub mask: Mask,
    /// Pixels of the picture that a cell measures, each way.
    pub step: usize,
}

/// The cells of the masked cloth, about 40,000 at most. The rim, where cloth and backdrop mix, is left out unless there is
/// nothing else.
pub fn cells(picture: &Picture<CameraRgb>, mask: &Mask) -> Cells {
    let inner = inner(mask);
    let step = step(inner.count());
    let (width, height) = (picture.width.div_ceil(step), picture.height.div_ceil(step));
    let mut sums = vec![[0f32; 4]; width * height];
    for y in 0..picture.height {
        let row = y * picture.width..(y + 1) * picture.width;
        let cells = &mut sums[y / step * width..(y / step + 1) * width];
        let pixels = picture.pixels[row.clone()].chunks(step);
        let belongs = inner.pixels[row].chunks(step);
        for ((sum, pixels), belongs) in cells.iter_mut().zip(pixels).zip(belongs) {
            for (pixel, _) in pixels.iter().zip(belongs).filter(|(_, b)| **b) {
                for (sum, value) in sum.iter_mut().zip([pixel.r, pixel.g, pixel.b, 1.0]) {
                    *sum += value;
                }
            }
        }
    }
    let sums = Picture {
        width,
        height,
        pixels: sums,
    };
    Cells {
        light: sums.map(|&[r, g, b, count]| {
            let [r, g, b] = [r, g, b].map(|sum| sum / count.max(1.0));
            CameraRgb { r, g, b }
        }),
        mask: sums.map(|sum| sum[3] > 0.0),
        step,
    }
}

/// The side of a cell, pixels, for a cloth of so many pixels.
fn step(pixels: usize) -> usize {
    (pixels as f64 / ENOUGH as f64).sqrt().ceil().max(1.0) as usize
}

/// The mask without its rim; all of it where it is thinner than that.
fn inner(mask: &Mask) -> Mask {
    let mut inside = mask.clone();
    for _ in 0..RIM {
        inside = shrunk(&inside);
    }
    if inside.pixels.contains(&true) {
        inside
    } else {
        mask.clone()
    }
}

/// The pixels whose four neighbours belong, too; the picture's frame does not count against one.
fn shrunk(mask: &Mask) -> Mask {
    let (width, height) = (mask.width, mask.height);
    let mut shrunk = mask.clone();
    for (y, out) in shrunk.pixels.chunks_exact_mut(width.max(1)).enumerate() {
        let row = |y: usize| &mask.pixels[y * width..(y + 1) * width];
        let (above, below) = (row(y.saturating_sub(1)), row((y + 1).min(height - 1)));
        for (belongs, (above, below)) in out.iter_mut().zip(above.iter().zip(below)) {
            *belongs &= above & below;
        }
        for (belongs, before) in out[1..].iter_mut().zip(row(y)) {
            *belongs &= before;
        }
        for (belongs, after) in out.iter_mut().zip(&row(y)[1..]) {
            *belongs &= after;
        }
    }
    shrunk
}

#[cfg(test)]
mod tests {
    use super::*;

    const CLOTH: CameraRgb = CameraRgb {
        r: 0.25,
        g: 0.5,
        b: 0.125,
    };

    /// A cloth of one colour from `first` to `end`, both ways, on a white backdrop that blurs into its outermost two pixels.
    fn check(side: usize, first: usize, end: usize) -> Cells {
        let mut mask = Mask::empty(side, side);
        let mut pixels = Vec::new();
        for i in 0..side * side {
            let within = |first: usize, end: usize| {
                (first..end).contains(&(i % side)) && (first..end).contains(&(i / side))
            };
            mask.pixels[i] = within(first, end);
            pixels.push(if within(first + 2, end - 2) {
                CLOTH
            } else {
                CameraRgb {
                    r: 1.0,
                    g: 1.0,
                    b: 1.0,
                }
            });
        }
        let picture = Picture {
            width: side,
            height: side,
            pixels,
        };
        cells(&picture, &mask)
    }

    #[test]
    fn cells_hold_nothing_of_the_rim() {
        for (side, first, end) in [(60, 11, 50), (700, 13, 688)] {
            let cells = check(side, first, end);
            assert_eq!(cells.step, if side > 600 { 4 } else { 1 });
            let cloth = cells.light.pixels.iter().zip(&cells.mask.pixels);
            for (light, _) in cloth.filter(|(_, belongs)| **belongs) {
                assert_eq!(*light, CLOTH);
            }
            let across = (end - 3) / cells.step - (first + 2) / cells.step + 1;
            assert_eq!(cells.mask.count(), across * across);
        }
    }

    #[test]
    fn a_thread_is_all_rim() {
        assert_eq!(check(40, 20, 25).mask.count(), 1);
        assert_eq!(check(40, 20, 23).mask.count(), 9);
        let mut thread = Mask::empty(9, 9);
        thread.pixels[40..42].fill(true);
        assert_eq!(inner(&thread).count(), 2);
    }

    #[test]
    fn the_frame_is_no_rim() {
        let full = Mask::empty(6, 5).map(|_| true);
        assert_eq!(inner(&full).count(), 30);
    }
}
