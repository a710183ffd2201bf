//! The pieces nearest to a colour or to another piece.

use super::evidence;
use super::language::Target;
use super::next::Recipe;
use super::survey::Survey;
use super::value::Shade;
use crate::colour::{Lab, de00, mean, triple};
use crate::error::{Error, Result};
use crate::stats::transport;
use serde::Serialize;
use std::collections::HashSet;

/// A piece near to what was asked for.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Near {
    /// Code of the piece.
    pub piece: String,
    /// How far it is, CIEDE2000: of its nearest colour, or of all its colours moved onto the other piece's the cheapest way.
    pub de00: f64,
    /// Its nearest colour, or the mean of its colours.
    #[serde(with = "triple")]
    pub lab: Lab,
    /// How it was made.
    pub settings: Recipe,
    /// All its colours, largest share first.
    #[serde(skip)]
    pub colours: Vec<Shade>,
}

/// So many pieces are told.
const TOLD: usize = 10;
/// A colour that covers less of a piece does not make it near: it is no more than a fleck.
const LEAST_SHARE: f64 = 0.05;

/// The colours of `target`, and the pieces of `survey` nearest to it, nearest first; the target itself is left out, whatever
/// narrows the question.
///
/// # Errors
/// The caller's, where the piece has no photo in the state or no colour asked about.
pub fn nearest(survey: &Survey, target: &Target) -> Result<(Vec<Shade>, Vec<Near>)> {
    match target {
        Target::Colour(lab) => {
            let shade = Shade {
                lab: *lab,
                share: 1.0,
                doubt: 0.0,
            };
            Ok((vec![shade], to_colour(survey, *lab)))
        }
        Target::Piece(code) => {
            let target = of_piece(survey, code).ok_or_else(|| {
                Error::caller(format!(
                    "{code} has no photo that shows it {} with the colours asked about, so nothing can be near to it: photograph it, or ask for another piece.",
                    survey.question.state.word()
                ))
            })?;
            let found = to_piece(survey, code, &target);
            Ok((target, found))
        }
    }
}

fn to_colour(survey: &Survey, colour: Lab) -> Vec<Near> {
    let nearest = |colours: &[Shade]| {
        let each = colours.iter().filter(|shade| shade.share >= LEAST_SHARE);
        each.map(|shade| (de00(shade.lab, colour), shade.lab))
            .min_by(|a, b| a.0.total_cmp(&b.0))
    };
    ranked(survey, |_, colours| nearest(colours))
}

/// The colours of the piece `code` in the state asked about, largest share first.
fn of_piece(survey: &Survey, code: &str) -> Option<Vec<Shade>> {
    let (gist, question) = (survey.known.gist, survey.question);
    let place = gist.pieces.iter().position(|piece| *piece.code == *code)?;
    let seen = evidence::seen(
        &gist.pieces[place],
        gist.photos_of(place),
        &[question.state],
    )?;
    let photos = evidence::shades(&seen, question, survey.known, question.state);
    let mut colours: Vec<Shade> = photos.into_iter().flatten().collect();
    colours.sort_by(|a, b| b.share.total_cmp(&a.share));
    (!colours.is_empty()).then_some(colours)
}

fn to_piece(survey: &Survey, code: &str, target: &[Shade]) -> Vec<Near> {
    let middle = mean(target.iter().map(|s| (s.lab, s.share)));
    // The cheapest move is reckoned for those alone whose means are near.
    const LOOKED_AT: usize = 200;
    let mut rows: Vec<(f64, usize)> = survey
        .rows
        .iter()
        .enumerate()
        .filter(|(_, row)| *row.seen.piece.code != *code)
        .filter_map(|(n, row)| {
            let own = mean(row.colours(survey).iter().map(|s| (s.lab, s.share)))?;
            Some((de00(own, middle?), n))
        })
        .collect();
    rows.sort_by(|a, b| a.0.total_cmp(&b.0));
    let looked: HashSet<usize> = rows.into_iter().take(LOOKED_AT).map(|(_, n)| n).collect();
    ranked(survey, |n, colours| {
        let own = mean(colours.iter().map(|s| (s.lab, s.share)))?;
        looked.contains(&n).then(|| (moved(colours, target), own))
    })
}

fn ranked(survey: &Survey, far: impl Fn(usize, &[Shade]) -> Option<(f64, Lab)>) -> Vec<Near> {
    let mut all: Vec<(f64, Lab, usize)> = survey
        .rows
        .iter()
        .enumerate()
        .filter_map(|(n, row)| far(n, &row.colours(survey)).map(|(de00, lab)| (de00, lab, n)))
        .collect();
    all.sort_by(|a, b| a.0.total_cmp(&b.0));
    let told = all.into_iter().take(TOLD);
    told.map(|(de00, lab, n)| {
        let row = &survey.rows[n];
        let mut colours = row.colours(survey);
        colours.sort_by(|a, b| b.share.total_cmp(&a.share));
        Near {
            piece: row.seen.piece.code.to_string(),
            de00,
            lab,
            settings: Recipe::of(survey, row),
            colours,
        }
    })
    .collect()
}

/// The mean CIEDE2000 of moving one palette onto the other the cheapest way.
fn moved(one: &[Shade], other: &[Shade]) -> f64 {
    let shares = |shades: &[Shade]| {
        let total: f64 = shades.iter().map(|s| s.share).sum();
        shades.iter().map(|s| s.share / total).collect::<Vec<_>>()
    };
    let cost = |i: usize, j: usize| de00(one[i].lab, other[j].lab);
    let moves = transport(&shares(one), &shares(other), cost);
    moves
        .into_iter()
        .map(|(i, j, share)| share * cost(i, j))
        .sum()
}
