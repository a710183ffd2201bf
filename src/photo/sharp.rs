//! Whether a whole photo is blurred, told by how suddenly its edges rise.

use crate::error::Caution;
use crate::picture::{Photograph, Samples};

/// A caution where even the sharpest edges of the picture are soft.
///
/// Along rows and columns, wherever brightness changes much over eight pixels of a 3-megapixel picture and most steeply in the
/// middle, the middle two of these eight hold a part of the change: most of it where the edge is sharp, 0.4 under a Gaussian
/// of 2 pixels. Soft shadows and a soft background leave sharp edges elsewhere, so the sharpest tenth decides. Plain cloth on
/// a plain ground has too few edges to tell, and passes.
pub(super) fn caution(photograph: &Photograph) -> Option<Caution> {
    let mut rises = rises(photograph);
    if rises.len() < FEWEST_EDGES {
        return None;
    }
    rises.sort_unstable();
    (rises[rises.len() * 9 / 10] < SOFT).then(|| {
        Caution::new(
            "blurred",
            "This photo is blurred, which mixes neighbouring colours: wipe the lens, hold the phone still, let it focus on the cloth, and \
             photograph again.",
        )
    })
}

const FEWEST_EDGES: usize = 100;

/// In percent. On 60 photos computed for tests the sharpest tenth rises by 73 to 81 % sharp, by 55 to 59 % under a Gaussian of
/// 2 pixels of a 12-megapixel picture, by 44 to 49 % under one of 3 and by 38 to 44 % under one of 4.
const SOFT: u16 = 50;

/// The smallest change that counts as an edge, of 255: noise must not make any.
const EDGE: u16 = 24;

/// For each edge along some rows and columns, the percent of it that its middle two pixels hold.
fn rises(photograph: &Photograph) -> Vec<u16> {
    let (width, height) = (photograph.width, photograph.height);
    // A pixel of a 3-megapixel picture, 2016 wide.
    let unit = ((width.max(height) + 1008) / 2016).max(1);
    let mut rises = Vec::new();
    for y in (0..height).step_by(32 * unit) {
        let row: Vec<u16> = (0..width).map(|x| green(photograph, x, y)).collect();
        along(&row, unit, &mut rises);
    }
    // All columns at once, row by row: one after another, each pixel would wait for memory.
    let mut columns = vec![Vec::new(); width.div_ceil(32 * unit)];
    for y in 0..height {
        for (number, column) in columns.iter_mut().enumerate() {
            column.push(green(photograph, 32 * unit * number, y));
        }
    }
    for column in columns {
        along(&column, unit, &mut rises);
    }
    rises
}

fn along(line: &[u16], unit: usize, rises: &mut Vec<u16>) {
    for piece in line.windows(8 * unit + 1) {
        let rise = |from: usize, to: usize| piece[from * unit].abs_diff(piece[to * unit]);
        let (change, middle) = (rise(0, 8), rise(3, 5));
        let steepest = || {
            piece
                .windows(2 * unit + 1)
                .all(|w| w[0].abs_diff(w[2 * unit]) <= middle)
        };
        if change >= EDGE && steepest() {
            rises.push(100 * middle / change);
        }
    }
}

fn green(photograph: &Photograph, x: usize, y: usize) -> u16 {
    let at = 3 * (y * photograph.width + x) + 1;
    match &photograph.samples {
        Samples::Eight(v) => v[at].into(),
        Samples::Sixteen(v) => v[at] >> 8,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::picture::Encoding;

    const WIDTH: usize = 640;
    const HEIGHT: usize = 480;

    fn photo(value: impl Fn(usize, usize) -> f64) -> Photograph {
        let places = (0..HEIGHT).flat_map(|y| (0..WIDTH).map(move |x| (x, y)));
        let samples = places.flat_map(|(x, y)| [value(x, y).round() as u8; 3]);
        Photograph {
            width: WIDTH,
            height: HEIGHT,
            samples: Samples::Eight(samples.collect()),
            encoding: Encoding {
                curves: [vec![], vec![], vec![]],
                to_xyz: [[0.0; 3]; 3],
                name: String::new(),
            },
        }
    }

    /// A step from dark to light, `distance` pixels away, under a Gaussian (its integral by the logistic approximation).
    fn step(distance: f64, sigma: f64) -> f64 {
        50.0 + 150.0 / (1.0 + (-1.702 * distance / sigma.max(0.01)).exp())
    }

    /// Squares of 40 pixels, their edges that soft.
    fn squares(sigma: f64) -> impl Fn(usize, usize) -> f64 {
        move |x, y| {
            let side = |v: usize| {
                let from_edge = 20.0 - ((v % 80) as f64 - 39.5).abs();
                (step(from_edge, sigma) - 50.0) / 150.0
            };
            let (a, b) = (side(x), side(y));
            50.0 + 150.0 * (a + b - 2.0 * a * b)
        }
    }

    /// Fixed noise of two codes up and down.
    fn grain(x: usize, y: usize) -> f64 {
        ((x * 7919 + y * 104_729) % 1009 % 5) as f64 - 2.0
    }

    #[track_caller]
    fn check(photo: &Photograph, blurred: bool) {
        assert_eq!(caution(photo).is_some(), blurred);
    }

    #[test]
    fn soft_edges_are_told_from_sharp_ones() {
        for (sigma, blurred) in [(0.5, false), (1.0, false), (2.2, true), (3.0, true)] {
            check(&photo(squares(sigma)), blurred);
            check(&photo(|x, y| squares(sigma)(x, y) + grain(x, y)), blurred);
        }
    }

    #[test]
    fn what_has_no_edges_or_some_sharp_ones_passes() {
        check(&photo(|x, y| 120.0 + grain(x, y)), false);
        let shadows = squares(3.0);
        let tag = squares(0.5);
        let mixed = photo(|x, y| if x < 160 { tag(x, y) } else { shadows(x, y) });
        check(&mixed, false);
    }
}
