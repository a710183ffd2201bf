//! Whose file it is, its format, and the way to the next one.

use super::*;
use crate::journal::connection::database;
use crate::journal::schema::{self, Opening, STEPS};
use rusqlite::Connection;
use std::fs;
use std::time::Duration;

fn raw(dir: &TempDir) -> Connection {
    Connection::open(database(dir.path())).unwrap()
}

/// A second step as a later version might bring it: a new column, and a table built anew.
const NEXT: &str = "ALTER TABLE pieces ADD COLUMN shelf TEXT;
    CREATE TABLE studio_2 (name TEXT PRIMARY KEY NOT NULL, value TEXT NOT NULL, changed TEXT) STRICT;
    INSERT INTO studio_2 (name, value) SELECT name, value FROM studio;
    DROP TABLE studio;
    ALTER TABLE studio_2 RENAME TO studio;";

fn open_with(dir: &TempDir, steps: &[&str]) -> Result<Journal> {
    let patience = Duration::ZERO;
    let make = false;
    Journal::open_as(
        dir.path(),
        Opening {
            steps,
            make,
            patience,
        },
    )
}

#[test]
fn none_is_made_by_opening() {
    let dir = tempfile::tempdir().unwrap();
    check(
        Journal::open(dir.path()),
        Kind::Caller,
        "There is no journal",
    );
    assert!(!Journal::exists(dir.path()));
    assert_eq!(fs::read_dir(dir.path()).unwrap().count(), 0);
    drop(Journal::open_or_create(dir.path()).unwrap());
    assert!(Journal::exists(dir.path()));
    assert_eq!(Journal::open(dir.path()).unwrap().dir(), dir.path());
}

/// Offsets from “Database File Format”, section 1.3, <https://www.sqlite.org/fileformat2.html>.
#[test]
fn header_tells_whose_file_it_is() {
    let (dir, journal) = empty();
    drop(journal);
    let bytes = fs::read(database(dir.path())).unwrap();
    assert_eq!(&bytes[..16], b"SQLite format 3\0");
    assert_eq!(bytes[18..20], [2, 2], "write-ahead log");
    assert_eq!(
        bytes[60..64],
        (STEPS.len() as i32).to_be_bytes(),
        "user version"
    );
    assert_eq!(&bytes[68..72], b"FMOT", "application id");
}

#[test]
fn newer_format_is_refused_and_left_alone() {
    let (dir, mut journal) = empty();
    journal.put_pieces(&[piece("LB007")]).unwrap();
    drop(journal);
    raw(&dir).pragma_update(None, "user_version", 99).unwrap();
    let before = fs::read(database(dir.path())).unwrap();
    check(Journal::open(dir.path()), Kind::Journal, "newer filemot");
    check(
        Journal::open_or_create(dir.path()),
        Kind::Journal,
        "newer filemot",
    );
    assert_eq!(fs::read(database(dir.path())).unwrap(), before);
}

#[test]
fn what_is_no_database_is_refused() {
    let dir = tempfile::tempdir().unwrap();
    let text = "piece,fibre\nLB007,silk\n".repeat(100);
    fs::write(database(dir.path()), &text).unwrap();
    check(Journal::open(dir.path()), Kind::Journal, "not a journal");
    check(
        Journal::open_or_create(dir.path()),
        Kind::Journal,
        "not a journal",
    );
    assert_eq!(fs::read_to_string(database(dir.path())).unwrap(), text);
}

#[test]
fn database_of_another_program_is_refused() {
    for mark in [0, 0x0f05_5112] {
        let dir = tempfile::tempdir().unwrap();
        let other = raw(&dir);
        other.execute_batch("CREATE TABLE event (id)").unwrap();
        other.pragma_update(None, "application_id", mark).unwrap();
        drop(other);
        check(
            Journal::open_or_create(dir.path()),
            Kind::Journal,
            "another program",
        );
    }
}

#[test]
fn lost_database_is_not_taken_for_a_new_one() {
    let (dir, mut journal) = empty();
    journal
        .add_photo(&photo("a.jpg", b"a", None), jpg(b"a"))
        .unwrap();
    drop(journal);
    fs::write(database(dir.path()), b"").unwrap();
    check(Journal::open(dir.path()), Kind::Journal, "is empty");
    check(
        Journal::open_or_create(dir.path()),
        Kind::Journal,
        "is empty",
    );
}

#[test]
fn beginning_broken_off_begins_again() {
    let dir = tempfile::tempdir().unwrap();
    fs::write(database(dir.path()), b"").unwrap();
    assert!(
        Journal::open_or_create(dir.path())
            .unwrap()
            .codes()
            .unwrap()
            .is_empty()
    );
}

/// Today's steps and some that a later program could add.
fn and_then<'a>(later: &[&'a str]) -> Vec<&'a str> {
    [STEPS, later].concat()
}

