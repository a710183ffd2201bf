use super::{mean, t_quantile_975, two_sided_p, variance};

/// One mean against another.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Comparison {
    /// Mean of the one less mean of the other, in the unit of the values.
    pub difference: f64,
    /// Lower end of the 95 % interval of the difference.
    pub low: f64,
    /// Upper end of the 95 % interval of the difference.
    pub high: f64,
    /// Two-sided p-value, 0 to 1.
    pub p: f64,
    /// Degrees of freedom, above 0, rarely whole.
    pub df: f64,
}

/// So few shared trials say nothing about how the two go together.
const FEWEST_SHARED: usize = 3;

/// Compares two means of which some trials are shared by both (`shared`: the value of the one, of the other) and some belong
/// to one alone. `None` where there is too little to say: fewer than three trials in all, or no scatter.
///
/// All shared, it is the paired t test; none shared, Welch's test with Satterthwaite's degrees of freedom (Welch 1947,
/// Biometrika 34 28-35, doi 10.1093/biomet/34.1-2.28); in between, the partially overlapping samples t test with separate
/// variances (Derrick, Russ, Toher & White 2017, J. Mod. Appl. Stat. Methods 16(1) 137-157; worked out in Derrick, Toher &
/// White 2017, doi 10.20982/tqmp.13.2.p120). With one or two shared trials their covariance is left out, which errs on the
/// side of no difference. Where one side is a single trial, its scatter is taken to be that of the other side.
pub fn compare(shared: &[(f64, f64)], one: &[f64], other: &[f64]) -> Option<Comparison> {
    let (ones, others) = (shared.iter().map(|s| s.0), shared.iter().map(|s| s.1));
    let all_one: Vec<f64> = ones.chain(one.iter().copied()).collect();
    let all_other: Vec<f64> = others.chain(other.iter().copied()).collect();
    let difference = mean(&all_one)? - mean(&all_other)?;
    let (squared_error, df) = match (variance(&all_one), variance(&all_other)) {
        (Some(s1), Some(s2)) => overlapping(shared, (s1, all_one.len()), (s2, all_other.len())),
        (Some(s), None) => against_one(s, all_one.len()),
        (None, Some(s)) => against_one(s, all_other.len()),
        (None, None) => return None,
    };
    let error = squared_error.sqrt();
    if !(error > 1e-12 * (1.0 + difference.abs()) && df > 0.0) {
        return None;
    }
    let reach = t_quantile_975(df) * error;
    Some(Comparison {
        difference,
        low: difference - reach,
        high: difference + reach,
        p: two_sided_p(difference / error, df),
        df,
    })
}

/// Squared standard error and degrees of freedom, of the variances `s` and counts `n` of both sides.
fn overlapping(
    shared: &[(f64, f64)],
    (s1, n1): (f64, usize),
    (s2, n2): (f64, usize),
) -> (f64, f64) {
    let (n1, n2) = (n1 as f64, n2 as f64);
    let (v1, v2) = (s1 / n1, s2 / n2);
    let gamma = (v1 + v2).powi(2) / (v1.powi(2) / (n1 - 1.0) + v2.powi(2) / (n2 - 1.0));
    if shared.len() < FEWEST_SHARED {
        return (v1 + v2, gamma);
    }
    let nc = shared.len() as f64;
    let alone = n1 + n2 - 2.0 * nc;
    let r = correlation(shared);
    let squared_error = v1 + v2 - 2.0 * r * (s1 * s2).sqrt() * nc / (n1 * n2);
    let df = (nc - 1.0) + (gamma - nc + 1.0) / (n1 + n2) * alone;
    (squared_error, df)
}

fn against_one(s: f64, n: usize) -> (f64, f64) {
    let n = n as f64;
    (s * (1.0 + 1.0 / n), n - 1.0)
}

