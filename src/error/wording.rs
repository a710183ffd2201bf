/// A sentence that begins with a word of the journal, its first letter a capital.
pub fn capital(sentence: &str) -> String {
    let mut letters = sentence.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

/// Words as a sentence lists them: `walnut`, `walnut and birch`, `walnut, birch and oak`.
pub fn listed(words: &[String]) -> String {
    match words {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

/// How many slips of the fingers lead from one word to another: letters added, dropped, replaced, or swapped with their
/// neighbour (optimal string alignment). What was meant by a word that is not known is what few slips lead to.
pub fn slips(one: &str, other: &str) -> usize {
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

    /// Worked by hand; kitten and sitting are the usual textbook pair, common practice, no source; that `ca` to `abc` takes
    /// three steps in the optimal string alignment, from memory.
    #[test]
    fn slips_are_counted() {
        for (one, other, wanted) in [
            ("", "abc", 3),
            ("ca", "abc", 3),
            ("kitten", "sitting", 3),
            ("mordnat", "mordant", 1),
            ("yelow", "yellow", 1),
            ("warmest", "warmest", 0),
        ] {
            assert_eq!(slips(one, other), wanted, "{one} {other}");
            assert_eq!(slips(other, one), wanted, "{other} {one}");
        }
    }

    #[test]
    fn any_letter_has_its_capital() {
        for (word, wanted) in [
            ("", ""),
            ("alum", "Alum"),
            ("éclat", "Éclat"),
            ("3 pots", "3 pots"),
        ] {
            assert_eq!(capital(word), wanted);
        }
    }
}
