//! A picture in, a reading out: the joint of tag, light, outline and swatches. Knows no database and no clock.

use crate::colour::{CameraRgb, Lab, Lab32, lab_to_hex};
use crate::error::{Caution, Error, Result};
use crate::light;
use crate::photo::Opened;
use crate::picture::{Mask, Photograph, Picture, Polygon, scaled};
use crate::piece;
use crate::reading::{Correction, Reading, Swatch};
use crate::swatch;
use crate::tag::{self, Payload, Sighting};
use crate::words;
use std::collections::BTreeSet;

pub use crate::light::References;

/// The version of the method; it changes whenever the same photo would be read differently.
const METHOD: &str = "1";

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
}

/// Measures one opened photo; `references` are the studio's own paper and ink, or the usual ones.
pub fn measure(opened: &Opened, references: &References) -> Measured {
    let photo = &opened.photograph;
    let sightings = tag::find(photo);
    let (codes, states) = payloads(&sightings);
    let mut cautions = opened.cautions.clone();
    if codes.len() > 1 {
        cautions.push(several_pieces(&codes));
    }
    let step = photo.step_to(WORKING_SIDE);
    let picture = photo.reduced(step);
    let light = light_of(photo, &picture, &sightings, references);
    cautions.extend(light.cautions);
    let papers: Vec<Polygon> = sightings
        .iter()
        .map(|s| scaled(&s.paper(), 1.0 / step as f64))
        .collect();
    let mut reading = Reading {
        method: Some(METHOD.to_owned()),
        light: Some(light.light),
        cautions,
        ..Reading::default()
    };
    match (
        piece::find(&picture, &papers),
        reading.light.as_ref().and_then(|l| l.correction.as_ref()),
    ) {
        (Some(found), Some(correction)) => {
            let lab = in_true_light(&picture, step, &found.mask, correction);
            reading.swatches = named(swatch::dominant(&lab, &found.mask, light.doubt));
            reading.outline = Some(scaled(&found.outline, step as f64));
            reading.cautions.extend(found.cautions);
        }
        _ => reading.cautions.push(no_cloth()),
    }
    Measured {
        reading,
        codes,
        states,
    }
}

/// The studio's paper and ink, each `L,a,b` as the studio gave it, or the usual values where it gave none.
///
/// # Errors
/// A value that is not three numbers in the range of CIELAB.
pub fn references(paper: Option<&str>, ink: Option<&str>) -> Result<References> {
    let mut references = References::default();
    if let Some(text) = paper {
        references.paper = lab_from_text(text)?;
        references.paper_known = true;
    }
    if let Some(text) = ink {
        references.ink = lab_from_text(text)?;
        references.ink_known = true;
    }
    if references.paper.l - references.ink.l < APART {
        return Err(Error::caller(format!(
            "Ink of L* {} on paper of L* {} cannot be a tag's, whose paper is light (L* about 96) and ink dark (about 25): give both again.",
            references.ink.l, references.paper.l
        )));
    }
    Ok(references)
}

/// Paper and ink stand apart by this at least, L\*.
const APART: f64 = 30.0;

/// Reads `L,a,b`: L\* 0 to 100, a\* and b\* -128 to 127.
///
/// # Errors
/// Anything else, with an example of what is meant.
fn lab_from_text(text: &str) -> Result<Lab> {
    let numbers: Vec<f64> = text
        .split(',')
        .filter_map(|part| part.trim().parse().ok())
        .collect();
    match numbers[..] {
        [l, a, b] if text.split(',').count() == 3 && in_range(l, a, b) => Ok(Lab::new(l, a, b)),
        _ => Err(Error::caller(format!(
            "“{text}” is not a colour; write L* (0 to 100), a* and b* (-128 to 127) with commas between, such as “95.5,0.3,-1.2”."
        ))),
    }
}

fn in_range(l: f64, a: f64, b: f64) -> bool {
    (0.0..=100.0).contains(&l) && [a, b].iter().all(|v| (-128.0..=127.0).contains(v))
}

/// The light, from tags of pieces where there are any. State cards are printed with them, but may lie anywhere.
fn light_of(
    photo: &Photograph,
    picture: &Picture<CameraRgb>,
    sightings: &[Sighting],
    references: &References,
) -> light::Found {
    let tags: Vec<&Sighting> = sightings
        .iter()
        .filter(|s| matches!(s.payload, Payload::Piece(_)))
        .collect();
    light::from_tags(photo, &tags, references)
        .unwrap_or_else(|| light::assumed(picture, &photo.encoding.to_xyz))
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

/// The picture in true light, each of its pixels `step` pixels of the photo wide; only the piece is worked out.
fn in_true_light(
    picture: &Picture<CameraRgb>,
    step: usize,
    piece: &Mask,
    correction: &Correction,
) -> Picture<Lab32> {
    let corrector = correction.for_picture();
    let mut pixels = vec![Lab32::default(); picture.pixels.len()];
    for (number, lab) in pixels.iter_mut().enumerate() {
        if piece.pixels[number] {
            let place = [number % picture.width, number / picture.width];
            let centre = place.map(|p| (p as f64 + 0.5) * step as f64);
            let Lab { l, a, b, .. } = corrector.to_lab(picture.pixels[number], centre);
            *lab = Lab32::new(l as f32, a as f32, b as f32);
        }
    }
    Picture {
        width: picture.width,
        height: picture.height,
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

fn several_pieces(codes: &BTreeSet<String>) -> Caution {
    let list = codes
        .iter()
        .map(String::as_str)
        .collect::<Vec<_>>()
        .join(", ");
    Caution::new(
        "several-pieces",
        format!(
            "Tags of several pieces are in this picture ({list}); photograph each piece with its own tag alone."
        ),
    )
}

fn no_cloth() -> Caution {
    Caution::new(
        "no-cloth-found",
        "No piece of cloth was found in this picture; photograph one piece, spread out, so that it fills about half of the frame.",
    )
}
