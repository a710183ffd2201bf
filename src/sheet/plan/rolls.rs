//! Scouring, rolling, heating, opening and washing: the steps around the baths.

use super::days::{Days, When};
use super::soaks::{cloth, codes, not_weighed, water};
use super::step::{Step, Weigh, number};
use super::work::Work;
use crate::journal::record::{Heat, HeatKind, PlantUse};
use crate::journal::{Degrees, Habit, Habits};
use std::collections::BTreeMap;

/// Works that share a day, in the order of the sheet.
fn by_day<'a>(
    works: &'a [Work],
    days: &[Days],
    day: impl Fn(&Days) -> Option<When>,
) -> BTreeMap<When, Vec<&'a Work>> {
    let mut found: BTreeMap<When, Vec<&Work>> = BTreeMap::new();
    for (work, days) in works.iter().zip(days) {
        if let Some(day) = day(days) {
            found.entry(day).or_default().push(work);
        }
    }
    found
}

/// Scouring, for cloth in its first round; cloth that comes to iron later is still clean then.
pub(super) fn scours(works: &[Work], days: &[Days], habits: &Habits<'_>) -> Vec<(When, Step)> {
    let step = |works: &[&Work]| {
        let cloth = cloth(works);
        let litres = cloth.map(|grams| water(grams, habits));
        let soap = habits.get(Habit::Scour);
        let weigh = litres.filter(|_| soap > 0.0).map(|litres| Weigh {
            what: "neutral soap".to_owned(),
            grams: litres * soap,
        });
        Step {
            what: "Scour".to_owned(),
            pieces: codes(works),
            cloth_g: cloth,
            not_weighed: not_weighed(works),
            litres,
            weigh: weigh.into_iter().collect(),
            notes: vec![
                "Warm water; move the cloth gently, then rinse until no soap is left.".to_owned(),
            ],
        }
    };
    let all = by_day(works, days, |days| days.scour);
    all.iter().map(|(day, works)| (*day, step(works))).collect()
}

/// Rolls of a day: by bundle, cloth without iron before cloth with it, never both in one.
pub(super) fn rolls(works: &[Work], days: &[Days]) -> (Vec<(When, Step)>, Vec<String>) {
    let mut rolls: BTreeMap<(When, bool, &str), Vec<&Work>> = BTreeMap::new();
    for (work, days) in works.iter().zip(days) {
        let bundle = work.round.bundle.as_deref().unwrap_or_default();
        let key = (days.bundle, work.is_ironed(), bundle);
        rolls.entry(key).or_default().push(work);
    }
    let mut open = Vec::new();
    let steps = rolls.iter().map(|((day, ironed, bundle), works)| {
        let torn = rolls.contains_key(&(*day, !ironed, *bundle));
        if torn && *ironed && !bundle.is_empty() {
            open.push(format!(
                "Bundle {bundle} holds cloth with iron and cloth without, which iron would grey: it is planned as two rolls; give \
                 each its own name in the column bundle."
            ));
        }
        let mut works = works.clone();
        works.sort_by_key(|work| work.round.layer.unwrap_or(u32::MAX));
        (*day, roll(&works, bundle, torn.then_some(*ironed)))
    });
    let steps = steps.collect();
    (steps, open)
}

/// `iron` is told where the same bundle has another roll.
fn roll(works: &[&Work], bundle: &str, iron: Option<bool>) -> Step {
    let which = match iron {
        Some(true) => ", cloth with iron",
        Some(false) => ", cloth without iron",
        None => "",
    };
    let mut notes: Vec<String> = works.iter().filter_map(|work| layer(work)).collect();
    for (name, what) in [("blanket", "Blanket"), ("barrier", "Between the layers")] {
        let mut all: Vec<String> = works.iter().filter_map(|work| work.text(name)).collect();
        all.dedup();
        notes.extend(all.iter().map(|text| format!("{what}: {text}.")));
    }
    Step {
        what: match bundle {
            "" => format!("Lay the leaves and roll{which}"),
            _ => format!("Lay the leaves and roll bundle {bundle}{which}"),
        },
        pieces: codes(works),
        notes,
        ..Step::default()
    }
}

fn layer(work: &Work) -> Option<String> {
    let plants: Vec<String> = work.round.plants.iter().map(plant).collect();
    (!plants.is_empty()).then(|| format!("{}: {}.", work.code, plants.join("; ")))
}

fn plant(plant: &PlantUse) -> String {
    match plant.how.as_slice() {
        [] => plant.name.clone(),
        how => format!("{} ({})", plant.name, how.join(", ")),
    }
}

/// Pots of a day: by pot or else by bundle; without either, cloth that is heated alike shares one, and cloth with iron has one of
/// its own, the last.
pub(super) fn pots(
    works: &[Work],
    days: &[Days],
    habits: &Habits<'_>,
    degrees: Degrees,
) -> (Vec<(When, Step)>, Vec<String>) {
    let mut pots: BTreeMap<(When, &str, bool, String), Vec<&Work>> = BTreeMap::new();
    for (work, days) in works.iter().zip(days) {
        let trial = work.round.trial().unwrap_or_default();
        let (iron, heat) = match trial {
            "" => (work.is_ironed(), format!("{:?}", work.round.heat)),
            _ => (false, String::new()),
        };
        let key = (days.bundle, trial, iron, heat);
        pots.entry(key).or_default().push(work);
    }
    let mut all: Vec<_> = pots.into_iter().collect();
    let ironed = |works: &[&Work]| works.iter().any(|work| work.is_ironed());
    all.sort_by_key(|((day, ..), works)| (*day, ironed(works)));
    let mut open = Vec::new();
    let steps = all.iter().map(|((day, trial, ..), works)| {
        let heat = heat(works, &mut open);
        let mixed = ironed(works) && !works.iter().all(|work| work.is_ironed());
        let step = pot(works, trial, &heat, mixed, habits, degrees);
        (*day, step)
    });
    let steps = steps.collect();
    (steps, open)
}

