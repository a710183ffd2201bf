use super::ask::{drawing, save};
use super::{Done, Failure, World, claim, ingest, number, place, view};
use crate::ask::{self, Aim, Toward};
use crate::colour::{Lab, hex_to_lab};
use crate::error::{Error, Result, short};
use crate::intake;
use crate::journal::Journal;
use crate::journal::record::Photo;
use crate::measure::lab_from_text;
use crate::reading::State;
use clap::Args;
use std::path::PathBuf;

/// What a piece that is still wet will look like dry, and whether that is near to what you wish for
///
/// It starts from what a film of water does to cloth and moves to your own pieces as soon as some of them have been photographed
/// both wet and dry. Bands hold nineteen of twenty.
#[derive(Args)]
pub(super) struct Foresee {
    /// A photo of the wet piece: its name in the journal, a file that is not in it (measured, not kept), or the code of a piece
    #[arg(value_name = "PHOTO")]
    photo: String,
    /// Print as JSON
    #[arg(long)]
    json: bool,
    /// The chance to come near to this dry piece, or to this colour
    #[arg(long, value_name = "PIECE|L,a,b|#rrggbb", allow_hyphen_values = true)]
    toward: Option<String>,
    /// How near counts, as a colour difference (CIEDE2000)
    #[arg(long, value_name = "DE", default_value = "5", requires = "toward", allow_hyphen_values = true,
        value_parser = number::number("how near counts", 0.1..=100.0))]
    within: f64,
    /// What the photo shows, for this answer: whatever its name, its card or the journal say
    #[arg(long, value_name = "STATE", value_parser = ingest::state)]
    state: Option<State>,
    /// Draw it as well: wet above, dry below
    #[arg(long, value_name = "FILE.svg|.png", value_parser = drawing())]
    plot: Option<PathBuf>,
}

impl Foresee {
    pub(super) fn run(&self, world: &mut World) -> Done {
        if self.photo.trim().is_empty() {
            return Err(Failure::Line(Error::caller(
                "The name of the photo is empty: name a photo of the wet piece, or the piece by its code.",
            )));
        }
        let mut journal = place::open_if_there(world)?;
        let photo = self.wet(world, journal.as_mut())?;
        let aim = match &self.toward {
            Some(toward) => Some(Aim {
                toward: toward_of(toward, journal.as_ref())?,
                within: self.within,
            }),
            None => None,
        };
        let outlook = ask::foresee(journal.as_ref(), &photo, self.state, aim.as_ref())?;
        if let Some(file) = &self.plot {
            save(file, &ask::plot_outlook(&outlook))?;
        }
        if self.json {
            return view::json(world, &outlook);
        }
        view::outlook(world.out, world.colour, &outlook)?;
        if let Some(file) = &self.plot {
            writeln!(world.out, "Drawn in {}.", file.display())?;
        }
        Ok(())
    }

    /// The photo that is meant: of the journal, of a piece there, or a file. Without a journal it is a file, and none is made.
    fn wet(&self, world: &World, journal: Option<&mut Journal>) -> Result<Photo> {
        let file = world.here.join(&self.photo);
        let Some(journal) = journal else {
            return match file.exists() {
                true => intake::glimpse(&mut Journal::passing()?, &file, self.state),
                false => Err(Error::caller(format!(
                    "There is no file {}, and no journal here to look it up in: name a photo of the wet piece by its path, or your journal with --journal.",
                    short(&self.photo)
                ))),
            };
        };
        if let Some(piece) = journal.piece(&self.photo)? {
            return newest_wet(journal, &piece.code);
        }
        match journal.photos_named(&self.photo)?.is_empty() && file.exists() {
            true => intake::glimpse(journal, &file, self.state),
            false => claim::one_photo(journal, &self.photo),
        }
    }
}

/// The newest wet photo of a piece.
fn newest_wet(journal: &Journal, code: &str) -> Result<Photo> {
    let photos = journal.photos_of(code)?;
    let wet = photos.into_iter().filter(|p| p.state == Some(State::Wet));
    wet.max_by(|one, other| one.taken.cmp(&other.taken))
        .ok_or_else(|| {
            Error::caller(format!(
                "There is no wet photo of {code} to foresee from: photograph the piece while it is wet, drained and with the leaves off."
            ))
        })
}

/// A piece of the journal, in whatever capitals, else a colour.
fn toward_of(text: &str, journal: Option<&Journal>) -> std::result::Result<Toward, Failure> {
    let piece = match journal {
        Some(journal) => journal.piece(text)?,
        None => None,
    };
    match (piece, colour(text)) {
        (Some(piece), _) => Ok(Toward::Piece(piece.code)),
        (None, Some(colour)) => colour.map(Toward::Colour).map_err(Failure::Line),
        (None, None) if text.trim().is_empty() => Err(Failure::Line(Error::caller(
            "--toward is empty: write a piece's code, or a colour such as 62,14,38.",
        ))),
        (None, None) => Err(Failure::Asked(Error::caller(format!(
            "“{}” is neither a piece of the journal nor a colour: write a piece's code, as “filemot show” lists them, or L*, a* and b* with commas between, such as 62,14,38, or a screen's colour such as #b08a4e.",
            short(text)
        )))),
    }
}

/// The colour that is written as three numbers, or as screens write it; `None` where it is neither.
fn colour(text: &str) -> Option<Result<Lab>> {
    if text.starts_with('#') {
        return Some(hex_to_lab(text).ok_or_else(|| {
            Error::caller(format!(
                "“{}” is not a colour; write # and six digits or letters from a to f, such as #b08a4e.",
                short(text)
            ))
        }));
    }
    text.contains(',').then(|| lab_from_text(text))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(text: &str, wanted: Option<[f64; 3]>) {
        let wanted = wanted.map(|[l, a, b]| Toward::Colour(Lab::new(l, a, b)));
        assert_eq!(toward_of(text, None).ok(), wanted, "{text}");
    }

    #[test]
    fn a_wish_is_a_colour_that_there_is() {
        check("62, -4,38.5", Some([62.0, -4.0, 38.5]));
        check("62, 8, 45", Some([62.0, 8.0, 45.0]));
        let white = hex_to_lab("#ffffff").map(|lab| [lab.l, lab.a, lab.b]);
        check("#FFFFFF", white);
        for text in [
            "LB007", "62,14", "62,nan,3", "620,8,45", "101,0,0", "62,8,450", "62 8 45", "", "#b08",
            "#b08a4g",
        ] {
            check(text, None);
        }
    }
}
