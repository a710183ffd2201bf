//! Finding and reading the QR codes of a photo.

use super::finder::{Finder, finders};
use super::read::{Code, read};
use super::refine::{Homography, homography, project};
use super::{Payload, Sighting};
use crate::picture::{Photograph, Picture, Samples};

/// The longest side, in pixels, at which a photo is searched first.
const FIRST_SIDE: usize = 2400;

/// The longest side, in pixels, at which it is searched when no tag was seen: small tags in large photos.
const LAST_SIDE: usize = 4800;

/// How many threes of finders are tried at one size, the likeliest first.
const MOST_TRIES: usize = 200;

/// Modules along one side: of the smallest code, and of the largest that is looked for (version 10).
const SIDES: [usize; 2] = [21, 57];

/// Every tag and card that can be read in a photo, from top to bottom; other people's QR codes are passed over.
///
/// The search goes over several sizes, since noise that hides a code at one size is gone at another. Corners are then
/// fitted to the edges of the modules in the full photo.
pub fn find(photo: &Photograph) -> Vec<Sighting> {
    let first = photo.step_to(FIRST_SIDE);
    let last = photo.step_to(LAST_SIDE);
    let mut codes: Vec<Code> = Vec::new();
    let grey = luma(photo, first);
    search(photo, &grey, first, &mut codes);
    for times in [2, 3] {
        search(photo, &smaller(&grey, times), times * first, &mut codes);
    }
    let is_piece = |code: &Code| matches!(Payload::read(&code.text), Some(Payload::Piece(_)));
    if last < first && !codes.iter().any(is_piece) {
        search(photo, &luma(photo, last), last, &mut codes);
    }
    let mut seen: Vec<Sighting> = codes.into_iter().filter_map(Code::sighting).collect();
    let middle = |s: &Sighting| s.point(s.modules as f64 / 2.0, s.modules as f64 / 2.0)[1];
    seen.sort_by(|a, b| middle(a).total_cmp(&middle(b)));
    seen
}

/// Adds what can be found in `grey`, the photo at a `step`-th of its size, and was not read before.
fn search(photo: &Photograph, grey: &Picture<u8>, step: usize, codes: &mut Vec<Code>) {
    let threes = threes(&finders(grey));
    for three in threes.iter().take(MOST_TRIES) {
        if codes
            .iter()
            .any(|code| three.corners(step).iter().any(|&at| covers(code, at)))
        {
            continue;
        }
        let read = three.sides().into_iter().find_map(|modules| {
            let rough = three.place(modules, step)?;
            read(photo, modules, rough)
        });
        codes.extend(read);
    }
}

/// Whether a point of the photo lies in a code.
fn covers(code: &Code, [x, y]: [f64; 2]) -> bool {
    let n = code.modules as f64;
    let square = [[0.0, 0.0], [n, 0.0], [n, n], [0.0, n]].map(|at| project(&code.to_photo, at));
    (0..4).all(|i| {
        let ([ax, ay], [bx, by]) = (square[i], square[(i + 1) % 4]);
        (bx - ax) * (y - ay) - (by - ay) * (x - ax) > 0.0
    })
}

/// Three finders that may be one code's: top left, top right and bottom left.
struct Three {
    middles: [[f64; 2]; 3],
    /// Modules from the middle of one finder to the next.
    apart: f64,
    /// How far from a square, evenly sized code it is; 0 is best.
    strain: f64,
}

/// All threes of finders that stand as in a code, the most regular first.
fn threes(all: &[Finder]) -> Vec<Three> {
    let mut threes = Vec::new();
    for corner in all {
        for right in all {
            threes.extend(all.iter().filter_map(|below| three([corner, right, below])));
        }
    }
    threes.sort_by(|a, b| a.strain.total_cmp(&b.strain));
    threes
}

