//! Charts and the studio's own cards, to and from tables.

use super::record::{Card, ChartFile};
use super::{Journal, readings};
use crate::error::{Error, Result, check_code};
use rusqlite::types::Type;
use rusqlite::{Connection, Row, params};

impl Journal {
    /// Every chart that was ever used, by hash.
    pub fn charts(&self) -> Result<Vec<ChartFile>> {
        self.view(charts)
    }

    /// Keeps the text of a chart's file under its hash, which it gives back; a text that is here already keeps its name.
    pub fn keep_chart(&mut self, name: &str, text: &str) -> Result<String> {
        let chart = ChartFile {
            hash: blake3::hash(text.as_bytes()).to_hex().to_string(),
            name: name.to_owned(),
            text: text.to_owned(),
        };
        self.change(|db| put_chart(db, &chart))?;
        Ok(chart.hash)
    }

    /// The studio's own cards, by name.
    pub fn cards(&self) -> Result<Vec<Card>> {
        self.view(cards)
    }

    /// Records a card; one of that name with the same chart keeps the corners it has where `card` brings none.
    ///
    /// # Errors
    /// `Caller` where the name cannot be one or the chart was never kept.
    pub fn put_card(&mut self, card: &Card) -> Result<()> {
        check_code(&card.name)?;
        let known = self.change(|db| {
            let known = charts(db)?.iter().any(|chart| chart.hash == card.chart);
            if known {
                put_card(db, card)?;
            }
            Ok(known)
        })?;
        match known {
            true => Ok(()),
            false => Err(Error::caller(format!(
                "The chart of card {} is not in this journal; give its file with “filemot card {} --chart FILE”.",
                card.name, card.name
            ))),
        }
    }

    /// Says where the chart of a card lies, in modules of its code. Only the first word counts; a card that is not here says
    /// nothing. True where it was news.
    pub fn place_card(&mut self, name: &str, corners: [[f64; 2]; 4]) -> Result<bool> {
        let sql = "UPDATE cards SET corners = ?2 WHERE name = ?1 AND corners IS NULL";
        self.change(|db| Ok(db.execute(sql, params![name, readings::points(&corners)])? > 0))
    }
}

pub(super) fn charts(db: &Connection) -> rusqlite::Result<Vec<ChartFile>> {
    let mut select = db.prepare_cached("SELECT hash, name, text FROM charts ORDER BY hash")?;
    let chart = |row: &Row<'_>| {
        Ok(ChartFile {
            hash: row.get(0)?,
            name: row.get(1)?,
            text: row.get(2)?,
        })
    };
    select.query_map([], chart)?.collect()
}

/// True where it was news.
pub(super) fn put_chart(db: &Connection, chart: &ChartFile) -> rusqlite::Result<bool> {
    let sql = "INSERT INTO charts (hash, name, text) VALUES (?1, ?2, ?3) ON CONFLICT DO NOTHING";
    Ok(db.execute(sql, [&chart.hash, &chart.name, &chart.text])? > 0)
}

pub(super) fn cards(db: &Connection) -> rusqlite::Result<Vec<Card>> {
    let mut select = db.prepare_cached("SELECT name, chart, corners FROM cards ORDER BY name")?;
    let card = |row: &Row<'_>| {
        Ok(Card {
            name: row.get("name")?,
            chart: row.get("chart")?,
            corners: four(row, "corners")?,
        })
    };
    select.query_map([], card)?.collect()
}

/// True where it was news.
pub(super) fn put_card(db: &Connection, card: &Card) -> rusqlite::Result<bool> {
    let sql = "INSERT INTO cards (name, chart, corners) VALUES (?1, ?2, ?3)
        ON CONFLICT (name) DO UPDATE SET chart = excluded.chart,
            corners = CASE WHEN cards.chart = excluded.chart THEN coalesce(excluded.corners, cards.corners) ELSE excluded.corners END
        WHERE cards.chart <> excluded.chart OR cards.corners IS NOT coalesce(excluded.corners, cards.corners)";
    let corners = card.corners.as_ref().map(|c| readings::points(c));
    Ok(db.execute(sql, params![card.name, card.chart, corners])? > 0)
}

/// The polygon in a column; `None` where it is empty.
pub(super) fn polygon(row: &Row<'_>, column: &str) -> rusqlite::Result<Option<Vec<[f64; 2]>>> {
    let number = row.as_ref().column_index(column)?;
    let text = row.get_ref(number)?.as_str_or_null()?;
    text.map(|text| readings::polygon(number, text)).transpose()
}

/// The four corners in a column; `None` where it is empty.
pub(super) fn four(row: &Row<'_>, column: &str) -> rusqlite::Result<Option<[[f64; 2]; 4]>> {
    let Some(corners) = polygon(row, column)? else {
        return Ok(None);
    };
    let four = corners.try_into().map_err(|_| {
        let number = row.as_ref().column_index(column).unwrap_or_default();
        let error = "corners that are not four".into();
        rusqlite::Error::FromSqlConversionFailure(number, Type::Text, error)
    })?;
    Ok(Some(four))
}
