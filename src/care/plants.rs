//! Plants that do not belong in a pot, and those that ask for gloves.

use super::{says, words};
use crate::error::{Caution, capital};

/// Never, by name. Sources: National Institute for Occupational Safety and Health (US), "Poisonous Plants" (urushiol and its
/// smoke; foxglove, oleander, jimson weed, nightshade, water hemlock, giant hogweed as poisonous or blistering); yew,
/// monkshood, castor bean, lily of the valley and angel's trumpet: county master gardeners' lists; the rest from memory.
const NEVER: [(&str, &[&str], &str); 3] = [
    (
        "plant-never",
        &[
            "oleander",
            "nerium",
            "yew",
            "taxus",
            "monkshood",
            "aconite",
            "aconitum",
            "wolfsbane",
            "foxglove",
            "digitalis",
            "hemlock",
            "water hemlock",
            "poison hemlock",
            "conium",
            "cicuta",
            "castor bean",
            "castor",
            "ricinus",
            "datura",
            "jimson weed",
            "thorn apple",
            "angels trumpet",
            "brugmansia",
            "nightshade",
            "belladonna",
            "henbane",
            "lily of the valley",
            "laburnum",
            "larkspur",
            "delphinium",
            "rosary pea",
            "abrus",
            "spurge laurel",
            "daphne",
        ],
        "is poisonous enough to kill: do not pick, simmer, steam or burn it, wash your hands, and call a poison centre if any \
         was swallowed",
    ),
    (
        "plant-never",
        &[
            "poison ivy",
            "poison oak",
            "poison sumac",
            "toxicodendron",
            "lacquer tree",
            "poisonwood",
            "manchineel",
        ],
        "blisters the skin for days, and its steam and smoke harm the lungs: never bundle, simmer or burn it",
    ),
    (
        "plant-never",
        &[
            "giant hogweed",
            "hogweed",
            "heracleum",
            "rue",
            "wild parsnip",
            "spurge",
            "euphorbia",
        ],
        "has sap that burns skin and eyes, some in sunlight and days later: leave it out of the bundle and never burn it",
    ),
];

/// With gloves: common practice, no source, save walnut and cashew kin, from memory.
const WITH_CARE: [(&str, &[&str], &str); 3] = [
    (
        "plant-sap",
        &[
            "smokebush",
            "smoke bush",
            "smoke tree",
            "smoketree",
            "cotinus",
            "sumac",
            "rhus",
            "mango",
        ],
        "belongs to the family of poison ivy, and its sap can irritate skin: wear gloves, be sure of the name, and burn none",
    ),
    (
        "plant-stains",
        &[
            "walnut husk",
            "walnut husks",
            "walnut hull",
            "walnut hulls",
            "green walnut",
        ],
        "stains and can irritate skin: wear gloves",
    ),
    (
        "plant-vapour",
        &["eucalyptus", "gum leaf", "camphor"],
        "gives off a strong vapour when heated: open a window, and keep animals and anyone with asthma away",
    ),
];

/// What to know about a plant by its common or botanical genus name; nothing for those that ask for no more than
/// [`super::always`] says.
///
/// Of a name like `hemlock` or `nightshade` that the harmless share with the deadly, the deadly is assumed.
pub fn for_plant(name: &str) -> Vec<Caution> {
    let plain = words(name);
    let find = |table: &[(&str, &[&str], &str)]| {
        table
            .iter()
            .find(|(_, names, _)| names.iter().any(|known| says(&plain, known)))
            .map(|(code, _, what)| Caution::new(code, format!("{} {what}.", capital(name.trim()))))
    };
    find(&NEVER)
        .or_else(|| find(&WITH_CARE))
        .into_iter()
        .collect()
}

/// Whether a plant must never be bundled, as [`for_plant`] tells.
pub fn is_barred_plant(name: &str) -> bool {
    let plain = words(name);
    let mut names = NEVER.iter().flat_map(|(_, names, _)| *names);
    names.any(|known| says(&plain, known))
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;

    /// Every caution of this file, each for the first of its names.
    pub fn all() -> Vec<Caution> {
        let rows = NEVER.iter().chain(&WITH_CARE);
        rows.flat_map(|(_, names, _)| for_plant(names[0])).collect()
    }

    #[track_caller]
    fn check(name: &str, code: Option<&str>) {
        let got = for_plant(name).into_iter().next();
        assert_eq!(got.as_ref().map(|c| c.code.as_str()), code, "{name}");
        assert_eq!(is_barred_plant(name), code == Some("plant-never"), "{name}");
    }

    #[test]
    fn the_deadly_are_never_and_the_common_are_quiet() {
        for name in [
            "oleander",
            "Yew",
            "English yew",
            "poison-ivy",
            "poison oak",
            "Poison Sumac",
            "Taxus baccata",
        ] {
            check(name, Some("plant-never"));
        }
        for name in ["walnut", "birch", "oak", "ivy", "blackberry", "eyewort", ""] {
            check(name, None);
        }
        check("staghorn sumac", Some("plant-sap"));
        check("smokebush", Some("plant-sap"));
        check("eucalyptus cinerea", Some("plant-vapour"));
    }

    #[test]
    fn the_plant_is_named() {
        assert!(
            for_plant("english yew")[0]
                .text
                .starts_with("English yew is poisonous")
        );
    }
}
