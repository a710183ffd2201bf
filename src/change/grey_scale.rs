use crate::colour::Lab;
use serde::{Serialize, Serializer};
use std::fmt;

/// A grade of the grey scale for change in colour: 5, 4-5, 4 … 1-2, 1; 5 is no change.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Grade {
    half_steps: u8,
}

/// Below which ΔE_F each grade lies, from 5 down to 1-2; beyond the last it is 1. The rating table of ISO 105-A05:1996, as three
/// independent public implementations hold it.
const TABLE: [f64; 8] = [0.40, 1.25, 2.10, 2.95, 4.10, 5.80, 8.20, 11.60];

impl Grade {
    /// The best: no change.
    pub const BEST: Self = Self { half_steps: 10 };

    /// The grade of a ΔE_F, by the table and never by the rounded [`grey_scale`], which disagrees with it near the edges.
    pub fn of(de_f: f64) -> Self {
        let below = TABLE.iter().take_while(|&&edge| de_f >= edge).count() as u8;
        Self {
            half_steps: 10 - below,
        }
    }

    /// All grades from 5 down with the ΔE_F at which each begins and the one below which it ends, `None` where it has no end.
    pub fn bands() -> impl Iterator<Item = (Self, f64, Option<f64>)> {
        (0..=TABLE.len()).map(|n| {
            let from = n.checked_sub(1).map_or(0.0, |n| TABLE[n]);
            let grade = Self {
                half_steps: 10 - n as u8,
            };
            (grade, from, TABLE.get(n).copied())
        })
    }
}

impl fmt::Display for Grade {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let whole = self.half_steps / 2;
        match self.half_steps % 2 {
            0 => write!(f, "{whole}"),
            _ => write!(f, "{whole}-{}", whole + 1),
        }
    }
}

impl Serialize for Grade {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.collect_str(self)
    }
}

/// The colour change ΔE_F of ISO 105-A05:1996, from 0 up, of a test specimen against the original.
///
/// By the formulas as three independent public implementations hold them. ΔH\*ab carries the sign of the turn of hue; a grey has no
/// hue and none is needed, since D is 0 where the mean chroma is.
pub fn de_f(original: Lab, test: Lab) -> f64 {
    let (c_0, c_t) = (original.a.hypot(original.b), test.a.hypot(test.b));
    let (delta_l, delta_c) = (test.l - original.l, c_t - c_0);
    let delta_h = {
        let across = original.a * test.b - original.b * test.a;
        let along = original.a * test.a + original.b * test.b;
        let size = (2.0 * (c_0 * c_t - along)).max(0.0).sqrt();
        if across < 0.0 { -size } else { size }
    };
    let c_m = (c_t + c_0) / 2.0;
    let from_blue = (h_m(original, test) - 280.0).abs();
    let x = (from_blue.min(360.0 - from_blue) / 30.0).powi(2);
    let d = delta_c * c_m * (-x).exp() / 100.0;
    let (delta_c_k, delta_h_k) = (delta_c - d, delta_h - d);
    let delta_c_f = delta_c_k / (1.0 + (20.0 * c_m / 1000.0).powi(2));
    let delta_h_f = delta_h_k / (1.0 + (10.0 * c_m / 1000.0).powi(2));
    delta_l.hypot(delta_c_f).hypot(delta_h_f)
}

/// The mean of two hue angles, degrees from 0 to 360; that of a grey is 0.
fn h_m(original: Lab, test: Lab) -> f64 {
    let hue = |lab: Lab| lab.b.atan2(lab.a).to_degrees().rem_euclid(360.0);
    let (h_0, h_t) = (hue(original), hue(test));
    let middle = (h_t + h_0) / 2.0;
    if (h_t - h_0).abs() <= 180.0 {
        middle
    } else if h_t + h_0 < 360.0 {
        middle + 180.0
    } else {
        middle - 180.0
    }
}

