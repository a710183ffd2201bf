//! What drying and washing changed, as far as photos can tell it honestly.

use super::language::{Key, Messages, Value};
use crate::change::{self, Colour, Grade, Settings, Shown, Washing};
use crate::error::Caution;
use crate::journal::record::{Photo, Piece, Setting};
use crate::reading::State;

/// Cautions with which a change is not for customers: photos that may be mixed up, of another cloth, or in a guessed light.
const NOT_TOLD: [&str; 12] = [
    "backing-shows",
    "dried-darker",
    "dry-before-wet",
    "few-colours",
    "light-assumed",
    "light-guessed",
    "no-partner",
    "photos-disagree",
    "same-photo",
    "state-taken-as-dry",
    "washed-before-dry",
    "worn-before-dry",
];

/// A grade is told with a range of so many half steps at most: a wider one says nothing.
const WIDEST: usize = 4;

/// What drying and washing changed in a piece, a whole sentence each; none where it was not measured, or not well.
pub fn told(piece: &Piece, photos: &[Photo], messages: &Messages) -> Told {
    let shown: Vec<Shown> = photos
        .iter()
        .filter_map(|photo| shown(piece, photo))
        .collect();
    let washings = change::washing(&shown).pieces;
    let last = washings
        .iter()
        .rev()
        .find(|washing| washing.state == State::Washed);
    Told {
        drying: dried(&shown, messages),
        washing: last.and_then(|washing| washed(washing, messages)),
    }
}

/// What there is to tell of changes.
pub struct Told {
    drying: Option<String>,
    washing: Option<String>,
}

impl Told {
    /// Under which heading it stands, as the messages choose it.
    pub fn what(&self) -> &'static str {
        match (&self.drying, &self.washing) {
            (Some(_), None) => "drying",
            (None, Some(_)) => "washing",
            _ => "both",
        }
    }

    /// The sentences.
    pub fn sentences(self) -> Vec<String> {
        [self.drying, self.washing].into_iter().flatten().collect()
    }
}

fn dried(shown: &[Shown], messages: &Messages) -> Option<String> {
    let drying = change::drying(shown).pieces.pop()?;
    let (steps, low, high) = (drying.lightening?, drying.low?, drying.high?);
    // What may as well be no change is not told as one.
    if low <= 0.0 || drying.mixed_up || !is_told(&drying.cautions) {
        return None;
    }
    // A narrow range would be one number twice.
    let decimals = usize::from(high - low < 2.0);
    let number = |value: f64| messages.number(value, decimals);
    let with = [
        ("count", (steps.round() as i64).into()),
        ("steps", number(steps).into()),
        ("low", number(low).into()),
        ("high", number(high).into()),
    ];
    Some(messages.fill(Key::Dried, with))
}

fn washed(washing: &Washing, messages: &Messages) -> Option<String> {
    if !is_told(&washing.cautions) {
        return None;
    }
    let grade = Value::from(washing.grade?.to_string());
    let range = washing.grade_low.zip(washing.grade_high);
    let grade = match range.filter(|(low, high)| low != high) {
        None => grade,
        Some((low, high)) if steps(high, low) > WIDEST => {
            return Some(messages.say(Key::WashedOpen));
        }
        Some(range) => {
            let (low, high) = (range.0.to_string(), range.1.to_string());
            let with = [("grade", grade), ("low", low.into()), ("high", high.into())];
            messages.fill(Key::GradeRange, with).into()
        }
    };
    Some(match washing.washes {
        Some(washes) => {
            let with = [("washes", i64::from(washes).into()), ("grade", grade)];
            messages.fill(Key::Washed, with)
        }
        None => messages.fill(Key::WashedUntold, [("grade", grade)]),
    })
}

/// How many half steps lie between two grades of the grey scale.
fn steps(better: Grade, worse: Grade) -> usize {
    let between = Grade::bands().filter(|&(grade, ..)| worse < grade && grade <= better);
    between.count()
}

fn is_told(cautions: &[Caution]) -> bool {
    let barred = |caution: &Caution| NOT_TOLD.contains(&caution.code.as_str());
    !cautions.iter().any(barred)
}

/// Why drying or washing is left out of the note, though photos before and after it are there; no line where it is told.
pub fn untold(piece: &Piece, photos: &[Photo]) -> Vec<Caution> {
    let shown: Vec<Shown> = photos
        .iter()
        .filter_map(|photo| shown(piece, photo))
        .collect();
    let has = |state: State| shown.iter().any(|shown| shown.state == state);
    let drying = change::drying(&shown).pieces.pop();
    let dried = drying.filter(|_| has(State::Wet) && has(State::Dry));
    let washings = change::washing(&shown).pieces.into_iter();
    let washed = washings
        .rev()
        .find(|washing| washing.state == State::Washed)
        .filter(|_| has(State::Dry));
    let dried = dried.and_then(|drying| {
        let open = match drying.low {
            Some(low) => (low <= 0.0).then_some(NO_CHANGE),
            None => Some(UNDOUBTED),
        };
        why(&drying.cautions, open)
    });
    let washed = washed.and_then(|washing| {
        let open = washing.grade.is_none().then_some(UNDOUBTED);
        why(&washing.cautions, open)
    });
    let told = |what: &str, why: String| {
        let text = format!("The note of {} leaves out {what}: {why}", piece.code);
        Caution::new("change-not-in-note", text)
    };
    dried
        .map(|why| told("how it dried", why))
        .into_iter()
        .chain(washed.map(|why| told("how it stood washing", why)))
        .collect()
}

/// Why a change is not told that is none of its cautions.
const NO_CHANGE: &str =
    "it changed no more than its photos doubt, so it may not have changed at all.";
const UNDOUBTED: &str = "its photos do not tell how far it changed and how sure that is.";

/// What bars a change from notes: the first of its cautions that does, else what stands open.
fn why(cautions: &[Caution], open: Option<&str>) -> Option<String> {
    let barring = |caution: &&Caution| NOT_TOLD.contains(&caution.code.as_str());
    let barred = cautions.iter().find(barring).map(|c| c.text.clone());
    barred.or_else(|| open.map(str::to_owned))
}

/// What a photo shows, as far as change needs it; `None` without state or colours.
fn shown(piece: &Piece, photo: &Photo) -> Option<Shown> {
    let rounds = piece.rounds_shown(photo.taken.as_deref());
    let last = rounds.last();
    let reading = &photo.reading;
    let state = photo.state?;
    reading.mean_lightness()?;
    let colours = reading.swatches.iter().map(|swatch| Colour {
        lab: swatch.lab,
        share: swatch.share,
        doubt: swatch.doubt,
    });
    Some(Shown {
        piece: piece.code.clone(),
        file: photo.file.clone(),
        state,
        washes: photo.washes.or_else(|| in_sheet(piece, state)),
        taken: photo.taken.clone(),
        round: rounds.len(),
        made: last.and_then(|round| round.made.clone()),
        settings: Settings {
            trial: last.and_then(|round| round.trial()).map(str::to_owned),
            ..Settings::default()
        },
        basis: reading.basis(),
        cautions: reading.cautions.clone(),
        colours: colours.collect(),
    })
}

/// The column `washes` of the studio's sheet, for photos of which nobody said how often the piece was washed.
fn in_sheet(piece: &Piece, state: State) -> Option<u32> {
    let washed = matches!(state, State::Washed | State::Worn);
    match piece
        .rounds
        .last()?
        .settings
        .get("washes")
        .filter(|_| washed)?
    {
        Setting::Number(number) if *number >= 1.0 && number.fract() == 0.0 => Some(*number as u32),
        _ => None,
    }
}
