//! From the pixels of a region to one simple polygon.

use crate::picture::{Mask, Polygon};
use std::collections::VecDeque;

/// The connected regions (over sides) of the pixels that belong: a label for each pixel, 0 for none, and the sizes from
/// label 1 on.
pub(super) fn regions(mask: &Mask) -> (Vec<u32>, Vec<usize>) {
    let mut labels = vec![0; mask.pixels.len()];
    let mut sizes = Vec::new();
    let mut queue = VecDeque::new();
    for start in 0..mask.pixels.len() {
        if !mask.pixels[start] || labels[start] != 0 {
            continue;
        }
        let label = sizes.len() as u32 + 1;
        labels[start] = label;
        queue.push_back(start);
        let mut size = 0;
        while let Some(at) = queue.pop_front() {
            size += 1;
            for next in beside(at, mask.width, mask.height) {
                if mask.pixels[next] && labels[next] == 0 {
                    labels[next] = label;
                    queue.push_back(next);
                }
            }
        }
        sizes.push(size);
    }
    (labels, sizes)
}

/// The largest connected region; `None` where nothing belongs.
pub(super) fn largest(mask: &Mask) -> Option<Mask> {
    let (labels, sizes) = regions(mask);
    let largest = (1..=sizes.len()).max_by_key(|&l| sizes[l - 1])? as u32;
    Some(Mask {
        width: mask.width,
        height: mask.height,
        pixels: labels.iter().map(|&l| l == largest).collect(),
    })
}

/// The up to four pixels that share a side with pixel `at`.
pub(super) fn beside(at: usize, width: usize, height: usize) -> impl Iterator<Item = usize> {
    let (x, y) = (at % width, at / width);
    [
        (x > 0).then(|| at - 1),
        (x + 1 < width).then(|| at + 1),
        (y > 0).then(|| at - width),
        (y + 1 < height).then(|| at + width),
    ]
    .into_iter()
    .flatten()
}

/// The same region without its holes: what does not belong and cannot be reached from the frame belongs.
pub(super) fn filled(mask: &Mask) -> Mask {
    let outside = mask.map(|belongs| !belongs);
    let (labels, sizes) = regions(&outside);
    let mut open = vec![false; sizes.len() + 1];
    let (width, height) = (mask.width, mask.height);
    for i in rim(width, height) {
        open[labels[i] as usize] = true;
    }
    open[0] = false;
    Mask {
        width,
        height,
        pixels: labels.iter().map(|&l| !open[l as usize]).collect(),
    }
}

/// The pixels at the picture's frame; those in the corners twice.
pub(super) fn rim(width: usize, height: usize) -> impl Iterator<Item = usize> {
    let rows = (0..width).flat_map(move |x| [x, (height - 1) * width + x]);
    let columns = (0..height).flat_map(move |y| [y * width, y * width + width - 1]);
    rows.chain(columns)
}

/// The corners of the pixels' outer edge, followed clockwise from its topmost, leftmost corner; the mask is one region.
fn edge(mask: &Mask) -> Polygon {
    let (width, height) = (mask.width as isize, mask.height as isize);
    let belongs = |x: isize, y: isize| {
        x >= 0 && y >= 0 && x < width && y < height && *mask.at(x as usize, y as usize)
    };
    let Some(first) = mask.pixels.iter().position(|&p| p) else {
        return Polygon::new();
    };
    let start = (first as isize % width, first as isize / width);
    let (mut x, mut y) = start;
    let (mut dx, mut dy) = (1, 0);
    let mut corners = Polygon::new();
    loop {
        corners.push([x as f64, y as f64]);
        x += dx;
        y += dy;
        // The two pixels ahead, left and right of the way; the region stays on the right.
        let (left, right) = match (dx, dy) {
            (1, 0) => (belongs(x, y - 1), belongs(x, y)),
            (0, 1) => (belongs(x, y), belongs(x - 1, y)),
            (-1, 0) => (belongs(x - 1, y), belongs(x - 1, y - 1)),
            _ => (belongs(x - 1, y - 1), belongs(x, y - 1)),
        };
        (dx, dy) = if !right {
            (-dy, dx)
        } else if left {
            (dy, -dx)
        } else {
            (dx, dy)
        };
        if (x, y) == start && (dx, dy) == (1, 0) {
            return corners;
        }
    }
}

