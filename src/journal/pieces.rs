//! Pieces and their rounds, to and from tables.

use super::record::{Heat, Piece, PlantUse, Round, Setting, Soak, Standing};
use super::rows::{Groups, from_json, to_json};
use crate::error::known_code;
use rusqlite::{Connection, OptionalExtension, Params, Row, params};

/// The pieces that the condition `which` on the table `pieces` picks, by code.
pub(super) fn load<P: Params + Copy>(
    db: &Connection,
    which: &str,
    with: P,
) -> rusqlite::Result<Vec<Piece>> {
    let rounds = |columns: &str, table: &str, order: &str| {
        format!(
            "SELECT rounds.id, {columns} FROM pieces CROSS JOIN rounds ON rounds.piece = pieces.code
             {table} WHERE {which} ORDER BY pieces.code, rounds.round{order}"
        )
    };
    let part = |table: &str, columns: &str, place: &str| {
        let join = format!("CROSS JOIN {table} ON {table}.in_round = rounds.id");
        rounds(columns, &join, &format!(", {table}.{place}"))
    };
    let sql = [
        format!("SELECT * FROM pieces WHERE {which} ORDER BY code"),
        rounds("rounds.*", "", ""),
        part("soaks", "mordant, strength, unit, soaked, bath", "place"),
        part("plants", "name, how", "place"),
        part("settings", "name, number, text", "name"),
    ];
    let mut pieces = db.prepare_cached(&sql[0])?;
    let mut all_rounds = db.prepare_cached(&sql[1])?;
    let mut soaks = db.prepare_cached(&sql[2])?;
    let mut plants = db.prepare_cached(&sql[3])?;
    let mut settings = db.prepare_cached(&sql[4])?;

    let mut soaks = Groups::of(soaks.query_map(with, |row| Ok((row.get(0)?, soak(row)?)))?);
    let mut plants = Groups::of(plants.query_map(with, |row| Ok((row.get(0)?, plant(row)?)))?);
    let mut settings =
        Groups::of(settings.query_map(with, |row| Ok((row.get(0)?, setting(row)?)))?);
    let mut rounds = Groups::of(all_rounds.query_map(with, |row| {
        Ok((
            row.get::<_, String>("piece")?,
            (row.get::<_, i64>(0)?, round(row)?),
        ))
    })?);
    let mut loaded = Vec::new();
    for piece in pieces.query_map(with, piece)? {
        let mut piece = piece?;
        for (id, mut round) in rounds.take(&piece.code)? {
            round.soaks = soaks.take(&id)?;
            round.plants = plants.take(&id)?;
            round.settings = settings.take(&id)?.into_iter().collect();
            piece.rounds.push(round);
        }
        loaded.push(piece);
    }
    Ok(loaded)
}

/// Writes a piece whole; its photos stay.
pub(super) fn put(db: &Connection, piece: &Piece) -> rusqlite::Result<()> {
    db.prepare_cached(
        "INSERT INTO pieces (code, fibre, weave, gsm, dry_g, width_cm, length_cm, status, price, remarks)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10)
         ON CONFLICT (code) DO UPDATE SET fibre = excluded.fibre, weave = excluded.weave, gsm = excluded.gsm,
            dry_g = excluded.dry_g, width_cm = excluded.width_cm, length_cm = excluded.length_cm,
            status = excluded.status, price = excluded.price, remarks = excluded.remarks",
    )?
    .execute(params![
        piece.code,
        piece.fibre,
        piece.weave,
        piece.gsm,
        piece.dry_g,
        piece.width_cm,
        piece.length_cm,
        piece.status,
        piece.price,
        piece.remarks,
    ])?;
    db.prepare_cached("DELETE FROM rounds WHERE piece = ?1")?
        .execute([&piece.code])?;
    piece
        .rounds
        .iter()
        .try_for_each(|round| put_round(db, &piece.code, round))
}

/// Takes a piece out of which nothing is left but its code and cloth.
pub(super) fn drop_bare(db: &Connection, code: &str) -> rusqlite::Result<()> {
    db.prepare_cached(
        "DELETE FROM pieces WHERE code = ?1
            AND status IS NULL AND price IS NULL AND remarks IS NULL
            AND NOT EXISTS (SELECT 1 FROM rounds WHERE piece = ?1)
            AND NOT EXISTS (SELECT 1 FROM photos WHERE piece = ?1)
            AND NOT EXISTS (SELECT 1 FROM issued_notes WHERE piece = ?1)",
    )?
    .execute([code])
    .map(drop)
}

/// Takes a piece out of which a photo was all there was: nothing is left but its code.
pub(super) fn drop_empty(db: &Connection, code: &str) -> rusqlite::Result<()> {
    let cloth = "SELECT 1 FROM pieces WHERE code = ?1
        AND coalesce(fibre, weave, gsm, dry_g, width_cm, length_cm) IS NULL";
    match db.prepare_cached(cloth)?.exists([code])? {
        true => drop_bare(db, code),
        false => Ok(()),
    }
}

/// The codes of all pieces, in order.
pub(super) fn codes(db: &Connection) -> rusqlite::Result<Vec<String>> {
    let mut codes = db.prepare_cached("SELECT code FROM pieces ORDER BY code")?;
    codes.query_map([], |row| row.get(0))?.collect()
}

