//! What a piece's value of a compared setting is, and classes for numbers.

use super::Known;
use super::language::{Factor, Filter, Question};
use crate::journal::Degrees;
use crate::journal::gist::{Piece, Round, Setting, Soak};
use crate::journal::record::{HeatKind, StrengthUnit};
use std::collections::BTreeSet;

/// A piece's value of a setting.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// One word, or several where the piece counts for each (plants, single soaks).
    Words(Vec<String>),
    /// A number.
    Number(f64),
}

/// The value of `factor` after `rounds` of `piece`; `None` where the journal does not tell.
///
/// Mordants of several rounds stand in order, ` / ` for the bundling between them: what was done to the cloth first is still
/// in it. Plants and soaks are those of all rounds. Bundle, pot, layer, date and heat are the last round's; a simmer's
/// temperature is the middle of its low and high; steaming has neither simmer temperature nor simmer time.
pub fn value(factor: &Factor, known: &Known, piece: &Piece, rounds: &[Round]) -> Option<Value> {
    let last = rounds.last();
    let word = |word: Option<&str>| word.map(|w| Value::Words(vec![w.to_owned()]));
    let words = |words: BTreeSet<&str>| {
        let words: Vec<String> = words.into_iter().map(str::to_owned).collect();
        (!words.is_empty()).then_some(Value::Words(words))
    };
    let heat = last.and_then(|round| round.heat.as_ref());
    let simmer = heat.filter(|h| h.kind != Some(HeatKind::Steam));
    match factor {
        Factor::Mordant => Some(mordant(rounds))
            .filter(|mordant| !mordant.is_empty())
            .map(|mordant| Value::Words(vec![mordant])),
        Factor::Soak => words(soaks(rounds).collect()),
        Factor::Plant => words(plants(rounds).collect()),
        Factor::With(name) => known.uses(rounds, name).map(|uses| {
            let with = if uses { "with" } else { "without" };
            Value::Words(vec![format!("{with} {name}")])
        }),
        Factor::Bundle => word(last?.bundle.as_deref()),
        Factor::Pot => word(last?.trial().map(|trial| &**trial)),
        Factor::Layer => last?.layer.map(|layer| Value::Number(f64::from(layer))),
        Factor::SimmerTemperature => match (simmer?.low_c, simmer?.high_c) {
            (Some(low), Some(high)) => Some(Value::Number(0.5 * (low + high))),
            (low, high) => low.or(high).map(Value::Number),
        },
        Factor::SimmerTime => simmer?.minutes.map(Value::Number),
        Factor::Heat => word(Some(heat?.kind?.word())),
        Factor::Fibre => word(piece.fibre.as_deref()),
        Factor::Weave => word(piece.weave.as_deref()),
        Factor::Weight => piece.gsm.map(Value::Number),
        Factor::Status => word(piece.status.as_deref()),
        Factor::Round => (!rounds.is_empty()).then_some(Value::Number(rounds.len() as f64)),
        Factor::Piece => word(Some(&piece.code)),
        Factor::Year => word(last?.made.as_deref()?.get(..4)),
        Factor::Month => word(MONTHS.get(month(last?)?).copied()),
        Factor::Season => word(SEASONS.get((month(last?)? + 1) % 12 / 3).copied()),
        Factor::BathAge(of) => bath_age(known, rounds, of.as_deref()).map(Value::Number),
        Factor::Strength(of) => strength(rounds, of).map(Value::Number),
        Factor::Column(name) => match rounds.iter().rev().find_map(|r| r.setting(name))? {
            Setting::Number(number) => Some(Value::Number(*number)),
            Setting::Text(text) => word(Some(text)),
        },
    }
}

/// Whether the question is about the simmer of a piece that was steamed.
pub fn is_steamed(factor: &Factor, rounds: &[Round]) -> bool {
    let heat = rounds.last().and_then(|round| round.heat.as_ref());
    let about_simmer = matches!(factor, Factor::SimmerTemperature | Factor::SimmerTime);
    about_simmer && heat.is_some_and(|h| h.kind == Some(HeatKind::Steam))
}

