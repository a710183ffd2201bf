//! The colours of a piece under their names.

use super::language::{Key, Messages};
use crate::colour::{Lab, lab_to_hex, mean, triple};
use crate::journal::record::IssuedColour;
use crate::reading::Swatch;
use crate::words::{Own, own, word};
use serde::Serialize;

/// A colour with less of the cloth than this goes without a line of its own.
const LEAST_SHARE: f64 = 0.02;

/// Where fewer than [`FEWEST`] colours reach that, smaller ones down to this are told.
const SMALLEST_SHARE: f64 = 0.005;

/// So many colours a note tells if the cloth has them, and more it never does.
const FEWEST: usize = 3;
const MOST: usize = 6;

/// Doubt of a colour that came without one, CIEDE2000: that of a photo in assumed light.
const UNKNOWN_DOUBT: f64 = 6.0;

/// The longest word, letters, that a note prints; a longer one from elsewhere gives way to the standard's.
const LONGEST_WORD: usize = 32;

/// A colour of the piece under one name.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Colour {
    /// Its name in the note's language: the studio's own word, else the standard's.
    pub word: String,
    /// Whether the word is the studio's own.
    pub own: bool,
    /// Its name in ISCC-NBS, English: `moderate yellow`.
    pub standard: String,
    /// What stands small beneath the word; `None` where that would only say it again.
    pub beneath: Option<String>,
    /// Its share of the cloth, 0 to 1.
    pub share: f64,
    /// CIELAB, 2°, D65.
    #[serde(with = "triple")]
    pub lab: Lab,
    /// The nearest sRGB colour, `#rrggbb`.
    pub srgb: String,
    /// One standard deviation's worth, CIEDE2000.
    pub doubt: Option<f64>,
}

impl Colour {
    /// CIELAB in whole numbers: `L* 72 a* 5 b* 40`, with a true minus.
    pub(super) fn numbers(&self, messages: &Messages) -> String {
        // Minus nought is nought.
        let number = |value: f64| messages.number(value.round() + 0.0, 0).replace('-', "−");
        let Lab { l, a, b, .. } = self.lab;
        format!("L* {} a* {} b* {}", number(l), number(a), number(b))
    }

    /// Its doubt as `± 2.1`; empty where it is not known.
    pub(super) fn doubt(&self, messages: &Messages) -> String {
        self.doubt.map_or_else(String::new, |doubt| {
            let doubt = messages.number(doubt, 1);
            messages.fill(Key::Doubt, [("doubt", doubt.into())])
        })
    }
}

/// The colours of a reading as a note would tell them today, largest first: those under one name become one (a name that no
/// note may say gives way to the standard's), and small ones are left out.
pub fn named(
    swatches: &[Swatch],
    words: &[Own],
    allowed: &mut impl FnMut(&str) -> bool,
) -> Vec<IssuedColour> {
    let mut named: Vec<(String, String, Vec<&Swatch>)> = vec![];
    for swatch in swatches {
        let (name, standard) = names(swatch, words, allowed);
        match named.iter_mut().find(|(known, ..)| *known == name) {
            Some((.., parts)) => parts.push(swatch),
            None => named.push((name, standard, vec![swatch])),
        }
    }
    let mut all: Vec<IssuedColour> = named.into_iter().filter_map(together).collect();
    all.sort_by(|one, other| other.share.total_cmp(&one.share));
    let at_least = |least: f64| all.iter().filter(|colour| colour.share >= least).count();
    let told = at_least(LEAST_SHARE).max(at_least(SMALLEST_SHARE).min(FEWEST));
    all.truncate(told.clamp(1, MOST));
    all
}

