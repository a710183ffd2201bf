use super::rows::{Rows, add, dot, mirror, outer};
use nalgebra::{DMatrix, SymmetricEigen};

/// Where the square of a pot's leverage is less than this, its adjustment is a short series.
const SLIGHT: f64 = 1e-2;
/// A leverage this near 1 leaves a pot nothing to say about its own scatter.
const WHOLE: f64 = 1.0 - 1e-8;
/// A pot of which this share of the weights has one sign stands on that side.
const ONE_SIDED: f64 = 0.5;
/// Beyond so many degrees of freedom Student's t is within a thousandth of the normal law: a lower bound is as good.
const PLENTY: f64 = 1000.0;

/// What a variance over pots needs of whitened rows with orthonormal columns Q: the rows adjusted for the leverage of their pot,
/// A Q with A = (I − Q Q')^(-1/2), the symmetric root (CR2, Bell & McCaffrey 2002), and their residuals.
#[derive(Debug)]
pub(super) struct Robust {
    adjusted: Vec<f64>,
    residuals: Vec<f64>,
    /// No less than the largest eigenvalue of each pot's Q Q'.
    leverage: Vec<f64>,
}

/// A squared error and what is known of it.
pub(super) struct Variance {
    pub squared_error: f64,
    /// Satterthwaite's, under the working covariance.
    pub df: f64,
    /// The same where pots of one side may scatter more than those of the other, as Welch has it.
    pub df_apart: f64,
    /// The share of the variance under the working covariance that the pots can tell, 0 to 1.
    pub told: f64,
}

impl Robust {
    /// `scores` is Q'y.
    pub fn of(rows: &Rows, scores: &[f64]) -> Self {
        let residuals = rows.residuals(scores);
        let p = rows.columns;
        let mut adjusted = vec![0.0; rows.x.len()];
        let mut leverage = Vec::with_capacity(rows.pots().len());
        for pot in rows.pots() {
            let (from, to) = (pot.start * p, pot.end * p);
            leverage.push(adjust(&rows.x[from..to], p, &mut adjusted[from..to]));
        }
        Self {
            adjusted,
            residuals,
            leverage,
        }
    }

    /// The variance of the coefficient Qk of the same rows.
    pub fn variance(&self, rows: &Rows, k: &[f64]) -> Variance {
        let p = rows.columns;
        let square = dot(k, k);
        let adjusted = self.adjusted.chunks_exact(p);
        let a: Vec<f64> = adjusted.map(|row| dot(row, k)).collect();
        let (mut squared_error, mut squares, mut told, mut pulled) = (0.0, 0.0, 0.0, 0.0);
        for (pot, h) in rows.pots().iter().zip(&self.leverage) {
            let (a, e) = (&a[pot.clone()], &self.residuals[pot.clone()]);
            let own = dot(a, a);
            squared_error += dot(a, e).powi(2);
            squares += own * own;
            told += own * (1.0 - h);
            pulled += own * h;
        }
        let least = told * told / (squares + pulled * pulled);
        if least > PLENTY {
            return Variance {
                squared_error,
                df: least,
                df_apart: least,
                told: told / square,
            };
        }
        let sides = self.sides(rows, &a, k);
        let alike = freedom(&sides, |_| 1.0);
        Variance {
            squared_error,
            df: alike,
            df_apart: freedom(&sides, |side| side.seen / side.trace),
            told: sides.iter().map(|side| side.trace).sum::<f64>() / square,
        }
    }

