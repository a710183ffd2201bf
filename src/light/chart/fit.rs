//! Tone curve, flare, exposure, balance, matrix and the fall of light, fitted together to all patches.

use super::model::{FALL, Prior, Setting};
use super::sample::{Sample, median};
use super::solve::{Solved, Target};
use crate::colour::{CameraRgb, Matrix, apply, de00, inverse};
use crate::light::Surroundings;
use crate::light::backdrop::backdrop;
use crate::light::doubt::{PLACE, together};
use crate::light::field::Fit as Fall;
use crate::light::tone::USUAL;
use crate::reading::{Correction, Remaining, Tone};
use palette::IntoColor;

/// The fewest patches that tell a light.
const FEWEST: usize = 6;
/// More freedom must lessen the left-out error by this part to be taken.
const WORTH: f64 = 0.98;

/// The radius that holds 68 % of a normal ball by the mean distance from its middle: 1.88 by 1.60.
const WITHIN: f64 = 1.18;

/// How much farther off cloth is than a patch that was left out: its dyes are not the chart's pigments. In 92 computed photos
/// of five seasons the mean doubt came to 0.91 to 1.51 of the mean error, and 0.91 to 1.00 of the cloth lay within twice of it.
const DYES: f64 = 1.4;

/// How far the slope over a chart strays from the light's because it is not flat, natural logarithm by half the photo's longer side.
const CURVED: f64 = 0.015;

/// A fit, and how well it foretells patches that it did not see.
#[derive(Clone, Debug)]
pub(super) struct Fitted {
    pub correction: Correction,
    /// Mean CIEDE2000 of a kept patch by the fit to all others.
    pub left_out: f64,
    /// Places of patches that do not fit the others.
    pub outlying: Vec<String>,
}

impl Fitted {
    /// How far a cloth colour corrected so is from the truth: one standard deviation's worth, CIEDE2000.
    pub fn doubt(&self) -> f64 {
        together([DYES * WITHIN * self.left_out, PLACE])
    }
}

/// The best fit to the samples; `None` where fewer than six can be used.
pub(super) fn best(
    samples: &[Sample],
    to_xyz: Matrix,
    around: &Surroundings<'_>,
) -> Option<Fitted> {
    let mut kept: Vec<Target> = samples
        .iter()
        .filter(|s| s.holds())
        .map(Target::new)
        .collect();
    let usual = Fall::usual(around.size);
    let mut setting = Setting {
        to_xyz,
        chart: middle(&kept)?,
        middle: usual.middle,
        half: usual.half,
        bend: 0.0,
    };
    let mut prior = Prior::usual(gains(&kept, &setting)?);
    let tone = Tone {
        strength: USUAL.0,
        ..Tone::default()
    };
    foretell(&mut prior, &mut setting, &kept, tone, around);
    let mut outlying = Vec::new();
    let mut base = Solved::new(&kept, &setting, &prior, false, prior.mean)?;
    let most = samples.len() / 4;
    while let Some(worst) = base
        .worst()
        .filter(|_| outlying.len() < most && kept.len() > FEWEST)
    {
        outlying.push(kept.remove(worst).sample.id.clone());
        base = Solved::new(&kept, &setting, &prior, false, base.numbers)?;
    }
    let tone = setting.correction(&base.numbers).tone;
    foretell(&mut prior, &mut setting, &kept, tone, around);
    let plain = Solved::new(&kept, &setting, &prior, false, base.numbers)?;
    let rooted = Solved::new(&kept, &setting, &prior, true, plain.numbers);
    let worth = |rooted: &Solved| rooted.left_out() < WORTH * plain.left_out();
    let best = rooted.filter(worth).unwrap_or(plain);
    Some(Fitted {
        correction: setting.correction(&best.numbers),
        left_out: best.left_out(),
        outlying,
    })
}

/// How far each patch remains from its colour.
pub(super) fn remaining(samples: &[Sample], fitted: &Fitted) -> Vec<Remaining> {
    let one = |sample: &Sample| Remaining {
        id: sample.id.clone(),
        de00: {
            let [r, g, b] = sample.seen.map(|v| v as f32);
            let found = fitted
                .correction
                .to_lab_at(CameraRgb { r, g, b }, sample.place);
            de00(found, sample.xyz.into_color())
        },
        left_out: !sample.holds() || fitted.outlying.contains(&sample.id),
    };
    samples.iter().map(one).collect()
}

