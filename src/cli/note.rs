use super::{Done, World, export, place};
use crate::error::{Error, Result, refused};
use crate::journal::Journal;
use crate::note::{Note as Composed, of_piece};
use clap::{Args, ValueEnum};
use std::path::{Path, PathBuf};

/// Write what a customer gets: colours in words and blocks, plants, care
#[derive(Args)]
pub(super) struct Note {
    /// Codes of pieces
    #[arg(required = true, value_name = "PIECE")]
    pieces: Vec<String>,
    /// text for a message, html for a page to send or print
    #[arg(long, value_enum, default_value = "text")]
    format: Format,
    /// The folder to write into; text goes to standard output where none is named
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
}

/// What a note can be written as.
#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum Format {
    Text,
    Html,
}

impl Note {
    pub(super) fn run(&self, world: &mut World) -> Done {
        let journal = place::open(world)?;
        for (number, code) in self.pieces.iter().enumerate() {
            let note = compose(&journal, code)?;
            left_out(world, &note)?;
            match &self.out {
                None if self.format == Format::Text => {
                    let gap = if number > 0 { "\n" } else { "" };
                    write!(world.out, "{gap}{}", note.text())?;
                }
                folder => {
                    let folder = folder.as_deref().unwrap_or(Path::new("."));
                    let file = write(&note, self.format, folder)?;
                    writeln!(world.out, "Written to {}.", file.display())?;
                }
            }
        }
        Ok(())
    }
}

/// Writes one note into a folder, which is made where it is not there; says which file it is.
pub(super) fn write(note: &Composed, format: Format, folder: &Path) -> Result<PathBuf> {
    std::fs::create_dir_all(folder).map_err(|error| refused("make the folder", folder, error))?;
    let (ending, text) = match format {
        Format::Text => ("txt", note.text()),
        Format::Html => ("html", note.html()),
    };
    let file = folder.join(format!("{}.{ending}", note.file_stem()));
    export::save(&file, text.as_bytes())?;
    Ok(file)
}

/// What the sheet says and a note must not.
fn left_out(world: &mut World, note: &Composed) -> Done {
    for caution in &note.cautions {
        writeln!(world.err, "{}", caution.text)?;
    }
    Ok(())
}

/// The note of a piece.
pub(super) fn compose(journal: &Journal, code: &str) -> Result<Composed> {
    let piece = journal.piece(code)?.ok_or_else(|| {
        Error::caller(format!(
            "There is no piece {code} in the journal; “filemot show” lists them all."
        ))
    })?;
    of_piece(journal, &piece)
}
