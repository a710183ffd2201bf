//! The studio names its own colours.

use super::language::{Colours, Names, read};
use super::opened::own_words;
use crate::colour::{Lab, de00};
use crate::error::{Error, Result};
use crate::journal::record::Photo;
use crate::journal::{Journal, check_colour_word, colour_word_name, colour_word_value};
use crate::reading::{State, Swatch};
use crate::words::{Family, Own, called_otherwise, lab_from_text};
use jiff::civil::Date;
use std::cmp::Ordering;

/// A colour word that was named.
#[derive(Clone, Debug, PartialEq)]
pub struct Named {
    /// The word as it is kept.
    pub word: Own,
    /// What to know of it, one sentence each: where its middle was taken from, what it meant before, what the standard says, how to
    /// ask for it, which others it overlaps.
    pub told: Vec<String>,
}

/// Gives the studio a colour word, or one that it has another meaning: `middle` is L\*,a\*,b\* or the code of a piece, whose largest
/// colour when last washed, else dry, is meant; `within` is how far from it a colour may be, CIEDE2000.
///
/// # Errors
/// The caller's, where it can be no word, is the standard's name for other colours, no question could name it, or there is no such
/// colour.
pub fn name_colour(
    journal: &mut Journal,
    name: &str,
    middle: &str,
    within: f64,
    today: Date,
) -> Result<Named> {
    let (lab, from) = meant(journal, middle)?;
    let (key, value) = colour_word_value(name, lab, within);
    if let Some(wrong) = check_colour_word(&key, &value) {
        return Err(Error::caller(format!("“{name}” {wrong}.")));
    }
    let word = Own {
        name: key.trim_start_matches("word ").to_owned(),
        lab,
        within,
    };
    let (before, others): (Vec<Own>, Vec<Own>) = own_words(&journal.studio()?)
        .into_iter()
        .partition(|other| colour_word_name(&other.name) == key);
    let mut told: Vec<String> = from.into_iter().collect();
    told.extend(
        before
            .iter()
            .filter_map(|before| meant_before(before, &word)),
    );
    told.extend(standard(&word)?);
    told.extend(heard(&word, &others, today)?);
    told.extend(others.iter().filter_map(|other| overlap(&word, other)));
    journal.set(&key, Some(&value))?;
    Ok(Named { word, told })
}

/// Drops a colour word of the studio's own, and gives back what it meant.
///
/// # Errors
/// The caller's, where there is no such word.
pub fn drop_colour_word(journal: &mut Journal, name: &str) -> Result<Own> {
    let key = colour_word_name(name);
    let words = own_words(&journal.studio()?);
    let found = words
        .iter()
        .find(|word| colour_word_name(&word.name) == key);
    let Some(word) = found else {
        let names: Vec<&str> = words.iter().map(|word| word.name.as_str()).collect();
        let there = match names[..] {
            [] => "there are none yet".to_owned(),
            _ => format!("there are {}", names.join(", ")),
        };
        return Err(Error::caller(format!(
            "“{name}” is no colour word of your own; {there}."
        )));
    };
    journal.set(&key, None)?;
    Ok(word.clone())
}

/// The middle of a word, and what to say of where it was taken from.
fn meant(journal: &Journal, text: &str) -> Result<(Lab, Option<String>)> {
    if let Some(piece) = journal.piece(text)? {
        let (photo, swatch) = shown(&piece.code, &journal.photos_of(&piece.code)?)?;
        return Ok((swatch.lab, Some(taken_from(&piece.code, &photo, &swatch))));
    }
    match text.contains(',') {
        true => Ok((lab_from_text(text)?, None)),
        false => Err(Error::caller(format!(
            "“{text}” is neither a piece of the journal nor a colour: write a piece's code, or L*, a* and b* with commas \
             between, such as 45,32,40."
        ))),
    }
}

/// The latest washed photo of a piece that has colours, else the latest dry one, and its largest colour.
fn shown(code: &str, photos: &[Photo]) -> Result<(Photo, Swatch)> {
    let latest = |state: State| {
        let seen = photos.iter().filter(|photo| photo.state == Some(state));
        seen.filter_map(|photo| {
            let swatches = photo.reading.swatches.iter();
            Some((photo, swatches.max_by(|a, b| a.share.total_cmp(&b.share))?))
        })
        .max_by_key(|(photo, _)| (&photo.taken, photo.washes, photo.id))
    };
    let found = latest(State::Washed).or_else(|| latest(State::Dry));
    found
        .map(|(photo, swatch)| (photo.clone(), swatch.clone()))
        .ok_or_else(|| {
            Error::caller(format!(
                "{code} has no dry or washed photo in which colours were measured: photograph it dry first, or give the colour in numbers."
            ))
        })
}

