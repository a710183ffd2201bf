/// What a number was said in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unit {
    /// °C.
    Celsius,
    /// °F.
    Fahrenheit,
    /// Minutes.
    Minutes,
    /// Hours.
    Hours,
    /// g/m².
    GramsPerSquareMetre,
    /// Momme: the trade's mass of silk.
    Momme,
    /// Days.
    Days,
    /// Weeks.
    Weeks,
    /// Per cent of the weight of fibre.
    PercentOfFibre,
    /// Grams a litre.
    GramsPerLitre,
    /// None: layers, rounds, the studio's own columns.
    Plain,
}

/// Mass of one momme, g/m²: one pound (453.59237 g) in a cloth of 100 yards by 45 inches, the silk trade's definition (common
/// practice, no source); pound and yard by the international agreement of 1959.
const GRAMS_PER_MOMME: f64 = 453.592_37 / (91.44 * 1.143);

impl Unit {
    /// A number said in this unit, in the unit that the journal keeps, to a hundredth as sheets are kept.
    pub fn kept(self, said: f64) -> f64 {
        let kept = match self {
            Self::Fahrenheit => (said - 32.0) / 1.8,
            Self::Hours => said * 60.0,
            Self::Momme => said * GRAMS_PER_MOMME,
            Self::Weeks => said * 7.0,
            _ => return said,
        };
        hundredths(kept)
    }

    /// A number that the journal keeps, as it was said in this unit.
    pub fn said(self, kept: f64) -> f64 {
        let said = match self {
            Self::Fahrenheit => kept * 1.8 + 32.0,
            Self::Hours => kept / 60.0,
            Self::Momme => kept / GRAMS_PER_MOMME,
            Self::Weeks => kept / 7.0,
            _ => return kept,
        };
        // A hundredth of a degree, minute or g/m² is coarser than a hundredth of these units.
        let tenths = (said * 10.0).round() / 10.0;
        if self.kept(tenths) == kept {
            tenths
        } else {
            hundredths(said)
        }
    }

    /// Whether both are units of one quantity, so that a number in one is a number in the other; per cent of the fibre and grams a
    /// litre are not.
    pub fn measures_as(self, other: Self) -> bool {
        let pair = [self, other];
        self == other
            || [
                [Self::Celsius, Self::Fahrenheit],
                [Self::Minutes, Self::Hours],
                [Self::GramsPerSquareMetre, Self::Momme],
                [Self::Days, Self::Weeks],
            ]
            .iter()
            .any(|same| pair.iter().all(|unit| same.contains(unit)))
    }

    /// Its sign behind a number.
    pub fn sign(self) -> &'static str {
        match self {
            Self::Celsius => "°C",
            Self::Fahrenheit => "°F",
            Self::Minutes => "min",
            Self::Hours => "h",
            Self::GramsPerSquareMetre => "g/m2",
            Self::Momme => "momme",
            Self::Days => "days",
            Self::Weeks => "weeks",
            Self::PercentOfFibre => "% wof",
            Self::GramsPerLitre => "g/L",
            Self::Plain => "",
        }
    }
}

fn hundredths(value: f64) -> f64 {
    (value * 100.0).round() / 100.0
}
