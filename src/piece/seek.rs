//! The cloth in a small picture, found in turns of learning and cutting.

use super::centre::Centre;
use super::cut::{Grid, STEPS};
use super::field::Field;
use super::local::Local;
use super::mixture::{self, Feature, Part, STRANGE};
use super::{frame, shape, trace};
use crate::picture::{Mask, Picture};

/// Parts of the mixtures.
const BACKDROP_PARTS: usize = 8;
const CLOTH_PARTS: usize = 8;
/// Pixels that are enough to learn a mixture from.
const ENOUGH: usize = 1500;
/// Turns of learning and cutting.
const TURNS: usize = 5;
/// Gaps between prints that stand out are closed up to this while the colours are learnt, as part of the longer side.
const GAP: f32 = 0.06;
/// What sticks out is narrower than twice this part of the longer side.
const SPUR: f32 = 0.06;
/// One unit of cost.
const UNIT: f32 = 100.0;
/// The cost of a cut between pixels that look alike, against the evidence of one pixel.
const SMOOTH: f32 = 6.0;
/// No pixel says more than this.
const SURE: f32 = 4.0;
/// The cost of a region that cannot be seen whole from its middle.
const STAR: f32 = 3.0;

/// What a search starts from.
#[derive(Clone, Copy)]
pub(super) struct Start {
    /// The log density below which a colour is foreign to the frame.
    foreign: f32,
    /// Gaps between foreign colours are closed up to this, as part of the longer side.
    gap: f32,
    /// Whether only what is seen near the corners of the frame counts as backdrop.
    corners: bool,
}

/// Searches in order; the later ones are for cloths that look much like what they lie on.
pub(super) const STARTS: [Start; 4] = [
    Start {
        foreign: STRANGE,
        gap: 0.10,
        corners: false,
    },
    Start {
        foreign: STRANGE + 2.0,
        gap: 0.18,
        corners: false,
    },
    Start {
        foreign: STRANGE + 3.0,
        gap: 0.25,
        corners: false,
    },
    // A cloth that runs out on both sides shows the same colours on both.
    Start {
        foreign: STRANGE,
        gap: 0.10,
        corners: true,
    },
];

/// The region of the cloth in a coarse picture; `None` where there is none.
pub(super) fn rough(field: &Field, start: Start) -> Option<Mask> {
    let seeds = if start.corners {
        frame::cornered(field)
    } else {
        frame::seeds(field)
    };
    let backdrop = mixture::fit(&gathered(field, &seeds), BACKDROP_PARTS, 4);
    if backdrop.is_empty() {
        return None;
    }
    let local = Local::new(field, &backdrop, &seeds);
    let mut region = cut(field, None, |i| {
        let feature = field.features.pixels[i];
        start.foreign - local.log_density(&backdrop, feature, i)
    });
    let side = field.width().max(field.height()) as f32;
    region = chosen(&shape::closed(
        &shape::opened(&region, 1.0),
        start.gap * side,
    ))?;
    for _ in 0..TURNS {
        region = chosen(&shape::closed(&turn(field, &region)?, GAP * side))?;
    }
    chosen(&turn(field, &region)?)
}

fn turn(field: &Field, region: &Mask) -> Option<Mask> {
    let (core, spurs) = parted(region);
    let cloth = mixture::fit(&gathered(field, &core), CLOTH_PARTS, 3);
    if cloth.is_empty() {
        return None;
    }
    let mut outside = region.map(|r| !r);
    for (i, out) in outside.pixels.iter_mut().enumerate() {
        *out |= spurs.pixels[i] && log_density(&cloth, field.features.pixels[i]) < STRANGE;
    }
    let backdrop = mixture::fit(&gathered(field, &outside), BACKDROP_PARTS, 3);
    if backdrop.is_empty() {
        return None;
    }
    let local = Local::new(field, &backdrop, &outside);
    let centre = Centre::of(region);
    Some(cut(field, Some(&centre), |i| {
        let feature = field.features.pixels[i];
        log_density(&cloth, feature) - local.log_density(&backdrop, feature, i)
    }))
}

/// The body of a region, and what sticks out of it: a thing that peeps from under the cloth, or a corner.
fn parted(region: &Mask) -> (Mask, Mask) {
    let depth = shape::distances(&region.map(|r| !r))
        .into_iter()
        .fold(0.0, f32::max);
    let side = region.width.max(region.height) as f32;
    let core = shape::opened(region, (0.5 * depth).min(SPUR * side));
    let mut spurs = region.clone();
    for (spur, &inner) in spurs.pixels.iter_mut().zip(&core.pixels) {
        *spur &= !inner;
    }
    (core, spurs)
}

/// The region at twice the size, its edge cut anew.
pub(super) fn refine(field: &Field, rough: &Mask) -> Mask {
    let mut large = Mask::empty(field.width(), field.height());
    for y in 0..large.height {
        for x in 0..large.width {
            large.pixels[y * large.width + x] = *rough.at(x / 2, y / 2);
        }
    }
    turn(field, &large)
        .and_then(|r| chosen(&r))
        .map_or(large, |r| tidied(&r))
}

