use super::{Done, World, place, view};
use crate::error::{Error, refused};
use crate::journal::Journal;
use crate::sheet;
use clap::{Args, ValueEnum};
use std::io::Read;
use std::path::{Path, PathBuf};

/// Write everything out: all of it as JSON, or the settings as a sheet
#[derive(Args)]
pub(super) struct Export {
    /// json holds everything; csv is a sheet that can be edited and entered again
    #[arg(long, value_enum, default_value = "json")]
    format: Format,
    /// The file to write; else standard output
    #[arg(long, value_name = "FILE")]
    out: Option<PathBuf>,
}

#[derive(Clone, Copy, ValueEnum)]
enum Format {
    Json,
    Csv,
}

impl Export {
    pub(super) fn run(&self, world: &mut World) -> Done {
        let journal = place::open(world)?;
        let text = match self.format {
            Format::Json => journal.export()?.to_json()?,
            Format::Csv => sheet::write_csv(&journal.pieces()?),
        };
        match &self.out {
            Some(file) => {
                save(file, text.as_bytes())?;
                writeln!(world.err, "Written to {}.", file.display())?;
            }
            None => write!(world.out, "{text}")?,
        }
        Ok(())
    }
}

/// Refuses a place among what a journal keeps for itself, such as its photos.
pub(super) fn check_place(file: &Path) -> Result<(), Error> {
    match Journal::keeps(file) {
        true => Err(Error::caller(format!(
            "{} would lie among what the journal keeps for itself, its database, photos and backups, so it was not written; choose another folder.",
            file.display()
        ))),
        false => Ok(()),
    }
}

/// Writes a file the person asked for, where [`check`] lets it.
///
/// # Errors
/// Those of [`check`]; a folder that is not there, no permission, no room.
pub(super) fn save(file: &Path, bytes: &[u8]) -> Result<(), Error> {
    check(file, bytes)?;
    // Written beside it first, so that a disk that fills up leaves an older file as it was.
    let mut beside = file.as_os_str().to_owned();
    beside.push(".part");
    let beside = PathBuf::from(beside);
    let written = std::fs::write(&beside, bytes).and_then(|()| std::fs::rename(&beside, file));
    written.map_err(|error| {
        // What is left of it is of no use; where even that cannot be removed there is nothing to add.
        let _ = std::fs::remove_file(&beside);
        refused("write", file, error)
    })
}

/// Whether something that begins as `bytes` do may be written here: never among what a journal keeps for itself, nor over a
/// journal's database or a backup, which may be the only one, nor over something of another kind.
///
/// # Errors
/// Why it may not.
pub(super) fn check(file: &Path, bytes: &[u8]) -> Result<(), Error> {
    if file.is_file() && Journal::is_database(file) {
        return Err(Error::caller(format!(
            "{} is a journal or a backup of one and was left as it is; choose another name.",
            file.display()
        )));
    }
    check_place(file)?;
    if file.exists() && !is_alike(file, bytes) {
        return Err(Error::caller(format!(
            "{} is there already and is something else than what would be written, so it was left as it is; choose another name.",
            file.display()
        )));
    }
    Ok(())
}

/// Whether what lies at `file` may give way to `bytes`: a regular file, and either text or of the same kind by its first four
/// bytes. A photo never gives way to a page, nor a page to a picture.
fn is_alike(file: &Path, bytes: &[u8]) -> bool {
    let mut head = [0; 4];
    let read = |head: &mut [u8]| std::fs::File::open(file).and_then(|mut f| f.read(head));
    if !file.is_file() {
        return false;
    }
    let Ok(length) = read(&mut head) else {
        return false;
    };
    let head = &head[..length];
    let text = |head: &[u8]| head.is_ascii() && !head.starts_with(b"%PDF");
    bytes.starts_with(head) || (text(head) && text(&bytes[..bytes.len().min(4)]))
}

/// Take an exported journal in; imported twice, nothing changes
#[derive(Args)]
pub(super) struct Import {
    /// A file written by export --format json
    file: PathBuf,
}

impl Import {
    pub(super) fn run(&self, world: &mut World) -> Done {
        let text = std::fs::read_to_string(&self.file)
            .map_err(|error| refused("read", &self.file, error))?;
        let export = crate::journal::Export::from_json(&text)?;
        let imported = place::open_or_create(world)?.import(&export)?;
        writeln!(
            world.out,
            "Pieces: {} new, {} changed. Photos: {} new, {} changed. What the file does not speak of stayed as it was.",
            imported.pieces_new,
            imported.pieces_changed,
            imported.photos_new,
            imported.photos_changed
        )?;
        if imported.baths_changed > 0 {
            let baths = view::count(imported.baths_changed, "bath is", "baths are");
            writeln!(world.out, "{baths} new or changed.")?;
        }
        if imported.notes_new > 0 {
            let notes = view::count(imported.notes_new, "issued note is", "issued notes are");
            writeln!(world.out, "{notes} new.")?;
        }
        Ok(())
    }
}
