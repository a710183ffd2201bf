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
    ] {
        check(text, true);
    }
}

#[test]
fn promises_are_caught_however_they_are_put() {
    for text in [
        "lightfastness",
        "colourfastness",
        "color fastness",
        "permanence",
        "chemicalfree",
        "no toxic dyes",
        "free of toxins",
        "toxic-free",
        "free of any chemicals",
        "free from all harsh chemicals",
        "safe for baby",
        "safe for your baby",
        "safe for the newborn",
        "safe for infants",
        "babysafe",
        "fast to light",
        "lightproof",
        "fast colours",
        "cannot fade",
        "can not fade",
        "never loses its colour",
        "keeps its colour",
        "stays forever",
        "guaranteed",
        "skin-friendly",
        "anti-allergenic",
        "allergy-friendly",
        "UPF50+",
    ] {
        check(text, true);
    }
}

#[test]
fn promises_are_caught_in_german() {
    for text in [
        "Farbechte Seide",
        "lichtecht",
        "UNGIFTIGE Farben",
        "hypoallergen",
        "ohne Chemie gefärbt",
        "für Babys geeignet",
        "dauerhafte Farbe",
        "frei von Chemikalien",
        "lichtfest",
        "waschfest",
        "farbfest",
        "hochlichtecht",
        "nicht giftig",
        "frei von Giften",
        "schadstoff-frei",
        "babyfreundlich",
        "babytauglich",
        "für Babys sicher",
        "fuer Babys sicher",
        "für Säuglinge geeignet",
        "verblasst niemals",
        "verblaßt nicht",
        "bleicht nie aus",
        "färbt nicht ab",
        "für immer",
        "allergikerfreundlich",
        "Garantiert",
    ] {
        check(text, true);
    }
}

/// Fullwidth forms and scripts with the same shapes: Unicode Standard Annex 15 (NFKC) and Technical Standard 39 (confusables), from
/// memory.
#[test]
fn promises_are_caught_in_letters_that_look_the_same() {
    for text in [
        "ｃｏｌｏｕｒｆａｓｔ",
        "lіghtfаst",
        "реrmаnеnt",
        "nοn-tοxic",
        "perma\u{200b}nent",
        "fu\u{308}r immer",
        "lightfast-01",
        "LIGHTFAST7",
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
        "Colours can change with light.",
        "Plant colours fade in strong light.",
        "Leaves of walnut, for the most part fresh; a fast simmer.",
        "Do not dry it in the sun. Plant colours fade there.",
        "scarf for children",
        "baby blanket",
        "light gold",
        "light free-form scarf",
        "free-hand stitching",
        "Leaves were not turned; the colour of the ground is even.",
        "Pflanzenfarben können sich durch Licht, Tragen und Waschen verändern.",
        "Von Hand in kühlem Wasser waschen.",
        "Nicht bleichen, und nicht mit Gefärbtem waschen.",
        "Bleichen Sie es nicht.",
        "Nicht in der Sonne trocknen. Pflanzenfarben verblassen dort.",
        "In washing the change was grade 4 on the grey scale of ISO 105-A05.",
        "",
    ] {
        check(text, false);
    }
}

#[test]
fn a_code_that_promises_is_told() {
    let told = for_codes(["LB001", "lightfast-gold", "LB-LIGHT"].into_iter());
    assert_eq!(told.len(), 1, "{told:?}");
    assert!(told[0].text.contains("lightfast-gold") && told[0].text.ends_with('.'));
}
