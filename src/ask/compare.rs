//! The groups of a question and how sure their order is.

use super::adjust::{self, Adjusted};
use super::apart;
use super::design::{Design, Member};
use super::language::{Factor, Order};
use super::setting::{Classes, Value};
use super::survey::{Row, Survey};
use crate::error::Caution;
use crate::stats::{self, Contrast};
use rayon::prelude::*;
use std::collections::{BTreeMap, BTreeSet};

/// One value of the setting with its pieces.
#[derive(Debug)]
pub struct Gathered {
    /// The value.
    pub label: String,
    /// How many pieces it has, with or without a value of the measure.
    pub of_pieces: usize,
    /// Its rows of the survey that have a value, best first.
    pub rows: Vec<usize>,
    /// The pots those rows come from, by number.
    pub pots: BTreeSet<usize>,
    /// The mean of the measure, of its own pieces alone.
    pub mean: f64,
    /// Its 95 % interval; `None` where there is too little to say.
    pub interval: Option<(f64, f64)>,
    /// The mean had all other settings been alike.
    pub adjusted: Option<f64>,
}

/// All groups, and what can be said of the first against the others.
#[derive(Debug, Default)]
pub struct Compared {
    /// The groups that have a value, best first.
    pub groups: Vec<Gathered>,
    /// Groups without a value: label and pieces.
    pub empty: Vec<(String, usize)>,
    /// The leader less each other group, in the order of `groups` from the second on.
    pub against: Vec<Option<Contrast>>,
    /// What the adjusted means are adjusted for.
    pub adjusted_for: Vec<Factor>,
    /// What always went together.
    pub inseparable: Option<Caution>,
}

/// So many groups are fitted in one model, where they borrow each other's scatter; more are compared two by two.
const MOST_AT_ONCE: usize = 40;

impl Compared {
    /// Gathers the rows of `survey` by their setting and compares them.
    pub fn of(survey: &Survey, order: Order, by: &Factor) -> Self {
        let (labels, members) = memberships(survey, by);
        let mut compared = Self::default();
        let mut found: Vec<(usize, Gathered)> = Vec::new();
        let mut by_group: Vec<Vec<usize>> = vec![Vec::new(); labels.len()];
        for member in &members {
            by_group[member.group].push(member.row);
        }
        let gathered = labels.into_par_iter().zip(by_group);
        let gathered = gathered.map(|(label, rows)| Gathered::of(survey, label, rows));
        for (group, gathered) in gathered.collect::<Vec<_>>().into_iter().enumerate() {
            match gathered {
                Ok(gathered) => found.push((group, gathered)),
                Err(empty) => compared.empty.push(empty),
            }
        }
        let ids: Vec<usize> = found.iter().map(|(group, _)| *group).collect();
        let once = by.is_one_event();
        let joint = || {
            (!once && ids.len() <= MOST_AT_ONCE)
                .then(|| Joint::of(survey, &members, &ids))
                .flatten()
        };
        let estimates = || {
            if !once {
                found
                    .par_iter_mut()
                    .for_each(|(group, gathered)| gathered.estimate(survey, &members, *group));
            }
        };
        let (joint, ()) = rayon::join(joint, estimates);
        found.sort_by(|(_, a), (_, b)| order.best_first(a.mean, b.mean));
        if let (Some(&(leader, _)), false) = (found.first(), once) {
            compared.against = match &joint {
                Some(joint) => joint.against(&ids, leader, &found[1..]),
                None => {
                    let two = |other| Joint::of(survey, &members, &[leader, other])?.difference();
                    found[1..].iter().map(|(other, _)| two(*other)).collect()
                }
            };
            compared.look_beside(survey, &members, &mut found, by);
        }
        compared.groups = found.into_iter().map(|(_, gathered)| gathered).collect();
        compared
    }

    /// Adjusted means, and what always went together.
    fn look_beside(
        &mut self,
        survey: &Survey,
        members: &[Member],
        found: &mut [(usize, Gathered)],
        by: &Factor,
    ) {
        if found.len() < 2 || found.len() > MOST_AT_ONCE {
            return;
        }
        let ids: Vec<usize> = found.iter().map(|(group, _)| *group).collect();
        let with_value: Vec<Member> = members
            .iter()
            .copied()
            .filter(|m| survey.rows[m.row].measured.is_some())
            .collect();
        let name = |group: usize| {
            let of = found.iter().find(|(id, _)| *id == group);
            of.map_or_else(String::new, |(_, gathered)| gathered.label.clone())
        };
        let (adjusted, inseparable) = rayon::join(
            || adjust::adjusted(survey, &with_value, &ids, by),
            || apart::inseparable(survey, &with_value, (ids[0], &ids[1..]), &name, by),
        );
        self.inseparable = inseparable;
        let Adjusted {
            means,
            by: adjusted,
        } = adjusted;
        for ((_, gathered), mean) in found.iter_mut().zip(means) {
            gathered.adjusted = mean;
        }
        self.adjusted_for = adjusted;
    }

