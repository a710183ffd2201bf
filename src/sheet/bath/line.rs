//! The rows of a bath sheet, understood one by one.

use super::super::cell::{self, tidy};
use super::super::column::plain;
use super::super::table::{Row, Table};
use crate::error::{Caution, known_code};
use crate::journal::record::{Bath, BathEvent, BathWork};
use std::collections::BTreeMap;
use std::ops::RangeInclusive;

/// The columns of a bath sheet.
pub(super) const COLUMNS: [&str; 7] = [
    "bath", "mordant", "on", "event", "litres", "grams", "remarks",
];

/// A row, understood.
pub(super) struct Line {
    pub number: usize,
    pub bath: String,
    pub mordant: Option<String>,
    pub event: BathEvent,
}

/// Where each column stands.
pub(super) fn places(table: &Table, problems: &mut Vec<String>) -> BTreeMap<&'static str, usize> {
    let mut places = BTreeMap::new();
    for (place, heading) in table.headings.iter().enumerate() {
        let heading = plain(heading);
        if let Some(column) = COLUMNS.into_iter().find(|column| *column == heading)
            && places.insert(column, place).is_some()
        {
            problems.push(format!(
                "The heading “{column}” stands over two columns; rename or remove one."
            ));
        }
    }
    if !places.contains_key("on") {
        problems.push(
            "There is no column “on”; add one with the day of each row, such as 2026-05-03."
                .to_owned(),
        );
    }
    places
}

/// A caution for headings that no bath sheet has.
pub(super) fn unread(table: &Table) -> Option<Caution> {
    let unknown = |heading: &&String| {
        let plain = plain(heading);
        !plain.is_empty() && !COLUMNS.contains(&plain.as_str())
    };
    let names: Vec<&str> = table
        .headings
        .iter()
        .filter(unknown)
        .map(String::as_str)
        .collect();
    (!names.is_empty()).then(|| {
        Caution::new(
            "heading-unknown",
            format!(
                "A bath sheet has no place for “{}”, which was passed over: put what matters of it into remarks.",
                names.join("”, “")
            ),
        )
    })
}

/// Understands a row; what is wrong with it goes to `problems`.
pub(super) fn line(
    row: &Row,
    table: &Table,
    places: &BTreeMap<&'static str, usize>,
    existing: &[Bath],
    problems: &mut Vec<String>,
) -> Option<Line> {
    let before = problems.len();
    let text = |column: &str| places.get(column).map_or("", |place| row.cell(*place));
    let mut wrong = |column: &str, what: String| {
        problems.push(format!("Row {}, column {column}: {what}.", row.number));
    };
    let bath = tidy(text("bath"));
    if bath.is_empty() {
        wrong(
            "bath",
            "no bath is named; write which one this row is about".to_owned(),
        );
    } else if let Err(what) = Bath::check_name(&bath) {
        wrong("bath", what);
    }
    let on = cell::date(text("on")).map_err(|what| match text("on") {
        "" => "no day is written; write it as 2026-05-03".to_owned(),
        _ => what,
    });
    let on = on.map_err(|what| wrong("on", what)).ok();
    let what = work(text("event"))
        .map_err(|what| wrong("event", what))
        .ok();
    let mut amount = |column: &str, range: &RangeInclusive<f64>| match text(column) {
        "" => None,
        text => cell::number_in(text, table.decimals, range)
            .map_err(|what| wrong(column, what))
            .ok(),
    };
    let (litres, grams) = (
        amount("litres", &Bath::LITRES),
        amount("grams", &Bath::GRAMS),
    );
    let mordant = Some(tidy(text("mordant")).to_lowercase()).filter(|name| !name.is_empty());
    let remarks = Some(text("remarks").to_owned()).filter(|text| !text.is_empty());
    if problems.len() > before {
        return None;
    }
    let names: Vec<String> = existing.iter().map(|bath| bath.name.clone()).collect();
    Some(Line {
        number: row.number,
        bath: known_code(&bath, &names).unwrap_or(&bath).to_owned(),
        mordant,
        event: BathEvent {
            on: on?,
            what: what?,
            litres,
            grams,
            remarks,
        },
    })
}

fn work(text: &str) -> Result<BathWork, String> {
    let plain = plain(text).replace('_', " ");
    let words = BathWork::ALL.map(BathWork::word);
    BathWork::ALL
        .into_iter()
        .find(|work| work.word() == plain)
        .ok_or_else(|| match text {
            "" => format!("nothing is written; write one of {}", words.join(", ")),
            _ => format!(
                "“{text}” is nothing that is done to a bath; write one of {}",
                words.join(", ")
            ),
        })
}
