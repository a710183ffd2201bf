use super::drying::chosen;
use super::{Done, World, ask as asking, place, view};
use crate::ask;
use crate::change::WashingReport;
use crate::error::{Error, Result};
use clap::Args;
use std::path::{Path, PathBuf};

/// How far each piece changed in washing, in grades of the grey scale: 5 is no change, 1 a great one
#[derive(Args)]
pub(super) struct WashingArgs {
    /// Codes of pieces; all that were photographed washed or worn where none is named
    #[arg(value_name = "PIECE")]
    pieces: Vec<String>,
    /// Print as JSON
    #[arg(long)]
    json: bool,
    /// Draw one piece's change over its washes, with the grades as bands
    #[arg(long, value_name = "FILE.svg|.png", requires = "pieces")]
    plot: Option<PathBuf>,
}

impl WashingArgs {
    pub(super) fn run(&self, world: &mut World) -> Done {
        let journal = place::open(world)?;
        let codes = chosen(&journal, &self.pieces)?;
        let report = ask::washing(&journal, &codes)?;
        if let Some(file) = &self.plot {
            draw(file, &codes, &report)?;
        }
        if self.json {
            return view::json(world, &report);
        }
        view::washing(world.out, world.colour, &report, &codes)?;
        if let Some(file) = &self.plot {
            writeln!(world.out, "Drawn in {}.", file.display())?;
        }
        Ok(())
    }
}

fn draw(file: &Path, codes: &[String], report: &WashingReport) -> Result<()> {
    match codes {
        [_] => asking::save(file, &ask::washing_plot(&report.pieces)?),
        _ => Err(Error::caller(
            "A plot shows one piece over its washes: name one, as in “filemot washing LB007 --plot washes.png”.",
        )),
    }
}
