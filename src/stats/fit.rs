use super::components::Spread;
use super::robust::{Robust, Variance};
use super::rows::{Pieces, Rows, dot};
use super::triangle::Triangle;
use super::white::White;
use super::{t_quantile_975, two_sided_p};
use std::sync::OnceLock;

/// The least share of a contrast's variance that pots must be able to tell: what one pot alone says, nobody can check.
const LEAST_TOLD: f64 = 0.9;
/// Degrees of freedom of an error that is known, not estimated, and the most that are told apart: Student's t is as
/// good as the normal law there.
const CERTAIN: f64 = 1e4;
/// With fewer degrees of freedom an interval means nothing.
const LEAST_DF: f64 = 1.0 - 1e-9;

/// A linear model of pieces in pots, fitted.
///
/// Generalised least squares. The working covariance is what `Spread` says of pots and pieces and what is known of each reading;
/// it sets the weights and the degrees of freedom. Errors are cluster-robust over pots (CR2) with Satterthwaite's degrees of
/// freedom: Bell & McCaffrey 2002, Survey Methodology 28(2) 169-181; Pustejovsky & Tipton 2018, J. Bus. Econ. Stat. 36(4)
/// 672-683, doi 10.1080/07350015.2016.1247004.
#[derive(Debug)]
pub struct Fit {
    columns: usize,
    kept: Vec<usize>,
    aliased: Vec<usize>,
    /// Of each aliased column, its coefficients over the kept ones.
    spanned: Vec<Vec<f64>>,
    /// The root of the whitened X'X over the kept columns.
    triangle: Triangle,
    /// The whitened rows with orthonormal columns, Q.
    rows: Rows,
    /// Q'y.
    scores: Vec<f64>,
    white: White,
    /// What only an interval needs.
    errors: OnceLock<Errors>,
    spread: Spread,
}

/// How far `scores` may be off.
#[derive(Debug)]
struct Errors {
    robust: Robust,
    /// The variance that the readings alone bring, square; empty where none is known.
    doubt: Vec<f64>,
}

/// A contrast of the coefficients with its 95 % interval.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Contrast {
    /// In the unit of what was measured.
    pub value: f64,
    /// Its standard error, above 0.
    pub error: f64,
    /// Degrees of freedom, 1 or more, rarely whole.
    pub df: f64,
    /// Lower end of the 95 % interval.
    pub low: f64,
    /// Upper end of the 95 % interval.
    pub high: f64,
    /// Two-sided p-value against 0, 0 to 1.
    pub p: f64,
}

impl Contrast {
    /// `None` without an error that can be told from rounding.
    fn of(value: f64, error: f64, df: f64) -> Option<Self> {
        let reach = t_quantile_975(df) * error;
        (error > 1e-12 * (1.0 + value.abs())).then(|| Self {
            value,
            error,
            df,
            low: value - reach,
            high: value + reach,
            p: two_sided_p(value / error, df),
        })
    }
}

impl Fit {
    /// `None` where there are no rows or only empty columns, where lengths do not fit or a number is not one. Columns that the
    /// columns before them already span are left out.
    pub fn of(pieces: Pieces) -> Option<Self> {
        Self::with(Rows::of(pieces)?, Spread::of)
    }

    pub(super) fn with(mut rows: Rows, spread: impl Fn(&Rows) -> Spread) -> Option<Self> {
        let columns = rows.columns;
        let gram = rows.gram(|_| 1.0);
        let all = Triangle::of(&gram, |j| gram[j * columns + j]);
        let with_kept = |&j: &usize| -> Vec<f64> {
            let kept = all.kept.iter();
            all.solve(&kept.map(|&k| gram[k * columns + j]).collect::<Vec<_>>())
        };
        let spanned = all.aliased.iter().map(with_kept).collect();
        if all.kept.is_empty() {
            return None;
        }
        rows.keep(&all.kept);
        let spread = spread(&rows);
        let white = White::of(&rows, &spread);
        white.apply(&mut rows);
        let triangle = Triangle::of(&rows.gram(|_| 1.0), |_| 0.0);
        if !triangle.aliased.is_empty() {
            return None;
        }
        let p = rows.columns;
        for row in rows.x.chunks_exact_mut(p) {
            triangle.forward_in_place(row);
        }
        let scores = rows.moments(&rows.y);
        Some(Self {
            columns,
            kept: all.kept,
            aliased: all.aliased,
            spanned,
            triangle,
            rows,
            scores,
            white,
            errors: OnceLock::new(),
            spread,
        })
    }

