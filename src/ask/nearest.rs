//! Known words near a word that was not understood.

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
        .map(|(phrase, what)| (distance(word, &phrase), (phrase, what)))
        .filter(|(far, _)| *far <= reach)
        .collect();
    near.sort_by_key(|(far, _)| *far);
    near.into_iter().map(|(_, known)| known).collect()
}

/// Letters to insert, drop, replace or swap with their neighbour (optimal string alignment).
fn distance(one: &str, other: &str) -> usize {
    let (a, b): (Vec<char>, Vec<char>) = (one.chars().collect(), other.chars().collect());
    let mut rows: Vec<Vec<usize>> = vec![(0..=b.len()).collect()];
    for i in 1..=a.len() {
        let mut row = vec![i; b.len() + 1];
        for j in 1..=b.len() {
            let replaced = rows[i - 1][j - 1] + usize::from(a[i - 1] != b[j - 1]);
            row[j] = replaced.min(rows[i - 1][j] + 1).min(row[j - 1] + 1);
            if i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1] {
                row[j] = row[j].min(rows[i - 2][j - 2] + 1);
            }
        }
        rows.push(row);
    }
    rows[a.len()][b.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Worked by hand; kitten and sitting are the usual textbook pair, "common practice, no source".
    #[test]
    fn distances() {
        for (one, other, wanted) in [
            ("", "abc", 3),
            ("kitten", "sitting", 3),
            ("mordnat", "mordant", 1),
            ("yelow", "yellow", 1),
            ("warmest", "warmest", 0),
        ] {
            assert_eq!(distance(one, other), wanted, "{one} {other}");
            assert_eq!(distance(other, one), wanted, "{other} {one}");
        }
    }
}
