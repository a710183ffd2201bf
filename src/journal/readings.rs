//! Readings, to and from tables.

use super::rows::{Groups, from_json, to_json};
use crate::colour::Lab;
use crate::error::Caution;
use crate::reading::{Basis, Light, Reading, Swatch};
use rusqlite::types::Type;
use rusqlite::{Connection, Params, Row, params};
use std::fmt::Write;

/// Hands `each` the photo's id and a reading, photo by photo, oldest first, for the photos that `which` picks.
pub(super) fn load<P: Params + Copy>(
    db: &Connection,
    which: &str,
    with: P,
    mut each: impl FnMut(i64, Reading),
) -> rusqlite::Result<()> {
    // The order of the joins is the order of the indexes, so nothing has to be sorted.
    let select = |columns: &str, table: &str, place: &str| {
        format!(
            "SELECT readings.id, {columns} FROM photos CROSS JOIN readings ON readings.photo = photos.id
             {table} WHERE {which} ORDER BY photos.id, readings.turn{place}"
        )
    };
    let part = |table: &str, columns: &str| {
        let join = format!("CROSS JOIN {table} ON {table}.reading = readings.id");
        select(columns, &join, &format!(", {table}.place"))
    };
    let mut readings = db.prepare_cached(&select(
        "readings.photo, method, basis, residual, correction, readings.outline, light",
        "",
        "",
    ))?;
    let mut swatches = db.prepare_cached(&part(
        "swatches",
        "l, a, b, share, doubt, word, word_level, srgb, part, plant",
    ))?;
    let mut cautions = db.prepare_cached(&part("cautions", "cautions.code, text"))?;
    let mut swatches = Groups::of(swatches.query_map(with, |row| Ok((row.get(0)?, swatch(row)?)))?);
    let mut cautions =
        Groups::of(cautions.query_map(with, |row| Ok((row.get(0)?, caution(row)?)))?);
    let mut rows = readings.query(with)?;
    while let Some(row) = rows.next()? {
        let id: i64 = row.get(0)?;
        let mut reading = reading(row)?;
        reading.swatches = swatches.take(&id)?;
        reading.cautions = cautions.take(&id)?;
        each(row.get(1)?, reading);
    }
    Ok(())
}

/// Adds a reading after those that the photo has.
pub(super) fn add(db: &Connection, photo: i64, reading: &Reading) -> rusqlite::Result<()> {
    let light = reading.light.as_ref();
    let correction = light.and_then(|light| light.correction.as_ref());
    let id = db
        .prepare_cached(
            "INSERT INTO readings (photo, turn, method, basis, residual, correction, outline, light)
             VALUES (?1, (SELECT coalesce(max(turn), 0) + 1 FROM readings WHERE photo = ?1), ?2, ?3, ?4, ?5, ?6, ?7)",
        )?
        .insert(params![
            photo,
            reading.method,
            light.map(|light| light.basis),
            light.and_then(|light| light.residual),
            correction.map(to_json).transpose()?,
            reading.outline.as_deref().map(points),
            light.map(besides).transpose()?.flatten(),
        ])?;
    let mut swatches = db.prepare_cached(
        "INSERT INTO swatches (reading, place, l, a, b, share, doubt, word, word_level, srgb, part, plant)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12)",
    )?;
    for (place, swatch) in (0_i64..).zip(&reading.swatches) {
        swatches.execute(params![
            id,
            place,
            swatch.lab.l,
            swatch.lab.a,
            swatch.lab.b,
            swatch.share,
            swatch.doubt,
            swatch.word,
            swatch.word_level,
            swatch.srgb,
            swatch.part,
            swatch.plant,
        ])?;
    }
    let mut cautions = db.prepare_cached(
        "INSERT INTO cautions (reading, place, code, text) VALUES (?1, ?2, ?3, ?4)",
    )?;
    for (place, caution) in (0_i64..).zip(&reading.cautions) {
        cautions.execute(params![id, place, caution.code, caution.text])?;
    }
    Ok(())
}

/// Adds a caution to the reading of a photo that counts.
pub(super) fn add_caution(db: &Connection, photo: i64, caution: &Caution) -> rusqlite::Result<()> {
    let current = "SELECT id FROM readings WHERE photo = ?1 ORDER BY turn DESC LIMIT 1";
    let sql = format!(
        "INSERT INTO cautions (reading, place, code, text)
         SELECT now.id, (SELECT coalesce(max(place), -1) + 1 FROM cautions WHERE reading = now.id), ?2, ?3
         FROM ({current}) AS now"
    );
    db.prepare_cached(&sql)?
        .execute(params![photo, caution.code, caution.text])
        .map(drop)
}

fn reading(row: &Row<'_>) -> rusqlite::Result<Reading> {
    let light = match row.get::<_, Option<Basis>>(3)? {
        Some(basis) => {
            let besides = row.get_ref(7)?.as_str_or_null()?.unwrap_or("{}");
            let mut light: Light = from_json(7, besides)?;
            light.basis = basis;
            light.residual = row.get(4)?;
            light.correction = match row.get_ref(5)?.as_str_or_null()? {
                Some(text) => Some(from_json(5, text)?),
                None => None,
            };
            Some(light)
        }
        None => None,
    };
    let outline = row
        .get_ref(6)?
        .as_str_or_null()?
        .map(|text| polygon(6, text))
        .transpose()?;
    Ok(Reading {
        method: row.get(2)?,
        light,
        outline,
        ..Reading::default()
    })
}

fn swatch(row: &Row<'_>) -> rusqlite::Result<Swatch> {
    Ok(Swatch {
        lab: Lab::new(row.get(1)?, row.get(2)?, row.get(3)?),
        share: row.get(4)?,
        doubt: row.get(5)?,
        word: row.get(6)?,
        word_level: row.get(7)?,
        srgb: row.get(8)?,
        part: row.get(9)?,
        plant: row.get(10)?,
    })
}

fn caution(row: &Row<'_>) -> rusqlite::Result<Caution> {
    Ok(Caution {
        code: row.get(1)?,
        text: row.get(2)?,
    })
}

/// What is known of a light beyond what has a column of its own; `None` where that is nothing.
fn besides(light: &Light) -> rusqlite::Result<Option<String>> {
    let rest = Light {
        basis: Basis::default(),
        residual: None,
        correction: None,
        ..light.clone()
    };
    match rest == Light::default() {
        true => Ok(None),
        false => to_json(&rest).map(Some),
    }
}

/// A polygon as SVG writes points: `x,y x,y`. Rust writes the shortest digits that read back as the same number.
pub(super) fn points(outline: &[[f64; 2]]) -> String {
    let mut text = String::new();
    for [x, y] in outline {
        let gap = if text.is_empty() { "" } else { " " };
        // Writing to a string cannot fail.
        let _ = write!(text, "{gap}{x},{y}");
    }
    text
}

pub(super) fn polygon(column: usize, text: &str) -> rusqlite::Result<Vec<[f64; 2]>> {
    let corner = |pair: &str| {
        let (x, y) = pair.split_once(',')?;
        Some([x.parse().ok()?, y.parse().ok()?])
    };
    let corners: Option<Vec<_>> = text.split_whitespace().map(corner).collect();
    corners.ok_or_else(|| {
        let error = "an outline that is no list of points".into();
        rusqlite::Error::FromSqlConversionFailure(column, Type::Text, error)
    })
}
