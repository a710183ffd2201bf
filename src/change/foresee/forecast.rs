use super::departure::{Departure, Stray, above};
use super::shades::{Shade, mean, plain};
use crate::change::doubt::{deviations, direction};
use crate::change::matching::apart;
use crate::colour::{Lab, de00, triple};
use crate::stats::Normals;
use serde::Serialize;

/// Half the width of a 95 % band in standard deviations.
const REACH: f64 = 1.959_964;
/// Colours that cover less are no colour a piece is known by.
const LEAST: f64 = 0.05;
/// The axes a\* and b\* reach so far, as a byte holds them in CIELAB pictures.
const STRONGEST: f64 = 128.0;
/// So many dry pieces are drawn to judge a chance by: it is then known to 1.6 in a hundred.
const DRAWS: usize = 1000;
/// The draws are always the same ones, so that the same question has the same answer.
const SEED: u64 = 5;

/// A wet colour and what it will look like dry.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Foreseen {
    /// Wet, CIELAB.
    #[serde(with = "triple")]
    pub wet: Lab,
    /// Dry, CIELAB, as it is expected.
    #[serde(with = "triple")]
    pub dry: Lab,
    /// Lower ends of the 95 % bands of L\*, a\* and b\*.
    #[serde(with = "triple")]
    pub low: Lab,
    /// Upper ends.
    #[serde(with = "triple")]
    pub high: Lab,
    /// Share of the cloth, 0 to 1; they sum to 1.
    pub share: f64,
}

/// What one number of a departure is expected to be.
#[derive(Clone, Copy, Debug)]
pub struct Number {
    pub mean: f64,
    pub variance: f64,
}

/// What a dry piece is wished to look like.
#[derive(Clone, Debug, PartialEq)]
pub enum Wish {
    /// One of its colours that cover at least a twentieth is to be this one.
    Colour(Lab),
    /// Its colours with their shares are to be these.
    Palette(Vec<(Lab, f64)>),
}

/// The colours of a piece that is still wet as they will be dry, and how they may come out otherwise: as a photo of the dry piece
/// in as well known a light will show them. Half of what either light leaves open is shared and cancels, so both together leave
/// open what one does.
#[derive(Clone, Debug)]
pub struct Ahead {
    shades: Vec<Shade>,
    wet: Vec<Lab>,
    /// As water alone would let them dry.
    water: Vec<Lab>,
    /// By how much each was lifted so that it is not expected darker than it is wet, L\*.
    lifted: Vec<f64>,
    middle: f64,
    numbers: [Number; Departure::COUNT],
    stray: Stray,
}

impl Ahead {
    /// `darkest` as for [`expect`].
    pub(super) fn of(
        wet: &[Shade],
        water: &[Shade],
        numbers: [Number; Departure::COUNT],
        stray: Stray,
        darkest: f64,
    ) -> Self {
        let expected = Departure::from(numbers.map(|n| n.mean));
        let (shades, lifted) = expect(wet, water, expected, darkest);
        Self {
            middle: mean(water, |s| s.lab.l),
            shades,
            lifted,
            wet: wet.iter().map(|s| s.lab).collect(),
            water: water.iter().map(|s| s.lab).collect(),
            numbers,
            stray,
        }
    }

    /// Its colours, largest share first, with their bands.
    pub fn colours(&self) -> Vec<Foreseen> {
        let one = |(n, shade): (usize, &Shade)| {
            let [l, a, b] = self.reach(n);
            let Lab {
                l: dl,
                a: da,
                b: db,
                ..
            } = shade.lab;
            Foreseen {
                wet: self.wet[n],
                dry: shade.lab,
                low: possible(Lab::new(dl - l, da - a, db - b)),
                high: possible(Lab::new(dl + l, da + a, db + b)),
                share: shade.share,
            }
        };
        let mut colours: Vec<Foreseen> = self.shades.iter().enumerate().map(one).collect();
        colours.sort_by(|one, other| other.share.total_cmp(&one.share));
        colours
    }

