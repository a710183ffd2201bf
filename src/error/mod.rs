//! What can go wrong, and what a reader must know about a value.
//!
//! An [`Error`] says whose move it is and is one sentence a craftsperson can act on. A [`Caution`] is not an error: it
//! travels with the value it is about. The rule for a piece's code stands here too, since tags, sheets and the journal must refuse
//! the same codes alike, and so does what sentences of several areas are made with.

mod code;
mod letters;
mod machine;
mod wording;

pub use code::{LONGEST_CODE, check_code, known_code, why_no_code};
pub use letters::{is_invisible, is_unruly};
pub use machine::refused;
pub use wording::{capital, few, listed, short, slips, stands_in, visible};

use serde::{Deserialize, Serialize};

/// Whose move it is when something could not be done.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// The person asked for something that cannot be had; other words or other files will do.
    Caller,
    /// A file from outside (photo, sheet, chart, export) is not what it should be.
    File,
    /// The journal itself is in the way: newer than this program, damaged, in use.
    Journal,
    /// The machine refused: no room, no permission, no such folder to write to.
    Machine,
}

/// One clear sentence: what, where, and what to do next.
#[derive(Debug, thiserror::Error)]
#[error("{message}")]
pub struct Error {
    kind: Kind,
    message: String,
    #[source]
    source: Option<Box<dyn std::error::Error + Send + Sync>>,
}

/// The result of everything here that can fail.
pub type Result<T> = std::result::Result<T, Error>;

impl Error {
    /// An error of `kind`; `message` says what, where and what to do next.
    pub fn new(kind: Kind, message: impl Into<String>) -> Self {
        Self {
            kind,
            message: message.into(),
            source: None,
        }
    }

    /// The person's move: ask differently.
    pub fn caller(message: impl Into<String>) -> Self {
        Self::new(Kind::Caller, message)
    }

    /// The file's move: mend or replace it.
    pub fn file(message: impl Into<String>) -> Self {
        Self::new(Kind::File, message)
    }

    /// The journal's move: restore, update the program, or wait.
    pub fn journal(message: impl Into<String>) -> Self {
        Self::new(Kind::Journal, message)
    }

    /// The machine's move: make room, give permission.
    pub fn machine(message: impl Into<String>) -> Self {
        Self::new(Kind::Machine, message)
    }

    /// Keeps the error beneath, for those who look deeper; it is not shown in the sentence.
    #[must_use]
    pub fn because(mut self, source: impl std::error::Error + Send + Sync + 'static) -> Self {
        self.source = Some(Box::new(source));
        self
    }

    /// Whose move it is.
    pub fn kind(&self) -> Kind {
        self.kind
    }
}

/// Something the reader must know about a value; it travels with the value.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Caution {
    /// A short fixed word, lower case with hyphens: `white-clipped`.
    #[serde(default)]
    pub code: String,
    /// One sentence for the craftsperson: what it means and what to do about it.
    #[serde(default)]
    pub text: String,
}

impl Caution {
    /// A caution with its fixed `code` and its sentence.
    pub fn new(code: &str, text: impl Into<String>) -> Self {
        Self {
            code: code.to_owned(),
            text: text.into(),
        }
    }
}
