//! What the studio must know of a note, though no customer reads it.

use super::language::Messages;
use super::{Known, changes, kept};
use crate::draw::unwritable;
use crate::error::Caution;
use crate::journal::record::{Issued, Photo, Piece};
use crate::reading::Swatch;
use crate::words::{Own, own};

/// What to know of the piece and its photos, where its note tells `told`.
pub fn of_piece(known: &Known, told: &Issued) -> Vec<Caution> {
    let since = bundled_since(known.piece, told).into_iter();
    since
        .chain(changes::untold(known.piece, known.photos))
        .collect()
}

/// Code of the caution that PDF and PNG lack a letter of the note.
pub const LETTERS_MISSING: &str = "letters-missing";

pub fn letters_missing<'a>(
    code: &str,
    mut written: impl Iterator<Item = &'a String>,
) -> Option<Caution> {
    let letter = written.find_map(|text| unwritable(text))?;
    let text = format!(
        "The typeface of PDF and PNG cannot write “{letter}”, so the note of {code} shows an empty box or a wrong letter there; text and HTML have it."
    );
    Some(Caution::new(LETTERS_MISSING, text))
}

/// That the piece has been through another round since the photo.
fn bundled_since(piece: &Piece, told: &Issued) -> Option<Caution> {
    let taken = told.taken.as_deref();
    let later = piece.rounds.get(piece.rounds_shown(taken).len())?;
    let day = taken.and_then(|taken| taken.get(..10)).unwrap_or_default();
    let made = later.made.as_deref().unwrap_or_default();
    let Piece { code, .. } = piece;
    let text = format!(
        "{code} was bundled again on {made}, after the photo of {day} that its note tells of, so these are the colours it had before: ingest a photo of it as it is now, then ask for the note again."
    );
    Some(Caution::new("bundled-since", text))
}

/// That the note, issued on the day `on`, now tells these sentences of drying and washing, and told others then.
pub fn changed_since(
    known: &Known,
    on: &str,
    told: &[String],
    messages: &Messages,
) -> Option<Caution> {
    let piece = known.piece;
    let then = changes::told(piece, &kept::known_then(known.photos, on), messages);
    (then.sentences() != told).then(|| {
        let text = format!(
            "The note of {} tells of drying and washing as its photos tell today, which is not what it told when it was issued on {on}.",
            piece.code
        );
        Caution::new("changes-since", text)
    })
}

/// That a studio's own word reaches a colour that is not known well enough to bear it.
pub fn too_doubtful(code: &str, swatches: &[Swatch], words: &[Own]) -> Vec<Caution> {
    let unsure = swatches.iter().filter_map(|swatch| {
        let (word, doubt) = (own(words, swatch.lab)?, swatch.doubt?);
        (!word.is_likely(swatch.lab, Some(doubt))).then_some((word, doubt))
    });
    let mut cautions: Vec<Caution> = vec![];
    for (word, doubt) in unsure {
        let Own { name, within, .. } = word;
        let text = format!(
            "The note of {code} leaves a colour the standard's name instead of “{name}”: it is known to ± {doubt:.1} only, and “{name}” reaches {within}."
        );
        if cautions
            .iter()
            .all(|other| !other.text.contains(&format!("“{name}”")))
        {
            cautions.push(Caution::new("word-too-narrow", text));
        }
    }
    cautions
}

/// Why the note has no picture, though its colours come from a photo with a file.
pub fn picture_missing(code: &str, photo: Option<&Photo>) -> Caution {
    let text = match photo {
        Some(photo) if photo.reading.outline.is_none() || photo.reading.basis().is_none() => {
            format!(
                "The note of {code} has no picture: outline or light of {} are not known; measure it again with “filemot remeasure {code}”.",
                named(photo)
            )
        }
        Some(photo) => format!(
            "The note of {code} has no picture: the file of {} is not in the journal or cannot be opened; “filemot check” tells more, and to ingest the photo again brings it back.",
            named(photo)
        ),
        None => format!(
            "The note of {code} has no picture: the photo that it was issued with is no longer one of {code}; only “filemot note {code} --reissue” takes another."
        ),
    };
    Caution::new("picture-missing", text)
}

fn named(photo: &Photo) -> &str {
    photo.file.as_deref().unwrap_or("its photo")
}
