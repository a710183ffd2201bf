//! How a photo is known again: by the hash of its bytes, or, where a reading was made elsewhere, by its content.

use super::record::Photo;
use rusqlite::{Connection, OptionalExtension, params};

/// The id of the photo that has the same hash or, without one, the same content.
pub(super) fn find(db: &Connection, photo: &Photo) -> rusqlite::Result<Option<i64>> {
    match &photo.hash {
        Some(hash) => with_hash(db, hash),
        None => db
            .prepare_cached("SELECT photo FROM contents WHERE content = ?1")?
            .query_row([content(photo)], |row| row.get(0))
            .optional(),
    }
}

/// The id of the photo with this hash.
pub(super) fn with_hash(db: &Connection, hash: &str) -> rusqlite::Result<Option<i64>> {
    db.prepare_cached("SELECT id FROM photos WHERE hash = ?1")?
        .query_row([hash], |row| row.get(0))
        .optional()
}

/// Notes what a photo without a hash is now, beside all it was before: an export from either time is known again.
pub(super) fn note(db: &Connection, id: i64, photo: &Photo) -> rusqlite::Result<()> {
    if photo.hash.is_some() {
        return Ok(());
    }
    db.prepare_cached(
        "INSERT INTO contents (content, photo) VALUES (?1, ?2) ON CONFLICT DO NOTHING",
    )?
    .execute(params![content(photo), id])
    .map(drop)
}

/// BLAKE3, hexadecimal, of piece, file, date, state, washes, method, and the colours with their shares.
///
/// The list is closed: it may not grow with the records, or old photos would become unknown.
fn content(photo: &Photo) -> String {
    let mut hasher = blake3::Hasher::new();
    let mut text = |value: Option<&str>| {
        // The length in front keeps ("ab", "c") apart from ("a", "bc").
        let length = value.map_or(u64::MAX, |text| text.len() as u64);
        hasher.update(&length.to_le_bytes());
        hasher.update(value.unwrap_or_default().as_bytes());
    };
    text(photo.piece.as_deref());
    text(photo.file.as_deref());
    text(photo.taken.as_deref());
    text(photo.state.map(|state| state.word()));
    text(photo.washes.map(|washes| washes.to_string()).as_deref());
    text(photo.reading.method.as_deref());
    for swatch in &photo.reading.swatches {
        for number in [swatch.lab.l, swatch.lab.a, swatch.lab.b, swatch.share] {
            // Minus nought becomes nought, as SQLite stores it.
            hasher.update(&(number + 0.0).to_le_bytes());
        }
    }
    hasher.finalize().to_string()
}
