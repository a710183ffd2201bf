//! What a measure makes of a piece's colours, and how far the doubt of the light reaches into it.

use super::language::Measure;
use crate::change::deviations;
use crate::colour::{Lab, de00, mean, warmth};

/// One colour as a question sees it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shade {
    /// CIELAB.
    pub lab: Lab,
    /// Share of the piece, 0 to 1, where every photo counts the same.
    pub share: f64,
    /// One standard deviation's worth, CIEDE2000; 0 where it is not known.
    pub doubt: f64,
}

/// A value with the variance that the light of its photos gives it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Value {
    /// In the measure's unit.
    pub value: f64,
    /// Its variance, the square of that unit; 0 where no doubt is known.
    pub variance: f64,
}

impl Value {
    /// A value that light cannot move much.
    pub fn firm(value: f64) -> Self {
        Self {
            value,
            variance: 0.0,
        }
    }
}

/// The value of `measure` over the colours of each photo; `None` without any colour, unless colours are what is counted.
///
/// Warmth, lightness, chroma and hue are means weighted by area. Evenness is the mean CIEDE2000 of the colours from their mean,
/// the number of colours their count, both as the mean of the photos; a share is the sum. The error of a photo's light is
/// common to its colours and independent of that of another photo.
pub fn value(measure: Measure, photos: &[Vec<Shade>]) -> Option<Value> {
    let all = || photos.iter().flatten();
    let total: f64 = all().map(|shade| shade.share).sum();
    if total <= 0.0 {
        let counts = matches!(measure, Measure::Share | Measure::Number);
        return counts.then(|| Value::firm(0.0));
    }
    let of_photos = |of: &dyn Fn(&[Shade]) -> f64| {
        let with: Vec<f64> = photos
            .iter()
            .filter(|p| !p.is_empty())
            .map(|p| of(p))
            .collect();
        with.iter().sum::<f64>() / with.len() as f64
    };
    Some(match measure {
        Measure::Share => Value::firm(total),
        Measure::Number => Value::firm(of_photos(&|photo| photo.len() as f64)),
        Measure::Evenness => Value::firm(of_photos(&unevenness)),
        _ => {
            // A grey has no hue.
            if measure == Measure::Hue && all().all(|shade| chroma(shade.lab) < GREY) {
                return None;
            }
            let of = point(measure)?;
            let about = about(measure, all());
            let value = all().map(|s| s.share * of.of(s.lab, about)).sum::<f64>() / total;
            let variance = photos.iter().map(|photo| common(photo, of)).sum::<f64>();
            Value {
                value,
                variance: variance / total.powi(2),
            }
        }
    })
}

/// A measure of a single colour and how it grows along lightness, chroma and hue (per unit of L\*, of C\* and of the arc).
#[derive(Clone, Copy)]
struct Point {
    of: fn(Lab, f64) -> f64,
    slope: fn(Lab) -> [f64; 3],
}

impl Point {
    fn of(self, lab: Lab, about: f64) -> f64 {
        (self.of)(lab, about)
    }
}

fn point(measure: Measure) -> Option<Point> {
    let point = |of, slope| Some(Point { of, slope });
    match measure {
        Measure::Warmth => point(|lab, _| warmth(lab), warmth_slope),
        Measure::Lightness => point(|lab, _| lab.l, |_| [1.0, 0.0, 0.0]),
        Measure::Chroma => point(|lab, _| chroma(lab), |_| [0.0, 1.0, 0.0]),
        Measure::Hue => point(
            |lab, about| about + turned(hue(lab) - about),
            |lab| [0.0, 0.0, 1f64.to_degrees() / chroma(lab).max(1.0)],
        ),
        _ => None,
    }
}

/// The angle that hues are reckoned about, so that 359° and 1° lie 2° apart: that of the mean colour.
fn about<'a>(measure: Measure, shades: impl Iterator<Item = &'a Shade>) -> f64 {
    match measure {
        Measure::Hue => mean(shades.map(|s| (s.lab, s.share))).map_or(0.0, hue),
        _ => 0.0,
    }
}

/// The ends between which a measure can lie at all; infinite where it has none.
pub fn limits(measure: Measure) -> (f64, f64) {
    match measure {
        Measure::Share => (0.0, 1.0),
        Measure::Lightness => (0.0, 100.0),
        Measure::Chroma | Measure::Evenness | Measure::Number | Measure::Fading => {
            (0.0, f64::INFINITY)
        }
        Measure::Warmth | Measure::Hue | Measure::Lightening => (f64::NEG_INFINITY, f64::INFINITY),
    }
}

/// Below this C\*ab no hue can be told (common practice, no source).
const GREY: f64 = 2.0;

/// C\*ab.
pub fn chroma(lab: Lab) -> f64 {
    lab.a.hypot(lab.b)
}

/// The hue angle h_ab, degrees from 0 to 360.
pub fn hue(lab: Lab) -> f64 {
    lab.b.atan2(lab.a).to_degrees().rem_euclid(360.0)
}

/// An angle brought to -180 to 180 degrees.
pub fn turned(angle: f64) -> f64 {
    (angle + 180.0).rem_euclid(360.0) - 180.0
}

/// The derivatives of the warm-cool scale of Ou et al. 2004: -0.5 + 0.02 C^1.07 cos(h - 50°).
fn warmth_slope(lab: Lab) -> [f64; 3] {
    let c = chroma(lab).max(1e-6);
    let (sin, cos) = (hue(lab) - 50.0).to_radians().sin_cos();
    let outward = 0.02 * c.powf(0.07);
    [0.0, 1.07 * outward * cos, -outward * sin]
}

/// The variance of the photo's sum of share times measure: along each direction of colour its shades err together.
fn common(photo: &[Shade], of: Point) -> f64 {
    let mut sum = [0.0; 3];
    for shade in photo {
        let slope = (of.slope)(shade.lab);
        let deviations = deviations(shade.lab, shade.doubt);
        for axis in 0..3 {
            sum[axis] += shade.share * slope[axis] * deviations[axis];
        }
    }
    sum.iter().map(|s| s * s).sum()
}

/// The mean CIEDE2000 of the colours from their mean, weighted by area.
fn unevenness(photo: &[Shade]) -> f64 {
    let Some(middle) = mean(photo.iter().map(|s| (s.lab, s.share))) else {
        return 0.0;
    };
    let total: f64 = photo.iter().map(|s| s.share).sum();
    let far = photo.iter().map(|s| s.share * de00(s.lab, middle));
    far.sum::<f64>() / total
}