fn three(finders: [&Finder; 3]) -> Option<Three> {
    let [corner, right, below] = finders.map(|f| f.at);
    let (bx, by) = (right[0] - corner[0], right[1] - corner[1]);
    let (cx, cy) = (below[0] - corner[0], below[1] - corner[1]);
    let (b, c) = (bx.hypot(by), cx.hypot(cy));
    let (sine, cosine) = ((bx * cy - by * cx) / (b * c), (bx * cx + by * cy) / (b * c));
    let sizes = finders.map(|f| f.module);
    let largest = sizes.into_iter().fold(0.0, f64::max);
    let smallest = sizes.into_iter().fold(f64::MAX, f64::min);
    // A row crosses a turned finder on a longer way.
    let shorter = |x: f64, y: f64| x.abs().max(y.abs()) / x.hypot(y);
    let apart_b = b / (sizes[0] + sizes[1]) * 2.0 / shorter(bx, by);
    let apart_c = c / (sizes[0] + sizes[2]) * 2.0 / shorter(cx, cy);
    let apart = (apart_b + apart_c) / 2.0;
    let stands = sine > 0.5
        && (0.5..2.0).contains(&(b / c))
        && largest < 2.0 * smallest
        && apart > SIDES[0] as f64 - 7.0 - 4.0
        && apart < SIDES[1] as f64 - 7.0 + 8.0;
    stands.then(|| Three {
        middles: [corner, right, below],
        apart,
        strain: (b / c).ln().abs() + cosine.abs() + (largest / smallest).ln(),
    })
}

impl Three {
    /// The middles in pixels of the photo.
    fn corners(&self, step: usize) -> [[f64; 2]; 3] {
        self.middles.map(|at| at.map(|p| p * step as f64))
    }

    /// How many modules a side may have, likeliest first: 21, 25, … nearest to the distance of the finders.
    fn sides(&self) -> [usize; 3] {
        let version = (self.apart + 7.0 - 17.0) / 4.0;
        let nearest = version.round();
        let next = if version > nearest { 1.0 } else { -1.0 };
        let [least, most] = SIDES;
        [nearest, nearest + next, nearest - next]
            .map(|v| ((17.0 + 4.0 * v) as usize).clamp(least, most))
    }

    /// From modules to pixels of the photo, as if seen from far away.
    fn place(&self, modules: usize, step: usize) -> Option<Homography> {
        let (near, far) = (3.5, modules as f64 - 3.5);
        let [corner, right, below] = self.corners(step);
        let last = [0, 1].map(|i| right[i] + below[i] - corner[i]);
        let square = [[near, near], [far, near], [far, far], [near, far]];
        homography(square, [corner, right, last, below])
    }
}

/// The photo in grey, a `step`-th of its size: means of blocks, weighted as the eye weighs red, green and blue (the whole
/// numbers are the luma weights of ITU-R BT.601 times 256). Blocks that would be cut at the edge are left out.
fn luma(photo: &Photograph, step: usize) -> Picture<u8> {
    match &photo.samples {
        Samples::Eight(v) => grey(photo, step, v, u32::from),
        Samples::Sixteen(v) => grey(photo, step, v, |s| u32::from(s >> 8)),
    }
}

fn grey<S: Copy>(
    photo: &Photograph,
    step: usize,
    samples: &[S],
    eight: impl Fn(S) -> u32,
) -> Picture<u8> {
    let (width, height) = (photo.width / step, photo.height / step);
    let area = 256 * (step * step) as u32;
    let mut pixels = Vec::with_capacity(width * height);
    let mut sums = vec![0u32; width];
    for band in samples.chunks_exact(3 * photo.width * step) {
        sums.fill(0);
        for row in band.chunks_exact(3 * photo.width) {
            for (sum, block) in sums.iter_mut().zip(row.chunks_exact(3 * step)) {
                for rgb in block.chunks_exact(3) {
                    *sum += 77 * eight(rgb[0]) + 150 * eight(rgb[1]) + 29 * eight(rgb[2]);
                }
            }
        }
        pixels.extend(sums.iter().map(|sum| (sum / area) as u8));
    }
    Picture {
        width,
        height,
        pixels,
    }
}

/// A picture at a `times`-th of its size: means of blocks; those that would be cut at the edge are left out.
fn smaller(grey: &Picture<u8>, times: usize) -> Picture<u8> {
    let (width, height) = (grey.width / times, grey.height / times);
    let mean = |x: usize, y: usize| {
        let rows = (y * times..(y + 1) * times).map(|row| row * grey.width + x * times);
        let sum: u32 = rows
            .flat_map(|start| &grey.pixels[start..start + times])
            .map(|&grey| u32::from(grey))
            .sum();
        (sum / (times * times) as u32) as u8
    };
    let places = (0..height).flat_map(|y| (0..width).map(move |x| (x, y)));
    Picture {
        width,
        height,
        pixels: places.map(|(x, y)| mean(x, y)).collect(),
    }
}
