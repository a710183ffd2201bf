//! What a journal knows that a new bundle can begin with: the bundles so far, what is used most, which names are free.

use crate::error::slips;
use crate::journal::record::{Piece, Round, Soak};
use crate::sheet;
use std::collections::{BTreeMap, BTreeSet};

/// A roll of layers as the journal knows it.
pub(in crate::page) struct Bundle<'a> {
    /// Its name.
    pub name: &'a str,
    /// Its newest day, `YYYY-MM-DD`; empty where none is known.
    pub made: &'a str,
    /// Its layers, the one next to the stick first.
    pub layers: Vec<(&'a Piece, &'a Round)>,
}

impl<'a> Bundle<'a> {
    /// A piece as it went through its newest round, alone.
    pub(super) fn of_piece(piece: &'a Piece, bare: &'a Round) -> Self {
        let round = piece.rounds.last().unwrap_or(bare);
        let name = round.bundle.as_deref().unwrap_or_default();
        Self::of(name, vec![(piece, round)])
    }

    fn of(name: &'a str, mut layers: Vec<(&'a Piece, &'a Round)>) -> Self {
        layers.sort_by_key(|(_, round)| round.layer.unwrap_or(u32::MAX));
        let days = layers.iter().filter_map(|(_, round)| round.made.as_deref());
        Self {
            name,
            made: days.max().unwrap_or_default(),
            layers,
        }
    }
}

/// All bundles, the newest first.
pub(in crate::page) fn bundles(pieces: &[Piece]) -> Vec<Bundle<'_>> {
    let mut found: BTreeMap<&str, Vec<(&Piece, &Round)>> = BTreeMap::new();
    for piece in pieces {
        for round in &piece.rounds {
            if let Some(name) = &round.bundle {
                found.entry(name).or_default().push((piece, round));
            }
        }
    }
    let mut bundles: Vec<Bundle> = found
        .into_iter()
        .map(|(name, layers)| Bundle::of(name, layers))
        .collect();
    bundles.sort_by(|one, other| (other.made, other.name).cmp(&(one.made, one.name)));
    bundles
}

/// Where a bundle is looked at.
pub(super) fn path(bundle: &str) -> String {
    let Ok(name) = askama::filters::urlencode_strict(bundle);
    format!("/pot/bundle/{name}")
}

/// What is offered to be chosen by touching it.
#[derive(Default)]
pub(super) struct Chips {
    /// Soaks as a sheet writes them, `alum 12%`, the most used first.
    pub soaks: Vec<String>,
    /// Plants, the most used first.
    pub plants: Vec<String>,
    /// Fibres, by name.
    pub fibres: BTreeSet<String>,
    /// Weaves, by name.
    pub weaves: BTreeSet<String>,
    /// Every mordant and every plant that was ever used.
    used: [BTreeSet<String>; 2],
}

impl Chips {
    /// So many of a kind are offered.
    const MOST: usize = 14;

    /// From what was used so far.
    pub(super) fn of(pieces: &[Piece]) -> Self {
        let rounds = || pieces.iter().flat_map(|piece| &piece.rounds);
        let soaks = rounds().flat_map(|round| round.soaks.iter().map(soak));
        let plants = rounds().flat_map(|round| round.plants.iter().map(|plant| plant.name.clone()));
        Self {
            soaks: most_used(soaks),
            plants: most_used(plants),
            fibres: pieces
                .iter()
                .filter_map(|piece| piece.fibre.clone())
                .collect(),
            weaves: pieces
                .iter()
                .filter_map(|piece| piece.weave.clone())
                .collect(),
            used: [
                rounds()
                    .flat_map(|round| round.soaks.iter().map(|soak| soak.mordant.clone()))
                    .collect(),
                rounds()
                    .flat_map(|round| round.plants.iter().map(|plant| plant.name.clone()))
                    .collect(),
            ],
        }
    }

    /// The mordant of this name, if it is not used yet, that was perhaps meant.
    pub(super) fn meant_mordant(&self, name: &str) -> Option<&str> {
        meant(&self.used[0], name)
    }

