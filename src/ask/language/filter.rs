use super::terms::Factor;
use super::unit::Unit;
use super::vocabulary::Named;
use jiff::civil::Date;
use std::fmt;

/// What narrows a question to some pieces. Names are the journal's own, plants, mordants and cloths in lower case.
#[derive(Clone, Debug, PartialEq)]
pub enum Filter {
    /// Has the plant, the soak or the whole sequence of soaks.
    With(String),
    /// Has it not.
    Without(String),
    /// Is of the fibre or weave.
    On(String),
    /// Has this value of a setting: a pot, a bundle, `1` of layer or round, a status, a month (`June`), a season (`summer`), a
    /// kind of heat (`steam`), the text of a column.
    Is(Factor, String),
    /// Only these values of the setting that is compared.
    Among(Factor, Vec<String>),
    /// A number of a setting lies within bounds.
    Number(Factor, Bound),
    /// The last round was made within these days, both included.
    Made {
        /// The first day.
        from: Option<Date>,
        /// The last day.
        until: Option<Date>,
    },
}

/// Bounds of a number; at least one end is there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bound {
    /// The lower end.
    pub from: Option<End>,
    /// The upper end.
    pub to: Option<End>,
    /// The unit it was said in; the ends are in the factor's own.
    pub unit: Unit,
}

/// One end of bounds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct End {
    /// In the factor's own unit: °C, minutes, g/m², days, % or g/L.
    pub at: f64,
    /// Whether the number itself still counts: “at least” and not “above”.
    pub included: bool,
}

impl Bound {
    /// Exactly this number.
    pub fn exactly(said: f64, unit: Unit) -> Self {
        let end = End::new(unit.kept(said), true);
        Self {
            from: Some(end),
            to: Some(end),
            unit,
        }
    }

    /// Whether `value`, in the factor's own unit, lies within.
    pub fn holds(&self, value: f64) -> bool {
        let above = |end: End| value > end.at || (end.included && value == end.at);
        let below = |end: End| value < end.at || (end.included && value == end.at);
        self.from.is_none_or(above) && self.to.is_none_or(below)
    }
}

impl End {
    /// An end at `at`, in the factor's own unit.
    pub fn new(at: f64, included: bool) -> Self {
        Self { at, included }
    }
}

impl fmt::Display for Bound {
    /// `above 88 °C`, `at least 2 h`, `80 to 90 °C`, `85 °C`.
    fn fmt(&self, to: &mut fmt::Formatter) -> fmt::Result {
        let said = |end: End| self.unit.said(end.at);
        match (self.from, self.to) {
            (Some(from), Some(until)) if from.at == until.at => write!(to, "{}", said(from))?,
            (Some(from), Some(until)) => write!(to, "{} to {}", said(from), said(until))?,
            (Some(from), None) if from.included => write!(to, "at least {}", said(from))?,
            (Some(from), None) => write!(to, "above {}", said(from))?,
            (None, Some(until)) if until.included => write!(to, "at most {}", said(until))?,
            (None, Some(until)) => write!(to, "below {}", said(until))?,
            (None, None) => to.write_str("any")?,
        }
        match self.unit {
            Unit::Plain => Ok(()),
            unit => write!(to, " {}", unit.sign()),
        }
    }
}

impl fmt::Display for Filter {
    fn fmt(&self, to: &mut fmt::Formatter) -> fmt::Result {
        match self {
            Self::With(name) => write!(to, "with {name}"),
            Self::Without(name) => write!(to, "without {name}"),
            Self::On(name) => write!(to, "on {name}"),
            Self::Is(Factor::Status, value) => write!(to, "that are {value}"),
            Self::Is(Factor::Heat, value) => match value.as_str() {
                "steam" => to.write_str("steamed"),
                _ => to.write_str("simmered"),
            },
            Self::Is(Factor::Month, value) => write!(to, "made in {value} of any year"),
            Self::Is(Factor::Season, value) => write!(to, "made in {value} of the northern half"),
            Self::Is(factor @ Factor::Column(_), value) => {
                write!(to, "where {} is {value}", Named(factor))
            }
            Self::Is(factor, value) => write!(to, "in {factor} {value}"),
            Self::Among(_, values) => write!(to, "among {}", values.join(" and ")),
            Self::Number(factor, bound) => write!(to, "{} {bound}", Named(factor)),
            Self::Made { from, until } => made(to, *from, *until),
        }
    }
}

fn made(to: &mut fmt::Formatter, from: Option<Date>, until: Option<Date>) -> fmt::Result {
    match (from, until) {
        (Some(from), Some(until)) => write!(to, "made {from} to {until}"),
        (Some(from), None) => write!(to, "made since {from}"),
        (None, Some(until)) => write!(to, "made until {until}"),
        (None, None) => to.write_str("made at any time"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn above(said: f64, unit: Unit) -> Bound {
        Bound {
            from: Some(End::new(unit.kept(said), false)),
            to: None,
            unit,
        }
    }

    /// 180 °F is kept by a sheet as 82.22 °C (to a hundredth); it is not above 180 °F.
    #[test]
    fn bounds_hold_in_the_journals_unit() {
        let hot = above(180.0, Unit::Fahrenheit);
        assert!(hot.holds(82.23) && !hot.holds(82.22));
        let exactly = Bound::exactly(2.0, Unit::Hours);
        assert!(exactly.holds(120.0) && !exactly.holds(119.0));
    }

    #[test]
    fn numbers_are_shown_as_they_were_said() {
        for (said, unit) in [
            (180.0, Unit::Fahrenheit),
            (16.0, Unit::Momme),
            (1.5, Unit::Hours),
            (2.0, Unit::Weeks),
            (19.5, Unit::Momme),
            (181.4, Unit::Fahrenheit),
        ] {
            let wanted = format!("above {said} {}", unit.sign());
            assert_eq!(above(said, unit).to_string(), wanted);
        }
    }
}
