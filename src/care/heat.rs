//! Hot water, steam, and silk that must not boil.

use crate::error::Caution;

/// Above this a simmer is as good as a boil, °C.
///
/// Suppliers' guides say 80 to 85 °C for silk, and that it should not be boiled; where exactly the line lies is common
/// practice, no source.
pub const NEAR_BOIL_C: f64 = 96.0;

/// What to know about a heating: `kind` is `simmer` or `steam` in any case, `high_c` its highest temperature, °C.
///
/// A simmer above [`NEAR_BOIL_C`] gets the caution `near-boil`; steam, always near 100 °C, does not. Scalds and cooling:
/// common practice, no source.
pub fn for_heat(kind: &str, high_c: Option<f64>) -> Vec<Caution> {
    let steam = kind.trim().eq_ignore_ascii_case("steam");
    let scald = if steam {
        "Steam scalds before you see it: turn off the heat, wait, and lift the lid away from your face with dry gloves that \
         keep heat out."
    } else {
        "Hot liquor scalds: lift bundles with tongs and let them drain over the pot, and keep children and animals away from it."
    };
    let mut cautions = vec![
        Caution::new("scald", scald),
        Caution::new(
            "let-bundles-cool",
            "Let bundles cool before you open them: the heart of a roll stays scalding hot long after its outside.",
        ),
    ];
    if !steam && high_c.is_some_and(|high| high > NEAR_BOIL_C) {
        cautions.push(Caution::new(
            "near-boil",
            format!(
                "A simmer above {NEAR_BOIL_C} °C is as good as a boil, which dulls silk and felts wool: keep silk near 85 °C, \
                 or write steam in the column heat if it was steamed."
            ),
        ));
    }
    cautions
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(kind: &str, high: Option<f64>, near_boil: bool) {
        let got = for_heat(kind, high);
        assert_eq!(
            got.iter().any(|c| c.code == "near-boil"),
            near_boil,
            "{kind} {high:?}"
        );
        assert!(got.iter().any(|c| c.code == "let-bundles-cool"));
    }

    /// Silk simmers somewhere between 80 and 91 °C and is not boiled, steaming does not harm it: common practice, no source.
    #[test]
    fn only_a_simmer_can_be_too_hot() {
        check("simmer", Some(80.0), false);
        check("simmer", Some(91.0), false);
        check("simmer", Some(96.0), false);
        check("simmer", Some(96.1), true);
        check("Simmer", Some(100.0), true);
        check("simmer", None, false);
        check("steam", Some(100.0), false);
        check("Steam", Some(104.0), false);
    }
}
