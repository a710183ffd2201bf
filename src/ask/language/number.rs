//! Numbers with their bounds and units: `above 88 C`, `between 80 and 90 °C`, `at least two hours`.

use super::filter::{Bound, End};
use super::quantity::{self, LONGEST, Limit};
use super::terms::Factor;
use super::unit::Unit;
use super::words::{Word, joined, typed};
use crate::error::{Error, Result};

/// A number as it was said.
#[derive(Clone, Debug, PartialEq)]
pub struct Amount {
    /// How many words it takes.
    pub length: usize,
    /// The words, as they were typed.
    pub said: String,
    /// The setting that the words tell: `hotter than`.
    pub about: Option<Factor>,
    /// Whether a word bounds it, or a unit follows: else it may be any number.
    pub is_told: bool,
    limit: Limit,
    first: f64,
    second: Option<f64>,
    unit: Option<Unit>,
    /// The unit of the second number, where it has one of its own.
    other_unit: Option<Unit>,
}

/// The number at the start of `words`, with what bounds it.
pub fn amount(words: &[Word]) -> Option<Amount> {
    let (skip, (limit, about)) =
        longest(words, quantity::limit).unwrap_or((0, (Limit::Exactly, None)));
    let (mut at, first, mut unit) = number(words, skip)?;
    let (mut second, mut other_unit) = (None, None);
    let joins = |word: &Word| word.text == "to" || (limit == Limit::Between && word.text == "and");
    if matches!(limit, Limit::Between | Limit::Exactly)
        && words.get(at).is_some_and(joins)
        && let Some((end, other, also)) = number(words, at + 1)
    {
        (at, second) = (end, Some(other));
        other_unit = also.filter(|other| unit.is_some_and(|unit| unit != *other));
        unit = unit.or(also);
    }
    // “Between” needs its second number; “from 80 C” is a least one.
    let limit = match (limit, second) {
        (Limit::Between, None) if words.first()?.text == "from" => Limit::AtLeast,
        (Limit::Between, None) => return None,
        _ => limit,
    };
    Some(Amount {
        length: at,
        said: typed(&words[..at]),
        about,
        is_told: skip > 0 || unit.is_some(),
        limit,
        first,
        second,
        unit,
        other_unit,
    })
}

/// The number at `at`: where it ends, its value, its unit.
fn number(words: &[Word], at: usize) -> Option<(usize, f64, Option<Unit>)> {
    let text = words.get(at)?.text.as_str();
    if let Some(number) = quantity::number(text) {
        // “One” is a number only where its unit follows.
        let (length, unit) = longest(&words[at + 1..], quantity::unit)
            .or((number != 1.0).then_some((0, Unit::Plain)))?;
        return Some((
            at + 1 + length,
            number,
            Some(unit).filter(|u| *u != Unit::Plain),
        ));
    }
    let digits = text
        .find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | '-')))
        .unwrap_or(text.len());
    let (number, rest) = text.split_at(digits);
    let number: f64 = number.parse().ok()?;
    if rest.is_empty() {
        let (length, unit) =
            longest(&words[at + 1..], quantity::unit).map_or((0, None), |(n, u)| (n, Some(u)));
        return Some((at + 1 + length, number, unit));
    }
    let attached = quantity::unit(rest)?;
    // `12% wof`: the second word only says it again.
    let again = words
        .get(at + 1)
        .is_some_and(|w| attached == Unit::PercentOfFibre && w.text == "wof");
    Some((at + 1 + usize::from(again), number, Some(attached)))
}

fn longest<T>(words: &[Word], known: impl Fn(&str) -> Option<T>) -> Option<(usize, T)> {
    (1..=words.len().min(LONGEST))
        .rev()
        .find_map(|n| Some((n, known(&joined(&words[..n]))?)))
}

/// The units in which a setting can be told, first the one that the journal keeps; none for a bare number.
fn units(factor: &Factor) -> &'static [Unit] {
    match factor {
        Factor::SimmerTemperature => &[Unit::Celsius, Unit::Fahrenheit],
        Factor::SimmerTime => &[Unit::Minutes, Unit::Hours],
        Factor::Weight => &[Unit::GramsPerSquareMetre, Unit::Momme],
        Factor::BathAge(_) => &[Unit::Days, Unit::Weeks],
        Factor::Strength(_) => &[Unit::PercentOfFibre, Unit::GramsPerLitre],
        _ => &[],
    }
}

