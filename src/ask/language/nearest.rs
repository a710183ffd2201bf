//! Known words near a word that was not understood.

use crate::error::slips;

/// The known phrases near enough to `word` to be meant by it, nearest first; of a phrase of several words one may be near.
pub fn nearest<T>(word: &str, known: impl Iterator<Item = (String, T)>) -> Vec<(String, T)> {
    let length = word.chars().count();
    let reach = match length {
        0..=2 => 0,
        3..=4 => 1,
        5..=8 => 2,
        _ => 3,
    };
    // A phrase that is near as a whole goes before one of which a word is.
    let far = |phrase: &str| {
        let phrase = phrase.to_lowercase();
        let words = phrase
            .split(' ')
            .filter(|one| one.len() > 3 && one.len() < phrase.len());
        let words = words.map(|one| (slips(word, one), true));
        words.chain([(slips(word, &phrase), false)]).min()
    };
    let mut near: Vec<_> = known
        .filter_map(|(phrase, what)| Some((far(&phrase)?, (phrase, what))))
        .filter(|((far, _), _)| *far <= reach)
        .collect();
    near.sort_by_key(|(far, _)| *far);
    near.into_iter().map(|(_, known)| known).collect()
}
