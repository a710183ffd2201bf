//! Finding and reading the QR codes of a photo.

use super::finder::{Finder, finders};
use super::read::{Code, read};
use super::refine::{Homography, homography, project};
use super::{Payload, Sighting};
use crate::picture::{Photograph, Picture};

/// The longest side, in pixels, at which a photo is searched first.
const FIRST_SIDE: usize = 2400;

/// The longest side, in pixels, at which it is searched when no tag was seen: small tags in large photos.
const LAST_SIDE: usize = 4800;

/// How many threes of finders are tried at one size, the likeliest first.
const MOST_TRIES: usize = 200;

/// Modules along one side: of the smallest code, and of the largest that is looked for (version 10).
const SIDES: [usize; 2] = [21, 57];

/// How many times smaller than the first size a photo is searched, in order: the smallest picture takes least time.
const TIMES: [usize; 3] = [3, 2, 1];

/// Pixels to a module, in the picture just searched, from which nothing is left to find in a larger one: a tag half as large
/// would have been seen, too.
const AMPLE: f64 = 3.0;

/// Every tag and card that can be read in a photo, from top to bottom; other people's QR codes are passed over.
///
/// The search goes over several sizes, since noise that hides a code at one size is gone at another, and small codes show
/// only in large pictures. Corners are then fitted to the edges of the modules in the full photo.
pub fn find(photo: &Photograph) -> Vec<Sighting> {
    let first = photo.step_to(FIRST_SIDE);
    let last = photo.step_to(LAST_SIDE);
    let mut codes: Vec<Code> = Vec::new();
    let grey = photo.grey(first);
    for times in TIMES {
        if times > 1 {
            search(photo, &grey.reduced(times), times * first, &mut codes);
        } else {
            search(photo, &grey, first, &mut codes);
        }
        if ample(&codes, times * first) {
            break;
        }
    }
    if last < first && !codes.iter().any(is_piece) {
        search(photo, &photo.grey(last), last, &mut codes);
    }
    let mut seen: Vec<Sighting> = codes.into_iter().filter_map(Code::sighting).collect();
    let middle = |s: &Sighting| s.point(s.modules as f64 / 2.0, s.modules as f64 / 2.0)[1];
    seen.sort_by(|a, b| middle(a).total_cmp(&middle(b)));
    seen
}

fn is_piece(code: &Code) -> bool {
    matches!(Payload::read(&code.text), Some(Payload::Piece(_)))
}

/// Whether a piece's tag was found and all codes found are so large that a larger picture, with `step` pixels of the photo
/// to one of the last, would show no more.
fn ample(codes: &[Code], step: usize) -> bool {
    let large = |code: &Code| {
        let n = code.modules as f64;
        let [x0, y0] = project(&code.to_photo, [0.0, 0.0]);
        let [x1, y1] = project(&code.to_photo, [n, n]);
        (x1 - x0).hypot(y1 - y0) >= AMPLE * n * std::f64::consts::SQRT_2 * step as f64
    };
    codes.iter().any(is_piece) && codes.iter().all(large)
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
