//! How a piece changes from wet to dry.

mod drying;
mod side;

pub use drying::{Drying, DryingReport, Lightening, Shown, drying};
pub use side::{Match, matched};