/// The continuous grey scale rating GSc of a ΔE_F, 5 down to 1: for statistics, not for the grade.
pub fn grey_scale(de_f: f64) -> f64 {
    let rating = if de_f <= 3.4 {
        5.0 - de_f / 1.7
    } else {
        5.0 - (de_f / 0.85).log2()
    };
    rating.max(1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn lab([l, a, b]: [f64; 3]) -> Lab {
        Lab::new(l, a, b)
    }

    /// The edges of the rating table, ISO 105-A05:1996: a ΔE_F at an edge has the lower grade.
    #[test]
    fn edges_of_the_bands() {
        let below = ["5", "4-5", "4", "3-4", "3", "2-3", "2", "1-2", "1"];
        for (n, edge) in [0.40, 1.25, 2.10, 2.95, 4.10, 5.80, 8.20, 11.60]
            .into_iter()
            .enumerate()
        {
            assert_eq!(Grade::of(edge - 1e-9).to_string(), below[n], "below {edge}");
            assert_eq!(Grade::of(edge).to_string(), below[n + 1], "at {edge}");
        }
        assert_eq!(Grade::of(0.0), Grade::BEST);
        assert_eq!(Grade::of(90.0).to_string(), "1");
        assert_eq!(Grade::bands().count(), 9);
        for (grade, from, to) in Grade::bands() {
            assert_eq!(Grade::of(from), grade);
            assert!(to.is_none_or(|to| Grade::of(to) < grade));
        }
    }

    /// The rounded rating would say 4-5.
    #[test]
    fn the_table_and_not_the_rounded_rating() {
        assert_eq!(Grade::of(1.26).to_string(), "4");
        assert!((2.0 * grey_scale(1.26)).round() == 9.0);
    }

    /// The nominal CIELAB differences of the grey scale itself, ISO 105-A02:1993 (EN 20105-A02:1994): each is its grade by the
    /// table, and by the rating within 0.03, since it is a pure difference of lightness.
    #[test]
    fn nominal_steps_of_the_grey_scale() {
        let steps = [
            ("5", 5.0, 0.0),
            ("4-5", 4.5, 0.8),
            ("4", 4.0, 1.7),
            ("3-4", 3.5, 2.5),
            ("3", 3.0, 3.4),
            ("2-3", 2.5, 4.8),
            ("2", 2.0, 6.8),
            ("1-2", 1.5, 9.6),
            ("1", 1.0, 13.6),
        ];
        for (grade, rating, difference) in steps {
            let found = de_f(lab([60.0, 0.0, 0.0]), lab([60.0 - difference, 0.0, 0.0]));
            assert!((found - difference).abs() < 1e-9);
            assert_eq!(Grade::of(found).to_string(), grade);
            assert!(
                (grey_scale(found) - rating).abs() < 0.03,
                "{grade}: {}",
                grey_scale(found)
            );
        }
    }

    #[track_caller]
    fn check(original: [f64; 3], test: [f64; 3], wanted: f64, grade: &str) {
        let found = de_f(lab(original), lab(test));
        assert!((found - wanted).abs() < 6e-5, "{found} is not {wanted}");
        assert_eq!(Grade::of(found).to_string(), grade);
    }

    /// Computed with NumPy from the same formulas, written out a second time; the standard prints no worked cases that we know.
    #[test]
    fn worked_cases() {
        check([50.0, 0.0, 0.0], [51.7, 0.0, 0.0], 1.7, "4");
        check([50.0, 30.0, 20.0], [54.0, 26.0, 18.0], 5.0523, "2-3");
        check([35.0, 5.0, -40.0], [42.0, 3.0, -30.0], 8.6185, "1-2");
        check([60.0, -20.0, 40.0], [61.0, -18.0, 44.0], 3.3934, "3");
        // The hues lie on either side of 0°.
        check([45.0, 40.0, -2.0], [45.0, 40.0, 2.0], 3.4471, "3");
        check([45.0, 40.0, 2.0], [45.0, 40.0, -2.0], 3.4471, "3");
    }

    /// A grey has no hue; whichever is taken for it must not matter much, nor make it none.
    #[test]
    fn neutrals_have_no_hue() {
        for test in [[50.0, 1e-12, 0.0], [50.0, 0.0, -1e-12], [50.0, -1e-12, 0.0]] {
            assert!(de_f(lab([50.0, 0.0, 0.0]), lab(test)) < 1e-9);
        }
        // From grey to a faint blue: D = 4 · 2 · exp(-((270 - 280) / 30)²) / 100 at most, so near the plain 4.
        let found = de_f(lab([50.0, 0.0, 0.0]), lab([50.0, 0.0, -4.0]));
        assert!((found - 4.0).abs() < 0.1, "{found}");
    }

    /// Near 280° a gain of chroma with a turn towards red is less of a change than with one towards green: D has the sign of the
    /// gain and is taken from the signed ΔH.
    #[test]
    fn the_turn_of_hue_has_a_sign() {
        let blue = |chroma: f64, hue: f64| {
            let (sin, cos) = f64::to_radians(hue).sin_cos();
            Lab::new(40.0, chroma * cos, chroma * sin)
        };
        let (to_red, to_green) = (
            de_f(blue(35.0, 280.0), blue(45.0, 286.0)),
            de_f(blue(35.0, 280.0), blue(45.0, 274.0)),
        );
        assert!(to_red + 0.5 < to_green, "{to_red} {to_green}");
    }
}
