//! What contradicts itself between the rows of a sheet that is to be planned.

use super::days::{Days, When};
use super::work::Work;
use jiff::civil::Date;
use std::collections::{BTreeMap, BTreeSet};

/// Dates of one plan that lie further apart than this many days look like a slip in the year: common practice, no source.
const FAR: i32 = 366;

/// Pots and bundles on several days, bundles in several pots, and dates that are years apart; one sentence each.
pub(super) fn clashes(works: &[Work], days: &[Days]) -> Vec<String> {
    let mut on: BTreeMap<(bool, &str), BTreeSet<When>> = BTreeMap::new();
    let mut pots: BTreeMap<&str, BTreeSet<&str>> = BTreeMap::new();
    for (work, days) in works.iter().zip(days) {
        let (pot, bundle) = (work.round.pot.as_deref(), work.round.bundle.as_deref());
        for (is_pot, name) in [(true, pot), (false, bundle)] {
            if let Some(name) = name {
                on.entry((is_pot, name)).or_default().insert(days.bundle);
            }
        }
        if let (Some(pot), Some(bundle)) = (pot, bundle) {
            pots.entry(bundle).or_default().insert(pot);
        }
    }
    let torn = on.iter().filter(|(_, days)| days.len() > 1);
    let torn = torn.map(|((is_pot, name), days)| {
        let (what, is) = match is_pot {
            true => ("Pot", "one heating"),
            false => ("Bundle", "one roll"),
        };
        let days = days.iter().map(|day| told(*day)).collect::<Vec<_>>();
        format!(
            "{what} {name} is {is}, and stands on several days ({}): it is planned on each; mend the dates, or give each its own name.",
            days.join(", ")
        )
    });
    let split = pots.iter().filter(|(_, pots)| pots.len() > 1);
    let split = split.map(|(bundle, pots)| {
        let pots: Vec<&str> = pots.iter().copied().collect();
        format!(
            "Bundle {bundle} is one roll, and stands in the pots {}: mend the column pot, or give each roll its own name.",
            pots.join(" and ")
        )
    });
    torn.chain(split).chain(far(works)).collect()
}

fn told(day: When) -> String {
    match day {
        When::On(date) => date.to_string(),
        When::Day(_) => "one without a date".to_owned(),
    }
}

fn far(works: &[Work]) -> Option<String> {
    let dates = works.iter().flat_map(|work| {
        let soaks = work.soaks.iter().filter_map(|soak| soak.on.clone());
        let written = soaks
            .chain(work.round.made.clone())
            .chain(work.text("washed_on"));
        written.filter_map(|date| Some((date.parse::<Date>().ok()?, work.code.as_str())))
    });
    let dates: Vec<(Date, &str)> = dates.collect();
    let (first, of_first) = dates.iter().min()?;
    let (last, of_last) = dates.iter().max()?;
    let apart = last.since(*first).ok()?.get_days();
    (apart > FAR).then(|| {
        format!(
            "The dates lie more than a year apart, from {first} ({of_first}) to {last} ({of_last}); look whether a year slipped."
        )
    })
}
