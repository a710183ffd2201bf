//! From pieces to the rows and columns of a linear model.

use super::survey::{Row, Survey};
use crate::stats::{Fit, Pieces};
use std::collections::HashSet;

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
pub struct Design(Pieces);

impl Design {
    /// The members of `groups` (their columns in this order) and `others`; members without a value are passed over.
    pub fn of(survey: &Survey, members: &[Member], groups: &[usize], others: &[&Column]) -> Self {
        let columns = groups.len() + others.len();
        let place = |group| groups.iter().position(|&g| g == group);
        let looked = members
            .iter()
            .filter_map(|m| Some((m.row, place(m.group)?)));
        let mut design = Self::with_room(columns, members.len());
        for (row, column) in looked {
            if design.take(&survey.rows[row]) {
                let from = design.0.x.len();
                design.0.x.resize(from + groups.len(), 0.0);
                design.0.x[from + column] = 1.0;
                design.0.x.extend(others.iter().map(|other| other[row]));
            }
        }
        design
    }

    /// One column of ones, `by` (one number for each row of the survey) and `others`.
    pub fn line(survey: &Survey, by: &[f64], others: &[&Column]) -> Self {
        let mut design = Self::with_room(2 + others.len(), survey.rows.len());
        for (n, (row, &x)) in survey.rows.iter().zip(by).enumerate() {
            if design.take(row) {
                design.0.x.extend([1.0, x]);
                design.0.x.extend(others.iter().map(|other| other[n]));
            }
        }
        design
    }

    /// An empty design that can take so many rows without being moved: those of a long journal fill tens of megabytes.
    fn with_room(columns: usize, rows: usize) -> Self {
        Self(Pieces {
            columns,
            x: Vec::with_capacity(columns * rows),
            ..Pieces::default()
        })
    }

    fn take(&mut self, row: &Row) -> bool {
        let Some(measured) = &row.measured else {
            return false;
        };
        self.0.y.push(measured.value.value);
        self.0.known.push(measured.value.variance);
        self.0.pot.push(row.trial);
        true
    }

    /// How many pieces and pots it holds.
    pub fn size(&self) -> (usize, usize) {
        let pots: HashSet<usize> = self.0.pot.iter().copied().collect();
        (self.0.y.len(), pots.len())
    }

    /// The model fitted; `None` where there is nothing to fit.
    pub fn fit(self) -> Option<Fit> {
        Fit::of(self.0)
    }
}
