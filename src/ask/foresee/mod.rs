//! What a wet piece will look like dry, from what the journal holds.

mod cautions;
mod outlook;

pub use outlook::{Aim, Chance, Outlook, Toward, whole};

use super::shown::{of_photo, shown};
use crate::change::{Experience, Settings, Shown, Wish};
use crate::colour::Lab;
use crate::error::{Error, Result, capital, visible};
use crate::journal::Journal;
use crate::journal::record::Photo;
use crate::reading::{State, TAKEN_AS_DRY};
use cautions::{Asked, cautions};

/// What the wet piece in `photo` will look like dry, learnt from all other pieces that were photographed both ways; from physics
/// alone where there is no journal. `state` is what whoever asks says that the photo shows, whatever its record says.
///
/// # Errors
/// `Caller` where the photo shows no wet piece, or what is aimed at has no dry photo; a journal that cannot be read.
pub fn foresee(
    journal: Option<&Journal>,
    photo: &Photo,
    state: Option<State>,
    aim: Option<&Aim>,
) -> Result<Outlook> {
    is_wet(photo, state)?;
    is_of_cloth(photo)?;
    let wet = of_photo(journal, photo, State::Wet)?;
    let all = match journal {
        Some(journal) => shown(journal, &[], &[State::Wet, State::Dry])?,
        None => Vec::new(),
    };
    let (own, others): (Vec<Shown>, Vec<Shown>) =
        all.into_iter().partition(|photo| photo.piece == wet.piece);
    let experience = Experience::of(&others);
    let ahead = experience.ahead(&wet).ok_or_else(|| no_cloth(photo))?;
    let toward = match aim {
        Some(aim) => {
            let wish = wish(&aim.toward, own.iter().chain(&others))?;
            Some(Chance::of(aim, ahead.chance(&wish, aim.within)))
        }
        None => None,
    };
    let is_dry = |other: &Shown| {
        let itself = other.colours == wet.colours;
        other.state == State::Dry && other.round == wet.round && !itself
    };
    let asked = Asked {
        photo,
        wet: &wet,
        state,
        known: wet.settings != Settings::default(),
        seen_dry: own.iter().any(is_dry),
    };
    let pairs = experience.pairs();
    Ok(Outlook {
        photo: photo.file.clone(),
        piece: photo.piece.clone(),
        basis: if pairs > 0 { "journal" } else { "physics" },
        pairs,
        off: experience.off(),
        swatches: ahead.colours(),
        toward,
        cautions: cautions(&asked, &experience),
    })
}

/// Refuses a photo that shows its piece as anything but wet; where nothing said what it shows, whoever asks says it.
fn is_wet(photo: &Photo, asked: Option<State>) -> Result<()> {
    let untold = asked.is_none() && photo.reading.has_caution(TAKEN_AS_DRY);
    if asked.or(photo.state) == Some(State::Wet) || untold {
        return Ok(());
    }
    let name = name(photo);
    let told = match (asked, photo.state) {
        (Some(state), _) => {
            let state = state.word();
            format!(
                "You said with --state that {name} shows its piece {state}, and only a wet piece can be foreseen: leave --state out, or say --state wet."
            )
        }
        (None, state) => {
            let state = state.map_or("in no known state", State::word);
            // Only what is in the journal can be put right there.
            let for_good = match photo.id {
                Some(_) => ", or say it for good with “filemot claim PHOTO PIECE --state wet”",
                None => "",
            };
            format!(
                "{} shows its piece {state}, and only a wet piece can be foreseen: if it is wet, add --state wet for this answer{for_good}.",
                named(photo)
            )
        }
    };
    Err(Error::caller(told))
}

/// Refuses colours that no cloth has: what was foreseen of them would be as wrong as they are.
fn is_of_cloth(photo: &Photo) -> Result<()> {
    let beyond = |lab: &Lab| !(0.0..=100.0).contains(&lab.l);
    let mut colours = photo.reading.swatches.iter().map(|swatch| swatch.lab);
    match colours.find(beyond) {
        None => Ok(()),
        Some(lab) => Err(Error::caller(format!(
            "In {} a colour has an L* of {:.0}, but cloth stays between 0, black, and 100, white, so its light was judged wrongly and nothing can be foreseen: photograph the piece again, with its tag in even light.",
            name(photo),
            lab.l
        ))),
    }
}

fn no_cloth(photo: &Photo) -> Error {
    Error::caller(format!(
        "No piece was found in {}, so there is nothing to foresee: photograph it whole, with its tag, on a plain ground, or take the photo in with “filemot ingest” and give its outline with “filemot remeasure PHOTO --outline …”.",
        name(photo)
    ))
}

fn name(photo: &Photo) -> String {
    let file = photo.file.as_deref();
    file.map_or_else(|| "the photo".to_owned(), visible)
}

/// Its name where a sentence begins with it.
fn named(photo: &Photo) -> String {
    let named = name(photo);
    match photo.file {
        Some(_) => named,
        None => capital(&named),
    }
}

/// The colours that are aimed at: of a piece those of its last round that was photographed dry.
fn wish<'a>(toward: &Toward, shown: impl Iterator<Item = &'a Shown>) -> Result<Wish> {
    let code = match toward {
        Toward::Colour(lab) => return Ok(Wish::Colour(*lab)),
        Toward::Piece(code) => code,
    };
    let dry: Vec<&Shown> = shown
        .filter(|photo| photo.piece == *code && photo.state == State::Dry)
        .collect();
    let last = dry.iter().map(|photo| photo.round).max();
    let colours: Vec<(Lab, f64)> = dry
        .iter()
        .filter(|photo| Some(photo.round) == last)
        .flat_map(|photo| photo.colours.iter().map(|c| (c.lab, c.share)))
        .collect();
    match colours.is_empty() {
        true => Err(Error::caller(format!(
            "There is no dry photo of {code} to aim at; photograph it dry first, or name a colour such as 62,14,38."
        ))),
        false => Ok(Wish::Palette(colours)),
    }
}

/// The newest wet photo of a piece.
///
/// # Errors
/// `Caller` where there is none.
pub fn newest_wet(journal: &Journal, code: &str) -> Result<Photo> {
    let photos = journal.photos_of(code)?;
    let wet = photos.into_iter().filter(|p| p.state == Some(State::Wet));
    wet.max_by(|one, other| one.taken.cmp(&other.taken))
        .ok_or_else(|| {
            Error::caller(format!(
                "There is no wet photo of {code} to foresee from: photograph the piece while it is wet, drained and with the leaves off."
            ))
        })
}
