//! Least squares in CIEDE2000, held by what is known beforehand, and how well each patch is foretold by all others.

use super::model::{COUNT, Numbers, Prior, Setting, turns};
use super::sample::{Sample, median};
use crate::colour::{CameraRgb, Lab, de00};
use crate::reading::Correction;
use nalgebra::{Matrix3, SMatrix, Vector3};
use palette::IntoColor;

/// One standard deviation of a patch along one axis of colour, CIEDE2000, once all is fitted: what a camera that sees other
/// than an eye leaves, and noise.
const PATCH_SD: f64 = 0.6;
/// Beyond this a patch pulls less and less, CIEDE2000.
const PULLS: f64 = 4.0;
/// A patch this far off what the others foretell is out of place, CIEDE2000, and by how many times the usual.
const OUTLYING: (f64, f64) = (5.0, 4.0);
/// Steps of a fit at most; most end after five.
const STEPS: usize = 25;

/// A patch ready to be fitted: near its true colour, `scale` times a difference of CIELAB is as long as the CIEDE2000 one.
pub(super) struct Target<'a> {
    pub sample: &'a Sample,
    lab: Lab,
    scale: Matrix3<f64>,
}

impl<'a> Target<'a> {
    pub(super) fn new(sample: &'a Sample) -> Self {
        let lab: Lab = sample.xyz.into_color();
        Self {
            sample,
            lab,
            scale: local(lab),
        }
    }

    /// The difference of the corrected patch from its colour, in CIEDE2000 along three axes.
    fn off(&self, correction: &Correction) -> Vector3<f64> {
        let [r, g, b] = self.sample.seen.map(|v| v as f32);
        let found = correction.to_lab_at(CameraRgb { r, g, b }, self.sample.place);
        let (l, a, b) = (
            found.l - self.lab.l,
            found.a - self.lab.a,
            found.b - self.lab.b,
        );
        self.scale * Vector3::new(l, a, b)
    }
}

/// The factor by which small differences around `lab` become CIEDE2000: its square is the metric, taken from differences of 1.
fn local(lab: Lab) -> Matrix3<f64> {
    let axes = [
        Lab::new(1.0, 0.0, 0.0),
        Lab::new(0.0, 1.0, 0.0),
        Lab::new(0.0, 0.0, 1.0),
    ];
    let square = |step: Lab| (de00(lab, lab + step).powi(2) + de00(lab, lab - step).powi(2)) / 2.0;
    let own = axes.map(square);
    let metric = Matrix3::from_fn(|r, c| {
        if r == c {
            own[r]
        } else {
            (square(axes[r] + axes[c]) - own[r] - own[c]) / 2.0
        }
    });
    let factor = metric.cholesky().map(|c| c.l().transpose());
    factor.unwrap_or_else(|| Matrix3::from_diagonal(&Vector3::from(own.map(f64::sqrt))))
}

/// One fit with its residuals.
pub(super) struct Solved {
    pub numbers: Numbers,
    /// CIEDE2000 of each patch by the fit to all others.
    foretold: Vec<f64>,
}

type Square = SMatrix<f64, COUNT, COUNT>;
type Rows = SMatrix<f64, 3, COUNT>;

impl Solved {
    /// Levenberg's and Marquardt's method from `start`; `None` where the numbers run away.
    pub(super) fn new(
        targets: &[Target],
        setting: &Setting,
        prior: &Prior,
        roots: bool,
        start: Numbers,
    ) -> Option<Self> {
        let mut numbers = start;
        let mut cost = cost(targets, setting, prior, &numbers);
        let mut damping = 1e-3;
        for _ in 0..STEPS {
            let (square, right, _) = normal(targets, setting, prior, roots, &numbers);
            let mut damped = square;
            for n in 0..COUNT {
                damped[(n, n)] *= 1.0 + damping;
            }
            let next = numbers + damped.cholesky()?.solve(&right);
            let after = self::cost(targets, setting, prior, &next);
            if after < cost {
                let done = cost - after < 1e-4 * cost;
                (numbers, cost) = (next, after);
                damping = (damping * 0.2).max(1e-9);
                if done {
                    break;
                }
            } else {
                damping *= 8.0;
                if damping > 1e6 {
                    break;
                }
            }
        }
        let (square, _, rows) = normal(targets, setting, prior, roots, &numbers);
        let spread = square.cholesky()?.inverse();
        let correction = setting.correction(&numbers);
        let foretold = targets.iter().zip(&rows).map(|(target, (rows, weight))| {
            left_out(target.off(&correction), rows, *weight, &spread)
        });
        let foretold: Vec<f64> = foretold.collect();
        foretold
            .iter()
            .all(|f| f.is_finite())
            .then_some(Self { numbers, foretold })
    }

