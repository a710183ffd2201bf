//! What the edges of a tag's modules say of the camera's tone curve.
//!
//! Blur spreads light evenly to both sides of an edge: half-way light lies in its middle, and what the white side loses at
//! some distance the dark side gains at the same. A tone curve laid over it afterwards breaks that symmetry, and only the
//! right curve, undone, brings it back. Where the edge lies is left open, so ink that has spread is no matter.

use super::cautions::SHADED;
use super::sample::Sample;
use super::tone::Triple;
use crate::colour::{Matrix, apply, inverse};
use crate::picture::{Photograph, Samples};
use crate::reading::Tone;
use crate::tag::Sighting;
use palette::encoding::{FromLinear, Srgb};

/// Distances from the edge are told apart by so many pixels.
const BIN: f64 = 0.125;

/// An edge is looked at from so many bins before it to so many behind it: 2.75 pixels.
const REACH: usize = 22;

/// Both sides are compared up to so many bins from the middle.
const COMPARED: usize = 17;

/// The fewest pixels of a bin.
const FEWEST: usize = 12;

/// About as many pixels of a tag are looked at; of larger tags not every row.
const PIXELS: f64 = 40_000.0;

/// The smallest module, in pixels: below it the blur of one edge reaches the next.
const SMALLEST: f64 = 5.0;

/// How wide an edge is between a quarter and three quarters of its light, in pixels: below, there is no blur to look at;
/// above this part of a module, the blur reaches the next edge.
const WIDTH: (f64, f64) = (0.6, 0.4);

/// One standard deviation of what remains of asymmetry under the right curve, as a part of the step from black to white, by
/// noise alone; what the best of all curves leaves is added.
const UNEVEN: f64 = 0.0035;

/// How much asymmetry may come of the camera's sharpening, by how far white overshoots beside black: on computed edges an
/// overshoot of 0.02 shifts the shoulder by 0.3 to 0.5 where nothing is allowed for.
const SHARPENED: f64 = 1.2;

/// Overshoot that JPEG and noise alone leave on computed photos.
const RINGING: f64 = 0.005;

/// The mean rise of light over the edges of one tag.
#[derive(Clone, Debug)]
pub(super) struct Edges {
    /// The median linear light of each bin, from the dark to the white.
    rise: Vec<f64>,
    black: f64,
    white: f64,
    /// How far the camera's sharpening drives white beside black beyond white, as a part of the step between them in
    /// encoded light; 0 is not at all.
    overshoot: f64,
}

impl Edges {
    /// The edges of a tag; `None` where they say nothing: a small tag, a shadow across it, white at the top of the range,
    /// no blur or too much.
    pub fn take(photo: &Photograph, tag: &Sighting, sample: &Sample) -> Option<Self> {
        if was_made_smaller(photo) {
            return None;
        }
        let usable =
            sample.module >= SMALLEST && sample.uneven <= SHADED && !sample.clipped.contains(&true);
        if !usable {
            return None;
        }
        let mut bins = vec![Vec::new(); 2 * REACH + 1];
        for (away, light) in pixels(photo, tag) {
            let place = away / BIN + REACH as f64;
            if (0.0..bins.len() as f64).contains(&place.round()) {
                bins[place.round() as usize].push((place, light));
            }
        }
        let rise = whole(bins.into_iter().map(middle).collect())?;
        let (black, white) = (luma(sample.black), luma(sample.white));
        let edges = Self {
            overshoot: overshoot(&rise, black, white),
            rise,
            black,
            white,
        };
        let usual = edges.light(Tone {
            strength: super::tone::USUAL.0,
            ..Tone::default()
        });
        let width = (crossing(&usual, 0.75)? - crossing(&usual, 0.25)?) * BIN;
        (WIDTH.0..=WIDTH.1 * sample.module)
            .contains(&width)
            .then_some(edges)
    }

    /// The mean square of what each curve leaves of asymmetry, as a part of the step from black to white. The curves are of one
    /// strength: the S is undone once for all.
    pub fn asymmetries(&self, tones: &[Tone]) -> Vec<f64> {
        let Some(first) = tones.first() else {
            return Vec::new();
        };
        let bent = self.each(|light| first.undo_strength(light));
        let left = |tone: &Tone| asymmetry(&bent.each(|bent| tone.undo_shoulder(bent)).parts());
        tones.iter().map(left).collect()
    }

