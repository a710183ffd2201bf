//! The names a journal holds.
//!
//! They belong to the question language where a word says that a name follows (`with`, `on`, `pot` …) or where two of them are set
//! against each other; anywhere else a word of the language goes before them, so a plant called smokebush or olive never stands in the
//! way of a colour. The longest match wins.

use super::terms::Factor;
use super::words::{Word, joined, key, typed};
use crate::journal::gist::{Piece, Round, Setting};
use std::collections::{BTreeMap, BTreeSet, HashMap, HashSet};
use std::sync::Arc;

/// What a name is the name of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// A plant.
    Plant,
    /// One soak.
    Soak,
    /// The whole sequence of soaks of a round, or of a piece.
    Sequence,
    /// A fibre.
    Fibre,
    /// A weave.
    Weave,
    /// The code of a piece.
    Piece,
    /// A pot.
    Pot,
    /// A bundle.
    Bundle,
    /// A status.
    Status,
}

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
    /// By the words that say them.
    names: HashMap<String, Vec<(Kind, String)>>,
    /// The studio's own columns: as written in a question, and as in the journal.
    columns: BTreeMap<String, String>,
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
        let mut names = Self::default();
        for word in own {
            names.own.insert(key(word), word.clone());
        }
        for status in STATUSES {
            names.insert(Kind::Status, status);
        }
        // A journal says few different names many times.
        let mut different: HashSet<(Kind, &str)> = HashSet::new();
        let mut sequences: HashSet<String> = HashSet::new();
        let mut settings: BTreeSet<(&str, Option<&str>)> = BTreeSet::new();
        for piece in pieces {
            different.insert((Kind::Piece, &piece.code));
            let of_piece = [
                (Kind::Fibre, &piece.fibre),
                (Kind::Weave, &piece.weave),
                (Kind::Status, &piece.status),
            ];
            different.extend(told(of_piece));
            for round in &piece.rounds {
                different.extend(told([
                    (Kind::Pot, &round.pot),
                    (Kind::Bundle, &round.bundle),
                ]));
                different.extend(round.plants.iter().map(|plant| (Kind::Plant, &*plant.name)));
                different.extend(round.soaks.iter().map(|soak| (Kind::Soak, &*soak.mordant)));
                sequences.insert(round.mordant());
                settings.extend(round.settings.iter().map(|(column, value)| match value {
                    Setting::Number(_) => (&**column, None),
                    Setting::Text(text) => (&**column, Some(&**text)),
                }));
            }
            if piece.rounds.len() > 1 {
                let each: Vec<String> = piece
                    .rounds
                    .iter()
                    .map(Round::mordant)
                    .filter(|m| !m.is_empty())
                    .collect();
                sequences.insert(each.join(" / "));
            }
        }
        different
            .iter()
            .for_each(|(kind, name)| names.insert(*kind, name));
        sequences
            .iter()
            .for_each(|name| names.insert(Kind::Sequence, name));
        settings
            .iter()
            .for_each(|(column, value)| names.set(column, *value));
        names
    }

    fn insert(&mut self, kind: Kind, name: &str) {
        if name.trim().is_empty() {
            return;
        }
        let written = match kind {
            Kind::Plant
            | Kind::Soak
            | Kind::Sequence
            | Kind::Fibre
            | Kind::Weave
            | Kind::Status => name.to_lowercase(),
            Kind::Piece | Kind::Pot | Kind::Bundle => name.to_owned(),
        };
        let said = Some(key(name)).filter(|said| !said.is_empty());
        // A piece may be called A, which is an article too.
        let said = said.unwrap_or_else(|| name.trim().to_lowercase());
        let kinds = self.names.entry(said).or_default();
        if !kinds.contains(&(kind, written.clone())) {
            kinds.push((kind, written));
            kinds.sort();
        }
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
        let exactly = self.names.get(&said);
        let (kinds, is_plural) = match exactly {
            Some(kinds) => (kinds.clone(), false),
            None => {
                let one = self.names.get(said.strip_suffix('s')?)?;
                let plants = one.iter().filter(|(kind, _)| *kind == Kind::Plant);
                (plants.cloned().collect(), true)
            }
        };
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
        let kinds = self.names.get(&written.to_lowercase());
        kinds.is_some_and(|kinds| {
            kinds
                .iter()
                .any(|known| *known == (Kind::Piece, written.to_owned()))
        })
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
            .filter(|(kind, _)| fits(*kind));
        let mut all: Vec<&str> = all.map(|(_, written)| written.as_str()).collect();
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

fn told<const N: usize>(
    names: [(Kind, &Option<Arc<str>>); N],
) -> impl Iterator<Item = (Kind, &str)> {
    names
        .into_iter()
        .filter_map(|(kind, name)| Some((kind, name.as_deref()?)))
}

impl Kind {
    /// What it is, with its article.
    pub fn word(self) -> &'static str {
        match self {
            Self::Plant => "a plant",
            Self::Soak | Self::Sequence => "a mordant",
            Self::Fibre | Self::Weave => "a cloth",
            Self::Piece => "a piece",
            Self::Pot => "a pot",
            Self::Bundle => "a bundle",
            Self::Status => "a status",
        }
    }

    /// Whether it may follow `with`.
    pub fn is_used(self) -> bool {
        matches!(self, Self::Plant | Self::Soak | Self::Sequence)
    }

    /// Whether it is a mordant.
    pub fn is_mordant(self) -> bool {
        matches!(self, Self::Soak | Self::Sequence)
    }

    /// Whether it may follow `on`.
    pub fn is_cloth(self) -> bool {
        matches!(self, Self::Fibre | Self::Weave)
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
