//! What a piece that is still wet will look like dry.

mod departure;
mod experience;
mod forecast;
mod learning;
mod shades;
#[cfg(test)]
mod tests;
mod water;

pub use experience::Experience;
pub use forecast::{Ahead, Foreseen, Wish};
