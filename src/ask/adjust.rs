//! What else differed between the groups: means adjusted for it, and what always went together.

use super::design::{Column, Design, Member};
use super::language::Factor;
use super::setting::{self, Value};
use super::survey::Survey;
use crate::error::{Caution, capital};
use std::collections::{BTreeMap, BTreeSet};

/// A setting beside the one that was asked about, as one column of an additive model.
#[derive(Debug)]
struct Other {
    /// Which setting: `plant`.
    setting: Factor,
    /// The value whose presence it tells; `None` for a number.
    value: Option<String>,
    /// Presence (0 or 1) or the number, less its mean, for each row looked at.
    column: Column,
}

/// The settings that an additive model takes beside the one asked about, in the order in which they are told.
const SETTINGS: [Factor; 6] = [
    Factor::Soak,
    Factor::Plant,
    Factor::SimmerTemperature,
    Factor::SimmerTime,
    Factor::Fibre,
    Factor::Weave,
];

/// Means of the groups as they would be had everything else been alike.
#[derive(Debug, Default)]
pub struct Adjusted {
    /// One for each group asked for; `None` where it cannot be told.
    pub means: Vec<Option<f64>>,
    /// The settings they are adjusted for.
    pub by: Vec<Factor>,
}

/// The means of `groups`, the leader first, by the additive model: group and other settings each add their part.
///
/// Those settings count that sway the differences to the leader most, as many as there are pots for; without enough pots nothing
/// is adjusted.
pub fn adjusted(survey: &Survey, members: &[Member], groups: &[usize], by: &Factor) -> Adjusted {
    let plain = Design::of(survey, members, groups, &[]);
    let others = swaying(survey, by, plain.size().1, groups.len(), |column| {
        sway_of_groups(survey, members, groups, column)
    });
    if others.is_empty() {
        return Adjusted::default();
    }
    let fit = Design::of(survey, members, groups, &columns(&others)).fit();
    let mean = |n| {
        let fit = fit.as_ref()?;
        fit.value(&fit.only(n))
    };
    Adjusted {
        means: (0..groups.len()).map(mean).collect(),
        by: settings(&others),
    }
}

/// The slope of a line over `x`, one number for each row, had everything else been alike; and what it is adjusted for.
pub fn adjusted_slope(survey: &Survey, x: &[f64], by: &Factor) -> Option<(f64, Vec<Factor>)> {
    let plain = Design::line(survey, x, &[]);
    let others = swaying(survey, by, plain.size().1, 2, |column| {
        sway_of_line(survey, x, column)
    });
    if others.is_empty() {
        return None;
    }
    let fit = Design::line(survey, x, &columns(&others)).fit()?;
    let slope = fit.value(&fit.only(1))?;
    Some((slope, settings(&others)))
}

/// The other settings that sway the answer most, so many that each has three pots beyond those that the `base` columns take.
fn swaying(
    survey: &Survey,
    by: &Factor,
    pots: usize,
    base: usize,
    sway: impl Fn(&Column) -> f64,
) -> Vec<Other> {
    const POTS_A_COLUMN: usize = 3;
    // What comes after these sways nothing any more, and a journal of many years would be slow.
    const MOST: usize = 10;
    let room = (pots.saturating_sub(base) / POTS_A_COLUMN).min(MOST);
    let all: Vec<usize> = (0..survey.rows.len()).collect();
    let mut most: Vec<(f64, Other)> = Vec::new();
    // One by one, for the columns of a long journal fill much memory.
    for other in others(survey, &all, &SETTINGS, by) {
        let sway = sway(&other.column);
        if sway > 0.0 {
            let place = most.partition_point(|(more, _)| *more >= sway);
            most.insert(place, (sway, other));
            most.truncate(room);
        }
    }
    most.into_iter().map(|(_, other)| other).collect()
}

fn columns(others: &[Other]) -> Vec<&Column> {
    others.iter().map(|other| &other.column).collect()
}

fn settings(others: &[Other]) -> Vec<Factor> {
    let used = |setting: &Factor| others.iter().any(|other| other.setting == *setting);
    SETTINGS.into_iter().filter(used).collect()
}

/// How far the largest difference to the first group moves when the column is allowed for by itself: what it does within groups
/// times how unlike the groups are in it (the bias of an omitted variable).
fn sway_of_groups(survey: &Survey, members: &[Member], groups: &[usize], column: &Column) -> f64 {
    let last = members.iter().map(|member| member.group).max();
    let mut sums = vec![[0.0; 5]; last.map_or(0, |last| last + 1)];
    for member in members {
        if let Some(measured) = &survey.rows[member.row].measured {
            let (z, y) = (column[member.row], measured.value.value);
            let sum = &mut sums[member.group];
            for (sum, term) in sum.iter_mut().zip([1.0, z, y, z * z, z * y]) {
                *sum += term;
            }
        }
    }
    let (mut zz, mut zy) = (0.0, 0.0);
    for [n, z, y, z2, z_y] in sums.iter().filter(|sum| sum[0] > 0.0) {
        zz += z2 - z * z / n;
        zy += z_y - z * y / n;
    }
    let mean = |group: &usize| match sums.get(*group) {
        Some([n, z, ..]) if *n > 0.0 => z / n,
        _ => 0.0,
    };
    let first = groups.first().map_or(0.0, mean);
    let apart = groups
        .iter()
        .map(|group| (mean(group) - first).abs())
        .fold(0.0, f64::max);
    if zz > 1e-9 {
        (zy / zz).abs() * apart
    } else {
        0.0
    }
}

