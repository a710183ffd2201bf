//! What else differed between the groups: means and slopes adjusted for it.

use super::beside::{Other, SETTINGS, others};
use super::design::{Column, Design, Member};
use super::language::Factor;
use super::survey::Survey;

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
