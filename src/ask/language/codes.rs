//! The codes of pieces, pots and bundles: by far the most names of a long journal.

use super::kind::Kind;
use super::words::key;
use rayon::prelude::*;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::sync::Arc;

/// Codes that are found by the words that say them, without a copy of any.
#[derive(Debug, Default)]
pub struct Codes {
    all: Vec<(Kind, Arc<str>)>,
    /// The hash of each code's words and its place, in order.
    places: Vec<(u64, usize)>,
}

impl Codes {
    /// These codes.
    pub fn of(all: Vec<(Kind, Arc<str>)>) -> Self {
        let codes = all.par_iter().enumerate();
        let mut places: Vec<(u64, usize)> = codes
            .filter_map(|(place, (_, code))| Some((hash(&said(code)?), place)))
            .collect();
        places.par_sort_unstable();
        Self { all, places }
    }

    /// Those that these words say, each as the journal writes it.
    pub fn named(&self, words: &str) -> impl Iterator<Item = (Kind, &str)> {
        let wanted = hash(words);
        let from = self.places.partition_point(|(hash, _)| *hash < wanted);
        let alike = self.places[from..]
            .iter()
            .take_while(move |p| p.0 == wanted);
        let codes = alike.map(|(_, place)| &self.all[*place]);
        codes
            .filter(move |(_, code)| said(code).as_deref() == Some(words))
            .map(|(kind, code)| (*kind, &**code))
    }

    /// All of them.
    pub fn iter(&self) -> impl Iterator<Item = (Kind, &str)> {
        self.all.iter().map(|(kind, code)| (*kind, &**code))
    }
}

/// The words that say a name; `None` where it has none.
pub fn said(name: &str) -> Option<String> {
    let said = key(name);
    // A piece may be called A, which is an article too.
    let said = match said.is_empty() {
        true => name.trim().to_lowercase(),
        false => said,
    };
    (!said.is_empty()).then_some(said)
}

fn hash(words: &str) -> u64 {
    let mut hasher = DefaultHasher::new();
    words.hash(&mut hasher);
    hasher.finish()
}
