//! Tests of the whole area; fixtures are in `testdata/`.

mod asking;
mod baths;
mod changing;
mod exchanging;
mod formats;
mod keeping;
mod leafing;
mod mending;
mod notes;
mod opening;
mod round_trip;

use super::record::{Photo, Piece, Round};
use super::*;
use crate::colour::Lab;
use crate::error::Kind;
use crate::reading::{Reading, Swatch};
use std::path::PathBuf;
use tempfile::TempDir;

/// An empty journal in a folder of its own.
fn empty() -> (TempDir, Journal) {
    let dir = tempfile::tempdir().unwrap();
    let journal = Journal::open_or_create(dir.path()).unwrap();
    (dir, journal)
}

fn piece(code: &str) -> Piece {
    Piece {
        code: code.to_owned(),
        fibre: Some("silk".to_owned()),
        rounds: vec![Round {
            round: 1,
            pot: Some("P1".to_owned()),
            ..Round::default()
        }],
        ..Piece::default()
    }
}

fn reading(method: &str) -> Reading {
    Reading {
        method: Some(method.to_owned()),
        swatches: vec![Swatch {
            lab: Lab::new(62.5, 8.25, 45.0),
            share: 1.0,
            doubt: None,
            word: None,
            word_level: None,
            srgb: None,
            part: None,
            plant: None,
        }],
        ..Reading::default()
    }
}

/// A photo whose file holds `bytes`.
fn photo(file: &str, bytes: &[u8], piece: Option<&str>) -> Photo {
    Photo {
        file: Some(file.to_owned()),
        hash: Some(blake3::hash(bytes).to_string()),
        piece: piece.map(str::to_owned),
        reading: reading("1"),
        ..Photo::default()
    }
}

fn jpg(bytes: &[u8]) -> Original<'_> {
    let ending = "jpg";
    Original::Copy { bytes, ending }
}

/// What went wrong: whose move it is, and that the sentence says `word`.
#[track_caller]
fn check<T: std::fmt::Debug>(result: Result<T>, kind: Kind, word: &str) {
    let error = result.expect_err("this should not have worked");
    let sentence = error.to_string();
    assert_eq!(error.kind(), kind, "{sentence}");
    assert!(sentence.contains(word), "{sentence}");
    assert!(sentence.ends_with('.'), "{sentence}");
}

fn testdata(folder: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
        .join("testdata")
        .join(folder)
}
