//! Settings that always went together, so that nothing can tell them apart.

use super::beside::{Other, beside, others};
use super::design::Member;
use super::language::Factor;
use super::survey::Survey;
use crate::error::{Caution, capital};
use std::collections::{BTreeMap, BTreeSet};

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