/// The mean over the patches that were kept.
pub(super) fn mean_of_kept(remaining: &[Remaining]) -> f64 {
    let kept: Vec<f64> = remaining
        .iter()
        .filter(|r| !r.left_out)
        .map(|r| r.de00)
        .collect();
    kept.iter().sum::<f64>() / kept.len().max(1) as f64
}

fn middle(targets: &[Target]) -> Option<[f64; 2]> {
    let count = targets.len();
    let mean =
        |axis: usize| targets.iter().map(|t| t.sample.place[axis]).sum::<f64>() / count as f64;
    (count >= FEWEST).then(|| [mean(0), mean(1)])
}

/// A first guess of the gains under a usual tone curve: the median over the patches in each channel.
fn gains(targets: &[Target], setting: &Setting) -> Option<[f64; 3]> {
    let tone = Tone {
        strength: USUAL.0,
        ..Tone::default()
    };
    let back = inverse(setting.to_xyz);
    let gain = [0, 1, 2].map(|c| {
        let ratios = targets.iter().filter_map(|t| {
            let xyz = t.sample.xyz;
            let wanted = apply(back, [xyz.x, xyz.y, xyz.z])[c];
            let seen = tone.undo(t.sample.seen[c]);
            (wanted > 0.02 && seen > 1e-4).then(|| wanted / seen)
        });
        median(ratios.collect())
    });
    gain.iter().all(|g| *g > 0.0).then_some(gain)
}

/// Puts into the prior what is known of the fall of light without the patches' colours: what is usual, what light does within
/// each patch (it is of one colour), and what the backdrop says.
fn foretell(
    prior: &mut Prior,
    setting: &mut Setting,
    targets: &[Target],
    tone: Tone,
    around: &Surroundings<'_>,
) {
    let mut fall = Fall::usual(around.size);
    if let Some((slope, sd)) = within(targets, tone, setting.half) {
        fall.add_slope(setting.chart, slope, sd);
    }
    let row = setting.to_xyz[1];
    backdrop(&mut fall, around, |light| {
        let sum: f64 = (0..3).map(|c| row[c] * tone.undo(light[c])).sum();
        sum.max(1e-6).ln()
    });
    let [_, x, y, bend] = fall.solved().into();
    setting.bend = bend.max(0.0);
    let spread = fall.normal.try_inverse().unwrap_or_default();
    for (axis, mean) in [x, y].into_iter().enumerate() {
        prior.mean[FALL + axis] = mean;
        prior.sd[FALL + axis] = spread[(axis + 1, axis + 1)].max(1e-8).sqrt();
    }
}

/// The slope of light within the patches, natural logarithm a pixel, the median over them, and one standard deviation of it by
/// `half`; `None` where too few patches are even enough to tell.
fn within(targets: &[Target], tone: Tone, half: f64) -> Option<([f64; 2], [f64; 2])> {
    let usable = targets.iter().filter(|t| {
        let light = t.sample.seen[1];
        (0.01..0.9).contains(&light) && t.sample.spread < 0.1
    });
    let steep = |light: f64| (tone.undo(1.02 * light) / tone.undo(light)).ln() / 1.02f64.ln();
    let slopes: Vec<[f64; 2]> = usable
        .map(|t| t.sample.slope.map(|s| s * steep(t.sample.seen[1])))
        .collect();
    let axis = |axis: usize| {
        let all: Vec<f64> = slopes.iter().map(|s| s[axis]).collect();
        let usual = median(all.clone());
        let strays = 1.4826 * median(all.iter().map(|s| (s - usual).abs()).collect());
        // A median strays 1.25 times as far as a mean.
        let sd = 1.25 * strays * half / (all.len() as f64).sqrt();
        (usual, sd + CURVED)
    };
    let [(x, x_sd), (y, y_sd)] = [axis(0), axis(1)];
    (slopes.len() >= FEWEST).then_some(([x, y], [x_sd, y_sd]))
}
