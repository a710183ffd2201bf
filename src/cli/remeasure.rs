use super::telling::TellingArgs;
use super::{Done, World, claim, place, progress, view};
use crate::error::Result;
use crate::intake;
use crate::journal::Journal;
use crate::journal::record::Photo;
use clap::Args;

/// Measure kept photos again, with today's method, paper and ink
#[derive(Args)]
pub(super) struct Remeasure {
    /// Pieces or photos; all kept photos where none is named
    #[arg(value_name = "PIECE|PHOTO")]
    which: Vec<String>,
    #[command(flatten)]
    telling: TellingArgs,
}

impl Remeasure {
    pub(super) fn run(&self, world: &mut World) -> Done {
        let mut journal = place::open(world)?;
        let telling = self.telling.read()?;
        let photos = self.photos(&journal)?;
        let bar = progress::bar(world.progress);
        bar.set_message("Measuring");
        bar.set_length(photos.len() as u64);
        let result = intake::remeasure(&mut journal, &photos, &telling, &|| bar.inc(1));
        bar.finish_and_clear();
        let result = result?;
        writeln!(
            world.out,
            "{} measured again.",
            view::count(result.measured, "photo", "photos")
        )?;
        for why in &result.left {
            writeln!(world.err, "Left as it was: {why}")?;
        }
        Ok(())
    }

    fn photos(&self, journal: &Journal) -> Result<Vec<Photo>> {
        if self.which.is_empty() {
            return journal.photos();
        }
        let mut photos = Vec::new();
        for name in &self.which {
            match journal.piece(name)? {
                Some(piece) => photos.extend(journal.photos_of(&piece.code)?),
                None => photos.push(claim::one_photo(journal, name)?),
            }
        }
        Ok(photos)
    }
}
