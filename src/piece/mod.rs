//! Where in a picture the piece is.
//!
//! The frame of the photo shows mostly backdrop; what the frame's colours cannot explain is cloth. Colours of backdrop and
//! cloth are two mixtures, learnt in turns with the cheapest cut between them: Rother, Kolmogorov & Blake 2004, doi
//! 10.1145/1015706.1015720.

mod centre;
mod cut;
mod field;
mod frame;
mod judge;
mod local;
mod mixture;
mod noise;
#[cfg(test)]
mod scenes;
mod seek;
mod shape;
mod sides;
mod through;
mod ties;
mod trace;

use crate::colour::CameraRgb;
use crate::error::Caution;
use crate::picture::{Mask, Picture, Polygon, scaled};
use field::Field;
use judge::Verdict;
use sides::Sides;

/// Where the piece is in a picture.
#[derive(Clone, Debug)]
pub struct Found {
    /// The cloth's edge: a simple polygon of at most about 120 corners, in the picture's pixels.
    pub outline: Polygon,
    /// The pixels of the picture that are cloth; tags and charts that lie on it are left out.
    pub mask: Mask,
    /// `outline-doubtful` where the edge could not be told with confidence.
    pub cautions: Vec<Caution>,
}

/// The longer side of the picture in which the edge is cut, pixels.
const FINE: usize = 260;
/// Nothing can be told from a picture, or from what it is reduced to, with a shorter side than this, pixels.
const SMALLEST: usize = 8;
/// Corners of an outline at most.
const CORNERS: usize = 120;
/// Cloth covers at least this share of a picture.
const LEAST: f64 = 0.02;

/// Finds the piece in a photo reduced to about 1000 pixels on the longer side, in linear light as photographed.
///
/// `keep_out` holds the polygons of tags and charts, in the picture's pixels; they and a sliver around them are never cloth.
/// `None` where there is no cloth in the picture.
pub fn find(picture: &Picture<CameraRgb>, keep_out: &[Polygon]) -> Option<Found> {
    if picture.width.min(picture.height) < SMALLEST {
        return None;
    }
    let step = picture.width.max(picture.height).div_ceil(FINE).max(1);
    let small = picture.reduced(step);
    let hidden = covered(keep_out, 1.0 / step as f64, small.width, small.height);
    let coarse = small.reduced(2);
    if coarse.width.min(coarse.height) < SMALLEST {
        return None;
    }
    let coarse_hidden = covered(keep_out, 0.5 / step as f64, coarse.width, coarse.height);
    let fields = |stretched| {
        [
            Field::new(&coarse, coarse_hidden.clone(), stretched),
            Field::new(&small, hidden.clone(), stretched),
        ]
    };
    let (region, verdict) = likeliest(fields)?;
    if (region.count() as f64) < LEAST * region.pixels.len() as f64 {
        return None;
    }
    let outline = trace::outline(&region, CORNERS);
    let outline = scaled(&outline, step as f64);
    let mask = Mask::inside(&outline, picture.width, picture.height);
    Some(Found {
        outline,
        mask: free(mask, keep_out),
        cautions: verdict.caution().into_iter().collect(),
    })
}

/// The piece where a person says it is: `outline` in the picture's pixels.
pub fn told(picture: &Picture<CameraRgb>, outline: Polygon, keep_out: &[Polygon]) -> Found {
    let (width, height) = (picture.width, picture.height);
    Found {
        mask: free(Mask::inside(&outline, width, height), keep_out),
        outline,
        cautions: Vec::new(),
    }
}

/// A mask without what tags and charts cover.
fn free(mut mask: Mask, keep_out: &[Polygon]) -> Mask {
    let hidden = covered(keep_out, 1.0, mask.width, mask.height);
    for (belongs, &out) in mask.pixels.iter_mut().zip(&hidden.pixels) {
        *belongs &= !out;
    }
    mask
}