/// The same of a line over `x`.
fn sway_of_line(survey: &Survey, x: &[f64], column: &Column) -> f64 {
    let mut rows = Vec::new();
    for ((row, &x), &z) in survey.rows.iter().zip(x).zip(column) {
        if let Some(measured) = &row.measured {
            rows.push([x, z, measured.value.value]);
        }
    }
    let n = rows.len().max(1) as f64;
    let mean = [0, 1, 2].map(|k| rows.iter().map(|row| row[k]).sum::<f64>() / n);
    let product = |a: usize, b: usize| -> f64 {
        rows.iter()
            .map(|row| (row[a] - mean[a]) * (row[b] - mean[b]))
            .sum()
    };
    let (xx, xz, xy, zz, zy) = (
        product(0, 0),
        product(0, 1),
        product(0, 2),
        product(1, 1),
        product(1, 2),
    );
    let alone = zz - xz * xz / xx;
    if xx > 1e-9 && alone > 1e-9 {
        ((zy - xz * xy / xx) / alone * xz / xx).abs()
    } else {
        0.0
    }
}

/// Every column of these settings that can tell something: a value that some pieces have and others have not, a number that
/// varies.
fn others<'a>(
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
fn beside(survey: &Survey) -> Vec<Factor> {
    let columns = survey.rows.iter().flat_map(|row| row.seen.rounds);
    let columns = columns.flat_map(|round| round.settings.iter().map(|(name, _)| &**name));
    let columns: BTreeSet<&str> = columns.collect();
    let columns = columns
        .into_iter()
        .map(|name| Factor::Column(name.to_owned()));
    let more = [Factor::Heat, Factor::Layer, Factor::Weight, Factor::Season];
    SETTINGS.into_iter().chain(more).chain(columns).collect()
}

/// Tells where another setting divides `leader` from a group as the asked one does; `names` are the groups' names.
pub fn inseparable(
    survey: &Survey,
    members: &[Member],
    (leader, others): (usize, &[usize]),
    names: &dyn Fn(usize) -> String,
    by: &Factor,
) -> Option<Caution> {
    // What divides all members divides some of them: so journals of many years are looked through only where it may be so.
    const LOOKED_AT_FIRST: usize = 100;
    let mut count: BTreeMap<usize, usize> = BTreeMap::new();
    let first: Vec<Member> = members
        .iter()
        .copied()
        .filter(|member| {
            let seen = count.entry(member.group).or_default();
            *seen += 1;
            *seen <= LOOKED_AT_FIRST
        })
        .collect();
    let maybe = splits(survey, &first, (leader, others), &beside(survey), by);
    let maybe: Vec<Factor> = beside(survey)
        .into_iter()
        .filter(|setting| maybe.iter().any(|split| split.setting == *setting))
        .collect();
    let found = splits(survey, members, (leader, others), &maybe, by);
    let example = found.first()?;
    let example = example.text(&names(leader), &names(example.group));
    let settings: BTreeSet<String> = found.iter().map(|s| s.setting.to_string()).collect();
    let settings: Vec<String> = settings.into_iter().collect();
    let text = format!(
        "{} and {} always went together: {example}. What is put down to the one may come from the other, until they are tried apart.",
        capital(&by.to_string()),
        settings.join(", "),
    );
    Some(Caution::new("inseparable", text))
}

/// Another setting that divides the leader from a group.
struct Split {
    setting: Factor,
    /// The value that one side has and the other has not; `None` for a number.
    value: Option<String>,
    group: usize,
    /// Whether the leader is the side that has it, or has more of it.
    with: bool,
}

fn splits(
    survey: &Survey,
    members: &[Member],
    (leader, groups): (usize, &[usize]),
    settings: &[Factor],
    by: &Factor,
) -> Vec<Split> {
    let rows: BTreeSet<usize> = members.iter().map(|member| member.row).collect();
    let rows: Vec<usize> = rows.into_iter().collect();
    let columns: Vec<Other> = others(survey, &rows, settings, by).collect();
    let of = |group: usize, other: &Other| -> Vec<f64> {
        let places = members.iter().filter(|m| m.group == group);
        let places = places.filter_map(|m| rows.binary_search(&m.row).ok());
        places.map(|place| other.column[place]).collect()
    };
    let mut found = Vec::new();
    for &group in groups {
        for other in &columns {
            let (ours, theirs) = (of(leader, other), of(group, other));
            let enough = ours.len() >= 2 && theirs.len() >= 2;
            if enough && divided(&ours, &theirs, other.value.is_some()) {
                found.push(Split {
                    setting: other.setting.clone(),
                    value: other.value.clone(),
                    group,
                    with: ours[0] > theirs[0],
                });
            }
        }
    }
    found
}

/// Whether no value of the one occurs in the other. Numbers must lie apart by more than they vary: by chance alone two pots
/// are always a little apart.
fn divided(ours: &[f64], theirs: &[f64], presence: bool) -> bool {
    let ends = |of: &[f64]| {
        let low = of.iter().copied().fold(f64::INFINITY, f64::min);
        let high = of.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        (low, high)
    };
    let ((a, b), (c, d)) = (ends(ours), ends(theirs));
    let gap = (c - b).max(a - d);
    let within = if presence { 0.0 } else { (b - a).max(d - c) };
    // A presence that is the same in all of a group has no width; a number may vary as far as the gap is wide.
    gap > within.max(1e-9) && (!presence || (b - a < 1e-9 && d - c < 1e-9))
}

impl Split {
    /// `every piece of iron had the fibre wool, and none of alum`.
    fn text(&self, leader: &str, group: &str) -> String {
        let (has, has_not) = match self.with {
            true => (leader, group),
            false => (group, leader),
        };
        let setting = &self.setting;
        match &self.value {
            Some(value) => {
                format!("every piece of {has} had the {setting} {value}, and none of {has_not}")
            }
            None => format!("the {setting} of {has} was always higher than that of {has_not}"),
        }
    }
}
