use super::ask::save;
use super::{Done, World, claim, ingest, place, view};
use crate::ask::{self, Aim, Toward};
use crate::colour::Lab;
use crate::error::{Error, Result};
use crate::intake;
use crate::journal::Journal;
use crate::journal::record::Photo;
use crate::reading::State;
use clap::Args;
use std::path::{Path, PathBuf};

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
    #[arg(long, value_name = "PIECE|L,a,b", allow_hyphen_values = true)]
    toward: Option<String>,
    /// How near counts, as a colour difference (CIEDE2000)
    #[arg(long, value_name = "DE", default_value = "5", requires = "toward", value_parser = distance)]
    within: f64,
    /// What a photo shows that is not in the journal, where neither name nor card says so
    #[arg(long, value_name = "STATE", value_parser = ingest::state)]
    state: Option<State>,
    /// Draw it as well: wet above, dry below
    #[arg(long, value_name = "FILE.svg|.png")]
    plot: Option<PathBuf>,
}

impl Foresee {
    pub(super) fn run(&self, world: &mut World) -> Done {
        let mut journal = place::open(world)?;
        let photo = self.wet(world, &mut journal)?;
        let aim = self.toward.as_deref().map(|toward| Aim {
            toward: toward_of(toward),
            within: self.within,
        });
        let outlook = ask::foresee(&journal.pieces()?, &journal.photos()?, &photo, aim.as_ref())?;
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

    /// The photo that is meant: of the journal, of a piece there, or a file.
    fn wet(&self, world: &World, journal: &mut Journal) -> Result<Photo> {
        if let Some(piece) = journal.piece(&self.photo)? {
            return newest_wet(journal, &piece.code);
        }
        let file = world.here.join(&self.photo);
        match journal.photos_named(&self.photo)?.is_empty() && file.exists() {
            true => intake::glimpse(journal, Path::new(&file), self.state),
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

/// A colour where it reads as one, else a piece's code.
fn toward_of(text: &str) -> Toward {
    let numbers: Vec<Option<f64>> = text
        .split(',')
        .map(|part| part.trim().parse().ok().filter(|n: &f64| n.is_finite()))
        .collect();
    match numbers[..] {
        [Some(l), Some(a), Some(b)] => Toward::Colour(Lab::new(l, a, b)),
        _ => Toward::Piece(text.to_owned()),
    }
}

fn distance(text: &str) -> std::result::Result<f64, String> {
    let number = text
        .parse()
        .ok()
        .filter(|de: &f64| de.is_finite() && *de > 0.0);
    number.ok_or_else(|| "a colour difference is a number above 0, such as 5".to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_wish_is_a_colour_or_a_piece() {
        assert_eq!(
            toward_of("62, -4,38.5"),
            Toward::Colour(Lab::new(62.0, -4.0, 38.5))
        );
        assert_eq!(toward_of("LB007"), Toward::Piece("LB007".to_owned()));
        assert_eq!(toward_of("62,nan,3"), Toward::Piece("62,nan,3".to_owned()));
        assert!(distance("2.5").is_ok() && distance("0").is_err() && distance("inf").is_err());
    }
}
