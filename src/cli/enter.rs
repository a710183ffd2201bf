use super::{Done, World, place, view};
use crate::sheet::{self, Entered, Subject};
use clap::Args;
use std::io::Write;
use std::path::PathBuf;

/// Enter a sheet of settings: pieces, bundles and pots, or mordant baths, from a .csv or .xlsx table
///
/// The sheet lands entirely or not at all. Enter it again after an edit: what changed is updated and listed. docs/sheet.md
/// describes the columns.
#[derive(Args)]
pub(super) struct Enter {
    /// The sheet, .csv or .xlsx
    sheet: PathBuf,
}

impl Enter {
    pub(super) fn run(&self, world: &mut World) -> Done {
        let mut journal = place::open_or_create(world)?;
        let entered = sheet::enter(&mut journal, &self.sheet)?;
        show(world, &entered)
    }
}

/// What a sheet brought, in words, and what to mind.
fn show(world: &mut World, entered: &Entered) -> Done {
    counts(world, entered)?;
    if !entered.cautions.is_empty() {
        writeln!(world.out, "Please mind:")?;
    }
    Ok(view::cautions(world.out, &entered.cautions)?)
}

/// How many pieces a sheet brought, and each change.
pub(super) fn counts(world: &mut World, entered: &Entered) -> Done {
    let out = &mut world.out;
    let (one, many) = match entered.about {
        Subject::Pieces => ("new piece", "new pieces"),
        Subject::Baths => ("new bath", "new baths"),
    };
    writeln!(
        out,
        "{}, {}, {} unchanged.",
        view::count(entered.new.len(), one, many),
        view::count(entered.changed.len(), "change", "changes"),
        entered.unchanged
    )?;
    for change in &entered.changed {
        writeln!(out, "  {change}")?;
    }
    Ok(())
}
