//! The things a question can be about.

use crate::journal::Degrees;
use std::cmp::Ordering;
use std::fmt;

/// What is measured of a piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measure {
    /// The warm-cool scale of Ou et al. 2004, about -2 to 3.
    Warmth,
    /// L\*, 0 to 100.
    Lightness,
    /// C\*ab, 0 to about 130.
    Chroma,
    /// The angle h_ab, 0 to 360°: red near 30, yellow near 90, green near 160, blue near 270. Its mean is that of an angle.
    Hue,
    /// Mean CIEDE2000 of the cloth's colours from their mean, 0 upwards: lower is more even.
    Evenness,
    /// Share of the cloth that is of the colour, 0 to 1.
    Share,
    /// How many dominant colours, 0 upwards.
    Number,
    /// L\* dry less wet.
    Lightening,
    /// CIEDE2000 from dry to washed, 0 upwards.
    Fading,
}

/// Which end of the measure comes first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Order {
    /// Highest first.
    Highest,
    /// Lowest first.
    Lowest,
}

/// The setting whose values are compared, or with which a measure changes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Factor {
    /// The whole sequence of soaks.
    Mordant,
    /// Each soak by itself, whatever else the cloth went through.
    Soak,
    /// Two groups, with this and without it: a soak, a whole sequence or a plant, lower case.
    With(String),
    /// Each plant by itself.
    Plant,
    /// The heating.
    Pot,
    /// The roll.
    Bundle,
    /// How often it was bundled.
    Round,
    /// Place in the roll.
    Layer,
    /// What the cloth is made of.
    Fibre,
    /// How it is woven.
    Weave,
    /// Mass of the cloth, g/m².
    Weight,
    /// Middle of low and high, °C.
    SimmerTemperature,
    /// Minutes of heating.
    SimmerTime,
    /// Simmered or steamed.
    Heat,
    /// The month in which the last round was made, of any year.
    Month,
    /// Its meteorological season of the northern half: spring is March to May.
    Season,
    /// The year in which it was made.
    Year,
    /// How old a bath was at the soak, days: that of this mordant (lower case), or of any.
    BathAge(Option<String>),
    /// How strong the soak in this mordant was (lower case), % of the weight of fibre or g/L; the two do not compare.
    Strength(String),
    /// `kept`, `sold`, `spoiled`, `for sale`.
    Status,
    /// Each piece by itself.
    Piece,
    /// A column of the studio's own, by its name in the journal.
    Column(String),
}

/// Which colours count, by where they are on the cloth.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Part {
    /// Where no leaf lay.
    Ground,
    /// Where a leaf lay; of this plant (lower case), where one was named.
    Print(Option<String>),
}

impl Measure {
    /// All of them, in the order of the page that explains them.
    pub const ALL: [Self; 9] = [
        Self::Warmth,
        Self::Lightness,
        Self::Chroma,
        Self::Hue,
        Self::Evenness,
        Self::Share,
        Self::Number,
        Self::Lightening,
        Self::Fading,
    ];

