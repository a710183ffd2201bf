//! A picture in, a reading out: the joint of tag, light, outline and swatches. Knows no database and no clock.

mod cautions;
mod known;
mod light;
mod marks;
mod told;

use crate::colour::{CameraRgb, Lab32, lab_to_hex};
use crate::light::{Found, Surroundings};
use crate::photo::Opened;
use crate::picture::{Mask, Picture, Polygon, scaled};
use crate::piece;
use crate::reading::{Basis, Correction, Light, Reading, Swatch};
use crate::swatch::{self, Cells};
use crate::tag::{self, Payload, Sighting};
use crate::words;
use light::Place;
use std::collections::BTreeSet;

pub use crate::colour::Lab;
pub use crate::light::References;
pub use crate::light::chart::{Chart, Corners};
pub use crate::picture::alike;
pub use known::{Card, Known, references};
pub use marks::{Mark, marks};
pub use told::outline;

/// The version of the method; it changes whenever the same photo would be read differently.
const METHOD: &str = "3";

/// Outline and colours are found in a picture whose longer side is at most this many pixels: 1008 for the 2016, 4032 and 8064
/// that phones write.
const WORKING_SIDE: usize = 1100;

/// What one photo showed.
#[derive(Clone, Debug)]
pub struct Measured {
    /// Light, outline, colours and cautions; without colours where no cloth was found.
    pub reading: Reading,
    /// Codes of the pieces whose tags are in the picture, each once.
    pub codes: BTreeSet<String>,
    /// Words of the state cards in the picture, each once.
    pub states: BTreeSet<String>,
    /// The colour of what the cloth lies on, on the mean; `None` where nothing of it is seen.
    pub ground: Option<Lab>,
    /// What the picture looks like in 64 bits; see [`Picture::print`].
    pub print: u64,
    /// A card of the studio's own whose chart was not placed yet and was found: its name, and the corners in modules of its code.
    pub card: Option<(String, Corners)>,
}

/// Measures one opened photo by what is `known` beforehand.
pub fn measure(opened: &Opened, known: &Known<'_>) -> Measured {
    let photo = &opened.photograph;
    let sightings = tag::find(photo);
    let (codes, states) = payloads(&sightings);
    let mut cautions = opened.cautions.clone();
    if codes.len() > 1 {
        cautions.push(cautions::several_pieces(&codes));
    }
    let step = photo.step_to(WORKING_SIDE);
    let picture = photo.reduced(step);
    let place = Place::of(photo, &picture, &sightings, known, &mut cautions);
    let papers: Vec<Polygon> = sightings
        .iter()
        .map(|s| s.paper().to_vec())
        .chain(place.as_ref().map(Place::area))
        .map(|polygon| scaled(&polygon, 1.0 / step as f64))
        .collect();
    let cloth = match known.outline {
        Some(outline) => {
            let told = scaled(outline, 1.0 / step as f64);
            Some(piece::told(&picture, told, &papers))
        }
        None => piece::find(&picture, &papers),
    };
    let bare = bare(&picture, &papers, cloth.as_ref().map(|c| &c.outline));
    let around = Surroundings {
        size: [photo.width, photo.height],
        picture: &picture,
        step,
        bare: &bare,
    };
    let light = light::of(photo, place.as_ref(), &sightings, known, &around);
    cautions.extend(light.cautions.iter().cloned());
    let mut reading = Reading {
        method: Some(METHOD.to_owned()),
        cautions,
        ..Reading::default()
    };
    match cloth {
        Some(cloth) => {
            reading
                .cautions
                .extend(cautions::clipped(photo.clipped(&cloth.mask, step)));
            coloured(&mut reading, &picture, step, cloth, &light);
        }
        None => reading.cautions.push(cautions::no_cloth()),
    }
    Measured {
        ground: ground(&around, light.light.correction.as_ref()),
        reading: Reading {
            light: Some(Light {
                doubt: Some(light.doubt),
                ..light.light
            }),
            ..reading
        },
        codes,
        states,
        print: picture.print(),
        card: place.and_then(|place| place.card),
    }
}

/// How far colours are off where reference and cloth stood in different light, CIEDE2000: 11 to 21 in computed photos.
const LIT_APART: f64 = 12.0;

