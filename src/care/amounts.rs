//! Which baths there are at all, and how strong is too strong to be meant.

use super::{for_mordant, says, words};

/// Words for a cloth that goes through no bath.
const NO_BATH: [&str; 3] = ["none", "no mordant", "unmordanted"];

/// The strongest a bath of each salt is taken for what was meant: % of the weight of fibre, and g/L. Common practice, no source;
/// far above what recipes say, so that only slips of the pen are caught.
const STRONGEST: [(&str, f64, f64); 9] = [
    ("tin", 5.0, 5.0),
    ("copper", 10.0, 10.0),
    ("zinc", 10.0, 10.0),
    ("iron", 15.0, 30.0),
    ("oxalate", 20.0, 30.0),
    ("alkali", 25.0, 30.0),
    ("aluminium-acetate", 30.0, 60.0),
    ("alum", 50.0, 120.0),
    ("tannin", 50.0, 120.0),
];

/// The same for what is not in [`STRONGEST`]: as much as the cloth weighs.
const STRONGEST_UNKNOWN: (f64, f64) = (100.0, 200.0);

fn has(mordant: &str, code: &str) -> bool {
    for_mordant(mordant)
        .iter()
        .any(|caution| caution.code == code)
}

/// Whether the mordant holds iron, which greys every cloth that shares its bath or its roll.
pub fn is_iron(mordant: &str) -> bool {
    has(mordant, "iron")
}

/// Whether no bath is meant: `none`, `no mordant`.
pub fn is_no_bath(mordant: &str) -> bool {
    let mordant = words(mordant);
    NO_BATH.iter().any(|known| says(&mordant, known))
}

/// Whether the mordant is not for a home studio, so that no amount of it is ever told: chrome, lead and their like, and bleach.
/// Common practice, no source; the supplier's safety sheet comes first.
pub fn is_barred(mordant: &str) -> bool {
    ["chrome", "lead", "bleach"]
        .iter()
        .any(|code| has(mordant, code))
}

/// Whether anything is known here about the mordant, so that its usual strength can be told from a slip.
pub fn is_known(mordant: &str) -> bool {
    !has(mordant, "unknown-salt")
}

/// Whether a studio can always take so many per cent of the weight of fibre of this one mordant; the error says why not and
/// what to do, as a sentence.
pub fn check_usual(mordant: &str, percent: f64) -> Result<(), String> {
    let several = |c: char| matches!(c, '>' | ';' | ',' | '+' | '/' | '[' | ']');
    let (most, _) = strongest(mordant);
    Err(if mordant.trim().is_empty() {
        "Which mordant is meant is not written; name it, such as: set wof alum 12.".to_owned()
    } else if mordant.contains(several) {
        format!(
            "“{mordant}” is more than one mordant; set each by itself, such as: set wof alum 12."
        )
    } else if is_no_bath(mordant) {
        format!(
            "“{mordant}” is no bath, so it has no strength; name a mordant, such as: set wof alum 12."
        )
    } else if is_barred(mordant) {
        format!(
            "{mordant} is not for a home studio and is never weighed out; choose another mordant."
        )
    } else if !is_known(mordant) {
        format!(
            "Nothing is known here about {mordant}; read its safety sheet and write its strength in the sheet, behind its name, \
             each time."
        )
    } else if percent > most {
        format!(
            "{percent} % of {mordant} is far more than any usual recipe; write at most {most}, or look whether the number slipped."
        )
    } else {
        return Ok(());
    })
}

/// The most that a bath of this mordant can be meant to hold: % of the weight of fibre, and g/L. The lowest counts where it is
/// a mixture.
pub fn strongest(mordant: &str) -> (f64, f64) {
    let codes = for_mordant(mordant);
    STRONGEST
        .iter()
        .filter(|(code, ..)| codes.iter().any(|caution| caution.code == *code))
        .map(|(_, percent, litre)| (*percent, *litre))
        .reduce(|one, other| (one.0.min(other.0), one.1.min(other.1)))
        .unwrap_or(STRONGEST_UNKNOWN)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn iron_by_any_name() {
        for iron in ["iron", "Ferrous sulphate", "iron + vinegar", "copperas"] {
            assert!(is_iron(iron), "{iron}");
        }
        for other in ["alum", "none", "moon salt", "copper"] {
            assert!(!is_iron(other), "{other}");
        }
    }

    /// Usual recipes, common practice, no source: alum 8 to 20 %, iron 1 to 5 %, tannin 5 to 15 %, copper 1 to 4 %.
    #[test]
    fn usual_strengths_pass_and_slips_do_not() {
        for (salt, usual, slip) in [
            ("alum", 20.0, 200.0),
            ("iron", 5.0, 20.0),
            ("tannin", 15.0, 150.0),
            ("copper", 4.0, 40.0),
            ("moon salt", 20.0, 120.0),
        ] {
            assert!(
                strongest(salt).0 > usual && strongest(salt).0 < slip,
                "{salt}"
            );
        }
        assert_eq!(strongest("alum and iron"), (15.0, 30.0));
    }

    #[test]
    fn what_is_no_bath_and_what_is_never_weighed() {
        assert!(is_no_bath("none") && is_no_bath("No mordant") && !is_no_bath("alum"));
        assert!(is_barred("potassium dichromate") && is_barred("sugar of lead"));
        for barred in [
            "chrom alum",
            "chromalum",
            "cr",
            "pb",
            "uranium",
            "barium",
            "cobalt",
            "nickel",
            "bleach",
        ] {
            assert!(is_barred(barred), "{barred}");
        }
        for fine in [
            "iron",
            "tin",
            "alum",
            "oak bark",
            "cream of tartar",
            "symplocos leaves",
            "crab apple",
        ] {
            assert!(!is_barred(fine), "{fine}");
        }
        assert!(is_known("alum") && is_known("none") && !is_known("moon salt"));
    }

    #[test]
    fn a_usual_strength_is_one_known_mordants() {
        for (mordant, percent, part) in [
            ("chrome", 3.0, "not for a home studio"),
            ("", 3.0, "not written"),
            ("alum > iron", 3.0, "more than one"),
            ("iron", 50.0, "at most 15"),
            ("none", 3.0, "no bath"),
            ("moon salt", 3.0, "Nothing is known"),
        ] {
            let said = check_usual(mordant, percent).unwrap_err();
            assert!(said.contains(part) && said.ends_with('.'), "{said}");
        }
        assert_eq!(check_usual("potash alum", 15.0), Ok(()));
    }
}
