//! Days in a question: `since June`, `in 2025`, `from March to May 2026`.

use super::filter::Filter;
use super::quantity::{self, LONGEST, MONTHS, Reach, SEASONS};
use super::terms::Factor;
use super::words::{Word, joined, typed};
use crate::error::{Error, Result};
use jiff::ToSpan;
use jiff::civil::Date;

/// Some days, as they were named.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Named {
    /// From a first day to a last one.
    Days(Date, Date),
    /// A number of months that begin with this one (1 to 12), of a year that was not said.
    Months(i8, i8),
}

/// The days at the start of `words`, and how many words they take.
pub fn made(words: &[Word], today: Date) -> Option<Result<(usize, Filter)>> {
    let reach = (1..=words.len().min(LONGEST))
        .rev()
        .find_map(|n| Some((n, quantity::reach(&joined(&words[..n]))?)));
    let (skip, reach) = reach.unwrap_or((0, Reach::In));
    let (length, first) = match named(&words[skip..], today, skip > 0)? {
        Ok(found) => found,
        Err(error) => return Some(Err(error)),
    };
    let at = skip + length;
    let joins = |word: &Word| {
        let joint = word.text.as_str();
        matches!(joint, "to" | "until" | "till") || (joint == "and" && reach == Reach::Between)
    };
    let ranges = skip == 0 || matches!(reach, Reach::Since | Reach::Between | Reach::In);
    if ranges
        && words.get(at).is_some_and(joins)
        && let Some(second) = named(&words[at + 1..], today, true)
    {
        let range =
            second.and_then(|(length, last)| Ok((at + 1 + length, range(first, last, today)?)));
        return Some(range);
    }
    // “from March” and “in March” stand by themselves; “between March” does not, and a bare “march” is a verb.
    if reach == Reach::Between || (skip == 0 && matches!(first, Named::Months(..))) {
        return None;
    }
    Some(Ok((at, bounded(reach, first, today))))
}

fn bounded(reach: Reach, named: Named, today: Date) -> Filter {
    let (first, last) = match (reach, named) {
        (Reach::In, Named::Months(month, 1)) => {
            return Filter::Is(Factor::Month, month_name(month).to_owned());
        }
        (Reach::In, Named::Months(month, _)) => {
            let season = SEASONS.iter().find(|(_, begins)| *begins == month);
            return Filter::Is(Factor::Season, season.map_or("", |s| s.0).to_owned());
        }
        (_, named) => days(named, today),
    };
    let (from, until) = match reach {
        Reach::Since => (Some(first), None),
        Reach::After => (Some(last.saturating_add(1.day())), None),
        Reach::Before => (None, Some(first.saturating_sub(1.day()))),
        Reach::Until => (None, Some(last)),
        Reach::In | Reach::Between => (Some(first), Some(last)),
    };
    Filter::Made { from, until }
}

/// From the first of `first` to the last of `last`; months without a year are the latest that fit.
fn range(first: Named, last: Named, today: Date) -> Result<Filter> {
    let until = |from: Date| match last {
        Named::Days(_, until) => until,
        Named::Months(month, many) => {
            let year = from.year() + i16::from(month < from.month());
            months(year, month, many).1
        }
    };
    let from = match (first, last) {
        (Named::Days(from, _), _) => from,
        (Named::Months(month, many), Named::Days(_, until)) => latest(month, many, until).0,
        (Named::Months(month, many), _) => latest(month, many, today).0,
    };
    let until = until(from);
    if until < from {
        return Err(Error::caller(format!(
            "The days from {from} to {until} run backwards: write the earlier one first."
        )));
    }
    Ok(Filter::Made {
        from: Some(from),
        until: Some(until),
    })
}

fn days(named: Named, today: Date) -> (Date, Date) {
    match named {
        Named::Days(first, last) => (first, last),
        Named::Months(month, many) => latest(month, many, today),
    }
}

/// The latest of these months that had begun by `day`.
fn latest(month: i8, many: i8, day: Date) -> (Date, Date) {
    let year = day.year() - i16::from(day.month() < month);
    months(year, month, many)
}

fn months(year: i16, month: i8, many: i8) -> (Date, Date) {
    let first = Date::constant(year, month, 1);
    let last = first
        .saturating_add(i64::from(many - 1).months())
        .last_of_month();
    (first, last)
}

