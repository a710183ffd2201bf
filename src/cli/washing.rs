use super::drying::chosen;
use super::{Done, Failure, World, ask as asking, place, view};
use crate::ask;
use crate::error::Error;
use clap::Args;
use std::path::PathBuf;

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
    #[arg(long, value_name = "FILE.svg|.png", value_parser = asking::drawing())]
    plot: Option<PathBuf>,
}

impl WashingArgs {
    pub(super) fn run(&self, world: &mut World) -> Done {
        if self.plot.is_some() && self.pieces.len() != 1 {
            return Err(Failure::Line(Error::caller(
                "--plot draws one piece over its washes: name one, as in “filemot washing LB007 --plot washes.png”.",
            )));
        }
        let journal = place::open(world)?;
        let codes = chosen(&journal, &self.pieces)?;
        let report = ask::washing(&journal, &codes)?;
        let draw = |file| asking::save(file, &ask::washing_plot(&report.pieces)?);
        if self.json {
            self.plot.as_deref().map(draw).transpose()?;
            return view::json(world, &report);
        }
        // First what was found: where there is nothing to draw, it says why.
        view::washing(world.out, world.colour, &report, &codes)?;
        if let Some(file) = &self.plot {
            draw(file)?;
            writeln!(world.out, "Drawn in {}.", file.display())?;
        }
        Ok(())
    }
}
