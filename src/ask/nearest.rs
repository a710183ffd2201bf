//! Known words near a word that was not understood.

use crate::error::slips;

/// The known phrases near enough to `word` to be meant by it, nearest first.
pub fn nearest<T>(word: &str, known: impl Iterator<Item = (String, T)>) -> Vec<(String, T)> {
    let length = word.chars().count();
    let reach = match length {
        0..=2 => 0,
        3..=4 => 1,
        5..=8 => 2,
        _ => 3,
    };
    let mut near: Vec<(usize, (String, T))> = known
        .map(|(phrase, what)| (slips(word, &phrase), (phrase, what)))
        .filter(|(far, _)| *far <= reach)
        .collect();
    near.sort_by_key(|(far, _)| *far);
    near.into_iter().map(|(_, known)| known).collect()
}
