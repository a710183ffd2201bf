use crate::colour::{D65, Matrix, apply, bradford, inverse, product, rgb_to_xyz, srgb_to_xyz};
use crate::picture::Encoding;
use moxcms::{ToneReprCurve, Xyzd};

/// An RGB space, before its curves are tabled.
pub(super) struct Space {
    pub(super) curves: [Curve; 3],
    pub(super) to_xyz: Matrix,
    pub(super) name: String,
}

/// From a sample, 0 to 1, to linear light, 0 to 1.
#[derive(Clone, PartialEq)]
pub(super) enum Curve {
    /// Evenly spaced values, at least two, 65535 being 1.
    Table(Vec<u16>),
    /// g, a, b, c, d, e, f of ICC.1:2022, table 70, type 4: (a x + b)^g + e from d up, c x + f below.
    Power([f64; 7]),
}

impl Space {
    /// IEC 61966-2-1.
    pub(super) fn srgb(name: &str) -> Self {
        let curve = Curve::Power([
            2.4,
            1.0 / 1.055,
            0.055 / 1.055,
            1.0 / 12.92,
            0.04045,
            0.0,
            0.0,
        ]);
        Self {
            curves: [curve.clone(), curve.clone(), curve],
            to_xyz: srgb_to_xyz(),
            name: name.to_owned(),
        }
    }

    /// SMPTE EG 432-1's primaries with D65 and the curve of IEC 61966-2-1.
    pub(super) fn display_p3() -> Self {
        Self {
            to_xyz: rgb_to_xyz([[0.680, 0.320], [0.265, 0.690], [0.150, 0.060]]),
            ..Self::srgb("Display P3")
        }
    }

    /// Adobe RGB (1998) color image encoding, version 2005-05: its exponent is 2 51/256.
    pub(super) fn adobe_rgb() -> Self {
        let curve = Curve::gamma(2.0 + 51.0 / 256.0);
        Self {
            curves: [curve.clone(), curve.clone(), curve],
            to_xyz: rgb_to_xyz([[0.64, 0.33], [0.21, 0.71], [0.15, 0.06]]),
            name: "Adobe RGB (1998)".to_owned(),
        }
    }

    pub(super) fn encoding(self, largest: u16) -> Encoding {
        let [red, green, blue] = &self.curves;
        let first = red.tabled(largest);
        let again = |curve: &Curve| {
            if curve == red {
                first.clone()
            } else {
                curve.tabled(largest)
            }
        };
        Encoding {
            curves: [first.clone(), again(green), again(blue)],
            to_xyz: self.to_xyz,
            name: self.name,
        }
    }
}

impl Curve {
    fn gamma(g: f64) -> Self {
        Self::Power([g, 1.0, 0.0, 0.0, 0.0, 0.0, 0.0])
    }

    /// A profile's curve; `None` where it does not rise from dark to light.
    pub(super) fn of_profile(trc: &ToneReprCurve) -> Option<Self> {
        let curve = match trc {
            ToneReprCurve::Lut(table) => match table[..] {
                [] => Self::gamma(1.0),
                [exponent] => Self::gamma(f64::from(exponent) / 256.0),
                _ => Self::Table(table.clone()),
            },
            ToneReprCurve::Parametric(parameters) => {
                let p: Vec<f64> = parameters.iter().copied().map(f64::from).collect();
                // ICC.1:2022, table 70, types 0 to 4.
                Self::Power(match p[..] {
                    [g] => [g, 1.0, 0.0, 0.0, 0.0, 0.0, 0.0],
                    [g, a, b] => [g, a, b, 0.0, -b / a, 0.0, 0.0],
                    [g, a, b, c] => [g, a, b, 0.0, -b / a, c, c],
                    [g, a, b, c, d] => [g, a, b, c, d, 0.0, 0.0],
                    [g, a, b, c, d, e, f] => [g, a, b, c, d, e, f],
                    _ => return None,
                })
            }
        };
        let steps: Vec<f64> = (0..=16).map(|n| curve.at(f64::from(n) / 16.0)).collect();
        (steps.is_sorted() && steps[16] > steps[0] + 0.5).then_some(curve)
    }