    /// How many columns the model has, those left out among them.
    pub fn columns(&self) -> usize {
        self.columns
    }

    /// The contrast that is one column's coefficient.
    pub fn only(&self, column: usize) -> Vec<f64> {
        let mut contrast = vec![0.0; self.columns];
        contrast[column] = 1.0;
        contrast
    }

    /// The columns left out, since columns before them already span them.
    pub fn aliased(&self) -> &[usize] {
        &self.aliased
    }

    /// How far pieces scatter between and within pots.
    pub fn spread(&self) -> Spread {
        self.spread
    }

    /// The contrast's estimate, one factor a column; `None` where the rows leave it open, or the length does not fit.
    pub fn value(&self, contrast: &[f64]) -> Option<f64> {
        Some(dot(&self.coordinates(contrast)?, &self.scores))
    }

    /// The contrast with its interval; `None` where it cannot be estimated, where it rests on a single pot, where there is no
    /// scatter to judge it by, or less than one degree of freedom.
    pub fn contrast(&self, contrast: &[f64]) -> Option<Contrast> {
        let k = self.coordinates(contrast)?;
        let value = dot(&k, &self.scores);
        let of_pots = self.variance(&k);
        let df = of_pots.df.min(of_pots.df_apart).min(CERTAIN);
        if !(of_pots.told >= LEAST_TOLD && df >= LEAST_DF) {
            return None;
        }
        let doubt = self.errors().doubt.chunks_exact(k.len()).zip(&k);
        let of_readings: f64 = doubt.map(|(row, k1)| k1 * dot(row, &k)).sum();
        let by_pots = Contrast::of(value, of_pots.squared_error.sqrt(), df)?;
        let by_readings = Contrast::of(value, of_readings.sqrt(), CERTAIN);
        let wider = by_readings.filter(|r| r.high > by_pots.high);
        Some(wider.unwrap_or(by_pots))
    }

    /// The variance over pots of a contrast over the orthonormal columns.
    pub(super) fn variance(&self, k: &[f64]) -> Variance {
        self.errors().robust.variance(&self.rows, k)
    }

    fn errors(&self) -> &Errors {
        self.errors.get_or_init(|| Errors {
            robust: Robust::of(&self.rows, &self.scores),
            doubt: match self.rows.known.iter().any(|&k| k > 0.0) {
                true => self.white.doubt(&self.rows),
                false => Vec::new(),
            },
        })
    }

