use super::Spread;
use nalgebra::{Cholesky, DMatrix, DVector, Dyn};
use statrs::distribution::{Continuous, ContinuousCDF, Normal};

/// A linear model whose effects are drawn towards nothing, as far as the pieces leave them open: what is expected of settings
/// of which little or nothing has been seen.
///
/// The normal model with known variances (Lindley & Smith 1972, J. R. Stat. Soc. B 34(1) 1-41, doi
/// 10.1111/j.2517-6161.1972.tb00885.x): the first column is a level of which nothing is known beforehand, every other effect
/// comes from a normal distribution round 0 with the prior's standard deviation.
#[derive(Debug)]
pub struct Shrunk {
    effects: DVector<f64>,
    precision: Cholesky<f64, Dyn>,
    /// Log likelihood of the pieces under this prior, but for a constant.
    evidence: f64,
}

/// Rows of the model, each with the columns that are not 0.
#[derive(Clone, Debug, Default)]
pub struct Sparse {
    /// How many columns there are; column 0 is 1 in every row.
    pub columns: usize,
    /// Column and value of what is not 0 in each row, column 0 left out.
    pub rows: Vec<Vec<(usize, f64)>>,
    /// The value of each row.
    pub y: Vec<f64>,
    /// The pot of each row, any numbers.
    pub pot: Vec<usize>,
    /// The variance of each value that its readings give it.
    pub known: Vec<f64>,
}

impl Shrunk {
    /// Fits the model with the prior's standard deviation that makes the pieces likeliest, of eight between a twentieth and
    /// twice the standard deviation of all values. `None` without pieces or scatter.
    pub fn of(pieces: &Sparse, spread: &Spread) -> Option<Self> {
        let scale = super::variance(&pieces.y)?.sqrt();
        let sums = Sums::of(pieces, spread)?;
        let tried =
            [0.05, 0.1, 0.2, 0.35, 0.6, 1.0, 1.5, 2.0].map(|of_scale| sums.fit(of_scale * scale));
        tried
            .into_iter()
            .flatten()
            .max_by(|a, b| a.evidence.total_cmp(&b.evidence))
    }

    /// The expected value of a row and its standard deviation.
    pub fn expect(&self, row: &[(usize, f64)]) -> (f64, f64) {
        let mut x = DVector::zeros(self.effects.len());
        x[0] = 1.0;
        for &(column, value) in row {
            x[column] += value;
        }
        let variance = x.dot(&self.precision.solve(&x)).max(0.0);
        (x.dot(&self.effects), variance.sqrt())
    }

    /// The effect of a column.
    pub fn effect(&self, column: usize) -> f64 {
        self.effects[column]
    }
}

/// How much a try that is expected to give `mean` with a standard deviation of `doubt` betters `best` on average, where one
/// that is no better counts as nothing: expected improvement (Jones, Schonlau & Welch 1998, J. Global Optimization 13 455-492,
/// doi 10.1023/A:1008306431147, eq. 15).
pub fn improvement(mean: f64, doubt: f64, best: f64) -> f64 {
    let ahead = mean - best;
    match Normal::new(0.0, 1.0) {
        Ok(law) if doubt > 0.0 => {
            let z = ahead / doubt;
            (ahead * law.cdf(z) + doubt * law.pdf(z)).max(0.0)
        }
        _ => ahead.max(0.0),
    }
}

/// X'WX, X'Wy and y'Wy, W the inverse covariance of the values.
struct Sums {
    xx: DMatrix<f64>,
    xy: DVector<f64>,
    yy: f64,
}

impl Sums {
    fn of(pieces: &Sparse, spread: &Spread) -> Option<Self> {
        let mut by_pot = std::collections::BTreeMap::<usize, Vec<usize>>::new();
        for (n, &pot) in pieces.pot.iter().enumerate() {
            by_pot.entry(pot).or_default().push(n);
        }
        let p = pieces.columns;
        let mut sums = Self {
            xx: DMatrix::zeros(p, p),
            xy: DVector::zeros(p),
            yy: 0.0,
        };
        // Nothing is so exact that a second look would not move it: a floor keeps the weights finite.
        let floor = 1e-6 * super::variance(&pieces.y)?.max(1e-12);
        let (between, within) = (spread.between.powi(2), spread.within.powi(2));
        for rows in by_pot.values() {
            let mut total = 0.0;
            let (mut x1, mut y1) = (vec![(0usize, 0.0); 0], 0.0);
            for &n in rows {
                let weight = 1.0 / (within + pieces.known[n]).max(floor);
                let row: Vec<(usize, f64)> = std::iter::once((0, 1.0))
                    .chain(pieces.rows[n].iter().copied())
                    .collect();
                for &(i, a) in &row {
                    for &(j, b) in &row {
                        sums.xx[(i, j)] += weight * a * b;
                    }
                    sums.xy[i] += weight * a * pieces.y[n];
                    x1.push((i, weight * a));
                }
                sums.yy += weight * pieces.y[n].powi(2);
                y1 += weight * pieces.y[n];
                total += weight;
            }
            // The inverse of diag + between 11' (Sherman & Morrison 1950).
            let shared = between / (1.0 + between * total);
            for &(i, a) in &x1 {
                for &(j, b) in &x1 {
                    sums.xx[(i, j)] -= shared * a * b;
                }
                sums.xy[i] -= shared * a * y1;
            }
            sums.yy -= shared * y1 * y1;
        }
        Some(sums)
    }

