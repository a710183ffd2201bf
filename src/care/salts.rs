//! What each salt, tannin and acid of the dye pot can do to the one who handles it.

use super::{says, words};
use crate::error::Caution;

/// One substance or a group that is handled alike.
struct Salt {
    code: &'static str,
    /// Names and spellings, as [`words`] leaves them.
    names: &'static [&'static str],
    text: &'static str,
}

/// Parts of words by which a compound of what is not for a home studio is known: `chromalum`, `potassiumdichromate`. Names of
/// elements in any dictionary of chemistry; that none of them is for a home studio: common practice, no source.
const STEMS: [(&str, &[&str]); 3] = [
    ("chrome", &["chrom", "cr2o7", "cro4"]),
    (
        "lead",
        &[
            "plumb",
            "litharge",
            "uran",
            "barium",
            "baryt",
            "cobalt",
            "nickel",
            "mercur",
            "arsen",
            "antimon",
            "cadmi",
            "thalli",
            "leadacetate",
        ],
    ),
    ("bleach", &["bleach", "chlorite", "chlorine"]),
];

/// Symbols of elements (IUPAC) of the same, with or without a charge or a number behind: `cr`, `Pb2+`, `cr(III)`.
const SYMBOLS: [(&str, &[&str]); 2] = [
    ("chrome", &["cr"]),
    ("lead", &["pb", "hg", "cd", "ni", "ba", "sb", "tl", "uo"]),
];

/// Whether a compound of what `code` warns of is named by part of a word or by a symbol.
fn compound(code: &str, name: &str) -> bool {
    let of = |rows: &[(&str, &'static [&'static str])]| -> Vec<&'static str> {
        let own = rows.iter().filter(|(row, _)| *row == code);
        own.flat_map(|(_, parts)| parts.iter().copied()).collect()
    };
    let symbols = of(&SYMBOLS);
    let symbol =
        |word: &str| symbols.contains(&word.trim_end_matches(|c: char| c.is_ascii_digit()));
    of(&STEMS).iter().any(|stem| name.contains(stem)) || name.split(' ').any(symbol)
}

