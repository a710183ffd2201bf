//! Every setting beside the one that was asked about, as columns of numbers.

use super::design::Column;
use super::language::Factor;
use super::setting::{self, Value};
use super::survey::Survey;
use std::collections::{BTreeMap, BTreeSet};

/// A setting beside the one that was asked about, as one column of an additive model.
#[derive(Debug)]
pub struct Other {
    /// Which setting: `plant`.
    pub setting: Factor,
    /// The value whose presence it tells; `None` for a number.
    pub value: Option<String>,
    /// Presence (0 or 1) or the number, less its mean, for each row looked at.
    pub column: Column,
}

/// The settings that an additive model takes beside the one asked about, in the order in which they are told.
pub const SETTINGS: [Factor; 6] = [
    Factor::Soak,
    Factor::Plant,
    Factor::SimmerTemperature,
    Factor::SimmerTime,
    Factor::Fibre,
    Factor::Weave,
];

/// Every column of these settings that can tell something: a value that some pieces have and others have not, a number that
/// varies.
pub fn others<'a>(
    survey: &'a Survey,
    rows: &'a [usize],
    settings: &'a [Factor],
    by: &'a Factor,
) -> impl Iterator<Item = Other> + 'a {
    let settings = settings
        .iter()
        .filter(move |setting| !same_thing(setting, by));
    settings.flat_map(move |setting| -> Box<dyn Iterator<Item = Other> + 'a> {
        match setting {
            Factor::Soak | Factor::Plant | Factor::Fibre | Factor::Weave => {
                Box::new(presences(survey, rows, setting))
            }
            _ => Box::new(of_setting(survey, rows, setting).into_iter()),
        }
    })
}

/// Whether one tells what the other does, so that adjusting would take the answer away.
fn same_thing(setting: &Factor, by: &Factor) -> bool {
    match by {
        Factor::Mordant | Factor::Soak => *setting == Factor::Soak,
        // What stands after `with` may be a soak or a plant; neither kind is adjusted for.
        Factor::With(_) => matches!(setting, Factor::Soak | Factor::Plant),
        by => setting == by,
    }
}

/// Presence of each soak, plant, fibre or weave, without a word being copied: journals are long.
fn presences<'a>(
    survey: &'a Survey,
    rows: &[usize],
    setting: &'a Factor,
) -> impl Iterator<Item = Other> + use<'a> {
    let mut with: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
    for (n, &row) in rows.iter().enumerate() {
        let seen = &survey.rows[row].seen;
        let (piece, rounds) = (seen.piece, seen.rounds);
        let words: &mut dyn Iterator<Item = &str> = match setting {
            Factor::Soak => &mut setting::soaks(rounds),
            Factor::Plant => &mut setting::plants(rounds),
            Factor::Fibre => &mut piece.fibre.as_deref().into_iter(),
            _ => &mut piece.weave.as_deref().into_iter(),
        };
        for word in words {
            let rows = with.entry(word).or_default();
            if rows.last() != Some(&n) {
                rows.push(n);
            }
        }
    }
    let all = rows.len();
    let telling = with
        .into_iter()
        .filter(move |(_, rows)| rows.len() >= 2 && rows.len() < all);
    telling.map(move |(word, rows)| presence(setting, word, &rows, all))
}

fn presence(setting: &Factor, word: &str, rows: &[usize], all: usize) -> Other {
    let mut column = vec![-(rows.len() as f64) / all as f64; all];
    rows.iter().for_each(|&row| column[row] += 1.0);
    Other {
        setting: setting.clone(),
        value: Some(word.to_owned()),
        column,
    }
}

/// Any other setting: a number, or the presence of each of its words.
fn of_setting(survey: &Survey, rows: &[usize], setting: &Factor) -> Vec<Other> {
    let value = |&row: &usize| {
        let seen = &survey.rows[row].seen;
        setting::value(setting, survey.known, seen.piece, seen.rounds)
    };
    let values: Vec<Option<Value>> = rows.iter().map(value).collect();
    let number = |value: &Option<Value>| value.as_ref().and_then(Value::number);
    let numbers: Vec<f64> = values.iter().filter_map(number).collect();
    if !numbers.is_empty() {
        let mean = numbers.iter().sum::<f64>() / numbers.len() as f64;
        let column: Column = values
            .iter()
            .map(|v| number(v).map_or(0.0, |n| n - mean))
            .collect();
        let varies = column.iter().any(|x| x.abs() > 1e-9);
        let other = Other {
            setting: setting.clone(),
            value: None,
            column,
        };
        return if varies { vec![other] } else { Vec::new() };
    }
    let mut with: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
    for (n, value) in values.iter().enumerate() {
        if let Some(Value::Words(words)) = value {
            words
                .iter()
                .for_each(|word| with.entry(word).or_default().push(n));
        }
    }
    let all = values.len();
    let telling = with
        .into_iter()
        .filter(|(_, rows)| rows.len() >= 2 && rows.len() < all);
    telling
        .map(|(word, rows)| presence(setting, word, &rows, all))
        .collect()
}

/// What else may have gone together with a setting: the adjustable ones, and those that no model of so few pots could hold.
pub fn beside(survey: &Survey) -> Vec<Factor> {
    let columns = survey.rows.iter().flat_map(|row| row.seen.rounds);
    let columns = columns.flat_map(|round| round.settings.iter().map(|(name, _)| &**name));
    let columns: BTreeSet<&str> = columns.collect();
    let columns = columns
        .into_iter()
        .map(|name| Factor::Column(name.to_owned()));
    let more = [Factor::Heat, Factor::Layer, Factor::Weight, Factor::Season];
    SETTINGS.into_iter().chain(more).chain(columns).collect()
}
