//! The light from one tag or several.

use super::cautions::cautions;
use super::doubt::{MATRIX, PLACE, moved, together};
use super::edges::{Edges, unevenness};
use super::fall::fall;
use super::sample::{Module, Sample};
use super::tone::{Bend, Triple, bend};
use super::{Found, References, Surroundings};
use crate::colour::{CameraRgb, Lab, Matrix, Xyz, apply, de00, inverse};
use crate::picture::Photograph;
use crate::reading::{Basis, Correction, Doubt, Fall, Light};
use crate::tag::Sighting;
use palette::IntoColor;

/// One standard deviation of the L\* of ink: assumed (nineteen in twenty within 5), and given by the studio.
const INK: (f64, f64) = (2.5, 0.5);

/// One standard deviation of the b\* of paper: assumed (nineteen in twenty within 4), and given by the studio.
const PAPER: (f64, f64) = (2.0, 0.5);

/// How far the white of a channel at the top of its range may be off when it is told from the black.
const CLIPPED: f64 = 0.08;

/// The light of a photo from the tags in it; `None` if no tag is usable (too little of it in the picture, or ink hardly
/// darker than paper).
///
/// White balance and exposure are what brings the paper to its colour. The tone curve and flare are the likeliest that
/// bring the ink to its own. Several tags are taken together, and how far they disagree raises the doubt.
pub fn from_tags(
    photo: &Photograph,
    tags: &[&Sighting],
    references: &References,
    around: &Surroundings<'_>,
) -> Option<Found> {
    let taken = |tag: &&Sighting| {
        let sample = Sample::take(photo, tag)?;
        let edges = Edges::take(photo, tag, &sample);
        Some((sample, edges))
    };
    let (samples, edges): (Vec<Sample>, Vec<Option<Edges>>) = tags.iter().filter_map(taken).unzip();
    let edges: Vec<Edges> = edges.into_iter().flatten().collect();
    if samples.is_empty() {
        return None;
    }
    let known = Known::from(&samples, &edges, photo.encoding.to_xyz, references, around);
    let correction = known.correction();
    let even = Correction {
        fall: Fall::default(),
        ..correction.clone()
    };
    Some(Found {
        // What the fall of light explains is known; that the light falls so is a caution all the same.
        doubt: known.doubt(
            &samples,
            references,
            apart(&samples, &correction, references),
        ),
        cautions: cautions(&samples, references, apart(&samples, &even, references)),
        light: Light {
            basis: Basis::Tag,
            residual: Some(residual(&samples, &correction, references)),
            patches: Vec::new(),
            correction: Some(correction),
            ..Light::default()
        },
    })
}

/// All that a correction is made from.
#[derive(Clone, Copy)]
struct Known {
    /// The paper as photographed.
    white: Triple,
    /// The paper's light by what the file could hold of it, 1 or more; more only where a channel is at its top.
    beyond: Triple,
    /// The paper's true light, linear in the file's primaries.
    paper: Triple,
    bend: Bend,
    fall: Fall,
    matrix: Matrix,
}

impl Known {
    fn from(
        samples: &[Sample],
        edges: &[Edges],
        matrix: Matrix,
        references: &References,
        around: &Surroundings<'_>,
    ) -> Self {
        let (white, black) = (mean(samples, |s| s.white), mean(samples, |s| s.black));
        let open = [0, 1, 2].map(|c| !samples.iter().any(|s| s.clipped[c]));
        let paper = in_file_primaries(references.paper, matrix);
        let ink = in_file_primaries(references.ink, matrix);
        let ratio = [0, 1, 2].map(|c| ink[c] / paper[c]);
        let bend = bend(white, black, ratio, ink_sd(references), open, |tones| {
            unevenness(tones, edges)
        });
        Self {
            beyond: beyond(white, black, ratio, bend, open),
            white,
            paper,
            bend,
            fall: fall(samples, bend, matrix, around),
            matrix,
        }
    }

    fn correction(self) -> Correction {
        let tone = self.bend.tone;
        let lit = [0, 1, 2].map(|c| tone.undo(self.white[c]) * self.beyond[c]);
        let flare = lit.map(|light| light * self.bend.flare);
        Correction {
            tone,
            flare,
            gain: [0, 1, 2].map(|c| self.paper[c] / (lit[c] - flare[c])),
            matrix: self.matrix,
            roots: Matrix::default(),
            fall: self.fall,
        }
    }

