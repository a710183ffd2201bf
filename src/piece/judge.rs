//! How far an outline can be trusted.

use super::field::Field;
use super::sides::Sides;
use super::{shape, trace};
use crate::error::Caution;
use crate::picture::{Mask, Polygon};

/// A clear cloth fills its convex hull to this part at least.
const SOLID: f64 = 0.88;
/// A clear cloth overlaps with four straight sides by this part at least.
const STRAIGHT: f64 = 0.93;
/// At most this part of a clear edge looks alike on both sides.
const WEAK: f64 = 0.35;
/// Features this near look alike across an edge.
const ALIKE: f32 = 7.0;
/// At most this part of a clear edge is the photo's frame.
const FRAMED: f64 = 0.30;
/// A clear cloth covers a part of the picture between these.
const AREA: (f64, f64) = (0.03, 0.90);

/// What a region looks like as a cloth.
pub(super) struct Verdict {
    /// The part of its edge along the photo's frame, 0 to 1.
    framed: f64,
    /// The part of the rest that looks alike on both sides, 0 to 1.
    weak: f64,
    /// The part of its convex hull that it fills, 0 to 1.
    solid: f64,
    /// Its overlap with the four straight sides that fit it best, 0 to 1.
    straight: f64,
    /// The part of the picture that it covers, 0 to 1.
    part: f64,
}

impl Verdict {
    /// `sides` are those of the region; an empty one has none.
    pub(super) fn on(field: &Field, region: &Mask, sides: Option<&Sides>) -> Self {
        let (framed, weak) = edge(field, region);
        let outline = trace::outline(region, usize::MAX);
        Self {
            framed,
            weak,
            solid: area(&outline) / area(&hull(&outline)).max(1.0),
            straight: sides.map_or(0.0, |sides| sides.fit),
            part: region.count() as f64 / region.pixels.len() as f64,
        }
    }

    /// How likely the region is the cloth, to compare searches of one picture; the higher the likelier.
    pub(super) fn score(&self) -> f64 {
        2.0 * self.straight + self.solid - self.weak - (self.framed - 0.5 * FRAMED).max(0.0)
    }

    /// The caution `outline-doubtful` where the region is unlikely to be the whole cloth and nothing else.
    pub(super) fn caution(&self) -> Option<Caution> {
        let reason = if self.framed > FRAMED {
            "the piece runs far out of the photo; step back, so that all its edges show"
        } else if !(AREA.0..=AREA.1).contains(&self.part) {
            "a piece is seldom so small or so large in a photo; go nearer or farther, so that it fills about half of the picture"
        } else if self.weak > WEAK {
            "the piece looks much like what it lies on; lay it on something of another colour"
        } else if self.solid < SOLID || self.straight < STRAIGHT {
            "the shape that was found is ragged; spread the piece out on something of another colour"
        } else {
            return None;
        };
        Some(Caution::new(
            "outline-doubtful",
            format!("Where the piece ends in this photo is doubtful: {reason}."),
        ))
    }
}

/// The part of a region's edge along the frame, and the part of the rest that looks alike on both sides.
fn edge(field: &Field, region: &Mask) -> (f64, f64) {
    let (width, height) = (region.width, region.height);
    let inward = shape::distances(&region.map(|r| !r));
    let (mut framed, mut free, mut weak) = (0f64, 0f64, 0f64);
    for y in 0..height {
        for x in 0..width {
            if !region.at(x, y) {
                continue;
            }
            if x == 0 || y == 0 || x + 1 == width || y + 1 == height {
                framed += 1.0;
            } else if inward[y * width + x] == 1.0 {
                free += 1.0;
                weak += f64::from(contrast(field, &inward, x, y) < ALIKE);
            }
        }
    }
    (
        framed / f64::max(framed + free, 1.0),
        weak / f64::max(free, 1.0),
    )
}

/// How far the means inside and outside lie apart, over the pixels within three of one at the edge and clear of it.
fn contrast(field: &Field, inward: &[f32], x: usize, y: usize) -> f32 {
    let (width, height) = (field.width(), field.height());
    let (mut inside, mut outside) = ([0f32; 4], [0f32; 4]);
    for v in y.saturating_sub(3)..(y + 4).min(height) {
        for u in x.saturating_sub(3)..(x + 4).min(width) {
            let i = v * width + u;
            let sum = if inward[i] > 1.5 {
                &mut inside
            } else if inward[i] == 0.0 {
                &mut outside
            } else {
                continue;
            };
            for (total, value) in sum.iter_mut().zip(field.features.pixels[i]) {
                *total += value;
            }
            sum[3] += 1.0;
        }
    }
    (0..3)
        .map(|k| (inside[k] / inside[3].max(1.0) - outside[k] / outside[3].max(1.0)).powi(2))
        .sum::<f32>()
        .sqrt()
}

/// The convex hull (Andrew's monotone chain, doi 10.1016/0020-0190(79)90072-3).
fn hull(polygon: &[[f64; 2]]) -> Polygon {
    let mut points = polygon.to_vec();
    points.sort_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
    let mut hull = half(points.iter());
    hull.extend(half(points.iter().rev()));
    hull
}

/// One side of the hull, its last corner left to the other side.
fn half<'a>(points: impl Iterator<Item = &'a [f64; 2]>) -> Polygon {
    let mut chain = Polygon::new();
    for &point in points {
        while let [.., a, b] = chain[..]
            && (b[0] - a[0]) * (point[1] - a[1]) <= (b[1] - a[1]) * (point[0] - a[0])
        {
            chain.pop();
        }
        chain.push(point);
    }
    chain.pop();
    chain
}

/// The area of a simple polygon.
fn area(polygon: &[[f64; 2]]) -> f64 {
    (0..polygon.len())
        .map(|i| {
            let ([x0, y0], [x1, y1]) = (polygon[i], polygon[(i + 1) % polygon.len()]);
            x0 * y1 - x1 * y0
        })
        .sum::<f64>()
        .abs()
        / 2.0
}
