//! From the white and black of a tag, or from nothing but the picture, to a correction of the light and how far to trust it.
//!
//! A phone's picture comes about so: light falls on the cloth, the lens adds flare, the sensor's channels are balanced by a
//! guess of the light, a matrix leads to the file's primaries, and a curve that steepens the middle is laid over it. Paper
//! of known lightness gives balance and exposure; how dark ink stands below it gives the curve. What black and white
//! cannot tell apart (curve, flare, an ink that is not as dark as was said) is weighed by how far each usually strays; see
//! [`from_tags`].

mod assumed;
mod backdrop;
mod cautions;
pub mod chart;
mod doubt;
mod edges;
mod fall;
mod field;
mod sample;
mod tags;
#[cfg(test)]
mod tests;
mod tone;

pub use assumed::assumed;
pub use tags::from_tags;

use crate::colour::{CameraRgb, Lab};
use crate::error::Caution;
use crate::picture::{Mask, Picture};
use crate::reading::{Doubt, Light};

/// The colours of a tag's paper and ink.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct References {
    /// The paper, CIELAB.
    pub paper: Lab,
    /// The ink printed solid on it, CIELAB.
    pub ink: Lab,
    /// Whether the studio gave the paper's colour; else it is assumed.
    pub paper_known: bool,
    /// Whether the studio gave the ink's colour; else it is assumed.
    pub ink_known: bool,
}

impl Default for References {
    /// Matte paper without brightener and a common black: L\* 96 and 25, neutral, both assumed.
    fn default() -> Self {
        Self {
            paper: Lab::new(96.0, 0.0, 0.0),
            ink: Lab::new(25.0, 0.0, 0.0),
            paper_known: false,
            ink_known: false,
        }
    }
}

/// The photo around the references, which says how evenly it was lit.
#[derive(Clone, Copy, Debug)]
pub struct Surroundings<'a> {
    /// Width and height of the photo, pixels.
    pub size: [usize; 2],
    /// The photo reduced, in linear light as photographed.
    pub picture: &'a Picture<CameraRgb>,
    /// How many pixels of the photo one of the picture is wide and high.
    pub step: usize,
    /// Which pixels of the picture are neither cloth nor a reference.
    pub bare: &'a Mask,
}

/// What was found out about a photo's light.
#[derive(Clone, Debug)]
pub struct Found {
    /// The light, with its correction.
    pub light: Light,
    /// How far a cloth colour corrected so is from the truth.
    pub doubt: Doubt,
    /// What the reader must know.
    pub cautions: Vec<Caution>,
}
