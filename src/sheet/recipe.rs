//! Soaks and plants as a studio writes them in one cell: `alum 12% [2026-05-01] > iron 2%`, `walnut [fresh]; birch`.

use super::cell::{self, Decimals, tidy};
use crate::journal::record::{Bath, PlantUse, Soak, StrengthUnit};

/// More grams in a litre than that, or more per cent of the fibre, is a slip of the pen.
const STRONGEST: f64 = 1000.0;

/// Soaks in the order in which the cloth went through them; strengths and dates may be left out.
///
/// ```
/// let soaks = filemot::sheet::mordant("tannin 8% > alum 5 g/L [2026-05-01]").unwrap();
/// assert_eq!(soaks[1].strength, Some(5.0));
/// ```
///
/// # Errors
/// What is wrong and what to write instead, as the end of a sentence.
pub fn mordant(text: &str) -> Result<Vec<Soak>, String> {
    text.split('>').map(soak).collect()
}

fn soak(text: &str) -> Result<Soak, String> {
    let (rest, bracket) = bracket(text)?;
    let (on, bath) = bracket.map_or(Ok((None, None)), day_and_bath)?;
    if rest.contains([',', ';']) && !rest.contains(|c: char| c.is_ascii_digit()) {
        return Err(format!(
            "“{rest}” holds more than one mordant; write them in order with > between them, such as “alum > iron”"
        ));
    }
    let (name, strength) = strength(rest)?;
    let mordant = tidy(&name.to_lowercase());
    if mordant.is_empty() || !mordant.contains(char::is_alphabetic) {
        return Err(
            "a soak has no name; write it as “alum > iron”, or leave the cell empty".to_owned(),
        );
    }
    if mordant.contains(['%', ',', ';']) {
        return Err(format!(
            "“{rest}” holds more than one strength; write each soak by itself, with > between them"
        ));
    }
    Ok(Soak {
        mordant,
        strength: strength.map(|(value, _)| value),
        unit: strength.map(|(_, unit)| unit),
        on,
        bath,
    })
}

/// What the brackets of a soak hold: its day, its bath, or both.
fn day_and_bath(inside: &str) -> Result<(Option<String>, Option<String>), String> {
    let (mut on, mut bath) = (None, None);
    for part in inside.split(',').map(tidy) {
        let name = part
            .get(..5)
            .filter(|start| start.eq_ignore_ascii_case("bath "))
            .map(|_| &part[5..]);
        let twice = match name {
            Some(name) => {
                Bath::check_name(name)?;
                bath.replace(name.to_owned()).is_some()
            }
            None => on.replace(cell::date(&part)?).is_some(),
        };
        if twice {
            return Err(format!(
                "the brackets “[{inside}]” say one thing twice; write one day and one bath, such as [2026-05-01, bath A1]"
            ));
        }
    }
    Ok((on, bath))
}

/// A strength and its unit, where they are told.
type Strength = Option<(f64, StrengthUnit)>;

/// Cuts `alum 12 %` into the name and the strength with its unit.
fn strength(text: &str) -> Result<(&str, Strength), String> {
    let lower = text.to_ascii_lowercase();
    let units = [
        ("% wof", StrengthUnit::PercentOfFibre),
        ("%wof", StrengthUnit::PercentOfFibre),
        ("%", StrengthUnit::PercentOfFibre),
        ("g/l", StrengthUnit::GramsPerLitre),
    ];
    let Some((before, unit)) = units
        .iter()
        .find_map(|(ending, unit)| lower.strip_suffix(ending).map(|rest| (rest.len(), *unit)))
    else {
        return match text.split_whitespace().last() {
            Some(last) if last.starts_with(|c: char| c.is_ascii_digit()) => Err(format!(
                "“{text}” does not say {last} of what; write {last}% (of the weight of fibre) or {last} g/L"
            )),
            _ => Ok((text, None)),
        };
    };
    let amount = text[..before].trim_end();
    let start = amount
        .rfind(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ',')))
        .map_or(0, |at| {
            at + amount[at..].chars().next().map_or(1, char::len_utf8)
        });
    let value = cell::number(&amount[start..], Decimals::Point)?;
    let name = &amount[..start];
    // What is left of `1e3%` or `2 5%` is no name: a part of the number was not read.
    let torn = name
        .split_whitespace()
        .last()
        .is_some_and(|last| last.starts_with(|c: char| c.is_numeric()));
    if value <= 0.0 || value > STRONGEST || torn || name.ends_with(['-', '−']) {
        return Err(format!(
            "the strength of “{text}” cannot be right; write a number above 0 and at most {STRONGEST}"
        ));
    }
    Ok((name, Some((value, unit))))
}