    /// The same of a plant.
    pub(super) fn meant_plant(&self, name: &str) -> Option<&str> {
        meant(&self.used[1], name)
    }
}

/// What few slips of the fingers lead to, where `name` itself was never used.
fn meant<'a>(used: &'a BTreeSet<String>, name: &str) -> Option<&'a str> {
    if used.contains(name) {
        return None;
    }
    let most = if name.chars().count() < 5 { 1 } else { 2 };
    let near = used
        .iter()
        .map(|known| (slips(known, name), known.as_str()));
    let near = near.filter(|(count, _)| (1..=most).contains(count)).min();
    near.map(|(_, known)| known)
}

fn most_used(names: impl Iterator<Item = String>) -> Vec<String> {
    let mut counts: BTreeMap<String, usize> = BTreeMap::new();
    for name in names.filter(|name| !name.is_empty()) {
        *counts.entry(name).or_default() += 1;
    }
    let mut counts: Vec<(String, usize)> = counts.into_iter().collect();
    counts.sort_by_key(|(_, count)| std::cmp::Reverse(*count));
    counts
        .into_iter()
        .map(|(name, _)| name)
        .take(Chips::MOST)
        .collect()
}

/// A soak as it may be done again: without its day and its bath.
pub(super) fn soak(soak: &Soak) -> String {
    sheet::print_mordant(&[Soak {
        on: None,
        bath: None,
        ..soak.clone()
    }])
}

/// Numbers with more digits count nothing.
const MOST_DIGITS: usize = 18;

/// The next name after `name` that is not `taken`: `LB021` leads to `LB022`, `garden` to `garden 2`.
pub(super) fn next(name: &str, taken: impl Fn(&str) -> bool) -> String {
    if name.is_empty() {
        return String::new();
    }
    let digits = name.chars().rev().take_while(char::is_ascii_digit).count();
    let (stem, number) = name.split_at(name.len() - digits);
    let counts = number.parse::<u64>().ok().filter(|_| digits <= MOST_DIGITS);
    let (stem, first, digits) = match counts {
        Some(number) => (stem.to_owned(), number.saturating_add(1), digits),
        None => (format!("{name} "), 2, 1),
    };
    // There are fewer names than numbers.
    let names = (first..=u64::MAX).map(|number| format!("{stem}{number:0digits$}"));
    let mut free = names.filter(|name| !taken(name));
    free.next().unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_go_on_counting() {
        let check = |name: &str, wanted: &str| {
            let taken = ["LB023", "B1", "garden 2"];
            assert_eq!(next(name, |name| taken.contains(&name)), wanted);
        };
        check("LB021", "LB022");
        check("LB022", "LB024");
        check("LB099", "LB100");
        check("B9", "B10");
        check("garden", "garden 3");
        check("", "");
        check("4294967295", "4294967296");
        check("B99999999999999999999", "B99999999999999999999 2");
        let long = format!("B{}1", "0".repeat(70_000));
        check(&long, &format!("{long} 2"));
    }

    #[test]
    fn the_newest_bundle_comes_first_and_its_inmost_layer() {
        let piece = |code: &str, bundle: &str, made: &str, layer: u32| Piece {
            code: code.to_owned(),
            rounds: vec![Round {
                round: 1,
                bundle: Some(bundle.to_owned()),
                made: Some(made.to_owned()),
                layer: Some(layer),
                ..Round::default()
            }],
            ..Piece::default()
        };
        let pieces = [
            piece("LB001", "B1", "2026-05-03", 1),
            piece("LB002", "B2", "2026-05-09", 2),
            piece("LB003", "B2", "2026-05-09", 1),
        ];
        let found = bundles(&pieces);
        let codes = |n: usize| -> Vec<&str> {
            let layers: &Vec<(&Piece, &Round)> = &found[n].layers;
            layers
                .iter()
                .map(|(piece, _)| piece.code.as_str())
                .collect()
        };
        assert_eq!((found[0].name, codes(0)), ("B2", vec!["LB003", "LB002"]));
        assert_eq!((found[1].name, codes(1)), ("B1", vec!["LB001"]));
    }
}
