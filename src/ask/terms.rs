//! The things a question can be about.

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
    /// Share of the cloth that is of the family, 0 to 1.
    Share,
    /// L\* dry less wet.
    Lightening,
}

/// Which end of the measure comes first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Order {
    /// Highest first.
    Highest,
    /// Lowest first.
    Lowest,
}

/// The setting whose values are compared.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Factor {
    /// The whole sequence of soaks.
    Mordant,
    /// Each plant by itself.
    Plant,
    /// The roll.
    Bundle,
    /// The heating.
    Pot,
    /// Place in the roll.
    Layer,
    /// Middle of low and high, °C.
    SimmerTemperature,
    /// Minutes of heating.
    SimmerTime,
    /// Simmered or steamed.
    Heat,
    /// What the cloth is made of.
    Fibre,
    /// How it is woven.
    Weave,
    /// How often it was bundled.
    Round,
    /// Each piece by itself.
    Piece,
    /// A column of the studio's own.
    Column(String),
}

/// What narrows a question to some pieces.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Narrowing {
    /// Has the plant or mordant.
    With,
    /// Has it not.
    Without,
    /// Is of the fibre or weave.
    On,
}

impl Measure {
    /// Its word in JSON and in the reading.
    pub fn name(self) -> &'static str {
        match self {
            Self::Warmth => "warmth",
            Self::Lightness => "lightness",
            Self::Chroma => "chroma",
            Self::Share => "share",
            Self::Lightening => "lightening",
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
            (Self::Share | Self::Lightening, Order::Highest) => "most",
            (Self::Share | Self::Lightening, Order::Lowest) => "least",
        }
    }

    /// The end that comes first, before the word `first`.
    pub fn first(self, order: Order) -> &'static str {
        match (self, order) {
            (Self::Share | Self::Lightening, Order::Highest) => "largest",
            (Self::Share | Self::Lightening, Order::Lowest) => "smallest",
            _ => self.superlative(order),
        }
    }

    /// A value as people read it, with its unit.
    pub fn show(self, value: f64) -> String {
        match self {
            Self::Warmth => format!("{value:.2}"),
            Self::Lightness | Self::Lightening => format!("{value:.1} L*"),
            Self::Chroma => format!("{value:.1} C*"),
            Self::Share => format!("{:.0} %", 100.0 * value),
        }
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

impl Narrowing {
    /// Its word.
    pub fn word(self) -> &'static str {
        match self {
            Self::With => "with",
            Self::Without => "without",
            Self::On => "on",
        }
    }
}

impl Factor {
    /// Whether each value is one event that is never repeated, so that nothing can be proved of it.
    pub fn is_one_event(&self) -> bool {
        matches!(self, Self::Piece | Self::Bundle | Self::Pot)
    }
}

impl fmt::Display for Factor {
    fn fmt(&self, to: &mut fmt::Formatter) -> fmt::Result {
        to.write_str(match self {
            Self::Mordant => "mordant",
            Self::Plant => "plant",
            Self::Bundle => "bundle",
            Self::Pot => "pot",
            Self::Layer => "layer",
            Self::SimmerTemperature => "simmer temperature",
            Self::SimmerTime => "simmer time",
            Self::Heat => "heat",
            Self::Fibre => "fibre",
            Self::Weave => "weave",
            Self::Round => "round",
            Self::Piece => "piece",
            Self::Column(name) => name,
        })
    }
}
