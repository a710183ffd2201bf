//! A plan as plain records.

use crate::error::Caution;
use serde::Serialize;

/// What a studio has to weigh, pour and do, day by day.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Plan {
    /// How many pieces it is for, without those that could not be planned.
    pub pieces: usize,
    /// Their dry weight together, g, without those that are not weighed.
    pub cloth_g: f64,
    /// Codes of the pieces whose dry weight is not known.
    pub not_weighed: Vec<String>,
    /// What to know before beginning.
    pub cautions: Vec<Caution>,
    /// What could not be planned or looks wrong, one sentence each.
    pub left_open: Vec<String>,
    /// Everything that is weighed out, by name.
    pub weigh: Vec<Weigh>,
    /// The days in order.
    pub days: Vec<Day>,
    /// What was reckoned with, one sentence each, and whose word it is.
    pub reckoned_with: Vec<String>,
}

/// A day of work.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Day {
    /// Date, `YYYY-MM-DD`; `None` where the sheet says none.
    pub date: Option<String>,
    /// The number of the day, from 1; `None` where it has a date.
    pub day: Option<u32>,
    /// What is done, in order.
    pub steps: Vec<Step>,
}

/// One thing to do.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Step {
    /// What, a few words: `Soak in alum`.
    pub what: String,
    /// Codes of the pieces.
    pub pieces: Vec<String>,
    /// Their dry weight together, g, where it matters and is known, without those that are not weighed.
    pub cloth_g: Option<f64>,
    /// Those whose dry weight matters and is not known.
    pub not_weighed: Vec<String>,
    /// Water, litres.
    pub litres: Option<f64>,
    /// What goes into it.
    pub weigh: Vec<Weigh>,
    /// How it is done, a paragraph each.
    pub notes: Vec<String>,
}

/// An amount to weigh out.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Weigh {
    /// The salt, tannin or soap.
    pub what: String,
    /// Grams.
    pub grams: f64,
}

/// A mass as a scale in a studio shows it: to a hundredth of a gram below ten, a tenth below a hundred, else whole.
pub(super) fn grams(value: f64) -> String {
    let decimals = match value {
        v if v < 9.995 => 2,
        v if v < 99.95 => 1,
        _ => 0,
    };
    // Half a unit goes up, as by hand: 1.575 is a hair below that in binary.
    let unit = 10_f64.powi(decimals);
    let rounded = (value * unit + 1e-9).round() / unit;
    format!("{rounded:.0$} g", decimals as usize)
}

/// Water, to a tenth of a litre.
pub(super) fn litres(value: f64) -> String {
    format!("{value:.1} L of water")
}

/// A number without needless noughts.
pub(super) fn number(value: f64) -> String {
    let text = format!("{value:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand; 15 % of 10.5 g is 1.575 g.
    #[test]
    fn masses_as_a_scale_shows_them() {
        for (value, shown) in [
            (1.575, "1.58 g"),
            (0.21, "0.21 g"),
            (9.996, "10.0 g"),
            (29.16, "29.2 g"),
            (99.96, "100 g"),
            (1234.4, "1234 g"),
        ] {
            assert_eq!(grams(value), shown);
        }
    }
}
