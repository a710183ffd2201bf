//! What a studio cannot know about its cloth, and so must not promise a customer.

mod english;
mod german;
mod letters;

use super::words;
use crate::error::Caution;
use std::sync::LazyLock;

/// Claims of one kind in every language, and why no note says them.
///
/// That unqualified claims of this sort mislead is the line of the US Federal Trade Commission's Guides for the Use of
/// Environmental Marketing Claims (16 CFR 260: general benefit, certification, free-of, non-toxic) and of Directive (EU)
/// 2024/825 on empowering consumers for the green transition: both from memory. That no colour is fast for ever: ISO 105
/// grades changes and sets no pass, and plant colours fade in light, common practice, no source.
const CLAIMS: [([&[&str]; 2], &str); 6] = [
    (
        [english::SAFE, german::SAFE],
        "whether cloth is safe on skin or for a child is shown by laboratory tests, which a photo cannot replace",
    ),
    (
        [english::FOOD, german::FOOD],
        "cloth treated with mordants is never to be called fit for food",
    ),
    (
        [english::HEALTH, german::HEALTH],
        "claims about health, allergy or protection need tests and, in many places, a permit",
    ),
    (
        [english::FAST, german::FAST],
        "plant colours change with light and washing, and no measurement made here can promise that they will not",
    ),
    (
        [english::PURE, german::PURE],
        "mordants are chemicals, so the words are not true",
    ),
    (
        [english::KIND, german::KIND],
        "a claim about the environment needs a certificate or proof that this program does not have",
    ),
];

/// So many words may stand in a gap of a phrase: “safe for your new baby”.
const GAP: usize = 3;

/// All phrases with why no note says them.
static PHRASES: LazyLock<Vec<(Phrase, &str)>> = LazyLock::new(|| {
    let kinds = CLAIMS.iter().flat_map(|(languages, why)| {
        let phrases = languages.iter().copied().flatten();
        phrases.map(|written| (Phrase::of(written), *why))
    });
    kinds.collect()
});

/// Words that follow one another: `no|never … fade*` is “no” or “never”, [`GAP`] words or fewer, then a word that begins with “fade”.
struct Phrase(Vec<Part>);

enum Part {
    /// One of these words; a beginning of words where it is said so.
    Word(Vec<(String, bool)>),
    Gap,
}

impl Phrase {
    fn of(written: &str) -> Self {
        let part = |part: &str| match part {
            "…" => Part::Gap,
            words => Part::Word(words.split('|').map(begun).collect()),
        };
        Self(written.split(' ').map(part).collect())
    }

    fn is_in(&self, words: &[&str]) -> bool {
        (0..words.len()).any(|from| follows(&self.0, &words[from..]))
    }
}

/// A word as its letters are compared, and whether others may follow them.
fn begun(word: &str) -> (String, bool) {
    let letters = word.trim_end_matches('*');
    (letters::plain(letters), letters.len() < word.len())
}

/// Whether these parts stand at the front of these words.
fn follows(parts: &[Part], words: &[&str]) -> bool {
    match parts.split_first() {
        None => true,
        Some((Part::Gap, parts)) => {
            (0..=GAP.min(words.len())).any(|gap| follows(parts, &words[gap..]))
        }
        Some((Part::Word(any), parts)) => words.split_first().is_some_and(|(word, words)| {
            let is = |(letters, more): &(String, bool)| match more {
                true => word.starts_with(letters),
                false => word == letters,
            };
            any.iter().any(is) && follows(parts, words)
        }),
    }
}

/// Why a customer's note must not say this, or `None` where nothing is amiss: claims of safety, health, fastness, purity or
/// kindness to the environment, in English of either spelling and in German, with or without hyphens, in letters that look like
/// these.
///
/// Denied claims (`we do not call it food safe`) are found too: a note does better without the word.
pub fn must_not_say(text: &str) -> Option<&'static str> {
    sentences(&letters::plain(text)).find_map(|sentence| {
        let plain = words(sentence);
        let words: Vec<&str> = plain.split_whitespace().collect();
        let mut claims = PHRASES.iter();
        claims.find_map(|(phrase, why)| phrase.is_in(&words).then_some(*why))
    })
}

/// What to know of codes of pieces that are promises: a note, on which a code is printed largest, goes without them.
pub fn for_codes<'a>(codes: impl Iterator<Item = &'a str>) -> Vec<Caution> {
    let promise = |code: &str| {
        let why = must_not_say(code)?;
        let text = format!(
            "The code {code} says what no customer may be promised, so notes call the piece by its cloth instead: give it another code before its tag is printed ({why})."
        );
        Some(Caution::new("code-not-in-note", text))
    };
    codes.filter_map(promise).collect()
}

/// Parts between full stops and their like, so that no gap leads from one sentence into the next.
fn sentences(text: &str) -> impl Iterator<Item = &str> {
    let ends = |word: &&str| word.ends_with(['.', '!', '?', ';', ':']);
    let mut rest = text;
    std::iter::from_fn(move || {
        let end = rest
            .split_inclusive(char::is_whitespace)
            .scan(0, |at, word| {
                *at += word.len();
                Some((*at, word.trim_end()))
            })
            .find(|(_, word)| ends(word))
            .map_or(rest.len(), |(at, _)| at);
        let (sentence, later) = rest.split_at(end);
        rest = later;
        (!sentence.is_empty()).then_some(sentence)
    })
}

#[cfg(test)]
mod tests;
