//! What a piece that is still wet will look like dry.

mod departure;
mod experience;
mod forecast;
mod shades;
#[cfg(test)]
mod tests;
mod water;

pub use experience::Experience;
pub use forecast::{Ahead, Foreseen, Wish};

use crate::reading::Reading;

/// How a piece was made, as far as that may tell how it dries; what is not known is `None`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Settings {
    /// Fibre and weave.
    pub cloth: Option<String>,
    /// The soaks in order.
    pub mordant: Option<String>,
    /// The pot or bundle: what was in it does not dry independently.
    pub trial: Option<String>,
}

/// A piece that was seen wet, and dry after the same round.
#[derive(Clone, Debug)]
pub struct Pair<'a> {
    /// How it was made.
    pub settings: Settings,
    /// Its wet photos.
    pub wet: Vec<&'a Reading>,
    /// Its dry photos.
    pub dry: Vec<&'a Reading>,
}