    /// The variance of [`asymmetries`](Self::asymmetries), where the best of all curves leaves `least`.
    pub fn variance(&self, least: f64) -> f64 {
        let sharpened = SHARPENED * (self.overshoot - RINGING).max(0.0);
        UNEVEN * UNEVEN + sharpened * sharpened + least / 2.0
    }

    /// Light before the curve, 0 for black and 1 for white, bin by bin.
    fn light(&self, tone: Tone) -> Vec<f64> {
        self.each(|light| tone.undo(light)).parts()
    }

    fn each(&self, change: impl Fn(f64) -> f64) -> Self {
        Self {
            rise: self.rise.iter().map(|&light| change(light)).collect(),
            black: change(self.black),
            white: change(self.white),
            overshoot: self.overshoot,
        }
    }

    /// The rise, 0 for black and 1 for white.
    fn parts(&self) -> Vec<f64> {
        let part = |light: &f64| (light - self.black) / (self.white - self.black);
        self.rise.iter().map(part).collect()
    }
}

/// The mean square of what is uneven in a rise of light from 0 to 1, bin by bin.
fn asymmetry(light: &[f64]) -> f64 {
    let Some(mut middle) = crossing(light, 0.5) else {
        return 1.0;
    };
    let both = |middle: f64, bin: usize| {
        let away = bin as f64 + 0.5;
        let (there, up) = at(light, middle + away);
        let (here, down) = at(light, middle - away);
        (there + here - 1.0, up + down)
    };
    // Two steps of Gauss and Newton bring the middle to where the two sides are most alike.
    for _ in 0..2 {
        let (mut off, mut steep) = (0.0, 1e-9);
        for (rest, slope) in (0..COMPARED).map(|bin| both(middle, bin)) {
            off += rest * slope;
            steep += slope * slope;
        }
        middle -= (off / steep).clamp(-2.0, 2.0);
    }
    let squares = (0..COMPARED).map(|bin| both(middle, bin).0.powi(2));
    squares.sum::<f64>() / COMPARED as f64
}

/// Minus twice the log-likelihood of each curve by the edges, the best of them 0 or more.
pub(super) fn unevenness(tones: &[Tone], edges: &[Edges]) -> Vec<f64> {
    let mut all = vec![0.0; tones.len()];
    // What spoils the edges of one tag (blur after the curve, sharpening) spoils them all: more tags are no more evidence.
    let edges_seen = edges.len() as f64;
    for edges in edges {
        let left: Vec<f64> = tones
            .chunk_by(|one, other| one.strength == other.strength)
            .flat_map(|tones| edges.asymmetries(tones))
            .collect();
        let variance = edges.variance(left.iter().copied().fold(f64::INFINITY, f64::min));
        for (sum, left) in all.iter_mut().zip(left) {
            *sum += left / variance / edges_seen;
        }
    }
    all
}

/// Whether a photo has fewer pixels than any phone's: somebody made it smaller, which blurs edges after the curve.
fn was_made_smaller(photo: &Photograph) -> bool {
    matches!(photo.samples, Samples::Eight(_)) && photo.width * photo.height < 2_000_000
}

/// Light and its slope at a place between bins; beyond the last bins it is level.
fn at(light: &[f64], place: f64) -> (f64, f64) {
    let place = place.clamp(0.0, (light.len() - 1) as f64 - 1e-9);
    let low = place as usize;
    let slope = light[low + 1] - light[low];
    (light[low] + slope * place.fract(), slope)
}

/// Where, in bins, light first rises through a level.
fn crossing(light: &[f64], level: f64) -> Option<f64> {
    let over = light.iter().position(|&l| l >= level)?;
    let below = over.checked_sub(1)?;
    Some(below as f64 + (level - light[below]) / (light[over] - light[below]))
}

/// How far a rise goes beyond white and black, as a part of the step between them, in encoded light.
fn overshoot(rise: &[f64], black: f64, white: f64) -> f64 {
    let encoded = |light: f64| -> f64 { Srgb::from_linear(light) };
    let (low, high) = (encoded(black), encoded(white));
    let most = rise.iter().copied().fold(0.0, f64::max);
    let least = rise.iter().copied().fold(1.0, f64::min);
    let beyond = (encoded(most) - high).max(low - encoded(least));
    (beyond / (high - low)).max(0.0)
}

/// The light of a pixel in the shares that JPEG keeps at full resolution (ITU-R BT.601): colour beside an edge is coarser.
fn luma([r, g, b]: Triple) -> f64 {
    0.299 * r + 0.587 * g + 0.114 * b
}

