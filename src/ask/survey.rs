//! The pieces that a question is about.

use super::Known;
use super::evidence::{self, Measured, Seen};
use super::language::{Factor, Measure, Order, Question, Wanted};
use super::setting;
use super::value::{Shade, Value, limits, turned};
use crate::colour;
use crate::journal::gist::{Glance, Piece, Round};
use rayon::prelude::*;
use std::cmp::Ordering;
use std::collections::HashMap;

/// Everything the journal tells about a question.
#[derive(Debug)]
pub struct Survey<'a> {
    /// What is known beside the question.
    pub known: &'a Known<'a>,
    /// The question.
    pub question: &'a Question,
    /// Pieces that were seen in the right state and whose setting is known.
    pub rows: Vec<Row<'a>>,
    /// Codes of the pieces without a photo in the right state.
    pub unseen: Vec<&'a str>,
    /// Of those of which the journal does not tell whether the question is about them.
    pub untold: Vec<&'a str>,
    /// Of those whose setting the journal does not tell.
    pub unset: Vec<&'a str>,
    /// Of those that were steamed, where the question is about the simmer.
    pub steamed: Vec<&'a str>,
    trials: Vec<Trial<'a>>,
}

/// One piece of the survey.
#[derive(Debug)]
pub struct Row<'a> {
    /// What was seen of it.
    pub seen: Seen<'a>,
    /// Its value of the setting; no words where no setting is asked about.
    pub setting: setting::Value,
    /// The number of the trial it belongs to.
    pub trial: usize,
    /// Its value of the measure; `None` where it has no colour of the family.
    pub measured: Option<Measured>,
}

