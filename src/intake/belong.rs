//! Which piece and state a photo shows: tag or card first, then names, then what is usual.

use crate::error::{Caution, Result, known_code, stands_in};
use crate::journal::Journal;
use crate::journal::record::Photo;
use crate::measure::Lab;
use crate::reading::{State, TAKEN_AS_DRY, WASHES};
use std::collections::BTreeSet;

/// The piece a photo shows, from the tags in it (`seen`), else from a known code in its names, nearest first.
pub(super) fn piece(
    seen: &BTreeSet<String>,
    hints: &[String],
    known: &[String],
    cautions: &mut Vec<Caution>,
) -> Option<String> {
    let named = hints.iter().find_map(|hint| code_in(hint, known, cautions));
    let seen: BTreeSet<&str> = seen
        .iter()
        .map(|code| known_code(code, known).unwrap_or(code))
        .collect();
    match (seen.len(), seen.first(), named) {
        (0, _, named) => named,
        (1, Some(code), named) => {
            if let Some(named) = named.filter(|named| named != code) {
                cautions.push(Caution::new(
                    "tag-name-differ",
                    format!(
                        "The tag in the picture says {code}, the file's or folder's name says {named}; the tag was believed; if it is wrong, say so with “filemot claim PHOTO PIECE”."
                    ),
                ));
            }
            Some((*code).to_owned())
        }
        _ => None,
    }
}

/// The known code that a name holds as a word of its own; the longest where one code holds another.
fn code_in(name: &str, known: &[String], cautions: &mut Vec<Caution>) -> Option<String> {
    let held: Vec<&String> = known.iter().filter(|code| holds(name, code)).collect();
    let longest = held.iter().max_by_key(|code| code.len())?;
    let rivals: Vec<&str> = held
        .iter()
        .filter(|code| !holds(longest, code))
        .map(|code| code.as_str())
        .collect();
    if rivals.is_empty() {
        return Some((*longest).clone());
    }
    cautions.push(Caution::new(
        "name-unclear",
        format!(
            "The name “{name}” holds the codes of several pieces ({}, {longest}); say which one it shows with “filemot claim PHOTO PIECE”.",
            rivals.join(", ")
        ),
    ));
    None
}

/// Whether `word` stands in `text` with no letter or digit right before or after it, in any case.
fn holds(text: &str, word: &str) -> bool {
    stands_in(&text.to_lowercase(), &word.to_lowercase())
}

/// Whether the word of a state stands in `text` by itself, but for a number right behind it.
fn tells(text: &str, word: &str) -> bool {
    let text = text.to_lowercase();
    text.match_indices(word).any(|(at, _)| {
        let before = text[..at].chars().next_back();
        let behind = text[at + word.len()..].trim_start_matches(|c: char| c.is_ascii_digit());
        ![before, behind.chars().next()]
            .into_iter()
            .flatten()
            .any(char::is_alphanumeric)
    })
}

/// What a photo shows its piece as: what was asked for, else a state card in the picture, else a word in the names, nearest
/// first, else dry.
pub(super) fn state(
    asked: Option<State>,
    cards: &BTreeSet<String>,
    hints: &[String],
    cautions: &mut Vec<Caution>,
) -> State {
    let shown: Vec<State> = cards
        .iter()
        .filter_map(|word| State::from_word(word))
        .collect();
    let named = hints.iter().find_map(|hint| state_in(hint));
    match (asked, shown.as_slice(), named) {
        (Some(state), ..) => state,
        (None, [state], named) => {
            if named.is_some_and(|named| named != *state) {
                cautions.push(Caution::new(
                    "card-name-differ",
                    format!("The card in the picture says {}, the file's or folder's name says otherwise; the card was believed; if it is wrong, say so with “filemot claim PHOTO PIECE --state STATE”.", state.word()),
                ));
            }
            *state
        }
        (None, _, Some(state)) => state,
        (None, ..) => {
            cautions.push(Caution::new(
                TAKEN_AS_DRY,
                "Nothing says whether the piece is wet, dry or washed; it was taken as dry. If it is not, say so with “filemot claim PHOTO PIECE --state wet”.",
            ));
            State::Dry
        }
    }
}

/// The one state a name speaks of; none where it speaks of several.
fn state_in(name: &str) -> Option<State> {
    let mut states = State::ALL
        .into_iter()
        .filter(|state| tells(name, state.word()));
    states.next().filter(|_| states.next().is_none())
}

/// How often a washed or worn piece had been washed: what was asked for, else a number right behind the word in the names,
/// nearest first.
pub(super) fn washes(state: State, asked: Option<u32>, hints: &[String]) -> Option<u32> {
    let named = || hints.iter().find_map(|hint| washes_in(hint));
    asked.or_else(named).filter(|_| state.is_washed())
}

/// The number in `washed 5` or `washed5`; in `washed-5` and `washed_5` it may be the count of the photo, so it is not believed.
fn washes_in(name: &str) -> Option<u32> {
    let name = name.to_lowercase();
    let word = State::Washed.word();
    let mut numbers = name.match_indices(word).filter_map(|(at, _)| {
        let before = name[..at].chars().next_back();
        let behind = &name[at + word.len()..];
        let behind = behind.strip_prefix(' ').unwrap_or(behind);
        let end = behind
            .find(|c: char| !c.is_ascii_digit())
            .unwrap_or(behind.len());
        let whole = !behind[end..].starts_with(char::is_alphabetic);
        let number = behind[..end]
            .parse()
            .ok()
            .filter(|number| WASHES.contains(number));
        number.filter(|_| whole && !before.is_some_and(char::is_alphanumeric))
    });
    numbers.next()
}

