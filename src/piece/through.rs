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
    let mut seen = field.hidden.clone();
    let mut things = Vec::new();
    for (start, away) in away.iter().enumerate() {
        if seen.pixels[start] || !(OUT.0..=OUT.1).contains(away) {
            continue;
        }
        let thing = alike(field, start);
        for (seen, &belongs) in seen.pixels.iter_mut().zip(&thing.pixels) {
            *seen |= belongs;
        }
        things.extend(inside(field, region, &thing, field.features.pixels[start]));
    }
    things
}

/// What can be reached from a pixel over others of its colour.
fn alike(field: &Field, start: usize) -> Mask {
    let colour = field.features.pixels[start];
    let mut thing = Mask::empty(field.width(), field.height());
    thing.pixels[start] = true;
    let mut open = vec![start];
    while let Some(at) = open.pop() {
        for next in trace::beside(at, thing.width, thing.height) {
            let belongs = !field.hidden.pixels[next] && near(colour, field.features.pixels[next]);
            if belongs && !thing.pixels[next] {
                thing.pixels[next] = true;
                open.push(next);
            }
        }
    }
    thing
}

/// The part of a thing in the region; `None` where it is none to speak of, or has a colour of the cloth.
fn inside(field: &Field, region: &Mask, thing: &Mask, colour: Feature) -> Option<Mask> {
    let mut part = thing.clone();
    for (part, &belongs) in part.pixels.iter_mut().zip(&region.pixels) {
        *part &= belongs;
    }
    let (covered, area) = (part.count() as f64, region.count() as f64);
    let shown = thing.count() as f64 - covered;
    let elsewhere = (0..part.pixels.len())
        .filter(|&i| region.pixels[i] && !part.pixels[i] && near(colour, field.features.pixels[i]))
        .count() as f64;
    let thing_only = (PART.0 * area..=PART.1 * area).contains(&covered) && shown <= area;
    (thing_only && shown >= SHOWN * covered && elsewhere <= ELSEWHERE * covered).then_some(part)
}

fn near(one: Feature, other: Feature) -> bool {
    let square: f32 = (0..3).map(|k| (one[k] - other[k]).powi(2)).sum();
    square <= ALIKE * ALIKE
}
