//! What the reader must know of a photo as a whole.

use crate::colour::Lab32;
use crate::error::Caution;
use crate::picture::{Mask, Picture};
use std::collections::BTreeSet;

pub(super) fn several_pieces(codes: &BTreeSet<String>) -> Caution {
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

/// From this share of the cloth on, lost colours are told of.
const MUCH: f64 = 0.02;

/// What was lost of the cloth's darkest and brightest places.
pub(super) fn clipped([dark, bright]: [f64; 2]) -> Option<Caution> {
    let (part, what, cure) = if bright >= MUCH {
        (bright, "bright", "a little darker")
    } else {
        (dark, "dark", "a little brighter")
    };
    (part >= MUCH).then(|| {
        Caution::new(
            "cloth-clipped",
            format!(
                "{:.0} % of the cloth is too {what} for the camera to hold, so its colours there are lost; take the photo again {cure}.",
                100.0 * part
            ),
        )
    })
}

/// From this share of the cloth on, shine is told of.
const SHINE: f64 = 0.003;

/// Cloth scatters what falls on it: a place lighter than a perfect white, L\* 100, and some leeway for the light's own doubt, shines.
const WHITEST: f32 = 103.0;

/// Where the cloth is lighter than any cloth can be.
pub(super) fn glare(cells: &Picture<Lab32>, cloth: &Mask) -> Option<Caution> {
    let shines = |(lab, held): &(&Lab32, &bool)| **held && lab.l > WHITEST;
    let count = cells
        .pixels
        .iter()
        .zip(&cloth.pixels)
        .filter(shines)
        .count();
    (count as f64 >= SHINE * cloth.count() as f64 && count > 0).then(|| {
        Caution::new(
            "glare",
            "Parts of the cloth are lighter than white paper, so they shine; turn the cloth or step aside until the shine goes, and take the photo again.",
        )
    })
}

pub(super) fn no_cloth() -> Caution {
    Caution::new(
        "no-cloth-found",
        "No piece of cloth was found in this picture; photograph one piece, spread out, so that it fills about half of the frame.",
    )
}