/// Cloth up to this mass is thin, g/m²: silk of 18 momme. Common practice, no source.
const THIN: f64 = 80.0;

/// White cotton under the cloth is lighter than this, L\*.
const WHITE: f64 = 80.0;

/// And less colourful, C\*.
const GREY: f64 = 12.0;

/// The caution that the thin wet cloth in a photo lies on something dark or coloured, which shows through.
///
/// # Errors
/// A journal that cannot be read.
pub(super) fn show_through(
    journal: &Journal,
    photo: &Photo,
    ground: Option<Lab>,
) -> Result<Option<Caution>> {
    let dark = ground.is_some_and(|lab| lab.l < WHITE || lab.a.hypot(lab.b) > GREY);
    let (Some(code), Some(State::Wet), true) = (&photo.piece, photo.state, dark) else {
        return Ok(None);
    };
    let gsm = journal.piece(code)?.and_then(|piece| piece.gsm);
    Ok(gsm.is_some_and(|gsm| gsm <= THIN).then(|| {
        Caution::new(
            "show-through",
            "Thin wet cloth lets what lies beneath it show; lay it on four layers of white cotton, wet and dry alike.",
        )
    }))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check_piece(seen: &[&str], hints: &[&str], expected: Option<&str>, caution: Option<&str>) {
        let known = ["LB1", "LB1-2", "LB007", "Rose 3"].map(str::to_owned);
        let mut cautions = Vec::new();
        let found = piece(&set(seen), &owned(hints), &known, &mut cautions);
        assert_eq!(found.as_deref(), expected, "{seen:?} {hints:?}");
        assert_eq!(
            cautions.first().map(|c| c.code.as_str()),
            caution,
            "{seen:?} {hints:?}"
        );
    }

    fn check_state(
        asked: Option<State>,
        cards: &[&str],
        hints: &[&str],
        expected: State,
        caution: Option<&str>,
    ) {
        let mut cautions = Vec::new();
        assert_eq!(
            state(asked, &set(cards), &owned(hints), &mut cautions),
            expected,
            "{cards:?} {hints:?}"
        );
        assert_eq!(
            cautions.first().map(|c| c.code.as_str()),
            caution,
            "{cards:?} {hints:?}"
        );
    }

    fn set(words: &[&str]) -> BTreeSet<String> {
        words.iter().map(|w| (*w).to_owned()).collect()
    }

    fn owned(words: &[&str]) -> Vec<String> {
        words.iter().map(|w| (*w).to_owned()).collect()
    }

    #[test]
    fn the_tag_is_believed_before_the_name() {
        check_piece(&["LB007"], &["IMG_1"], Some("LB007"), None);
        check_piece(
            &["LB007"],
            &["LB1-dry"],
            Some("LB007"),
            Some("tag-name-differ"),
        );
        check_piece(&["LB007", "LB1"], &["LB007"], None, None);
        check_piece(&["NEW9"], &["IMG_1"], Some("NEW9"), None);
        check_piece(&["lb007"], &["LB007-dry"], Some("LB007"), None);
        check_piece(&["LB007", "lb007"], &["IMG_1"], Some("LB007"), None);
    }

    #[test]
    fn a_known_code_in_a_name_is_enough() {
        check_piece(&[], &["lb007_wet"], Some("LB007"), None);
        check_piece(&[], &["IMG_1", "rose 3 dry"], Some("Rose 3"), None);
        check_piece(&[], &["LB0071"], None, None);
        check_piece(&[], &["LB1-2 wet"], Some("LB1-2"), None);
        check_piece(&[], &["LB1 and LB007"], None, Some("name-unclear"));
        check_piece(&[], &["IMG_1", "holiday"], None, None);
    }

    #[test]
    fn washes_stand_right_behind_the_word() {
        let check = |hint: &str, wanted| {
            assert_eq!(
                washes(State::Washed, None, &owned(&["IMG_1", hint])),
                wanted,
                "{hint}"
            );
        };
        check("LB007 washed 5", Some(5));
        check("washed 12", Some(12));
        check("LB002_washed_7", None);
        check("LB007-Washed3.jpg", Some(3));
        check("washed", None);
        check("LB007-washed-3", None);
        check("washed 0", None);
        check("washed 20260501", None);
        check("unwashed 2", None);
        check("washed 3rd", None);
        assert_eq!(washes(State::Worn, Some(7), &owned(&["washed 5"])), Some(7));
        assert_eq!(washes(State::Dry, Some(7), &owned(&["washed 5"])), None);
    }

    #[test]
    fn a_state_is_looked_for_in_order() {
        check_state(Some(State::Worn), &["wet"], &["dry"], State::Worn, None);
        check_state(None, &["wet"], &["LB1"], State::Wet, None);
        check_state(
            None,
            &["wet"],
            &["LB1-dry"],
            State::Wet,
            Some("card-name-differ"),
        );
        check_state(None, &[], &["LB1-Washed-2"], State::Washed, None);
        check_state(None, &[], &["IMG_1", "Wet"], State::Wet, None);
        check_state(None, &[], &["LB1 washed12"], State::Washed, None);
        check_state(None, &[], &["wet2dry"], State::Dry, Some(TAKEN_AS_DRY));
        check_state(None, &[], &["wetland"], State::Dry, Some(TAKEN_AS_DRY));
        check_state(None, &[], &["wet and dry"], State::Dry, Some(TAKEN_AS_DRY));
        check_state(None, &["damp"], &["IMG_1"], State::Dry, Some(TAKEN_AS_DRY));
    }
}
