//! Which pieces are meant, and what is to be made of them.

use crate::error::Result;
use crate::journal::Journal;
use crate::journal::record::Piece;
use crate::note::{self, Language, Options, Paper};
use crate::page::edition;
use serde::Deserialize;
use std::collections::HashSet;

/// What a form or an address of this place says.
#[derive(Debug, Default, Deserialize)]
#[serde(from = "Vec<(String, String)>")]
pub(super) struct Chosen {
    /// Each a piece's code, a bundle's name, or several of them with spaces or commas between.
    pub pieces: Vec<String>,
    /// The pieces of the page that the form stands on, in the same way.
    pub shown: Vec<String>,
    pub paper: String,
    /// Whether the cards of the states are to be printed as well.
    pub states: bool,
    pub lang: String,
    pub take: String,
    /// The editions of the notes that stood on the page; none where the form does not say.
    pub seen: Vec<String>,
}

/// A field may come several times, once for each piece that was ticked.
impl From<Vec<(String, String)>> for Chosen {
    fn from(fields: Vec<(String, String)>) -> Self {
        let mut chosen = Self::default();
        for (name, value) in fields {
            match name.as_str() {
                "pieces" => chosen.pieces.push(value),
                "shown" => chosen.shown.push(value),
                "paper" => chosen.paper = value,
                "states" => chosen.states = !value.is_empty(),
                "seen" => chosen.seen.push(value),
                "lang" => chosen.lang = value,
                "take" => chosen.take = value,
                _ => {}
            }
        }
        chosen
    }
}

/// The pieces that are meant.
#[derive(Debug, Default)]
pub(super) struct Meant {
    /// Their codes as the journal writes them, each once; what is no code stands as it was typed.
    pub codes: Vec<String>,
    /// The bundle that is meant as a whole, and nothing beside it.
    pub bundle: Option<String>,
    /// Pieces of bundles that have no photo a note could tell of.
    pub left_out: Vec<String>,
}

impl Chosen {
    pub fn options(&self) -> Options {
        Options {
            language: match self.lang.as_str() {
                "de" => Language::German,
                _ => Language::English,
            },
            reissue: self.take == "today",
        }
    }

    /// Whether these texts are those that were seen. Today's words are taken knowingly, in place of those that were.
    pub fn saw(&self, texts: impl Iterator<Item = String>) -> bool {
        let editions: Vec<String> = texts.map(|text| edition::of_text(&text)).collect();
        self.seen.is_empty() || self.take == "today" || self.seen == editions
    }

    /// The paper of cards.
    pub fn paper(&self) -> Paper {
        match self.paper.as_str() {
            "a4" => Paper::A4,
            "letter" => Paper::Letter,
            _ => Paper::A6,
        }
    }

    /// What is asked for, by what the journal knows: a piece goes before a bundle of the same name, a whole field before its
    /// parts.
    pub fn meant(&self, journal: &Journal) -> Result<Meant> {
        let mut reader = Reader {
            journal,
            pieces: None,
            meant: Meant::default(),
            heard: HashSet::new(),
        };
        let fields = self.pieces.iter().map(|field| field.trim());
        for field in fields.filter(|field| !field.is_empty()) {
            if reader.take(field)? {
                continue;
            }
            for part in parts(field) {
                if !reader.take(part)? {
                    reader.meant.add(part.to_owned());
                }
            }
        }
        Ok(reader.meant)
    }
}

/// The words of a field.
fn parts(field: &str) -> impl Iterator<Item = &str> {
    let parts = field.split(|c: char| c.is_whitespace() || c == ',' || c == ';');
    parts.filter(|part| !part.is_empty())
}

/// Looks up what names mean.
struct Reader<'a> {
    journal: &'a Journal,
    /// All of them, once a name is no piece's.
    pieces: Option<Vec<Piece>>,
    meant: Meant,
    heard: HashSet<String>,
}

impl Reader<'_> {
    /// Takes a piece or a bundle; false where there is none of this name.
    fn take(&mut self, name: &str) -> Result<bool> {
        if let Some(piece) = self.journal.piece(name)? {
            self.meant.add(piece.code);
            return Ok(true);
        }
        let pieces = match self.pieces.take() {
            Some(pieces) => pieces,
            None => self.journal.pieces()?,
        };
        let taken = self.take_bundle(&pieces, name);
        self.pieces = Some(pieces);
        taken
    }

    fn take_bundle(&mut self, pieces: &[Piece], name: &str) -> Result<bool> {
        let rolled: Vec<&Piece> = pieces.iter().filter(|it| note::rolled(it, name)).collect();
        let names = rolled.iter().flat_map(|piece| &piece.rounds);
        let mut names = names.filter_map(|round| round.bundle.as_deref());
        let Some(bundle) = names.find(|it| it.to_lowercase() == name.to_lowercase()) else {
            return Ok(false);
        };
        if !self.heard.insert(bundle.to_owned()) {
            return Ok(true);
        }
        let alone = self.meant.codes.is_empty() && self.meant.left_out.is_empty();
        for piece in rolled {
            match note::is_ready(self.journal, piece)? {
                true => self.meant.add(piece.code.clone()),
                false => self.meant.left_out.push(piece.code.clone()),
            }
        }
        self.meant.bundle = alone.then(|| bundle.to_owned());
        Ok(true)
    }
}

impl Meant {
    fn add(&mut self, code: String) {
        self.bundle = None;
        if !self.codes.contains(&code) {
            self.codes.push(code);
        }
    }

    /// The fields that mean the same again.
    pub fn fields(&self) -> Vec<String> {
        match &self.bundle {
            Some(bundle) => vec![bundle.clone()],
            None => self.codes.clone(),
        }
    }
}

/// Fields as a part of an address: `pieces=LB001&pieces=LB002`.
pub(super) fn address(fields: &[String]) -> String {
    let field = |field: &String| {
        let Ok(field) = askama::filters::urlencode_strict(field);
        format!("pieces={field}")
    };
    fields.iter().map(field).collect::<Vec<_>>().join("&")
}
