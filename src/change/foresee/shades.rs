use crate::change::doubt::UNTOLD;
use crate::change::matching::matching;
use crate::change::side::Side;
use crate::colour::Lab;

/// A colour of a piece in one state.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shade {
    pub lab: Lab,
    /// Of the piece, 0 to 1; those of a palette sum to 1.
    pub share: f64,
    /// One standard deviation's worth, CIEDE2000.
    pub doubt: f64,
}

/// The colours of one piece in one state, with what its photos leave open.
pub fn of(side: &Side) -> Vec<Shade> {
    let shade = |(place, &(lab, share)): (usize, &(Lab, f64))| Shade {
        lab,
        share,
        doubt: side.doubt(place).unwrap_or(UNTOLD),
    };
    side.palette.iter().enumerate().map(shade).collect()
}

/// The mean over a palette of a number that its colours have.
pub fn mean(palette: &[Shade], of: impl Fn(&Shade) -> f64) -> f64 {
    palette.iter().map(|shade| shade.share * of(shade)).sum()
}

/// How many colours of equal shares would tell as much.
pub fn colours(palette: &[Shade]) -> f64 {
    1.0 / mean(palette, |shade| shade.share)
}

/// The colours and their shares alone.
pub fn plain(palette: &[Shade]) -> Vec<(Lab, f64)> {
    palette.iter().map(|s| (s.lab, s.share)).collect()
}

/// Colours of one palette and those of another that they became, with the share of the cloth that went this way; the shares sum
/// to 1, and what has no partner is left out.
pub fn partners<'a>(from: &'a [Shade], to: &'a [Shade]) -> Vec<(&'a Shade, &'a Shade, f64)> {
    let moves = matching(&plain(from), &plain(to)).moves;
    let whole: f64 = moves.iter().map(|m| m.2).sum();
    let pair = |(i, j, share): (usize, usize, f64)| (&from[i], &to[j], share / whole);
    moves.into_iter().map(pair).collect()
}
