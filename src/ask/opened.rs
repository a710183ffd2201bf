//! Questions to an open journal.

use super::{Answer, Changed, Known, Names, answer, read, states};
use crate::colour::Lab;
use crate::error::Result;
use crate::journal::record::Studio;
use crate::journal::{Degrees, Journal, colour_words};
use crate::reading::State;
use crate::words::Own;
use jiff::civil::Date;

/// The answer from everything the journal holds; `today` is what “since June” is reckoned from.
///
/// # Errors
/// A question that cannot be read: the sentence says which word, and what can be asked. A journal that cannot be read.
pub fn of_journal(
    journal: &Journal,
    question: &str,
    degrees: Degrees,
    today: Date,
) -> Result<Answer> {
    let own = own_words(&journal.studio()?);
    let names: Vec<String> = own.iter().map(|word| word.name.clone()).collect();
    let dry = journal.gist(&[State::Dry])?;
    let asked = read(question, &Names::of(&dry.pieces, &names), today)?;
    let gist = match states(&asked) {
        [State::Dry] => dry,
        states => journal.gist(states)?,
    };
    let baths = journal.baths()?;
    let changed = Changed::of(journal, &asked)?;
    let known = Known {
        gist: &gist,
        baths: &baths,
        own: &own,
        changed: &changed,
        degrees,
    };
    answer(question, asked, &known)
}

/// The studio's own colour words, in order.
pub fn own_words(studio: &Studio) -> Vec<Own> {
    let word = |(name, lab, within): (&str, Lab, f64)| Own {
        name: name.to_owned(),
        lab,
        within,
    };
    colour_words(studio).map(word).collect()
}