/// The soaks of all rounds in order.
pub fn mordant(rounds: &[Round]) -> String {
    if let [only] = rounds {
        return only.mordant();
    }
    let each = rounds.iter().map(Round::mordant);
    each.filter(|m| !m.is_empty())
        .collect::<Vec<_>>()
        .join(" / ")
}

/// Whether a soak, a whole sequence of soaks or a plant of this lower-case name is told.
pub fn told(rounds: &[Round], name: &str) -> bool {
    let named = |text: &str| text.to_lowercase() == name;
    let any = |round: &Round| {
        round.plants.iter().any(|plant| named(&plant.name))
            || round.soaks.iter().any(|soak| named(&soak.mordant))
            || named(&round.mordant())
    };
    rounds.iter().any(any) || named(&mordant(rounds))
}

/// The names of the soaks of all rounds.
pub fn soaks(rounds: &[Round]) -> impl Iterator<Item = &str> {
    let all = rounds.iter().flat_map(|round| &round.soaks);
    all.map(|soak| &*soak.mordant)
        .filter(|name| !name.is_empty())
}

/// The plants of all rounds.
pub fn plants(rounds: &[Round]) -> impl Iterator<Item = &str> {
    let all = rounds.iter().flat_map(|round| &round.plants);
    all.map(|plant| &*plant.name)
        .filter(|name| !name.is_empty())
}

const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// The meteorological seasons of the northern half, from December on.
const SEASONS: [&str; 4] = ["winter", "spring", "summer", "autumn"];

/// The month of a round's date, 0 to 11.
fn month(round: &Round) -> Option<usize> {
    let month: usize = round.made.as_deref()?.get(5..7)?.parse().ok()?;
    month.checked_sub(1)
}

/// Days from the making of a bath to the last soak in it; of the baths of one mordant where it is named.
fn bath_age(known: &Known, rounds: &[Round], of: Option<&str>) -> Option<f64> {
    let wanted = |soak: &&Soak| of.is_none_or(|name| soak.mordant.to_lowercase() == name);
    rounds.iter().rev().find_map(|round| {
        let soaks = round.soaks.iter().rev().filter(wanted);
        let ages = soaks.filter_map(|soak| known.bath_age(soak, round.made.as_deref()));
        ages.into_iter().next()
    })
}

/// The strength of the last soak of this name, per cent of the weight of fibre.
fn strength(rounds: &[Round], of: &str) -> Option<f64> {
    let soaks = rounds
        .iter()
        .rev()
        .flat_map(|round| round.soaks.iter().rev());
    let named = |soak: &&Soak| soak.mordant.to_lowercase() == *of;
    let in_percent = |soak: &&Soak| soak.unit == Some(StrengthUnit::PercentOfFibre);
    soaks
        .filter(named)
        .find(in_percent)
        .and_then(|soak| soak.strength)
}

impl Value {
    /// The number, where it is one.
    pub fn number(&self) -> Option<f64> {
        match self {
            Self::Number(number) => Some(*number),
            Self::Words(_) => None,
        }
    }

    /// Only the words that the question compares, where it names them.
    pub fn among(mut self, question: &Question) -> Self {
        let among = question.filters.iter().find_map(|filter| match filter {
            Filter::Among(_, names) => Some(names),
            _ => None,
        });
        if let (Self::Words(words), Some(names)) = (&mut self, among) {
            let named = |word: &String| {
                names
                    .iter()
                    .any(|n| n.to_lowercase() == word.to_lowercase())
            };
            words.retain(named);
        }
        self
    }
}

/// More groups of numbers than these become classes.
const MOST_GROUPS: usize = 6;

/// How numbers are grouped: each by itself where there are few, else in classes of equal width.
#[derive(Debug)]
pub struct Classes {
    width: Option<f64>,
    unit: &'static str,
    /// The unit that numbers in °C are brought to; `None` for numbers that are no temperatures.
    degrees: Option<Degrees>,
}

