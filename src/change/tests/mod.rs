//! Pieces of known colours, wet, dry and washed.

mod drying;
mod mean;
mod washing;

use super::*;
use crate::colour::Lab;
use crate::error::Caution;
use crate::reading::{Basis, State};

fn colours(colours: &[([f64; 3], f64)], doubt: Option<f64>) -> Vec<Colour> {
    let colour = |&([l, a, b], share): &([f64; 3], f64)| Colour {
        lab: Lab::new(l, a, b),
        share,
        doubt,
    };
    colours.iter().map(colour).collect()
}

fn shown(piece: &str, state: State, colours: Vec<Colour>) -> Shown {
    Shown {
        piece: piece.to_owned(),
        file: Some(state.word().to_owned()),
        state,
        washes: None,
        taken: None,
        round: 1,
        made: None,
        settings: Settings::default(),
        basis: Some(Basis::Tag),
        cautions: Vec::new(),
        colours,
    }
}

/// One grey of this lightness.
fn grey(piece: &str, state: State, lightness: f64, doubt: Option<f64>) -> Shown {
    shown(
        piece,
        state,
        colours(&[([lightness, 0.0, 0.0], 1.0)], doubt),
    )
}

#[track_caller]
fn check(found: Option<f64>, wanted: f64) {
    let found = found.unwrap();
    assert!((found - wanted).abs() < 1e-6, "{found} is not {wanted}");
}

fn codes(cautions: &[Caution]) -> Vec<&str> {
    cautions.iter().map(|c| c.code.as_str()).collect()
}
