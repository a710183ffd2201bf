//! The strength of a camera's tone curve, and flare, from how dark ink stands below paper.

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

/// What is known of a camera's tone curve.
#[derive(Clone, Copy, Debug)]
pub(super) struct Bend {
    /// The mean of what the strength may be.
    pub strength: f64,
    /// One standard deviation of it.
    pub strength_sd: f64,
    /// Light of flare by light of the paper.
    pub flare: f64,
}

/// The curve and flare under which ink of reflectance `ink` stands where it was seen below paper of reflectance `paper`.
///
/// Bayes' rule over a grid: the strength is normal about [`USUAL`], flare half-normal, and the logarithm of the ink's light
/// by the paper's is off by `ink_sd` in all channels together and by [`CHANNEL`] in each. Only channels in `seen` count.
pub(super) fn bend(
    white: Triple,
    black: Triple,
    expected: Triple,
    ink_sd: f64,
    seen: [bool; 3],
) -> Bend {
    let channels: Vec<usize> = (0..3).filter(|&c| seen[c]).collect();
    let mut sums = [0.0; 4];
    for strength in (-40..=100).map(|n| f64::from(n) / 100.0) {
        let tone = Tone { strength };
        let below: Vec<f64> = channels
            .iter()
            .map(|&c| tone.undo(black[c]) / tone.undo(white[c]))
            .collect();
        for flare in (0..20).map(|n| f64::from(n) / 1000.0) {
            let off: Option<Vec<f64>> = below
                .iter()
                .zip(&channels)
                .map(|(b, &c)| {
                    let clean = (b - flare) / (1.0 - flare);
                    (clean > 0.0).then(|| (clean / expected[c]).ln())
                })
                .collect();
            let Some(off) = off else { break };
            let prior = ((strength - USUAL.0) / USUAL.1).powi(2) + (flare / USUAL_FLARE).powi(2);
            let weight = (-0.5 * (prior + misfit(&off, ink_sd))).exp();
            for (sum, value) in sums
                .iter_mut()
                .zip([1.0, strength, strength * strength, flare])
            {
                *sum += weight * value;
            }
        }
    }
    let [total, strength, square, flare] = sums;
    if total <= f64::MIN_POSITIVE {
        return Bend {
            strength: USUAL.0,
            strength_sd: USUAL.1,
            flare: 0.0,
        };
    }
    let mean = strength / total;
    Bend {
        strength: mean,
        strength_sd: (square / total - mean * mean).max(0.0).sqrt(),
        flare: flare / total,
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
