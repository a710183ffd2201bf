//! Why a bundle was not taken, in the words of the page.

use crate::error::Error;
use crate::sheet;

/// Columns of a layer, and the word that stands over each on the page.
const OF_LAYER: [(&str, &str); 10] = [
    ("piece", "code"),
    ("round", "round"),
    ("layer", "layer"),
    ("mordant", "mordants"),
    ("plants", "plants"),
    ("fibre", "fibre"),
    ("weave", "weave"),
    ("width_cm", "width"),
    ("length_cm", "length"),
    ("gsm", "weight"),
];

/// Columns that all layers share, likewise.
const SHARED: [(&str, &str); 4] = [
    ("made", "day"),
    ("simmer_low_", "lowest temperature"),
    ("simmer_high_", "highest temperature"),
    ("simmer_min", "minutes"),
];

/// What a sheet was refused for, in the words of the page, each once.
pub(super) fn refusals(error: &Error) -> Vec<String> {
    let mut found: Vec<String> = Vec::new();
    for reason in sheet::reasons(error) {
        let told = in_words_of_the_page(&reason);
        if !found.contains(&told) {
            found.push(told);
        }
    }
    found
}

/// `Row 2, column piece: …` is layer 2's code.
fn in_words_of_the_page(reason: &str) -> String {
    let parts = reason.strip_prefix("Row ").and_then(|rest| {
        let (row, rest) = rest.split_once(", column")?;
        let (column, what) = rest.trim_start_matches('s').split_once(": ")?;
        Some((row, column.trim(), what))
    });
    let Some((row, column, what)) = parts else {
        return reason.to_owned();
    };
    if let Some((_, word)) = OF_LAYER.iter().find(|(name, _)| *name == column) {
        return format!("Layer {row}, {word}: {what}");
    }
    let shared = SHARED.iter().find(|(name, _)| column.starts_with(name));
    let word = match column {
        "simmer_low and simmer_high" => "temperatures",
        _ => shared.map_or(column, |(_, word)| word),
    };
    format!("{}: {what}", crate::error::capital(word))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn refusals_speak_of_layers() {
        let check = |text: &str, wanted: &[&str]| {
            assert_eq!(refusals(&Error::file(text)), wanted);
        };
        check(
            "The sheet “this bundle” was not entered. Row 2, column piece: no code is written.",
            &["Layer 2, code: no code is written."],
        );
        check(
            "The sheet “this bundle” was not entered, for 3 reasons:\n  Row 1, column simmer_high_f: too hot.\n  Row 2, column simmer_high_f: too hot.\n  Row 2, columns simmer_low and simmer_high: the low is above.",
            &[
                "Highest temperature: too hot.",
                "Temperatures: the low is above.",
            ],
        );
        check("Something else.", &["Something else."]);
    }
}