impl Amount {
    /// The bounds it sets to `factor`, or to the setting that its unit tells.
    ///
    /// # Errors
    /// The caller's, where unit and setting do not go together or neither tells what it is about.
    pub fn bound(&self, factor: Option<Factor>) -> Result<(Factor, Bound)> {
        if let (Some(unit), Some(other)) = (self.unit, self.other_unit)
            && !unit.measures_as(other)
        {
            return Err(self.two_quantities(unit, other));
        }
        let factor = factor.or_else(|| self.about.clone()).or(match self.unit {
            Some(Unit::Celsius | Unit::Fahrenheit) => Some(Factor::SimmerTemperature),
            Some(Unit::Minutes | Unit::Hours) => Some(Factor::SimmerTime),
            Some(Unit::GramsPerSquareMetre | Unit::Momme) => Some(Factor::Weight),
            _ => None,
        });
        let factor = factor.ok_or_else(|| self.of_what())?;
        let first_unit = self.unit_for(&factor, self.unit)?;
        let second_unit = match self.other_unit {
            Some(other) => self.unit_for(&factor, Some(other))?,
            None => first_unit,
        };
        // What was said in two units is told in the one that is kept, where a hundredth stays one.
        let unit = match first_unit == second_unit {
            true => first_unit,
            false => units(&factor).first().copied().unwrap_or(first_unit),
        };
        let end = |said: f64, included: bool| Some(End::new(first_unit.kept(said), included));
        let second = self.second.map(|second| second_unit.kept(second));
        let (from, to) = match self.limit {
            _ if second.is_some_and(|second| second < first_unit.kept(self.first)) => {
                return Err(self.backwards());
            }
            Limit::Above => (end(self.first, false), None),
            Limit::AtLeast => (end(self.first, true), None),
            Limit::Below => (None, end(self.first, false)),
            Limit::AtMost => (None, end(self.first, true)),
            Limit::Exactly | Limit::Between => (
                end(self.first, true),
                second.map_or(end(self.first, true), |second| Some(End::new(second, true))),
            ),
        };
        Ok((factor, Bound { from, to, unit }))
    }

    /// The number, where it stands alone and without a unit: a layer, a round.
    pub fn alone(&self) -> Option<f64> {
        let alone = self.limit == Limit::Exactly && self.second.is_none() && self.unit.is_none();
        alone.then_some(self.first)
    }

    fn unit_for(&self, factor: &Factor, unit: Option<Unit>) -> Result<Unit> {
        let units = units(factor);
        let usual = match factor {
            Factor::Strength(_) => None,
            _ => Some(units.first().copied().unwrap_or(Unit::Plain)),
        };
        let largest = self.second.unwrap_or(self.first);
        match unit {
            // No simmer is hotter than boiling water: such a number was meant in another unit.
            None if *factor == Factor::SimmerTemperature && largest > 100.0 => {
                Err(Error::caller(format!(
                    "“{}” is hotter than any simmer in °C: write {} F if it is in Fahrenheit.",
                    self.said, largest
                )))
            }
            None => usual.ok_or_else(|| {
                Error::caller(format!(
                    "“{}” does not say its unit: write {1} % (of the weight of fibre) or {1} g/L.",
                    self.said, self.first
                ))
            }),
            Some(unit) if units.contains(&unit) => Ok(unit),
            Some(unit) if units.is_empty() => Err(Error::caller(format!(
                "The {factor} has no unit here, so “{}” cannot stand behind “{}”: write the number alone.",
                unit.sign(),
                self.said
            ))),
            Some(unit) => {
                let signs: Vec<&str> = units.iter().map(|u| u.sign()).collect();
                Err(Error::caller(format!(
                    "The {factor} is told in {}, and not in {}.",
                    signs.join(" or "),
                    unit.sign()
                )))
            }
        }
    }

    fn two_quantities(&self, one: Unit, other: Unit) -> Error {
        Error::caller(format!(
            "“{}” begins in {} and ends in {}, which is no range: write both ends in one unit, or ask for each by itself, “above …” and “below …”.",
            self.said,
            one.sign(),
            other.sign()
        ))
    }

    fn backwards(&self) -> Error {
        Error::caller(format!(
            "“{}” begins with the larger number: write the smaller one first.",
            self.said
        ))
    }

    fn of_what(&self) -> Error {
        let said = &self.said;
        let n = self.first;
        Error::caller(match self.unit {
            Some(Unit::Days | Unit::Weeks) => format!(
                "“{said}” does not say of what: write “age of the bath {said}” or “alum bath {said}”; pieces are asked for by their date, “since June”."
            ),
            Some(Unit::PercentOfFibre | Unit::GramsPerLitre) => {
                format!("“{said}” does not say of which mordant: write “alum {said}”.")
            }
            _ => format!(
                "“{said}” does not say of what: write a unit behind it ({n} C, {n} F, {n} min, {n} h, {n} gsm, {n} momme) or a setting before it (“simmer time {said}”)."
            ),
        })
    }
}

impl Amount {
    /// Whether it counts days.
    pub fn is_days(&self) -> bool {
        matches!(self.unit, Some(Unit::Days | Unit::Weeks))
    }

    /// Whether it is a strength of a soak.
    pub fn is_strength(&self) -> bool {
        matches!(self.unit, Some(Unit::PercentOfFibre | Unit::GramsPerLitre))
    }
}
