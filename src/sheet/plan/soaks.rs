//! The baths of a day: which cloths share one, its litres and its grams.

use super::days::{Days, When, hours};
use super::step::{Step, Weigh, number};
use super::work::Work;
use crate::care;
use crate::journal::record::{
    Bath, BathAge, BathWork, Soak, Soaked, StrengthUnit, bath_age, named,
};
use crate::journal::{Habit, Habits};
use std::collections::BTreeMap;

/// What cloths must have in common to share a bath, in the order in which baths are worked on a day: iron last.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Together {
    day: When,
    ironed: bool,
    /// How many baths of that day the cloth went through before.
    nth: usize,
    mordant: String,
    /// The bits of the strength, and its unit.
    strength: (Option<u64>, Option<StrengthUnit>),
    bath: Option<String>,
}

/// The soaks of a plan as steps, by day; what is open about them.
pub(super) fn soaks(
    works: &[Work],
    days: &[Days],
    baths: &[Bath],
    habits: &Habits<'_>,
) -> (Vec<(When, Step)>, Vec<String>) {
    let mut together: BTreeMap<Together, (&Soak, Vec<&Work>)> = BTreeMap::new();
    for (work, days) in works.iter().zip(days) {
        for (at, soak) in work.soaks.iter().enumerate() {
            let day = days.soaks[at];
            let key = Together {
                day,
                ironed: work.is_ironed_in(at),
                nth: days.soaks[..at]
                    .iter()
                    .filter(|other| **other == day)
                    .count(),
                mordant: soak.mordant.clone(),
                strength: (soak.strength.map(f64::to_bits), soak.unit),
                bath: soak.bath.clone(),
            };
            together
                .entry(key)
                .or_insert((soak, Vec::new()))
                .1
                .push(work);
        }
    }
    let mut open = Vec::new();
    let steps = together.iter().map(|(key, (soak, works))| {
        let age = age(baths, soak, key.day);
        let living = lives(baths, soak);
        (
            key.day,
            step(key, soak, works, (age, living), habits, &mut open),
        )
    });
    let steps = steps.collect();
    (steps, open)
}

/// The age of the bath that a soak is in, or may be in, on a day of the calendar.
fn age(baths: &[Bath], soak: &Soak, day: When) -> Option<BathAge> {
    match day {
        When::On(date) => bath_age(baths, Soaked::of(soak, Some(&date.to_string()))),
        When::Day(_) => None,
    }
    .filter(|age| named(baths, &age.bath).is_some_and(|bath| bath.mordant == soak.mordant))
}

/// Whether the bath that a soak names is known and was not thrown out, as far as the journal tells.
fn lives(baths: &[Bath], soak: &Soak) -> bool {
    let named = soak.bath.as_ref().and_then(|name| named(baths, name));
    let discarded = |bath: &Bath| {
        bath.events
            .last()
            .is_some_and(|e| e.what == BathWork::Discarded)
    };
    named.is_some_and(|bath| bath.mordant == soak.mordant && !discarded(bath))
}

fn step(
    key: &Together,
    soak: &Soak,
    works: &[&Work],
    (age, living): (Option<BathAge>, bool),
    habits: &Habits<'_>,
    open: &mut Vec<String>,
) -> Step {
    let cloth = cloth(works);
    let strength = strength(soak, works, habits, open);
    let kept = soak.bath.is_some();
    let litres = cloth.map(|grams| water(grams, habits));
    let weighed = match strength {
        Some((percent, StrengthUnit::PercentOfFibre)) => cloth.map(|grams| grams * percent / 100.0),
        Some((strength, StrengthUnit::GramsPerLitre)) => litres.map(|litres| litres * strength),
        None => None,
    };
    let weigh = weighed.filter(|_| !kept).map(|grams| Weigh {
        what: soak.mordant.clone(),
        grams,
    });
    let mut notes = Vec::new();
    notes.extend(strength.map(|(value, unit)| match unit {
        StrengthUnit::PercentOfFibre => format!("{} % of the weight of fibre.", number(value)),
        StrengthUnit::GramsPerLitre => format!("{} g/L.", number(value)),
    }));
    notes.extend(of_bath(soak, age.as_ref(), weighed.filter(|_| kept)));
    if soak.bath.is_some() && age.is_none() && (matches!(key.day, When::On(_)) || !living) {
        open.push(format!(
            "Whether bath {} of {} is alive on that day is not known: enter its bath sheet, or take its name out and make a fresh one.",
            soak.bath.as_deref().unwrap_or_default(),
            soak.mordant
        ));
    }
    notes.push(format!(
        "Leave it in for {}, turned now and then.",
        hours_told(&soak.mordant, habits)
    ));
    if care::is_iron(&soak.mordant) {
        notes.push("A vessel, spoon and gloves of iron's own; rinse well.".to_owned());
    } else if key.ironed {
        notes.push("This cloth was in iron before: keep the bath apart from others.".to_owned());
    }
    Step {
        what: match &soak.bath {
            Some(bath) => format!("Soak in {}, bath {bath}", soak.mordant),
            None => format!("Soak in {}", soak.mordant),
        },
        pieces: codes(works),
        cloth_g: cloth,
        not_weighed: not_weighed(works),
        litres: litres.filter(|_| !kept),
        weigh: weigh.into_iter().collect(),
        notes: vec![notes.join(" ")],
    }
}