/// The first search that leaves no doubt, else the likeliest of all, without things that its edge runs through. `fields`
/// gives a coarse and a fine one, with colours drawn apart or not.
fn likeliest(fields: impl Fn(bool) -> [Field; 2]) -> Option<(Mask, Verdict)> {
    let drawn_apart = fields(true);
    let mut plain = None;
    let mut best: Option<(Mask, Verdict)> = None;
    for start in seek::STARTS {
        let [coarse, field] = if start.stretched {
            &drawn_apart
        } else {
            plain.get_or_insert_with(|| fields(false))
        };
        let Some(rough) = seek::rough(coarse, start) else {
            continue;
        };
        let (region, verdict) = judged(&drawn_apart[1], seek::refine(field, &rough));
        let sure = verdict.caution().is_none();
        if sure
            || best
                .as_ref()
                .is_none_or(|(_, other)| verdict.score() > other.score())
        {
            best = Some((region, verdict));
        }
        if sure {
            break;
        }
    }
    // Only now: a wrong region, too, may look surer of itself without what its edge runs through.
    best.map(|(region, verdict)| (through::cleared(&drawn_apart[1], region), verdict))
}

/// A region without what sticks out of it, and how far it can be trusted.
fn judged(field: &Field, region: Mask) -> (Mask, Verdict) {
    let sides = Sides::of(&region);
    let Some((trimmed, its_sides)) = sides.as_ref().and_then(|sides| sides.trimmed(&region)) else {
        let verdict = Verdict::on(field, &region, sides.as_ref());
        return (region, verdict);
    };
    let verdict = if sides::strange(field, &region, &trimmed) {
        Verdict::on(field, &trimmed, Some(&its_sides))
    } else {
        Verdict::on(field, &region, sides.as_ref())
    };
    (trimmed, verdict)
}

/// The pixels of a picture `factor` as large that tags and charts cover, with their margin of paper.
fn covered(keep_out: &[Polygon], factor: f64, width: usize, height: usize) -> Mask {
    let mut all = Mask::empty(width, height);
    for polygon in keep_out {
        let paper = Mask::inside(&grown(&scaled(polygon, factor)), width, height);
        for (covered, here) in all.pixels.iter_mut().zip(paper.pixels) {
            *covered |= here;
        }
    }
    all
}