    /// The group that the leader is hardest to tell apart from, as its place among `groups`, with the comparison.
    pub fn hardest(&self) -> Option<(usize, Option<Contrast>)> {
        // No p-value at all is worse than any; of groups alike in p the one nearest to the leader counts.
        let p = |contrast: &Option<Contrast>| contrast.as_ref().map_or(2.0, |c| c.p);
        let each = self.against.iter().copied().enumerate().rev();
        each.max_by(|(_, a), (_, b)| p(a).total_cmp(&p(b)))
            .map(|(n, contrast)| (n + 1, contrast))
    }
}

/// Groups fitted together.
struct Joint(stats::Fit);

impl Joint {
    fn of(survey: &Survey, members: &[Member], groups: &[usize]) -> Option<Self> {
        Design::of(survey, members, groups, &[]).fit().map(Self)
    }

    /// The leader less each of `others`; `groups`: the groups in the order of their columns.
    fn against(
        &self,
        groups: &[usize],
        leader: usize,
        others: &[(usize, Gathered)],
    ) -> Vec<Option<Contrast>> {
        let column = |group: usize| {
            groups
                .iter()
                .position(|&id| id == group)
                .unwrap_or_default()
        };
        let first = column(leader);
        let all = stats::leader(&self.0, groups.len(), first);
        // The leader itself is not among them.
        let place = |group| column(group) - usize::from(column(group) > first);
        others.iter().map(|(other, _)| all[place(*other)]).collect()
    }

    /// The first of two groups less the second.
    fn difference(&self) -> Option<Contrast> {
        stats::leader(&self.0, 2, 0).pop()?
    }
}

impl Gathered {
    /// Mean and interval from its own pieces alone, pots weighing as their pieces and the scatter of pots let them.
    fn estimate(&mut self, survey: &Survey, members: &[Member], group: usize) {
        let Some(fit) = Design::of(survey, members, &[group], &[]).fit() else {
            return;
        };
        if let Some(mean) = fit.value(&fit.only(0)) {
            self.mean = mean;
        }
        let (least, most) = survey.limits();
        let ends = |c: Contrast| (c.low.clamp(least, most), c.high.clamp(least, most));
        self.interval = fit.contrast(&fit.only(0)).map(ends);
    }

    /// Gives label and number of pieces back where no row has a value.
    fn of(survey: &Survey, label: String, mut rows: Vec<usize>) -> Result<Self, (String, usize)> {
        let of_pieces = rows.len();
        rows.retain(|&row| survey.rows[row].measured.is_some());
        if rows.is_empty() {
            return Err((label, of_pieces));
        }
        rows.sort_by(|&a, &b| survey.best_first(a, b));
        let values = rows
            .iter()
            .filter_map(|&row| survey.rows[row].measured.as_ref());
        let mean = values.map(|m| m.value.value).sum::<f64>() / rows.len() as f64;
        let pots: BTreeSet<usize> = rows.iter().map(|&row| survey.rows[row].trial).collect();
        Ok(Self {
            label,
            of_pieces,
            pots,
            rows,
            mean,
            interval: None,
            adjusted: None,
        })
    }
}

/// The names of the groups, and every piece as a member of each group it belongs to.
fn memberships(survey: &Survey, by: &Factor) -> (Vec<String>, Vec<Member>) {
    let number = |row: &Row| match row.setting {
        Value::Number(number) => Some(number),
        Value::Words(_) => None,
    };
    let numbers: Vec<f64> = survey.rows.iter().filter_map(number).collect();
    let classes = Classes::of(by, &numbers, survey.known.degrees);
    let mut by_label: BTreeMap<String, Vec<usize>> = BTreeMap::new();
    for (n, row) in survey.rows.iter().enumerate() {
        match &row.setting {
            Value::Number(number) => by_label.entry(classes.label(*number)).or_default().push(n),
            Value::Words(words) => {
                for word in words {
                    match by_label.get_mut(word) {
                        Some(rows) => rows.push(n),
                        None => drop(by_label.insert(word.clone(), vec![n])),
                    }
                }
            }
        }
    }
    let (mut labels, mut members) = (Vec::new(), Vec::new());
    for (group, (label, rows)) in by_label.into_iter().enumerate() {
        labels.push(label);
        members.extend(rows.into_iter().map(|row| Member { row, group }));
    }
    (labels, members)
}
