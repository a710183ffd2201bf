//! The bath sheet: what was done to mordant baths that live on, one row for each time.

mod line;

use super::column::plain;
use super::entered::{Change, Entered, Subject, refusal};
use super::table::Table;
use crate::care;
use crate::error::{Caution, Result, known_code};
use crate::journal::record::{Bath, BathEvent, BathWork};
use line::{Line, line, places, unread};
use std::collections::BTreeMap;

/// Whether a sheet is about baths: it names baths and what happened to them, and no pieces.
pub(super) fn is_bath_sheet(table: &Table) -> bool {
    let has = |name: &str| table.headings.iter().any(|heading| plain(heading) == name);
    has("bath") && has("event") && !has("piece")
}

/// What a bath sheet makes of the baths of a journal: those that are new or different, and the account of it.
///
/// A sheet that tells when a bath was made tells all that happened to it since; what the journal knew beyond that is taken
/// out, but for an earlier bath of that name that was thrown out before. Rows of a bath without `made` are added to what is
/// known.
///
/// # Errors
/// The file's, one sentence for each thing wrong, all together.
pub fn plan_baths(existing: &[Bath], table: &Table) -> Result<(Vec<Bath>, Entered)> {
    plan(existing, table, with_known)
}

/// The same, where each row is added to what is known and nothing is taken out.
pub(super) fn plan_events(existing: &[Bath], table: &Table) -> Result<(Vec<Bath>, Entered)> {
    plan(existing, table, after_known)
}

/// How what a sheet tells of a bath and what is known of it come together.
type Together = fn(Option<&Bath>, Vec<Line>) -> Vec<Told>;

fn plan(existing: &[Bath], table: &Table, together: Together) -> Result<(Vec<Bath>, Entered)> {
    let mut problems = Vec::new();
    let places = places(table, &mut problems);
    let mut lines = Vec::new();
    if problems.is_empty() {
        let read = |row| line(row, table, &places, existing, &mut problems);
        lines = table.rows.iter().filter_map(read).collect();
        if table.rows.is_empty() {
            problems.push(
                "It has headings and nothing below them; fill in a row for each time something was done to a bath."
                    .to_owned(),
            );
        }
    }
    let mut order: Vec<String> = Vec::new();
    let mut told: BTreeMap<String, Vec<Line>> = BTreeMap::new();
    for mut line in lines {
        // The first spelling counts.
        line.bath = known_code(&line.bath, &order)
            .unwrap_or(&line.bath)
            .to_owned();
        if !order.contains(&line.bath) {
            order.push(line.bath.clone());
        }
        told.entry(line.bath.clone()).or_default().push(line);
    }
    let baths: Vec<Bath> = order
        .iter()
        .filter_map(|name| {
            let known = existing.iter().find(|bath| bath.name == *name);
            joined(name, known, told.remove(name)?, together, &mut problems)
        })
        .collect();
    if !problems.is_empty() {
        return Err(refusal(&table.file, "entered", &problems));
    }
    let (put, mut entered) = account(existing, baths);
    entered.cautions.extend(unread(table));
    Ok((put, entered))
}

/// A bath as it will be, from what is known and what the sheet tells; `None`, with the problem noted, where that cannot be.
fn joined(
    name: &str,
    known: Option<&Bath>,
    lines: Vec<Line>,
    together: Together,
    problems: &mut Vec<String>,
) -> Option<Bath> {
    let number = lines.first()?.number;
    let mut mordants: Vec<&String> = lines
        .iter()
        .filter_map(|line| line.mordant.as_ref())
        .collect();
    mordants.dedup();
    let mordant = match mordants[..] {
        [] => known.map(|bath| bath.mordant.clone()).unwrap_or_default(),
        [one] => one.clone(),
        [one, other, ..] => {
            problems.push(format!(
                "Row {number}, column mordant: bath {name} holds {one} in one row and {other} in another; correct one, or give \
                 each bath its own name."
            ));
            return None;
        }
    };
    if mordant.is_empty() {
        problems.push(format!(
            "Row {number}, column mordant: what bath {name} holds is not written; write it, such as alum."
        ));
    }
    let mut events = together(known, lines);
    events.sort_by(|(_, one), (_, other)| one.on.cmp(&other.on));
    check_life(name, &events, problems);
    Some(Bath {
        name: name.to_owned(),
        mordant,
        events: events.into_iter().map(|(_, event)| event).collect(),
    })
}

/// An event with the row that tells it, where one does.
type Told = (Option<usize>, BathEvent);

