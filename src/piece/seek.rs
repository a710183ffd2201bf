//! The cloth in a small picture, found in turns of learning and cutting.

use super::centre::Centre;
use super::field::Field;
use super::local::Local;
use super::mixture::{self, Feature, Part, STRANGE};
use super::ties::UNIT;
use super::{frame, shape, trace};
use crate::picture::Mask;

/// Parts of the mixtures.
const BACKDROP_PARTS: usize = 8;
const CLOTH_PARTS: usize = 8;
/// Pixels that are enough to learn a mixture from.
const ENOUGH: usize = 1500;
/// Turns of learning and cutting.
const TURNS: usize = 5;
/// A region has settled where a turn changes no more than one pixel in so many.
const SETTLED: usize = 400;
/// Gaps between prints that stand out are closed up to this while the colours are learnt, as part of the longer side.
const GAP: f32 = 0.06;
/// What sticks out is narrower than twice this part of the longer side.
const SPUR: f32 = 0.06;
/// No colour is less likely than this, as a log density.
const LEAST_LIKELY: f32 = STRANGE - 3.0;
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
    /// Whether only what is seen near the corners of the frame counts as backdrop, and in how many of the four.
    corners: Option<f32>,
    /// Whether colours are drawn apart as far as their grain allows.
    pub(super) stretched: bool,
}

/// Searches in order; the later ones are for cloths that look much like what they lie on.
pub(super) const STARTS: [Start; 6] = [
    START,
    Start {
        stretched: false,
        ..START
    },
    Start {
        foreign: STRANGE + 2.0,
        gap: 0.18,
        ..START
    },
    // A cloth that runs out over a corner shows its colours along much of the frame.
    Start {
        corners: Some(1.5),
        ..START
    },
    // A cloth that runs out on both sides shows the same colours on both.
    Start {
        corners: Some(0.5),
        ..START
    },
    Start {
        foreign: STRANGE + 3.0,
        gap: 0.25,
        stretched: false,
        ..START
    },
];

const START: Start = Start {
    foreign: STRANGE,
    gap: 0.10,
    corners: None,
    stretched: true,
};

/// The region of the cloth in a coarse picture; `None` where there is none.
pub(super) fn rough(field: &Field, start: Start) -> Option<Mask> {
    let seeds = match start.corners {
        Some(corners) => frame::cornered(field, corners),
        None => frame::seeds(field),
    };
    let backdrop = mixture::fit(&gathered(field, &seeds), BACKDROP_PARTS, 4);
    if backdrop.is_empty() {
        return None;
    }
    let local = Local::new(field, &backdrop, &seeds);
    let mut region = cut(field, None, |y| {
        let mut evidence = local.log_densities(field, &backdrop, y);
        for value in &mut evidence {
            *value = start.foreign - *value;
        }
        evidence
    });
    let side = field.width().max(field.height()) as f32;
    region = chosen(&shape::closed(
        &shape::opened(&region, 1.0),
        start.gap * side,
    ))?;
    let mut kept = turn(field, &region)?;
    for _ in 0..TURNS {
        let next = chosen(&shape::closed(&kept, GAP * side))?;
        if settled(&next, &region) {
            break;
        }
        region = next;
        kept = turn(field, &region)?;
    }
    chosen(&kept)
}

/// Whether a region has hardly changed from one turn to the next.
fn settled(next: &Mask, region: &Mask) -> bool {
    let pairs = next.pixels.iter().zip(&region.pixels);
    pairs.filter(|(a, b)| a != b).count() * SETTLED <= region.count()
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
    Some(cut(field, Some(&centre), |y| {
        let mut evidence = vec![LEAST_LIKELY; field.width()];
        mixture::raise(&cloth, field.row(y), &mut evidence);
        let against = local.log_densities(field, &backdrop, y);
        for (value, against) in evidence.iter_mut().zip(against) {
            *value -= against;
        }
        evidence
    }))
}

/// The body of a region, and what sticks out of it: a thing that peeps from under the cloth, or a corner.
fn parted(region: &Mask) -> (Mask, Mask) {
    let depths = shape::distances(&region.map(|r| !r));
    let deepest = depths.iter().copied().fold(0.0, f32::max);
    let side = region.width.max(region.height) as f32;
    let radius = (0.5 * deepest).min(SPUR * side);
    let deep = Mask {
        pixels: depths.iter().map(|&depth| depth > radius).collect(),
        ..*region
    };
    let core = shape::grown(&deep, radius);
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
        .map(|part| part.log_part(feature))
        .fold(LEAST_LIKELY, f32::max)
}

/// The cheapest cut: `evidence` gives for a row the logs of how much more likely its pixels are cloth.
fn cut(field: &Field, centre: Option<&Centre>, evidence: impl Fn(usize) -> Vec<f32>) -> Mask {
    let (width, height) = (field.width(), field.height());
    let mut grid = field.tied.clone();
    for y in 0..height {
        for (x, evidence) in evidence(y).into_iter().enumerate() {
            if !field.hidden.pixels[y * width + x] {
                grid.prefer(x, y, (evidence.clamp(-SURE, SURE) * UNIT) as i32);
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

/// The region that is the cloth: the largest, with its holes filled.
fn chosen(mask: &Mask) -> Option<Mask> {
    trace::largest(mask).map(|largest| trace::filled(&largest))
}
