//! The pieces a question is about, and their groups.

use super::evidence::{self, Measured, Seen, Trial};
use super::question::Question;
use super::setting::{self, Classes, Value};
use super::terms::Order;
use crate::journal::Degrees;
use crate::journal::record::{Photo, Piece};
use crate::stats;
use std::collections::BTreeMap;

/// Everything the journal tells about a question.
#[derive(Debug)]
pub struct Survey<'a> {
    /// Pieces that were seen in the right state and whose setting is known.
    pub rows: Vec<Row<'a>>,
    /// Pieces without a photo in the right state.
    pub unseen: usize,
    /// Pieces whose setting the journal does not tell.
    pub unset: usize,
    /// The unit in which temperatures are grouped and named.
    degrees: Degrees,
}

/// One piece of the survey.
#[derive(Debug)]
pub struct Row<'a> {
    /// What was seen of it.
    pub seen: Seen<'a>,
    /// Its value of the setting.
    pub setting: Value,
    /// The trial it belongs to.
    pub trial: Trial,
    /// Its value of the measure; `None` where it has no colour of the family.
    pub measured: Option<Measured>,
}

/// The rows of one value of the setting.
#[derive(Debug)]
pub struct Gathered<'s, 'a> {
    /// The value.
    pub label: String,
    /// How many pieces it has, with or without a colour of the family.
    pub of_pieces: usize,
    /// The rows with a value of the measure, best first.
    pub rows: Vec<(&'s Row<'a>, &'s Measured)>,
    /// The mean of each trial's pieces.
    pub trials: BTreeMap<&'s Trial, f64>,
    /// Mean over trials.
    pub estimate: stats::Estimate,
}

impl<'a> Survey<'a> {
    /// Looks at every piece that passes the question's filters.
    pub fn of(
        pieces: &'a [Piece],
        photos: &'a [Photo],
        question: &Question,
        degrees: Degrees,
    ) -> Self {
        let by_piece = evidence::by_piece(photos);
        let states = evidence::states(question);
        let mut survey = Self {
            rows: Vec::new(),
            unseen: 0,
            unset: 0,
            degrees,
        };
        for piece in pieces {
            let photos = by_piece
                .get(piece.code.as_str())
                .map_or(&[][..], Vec::as_slice);
            let seen = evidence::seen(piece, photos, states);
            let rounds = seen.as_ref().map_or(&piece.rounds[..], |seen| seen.rounds);
            if !question
                .filters
                .iter()
                .all(|f| evidence::passes(f, piece, rounds))
            {
                continue;
            }
            match (seen, setting::value(&question.by, piece, rounds)) {
                (None, _) => survey.unseen += 1,
                (Some(_), None) => survey.unset += 1,
                (Some(seen), Some(setting)) => survey.rows.push(Row {
                    trial: Trial::of(piece, rounds),
                    measured: evidence::measure(&seen, question),
                    seen,
                    setting,
                }),
            }
        }
        survey
    }

    /// The groups that have a value, best first; and those without, each as its label and number of pieces.
    pub fn groups(&self, question: &Question) -> (Vec<Gathered<'_, 'a>>, Vec<(String, usize)>) {
        let number = |row: &Row| match row.setting {
            Value::Number(number) => Some(number),
            Value::Words(_) => None,
        };
        let numbers: Vec<f64> = self.rows.iter().filter_map(number).collect();
        let classes = Classes::of(&question.by, &numbers, self.degrees);
        let mut by_label: BTreeMap<String, Vec<&Row>> = BTreeMap::new();
        for row in &self.rows {
            match &row.setting {
                Value::Number(number) => by_label
                    .entry(classes.label(*number))
                    .or_default()
                    .push(row),
                Value::Words(words) => {
                    for word in words {
                        by_label.entry(word.clone()).or_default().push(row);
                    }
                }
            }
        }
        let (mut groups, mut empty) = (Vec::new(), Vec::new());
        for (label, rows) in by_label {
            let of_pieces = rows.len();
            match Gathered::of(label, rows, question.order) {
                Ok(group) => groups.push(group),
                Err(label) => empty.push((label, of_pieces)),
            }
        }
        groups.sort_by(|a, b| question.order.best_first(a.estimate.mean, b.estimate.mean));
        (groups, empty)
    }
}

impl<'s, 'a> Gathered<'s, 'a> {
    /// Gives the label back where no row has a value.
    fn of(label: String, rows: Vec<&'s Row<'a>>, order: Order) -> Result<Self, String> {
        let of_pieces = rows.len();
        let mut measured: Vec<_> = rows
            .into_iter()
            .filter_map(|row| Some((row, row.measured.as_ref()?)))
            .collect();
        measured.sort_by(|a, b| order.best_first(a.1.value, b.1.value));
        let mut by_trial: BTreeMap<&Trial, Vec<f64>> = BTreeMap::new();
        for (row, measured) in &measured {
            by_trial.entry(&row.trial).or_default().push(measured.value);
        }
        let trials: BTreeMap<&Trial, f64> = by_trial
            .into_iter()
            .filter_map(|(trial, values)| Some((trial, stats::mean(&values)?)))
            .collect();
        let means: Vec<f64> = trials.values().copied().collect();
        match stats::estimate(&means) {
            None => Err(label),
            Some(estimate) => Ok(Self {
                label,
                of_pieces,
                rows: measured,
                trials,
                estimate,
            }),
        }
    }
}
