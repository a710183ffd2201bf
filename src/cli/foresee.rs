use super::ask::{drawing, save};
use super::{Done, Failure, World, claim, ingest, number, place, view};
use crate::ask::{self, Aim, Toward};
use crate::error::{Error, Result, short};
use crate::intake;
use crate::journal::Journal;
use crate::journal::record::Photo;
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
    /// The chance to come near to this dry piece, or to this colour: a word of your own, or numbers
    #[arg(
        long,
        value_name = "PIECE|WORD|L,a,b|#rrggbb",
        allow_hyphen_values = true
    )]
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
                toward: self::toward(toward, journal.as_ref())?,
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
            return ask::newest_wet(journal, &piece.code);
        }
        match journal.photos_named(&self.photo)?.is_empty() && file.exists() {
            true => intake::glimpse(journal, &file, self.state),
            false => claim::one_photo(journal, &self.photo),
        }
    }
}

/// A value of `--toward` that can only be meant as a colour and is none is a wrong command line.
fn toward(text: &str, journal: Option<&Journal>) -> std::result::Result<Toward, Failure> {
    let no_code = text.contains(',') || text.starts_with('#') || text.trim().is_empty();
    Toward::read(text, journal).map_err(|error| match no_code {
        true => Failure::Line(error),
        false => Failure::Asked(error),
    })
}