    /// The pots by their side of the coefficient Qk.
    fn sides(&self, rows: &Rows, a: &[f64], k: &[f64]) -> [Side; 3] {
        let p = rows.columns;
        let mut sides = [0; 3].map(|_| Side::new(p));
        for pot in rows.pots() {
            let (mut t, mut sum, mut size) = (vec![0.0; p], 0.0, 0.0);
            for i in pot.clone() {
                add(&mut t, a[i], rows.row(i));
                let weight = dot(rows.row(i), k);
                sum += weight;
                size += weight.abs();
            }
            let (a, e) = (&a[pot.clone()], &self.residuals[pot.clone()]);
            let (own, shared) = (dot(a, a), dot(&t, &t));
            let side = if sum > size * ONE_SIDED {
                &mut sides[0]
            } else if sum < -size * ONE_SIDED {
                &mut sides[1]
            } else {
                &mut sides[2]
            };
            side.seen += dot(a, e).powi(2);
            side.trace += own - shared;
            side.squares += own * (own - 2.0 * shared);
            outer(&mut side.of_pots, 1.0, &t);
        }
        for side in &mut sides {
            mirror(&mut side.of_pots, p);
        }
        sides
    }
}

/// The pots that pull a coefficient up, that pull it down, or that hold both.
struct Side {
    /// Their share of the squared error.
    seen: f64,
    /// What is expected of it under the working covariance: the trace of P'P, P the pots' (I − QQ')a.
    trace: f64,
    /// Of the squares of P'P, what each pot has by itself.
    squares: f64,
    /// Sum of tt', t = Q'a of each pot. QQ' is of low rank, so no square of pots is needed.
    of_pots: Vec<f64>,
}

impl Side {
    fn new(p: usize) -> Self {
        Self {
            seen: 0.0,
            trace: 0.0,
            squares: 0.0,
            of_pots: vec![0.0; p * p],
        }
    }
}

/// Satterthwaite's degrees of freedom where each side scatters by its factor of the working covariance.
fn freedom(sides: &[Side; 3], factor: impl Fn(&Side) -> f64) -> f64 {
    let factor = |side: &Side| if side.trace > 0.0 { factor(side) } else { 0.0 };
    let (mut trace, mut squares) = (0.0, 0.0);
    for one in sides {
        trace += factor(one) * one.trace;
        squares += factor(one).powi(2) * one.squares;
        for other in sides {
            squares += factor(one) * factor(other) * dot(&one.of_pots, &other.of_pots);
        }
    }
    trace * trace / squares
}

/// Writes A Q of one pot's rows; back comes a bound of its leverage.
fn adjust(q: &[f64], p: usize, adjusted: &mut [f64]) -> f64 {
    let whole: f64 = q.iter().map(|v| v * v).sum();
    let q = DMatrix::from_row_slice(q.len() / p, p, q);
    let n = q.nrows();
    let (result, leverage) = if whole < SLIGHT {
        let w = &q * q.transpose();
        let wq = &w * &q;
        let wwq = &w * &wq;
        let wwwq = &w * &wwq;
        (&q + wq * 0.5 + wwq * 0.375 + wwwq * 0.3125, whole)
    } else if n <= p {
        let (root, leverage) = inverse_root(&q * q.transpose());
        (root * &q, leverage)
    } else {
        let (root, leverage) = inverse_root(q.transpose() * &q);
        (&q * root, leverage)
    };
    for (to, from) in adjusted.chunks_exact_mut(p).zip(result.row_iter()) {
        to.iter_mut()
            .zip(from.iter())
            .for_each(|(to, from)| *to = *from);
    }
    leverage
}

/// (I − W)^(-1/2), nothing where an eigenvalue of W is 1 (Moore and Penrose); and the largest eigenvalue.
fn inverse_root(w: DMatrix<f64>) -> (DMatrix<f64>, f64) {
    let eigen = SymmetricEigen::new(w);
    let root = |s: f64| {
        if s < WHOLE {
            (1.0 - s.max(0.0)).sqrt().recip()
        } else {
            0.0
        }
    };
    let roots = eigen.eigenvalues.map(root);
    let u = &eigen.eigenvectors;
    let largest = eigen.eigenvalues.max().clamp(0.0, 1.0);
    (u * DMatrix::from_diagonal(&roots) * u.transpose(), largest)
}
