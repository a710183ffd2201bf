//! Sentences for questions that cannot be read.

use super::kind::Kind;
use super::names::{Name, Names};
use super::nearest::nearest;
use super::quantity;
use super::terms::Factor;
use super::vocabulary::{CAN_BE_ASKED, Meaning, phrases};
use super::words::{Word, joined, typed};
use crate::error::Error;

/// There is no word in it.
pub fn empty() -> Error {
    Error::caller(format!("The question is empty.\n{CAN_BE_ASKED}"))
}

/// Some words mean nothing known; with the nearest known words and where the others are told.
pub fn not_understood(unknown: &[&[Word]], names: &Names) -> Error {
    let mut sentences: Vec<String> = Vec::new();
    for words in unknown {
        let sentence = match advice(&joined(words), names) {
            Some(advice) => format!("“{}” was not understood; {advice}.", typed(words)),
            None => format!("“{}” was not understood.", typed(words)),
        };
        if !sentences.contains(&sentence) {
            sentences.push(sentence);
        }
    }
    Error::caller(format!("{} {WHERE_TOLD}", sentences.join(" ")))
}

/// It does not say what is measured; `by` is what it compares, where it does.
pub fn no_measure(by: Option<&Factor>) -> Error {
    Error::caller(match by {
        Some(_) => format!(
            "The question does not say what to look for: add what to look for, such as warmest, darkest, strongest, palest, most even, most yellow or faded least. {WHERE_TOLD}"
        ),
        None => format!("The question does not say what to look for.\n{CAN_BE_ASKED}"),
    })
}

/// It says what is measured and not what is compared.
pub fn no_comparison() -> Error {
    Error::caller(format!(
        "The question does not say what to compare: add a setting, such as “by mordant”, “by plant”, “by layer”, “by simmer time” or “by piece”. {WHERE_TOLD}"
    ))
}

/// Where a reader finds the whole language.
const WHERE_TOLD: &str = "`filemot ask --help`, or docs/questions.md, tell what can be asked.";

fn advice(word: &str, names: &Names) -> Option<String> {
    if quantity::limit(word).is_some() || quantity::reach(word).is_some() {
        return Some("a number with its unit, or a date, must follow it".to_owned());
    }
    let columns = names.columns_of(word);
    if !columns.is_empty() {
        let columns: Vec<String> = columns
            .iter()
            .map(|(column, value)| format!("“{column} {value}”"))
            .collect();
        return Some(format!(
            "it is a value of your sheet, so say {}",
            columns.join(" or ")
        ));
    }
    let own = names.words().map(|word| (word.clone(), None));
    let named = names
        .all(|_| true)
        .into_iter()
        .map(|name| (name.to_owned(), None));
    let months = quantity::months().map(|month| (month, None));
    // Short words that change nothing are near to everything.
    let known = phrases()
        .filter(|(phrase, meaning)| *meaning != Meaning::Filler || phrase.len() > 3)
        .map(|(phrase, meaning)| (phrase, Some(meaning)));
    let mut seen = Vec::new();
    let mut near: Vec<String> = Vec::new();
    for (phrase, meaning) in nearest(word, known.chain(own).chain(named).chain(months)) {
        let phrase = format!("“{phrase}”");
        let is_new = meaning.is_none() || !seen.contains(&meaning);
        if is_new && near.len() < 3 && !near.contains(&phrase) {
            near.push(phrase);
            seen.push(meaning);
        }
    }
    match near.len() {
        0 => None,
        1 => Some(format!("the nearest known word is {}", near[0])),
        _ => Some(format!("the nearest known words are {}", near.join(", "))),
    }
}

/// No name of the journal that `fits` follows `phrase`, which needs one.
pub fn no_such_name(
    phrase: &str,
    words: &[Word],
    names: &Names,
    fits: impl Fn(Kind) -> bool,
) -> Error {
    let Some(asked) = words.first() else {
        return Error::caller(format!(
            "“{phrase}” stands at the end of the question, but a name must follow it: write one from your sheet."
        ));
    };
    let all = names.all(fits);
    let near = near_names(words, &all);
    let advice = match (near.is_empty(), all.len()) {
        (false, _) => format!("the nearest names are {}", near.join(", ")),
        (true, 0) => "it holds no such names yet: they come from the sheet of settings".to_owned(),
        (true, _) => format!("it knows {}", some(&all)),
    };
    Error::caller(format!(
        "After “{phrase}” a name from the journal must follow, and “{}” is not one; {advice}.",
        asked.written
    ))
}

/// The names near to the first words, those near to most words first.
fn near_names(words: &[Word], all: &[&str]) -> Vec<String> {
    let mut near: Vec<String> = Vec::new();
    for length in (1..=words.len().min(4)).rev() {
        let known = all.iter().map(|name| ((*name).to_owned(), ()));
        for (name, ()) in nearest(&joined(&words[..length]), known) {
            let name = format!("“{name}”");
            if near.len() < 3 && !near.contains(&name) {
                near.push(name);
            }
        }
    }
    near
}

fn some(all: &[&str]) -> String {
    let some: Vec<&str> = all.iter().take(12).copied().collect();
    some.join(", ")
}

/// A name that must not stand where it does.
pub fn misplaced(phrase: &str, name: &Name, is_denial: bool) -> Error {
    let what = what(name);
    let said = &name.said;
    Error::caller(match (is_denial, name.can_be(Kind::is_cloth)) {
        (true, true) => format!(
            "“{said}” is a cloth, and only plants and mordants can be left out: say which cloth it is to be instead, “on …”."
        ),
        _ => format!(
            "“{said}” is {what} in this journal, which cannot follow “{phrase}”: {}.",
            say(name)
        ),
    })
}

