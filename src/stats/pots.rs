use super::components::Spread;
use super::{normal_below, t_quantile_975};

/// How many more pots each of two groups needs until a difference this big would show at 5 % with the given power (0 to 1, usually
/// 0.8); `None` beyond `most` or where a number makes no sense.
///
/// Student's t over pots that hold one group each, as many pieces in each as now (`pieces_a_pot`), every piece read with the
/// standard deviation `reading`. `pots` are those each group has already. Where pots hold both groups their own scatter cancels:
/// give it as 0.
pub fn pots_needed(
    difference: f64,
    spread: &Spread,
    reading: f64,
    pieces_a_pot: f64,
    pots: (usize, usize),
    power: f64,
    most: usize,
) -> Option<usize> {
    let of_pieces = (spread.within.powi(2) + reading.powi(2)) / pieces_a_pot;
    let variance = spread.between.powi(2) + of_pieces;
    let sensible = pieces_a_pot > 0.0 && variance.is_finite() && (0.0..1.0).contains(&power);
    if !(sensible && difference.abs() > 0.0) {
        return None;
    }
    let enough = |more: usize| {
        let (one, other) = ((pots.0 + more) as f64, (pots.1 + more) as f64);
        let error = (variance * (1.0 / one + 1.0 / other)).sqrt();
        one >= 2.0
            && other >= 2.0
            && chance_to_show(difference.abs() / error, one + other - 2.0) >= power
    };
    // The more pots, the surer it shows: halving finds the first that are enough.
    let (mut few, mut many) = (0, most + 1);
    while few < many {
        let middle = few.midpoint(many);
        if enough(middle) {
            many = middle;
        } else {
            few = middle + 1;
        }
    }
    (few <= most).then_some(few)
}

/// The chance that a two-sided t test at 5 % rejects, the true difference being `shift` standard errors: the noncentral t law as
/// the mean of the normal one over the error's own scatter, a chi over its degrees of freedom (Simpson's rule).
fn chance_to_show(shift: f64, df: f64) -> f64 {
    const STEPS: usize = 200;
    if shift == f64::INFINITY {
        return 1.0;
    }
    let critical = t_quantile_975(df);
    // The error by its expected size scatters about 1 by 1/sqrt(2 df); ten times that is beyond all chance.
    let reach = 10.0 / (2.0 * df).sqrt();
    let (from, to) = ((1.0 - reach).max(0.0), 1.0 + reach);
    let step = (to - from) / STEPS as f64;
    let (mut chance, mut whole) = (0.0, 0.0);
    for i in 0..=STEPS {
        let s = from + step * i as f64;
        let simpson = if i == 0 || i == STEPS {
            1.0
        } else if i % 2 == 1 {
            4.0
        } else {
            2.0
        };
        let density = ((df - 1.0) * s.max(1e-300).ln() - df * (s * s - 1.0) / 2.0).exp();
        let shows = normal_below(shift - critical * s) + normal_below(-shift - critical * s);
        chance += simpson * density * shows;
        whole += simpson * density;
    }
    chance / whole
}

#[cfg(test)]
mod tests {
    use super::*;

    /// scipy 1.17.1 `stats.nct.sf(c, df, shift) + stats.nct.cdf(-c, df, shift)`, c = `stats.t.ppf(0.975, df)`.
    #[test]
    fn power_of_the_t_test() {
        for (shift, df, wanted) in [
            (0.0, 5.0, 0.05),
            (1.0, 1.0, 0.07298889446967004),
            (2.5, 2.0, 0.2995139266298845),
            (2.5, 6.0, 0.5537696917716903),
            (3.0, 10.0, 0.7714014353512887),
            (2.8, 200.0, 0.7957597219490012),
        ] {
            let found = chance_to_show(shift, df);
            assert!(
                (found - wanted).abs() < 1e-4,
                "{shift} {df}: {found} is not {wanted}"
            );
        }
    }

    /// statsmodels 0.15.0 `TTestIndPower().solve_power(effect_size, alpha=0.05, power=0.8)`: 63.77, 16.71 and 5.09 in each group.
    #[test]
    fn pots_until_it_shows() {
        let spread = Spread {
            between: 0.8,
            within: 0.6,
        };
        for (difference, all) in [(0.5, 64), (1.0, 17), (-2.0, 6)] {
            let found = pots_needed(difference, &spread, 0.0, 1.0, (3, 3), 0.8, 1000);
            assert_eq!(found, Some(all - 3));
        }
    }

    #[test]
    fn no_difference_never_shows() {
        let spread = Spread {
            between: 1.0,
            within: 1.0,
        };
        assert_eq!(pots_needed(0.0, &spread, 0.0, 2.0, (3, 3), 0.8, 1000), None);
        assert_eq!(
            pots_needed(1e-3, &spread, 0.0, 2.0, (3, 3), 0.8, 1000),
            None
        );
        assert_eq!(
            pots_needed(f64::NAN, &spread, 0.0, 2.0, (3, 3), 0.8, 1000),
            None
        );
        assert_eq!(
            pots_needed(9.0, &spread, 0.1, 2.0, (20, 20), 0.8, 1000),
            Some(0)
        );
    }
}
