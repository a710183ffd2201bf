//! Cautions for salts, heat, plants and disposal, and the sentences that a customer's note must never contain.
//!
//! Nothing here replaces the supplier's safety sheet or local rules, and every sentence about a salt says so. Sources stand
//! beside the tables; hazard statements are those of the European regulation on classification and labelling (CLP, EC
//! 1272/2008) as printed on suppliers' safety sheets, put into plain words.

mod amounts;
mod claims;
mod heat;
mod plants;
mod salts;

pub use amounts::{check_usual, is_barred, is_iron, is_known, is_no_bath, strongest};
pub use claims::{for_codes, must_not_say};
pub use heat::{NEAR_BOIL_C, for_heat};
pub use plants::{for_plant, is_barred_plant};
pub use salts::for_mordant;

use crate::error::Caution;

/// What holds for every salt, pot and plant.
///
/// Sources: the precautionary statements P264, P270, P273, P280 and P501 as printed on suppliers' safety sheets; vessels,
/// ventilation and lids: common practice, no source; burning: see [`for_plant`].
pub fn always() -> Vec<Caution> {
    [
        (
            "safety-sheet",
            "Ask the supplier for the safety sheet of every salt and read it before you open the packet: it and your local \
             rules come before anything said here.",
        ),
        (
            "gloves-and-eyes",
            "Wear gloves and eye protection when you weigh, pour or wring, and wash your hands before you eat, drink or smoke.",
        ),
        (
            "no-dust",
            "Raise no dust, with alum as little as with iron: put powders into water gently, and wear a dust mask if any is \
             in the air.",
        ),
        (
            "no-food-vessels",
            "Pots, spoons and scales used for mordants never go back to food.",
        ),
        (
            "ventilate",
            "Open a window or work outside, and keep the lid on, so that you do not breathe the steam of a bath.",
        ),
        (
            "lock-away",
            "Label every salt and every bath, and lock them away from children and animals.",
        ),
        (
            "no-bath-outside",
            "Pour no bath into a stream, onto soil or into a septic tank: ask your local waste service where it may go.",
        ),
        (
            "name-the-plant",
            "Use only plants you can name for certain, never oleander, yew, poison ivy or its kin, and burn none, since smoke \
             can carry their poison.",
        ),
    ]
    .map(|(code, text)| Caution::new(code, text))
    .to_vec()
}

/// A text as words between single spaces, lower case, in one spelling, with a space at each end, so that whole words can be
/// looked for.
fn words(text: &str) -> String {
    let mut plain = String::from(" ");
    for letter in text.chars().flat_map(char::to_lowercase) {
        if letter.is_alphanumeric() {
            plain.push(letter);
        } else if !matches!(letter, '\'' | '’') && !plain.ends_with(' ') {
            plain.push(' ');
        }
    }
    if !plain.ends_with(' ') {
        plain.push(' ');
    }
    plain
        .replace("sulph", "sulf")
        .replace("aluminum", "aluminium")
        .replace("color", "colour")
        .replace("gray", "grey")
        .replace("sumach", "sumac")
}

/// Whether `text`, as [`words`] gives it, holds `phrase` as whole words.
fn says(text: &str, phrase: &str) -> bool {
    text.contains(&format!(" {phrase} "))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn one_sentence(caution: &Caution) {
        let Caution { code, text } = caution;
        assert!(
            code.chars().all(|c| c.is_ascii_lowercase() || c == '-'),
            "{code}"
        );
        assert!(text.ends_with('.') && !text.contains(". "), "{text}");
        assert!(text.len() < 260, "{} letters: {text}", text.len());
    }

    #[test]
    fn every_caution_is_one_short_sentence() {
        let mut all = always();
        all.extend(salts::tests::all());
        all.extend(plants::tests::all());
        all.extend(for_heat("simmer", Some(99.0)));
        all.extend(for_heat("steam", None));
        all.iter().for_each(one_sentence);
    }

    /// The list of the issue, by what a person must find in it: common practice, no source.
    #[test]
    fn the_usual_cautions_stand_in_always() {
        let text: String = always().into_iter().map(|c| c.text).collect();
        for part in [
            "gloves",
            "eye",
            "dust",
            "alum",
            "food",
            "window",
            "children",
            "stream",
            "soil",
            "septic",
            "oleander",
            "yew",
            "poison ivy",
            "burn none",
            "safety sheet",
            "local rules",
        ] {
            assert!(text.contains(part), "{part}");
        }
    }

    #[test]
    fn spelling_is_one() {
        assert_eq!(
            words("Aluminum-Sulphate (potash)"),
            " aluminium sulfate potash "
        );
        assert_eq!(words("won’t  FADE!"), " wont fade ");
        assert_eq!(words(""), " ");
    }
}
