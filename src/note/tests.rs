//! Notes as customers get them: what they say, what they never say, and that they are sentences.

mod asides;
mod keeping;
mod looks;
mod plain;
mod promises;
mod room;
mod saying;
mod writing;

use super::*;
use crate::care::must_not_say;
use crate::colour::Lab;
use crate::journal::record::{PlantUse, Round, Soak};
use crate::reading::{Light, Reading, Swatch};

/// A note without picture, of these photos.
fn composed(piece: &Piece, photos: &[Photo], options: &Options) -> Result<Note> {
    let known = Known {
        piece,
        photos,
        words: &[],
        issued: None,
    };
    compose(&known, options)
}

fn piece() -> Piece {
    let soak = |mordant: &str| Soak {
        mordant: mordant.to_owned(),
        ..Soak::default()
    };
    let plant = |name: &str| PlantUse {
        name: name.to_owned(),
        how: vec!["fresh".to_owned()],
    };
    Piece {
        code: "LB003".to_owned(),
        fibre: Some("silk".to_owned()),
        weave: Some("crepe de chine".to_owned()),
        width_cm: Some(35.0),
        length_cm: Some(160.0),
        remarks: Some("for the blue box".to_owned()),
        rounds: vec![Round {
            round: 1,
            made: Some("2026-05-03".to_owned()),
            soaks: vec![soak("tannin"), soak("ferrous sulfate")],
            plants: vec![plant("smokebush"), plant("walnut")],
            ..Round::default()
        }],
        ..Piece::default()
    }
}

fn swatch(lab: [f64; 3], share: f64, word: Option<&str>) -> Swatch {
    Swatch {
        lab: Lab::new(lab[0], lab[1], lab[2]),
        share,
        doubt: Some(2.0),
        word: word.map(str::to_owned),
        word_level: None,
        srgb: None,
        part: None,
        plant: None,
    }
}

/// The n-th of twelve colours far apart.
fn lab(n: usize) -> [f64; 3] {
    let hue = (150.0 * n as f64).to_radians();
    [60.0, 60.0 * hue.cos(), 60.0 * hue.sin()]
}

fn photo(state: State, taken: &str, basis: Basis) -> Photo {
    Photo {
        taken: Some(taken.to_owned()),
        state: Some(state),
        reading: Reading {
            light: Some(Light {
                basis,
                ..Light::default()
            }),
            swatches: vec![
                swatch([71.0, 6.0, 46.0], 0.48, None),
                swatch([48.0, 10.0, 26.0], 0.27, None),
                swatch([70.0, 7.0, 44.0], 0.14, None),
                swatch([30.0, 3.0, 6.0], 0.1, Some("bark")),
                swatch([88.0, 0.0, 6.0], 0.01, None),
            ],
            ..Reading::default()
        },
        ..Photo::default()
    }
}

fn in_german() -> Options {
    Options {
        language: Language::German,
        ..Options::default()
    }
}

fn codes(note: &Note) -> Vec<&str> {
    note.cautions.iter().map(|c| c.code.as_str()).collect()
}

fn flat(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Every piece of text a customer sees passes `care`, and text and page both say it.
#[track_caller]
fn check(note: &Note, says: &[&str], never: &[&str]) {
    let (text, html) = (flat(&note.text()), flat(&note.html().unwrap()));
    for all in [&text, &html, &note.short(), &note.alternative] {
        assert_eq!(must_not_say(all), None, "{all}");
    }
    for words in says {
        assert!(text.contains(words), "no “{words}” in {text}");
        assert!(html.contains(words), "no “{words}” in {html}");
    }
    for words in never {
        let said = text.contains(words) || html.contains(words);
        assert!(!said, "“{words}” in {text}");
    }
}

/// A photo of one grey, as sure as `doubt`.
fn grey(state: State, taken: &str, l: f64, doubt: f64) -> Photo {
    let mut photo = photo(state, taken, Basis::Tag);
    photo.reading.swatches = vec![Swatch {
        doubt: Some(doubt),
        ..swatch([l, 0.0, 0.0], 1.0, None)
    }];
    photo
}