/// Sources, one for each row:
/// - `chrome`: potassium dichromate, supplier's safety sheet of 2015 (H301 H314 H330 H340 H350 H360 H410); its place on the
///   European list of substances that need authorisation (REACH, Annex XIV) from memory.
/// - `lead`, `bleach`: from memory.
/// - `tin`: tin(II) chloride, suppliers' safety sheets (H302 H332 H314 H317).
/// - `copper`: International Chemical Safety Card 0751, copper(II) sulfate pentahydrate, November 2023 (H302 H410); serious
///   eye damage from memory.
/// - `oxalate`: CLP Annex VI, group entry 607-007-00-3, salts of oxalic acid (H302 H312), as on the safety sheets of sodium
///   and potassium oxalate; that the titanium salts fall under it, and rhubarb leaves: from memory.
/// - `iron`: iron(II) sulfate, two suppliers' safety sheets (H302 H315 H319); deaths of children by iron tablets: Tenenbein
///   & Rodgers, Archives of Family Medicine 3, 754 (1994), as quoted by a poison centre.
/// - `aluminium-acetate`: fine dust, a supplier's guide; eyes from memory, suppliers differ.
/// - `alum`: one supplier's sheet calls it not classified, another irritating to skin, eyes and airways (H315 H319 H335).
/// - `zinc`, `alkali`, `lime`, `acid`, `tannin`: from memory.
const SALTS: [Salt; 14] = [
    Salt {
        code: "chrome",
        names: &[],
        text: "Chrome is not for a home studio: dichromate can cause cancer, burns skin and eyes and poisons water life; do \
               not use it, and hand in what you have as its safety sheet and local rules say.",
    },
    Salt {
        code: "lead",
        names: &["lead", "tartar emetic"],
        text: "This metal is a lasting poison and not for a home studio: do not use it, and hand in what you have as its \
               safety sheet and local rules say.",
    },
    Salt {
        code: "bleach",
        names: &["javel", "javelle"],
        text: "Bleach is no mordant: it eats silk and wool, and with acid or ammonia it gives off a poison gas, so keep it away \
               from every bath and follow its safety sheet.",
    },
    Salt {
        code: "tin",
        names: &["tin", "stannous", "stannic"],
        text: "Tin chloride is corrosive: it burns skin and eyes, can cause allergy and harms when breathed or swallowed, so \
               follow its safety sheet to the letter or choose another mordant.",
    },
    Salt {
        code: "copper",
        names: &[
            "copper",
            "cupric",
            "blue vitriol",
            "bluestone",
            "blue stone",
        ],
        text: "Copper salts harm when swallowed, can damage eyes for good and are very toxic to water life: wear eye \
               protection, let none reach a drain or soil, and follow the safety sheet.",
    },
    Salt {
        code: "oxalate",
        names: &[
            "titanium",
            "oxalate",
            "oxalic",
            "oxalic acid",
            "rhubarb",
            "rhubarb leaf",
            "rhubarb leaves",
        ],
        text: "Oxalates, titanium oxalate among them, harm when swallowed or on the skin and irritate eyes: wear gloves and \
               eye protection, raise no dust, and follow the safety sheet.",
    },
    Salt {
        code: "iron",
        names: &[
            "iron",
            "ferrous",
            "ferric",
            "copperas",
            "green vitriol",
            "rust",
            "rusty",
            "iron liquor",
            "iron water",
        ],
        text: "Iron salts can kill a child who swallows them and irritate skin and eyes: lock them away, wear gloves and eye \
               protection, and follow the safety sheet.",
    },
    Salt {
        code: "aluminium-acetate",
        names: &[
            "aluminium acetate",
            "alum acetate",
            "aluminium triacetate",
            "aluminium diacetate",
            "acetate of alumina",
        ],
        text: "Aluminium acetate is a fine dust that some suppliers class as harmful to eyes: wear a dust mask and eye \
               protection while you weigh it, and follow the safety sheet.",
    },
    Salt {
        code: "alum",
        names: &[
            "alum",
            "potash alum",
            "aluminium",
            "aluminium sulfate",
            "aluminium potassium sulfate",
            "aluminium lactate",
        ],
        text: "Alum is among the milder salts, yet its dust irritates eyes and airways: raise none, wear gloves and eye \
               protection, and follow the safety sheet.",
    },
    Salt {
        code: "zinc",
        names: &["zinc", "white vitriol"],
        text: "Zinc salts harm when swallowed, can damage eyes and are very toxic to water life: wear eye protection, let \
               none reach a drain or soil, and follow the safety sheet.",
    },
    Salt {
        code: "alkali",
        names: &[
            "soda",
            "soda ash",
            "washing soda",
            "sodium carbonate",
            "potash",
            "potassium carbonate",
            "ammonia",
            "wood ash",
            "ash",
            "lye",
            "caustic soda",
            "sodium hydroxide",
            "potassium hydroxide",
        ],
        text: "Soda, ash water and other alkalis irritate eyes and skin, strong ones burn, and all of them harm silk and \
               wool: wear gloves and eye protection, keep them weak, and follow the safety sheet.",
    },
    Salt {
        code: "lime",
        names: &["lime", "slaked lime", "calcium hydroxide", "quicklime"],
        text: "Lime burns eyes and skin: wear eye protection and gloves, raise no dust, and follow the safety sheet.",
    },
    Salt {
        code: "acid",
        names: &[
            "vinegar",
            "acid",
            "acetic",
            "acetic acid",
            "citric",
            "citric acid",
            "tartaric acid",
            "cream of tartar",
            "formic",
            "lemon juice",
        ],
        text: "Acids, warm vinegar too, sting eyes and airways and eat at aluminium pots: open a window, use steel or enamel, \
               never mix them with bleach, and follow the safety sheet.",
    },
    Salt {
        code: "tannin",
        names: &[
            "tannin",
            "tannic",
            "tannic acid",
            "gallotannin",
            "gallic",
            "gall",
            "galls",
            "oak gall",
            "gallnut",
            "gallnuts",
            "oak galls",
            "myrobalan",
            "sumac",
            "tara",
            "quebracho",
            "cutch",
            "pomegranate",
            "chestnut",
            "tea",
        ],
        text: "Tannin powders irritate eyes and airways: raise no dust, wear eye protection, and follow the safety sheet.",
    },
];

/// No bath at all, and kitchen goods that have no safety sheet.
const HARMLESS: [&str; 10] = [
    "none",
    "no mordant",
    "unmordanted",
    "water",
    "soy",
    "soya",
    "soymilk",
    "bran",
    "milk",
    "chalk",
];

