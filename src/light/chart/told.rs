//! Corners that a person gave.

use super::grid::Grid;
use super::identity::{encoded, expected, likeness};
use super::sample::read;
use super::{Chart, Corners};
use crate::error::Caution;
use crate::picture::Photograph;

/// The usual size of a patch by the distance to the next, until the photo says.
const USUAL: [f64; 2] = [0.85; 2];
/// The likeness from which corners hold the chart.
const SURE: f64 = 0.7;

/// Corners in the order in which the chart's own are.
#[derive(Clone, Debug, PartialEq)]
pub struct Seated {
    /// The corners of patches A1, last of the first row, last of the last row, first of the last row; `None` where other colours
    /// than the chart's lie between those that were given.
    pub corners: Option<Corners>,
    /// `chart-corners` where they were given in another order, or where the chart's colours do not lie between them.
    pub caution: Option<Caution>,
}

/// Takes the corners that a person gave for `chart`, from A1 clockwise; where the chart's colours say that they began at another
/// corner or went round the other way, they are put right, and a caution says so.
pub fn seated(photo: &Photograph, chart: &Chart, corners: Corners) -> Seated {
    let expected = expected(chart, &photo.encoding.to_xyz);
    let likeness = |corners: &Corners| {
        let Some(grid) = Grid::new(chart, *corners, USUAL) else {
            return 0.0;
        };
        let middle = |p: &super::Patch| {
            let light = read(photo, grid.point(p.row, p.column, [0.0; 2]))?;
            Some(light.map(encoded))
        };
        likeness(
            &expected,
            &chart.patches.iter().map(middle).collect::<Vec<_>>(),
        )
    };
    let [a, b, c, d] = corners;
    let begun = |turn: usize, [a, b, c, d]: Corners| {
        let mut turned = [a, b, c, d];
        turned.rotate_left(turn);
        turned
    };
    let orders = [[a, b, c, d], [a, d, c, b]]
        .into_iter()
        .flat_map(|order| (0..4).map(move |turn| begun(turn, order)));
    let given = likeness(&corners);
    let best = orders
        .map(|order| (likeness(&order), order))
        .max_by(|x, y| x.0.total_cmp(&y.0));
    let (likely, order) = best.unwrap_or((given, corners));
    if likely < SURE {
        return Seated {
            corners: None,
            caution: Some(nothing_there(&chart.name)),
        };
    }
    if likely > given + 0.1 {
        return Seated {
            corners: Some(order),
            caution: Some(put_right()),
        };
    }
    Seated {
        corners: Some(corners),
        caution: None,
    }
}

fn put_right() -> Caution {
    Caution::new(
        "chart-corners",
        "The chart's colours show that its corners were given in another order, so they were put right; give them clockwise, beginning at patch A1.",
    )
}

fn nothing_there(name: &str) -> Caution {
    Caution::new(
        "chart-corners",
        format!(
            "Between the corners given lie other colours than those of {name}, so they were passed over; check the corners, and that it is the file of this chart."
        ),
    )
}
