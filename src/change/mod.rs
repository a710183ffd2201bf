//! How a piece changes: from wet to dry, and in washing; and what a wet one will look like dry.

mod cautions;
mod doubt;
mod drying;
mod foresee;
mod grey_scale;
mod matching;
mod pair;
mod round;
mod scatter;
mod shown;
mod side;
#[cfg(test)]
mod tests;
mod washing;

pub use doubt::deviations;
pub use drying::{Drying, DryingReport, Lightening, drying};
pub use foresee::{Ahead, Experience, Foreseen, Wish};
pub use grey_scale::{Grade, de_f, grey_scale};
pub use matching::{Match, Matching, Shift, matched, matching};
pub use pair::{Alone, Range};
pub use shown::{Colour, Settings, Shown};
pub use washing::{SCALE, Washed, Washing, WashingReport, washing};
