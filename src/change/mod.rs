//! How a piece changes: wet to dry (here), dry to washed, and forecasts.

mod drying;
mod side;

pub use drying::{Drying, DryingReport, Lightening, Shown, drying};
pub use side::Match;
