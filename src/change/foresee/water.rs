//! Why wet cloth is darker, and what it would be without the water.
//!
//! Light that cloth scatters back meets the water's surface from within, and what falls on it at a slant is thrown back onto the
//! cloth, which gets another chance to absorb it (Ångström 1925, Geografiska Annaler 7, 323-342; taken up by Lekner & Dorf 1988,
//! Appl. Opt. 27(7) 1278-1280, doi 10.1364/AO.27.001278).

use crate::colour::{Lab, Matrix, Primaries, apply, inverse, lab_to_xyz, rgb_to_xyz, xyz_to_lab};

/// The refractive index of water in the middle of the spectrum.
const WATER: f64 = 1.33;

/// Three bands of the spectrum, as the primaries of ITU-R BT.2020, which are lights of one wavelength each (630, 532, 467 nm).
/// Reflectance is what water changes, wavelength by wavelength; three numbers cannot give a spectrum back, but in these bands
/// every dyed cloth reflects something, where sRGB or XYZ would have bands below nothing or bands that overlap.
const BANDS: Primaries = [[0.708, 0.292], [0.170, 0.797], [0.131, 0.046]];

/// Reflectance is kept this far from 0 and 1, where odds end.
const EDGE: f64 = 1e-4;

/// The colour a wet cloth would have without its water.
pub struct Drier {
    from: Matrix,
    to: Matrix,
    passed: f64,
}

impl Drier {
    pub fn new() -> Self {
        let from = rgb_to_xyz(BANDS);
        Self {
            to: inverse(from),
            from,
            passed: 1.0 - returned(WATER),
        }
    }

    /// CIELAB of the wet cloth to that of the dry one.
    pub fn dried(&self, wet: Lab) -> Lab {
        let bands = apply(self.to, lab_to_xyz(wet));
        let dry = bands.map(|wet| without_film(wet, self.passed));
        xyz_to_lab(apply(self.from, dry))
    }
}

/// The part of diffuse light that a surface of refractive index `n` throws back from within: Ångström's 1 − 1/n², what does not
/// fit the cone that leads out.
fn returned(n: f64) -> f64 {
    1.0 - 1.0 / (n * n)
}

/// The reflectance without a film of water through whose surface a part `passed` of the light comes out: the sum over all
/// passages is wet = passed · dry / (1 − (1 − passed) · dry), so the odds of being reflected, r / (1 − r), are `passed` times
/// what they are dry. What the surface itself mirrors is not counted: nobody judges cloth by its glare.
fn without_film(wet: f64, passed: f64) -> f64 {
    let wet = wet.clamp(EDGE, 1.0 - EDGE);
    let odds = wet / (1.0 - wet) / passed;
    odds / (1.0 + odds)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// How much of diffuse light a surface of refractive index `n` mirrors from without (Fresnel, over the half sphere; the closed
    /// form as in Lekner & Dorf 1988).
    fn mirrored(n: f64) -> f64 {
        let (n2, n4) = (n * n, n.powi(4));
        (3.0 * n2 + 2.0 * n + 1.0) / (3.0 * (n + 1.0).powi(2))
            - 2.0 * n.powi(3) * (n2 + 2.0 * n - 1.0) / ((n2 + 1.0).powi(2) * (n2 - 1.0))
            + n2 * (n2 - 1.0).powi(2) / (n2 + 1.0).powi(3) * ((n - 1.0) / (n + 1.0)).ln()
            + 8.0 * n4 * (n4 + 1.0) / ((n2 + 1.0) * (n4 - 1.0).powi(2)) * n.ln()
    }

    /// The means by numerical integration of Fresnel's formulas (NumPy 2.4.6), six digits; 0.0659 for water and what it throws
    /// back from within, 0.472, are Lekner & Dorf's.
    #[test]
    fn surfaces_mirror_as_fresnel_has_it() {
        for (n, mean) in [
            (1.1, 0.025157),
            (1.2, 0.044280),
            (1.33, 0.065931),
            (1.333, 0.066406),
            (1.36, 0.070643),
            (1.5, 0.091778),
            (1.56, 0.100510),
        ] {
            assert!((mirrored(n) - mean).abs() < 6e-7, "{n}: {}", mirrored(n));
            // The same over the slant of the light, by the midpoint rule.
            let steps = 40_000;
            let sum: f64 = (0..steps)
                .map(|k| {
                    let sin2 = (f64::from(k) + 0.5) / f64::from(steps);
                    let (c, t) = ((1.0 - sin2).sqrt(), (1.0 - sin2 / (n * n)).sqrt());
                    let (s, p) = ((c - n * t) / (c + n * t), (n * c - t) / (n * c + t));
                    0.5 * (s * s + p * p)
                })
                .sum();
            assert!((sum / f64::from(steps) - mean).abs() < 2e-5, "{n}");
        }
        let back = |n: f64| 1.0 - (1.0 - mirrored(n)) / (n * n);
        for (n, wanted) in [(1.33, 0.47195), (1.5, 0.59635), (1.56, 0.63039)] {
            assert!((back(n) - wanted).abs() < 6e-6, "{n}");
        }
        // Ångström's own figure leaves out what is mirrored inside the cone.
        assert!((returned(1.33) - 0.43468).abs() < 6e-6);
    }

    /// Wet albedos reckoned from the formulas of Ångström 1925 (first column) and Lekner & Dorf 1988 with the absorption of the
    /// dry cloth (second), four digits: the second counts what the surface mirrors and is freed of it here.
    #[test]
    fn wet_albedos_dry_as_they_were() {
        let table = [
            (0.05, 0.0289, 0.0912),
            (0.10, 0.0591, 0.1177),
            (0.1842, 0.1132, 0.1654),
            (0.20, 0.1238, 0.1749),
            (0.30, 0.1950, 0.2383),
            (0.40, 0.2737, 0.3091),
            (0.50, 0.3612, 0.3887),
            (0.60, 0.4589, 0.4788),
            (0.70, 0.5688, 0.5815),
            (0.80, 0.6934, 0.6999),
            (0.90, 0.8357, 0.8376),
        ];
        for (dry, plain, mirroring) in table {
            let found = without_film(plain, 1.0 - returned(WATER));
            assert!((found - dry).abs() < 1.3e-4, "{dry}: {found}");
            let passed = (1.0 - mirrored(WATER)) / (WATER * WATER);
            let body = 1.0 - (1.0 - mirroring) / (1.0 - mirrored(WATER));
            let found = without_film(body, passed);
            assert!((found - dry).abs() < 1.6e-4, "{dry}: {found}");
        }
    }

    /// Y 0.1132 wet is 0.1842 dry, L* 50.0, in all three bands alike; neutral stays neutral, and any colour gets lighter.
    #[test]
    fn colours_dry_lighter() {
        let drier = Drier::new();
        let grey = drier.dried(xyz_to_lab(crate::colour::D65.map(|w| 0.1132 * w)));
        assert!((grey.l - 50.0).abs() < 0.02, "{grey:?}");
        assert!(grey.a.abs() < 1e-9 && grey.b.abs() < 1e-9);
        for lab in [[20.0, 40.0, 25.0], [40.0, -4.0, -34.0], [70.0, 4.0, 74.0]] {
            let wet = Lab::new(lab[0], lab[1], lab[2]);
            assert!(drier.dried(wet).l > wet.l + 2.0, "{lab:?}");
        }
    }
}
