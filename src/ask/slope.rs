//! How a number changes a measure: a straight line through the pieces, with pots as the independent units.

use super::adjust;
use super::cautions::ENOUGH;
use super::design::Design;
use super::language::{Factor, Measure};
use super::setting::Value;
use super::survey::Survey;
use crate::error::{Caution, capital, listed};
use crate::journal::Degrees;
use crate::stats;
use serde::Serialize;
use std::collections::BTreeMap;

/// The change of the measure for one unit more of the setting.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Slope {
    /// One unit of the setting: `minute`, `°C`.
    pub per: String,
    /// The change, in the measure's unit.
    pub value: f64,
    /// Lower end of its 95 % interval; `None` where there is too little to say.
    pub low: Option<f64>,
    /// Upper end of its 95 % interval.
    pub high: Option<f64>,
    /// Two-sided p-value; `None` where one cannot be had.
    pub p: Option<f64>,
    /// Pieces it rests on.
    pub pieces: usize,
    /// Pots they come from.
    pub pots: usize,
    /// The change had all other settings been alike; `None` where that cannot be told.
    pub adjusted: Option<f64>,
    /// The settings that `adjusted` is adjusted for.
    pub adjusted_for: Vec<String>,
    /// The unit of the setting, where it has one.
    #[serde(skip)]
    pub unit: Option<&'static str>,
    /// Whether one pot alone decides it.
    #[serde(skip)]
    pub one_pot: bool,
    /// The measure at the middle of the setting.
    #[serde(skip)]
    pub middle: [f64; 2],
    /// Least and greatest value of the setting.
    #[serde(skip)]
    pub range: [f64; 2],
}

impl Slope {
    /// `None` where fewer than two different values of the setting were seen.
    pub fn of(survey: &Survey, by: &Factor, degrees: Degrees) -> Option<Self> {
        let number = |value: &Value| match value {
            Value::Number(number) if *by == Factor::SimmerTemperature => {
                degrees.of_celsius(*number)
            }
            Value::Number(number) => *number,
            Value::Words(_) => f64::NAN,
        };
        let all: Vec<f64> = survey.rows.iter().map(|row| number(&row.setting)).collect();
        let seen = survey
            .rows
            .iter()
            .zip(&all)
            .filter(|(row, _)| row.measured.is_some());
        let seen: Vec<f64> = seen.map(|(_, &x)| x).collect();
        let low = seen.iter().copied().fold(f64::INFINITY, f64::min);
        let high = seen.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        if seen.is_empty() || high - low <= 1e-9 {
            return None;
        }
        let middle = seen.iter().sum::<f64>() / seen.len() as f64;
        let centred: Vec<f64> = all.iter().map(|x| x - middle).collect();
        let design = Design::line(survey, &centred, &[]);
        let (pieces, pots) = design.size();
        let fit = design.fit()?;
        let (level, slope) = (fit.only(0), fit.only(1));
        let sure = fit.contrast(&slope);
        let (adjusted, settings) = adjust::adjusted_slope(survey, &centred, by).unzip();
        Some(Self {
            adjusted,
            adjusted_for: settings.iter().flatten().map(ToString::to_string).collect(),
            per: per(by, degrees),
            unit: by.unit(degrees),
            value: fit.value(&slope)?,
            low: sure.as_ref().map(|c| c.low),
            high: sure.as_ref().map(|c| c.high),
            p: sure.as_ref().map(|c| c.p),
            pieces,
            pots,
            middle: [middle, fit.value(&level)?],
            range: [low, high],
            one_pot: one_pot_decides(survey, &centred),
        })
    }

    /// Whether the change is sure at 5 %.
    pub fn holds(&self) -> bool {
        self.p.is_some_and(|p| p < stats::LEVEL) && self.left() >= ENOUGH && !self.one_pot
    }

    /// What part of the change is left once all else is alike; all of it where that cannot be told.
    fn left(&self) -> f64 {
        self.adjusted.map_or(1.0, |adjusted| adjusted / self.value)
    }