#[test]
fn next_format_is_reached_with_everything_and_a_backup() {
    let (dir, mut journal) = empty();
    journal.put_pieces(&[piece("LB007")]).unwrap();
    journal.set("unit", Some("F")).unwrap();
    journal
        .add_photo(&photo("a.jpg", b"a", Some("LB007")), jpg(b"a"))
        .unwrap();
    let before = journal.export().unwrap();
    drop(journal);

    let newer = open_with(&dir, &and_then(&[NEXT])).unwrap();
    assert_eq!(newer.export().unwrap(), before);
    let version =
        |db: &Connection| db.pragma_query_value(None, "user_version", |row| row.get::<_, i32>(0));
    assert_eq!(version(&newer.db).unwrap() as usize, STEPS.len() + 1);
    drop(newer);
    check(Journal::open(dir.path()), Kind::Journal, "newer filemot");

    let copies: Vec<PathBuf> = fs::read_dir(dir.path().join("backups"))
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .collect();
    assert_eq!(copies.len(), 1, "{copies:?}");
    fs::copy(&copies[0], database(dir.path())).unwrap();
    assert_eq!(Journal::open(dir.path()).unwrap().export().unwrap(), before);
}

#[test]
fn failing_step_leaves_the_format_as_it_was() {
    let (dir, mut journal) = empty();
    journal.put_pieces(&[piece("LB007")]).unwrap();
    journal
        .add_photo(&photo("a.jpg", b"a", Some("LB007")), jpg(b"a"))
        .unwrap();
    let before = journal.export().unwrap();
    drop(journal);
    let broken = open_with(&dir, &and_then(&[NEXT, "DROP TABLE nowhere"]));
    check(broken, Kind::Journal, "filemot");
    let loose = open_with(&dir, &and_then(&["DELETE FROM pieces"]));
    check(loose, Kind::Journal, "left as it was");
    assert_eq!(Journal::open(dir.path()).unwrap().export().unwrap(), before);
}

#[test]
fn many_may_begin_the_same_journal() {
    let dir = tempfile::tempdir().unwrap();
    std::thread::scope(|all| {
        let begin = |n: usize| {
            let path = dir.path();
            all.spawn(move || {
                Journal::open_or_create(path)
                    .and_then(|mut j| j.put_pieces(&[piece(&format!("P{n}"))]))
            })
        };
        let begun: Vec<_> = (0..8).map(begin).collect();
        begun
            .into_iter()
            .for_each(|one| one.join().unwrap().unwrap());
    });
    assert_eq!(Journal::open(dir.path()).unwrap().codes().unwrap().len(), 8);
}

#[test]
fn journal_in_use_is_told_so() {
    let (dir, _journal) = empty();
    let mut hasty = open_with(&dir, schema::STEPS).unwrap();
    let other = raw(&dir);
    other.execute_batch("BEGIN IMMEDIATE").unwrap();
    check(
        hasty.put_pieces(&[piece("LB007")]),
        Kind::Journal,
        "in use by another program",
    );
    assert_eq!(hasty.pieces().unwrap(), [], "reading needs no wait");
    other.execute_batch("COMMIT").unwrap();
    hasty.put_pieces(&[piece("LB007")]).unwrap();
}

/// Each of SQLite's codes in its sentence; what cannot be brought about on every machine is handed in.
#[test]
fn troubles_have_sentences() {
    use rusqlite::ffi;
    let cases = [
        (ffi::SQLITE_BUSY, Kind::Journal, "in use"),
        (ffi::SQLITE_CORRUPT, Kind::Journal, "damaged"),
        (ffi::SQLITE_NOTADB, Kind::Journal, "not a journal"),
        (ffi::SQLITE_FULL, Kind::Machine, "no room"),
        (ffi::SQLITE_READONLY, Kind::Machine, "cannot be written"),
        (ffi::SQLITE_CANTOPEN, Kind::Machine, "cannot be written"),
        (ffi::SQLITE_IOERR, Kind::Machine, "disk failed"),
        (ffi::SQLITE_CONSTRAINT, Kind::Journal, "nothing was changed"),
    ];
    for (code, kind, word) in cases {
        let error = rusqlite::Error::SqliteFailure(ffi::Error::new(code), None);
        check::<()>(Err(trouble::told(Path::new("j"), error)), kind, word);
    }
}

#[test]
fn damage_is_found() {
    let (dir, mut journal) = empty();
    let pieces: Vec<Piece> = (0..500).map(|n| piece(&format!("P{n:03}"))).collect();
    journal.put_pieces(&pieces).unwrap();
    let ask = "SELECT rootpage FROM sqlite_schema WHERE name = 'pieces'";
    let page: u32 = journal.db.query_row(ask, [], |row| row.get(0)).unwrap();
    let page = page as usize;
    drop(journal);
    let mut bytes = fs::read(database(dir.path())).unwrap();
    bytes[(page - 1) * 4096..page * 4096].fill(0x5a);
    fs::write(database(dir.path()), bytes).unwrap();
    let journal = Journal::open(dir.path()).unwrap();
    check(journal.pieces(), Kind::Journal, "damaged");
    assert!(
        journal
            .check()
            .unwrap()
            .iter()
            .any(|finding| finding.serious)
    );
}
