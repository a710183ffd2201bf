//! Temperatures in the studio's own unit.

use super::record::Studio;
use crate::error::{Error, Result};

/// What a studio reads temperatures in; inside, all are °C.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Degrees {
    /// °C.
    #[default]
    Celsius,
    /// °F.
    Fahrenheit,
}

impl Degrees {
    /// The unit the studio set, else °C.
    pub fn of(studio: &Studio) -> Self {
        studio
            .get("unit")
            .and_then(|word| Self::from_word(word).ok())
            .unwrap_or_default()
    }

    /// Reads `C` or `F`, in any case.
    ///
    /// # Errors
    /// The caller's, for any other word.
    pub fn from_word(word: &str) -> Result<Self> {
        match word.to_ascii_uppercase().as_str() {
            "C" => Ok(Self::Celsius),
            "F" => Ok(Self::Fahrenheit),
            _ => Err(Error::caller(format!(
                "“{word}” is no unit of temperature; write C or F."
            ))),
        }
    }

    /// A temperature given in °C, in this unit, to the degree or a tenth: `87 °C`, `188.6 °F`.
    pub fn show(self, celsius: f64) -> String {
        format!(
            "{} {}",
            (self.of_celsius(celsius) * 10.0).round() / 10.0,
            self.sign()
        )
    }

    /// A temperature given in °C, in this unit.
    pub fn of_celsius(self, celsius: f64) -> f64 {
        match self {
            Self::Celsius => celsius,
            Self::Fahrenheit => celsius * 1.8 + 32.0,
        }
    }

    /// `°C` or `°F`.
    pub fn sign(self) -> &'static str {
        match self {
            Self::Celsius => "°C",
            Self::Fahrenheit => "°F",
        }
    }

    /// A range given in °C: `77 to 83 °C`.
    pub fn show_range(self, low: f64, high: f64) -> String {
        let high = self.show(high);
        let low = self.show(low);
        format!("{} to {high}", low.split(' ').next().unwrap_or_default())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn degrees_are_shown_in_the_studios_unit() {
        assert_eq!(Degrees::Celsius.show(87.0), "87 °C");
        // 82 °C is 180 °F in round numbers (facts of the trade, common practice, no source): exactly 179.6.
        assert_eq!(Degrees::Fahrenheit.show(82.0), "179.6 °F");
        assert_eq!(
            Degrees::Fahrenheit.show_range(77.0, 83.0),
            "170.6 to 181.4 °F"
        );
        assert!(Degrees::from_word("K").is_err());
    }
}
