//! From a table to changes of the journal: all of it or nothing.

use super::column::{Column, Headings};
use super::entered::{Change, Entered, refusal};
use super::row::{Line, OfPiece};
use super::table::Table;
use super::{Moved, bath, caution, moved, read, write};
use crate::care;
use crate::error::{Caution, Error, Result};
use crate::journal::Journal;
use crate::journal::record::{Bath, Piece, Round};
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

/// Enters the sheet at `path`, of pieces or of baths, as [`enter_table`] does.
///
/// # Errors
/// Those of [`read`] and [`enter_table`].
pub fn enter(journal: &mut Journal, path: &Path) -> Result<Entered> {
    enter_table(journal, &read(path)?)
}

/// Enters a table of pieces or of baths: every row is checked before anything is written, and either all of it is written or nothing.
/// Entered again, it changes what is different and leaves the rest.
///
/// # Errors
/// Those of [`plan_changes`] and [`plan_baths`](super::plan_baths), and the journal's own.
pub fn enter_table(journal: &mut Journal, table: &Table) -> Result<Entered> {
    if bath::is_bath_sheet(table) {
        return enter_baths(journal, |existing| bath::plan_baths(existing, table));
    }
    enter_bundle(journal, table, &[])
}

/// Enters a table of pieces as [`enter_table`] does, and takes out or moves the rounds that it had and has no more. A table without
/// rows enters nothing.
///
/// # Errors
/// Those of [`plan_changes`], and the journal's own.
pub fn enter_bundle(journal: &mut Journal, table: &Table, moved: &[Moved]) -> Result<Entered> {
    let baths = journal.baths()?;
    journal.edit_pieces(|existing| {
        let left = moved::without(existing, moved);
        let (mut put, mut entered) = match table.rows.is_empty() && !moved.is_empty() {
            true => Default::default(),
            false => plan_changes(&left, table)?,
        };
        moved::carry(existing, moved, &mut put);
        put.extend(moved::emptied(existing, left, &put));
        entered.changed.extend(moved.iter().map(Moved::change));
        let salts = baths.iter().map(|bath| bath.mordant.as_str());
        caution::forget_known(&mut entered.cautions, salts);
        entered
            .cautions
            .extend(caution::strange_baths(&baths, &put));
        Ok((put, entered))
    })
}

/// Adds what a bath sheet tells to what is known of its baths, of which nothing is taken out; what is known to the letter is not added
/// twice.
///
/// # Errors
/// The file's, one sentence for each thing wrong, also where all together cannot be the life of a bath; and the journal's own.
pub fn enter_bath_events(journal: &mut Journal, table: &Table) -> Result<Entered> {
    enter_baths(journal, |existing| bath::plan_events(existing, table))
}

fn enter_baths(
    journal: &mut Journal,
    plan: impl FnOnce(&[Bath]) -> Result<(Vec<Bath>, Entered)>,
) -> Result<Entered> {
    let pieces = journal.pieces()?;
    let rounds = pieces.iter().flat_map(|piece| &piece.rounds);
    let salts = rounds
        .flat_map(|round| &round.soaks)
        .map(|soak| soak.mordant.as_str());
    journal.edit_baths(|existing| {
        let (put, mut entered) = plan(existing)?;
        caution::forget_known(&mut entered.cautions, salts);
        let strange = caution::strange_baths(&put, &pieces).into_iter();
        // What the journal knew of other baths is no news.
        entered
            .cautions
            .extend(strange.filter(|caution| caution.code != "bath-unknown"));
        Ok((put, entered))
    })
}

/// What a sheet makes of the pieces of a journal: those that are new or different, and the account of it.
///
/// A column that is not there leaves its value alone, an empty cell clears it. Of several rows of one piece (its rounds), what
/// the last round says of the cloth counts; an empty cell there leaves it to the others, and remarks are gathered.
///
/// # Errors
/// The file's, one sentence for each thing wrong, all together.
pub fn plan_changes(existing: &[Piece], table: &Table) -> Result<(Vec<Piece>, Entered)> {
    let mut problems = Vec::new();
    let headings = headings(table, "entered")?;
    let lines: Vec<Line> = table
        .rows
        .iter()
        .filter_map(|row| Line::read(row, &headings, table.decimals, &mut problems))
        .collect();
    let known: BTreeMap<&str, &Piece> = existing.iter().map(|p| (p.code.as_str(), p)).collect();
    check_codes(&known, &lines, &mut problems);
    let (told, differing) = pieces(&known, lines, &spellings(existing), &mut problems);
    if !problems.is_empty() {
        return Err(refusal(&table.file, "entered", &problems));
    }
    let mut cautions = headings.cautions;
    cautions.extend(differing);
    Ok(account(existing, &known, told, cautions))
}

