//! The names a journal holds.
//!
//! They belong to the question language where a word says that a name follows (`with`, `on`, `pot` …) or where two of them are set
//! against each other; anywhere else a word of the language goes before them, so a plant called smokebush or olive never stands in the
//! way of a colour. The longest match wins.

use super::codes::{Codes, said};
use super::kind::Kind;
use super::terms::Factor;
use super::words::{Word, joined, key, typed};
use crate::journal::gist::{Piece, Round, Setting};
use rayon::prelude::*;
use std::collections::{BTreeMap, BTreeSet, HashMap, HashSet};
use std::sync::Arc;

/// A name that stands in a question.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Name {
    /// Its words in the question, as they were typed.
    pub said: String,
    /// Everything it can be the name of, each as the journal writes it; plants, mordants and cloths in lower case.
    pub kinds: Vec<(Kind, String)>,
    /// Whether it stands there with an s that the journal's name has not.
    pub is_plural: bool,
}

/// What questions about one journal may name.
#[derive(Debug, Default)]
pub struct Names {
    /// By the words that say them; codes are held apart.
    names: HashMap<String, Vec<(Kind, String)>>,
    /// The studio's own columns: as written in a question, and as in the journal.
    columns: BTreeMap<String, String>,
    codes: Codes,
    /// Columns that hold a text somewhere.
    texts: HashSet<String>,
    /// `moon full`, `full moon`: the column and its value.
    values: HashMap<String, (String, String)>,
    /// The studio's own colour words.
    own: BTreeMap<String, String>,
}

/// The longest name that is looked for, in words.
pub const LONGEST_NAME: usize = 12;

/// The statuses of the sheet.
const STATUSES: [&str; 4] = ["kept", "for sale", "sold", "spoiled"];

impl Names {
    /// All names in these pieces, and the studio's `own` colour words.
    pub fn of(pieces: &[Piece], own: &[String]) -> Self {
        // A journal says few different names many times.
        let parts = pieces.par_chunks(PIECES_AT_ONCE).map(Told::of);
        let told = parts.reduce(Told::default, Told::and);
        let codes = pieces.iter().map(|piece| (Kind::Piece, &piece.code));
        let codes = codes.chain(told.codes);
        let mut names = Self {
            codes: Codes::of(codes.map(|(kind, code)| (kind, Arc::clone(code))).collect()),
            ..Self::default()
        };
        for word in own {
            names.own.insert(key(word), word.clone());
        }
        for status in STATUSES {
            names.insert(Kind::Status, status);
        }
        for (kind, name) in told.names {
            names.insert(kind, name);
        }
        for sequence in &told.sequences {
            names.insert(Kind::Sequence, sequence);
        }
        for (column, value) in told.settings {
            names.set(column, value);
        }
        names
    }

    fn insert(&mut self, kind: Kind, name: &str) {
        if let Some(said) = said(name) {
            let kinds = self.names.entry(said).or_default();
            let written = name.to_lowercase();
            if !kinds.contains(&(kind, written.clone())) {
                kinds.push((kind, written));
            }
        }
    }

    /// Everything that these words name, in order.
    fn named(&self, words: &str) -> Vec<(Kind, String)> {
        let mut kinds = self.names.get(words).cloned().unwrap_or_default();
        let codes = self.codes.named(words);
        kinds.extend(codes.map(|(kind, code)| (kind, code.to_owned())));
        kinds.sort();
        kinds.dedup();
        kinds
    }

    fn set(&mut self, column: &str, value: Option<&str>) {
        let (joint, spaced) = (column.to_lowercase(), key(&column.replace('_', " ")));
        let mut said = vec![key(&joint)];
        // A column `washed_on` must not swallow the `on` of `washed on silk`.
        if !spaced.ends_with(" on") {
            said.push(spaced);
        }
        for said in said {
            if let Some(text) = value {
                let value = key(text);
                for phrase in [
                    format!("{said} {value}"),
                    format!("{value} {said}"),
                    format!("{said} is {value}"),
                    format!("column {said} is {value}"),
                ] {
                    self.values
                        .insert(phrase, (column.to_owned(), text.to_owned()));
                }
            }
            self.columns.insert(said, column.to_owned());
        }
        if value.is_some() {
            self.texts.insert(column.to_owned());
        }
    }

    /// The name of these words, where they are one.
    pub fn name(&self, words: &[Word]) -> Option<Name> {
        let said = joined(words);
        let mut kinds = self.named(&said);
        let is_plural = kinds.is_empty();
        if is_plural {
            kinds = self.named(said.strip_suffix('s')?);
            kinds.retain(|(kind, _)| *kind == Kind::Plant);
        }
        // Codes that differ in capitals alone are told apart by how they are written.
        let same =
            |(_, written): &&(Kind, String)| words.len() == 1 && *written == words[0].written;
        let pieces = kinds.iter().filter(|(kind, _)| *kind == Kind::Piece);
        let kinds = match (pieces.clone().count() > 1)
            .then(|| pieces.clone().find(same))
            .flatten()
        {
            Some(piece) => vec![piece.clone()],
            None => kinds,
        };
        (!kinds.is_empty()).then_some(Name {
            said: typed(words),
            kinds,
            is_plural,
        })
    }

    /// The longest name at the start of `words` that `fits`, and how many words it takes.
    pub fn longest(&self, words: &[Word], fits: impl Fn(Kind) -> bool) -> Option<(usize, Name)> {
        (1..=words.len().min(LONGEST_NAME))
            .rev()
            .find_map(|length| {
                let mut name = self.name(&words[..length])?;
                name.kinds.retain(|(kind, _)| fits(*kind));
                (!name.kinds.is_empty()).then_some((length, name))
            })
    }

