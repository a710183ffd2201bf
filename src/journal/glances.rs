//! Keeps the table `glances` in step: what questions look at, in few rows that lie together.

use super::rows::to_json;
use crate::reading::{Basis, Part, State};
use rusqlite::{Connection, OptionalExtension, Row, params};

/// A photo whose glance is written, and the reading that counts.
struct Source {
    state: State,
    piece: String,
    washes: Option<u32>,
    taken: Option<String>,
    basis: Option<Basis>,
    reading: i64,
}

/// The colours of a reading as the columns of `glances` hold them.
#[derive(Default)]
struct Packed {
    colours: Vec<u8>,
    parts: String,
    plants: Vec<Option<String>>,
    shares: f64,
}

/// Whether anything waits for [`complete`].
pub(super) fn due(db: &Connection) -> rusqlite::Result<bool> {
    db.prepare_cached("SELECT 1 FROM glances_due")?.exists([])
}

/// Writes anew the glances of all photos that were changed since.
pub(super) fn complete(db: &Connection) -> rusqlite::Result<()> {
    let mut select = db.prepare_cached("SELECT photo FROM glances_due ORDER BY photo")?;
    let due: Vec<i64> = select
        .query_map([], |row| row.get(0))?
        .collect::<rusqlite::Result<_>>()?;
    due.iter().try_for_each(|photo| renew(db, *photo))?;
    match due.is_empty() {
        true => Ok(()),
        false => db.execute("DELETE FROM glances_due", []).map(drop),
    }
}

/// Writes every glance anew, and gives back of how many photos another stood there, or none, or one too many.
pub(super) fn rebuild(db: &Connection) -> rusqlite::Result<u32> {
    db.execute_batch(
        "CREATE TEMP TABLE glances_were AS SELECT * FROM glances;
         INSERT INTO glances_due SELECT id FROM photos WHERE true ON CONFLICT DO NOTHING;
         INSERT INTO glances_due SELECT photo FROM glances WHERE true ON CONFLICT DO NOTHING;",
    )?;
    complete(db)?;
    let wrong = db.query_row(
        "SELECT count(DISTINCT photo) FROM (
             SELECT * FROM (SELECT * FROM glances EXCEPT SELECT * FROM glances_were)
             UNION ALL SELECT * FROM (SELECT * FROM glances_were EXCEPT SELECT * FROM glances))",
        [],
        |row| row.get(0),
    )?;
    db.execute_batch("DROP TABLE glances_were")?;
    Ok(wrong)
}

fn renew(db: &Connection, photo: i64) -> rusqlite::Result<()> {
    db.prepare_cached("DELETE FROM glances WHERE photo = ?1")?
        .execute([photo])?;
    let source = db
        .prepare_cached(
            "SELECT state, piece, washes, taken, basis, readings.id
             FROM photos JOIN readings ON readings.photo = photos.id
             WHERE photos.id = ?1 AND piece IS NOT NULL AND state IS NOT NULL ORDER BY turn DESC LIMIT 1",
        )?
        .query_row([photo], source)
        .optional()?;
    let Some(source) = source else { return Ok(()) };
    let packed = packed(db, source.reading)?;
    // Without a share no mean can be formed, so there is nothing to ask about.
    if packed.shares <= 0.0 {
        return Ok(());
    }
    let day = source.taken.as_deref().map(|t| t.get(..10).unwrap_or(t));
    let parts = packed.parts.contains(['g', 'p']).then_some(&packed.parts);
    let plants = packed.plants.iter().any(Option::is_some);
    db.prepare_cached(
        "INSERT INTO glances (state, piece, photo, washes, taken, basis, cautions, colours, parts, plants)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10)",
    )?
    .execute(params![
        source.state,
        source.piece,
        photo,
        source.washes,
        day,
        source.basis,
        codes(db, source.reading)?,
        packed.colours,
        parts,
        plants.then(|| to_json(&packed.plants)).transpose()?,
    ])
    .map(drop)
}

fn source(row: &Row<'_>) -> rusqlite::Result<Source> {
    Ok(Source {
        state: row.get(0)?,
        piece: row.get(1)?,
        washes: row.get(2)?,
        taken: row.get(3)?,
        basis: row.get(4)?,
        reading: row.get(5)?,
    })
}

fn codes(db: &Connection, reading: i64) -> rusqlite::Result<Option<String>> {
    let sql = "SELECT code FROM cautions WHERE reading = ?1 ORDER BY place";
    let mut select = db.prepare_cached(sql)?;
    let codes: Vec<String> = select
        .query_map([reading], |row| row.get(0))?
        .collect::<rusqlite::Result<_>>()?;
    (!codes.is_empty()).then(|| to_json(&codes)).transpose()
}

fn packed(db: &Connection, reading: i64) -> rusqlite::Result<Packed> {
    let sql =
        "SELECT l, a, b, share, doubt, part, plant FROM swatches WHERE reading = ?1 ORDER BY place";
    let mut select = db.prepare_cached(sql)?;
    let mut rows = select.query([reading])?;
    let mut packed = Packed::default();
    while let Some(row) = rows.next()? {
        let share: f64 = row.get(3)?;
        let doubt = row.get::<_, Option<f64>>(4)?.unwrap_or(f64::NAN);
        for number in [row.get(0)?, row.get(1)?, row.get(2)?, share, doubt] {
            packed.colours.extend(number.to_le_bytes());
        }
        packed.parts.push(match row.get(5)? {
            Some(Part::Ground) => 'g',
            Some(Part::Print) => 'p',
            None => '-',
        });
        packed.plants.push(row.get(6)?);
        packed.shares += share;
    }
    Ok(packed)
}

/// The numbers of one colour again: l, a, b, share and doubt, which is not a number where it is not known.
pub(super) fn numbers(packed: &[u8]) -> impl Iterator<Item = [f64; 5]> {
    let (colours, _) = packed.as_chunks::<40>();
    colours.iter().map(|colour| {
        let (numbers, _) = colour.as_chunks::<8>();
        std::array::from_fn(|at| f64::from_le_bytes(numbers[at]))
    })
}

/// What is printed where, of the colour with this number in its photo.
pub(super) fn part(parts: Option<&str>, colour: usize) -> Option<Part> {
    match parts?.as_bytes().get(colour)? {
        b'g' => Some(Part::Ground),
        b'p' => Some(Part::Print),
        _ => None,
    }
}