    /// Each cause by itself, then all together.
    fn doubt(self, samples: &[Sample], references: &References, apart: f64) -> Doubt {
        let [bent, curved] = self.bend.shifts.map(|by| {
            let mut shifted = self;
            shifted.bend.tone = self.bend.shifted(by);
            shifted
        });
        let mut bluer = self;
        let mut paper = references.paper;
        paper.b -= sd(PAPER, references.paper_known);
        bluer.paper = in_file_primaries(paper, self.matrix);
        let mut shaded = self;
        let uneven = samples.iter().map(|s| s.uneven).fold(0.0, f64::max);
        shaded.beyond = self.beyond.map(|b| b * (1.0 + uneven / 2.0));
        let mut topped = self;
        for channel in 0..3 {
            if samples.iter().any(|s| s.clipped[channel]) {
                topped.beyond[channel] *= 1.0 + CLIPPED;
            }
        }
        let correction = self.correction();
        let shifts = [bent, curved, bluer, shaded, topped]
            .map(|shifted| moved(self.white, &correction, &shifted.correction()));
        let (grey, chroma) = MATRIX;
        Doubt {
            common: together(shifts.into_iter().chain([PLACE, apart])),
            grey,
            chroma,
        }
    }
}

/// How far beyond its top a channel's white would be, told from the black of that channel: there, paper stands above ink
/// as it does in the channels that are not at their top.
fn beyond(white: Triple, black: Triple, ratio: Triple, bend: Bend, open: [bool; 3]) -> Triple {
    let tone = bend.tone;
    let by_black = [0, 1, 2].map(|c| tone.undo(black[c]) / ratio[c] / tone.undo(white[c]));
    let seen: Vec<f64> = (0..3).filter(|&c| open[c]).map(|c| by_black[c]).collect();
    let usual = match seen.len() {
        0 => 1.0,
        count => seen.iter().sum::<f64>() / count as f64,
    };
    [0, 1, 2].map(|c| {
        if open[c] {
            1.0
        } else {
            (by_black[c] / usual).max(1.0)
        }
    })
}

/// A colour as linear light of the file's primaries, at least a ten-thousandth: no paper and no ink is blacker.
fn in_file_primaries(lab: Lab, matrix: Matrix) -> Triple {
    let Xyz { x, y, z, .. } = lab.into_color();
    apply(inverse(matrix), [x, y, z]).map(|light| light.max(1e-4))
}

/// One standard deviation of the natural logarithm of the ink's light.
fn ink_sd(references: &References) -> f64 {
    let light = |l: f64| {
        let xyz: Xyz = Lab::new(l, 0.0, 0.0).into_color();
        xyz.y
    };
    let off = sd(INK, references.ink_known);
    (light(references.ink.l + off) / light(references.ink.l)).ln()
}

fn sd((assumed, given): (f64, f64), known: bool) -> f64 {
    if known { given } else { assumed }
}

fn mean(samples: &[Sample], of: fn(&Sample) -> Triple) -> Triple {
    [0, 1, 2].map(|c| samples.iter().map(|s| of(s)[c]).sum::<f64>() / samples.len() as f64)
}

fn lab(correction: &Correction, light: Triple) -> Lab {
    correction.to_lab(camera(light))
}

fn camera([r, g, b]: Triple) -> CameraRgb {
    CameraRgb {
        r: r as f32,
        g: g as f32,
        b: b as f32,
    }
}

/// How far, on the mean, the modules of paper and of ink remain from their colours, CIEDE2000.
fn residual(samples: &[Sample], correction: &Correction, references: &References) -> f64 {
    let off = |of: fn(&Sample) -> &Vec<Module>, to: Lab| {
        let all: Vec<f64> = samples
            .iter()
            .flat_map(of)
            .map(|module| de00(lab(correction, module.light), to))
            .collect();
        all.iter().sum::<f64>() / all.len().max(1) as f64
    };
    (off(|s| &s.whites, references.paper) + off(|s| &s.blacks, references.ink)) / 2.0
}

/// How far the paper of one tag is from that of all together, CIEDE2000: the largest.
fn apart(samples: &[Sample], correction: &Correction, references: &References) -> f64 {
    let offs = samples.iter().map(|s| {
        de00(
            correction.to_lab_at(camera(s.white), s.middle()),
            references.paper,
        )
    });
    if samples.len() > 1 {
        offs.fold(0.0, f64::max)
    } else {
        0.0
    }
}