    /// The contrast over the orthonormal columns; `None` where it is not a sum of rows, so that nothing is known of it.
    pub(super) fn coordinates(&self, contrast: &[f64]) -> Option<Vec<f64>> {
        if contrast.len() != self.columns {
            return None;
        }
        let kept: Vec<f64> = self.kept.iter().map(|&j| contrast[j]).collect();
        let size = contrast.iter().map(|c| c.abs()).fold(0.0, f64::max);
        let mut aliased = self.aliased.iter().zip(&self.spanned);
        let open = aliased.any(|(&j, over)| {
            let follows = dot(over, &kept);
            (follows - contrast[j]).abs() > 1e-6 * (size + follows.abs())
        });
        (!open && size > 0.0).then(|| self.triangle.forward(&kept))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Rows as (pot, y, known, x).
    fn fit<const P: usize>(rows: &[(usize, f64, f64, [f64; P])]) -> Fit {
        let x: Vec<f64> = rows.iter().flat_map(|row| row.3).collect();
        let y: Vec<f64> = rows.iter().map(|row| row.1).collect();
        let pot: Vec<usize> = rows.iter().map(|row| row.0).collect();
        let known: Vec<f64> = rows.iter().map(|row| row.2).collect();
        let pieces = Pieces {
            x,
            columns: P,
            y,
            pot,
            known,
        };
        Fit::of(pieces).unwrap()
    }

    /// A value that only looks like chance.
    fn odd(i: usize) -> f64 {
        ((i * i) as f64).sin()
    }

    #[track_caller]
    fn check(found: Option<f64>, wanted: f64) {
        let found = found.unwrap();
        assert!((found - wanted).abs() < 1e-9, "{found} is not {wanted}");
    }

    /// The second plant came with the second mordant and never without: nothing tells the two apart.
    #[test]
    fn what_always_went_together_is_left_open() {
        let rows: Vec<_> = (0..12)
            .map(|i| {
                let second = f64::from(i % 2);
                let x = [1.0 - second, second, second];
                (i as usize, 5.0 + 2.0 * second + odd(i as usize), 0.0, x)
            })
            .collect();
        let fit = fit(&rows);
        assert_eq!(fit.aliased(), [2]);
        assert_eq!(fit.value(&[1.0, -1.0, 0.0]), None);
        assert_eq!(fit.contrast(&[0.0, 0.0, 1.0]), None);
        assert!(fit.contrast(&[1.0, -1.0, -1.0]).is_some());
    }

    /// Without scatter the model is met exactly, whatever the pots.
    #[test]
    fn an_additive_model_is_met() {
        let rows: Vec<_> = (0..20)
            .map(|i| {
                let (a, plant) = (f64::from(i % 3 == 0), f64::from(i % 4 < 2));
                let heat = f64::from(i % 5) - 2.0;
                let y = 4.0 * a + 1.0 * (1.0 - a) + 2.0 * plant - 0.5 * heat;
                ((i / 3) as usize, y, 0.0, [a, 1.0 - a, plant, heat])
            })
            .collect();
        let fit = fit(&rows);
        check(fit.value(&[1.0, 0.0, 0.5, 0.0]), 5.0);
        check(fit.value(&[1.0, -1.0, 0.0, 0.0]), 3.0);
        check(fit.value(&[0.0, 0.0, 0.0, 1.0]), -0.5);
        assert_eq!(fit.contrast(&[1.0, -1.0, 0.0, 0.0]), None);
    }

    #[test]
    fn one_pot_proves_nothing() {
        let rows = [(0, 1.0), (0, 1.3), (1, 3.0), (2, 3.5), (3, 2.9)];
        let fit = fit(&rows.map(|(pot, y)| {
            let first = f64::from(pot == 0);
            (pot, y, 0.0, [first, 1.0 - first])
        }));
        check(fit.value(&[1.0, 0.0]), 1.15);
        assert_eq!(fit.contrast(&[1.0, 0.0]), None);
        assert_eq!(fit.contrast(&[1.0, -1.0]), None);
        assert!(fit.contrast(&[0.0, 1.0]).is_some());
    }

    /// Three values nearly alike, each read with a variance of 4: the mean is no surer than 2/√3, its interval that of the normal
    /// law (1.96, every handbook).
    #[test]
    fn no_surer_than_its_readings() {
        let rows = [7.0, 7.01, 7.03].map(|y| ((100.0 * y) as usize, y, 4.0, [1.0]));
        let mean = fit(&rows).contrast(&[1.0]).unwrap();
        check(Some(mean.error), 2.0 / 3.0_f64.sqrt());
        assert!(((mean.high - mean.value) / mean.error - 1.96).abs() < 5e-3);
    }

    /// The order of rows and the numbers of pots say nothing.
    #[test]
    fn rows_in_any_order() {
        let row = |i: usize| {
            let group = f64::from(i.is_multiple_of(3));
            (i / 4, odd(i), 0.01 * (i % 5) as f64, [group, 1.0 - group])
        };
        let one = fit(&(0..24).map(row).collect::<Vec<_>>());
        let turned = (0..24).map(|i| row((i * 7 + 5) % 24));
        let other = turned.map(|(pot, y, known, x)| (90 - 7 * pot, y, known, x));
        let other = fit(&other.collect::<Vec<_>>());
        let (one, other) = (one.contrast(&[1.0, -1.0]), other.contrast(&[1.0, -1.0]));
        let (one, other) = (one.unwrap(), other.unwrap());
        check(Some(one.value), other.value);
        check(Some(one.low), other.low);
        check(Some(one.df), other.df);
    }

    #[test]
    fn what_does_not_fit_is_refused() {
        let pieces = |x: &[f64], y: &[f64]| Pieces {
            x: x.to_vec(),
            columns: 1,
            y: y.to_vec(),
            pot: vec![0],
            known: vec![0.0],
        };
        assert!(Fit::of(pieces(&[], &[])).is_none());
        assert!(Fit::of(pieces(&[1.0, 1.0], &[2.0])).is_none());
        assert!(Fit::of(pieces(&[1.0], &[f64::NAN])).is_none());
        assert!(Fit::of(pieces(&[0.0], &[2.0])).is_none());
        let fit = Fit::of(pieces(&[1.0], &[2.0])).unwrap();
        assert_eq!(fit.value(&[1.0, 0.0]), None);
        assert_eq!(fit.contrast(&[1.0]), None);
    }
}
