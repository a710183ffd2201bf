//! The units a studio writes, and the ones kept: cm, °C, g/m², g.

/// Mass of one momme of silk, g/m²: one pound (453.59237 g) in a cloth of 100 yards by 45 inches (91.44 m by 1.143 m).
///
/// The pound and the yard are those of the international agreement of 1959; the definition of the momme is the silk trade's.
pub const GRAMS_PER_MOMME: f64 = 453.592_37 / (91.44 * 1.143);

/// Centimetres of inches (1959 agreement: exactly 2.54).
pub(super) fn cm_of_inches(inches: f64) -> f64 {
    hundredths(inches * 2.54)
}

/// Degrees Celsius of degrees Fahrenheit.
pub(super) fn celsius_of_fahrenheit(fahrenheit: f64) -> f64 {
    hundredths((fahrenheit - 32.0) / 1.8)
}

/// Grams a square metre of momme.
pub(super) fn gsm_of_momme(momme: f64) -> f64 {
    hundredths(momme * GRAMS_PER_MOMME)
}

/// Dry mass of a cloth, g, to a hundredth: `gsm` in g/m², sides in cm.
pub fn cloth_mass_g(gsm: f64, width_cm: f64, length_cm: f64) -> f64 {
    hundredths(gsm * width_cm * length_cm / 10_000.0)
}

/// No kitchen scale or tape tells more.
fn hundredths(value: f64) -> f64 {
    (value * 100.0).round() / 100.0
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Worked values: the definition by pound and yard, computed apart from this program.
    #[test]
    fn momme() {
        assert!((GRAMS_PER_MOMME - 4.339_936).abs() < 1e-6);
        for (momme, gsm) in [(8.0, 34.72), (12.0, 52.08), (16.0, 69.44), (19.0, 82.46)] {
            assert_eq!(gsm_of_momme(momme), gsm, "{momme} momme");
        }
    }

    /// A square of 55 cm of 8 momme silk, computed apart from this program: 0.3025 m² of 34.72 g/m².
    #[test]
    fn a_small_square_weighs_ten_and_a_half_grams() {
        assert_eq!(cloth_mass_g(34.72, 55.0, 55.0), 10.5);
    }

    /// Fixed points: NIST Special Publication 811 (the formulas from memory), 98.6 °F = 37 °C.
    #[test]
    fn inches_and_fahrenheit() {
        assert_eq!(cm_of_inches(1.0), 2.54);
        assert_eq!(cm_of_inches(14.0), 35.56);
        for (f, c) in [(32.0, 0.0), (98.6, 37.0), (212.0, 100.0), (180.0, 82.22)] {
            assert_eq!(celsius_of_fahrenheit(f), c, "{f} °F");
        }
    }
}
