//! What entering a sheet did, and the refusal of one.

use super::column::Column;
use crate::error::{Caution, Error};
use std::fmt;

/// More sentences than that help nobody at once.
const MOST_PROBLEMS: usize = 100;

/// What a sheet is about.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Subject {
    /// Pieces and their rounds.
    #[default]
    Pieces,
    /// Mordant baths.
    Baths,
}

/// What entering a sheet did.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Entered {
    /// What the sheet was about; where that is baths, read bath for piece in what follows.
    pub about: Subject,
    /// Codes of pieces the journal did not know, in the order of the sheet.
    pub new: Vec<String>,
    /// What became different in pieces it knew.
    pub changed: Vec<Change>,
    /// How many pieces of the sheet stayed as they were.
    pub unchanged: usize,
    /// What the studio must know: headings that look like slips, first use of a salt, a plant or a way of heating, a simmer
    /// that boils, pots that contradict themselves.
    pub cautions: Vec<Caution>,
}

/// One value that became different.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Change {
    /// Code of the piece.
    pub piece: String,
    /// The round it belongs to; `None` for the cloth itself.
    pub round: Option<u32>,
    /// The column, in the unit that is kept (`width_cm`, `gsm`); `round` where a whole round is new or taken out.
    pub field: String,
    /// The value before; empty where none was known.
    pub from: String,
    /// The value after; empty where none is known any more.
    pub to: String,
}

impl fmt::Display for Change {
    /// `LB007: width_cm was 35, is now 40`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let round = self
            .round
            .filter(|round| *round > 1)
            .map_or_else(String::new, |round| format!(", round {round}"));
        let (piece, field) = (&self.piece, &self.field);
        if field == Column::Round.name() {
            return match self.to.as_str() {
                "" => write!(f, "{piece}: round {} is taken out", self.from),
                new => write!(f, "{piece}: round {new} is new"),
            };
        }
        match (self.from.as_str(), self.to.as_str()) {
            ("", to) => write!(f, "{piece}{round}: {field} is now {to}"),
            (from, "") => write!(f, "{piece}{round}: {field} was {from}, is now empty"),
            (from, to) => write!(f, "{piece}{round}: {field} was {from}, is now {to}"),
        }
    }
}

/// What a sheet was refused for, one sentence each, without the one that names the sheet; of any other error its own sentence.
pub fn reasons(error: &Error) -> Vec<String> {
    let text = error.to_string();
    if let Some((_, list)) = text.split_once('\n') {
        return list
            .lines()
            .map(|reason| reason.trim().to_owned())
            .collect();
    }
    let works = ["entered", "planned"];
    let one = works
        .iter()
        .find_map(|work| text.split_once(&format!("was not {work}. ")));
    vec![one.map_or(text.as_str(), |(_, reason)| reason).to_owned()]
}

/// The refusal of a sheet that was to be `entered`, or `planned`, for all that is wrong in it.
pub(super) fn refusal(file: &str, work: &str, problems: &[String]) -> Error {
    let more = problems.len().saturating_sub(MOST_PROBLEMS);
    let mut text = match problems {
        [one] => format!("The sheet “{file}” was not {work}. {one}"),
        many => {
            let shown = many.iter().take(MOST_PROBLEMS);
            let list: String = shown.map(|one| format!("\n  {one}")).collect();
            format!(
                "The sheet “{file}” was not {work}, for {} reasons:{list}",
                many.len()
            )
        }
    };
    if more > 0 {
        text += &format!("\n  … and {more} more.");
    }
    Error::file(text)
}
