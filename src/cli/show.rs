use super::{Done, World, claim, place, view};
use crate::ask;
use crate::journal::Journal;
use crate::journal::record::{Photo, Piece};
use crate::sheet::{self, Degrees};
use clap::Args;
use serde::Serialize;

/// Show a piece with all its photos, or one photo: colours, settings, cautions
#[derive(Args)]
pub(super) struct Show {
    /// A piece's code, or a photo's name
    #[arg(value_name = "PIECE|PHOTO")]
    which: String,
    /// Print as JSON
    #[arg(long)]
    json: bool,
}

/// `show --json` of a piece: the fields of an export.
#[derive(Serialize)]
struct Whole<'a> {
    #[serde(flatten)]
    piece: &'a Piece,
    photos: &'a [Photo],
}

impl Show {
    pub(super) fn run(&self, world: &mut World) -> Done {
        let journal = place::open(world)?;
        match journal.piece(&self.which)? {
            Some(piece) => self.piece(world, &journal, &piece),
            None => {
                let photo = claim::one_photo(&journal, &self.which)?;
                if self.json {
                    return view::json(world, &photo);
                }
                Ok(view::photo(world.out, world.colour, &photo)?)
            }
        }
    }

    fn piece(&self, world: &mut World, journal: &Journal, piece: &Piece) -> Done {
        let mut photos = journal.photos_of(&piece.code)?;
        photos.sort_by(|one, other| one.taken.cmp(&other.taken));
        if self.json {
            return view::json(
                world,
                &Whole {
                    piece,
                    photos: &photos,
                },
            );
        }
        view::piece(world.out, piece, Degrees::of(&journal.studio()?))?;
        for photo in &photos {
            writeln!(world.out)?;
            view::photo(world.out, world.colour, photo)?;
        }
        for dried in ask::drying(std::slice::from_ref(piece), &photos).pieces {
            writeln!(world.out, "\n{}", view::dried(&dried))?;
        }
        let cautions = sheet::cautions(piece);
        if !cautions.is_empty() {
            writeln!(world.out, "\nWhen you work with these:")?;
        }
        Ok(view::cautions(world.out, &cautions)?)
    }
}