    /// Tells where little of the change is left once all else is alike.
    pub fn caution(&self, by: &Factor) -> Option<Caution> {
        let left = self.left();
        if self.one_pot {
            let text = format!(
                "One pot alone stands far from all others in {by} and decides the line: do what it did again in another."
            );
            return Some(Caution::new("one-pot", text));
        }
        (left < ENOUGH).then(|| {
            let settings = listed(&self.adjusted_for);
            let text = format!(
                "Had {settings} been alike in all pieces, {}: what looks like {by} may be them.",
                match left {
                    ..-0.2 => "it would go the other way".to_owned(),
                    ..0.1 => "nothing would be left of this change".to_owned(),
                    _ => format!("only {:.0} % of this change would be left", 100.0 * left),
                }
            );
            Caution::new("adjusted-otherwise", text)
        })
    }

    /// First the answer, then what it rests on.
    pub fn text(&self, measure: Measure, by: &Factor) -> String {
        let whole = matches!(by, Factor::Layer | Factor::Round);
        let step = step(self.range[1] - self.range[0]).max(if whole { 1.0 } else { 0.0 });
        let amount = |value: f64| measure.show_difference(value.abs() * step);
        let way = if self.value < 0.0 { "falls" } else { "rises" };
        let unit = self
            .unit
            .map_or_else(String::new, |unit| format!(" {unit}"));
        let rests = format!(
            "{} pieces in {} pots, {by} from {} to {}{unit}",
            self.pieces,
            self.pots,
            round(self.range[0]),
            round(self.range[1])
        );
        let grows = format!("as {by} grows by {step}{unit}");
        let name = measure.name();
        match self.low.zip(self.high) {
            Some((low, high)) if self.holds() => {
                let (near, far) = if self.value < 0.0 {
                    (high, low)
                } else {
                    (low, high)
                };
                format!(
                    "{}, {name} {way} by {}, likely between {} and {} ({rests}).",
                    capital(&grows),
                    amount(self.value),
                    amount(near),
                    amount(far),
                )
            }
            Some(_) if self.p.is_some_and(|p| p < stats::LEVEL) => format!(
                "It is not settled whether {by} changes {name}: {grows}, it {way} by {} so far ({rests}), but the cause may be another, as told below.",
                amount(self.value),
            ),
            Some((low, high)) => format!(
                "No change of {name} with {by} can be told yet: {grows}, it {way} by {} so far, but anything from {} to {} would fit ({rests}). More pots at the ends of the range would tell soonest whether there is a straight one.",
                amount(self.value),
                measure.show_difference(low * step),
                measure.show_difference(high * step),
            ),
            None => format!(
                "No change of {name} with {by} can be told yet: there are too few pots ({rests}). More pots at the ends of the range would tell soonest."
            ),
        }
    }
}

/// Whether one pot brings most of what the setting varies at all.
fn one_pot_decides(survey: &Survey, centred: &[f64]) -> bool {
    const MOST: f64 = 0.8;
    let mut of_pots: BTreeMap<usize, f64> = BTreeMap::new();
    for (row, x) in survey.rows.iter().zip(centred) {
        if row.measured.is_some() {
            *of_pots.entry(row.trial).or_default() += x * x;
        }
    }
    let all: f64 = of_pots.values().sum();
    of_pots.len() > 2 && of_pots.values().any(|&pot| pot > MOST * all)
}

/// One unit of a setting, as a noun.
fn per(by: &Factor, degrees: Degrees) -> String {
    match by {
        Factor::SimmerTemperature => degrees.sign().to_owned(),
        Factor::SimmerTime => "minute".to_owned(),
        Factor::Weight => "g/m²".to_owned(),
        Factor::BathAge(_) => "day".to_owned(),
        Factor::Strength(_) => "%".to_owned(),
        other => other.to_string(),
    }
}

/// The step in which a change is told: about a tenth to a half of the range, 1, 2, 5 or 10 times a power of ten.
fn step(range: f64) -> f64 {
    let power = 10f64.powf((range / 2.0).log10().floor());
    if range / 2.0 / power >= 5.0 {
        5.0 * power
    } else {
        power
    }
}

fn round(number: f64) -> f64 {
    (number * 10.0).round() / 10.0
}
