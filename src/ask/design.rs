//! From pieces to the rows and columns of a linear model.

use super::survey::{Row, Survey};
use crate::stats::{Fit, Pieces};
use std::collections::HashMap;

/// A piece as a member of a group; a piece with several plants is a member of several groups.
#[derive(Clone, Copy, Debug)]
pub struct Member {
    /// Its place among the rows of the survey.
    pub row: usize,
    /// Its group.
    pub group: usize,
}

/// A column of the model beside those of the groups: one number for each row of the survey.
pub type Column = Vec<f64>;

/// Rows and columns of a linear model: first one column a group, then the others.
#[derive(Debug, Default)]
pub struct Design {
    x: Vec<f64>,
    y: Vec<f64>,
    pot: Vec<usize>,
    known: Vec<f64>,
    columns: usize,
    pots: HashMap<usize, usize>,
}

impl Design {
    /// The members of `groups` (their columns in this order) and `others`; members without a value are passed over.
    pub fn of(survey: &Survey, members: &[Member], groups: &[usize], others: &[Column]) -> Self {
        let mut design = Self {
            columns: groups.len() + others.len(),
            ..Self::default()
        };
        let place: HashMap<usize, usize> =
            groups.iter().enumerate().map(|(n, &g)| (g, n)).collect();
        for member in members {
            let Some(&column) = place.get(&member.group) else {
                continue;
            };
            let from = design.x.len();
            if design.take(&survey.rows[member.row]) {
                design.x.resize(from + design.columns, 0.0);
                design.x[from + column] = 1.0;
                for (n, other) in others.iter().enumerate() {
                    design.x[from + groups.len() + n] = other[member.row];
                }
            }
        }
        design
    }

    /// One column of ones, `by` (one number for each row of the survey) and `others`.
    pub fn line(survey: &Survey, by: &[f64], others: &[Column]) -> Self {
        let mut design = Self {
            columns: 2 + others.len(),
            ..Self::default()
        };
        for (n, (row, &x)) in survey.rows.iter().zip(by).enumerate() {
            if design.take(row) {
                design.x.extend([1.0, x]);
                design.x.extend(others.iter().map(|other| other[n]));
            }
        }
        design
    }

    fn take(&mut self, row: &Row) -> bool {
        let Some(measured) = &row.measured else {
            return false;
        };
        let next = self.pots.len();
        self.y.push(measured.value.value);
        self.known.push(measured.value.variance);
        self.pot.push(*self.pots.entry(row.trial).or_insert(next));
        true
    }

    /// How many pieces and pots it holds.
    pub fn size(&self) -> (usize, usize) {
        (self.y.len(), self.pots.len())
    }

    /// The model fitted; `None` where there is nothing to fit.
    pub fn fit(&self) -> Option<Fit> {
        Fit::of(&Pieces {
            x: &self.x,
            columns: self.columns,
            y: &self.y,
            pot: &self.pot,
            known: &self.known,
        })
    }

    /// The contrast that is one column's coefficient.
    pub fn only(&self, column: usize) -> Vec<f64> {
        let mut contrast = vec![0.0; self.columns];
        contrast[column] = 1.0;
        contrast
    }
}

/// The same pots numbered from 0 without gaps.
pub fn renumbered(pots: &[usize]) -> Vec<usize> {
    let mut numbers: HashMap<usize, usize> = HashMap::new();
    pots.iter()
        .map(|&pot| {
            let next = numbers.len();
            *numbers.entry(pot).or_insert(next)
        })
        .collect()
}
