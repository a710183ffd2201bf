//! Sentences for questions that cannot be read.

use super::names::Names;
use super::nearest::nearest;
use super::terms::Narrowing;
use super::vocabulary::{CAN_BE_ASKED, Meaning, phrases};
use crate::error::Error;

/// There is no word in it.
pub fn empty() -> Error {
    Error::caller(format!("The question is empty.\n{CAN_BE_ASKED}"))
}

/// Some words mean nothing known; with the nearest known words and what can be asked.
pub fn not_understood(unknown: &[&str], names: &Names) -> Error {
    let sentences: Vec<String> = unknown
        .iter()
        .map(|word| match advice(word, names) {
            Some(advice) => format!("“{word}” was not understood; {advice}."),
            None => format!("“{word}” was not understood."),
        })
        .collect();
    Error::caller(format!("{}\n{CAN_BE_ASKED}", sentences.join(" ")))
}

fn advice(word: &str, names: &Names) -> Option<String> {
    for narrowing in [Narrowing::With, Narrowing::On] {
        if names.has(narrowing, word) {
            return Some(format!(
                "it is a name in this journal, so say “{} {word}”",
                narrowing.word()
            ));
        }
    }
    let own = names
        .columns()
        .map(|c| (c.clone(), names.column(c).map(Meaning::By)));
    let known = phrases()
        .filter(|(_, meaning)| *meaning != Meaning::Filler)
        .map(|(phrase, meaning)| (phrase, Some(meaning)));
    let mut seen = Vec::new();
    let mut near: Vec<String> = Vec::new();
    for (phrase, meaning) in nearest(word, known.chain(own)) {
        if !seen.contains(&meaning) && near.len() < 3 {
            near.push(format!("“{phrase}”"));
            seen.push(meaning);
        }
    }
    (!near.is_empty()).then(|| format!("the nearest known words are {}", near.join(", ")))
}

/// No name of the journal follows a `with`, `without` or `on`.
pub fn no_such_name(narrowing: Narrowing, words: &[String], names: &Names) -> Error {
    let word = narrowing.word();
    let Some(asked) = words.first() else {
        return Error::caller(format!(
            "“{word}” stands at the end of the question, but a name must follow it: write one from your sheet."
        ));
    };
    let all = names.after(narrowing);
    let near: Vec<String> = nearest(asked, all.iter().map(|n| (n.clone(), ())))
        .into_iter()
        .take(3)
        .map(|(name, ())| format!("“{name}”"))
        .collect();
    let advice = match (near.is_empty(), all.len()) {
        (false, _) => format!("the nearest names are {}", near.join(", ")),
        (true, 0) => "it holds no such names yet: they come from the sheet of settings".to_owned(),
        (true, _) => {
            let some: Vec<&str> = all.iter().take(12).map(String::as_str).collect();
            format!("it knows {}", some.join(", "))
        }
    };
    Error::caller(format!(
        "After “{word}” a name from the journal must follow, and “{asked}” is none; {advice}."
    ))
}
