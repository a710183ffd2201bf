//! From a chart's own coordinates to pixels.

use nalgebra::{SMatrix, SVector};

/// A map of the plane that keeps straight lines, row by row.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Homography(pub [[f64; 3]; 3]);

impl Homography {
    /// The map that leads each `from` to its `to` as nearly as can be (least squares, Hartley's normalised form); `None` for
    /// fewer than four pairs or where they lie on a line.
    pub fn fitted(pairs: &[([f64; 2], [f64; 2])]) -> Option<Self> {
        if pairs.len() < 4 {
            return None;
        }
        let (from, to) = (
            Frame::of(pairs.iter().map(|p| p.0)),
            Frame::of(pairs.iter().map(|p| p.1)),
        );
        let mut square = SMatrix::<f64, 8, 8>::zeros();
        let mut right = SVector::<f64, 8>::zeros();
        for &(a, b) in pairs {
            let ([x, y], [u, v]) = (from.inside(a), to.inside(b));
            let rows = [
                ([x, y, 1.0, 0.0, 0.0, 0.0, -u * x, -u * y], u),
                ([0.0, 0.0, 0.0, x, y, 1.0, -v * x, -v * y], v),
            ];
            for (row, value) in rows {
                let row = SVector::<f64, 8>::from(row);
                square += row * row.transpose();
                right += row * value;
            }
        }
        let h = square.cholesky()?.solve(&right);
        let inner = SMatrix::<f64, 3, 3>::new(h[0], h[1], h[2], h[3], h[4], h[5], h[6], h[7], 1.0);
        let whole = to.outward() * inner * from.inward();
        let all = [0, 1, 2].map(|r| [0, 1, 2].map(|c| whole[(r, c)] / whole[(2, 2)]));
        all.iter()
            .flatten()
            .all(|v| v.is_finite())
            .then_some(Self(all))
    }

    /// Where a point is led to.
    pub fn at(&self, [x, y]: [f64; 2]) -> [f64; 2] {
        let [a, b, c] = self.0.map(|row| row[0] * x + row[1] * y + row[2]);
        [a / c, b / c]
    }

    /// The way back; `None` where there is none.
    pub fn inverse(&self) -> Option<Self> {
        let inverse = SMatrix::<f64, 3, 3>::from_fn(|r, c| self.0[r][c]).try_inverse()?;
        Some(Self([0, 1, 2].map(|r| [0, 1, 2].map(|c| inverse[(r, c)]))))
    }
}

/// Middle and reach of points, which are brought to about 1 before anything is solved.
struct Frame {
    middle: [f64; 2],
    reach: f64,
}

impl Frame {
    fn of(points: impl ExactSizeIterator<Item = [f64; 2]> + Clone) -> Self {
        let count = points.len() as f64;
        let middle = [0, 1].map(|axis| points.clone().map(|p| p[axis]).sum::<f64>() / count);
        let far = points.map(|[x, y]| (x - middle[0]).powi(2) + (y - middle[1]).powi(2));
        let reach = (far.sum::<f64>() / count).sqrt().max(1e-12);
        Self { middle, reach }
    }

    fn inside(&self, point: [f64; 2]) -> [f64; 2] {
        [0, 1].map(|axis| (point[axis] - self.middle[axis]) / self.reach)
    }

    fn inward(&self) -> SMatrix<f64, 3, 3> {
        let ([x, y], r) = (self.middle, self.reach);
        SMatrix::<f64, 3, 3>::new(1.0 / r, 0.0, -x / r, 0.0, 1.0 / r, -y / r, 0.0, 0.0, 1.0)
    }

    fn outward(&self) -> SMatrix<f64, 3, 3> {
        let ([x, y], r) = (self.middle, self.reach);
        SMatrix::<f64, 3, 3>::new(r, 0.0, x, 0.0, r, y, 0.0, 0.0, 1.0)
    }
}
