use super::question::{Colours, Question, Wanted};
use super::terms::{Factor, Measure, Order};
use crate::words::Family;

impl Wanted {
    /// What is measured, where something is.
    pub fn measure(&self) -> Option<Measure> {
        match self {
            Self::Compare { measure, .. }
            | Self::Slope { measure, .. }
            | Self::Next { measure, .. } => Some(*measure),
            Self::Nearest { .. } | Self::Count { .. } => None,
        }
    }

    /// Which end comes first, where one does.
    pub fn order(&self) -> Option<Order> {
        match self {
            Self::Compare { order, .. } | Self::Next { order, .. } => Some(*order),
            _ => None,
        }
    }

    /// The setting whose values count, where one does.
    pub fn by(&self) -> Option<&Factor> {
        match self {
            Self::Compare { by, .. } | Self::Slope { by, .. } => Some(by),
            _ => None,
        }
    }
}

impl Colours {
    /// Its name in the singular, as other programs read it.
    pub fn name(&self) -> &str {
        match self {
            Self::Family(family) => family.name(),
            Self::Own(word) => word,
        }
    }
}

impl Colours {
    /// Whether they lie between red and green, where the hue's angle only rises: reddest and greenest are its ends there.
    pub fn are_between_red_and_green(&self) -> bool {
        matches!(
            self,
            Self::Family(
                Family::Orange
                    | Family::Brown
                    | Family::Yellow
                    | Family::Olive
                    | Family::YellowGreen
            )
        )
    }
}

impl Question {
    /// The superlative of one end, before the colours asked about: `warmest`; of a hue between red and green, `reddest`.
    pub fn superlative(&self, measure: Measure, order: Order) -> &'static str {
        self.reddest(measure, order)
            .unwrap_or(measure.superlative(order))
    }

    /// The end that comes first, before the word `first`.
    pub fn first(&self, measure: Measure, order: Order) -> &'static str {
        self.reddest(measure, order).unwrap_or(measure.first(order))
    }

    fn reddest(&self, measure: Measure, order: Order) -> Option<&'static str> {
        let colours = self.colours.as_ref()?;
        (measure == Measure::Hue && colours.are_between_red_and_green()).then_some(match order {
            Order::Highest => "greenest",
            Order::Lowest => "reddest",
        })
    }

    /// The colours asked about, in the plural: `yellows`; `colours` where any count.
    pub fn of_colours(&self) -> String {
        match &self.colours {
            Some(colours) => colours.to_string(),
            None => "colours".to_owned(),
        }
    }
}
