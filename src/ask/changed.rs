//! What drying or washing did to each piece, for questions about it: by the same road as `drying` and `washing` tell it.

use super::language::{Measure, Question};
use super::shown::shown;
use super::value::Value;
use crate::change::{self, Drying, Washing};
use crate::colour::{Lab, de00};
use crate::error::Result;
use crate::journal::Journal;
use crate::reading::State;
use crate::stats::weighted_mean;
use std::collections::HashMap;

/// Pieces by code; none where the question is about something else.
#[derive(Debug, Default)]
pub struct Changed(HashMap<String, Change>);

/// What became of one piece.
#[derive(Debug)]
pub struct Change {
    /// The change of the whole cloth, or why it was not measured.
    pub whole: std::result::Result<Value, Unmeasured>,
    /// Each colour after, with its share and how far it changed.
    colours: Vec<(Lab, f64, f64)>,
    /// How often it had been washed, where somebody said.
    pub washes: Option<u32>,
    /// Whether photos of one state contradict each other.
    pub disagree: bool,
}

/// Why a change was not measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Unmeasured {
    /// The photos were sooner mixed up than right.
    MixedUp,
    /// The light of both was guessed.
    Guessed,
    /// Both show exactly the same colours.
    SamePhoto,
    /// Most of the cloth became none of the other photo's colours.
    NoPartner,
}

/// The ends of a 95 % interval lie so many standard deviations from its middle.
const NINETY_FIVE: f64 = 1.96;

impl Changed {
    /// What the question's measure needs; nothing where that is no change.
    ///
    /// # Errors
    /// A journal that cannot be read.
    pub fn of(journal: &Journal, question: &Question) -> Result<Self> {
        let all = match question.wanted.measure() {
            Some(Measure::Lightening) => {
                let found = change::drying(&shown(journal, &[], &[State::Wet, State::Dry])?);
                found.pieces.iter().filter_map(dried).collect()
            }
            Some(Measure::Fading) => {
                let found = change::washing(&shown(journal, &[], &[State::Dry, State::Washed])?);
                // Of each piece the last counts, which was washed most.
                found.pieces.iter().filter_map(washed).collect()
            }
            _ => HashMap::new(),
        };
        Ok(Self(all))
    }

    /// The piece of this code.
    pub fn piece(&self, code: &str) -> Option<&Change> {
        self.0.get(code)
    }
}

impl Change {
    /// The mean change of the colours that are `asked` about in what the piece became, by share; of the whole cloth where all are.
    /// `None` where it was not measured or has none of them.
    pub fn value(&self, asked: Option<&dyn Fn(Lab) -> bool>) -> Option<Value> {
        let whole = self.whole.ok()?;
        let Some(asked) = asked else {
            return Some(whole);
        };
        let colours = self.colours.iter().filter(|(lab, ..)| asked(*lab));
        let value = weighted_mean(colours.map(|&(_, share, change)| (change, share)))?;
        Some(Value { value, ..whole })
    }
}

fn dried(piece: &Drying) -> Option<(String, Change)> {
    let codes = || piece.cautions.iter().map(|caution| caution.code.as_str());
    if codes().any(|code| matches!(code, "no-wet-photo" | "no-dry-photo")) {
        return None;
    }
    let whole = match piece.lightening {
        Some(_) if piece.mixed_up => Err(Unmeasured::MixedUp),
        Some(value) => Ok(valued(value, piece.high)),
        None => Err(why(codes())),
    };
    let colours = piece.matched.iter();
    let change = Change {
        whole,
        colours: colours
            .map(|m| (m.dry, m.share, m.dry.l - m.wet.l))
            .collect(),
        washes: None,
        disagree: codes().any(|code| code == "photos-disagree"),
    };
    Some((piece.piece.clone(), change))
}

fn washed(piece: &Washing) -> Option<(String, Change)> {
    let codes = || piece.cautions.iter().map(|caution| caution.code.as_str());
    if codes().any(|code| code == "no-dry-photo") {
        return None;
    }
    let colours: Vec<(Lab, f64, f64)> = (piece.matched.iter())
        .map(|m| (m.after, m.share, de00(m.before, m.after)))
        .collect();
    let mean = weighted_mean(colours.iter().map(|&(_, share, change)| (change, share)));
    let reach = piece
        .de_f_high
        .zip(piece.de_f)
        .map(|(high, middle)| high - middle);
    let whole = match mean {
        Some(_) if codes().any(|code| code == "washed-before-dry") => Err(Unmeasured::MixedUp),
        Some(mean) => Ok(valued(mean, reach.map(|reach| mean + reach))),
        None => Err(why(codes())),
    };
    let change = Change {
        whole,
        colours,
        washes: piece.washes,
        disagree: codes().any(|code| code == "photos-disagree"),
    };
    Some((piece.piece.clone(), change))
}

fn valued(value: f64, high: Option<f64>) -> Value {
    let reach = high.map_or(0.0, |high| high - value);
    Value {
        value,
        variance: (reach / NINETY_FIVE).powi(2),
    }
}

fn why<'a>(codes: impl Iterator<Item = &'a str>) -> Unmeasured {
    for code in codes {
        match code {
            "light-guessed" => return Unmeasured::Guessed,
            "same-photo" => return Unmeasured::SamePhoto,
            _ => {}
        }
    }
    Unmeasured::NoPartner
}