    pub(super) fn left_out(&self) -> f64 {
        self.foretold.iter().sum::<f64>() / self.foretold.len().max(1) as f64
    }

    /// The patch that is farthest out of place, if any is.
    pub(super) fn worst(&self) -> Option<usize> {
        let usual = median(self.foretold.clone());
        let limit = OUTLYING.0.max(OUTLYING.1 * usual);
        let far = self
            .foretold
            .iter()
            .enumerate()
            .filter(|(_, off)| **off > limit);
        far.max_by(|a, b| a.1.total_cmp(b.1))
            .map(|(index, _)| index)
    }
}

/// The residual of a patch had it been left out, by the hat matrix: exact where the fit is linear.
fn left_out(off: Vector3<f64>, rows: &Rows, weight: f64, spread: &Square) -> f64 {
    let hat = rows * spread * rows.transpose() * weight;
    let kept = Matrix3::identity() - hat;
    kept.try_inverse()
        .map_or(f64::INFINITY, |back| (back * off).norm())
}

fn cost(targets: &[Target], setting: &Setting, prior: &Prior, numbers: &Numbers) -> f64 {
    let correction = setting.correction(numbers);
    let patches = targets.iter().map(|target| {
        let far = target.off(&correction).norm_squared() / (PULLS * PULLS);
        far.ln_1p() * PULLS * PULLS / (PATCH_SD * PATCH_SD)
    });
    let strays = (numbers - prior.mean).component_div(&prior.sd);
    patches.sum::<f64>() + strays.norm_squared()
}

/// The normal equations around `numbers`, and each patch's rows of derivatives with its weight.
fn normal(
    targets: &[Target],
    setting: &Setting,
    prior: &Prior,
    roots: bool,
    numbers: &Numbers,
) -> (Square, Numbers, Vec<(Rows, f64)>) {
    const STEP: f64 = 1e-4;
    let here = setting.correction(numbers);
    let offs: Vec<Vector3<f64>> = targets.iter().map(|t| t.off(&here)).collect();
    let mut rows: Vec<(Rows, f64)> = offs
        .iter()
        .map(|off| {
            let pull = 1.0 / (1.0 + off.norm_squared() / (PULLS * PULLS));
            (Rows::zeros(), pull / (PATCH_SD * PATCH_SD))
        })
        .collect();
    for number in (0..COUNT).filter(|n| turns(*n, roots)) {
        let mut shifted = *numbers;
        shifted[number] += STEP;
        let there = setting.correction(&shifted);
        for ((target, off), (rows, _)) in targets.iter().zip(&offs).zip(&mut rows) {
            rows.set_column(number, &((target.off(&there) - off) / STEP));
        }
    }
    let mut square = Square::zeros();
    let mut right = Numbers::zeros();
    for ((rows, weight), off) in rows.iter().zip(&offs) {
        square += rows.transpose() * rows * *weight;
        right -= rows.transpose() * off * *weight;
    }
    for number in 0..COUNT {
        if turns(number, roots) {
            let weight = prior.sd[number].powi(-2);
            square[(number, number)] += weight;
            right[number] += weight * (prior.mean[number] - numbers[number]);
        } else {
            square[(number, number)] = 1.0;
        }
    }
    (square, right, rows)
}
