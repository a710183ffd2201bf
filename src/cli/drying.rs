use super::{Done, World, place, view};
use crate::ask;
use crate::error::{Error, Result, short};
use crate::journal::Journal;
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
        let report = ask::drying(&journal, &chosen(&journal, &self.pieces)?)?;
        if self.json {
            return view::json(world, &report);
        }
        let whole = !self.pieces.is_empty();
        Ok(view::drying(world.out, world.colour, &report, whole)?)
    }
}

/// The codes of these pieces as the journal writes them.
///
/// # Errors
/// A piece that the journal does not know.
pub(super) fn chosen(journal: &Journal, pieces: &[String]) -> Result<Vec<String>> {
    let known = |code: &String| {
        let missing = || {
            Error::caller(format!(
                "There is no piece {} in the journal; “filemot show” lists them all.",
                short(code)
            ))
        };
        Ok(journal.piece(code)?.ok_or_else(missing)?.code)
    };
    pieces.iter().map(known).collect()
}
