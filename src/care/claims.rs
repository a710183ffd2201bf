//! What a studio cannot know about its cloth, and so must not promise a customer.

use super::{says, words};

/// Phrases as [`words`] leaves them, and why no note says them.
///
/// That unqualified claims of this sort mislead is the line of the US Federal Trade Commission's Guides for the Use of
/// Environmental Marketing Claims (16 CFR 260: general benefit, certification, free-of, non-toxic) and of Directive (EU)
/// 2024/825 on empowering consumers for the green transition: both from memory. That no colour is fast for ever: ISO 105
/// grades changes and sets no pass, and plant colours fade in light, common practice, no source.
const CLAIMS: [(&[&str], &str); 6] = [
    (
        &[
            "non toxic",
            "nontoxic",
            "not toxic",
            "no toxins",
            "toxin free",
            "poison free",
            "harmless",
            "completely safe",
            "perfectly safe",
            "100 safe",
            "totally safe",
            "safe for babies",
            "safe for children",
            "safe for kids",
            "safe for pets",
            "baby safe",
            "child safe",
            "pet safe",
            "skin safe",
            "safe for skin",
            "safe on skin",
            "safe for the skin",
            "no residues",
            "residue free",
            "heavy metal free",
            "no heavy metals",
        ],
        "whether cloth is safe on skin or for a child is shown by laboratory tests, which a photo cannot replace",
    ),
    (
        &[
            "food safe",
            "foodsafe",
            "food grade",
            "safe for food",
            "edible",
            "safe to eat",
            "safe to chew",
        ],
        "cloth treated with mordants is never to be called fit for food",
    ),
    (
        &[
            "hypoallergenic",
            "hypo allergenic",
            "allergy free",
            "allergen free",
            "non allergenic",
            "anti allergic",
            "non irritating",
            "dermatologically tested",
            "kind to skin",
            "gentle on skin",
            "good for sensitive skin",
            "suitable for sensitive skin",
            "antibacterial",
            "anti bacterial",
            "antimicrobial",
            "antifungal",
            "healing",
            "heals",
            "therapeutic",
            "medicinal",
            "detox",
            "detoxifying",
            "uv protection",
            "uv protective",
            "sun protection",
            "upf",
            "spf",
        ],
        "claims about health, allergy or protection need tests and, in many places, a permit",
    ),
    (
        &[
            "colourfast",
            "colour fast",
            "lightfast",
            "light fast",
            "washfast",
            "wash fast",
            "fade proof",
            "fadeproof",
            "fade resistant",
            "fadeless",
            "never fade",
            "never fades",
            "wont fade",
            "will not fade",
            "does not fade",
            "doesnt fade",
            "no fading",
            "without fading",
            "permanent",
            "permanently",
            "everlasting",
            "indelible",
            "lasts forever",
            "last forever",
            "lasts for ever",
            "will not bleed",
            "wont bleed",
            "does not bleed",
            "bleed free",
            "for life",
        ],
        "plant colours change with light and washing, and no measurement made here can promise that they will not",
    ),
    (
        &[
            "chemical free",
            "no chemicals",
            "without chemicals",
            "free of chemicals",
            "free from chemicals",
            "zero chemicals",
            "100 natural",
            "all natural",
            "purely natural",
            "completely natural",
            "entirely natural",
        ],
        "mordants are chemicals, so the words are not true",
    ),
    (
        &[
            "eco certified",
            "certified",
            "eco friendly",
            "ecofriendly",
            "earth friendly",
            "planet friendly",
            "environmentally friendly",
            "environment friendly",
            "environmentally safe",
            "sustainable",
            "sustainably",
            "biodegradable",
            "compostable",
            "carbon neutral",
            "climate neutral",
            "zero waste",
            "zero impact",
            "green product",
            "ecological",
            "organic",
        ],
        "a claim about the environment needs a certificate or proof that this program does not have",
    ),
];

