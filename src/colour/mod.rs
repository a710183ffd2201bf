//! Colour as the whole program speaks it: CIELAB of the CIE 1931 2° observer under D65, perfect diffuser = L\* 100.
//!
//! Thin over the crate `palette`, with what it lacks. The white point is the ASTM E308 one, 95.047 100 108.883, which is
//! also `palette`'s.

mod difference;
mod feeling;
mod matrix;
mod observer;
mod rgb;
mod xyz;

pub use difference::de00;
pub use feeling::warmth;
pub use matrix::{
    D65, Matrix, Primaries, White, apply, bradford, inverse, product, rgb_to_xyz, srgb_to_xyz,
};
pub use observer::{reflectance_to_xyz, white_of};
pub use rgb::{CameraRgb, hex_to_lab, lab_to_hex, lab_to_srgb8};
pub use xyz::{lab_to_xyz, xyz_to_lab};

/// CIELAB, 2° observer, D65. `l` 0 to 100, `a` and `b` about -128 to 127.
pub type Lab = palette::Lab<palette::white_point::D65, f64>;

/// CIELAB for pixels: the same space and white in single precision.
pub type Lab32 = palette::Lab<palette::white_point::D65, f32>;

/// CIE XYZ relative to a perfect diffuser with Y = 1, D65.
pub type Xyz = palette::Xyz<palette::white_point::D65, f64>;

/// A mean of colours weighted by `share`; `None` where the shares sum to nothing.
pub fn mean(colours: impl IntoIterator<Item = (Lab, f64)>) -> Option<Lab> {
    let (mut sum, mut total) = (Lab::new(0.0, 0.0, 0.0), 0.0);
    for (lab, share) in colours {
        sum += lab * share;
        total += share;
    }
    (total > 0.0).then(|| sum / total)
}

/// Serde form of a colour in JSON: `[L, a, b]`.
pub mod triple {
    use super::Lab;
    use serde::{Deserialize, Deserializer, Serialize, Serializer};

    /// Writes `[L, a, b]`.
    pub fn serialize<S: Serializer>(lab: &Lab, to: S) -> Result<S::Ok, S::Error> {
        [lab.l, lab.a, lab.b].serialize(to)
    }

    /// Reads `[L, a, b]`.
    pub fn deserialize<'de, D: Deserializer<'de>>(from: D) -> Result<Lab, D::Error> {
        let [l, a, b] = <[f64; 3]>::deserialize(from)?;
        Ok(Lab::new(l, a, b))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use palette::IntoColor;
    use palette::convert::FromColorUnclamped;
    use proptest::prelude::*;

    /// Rows of a published table: the header is skipped, every row counts.
    pub(super) fn rows<const N: usize>(table: &str) -> Vec<[f64; N]> {
        let parse = |line: &str| {
            let cells: Vec<f64> = line.split(',').map(|c| c.parse().unwrap()).collect();
            cells.try_into().unwrap()
        };
        table.lines().skip(1).map(parse).collect()
    }

    #[test]
    fn cielab_is_the_standard_s() {
        // XYZ under D65 and the 10° observer; CIELAB knows a white only by X/Xn, Y/Yn, Z/Zn, so they are rescaled to ours.
        const TEN_DEGREE: White = [94.811, 100.0, 107.304];
        let rows = rows::<8>(include_str!("../../testdata/published/cielab-of-xyz.csv"));
        assert_eq!(rows.len(), 20);
        for [pair, which, x, y, z, l, a, b] in rows {
            let scaled = |v: f64, axis: usize| v / TEN_DEGREE[axis] * D65[axis];
            let lab: Lab = Xyz::new(scaled(x, 0), scaled(y, 1), scaled(z, 2)).into_color();
            for (found, printed) in [(lab.l, l), (lab.a, a), (lab.b, b)] {
                let near = (found - printed).abs() < 0.000_06;
                assert!(near, "pair {pair}, colour {which}: {found}, not {printed}");
            }
        }
    }

    #[test]
    fn a_mean_weighs_by_share() {
        let (dark, light) = (Lab::new(20.0, 0.0, 10.0), Lab::new(80.0, 4.0, -10.0));
        let found = mean([(dark, 0.75), (light, 0.25)]);
        assert_eq!(found, Some(Lab::new(35.0, 1.0, 5.0)));
        assert_eq!(mean([]), None);
    }

    proptest! {
        #[test]
        fn xyz_and_back_is_nothing(l in 0.0..100.0, a in -100.0..100.0, b in -100.0..100.0) {
            let lab = Lab::new(l, a, b);
            let back = Lab::from_color_unclamped(Xyz::from_color_unclamped(lab));
            prop_assert!((back.l - l).abs() + (back.a - a).abs() + (back.b - b).abs() < 1e-9);
        }
    }
}
