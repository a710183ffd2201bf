//! The light over a photo as a plane that bends down to all sides, by least squares.

use crate::reading::Fall;
use nalgebra::{Matrix4, Vector4};

/// Light over a photo usually rises or falls by this to the side, natural logarithm by half the photo's longer side: one
/// standard deviation. Common practice, no source.
const SLOPE: f64 = 0.2;

/// What light usually loses at half the longer side from the middle, natural logarithm, and one standard deviation: lenses
/// darken the corners, and cameras take most of it back. Common practice, no source; in computed photos of two kinds 0.03 and
/// 0.08 were true.
const BEND: (f64, f64) = (0.04, 0.04);

/// What is known of the light over a photo: least squares in `level, right, down, bend`, by half the longer side.
pub(super) struct Fit {
    pub normal: Matrix4<f64>,
    pub right: Vector4<f64>,
    /// The middle of the photo, pixels.
    pub middle: [f64; 2],
    /// Half of its longer side, pixels.
    pub half: f64,
}

impl Fit {
    /// What is known of any photo before it is looked at.
    pub fn usual(size: [usize; 2]) -> Self {
        let known = [1e-6, SLOPE.powi(-2), SLOPE.powi(-2), BEND.1.powi(-2)];
        let normal = Matrix4::from_diagonal(&known.into());
        Self {
            normal,
            right: normal * Vector4::new(0.0, 0.0, 0.0, BEND.0),
            middle: size.map(|side| side as f64 / 2.0),
            half: size[0].max(size[1]) as f64 / 2.0,
        }
    }

    pub fn place(&self, place: [f64; 2]) -> [f64; 2] {
        [0, 1].map(|axis| (place[axis] - self.middle[axis]) / self.half)
    }

    pub fn light(&self, place: [f64; 2]) -> Vector4<f64> {
        let [x, y] = self.place(place);
        Vector4::new(1.0, x, y, -(x * x + y * y))
    }

    pub fn add(&mut self, row: Vector4<f64>, value: f64, sd: f64) {
        self.normal += row * row.transpose() / (sd * sd);
        self.right += row * value / (sd * sd);
    }

    /// The slope at a place, natural logarithm a pixel to the right and down, and one standard deviation of it by half the longer side.
    pub fn add_slope(&mut self, place: [f64; 2], slope: [f64; 2], sd: [f64; 2]) {
        let [u, v] = self.place(place);
        let rows = [
            Vector4::new(0.0, 1.0, 0.0, -2.0 * u),
            Vector4::new(0.0, 0.0, 1.0, -2.0 * v),
        ];
        for (axis, row) in rows.into_iter().enumerate() {
            self.add(row, slope[axis] * self.half, sd[axis]);
        }
    }

    pub fn solved(&self) -> Vector4<f64> {
        let solved = self.normal.cholesky().map(|c| c.solve(&self.right));
        solved.unwrap_or_else(Vector4::zeros)
    }

    /// The fall of light by which it is 0, on the mean, at `places`.
    pub fn fall(&self, places: &[[f64; 2]]) -> Fall {
        let found = self.solved();
        let [_, x, y, bend] = found.into();
        let there: f64 = places.iter().map(|&p| self.light(p).dot(&found)).sum();
        Fall {
            middle: self.middle,
            level: found[0] - there / places.len().max(1) as f64,
            slope: [x / self.half, y / self.half],
            bend: bend.max(0.0) / (self.half * self.half),
        }
    }
}

/// The middle value, the higher of two; 0 of nothing.
pub(super) fn median(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    values.get(values.len() / 2).copied().unwrap_or(0.0)
}