    /// Half the width of a colour's bands in L\*, a\*, b\*.
    fn reach(&self, n: usize) -> [f64; 3] {
        let Shade { lab, doubt, .. } = self.shades[n];
        let [lightness, contrast, chroma, hue] = self.numbers.map(|n| n.variance);
        let light = deviations(lab, doubt).map(|sd| sd * sd);
        let length = lab.a * lab.a + lab.b * lab.b;
        let radial = chroma * length + light[1];
        let tangential = hue * length + light[2];
        let (cos, sin) = direction(lab);
        let stray = self.stray.chroma.powi(2);
        [
            lightness
                + contrast * above(self.water[n], self.middle).powi(2)
                + light[0]
                + self.stray.lightness.powi(2),
            cos * cos * radial + sin * sin * tangential + stray,
            sin * sin * radial + cos * cos * tangential + stray,
        ]
        .map(|variance| REACH * variance.sqrt())
    }

    /// The chance, 0 to 1, that the dry piece comes within `within` CIEDE2000 of what is wished for.
    pub fn chance(&self, wish: &Wish, within: f64) -> f64 {
        let mut normals = Normals::new(SEED);
        let near = (0..DRAWS).filter(|_| distance(&self.drawn(&mut normals), wish) <= within);
        near.count() as f64 / DRAWS as f64
    }

    /// One way in which the dry piece may come out.
    fn drawn(&self, normals: &mut Normals) -> Vec<Shade> {
        let departure = self
            .numbers
            .map(|n| n.mean + n.variance.sqrt() * normals.draw());
        let departure = Departure::from(departure);
        let light = [(); 3].map(|()| normals.draw());
        let one = |(n, shade): (usize, &Shade)| {
            let lab = lighter(departure.of(self.water[n], self.middle), self.lifted[n]);
            let [up, out, round] = deviations(lab, shade.doubt);
            let (cos, sin) = direction(lab);
            let (out, round) = (out * light[1], round * light[2]);
            let stray = [self.stray.lightness, self.stray.chroma, self.stray.chroma];
            let [l, a, b] = stray.map(|sd| sd * normals.draw());
            Shade {
                lab: within_cloth(Lab::new(
                    lab.l + up * light[0] + l,
                    lab.a + out * cos - round * sin + a,
                    lab.b + out * sin + round * cos + b,
                )),
                ..*shade
            }
        };
        self.shades.iter().enumerate().map(one).collect()
    }
}

/// The dry colours as they are expected, and by how much L\* each was lifted for it.
///
/// `darkest` is the most by which a piece was seen to dry darker, L\*, 0 or below: no colour is expected to do so further. Near-white
/// cloth gains less in drying than pieces usually depart from water alone, and would otherwise be foreseen darker than it is wet.
pub fn expect(
    wet: &[Shade],
    water: &[Shade],
    departure: Departure,
    darkest: f64,
) -> (Vec<Shade>, Vec<f64>) {
    let middle = mean(water, |s| s.lab.l);
    let one = |(wet, water): (&Shade, &Shade)| {
        let plain = departure.of(water.lab, middle);
        let lifted = (wet.lab.l + darkest - plain.l).max(0.0);
        let lab = within_cloth(lighter(plain, lifted));
        (Shade { lab, ..*water }, lifted)
    };
    wet.iter().zip(water).map(one).unzip()
}

/// How far dry colours are from what is wished for, CIEDE2000.
fn distance(dry: &[Shade], wish: &Wish) -> f64 {
    match wish {
        Wish::Colour(lab) => dry
            .iter()
            .filter(|shade| shade.share >= LEAST)
            .map(|shade| de00(shade.lab, *lab))
            .fold(f64::INFINITY, f64::min),
        Wish::Palette(colours) => {
            let whole: f64 = colours.iter().map(|c| c.1).sum();
            let wished: Vec<_> = colours.iter().map(|c| (c.0, c.1 / whole)).collect();
            apart(&plain(dry), &wished)
        }
    }
}

fn lighter(lab: Lab, by: f64) -> Lab {
    Lab::new(lab.l + by, lab.a, lab.b)
}

/// An end of a band stays within the space of colours: beyond it a wide band tells nothing.
fn possible(lab: Lab) -> Lab {
    let kept = within_cloth(lab);
    Lab::new(
        kept.l,
        kept.a.clamp(-STRONGEST, STRONGEST),
        kept.b.clamp(-STRONGEST, STRONGEST),
    )
}

/// L\* stays between black and white.
fn within_cloth(lab: Lab) -> Lab {
    Lab::new(lab.l.clamp(0.0, 100.0), lab.a, lab.b)
}