/// The region without large spurs, which are things that peep from under the cloth, and with large narrow bays filled, which
/// are prints that look like the backdrop.
fn tidied(region: &Mask) -> Mask {
    let (core, spurs) = parted(region);
    let reach = SPUR * region.width.max(region.height) as f32;
    // A corner that was rounded off is smaller than this.
    let least = (region.count() / 80).max((0.7 * reach * reach) as usize);
    let mut tidy = core;
    add(&mut tidy, &spurs, |size| size < least);
    let mut bays = shape::closed(&tidy, reach);
    for (bay, &inner) in bays.pixels.iter_mut().zip(&tidy.pixels) {
        *bay &= !inner;
    }
    add(&mut tidy, &clear_of_frame(&bays), |size| size >= least);
    chosen(&tidy).unwrap_or(tidy)
}

/// The connected parts that do not touch the frame.
fn clear_of_frame(mask: &Mask) -> Mask {
    let (labels, sizes) = trace::regions(mask);
    let mut clear = vec![true; sizes.len() + 1];
    clear[0] = false;
    for i in trace::rim(mask.width, mask.height) {
        clear[labels[i] as usize] = false;
    }
    Mask {
        width: mask.width,
        height: mask.height,
        pixels: labels.iter().map(|&l| clear[l as usize]).collect(),
    }
}

/// Adds the connected parts of `more` whose size is right.
fn add(mask: &mut Mask, more: &Mask, right: impl Fn(usize) -> bool) {
    let (labels, sizes) = trace::regions(more);
    for (belongs, label) in mask.pixels.iter_mut().zip(labels) {
        *belongs |= label > 0 && right(sizes[label as usize - 1]);
    }
}

/// Features of a region to learn from, [`ENOUGH`] or a few more, evenly taken.
fn gathered(field: &Field, mask: &Mask) -> Vec<Feature> {
    let step = (mask.count() / ENOUGH).max(1);
    (0..mask.pixels.len())
        .filter(|&i| mask.pixels[i] && !field.hidden.pixels[i])
        .step_by(step)
        .map(|i| field.features.pixels[i])
        .collect()
}

fn log_density(mixture: &[Part], feature: Feature) -> f32 {
    mixture
        .iter()
        .map(|part| part.share.max(1e-6).ln() + part.log_density(feature))
        .fold(STRANGE - 3.0, f32::max)
}

/// The cheapest cut: `evidence` is the log of how much more likely a pixel is cloth.
fn cut(field: &Field, centre: Option<&Centre>, evidence: impl Fn(usize) -> f32) -> Mask {
    let (width, height) = (field.width(), field.height());
    let mut grid = Grid::new(width, height);
    let features = &field.features.pixels;
    let contrast = contrast(&field.features);
    for y in 0..height {
        for x in 0..width {
            let i = y * width + x;
            if !field.hidden.pixels[i] {
                grid.prefer(x, y, (evidence(i).clamp(-SURE, SURE) * UNIT) as i32);
            }
            for direction in [0, 2, 4, 6] {
                let (dx, dy) = STEPS[direction];
                let (Some(nx), Some(ny)) = (x.checked_add_signed(dx), y.checked_add_signed(dy))
                else {
                    continue;
                };
                if nx >= width || ny >= height {
                    continue;
                }
                let square = square(features[i], features[ny * width + nx]);
                let far = if direction >= 4 { 1.414 } else { 1.0 };
                let cost = SMOOTH * ((-square / contrast).exp() + 0.05) / far * UNIT;
                grid.tie(x, y, direction, cost as i32);
                grid.tie(nx, ny, direction ^ 1, cost as i32);
            }
            if let Some(direction) = centre.and_then(|c| c.towards(x, y)) {
                grid.tie(x, y, direction, (STAR * UNIT) as i32);
            }
        }
    }
    Mask {
        width,
        height,
        pixels: grid.kept(),
    }
}

fn square(one: Feature, other: Feature) -> f32 {
    (0..3).map(|i| (one[i] - other[i]).powi(2)).sum()
}

/// Twice the mean squared difference of neighbours.
fn contrast(features: &Picture<Feature>) -> f32 {
    let mut sum = 0.0;
    let mut count = 0.0;
    for row in features.pixels.chunks_exact(features.width) {
        for pair in row.windows(2) {
            sum += square(pair[0], pair[1]);
            count += 1.0;
        }
    }
    (2.0 * sum / f32::max(count, 1.0)).max(8.0)
}

/// The region that is the cloth: the largest, with its holes filled.
fn chosen(mask: &Mask) -> Option<Mask> {
    let (labels, sizes) = trace::regions(mask);
    let largest = (1..=sizes.len()).max_by_key(|&l| sizes[l - 1])? as u32;
    let region = Mask {
        width: mask.width,
        height: mask.height,
        pixels: labels.iter().map(|&l| l == largest).collect(),
    };
    Some(trace::filled(&region))
}
