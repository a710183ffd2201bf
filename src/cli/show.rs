use super::{Done, World, claim, place, view};
use crate::ask;
use crate::journal::record::{Photo, Piece};
use crate::journal::{Degrees, Journal};
use crate::sheet;
use clap::Args;
use serde::Serialize;
use std::collections::BTreeMap;

/// Show a piece with all its photos, one photo, or which pieces there are
#[derive(Args)]
pub(super) struct Show {
    /// A piece's code, or a photo's name with its ending: LB007, IMG_0001.jpg; without it, all pieces in a line each
    #[arg(value_name = "PIECE|PHOTO")]
    which: Option<String>,
    /// Print as JSON
    #[arg(long, requires = "which")]
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
        let Some(which) = &self.which else {
            return all(world, &journal);
        };
        match journal.piece(which)? {
            Some(piece) => self.piece(world, &journal, &piece),
            None => {
                let photo = claim::one_photo(&journal, which)?;
                if self.json {
                    return view::json(world, &photo);
                }
                view::photo(world.out, world.colour, &photo)?;
                Ok(view::cautions(world.out, &photo.reading.cautions)?)
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
        let name = |photo: &'_ Photo| photo.file.clone().unwrap_or_default();
        let names: Vec<String> = photos.iter().map(name).collect();
        let said = names
            .iter()
            .zip(&photos)
            .map(|(name, photo)| (name.as_str(), &photo.reading.cautions[..]));
        writeln!(world.out)?;
        view::gathered(world.out, &said.collect::<Vec<_>>())?;
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

/// Every piece by its newest photo, colours side by side and in words.
pub(super) fn all(world: &mut World, journal: &Journal) -> Done {
    let photos = journal.photos()?;
    let mut newest: BTreeMap<&str, &Photo> = BTreeMap::new();
    for (code, photo) in photos
        .iter()
        .filter_map(|photo| Some((photo.piece.as_deref()?, photo)))
    {
        let known = newest.entry(code).or_insert(photo);
        if photo.taken > known.taken {
            *known = photo;
        }
    }
    for piece in journal.pieces()? {
        match newest.get(piece.code.as_str()) {
            Some(photo) => view::brief(world.out, world.colour, &piece.code, photo)?,
            None => writeln!(world.out, "{:<8}no photo yet", piece.code)?,
        }
    }
    Ok(())
}