    /// Its word in JSON and in the reading.
    pub fn name(self) -> &'static str {
        match self {
            Self::Warmth => "warmth",
            Self::Lightness => "lightness",
            Self::Chroma => "chroma",
            Self::Hue => "hue",
            Self::Evenness => "evenness",
            Self::Share => "share",
            Self::Number => "number of colours",
            Self::Lightening => "lightening",
            Self::Fading => "fading",
        }
    }

    /// The superlative of one end, before a noun in the plural: `warmest`.
    pub fn superlative(self, order: Order) -> &'static str {
        match (self, order) {
            (Self::Warmth, Order::Highest) => "warmest",
            (Self::Warmth, Order::Lowest) => "coolest",
            (Self::Lightness, Order::Highest) => "lightest",
            (Self::Lightness, Order::Lowest) => "darkest",
            (Self::Chroma, Order::Highest) => "strongest",
            (Self::Chroma, Order::Lowest) => "palest",
            (Self::Hue, Order::Highest) => "highest-hued",
            (Self::Hue, Order::Lowest) => "lowest-hued",
            (Self::Evenness, Order::Lowest) => "most even",
            (Self::Evenness, Order::Highest) => "least even",
            (Self::Number, Order::Lowest) => "fewest",
            (_, Order::Highest) => "most",
            (_, Order::Lowest) => "least",
        }
    }

    /// The end that comes first, before the word `first`.
    pub fn first(self, order: Order) -> &'static str {
        match (self, order) {
            (Self::Share | Self::Lightening | Self::Fading, Order::Highest) => "largest",
            (Self::Share | Self::Lightening | Self::Fading, Order::Lowest) => "smallest",
            (Self::Hue, Order::Highest) => "highest angle",
            (Self::Hue, Order::Lowest) => "lowest angle",
            _ => self.superlative(order),
        }
    }

    /// The order of “the most of it”: the most even cloth has the lowest value.
    pub fn most(self) -> Order {
        match self {
            Self::Evenness => Order::Lowest,
            _ => Order::Highest,
        }
    }

    /// A value as people read it, with its unit.
    pub fn show(self, value: f64) -> String {
        match self {
            Self::Share => format!("{} %", places(100.0 * value, 0)),
            _ => self.show_difference(value),
        }
    }

    /// A difference of two values as people read it, with its unit.
    pub fn show_difference(self, value: f64) -> String {
        match self {
            Self::Warmth => places(value, 2),
            Self::Lightness | Self::Lightening => format!("{} L*", places(value, 1)),
            Self::Chroma => format!("{} C*", places(value, 1)),
            Self::Hue => format!("{}°", places(value, 0)),
            Self::Evenness | Self::Fading => format!("{} ΔE00", places(value, 1)),
            Self::Share => format!("{} percentage points", places(100.0 * value, 0)),
            Self::Number => format!("{} colours", places(value, 1)),
        }
    }
}

/// A number with so many places behind the point; what rounds to nothing has no sign.
fn places(value: f64, many: usize) -> String {
    let text = format!("{value:.many$}");
    match text.strip_prefix('-') {
        Some(zeros) if zeros.bytes().all(|b| matches!(b, b'0' | b'.')) => zeros.to_owned(),
        _ => text,
    }
}

impl Order {
    /// Its word in JSON.
    pub fn word(self) -> &'static str {
        match self {
            Self::Highest => "highest",
            Self::Lowest => "lowest",
        }
    }

    /// Compares two values so that the better one comes first.
    pub fn best_first(self, one: f64, other: f64) -> Ordering {
        match self {
            Self::Highest => other.total_cmp(&one),
            Self::Lowest => one.total_cmp(&other),
        }
    }

    /// The other end.
    pub fn reversed(self) -> Self {
        match self {
            Self::Highest => Self::Lowest,
            Self::Lowest => Self::Highest,
        }
    }
}

impl Factor {
    /// Whether each value is one event that is never repeated, so that nothing can be proved of it.
    pub fn is_one_event(&self) -> bool {
        matches!(self, Self::Piece | Self::Bundle | Self::Pot)
    }

    /// Whether its values are numbers by which a measure can rise or fall. A column of the studio's own may hold numbers too:
    /// only its values tell.
    pub fn is_number(&self) -> bool {
        matches!(
            self,
            Self::Layer
                | Self::Round
                | Self::Weight
                | Self::SimmerTemperature
                | Self::SimmerTime
                | Self::BathAge(_)
                | Self::Strength(_)
        )
    }

