//! What pieces are to be near to: a piece, or a colour in numbers.

use super::kind::Kind;
use super::names::Names;
use super::question::Target;
use super::refusal;
use super::words::Word;
use crate::colour::{Lab, hex_to_lab};
use crate::error::{Error, Result};

/// The target at the start of `words`, and how many words it takes; `phrase` is what stands before it.
///
/// # Errors
/// The caller's: it is neither a piece of the journal nor a colour in numbers.
pub fn target(words: &[Word], names: &Names, phrase: &str) -> Result<(usize, Target)> {
    if let Some(lab) = words.first().filter(|word| word.text.starts_with('#')) {
        let colour = hex_to_lab(&lab.text).map(|lab| (1, Target::Colour(lab)));
        return colour.ok_or_else(|| {
            Error::caller(format!(
                "“{}” is no colour: after # stand six digits 0 to 9 or a to f, as in #b08a4e.",
                lab.written
            ))
        });
    }
    let skip = usize::from(words.first().is_some_and(|word| word.text == "piece"));
    if let Some((length, name)) = names.longest(&words[skip..], |kind| kind == Kind::Piece) {
        return match name.kinds.as_slice() {
            [(_, code)] => Ok((skip + length, Target::Piece(code.clone()))),
            _ => Err(refusal::several_codes(&name)),
        };
    }
    match numbers(words) {
        Some((length, lab)) => Ok((length, Target::Colour(checked(lab)?))),
        None => Err(refusal::no_target(phrase, words.get(skip), names)),
    }
}

/// Three numbers, with or without their letters: `62,8,45`, `L* 62 a* 8 b* 45`, `L*62`.
fn numbers(words: &[Word]) -> Option<(usize, [f64; 3])> {
    let mut at = 0;
    let mut numbers = [0.0; 3];
    if words.first()?.text == "lab" {
        at += 1;
    }
    for (number, letter) in numbers.iter_mut().zip(["l", "a", "b"]) {
        at += usize::from(words.get(at)?.text == letter);
        let text = words.get(at)?.text.as_str();
        let text = text.strip_prefix(letter).unwrap_or(text);
        *number = text.trim_start_matches('*').parse().ok()?;
        at += 1;
    }
    Some((at, numbers))
}

fn checked([l, a, b]: [f64; 3]) -> Result<Lab> {
    let within = (0.0..=100.0).contains(&l) && a.abs() <= 150.0 && b.abs() <= 150.0;
    within.then(|| Lab::new(l, a, b)).ok_or_else(|| {
        Error::caller(format!(
            "{l},{a},{b} is no colour: the first number, L*, goes from 0 to 100, a* and b* from -150 to 150."
        ))
    })
}
