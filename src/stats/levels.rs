use super::weighted_mean;
use nalgebra::{Cholesky, DMatrix, DVector, Dyn};

/// How many groupings a value may belong to.
pub const GROUPINGS: usize = 3;

/// How far values scatter, as multiples of what is usual.
const SCATTER: [f64; 8] = [0.25, 0.35, 0.5, 0.7, 1.0, 1.4, 2.0, 2.8];
/// How surely the usual scatter is known: one standard deviation of its logarithm.
const SCATTER_DOUBT: f64 = 0.25;
/// How far a grouping scatters where it matters, as a multiple of the values' own scatter.
const OF_GROUP: f64 = 0.7;
/// Natural logarithm of how much likelier it is beforehand that a grouping does not matter than that it does.
const SPARING: f64 = 1.0;

/// Where a value stands: the group it belongs to in each grouping, if that is known, and a number it may depend on.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Standing {
    /// Any numbers; equal ones are one group.
    pub groups: [Option<usize>; GROUPINGS],
    /// The number, in units in which 1 is a usual distance from 0.
    pub x: f64,
}

/// A value that was seen.
#[derive(Clone, Debug, PartialEq)]
pub struct Seen {
    /// Where it stands.
    pub standing: Standing,
    /// The value.
    pub y: f64,
    /// Its variance that is known beforehand, 0 or more: what its measurement adds.
    pub known: f64,
}

/// What is held likely before any value was seen: standard deviations, all above 0, but for the slope.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Prior {
    /// Of the mean of all values, round 0.
    pub mean: f64,
    /// Of single values within their groups: what is usual, which the values then correct.
    pub scatter: f64,
    /// The expected change of a value per unit of `x`.
    pub slope: f64,
    /// How surely that is known; 0 where values do not depend on it.
    pub slope_doubt: f64,
}

/// A value by levels: what all share, what each group of every grouping adds, and a scatter of its own. Starts at what is held
/// likely and moves to what was seen, the further the more there is of it.
///
/// The normal model of Lindley & Smith 1972, J. R. Stat. Soc. B 34(1) 1-41, doi 10.1111/j.2517-6161.1972.tb00885.x. Its variances are
/// not chosen but averaged over, each set of them by how likely it makes the values (Hoeting, Madigan, Raftery & Volinsky 1999,
/// Statist. Sci. 14(4) 382-417, doi 10.1214/ss/1009212519). Work grows with the third power of the values: meant for at most a few hundred.
pub struct Levels<'a> {
    seen: &'a [Seen],
    prior: Prior,
    fits: Vec<Fit>,
}

/// The model with one set of variances.
struct Fit {
    variances: Variances,
    cholesky: Cholesky<f64, Dyn>,
    /// The inverse covariance of the values times the values.
    solved: DVector<f64>,
    /// Log likelihood of the values times the set's own likelihood beforehand, but for a constant.
    evidence: f64,
}

/// Variances of the levels.
#[derive(Clone, Copy)]
struct Variances {
    mean: f64,
    groups: [f64; GROUPINGS],
    slope: f64,
    own: f64,
}

impl Variances {
    /// The covariance of two values that stand so, their own scatter aside.
    fn shared(&self, one: &Standing, other: &Standing) -> f64 {
        let same = |g: usize| one.groups[g].is_some() && one.groups[g] == other.groups[g];
        let groups: f64 = (0..GROUPINGS)
            .filter(|&g| same(g))
            .map(|g| self.groups[g])
            .sum();
        self.mean + groups + self.slope * one.x * other.x
    }

    /// The variance of a new value: a group that is not known scatters as any.
    fn alone(&self, at: &Standing) -> f64 {
        self.mean + self.groups.iter().sum::<f64>() + self.slope * at.x * at.x + self.own
    }
}

impl<'a> Levels<'a> {
    /// The model of these values, which may be none.
    pub fn of(seen: &'a [Seen], prior: Prior) -> Self {
        let fits = sets(prior).filter_map(|(variances, likely)| {
            let fit = Fit::of(seen, prior, variances)?;
            Some(Fit {
                evidence: fit.evidence + likely,
                ..fit
            })
        });
        Self {
            seen,
            prior,
            fits: fits.collect(),
        }
    }

    /// The expected value of something that stands so, and the variance of a single one there.
    pub fn expect(&self, at: &Standing) -> (f64, f64) {
        let each = self.fits.iter().map(|fit| {
            let shared = |seen: &Seen| fit.variances.shared(at, &seen.standing);
            let shared = DVector::from_iterator(self.seen.len(), self.seen.iter().map(shared));
            let told = shared.dot(&fit.cholesky.solve(&shared));
            let mean = shared.dot(&fit.solved);
            (mean, fit.variances.alone(at) - told, fit.evidence)
        });
        let (mean, variance) = averaged(each.collect());
        (mean + self.prior.slope * at.x, variance)
    }

