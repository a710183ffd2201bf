use super::{Done, World, ask, enter, ingest, note, view};
use crate::error::{Error, Result};
use crate::intake::Options;
use crate::journal::Journal;
use crate::{ask as asking, sheet};
use clap::Args;
use std::path::{Path, PathBuf};

/// See the whole job on a small made season: photos in, an answer and a customer's note out
#[derive(Args)]
pub(super) struct Tour {
    /// The folder to build it in; nothing outside it is touched
    #[arg(long, value_name = "DIR", default_value = "filemot-tour")]
    into: PathBuf,
}

/// The season that travels inside the program: its photos are made, its settings invented.
macro_rules! season {
    ($($name:literal),* $(,)?) => {
        [$(($name, include_bytes!(concat!("../../testdata/season/photos/", $name)).as_slice())),*]
    };
}

const PHOTOS: [(&str, &[u8]); 18] = season![
    "LB001-wet.jpg",
    "LB001-dry.jpg",
    "LB002-wet.jpg",
    "LB002-dry.jpg",
    "LB003-wet.jpg",
    "LB003-dry.jpg",
    "LB004-wet.jpg",
    "LB004-dry.jpg",
    "LB005-wet.jpg",
    "LB005-dry.jpg",
    "LB006-wet.jpg",
    "LB006-dry.jpg",
    "LB007-wet.jpg",
    "LB007-dry.jpg",
    "LB008-wet.jpg",
    "LB008-dry.jpg",
    "LB009-wet.jpg",
    "LB009-dry.jpg",
];

const SHEET: &[u8] = include_bytes!("../../testdata/season/sheet.csv");

const QUESTION: &str = "Which mordant gave the warmest yellows?";

impl Tour {
    pub(super) fn run(&self, world: &mut World) -> Done {
        let (photos, sheet) = unpack(&self.into)?;
        let mut journal = Journal::open_or_create(&self.into.join("journal"))?;
        heading(world, "The sheet of settings, entered")?;
        let entered = sheet::enter(&mut journal, &sheet)?;
        enter::show(world, &entered)?;
        heading(world, "The photos, measured")?;
        let summary =
            ingest::take_in(&mut journal, &[photos], &Options::default(), world.progress)?;
        ingest::show(world, &summary)?;
        heading(world, "The pieces, dry")?;
        pieces(world, &journal)?;
        heading(world, "How much lighter each piece dried")?;
        view::drying(
            world.out,
            &asking::drying(&journal.pieces()?, &journal.photos()?),
        )?;
        heading(world, QUESTION)?;
        ask::show(world, &ask::ask(&journal, QUESTION)?)?;
        heading(world, "A note for a customer")?;
        let file = note::write(
            &note::compose(&journal, "LB008")?,
            note::Format::Html,
            &self.into,
        )?;
        writeln!(
            world.out,
            "Written to {}; open it in a browser.",
            file.display()
        )?;
        heading(world, "Now with your own photos")?;
        writeln!(
            world.out,
            "  filemot enter SHEET.csv    your settings; docs/sheet.md says which columns there are"
        )?;
        writeln!(
            world.out,
            "  filemot ingest FOLDER      your photos; “filemot tags CODE…” prints tags to lay beside the cloth"
        )?;
        Ok(())
    }
}

/// Writes the season's files; where they are already, they are written again as they were.
fn unpack(into: &Path) -> Result<(PathBuf, PathBuf)> {
    let (photos, sheet) = (into.join("photos"), into.join("sheet.csv"));
    let fail = |error: std::io::Error| {
        Error::machine(format!(
            "The tour cannot be built in {} ({error}); name another folder with --into.",
            into.display()
        ))
        .because(error)
    };
    std::fs::create_dir_all(&photos).map_err(fail)?;
    std::fs::write(&sheet, SHEET).map_err(fail)?;
    for (name, bytes) in PHOTOS {
        std::fs::write(photos.join(name), bytes).map_err(fail)?;
    }
    Ok((photos, sheet))
}

fn heading(world: &mut World, text: &str) -> Done {
    match world.colour {
        true => writeln!(world.out, "\n\x1b[1m{text}\x1b[0m")?,
        false => writeln!(world.out, "\n{text}\n{}", "-".repeat(text.chars().count()))?,
    }
    Ok(())
}

/// Every piece in a line or two: its colours side by side, then in words.
fn pieces(world: &mut World, journal: &Journal) -> Done {
    for piece in journal.pieces()? {
        let photos = journal.photos_of(&piece.code)?;
        if let Some(photo) = photos
            .iter()
            .find(|photo| photo.state == Some(crate::reading::State::Dry))
        {
            view::brief(world.out, world.colour, &piece.code, photo)?;
        }
    }
    Ok(())
}
