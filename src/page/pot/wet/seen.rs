//! What is foreseen of a wet piece, as the page shows it.

use crate::ask::{Outlook, whole};
use crate::change::Foreseen;
use crate::colour::{Lab, lab_to_hex};
use crate::error::Caution;
use crate::page::shown;
use crate::words as colour_words;

/// What is foreseen, as it is shown.
pub(super) struct Seen {
    pub told: String,
    pub rests: String,
    pub wet: Vec<shown::Band>,
    pub dry: Vec<shown::Band>,
    pub wet_words: String,
    pub dry_words: String,
    pub colours: Vec<Colour>,
    pub cautions: Vec<String>,
    /// Why the wish was not understood; what is foreseen stands without it.
    pub refused: Option<String>,
}

pub(super) struct Colour {
    pub wet: String,
    pub dry: String,
    pub share: String,
    pub word: String,
    pub l: String,
    pub a: String,
    pub b: String,
}

impl Seen {
    pub(super) fn of(outlook: &Outlook) -> Self {
        let (told, rests) = outlook.in_words();
        let bands = |of: fn(&Foreseen) -> Lab| {
            shown::bands(outlook.swatches.iter().map(|one| (of(one), one.share)))
        };
        let in_words = |of: fn(&Foreseen) -> Lab| {
            let word = |one: &Foreseen| {
                format!(
                    "{} {}",
                    shown::percent(one.share),
                    colour_words::word(of(one), doubt(one)).text
                )
            };
            outlook
                .swatches
                .iter()
                .map(word)
                .collect::<Vec<_>>()
                .join(", ")
        };
        Self {
            told,
            rests,
            wet: bands(|one| one.wet),
            dry: bands(|one| one.dry),
            wet_words: in_words(|one| one.wet),
            dry_words: in_words(|one| one.dry),
            colours: outlook.swatches.iter().map(Colour::of).collect(),
            cautions: outlook.cautions.iter().map(said).collect(),
            refused: None,
        }
    }
}

/// A quarter of the band of lightness is one standard deviation.
fn doubt(colour: &Foreseen) -> f64 {
    (colour.high.l - colour.low.l) / 4.0
}

impl Colour {
    fn of(colour: &Foreseen) -> Self {
        let Foreseen {
            wet,
            dry,
            low,
            high,
            share,
        } = *colour;
        let range = |wet: f64, dry: f64, low: f64, high: f64| {
            let [wet, dry, low, high] = [wet, dry, low, high].map(whole);
            format!("{wet:.0} wet, {dry:.0} dry ({low:.0} to {high:.0})")
        };
        Self {
            wet: lab_to_hex(wet),
            dry: lab_to_hex(dry),
            share: shown::percent(share),
            word: colour_words::word(dry, doubt(colour)).text,
            l: range(wet.l, dry.l, low.l, high.l),
            a: range(wet.a, dry.a, low.a, high.a),
            b: range(wet.b, dry.b, low.b, high.b),
        }
    }
}

/// What must be known, said for who has the photo before them.
fn said(caution: &Caution) -> String {
    shown::advice(&caution.text).replace(
        "take the photo in with “Take them in” at Line",
        "keep the photo, below",
    )
}