/// A polygon grown by a twelfth of its reach and a pixel and a half, from its middle.
fn grown(polygon: &[[f64; 2]]) -> Polygon {
    let count = polygon.len().max(1) as f64;
    let middle = [0, 1].map(|i| polygon.iter().map(|corner| corner[i]).sum::<f64>() / count);
    polygon
        .iter()
        .map(|&[x, y]| {
            let (dx, dy) = (x - middle[0], y - middle[1]);
            let factor = 1.0 + 1.0 / 12.0 + 1.5 / dx.hypot(dy).max(1.0);
            [middle[0] + dx * factor, middle[1] + dy * factor]
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A photo drawn for these tests: a backdrop of two materials with a shade across it, a round thing lying about, and
    /// (unless it is empty) a wavy cloth of three colours around `middle`, `half` wide and high on each side.
    fn photo(middle: [f64; 2], half: [f64; 2], ground: [f32; 3]) -> (Picture<CameraRgb>, Mask) {
        let (width, height) = (480, 360);
        let mut mask = Mask::empty(width, height);
        let mut noise = 5u32;
        let mut pixels = Vec::new();
        for y in 0..height {
            for x in 0..width {
                noise = noise.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                let grain = (noise >> 8) as f32 / (1u32 << 24) as f32 - 0.5;
                let (u, v) = (x as f64 - middle[0], y as f64 - middle[1]);
                let cloth = u.abs() < half[0] + 4.0 * (v / 17.0).sin()
                    && v.abs() < half[1] + 4.0 * (u / 19.0).sin();
                mask.pixels[y * width + x] = cloth;
                let colour = if cloth {
                    match ((u / 31.0).sin() * (v / 27.0).cos() * 3.0) as i32 {
                        -3..=-1 => [0.42, 0.16, 0.05],
                        1..=3 => [0.20, 0.21, 0.05],
                        _ => ground,
                    }
                } else if (x as f64 - 60.0).hypot(y as f64 - 280.0) < 22.0 {
                    [0.10, 0.15, 0.30]
                } else if y > 250 {
                    [0.30, 0.17, 0.09]
                } else {
                    [0.05, 0.06, 0.07]
                };
                let light = (0.7 + 0.5 * x as f32 / width as f32) * (1.0 + 0.25 * grain);
                let [r, g, b] = colour.map(|c| c * light);
                pixels.push(CameraRgb { r, g, b });
            }
        }
        let picture = Picture {
            width,
            height,
            pixels,
        };
        (picture, mask)
    }

    const LINEN: [f32; 3] = [0.55, 0.48, 0.36];

    fn overlap(one: &Mask, other: &Mask) -> f64 {
        let both = |f: fn(bool, bool) -> bool| {
            let pairs = one.pixels.iter().zip(&other.pixels);
            pairs.filter(|(a, b)| f(**a, **b)).count() as f64
        };
        both(|a, b| a && b) / both(|a, b| a || b)
    }

    fn check(middle: [f64; 2], half: [f64; 2]) -> Found {
        let (picture, truth) = photo(middle, half, LINEN);
        let found = find(&picture, &[]).expect("there is a cloth");
        let mask = Mask::inside(&found.outline, picture.width, picture.height);
        assert!(
            overlap(&mask, &truth) > 0.93,
            "overlap {}",
            overlap(&mask, &truth)
        );
        assert!(found.outline.len() <= CORNERS);
        found
    }

    #[test]
    fn a_clear_cloth_is_outlined_without_a_caution() {
        assert!(check([260.0, 170.0], [110.0, 90.0]).cautions.is_empty());
        assert!(check([200.0, 150.0], [150.0, 50.0]).cautions.is_empty());
    }

    #[test]
    fn a_cloth_may_run_out_of_the_photo() {
        check([250.0, 280.0], [60.0, 160.0]);
        check([250.0, 60.0], [70.0, 150.0]);
    }

    /// Top and bottom show the same colours of the cloth, which could as well be backdrop.
    #[test]
    fn a_cloth_that_runs_far_out_is_doubtful() {
        let (picture, truth) = photo([240.0, 200.0], [110.0, 250.0], LINEN);
        let found = find(&picture, &[]).expect("there is a cloth");
        assert_eq!(found.cautions[0].code, "outline-doubtful");
        assert!(overlap(&found.mask, &truth) > 0.9);
    }

    /// A cloth whose ground is the backdrop's colour, half as bright again, or darker by a fifth to a third.
    #[test]
    fn a_cloth_like_its_backdrop_is_outlined_or_doubtful() {
        for ground in [
            [0.065, 0.078, 0.09],
            [0.075, 0.09, 0.105],
            [0.04, 0.05, 0.06],
            [0.035, 0.04, 0.05],
        ] {
            let (picture, truth) = photo([260.0, 130.0], [110.0, 80.0], ground);
            let found = find(&picture, &[]);
            let sure = found.filter(|found| found.cautions.is_empty());
            let right = sure.is_none_or(|found| overlap(&found.mask, &truth) > 0.85);
            assert!(right, "a wrong outline was sure of itself: {ground:?}");
        }
    }

    #[test]
    fn a_photo_without_cloth_has_no_outline() {
        let (picture, _) = photo([0.0, 0.0], [-9.0, -9.0], LINEN);
        assert!(find(&picture, &[]).is_none());
    }

    #[test]
    fn pictures_too_small_to_tell_have_no_outline() {
        for (width, height) in [(0, 0), (1, 1), (3, 400), (12, 9)] {
            let pixels = vec![CameraRgb::default(); width * height];
            let picture = Picture {
                width,
                height,
                pixels,
            };
            assert!(find(&picture, &[]).is_none());
        }
    }

    /// A tag on the cloth is not cloth, but the outline goes around the cloth as if it were not there.
    #[test]
    fn a_tag_is_never_cloth() {
        let (mut picture, truth) = photo([260.0, 170.0], [110.0, 90.0], LINEN);
        let tag = vec![
            [230.0, 140.0],
            [280.0, 140.0],
            [280.0, 190.0],
            [230.0, 190.0],
        ];
        let paper = Mask::inside(&tag, picture.width, picture.height);
        for (pixel, paper) in picture.pixels.iter_mut().zip(&paper.pixels) {
            if *paper {
                *pixel = CameraRgb {
                    r: 0.9,
                    g: 0.9,
                    b: 0.9,
                };
            }
        }
        let found = find(&picture, &[tag]).expect("there is a cloth");
        assert!(!*found.mask.at(255, 165));
        let outlined = Mask::inside(&found.outline, picture.width, picture.height);
        assert!(overlap(&outlined, &truth) > 0.93);
    }
}
