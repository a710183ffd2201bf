//! The strength of a camera's tone curve, and flare, from how dark ink stands below paper and from the edges between them.

use crate::reading::Tone;

/// Linear light of red, green and blue.
pub(super) type Triple = [f64; 3];

/// How strong a camera's curve usually is, before anything was seen, and one standard deviation.
///
/// Twenty-two published base curves of cameras, read between paper of L\* 96 and ink of L\* 25, come out at 0.45 to 0.69
/// (they spread by 0.2); neutral settings are straight, 0. A curve of 0 and one of 1 both stay within two deviations.
pub(super) const USUAL: (f64, f64) = (0.4, 0.3);

/// One standard deviation of flare, as a part of the light of the paper. From memory: veiling glare of camera lenses
/// is measured at some tenths of a percent to a few percent of a white surround (ISO 9358), and a tag is much smaller
/// than that.
const USUAL_FLARE: f64 = 0.005;

/// One standard deviation of a channel of the black by itself, in natural logarithms: noise, blur, ink not quite neutral.
const CHANNEL: f64 = 0.03;

/// How likely it is, before anything was seen, that a camera's curve has no shoulder at all. From memory: neutral settings and
/// older cameras have none, phones do.
const NO_SHOULDER: f64 = 0.6;

/// How strong a shoulder usually is where there is one, and one standard deviation. On published base curves of cameras an S
/// alone leaves the middle 3 to 6 L\* too light; that shoulders of this size do so is reckoned from it, not fitted to them.
const SHOULDER: (f64, f64) = (0.3, 0.3);

/// Steps of strength and of shoulder.
const STEP: (f64, f64) = (0.04, 0.1);

/// What is known of a camera's tone curve.
#[derive(Clone, Copy, Debug)]
pub(super) struct Bend {
    /// The mean of what the curve may be.
    pub tone: Tone,
    /// Two shifts of strength and shoulder, each of one standard deviation and independent of the other.
    pub shifts: [[f64; 2]; 2],
    /// Light of flare by light of the paper.
    pub flare: f64,
}

impl Bend {
    /// The curve after one of the shifts.
    pub fn shifted(&self, by: [f64; 2]) -> Tone {
        Tone {
            strength: self.tone.strength + by[0],
            shoulder: self.tone.shoulder + by[1],
        }
    }
}

/// The curve and flare under which ink of reflectance `expected`, by that of paper, stands where it was seen below paper, and
/// the edges between them are even.
///
/// Bayes' rule over a grid: strength is normal about [`USUAL`], the shoulder none at all or normal about [`SHOULDER`], flare half-normal, and the
/// logarithm of the ink's light by the paper's is off by `ink_sd` in all channels together and by [`CHANNEL`] in each. Only
/// channels in `seen` count. `uneven` is minus twice the log-likelihood of curves by the edges.
pub(super) fn bend(
    white: Triple,
    black: Triple,
    expected: Triple,
    ink_sd: f64,
    seen: [bool; 3],
    uneven: impl Fn(&[Tone]) -> Vec<f64>,
) -> Bend {
    let tones: Vec<Tone> = (-10..=25)
        .flat_map(|s| (-2..=16).map(move |k| (s, k)))
        .map(|(s, k)| Tone {
            strength: f64::from(s) * STEP.0,
            shoulder: f64::from(k) * STEP.1,
        })
        .collect();
    let channels: Vec<usize> = (0..3).filter(|&c| seen[c]).collect();
    let uneven = uneven(&tones);
    let mut sums = Sums::default();
    for (tone, uneven) in tones.into_iter().zip(uneven) {
        let prior = prior(tone);
        let below: Vec<[f64; 2]> = channels
            .iter()
            .map(|&c| [tone.undo(black[c]) / tone.undo(white[c]), expected[c]])
            .collect();
        for flare in (0..20).map(|n| f64::from(n) / 1000.0) {
            let clean = |[below, _]: &[f64; 2]| (below - flare) / (1.0 - flare);
            if below.iter().any(|b| clean(b) <= 0.0) {
                break;
            }
            let off: Vec<f64> = below.iter().map(|b| (clean(b) / b[1]).ln()).collect();
            let misfit = prior + uneven + (flare / USUAL_FLARE).powi(2) + misfit(&off, ink_sd);
            sums.add((-0.5 * misfit).exp(), tone, flare);
        }
    }
    sums.bend()
}

/// Minus twice the logarithm of how likely a curve of the grid is before anything was seen.
fn prior(tone: Tone) -> f64 {
    let off = (tone.shoulder - SHOULDER.0) / SHOULDER.1;
    let density = (-0.5 * off * off).exp() / (SHOULDER.1 * std::f64::consts::TAU.sqrt());
    let some = (1.0 - NO_SHOULDER) * density * STEP.1;
    let none = if tone.shoulder.abs() < STEP.1 / 2.0 {
        NO_SHOULDER
    } else {
        0.0
    };
    ((tone.strength - USUAL.0) / USUAL.1).powi(2) - 2.0 * (some + none).ln()
}

/// Weighted sums over curves: the weight, and with it strength, shoulder, their squares and product, and flare.
#[derive(Default)]
struct Sums([f64; 7]);

impl Sums {
    fn add(&mut self, weight: f64, tone: Tone, flare: f64) {
        let (s, k) = (tone.strength, tone.shoulder);
        let values = [1.0, s, k, s * s, k * k, s * k, flare];
        for (sum, value) in self.0.iter_mut().zip(values) {
            *sum += weight * value;
        }
    }

    /// The means; where nothing was likely at all, what is usual.
    fn bend(&self) -> Bend {
        let total = self.0[0];
        if total <= f64::MIN_POSITIVE {
            return Bend {
                tone: Tone {
                    strength: USUAL.0,
                    shoulder: 0.0,
                },
                shifts: [[USUAL.1, 0.0], [0.0, SHOULDER.1]],
                flare: 0.0,
            };
        }
        let [_, s, k, ss, kk, sk, flare] = self.0.map(|sum| sum / total);
        // The square root of the covariance, by Cholesky: a shift along both, and what the shoulder has of its own.
        let strength_sd = (ss - s * s).max(1e-9).sqrt();
        let along = (sk - s * k) / strength_sd;
        let own = (kk - k * k - along * along).max(0.0).sqrt();
        Bend {
            tone: Tone {
                strength: s,
                shoulder: k,
            },
            shifts: [[strength_sd, along], [0.0, own]],
            flare,
        }
    }
}

/// Minus twice the log-likelihood of logarithms that share one error of `common` and have each their own of [`CHANNEL`].
fn misfit(off: &[f64], common: f64) -> f64 {
    if off.is_empty() {
        return 0.0;
    }
    let count = off.len() as f64;
    let mean = off.iter().sum::<f64>() / count;
    let own: f64 = off.iter().map(|o| (o - mean).powi(2)).sum();
    mean * mean / (common * common + CHANNEL * CHANNEL / count) + own / (CHANNEL * CHANNEL)
}
