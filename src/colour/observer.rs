use super::{D65, White};
use std::sync::LazyLock;

/// The CIE 1931 2° observer and daylight D65 every 5 nm from 360 to 780: nm, x̄, ȳ, z̄, power. CIE 15 and ISO/CIE 11664-1 and -2.
static TABLE: LazyLock<Vec<[f64; 5]>> = LazyLock::new(|| {
    let text = include_str!("../../testdata/published/observer-and-daylight.csv");
    let row = |line: &str| {
        let cells: Vec<f64> = line.split(',').filter_map(|c| c.parse().ok()).collect();
        <[f64; 5]>::try_from(cells).ok()
    };
    text.lines().filter_map(row).collect()
});

/// XYZ under D65 for the 2° observer, Y = 1 for the perfect diffuser, of a reflectance given as `[nm, reflectance]` in rising
/// order of wavelength, at least two of them.
///
/// Between the given wavelengths the reflectance is interpolated by cubics through the four nearest points (Lagrange) and beyond
/// them held, both as CIE 15:2004, 7.2.2 and 7.2.3 allow; the sum goes over 5 nm.
pub fn reflectance_to_xyz(spectrum: &[[f64; 2]]) -> [f64; 3] {
    let (mut sums, mut white) = ([0.0; 3], [0.0; 3]);
    for &[nm, x, y, z, power] in TABLE.iter() {
        let reflectance = at(spectrum, nm);
        for (axis, weight) in [x, y, z].into_iter().enumerate() {
            sums[axis] += reflectance * weight * power;
            white[axis] += weight * power;
        }
    }
    // The sums over 5 nm miss the printed white in its fifth digit; a perfect diffuser is to be white exactly.
    [0, 1, 2].map(|axis| D65[axis] * sums[axis] / white[axis])
}

fn at(spectrum: &[[f64; 2]], nm: f64) -> f64 {
    let (first, last) = (spectrum[0], spectrum[spectrum.len() - 1]);
    if nm <= first[0] {
        return first[1];
    }
    if nm >= last[0] {
        return last[1];
    }
    let above = spectrum.partition_point(|[w, _]| *w <= nm);
    let from = above
        .saturating_sub(2)
        .min(spectrum.len().saturating_sub(4));
    let near = &spectrum[from..(from + 4).min(spectrum.len())];
    near.iter()
        .map(|&[w, value]| {
            let others = near.iter().filter(|[o, _]| *o != w);
            value * others.map(|[o, _]| (nm - o) / (w - o)).product::<f64>()
        })
        .sum()
}

/// The ASTM E308 white of an illuminant for the 2° or, where `ten` is true, the 10° observer; `None` for one not known here.
pub fn white_of(illuminant: &str, ten: bool) -> Option<White> {
    // ASTM E308, Table 5, as colour-science 0.4.7 computes them from the CIE spectra, rounded to the three printed digits.
    let (two, wide) = match illuminant.to_ascii_uppercase().as_str() {
        "A" => ([109.850, 100.0, 35.585], [111.144, 100.0, 35.200]),
        "C" => ([98.074, 100.0, 118.232], [97.285, 100.0, 116.145]),
        "D50" => ([96.422, 100.0, 82.521], [96.720, 100.0, 81.427]),
        "D55" => ([95.682, 100.0, 92.149], [95.799, 100.0, 90.926]),
        "D65" => ([95.047, 100.0, 108.883], [94.811, 100.0, 107.304]),
        "D75" => ([94.972, 100.0, 122.638], [94.416, 100.0, 120.641]),
        _ => return None,
    };
    Some((if ten { wide } else { two }).map(|v| v / 100.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_perfect_diffuser_is_white() {
        assert_eq!(TABLE.len(), 85);
        for spectrum in [
            vec![[400.0, 1.0], [700.0, 1.0]],
            vec![[360.0, 1.0], [500.0, 1.0], [780.0, 1.0]],
        ] {
            for (found, wanted) in reflectance_to_xyz(&spectrum).into_iter().zip(D65) {
                assert!((found - wanted).abs() < 1e-12, "{found}");
            }
        }
    }

    #[test]
    fn points_given_are_met_and_a_cubic_between_them() {
        let cubic = |w: f64| ((w - 500.0) / 100.0).powi(3);
        let spectrum: Vec<[f64; 2]> = [400.0, 430.0, 470.0, 520.0, 600.0]
            .map(|w| [w, cubic(w)])
            .to_vec();
        for w in [400.0, 410.0, 455.0, 520.0, 590.0] {
            assert!((at(&spectrum, w) - cubic(w)).abs() < 1e-12, "{w}");
        }
        assert_eq!(at(&spectrum, 300.0), cubic(400.0));
    }

    #[test]
    fn whites_are_near_those_of_their_spectra() {
        // colour-science 0.4.7, spectra integrated over 1 nm.
        for (name, ten, integrated) in [
            ("A", false, [109.849, 100.0, 35.591]),
            ("c", false, [98.062, 100.0, 118.175]),
            ("D50", false, [96.424, 100.0, 82.513]),
            ("D55", true, [95.800, 100.0, 90.911]),
            ("D65", true, [94.811, 100.0, 107.305]),
            ("D75", false, [94.972, 100.0, 122.619]),
            ("D75", true, [94.414, 100.0, 120.616]),
        ] {
            for (white, sum) in white_of(name, ten).unwrap().into_iter().zip(integrated) {
                assert!((100.0 * white - sum).abs() < 0.06, "{name}");
            }
        }
        assert_eq!(white_of("D93", false), None);
    }
}
