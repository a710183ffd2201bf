//! A question read, and answered with its evidence.

mod answer;
mod cautions;
mod evidence;
mod names;
mod nearest;
mod question;
mod refusal;
mod setting;
mod survey;
mod terms;
#[cfg(test)]
mod tests;
mod verdict;
mod vocabulary;

pub use answer::{Answer, Evidence, Group, ReadAs};
pub use verdict::Verdict;

use crate::change::{self, DryingReport};
use crate::error::Result;
use crate::journal::Degrees;
use crate::journal::record::{Photo, Piece};
use names::Names;
use survey::Survey;

/// Answers `question` from the journal's records; temperatures are grouped and named in `degrees`.
///
/// The piece is the unit of measure, the pot the unit of independence: pieces of one pot share its liquor.
///
/// # Errors
/// The caller's, where the question is not understood: it names the word, the nearest known ones, and what can be asked.
pub fn answer(
    pieces: &[Piece],
    photos: &[Photo],
    question: &str,
    degrees: Degrees,
) -> Result<Answer> {
    let asked = question::read(question, &Names::of(pieces))?;
    let survey = Survey::of(pieces, photos, &asked, degrees);
    Ok(Answer::of(question, asked, &survey))
}

/// How much lighter each piece dried, and all of them, from the journal's records.
pub fn drying(pieces: &[Piece], photos: &[Photo]) -> DryingReport {
    let by_piece = evidence::by_piece(photos);
    let shown = pieces.iter().flat_map(|piece| {
        let photos = by_piece.get(piece.code.as_str()).into_iter().flatten();
        photos.filter_map(|photo| evidence::shown(piece, photo))
    });
    change::drying(&shown.collect::<Vec<_>>())
}
