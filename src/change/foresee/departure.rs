use super::shades::{Shade, colours, mean, partners};
use crate::change::doubt::BALL;
use crate::colour::Lab;
use std::f64::consts::FRAC_PI_2;

/// L\* in one unit of [`Departure::contrast`].
const STEP: f64 = 20.0;
/// How far single colours stray from what is common to a piece, L\* and either of a\* and b\*: what is usual, chosen on our own seasons.
pub const STRAY: Stray = Stray {
    lightness: 1.5,
    chroma: 1.5,
    weight: 6.0,
};
/// How a piece departs from what water alone would do: the same for all its colours.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Departure {
    /// Lighter by so many L\*.
    pub lightness: f64,
    /// And colours that are [`STEP`] lighter than the piece's mean by so many more.
    pub contrast: f64,
    /// Natural logarithm of how many times as colourful.
    pub chroma: f64,
    /// Turned in hue, radians.
    pub hue: f64,
}

impl Departure {
    /// Its four numbers: lightness, contrast, chroma, hue.
    pub const COUNT: usize = 4;

    pub fn array(self) -> [f64; Self::COUNT] {
        [self.lightness, self.contrast, self.chroma, self.hue]
    }

    pub fn from([lightness, contrast, chroma, hue]: [f64; Self::COUNT]) -> Self {
        Self {
            lightness,
            contrast,
            chroma,
            hue,
        }
    }

    /// The colour `lab` of a palette whose mean L\* is `middle`, so changed.
    pub fn of(self, lab: Lab, middle: f64) -> Lab {
        let (sin, cos) = self.hue.sin_cos();
        let times = self.chroma.exp();
        Lab::new(
            lab.l + self.lightness + self.contrast * above(lab, middle),
            times * (lab.a * cos - lab.b * sin),
            times * (lab.a * sin + lab.b * cos),
        )
    }
}

/// How far above the mean a colour is, in the unit of contrast.
pub fn above(lab: Lab, middle: f64) -> f64 {
    (lab.l - middle) / STEP
}

/// How far single colours stray, and on how many colours that rests.
#[derive(Clone, Copy, Debug)]
pub struct Stray {
    /// One standard deviation, L\*.
    pub lightness: f64,
    /// One standard deviation of a\* and of b\*.
    pub chroma: f64,
    /// Worth so many colours.
    pub weight: f64,
}

/// What one piece showed.
pub struct Shown {
    pub departure: Departure,
    /// The variance that measuring leaves in each number.
    pub known: [f64; Departure::COUNT],
    pub stray: Stray,
}

/// How the dry colours depart from those that water alone foresees of the wet ones.
pub fn shown(foreseen: &[Shade], dry: &[Shade]) -> Shown {
    let ways = partners(foreseen, dry);
    let over = |of: &dyn Fn(&Shade, &Shade) -> f64| -> f64 {
        ways.iter()
            .map(|(from, to, share)| share * of(from, to))
            .sum()
    };
    let middle = mean(foreseen, |s| s.lab.l);
    let lighter = |from: &Shade, to: &Shade| to.lab.l - from.lab.l;
    let lightness = over(&lighter);
    let spread = over(&|from, _| above(from.lab, middle).powi(2)).max(1e-6);
    let together = over(&|from, to| above(from.lab, middle) * (lighter(from, to) - lightness));
    // The turn and stretch of the plane of a* and b* that fits best.
    let along = over(&|from, to| from.lab.a * to.lab.a + from.lab.b * to.lab.b);
    let across = over(&|from, to| from.lab.a * to.lab.b - from.lab.b * to.lab.a);
    let length = over(&|from, _| from.lab.a.powi(2) + from.lab.b.powi(2)).max(1e-6);
    let departure = Departure {
        lightness,
        contrast: together / spread,
        chroma: (along.hypot(across) / length).max(0.2).ln(),
        hue: across.atan2(along),
    };
    let off = |from: &Shade, to: &Shade| {
        let found = departure.of(from.lab, middle);
        [to.lab.l - found.l, to.lab.a - found.a, to.lab.b - found.b]
    };
    let count = colours(foreseen);
    let light = both_lights(foreseen, dry);
    let plane = (STRAY.chroma.powi(2) / count + light) / length;
    // By the mean of how far off they are, which one colour that found a wrong partner moves less than the mean of squares:
    // √(π/2) times it is the standard deviation of a normal distribution.
    let strayed = |axis: usize| FRAC_PI_2.sqrt() * over(&|from, to| off(from, to)[axis].abs());
    let stray = Stray {
        lightness: strayed(0),
        chroma: 0.5 * (strayed(1) + strayed(2)),
        weight: (count - 2.0).max(0.5),
    };
    Shown {
        departure,
        known: [
            STRAY.lightness.powi(2) / count + light,
            STRAY.lightness.powi(2) / count / spread,
            plane,
            plane,
        ],
        stray,
    }
}

/// The variance that the doubt of both photos' light leaves in one direction of colour. Half of each is the camera's and the tag's
/// own, which both photos share, so that it cancels.
fn both_lights(wet: &[Shade], dry: &[Shade]) -> f64 {
    let one = |palette: &[Shade]| mean(palette, |s| s.doubt / BALL).powi(2);
    0.5 * (one(wet) + one(dry))
}

impl Stray {
    /// What is usual, and what these pieces showed.
    pub fn of(pieces: &[Shown]) -> Self {
        let all = || pieces.iter().map(|p| p.stray).chain([STRAY]);
        let weight: f64 = all().map(|s| s.weight).sum();
        let pooled = |of: &dyn Fn(&Stray) -> f64| {
            (all().map(|s| s.weight * of(&s).powi(2)).sum::<f64>() / weight).sqrt()
        };
        Self {
            lightness: pooled(&|s| s.lightness),
            chroma: pooled(&|s| s.chroma),
            weight,
        }
    }
}
