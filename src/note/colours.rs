//! The colours of a piece under their names.

use crate::colour::{Lab, lab_to_hex, mean, triple};
use crate::reading::Swatch;
use crate::words::word;
use serde::Serialize;

/// A colour with less of the cloth than this goes without a line of its own.
const LEAST_SHARE: f64 = 0.02;

/// More lines than this nobody reads.
const MOST_COLOURS: usize = 7;

/// Doubt of a colour that came without one, CIEDE2000: that of a photo in assumed light.
const UNKNOWN_DOUBT: f64 = 6.0;

/// A colour of the piece under one name.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Colour {
    /// Its name: `moderate yellow`.
    pub word: String,
    /// Its share of the cloth, 0 to 1.
    pub share: f64,
    /// CIELAB, 2°, D65.
    #[serde(with = "triple")]
    pub lab: Lab,
    /// The nearest sRGB colour, `#rrggbb`.
    pub srgb: String,
}

/// Colours under one name become one (a name that no note may say gives way to the standard's), and small ones are left to
/// the rest, whose share comes second.
pub fn named(swatches: &[Swatch], allowed: &mut impl FnMut(&str) -> bool) -> (Vec<Colour>, f64) {
    let mut named: Vec<(String, Vec<(Lab, f64)>)> = vec![];
    for swatch in swatches {
        let name = match swatch.word.as_ref().filter(|name| allowed(name)) {
            Some(name) => name.clone(),
            None => word(swatch.lab, swatch.doubt.unwrap_or(UNKNOWN_DOUBT)).text,
        };
        match named.iter_mut().find(|(known, _)| *known == name) {
            Some((_, parts)) => parts.push((swatch.lab, swatch.share)),
            None => named.push((name, vec![(swatch.lab, swatch.share)])),
        }
    }
    let mut all: Vec<Colour> = named
        .into_iter()
        .filter_map(|(word, parts)| {
            let lab = mean(parts.iter().copied())?;
            let share = parts.iter().map(|(_, share)| share).sum();
            let srgb = lab_to_hex(lab);
            Some(Colour {
                word,
                share,
                lab,
                srgb,
            })
        })
        .collect();
    all.sort_by(|one, other| other.share.total_cmp(&one.share));
    let large = all.iter().filter(|c| c.share >= LEAST_SHARE).count();
    let rest = all.split_off(large.clamp(1, MOST_COLOURS).min(all.len()));
    (all, rest.iter().map(|colour| colour.share).sum())
}

/// Every measured colour as `#rrggbb` with its share, largest first.
pub fn ribbon(swatches: &[Swatch]) -> Vec<(String, f64)> {
    let mut all: Vec<_> = swatches
        .iter()
        .map(|s| (lab_to_hex(s.lab), s.share))
        .collect();
    all.sort_by(|one, other| other.1.total_cmp(&one.1));
    all
}

/// The mean doubt of colours that have one, weighted by share.
pub fn doubt(swatches: &[Swatch]) -> Option<f64> {
    let known = || {
        swatches
            .iter()
            .filter_map(|s| s.doubt.map(|d| (d, s.share)))
    };
    let total: f64 = known().map(|(_, share)| share).sum();
    (total > 0.0).then(|| known().map(|(doubt, share)| doubt * share).sum::<f64>() / total)
}
