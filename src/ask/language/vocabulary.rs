//! What the words of the question language mean. To teach it a word, add it to the table; the words for numbers and days stand in
//! `quantity`.

mod table;

use super::terms::{Factor, Measure, Order, Part};
use super::words::key;
use crate::reading::State;
use crate::words::Family;
use std::fmt;

/// What a phrase means.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Meaning {
    /// Nothing that changes the answer.
    Filler,
    /// A word for pieces.
    Pieces,
    /// `prints`, which can be what is measured or what a plant does.
    Print,
    /// A superlative, or a word that stands for one: the measure and its end.
    Best(Measure, Order),
    /// `reddest` and `greenest`, which mean a hue only between red and green.
    Towards(Order),
    /// The measure's own name.
    Name(Measure),
    /// `most` or `least` of what stands beside it.
    Amount(Order),
    /// What is compared.
    By(Factor),
    /// More of a number: `longer simmering`.
    Rising(Factor),
    /// A colour family.
    Family(Family),
    /// What the photos show the piece as.
    In(State),
    /// Where on the cloth.
    On(Part),
    /// How it was heated, `simmer` or `steam`.
    Heated(&'static str),
    /// A kind of heat by itself, `simmer` or `steam`.
    Heating(&'static str),
    /// A name from the journal follows.
    Narrow(Narrowing),
    /// One thing against another.
    Against,
    /// Two things together.
    And,
    /// How one thing changes another.
    Changes,
    /// What one thing does.
    Does,
    /// How many pieces.
    Count,
    /// What to try next.
    Next,
    /// A denial that nothing known follows.
    Denial,
    /// Could mean several things; the text says which words to use.
    Unclear(&'static str),
}

impl Meaning {
    /// Whether a column of this name goes before it: such words seldom change an answer.
    pub fn yields(&self) -> bool {
        matches!(
            self,
            Self::Filler | Self::Pieces | Self::Print | Self::Heating(_)
        )
    }
}

/// What a name that follows says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Narrowing {
    /// Has the plant or mordant.
    With,
    /// Has it not.
    Without,
    /// Has it or has it not, one against the other.
    WithOrWithout,
    /// Is of the fibre or weave.
    On,
    /// Either, as the name is.
    For,
    /// Colours that this plant printed.
    PrintedBy,
    /// How strong the soak in this mordant was.
    StrengthOf,
    /// How old this mordant's bath was.
    AgeOf,
    /// A column of the sheet.
    Column,
    /// A piece, or a colour in numbers.
    NearTo,
}

/// What can be asked, for a reader whose question says nothing that can be answered.
pub const CAN_BE_ASKED: &str = "A question names
  what to look for:    warmest, darkest, strongest, most even, most yellow, dried lightest, faded least …;
  what to compare:     mordant, plant, layer, fibre, simmer time, month, a column of your own sheet …;
  and, if you like,    of which colour (yellows, browns, in prints) and among which pieces (with walnut,
                       without iron, on silk, above 88 C, since June, wet).
For example: which mordant gave the warmest yellows? `filemot ask --help`, or docs/questions.md, tell the rest.";

/// The longest phrase of the table, in words.
pub const LONGEST_PHRASE: usize = 4;

/// Words beside a name that say what kind of name it is: `with alum mordant`, `on silk cloth`.
pub const KINDS_OF_NAME: [&str; 16] = [
    "mordant", "mordants", "salt", "soak", "bath", "plant", "plants", "leaf", "leaves", "cloth",
    "cloths", "fabric", "fabrics", "fibre", "fiber", "weave",
];

/// Words for pieces.
pub const PIECES: [&str; 6] = ["piece", "pieces", "cloth", "cloths", "fabric", "fabrics"];

/// Words that may stand between `with` and its name.
pub const DETERMINERS: [&str; 7] = ["any", "some", "my", "our", "only", "just", "all"];

/// The meaning of a phrase of one to four words in lower case, single spaces between them, no articles.
pub fn meaning(phrase: &str) -> Option<Meaning> {
    table()
        .find(|(known, _)| *known == phrase)
        .map(|(_, meaning)| meaning)
        .or_else(|| Family::from_word(phrase).map(Meaning::Family))
}

/// Whether a name reads like a word of the language that changes the answer.
pub fn is_word(name: &str) -> bool {
    meaning(&key(name)).is_some_and(|meaning| !meaning.yields())
}

/// Every phrase of the table and every family, for finding near ones.
pub fn phrases() -> impl Iterator<Item = (String, Meaning)> {
    let families = Family::ALL
        .into_iter()
        .map(|family| (family.plural(), Meaning::Family(family)));
    table()
        .map(|(phrase, meaning)| (phrase.to_owned(), meaning))
        .chain(families)
}

fn table() -> impl Iterator<Item = (&'static str, Meaning)> {
    table::TABLE
        .iter()
        .flat_map(|(phrases, meaning)| phrases.split(" | ").map(|phrase| (phrase, meaning.clone())))
}

/// A setting's name in a reading: seasons say whose they are, and a column that is called like a word of the language says that
/// it is a column.
pub struct Named<'a>(pub &'a Factor);

impl fmt::Display for Named<'_> {
    fn fmt(&self, to: &mut fmt::Formatter) -> fmt::Result {
        match self.0 {
            Factor::Season => write!(to, "{} of the northern half", self.0),
            Factor::Column(name) if is_word(name) => write!(to, "column {name}"),
            factor => write!(to, "{factor}"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn no_phrase_stands_twice_or_is_out_of_reach() {
        let mut seen = BTreeSet::new();
        for (phrase, _) in table() {
            assert!(seen.insert(phrase), "twice: {phrase}");
            let words: Vec<&str> = phrase.split(' ').collect();
            assert!(words.len() <= LONGEST_PHRASE, "too long: {phrase}");
            assert_eq!(phrase, key(phrase), "articles or marks");
            assert_eq!(Family::from_word(phrase), None, "also a colour: {phrase}");
        }
    }
}
