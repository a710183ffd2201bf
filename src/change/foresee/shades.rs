use crate::change::matching;
use crate::colour::{Lab, de00};
use crate::reading::Reading;
use crate::stats;

/// The doubt of a colour that came without one, CIEDE2000: what one tag in the picture leaves.
const UNTOLD: f64 = 2.0;

/// A colour of a piece in one state.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shade {
    pub lab: Lab,
    /// Of the piece, 0 to 1; those of a palette sum to 1.
    pub share: f64,
    /// One standard deviation's worth, CIEDE2000.
    pub doubt: f64,
}

/// The colours of photos of one piece in one state, each photo counting alike; empty where none has colours.
pub fn of(photos: &[&Reading]) -> Vec<Shade> {
    let whole = |r: &Reading| r.swatches.iter().map(|s| s.share).sum::<f64>();
    let photos: Vec<(&Reading, f64)> = photos
        .iter()
        .map(|photo| (*photo, whole(photo)))
        .filter(|(_, whole)| *whole > 0.0)
        .collect();
    let count = photos.len() as f64;
    let shades = photos.iter().flat_map(|(photo, whole)| {
        photo.swatches.iter().map(move |swatch| Shade {
            lab: swatch.lab,
            share: swatch.share / whole / count,
            doubt: swatch.doubt.unwrap_or(UNTOLD),
        })
    });
    shades.collect()
}

/// The mean over a palette of a number that its colours have.
pub fn mean(palette: &[Shade], of: impl Fn(&Shade) -> f64) -> f64 {
    palette.iter().map(|shade| shade.share * of(shade)).sum()
}

/// How many colours of equal shares would tell as much.
pub fn colours(palette: &[Shade]) -> f64 {
    1.0 / mean(palette, |shade| shade.share)
}

/// Colours of one palette and those of another that they became, with the share of the cloth that went this way; the shares sum
/// to 1, and what has no partner is left out.
pub fn partners<'a>(from: &'a [Shade], to: &'a [Shade]) -> Vec<(&'a Shade, &'a Shade, f64)> {
    let colours = |palette: &[Shade]| palette.iter().map(|s| (s.lab, s.share)).collect::<Vec<_>>();
    let moves = matching(&colours(from), &colours(to)).moves;
    let whole: f64 = moves.iter().map(|m| m.2).sum();
    let pair = |(i, j, share): (usize, usize, f64)| (&from[i], &to[j], share / whole);
    moves.into_iter().map(pair).collect()
}

/// How far two palettes are apart: the mean CIEDE2000 of the cheapest way to move one onto the other.
pub fn apart(from: &[Shade], to: &[Shade]) -> f64 {
    let shares = |palette: &[Shade]| palette.iter().map(|s| s.share).collect::<Vec<_>>();
    let cost = |i: usize, j: usize| de00(from[i].lab, to[j].lab);
    let moves = stats::transport(&shares(from), &shares(to), cost);
    moves.iter().map(|&(i, j, share)| share * cost(i, j)).sum()
}