    /// What would have been expected of each value, had it alone not been seen: exact, with the variances judged without it too.
    pub fn left_out(&self) -> Vec<f64> {
        let inverses: Vec<DMatrix<f64>> =
            self.fits.iter().map(|fit| fit.cholesky.inverse()).collect();
        let of_one = |n: usize| {
            let each = self.fits.iter().zip(&inverses).map(|(fit, inverse)| {
                let precision = inverse[(n, n)];
                let off = fit.solved[n] / precision;
                // Without the value its own likelihood, given the others, is gone.
                let own = 0.5 * (precision.ln() - off * off * precision);
                (-off, 1.0 / precision, fit.evidence - own)
            });
            self.seen[n].y + averaged(each.collect()).0
        };
        (0..self.seen.len()).map(of_one).collect()
    }
}

impl Fit {
    fn of(seen: &[Seen], prior: Prior, variances: Variances) -> Option<Self> {
        let covariance = DMatrix::from_fn(seen.len(), seen.len(), |i, j| {
            let own = if i == j {
                variances.own + seen[i].known
            } else {
                0.0
            };
            variances.shared(&seen[i].standing, &seen[j].standing) + own
        });
        let off = seen.iter().map(|s| s.y - prior.slope * s.standing.x);
        let off = DVector::from_iterator(seen.len(), off);
        let cholesky = Cholesky::new(covariance)?;
        let solved = cholesky.solve(&off);
        let root: f64 = cholesky.l().diagonal().iter().map(|d| d.ln()).sum();
        Some(Self {
            evidence: -0.5 * off.dot(&solved) - root,
            variances,
            cholesky,
            solved,
        })
    }
}

/// The sets of variances that are averaged over, and the logarithm of how likely each is beforehand.
fn sets(prior: Prior) -> impl Iterator<Item = (Variances, f64)> {
    let patterns = 0..1usize << GROUPINGS;
    SCATTER.into_iter().flat_map(move |scatter| {
        let usual = scatter.ln() / SCATTER_DOUBT;
        let own = (scatter * prior.scatter).powi(2);
        patterns.clone().map(move |pattern| {
            let matters = |g: usize| (pattern >> g & 1) as f64;
            let variances = Variances {
                mean: prior.mean.powi(2),
                groups: std::array::from_fn(|g| matters(g) * own * OF_GROUP * OF_GROUP),
                slope: prior.slope_doubt.powi(2),
                own,
            };
            let groups = f64::from(pattern.count_ones());
            (variances, -0.5 * usual * usual - SPARING * groups)
        })
    })
}

/// Mean and variance over several sets of variances, each given with the logarithm of its weight.
fn averaged(each: Vec<(f64, f64, f64)>) -> (f64, f64) {
    let most = each.iter().map(|e| e.2).fold(f64::NEG_INFINITY, f64::max);
    let weight = |evidence: f64| (evidence - most).exp();
    let over = |of: &dyn Fn(f64, f64) -> f64| {
        weighted_mean(each.iter().map(|&(m, v, e)| (of(m, v), weight(e)))).unwrap_or(0.0)
    };
    let mean = over(&|m, _| m);
    (mean, over(&|m, v| v + (m - mean).powi(2)))
}

#[cfg(test)]
mod tests {
    use super::*;

    const PRIOR: Prior = Prior {
        mean: 2.0,
        scatter: 3.0,
        slope: -1.5,
        slope_doubt: 0.5,
    };

    fn seen(rows: &[(f64, [usize; GROUPINGS], f64)]) -> Vec<Seen> {
        let one = |&(y, groups, x): &(f64, [usize; GROUPINGS], f64)| Seen {
            standing: Standing {
                groups: groups.map(Some),
                x,
            },
            y,
            known: 1.0,
        };
        rows.iter().map(one).collect()
    }

    const ROWS: [(f64, [usize; GROUPINGS], f64); 5] = [
        (4.0, [0, 0, 0], 0.2),
        (5.5, [0, 1, 0], -0.4),
        (3.0, [0, 0, 1], 1.0),
        (-1.0, [1, 2, 2], 0.3),
        (0.5, [1, 2, 2], -1.1),
    ];

    #[track_caller]
    fn check(found: f64, wanted: f64) {
        assert!((found - wanted).abs() < 1e-8, "{found} is not {wanted}");
    }

    #[test]
    fn without_values_the_prior_stands() {
        let (mean, _) = Levels::of(&[], PRIOR).expect(&Standing {
            x: 2.0,
            ..Standing::default()
        });
        check(mean, -3.0);
    }

    /// scipy 1.17.1 `stats.multivariate_normal` for how likely each of the 64 sets of variances makes the values, NumPy 2.4.6
    /// `linalg.solve` for what each expects; one group is not known.
    #[test]
    fn the_variances_are_averaged_over() {
        let at = Standing {
            groups: [Some(0), Some(1), None],
            x: 0.5,
        };
        let (mean, variance) = Levels::of(&seen(&ROWS), PRIOR).expect(&at);
        check(mean, 1.5286571949007701);
        check(variance, 12.666770374335076);
    }

    /// Left out in truth and left out by formula are the same.
    #[test]
    fn leaving_one_out_is_as_if_it_was_never_seen() {
        let all = seen(&ROWS);
        let formula = Levels::of(&all, PRIOR).left_out();
        for (n, left_out) in formula.iter().enumerate() {
            let mut others = all.clone();
            let one = others.remove(n);
            let (expected, _) = Levels::of(&others, PRIOR).expect(&one.standing);
            check(*left_out, expected);
        }
    }
}
