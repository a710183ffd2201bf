//! Estimates, intervals and tests for few, clustered trials. Nothing here is random and nothing knows about cloth.

mod claims;
mod components;
mod fit;
mod pots;
#[cfg(test)]
mod published;
mod robust;
mod rows;
mod shrink;
mod transport;
mod triangle;
mod white;
mod wild;

pub use claims::{LEVEL, holds, holm, largest_p, leader};
pub use components::Spread;
pub use fit::{Contrast, Fit};
pub use pots::pots_needed;
pub use rows::Pieces;
pub use shrink::{Shrunk, Sparse, improvement};
pub use transport::transport;
pub use wild::wild;

use statrs::distribution::{ContinuousCDF, StudentsT};
use statrs::function::erf::erfc;

/// A mean with its 95 % interval.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Estimate {
    /// How many values it rests on, 1 or more.
    pub count: usize,
    /// The mean, in the unit of the values.
    pub mean: f64,
    /// The ends of the 95 % interval; `None` with fewer than two values.
    pub interval: Option<(f64, f64)>,
}

/// The mean of independent values with Student's t interval; `None` without values.
///
/// Student 1908, Biometrika 6(1) 1-25, doi 10.1093/biomet/6.1.1.
pub fn estimate(values: &[f64]) -> Option<Estimate> {
    let mean = mean(values)?;
    let interval = variance(values).map(|s2| {
        let n = values.len() as f64;
        let reach = t_quantile_975(n - 1.0) * (s2 / n).sqrt();
        (mean - reach, mean + reach)
    });
    Some(Estimate {
        count: values.len(),
        mean,
        interval,
    })
}

/// The plain mean; `None` without values.
pub fn mean(values: &[f64]) -> Option<f64> {
    (!values.is_empty()).then(|| values.iter().sum::<f64>() / values.len() as f64)
}

/// A mean of (value, weight) pairs; `None` where the weights sum to nothing.
pub fn weighted_mean(pairs: impl IntoIterator<Item = (f64, f64)>) -> Option<f64> {
    let (sum, total) = pairs
        .into_iter()
        .fold((0.0, 0.0), |(sum, total), (value, weight)| {
            (sum + value * weight, total + weight)
        });
    (total > 0.0).then(|| sum / total)
}

/// The sample variance (divisor n - 1); `None` with fewer than two values.
pub fn variance(values: &[f64]) -> Option<f64> {
    let mean = mean(values).filter(|_| values.len() > 1)?;
    let squares: f64 = values.iter().map(|x| (x - mean).powi(2)).sum();
    Some(squares / (values.len() - 1) as f64)
}

/// The 97.5 % point of Student's t with `df` degrees of freedom, `df` > 0: half the width of a 95 % interval in standard errors.
fn t_quantile_975(df: f64) -> f64 {
    student(df).map_or(f64::INFINITY, |t| t.inverse_cdf(0.975))
}

/// The chance of a `t` at least this far from 0 on either side, 0 to 1, with `df` > 0 degrees of freedom.
fn two_sided_p(t: f64, df: f64) -> f64 {
    student(df).map_or(1.0, |law| (2.0 * law.sf(t.abs())).min(1.0))
}

/// The chance of a standard normal value below `z`, 0 to 1.
fn normal_below(z: f64) -> f64 {
    0.5 * erfc(-z / std::f64::consts::SQRT_2)
}

fn student(df: f64) -> Option<StudentsT> {
    StudentsT::new(0.0, 1.0, df).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(found: f64, wanted: f64, within: f64) {
        assert!((found - wanted).abs() <= within, "{found} is not {wanted}");
    }

    /// Student's t table, two-sided 5 %, printed to three decimals in every statistics handbook; here as computed by scipy
    /// 1.17.1 `stats.t.ppf(0.975, df)`.
    #[test]
    fn t_quantiles() {
        for (df, wanted) in [
            (2.0, 4.302652729749462),
            (3.0, 3.1824463052837078),
            (4.0, 2.7764451051977934),
            (5.0, 2.5705818356363146),
            (7.0, 2.364624251592784),
            (9.0, 2.262157162798205),
            (19.0, 2.0930240544083087),
        ] {
            check(t_quantile_975(df), wanted, 1e-9);
        }
    }

    /// First drug of Student's sleep data (R `datasets::sleep`); the interval by scipy 1.17.1 `stats.t.interval`.
    #[test]
    fn interval_of_the_sleep_data() {
        let extra = [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0];
        let found = estimate(&extra).unwrap();
        check(found.mean, 0.75, 1e-12);
        let (low, high) = found.interval.unwrap();
        check(low, -0.5297804135262318, 1e-9);
        check(high, 2.0297804135262316, 1e-9);
    }

    #[test]
    fn one_value_has_no_interval() {
        let one = estimate(&[3.0]).unwrap();
        assert_eq!((one.count, one.mean, one.interval), (1, 3.0, None));
        assert_eq!(estimate(&[]), None);
    }

    #[test]
    fn weights_that_sum_to_nothing_give_no_mean() {
        assert_eq!(weighted_mean([(5.0, 0.0)]), None);
        check(
            weighted_mean([(1.0, 0.25), (5.0, 0.75)]).unwrap(),
            4.0,
            1e-12,
        );
    }
}
