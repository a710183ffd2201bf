//! The dominant colours of a cloth, with shares and doubt.
//!
//! Folds, weave and uneven light smear a colour along its lightness; they do not part it. So light and colours are told
//! apart in turns: the colours found so far say how bright each place is lit, and with that taken away the colours stand
//! out sharper. Colours are groups of a CIELAB histogram with a valley between them.

mod cells;
mod groups;
mod shade;

pub use cells::{Cells, cells};

use crate::colour::Lab32;
use crate::picture::{Mask, Picture};
use crate::reading::{Doubt, Swatch};
use groups::Group;
use shade::Cloth;

/// Colours at most.
const MOST: usize = 16;
/// A colour of less than this share of the cloth is not told apart.
const LEAST: f64 = 0.008;

/// Colours nearer than this are one before light is told from colour, CIEDE2000.
const NEAR: f64 = 4.0;
/// What telling a cloth into colours costs by itself, one standard deviation's worth, CIEDE2000: measured on made photos
/// with known palettes.
const OWN_DOUBT: f64 = 0.6;
/// How much of a colour's spread is doubt of its mean: folds and weave spread colours to both sides.
const OF_SPREAD: f64 = 0.5;
/// Turn by turn: how far around a place its light is averaged, as part of the square root of the cloth's area; and how near
/// colours are one in that light, CIEDE2000.
const TURNS: [(f64, f64); 3] = [(0.12, 3.5), (0.07, 3.0), (0.04, 2.0)];

/// The dominant colours of the masked cloth, largest share first; the shares sum to 1. Empty where the mask is.
///
/// `picture` holds the cloth's [`cells()`] in true light; what the rim mixes is not in it.
/// `light` is how far the light itself is in doubt; the spread of each
/// colour is added to it.
pub fn dominant(picture: &Picture<Lab32>, mask: &Mask, light: Doubt) -> Vec<Swatch> {
    let mut cloth = Cloth::new(picture, mask);
    let mut found = groups::found(&cloth.points(true), MOST, NEAR);
    for (reach, near) in TURNS {
        cloth.relight(&found, reach);
        found = groups::found(&cloth.points(true), MOST, near);
    }
    let mut shares = vec![0.0; found.len()];
    for point in cloth.points(false) {
        shares[groups::nearest(&found, point.lab)] += point.weight;
    }
    swatches(found, shares, light)
}

