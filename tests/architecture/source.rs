//! Rust source as far as imports need it: names and marks with their lines, without comments, texts and test modules.

/// A name or a mark of the source. `::` is one mark; every other mark is one character.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Token {
    /// As written.
    pub text: String,
    /// Its line, from 1.
    pub line: usize,
}

/// What a file holds.
#[derive(Debug, Default)]
pub struct Source {
    /// Its tokens, test items left out.
    pub tokens: Vec<Token>,
    /// The files' names of modules that are only for tests: `#[cfg(test)] mod tests;`.
    pub test_modules: Vec<String>,
}

impl Source {
    /// Reads the text of a file.
    pub fn read(text: &str) -> Self {
        let mut source = Self::default();
        let tokens = tokens(text);
        let mut at = 0;
        while at < tokens.len() {
            if starts(&tokens[at..], &["#", "[", "cfg", "(", "test", ")", "]"]) {
                let end = item_end(&tokens, at + 7);
                let item = &tokens[at + 7..end];
                if let Some(place) = item.iter().position(|t| t.text == "mod")
                    && starts(&item[place + 2..], &[";"])
                {
                    source.test_modules.push(item[place + 1].text.clone());
                }
                at = end;
            } else {
                source.tokens.push(tokens[at].clone());
                at += 1;
            }
        }
        source
    }
}

/// Whether tokens begin with these texts.
pub fn starts(tokens: &[Token], texts: &[&str]) -> bool {
    tokens.len() >= texts.len() && tokens.iter().zip(texts).all(|(t, text)| t.text == *text)
}

/// Just behind the item that begins at `at`: its semicolon, or its first pair of braces.
fn item_end(tokens: &[Token], at: usize) -> usize {
    let mut depth = 0;
    for (offset, token) in tokens[at..].iter().enumerate() {
        match token.text.as_str() {
            ";" if depth == 0 => return at + offset + 1,
            "{" => depth += 1,
            "}" => {
                depth -= 1;
                if depth == 0 {
                    return at + offset + 1;
                }
            }
            _ => {}
        }
    }
    tokens.len()
}

fn tokens(text: &str) -> Vec<Token> {
    let letters: Vec<char> = text.chars().collect();
    let (mut found, mut at, mut line) = (Vec::new(), 0, 1);
    while at < letters.len() {
        let rest = &letters[at..];
        let (length, kept) = match rest {
            ['/', '/', ..] => (until(rest, |r| r[0] == '\n'), false),
            ['/', '*', ..] => (block_comment(rest), false),
            ['"', ..] => (quoted(rest, 1), false),
            ['b' | 'c', '"', ..] => (quoted(rest, 2), false),
            ['r', '"' | '#', ..] if raw(rest, 1).is_some() => (raw(rest, 1).unwrap_or(1), false),
            ['b' | 'c', 'r', '"' | '#', ..] if raw(rest, 2).is_some() => {
                (raw(rest, 2).unwrap_or(1), false)
            }
            ['\'', '\\', _, after @ ..] => (4 + until(after, |r| r[0] == '\''), false),
            ['\'', _, '\'', ..] => (3, false),
            [':', ':', ..] => (2, true),
            [first, ..] if first.is_whitespace() => (1, false),
            [first, ..] if is_name(*first) => (until(rest, |r| !is_name(r[0])), true),
            _ => (1, true),
        };
        let length = length.min(rest.len());
        if kept {
            found.push(Token {
                text: rest[..length].iter().collect(),
                line,
            });
        }
        line += rest[..length].iter().filter(|c| **c == '\n').count();
        at += length;
    }
    found
}

fn is_name(letter: char) -> bool {
    letter.is_alphanumeric() || letter == '_'
}

/// How many letters go before the first place where `stop` holds.
fn until(letters: &[char], stop: impl Fn(&[char]) -> bool) -> usize {
    (0..letters.len())
        .find(|&at| stop(&letters[at..]))
        .unwrap_or(letters.len())
}

/// The length of a text in quotation marks whose first letter is at `start`.
fn quoted(letters: &[char], start: usize) -> usize {
    let mut at = start;
    while at < letters.len() && letters[at] != '"' {
        at += if letters[at] == '\\' { 2 } else { 1 };
    }
    at + 1
}

/// The length of a raw text whose hashes begin at `start`; `None` where it is something else, such as `r#type`.
fn raw(letters: &[char], start: usize) -> Option<usize> {
    let hashes = until(&letters[start..], |r| r[0] != '#');
    let open = start + hashes;
    if letters.get(open) != Some(&'"') {
        return None;
    }
    let closes = |rest: &[char]| {
        rest[0] == '"' && rest.len() > hashes && rest[1..=hashes].iter().all(|c| *c == '#')
    };
    Some(open + 2 + until(&letters[open + 1..], closes) + hashes)
}

/// The length of a comment between `/*` and `*/`, which may hold others.
fn block_comment(letters: &[char]) -> usize {
    let (mut at, mut depth) = (0, 0);
    while at < letters.len() {
        match letters[at..] {
            ['/', '*', ..] => (at, depth) = (at + 2, depth + 1),
            ['*', '/', ..] if depth == 1 => return at + 2,
            ['*', '/', ..] => (at, depth) = (at + 2, depth - 1),
            _ => at += 1,
        }
    }
    at
}