/// The light at the middles of the bins about the edge, up to the first on either side that is wanting: half a module is
/// less than the reach where modules are small.
fn whole(bins: Vec<Option<(f64, f64)>>) -> Option<Vec<f64>> {
    let near = (0..=REACH)
        .take_while(|away| {
            [REACH - away, REACH + away]
                .iter()
                .all(|&bin| bins[bin].is_some())
        })
        .last()?;
    let first = REACH - near;
    let known: Vec<(f64, f64)> = bins[first..=REACH + near]
        .iter()
        .copied()
        .collect::<Option<_>>()?;
    let light = |bin: usize| {
        let (place, light) = known[bin];
        let off = (first + bin) as f64 - place;
        let beside = if off < 0.0 {
            bin.checked_sub(1)
        } else {
            Some(bin + 1)
        };
        let slope = beside
            .and_then(|b| known.get(b))
            .map_or(0.0, |next| (next.1 - light) / (next.0 - place));
        light + slope * off
    };
    Some((0..known.len()).map(light).collect())
}

/// The mean place of a bin's pixels and the median of their light, which a tone curve bends like any light; `None` of too
/// few.
fn middle(pixels: Vec<(f64, f64)>) -> Option<(f64, f64)> {
    if pixels.len() < FEWEST {
        return None;
    }
    let place = pixels.iter().map(|p| p.0).sum::<f64>() / pixels.len() as f64;
    let mut lights: Vec<f64> = pixels.into_iter().map(|p| p.1).collect();
    let half = lights.len() / 2;
    Some((
        place,
        *lights.select_nth_unstable_by(half, f64::total_cmp).1,
    ))
}

/// The pixels by straight edges of a tag: how far beyond the edge into the white, in pixels, and their light.
fn pixels(photo: &Photograph, tag: &Sighting) -> Vec<(f64, f64)> {
    let end = tag.modules as f64 + 0.5;
    let corners =
        [[-0.5, -0.5], [end, -0.5], [end, end], [-0.5, end]].map(|[u, v]| tag.point(u, v));
    let span = |axis: usize, most: usize| {
        let places = corners.map(|c| c[axis]);
        let low = places.iter().copied().fold(f64::INFINITY, f64::min);
        let high = places.iter().copied().fold(0.0, f64::max);
        (low.max(0.0) as usize).min(most)..(high as usize).min(most)
    };
    let (across, down) = (span(0, photo.width), span(1, photo.height));
    let rows = (across.len() as f64 * down.len() as f64 / PIXELS)
        .ceil()
        .max(1.0);
    let back = inverse(tag.to_photo);
    let mut found = Vec::new();
    for y in down.step_by(rows as usize) {
        for x in across.clone() {
            if let Some(away) = beyond_edge(tag, &back, [x as f64 + 0.5, y as f64 + 0.5]) {
                found.push((away, luma(photo.linear(x, y).array())));
            }
        }
    }
    found
}

/// How far beyond the nearest edge into the white a place is, in pixels; `None` where none is near, or a corner is.
fn beyond_edge(tag: &Sighting, back: &Matrix, [x, y]: [f64; 2]) -> Option<f64> {
    let [u, v, depth] = apply(*back, [x, y, 1.0]);
    let place = [u / depth, v / depth];
    let nearest = usize::from(off_line(place[0]) > off_line(place[1]));
    let (across, along) = (place[nearest], place[1 - nearest]);
    let (line, cell) = (across.round(), along.floor());
    let dark = |before: f64, cell: f64| {
        let [u, v] = if nearest == 0 {
            [before, cell]
        } else {
            [cell, before]
        };
        is_dark(tag, u, v)
    };
    let beside = cell + if along - cell < 0.5 { -1.0 } else { 1.0 };
    let sides = [line - 1.0, line].map(|side| dark(side, cell));
    let straight = sides == [line - 1.0, line].map(|side| dark(side, beside));
    if sides[0] == sides[1] || !straight {
        return None;
    }
    let slope = [0, 1].map(|axis| (back[nearest][axis] - across * back[2][axis]) / depth);
    let pixels = (across - line) / slope[0].hypot(slope[1]);
    Some(if sides[0] { pixels } else { -pixels })
}

/// How far a place is from the nearest line between modules, in modules.
fn off_line(place: f64) -> f64 {
    (place - place.round()).abs()
}

fn is_dark(tag: &Sighting, across: f64, down: f64) -> bool {
    let side = tag.modules as f64;
    let within = (0.0..side).contains(&across) && (0.0..side).contains(&down);
    within && tag.dark.get((down * side + across) as usize) == Some(&true)
}
