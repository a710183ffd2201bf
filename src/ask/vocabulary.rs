//! The words of the question language, all in one table. To teach it a word, add it here.

use super::terms::{Factor, Measure, Narrowing, Order};
use crate::reading::State;
use crate::words::Family;

/// What a phrase means.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Meaning {
    /// Nothing that changes the answer.
    Filler,
    /// A superlative: the measure and its end.
    Best(Measure, Order),
    /// The measure's own name.
    Name(Measure),
    /// `most` or `least` of what follows.
    Amount(Order),
    /// What is compared.
    By(Factor),
    /// A colour family.
    Family(Family),
    /// What the photos show the piece as.
    In(State),
    /// A filter: a name from the journal follows.
    Narrow(Narrowing),
    /// Could mean several things; the text says which words to use.
    Unclear(&'static str),
}

/// What can be asked, for a reader whose question was not understood.
pub const CAN_BE_ASKED: &str = "A question names
  what to compare:      mordant, plant, bundle, pot, layer, simmer temperature, simmer time, heat,
                        fibre, weave, round, piece, or a column of your own sheet;
  what to look for:     warmest, coolest, lightest, darkest, strongest, palest, most yellow,
                        dried lightest;
  and, if you like,
  of which colour:      yellows, browns, greys …
  among which pieces:   with walnut, without iron, on silk, wet, washed.
For example: which mordant gave the warmest yellows?";

/// The longest phrase of the table, in words.
pub const LONGEST_PHRASE: usize = 4;

/// Words after a filter's name that say what kind of name it is: `with alum mordant`, `on silk cloth`.
pub const KINDS_OF_NAME: [&str; 11] = [
    "mordant", "mordants", "salt", "plant", "plants", "leaf", "leaves", "cloth", "cloths",
    "fabric", "fibre",
];

/// Articles are dropped before phrases are looked for, so that `dried the lightest` is `dried lightest`.
pub const ARTICLES: [&str; 3] = ["a", "an", "the"];

/// The meaning of a phrase of one to four words in lower case, single spaces between them, no articles.
pub fn meaning(phrase: &str) -> Option<Meaning> {
    table()
        .find(|(known, _)| *known == phrase)
        .map(|(_, meaning)| meaning)
        .or_else(|| Family::from_word(phrase).map(Meaning::Family))
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
    TABLE
        .iter()
        .flat_map(|(phrases, meaning)| phrases.split(" | ").map(|phrase| (phrase, meaning.clone())))
}

use Factor::*;
use Meaning::*;
use Measure::*;
use Order::*;

