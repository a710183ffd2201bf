use super::components::Spread;
use super::rows::{Rows, add, mirror, outer};

/// The least share of all scatter that pieces of one pot are taken to have to themselves: an estimate of 0 is never that sure.
const LEAST_OWN: f64 = 0.01;

/// What makes rows of the working covariance (compound symmetry in a pot, and each reading's own doubt) white: independent, of
/// variance 1. In a pot with variances d of its rows and b of the pot it is (I − k v v'/v'v) D^(-1/2), v = d^(-1/2),
/// k = 1 − (1 + b v'v)^(-1/2).
#[derive(Debug)]
pub(super) struct White {
    /// d^(-1/2) of each row.
    scale: Vec<f64>,
    /// k/v'v of each pot.
    pull: Vec<f64>,
}

impl White {
    pub fn of(rows: &Rows, spread: &Spread) -> Self {
        let (between, within) = (spread.between.powi(2), spread.within.powi(2));
        let readings = rows.known.iter().sum::<f64>() / rows.known.len() as f64;
        let all = between + within + readings;
        let own = within.max(LEAST_OWN * all);
        let scale = |known: &f64| {
            if all > 0.0 {
                (own + known).sqrt().recip()
            } else {
                1.0
            }
        };
        let scale: Vec<f64> = rows.known.iter().map(scale).collect();
        let pull = rows.pots().iter().map(|pot| {
            let square: f64 = scale[pot.clone()].iter().map(|v| v * v).sum();
            (1.0 - (1.0 + between * square).sqrt().recip()) / square
        });
        let pull = pull.collect();
        Self { scale, pull }
    }

    /// Whitens the rows in place.
    pub fn apply(&self, rows: &mut Rows) {
        let p = rows.columns;
        let pots = rows.pots().to_vec();
        for (pot, &pull) in pots.iter().zip(&self.pull) {
            let (mut sums, mut sum) = (vec![0.0; p], 0.0);
            for i in pot.clone() {
                let v = self.scale[i];
                rows.y[i] *= v;
                sum += v * rows.y[i];
                let row = &mut rows.x[i * p..][..p];
                row.iter_mut().for_each(|value| *value *= v);
                add(&mut sums, v, row);
            }
            for i in pot.clone() {
                let back = -self.scale[i] * pull;
                rows.y[i] += back * sum;
                add(&mut rows.x[i * p..][..p], back, &sums);
            }
        }
    }

    /// The variance that the readings alone bring to each pair of coefficients of whitened rows with orthonormal columns.
    pub fn doubt(&self, rows: &Rows) -> Vec<f64> {
        let p = rows.columns;
        let mut doubt = vec![0.0; p * p];
        for (pot, &pull) in rows.pots().iter().zip(&self.pull) {
            let mut sums = vec![0.0; p];
            for i in pot.clone() {
                add(&mut sums, self.scale[i], rows.row(i));
            }
            for i in pot.clone() {
                let mut weights = rows.row(i).to_vec();
                add(&mut weights, -self.scale[i] * pull, &sums);
                outer(&mut doubt, rows.known[i] * self.scale[i].powi(2), &weights);
            }
        }
        mirror(&mut doubt, p);
        doubt
    }
}
