//! Journals of every format that ever was can be opened; see `testdata/good/journals`.

use super::*;
use crate::journal::connection::database;
use crate::journal::schema::STEPS;
use crate::reading::State;
use rusqlite::Connection;
use std::fs;

fn stored(format: usize) -> (TempDir, Export) {
    let folder = testdata("good/journals");
    let read = |ending| fs::read_to_string(folder.join(format!("{format}.{ending}"))).unwrap();
    let dir = tempfile::tempdir().unwrap();
    let db = Connection::open(database(dir.path())).unwrap();
    db.execute_batch(&read("sql")).unwrap();
    (dir, Export::from_json(&read("json")).unwrap())
}

fn without_ids(mut export: Export) -> Export {
    export.photos.iter_mut().for_each(|photo| photo.id = None);
    export
}

#[test]
fn every_format_opens_with_everything() {
    for format in 1..=STEPS.len() {
        let (dir, expected) = stored(format);
        let mut journal = Journal::open(dir.path()).unwrap();
        super::asking::agrees(&journal, &State::ALL);
        assert_eq!(
            without_ids(journal.export().unwrap()),
            expected,
            "format {format}"
        );
        assert_eq!(
            journal.import(&expected).unwrap(),
            Imported::default(),
            "format {format}"
        );
        assert!(
            !journal
                .check()
                .unwrap()
                .iter()
                .any(|finding| finding.serious),
            "format {format}"
        );
    }
}

/// Whoever edits a released step instead of adding one is stopped here.
#[test]
fn released_formats_are_not_edited() {
    let tables = |db: &Connection| -> Vec<String> {
        let sql = "SELECT sql FROM sqlite_schema WHERE sql IS NOT NULL ORDER BY name";
        let mut select = db.prepare(sql).unwrap();
        select
            .query_map([], |row| row.get(0))
            .unwrap()
            .map(|sql| sql.unwrap())
            .collect()
    };
    for format in 1..=STEPS.len() {
        let (dir, _) = stored(format);
        let then = Connection::open(database(dir.path())).unwrap();
        let now = Connection::open_in_memory().unwrap();
        STEPS[..format]
            .iter()
            .for_each(|step| now.execute_batch(step).unwrap());
        assert_eq!(tables(&now), tables(&then), "format {format}");
    }
}
