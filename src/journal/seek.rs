//! Pieces by the words that stand with them.

use super::rows::to_json;
use crate::colour::Lab;
use crate::error::stands_in;
use jiff::civil::Date;
use rusqlite::Connection;
use std::collections::BTreeSet;

/// A name for colours that no reading holds: the studio's own.
#[derive(Clone, Copy)]
pub struct Shade<'a> {
    /// The name.
    pub name: &'a str,
    /// Whether a colour that is known to a doubt (CIEDE2000, one standard deviation's worth) is called so.
    pub holds: &'a dyn Fn(Lab, Option<f64>) -> bool,
}

/// The codes of the pieces with which every one of these words stands.
pub(super) fn pieces(
    db: &Connection,
    words: &[String],
    shades: &[Shade<'_>],
) -> rusqlite::Result<BTreeSet<String>> {
    let mut found: Option<BTreeSet<String>> = None;
    for word in words {
        let with_word = with_word(db, &plain(word), shades)?;
        found = Some(match found {
            Some(found) => found.intersection(&with_word).cloned().collect(),
            None => with_word,
        });
    }
    Ok(found.unwrap_or_default())
}

/// A place where words stand: each of its texts is held against the word once, however many pieces have it.
struct Place {
    /// The column with the texts.
    text: &'static str,
    /// The tables in which all texts stand.
    of: &'static str,
    /// The column with the piece's code, and the tables in which it stands beside the text.
    piece: [&'static str; 2],
}

const fn place(text: &'static str, of: &'static str, piece: &'static str) -> Place {
    Place {
        text,
        of,
        piece: [piece, of],
    }
}

const SOAKED: &str = "rounds JOIN soaks ON in_round = rounds.id";

/// What stands with a piece.
const PLACES: [Place; 12] = [
    place("code", "pieces", "code"),
    place("fibre", "pieces", "code"),
    place("weave", "pieces", "code"),
    place("status", "pieces", "code"),
    place("remarks", "pieces", "code"),
    place("bundle", "rounds", "piece"),
    place("pot", "rounds", "piece"),
    place("mordant", SOAKED, "piece"),
    place(
        "name",
        "rounds JOIN plants ON in_round = rounds.id",
        "piece",
    ),
    place("state", "photos", "piece"),
    Place {
        text: "word",
        of: "swatches",
        piece: ["piece", COLOURED],
    },
    place("made", "rounds", "piece"),
];

/// The colours of the readings that count.
const COLOURED: &str = "photos JOIN current_readings ON photo = photos.id JOIN swatches ON reading = current_readings.id";

/// Rows of mordants as a round writes them, which hold every soak.
const IN_ORDER: Place = place(
    "mordants",
    "(SELECT piece, group_concat(mordant, ' > ') AS mordants
      FROM (SELECT rounds.id, piece, mordant FROM rounds JOIN soaks ON in_round = rounds.id ORDER BY rounds.id, place)
      GROUP BY id)",
    "piece",
);

fn with_word(
    db: &Connection,
    word: &str,
    shades: &[Shade<'_>],
) -> rusqlite::Result<BTreeSet<String>> {
    let places = match word.contains('>') {
        true => std::slice::from_ref(&IN_ORDER),
        false => &PLACES[..],
    };
    let texts: Vec<Vec<String>> = places
        .iter()
        .map(|place| texts(db, place))
        .collect::<rusqlite::Result<_>>()?;
    let singular = word.strip_suffix('s').filter(|word| !word.is_empty());
    let spellings = || std::iter::once(word).chain(singular);
    let ways = [stands_in as fn(&str, &str) -> bool, |text, word| {
        text.contains(word)
    }];
    for stands in ways {
        for word in spellings() {
            let mut found = BTreeSet::new();
            for (place, texts) in places.iter().zip(&texts) {
                let such = texts
                    .iter()
                    .filter(|text| stands(&plain(&dated(text)), word));
                found.append(&mut beside(db, place, &such.collect::<Vec<_>>())?);
            }
            let such = shades
                .iter()
                .filter(|shade| stands(&plain(shade.name), word));
            found.append(&mut shaded(db, &such.collect::<Vec<_>>())?);
            if !found.is_empty() {
                return Ok(found);
            }
        }
    }
    Ok(BTreeSet::new())
}

/// All texts of a place, each once.
fn texts(db: &Connection, place: &Place) -> rusqlite::Result<Vec<String>> {
    let Place { text, of, .. } = place;
    let sql = format!("SELECT DISTINCT {text} FROM {of} WHERE {text} IS NOT NULL");
    let mut texts = db.prepare_cached(&sql)?;
    texts.query_map([], |row| row.get(0))?.collect()
}

/// The pieces with which one of these texts stands.
fn beside(db: &Connection, place: &Place, such: &[&String]) -> rusqlite::Result<BTreeSet<String>> {
    if such.is_empty() {
        return Ok(BTreeSet::new());
    }
    let Place { text, piece, .. } = place;
    let [piece, of] = piece;
    let sql = format!(
        "SELECT DISTINCT {piece} FROM {of} WHERE {piece} IS NOT NULL AND {text} IN (SELECT value FROM json_each(?1))"
    );
    let mut codes = db.prepare_cached(&sql)?;
    codes
        .query_map([to_json(&such)?], |row| row.get(0))?
        .collect()
}

/// The pieces with a colour of one of these shades.
fn shaded(db: &Connection, shades: &[&Shade<'_>]) -> rusqlite::Result<BTreeSet<String>> {
    let mut found = BTreeSet::new();
    if shades.is_empty() {
        return Ok(found);
    }
    let sql = format!("SELECT piece, l, a, b, doubt FROM {COLOURED} WHERE piece IS NOT NULL");
    let mut colours = db.prepare_cached(&sql)?;
    let mut rows = colours.query([])?;
    while let Some(row) = rows.next()? {
        let code = row.get_ref(0)?.as_str()?;
        let lab = Lab::new(row.get(1)?, row.get(2)?, row.get(3)?);
        let doubt = row.get(4)?;
        if !found.contains(code) && shades.iter().any(|shade| (shade.holds)(lab, doubt)) {
            found.insert(code.to_owned());
        }
    }
    Ok(found)
}

/// In lower case and the standard's spelling.
fn plain(text: &str) -> String {
    text.to_lowercase().replace("grey", "gray")
}

/// A day with the name of its month behind it; any other text as it is.
fn dated(text: &str) -> String {
    let day = (text.len() == 10)
        .then(|| text.parse::<Date>().ok())
        .flatten();
    day.map_or_else(
        || text.to_owned(),
        |day| format!("{text} {}", day.strftime("%B")),
    )
}