/// Puts outline and colours of the cloth into a reading.
fn coloured(
    reading: &mut Reading,
    picture: &Picture<CameraRgb>,
    step: usize,
    cloth: piece::Found,
    light: &Found,
) {
    let Some(correction) = &light.light.correction else {
        return;
    };
    let cells = swatch::cells(picture, &cloth.mask);
    let lab = in_true_light(&cells, step, correction);
    let mut swatches = swatch::dominant(&lab, &cells.mask, light.doubt);
    let apart = cautions::lit_apart(&swatches).filter(|_| light.light.basis != Basis::Assumed);
    if apart.is_some() {
        swatches = swatch::dominant(&lab, &cells.mask, light.doubt.with(LIT_APART));
    }
    reading.cautions.extend(apart);
    reading.swatches = named(swatches);
    reading.outline = Some(scaled(&cloth.outline, step as f64));
    reading.cautions.extend(cautions::glare(&lab, &cells.mask));
    reading.cautions.extend(cloth.cautions);
}

/// The mean colour of what lies around the cloth; `None` where nothing does.
fn ground(around: &Surroundings<'_>, correction: Option<&Correction>) -> Option<Lab> {
    let (mut sum, mut count) = ([0.0; 3], 0.0);
    let bare = around.picture.pixels.iter().zip(&around.bare.pixels);
    // A mean needs no more than every seventh pixel.
    for (pixel, _) in bare.step_by(7).filter(|(_, bare)| **bare) {
        for (sum, value) in sum.iter_mut().zip(pixel.array()) {
            *sum += value;
        }
        count += 1.0;
    }
    let [r, g, b] = sum.map(|s| (s / count) as f32);
    let lab = correction?.to_lab(CameraRgb { r, g, b });
    (count > 0.0).then_some(lab)
}

/// Which pixels are neither cloth nor paper, nor next to it, where it may throw a shadow.
fn bare(picture: &Picture<CameraRgb>, papers: &[Polygon], cloth: Option<&Polygon>) -> Mask {
    let (width, height) = (picture.width, picture.height);
    let mut bare = Mask::inside(
        cloth.map_or(&[][..], |polygon| polygon.as_slice()),
        width,
        height,
    );
    for paper in papers {
        let held = Mask::inside(paper, width, height);
        for (bare, held) in bare.pixels.iter_mut().zip(held.pixels) {
            *bare |= held;
        }
    }
    bare.pixels.iter_mut().for_each(|held| *held = !*held);
    bare
}

fn payloads(sightings: &[Sighting]) -> (BTreeSet<String>, BTreeSet<String>) {
    let (mut codes, mut states) = (BTreeSet::new(), BTreeSet::new());
    for sighting in sightings {
        match &sighting.payload {
            Payload::Piece(code) => codes.insert(code.clone()),
            Payload::State(word) => states.insert(word.clone()),
            Payload::Card(_) => false,
        };
    }
    (codes, states)
}

/// A cloth's cells in true light, in a picture each of whose pixels is `step` pixels of the photo wide.
fn in_true_light(cells: &Cells, step: usize, correction: &Correction) -> Picture<Lab32> {
    let corrector = correction.for_picture();
    let light = &cells.light;
    let side = (step * cells.step) as f64;
    let mut pixels = vec![Lab32::default(); light.pixels.len()];
    for (number, lab) in pixels.iter_mut().enumerate() {
        if cells.mask.pixels[number] {
            let place = [number % light.width, number / light.width];
            let centre = place.map(|p| (p as f64 + 0.5) * side);
            let Lab { l, a, b, .. } = corrector.to_lab(light.pixels[number], centre);
            *lab = Lab32::new(l as f32, a as f32, b as f32);
        }
    }
    Picture {
        width: light.width,
        height: light.height,
        pixels,
    }
}

fn named(mut swatches: Vec<Swatch>) -> Vec<Swatch> {
    for swatch in &mut swatches {
        let word = words::word(swatch.lab, swatch.doubt.unwrap_or_default());
        swatch.word = Some(word.text);
        swatch.word_level = Some(word.level);
        swatch.srgb = Some(lab_to_hex(swatch.lab));
    }
    swatches
}
