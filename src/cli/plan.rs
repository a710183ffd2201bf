use super::{Done, World, export, number, place, tags, view};
use crate::error::{Error, Result};
use crate::journal::record::{Bath, Piece, Studio};
use crate::sheet::{self, Known, Plan};
use clap::Args;
use std::path::{Path, PathBuf};

/// Plan what a sheet intends: grams, litres and days in the order of work, to print and tick off
///
/// The sheet has the columns of one to enter; nothing of it is stored. docs/plan.md says how it is reckoned.
#[derive(Args)]
pub(super) struct PlanArgs {
    /// The sheet of intended pieces, .csv or .xlsx
    #[arg(required_unless_present = "like", conflicts_with = "like")]
    sheet: Option<PathBuf>,
    /// Plan new pieces made as this one was
    #[arg(long, value_name = "PIECE")]
    like: Option<String>,
    /// How many new pieces
    #[arg(long, value_name = "N", default_value = "1", requires = "like", allow_hyphen_values = true, value_parser = number::number("how many pieces are planned", 1..=500u32))]
    pieces: u32,
    /// The file to write, by its ending: .pdf to print, .txt, or .svg; else the plan is shown
    #[arg(long, value_name = "FILE")]
    out: Option<PathBuf>,
    /// Print as JSON
    #[arg(long, conflicts_with = "out")]
    json: bool,
}

impl PlanArgs {
    pub(super) fn run(&self, world: &mut World) -> Done {
        let plan = self.plan(world)?;
        match &self.out {
            Some(file) => write(world, file, &plan),
            None if self.json => view::json(world, &plan),
            None => Ok(write!(world.out, "{}", sheet::plan_text(&plan))?),
        }
    }

    fn plan(&self, world: &World) -> Result<Plan> {
        let journal = match self.like {
            Some(_) => Some(place::open(world)?),
            None => place::open_if_there(world)?,
        };
        let (pieces, baths, studio): (Vec<Piece>, Vec<Bath>, Studio) = match &journal {
            Some(journal) => (journal.pieces()?, journal.baths()?, journal.studio()?),
            None => Default::default(),
        };
        let known = Known {
            pieces: &pieces,
            baths: &baths,
            studio: &studio,
        };
        if let Some(sheet) = &self.sheet {
            return sheet::plan_sheet(known, &sheet::read(sheet)?);
        }
        let code = self.like.as_deref().unwrap_or_default();
        let piece = journal.map_or(Ok(None), |journal| journal.piece(code))?;
        let piece = piece.ok_or_else(|| {
            Error::caller(format!(
                "There is no piece “{code}” in the journal; “filemot show” lists those there are."
            ))
        })?;
        Ok(sheet::plan_like(known, &piece, self.pieces))
    }
}

/// Writes a plan, and tells what it leaves open.
fn write(world: &mut World, file: &Path, plan: &Plan) -> Done {
    let ending = file.extension().and_then(|ending| ending.to_str());
    match ending.unwrap_or_default().to_ascii_lowercase().as_str() {
        "txt" => {
            export::save(file, sheet::plan_text(plan).as_bytes())?;
            writeln!(world.out, "Written to {}.", file.display())?;
        }
        "pdf" | "svg" => tags::write(world, file, &sheet::plan_pages(plan))?,
        _ => {
            return Err(Error::caller(format!(
                "{} does not say what to write; end the name in .pdf, .txt or .svg.",
                file.display()
            ))
            .into());
        }
    }
    for open in &plan.left_open {
        writeln!(world.out, "{}", view::wrapped(open, "  ? ", "    "))?;
    }
    Ok(())
}
