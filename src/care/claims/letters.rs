//! Letters as a reader takes them, whatever character stands for them.

use crate::error::is_invisible;

/// Greek and Cyrillic small letters that print like Latin ones, and those.
const ALIKE: [(&str, &str); 2] = [
    ("аеорсухіїјѕһӏԁԛԝкмтнвё", "aeopcyxiijshldqwkmthbe"),
    ("αεικνορτυχ", "aeikvoptux"),
];

/// German letters as they are written where a keyboard lacks them.
const APART: [(&str, &str); 7] = [
    ("ä", "ae"),
    ("ö", "oe"),
    ("ü", "ue"),
    ("a\u{308}", "ae"),
    ("o\u{308}", "oe"),
    ("u\u{308}", "ue"),
    ("ß", "ss"),
];

/// The text in small plain letters: wide, ringed and mathematical ones (the compatibility forms of Unicode Standard Annex 15), and
/// those of other scripts that look the same, as the Latin letter; umlauts in two letters; nothing that cannot be seen; digits
/// apart from letters.
pub fn plain(text: &str) -> String {
    let unseen = |c: &char| is_invisible(*c) && !c.is_whitespace() || is_joiner(*c);
    let seen = text.chars().filter(|c| !unseen(c)).map(latin);
    let mut small: String = seen.flat_map(char::to_lowercase).map(alike).collect();
    for (one, two) in APART {
        small = small.replace(one, two);
    }
    let mut plain = String::new();
    let mut last = ' ';
    for letter in small.chars() {
        if last.is_alphanumeric() && letter.is_numeric() != last.is_numeric() {
            plain.push(' ');
        }
        plain.push(letter);
        last = letter;
    }
    plain
}

/// Between Latin letters a joiner, or its contrary, shows nothing.
fn is_joiner(c: char) -> bool {
    matches!(c, '\u{200c}' | '\u{200d}')
}

/// A compatibility form as its plain character.
fn latin(c: char) -> char {
    let code = u32::from(c);
    let small = |place: u32| char::from(b'a' + (place % 26) as u8);
    match code {
        0xff01..=0xff5e => char::from_u32(code - 0xff01 + 0x21).unwrap_or(c),
        0x24b6..=0x24e9 => small(code - 0x24b6),
        0x1d400..=0x1d6a3 => small(code - 0x1d400),
        _ => match c {
            '’' | '‘' | 'ʼ' | '´' | '`' => '\'',
            'ſ' => 's',
            _ => c,
        },
    }
}

/// A small letter as the Latin one that it looks like.
fn alike(c: char) -> char {
    let mut pairs = ALIKE
        .iter()
        .flat_map(|(from, to)| from.chars().zip(to.chars()));
    let found = pairs.find(|(from, _)| *from == c);
    found.map_or(c, |(_, to)| to)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_are_what_they_look_like() {
        for (text, wanted) in [
            ("Ｌｉｇｈｔ", "light"),
            ("lіghtfаst", "lightfast"),
            ("ΑΙ", "ai"),
            ("ⓕⓐⓢⓣ 𝐟𝐚𝐬𝐭", "fast fast"),
            ("per\u{200b}ma\u{ad}nent", "permanent"),
            ("für FÜR fu\u{308}r Maß", "fuer fuer fuer mass"),
            ("won`t", "won't"),
            ("light\nfast", "light\nfast"),
            ("lightfast01", "lightfast 01"),
        ] {
            assert_eq!(plain(text), wanted, "{text}");
        }
        for (from, to) in ALIKE {
            assert_eq!(from.chars().count(), to.chars().count(), "{from}");
        }
    }
}