/// Days by name at the start of `words`; a year by itself is one only `behind` a word that days follow.
fn named(words: &[Word], today: Date, behind: bool) -> Option<Result<(usize, Named)>> {
    let text = |n: usize| words.get(n).map_or("", |word| word.text.as_str());
    if let Some(day) = iso(text(0)) {
        return Some(day.map(|day| (1, Named::Days(day, day))));
    }
    if let Some(year) = year(text(0)).filter(|_| behind) {
        return Some(Ok((1, whole_year(year))));
    }
    if matches!(text(0), "this" | "last") {
        return relative(text(0) == "last", text(1), today).map(|named| Ok((2, named)));
    }
    let day = day_of_month(text(0)).filter(|_| quantity::month(text(1)).is_some());
    let at = usize::from(day.is_some());
    let (month, many) = match (quantity::month(text(at)), quantity::season(text(at))) {
        (Some(month), _) => (month, 1),
        (None, Some(season)) => (SEASONS[season].1, 3),
        (None, None) => return None,
    };
    let day_behind = || day_of_month(text(at + 1)).filter(|_| many == 1 && day.is_none());
    let (day, at) = match day_behind() {
        Some(day) => (Some(day), at + 1),
        None => (day, at),
    };
    let (year, at) = match of_year(&words[at + 1..], today) {
        Some((length, year)) => (Some(year), at + 1 + length),
        None => (None, at + 1),
    };
    let Some(day) = day else {
        let named = year.map_or(Named::Months(month, many), |year| {
            let (first, last) = months(year, month, many);
            Named::Days(first, last)
        });
        return Some(Ok((at, named)));
    };
    let year = year.unwrap_or_else(|| latest(month, 1, today).0.year());
    let named = Date::new(year, month, day).map(|day| (at, Named::Days(day, day)));
    Some(named.map_err(|_| no_such_day(&typed(&words[..at]))))
}

/// `2025`, `of 2025`, `this year`, `of last year` behind a month.
fn of_year(words: &[Word], today: Date) -> Option<(usize, i16)> {
    let skip = usize::from(words.first()?.text == "of");
    let text = |n: usize| words.get(skip + n).map_or("", |word| word.text.as_str());
    match (text(0), text(1)) {
        ("this", "year") => Some((skip + 2, today.year())),
        ("last", "year") => Some((skip + 2, today.year() - 1)),
        (word, _) => Some((skip + 1, year(word)?)),
    }
}

fn relative(last: bool, what: &str, today: Date) -> Option<Named> {
    let back = i16::from(last);
    if what == "year" {
        return Some(whole_year(today.year() - back));
    }
    if what == "month" {
        let day = today.saturating_sub(i64::from(back).months());
        let (first, last) = months(day.year(), day.month(), 1);
        return Some(Named::Days(first, last));
    }
    let season = quantity::season(what).map(|n| (SEASONS[n].1, 3));
    let (month, many) = quantity::month(what).map(|month| (month, 1)).or(season)?;
    let (mut first, mut end) = latest(month, many, today);
    if last && end >= today {
        (first, end) = months(first.year() - 1, month, many);
    }
    Some(Named::Days(first, end))
}

fn whole_year(year: i16) -> Named {
    let (first, last) = months(year, 1, 12);
    Named::Days(first, last)
}

/// `3` or `3rd`, 1 to 99.
fn day_of_month(text: &str) -> Option<i8> {
    let endings = ["st", "nd", "rd", "th"];
    let digits = endings.iter().find_map(|ending| text.strip_suffix(ending));
    let digits = digits.unwrap_or(text);
    digits.parse().ok().filter(|_| digits.len() <= 2)
}

/// A year of four digits that photos and cloth of a studio can be of.
fn year(text: &str) -> Option<i16> {
    let year = text.parse().ok().filter(|_| text.len() == 4)?;
    (1900..2200).contains(&year).then_some(year)
}

/// A date `YYYY-MM-DD`; an error where it looks like one and is no day.
fn iso(text: &str) -> Option<Result<Date>> {
    let looks = text.len() >= 8
        && text.split('-').count() == 3
        && text.starts_with(|c: char| c.is_ascii_digit());
    let day = || text.parse::<Date>().map_err(|_| no_such_day(text));
    looks.then(day)
}

fn no_such_day(text: &str) -> Error {
    Error::caller(format!(
        "“{text}” is no such day: write a date with the year first, as in 2026-05-03."
    ))
}

fn month_name(month: i8) -> &'static str {
    let place = usize::try_from(month - 1).unwrap_or_default();
    MONTHS.get(place).map_or("", |(name, _)| name)
}