    /// The unit of its numbers, for several; `None` where they have none, as layers and the studio's own columns.
    pub fn unit(&self, degrees: Degrees) -> Option<&'static str> {
        match self {
            Self::SimmerTemperature => Some(degrees.sign()),
            Self::SimmerTime => Some("minutes"),
            Self::Weight => Some("g/m²"),
            Self::BathAge(_) => Some("days"),
            Self::Strength(_) => Some("%"),
            _ => None,
        }
    }

    /// One of its values, as answers name it, as the subject of a sentence: `cloth without iron`, `a simmer at 85 °C`, `moon: full`.
    pub fn one(&self, value: &str) -> String {
        match self {
            // “None gave the warmest yellows” would say the opposite.
            Self::Mordant | Self::Soak if value == "none" => "cloth without mordant".to_owned(),
            Self::With(of) if of == "none" && value == "with none" => {
                "cloth without mordant".to_owned()
            }
            Self::With(of) if of == "none" => "cloth with a mordant".to_owned(),
            Self::With(_) => format!("cloth {value}"),
            Self::Mordant
            | Self::Soak
            | Self::Plant
            | Self::Fibre
            | Self::Weave
            | Self::Piece
            | Self::Month
            | Self::Season => value.to_owned(),
            Self::Heat => format!("{value}ing"),
            Self::Bundle | Self::Pot | Self::Layer | Self::Round | Self::Year => {
                format!("{self} {value}")
            }
            Self::Status => format!("cloth that is {value}"),
            Self::Column(name) => format!("{name}: {value}"),
            Self::SimmerTemperature => format!("a simmer at {value}"),
            Self::SimmerTime => format!("a simmer of {value}"),
            Self::Weight => format!("cloth of {value}"),
            Self::BathAge(_) => format!("a bath of {value}"),
            Self::Strength(of) => format!("{of} at {value}"),
        }
    }
}

impl fmt::Display for Factor {
    fn fmt(&self, to: &mut fmt::Formatter) -> fmt::Result {
        to.write_str(match self {
            Self::Mordant => "mordant",
            Self::Soak => "single soak",
            Self::With(name) => return write!(to, "with or without {name}"),
            Self::Plant => "plant",
            Self::Pot => "pot",
            Self::Bundle => "bundle",
            Self::Round => "round",
            Self::Layer => "layer",
            Self::Fibre => "fibre",
            Self::Weave => "weave",
            Self::Weight => "weight",
            Self::SimmerTemperature => "simmer temperature",
            Self::SimmerTime => "simmer time",
            Self::Heat => "heat",
            Self::Month => "month",
            Self::Season => "season",
            Self::Year => "year",
            Self::BathAge(None) => "age of the bath",
            Self::BathAge(Some(mordant)) => return write!(to, "age of the {mordant} bath"),
            Self::Strength(mordant) => return write!(to, "strength of {mordant}"),
            Self::Status => "status",
            Self::Piece => "piece",
            Self::Column(name) => name,
        })
    }
}

impl fmt::Display for Part {
    fn fmt(&self, to: &mut fmt::Formatter) -> fmt::Result {
        match self {
            Self::Ground => to.write_str("in grounds"),
            Self::Print(None) => to.write_str("in prints"),
            Self::Print(Some(plant)) => write!(to, "printed by {plant}"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_rounds_to_nothing_has_no_sign() {
        for (measure, value, wanted) in [
            (Measure::Warmth, -0.004, "0.00"),
            (Measure::Warmth, -0.006, "-0.01"),
            (Measure::Lightness, -0.04, "0.0 L*"),
            (Measure::Hue, -0.3, "0°"),
            (Measure::Share, -0.004, "0 percentage points"),
            (Measure::Number, -10.04, "-10.0 colours"),
        ] {
            assert_eq!(measure.show_difference(value), wanted);
        }
        assert_eq!(Measure::Share.show(-0.0), "0 %");
    }

    #[test]
    fn a_value_is_named_as_a_subject() {
        let iron = || "iron".to_owned();
        for (factor, value, wanted) in [
            (Factor::Mordant, "none", "cloth without mordant"),
            (Factor::With(iron()), "without iron", "cloth without iron"),
            (
                Factor::With("none".to_owned()),
                "without none",
                "cloth with a mordant",
            ),
            (Factor::Heat, "steam", "steaming"),
            (Factor::Layer, "2", "layer 2"),
            (Factor::Status, "for sale", "cloth that is for sale"),
            (Factor::Column("moon".to_owned()), "full", "moon: full"),
            (Factor::Strength(iron()), "2 %", "iron at 2 %"),
        ] {
            assert_eq!(factor.one(value), wanted);
        }
    }
}