/// A polygon of at most `corners` corners along the edge of a region, as near to it as that allows.
pub(super) fn outline(mask: &Mask, corners: usize) -> Polygon {
    let steps = edge(mask);
    // Midpoints of the unit sides: the staircase becomes the slope that it stands for.
    let middles: Polygon = (0..steps.len())
        .map(|i| {
            let ([x0, y0], [x1, y1]) = (steps[i], steps[(i + 1) % steps.len()]);
            [(x0 + x1) / 2.0, (y0 + y1) / 2.0]
        })
        .collect();
    let mut tolerance = 0.6;
    loop {
        let simple = simplified(&middles, tolerance);
        if simple.len() <= corners || tolerance > 100.0 {
            return simple;
        }
        tolerance *= 1.3;
    }
}

/// Leaves out corners that lie within `tolerance` of what remains (Douglas & Peucker 1973, doi 10.3138/FM57-6770-U75U-7727).
fn simplified(ring: &[[f64; 2]], tolerance: f64) -> Polygon {
    if ring.len() < 4 {
        return ring.to_vec();
    }
    let distance = |i: usize| {
        let [x, y] = ring[i];
        (x - ring[0][0]).hypot(y - ring[0][1])
    };
    let far = (1..ring.len())
        .max_by(|&i, &j| distance(i).total_cmp(&distance(j)))
        .unwrap_or(1);
    let mut keep = vec![false; ring.len()];
    keep[0] = true;
    keep[far] = true;
    let mut spans = vec![(0, far), (far, ring.len())];
    while let Some((from, to)) = spans.pop() {
        let end = ring[to % ring.len()];
        let worst = (from + 1..to)
            .map(|i| (aside(ring[i], ring[from], end), i))
            .max_by(|a, b| a.0.total_cmp(&b.0));
        if let Some((most, index)) = worst
            && most > tolerance
        {
            keep[index] = true;
            spans.extend([(from, index), (index, to)]);
        }
    }
    (0..ring.len())
        .filter(|&i| keep[i])
        .map(|i| ring[i])
        .collect()
}

/// The distance of a point from the line through two others, or from them where they are one.
fn aside([x, y]: [f64; 2], [x0, y0]: [f64; 2], [x1, y1]: [f64; 2]) -> f64 {
    let length = (x1 - x0).hypot(y1 - y0);
    if length < 1e-9 {
        return (x - x0).hypot(y - y0);
    }
    ((x1 - x0) * (y0 - y) - (x0 - x) * (y1 - y0)).abs() / length
}

#[cfg(test)]
mod tests {
    use super::*;

    fn drawn(rows: &[&str]) -> Mask {
        Mask {
            width: rows[0].len(),
            height: rows.len(),
            pixels: rows
                .iter()
                .flat_map(|r| r.bytes().map(|b| b == b'#'))
                .collect(),
        }
    }

    #[test]
    fn regions_join_over_sides_only() {
        let (labels, sizes) = regions(&drawn(&["##..", "..#.", "..##"]));
        assert_eq!(sizes, [2, 3]);
        assert_eq!(labels, [1, 1, 0, 0, 0, 0, 2, 0, 0, 0, 2, 2]);
    }

    #[test]
    fn holes_are_filled_and_bays_are_not() {
        let mask = filled(&drawn(&["####", "#..#", "####", "#.##"]));
        assert_eq!(mask.pixels, drawn(&["####", "####", "####", "#.##"]).pixels);
    }

    /// The outline of a disc, drawn again, is the disc; and its corners are as few as were asked for.
    #[test]
    fn an_outline_follows_its_region() {
        let mut disc = Mask::empty(80, 80);
        for (i, inside) in disc.pixels.iter_mut().enumerate() {
            let (x, y) = ((i % 80) as f64 - 39.5, (i / 80) as f64 - 39.5);
            *inside = x.hypot(y) < 33.0;
        }
        for corners in [usize::MAX, 60, 24] {
            let polygon = outline(&disc, corners);
            assert!(polygon.len() <= corners);
            let again = Mask::inside(&polygon, 80, 80);
            let off = disc
                .pixels
                .iter()
                .zip(&again.pixels)
                .filter(|(a, b)| a != b);
            assert!(off.count() * 40 < disc.count());
        }
    }

    #[test]
    fn a_single_pixel_has_an_outline() {
        let polygon = outline(&drawn(&["...", ".#.", "..."]), 120);
        assert!(!polygon.is_empty());
        assert!(outline(&drawn(&["..", ".."]), 120).is_empty());
    }
}
