//! A question read, and answered with its evidence.

mod adjust;
mod answer;
mod apart;
mod beside;
mod cautions;
mod changed;
mod changing;
mod compare;
mod count;
mod design;
mod evidence;
mod foresee;
mod language;
mod naming;
mod near;
mod next;
mod of_change;
mod opened;
mod plot;
mod sentence;
mod setting;
mod shown;
mod slope;
mod survey;
#[cfg(test)]
mod tests;
mod value;
mod verdict;

pub use answer::{Answer, Evidence, Found, Group, ReadAs};
pub use changed::Changed;
pub use changing::{drying, washing};
pub use evidence::states;
pub use foresee::{Aim, Chance, Outlook, Toward, foresee, newest_wet, whole};
pub use language::{Colours, Names, Question, Wanted, read};
pub use naming::{Named, drop_colour_word, name_colour};
pub use near::Near;
pub use next::{Next, Recipe};
pub use opened::{of_journal, own_words};
pub use plot::{outlook as plot_outlook, plot, plot_alone, washing_plot};
pub use slope::Slope;
pub use value::Shade;
pub use verdict::Verdict;

use crate::error::Result;
use crate::journal::Degrees;
use crate::journal::gist::{Gist, Round, Soak};
use crate::journal::record::{Bath, Soaked, bath_age};
use crate::words::Own;

/// What an answer is drawn from.
#[derive(Clone, Copy, Debug)]
pub struct Known<'a> {
    /// Pieces and what was measured of them, in the states that [`states`] names.
    pub gist: &'a Gist,
    /// The mordant baths.
    pub baths: &'a [Bath],
    /// The studio's own colour words.
    pub own: &'a [Own],
    /// What drying or washing did to the pieces, where the question is about that.
    pub changed: &'a Changed,
    /// The unit in which temperatures are grouped and named.
    pub degrees: Degrees,
}

impl Known<'_> {
    /// Whether a soak, a whole sequence of soaks or a plant of this lower-case name was used; `None` where the journal does not
    /// tell: an empty cell is no answer.
    fn uses(&self, rounds: &[Round], name: &str) -> Option<bool> {
        if setting::told(rounds, name) {
            return Some(true);
        }
        let no_soak = || rounds.iter().all(|round| round.soaks.is_empty());
        let no_plant = || rounds.iter().all(|round| round.plants.is_empty());
        let is_plant = || self.gist.has_plant(name);
        let open = match (no_soak(), no_plant()) {
            (false, false) => false,
            (true, true) => true,
            (true, false) => !is_plant(),
            (false, true) => is_plant(),
        };
        (!open).then_some(false)
    }

    /// How many days old the bath of a soak was, where the journal tells.
    fn bath_age(&self, soak: &Soak, made: Option<&str>) -> Option<f64> {
        let soaked = Soaked {
            mordant: &soak.mordant,
            bath: soak.bath.as_deref(),
            on: soak.on.as_deref().or(made),
        };
        bath_age(self.baths, soaked).map(|age| f64::from(age.days))
    }
}

/// Answers a question that was read from `text`; [`Known::gist`] must hold the photos in the [`states`] of the question.
///
/// The piece is the unit of measure, the pot the unit of independence: pieces of one pot share its liquor.
///
/// # Errors
/// The caller's, where the piece that others are to be near to was not photographed so.
pub fn answer(text: &str, asked: Question, known: &Known) -> Result<Answer> {
    Answer::of(text, asked, known)
}
