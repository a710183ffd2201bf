use super::Lab;
use palette::{FromColor, IntoColor, Srgb};

/// Linear-light RGB as a camera file gives it, in the file's own primaries: 0 is black, 1 the largest value the file can
/// hold. It is not yet a colour; a light's correction makes it one.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct CameraRgb {
    /// Red, 0 to 1.
    pub r: f32,
    /// Green, 0 to 1.
    pub g: f32,
    /// Blue, 0 to 1.
    pub b: f32,
}

impl CameraRgb {
    /// The three values, red first.
    pub fn array(self) -> [f64; 3] {
        [self.r.into(), self.g.into(), self.b.into()]
    }
}

/// The nearest 8-bit sRGB colour; what sRGB cannot hold is clipped channel by channel.
pub fn lab_to_srgb8(lab: Lab) -> [u8; 3] {
    let rgb: Srgb<u8> = Srgb::from_color(lab).into_format();
    [rgb.red, rgb.green, rgb.blue]
}

/// The nearest sRGB colour as `#rrggbb`.
pub fn lab_to_hex(lab: Lab) -> String {
    let [r, g, b] = lab_to_srgb8(lab);
    format!("#{r:02x}{g:02x}{b:02x}")
}

/// CIELAB of an sRGB colour written `#rrggbb`; `None` where it is not one.
pub fn hex_to_lab(hex: &str) -> Option<Lab> {
    let rgb: Srgb<u8> = hex
        .strip_prefix('#')
        .filter(|h| h.len() == 6)?
        .parse()
        .ok()?;
    Some(rgb.into_format::<f64>().into_color())
}

#[cfg(test)]
mod tests {
    use super::*;
    use palette::encoding::{FromLinear, IntoLinear, Srgb as Curve};
    use proptest::prelude::*;

    #[test]
    fn the_curve_is_the_standard_s() {
        // IEC 61966-2-1:1999, evaluated by colour-science 0.4.7 to eight digits.
        for [code, linear] in
            super::super::tests::rows::<2>(include_str!("../../testdata/published/srgb-curve.csv"))
        {
            let found: f64 = Curve::into_linear(code / 255.0);
            assert!((found - linear).abs() < 6e-9, "code {code}: {found}");
            let back: f64 = Curve::from_linear(linear);
            assert!((back * 255.0 - code).abs() < 1e-4, "code {code}: {back}");
        }
    }

    #[test]
    fn cielab_of_srgb_is_as_another_library_has_it() {
        // colour-science 0.4.7 with the seven-digit matrix and the E308 white, to four digits.
        let table = include_str!("../../testdata/published/cielab-of-srgb.csv");
        assert_eq!(table.lines().count(), 17);
        for line in table.lines().skip(1) {
            let (hex, values) = line.split_once(',').unwrap();
            let lab = hex_to_lab(hex).unwrap();
            for (found, value) in [lab.l, lab.a, lab.b].iter().zip(values.split(',')) {
                let printed: f64 = value.parse().unwrap();
                assert!((found - printed).abs() < 2e-4, "{hex}: {found}, {printed}");
            }
            assert_eq!(lab_to_hex(lab), hex);
        }
    }

    #[test]
    fn what_is_no_hex_colour_is_none() {
        for text in ["", "#", "b08a4e", "#b08a4", "#b08a4g", "#b08a4e0", "#é08a4"] {
            assert_eq!(hex_to_lab(text), None, "{text}");
        }
    }

    #[test]
    fn what_srgb_cannot_hold_is_clipped() {
        assert_eq!(lab_to_srgb8(Lab::new(120.0, 0.0, 0.0)), [255; 3]);
        assert_eq!(lab_to_srgb8(Lab::new(-5.0, 0.0, 0.0)), [0; 3]);
    }

    proptest! {
        #[test]
        fn every_hex_colour_comes_back(r: u8, g: u8, b: u8) {
            let hex = format!("#{r:02x}{g:02x}{b:02x}");
            prop_assert_eq!(hex_to_lab(&hex).map(lab_to_hex), Some(hex));
        }
    }
}