    /// Whether a piece has exactly this code.
    pub fn is_code(&self, written: &str) -> bool {
        let said = written.to_lowercase();
        self.codes
            .named(&said)
            .any(|known| known == (Kind::Piece, written))
    }

    /// The column of this name.
    pub fn column(&self, phrase: &str) -> Option<Factor> {
        self.columns.get(phrase).cloned().map(Factor::Column)
    }

    /// Whether a setting is a number in this journal.
    pub fn is_number(&self, factor: &Factor) -> bool {
        match factor {
            Factor::Column(name) => !self.texts.contains(name),
            factor => factor.is_number(),
        }
    }

    /// The column and value of `moon full` or `full moon`.
    pub fn value(&self, phrase: &str) -> Option<(Factor, String)> {
        let (column, value) = self.values.get(phrase)?;
        Some((Factor::Column(column.clone()), value.clone()))
    }

    /// The columns that hold this text, each as one says it, and the text as the journal writes it.
    pub fn columns_of(&self, value: &str) -> Vec<(&str, &str)> {
        let held = |column: &str| self.values.get(&format!("{column} {value}"));
        let columns = self.columns.keys();
        columns
            .filter_map(|said| Some((said.as_str(), held(said)?.1.as_str())))
            .collect()
    }

    /// The column and value of a text that one column alone holds.
    pub fn only_value(&self, value: &str) -> Option<(Factor, String)> {
        let mut columns = self.columns_of(value).into_iter();
        let (said, _) = columns.next()?;
        let found = self.value(&format!("{said} {value}"))?;
        columns
            .all(|(other, _)| self.columns.get(other) == self.columns.get(said))
            .then_some(found)
    }

    /// The studio's own colour word of this phrase, in the singular or plural.
    pub fn own(&self, phrase: &str) -> Option<&str> {
        let singular = || self.own.get(phrase.strip_suffix('s')?);
        self.own.get(phrase).or_else(singular).map(String::as_str)
    }

    /// The names of a kind that `fits`, as the journal writes them, in order.
    pub fn all(&self, fits: impl Fn(Kind) -> bool) -> Vec<&str> {
        let all = self
            .names
            .values()
            .flatten()
            .map(|(kind, written)| (*kind, written.as_str()))
            .chain(self.codes.iter())
            .filter(|(kind, _)| fits(*kind));
        let mut all: Vec<&str> = all.map(|(_, written)| written).collect();
        all.sort_unstable();
        all.dedup();
        all
    }

    /// The columns, as one says them.
    pub fn columns(&self) -> impl Iterator<Item = &String> {
        self.columns.keys()
    }

    /// The columns and the studio's own colour words, as one says them.
    pub fn words(&self) -> impl Iterator<Item = &String> {
        self.columns.keys().chain(self.own.keys())
    }
}

/// The different names in some pieces, their codes apart.
#[derive(Default)]
struct Told<'a> {
    names: HashSet<(Kind, &'a str)>,
    /// Pots and bundles; the same may come again.
    codes: Vec<(Kind, &'a Arc<str>)>,
    sequences: HashSet<String>,
    settings: BTreeSet<(&'a str, Option<&'a str>)>,
}

/// So many pieces are looked through by one thread at a time.
const PIECES_AT_ONCE: usize = 16_384;

impl<'a> Told<'a> {
    fn of(pieces: &'a [Piece]) -> Self {
        let mut told = Self::default();
        for piece in pieces {
            told.add(piece);
        }
        told
    }

    fn add(&mut self, piece: &'a Piece) {
        let of_piece = [
            (Kind::Fibre, &piece.fibre),
            (Kind::Weave, &piece.weave),
            (Kind::Status, &piece.status),
        ];
        let of_piece = of_piece.into_iter();
        self.names
            .extend(of_piece.filter_map(|(kind, name)| Some((kind, name.as_deref()?))));
        for round in &piece.rounds {
            let pot = round.pot.iter().map(|pot| (Kind::Pot, pot));
            let bundle = round.bundle.iter().map(|bundle| (Kind::Bundle, bundle));
            for code in pot.chain(bundle) {
                // Pieces of one pot mostly come one after another.
                if !self.codes.iter().rev().take(2).any(|known| *known == code) {
                    self.codes.push(code);
                }
            }
            let plants = round.plants.iter().map(|plant| (Kind::Plant, &*plant.name));
            let soaks = round.soaks.iter().map(|soak| (Kind::Soak, &*soak.mordant));
            self.names.extend(plants.chain(soaks));
            self.sequences.insert(round.mordant());
            let settings = round.settings.iter().map(|(column, value)| match value {
                Setting::Number(_) => (&**column, None),
                Setting::Text(text) => (&**column, Some(&**text)),
            });
            self.settings.extend(settings);
        }
        if piece.rounds.len() > 1 {
            let each = piece.rounds.iter().map(Round::mordant);
            let each: Vec<String> = each.filter(|mordant| !mordant.is_empty()).collect();
            self.sequences.insert(each.join(" / "));
        }
    }

    fn and(mut self, other: Self) -> Self {
        self.names.extend(other.names);
        self.codes.extend(other.codes);
        self.sequences.extend(other.sequences);
        self.settings.extend(other.settings);
        self
    }
}

impl Name {
    /// Whether it can be the name of such a thing.
    pub fn can_be(&self, fits: impl Fn(Kind) -> bool) -> bool {
        self.kinds.iter().any(|(kind, _)| fits(*kind))
    }

    /// As the journal writes it, where it can be the name of such a thing.
    pub fn written(&self, fits: impl Fn(Kind) -> bool) -> Option<&str> {
        let fitting = self.kinds.iter().find(|(kind, _)| fits(*kind));
        fitting.map(|(_, written)| written.as_str())
    }
}
