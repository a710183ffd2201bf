//! Print tags and cards; find and read them in a picture.

mod find;
mod finder;
mod link;
mod print;
mod read;
mod refine;

pub use find::find;
pub use link::{Link, link};
pub use print::{Page, SheetOptions, card, sheet};

use crate::error::check_code;

/// What a QR code in the picture says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Payload {
    /// A tag: the code of a piece.
    Piece(String),
    /// A state card: the word after `state:`, such as `wet`.
    State(String),
    /// A studio's own card: the name after `card:`.
    Card(String),
}

/// A QR code found in a picture.
#[derive(Clone, Debug)]
pub struct Sighting {
    /// What it says.
    pub payload: Payload,
    /// Modules along one side of the symbol, without the quiet zone: 21, 25, …
    pub modules: usize,
    /// `modules * modules` modules row by row from the symbol's own top left; true is black.
    pub dark: Vec<bool>,
    /// From symbol coordinates (in modules; (0, 0) is the outer corner of the symbol's own top left finder, (modules,
    /// modules) the opposite corner) to pixels of the upright photo: a homography, row by row, last entry 1.
    pub to_photo: [[f64; 3]; 3],
}

/// Modules of white paper around the symbol, each side (ISO/IEC 18004).
pub const QUIET_ZONE: f64 = 4.0;

impl Payload {
    /// What a QR code's text means here; `None` where it is no code of ours (an address, somebody else's label).
    pub fn read(text: &str) -> Option<Self> {
        let (kind, rest) = text.split_once(':').unwrap_or(("", text));
        check_code(rest).ok()?;
        match kind {
            "" if rest == text => Some(Self::Piece(rest.to_owned())),
            "state" => Some(Self::State(rest.to_owned())),
            "card" => Some(Self::Card(rest.to_owned())),
            _ => None,
        }
    }

    /// The text that the QR code holds: the code of a piece and nothing else, or `state:` or `card:` and a word.
    pub fn text(&self) -> String {
        match self {
            Self::Piece(code) => code.clone(),
            Self::State(word) => format!("state:{word}"),
            Self::Card(name) => format!("card:{name}"),
        }
    }
}

impl Sighting {
    /// A point given in modules, in pixels of the upright photo.
    pub fn point(&self, across: f64, down: f64) -> [f64; 2] {
        refine::project(&self.to_photo, [across, down])
    }

    /// A pixel of the upright photo in modules; `None` where the symbol's plane is seen edgewise.
    pub fn module(&self, place: [f64; 2]) -> Option<[f64; 2]> {
        let back = refine::inverse(&self.to_photo)?;
        Some(refine::project(&back, place))
    }

    /// The corners of the symbol and its quiet zone, in pixels of the upright photo, from the symbol's top left clockwise.
    pub fn paper(&self) -> [[f64; 2]; 4] {
        let (near, far) = (-QUIET_ZONE, self.modules as f64 + QUIET_ZONE);
        [
            self.point(near, near),
            self.point(far, near),
            self.point(far, far),
            self.point(near, far),
        ]
    }
}

#[cfg(test)]
mod tests;
