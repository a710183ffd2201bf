use super::{Done, World, export, place, view};
use crate::error::{Caution, Error, Result, refused};
use crate::journal::Journal;
use crate::journal::record::Piece;
use crate::note::{self, Batch, Language, Note as Composed, Options, Paper};
use clap::{Args, ValueEnum};
use std::collections::HashSet;
use std::path::{Path, PathBuf};

/// Write what a customer gets: colours in words and blocks, how sure they are, care; on screen, on paper or as a picture
///
/// A note once written keeps its words. Where today's would be others you are told, and only --reissue changes them.
#[derive(Args)]
pub(super) struct Note {
    /// Codes of pieces
    #[arg(required_unless_present_any = ["all", "bundle"], value_name = "PIECE")]
    pieces: Vec<String>,
    /// Every piece that was photographed dry or washed, with a cover sheet
    #[arg(long, conflicts_with = "pieces")]
    all: bool,
    /// Every such piece of one bundle, with a cover sheet
    #[arg(long, value_name = "NAME", conflicts_with_all = ["pieces", "all"])]
    bundle: Option<String>,
    /// text for a message, html for a page to send, pdf to print, png for a post, json for other programs
    #[arg(long, value_enum, default_value = "text")]
    format: Format,
    /// Text of at most 500 letters, for a shop's listing
    #[arg(long)]
    short: bool,
    /// The paper of a PDF: a6 is a card a page, a4 and letter hold four; one piece comes on a6, several on a4
    #[arg(long, value_enum)]
    paper: Option<Sheet>,
    /// The language of the note
    #[arg(long, value_enum, default_value = "en")]
    lang: Lang,
    /// Take today's words though the note was written with others
    #[arg(long)]
    reissue: bool,
    /// The folder to write into; text and json go to standard output where none is named
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
}

/// What a note can be written as.
#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum Format {
    Text,
    Html,
    Pdf,
    Png,
    Json,
}

#[derive(Clone, Copy, ValueEnum)]
enum Sheet {
    A6,
    A4,
    Letter,
}

#[derive(Clone, Copy, ValueEnum)]
enum Lang {
    /// English
    En,
    /// German
    De,
}

impl Note {
    pub(super) fn run(&self, world: &mut World) -> Done {
        if self.short && self.format != Format::Text {
            return Err(Error::caller(
                "--short is for text alone: leave out --format, or --short.",
            )
            .into());
        }
        let mut journal = place::open(world)?;
        let options = Options {
            language: match self.lang {
                Lang::En => Language::English,
                Lang::De => Language::German,
            },
            reissue: self.reissue,
        };
        let notes: Vec<Composed> = self
            .chosen(&journal)?
            .iter()
            .map(|piece| note::of_piece(&journal, piece, &options))
            .collect::<Result<_>>()?;
        let drawn = matches!(self.format, Format::Pdf | Format::Png);
        let concerns = |caution: &&Caution| drawn || caution.code != note::LETTERS_MISSING;
        let cautions = notes.iter().flat_map(|note| &note.cautions);
        for caution in cautions.filter(concerns) {
            writeln!(world.err, "{}", caution.text)?;
        }
        match self.format {
            Format::Json => self.json(world, &notes)?,
            Format::Text if self.out.is_none() => self.print(world, &notes)?,
            _ => self.write(world, &notes, options.language)?,
        }
        if self.format != Format::Json {
            note::issue(&mut journal, &notes, world.today)?;
        }
        Ok(())
    }

    /// The pieces that notes are asked for.
    fn chosen(&self, journal: &Journal) -> Result<Vec<Piece>> {
        if !self.is_batch() {
            return self
                .pieces
                .iter()
                .map(|code| piece(journal, code))
                .collect();
        }
        let pieces = note::ready(journal, self.bundle.as_deref())?;
        match (pieces.is_empty(), &self.bundle) {
            (false, _) => Ok(pieces),
            (true, Some(name)) => Err(Error::caller(format!(
                "No piece of a bundle {name} was photographed dry or washed yet; “filemot show” lists the pieces."
            ))),
            (true, None) => Err(Error::caller(
                "No piece was photographed dry or washed yet: ingest photos first.",
            )),
        }
    }

    fn is_batch(&self) -> bool {
        self.all || self.bundle.is_some()
    }

