//! What rows of any table need on the way to records: handed out group by group, small structures as JSON.

use rusqlite::types::Type;
use std::iter::Peekable;

/// Rows that come sorted by a key, handed out key by key.
pub(super) struct Groups<K, T, I: Iterator<Item = rusqlite::Result<(K, T)>>> {
    rows: Peekable<I>,
}

impl<K: PartialEq, T, I: Iterator<Item = rusqlite::Result<(K, T)>>> Groups<K, T, I> {
    /// Rows with their keys, in the order in which [`Groups::take`] will ask for the keys.
    pub fn of(rows: I) -> Self {
        Self {
            rows: rows.peekable(),
        }
    }

    /// The rows of `key`, which is the next one or has none.
    pub fn take(&mut self, key: &K) -> rusqlite::Result<Vec<T>> {
        let mut taken = Vec::new();
        let ours = |row: &rusqlite::Result<(K, T)>| row.as_ref().map_or(true, |(k, _)| k == key);
        while let Some(row) = self.rows.next_if(ours) {
            taken.push(row?.1);
        }
        Ok(taken)
    }
}

/// A small structure as the JSON text of one column.
pub(super) fn to_json<T: serde::Serialize>(value: &T) -> rusqlite::Result<String> {
    serde_json::to_string(value).map_err(|e| rusqlite::Error::ToSqlConversionFailure(e.into()))
}

/// Back from the JSON text of column `column`.
pub(super) fn from_json<T: serde::de::DeserializeOwned>(
    column: usize,
    text: &str,
) -> rusqlite::Result<T> {
    serde_json::from_str(text)
        .map_err(|e| rusqlite::Error::FromSqlConversionFailure(column, Type::Text, e.into()))
}
