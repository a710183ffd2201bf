//! Which day each thing is done: counted back from the day of the bundle, and onward from it.

use super::work::Work;
use crate::care;
use crate::journal::record::Soak;
use crate::journal::{Habit, Habits};
use jiff::ToSpan;
use jiff::civil::Date;
use std::borrow::Cow;
use std::collections::BTreeMap;

/// A day: of the calendar, or so many after the day of a bundle that has no date.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum When {
    On(Date),
    Day(i64),
}

impl When {
    /// So many days later, or earlier where `days` is below 0.
    pub fn plus(self, days: i64) -> Self {
        match self {
            Self::On(date) => Self::On(date.saturating_add(days.days())),
            Self::Day(day) => Self::Day(day + days),
        }
    }
}

/// The days of one [`Work`].
#[derive(Clone, Debug)]
pub(super) struct Days {
    /// `None` where the cloth was scoured in an earlier round.
    pub scour: Option<When>,
    pub soaks: Vec<When>,
    pub bundle: When,
    pub open: When,
    pub wash: When,
}

/// Nights that hours take: what is done within a working day takes none.
fn nights(hours: f64) -> i64 {
    match hours <= 8.0 {
        true => 0,
        // Not above ten years, see Work::number.
        false => (hours / 24.0).ceil() as i64,
    }
}

/// How long a soak of this mordant takes, hours.
pub(super) fn hours(mordant: &str, habits: &Habits<'_>) -> f64 {
    habits.get(match care::is_iron(mordant) {
        true => Habit::IronHours,
        false => Habit::SoakHours,
    })
}

/// How many soaks at the end of a work's baths are of iron.
fn last_irons(work: &Work) -> usize {
    let iron = |soak: &&Soak| care::is_iron(&soak.mordant);
    work.soaks.iter().rev().take_while(iron).count()
}

/// The most baths of any cloth of one bundling day: before the irons at the end, and those.
#[derive(Clone, Copy, Debug, Default)]
struct Longest {
    before: usize,
    irons: usize,
}

impl Longest {
    fn take(&mut self, work: &Work) {
        let irons = last_irons(work);
        self.irons = self.irons.max(irons);
        self.before = self.before.max(work.soaks.len() - irons);
    }

    fn nights(self, habits: &Habits<'_>) -> i64 {
        let [rest, iron] = nights_each(habits);
        // Rounds have few baths.
        self.before as i64 * rest + self.irons as i64 * iron
    }
}

/// A work whose day of bundling is sought.
struct Turn<'a> {
    at: usize,
    work: Cow<'a, Work>,
    /// The first day on which the cloth is free, where an earlier round is in the plan.
    free: Option<When>,
}

/// The days of each work, in its order, and what contradicts itself in the dates of the sheet.
///
/// Cloth of one bundling day is soaked together where it can be: first baths on one day, iron last of all. A later round of a
/// piece begins when the one before it is washed.
pub(super) fn days(works: &[Work], habits: &Habits<'_>) -> (Vec<Days>, Vec<String>) {
    let passages = passages(works);
    let mut found: Vec<Option<Days>> = vec![None; works.len()];
    let mut open = Vec::new();
    for passage in 0..=passages.iter().copied().max().unwrap_or(0) {
        let mut turns = Vec::new();
        for at in (0..works.len()).filter(|at| passages[*at] == passage) {
            let before = at.checked_sub(1).filter(|_| passage > 0);
            let before = before.and_then(|before| found[before].as_ref());
            turns.push(turn(at, &works[at], before, habits, &mut open));
        }
        for (at, days) in together(&turns, habits, &mut open) {
            found[at] = Some(days);
        }
    }
    (found.into_iter().flatten().collect(), open)
}

/// How many earlier rounds of its piece the plan holds, for each work; a piece's rounds follow one another.
fn passages(works: &[Work]) -> Vec<usize> {
    let mut passages: Vec<usize> = Vec::new();
    for (at, work) in works.iter().enumerate() {
        let same = at > 0 && works[at - 1].code == work.code;
        passages.push(if same { passages[at - 1] + 1 } else { 0 });
    }
    passages
}

/// A work after the round before it; dates that contradict that are told and forgotten.
fn turn<'a>(
    at: usize,
    work: &'a Work,
    before: Option<&Days>,
    habits: &Habits<'_>,
    open: &mut Vec<String>,
) -> Turn<'a> {
    let washed = before.map(|days| days.wash.max(days.open));
    let mut work = Cow::Borrowed(work);
    if let (Some(washed), Some(bundle)) = (washed, bundle_day(&work, habits)) {
        let mut alone = Longest::default();
        alone.take(&work);
        let soaks = soak_days(&work, bundle, alone, habits);
        let begin = soaks.iter().copied().min().unwrap_or(bundle).min(bundle);
        let contradiction = match (washed, begin) {
            (When::On(washed), When::On(begin)) if begin <= washed => Some(format!(
                "would begin on {begin}, and the round before it is washed on {washed}"
            )),
            (When::Day(_), When::On(_)) => {
                Some("has a date, and the round before it has none".to_owned())
            }
            _ => None,
        };
        if let Some(why) = contradiction {
            open.push(format!(
                "{}: round {} {why}, so it is planned after that wash; mend the dates in the columns made and mordant.",
                work.code, work.round.round
            ));
            let free = work.to_mut();
            free.round.made = None;
            free.round.settings.remove("washed_on");
            free.soaks.iter_mut().for_each(|soak| soak.on = None);
        }
    }
    Turn {
        at,
        work,
        free: washed.map(|washed| washed.plus(1)),
    }
}