/// What a colour is called here, and in the standard.
fn names(
    swatch: &Swatch,
    words: &[Own],
    allowed: &mut impl FnMut(&str) -> bool,
) -> (String, String) {
    let mut may_say = |word: &&str| fits(word) && allowed(word);
    // A word without a level is one that the studio gave this very colour elsewhere.
    let (given, standard) = match swatch.word_level {
        None => (swatch.word.as_deref(), None),
        Some(_) => (None, swatch.word.as_deref()),
    };
    let standard = match standard.filter(&mut may_say) {
        Some(standard) => standard.to_owned(),
        None => word(swatch.lab, swatch.doubt.unwrap_or(UNKNOWN_DOUBT)).text,
    };
    let ours = own(words, swatch.lab)
        .filter(|word| word.is_likely(swatch.lab, swatch.doubt))
        .map(|word| word.name.as_str());
    let name = given.or(ours).filter(&mut may_say);
    (
        name.map_or_else(|| standard.clone(), str::to_owned),
        standard,
    )
}

/// Colours of one name as one; `None` where they cover nothing. The standard's name is that of the largest.
fn together((word, standard, parts): (String, String, Vec<&Swatch>)) -> Option<IssuedColour> {
    let lab = mean(parts.iter().map(|part| (part.lab, part.share)))?;
    let share = parts.iter().map(|part| part.share).sum::<f64>();
    let known = || {
        parts
            .iter()
            .filter_map(|part| Some((part.doubt?, part.share)))
    };
    let whole: f64 = known().map(|(_, share)| share).sum();
    let doubt = known().map(|(doubt, share)| doubt * share).sum::<f64>() / whole;
    Some(IssuedColour {
        word,
        standard,
        lab,
        share: share.min(1.0),
        doubt: (whole > 0.0).then_some(doubt),
    })
}

/// The colours of a note, in its language.
pub fn shown(colours: &[IssuedColour], messages: &Messages) -> Vec<Colour> {
    colours.iter().map(|colour| one(colour, messages)).collect()
}

fn one(colour: &IssuedColour, messages: &Messages) -> Colour {
    let own = colour.word != colour.standard;
    let standard = colour.standard.as_str();
    let beneath = match own && !standard.is_empty() {
        true => Key::BeneathOwn,
        false => Key::Beneath,
    };
    let beneath = messages.fill(beneath, [("standard", standard.into())]);
    Colour {
        word: match own {
            true => colour.word.clone(),
            false => messages.standard(standard),
        },
        own,
        standard: colour.standard.clone(),
        beneath: Some(beneath).filter(|text| !text.is_empty()),
        share: colour.share,
        lab: colour.lab,
        srgb: lab_to_hex(colour.lab),
        doubt: colour.doubt,
    }
}

/// The mean doubt of colours that have one, weighted by share.
pub fn doubt(colours: &[IssuedColour]) -> Option<f64> {
    let known = || colours.iter().filter_map(|c| Some((c.doubt?, c.share)));
    let total: f64 = known().map(|(_, share)| share).sum();
    (total > 0.0).then(|| known().map(|(doubt, share)| doubt * share).sum::<f64>() / total)
}

/// Whether a note has room for a word.
fn fits(word: &str) -> bool {
    !word.trim().is_empty() && word.chars().count() <= LONGEST_WORD
}

/// A colour as it was issued, with words that a note may say and has room for.
pub fn sayable(colour: &IssuedColour, allowed: &mut impl FnMut(&str) -> bool) -> IssuedColour {
    let mut may_say = |word: &str| fits(word) && allowed(word);
    let standard = match colour.standard.is_empty() || may_say(&colour.standard) {
        true => colour.standard.clone(),
        false => measured(colour),
    };
    let word = match may_say(&colour.word) {
        true => colour.word.clone(),
        false if standard.is_empty() => measured(colour),
        false => standard.clone(),
    };
    IssuedColour {
        word,
        standard,
        ..colour.clone()
    }
}

/// The standard's name of a colour as it was issued.
pub fn in_standard(colour: &IssuedColour) -> String {
    match colour.standard.is_empty() {
        true => measured(colour),
        false => colour.standard.clone(),
    }
}

fn measured(colour: &IssuedColour) -> String {
    word(colour.lab, colour.doubt.unwrap_or(UNKNOWN_DOUBT)).text
}
