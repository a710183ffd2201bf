use super::letters::{is_invisible, is_unruly};

/// A sentence that begins with a word of the journal, its first letter a capital.
pub fn capital(sentence: &str) -> String {
    let mut letters = sentence.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

/// A text as a screen may show it: what would act on the screen or turn the writing round stands there as its number, `\u{1b}`.
pub fn visible(text: &str) -> String {
    escaped(text.chars(), is_unruly)
}

fn escaped(letters: impl Iterator<Item = char>, which: impl Fn(char) -> bool) -> String {
    let mut shown = String::new();
    for c in letters {
        match which(c) {
            true => shown.extend(c.escape_default()),
            false => shown.push(c),
        }
    }
    shown
}

/// So many letters of a text from outside stand in a sentence.
const ECHOED: usize = 40;

/// A text from outside as a sentence repeats it: shortened to its first 40 letters, and what cannot be seen as its number.
pub fn short(text: &str) -> String {
    let first = escaped(text.chars().take(ECHOED), is_invisible);
    let more = text.chars().nth(ECHOED).map_or("", |_| "…");
    first + more
}

/// Whether a word stands in a text with no letter or digit right before or after it.
pub fn stands_in(text: &str, word: &str) -> bool {
    text.match_indices(word).any(|(at, found)| {
        let before = text[..at].chars().next_back();
        let after = text[at + found.len()..].chars().next();
        ![before, after]
            .into_iter()
            .flatten()
            .any(char::is_alphanumeric)
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

/// So many names stand in a sentence.
const NAMED: usize = 5;

/// Names as a sentence lists them, those beyond five as a number: `LB001, LB002, LB003, LB004, LB005 and 7 more`.
pub fn few(names: &[&str]) -> String {
    let named = names.iter().take(NAMED).map(|name| (*name).to_owned());
    let more = names.len().saturating_sub(NAMED);
    let more = (more > 0).then(|| format!("{more} more"));
    listed(&named.chain(more).collect::<Vec<_>>())
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
    fn nothing_from_outside_acts_on_the_screen() {
        for (text, wanted) in [
            ("O'Brien's “Röße” 漢字", "O'Brien's “Röße” 漢字"),
            ("\u{1b}[31mred\nline", "\\u{1b}[31mred\\nline"),
            ("a\u{202e}gpj.exe", "a\\u{202e}gpj.exe"),
            (&"é".repeat(40), &"é".repeat(40)),
            (&"é".repeat(41), &("é".repeat(40) + "…")),
        ] {
            assert_eq!(short(text), wanted);
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
