//! Which pieces a batch of notes is of, and which it passes over.

use super::language::{Key, Language, Messages};
use crate::care::must_not_say;
use crate::error::{Error, Result, listed};
use crate::journal::Journal;
use crate::journal::record::{Photo, Piece};
use crate::reading::State;
use std::collections::HashMap;

/// What a batch is of.
#[derive(Clone, Debug, Default)]
pub struct Batch {
    /// The bundle whose pieces it holds; `None` for pieces of all bundles.
    pub bundle: Option<String>,
    /// The language of its cover sheet.
    pub language: Language,
}

/// So many pieces of one kind are told by their codes.
const TOLD: usize = 3;

/// The pieces of a batch.
#[derive(Debug)]
pub struct Chosen {
    /// Those that have a note, by code.
    pub pieces: Vec<Piece>,
    /// Their bundle as the journal writes it; `None` for pieces of all bundles.
    pub bundle: Option<String>,
    /// For the studio, a sentence each: which pieces have no note and why, and whether the cover goes without the bundle's name.
    pub told: Vec<String>,
}

/// Every piece that was photographed dry or washed, or those of one bundle, whose name may be written in other letters.
///
/// # Errors
/// The caller's move where there is none; a journal that cannot be read.
pub fn chosen(journal: &Journal, bundle: Option<&str>) -> Result<Chosen> {
    let all = journal.pieces()?;
    let bundle = bundle.map(|asked| as_written(&all, asked));
    let of_bundle = |piece: &Piece| match &bundle {
        None => true,
        Some(name) => rolled(piece, name),
    };
    let rolled: Vec<Piece> = all.into_iter().filter(of_bundle).collect();
    let photos = journal.photos()?;
    let mut seen: HashMap<&str, Seen> = HashMap::new();
    for photo in &photos {
        if let Some(code) = &photo.piece {
            let known = seen.entry(code).or_default();
            *known = (*known).max(Seen::of(photo));
        }
    }
    let number = rolled.len();
    let (mut pieces, mut bare, mut wet) = (vec![], vec![], vec![]);
    for piece in rolled {
        match seen.get(piece.code.as_str()).copied().unwrap_or_default() {
            Seen::Well => pieces.push(piece),
            Seen::WetOrWorn => wet.push(piece.code),
            Seen::Nowhere => bare.push(piece.code),
        }
    }
    if pieces.is_empty() {
        return Err(none(bundle.as_deref()));
    }
    let passed = passed_over(number, &bare, &wet).into_iter();
    let unnamed = bundle.as_deref().and_then(unnamed);
    Ok(Chosen {
        told: passed.chain(unnamed).collect(),
        pieces,
        bundle,
    })
}

/// Whether the piece was photographed dry or washed, so that a note can tell of it.
///
/// # Errors
/// A journal that cannot be read.
pub fn is_ready(journal: &Journal, piece: &Piece) -> Result<bool> {
    let photos = journal.photos_of(&piece.code)?;
    Ok(photos.iter().any(|photo| Seen::of(photo) == Seen::Well))
}

/// Whether the piece was ever in the bundle of this name, in whatever letters.
pub fn rolled(piece: &Piece, bundle: &str) -> bool {
    bundles(piece).any(|other| is_same(other, bundle))
}

/// As what a piece's photos show it, the best of them last.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
enum Seen {
    /// No photo has colours.
    #[default]
    Nowhere,
    WetOrWorn,
    Well,
}

impl Seen {
    fn of(photo: &Photo) -> Self {
        let has_colours = photo.reading.swatches.iter().any(|s| s.share > 0.0);
        match photo.state {
            _ if !has_colours => Self::Nowhere,
            Some(State::Wet | State::Worn) => Self::WetOrWorn,
            Some(State::Dry | State::Washed) | None => Self::Well,
        }
    }
}

fn bundles(piece: &Piece) -> impl Iterator<Item = &str> {
    let rounds = piece.rounds.iter();
    rounds.filter_map(|round| round.bundle.as_deref())
}

fn is_same(one: &str, other: &str) -> bool {
    one.to_lowercase() == other.to_lowercase()
}

/// The bundle that was asked for as the journal writes it.
fn as_written(pieces: &[Piece], asked: &str) -> String {
    let all = || pieces.iter().flat_map(bundles);
    let exactly = all().find(|name| *name == asked);
    let found = exactly.or_else(|| all().find(|name| is_same(name, asked)));
    found.unwrap_or(asked).to_owned()
}

fn none(bundle: Option<&str>) -> Error {
    Error::caller(match bundle {
        Some(name) => format!(
            "No piece of a bundle {name} was photographed dry or washed yet; “filemot show” lists the pieces."
        ),
        None => "No piece was photographed dry or washed yet: ingest photos first.".to_owned(),
    })
}

/// Which of so many pieces have no note, and why.
fn passed_over(number: usize, bare: &[String], wet: &[String]) -> Option<String> {
    let kinds = [
        (bare, "no photo with colours"),
        (wet, "only photos wet or worn"),
    ];
    let told = kinds.iter().filter(|(codes, _)| !codes.is_empty());
    let told: Vec<String> = told
        .map(|(codes, why)| {
            let have = if codes.len() == 1 { "has" } else { "have" };
            format!("{} {have} {why} ({})", codes.len(), first(codes))
        })
        .collect();
    let left = bare.len() + wet.len();
    (left > 0).then(|| {
        format!(
            "{left} of {number} pieces {} passed over: {}; ingest a dry photo of each, then ask for the notes again.",
            if left == 1 { "is" } else { "are" },
            listed(&told)
        )
    })
}

/// The first few codes, and how many more there are.
fn first(codes: &[String]) -> String {
    match codes.len().saturating_sub(TOLD) {
        0 | 1 => codes.join(", "),
        more => format!("{} and {more} more", codes[..TOLD].join(", ")),
    }
}

/// That the cover does not name the bundle, since its name is a promise.
fn unnamed(bundle: &str) -> Option<String> {
    let why = must_not_say(bundle)?;
    Some(format!(
        "The cover and the files do not name the bundle “{bundle}”: {why}."
    ))
}

impl Batch {
    /// The bundle's name where a customer may read it.
    pub fn printed(&self) -> Option<&str> {
        let name = self.bundle.as_deref();
        name.filter(|name| must_not_say(name).is_none())
    }

    /// What it is called, without the bundle's name where that is a promise.
    pub(super) fn title(&self, messages: &Messages) -> String {
        match self.printed() {
            Some(bundle) => messages.fill(Key::CoverBundle, [("bundle", bundle.into())]),
            None => messages.say(Key::CoverTitle),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_passed_over_is_told_by_its_reason() {
        let codes =
            |number: usize| -> Vec<String> { (1..=number).map(|n| format!("LB{n:03}")).collect() };
        let check = |bare: usize, wet: usize, told: &str| {
            let found = passed_over(30, &codes(bare), &codes(wet));
            assert_eq!(found.as_deref(), Some(told).filter(|told| !told.is_empty()));
        };
        check(0, 0, "");
        check(
            1,
            0,
            "1 of 30 pieces is passed over: 1 has no photo with colours (LB001); ingest a dry photo of each, then ask for the notes again.",
        );
        check(
            5,
            4,
            "9 of 30 pieces are passed over: 5 have no photo with colours (LB001, LB002, LB003 and 2 more) and 4 have only photos wet or worn (LB001, LB002, LB003, LB004); ingest a dry photo of each, then ask for the notes again.",
        );
    }
}