/// The headings of a sheet of pieces that has rows and is to be `entered` or `planned`.
fn headings(table: &Table, work: &str) -> Result<Headings> {
    let mut problems = Vec::new();
    let headings = Headings::new(&table.headings, &mut problems);
    if !problems.is_empty() {
        return Err(refusal(&table.file, work, &problems));
    }
    if table.rows.is_empty() {
        return Err(Error::file(format!(
            "The sheet “{}” has headings and nothing below them; fill in a row for each piece.",
            table.file
        )));
    }
    Ok(headings)
}

/// The pieces that a sheet intends, each with the rounds that the sheet tells of and its cloth as the journal knows it. A row in
/// which something is wrong is left out, and told.
///
/// # Errors
/// The file's, where there is no column of pieces or no row.
pub(super) fn intended(existing: &[Piece], table: &Table) -> Result<(Vec<Piece>, Vec<String>)> {
    let headings = headings(table, "planned")?;
    let mut told = Vec::new();
    let mut lines = Vec::new();
    for row in &table.rows {
        let mut problems = Vec::new();
        let line = Line::read(row, &headings, table.decimals, &mut problems);
        if problems.is_empty() {
            lines.extend(line);
        } else {
            told.extend(problems);
            told.push(format!("Row {} is not in the plan until then.", row.number));
        }
    }
    let known: BTreeMap<&str, &Piece> = existing.iter().map(|p| (p.code.as_str(), p)).collect();
    check_codes(&known, &lines, &mut told);
    let wanted: BTreeSet<(String, u32)> = lines
        .iter()
        .map(|line| (line.code.clone(), line.round.unwrap_or(1)))
        .collect();
    let (mut pieces, _) = pieces(&known, lines, &spellings(existing), &mut told);
    for piece in &mut pieces {
        let code = piece.code.clone();
        piece
            .rounds
            .retain(|round| wanted.contains(&(code.clone(), round.round)));
    }
    Ok((pieces, told))
}

/// Each piece-and-round once, and no code that differs from another in capitals only.
fn check_codes(known: &BTreeMap<&str, &Piece>, lines: &[Line], problems: &mut Vec<String>) {
    let mut rows: BTreeMap<(&str, u32), usize> = BTreeMap::new();
    let mut spelt: BTreeMap<String, &str> = known
        .keys()
        .map(|code| (code.to_lowercase(), *code))
        .collect();
    for line in lines {
        let (number, code, round) = (line.number, line.code.as_str(), line.round.unwrap_or(1));
        if let Some(first) = rows.insert((code, round), number) {
            problems.push(format!(
                "Row {number}, column piece: “{code}”, round {round}, already stands in row {first}; remove one, or give a new \
                 round its own number."
            ));
        }
        let usual = *spelt.entry(code.to_lowercase()).or_insert(code);
        if usual != code && !known.contains_key(code) {
            problems.push(format!(
                "Row {number}, column piece: “{code}” is also written “{usual}”; write both the same way."
            ));
        }
    }
}

/// The spelling in which each setting is already kept, by its plain form.
fn spellings(existing: &[Piece]) -> BTreeMap<String, String> {
    let rounds = existing.iter().flat_map(|piece| &piece.rounds);
    rounds
        .flat_map(|round| round.settings.keys())
        .map(|name| (super::column::plain(name), name.clone()))
        .collect()
}

