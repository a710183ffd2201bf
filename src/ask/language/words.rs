//! A question, or a name of the journal, as words that can be compared.

/// One word of a question.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Word {
    /// Lower case, without the marks around it.
    pub text: String,
    /// As it was written, without the marks around it.
    pub written: String,
    /// Whether a quotation mark stands before it.
    pub opens: bool,
    /// Whether a quotation mark stands behind it.
    pub closes: bool,
    /// Whether a comma or semicolon stands behind it: what belongs together does not go on there.
    pub ends: bool,
}

/// Articles are dropped before phrases are looked for, so that `dried the lightest` is `dried lightest`.
const ARTICLES: [&str; 3] = ["a", "an", "the"];

const QUOTES: &str = "\"“”„«»";

/// The words of a question, without punctuation and articles; one that `is_name` as it is written is no article. `>` and `/` between
/// the soaks of a sequence stay, hyphens part words, and between numbers they mean `to`.
pub fn words(question: &str, is_name: impl Fn(&str) -> bool) -> Vec<Word> {
    let plain = question
        .replace(['’', '‘'], "'")
        .replace('−', "-")
        .replace(['–', '—'], "-")
        .replace('>', " > ");
    let mut words: Vec<Word> = Vec::new();
    for raw in plain
        .split_whitespace()
        .flat_map(|raw| raw.split_inclusive([',', ';']))
    {
        words.extend(parted(raw));
        if let Some(last) = words.last_mut() {
            last.ends |= raw.ends_with([',', ';']);
        }
    }
    words.retain(|word| {
        !ARTICLES.contains(&word.text.as_str())
            || (word.written.starts_with(char::is_uppercase) && is_name(&word.written))
    });
    words
}

/// A name of the journal as its words in a question, single spaces between them.
pub fn key(name: &str) -> String {
    if name.bytes().all(|b| b.is_ascii_alphanumeric()) {
        return name.to_lowercase();
    }
    joined(&words(name, |_| false))
}

/// The text of several words, single spaces between them.
pub fn joined(words: &[Word]) -> String {
    let texts: Vec<&str> = words.iter().map(|word| word.text.as_str()).collect();
    texts.join(" ")
}

/// Several words as they were typed, single spaces between them.
pub fn typed(words: &[Word]) -> String {
    let written: Vec<&str> = words.iter().map(|word| word.written.as_str()).collect();
    written.join(" ")
}

/// The words in a text without white space: `yellow-greens` is two, `80-90` is `80 to 90`, `2026-06-01` is one.
fn parted(raw: &str) -> Vec<Word> {
    let is_mark = |c: char| {
        (c.is_ascii_punctuation() && !matches!(c, '>' | '#' | '%'))
            || QUOTES.contains(c)
            || "¿…".contains(c)
    };
    if raw == "/" {
        return vec![word("/")];
    }
    let signed = raw.trim_start_matches(is_mark_but_minus);
    let bare = raw.trim_matches(is_mark);
    let negative = signed.starts_with('-') && bare.starts_with(|c: char| c.is_ascii_digit());
    let mut words: Vec<Word> = if negative {
        vec![word(&format!("-{bare}"))]
    } else if is_date(bare) {
        vec![word(bare)]
    } else {
        let parts: Vec<&str> = bare.split('-').filter(|part| !part.is_empty()).collect();
        let numbers = parts.len() == 2
            && parts
                .iter()
                .all(|p| p.starts_with(|c: char| c.is_ascii_digit()));
        let between = if numbers { Some(word("to")) } else { None };
        let mut words: Vec<Word> = parts.into_iter().map(word).collect();
        if let Some(to) = between {
            words.insert(1, to);
        }
        words
    };
    words.retain(|word| !word.text.is_empty());
    let marks = |part: &str| part.contains(|c| QUOTES.contains(c));
    let (before, behind) = raw.split_once(bare).unwrap_or_default();
    if let Some(first) = words.first_mut() {
        first.opens = marks(before);
    }
    if let Some(last) = words.last_mut() {
        last.closes = marks(behind);
    }
    words
}

fn is_mark_but_minus(c: char) -> bool {
    c != '-' && (c.is_ascii_punctuation() || QUOTES.contains(c))
}

fn word(written: &str) -> Word {
    let text = written.to_lowercase();
    let text = text.strip_suffix("'s").unwrap_or(&text).to_owned();
    Word {
        text,
        written: written.to_owned(),
        opens: false,
        closes: false,
        ends: false,
    }
}

/// Three groups of digits.
fn is_date(text: &str) -> bool {
    let groups: Vec<&str> = text.split('-').collect();
    groups.len() == 3
        && groups
            .iter()
            .all(|g| !g.is_empty() && g.bytes().all(|b| b.is_ascii_digit()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(question: &str, wanted: &[&str]) {
        let found = words(question, |name| name == "A");
        let texts: Vec<&str> = found.iter().map(|word| word.text.as_str()).collect();
        assert_eq!(texts, wanted, "{question}");
    }

    #[test]
    fn marks_are_dropped_and_numbers_kept() {
        check(
            "“Which plant’s the Darkest?!”",
            &["which", "plant", "darkest"],
        );
        check("alum>iron / tannin", &["alum", ">", "iron", "/", "tannin"]);
        check(
            "yellow-greens, 80–90 °C",
            &["yellow", "greens", "80", "to", "90", "°c"],
        );
        check("62, −8.5,45 (#B08A4E)", &["62", "-8.5", "45", "#b08a4e"]);
        check(
            "2026-06-01; leaf_age 12% L*",
            &["2026-06-01", "leaf_age", "12%", "l"],
        );
        check("a piece like A", &["piece", "like", "a"]);
        check("- -- ?", &[]);
    }
}
