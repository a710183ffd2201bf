use super::{Done, World, place, view};
use crate::ask;
use crate::error::{Error, Result};
use crate::journal::Journal;
use crate::journal::record::Piece;
use clap::Args;

/// How much lighter each piece dried, in steps of L*: 0 is black, 100 white
#[derive(Args)]
pub(super) struct Drying {
    /// Codes of pieces; all of them where none is named
    #[arg(value_name = "PIECE")]
    pieces: Vec<String>,
    /// Print as JSON
    #[arg(long)]
    json: bool,
}

impl Drying {
    pub(super) fn run(&self, world: &mut World) -> Done {
        let journal = place::open(world)?;
        let report = ask::drying(&self.chosen(&journal)?, &journal.photos()?);
        if self.json {
            return view::json(world, &report);
        }
        Ok(view::drying(world.out, &report)?)
    }

    fn chosen(&self, journal: &Journal) -> Result<Vec<Piece>> {
        if self.pieces.is_empty() {
            return journal.pieces();
        }
        let known = |code: &String| {
            let missing = || {
                Error::caller(format!(
                    "There is no piece {code} in the journal; “filemot show” lists them all."
                ))
            };
            journal.piece(code)?.ok_or_else(missing)
        };
        self.pieces.iter().map(known).collect()
    }
}