/// The pieces of the sheet as they will be, in its order, and what its rows say differently about one cloth.
fn pieces(
    known: &BTreeMap<&str, &Piece>,
    mut lines: Vec<Line>,
    spellings: &BTreeMap<String, String>,
    problems: &mut Vec<String>,
) -> (Vec<Piece>, Vec<Caution>) {
    let mut places: BTreeMap<String, usize> = BTreeMap::new();
    let mut pieces: Vec<(Piece, OfPiece)> = Vec::new();
    for Line { code, .. } in &lines {
        places.entry(code.clone()).or_insert_with(|| {
            let bare = || Piece {
                code: code.clone(),
                ..Piece::default()
            };
            let piece = known.get(code.as_str()).map_or_else(bare, |p| (*p).clone());
            pieces.push((piece, OfPiece::default()));
            pieces.len() - 1
        });
    }
    // What the last round says of the cloth is the newest.
    lines.sort_by_key(|line| line.round.unwrap_or(1));
    let mut cautions = Vec::new();
    for line in lines {
        let (piece, cloth) = &mut pieces[places[&line.code]];
        let disagree = cloth.merge(line.of_piece);
        if !disagree.is_empty() {
            cautions.push(caution::rows_differ(&line.code, &disagree));
        }
        let make = line.round.is_some() || !line.of_round.is_empty();
        if let Some(round) = round(piece, line.round.unwrap_or(1), make) {
            line.of_round.apply(round, |name| {
                let kept = spellings.get(&super::column::plain(name));
                kept.cloned().unwrap_or_else(|| name.to_owned())
            });
            check_heat(line.number, round, problems);
        }
    }
    let told = pieces.into_iter().map(|(mut piece, cloth)| {
        cloth.apply(&mut piece);
        piece
    });
    (told.collect(), cautions)
}

/// The round of that number, made in its place where it is missing and `make` says so.
fn round(piece: &mut Piece, number: u32, make: bool) -> Option<&mut Round> {
    let place = piece.rounds.partition_point(|round| round.round < number);
    if piece
        .rounds
        .get(place)
        .is_none_or(|round| round.round != number)
    {
        if !make {
            return None;
        }
        let new = Round {
            round: number,
            ..Round::default()
        };
        piece.rounds.insert(place, new);
    }
    piece.rounds.get_mut(place)
}

fn check_heat(row: usize, round: &Round, problems: &mut Vec<String>) {
    let heat = round.heat.clone().unwrap_or_default();
    if let (Some(low), Some(high)) = (heat.low_c, heat.high_c)
        && low > high
    {
        problems.push(format!(
            "Row {row}, columns simmer_low and simmer_high: the low temperature ({low} °C) is above the high one ({high} °C); \
             correct them."
        ));
    }
}

/// Sorts the pieces of a sheet into new, changed and unchanged.
fn account(
    existing: &[Piece],
    known: &BTreeMap<&str, &Piece>,
    told: Vec<Piece>,
    mut cautions: Vec<Caution>,
) -> (Vec<Piece>, Entered) {
    let mut entered = Entered::default();
    let mut put = Vec::new();
    for piece in told {
        match known.get(piece.code.as_str()) {
            None => entered.new.push(piece.code.clone()),
            Some(old) if **old == piece => {
                entered.unchanged += 1;
                continue;
            }
            Some(old) => entered.changed.extend(changes(old, &piece)),
        }
        put.push(piece);
    }
    cautions.extend(care::for_codes(entered.new.iter().map(String::as_str)));
    cautions.extend(caution::first_uses(existing, &put));
    cautions.extend(caution::boiled(known, &put));
    cautions.extend(caution::torn_pots(existing, &put));
    entered.cautions = cautions;
    (put, entered)
}

fn changes(old: &Piece, new: &Piece) -> Vec<Change> {
    let mut found = Vec::new();
    let mut note = |round: Option<u32>, field: &str, from: String, to: String| {
        if from != to {
            found.push(Change {
                piece: new.code.clone(),
                round,
                field: field.to_owned(),
                from,
                to,
            });
        }
    };
    for column in write::OF_PIECE {
        note(
            None,
            column.name(),
            write::of_piece(old, column),
            write::of_piece(new, column),
        );
    }
    for round in &new.rounds {
        let number = Some(round.round);
        let Some(before) = old.rounds.iter().find(|r| r.round == round.round) else {
            note(
                number,
                Column::Round.name(),
                String::new(),
                round.round.to_string(),
            );
            continue;
        };
        for column in write::OF_ROUND {
            note(
                number,
                column.name(),
                write::of_round(before, column),
                write::of_round(round, column),
            );
        }
        let names: BTreeSet<&String> = before
            .settings
            .keys()
            .chain(round.settings.keys())
            .collect();
        for name in names {
            let print = |round: &Round| {
                round
                    .settings
                    .get(name)
                    .map_or_else(String::new, write::print_setting)
            };
            note(number, name, print(before), print(round));
        }
    }
    found
}

#[cfg(test)]
mod tests;
