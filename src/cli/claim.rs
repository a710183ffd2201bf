use super::{Done, World, ingest, number, place, view};
use crate::error::{Error, Result, short, visible};
use crate::journal::Journal;
use crate::journal::record::Photo;
use crate::reading::State;
use clap::Args;

/// Say which piece a photo shows, and as what
#[derive(Args)]
pub(super) struct Claim {
    /// The photo's name with its ending, or the first six or more letters of its hash
    photo: String,
    /// The piece's code
    piece: String,
    /// What the photo shows it as: wet, dry, washed or worn
    #[arg(long, value_parser = ingest::state, value_name = "STATE")]
    state: Option<State>,
    /// How often it had been washed; goes with --state washed, which is meant unless it is worn
    #[arg(long, value_name = "N", allow_hyphen_values = true, value_parser = number::washes)]
    washes: Option<u32>,
}

impl Claim {
    pub(super) fn run(&self, world: &mut World) -> Done {
        let mut journal = place::open(world)?;
        let photo = one_photo(&journal, &self.photo)?;
        let id = photo.id.ok_or_else(|| {
            Error::journal("That photo is not in the journal any more; try again.")
        })?;
        let known = journal.piece(&self.piece)?.map(|piece| piece.code);
        let said = match (self.state, photo.state) {
            (None, Some(State::Worn)) if self.washes.is_some() => Some(State::Worn),
            (said, _) => said,
        };
        let said = ingest::washed(said, self.washes)?;
        journal.claim(id, &self.piece, said, self.washes)?;
        let state = said.or(photo.state);
        let state = state.map_or_else(String::new, |state| format!(" {}", state.word()));
        let state = match self.washes {
            Some(washes) => format!(
                "{state}, after {}",
                view::count(washes as usize, "wash", "washes")
            ),
            None => state,
        };
        let name = visible(photo.file.as_ref().unwrap_or(&self.photo));
        match known {
            Some(code) => writeln!(world.out, "{name} shows {code}{state}.")?,
            None => writeln!(
                world.out,
                "{name} shows {}{state}; that is a new piece, of which no sheet tells yet.",
                self.piece
            )?,
        }
        Ok(())
    }
}

/// The one photo of that name.
///
/// # Errors
/// None, or several of the same name: the sentence lists their hashes to choose by.
pub(super) fn one_photo(journal: &Journal, name: &str) -> Result<Photo> {
    let mut photos = journal.photos_named(name)?;
    match photos.len() {
        0 => Err(Error::caller(format!(
            "The journal holds nothing called {}: write a piece's code as it stands on its tag, or a photo's name with its ending, such as IMG_0001.jpg.",
            short(name)
        ))),
        1 => Ok(photos.remove(0)),
        _ => {
            let hashes: Vec<&str> = photos
                .iter()
                .filter_map(|p| p.hash.as_deref().and_then(|h| h.get(..12)))
                .collect();
            Err(Error::caller(format!(
                "Several photos are called {}; name one by the first letters of its hash: {}.",
                short(name),
                hashes.join(", ")
            )))
        }
    }
}