/// Plants, each with how it was used in brackets.
///
/// # Errors
/// What is wrong and what to write instead, as the end of a sentence.
pub fn plants(text: &str) -> Result<Vec<PlantUse>, String> {
    outside_brackets(text, ';').into_iter().map(plant).collect()
}

fn plant(text: &str) -> Result<PlantUse, String> {
    let (rest, bracket) = bracket(text)?;
    let name = tidy(&rest.to_lowercase());
    if name.is_empty() {
        return Err("a plant has no name; write them as “walnut; birch”".to_owned());
    }
    if name.contains([',', '>']) {
        return Err(format!(
            "“{rest}” holds more than one plant; write a semicolon between plants, such as “walnut; birch”"
        ));
    }
    let how = bracket.map_or_else(Vec::new, |inside| inside.split(',').map(tidy).collect());
    if how.iter().any(String::is_empty) {
        return Err(format!(
            "the brackets after “{name}” hold nothing between two commas; fill it or take one comma away"
        ));
    }
    Ok(PlantUse { name, how })
}

/// Cuts `walnut [fresh]` into `walnut` and `fresh`.
fn bracket(text: &str) -> Result<(&str, Option<&str>), String> {
    let text = text.trim();
    if !text.contains(['[', ']']) {
        return Ok((text, None));
    }
    text.strip_suffix(']')
        .and_then(|open| open.split_once('['))
        .filter(|(rest, inside)| !rest.contains(']') && !inside.contains(['[', ']']))
        .map(|(rest, inside)| (rest.trim(), Some(inside.trim())))
        .ok_or_else(|| {
            format!(
                "the brackets of “{text}” do not match; write one pair, [ and ], after the name"
            )
        })
}

fn outside_brackets(text: &str, separator: char) -> Vec<&str> {
    let mut depth = 0_i32;
    text.split(move |c| {
        match c {
            '[' => depth += 1,
            ']' => depth -= 1,
            _ => {}
        }
        c == separator && depth <= 0
    })
    .collect()
}

/// Soaks as [`mordant`] reads them.
pub fn print_mordant(soaks: &[Soak]) -> String {
    let print = |soak: &Soak| {
        let mut text = soak.mordant.clone();
        if let Some(strength) = soak.strength {
            text += &match soak.unit {
                Some(StrengthUnit::PercentOfFibre) => format!(" {strength}%"),
                Some(StrengthUnit::GramsPerLitre) => format!(" {strength} g/L"),
                None => format!(" {strength}"),
            };
        }
        let bath = soak.bath.as_ref().map(|name| format!("bath {name}"));
        let inside: Vec<String> = soak.on.iter().cloned().chain(bath).collect();
        if !inside.is_empty() {
            text += &format!(" [{}]", inside.join(", "));
        }
        text
    };
    soaks.iter().map(print).collect::<Vec<_>>().join(" > ")
}