/// The same claims in German, as words in small letters begin; the German words are ours, from memory.
const GERMAN: [(&[&str], &str); 6] = [
    (
        &[
            "ungiftig",
            "giftfrei",
            "schadstofffrei",
            "schadstoffgeprüft",
            "unbedenklich",
            "babysicher",
            "babygeeignet",
            "kindersicher",
            "hautverträglich",
            "unschädlich",
        ],
        CLAIMS[0].1,
    ),
    (
        &["lebensmittelecht", "lebensmittelgeeignet", "essbar"],
        CLAIMS[1].1,
    ),
    (
        &[
            "hypoallergen",
            "antiallerg",
            "allergikergeeignet",
            "hautfreundlich",
            "hautschonend",
            "antibakteriell",
            "heilend",
            "heilkräftig",
            "entgiftend",
            "lichtschutzfaktor",
        ],
        CLAIMS[2].1,
    ),
    (
        &[
            "farbecht",
            "lichtecht",
            "waschecht",
            "farbbeständig",
            "lichtbeständig",
            "farbtreu",
            "unvergänglich",
            "dauerhaft",
            "garantiert",
        ],
        CLAIMS[3].1,
    ),
    (&["chemiefrei", "chemikalienfrei", "naturrein"], CLAIMS[4].1),
    (
        &[
            "umweltfreundlich",
            "umweltschonend",
            "nachhaltig",
            "klimaneutral",
            "kompostierbar",
            "zertifiziert",
            "ökologisch",
        ],
        CLAIMS[5].1,
    ),
];

/// German claims of several words.
const GERMAN_PHRASES: [(&[&str], &str); 3] = [
    (
        &[
            "für babys geeignet",
            "für kinder geeignet",
            "sicher für babys",
        ],
        CLAIMS[0].1,
    ),
    (
        &[
            "verblasst nicht",
            "verblasst nie",
            "färbt nicht ab",
            "bleicht nicht aus",
        ],
        CLAIMS[3].1,
    ),
    (
        &[
            "ohne chemie",
            "ohne chemikalien",
            "frei von chemie",
            "100 natürlich",
        ],
        CLAIMS[4].1,
    ),
];

/// Why a customer's note must not say this, or `None` where nothing is amiss: claims of safety, health, fastness, purity or
/// kindness to the environment, in English of either spelling and in German, with or without hyphens.
///
/// Denied claims (`we do not call it food safe`) are found too: a note does better without the word.
pub fn must_not_say(text: &str) -> Option<&'static str> {
    let plain = words(text);
    let phrase = CLAIMS.iter().chain(&GERMAN_PHRASES);
    let mut phrase = phrase.filter(|(phrases, _)| phrases.iter().any(|p| says(&plain, p)));
    let mut stem = GERMAN.iter().filter(|(stems, _)| {
        let mut begun = stems.iter().map(|stem| format!(" {stem}"));
        begun.any(|begun| plain.contains(&begun))
    });
    phrase.next().or_else(|| stem.next()).map(|(_, why)| *why)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(text: &str, forbidden: bool) {
        assert_eq!(must_not_say(text).is_some(), forbidden, "{text}");
    }

    #[test]
    fn promises_are_caught_in_any_spelling() {
        for text in [
            "Non-toxic dyes.",
            "nontoxic",
            "It is food-safe",
            "Hypoallergenic silk",
            "Colourfast forever!",
            "colorfast",
            "color-fast",
            "chemical free",
            "CHEMICAL–FREE",
            "made without\nchemicals",
            "eco-certified",
            "Eco friendly",
            "The colour won't fade",
            "The colours will not fade.",
            "100% natural",
            "healing plants",
            "safe for babies",
            "permanent colour",
            "A permanent dye",
            "Farbechte Seide",
            "lichtecht",
            "UNGIFTIGE Farben",
            "hypoallergen",
            "ohne Chemie gefärbt",
            "für Babys geeignet",
            "dauerhafte Farbe",
        ] {
            check(text, true);
        }
    }

    #[test]
    fn plain_description_passes() {
        for text in [
            "Moderate yellow with grayish brown leaf prints.",
            "Silk crepe de chine, 35 by 160 cm, mordanted with alum.",
            "Wash by hand in cool water and dry in the shade.",
            "Colours seen on a screen differ from the cloth.",
            "Plant colours fade in strong light.",
            "Leaves of walnut, for the most part fresh; a fast simmer.",
            "Pflanzenfarben können sich durch Licht, Tragen und Waschen verändern.",
            "Von Hand in kühlem Wasser waschen.",
            "In washing the change was grade 4 on the grey scale of ISO 105-A05.",
            "",
        ] {
            check(text, false);
        }
    }
}
