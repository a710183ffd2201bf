use super::Lab;

/// Warm-cool of a single colour, about -2 (coolest) to 3 (warmest); a grey is -0.5.
///
/// Ou, Luo, Woodcock & Wright 2004, Part I, Color Res. Appl. 29(3) 232-240, doi 10.1002/col.20010:
/// WC = -0.5 + 0.02 C\*^1.07 cos(h - 50°). Judged on plain chips under D65 by British and Chinese observers.
pub fn warmth(lab: Lab) -> f64 {
    let chroma = lab.a.hypot(lab.b);
    let hue = lab.b.atan2(lab.a);
    -0.5 + 0.02 * chroma.powf(1.07) * (hue - 50f64.to_radians()).cos()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::colour::hex_to_lab;

    #[test]
    fn the_primaries_feel_as_others_computed_them() {
        // Values that stand in the tests of other open implementations of Ou et al. 2004, to three digits; the paper's own
        // table of judgements was not at hand.
        for (hex, printed) in [
            ("#ff0000", 2.351),
            ("#00ff00", -0.267),
            ("#0000ff", -1.393),
            ("#ffffff", -0.5),
            ("#000000", -0.5),
        ] {
            let found = warmth(hex_to_lab(hex).unwrap());
            assert!((found - printed).abs() < 1e-3, "{hex}: {found}");
        }
    }

    #[test]
    fn plain_colours_feel_as_computed_elsewhere() {
        // The formula evaluated in Python, four digits: a check on the code, not on the paper.
        for (lab, computed) in [
            (Lab::new(50.0, 20.0, 30.0), 0.4212),
            (Lab::new(70.0, -15.0, 10.0), -0.5485),
            (Lab::new(30.0, 5.0, -25.0), -0.8998),
        ] {
            assert!((warmth(lab) - computed).abs() < 6e-5, "{lab:?}");
        }
    }
}