/// The bundle of the round that was written last: rounds are numbered as they are written.
pub(super) fn last_bundle(db: &Connection) -> rusqlite::Result<Option<String>> {
    let sql = "SELECT bundle FROM rounds WHERE bundle IS NOT NULL ORDER BY id DESC LIMIT 1";
    db.query_row(sql, [], |row| row.get(0)).optional()
}

/// The code of the piece that is meant: one that is here in other capitals, else `code` itself.
pub(super) fn code(db: &Connection, code: &str) -> rusqlite::Result<String> {
    let known = codes(db)?;
    Ok(known_code(code, &known).unwrap_or(code).to_owned())
}

/// Writes status, price and remarks of a piece, and leaves the rest of it; false where there is no such piece.
pub(super) fn put_standing(db: &Connection, code: &str, said: &Standing) -> rusqlite::Result<bool> {
    let sql = "UPDATE pieces SET status = ?2, price = ?3, remarks = ?4 WHERE code = ?1";
    let changed =
        db.prepare_cached(sql)?
            .execute(params![code, said.status, said.price, said.remarks])?;
    Ok(changed == 1)
}

/// Makes sure that there is a piece of this code: one that a photo names before a sheet has entered it is bare.
pub(super) fn ensure(db: &Connection, code: &str) -> rusqlite::Result<()> {
    db.prepare_cached("INSERT INTO pieces (code) VALUES (?1) ON CONFLICT DO NOTHING")?
        .execute([code])
        .map(drop)
}

fn put_round(db: &Connection, code: &str, round: &Round) -> rusqlite::Result<()> {
    let heat = round.heat.clone().unwrap_or_default();
    let id = db
        .prepare_cached(
            "INSERT INTO rounds (piece, round, bundle, pot, made, layer, heat, low_c, high_c, minutes)
             VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10)",
        )?
        .insert(params![
            code,
            round.round,
            round.bundle,
            round.pot,
            round.made,
            round.layer,
            heat.kind,
            heat.low_c,
            heat.high_c,
            heat.minutes,
        ])?;
    put_work(db, id, round)
}

/// Soaks, plants and settings of the round with the row `id`.
fn put_work(db: &Connection, id: i64, round: &Round) -> rusqlite::Result<()> {
    let mut soaks = db.prepare_cached(
        "INSERT INTO soaks (in_round, place, mordant, strength, unit, soaked, bath) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)",
    )?;
    for (place, soak) in (0_i64..).zip(&round.soaks) {
        soaks.execute(params![
            id,
            place,
            soak.mordant,
            soak.strength,
            soak.unit,
            soak.on,
            soak.bath
        ])?;
    }
    let mut plants = db.prepare_cached(
        "INSERT INTO plants (in_round, place, name, how) VALUES (?1, ?2, ?3, ?4)",
    )?;
    for (place, plant) in (0_i64..).zip(&round.plants) {
        plants.execute(params![id, place, plant.name, to_json(&plant.how)?])?;
    }
    let mut settings = db.prepare_cached(
        "INSERT INTO settings (in_round, name, number, text) VALUES (?1, ?2, ?3, ?4)",
    )?;
    for (name, setting) in &round.settings {
        let (number, text) = match setting {
            Setting::Number(number) => (Some(number), None),
            Setting::Text(text) => (None, Some(text)),
        };
        settings.execute(params![id, name, number, text])?;
    }
    Ok(())
}

fn piece(row: &Row<'_>) -> rusqlite::Result<Piece> {
    Ok(Piece {
        code: row.get("code")?,
        fibre: row.get("fibre")?,
        weave: row.get("weave")?,
        gsm: row.get("gsm")?,
        dry_g: row.get("dry_g")?,
        width_cm: row.get("width_cm")?,
        length_cm: row.get("length_cm")?,
        status: row.get("status")?,
        price: row.get("price")?,
        remarks: row.get("remarks")?,
        rounds: Vec::new(),
    })
}

fn round(row: &Row<'_>) -> rusqlite::Result<Round> {
    let heat = Heat {
        kind: row.get("heat")?,
        low_c: row.get("low_c")?,
        high_c: row.get("high_c")?,
        minutes: row.get("minutes")?,
    };
    Ok(Round {
        round: row.get("round")?,
        bundle: row.get("bundle")?,
        pot: row.get("pot")?,
        made: row.get("made")?,
        layer: row.get("layer")?,
        heat: (heat != Heat::default()).then_some(heat),
        ..Round::default()
    })
}

fn soak(row: &Row<'_>) -> rusqlite::Result<Soak> {
    Ok(Soak {
        mordant: row.get(1)?,
        strength: row.get(2)?,
        unit: row.get(3)?,
        on: row.get(4)?,
        bath: row.get(5)?,
    })
}

fn plant(row: &Row<'_>) -> rusqlite::Result<PlantUse> {
    Ok(PlantUse {
        name: row.get(1)?,
        how: from_json(2, row.get_ref(2)?.as_str()?)?,
    })
}

fn setting(row: &Row<'_>) -> rusqlite::Result<(String, Setting)> {
    let value = match row.get(2)? {
        Some(number) => Setting::Number(number),
        None => Setting::Text(row.get(3)?),
    };
    Ok((row.get(1)?, value))
}
