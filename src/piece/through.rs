//! Things that an outline runs through.
//!
//! A stone that lies half over a side of the cloth, along so much of it that the side seems to bend round it, goes into the
//! region. But the outline then runs through the stone: it looks alike on both sides of the edge, and like nothing else of
//! the cloth, and the cloth has straighter sides without it.

use super::field::Field;
use super::mixture::Feature;
use super::sides::{self, Sides};
use super::{shape, trace};
use crate::picture::Mask;

/// A thing is looked for where it comes out of the region, this far from it, pixels: nearer, its colour is mixed with others.
const OUT: (f32, f32) = (1.5, 3.0);
/// What is within this of a thing's colour is the thing, in units of the features.
const ALIKE: f32 = 6.0;
/// Parts of the region that a thing in it covers: at least so that it counts as a colour, at most so that cloth remains.
const PART: (f64, f64) = (0.006, 0.15);
/// A thing shows outside by at least this part of what is inside.
const SHOWN: f64 = 0.1;
/// A thing's colour is elsewhere on the cloth by at most this part of what the thing covers.
const ELSEWHERE: f64 = 0.25;

/// A region without the things that its edge runs through; each is left out only if the sides are straighter without it.
pub(super) fn cleared(field: &Field, mut region: Mask) -> Mask {
    let Some(mut straight) = Sides::of(&region).map(|sides| sides.fit) else {
        return region;
    };
    for thing in things(field, &region) {
        let less = sides::without(&region, &shape::grown(&thing, 1.0));
        let Some(less) = trace::largest(&shape::opened(&less, 1.5)) else {
            continue;
        };
        let fit = Sides::of(&less).map_or(0.0, |sides| sides.fit);
        if fit > straight {
            (region, straight) = (less, fit);
        }
    }
    region
}

/// What of each thing lies in the region.
fn things(field: &Field, region: &Mask) -> Vec<Mask> {
    let away = shape::distances(region);
    let area = region.count();
    let mut seen = field.hidden.clone();
    let mut reached = vec![0; away.len()];
    let mut things = Vec::new();
    for (start, away) in away.iter().enumerate() {
        if seen.pixels[start] || !(OUT.0..=OUT.1).contains(away) {
            continue;
        }
        let thing = alike(field, start, &mut reached);
        thing.iter().for_each(|&at| seen.pixels[at] = true);
        if is_thing(field, (region, area), &thing) {
            let mut part = Mask::empty(region.width, region.height);
            for at in thing {
                part.pixels[at] = region.pixels[at];
            }
            things.push(part);
        }
    }
    things
}

/// What can be reached from `start` over others of its colour, itself first; `reached` holds by which start each pixel was
/// reached last, counted from 1.
fn alike(field: &Field, start: usize, reached: &mut [usize]) -> Vec<usize> {
    let colour = field.features.pixels[start];
    let mut thing = vec![start];
    reached[start] = start + 1;
    let mut done = 0;
    while let Some(&at) = thing.get(done) {
        done += 1;
        for next in trace::beside(at, field.width(), field.height()) {
            let belongs = !field.hidden.pixels[next] && near(colour, field.features.pixels[next]);
            if belongs && reached[next] != start + 1 {
                reached[next] = start + 1;
                thing.push(next);
            }
        }
    }
    thing
}

/// Whether enough of it lies in the region and outside, and the cloth has its colour hardly elsewhere. `area`: the region's.
fn is_thing(field: &Field, (region, area): (&Mask, usize), thing: &[usize]) -> bool {
    let covered = thing.iter().filter(|&&at| region.pixels[at]).count();
    let shown = thing.len() - covered;
    let (part, covered_much) = (PART.0 * area as f64..=PART.1 * area as f64, covered as f64);
    if !part.contains(&covered_much) || shown > area || (shown as f64) < SHOWN * covered_much {
        return false;
    }
    let colour = field.features.pixels[thing[0]];
    let of_cloth = field.features.pixels.iter().zip(&region.pixels);
    let alike = of_cloth.filter(|(feature, belongs)| **belongs && near(colour, **feature));
    let elsewhere = alike.count() - covered;
    elsewhere as f64 <= ELSEWHERE * covered_much
}

fn near(one: Feature, other: Feature) -> bool {
    let square: f32 = (0..3).map(|k| (one[k] - other[k]).powi(2)).sum();
    square <= ALIKE * ALIKE
}