    fn at(&self, x: f64) -> f64 {
        let light = match self {
            Self::Table(table) => {
                let place = x * (table.len() - 1) as f64;
                let below = (place as usize).min(table.len() - 2);
                let (low, high) = (f64::from(table[below]), f64::from(table[below + 1]));
                (low + (high - low) * (place - below as f64)) / 65535.0
            }
            Self::Power([g, a, b, c, d, e, f]) if x >= *d => (a * x + b).max(0.0).powf(*g) + e,
            Self::Power([_, _, _, c, _, _, f]) => c * x + f,
        };
        light.clamp(0.0, 1.0)
    }

    fn tabled(&self, largest: u16) -> Vec<f32> {
        (0..=largest)
            .map(|code| self.at(f64::from(code) / f64::from(largest)) as f32)
            .collect()
    }
}

/// A profile's primaries as a matrix to XYZ whose white is our D65, by the Bradford transform. It starts from the white
/// that the primaries add up to, D50 but for the rounding of the profile's numbers: so what is neutral stays neutral.
/// `None` where they span no colours.
pub(super) fn adapted(primaries: [Xyzd; 3]) -> Option<Matrix> {
    let columns = primaries.map(|p| [p.x, p.y, p.z]);
    let stored = [0, 1, 2].map(|row| columns.map(|column| column[row]));
    let white = apply(stored, [1.0; 3]);
    let spans = |m: Matrix| inverse(m).iter().flatten().all(|v| v.abs() < 1e3);
    if white.iter().any(|&part| part < 0.1) || !spans(stored) {
        return None;
    }
    Some(product(bradford(white, D65), stored))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::colour::{Lab, Xyz};
    use palette::IntoColor;

    fn lab(space: &Space, rgb: [f64; 3]) -> Lab {
        let linear = [0, 1, 2].map(|n| space.curves[n].at(rgb[n]));
        let [x, y, z] = apply(space.to_xyz, linear);
        Xyz::new(x, y, z).into_color()
    }

    fn xyz([x, y, z]: [f64; 3]) -> Xyzd {
        Xyzd { x, y, z }
    }

    #[track_caller]
    fn check(space: &Space, code: [u8; 3], expected: [f64; 3], within: f64) {
        let got = lab(space, code.map(|c| f64::from(c) / 255.0));
        for (got, expected) in [got.l, got.a, got.b].into_iter().zip(expected) {
            assert!(
                (got - expected).abs() <= within,
                "{code:?}: {got} for {expected}"
            );
        }
    }

    #[test]
    fn srgb_is_that_of_its_standard() {
        // IEC 61966-2-1: linear light of 8-bit codes, computed from its formula in double precision.
        let encoding = Space::srgb("sRGB").encoding(255);
        for (code, light) in [
            (0, 0.0),
            (1, 0.000_303_53),
            (10, 0.003_035_27),
            (11, 0.003_346_54),
            (64, 0.051_269_46),
            (128, 0.215_860_5),
            (200, 0.577_580_44),
            (255, 1.0),
        ] {
            assert!((encoding.curves[1][code] - light).abs() < 1e-7, "{code}");
        }
        // colour-science 0.4.7, the standard's primaries with the ASTM E308 white.
        let space = Space::srgb("sRGB");
        check(&space, [255, 0, 0], [53.2408, 80.0925, 67.2032], 0.002);
        check(&space, [0, 255, 0], [87.7347, -86.1827, 83.1793], 0.002);
        check(&space, [0, 0, 255], [32.2970, 79.1875, -107.8602], 0.002);
        check(
            &space,
            [0x76, 0x54, 0xcd],
            [45.0805, 42.1179, -58.1296],
            0.002,
        );
    }

    #[track_caller]
    fn check_matrix(got: &Matrix, expected: &Matrix, within: f64) {
        for (got, expected) in got.iter().flatten().zip(expected.iter().flatten()) {
            assert!((got - expected).abs() <= within, "{got} for {expected}");
        }
    }

    #[test]
    fn adobe_rgb_is_that_of_its_specification() {
        // Adobe RGB (1998), version 2005-05, 4.3.4.1 (from memory): to five digits, with a white of 0.9505 1 1.0891.
        let published = [
            [0.57667, 0.18556, 0.18823],
            [0.29734, 0.62736, 0.07529],
            [0.02703, 0.07069, 0.99134],
        ];
        // colour-science 0.4.7, normalised_primary_matrix of its primaries with the ASTM E308 white.
        let computed = [
            [0.5767309, 0.185554, 0.1881852],
            [0.2973769, 0.6273491, 0.0752741],
            [0.0270343, 0.0706872, 0.9911085],
        ];
        let made = Space::adobe_rgb().to_xyz;
        check_matrix(&made, &published, 3e-4);
        check_matrix(&made, &computed, 1e-6);
    }

    #[test]
    fn display_p3_primaries_come_back_from_d50() {
        // The primaries of SMPTE EG 432-1 with D65, as LittleCMS 2.19 stores them in a profile, in 1/65536.
        let stored = [
            [33759, 15807, -69],
            [19135, 45367, 2745],
            [10296, 4363, 51385],
        ]
        .map(|xyz: [i32; 3]| xyz.map(|v| f64::from(v) / 65536.0))
        .map(xyz);
        // colour-science 0.4.7, normalised_primary_matrix of its primaries with the ASTM E308 white.
        let computed = [
            [0.4866326, 0.2656632, 0.1981742],
            [0.2290036, 0.6917267, 0.0792697],
            [0.0, 0.0451126, 1.0437174],
        ];
        check_matrix(&adapted(stored).unwrap(), &computed, 5e-5);
    }

    #[test]
    fn neutral_stays_neutral() {
        // The primaries of IEC 61966-2-1, adapted to D50 and rounded to five digits: they add up to a white that is not quite D50.
        let rounded = adapted(
            [
                [0.43607, 0.22249, 0.01392],
                [0.38515, 0.71687, 0.09708],
                [0.14307, 0.06061, 0.71410],
            ]
            .map(xyz),
        )
        .unwrap();
        let spaces = [
            Space::srgb(""),
            Space::adobe_rgb(),
            Space {
                to_xyz: rounded,
                ..Space::srgb("")
            },
        ];
        for space in &spaces {
            for code in 0..=255u8 {
                let grey = lab(space, [f64::from(code) / 255.0; 3]);
                assert!(
                    grey.a.abs() < 0.02 && grey.b.abs() < 0.02,
                    "{}: {grey:?}",
                    space.name
                );
            }
            check(space, [255; 3], [100.0, 0.0, 0.0], 0.02);
        }
    }

    #[test]
    fn primaries_without_colours_are_broken() {
        assert!(adapted([[0.3214, 0.3333, 0.275]; 3].map(xyz)).is_none());
        assert!(adapted([[0.0; 3]; 3].map(xyz)).is_none());
    }

    #[test]
    fn curves_follow_the_icc_types() {
        let at = |parameters: &[f32], x: f64| {
            Curve::of_profile(&ToneReprCurve::Parametric(parameters.to_vec()))
                .unwrap()
                .at(x)
        };
        // ICC.1:2022, table 70, worked by hand.
        assert!((at(&[2.0], 0.5) - 0.25).abs() < 1e-6);
        assert!((at(&[2.0, 1.0, -0.2], 0.7) - 0.25).abs() < 1e-6);
        assert!((at(&[2.0, 1.0, -0.2], 0.1) - 0.0).abs() < 1e-6);
        assert!((at(&[2.0, 0.9, 0.0, 0.1], 0.5) - 0.3025).abs() < 1e-6);
        assert!((at(&[2.0, 1.0, 0.0, 0.5, 0.5], 0.4) - 0.2).abs() < 1e-6);
        assert!((at(&[2.0, 0.9, 0.0, 0.5, 0.2, 0.1, 0.02], 0.1) - 0.07).abs() < 1e-6);
        let table = Curve::of_profile(&ToneReprCurve::Lut(vec![0, 13107, 65535])).unwrap();
        assert!((table.at(0.25) - 0.1).abs() < 1e-9 && (table.at(1.0) - 1.0).abs() < 1e-9);
        let falling = ToneReprCurve::Lut(vec![65535, 0]);
        assert!(Curve::of_profile(&falling).is_none());
        let nonsense = ToneReprCurve::Parametric(vec![f32::NAN]);
        assert!(Curve::of_profile(&nonsense).is_none());
    }
}
