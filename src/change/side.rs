use crate::colour::{Lab, de00, triple};
use crate::reading::{Reading, Swatch};
use crate::stats;
use serde::Serialize;

/// A wet colour and the dry one it became.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Match {
    /// Wet, CIELAB.
    #[serde(with = "triple")]
    pub wet: Lab,
    /// Dry, CIELAB.
    #[serde(with = "triple")]
    pub dry: Lab,
    /// Share of the cloth that went this way, 0 to 1; they sum to 1.
    pub share: f64,
    /// CIEDE2000 between the two.
    pub de00: f64,
}

/// All photos of a piece in one state.
pub struct Side {
    /// Area-weighted L\*, the mean of the photos.
    pub lightness: f64,
    /// One standard deviation of it, L\*; `None` where any doubt is unknown.
    pub doubt: Option<f64>,
    /// The colours of all photos together, shares summing to 1.
    palette: Vec<(Lab, f64)>,
}

impl Side {
    /// `None` without photos; each must have colours whose shares sum to more than nothing.
    pub fn of(photos: &[&Reading]) -> Option<Self> {
        let each: Vec<f64> = photos.iter().filter_map(|p| p.mean_lightness()).collect();
        let doubts: Option<Vec<f64>> = photos.iter().map(|p| lightness_doubt(p)).collect();
        let whole = |p: &Reading| p.swatches.iter().map(|s| s.share).sum::<f64>();
        let part = |s: &Swatch, p: &Reading| (s.lab, s.share / whole(p) / photos.len() as f64);
        let parts = |p: &&Reading| -> Vec<_> { p.swatches.iter().map(|s| part(s, p)).collect() };
        Some(Self {
            lightness: stats::mean(&each)?,
            doubt: doubts.and_then(|d| stats::mean(&d)),
            palette: photos.iter().flat_map(parts).collect(),
        })
    }

    /// Which of these wet colours became which of those dry ones: the way that costs least in CIEDE2000, largest share first.
    pub fn matched(&self, dry: &Self) -> Vec<Match> {
        let shares = |side: &Self| side.palette.iter().map(|c| c.1).collect::<Vec<_>>();
        let pair = |i: usize, j: usize| (self.palette[i].0, dry.palette[j].0);
        let difference = |i, j| {
            let (wet, dry) = pair(i, j);
            de00(wet, dry)
        };
        let mut matched: Vec<Match> = stats::transport(&shares(self), &shares(dry), difference)
            .into_iter()
            .map(|(i, j, share)| {
                let (wet, dry) = pair(i, j);
                let de00 = de00(wet, dry);
                Match {
                    wet,
                    dry,
                    share,
                    de00,
                }
            })
            .collect();
        matched.sort_by(|a, b| b.share.total_cmp(&a.share));
        matched
    }
}

/// The radius that holds 68.27 % of a normal ball of unit standard deviation in three dimensions (scipy 1.17.1
/// `stats.chi.ppf(0.6827, 3)`): a doubt is such a radius, and lightness one of the three directions.
const BALL: f64 = 1.877_8;

/// The doubt of a photo's mean L\*: one standard deviation, the photo's CIEDE2000 doubt taken as alike in all directions.
fn lightness_doubt(reading: &Reading) -> Option<f64> {
    let each: Option<Vec<(f64, f64)>> = reading
        .swatches
        .iter()
        .map(|s| Some((s.doubt? / BALL * lightness_scale(s.lab.l), s.share)))
        .collect();
    stats::weighted_mean(each?)
}

/// L\* in one unit of CIEDE2000 at this L\*: S_L of ISO/CIE 11664-6.
fn lightness_scale(l: f64) -> f64 {
    let from_middle = (l - 50.0).powi(2);
    1.0 + 0.015 * from_middle / (20.0 + from_middle).sqrt()
}

/// Which of the colours `before` became which of those `after`, the way that costs least in CIEDE2000; shares of each side sum
/// to more than nothing. Largest share first; the shares sum to 1.
pub fn matched(before: &[(Lab, f64)], after: &[(Lab, f64)]) -> Vec<Match> {
    let palette = |colours: &[(Lab, f64)]| {
        let whole: f64 = colours.iter().map(|c| c.1).sum();
        colours
            .iter()
            .map(|&(lab, share)| (lab, share / whole))
            .collect()
    };
    let side = |colours| Side {
        lightness: 0.0,
        doubt: None,
        palette: palette(colours),
    };
    side(before).matched(&side(after))
}