    fn print(&self, world: &mut World, notes: &[Composed]) -> Done {
        for (number, note) in notes.iter().enumerate() {
            let gap = if number > 0 { "\n" } else { "" };
            write!(world.out, "{gap}{}", self.text(note))?;
        }
        Ok(())
    }

    fn text(&self, note: &Composed) -> String {
        match self.short {
            true => note.short() + "\n",
            false => note.text(),
        }
    }

    fn json(&self, world: &mut World, notes: &[Composed]) -> Done {
        match &self.out {
            None => view::json(world, &notes),
            Some(folder) => {
                let text = serde_json::to_string_pretty(notes).map_err(|error| {
                    Error::journal("A note holds something that JSON cannot say; run check.")
                        .because(error)
                })?;
                save(
                    world,
                    folder,
                    &format!("{}.json", self.stem(notes)),
                    text.as_bytes(),
                )
            }
        }
    }

    /// Writes files: cards go into one PDF, everything else is a file a note; a batch has its cover sheet.
    fn write(&self, world: &mut World, notes: &[Composed], language: Language) -> Done {
        let folder = self.out.as_deref().unwrap_or(Path::new("."));
        let several = notes.len() > 1;
        let paper = match self.paper {
            Some(Sheet::A6) => Paper::A6,
            Some(Sheet::A4) => Paper::A4,
            Some(Sheet::Letter) => Paper::Letter,
            None if several => Paper::A4,
            None => Paper::A6,
        };
        if self.format == Format::Pdf {
            let name = format!("{}.pdf", self.stem(notes));
            save(world, folder, &name, &note::pdf(notes, paper)?)?;
        } else {
            let mut taken = HashSet::new();
            for note in notes {
                let stem = untaken(&mut taken, note.file_stem());
                let (ending, bytes) = match self.format {
                    Format::Html => ("html", note.html()?.into_bytes()),
                    Format::Png => ("png", note.png()?),
                    _ => ("txt", self.text(note).into_bytes()),
                };
                save(world, folder, &format!("{stem}.{ending}"), &bytes)?;
            }
        }
        if self.is_batch() {
            let batch = Batch {
                bundle: self.bundle.clone(),
                language,
            };
            let cover = note::cover(notes, &batch, paper)?;
            save(
                world,
                folder,
                &format!("{}-cover.pdf", self.stem(notes)),
                &cover,
            )?;
        }
        Ok(())
    }

    /// The name of a file that holds all notes.
    fn stem(&self, notes: &[Composed]) -> String {
        match (notes, &self.bundle) {
            (_, Some(bundle)) => format!("{}-notes", note::plain(bundle)),
            ([one], None) if !self.all => one.file_stem(),
            _ => "notes".to_owned(),
        }
    }
}

/// A name that no note before has: `A B` and `A-B` make the same one, and some disks take `ab` for `AB`.
fn untaken(taken: &mut HashSet<String>, stem: String) -> String {
    let numbered = (2..).map(|number| format!("{stem}-{number}"));
    let mut names = std::iter::once(stem.clone()).chain(numbered);
    names
        .find(|name| taken.insert(name.to_lowercase()))
        .unwrap_or(stem)
}

/// Writes a file into a folder, which is made where it is not there, and says so.
fn save(world: &mut World, folder: &Path, name: &str, bytes: &[u8]) -> Done {
    std::fs::create_dir_all(folder).map_err(|error| refused("make the folder", folder, error))?;
    let file = folder.join(name);
    export::save(&file, bytes)?;
    Ok(writeln!(world.out, "Written to {}.", file.display())?)
}

/// The piece of this code.
pub(super) fn piece(journal: &Journal, code: &str) -> Result<Piece> {
    journal.piece(code)?.ok_or_else(|| {
        Error::caller(format!(
            "There is no piece {code} in the journal; “filemot show” lists them all."
        ))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_note_overwrites_another_of_its_batch() {
        let mut taken = HashSet::new();
        let mut name = |stem: &str| untaken(&mut taken, stem.to_owned());
        let names = ["A-B-note", "A-B-note", "a-b-note", "C-note"].map(&mut name);
        assert_eq!(names, ["A-B-note", "A-B-note-2", "a-b-note-3", "C-note"]);
    }
}
