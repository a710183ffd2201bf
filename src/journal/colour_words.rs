//! The studio's own colour words, kept among its own values: `word rust` is `45,32,40,5`.

use super::record::Studio;
use crate::colour::Lab;

/// What stands before a colour word in the name of its value.
const PREFIX: &str = "word ";

/// The longest colour word, letters.
const LONGEST: usize = 32;

/// No word is so wide: half of all colours of cloth would bear it, CIEDE2000.
const WIDEST: f64 = 30.0;

/// The studio's own colour words in order, each with its middle and how far from that a colour may be, CIEDE2000.
pub fn colour_words(studio: &Studio) -> impl Iterator<Item = (&str, Lab, f64)> {
    studio.iter().filter_map(|(name, value)| {
        let word = name.strip_prefix(PREFIX)?;
        let (middle, within) = numbers(value)?;
        Some((word, middle, within))
    })
}

/// The name and the value under which a colour word is kept among the studio's own values, whether or not they can be.
pub fn colour_word_value(word: &str, middle: Lab, within: f64) -> (String, String) {
    let Lab { l, a, b, .. } = middle;
    (colour_word_name(word), format!("{l},{a},{b},{within}"))
}

/// The name under which a colour word is kept: lower case, single spaces.
pub fn colour_word_name(word: &str) -> String {
    let words: Vec<&str> = word.split_whitespace().collect();
    format!("{PREFIX}{}", words.join(" ").to_lowercase())
}

/// What is wrong with a name or a value of [`colour_word_value`], where something is: half a sentence that begins with “must”.
/// `None` too where `name` is that of no colour word.
pub fn check_colour_word(name: &str, value: &str) -> Option<String> {
    let word = name.strip_prefix(PREFIX)?;
    let fits = |letter: char| letter.is_alphanumeric() || matches!(letter, ' ' | '-' | '\'');
    let sound = word.starts_with(char::is_alphabetic)
        && word.chars().all(fits)
        && word.chars().count() <= LONGEST
        && colour_word_name(word) == name;
    if !sound {
        return Some(format!(
            "must be called by small letters, beginning with one; digits, single spaces, hyphens and apostrophes may follow, at most {LONGEST} in all"
        ));
    }
    numbers(value).is_none().then(|| {
        format!(
            "must be L* (0 to 100), a* and b* (-128 to 127), and how far a colour may be from that (above 0, at most {WIDEST})"
        )
    })
}

fn numbers(value: &str) -> Option<(Lab, f64)> {
    let numbers: Vec<f64> = value
        .split(',')
        .map(|part| part.trim().parse().ok())
        .collect::<Option<_>>()?;
    let &[l, a, b, within] = &numbers[..] else {
        return None;
    };
    let of_colour =
        (0.0..=100.0).contains(&l) && [a, b].iter().all(|value| (-128.0..=127.0).contains(value));
    (of_colour && within > 0.0 && within <= WIDEST).then(|| (Lab::new(l, a, b), within))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(word: &str, value: &str, wrong: Option<&str>) {
        let said = check_colour_word(&format!("word {word}"), value);
        match wrong {
            None => assert_eq!(said, None),
            Some(part) => assert!(
                said.is_some_and(|said| said.contains(part)),
                "{word} {value}"
            ),
        }
    }

    #[test]
    fn what_a_word_may_be() {
        check("rust", "45,32,40,5", None);
        check("vat 2's foam-green", "100,-128,127,0.5", None);
        for word in [
            "Rust",
            "rust  red",
            " rust",
            "",
            "2 rust",
            "rust, red",
            "\"rust\"",
        ] {
            check(word, "45,32,40,5", Some("small letters"));
        }
        check(&"u".repeat(33), "45,32,40,5", Some("32"));
        for value in [
            "45,32,40",
            "45,32,40,0",
            "45,32,40,-1",
            "45,32,40,31",
            "101,0,0,5",
            "45,128,0,5",
            "45,NaN,0,5",
            "45,0,0,inf",
            "45;0;0;5",
            "",
        ] {
            check("rust", value, Some("L*"));
        }
        assert_eq!(check_colour_word("paper", "95,0,0"), None);
    }

    #[test]
    fn a_word_comes_back_as_it_was_kept() {
        let middle = Lab::new(45.123456789, -0.1, 40.0);
        let kept = colour_word_value(" Rust   Red", middle, 4.2);
        assert_eq!(kept.0, "word rust red");
        let studio: Studio = [kept, ("wof alum".to_owned(), "12".to_owned())].into();
        let words: Vec<_> = colour_words(&studio).collect();
        assert_eq!(words, [("rust red", middle, 4.2)]);
    }
}