fn taken_from(code: &str, photo: &Photo, swatch: &Swatch) -> String {
    let state = photo.state.map_or("", State::word);
    let which = photo
        .file
        .as_deref()
        .map_or_else(String::new, |file| format!(" {file}"));
    let doubt = swatch.doubt.map_or_else(String::new, |doubt| {
        format!(", known to give or take {doubt:.1}")
    });
    format!(
        "Taken from {code}, {state} photo{which}: its largest colour, {:.0} % of the cloth{doubt}.",
        100.0 * swatch.share
    )
}

/// What a word meant until now.
fn meant_before(before: &Own, now: &Own) -> Option<String> {
    let Own { lab, within, .. } = before;
    (before != now).then(|| {
        format!(
            "Until now it meant L* {:.1}, a* {:.1}, b* {:.1}, within {within}.",
            lab.l, lab.a, lab.b
        )
    })
}

/// That the standard uses the word, one that people use in many ways (brown), for other colours.
///
/// # Errors
/// The caller's, where the word is the standard's alone (moderate yellow): whoever knows the standard would take it otherwise.
fn standard(word: &Own) -> Result<Option<String>> {
    let Some(other) = called_otherwise(&word.name, word.lab) else {
        return Ok(None);
    };
    let name = &word.name;
    match name.contains([' ', '-']) {
        true => Err(Error::caller(format!(
            "“{name}” is what the standard (ISCC-NBS) calls other colours, and this one it calls “{other}”: choose a word of your own."
        ))),
        false => Ok(Some(format!(
            "The standard (ISCC-NBS) calls this colour “{other}”, and others “{name}”."
        ))),
    }
}

/// What to know of asking for a word.
///
/// # Errors
/// The caller's, where no question can tell it from another word.
fn heard(word: &Own, others: &[Own], today: Date) -> Result<Option<String>> {
    // Of words that questions cannot tell apart the last one is heard.
    let all: Vec<String> = [word]
        .into_iter()
        .chain(others)
        .map(|word| word.name.clone())
        .collect();
    let names = Names::of(&[], &all);
    let hears = |said: &str| {
        let question = read(&format!("how many pieces have {said}"), &names, today);
        question.ok().and_then(|question| question.colours)
    };
    let name = &word.name;
    match hears(&format!("\"{name}\"")) {
        Some(Colours::Own(other)) if other == *name => {}
        Some(Colours::Own(other)) => {
            return Err(Error::caller(format!(
                "In a question “{name}” cannot be told from your colour word “{other}”: choose another word, or drop that one first."
            )));
        }
        _ => {
            return Err(Error::caller(format!(
                "“{name}” cannot be a colour word, since no question could name it: choose another, such as rust."
            )));
        }
    }
    Ok(match (hears(name), Family::from_word(name)) {
        (Some(Colours::Own(_)), None) => None,
        (Some(Colours::Own(_)), Some(family)) => Some(format!(
            "In questions “{name}” now means this and no longer the standard's {}.",
            family.plural()
        )),
        _ => Some(format!(
            "“{name}” is a word of questions as well: put it in quotation marks when you ask for the colour."
        )),
    })
}

/// Which of two words counts for a colour that both reach; see [`crate::words::own`].
fn overlap(word: &Own, other: &Own) -> Option<String> {
    if !word.overlaps(other) {
        return None;
    }
    let (name, far) = (&other.name, de00(word.lab, other.lab));
    if far > 0.0 {
        return Some(format!(
            "It overlaps with “{name}”, whose middle is {far:.1} away: a colour within both is called by the nearer middle."
        ));
    }
    let (counts, why) = match word.within.total_cmp(&other.within) {
        Ordering::Less => (&word.name, "which reaches less far"),
        Ordering::Greater => (name, "which reaches less far"),
        Ordering::Equal => (
            name.min(&word.name),
            "the first by the alphabet, since both reach as far",
        ),
    };
    Some(format!(
        "It has the same middle as “{name}”: a colour within both is called “{counts}”, {why}."
    ))
}
