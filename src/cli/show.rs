use super::{Done, World, claim, place, view};
use crate::ask;
use crate::care;
use crate::error::Caution;
use crate::journal::Journal;
use crate::journal::record::{HeatKind, Photo, Piece};
use crate::sheet::Degrees;
use clap::Args;
use serde::Serialize;
use std::collections::BTreeSet;

/// Show a piece with all its photos, or one photo: colours, settings, cautions
#[derive(Args)]
pub(super) struct Show {
    /// A piece's code, or a photo's name
    #[arg(value_name = "PIECE|PHOTO")]
    which: String,
    /// Print as JSON
    #[arg(long)]
    json: bool,
}

/// `show --json` of a piece: the fields of an export.
#[derive(Serialize)]
struct Whole<'a> {
    #[serde(flatten)]
    piece: &'a Piece,
    photos: &'a [Photo],
}

impl Show {
    pub(super) fn run(&self, world: &mut World) -> Done {
        let journal = place::open(world)?;
        match journal.piece(&self.which)? {
            Some(piece) => self.piece(world, &journal, &piece),
            None => {
                let photo = claim::one_photo(&journal, &self.which)?;
                if self.json {
                    return view::json(world, &photo);
                }
                Ok(view::photo(world.out, world.colour, &photo)?)
            }
        }
    }

    fn piece(&self, world: &mut World, journal: &Journal, piece: &Piece) -> Done {
        let photos = journal.photos_of(&piece.code)?;
        if self.json {
            return view::json(
                world,
                &Whole {
                    piece,
                    photos: &photos,
                },
            );
        }
        view::piece(world.out, piece, Degrees::of(&journal.studio()?))?;
        for photo in &photos {
            writeln!(world.out)?;
            view::photo(world.out, world.colour, photo)?;
        }
        let dried = ask::drying(std::slice::from_ref(piece), &photos);
        writeln!(world.out)?;
        view::drying(world.out, &dried)?;
        view::cautions(world.out, &care_for(piece))?;
        Ok(())
    }
}

/// The cautions for all that was used on a piece, each once.
fn care_for(piece: &Piece) -> Vec<Caution> {
    let mut cautions: Vec<Caution> = Vec::new();
    for round in &piece.rounds {
        let soaks = round
            .soaks
            .iter()
            .flat_map(|soak| care::for_mordant(&soak.mordant));
        let plants = round
            .plants
            .iter()
            .flat_map(|plant| care::for_plant(&plant.name));
        let heat = round.heat.iter().flat_map(|heat| {
            care::for_heat(heat.kind.map_or("simmer", HeatKind::word), heat.high_c)
        });
        cautions.extend(soaks.chain(plants).chain(heat));
    }
    cautions.extend(care::always());
    let mut seen = BTreeSet::new();
    cautions.retain(|caution| seen.insert(caution.text.clone()));
    cautions
}