/// What to know about a mordant by any of its usual names, in either spelling (`sulfate`, `sulphate`); a mixture gets the
/// cautions of each part, an unknown salt the general one: find its safety sheet. `none` and kitchen goods get none.
pub fn for_mordant(name: &str) -> Vec<Caution> {
    let name = words(name);
    let named = |names: &[&str]| names.iter().any(|known| says(&name, known));
    let mut found: Vec<Caution> = SALTS
        .iter()
        .filter(|salt| named(salt.names) || compound(salt.code, &name))
        .map(|salt| Caution::new(salt.code, salt.text))
        .collect();
    drop_the_less_exact(&mut found);
    if found.is_empty() && !named(&HARMLESS) && name != " " {
        found.push(Caution::new(
            "unknown-salt",
            format!(
                "Nothing is known here about {}: find its supplier's safety sheet and read it before you use it.",
                name.trim()
            ),
        ));
    }
    found
}

/// Tannic acid is a tannin, oxalic acid an oxalate, aluminium acetate no alum, potash alum no alkali.
fn drop_the_less_exact(found: &mut Vec<Caution>) {
    const EXACT: [(&str, &str); 4] = [
        ("tannin", "acid"),
        ("oxalate", "acid"),
        ("aluminium-acetate", "alum"),
        ("alum", "alkali"),
    ];
    for (exact, loose) in EXACT {
        if found.iter().any(|c| c.code == exact) {
            found.retain(|c| c.code != loose);
        }
    }
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;

    /// Every caution of this file.
    pub fn all() -> Vec<Caution> {
        let mut all: Vec<Caution> = SALTS.iter().map(|s| Caution::new(s.code, s.text)).collect();
        all.extend(for_mordant("moon salt"));
        all
    }

    #[track_caller]
    fn check(name: &str, codes: &[&str]) {
        let got: Vec<String> = for_mordant(name).into_iter().map(|c| c.code).collect();
        assert_eq!(got, codes, "{name}");
    }

    /// Trade names of salts: the older names are those of any chemical dictionary, from memory.
    #[test]
    fn many_names_lead_to_one_caution() {
        for name in [
            "alum",
            "Potassium aluminium sulfate",
            "potash alum",
            "aluminum sulphate",
        ] {
            check(name, &["alum"]);
        }
        for name in [
            "iron",
            "Ferrous sulphate",
            "iron(II) sulfate",
            "copperas",
            "green vitriol",
            "rusty nails",
        ] {
            check(name, &["iron"]);
        }
        for name in [
            "titanium oxalate",
            "potassium titanium oxalate",
            "oxalic acid",
        ] {
            check(name, &["oxalate"]);
        }
        for name in ["copper", "copper sulphate", "blue vitriol"] {
            check(name, &["copper"]);
        }
        for name in ["chrome", "potassium dichromate", "Cr", "cr(III)", "K2Cr2O7"] {
            check(name, &["chrome"]);
        }
        check("chrom alum", &["chrome", "alum"]);
        for name in [
            "lead",
            "Pb",
            "pb2+",
            "uranium nitrate",
            "barium",
            "cobalt(II) chloride",
            "nickel",
        ] {
            check(name, &["lead"]);
        }
        for name in ["bleach", "sodium hypochlorite"] {
            check(name, &["bleach"]);
        }
        check("aluminium acetate", &["aluminium-acetate"]);
        check("tin chloride", &["tin"]);
        check("tannic acid", &["tannin"]);
        check("oak gall", &["tannin"]);
        check("vinegar", &["acid"]);
        check("soda ash", &["alkali"]);
    }

    #[test]
    fn a_mixture_gets_the_cautions_of_its_parts() {
        check("iron + vinegar", &["iron", "acid"]);
        check("alum/tannin", &["alum", "tannin"]);
    }

    #[test]
    fn the_unknown_and_the_harmless() {
        check("moon salt", &["unknown-salt"]);
        check("none", &[]);
        check("soy milk", &[]);
        check("", &[]);
        check("titan", &["unknown-salt"]);
    }

    #[test]
    fn salts_defer_to_the_safety_sheet() {
        for caution in all() {
            assert!(caution.text.contains("safety sheet"), "{}", caution.text);
        }
    }
}