/// What counts as one independent trial.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Trial<'a> {
    /// The pot.
    Pot(&'a str),
    /// The bundle, where no pot is known.
    Bundle(&'a str),
    /// The piece by itself, where neither is known.
    Piece(&'a str),
}

impl<'a> Trial<'a> {
    /// The trial of a piece after these rounds.
    fn of(piece: &'a Piece, rounds: &'a [Round]) -> Self {
        let last = rounds.last();
        let pot = last.and_then(|r| r.pot.as_deref()).map(Self::Pot);
        let bundle = || last.and_then(|r| r.bundle.as_deref()).map(Self::Bundle);
        pot.or_else(bundle).unwrap_or(Self::Piece(&piece.code))
    }
}

impl<'a> Survey<'a> {
    /// Looks at every piece that passes the question's filters.
    pub fn of(known: &'a Known<'a>, question: &'a Question) -> Self {
        let pieces = known.gist.pieces.par_iter().enumerate();
        let looked = pieces.map(|(n, piece)| look(known, question, piece, known.gist.photos_of(n)));
        let mut survey = Self {
            known,
            question,
            rows: Vec::new(),
            unseen: Vec::new(),
            untold: Vec::new(),
            unset: Vec::new(),
            steamed: Vec::new(),
            trials: Vec::new(),
        };
        let mut trials = HashMap::new();
        let mut last = None;
        let mut codes = known.gist.pieces.iter().map(|piece| &*piece.code);
        let mut row = |looked| {
            // One was looked at for each piece.
            let code = codes.next().unwrap_or_default();
            match looked {
                Looked::Aside => {}
                Looked::Unseen => survey.unseen.push(code),
                Looked::Untold => survey.untold.push(code),
                Looked::Unset => survey.unset.push(code),
                Looked::Steamed => survey.steamed.push(code),
                Looked::Row(mut row) => {
                    let trial = Trial::of(row.seen.piece, row.seen.rounds);
                    // Pieces of one pot mostly come one after another.
                    row.trial = match last {
                        Some((known, number)) if known == trial => number,
                        _ => *trials.entry(trial).or_insert_with(|| {
                            survey.trials.push(trial);
                            survey.trials.len() - 1
                        }),
                    };
                    last = Some((trial, row.trial));
                    return Some(row);
                }
            }
            None
        };
        let looked = looked.collect::<Vec<_>>();
        // The rows take the place of what was looked at: there may be hundreds of thousands.
        survey.rows = looked.into_iter().filter_map(&mut row).collect();
        survey.turn();
        survey
    }

    /// Hues are angles: those of all pieces are reckoned about their own mean, so that 359° and 1° lie 2° apart.
    fn turn(&mut self) {
        if self.question.wanted.measure() != Some(Measure::Hue) {
            return;
        }
        let values = || {
            self.rows
                .iter()
                .filter_map(|row| row.measured.map(|m| m.value.value))
        };
        let (sin, cos) = values()
            .map(|hue| hue.to_radians().sin_cos())
            .fold((0.0, 0.0), |(s, c), (sin, cos)| (s + sin, c + cos));
        let about = sin.atan2(cos).to_degrees().rem_euclid(360.0);
        for measured in self.rows.iter_mut().filter_map(|row| row.measured.as_mut()) {
            let value = &mut measured.value.value;
            *value = about + turned(*value - about);
        }
    }

    /// Whether the question is about the change in washing.
    pub fn is_of_washing(&self) -> bool {
        self.question.wanted.measure() == Some(Measure::Fading)
    }

    /// A number of the setting in the unit in which it is told.
    pub fn shown(&self, number: f64) -> f64 {
        match self.question.wanted.by() {
            Some(Factor::SimmerTemperature) => self.known.degrees.of_celsius(number),
            _ => number,
        }
    }

    /// The ends between which the measure can lie.
    pub fn limits(&self) -> (f64, f64) {
        let none = (f64::NEG_INFINITY, f64::INFINITY);
        self.question.wanted.measure().map_or(none, limits)
    }

    /// The trial of this number.
    pub fn trial(&self, number: usize) -> Trial<'a> {
        self.trials[number]
    }

    /// Compares two rows by their values, the better one first.
    pub fn best_first(&self, one: usize, other: usize) -> Ordering {
        let order = self.question.wanted.order().unwrap_or(Order::Highest);
        let value = |row: usize| self.rows[row].measured.map_or(f64::NAN, |m| m.value.value);
        order.best_first(value(one), value(other))
    }
}

/// What a piece that passes the filters has to say.
enum Looked<'a> {
    /// It does not pass the filters.
    Aside,
    /// It was not photographed in the states asked for.
    Unseen,
    /// The journal does not tell whether it passes the filters.
    Untold,
    /// The journal does not tell its setting.
    Unset,
    /// It was steamed, and so has no simmer.
    Steamed,
    /// Its row, whose trial is not numbered yet.
    Row(Row<'a>),
}

fn look<'a>(
    known: &'a Known<'a>,
    question: &'a Question,
    piece: &'a Piece,
    photos: &'a [Glance],
) -> Looked<'a> {
    let seen = match question.wanted {
        Wanted::Count { seen: false } => Some(Seen {
            piece,
            rounds: &piece.rounds,
            photos: Vec::new(),
        }),
        _ => evidence::seen(piece, photos, evidence::states(question)),
    };
    let rounds = seen.as_ref().map_or(&piece.rounds[..], |seen| seen.rounds);
    let passes = |filter| evidence::passes(filter, known, piece, rounds);
    let mut untold = false;
    for passes in question.filters.iter().map(passes) {
        match passes {
            Some(true) => {}
            Some(false) => return Looked::Aside,
            None => untold = true,
        }
    }
    if untold {
        return Looked::Untold;
    }
    let Some(seen) = seen else {
        return Looked::Unseen;
    };
    let setting = match question.wanted.by() {
        None => setting::Value::Words(Vec::new()),
        Some(by) => match setting::value(by, known, piece, rounds) {
            None if setting::is_steamed(by, rounds) => return Looked::Steamed,
            None => return Looked::Unset,
            Some(value) => value.among(question),
        },
    };
    Looked::Row(Row {
        measured: evidence::measure(&seen, question, known),
        setting,
        trial: 0,
        seen,
    })
}

impl Row<'_> {
    /// What can be said of it where nothing is measured: the colours asked about and their share.
    pub fn of_colours(&self, survey: &Survey) -> Option<Measured> {
        let colours = self.colours(survey);
        let share = colours.iter().map(|shade| shade.share).sum();
        Some(Measured {
            value: Value::firm(share),
            share,
            lab: colour::mean(colours.iter().map(|shade| (shade.lab, shade.share)))?,
        })
    }

    /// Its colours that the question asks about; shares are of the whole cloth.
    pub fn colours(&self, survey: &Survey) -> Vec<Shade> {
        let (question, known) = (survey.question, survey.known);
        let photos = evidence::shades(&self.seen, question, known, question.state);
        photos.into_iter().flatten().collect()
    }
}