fn hours_told(mordant: &str, habits: &Habits<'_>) -> String {
    match hours(mordant, habits) {
        hours if hours < 1.0 => format!("{} minutes", number(hours * 60.0)),
        1.0 => "an hour".to_owned(),
        hours => format!("{} hours", number(hours)),
    }
}

fn of_bath(soak: &Soak, age: Option<&BathAge>, fresh: Option<f64>) -> Option<String> {
    let age = age?;
    let strength = age
        .grams_per_litre
        .map(|strength| format!(", {} g/L by what was put in", number(strength)));
    let told = format!("{} days old{}", age.days, strength.unwrap_or_default());
    Some(match (&soak.bath, fresh) {
        (Some(_), Some(grams)) => format!(
            "The bath is {told}; a fresh one would take {}, so top it up by what you think it lost.",
            super::step::grams(grams)
        ),
        (Some(_), None) => format!("The bath is {told}."),
        (None, _) => format!(
            "Bath {} is alive ({told}): to use it instead, write [bath {}] behind the strength.",
            age.bath, age.bath
        ),
    })
}

/// How strong a bath is to be: as written, else as the studio always takes it. What can only be a slip counts as unknown.
fn strength(
    soak: &Soak,
    works: &[&Work],
    habits: &Habits<'_>,
    open: &mut Vec<String>,
) -> Option<(f64, StrengthUnit)> {
    let name = &soak.mordant;
    let known = care::is_known(name);
    let usual = || Some((habits.wof(name)?, StrengthUnit::PercentOfFibre));
    let told = soak.strength.zip(soak.unit);
    let Some((value, unit)) = told.or_else(|| usual().filter(|_| known)) else {
        if !known {
            open.push(format!(
                "{}: nothing is known here about {name}, and how strong it is to be is not written, so its grams are not told; read \
                 its safety sheet, then write the strength behind the name.",
                codes(works).join(", ")
            ));
            return None;
        }
        open.push(format!(
            "{}: how strong the {name} is to be is not written; write it behind the name, in % of the weight of fibre or g/L, or \
             once for always with “filemot set wof {} NUMBER”.",
            codes(works).join(", "),
            quoted(name)
        ));
        return None;
    };
    let (percent, litre) = care::strongest(name);
    let (most, word) = match unit {
        StrengthUnit::PercentOfFibre => (percent, "% of the weight of fibre"),
        StrengthUnit::GramsPerLitre => (litre, "g/L"),
    };
    if value > most {
        open.push(format!(
            "{}: {} {word} of {name} is far more than any usual recipe, so its grams are not told; look whether the number slipped.",
            codes(works).join(", "),
            number(value)
        ));
        return None;
    }
    Some((value, unit))
}

fn quoted(name: &str) -> String {
    match name.contains(' ') {
        true => format!("\"{name}\""),
        false => name.to_owned(),
    }
}

/// The dry weight of the cloths whose weight is known, g; `None` where none is.
pub(super) fn cloth(works: &[&Work]) -> Option<f64> {
    works
        .iter()
        .filter_map(|work| work.grams)
        .reduce(|a, b| a + b)
}

/// Codes of those whose weight is not known.
pub(super) fn not_weighed(works: &[&Work]) -> Vec<String> {
    let unknown = works.iter().filter(|work| work.grams.is_none());
    unknown.map(|work| work.code.clone()).collect()
}

/// Water for cloth of so many grams, litres, up to the next tenth.
pub(super) fn water(grams: f64, habits: &Habits<'_>) -> f64 {
    let litres = grams * habits.get(Habit::LiquorRatio) / 1000.0;
    // 0.6 times a hundred is a hair above 60.
    (litres * 10.0 - 1e-9).ceil() / 10.0
}

pub(super) fn codes(works: &[&Work]) -> Vec<String> {
    works.iter().map(|work| work.code.clone()).collect()
}