/// Plants as [`plants`] reads them.
pub fn print_plants(plants: &[PlantUse]) -> String {
    let print = |plant: &PlantUse| match plant.how.as_slice() {
        [] => plant.name.clone(),
        how => format!("{} [{}]", plant.name, how.join(", ")),
    };
    plants.iter().map(print).collect::<Vec<_>>().join("; ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[track_caller]
    fn check(text: &str, printed: &str) {
        assert_eq!(
            mordant(text).map(|s| print_mordant(&s)).as_deref(),
            Ok(printed)
        );
    }

    #[track_caller]
    fn refuse(text: &str, part: &str) {
        let why = mordant(text).expect_err(text);
        assert!(why.contains(part), "{text}: {why}");
    }

    #[test]
    fn soaks_as_people_write_them() {
        check("alum", "alum");
        check("Tannin  >Alum", "tannin > alum");
        check("alum 12% > iron 2%", "alum 12% > iron 2%");
        check("alum 12 % wof>iron 0,5%", "alum 12% > iron 0.5%");
        check("alum 5 g/L", "alum 5 g/L");
        check("alum 5g/l [2026-05-01]", "alum 5 g/L [2026-05-01]");
        check("alum [2026-05-01] > iron", "alum [2026-05-01] > iron");
        check("iron + vinegar 2%", "iron + vinegar 2%");
        check("none", "none");
        check(
            "alum 12% [2026-05-01, bath A1] > iron [Bath  big  1]",
            "alum 12% [2026-05-01, bath A1] > iron [bath big 1]",
        );
        check("alum [bath A1,2026-05-01]", "alum [2026-05-01, bath A1]");
    }

    #[test]
    fn soaks_that_mean_nothing() {
        refuse("", "no name");
        refuse("alum > > iron", "no name");
        refuse("12%", "no name");
        refuse("-", "no name");
        refuse("alum, iron", "> between");
        refuse("alum; iron", "> between");
        refuse("alum 12", "12%");
        refuse("alum 12% iron 2%", "more than one strength");
        refuse("alum 0%", "strength");
        refuse("alum -2%", "strength");
        refuse("alum 12000%", "strength");
        refuse("alum g/L", "not a number");
        refuse("alum [01/05/2026]", "year first");
        refuse("alum [2026-05-01", "brackets");
        refuse("alum [2026-05-01] 12%", "brackets");
        refuse("alum [bath A1, bath A2]", "twice");
        refuse("alum [2026-05-01, 2026-05-02]", "twice");
        refuse("alum [A1]", "year first");
        refuse("alum [bath]", "year first");
        refuse("alum [bath ; ]", "bath's name");
    }

    #[track_caller]
    fn check_plants(text: &str, printed: Option<&str>) {
        assert_eq!(
            plants(text).ok().map(|p| print_plants(&p)).as_deref(),
            printed,
            "{text}"
        );
    }

    #[test]
    fn plants_as_people_write_them() {
        check_plants("walnut; birch", Some("walnut; birch"));
        check_plants(
            "Walnut [fresh,vein side  down];Birch",
            Some("walnut [fresh, vein side down]; birch"),
        );
        check_plants("walnut [fresh; damp]", Some("walnut [fresh; damp]"));
        for bad in [
            "walnut, birch",
            "walnut;;birch",
            "walnut [",
            "walnut ]fresh[",
            "walnut [fresh,]",
            "[fresh]",
            "walnut []",
        ] {
            check_plants(bad, None);
        }
    }

    fn a_soak() -> impl Strategy<Value = Soak> {
        let name = "[a-zäöü]{1,8}( [a-z]{1,6}){0,2}";
        let strength = proptest::option::of((1..400_000_u32, any::<bool>()));
        let on = proptest::option::of((1950..2100_i16, 1..=12_i8, 1..=28_i8));
        let bath = proptest::option::of("[A-Z][0-9]{0,2}( [a-z]{1,4})?");
        (name, strength, on, bath).prop_map(|(mordant, strength, on, bath)| Soak {
            mordant,
            strength: strength.map(|(thousandths, _)| f64::from(thousandths) / 1000.0),
            unit: strength.map(|(_, percent)| match percent {
                true => StrengthUnit::PercentOfFibre,
                false => StrengthUnit::GramsPerLitre,
            }),
            on: on.map(|(y, m, d)| jiff::civil::date(y, m, d).to_string()),
            bath,
        })
    }

    fn a_plant() -> impl Strategy<Value = PlantUse> {
        let how = proptest::collection::vec("[a-z;>]{1,6}( [a-z]{1,6})?", 0..3);
        ("[a-zé]{1,8}( [a-z0-9]{1,6})?", how).prop_map(|(name, how)| PlantUse { name, how })
    }

    proptest! {
        #[test]
        fn soaks_survive_print_and_parse(soaks in proptest::collection::vec(a_soak(), 1..4)) {
            prop_assert_eq!(mordant(&print_mordant(&soaks)), Ok(soaks));
        }

        #[test]
        fn plants_survive_print_and_parse(uses in proptest::collection::vec(a_plant(), 1..4)) {
            prop_assert_eq!(plants(&print_plants(&uses)), Ok(uses));
        }

        #[test]
        fn no_text_brings_it_down(text in ".*") {
            let _ = (mordant(&text), plants(&text));
        }
    }
}