    fn fit(&self, prior: f64) -> Option<Shrunk> {
        let mut precision = self.xx.clone();
        for i in 1..precision.nrows() {
            precision[(i, i)] += prior.powi(-2);
        }
        let effects_count = (precision.nrows() - 1) as f64;
        let precision = Cholesky::new(precision)?;
        let effects = precision.solve(&self.xy);
        let determinant: f64 = precision.l().diagonal().iter().map(|d| 2.0 * d.ln()).sum();
        let evidence = -0.5
            * (self.yy - self.xy.dot(&effects) + determinant + 2.0 * effects_count * prior.ln());
        Some(Shrunk {
            effects,
            precision,
            evidence,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pieces(rows: &[(usize, usize, f64)], columns: usize) -> Sparse {
        Sparse {
            columns,
            rows: rows.iter().map(|r| vec![(r.0, 1.0)]).collect(),
            pot: rows.iter().map(|r| r.1).collect(),
            y: rows.iter().map(|r| r.2).collect(),
            known: vec![0.0; rows.len()],
        }
    }

    const WANTED: [f64; 4] = [
        4.547169811320755,
        -2.264150943396226,
        2.264150943396226,
        0.0,
    ];
    const DOUBT: f64 = 2.4914949668444692;

    /// Two settings, pots of one piece, within = 1, between = 0, prior 2: the posterior by numpy 2.4.6
    /// `linalg.solve(X'X + diag(0, 1/4, 1/4), X'y)`.
    #[test]
    fn effects_are_drawn_towards_nothing() {
        let rows = [
            (1, 0, 1.0),
            (1, 1, 3.0),
            (2, 2, 6.0),
            (2, 3, 7.0),
            (2, 4, 8.0),
        ];
        let spread = Spread {
            between: 0.0,
            within: 1.0,
        };
        let fitted = Sums::of(&pieces(&rows, 4), &spread)
            .unwrap()
            .fit(2.0)
            .unwrap();
        let found = [0, 1, 2, 3].map(|c| fitted.effect(c));
        for (f, w) in found.iter().zip(WANTED) {
            assert!((f - w).abs() < 1e-9, "{found:?}");
        }
        // Of the setting that nobody tried only the level is known, and the prior is its doubt.
        let (expected, doubt) = fitted.expect(&[(3, 1.0)]);
        assert!((expected - WANTED[0]).abs() < 1e-9);
        assert!((doubt - DOUBT).abs() < 1e-9, "{doubt}");
    }

    /// scipy 1.17.1: `(m - b) * norm.cdf(z) + s * norm.pdf(z)`.
    #[test]
    fn improvement_counts_only_what_is_better() {
        for (mean, doubt, best, wanted) in [
            (1.0, 1.0, 1.0, 0.3989422804014327),
            (0.0, 1.0, 1.0, 0.08331547058768635),
            (2.0, 0.5, 1.0, 1.0042453513084149),
            (2.0, 0.0, 1.0, 1.0),
            (0.5, 0.0, 1.0, 0.0),
        ] {
            let found = improvement(mean, doubt, best);
            assert!((found - wanted).abs() < 1e-9, "{found} is not {wanted}");
        }
    }

    /// A pot's pieces share its effect: with a large one, ten pieces of one pot tell what one tells.
    #[test]
    fn a_pot_counts_once() {
        let spread = Spread {
            between: 1.0,
            within: 1e-3,
        };
        let once = [(1, 0, 1.0), (2, 1, 3.0), (1, 2, 1.2)];
        let mut often = once.to_vec();
        often.extend([(1, 0, 1.0); 9]);
        let fit = |rows: &[_]| {
            Sums::of(&pieces(rows, 3), &spread)
                .unwrap()
                .fit(1.0)
                .unwrap()
        };
        let (few, many) = (fit(&once), fit(&often));
        assert!((few.effect(1) - many.effect(1)).abs() < 1e-3);
    }
}