fn swatches(found: Vec<Group>, shares: Vec<f64>, light: Doubt) -> Vec<Swatch> {
    let total: f64 = shares.iter().sum();
    let mut kept: Vec<(Group, f64)> = found
        .into_iter()
        .zip(shares)
        .filter(|(_, share)| *share >= LEAST * total)
        .collect();
    kept.sort_by(|a, b| b.1.total_cmp(&a.1));
    let total: f64 = kept.iter().map(|(_, share)| share).sum();
    kept.into_iter()
        .map(|(group, share)| Swatch {
            lab: group.mean,
            share: share / total,
            doubt: Some(
                light
                    .of(group.mean)
                    .hypot(OWN_DOUBT)
                    .hypot(OF_SPREAD * group.spread),
            ),
            word: None,
            word_level: None,
            srgb: None,
            part: None,
            plant: None,
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::colour::{Lab, de00};

    /// A cloth drawn for these tests: `ground`, with a leaf-shaped print of each other colour in a grid, weave, a fold and
    /// uneven light of `shade` (as part of the cube root of light). The cloth leaves a border free all around.
    fn cloth(colours: &[Lab], print: f64, shade: f64) -> (Picture<Lab32>, Mask) {
        let (width, height) = (240, 200);
        let mut mask = Mask::empty(width, height);
        let mut noise = 7u32;
        let mut pixels = Vec::new();
        for y in 0..height {
            for x in 0..width {
                mask.pixels[y * width + x] =
                    (10..width - 10).contains(&x) && (10..height - 10).contains(&y);
                let (column, row) = (x / 40, y / 40);
                let (dx, dy) = ((x % 40) as f64 - 19.5, (y % 40) as f64 - 19.5);
                let printed = dx.hypot(1.4 * dy) < print && colours.len() > 1;
                let lab = colours[if printed {
                    1 + (column + row) % (colours.len() - 1)
                } else {
                    0
                }];
                noise = noise.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                let weave = f64::from(noise >> 8) / f64::from(1u32 << 24) - 0.5;
                let fold = (-((x as f64 - 0.3 * y as f64 - 80.0) / 9.0).powi(2)).exp();
                let uneven = (x as f64 / 37.0).sin() * (y as f64 / 29.0).cos();
                let light = (shade * (0.6 * uneven - fold) + 0.02 * weave).exp();
                let [l, a, b] = [(lab.l + 16.0) * light - 16.0, lab.a * light, lab.b * light];
                pixels.push(Lab32::new(l as f32, a as f32, b as f32));
            }
        }
        (
            Picture {
                width,
                height,
                pixels,
            },
            mask,
        )
    }

    fn check(colours: &[Lab], print: f64, shade: f64) -> Vec<Swatch> {
        let (picture, mask) = cloth(colours, print, shade);
        let swatches = dominant(&picture, &mask, Doubt::even(1.0));
        let total: f64 = swatches.iter().map(|s| s.share).sum();
        assert!((total - 1.0).abs() < 1e-9, "shares sum to {total}");
        assert!(swatches.windows(2).all(|w| w[0].share >= w[1].share));
        assert!(swatches.iter().all(|s| s.doubt.is_some_and(|d| d >= 1.0)));
        assert_eq!(swatches, dominant(&picture, &mask, Doubt::even(1.0)));
        for &colour in colours {
            let off = swatches.iter().map(|s| de00(s.lab, colour));
            let off = off.fold(f64::MAX, f64::min);
            assert!(off < 1.5, "{colour:?} is missed by {off}: {swatches:?}");
        }
        swatches
    }

    const BEIGE: Lab = Lab::new(76.0, 4.0, 18.0);
    const RUST: Lab = Lab::new(52.0, 26.0, 38.0);
    const OLIVE: Lab = Lab::new(48.0, -4.0, 28.0);
    const IRON: Lab = Lab::new(34.0, 1.0, -3.0);

    #[test]
    fn each_colour_is_found_once() {
        let swatches = check(&[BEIGE, RUST, OLIVE, IRON], 16.0, 0.01);
        assert_eq!(swatches.len(), 4);
    }

    #[test]
    fn folds_and_uneven_light_make_no_new_colours() {
        assert_eq!(check(&[BEIGE], 0.0, 0.06).len(), 1);
        assert_eq!(check(&[BEIGE, RUST, OLIVE, IRON], 16.0, 0.05).len(), 4);
    }

    /// A print of about one part in a hundred of the cloth is still a colour.
    #[test]
    fn small_prints_are_kept() {
        let swatches = check(&[BEIGE, RUST], 3.4, 0.01);
        let print = &swatches[1];
        assert!(
            (0.005..0.03).contains(&print.share),
            "share {}",
            print.share
        );
    }

    #[test]
    fn shares_are_those_of_the_cloth() {
        let (picture, mask) = cloth(&[BEIGE, RUST], 16.0, 0.02);
        let printed = picture
            .pixels
            .iter()
            .zip(&mask.pixels)
            .filter(|(p, inside)| **inside && p.a > 15.0);
        let truth = printed.count() as f64 / mask.count() as f64;
        let swatches = dominant(&picture, &mask, Doubt::even(0.5));
        assert!(
            (swatches[1].share - truth).abs() < 0.02,
            "{swatches:?}, {truth}"
        );
    }

    #[test]
    fn nothing_has_no_colours_and_a_thread_has_one() {
        let (picture, mask) = cloth(&[BEIGE], 0.0, 0.0);
        assert!(
            dominant(
                &picture,
                &Mask::empty(mask.width, mask.height),
                Doubt::even(1.0)
            )
            .is_empty()
        );
        let mut thread = Mask::empty(mask.width, mask.height);
        thread.pixels[5000] = true;
        assert_eq!(dominant(&picture, &thread, Doubt::even(1.0)).len(), 1);
    }
}