/// The heat of a pot, as the pieces in it tell together, the first before the others; what none tells or they contradict each
/// other in is open.
fn heat(works: &[&Work], open: &mut Vec<String>) -> Heat {
    let told = works.iter().filter_map(|work| work.round.heat.as_ref());
    let mut torn = false;
    let heat = told.fold(Heat::default(), |known, other| {
        torn |= known.contradicts(other);
        known.or(other)
    });
    if torn {
        open.push(format!(
            "{}: they share a pot and tell of different heat; the first that tells was taken, so make them agree.",
            codes(works).join(", ")
        ));
    }
    if heat.kind.is_none() {
        open.push(format!(
            "{}: how they are heated is not written; write simmer or steam in the column heat.",
            codes(works).join(", ")
        ));
    }
    heat
}

fn pot(
    works: &[&Work],
    trial: &str,
    heat: &Heat,
    mixed: bool,
    habits: &Habits<'_>,
    degrees: Degrees,
) -> Step {
    let cloth = cloth(works);
    let kind = match heat.kind {
        Some(HeatKind::Simmer) => "Simmer",
        Some(HeatKind::Steam) => "Steam",
        None => "Heat",
    };
    let range = match (heat.low_c, heat.high_c) {
        (Some(low), Some(high)) if low != high => format!(" at {}", degrees.show_range(low, high)),
        (low, high) => low
            .or(high)
            .map_or_else(String::new, |c| format!(" at {}", degrees.show(c))),
    };
    let time = heat
        .minutes
        .map(|minutes| format!(" for {} minutes", number(minutes)));
    let pot = match (trial, works.iter().any(|work| work.round.pot.is_some())) {
        ("", _) => String::new(),
        (pot, true) => format!(" pot {pot}"),
        (bundle, false) => format!(" bundle {bundle}"),
    };
    let mut notes = Vec::new();
    match heat.kind {
        Some(HeatKind::Steam) => notes.push(
            "Water below the rolls, and none on them; see that the pot never boils dry.".to_owned(),
        ),
        _ => notes.push("The water is a start: the rolls must be covered.".to_owned()),
    }
    if mixed {
        notes.push(
            "Cloth with iron and cloth without lie apart in the pot, in separate rolls.".to_owned(),
        );
    }
    let cool: Vec<f64> = works
        .iter()
        .filter_map(|work| work.number("cool_h"))
        .collect();
    let cool = cool
        .into_iter()
        .reduce(f64::max)
        .unwrap_or_else(|| habits.get(Habit::CoolHours));
    notes.push(format!(
        "Then let it cool in the roll for {} hours.",
        number(cool)
    ));
    let steamed = heat.kind == Some(HeatKind::Steam);
    Step {
        what: format!("{kind}{pot}{range}{}", time.unwrap_or_default()),
        pieces: codes(works),
        cloth_g: cloth,
        not_weighed: not_weighed(works),
        litres: cloth.filter(|_| !steamed).map(|grams| water(grams, habits)),
        notes: vec![notes.join(" ")],
        ..Step::default()
    }
}

/// Opening the rolls, and the rest before washing.
pub(super) fn openings(works: &[Work], days: &[Days], habits: &Habits<'_>) -> Vec<(When, Step)> {
    let step = |works: &[&Work]| {
        let mut rest: Vec<String> = works
            .iter()
            .map(|work| {
                number(
                    work.number("cure_days")
                        .unwrap_or_else(|| habits.get(Habit::CureDays)),
                )
            })
            .collect();
        rest.dedup();
        let rest = match &rest[..] {
            [days] => format!("Let it rest {days} days before it is washed."),
            _ => "Let each rest until its day of washing.".to_owned(),
        };
        Step {
            what: "Unroll, take the leaves off".to_owned(),
            pieces: codes(works),
            notes: vec![format!(
                "Photograph each beside its tag, wet; dry it flat in the shade, and photograph it dry. {rest}"
            )],
            ..Step::default()
        }
    };
    let all = by_day(works, days, |days| Some(days.open));
    all.iter().map(|(day, works)| (*day, step(works))).collect()
}

/// The first wash; cloth with iron by itself, and last.
pub(super) fn washes(works: &[Work], days: &[Days]) -> Vec<(When, Step)> {
    let mut found = Vec::new();
    for (day, works) in by_day(works, days, |days| Some(days.wash)) {
        let (ironed, plain): (Vec<&Work>, Vec<&Work>) =
            works.into_iter().partition(|work| work.is_ironed());
        let both = !ironed.is_empty() && !plain.is_empty();
        for (works, which) in [
            (plain, " the cloth without iron"),
            (ironed, " the cloth with iron"),
        ] {
            if !works.is_empty() {
                found.push((day, wash(&works, if both { which } else { "" })));
            }
        }
    }
    found
}

fn wash(works: &[&Work], which: &str) -> Step {
    Step {
        what: format!("Wash{which}"),
        pieces: codes(works),
        notes: vec![
            "Lukewarm water, a little neutral soap; rinse, dry in the shade, and photograph it washed.".to_owned(),
        ],
        ..Step::default()
    }
}
