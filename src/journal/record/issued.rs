use crate::colour::{Lab, triple};
use crate::reading::{Basis, State};
use serde::{Deserialize, Serialize};

/// What a note told a customer about the colours of a piece; a note once issued keeps its words.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Issued {
    /// Code of the piece.
    pub piece: String,
    /// The day it was issued, `YYYY-MM-DD`.
    pub on: String,
    /// BLAKE3 of the photo that its colours come from, hexadecimal; `None` where that had no file.
    #[serde(default)]
    pub photo: Option<String>,
    /// When that photo was taken, as the journal knew it then.
    #[serde(default)]
    pub taken: Option<String>,
    /// What the photo showed the piece as.
    #[serde(default)]
    pub state: Option<State>,
    /// What its light was known from.
    #[serde(default)]
    pub basis: Option<Basis>,
    /// The colours as they were told, largest share first.
    #[serde(default)]
    pub colours: Vec<IssuedColour>,
}

/// A colour as a note told it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct IssuedColour {
    /// The word that the customer read: the studio's own, else the standard's.
    pub word: String,
    /// What the standard calls it; the same as `word` where the studio has no word of its own for it.
    #[serde(default)]
    pub standard: String,
    /// CIELAB, 2°, D65.
    #[serde(with = "triple")]
    pub lab: Lab,
    /// Its share of the cloth, 0 to 1.
    pub share: f64,
    /// One standard deviation's worth, CIEDE2000.
    #[serde(default)]
    pub doubt: Option<f64>,
}
