//! Answers on made journals, their numbers computed elsewhere.

mod beside;
mod compared;
mod kinds;
mod made;
mod measures;
mod told;

use super::*;
use crate::journal::record::{Heat, HeatKind, Setting};
use crate::reading::{Basis, Light, Part, State};
use made::{Made, yellows};

#[track_caller]
fn check(found: f64, wanted: f64) {
    assert!((found - wanted).abs() < 1e-9, "{found} is not {wanted}");
}

fn codes(answer: &Answer) -> Vec<&str> {
    answer.cautions.iter().map(|c| c.code.as_str()).collect()
}

#[track_caller]
fn groups(answer: &Answer) -> &[Group] {
    match &answer.found {
        Found::Groups { groups, .. } => groups,
        other => panic!("{other:?}"),
    }
}

#[track_caller]
fn verdict(answer: &Answer) -> &Verdict {
    match &answer.found {
        Found::Groups {
            verdict: Some(verdict),
            ..
        } => verdict,
        other => panic!("{other:?}"),
    }
}