/// A name by itself, which could mean several things.
pub fn alone(name: &Name) -> Error {
    Error::caller(format!(
        "“{}” is a name in this journal ({}); {}.",
        name.said,
        what(name),
        say(name)
    ))
}

/// How to say what a name is to do.
fn say(name: &Name) -> String {
    let said = &name.said;
    let mut ways = Vec::new();
    if name.can_be(Kind::is_used) {
        ways.push(format!("“with {said}”"));
    }
    if name.can_be(Kind::is_cloth) {
        ways.push(format!("“on {said}”"));
    }
    if name.can_be(|kind| kind == Kind::Pot) {
        ways.push(format!("“in pot {said}”"));
    }
    if name.can_be(|kind| kind == Kind::Bundle) {
        ways.push(format!("“in bundle {said}”"));
    }
    if name.can_be(|kind| kind == Kind::Piece) {
        ways.push(format!("“nearest to {said}”"));
    }
    format!(
        "say {}, or set it against another, “{said} or …”",
        ways.join(" or ")
    )
}

fn what(name: &Name) -> String {
    let mut words: Vec<&str> = name.kinds.iter().map(|(kind, _)| kind.word()).collect();
    words.dedup();
    words.join(" and ")
}

/// A word that is a plant's name and a colour where it could be either.
pub fn plant_or_colour(said: &str) -> Error {
    let one = said.strip_suffix('s').unwrap_or(said);
    Error::caller(format!(
        "“{said}” can be the plant or the colour here: for the plant say “with {one} leaves”, for the colour “have {one}s”."
    ))
}

/// A word that is a column of the sheet and a word of the language.
pub fn word_or_column(phrase: &str) -> Error {
    Error::caller(format!(
        "“{phrase}” is a column of your sheet and a word of questions as well: say “column {phrase}” for the column; for the other use a longer word, such as “simmer time”."
    ))
}

/// A word that is the studio's own for a colour and a word of the language.
pub fn word_or_colour(phrase: &str) -> Error {
    Error::caller(format!(
        "“{phrase}” is a colour word of your own and a word of questions as well: put quotation marks around the colour, or say “most {phrase}” in another word, such as lightest or strongest."
    ))
}

/// `or`, `than` without two things that can be compared.
pub fn nothing_against(word: &str) -> Error {
    Error::caller(format!(
        "Around “{word}” two different names of one kind must stand, such as silk and wool or alum and iron: ask one question for each where they are no names."
    ))
}

/// Names in a question that compares something else.
pub fn alternatives(names: &[Name]) -> Error {
    Error::caller(format!(
        "The question compares something else already, so it cannot take {} as well: ask one question for each.",
        list(names, " or ")
    ))
}

/// Names that cannot be set against each other.
pub fn not_of_one_kind(names: &[Name]) -> Error {
    let each: Vec<String> = names
        .iter()
        .map(|name| format!("“{}” is {}", name.said, what(name)))
        .collect();
    Error::caller(format!(
        "These are not of one kind and cannot be compared: {}.",
        each.join(", ")
    ))
}

/// Names that can be set against each other as several kinds of things.
pub fn of_several_kinds(names: &[Name], factors: &[&Factor]) -> Error {
    let each: Vec<String> = factors
        .iter()
        .map(|factor| format!("“by {factor}”"))
        .collect();
    Error::caller(format!(
        "{} are names of several kinds in this journal: add {}.",
        list(names, " and "),
        each.join(" or ")
    ))
}

fn list(names: &[Name], joint: &str) -> String {
    let each: Vec<String> = names
        .iter()
        .map(|name| format!("“{}”", name.said))
        .collect();
    each.join(joint)
}

/// A denial of something that cannot be denied.
pub fn denial(word: &str) -> Error {
    Error::caller(format!(
        "“{word}” can only leave out a plant or a mordant, “without iron”: of anything else say the opposite, such as coolest for not warm, or on wool for not on silk."
    ))
}

/// Codes of pieces that differ in capitals alone.
pub fn several_codes(name: &Name) -> Error {
    let codes: Vec<&str> = name.kinds.iter().map(|(_, code)| code.as_str()).collect();
    Error::caller(format!(
        "Several pieces are called so: write the code with its capitals, {}.",
        codes.join(" or ")
    ))
}

/// What pieces should be near to is neither a piece nor a colour in numbers.
pub fn no_target(phrase: &str, asked: Option<&Word>, names: &Names) -> Error {
    let ways = "a piece's code, or a colour in numbers such as 62,8,45 or #b08a4e";
    let Some(asked) = asked else {
        return Error::caller(format!(
            "“{phrase}” stands at the end of the question, but {ways} must follow it."
        ));
    };
    let codes = names.all(|kind| kind == Kind::Piece);
    let near = near_names(std::slice::from_ref(asked), &codes);
    let near = if near.is_empty() {
        String::new()
    } else {
        format!("; the nearest codes are {}", near.join(", "))
    };
    Error::caller(format!(
        "After “{phrase}” must follow {ways}, and “{}” is neither{near}.",
        asked.written
    ))
}

/// No column follows `column`.
pub fn no_such_column(words: &[Word], names: &Names) -> Error {
    let columns: Vec<&str> = names.columns().map(String::as_str).collect();
    let asked = words
        .first()
        .map_or("nothing", |word| word.written.as_str());
    Error::caller(match columns.is_empty() {
        true => {
            "The sheet has no columns of its own yet, so “column” cannot be asked about.".to_owned()
        }
        false => format!(
            "After “column” the name of a column of your sheet must follow, and “{asked}” is not one; it knows {}.",
            some(&columns)
        ),
    })
}