/// Pearson's correlation, -1 to 1; 0 where one side does not scatter.
fn correlation(pairs: &[(f64, f64)]) -> f64 {
    let n = pairs.len() as f64;
    let (mx, my) = pairs
        .iter()
        .fold((0.0, 0.0), |(x, y), p| (x + p.0 / n, y + p.1 / n));
    let (mut xx, mut yy, mut xy) = (0.0, 0.0, 0.0);
    for (x, y) in pairs {
        xx += (x - mx).powi(2);
        yy += (y - my).powi(2);
        xy += (x - mx) * (y - my);
    }
    let scale = (xx * yy).sqrt();
    if scale > 0.0 {
        (xy / scale).clamp(-1.0, 1.0)
    } else {
        0.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const DRUG_1: [f64; 10] = [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0];
    const DRUG_2: [f64; 10] = [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4];

    /// `wanted`: difference, low, high, p, df.
    #[track_caller]
    fn check(shared: &[(f64, f64)], one: &[f64], other: &[f64], wanted: [f64; 5], within: f64) {
        let c = compare(shared, one, other).unwrap();
        let found = [c.difference, c.low, c.high, c.p, c.df];
        for (f, w) in found.iter().zip(wanted) {
            assert!((f - w).abs() <= within, "{found:?} is not {wanted:?}");
        }
    }

    /// Student's sleep data (R `datasets::sleep`), `t.test(extra ~ group)` as its help prints it: t = -1.8608, df = 17.776,
    /// p = 0.07939, interval -3.3654832 to 0.2054832; further digits by scipy 1.17.1 `stats.ttest_ind(equal_var=False)`.
    #[test]
    fn welch_on_the_sleep_data() {
        let wanted = [
            -1.58,
            -3.3654832307117104,
            0.20548323071171137,
            0.07939,
            17.776473516,
        ];
        check(&[], &DRUG_1, &DRUG_2, wanted, 5e-6);
    }

    /// The same data paired by patient: t = -4.0621, df = 9, p = 0.002833, interval -2.4598858 to -0.7001142 (R), further digits
    /// by scipy 1.17.1 `stats.ttest_rel`.
    #[test]
    fn paired_on_the_sleep_data() {
        let pairs: Vec<_> = DRUG_1.into_iter().zip(DRUG_2).collect();
        let wanted = [
            -1.58,
            -2.459885763276983,
            -0.7001142367230175,
            0.002832890197384273,
            9.0,
        ];
        check(&pairs, &[], &[], wanted, 1e-9);
    }

    /// The worked example of Derrick, Toher & White 2017 (doi 10.20982/tqmp.13.2.p120), whose authors print p = 0.026 for equal
    /// variances; here separate variances, the formula computed with numpy 2.4.6 and scipy 1.17.1.
    #[test]
    fn partly_shared_trials() {
        let pairs = [
            (14.0, 15.0),
            (15.0, 10.0),
            (18.0, 15.0),
            (20.0, 17.0),
            (11.0, 13.0),
            (19.0, 19.0),
            (14.0, 12.0),
            (15.0, 13.0),
        ];
        let one = [20.0, 21.0, 16.0, 18.0, 14.0, 12.0, 14.0, 17.0];
        let other = [10.0, 16.0, 18.0, 16.0, 15.0, 14.0, 13.0, 10.0];
        let reach = 1.7340970294721951;
        let wanted = [
            2.0,
            2.0 - reach,
            2.0 + reach,
            0.026104444861957423,
            18.422332269264114,
        ];
        check(&pairs, &one, &other, wanted, 1e-9);
    }

    /// scipy 1.17.1 `stats.ttest_ind([6], [1, 2, 3.5, 4])`.
    #[test]
    fn a_single_trial_borrows_the_scatter() {
        let wanted = [
            3.375,
            -1.5240984720917528,
            8.274098472091753,
            0.1159940929738235,
            3.0,
        ];
        check(&[], &[6.0], &[1.0, 2.0, 3.5, 4.0], wanted, 1e-9);
    }

    #[test]
    fn too_little_says_nothing() {
        assert_eq!(compare(&[], &[1.0], &[2.0]), None);
        assert_eq!(compare(&[], &[], &[2.0, 3.0]), None);
        assert_eq!(compare(&[], &[2.0, 2.0], &[3.0, 3.0]), None);
    }

    #[test]
    fn two_shared_trials_count_as_apart() {
        let mixed = compare(&[(1.0, 2.0), (3.0, 4.5)], &[], &[]);
        assert_eq!(mixed, compare(&[], &[1.0, 3.0], &[2.0, 4.5]));
    }
}