const TABLE: &[(&str, Meaning)] = &[
    (
        "which | what | who | whose | that | this | these | those | it | its | they | them | their | there",
        Filler,
    ),
    (
        "i | we | us | me | my | our | mine | ours | you | your | please | show | tell | find | list",
        Filler,
    ),
    (
        "is | are | was | were | be | been | do | does | did | has | have | had | can | will | would",
        Filler,
    ),
    (
        "of | in | to | for | from | at | by | per | each | every | all | among | between | when | while | once | still | and | or | if",
        Filler,
    ),
    (
        "gave | give | gives | given | giving | make | makes | made | making | produce | produces | produced",
        Filler,
    ),
    (
        "yield | yields | yielded | bring | brings | brought | turn | turns | turned | leave | left | print | prints | printed",
        Filler,
    ),
    (
        "get | gets | got | come | comes | came | come out | comes out | came out | turned out | so far | ever | until now | here",
        Filler,
    ),
    (
        "colour | colours | color | colors | shade | shades | tone | tones | result | results | state | photo | photos",
        Filler,
    ),
    (
        "cloth | cloths | fabric | piece | pieces | print of | value | values | kind of | sort of | type of | kind | sort | type",
        Filler,
    ),
    (
        "how does | how do | how did | affect | affects | affected | change | changes | influence | influences",
        Filler,
    ),
    ("warmest | warmer | warm | most warm", Best(Warmth, Highest)),
    (
        "coolest | cooler | cool | coldest | colder | least warm",
        Best(Warmth, Lowest),
    ),
    (
        "lightest | lighter | light | most light",
        Best(Lightness, Highest),
    ),
    (
        "darkest | darker | dark | deepest | deeper | deep",
        Best(Lightness, Lowest),
    ),
    (
        "strongest | stronger | strong | most vivid | vivid | most saturated | most intense | most colourful | most colorful",
        Best(Chroma, Highest),
    ),
    (
        "palest | paler | pale | weakest | faintest | dullest | duller | dull | least vivid | least saturated",
        Best(Chroma, Lowest),
    ),
    (
        "largest share | biggest share | highest share | how much",
        Best(Share, Highest),
    ),
    ("smallest share | lowest share", Best(Share, Lowest)),
    (
        "dried lightest | dried lighter | dries lightest | dries lighter | dry lighter | dried most | dries most",
        Best(Lightening, Highest),
    ),
    (
        "lightened most | lightens most | lighten most | most lightening | lightest on drying | lighter on drying",
        Best(Lightening, Highest),
    ),
    (
        "lightened most on drying | gained most lightness | most lightening on drying",
        Best(Lightening, Highest),
    ),
    (
        "dried darkest | dried darker | dries darkest | dries darker | dried least | dries least",
        Best(Lightening, Lowest),
    ),
    (
        "lightened least | lightens least | lighten least | least lightening | lightened least on drying",
        Best(Lightening, Lowest),
    ),
    ("warmth", Name(Warmth)),
    ("lightness", Name(Lightness)),
    ("chroma | saturation | strength of colour", Name(Chroma)),
    ("share", Name(Share)),
    (
        "lightening | lightening on drying | drying",
        Name(Lightening),
    ),
    ("most | highest | greatest | more", Amount(Highest)),
    ("least | lowest | smallest | less", Amount(Lowest)),
    (
        "mordant | mordants | mordanting | soak | soaks | salt | salts",
        By(Mordant),
    ),
    ("plant | plants | leaf | leaves | species", By(Plant)),
    ("bundle | bundles | roll | rolls", By(Bundle)),
    ("pot | pots", By(Pot)),
    (
        "layer | layers | place in roll | place in bundle",
        By(Layer),
    ),
    (
        "simmer temperature | simmering temperature | simmer temperatures | temperature | temperatures | simmer heat",
        By(SimmerTemperature),
    ),
    (
        "simmer time | simmering time | simmer times | time | simmer minutes | minutes | length of simmer | simmer length | simmer duration",
        By(SimmerTime),
    ),
    (
        "heat | heating | kind of heat | simmer or steam | steam or simmer",
        By(Heat),
    ),
    ("fibre | fibres | fiber | fibers", By(Fibre)),
    ("weave | weaves", By(Weave)),
    ("round | rounds | number of rounds", By(Round)),
    (
        "which piece | which pieces | what piece | by piece | each piece | piece by piece | which cloth | which cloths",
        By(Piece),
    ),
    ("wet", In(State::Wet)),
    ("dry | dried | after drying | unwashed", In(State::Dry)),
    (
        "washed | after washing | after wash | after being washed",
        In(State::Washed),
    ),
    ("worn | after wearing | after being worn", In(State::Worn)),
    ("with | using", Narrow(Narrowing::With)),
    ("without | with no", Narrow(Narrowing::Without)),
    ("on", Narrow(Narrowing::On)),
    (
        "best | better | nicest | prettiest | finest | good | worst | bad",
        Unclear("say what is best about it: warmest, lightest, strongest or most yellow"),
    ),
    (
        "brightest | brighter | bright",
        Unclear("it can mean light or strong: say lightest or strongest"),
    ),
    (
        "richest | rich",
        Unclear("it can mean dark or strong: say darkest or strongest"),
    ),
];

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
            assert!(
                !words.iter().any(|w| ARTICLES.contains(w)),
                "article: {phrase}"
            );
            assert_eq!(phrase, phrase.to_lowercase());
            assert_eq!(Family::from_word(phrase), None, "also a colour: {phrase}");
        }
    }
}