impl Classes {
    /// Groups for all values that occur. Layers and rounds always stand by themselves; other numbers in classes of 1, 2 or 5
    /// times a power of ten, at most six, where more than six different ones occur.
    pub fn of(factor: &Factor, numbers: &[f64], degrees: Degrees) -> Self {
        let degrees = (*factor == Factor::SimmerTemperature).then_some(degrees);
        let unit = match factor {
            Factor::SimmerTemperature => degrees.map_or("", Degrees::sign),
            Factor::SimmerTime => "min",
            Factor::Weight => "g/m²",
            Factor::BathAge(_) => "days",
            Factor::Strength(_) => "%",
            _ => "",
        };
        let mut different: Vec<f64> = numbers.iter().map(|&n| shown(n, degrees)).collect();
        different.sort_by(f64::total_cmp);
        different.dedup();
        let few = different.len() <= MOST_GROUPS || matches!(factor, Factor::Layer | Factor::Round);
        let width = (!few).then(|| width(different[0], different[different.len() - 1]));
        Self {
            width,
            unit,
            degrees,
        }
    }

    /// The name of the group that `number` belongs to: `80 °C`, or `80 to under 85 °C`.
    pub fn label(&self, number: f64) -> String {
        let number = shown(number, self.degrees);
        let class = match self.width {
            None => number.to_string(),
            Some(width) => {
                let low = (number / width).floor() * width;
                format!("{} to under {}", rounded(low), rounded(low + width))
            }
        };
        format!("{class} {}", self.unit).trim_end().to_owned()
    }
}

/// A number as people read it: temperatures in their unit, to one decimal.
fn shown(number: f64, degrees: Option<Degrees>) -> f64 {
    rounded(degrees.map_or(number, |degrees| degrees.of_celsius(number)))
}

/// The least of 1, 2, 5, 10, … (or their tenths) that cuts `low` to `high` into at most six classes.
fn width(low: f64, high: f64) -> f64 {
    let classes = |width: f64| (high / width).floor() - (low / width).floor() + 1.0;
    (-1..=300)
        .flat_map(|power| [1.0, 2.0, 5.0].map(|step| step * 10f64.powi(power)))
        .find(|&width| classes(width) <= MOST_GROUPS as f64)
        .unwrap_or(f64::INFINITY)
}

/// To one decimal: what a sheet's settings are noted to.
fn rounded(number: f64) -> f64 {
    (number * 10.0).round() / 10.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(factor: Factor, numbers: &[f64], wanted: &[&str]) {
        check_in(Degrees::Celsius, factor, numbers, wanted);
    }

    #[track_caller]
    fn check_in(degrees: Degrees, factor: Factor, numbers: &[f64], wanted: &[&str]) {
        let classes = Classes::of(&factor, numbers, degrees);
        let mut labels: Vec<String> = numbers.iter().map(|&n| classes.label(n)).collect();
        labels.dedup();
        assert_eq!(labels, wanted);
    }

    #[test]
    fn few_numbers_stand_by_themselves() {
        check(
            Factor::SimmerTemperature,
            &[79.5, 84.0, 84.0],
            &["79.5 °C", "84 °C"],
        );
        check(
            Factor::Layer,
            &[1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0],
            &["1", "2", "3", "4", "5", "6", "7"],
        );
    }

    /// 82 °C is 179.6 °F by the definition of the degree Fahrenheit.
    #[test]
    fn temperatures_stand_in_the_studios_unit() {
        let both = [82.0, 90.0];
        check_in(
            Degrees::Fahrenheit,
            Factor::SimmerTemperature,
            &both,
            &["179.6 °F", "194 °F"],
        );
        check_in(Degrees::Fahrenheit, Factor::Layer, &[1.0, 2.0], &["1", "2"]);
    }

    #[test]
    fn many_numbers_fall_into_classes() {
        let minutes = [45.0, 50.0, 55.0, 60.0, 75.0, 90.0, 100.0, 130.0];
        check(
            Factor::SimmerTime,
            &minutes,
            &[
                "40 to under 60 min",
                "60 to under 80 min",
                "80 to under 100 min",
                "100 to under 120 min",
                "120 to under 140 min",
            ],
        );
        check(
            Factor::Column("ph".to_owned()),
            &[5.5, 5.8, 6.0, 6.2, 6.6, 7.0, 7.4],
            &[
                "5.5 to under 6",
                "6 to under 6.5",
                "6.5 to under 7",
                "7 to under 7.5",
            ],
        );
    }
}
