use super::filter::Filter;
use super::terms::{Factor, Measure, Order, Part};
use super::vocabulary::Named;
use crate::colour::Lab;
use crate::reading::State;
use crate::words::Family;
use std::fmt;

/// A question as it was understood.
#[derive(Clone, Debug, PartialEq)]
pub struct Question {
    /// What is to be told.
    pub wanted: Wanted,
    /// Only these colours, where some were named.
    pub colours: Option<Colours>,
    /// Only colours that the studio marked so, where that was asked.
    pub part: Option<Part>,
    /// All of these must hold of a piece; `Among` comes last.
    pub filters: Vec<Filter>,
    /// What the photos show the pieces as; dry unless the question says otherwise. Washed for fading, dry for lightening.
    pub state: State,
}

/// What is to be told.
#[derive(Clone, Debug, PartialEq)]
pub enum Wanted {
    /// Which value of a setting comes first.
    Compare {
        /// What is measured.
        measure: Measure,
        /// Which end comes first.
        order: Order,
        /// Whose values are compared.
        by: Factor,
    },
    /// How a measure changes with a number.
    Slope {
        /// What is measured.
        measure: Measure,
        /// The number: a setting that is one, or a column of numbers.
        by: Factor,
    },
    /// Which pieces are nearest in colour.
    Nearest {
        /// To what.
        to: Target,
    },
    /// How many pieces there are.
    Count {
        /// Only pieces with a photo in the state: a colour or a state was named. Else every piece of the journal counts.
        seen: bool,
    },
    /// What should be tried next.
    Next {
        /// What is measured.
        measure: Measure,
        /// Which end is wanted.
        order: Order,
    },
}

/// What pieces are near to.
#[derive(Clone, Debug, PartialEq)]
pub enum Target {
    /// A piece of the journal, by its code as the journal writes it.
    Piece(String),
    /// A colour.
    Colour(Lab),
}

/// Which colours of a piece count.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Colours {
    /// A family of the standard.
    Family(Family),
    /// One of the studio's own colour words, as the studio writes it.
    Own(String),
}

impl fmt::Display for Colours {
    /// In the plural; the studio's own stand in quotation marks.
    fn fmt(&self, to: &mut fmt::Formatter) -> fmt::Result {
        match self {
            Self::Family(family) => to.write_str(&family.plural()),
            Self::Own(word) => write!(to, "“{word}”"),
        }
    }
}

impl fmt::Display for Target {
    fn fmt(&self, to: &mut fmt::Formatter) -> fmt::Result {
        let tenth = |value: f64| (value * 10.0).round() / 10.0 + 0.0;
        match self {
            Self::Piece(code) => to.write_str(code),
            Self::Colour(lab) => write!(to, "{},{},{}", tenth(lab.l), tenth(lab.a), tenth(lab.b)),
        }
    }
}

impl fmt::Display for Question {
    /// One line a craftsperson can check: `warmth of yellows, by mordant, dry pieces, warmest first`.
    fn fmt(&self, to: &mut fmt::Formatter) -> fmt::Result {
        match &self.wanted {
            Wanted::Compare { measure, order, by } => {
                self.subject(to, *measure)?;
                match by {
                    Factor::With(_) => write!(to, ", {by}")?,
                    _ => write!(to, ", by {}", Named(by))?,
                }
                self.pieces(to, Some(*measure))?;
                write!(to, ", {} first", self.first(*measure, *order))
            }
            Wanted::Slope { measure, by } => {
                to.write_str("how ")?;
                self.subject(to, *measure)?;
                write!(to, " changes with {}", Named(by))?;
                self.pieces(to, Some(*measure))
            }
            Wanted::Nearest { to: target } => {
                write!(to, "nearest to {target}")?;
                self.colours(to, " in ")?;
                self.pieces(to, None)
            }
            Wanted::Count { seen } => {
                to.write_str("how many pieces")?;
                self.colours(to, " have ")?;
                match seen {
                    true => self.pieces(to, None),
                    false => self.filters(to),
                }
            }
            Wanted::Next { measure, order } => {
                to.write_str("what to try next: ")?;
                self.subject(to, *measure)?;
                self.pieces(to, Some(*measure))?;
                write!(to, ", {} first", self.first(*measure, *order))
            }
        }
    }
}

impl Question {
    /// `warmth of yellows in prints`.
    fn subject(&self, to: &mut fmt::Formatter, measure: Measure) -> fmt::Result {
        match (measure, &self.colours) {
            (Measure::Number, Some(_)) => to.write_str("number")?,
            _ => to.write_str(measure.name())?,
        }
        self.colours(to, " of ")
    }

    fn colours(&self, to: &mut fmt::Formatter, before: &str) -> fmt::Result {
        if let Some(colours) = &self.colours {
            write!(to, "{before}{colours}")?;
        }
        match &self.part {
            Some(part) => write!(to, " {part}"),
            None => Ok(()),
        }
    }

    fn pieces(&self, to: &mut fmt::Formatter, measure: Option<Measure>) -> fmt::Result {
        match measure {
            Some(Measure::Lightening) => to.write_str(", from wet to dry")?,
            Some(Measure::Fading) => to.write_str(", from dry to washed")?,
            _ => write!(to, ", {} pieces", self.state.word())?,
        }
        self.filters(to)
    }

    fn filters(&self, to: &mut fmt::Formatter) -> fmt::Result {
        self.filters
            .iter()
            .try_for_each(|filter| write!(to, ", {filter}"))
    }
}
