use super::{Done, World, export};
use crate::care;
use crate::draw::{self, Drawing};
use crate::error::Error;
use crate::tag::{self, Page, Payload, SheetOptions};
use clap::{Args, ValueEnum};
use std::path::{Path, PathBuf};

/// Print tags: a QR code of each piece's code, several to a sheet, as .pdf or .svg
///
/// Print them on matte paper without brightener, do not laminate, and lay one flat beside the piece in every photo.
#[derive(Args)]
pub(super) struct Tags {
    /// Codes of pieces: LB007 LB008 …
    #[arg(required_unless_present = "states")]
    codes: Vec<String>,
    /// The file to write; its ending says which kind: .pdf or .svg
    #[arg(long, value_name = "FILE", default_value = "tags.pdf")]
    out: PathBuf,
    /// Add the cards that say wet, dry, washed and worn
    #[arg(long)]
    states: bool,
    /// The paper's size
    #[arg(long, value_enum, default_value = "a4")]
    page: Paper,
}

/// The paper's size.
#[derive(Clone, Copy, ValueEnum)]
pub(super) enum Paper {
    A4,
    Letter,
}

impl Paper {
    pub(super) fn size(self) -> Page {
        match self {
            Self::A4 => Page::A4,
            Self::Letter => Page::Letter,
        }
    }
}

impl Tags {
    pub(super) fn run(&self, world: &mut World) -> Done {
        let labels: Vec<Payload> = self.codes.iter().cloned().map(Payload::Piece).collect();
        let pages = tag::sheet(
            &labels,
            SheetOptions {
                page: self.page.size(),
                states: self.states,
            },
        )?;
        for caution in care::for_codes(self.codes.iter().map(String::as_str)) {
            writeln!(world.err, "{}", caution.text)?;
        }
        write(world, &self.out, &pages)?;
        writeln!(
            world.out,
            "Print at actual size (100 %) on matte paper without brightener, and do not laminate: the paper is the white that colours are measured by."
        )?;
        Ok(())
    }
}

/// Writes pages to print, and says where they went.
pub(super) fn write(world: &mut World, out: &Path, pages: &[Drawing]) -> Done {
    for (file, bytes) in files(out, pages)? {
        export::save(&file, &bytes)?;
        writeln!(world.out, "Written to {}.", file.display())?;
    }
    Ok(())
}

/// The files to write: one PDF with all pages, or one SVG a page.
fn files(out: &Path, pages: &[Drawing]) -> Result<Vec<(PathBuf, Vec<u8>)>, Error> {
    let ending = out
        .extension()
        .and_then(|ending| ending.to_str())
        .unwrap_or_default();
    match ending.to_ascii_lowercase().as_str() {
        "pdf" => Ok(vec![(out.to_path_buf(), draw::pdf(pages)?)]),
        "svg" => Ok(pages
            .iter()
            .enumerate()
            .map(|(n, page)| (numbered(out, n, pages.len()), page.svg().into_bytes()))
            .collect()),
        _ => Err(Error::caller(format!(
            "{} does not say what to write; end the name in .pdf or .svg.",
            out.display()
        ))),
    }
}

/// `tags.svg` for a single page, `tags-1.svg`, `tags-2.svg` for several.
fn numbered(file: &Path, page: usize, pages: usize) -> PathBuf {
    if pages == 1 {
        return file.to_path_buf();
    }
    let stem = file.file_stem().unwrap_or_default().to_string_lossy();
    file.with_file_name(format!("{stem}-{}.svg", page + 1))
}
