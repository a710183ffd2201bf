//! Estimates, intervals and tests for few, clustered trials. Nothing here is random and nothing knows about cloth.

mod claims;
mod components;
mod fit;
mod levels;
mod normals;
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
pub use levels::{GROUPINGS, Levels, Prior, Seen, Standing};
pub use normals::Normals;
pub use pots::pots_needed;
pub use rows::Pieces;
pub use shrink::{Shrunk, Sparse, improvement};
pub use transport::transport;
pub use wild::wild;

use statrs::distribution::{ContinuousCDF, StudentsT};
use statrs::function::erf::erfc;

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

/// The median of (value, weight) pairs, weights 0 or more: half of the weight lies on either side, and where a whole stretch does,
/// its middle. `None` where the weights sum to nothing.
pub fn weighted_median(pairs: impl IntoIterator<Item = (f64, f64)>) -> Option<f64> {
    let mut pairs: Vec<(f64, f64)> = pairs.into_iter().filter(|p| p.1 > 0.0).collect();
    pairs.sort_by(|a, b| a.0.total_cmp(&b.0));
    let half = 0.5 * pairs.iter().map(|p| p.1).sum::<f64>();
    let least = 1e-9 * half;
    let mut below = 0.0;
    let mut lower = None;
    for (value, weight) in pairs {
        below += weight;
        if below >= half - least && lower.is_none() {
            lower = Some(value);
        }
        if below > half + least {
            return lower.map(|lower| 0.5 * (lower + value));
        }
    }
    lower
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

    /// By hand: the median of 1, 1, 2, 5, 5, 5 lies between 2 and 5.
    #[test]
    fn weighted_medians() {
        check(
            weighted_median([(5.0, 3.0), (1.0, 2.0), (2.0, 1.0)]).unwrap(),
            3.5,
            1e-12,
        );
        check(
            weighted_median([(9.0, 1.0), (1.0, 2.0), (4.0, 0.0)]).unwrap(),
            1.0,
            1e-12,
        );
        check(weighted_median([(7.0, 1e-9)]).unwrap(), 7.0, 1e-12);
        assert_eq!(weighted_median([(7.0, 0.0)]), None);
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
