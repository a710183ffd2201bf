use super::letters::is_invisible;
use super::wording::short;
use super::{Error, Result};

/// The longest code of a piece, in characters.
pub const LONGEST_CODE: usize = 32;

/// The code among `known` that `code` means: the very same, else the only one that differs in capitals alone. Phones begin
/// words with a capital; two pieces are never told apart by that.
pub fn known_code<'a>(code: &str, known: &'a [String]) -> Option<&'a str> {
    let lower = code.to_lowercase();
    let mut alike = known.iter().filter(|known| known.to_lowercase() == lower);
    let same = known.iter().find(|known| *known == code);
    same.or_else(|| alike.next().filter(|_| alike.next().is_none()))
        .map(String::as_str)
}

/// Whether `code` can be the code of a piece: 1 to [`LONGEST_CODE`] characters without colon, slash, backslash or invisible
/// character, and without space at either end. The error says what is wrong with it.
pub fn check_code(code: &str) -> Result<()> {
    match why_no_code(code) {
        None => Ok(()),
        Some(why) => Err(Error::caller(format!(
            "“{}” cannot be a piece's code: {why}. Choose a short one such as LB007.",
            short(code)
        ))),
    }
}

/// Why `code` cannot be the code of a piece, as half a sentence; `None` where it can.
pub fn why_no_code(code: &str) -> Option<String> {
    if code.trim().is_empty() {
        Some("it is empty".to_owned())
    } else if code.trim() != code {
        Some("it begins or ends with a space".to_owned())
    } else if code.chars().count() > LONGEST_CODE {
        Some(format!("it is longer than {LONGEST_CODE} characters"))
    } else if code.chars().any(is_invisible) {
        Some("it holds a line break or another invisible character".to_owned())
    } else {
        let barred = code.chars().find(|c| matches!(c, ':' | '/' | '\\'));
        barred.map(|c| format!("it holds “{c}”"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn capitals_do_not_make_another_piece() {
        let known = ["LB007", "Röße", "a", "A"].map(str::to_owned);
        for (code, means) in [
            ("lb007", Some("LB007")),
            ("RÖßE", Some("Röße")),
            ("a", Some("a")),
            ("A", Some("A")),
            ("LB07", None),
        ] {
            assert_eq!(known_code(code, &known), means, "{code}");
        }
        assert_eq!(
            known_code("A", &["a".to_owned(), "a ".to_owned()]),
            Some("a")
        );
    }

    #[test]
    fn codes_that_look_alike_are_not_both_taken() {
        for code in ["LB007", "Röße 7 🍂", "漢字", "\u{1f469}\u{200d}\u{1f33e}"] {
            assert!(check_code(code).is_ok(), "{code}");
        }
        for code in [
            "LB007\u{200b}",
            "\u{202e}LB7",
            "LB\u{feff}7",
            "LB\u{ad}7",
            "LB\n7",
            "LB\u{1b}[31m",
        ] {
            let told = check_code(code).expect_err(code).to_string();
            assert!(told.contains("invisible"), "{told}");
        }
    }
}
