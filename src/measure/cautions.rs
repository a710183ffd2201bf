//! What the reader must know of a photo as a whole.

use crate::colour::Lab32;
use crate::error::Caution;
use crate::picture::{Mask, Picture};
use crate::reading::Swatch;
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

/// No dyed cloth is as light as this and as colourful: L\* and C\*. Common practice, no source.
const IMPOSSIBLE: (f64, f64) = (96.0, 10.0);

/// From this share of the cloth on, such colours are no stray highlights.
const SUNLIT: f64 = 0.05;

/// Whether colours told from a reference are lighter than cloth can be, so that it stood in other light than the cloth.
pub(super) fn lit_apart(swatches: &[Swatch]) -> Option<Caution> {
    let impossible =
        |s: &&Swatch| s.lab.l >= IMPOSSIBLE.0 && s.lab.a.hypot(s.lab.b) >= IMPOSSIBLE.1;
    let share: f64 = swatches.iter().filter(impossible).map(|s| s.share).sum();
    (share >= SUNLIT).then(|| {
        Caution::new(
            "lit-apart",
            "The cloth is lighter than dyed cloth can be by this tag or chart, so one of them stood in the shade and the other did not; lay both in the same light and take the photo again.",
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::colour::Lab;

    fn check(colours: [([f64; 3], f64); 2], apart: bool) {
        let swatch = |([l, a, b], share): ([f64; 3], f64)| Swatch {
            lab: Lab::new(l, a, b),
            share,
            doubt: None,
            word: None,
            word_level: None,
            srgb: None,
            part: None,
            plant: None,
        };
        assert_eq!(lit_apart(&colours.map(swatch)).is_some(), apart);
    }

    #[test]
    fn cloth_lighter_than_cloth_can_be_is_told() {
        check([([72.0, 5.0, 42.0], 0.5), ([99.0, 12.0, 50.0], 0.5)], true);
        check(
            [([72.0, 5.0, 42.0], 0.97), ([99.0, 12.0, 50.0], 0.03)],
            false,
        );
        check([([97.0, 0.0, 4.0], 0.5), ([88.0, 2.0, 30.0], 0.5)], false);
    }
}
