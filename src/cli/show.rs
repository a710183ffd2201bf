use super::{Done, World, claim, export, place, view};
use crate::ask;
use crate::error::{Error, Result};
use crate::intake;
use crate::journal::record::{Photo, Piece};
use crate::journal::{Degrees, Journal};
use crate::note;
use crate::photo::decode;
use crate::reading::{SET_ASIDE, State};
use crate::sheet;
use clap::Args;
use serde::Serialize;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// Show a piece with all its photos, one photo, or which pieces there are
#[derive(Args)]
pub(super) struct Show {
    /// A piece's code, or a photo's name with its ending: LB007, IMG_0001.jpg; without it, all pieces in a line each
    #[arg(value_name = "PIECE|PHOTO")]
    which: Option<String>,
    /// Print as JSON
    #[arg(long, requires = "which")]
    json: bool,
    /// Draw what was found over the photo, with its colours below: outline, tag, colours, cautions; of a piece, its newest photo; the name ends in .png
    #[arg(
        long,
        value_name = "FILE.png",
        requires = "which",
        conflicts_with = "json"
    )]
    overlay: Option<PathBuf>,
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
        if let Some(file) = &self.overlay {
            is_png(file)?;
        }
        let mut journal = place::open(world)?;
        let Some(which) = &self.which else {
            return all(world, &journal);
        };
        if let Some(file) = &self.overlay {
            return overlay(world, &mut journal, which, file);
        }
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
        let degrees = Degrees::of(&journal.studio()?);
        view::piece(world.out, piece, &journal.baths()?, degrees)?;
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
        let codes = std::slice::from_ref(&piece.code);
        for dried in ask::drying(journal, codes)?.pieces {
            writeln!(world.out, "\n{}", view::dried(&dried))?;
        }
        let cautions = sheet::cautions(piece);
        if !cautions.is_empty() {
            writeln!(world.out, "\nWhen you work with these:")?;
        }
        Ok(view::cautions(world.out, &cautions)?)
    }
}

/// Writes what was found in a photo, or in a piece's newest, as a picture.
fn overlay(world: &mut World, journal: &mut Journal, which: &str, file: &Path) -> Done {
    let photo = match journal.piece(which)? {
        Some(piece) => newest(journal, &piece)?,
        None => claim::one_photo(journal, which)?,
    };
    let name = photo.file.as_deref().unwrap_or(which);
    if intake::is_photo(journal, file)? {
        return Err(Error::caller(format!(
            "{} is itself a photo of the journal and was left as it is; choose another name.",
            file.display()
        ))
        .into());
    }
    let (_, bytes) = intake::original(journal, &photo)?;
    let opened = decode(&bytes, name)?;
    let marks = intake::marks(journal, &photo, &opened)?;
    let drawing = note::overlay(&opened.photograph, &marks, &photo)?;
    export::save(file, &drawing.png(note::DOTS)?)?;
    Ok(writeln!(world.out, "{name}: drawn in {}.", file.display())?)
}

fn is_png(file: &Path) -> Result<()> {
    let png = |ending: &std::ffi::OsStr| ending.eq_ignore_ascii_case("png");
    match file.extension().is_some_and(png) {
        true => Ok(()),
        false => Err(Error::caller(format!(
            "The photo is drawn as PNG alone, and {} does not end in .png; give the picture a name that does.",
            file.display()
        ))),
    }
}

/// How late in a piece's life a photo is: by its date, and where none is known by what it shows, wet before dry.
fn age(photo: &Photo) -> (Option<&str>, Option<State>) {
    (photo.taken.as_deref(), photo.state)
}

fn newest(journal: &Journal, piece: &Piece) -> Result<Photo> {
    let photos = journal.photos_of(&piece.code)?;
    let newest = photos.into_iter().max_by(|a, b| age(a).cmp(&age(b)));
    newest.ok_or_else(|| {
        Error::caller(format!(
            "There is no photo of {} yet; ingest one, then ask again.",
            piece.code
        ))
    })
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
        if age(photo) > age(known) {
            *known = photo;
        }
    }
    let pieces = journal.pieces()?;
    for piece in &pieces {
        match newest.get(piece.code.as_str()) {
            Some(photo) => view::brief(world.out, world.colour, &piece.code, photo)?,
            None => writeln!(world.out, "{:<7} no photo yet", piece.code)?,
        }
    }
    match photos.is_empty() && pieces.is_empty() {
        true => Ok(writeln!(
            world.out,
            "Nothing is in this journal yet; enter a sheet with “filemot enter SHEET”, or take photos in with “filemot ingest FOLDER”."
        )?),
        false => waiting(world, &photos),
    }
}

/// At most this many photos that wait for a piece are named.
const NAMED: usize = 5;

/// How many photos nobody has claimed, and how it is done.
fn waiting(world: &mut World, photos: &[Photo]) -> Done {
    let waits = |photo: &&Photo| photo.piece.is_none() && !photo.reading.has_caution(SET_ASIDE);
    let unclaimed = || photos.iter().filter(waits);
    let number = unclaimed().count();
    if number == 0 {
        return Ok(());
    }
    let names: Vec<&str> = unclaimed()
        .filter_map(|photo| photo.file.as_deref())
        .take(NAMED)
        .collect();
    let more = match number - names.len() {
        0 => String::new(),
        more => format!(" and {more} more"),
    };
    let text = format!(
        "{} for a piece: {}{more}. Say which piece a photo shows with “filemot claim PHOTO PIECE”.",
        view::count(number, "photo waits", "photos wait"),
        names.join(", ")
    );
    Ok(writeln!(world.out, "{}", view::wrapped(&text, "", ""))?)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_a_png_is_drawn() {
        assert!(is_png(Path::new("over.png")).is_ok() && is_png(Path::new("OVER.PNG")).is_ok());
        for name in ["over.jpg", "over", "png"] {
            let said = is_png(Path::new(name)).unwrap_err().to_string();
            assert!(said.contains(".png"), "{said}");
        }
    }

    #[test]
    fn a_photo_is_newer_by_its_date_then_by_its_state() {
        let photo = |taken: Option<&str>, state| Photo {
            taken: taken.map(str::to_owned),
            state: Some(state),
            ..Photo::default()
        };
        let check = |older: &Photo, newer: &Photo| assert!(age(older) < age(newer));
        check(&photo(None, State::Wet), &photo(None, State::Dry));
        check(
            &photo(Some("2026-05-03T09:00:00"), State::Dry),
            &photo(Some("2026-05-04T09:00:00"), State::Wet),
        );
    }
}
