//! From intended pieces to grams, litres and days: what to weigh, pour and do, in the order of work.
//!
//! Grams are the per cent of the weight of fibre of the dry cloth in a bath, or grams a litre of its water; water is the liquor
//! ratio times the dry cloth. What the sheet leaves out is told and left open, and the plan is made for the rest.

mod clash;
mod days;
mod page;
mod rolls;
mod soaks;
mod step;
mod text;
mod work;

pub use page::pages;
pub use step::{Day, Plan, Step, Weigh};
pub use text::text;

use super::enter::intended;
use super::table::Table;
use super::{caution, cautions};
use crate::error::{Caution, Error, Result};
use crate::journal::record::{Bath, Piece, Studio};
use crate::journal::{Degrees, Habit, Habits};
use days::{Days, When};
use std::collections::BTreeMap;
use work::Work;

/// What a journal knows that a plan draws on; nothing of it changes.
#[derive(Clone, Copy, Debug)]
pub struct Known<'a> {
    /// Its pieces.
    pub pieces: &'a [Piece],
    /// Its mordant baths.
    pub baths: &'a [Bath],
    /// The studio's own values.
    pub studio: &'a Studio,
}

/// The plan for a sheet of intended pieces, in the columns of a sheet to enter. A row in which something is wrong is left out and
/// told in [`Plan::left_open`].
///
/// # Errors
/// The file's, where the sheet has no column of pieces or no row, or nothing in it can be planned.
pub fn plan_sheet(known: Known<'_>, table: &Table) -> Result<Plan> {
    let (pieces, told) = intended(known.pieces, table)?;
    let mut plan = plan_pieces(known, &pieces);
    plan.left_open.splice(0..0, told);
    match plan.days.is_empty() {
        true => Err(Error::file(format!(
            "Nothing in the sheet “{}” can be planned:\n  {}",
            table.file,
            plan.left_open.join("\n  ")
        ))),
        false => Ok(plan),
    }
}

/// The plan for so many new pieces made as `piece` was, in all its rounds, on days yet to be chosen.
pub fn plan_like(known: Known<'_>, piece: &Piece, number: u32) -> Plan {
    let mut like = piece.clone();
    for round in &mut like.rounds {
        round.made = None;
        round.bundle = None;
        round.pot = None;
        round.layer = None;
        round.settings.remove("washed_on");
        for soak in &mut round.soaks {
            soak.on = None;
            soak.bath = None;
        }
    }
    let new = |n: u32| Piece {
        code: format!("new {n}"),
        ..like.clone()
    };
    let new: Vec<Piece> = (1..=number).map(new).collect();
    plan_pieces(known, &new)
}

fn plan_pieces(known: Known<'_>, pieces: &[Piece]) -> Plan {
    let habits = Habits::of(known.studio);
    let (works, mut left_open) = work::works(known.pieces, pieces);
    let (days, told) = days::days(&works, &habits);
    left_open.extend(told);
    left_open.extend(clash::clashes(&works, &days));
    let (steps, told) = steps(
        &works,
        &days,
        known.baths,
        &habits,
        Degrees::of(known.studio),
    );
    left_open.extend(told);
    let cloth: BTreeMap<&str, Option<f64>> = works
        .iter()
        .map(|work| (work.code.as_str(), work.grams))
        .collect();
    let unknown = cloth.iter().filter(|(_, grams)| grams.is_none());
    Plan {
        pieces: cloth.len(),
        cloth_g: cloth.values().flatten().sum(),
        not_weighed: unknown.map(|(code, _)| (*code).to_owned()).collect(),
        cautions: all_cautions(pieces),
        left_open,
        weigh: weigh(&steps),
        days: by_days(steps),
        reckoned_with: reckoned_with(&works, &habits),
    }
}

