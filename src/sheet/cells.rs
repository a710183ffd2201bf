//! The cells of one row, read by column.

use super::cell::{self, Decimals, Told, tidy};
use super::column::{Column, Headings};
use super::table::Row;
use crate::error::check_code;
use crate::journal::record::Setting;
use std::ops::RangeInclusive;

const PH: RangeInclusive<f64> = 0.0..=14.0;
const HOURS_OR_DAYS: RangeInclusive<f64> = 0.0..=10_000.0;

/// What spreadsheet programs leave where a formula failed.
const FAILED_FORMULAS: [&str; 7] = [
    "#REF!", "#DIV/0!", "#N/A", "#NAME?", "#VALUE!", "#NUM!", "#NULL!",
];

/// The cells of one row, by column, with a place for what is wrong in them.
pub(super) struct Cells<'a> {
    pub headings: &'a Headings,
    pub row: &'a Row,
    pub decimals: Decimals,
    pub problems: &'a mut Vec<String>,
}

impl Cells<'_> {
    fn problem(&mut self, column: &str, what: &str) {
        let number = self.row.number;
        self.problems
            .push(format!("Row {number}, column {column}: {what}."));
    }

    /// Text in a place that has no heading is a problem, for it would be lost.
    pub fn check_bare(&mut self) {
        for place in self.headings.bare(self.row.cells.len()) {
            let text = self.row.cell(place);
            if !text.is_empty() {
                let what = format!(
                    "“{text}” has no heading above it; give the column a heading, or put text that holds a separator into \
                     quotation marks"
                );
                self.problem(&(place + 1).to_string(), &what);
            }
        }
    }

    /// The code of the piece; `None`, with the problem noted, where there is no good one.
    pub fn code(&mut self) -> Option<String> {
        let code = self
            .headings
            .place(Column::Piece)
            .map(|place| self.row.cell(place).to_owned())?;
        if code.is_empty() {
            self.problem(
                "piece",
                "no code is written; say which piece this row is about",
            );
            return None;
        }
        match check_code(&code) {
            Ok(()) => Some(code),
            Err(error) => {
                self.problem("piece", error.to_string().trim_end_matches('.'));
                None
            }
        }
    }

    /// A known column, by the way its cells are read.
    pub fn read<T>(
        &mut self,
        column: Column,
        parse: impl FnOnce(&str) -> Result<T, String>,
    ) -> Told<T> {
        match self.headings.place(column) {
            Some(place) => self.read_at(column.name(), place, parse),
            None => Told::Silent,
        }
    }

    fn read_at<T>(
        &mut self,
        name: &str,
        place: usize,
        parse: impl FnOnce(&str) -> Result<T, String>,
    ) -> Told<T> {
        let text = self.row.cell(place);
        if text.is_empty() {
            return Told::Cleared;
        }
        let parsed = if FAILED_FORMULAS.contains(&text) {
            Err(format!(
                "the formula there failed with {text}; mend it or leave the cell empty"
            ))
        } else {
            parse(text)
        };
        match parsed {
            Ok(value) => Told::Value(value),
            Err(what) => {
                self.problem(name, &what);
                Told::Silent
            }
        }
    }

    /// Words with single spaces between them.
    pub fn text(&mut self, column: Column) -> Told<String> {
        self.read(column, |text| Ok(tidy(text)))
    }

    /// A number within a range.
    pub fn number(&mut self, column: Column, range: &RangeInclusive<f64>) -> Told<f64> {
        let decimals = self.decimals;
        self.read(column, |text| cell::number_in(text, decimals, range))
    }

    /// A value that may stand in either of two columns; given in both, it must agree to one part in a hundred, or to one of
    /// our unit if that is more (people round).
    pub fn either(
        &mut self,
        (ours, theirs): (Column, Column),
        convert: fn(f64) -> f64,
        range: &RangeInclusive<f64>,
    ) -> Told<f64> {
        let decimals = self.decimals;
        let first = self.read(ours, |text| {
            let value = cell::number(text, decimals)?;
            let meant = range.contains(&convert(value));
            cell::within(value, range)
                .map(|()| value)
                .map_err(|what| match meant {
                    true => format!("{what}, or write it in the column {}", theirs.name()),
                    false => what,
                })
        });
        let second = self.read(theirs, |text| {
            let value = convert(cell::number(text, decimals)?);
            cell::within(value, range).map(|()| value).map_err(|what| {
                format!(
                    "“{text}” cannot be right: in the unit of “{}”, {what}",
                    ours.name()
                )
            })
        });
        match (first, second) {
            (Told::Value(a), Told::Value(b)) if (a - b).abs() > (0.01 * a.abs()).max(1.0) => {
                let what = format!(
                    "{a} contradicts the column {}, which comes to {b}; correct one or leave it empty",
                    theirs.name()
                );
                self.problem(ours.name(), &what);
                Told::Silent
            }
            (Told::Value(value), _) | (_, Told::Value(value)) => Told::Value(value),
            (Told::Silent, Told::Silent) => Told::Silent,
            _ => Told::Cleared,
        }
    }

    /// Known settings and the studio's own columns, by name.
    pub fn settings(&mut self) -> Vec<(String, Told<Setting>)> {
        let mut settings = Vec::new();
        for column in Column::SETTINGS {
            let told = match column {
                Column::CoolH | Column::CureDays => self.number_setting(column, &HOURS_OR_DAYS),
                Column::WaterPh => self.number_setting(column, &PH),
                Column::WashedOn => self.read(column, |text| cell::date(text).map(Setting::Text)),
                _ => self.read(column, |text| Ok(Setting::Text(tidy(text)))),
            };
            settings.push((column.name().to_owned(), told));
        }
        let (headings, decimals) = (self.headings, self.decimals);
        for (name, place) in &headings.own {
            let told = self.read_at(name, *place, |text| Ok(setting(text, decimals)));
            settings.push((name.clone(), told));
        }
        settings
    }

    fn number_setting(&mut self, column: Column, range: &RangeInclusive<f64>) -> Told<Setting> {
        let decimals = self.decimals;
        self.read(column, |text| {
            cell::number_in(text, decimals, range).map(Setting::Number)
        })
    }
}

/// A number where nothing is lost by taking it for one: not `007`, not an order number of twenty digits.
fn setting(text: &str, decimals: Decimals) -> Setting {
    let zeros = text.starts_with("00")
        || text.starts_with('0') && text[1..].starts_with(|c: char| c.is_ascii_digit());
    let long = text.len() > 15 && !text.contains(['.', ',']);
    match cell::number(text, decimals) {
        Ok(value) if !zeros && !long && !text.starts_with('+') => Setting::Number(value),
        _ => Setting::Text(text.to_owned()),
    }
}
