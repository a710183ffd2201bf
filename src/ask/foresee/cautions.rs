use crate::change::{Experience, Shown};
use crate::error::Caution;
use crate::journal::record::Photo;
use crate::reading::{State, TAKEN_AS_DRY};

/// What was asked, and what is known of it.
pub struct Asked<'a> {
    pub photo: &'a Photo,
    /// The same as it was taken.
    pub wet: &'a Shown,
    /// What whoever asks says that it shows.
    pub state: Option<State>,
    /// Whether it is known how the piece was made.
    pub known: bool,
    /// Whether the piece has been photographed dry after the same round.
    pub seen_dry: bool,
}

/// What the reader must know: of the photo, and of what the forecast rests on.
pub fn cautions(asked: &Asked<'_>, experience: &Experience) -> Vec<Caution> {
    let of_photo = asked.photo.reading.cautions.iter();
    let mut cautions: Vec<Caution> = of_photo
        .filter(|c| c.code != TAKEN_AS_DRY)
        .cloned()
        .collect();
    let mut say = |when: bool, code: &str, text: &str| {
        if when {
            cautions.push(Caution::new(code, text));
        }
    };
    let untold = asked.photo.reading.has_caution(TAKEN_AS_DRY);
    say(
        untold && asked.state.is_none(),
        "taken-as-wet",
        "Nothing says whether the piece is wet; since you ask how it will dry, it was taken as wet.",
    );
    say(
        asked.wet.is_guessed() && !asked.wet.has_caution("light-assumed"),
        "light-assumed",
        "The light of the photo was only assumed, so the bands are wide: hang the tag in the picture and ask again.",
    );
    say(
        asked.wet.is_undoubted(),
        "doubt-unknown",
        "The photo came in without a doubt for each of its colours; the ranges are those of a photo with one tag in it.",
    );
    say(
        experience.pairs() == 0,
        "physics-alone",
        "No other piece has been seen both wet and dry yet, so this rests on how a film of water darkens cloth in general. Thin cloth also turns translucent when wet, and colours change in the air after unrolling: of both it knows nothing. Photograph pieces wet and dry, and it learns from them.",
    );
    let claimed = asked.photo.piece.is_some();
    say(
        !asked.known && claimed,
        "settings-unknown",
        "No sheet tells how this piece was made, so its cloth and mordant could not be used: tell it with “filemot enter SHEET”.",
    );
    say(
        !asked.known && !claimed,
        "settings-unknown",
        "Nothing tells which piece this is, so its cloth and mordant could not be used: take the photo in with “filemot ingest”, and say which piece it shows with “filemot claim PHOTO PIECE”.",
    );
    say(
        asked.seen_dry,
        "dry-already",
        "This piece has been photographed dry already; it was foreseen as if it had not, so that you can compare.",
    );
    cautions.extend(taken_otherwise(asked));
    cautions.extend(left_out(experience.odd()));
    cautions
}

/// That the journal says something else of the photo than whoever asks.
fn taken_otherwise(asked: &Asked<'_>) -> Option<Caution> {
    let known = asked.photo.state.filter(|_| asked.photo.id.is_some())?;
    let said = asked.state.filter(|said| *said != known)?;
    Some(Caution::new(
        "state-as-asked",
        format!(
            "The journal has this photo as {}; for this answer it was taken as {}, as you said, and the journal was left as it is.",
            known.word(),
            said.word()
        ),
    ))
}

fn left_out(odd: &[String]) -> Option<Caution> {
    (!odd.is_empty()).then(|| {
        Caution::new(
            "pair-left-out",
            format!(
                "By their photos these pieces dried much darker, or their dry photo is older than the wet one, so nothing was learnt from them: {}; look whether wet and dry are mixed up, and put it right with “filemot claim PHOTO PIECE --state STATE”.",
                odd.join(", ")
            ),
        )
    })
}
