//! What several photos of one piece in one state differ in, beyond what their doubts let expect.

use super::doubt::{LEAST, UNTOLD, deviations, direction};
use super::matching::apart;
use super::shown::Shown;
use crate::colour::{Lab, mean};
use crate::stats::weighted_mean;

/// One colour in one photo: CIELAB and its doubt, CIEDE2000.
pub type Seen = (Lab, f64);

/// How far the mean of a colour over several photos may be off because they differ beyond their doubts: variances along L\*, C\* and
/// the arc of hue of the mean, which has the hue `direction`.
#[derive(Clone, Copy, Debug, Default)]
pub struct Beyond {
    variances: [f64; 3],
    direction: (f64, f64),
}

impl Beyond {
    /// Nothing of fewer than two photos. Otherwise the variance between photos, less what the doubts explain, shared by their number.
    pub fn of(photos: &[Seen]) -> Self {
        let many = photos.len() as f64;
        let Some(middle) = mean(photos.iter().map(|(lab, _)| (*lab, 1.0))) else {
            return Self::default();
        };
        let (cos, sin) = direction(middle);
        let mut variances = [0.0; 3];
        for (lab, doubt) in photos.iter().filter(|_| photos.len() > 1) {
            let (a, b) = (lab.a - middle.a, lab.b - middle.b);
            let off = [lab.l - middle.l, a * cos + b * sin, b * cos - a * sin];
            let known = deviations(middle, *doubt);
            for axis in 0..3 {
                variances[axis] += off[axis].powi(2) / (many - 1.0) - known[axis].powi(2) / many;
            }
        }
        Self {
            variances: variances.map(|variance| variance.max(0.0) / many),
            direction: (cos, sin),
        }
    }

    /// Standard deviations along the axes of a colour of the hue `to`: the larger of this and `common`, in which all colours err
    /// together.
    pub fn deviations(self, common: Self, to: Lab) -> [f64; 3] {
        let own = self.turned(direction(to));
        let common = common.turned(direction(to));
        [0, 1, 2].map(|axis| f64::max(own[axis], common[axis]).sqrt())
    }

    /// The variances along the axes of another hue.
    fn turned(self, (cos, sin): (f64, f64)) -> [f64; 3] {
        let [lightness, out, round] = self.variances;
        let along = (cos * self.direction.0 + sin * self.direction.1).powi(2);
        let across = (cos * self.direction.1 - sin * self.direction.0).powi(2);
        [
            lightness,
            along * out + across * round,
            across * out + along * round,
        ]
    }
}

/// The mean doubt of a photo's colours by share; `None` where one is not known.
pub fn doubted(photo: &Shown) -> Option<f64> {
    let each: Option<Vec<(f64, f64)>> = (photo.colours.iter())
        .map(|c| Some((c.doubt?.max(LEAST), c.share)))
        .collect();
    each.and_then(weighted_mean)
}

/// The whole cloth of a photo as one colour.
pub fn as_one(photo: &Shown) -> Option<Seen> {
    let lab = mean(photo.palette())?;
    Some((lab, doubted(photo).unwrap_or(UNTOLD)))
}

/// The two of these photos that are least like each other for what their doubts let expect, where one cannot be believed beside the
/// other; with how far apart they are, CIEDE2000.
pub fn disagreeing<'a>(photos: &[&'a Shown]) -> Option<([&'a Shown; 2], f64)> {
    let pairs = (photos.iter().enumerate())
        .flat_map(|(n, one)| photos[..n].iter().map(move |other| [*other, *one]));
    let beyond = pairs.filter_map(|both| {
        let [one, other] = both.map(|photo| doubted(photo).unwrap_or(UNTOLD));
        let apart = apart(&both[0].palette(), &both[1].palette());
        // 95 % of the cloth is nearer to the truth than twice a doubt.
        let too_far = apart / (2.0 * one.hypot(other));
        (too_far > 1.0).then_some((too_far, both, apart))
    });
    let worst = beyond.max_by(|one, other| one.0.total_cmp(&other.0))?;
    Some((worst.1, worst.2))
}
