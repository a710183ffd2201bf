use super::{Done, Failure, World, export, place, view};
use crate::error::{Caution, Error, Result, refused};
use crate::journal::Journal;
use crate::journal::record::Piece;
use crate::note::{self, Batch, Chosen, Language, Note as Composed, Options, Paper};
use clap::{Args, ValueEnum};
use std::collections::HashSet;
use std::path::{Path, PathBuf};

/// Write what a customer gets: colours in words and blocks, how sure they are, care; on screen, on paper or as a picture
///
/// A note once written keeps its words, colours and shares. Where today's would be others you are told, and only --reissue changes
/// them.
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
    /// The paper of a PDF, cover sheets too: a6 is a card a page, a4 and letter hold four; one piece comes on a6, several on a4
    #[arg(long, value_enum)]
    paper: Option<Sheet>,
    /// The language of the note
    #[arg(long, value_enum, default_value = "en")]
    lang: Lang,
    /// Take today's words and colours though the note was written with others
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
        self.check_line()?;
        let mut journal = place::open(world)?;
        let options = Options {
            language: match self.lang {
                Lang::En => Language::English,
                Lang::De => Language::German,
            },
            reissue: self.reissue,
        };
        let chosen = self.chosen(&journal)?;
        let notes: Vec<Composed> = chosen
            .pieces
            .iter()
            .map(|piece| note::of_piece(&journal, piece, &options))
            .collect::<Result<_>>()?;
        for text in &chosen.told {
            writeln!(world.err, "{text}")?;
        }
        let drawn = matches!(self.format, Format::Pdf | Format::Png);
        let concerns = |caution: &&Caution| drawn || caution.code != note::LETTERS_MISSING;
        let cautions = notes.iter().flat_map(|note| &note.cautions);
        for caution in cautions.filter(concerns) {
            writeln!(world.err, "{}", caution.text)?;
        }
        let batch = Batch {
            bundle: chosen.bundle,
            language: options.language,
        };
        match self.format {
            Format::Json => self.json(world, &notes, &batch),
            _ if self.is_printed() => {
                self.print(world, &notes)?;
                Ok(note::issue(&mut journal, &notes, world.today)?)
            }
            _ => self.write(world, &mut journal, &notes, &batch),
        }
    }

    /// Whether the options fit together.
    fn check_line(&self) -> Done {
        let wrong = |text: &str| Err(Failure::Line(Error::caller(text)));
        if self.short && self.format != Format::Text {
            return wrong("--short is for text alone: leave out --format, or --short.");
        }
        let has_cover = self.is_batch() && self.format != Format::Json && !self.is_printed();
        if self.paper.is_some() && self.format != Format::Pdf && !has_cover {
            return wrong(
                "--paper is for what is printed: add --format pdf, or leave --paper out.",
            );
        }
        Ok(())
    }

    /// The pieces that notes are asked for, each once.
    fn chosen(&self, journal: &Journal) -> Result<Chosen> {
        if self.is_batch() {
            return note::chosen(journal, self.bundle.as_deref());
        }
        let mut pieces: Vec<Piece> = vec![];
        for code in &self.pieces {
            let piece = piece(journal, code)?;
            if pieces.iter().all(|known| known.code != piece.code) {
                pieces.push(piece);
            }
        }
        Ok(Chosen {
            pieces,
            bundle: None,
            told: vec![],
        })
    }

    fn is_batch(&self) -> bool {
        self.all || self.bundle.is_some()
    }

    /// Whether the notes go to standard output.
    fn is_printed(&self) -> bool {
        self.format == Format::Text && self.out.is_none()
    }

    fn print(&self, world: &mut World, notes: &[Composed]) -> Done {
        for (number, note) in notes.iter().enumerate() {
            let gap = if number > 0 { "\n" } else { "" };
            // A listing does not say which piece it is of.
            let code = match self.short && notes.len() > 1 {
                true => format!("{}\n", note.code),
                false => String::new(),
            };
            write!(world.out, "{gap}{code}{}", self.text(note))?;
        }
        Ok(())
    }

    fn text(&self, note: &Composed) -> String {
        match self.short {
            true => note.short() + "\n",
            false => note.text(),
        }
    }

    fn json(&self, world: &mut World, notes: &[Composed], batch: &Batch) -> Done {
        match &self.out {
            None => view::json(world, &notes),
            Some(folder) => {
                let text = serde_json::to_string_pretty(notes).map_err(|error| {
                    Error::journal("A note holds something that JSON cannot say; run check.")
                        .because(error)
                })?;
                let name = format!("{}.json", self.stem(notes, batch));
                save(world, folder, &name, text.as_bytes())
            }
        }
    }

    /// Writes files: cards go into one PDF, everything else is a file a note; a batch has its cover sheet. Every place is looked at
    /// before the first is written, and what was written counts as issued even where a later one fails.
    fn write(
        &self,
        world: &mut World,
        journal: &mut Journal,
        notes: &[Composed],
        batch: &Batch,
    ) -> Done {
        let folder = self.out.as_deref().unwrap_or(Path::new("."));
        let paper = match self.paper {
            Some(Sheet::A6) => Paper::A6,
            Some(Sheet::A4) => Paper::A4,
            Some(Sheet::Letter) => Paper::Letter,
            None if notes.len() > 1 => Paper::A4,
            None => Paper::A6,
        };
        let files = self.files(notes, batch);
        let cover = self.is_batch();
        let cover = cover.then(|| format!("{}-cover.pdf", self.stem(notes, batch)));
        for (name, _) in &files {
            export::check(&folder.join(name), self.head())?;
        }
        if let Some(name) = &cover {
            export::check(&folder.join(name), PDF)?;
        }
        let mut out = 0;
        let written = files.into_iter().try_for_each(|(name, of)| -> Done {
            let bytes = match self.format {
                Format::Pdf => note::pdf(of, batch, paper)?,
                Format::Html => of[0].html()?.into_bytes(),
                Format::Png => of[0].png()?,
                Format::Text | Format::Json => self.text(&of[0]).into_bytes(),
            };
            save(world, folder, &name, &bytes)?;
            out += of.len();
            Ok(())
        });
        note::issue(journal, &notes[..out], world.today)?;
        written?;
        match cover {
            Some(name) => save(world, folder, &name, &note::cover(notes, batch, paper)?),
            None => Ok(()),
        }
    }

    /// The files to write, in order, and the notes that each holds.
    fn files<'a>(&self, notes: &'a [Composed], batch: &Batch) -> Vec<(String, &'a [Composed])> {
        let ending = match self.format {
            Format::Pdf => return vec![(format!("{}.pdf", self.stem(notes, batch)), notes)],
            Format::Html => "html",
            Format::Png => "png",
            Format::Text | Format::Json => "txt",
        };
        let mut taken = HashSet::new();
        let mut file = |of: &'a [Composed]| {
            let stem = untaken(&mut taken, of[0].file_stem());
            (format!("{stem}.{ending}"), of)
        };
        notes.chunks(1).map(&mut file).collect()
    }

    /// With what the files begin.
    fn head(&self) -> &'static [u8] {
        match self.format {
            Format::Pdf => PDF,
            Format::Png => b"\x89PNG",
            Format::Html | Format::Text | Format::Json => b"text",
        }
    }

    /// The name of a file that holds all notes.
    fn stem(&self, notes: &[Composed], batch: &Batch) -> String {
        match (notes, batch.printed()) {
            (_, Some(bundle)) => format!("{}-notes", note::plain(bundle)),
            ([one], None) if !self.is_batch() => one.file_stem(),
            _ => "notes".to_owned(),
        }
    }
}

/// With what a PDF begins: ISO 32000-1, 7.5.2.
const PDF: &[u8] = b"%PDF";

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