/// Every step with its day, in the order of work within a day.
fn steps(
    works: &[Work],
    days: &[Days],
    baths: &[Bath],
    habits: &Habits<'_>,
    degrees: Degrees,
) -> (Vec<(When, Step)>, Vec<String>) {
    let (soaks, mut open) = soaks::soaks(works, days, baths, habits);
    let (rolls, told) = rolls::rolls(works, days);
    open.extend(told);
    let (pots, told) = rolls::pots(works, days, habits, degrees);
    open.extend(told);
    let all = [
        rolls::scours(works, days, habits),
        soaks,
        rolls,
        pots,
        rolls::openings(works, days, habits),
        rolls::washes(works, days),
    ];
    (all.into_iter().flatten().collect(), open)
}

/// Steps gathered by day; days without a date are counted from 1.
fn by_days(steps: Vec<(When, Step)>) -> Vec<Day> {
    let mut days: BTreeMap<When, Vec<Step>> = BTreeMap::new();
    for (day, step) in steps {
        days.entry(day).or_default().push(step);
    }
    let first = days.keys().find_map(|day| match day {
        When::Day(day) => Some(*day),
        When::On(_) => None,
    });
    let day = |(when, steps)| match when {
        When::On(date) => Day {
            date: Some(jiff::civil::Date::to_string(&date)),
            day: None,
            steps,
        },
        When::Day(day) => Day {
            date: None,
            day: u32::try_from(day - first.unwrap_or(day) + 1).ok(),
            steps,
        },
    };
    days.into_iter().map(day).collect()
}

/// What all steps weigh out, by name, in the order in which it is first needed.
fn weigh(steps: &[(When, Step)]) -> Vec<Weigh> {
    let mut all: Vec<Weigh> = Vec::new();
    for one in steps.iter().flat_map(|(_, step)| &step.weigh) {
        match all.iter_mut().find(|known| known.what == one.what) {
            Some(known) => known.grams += one.grams,
            None => all.push(one.clone()),
        }
    }
    all
}

/// Salts of which nothing is known, what always holds, then each salt, plant and heat that is used, each once.
fn all_cautions(pieces: &[Piece]) -> Vec<Caution> {
    let mut found = crate::care::always();
    for caution in pieces.iter().flat_map(cautions) {
        if !found.contains(&caution) && caution.code != "near-boil" {
            found.push(caution);
        }
    }
    found.extend(caution::boiled(&BTreeMap::new(), pieces));
    // Of a salt of which nothing is known, that comes before anything else.
    found.sort_by_key(|caution| caution.code != "unknown-salt");
    found
}

/// The habits that the plan used, and whose word each is.
fn reckoned_with(works: &[Work], habits: &Habits<'_>) -> Vec<String> {
    let unsaid = |name: &str| works.iter().any(|work| work.number(name).is_none());
    let soaked = |iron: bool| {
        let mut soaks = works.iter().flat_map(|work| &work.soaks);
        soaks.any(|soak| crate::care::is_iron(&soak.mordant) == iron)
    };
    let used = |habit: &Habit| match habit {
        Habit::LiquorRatio => true,
        Habit::Scour => works.iter().any(|work| work.round.round == 1),
        Habit::SoakHours => soaked(false),
        Habit::IronHours => soaked(true),
        Habit::CoolHours => unsaid("cool_h"),
        Habit::CureDays => unsaid("cure_days"),
    };
    let told = |habit: Habit| {
        let whose = match habits.own(habit) {
            Some(_) => "set by the studio",
            None => "the program's own assumption",
        };
        let value = step::number(habits.get(habit));
        format!("{} {value}, {whose}: {}.", habit.name(), habit.meaning())
    };
    let used: Vec<Habit> = Habit::ALL.into_iter().filter(used).collect();
    let assumed = used.iter().find(|habit| habits.own(**habit).is_none());
    let advice = assumed.map(|habit| {
        format!(
            "The assumptions are common practice without a source; set yours once, such as “filemot set {} NUMBER”.",
            habit.name()
        )
    });
    used.into_iter().map(told).chain(advice).collect()
}

#[cfg(test)]
mod tests;
