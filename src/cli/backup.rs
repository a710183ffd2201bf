use super::{Done, World, export, place, view};
use crate::error::Error;
use clap::Args;
use std::path::PathBuf;

/// Copy the journal's records to a file while it may be in use
#[derive(Args)]
pub(super) struct Backup {
    /// The file to write; it must not exist yet
    file: PathBuf,
}

impl Backup {
    pub(super) fn run(&self, world: &mut World) -> Done {
        let journal = place::open(world)?;
        export::check_place(&self.file)?;
        journal.backup(&self.file)?;
        writeln!(
            world.out,
            "The records are in {}. Keep the journal's folder photos as well: the backup holds what was measured, not the pictures.",
            self.file.display()
        )?;
        Ok(())
    }
}

/// Look the journal over: records sound, kept photos there and whole
#[derive(Args)]
pub(super) struct Check {}

impl Check {
    pub(super) fn run(&self, world: &mut World) -> Done {
        let findings = place::open(world)?.check()?;
        for finding in &findings {
            let mark = if finding.serious { "Damaged" } else { "Note" };
            let text = format!("{mark}: {} {}", finding.what, finding.advice);
            writeln!(world.out, "{}", view::wrapped(&text, "", "  "))?;
        }
        match findings.iter().filter(|finding| finding.serious).count() {
            0 => Ok(writeln!(world.out, "The journal is sound.")?),
            count => Err(Error::journal(format!(
                "The journal is damaged in {}; each line above says what to do.",
                view::count(count, "place", "places")
            ))
            .into()),
        }
    }
}
