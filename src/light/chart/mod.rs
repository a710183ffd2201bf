//! The light from a chart: a grid of patches of known colours, described by a CGATS.17 file (ISO 28178).
//!
//! Nothing about a chart's look is assumed but its grid: not the gaps between patches, not a frame, not its place or turn.

mod cautions;
mod cgats;
mod fit;
mod flat;
mod grid;
mod homography;
mod identity;
mod lattice;
mod locate;
mod model;
mod patches;
mod sample;
mod solve;
#[cfg(test)]
mod tests;
mod told;

pub use locate::find;
pub use told::{Seated, seated};

use super::{Found, Surroundings};
use crate::colour::Xyz;
use crate::error::Caution;
use crate::picture::{Photograph, Polygon};
use crate::reading::{Basis, Doubt, Light};
use homography::Homography;

/// A chart as its file describes it.
#[derive(Clone, Debug, PartialEq)]
pub struct Chart {
    /// What sentences call it: the name of its file.
    pub name: String,
    /// How many rows it has, at least 1: A, B, …
    pub rows: usize,
    /// How many columns it has, at least 1: 1, 2, …
    pub columns: usize,
    /// Its patches row by row, at least 6; a place of the grid may be empty.
    pub patches: Vec<Patch>,
    /// What the reader must know of its colours.
    pub cautions: Vec<Caution>,
}

/// One patch of a chart.
#[derive(Clone, Debug, PartialEq)]
pub struct Patch {
    /// Its place as the file names it: `A1`.
    pub id: String,
    /// Its row, from 0.
    pub row: usize,
    /// Its column, from 0.
    pub column: usize,
    /// Its true colour: CIE 1931 2°, D65, Y = 1 for the perfect diffuser.
    pub xyz: Xyz,
}

/// The corners of a chart in pixels of the upright photo: the outer corners of its patches A1, last of the first row, last of
/// the last row, first of the last row.
pub type Corners = [[f64; 2]; 4];

/// What a chart covers, frame and all: the polygon of its corners, half of the way from one patch to the next larger all around.
/// In the pixels of `corners`.
pub fn area(chart: &Chart, corners: Corners) -> Polygon {
    const FRAME: f64 = 0.5;
    let [across, down] = [chart.columns, chart.rows].map(|n| n as f64);
    let square = |far: f64| {
        let (right, bottom) = (across + far, down + far);
        [[-far, -far], [right, -far], [right, bottom], [-far, bottom]]
    };
    let pairs: Vec<_> = square(0.0).into_iter().zip(corners).collect();
    match Homography::fitted(&pairs) {
        Some(map) => square(FRAME).map(|corner| map.at(corner)).to_vec(),
        None => corners.to_vec(),
    }
}

/// The light of a photo from the chart at `corners`; `None` where too few of its patches can be used.
///
/// Tone curve, flare, exposure, white balance, the camera's matrix and the fall of light over the chart are fitted together to
/// all patches by least squares in CIEDE2000, each held by how far it usually strays; of the fall, what light does within each patch
/// and `around` the chart is known, too. Whether root terms are fitted is decided by the error of each patch when it is left out.
/// Patches that do not fit are named and left out.
pub fn light(
    photo: &Photograph,
    chart: &Chart,
    corners: Corners,
    around: &Surroundings<'_>,
) -> Option<Found> {
    let samples = sample::take(photo, chart, corners);
    let fitted = fit::best(&samples, photo.encoding.to_xyz, around)?;
    let remaining = fit::remaining(&samples, &fitted);
    let mut cautions = chart.cautions.clone();
    cautions.extend(cautions::cautions(&samples, &fitted, &remaining));
    Some(Found {
        doubt: Doubt::even(fitted.doubt()),
        cautions,
        light: Light {
            basis: Basis::Chart,
            doubt: None,
            residual: Some(fit::mean_of_kept(&remaining)),
            patches: remaining,
            correction: Some(fitted.correction),
        },
    })
}