fn with_known(known: Option<&Bath>, lines: Vec<Line>) -> Vec<Told> {
    let told = lines
        .into_iter()
        .map(|line| (Some(line.number), line.event));
    let told: Vec<Told> = told.collect();
    let mut events = of_known(known);
    let of_making = told.iter().filter(|(_, e)| e.what == BathWork::Made);
    if let Some(begun) = of_making.map(|(_, event)| event.on.clone()).min() {
        let over = |(_, event): &Told| event.what == BathWork::Discarded && event.on <= begun;
        events.truncate(events.iter().rposition(over).map_or(0, |last| last + 1));
    }
    for (number, event) in told {
        let same = |(row, known): &Told| {
            row.is_none() && (&known.on, known.what) == (&event.on, event.what)
        };
        match events.iter().position(same) {
            Some(place) => events[place] = (number, event),
            None => events.push((number, event)),
        }
    }
    events
}

fn after_known(known: Option<&Bath>, lines: Vec<Line>) -> Vec<Told> {
    let mut events = of_known(known);
    for line in lines {
        if !events.iter().any(|(_, event)| *event == line.event) {
            events.push((Some(line.number), line.event));
        }
    }
    events
}

fn of_known(known: Option<&Bath>) -> Vec<Told> {
    let events = known.map_or(&[][..], |bath| &bath.events);
    events.iter().map(|event| (None, event.clone())).collect()
}

/// Whether what is known and what the sheet tells can be one life.
fn check_life(name: &str, events: &[Told], problems: &mut Vec<String>) {
    let life: Vec<BathEvent> = events.iter().map(|(_, event)| event.clone()).collect();
    if let Err((at, what)) = Bath::check_life(&life) {
        let row = events[at].0;
        let row = row.map_or_else(String::new, |row| format!("Row {row}: "));
        problems.push(format!("{row}bath {name} {what}."));
    }
}

/// Sorts the baths of a sheet into new, changed and unchanged, with the cautions of salts that no bath held before.
fn account(existing: &[Bath], baths: Vec<Bath>) -> (Vec<Bath>, Entered) {
    let mut entered = Entered {
        about: Subject::Baths,
        ..Entered::default()
    };
    let mut put = Vec::new();
    for bath in baths {
        match existing.iter().find(|known| known.name == bath.name) {
            None => entered.new.push(bath.name.clone()),
            Some(known) if *known == bath => {
                entered.unchanged += 1;
                continue;
            }
            Some(known) => entered.changed.extend(changes(known, &bath)),
        }
        put.push(bath);
    }
    entered.cautions = cautions(existing, &put);
    (put, entered)
}

fn cautions(existing: &[Bath], put: &[Bath]) -> Vec<Caution> {
    let mut found = Vec::new();
    let mut known: Vec<&str> = existing.iter().map(|bath| bath.mordant.as_str()).collect();
    if known.is_empty() && !put.is_empty() {
        found.extend(care::always());
    }
    for bath in put {
        if !known.contains(&bath.mordant.as_str()) {
            known.push(&bath.mordant);
            found.extend(care::for_mordant(&bath.mordant));
        }
        if !bath.events.iter().any(|event| event.what == BathWork::Made) {
            found.push(Caution::new(
                "bath-not-made",
                format!(
                    "When bath {} was made is not written, so its age cannot be told: add a row with the event made.",
                    bath.name
                ),
            ));
        }
    }
    found
}

fn changes(known: &Bath, bath: &Bath) -> Vec<Change> {
    let change = |field: String, from: String, to: String| Change {
        piece: bath.name.clone(),
        round: None,
        field,
        from,
        to,
    };
    let mut found = Vec::new();
    if known.mordant != bath.mordant {
        let field = "mordant".to_owned();
        found.push(change(field, known.mordant.clone(), bath.mordant.clone()));
    }
    let mut old: Vec<&BathEvent> = known.events.iter().collect();
    for event in &bath.events {
        let alike = |e: &&BathEvent| (&e.on, e.what) == (&event.on, event.what);
        let same = old.iter().position(|e| *e == event);
        let from = same
            .or_else(|| old.iter().position(alike))
            .map(|at| old.remove(at));
        if from != Some(event) {
            let was = from.map_or_else(String::new, amounts);
            found.push(change(of_event(event), was, amounts(event)));
        }
    }
    let gone = |event: &&BathEvent| change(of_event(event), amounts(event), "taken out".to_owned());
    found.extend(old.iter().map(gone));
    found
}

fn of_event(event: &BathEvent) -> String {
    format!("{} on {}", event.what.word(), event.on)
}

fn amounts(event: &BathEvent) -> String {
    let parts = [
        event.litres.map(|litres| format!("{litres} L")),
        event.grams.map(|grams| format!("{grams} g")),
        event.remarks.clone(),
    ];
    match parts.into_iter().flatten().collect::<Vec<_>>() {
        none if none.is_empty() => "noted".to_owned(),
        some => some.join(", "),
    }
}

#[cfg(test)]
mod tests;