/// The days of works none of which waits for another.
fn together(turns: &[Turn<'_>], habits: &Habits<'_>, open: &mut Vec<String>) -> Vec<(usize, Days)> {
    let mut waiting: BTreeMap<Option<When>, Longest> = BTreeMap::new();
    for turn in turns {
        waiting.entry(turn.free).or_default().take(&turn.work);
    }
    let bundled = turns.iter().map(|turn| {
        let soaked = |free: When| free.plus(waiting[&turn.free].nights(habits));
        bundle_day(&turn.work, habits).unwrap_or_else(|| turn.free.map_or(When::Day(0), soaked))
    });
    let bundled: Vec<When> = bundled.collect();
    let mut longest: BTreeMap<When, Longest> = BTreeMap::new();
    for (turn, day) in turns.iter().zip(&bundled) {
        longest.entry(*day).or_default().take(&turn.work);
    }
    let days = turns.iter().zip(bundled).map(|(turn, bundle)| {
        (
            turn.at,
            days_of(&turn.work, bundle, longest[&bundle], habits, open),
        )
    });
    days.collect()
}

fn days_of(
    work: &Work,
    bundle: When,
    longest: Longest,
    habits: &Habits<'_>,
    open: &mut Vec<String>,
) -> Days {
    let soaks = soak_days(work, bundle, longest, habits);
    if soaks.last().is_some_and(|last| *last > bundle) || !soaks.is_sorted() {
        open.push(format!(
            "{}: the days of its soaks do not lead up to the day of its bundle; mend the dates in the columns mordant and made.",
            work.code
        ));
    }
    let told = |name: &str, habit| work.number(name).unwrap_or_else(|| habits.get(habit));
    let opened = bundle.plus(nights(told("cool_h", Habit::CoolHours)));
    let first = soaks.first().copied().unwrap_or(bundle);
    let cure = told("cure_days", Habit::CureDays).ceil();
    Days {
        scour: (work.round.round == 1).then(|| first.plus(-1)),
        soaks,
        bundle,
        open: opened,
        wash: washed(work).unwrap_or(opened.plus(cure as i64)),
    }
}

fn date(text: Option<&str>) -> Option<Date> {
    text?.parse().ok()
}

fn washed(work: &Work) -> Option<When> {
    date(work.text("washed_on").as_deref()).map(When::On)
}

/// Nights of one bath, and of one of iron.
fn nights_each(habits: &Habits<'_>) -> [i64; 2] {
    [Habit::SoakHours, Habit::IronHours].map(|habit| nights(habits.get(habit)))
}

/// Nights that these soaks take one after the other.
fn nights_of(soaks: &[Soak], habits: &Habits<'_>) -> i64 {
    soaks
        .iter()
        .map(|soak| nights(hours(&soak.mordant, habits)))
        .sum()
}

/// The day of the bundle as written, else after the last soak that has a day; `None` where no day is written.
fn bundle_day(work: &Work, habits: &Habits<'_>) -> Option<When> {
    let written = date(work.round.made.as_deref()).map(When::On);
    let dated = || {
        let dates = work.soaks.iter().map(|soak| date(soak.on.as_deref()));
        let (at, on) = dates
            .enumerate()
            .filter_map(|(at, on)| Some((at, on?)))
            .next_back()?;
        Some(When::On(on).plus(nights_of(&work.soaks[at..], habits)))
    };
    written.or_else(dated)
}

fn soak_days(work: &Work, bundle: When, longest: Longest, habits: &Habits<'_>) -> Vec<When> {
    let soaks = &work.soaks;
    let [rest, iron] = nights_each(habits);
    let irons = soaks.len() - last_irons(work);
    // Rounds have few baths.
    let count = |number: usize| number as i64;
    let mut days: Vec<When> = Vec::new();
    for (at, soak) in soaks.iter().enumerate() {
        let usual = bundle.plus(match at < irons {
            true => -count(longest.irons) * iron - count(longest.before - at) * rest,
            false => -count(soaks.len() - at) * iron,
        });
        let dated = soaks.iter().enumerate().skip(at);
        let mut dated = dated.filter_map(|(n, soak)| Some((n, date(soak.on.as_deref())?)));
        let day = match (date(soak.on.as_deref()), dated.next()) {
            (Some(on), _) => When::On(on),
            (None, Some((n, on))) => When::On(on).plus(-nights_of(&soaks[at..n], habits)),
            (None, None) => {
                let before = days
                    .last()
                    .map(|day| day.plus(nights_of(&soaks[at - 1..at], habits)));
                usual.max(before.unwrap_or(usual))
            }
        };
        days.push(day);
    }
    days
}
