use super::fit::{Contrast, Fit};

/// Below this p-value a difference holds.
pub const LEVEL: f64 = 0.05;

/// The leader less every other group, in the order of the groups, the leader itself left out; `None` where it cannot be had.
///
/// The first `groups` columns of the model are the cell means of the groups, `leader` is one of them.
pub fn leader(fit: &Fit, groups: usize, leader: usize) -> Vec<Option<Contrast>> {
    let others = (0..groups).filter(|&other| other != leader);
    let against = others.map(|other| {
        let mut contrast = vec![0.0; fit.columns()];
        *contrast.get_mut(leader)? = 1.0;
        *contrast.get_mut(other)? = -1.0;
        fit.contrast(&contrast)
    });
    against.collect()
}

/// The largest p-value of the leader against the others; `None` where there is no other or one of them cannot be compared.
pub fn largest_p(against: &[Option<Contrast>]) -> Option<f64> {
    let ps: Option<Vec<f64>> = against.iter().map(|c| c.map(|c| c.p)).collect();
    ps?.into_iter().reduce(f64::max)
}

/// Whether the leader stands clear of every other group: all must be rejected at 5 %, so no further correction is due (Berger
/// 1982, Technometrics 24(4) 295-300, doi 10.2307/1267823).
pub fn holds(against: &[Option<Contrast>]) -> bool {
    largest_p(against).is_some_and(|p| p < LEVEL)
}

/// p-values corrected for being several separate claims, in the order given (Holm 1979, Scand. J. Stat. 6(2) 65-70).
pub fn holm(p: &[f64]) -> Vec<f64> {
    let mut order: Vec<usize> = (0..p.len()).collect();
    order.sort_by(|&a, &b| p[a].total_cmp(&p[b]));
    let (mut corrected, mut largest) = (vec![0.0; p.len()], 0.0_f64);
    for (before, &i) in order.iter().enumerate() {
        largest = largest.max((p.len() - before) as f64 * p[i]).min(1.0);
        corrected[i] = largest;
    }
    corrected
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Worked by hand from the rule; R `p.adjust(method = "holm")` gives the same.
    #[test]
    fn holms_correction() {
        for (p, wanted) in [
            (
                &[0.01, 0.02, 0.03, 0.04, 0.05][..],
                &[0.05, 0.08, 0.09, 0.09, 0.09][..],
            ),
            (&[0.01, 0.04, 0.03, 0.005], &[0.03, 0.06, 0.06, 0.02]),
            (
                &[0.0001, 0.01, 0.03, 0.04, 0.20],
                &[0.0005, 0.04, 0.09, 0.09, 0.20],
            ),
            (&[0.6, 0.7], &[1.0, 1.0]),
            (&[], &[]),
        ] {
            let found = holm(p);
            let near = found.iter().zip(wanted).all(|(f, w)| (f - w).abs() < 1e-12);
            assert!(
                near && found.len() == wanted.len(),
                "{found:?} is not {wanted:?}"
            );
        }
    }
}
