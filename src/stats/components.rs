use super::rows::{Rows, mirror, outer};
use super::triangle::Triangle;

/// How far pieces scatter beyond their settings, as standard deviations in the unit of what was measured; the doubt of readings
/// is taken out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spread {
    /// From pot to pot.
    pub between: f64,
    /// From piece to piece of one pot.
    pub within: f64,
}

impl Spread {
    /// By moments, the known variances of the readings taken off; what comes out below 0 is 0.
    ///
    /// Fitting of constants (Henderson 1953, Biometrics 9(2) 226-252, method 3, doi 10.2307/3001853). Where no pot holds pieces
    /// to compare, all of it counts as between pots. Every column of `rows` must have something of its own.
    pub(super) fn of(rows: &Rows) -> Self {
        let (n, p) = (rows.y.len() as f64, rows.columns);
        let gram = rows.gram(|_| 1.0);
        let triangle = &Triangle::of(&gram, |_| 0.0);
        let known: f64 = rows.known.iter().sum();
        let inner = rows.within_pots();
        let inner_gram = inner.gram(|_| 1.0);
        let inner_triangle = Triangle::of(&inner_gram, |j| gram[j * p + j]);
        let inner_df = n - rows.pots().len() as f64 - inner_triangle.kept.len() as f64;
        let within = if inner_df > 0.5 {
            let of_pots: f64 = mean_known(rows).iter().sum();
            let doubt = known - of_pots - leverage(&inner, &inner_triangle, known);
            (squares(&inner, &inner_triangle) - doubt) / inner_df
        } else {
            0.0
        };
        let mut of_sums = vec![0.0; p * p];
        for pot in rows.pots() {
            outer(&mut of_sums, 1.0, &rows.sums(pot));
        }
        mirror(&mut of_sums, p);
        let share = n - triangle.trace(&of_sums);
        let doubt = known - leverage(rows, triangle, known);
        let rest = squares(rows, triangle) - doubt - within.max(0.0) * (n - p as f64);
        let between = if share > 1e-9 * n { rest / share } else { 0.0 };
        Self {
            between: between.max(0.0).sqrt(),
            within: within.max(0.0).sqrt(),
        }
    }
}

/// The residual sum of squares over the kept columns.
fn squares(rows: &Rows, triangle: &Triangle) -> f64 {
    let moments = rows.moments(&rows.y);
    let kept: Vec<f64> = triangle.kept.iter().map(|&j| moments[j]).collect();
    let mut b = vec![0.0; rows.columns];
    for (&j, value) in triangle.kept.iter().zip(triangle.solve(&kept)) {
        b[j] = value;
    }
    rows.residuals(&b).iter().map(|e| e * e).sum()
}

/// The trace of X(X'X)⁻¹X'K.
fn leverage(rows: &Rows, triangle: &Triangle, known: f64) -> f64 {
    if known > 0.0 {
        triangle.trace(&rows.gram(|i| rows.known[i]))
    } else {
        0.0
    }
}

/// The mean known variance of each pot.
fn mean_known(rows: &Rows) -> Vec<f64> {
    let mean = |pot: &std::ops::Range<usize>| {
        rows.known[pot.clone()].iter().sum::<f64>() / pot.len() as f64
    };
    rows.pots().iter().map(mean).collect()
}
