use super::{Done, World, enter, export, ingest, note, show, view};
use crate::error::{Error, Result, refused};
use crate::intake::Options;
use crate::journal::{Degrees, Journal};
use crate::note::{issue, of_piece};
use crate::{ask as asking, sheet};
use clap::Args;
use std::path::{Path, PathBuf};

/// See the whole job on a small invented season, from photos to a customer's note
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

const NEXT: [(&str, &str); 2] = [
    (
        "filemot enter SHEET.csv",
        "takes your settings; docs/sheet.md says which columns there are",
    ),
    (
        "filemot ingest FOLDER",
        "takes your photos; “filemot tags CODE…” prints tags to lay beside the cloth",
    ),
];

const QUESTION: &str = "Which mordant gave the warmest yellows?";

impl Tour {
    pub(super) fn run(&self, world: &mut World) -> Done {
        let (photos, sheet) = unpack(&self.into)?;
        let mut journal = Journal::open_or_create(&self.into.join("journal"))?;
        writeln!(
            world.out,
            "An invented season: nine pieces of silk from three bundles, each photographed wet and dry."
        )?;
        heading(world, "The sheet of settings, entered")?;
        let entered = sheet::enter(&mut journal, &sheet)?;
        enter::counts(world, &entered)?;
        heading(world, "The photos, measured")?;
        let summary =
            ingest::take_in(&mut journal, &[photos], &Options::default(), world.progress)?;
        ingest::show(world, &summary)?;
        heading(world, "The pieces, dry")?;
        show::all(world, &journal)?;
        heading(world, "How much lighter each piece dried")?;
        view::drying(
            world.out,
            world.colour,
            &asking::drying(&journal, &[])?,
            false,
        )?;
        heading(world, QUESTION)?;
        let answer = asking::of_journal(&journal, QUESTION, Degrees::Celsius, world.today)?;
        view::answer(world.out, world.colour, &answer)?;
        heading(world, "A note for a customer")?;
        let note = of_piece(
            &journal,
            &note::piece(&journal, "LB008")?,
            &Default::default(),
        )?;
        let file = self.into.join(format!("{}.html", note.file_stem()));
        export::save(&file, note.html()?.as_bytes())?;
        issue(&mut journal, &[note], world.today)?;
        writeln!(
            world.out,
            "Written to {}; open it in a browser.",
            file.display()
        )?;
        writeln!(
            world.out,
            "To look further at this season: filemot --journal {} show LB006",
            self.into.join("journal").display()
        )?;
        if !entered.cautions.is_empty() {
            heading(world, "Before you work with salts and hot water")?;
            view::cautions(world.out, &entered.cautions)?;
        }
        heading(world, "Now with your own photos")?;
        for (command, what) in NEXT {
            writeln!(world.out, "  {command:<25}{what}")?;
        }
        Ok(())
    }
}

/// Writes the season's files into a new folder, or again into one where the tour was built before: its sheet tells. In any
/// other folder the person's own sheet, photos, notes and journal could be lost under them.
fn unpack(into: &Path) -> Result<(PathBuf, PathBuf)> {
    let (photos, sheet) = (into.join("photos"), into.join("sheet.csv"));
    let used = std::fs::read_dir(into).is_ok_and(|mut entries| entries.next().is_some());
    if used && std::fs::read(&sheet).ok().as_deref() != Some(SHEET) {
        return Err(Error::caller(format!(
            "{} holds other things already, which the tour leaves alone; name a new folder with --into.",
            into.display()
        )));
    }
    std::fs::create_dir_all(into).map_err(|error| refused("make the folder", into, error))?;
    export::save(&sheet, SHEET)?;
    std::fs::create_dir_all(&photos).map_err(|error| refused("make the folder", &photos, error))?;
    for (name, bytes) in PHOTOS {
        export::save(&photos.join(name), bytes)?;
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
