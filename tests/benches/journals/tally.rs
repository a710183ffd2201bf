//! What comes out of many made journals of one kind.

use super::{Chance, Journal, Kind, Shape};
use filemot::stats::{Fit, holds, leader};
use nalgebra::{DMatrix, DVector};

/// Counts over journals of one kind.
#[derive(Clone, Copy, Debug, Default)]
pub struct Tally {
    pub runs: usize,
    /// Journals without any difference in which the leader was said to stand clear.
    pub false_holds: usize,
    /// Intervals of group means: given, and holding the truth.
    pub means: (usize, usize),
    /// Intervals of the first group less the second: asked for, given, and holding the truth.
    pub differences: (usize, usize),
    /// Journals in which the first group is truly ahead and was rightly said to be: by the program, and by one who knows the
    /// true variances.
    pub found: (usize, usize),
}

impl Tally {
    pub fn of(kind: &Kind, runs: usize, seed: u64) -> Self {
        let mut tally = Self::default();
        let mut chance = Chance(seed);
        for mut journal in (0..runs).filter_map(|_| kind.journal(&mut chance)) {
            tally.runs += 1;
            tally.without_difference(&journal);
            tally.with_difference(kind, &mut journal);
        }
        tally
    }

    /// The same with every piece taken for a pot of its own, without any difference only.
    pub fn of_pieces_apart(kind: &Kind, runs: usize, seed: u64) -> Self {
        let mut tally = Self::default();
        let mut chance = Chance(seed);
        for mut journal in (0..runs).filter_map(|_| kind.journal(&mut chance)) {
            tally.runs += 1;
            journal.pot = (0..journal.y.len()).collect();
            tally.without_difference(&journal);
        }
        tally
    }

    pub fn add(&mut self, other: &Self) {
        self.runs += other.runs;
        self.false_holds += other.false_holds;
        for (sum, more) in [
            (&mut self.means, other.means),
            (&mut self.differences, other.differences),
            (&mut self.found, other.found),
        ] {
            *sum = (sum.0 + more.0, sum.1 + more.1);
        }
    }

    fn without_difference(&mut self, journal: &Journal) {
        let Some(fit) = Fit::of(journal.pieces()) else {
            return;
        };
        let mean = |g: usize| unit(journal.groups, g);
        for contrast in (0..journal.groups).filter_map(|g| fit.contrast(mean(g).as_slice())) {
            self.means.0 += 1;
            self.means.1 += usize::from(contrast.low <= 0.0 && 0.0 <= contrast.high);
        }
        let first_less_second = &mean(0) - &mean(1);
        if let Some(contrast) = fit.contrast(first_less_second.as_slice()) {
            self.differences.0 += 1;
            self.differences.1 += usize::from(contrast.low <= 0.0 && 0.0 <= contrast.high);
        }
        self.false_holds += usize::from(ahead(&fit, journal.groups).1);
    }

    fn with_difference(&mut self, kind: &Kind, journal: &mut Journal) {
        if kind.shape != Shape::Normal {
            return;
        }
        let (m, xvy) = truth(kind, journal);
        let groups = journal.groups;
        let error = |g: usize| (m[(0, 0)] + m[(g, g)] - 2.0 * m[(0, g)]).sqrt();
        let widest = (1..groups).map(error).fold(0.0, f64::max);
        let ahead_by = 3.3 * widest;
        for (y, &g) in journal.y.iter_mut().zip(&journal.group) {
            *y += if g == 0 { ahead_by } else { 0.0 };
        }
        let means = &m * xvy;
        let clear = |g: usize| (means[0] + ahead_by - means[g]) / error(g) > 1.959964;
        self.found.1 += usize::from((1..groups).all(clear));
        if let Some(fit) = Fit::of(journal.pieces()) {
            self.found.0 += usize::from(ahead(&fit, groups) == (0, true));
        }
    }
}

/// The group with the highest mean, and whether it stands clear.
fn ahead(fit: &Fit, groups: usize) -> (usize, bool) {
    let mean = |g: usize| {
        fit.value(unit(groups, g).as_slice())
            .unwrap_or(f64::NEG_INFINITY)
    };
    let first = (0..groups)
        .max_by(|&a, &b| mean(a).total_cmp(&mean(b)))
        .unwrap_or(0);
    (first, holds(&leader(fit, groups, first)))
}

fn unit(groups: usize, g: usize) -> DVector<f64> {
    DVector::from_fn(groups, |j, _| f64::from(j == g))
}

/// (X'V⁻¹X)⁻¹ and X'V⁻¹y with the true V, pot by pot (Sherman & Morrison 1950).
fn truth(kind: &Kind, journal: &Journal) -> (DMatrix<f64>, DVector<f64>) {
    let k = journal.groups;
    let (mut information, mut moments) = (DMatrix::zeros(k, k), DVector::zeros(k));
    for pot in 0..kind.pots {
        let (mut sums, mut sum, mut all) = (DVector::zeros(k), 0.0, 0.0);
        for i in (0..journal.y.len()).filter(|&i| journal.pot[i] == pot) {
            let weight = 1.0 / (1.0 - kind.effect + journal.known[i]);
            let g = journal.group[i];
            information[(g, g)] += weight;
            moments[g] += weight * journal.y[i];
            sums[g] += weight;
            sum += weight * journal.y[i];
            all += weight;
        }
        let shared = kind.effect / (1.0 + kind.effect * all);
        information -= &sums * sums.transpose() * shared;
        moments -= &sums * (sum * shared);
    }
    let inverse = information.try_inverse().expect("every group is seen");
    (inverse, moments)
}
