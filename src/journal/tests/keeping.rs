//! Photos' files, broken-off ingests, backups.

use super::*;
use crate::journal::connection::database;
use crate::journal::originals;
use std::fs;
use std::process::{Command, Stdio};

fn codes(findings: &[Finding]) -> Vec<(bool, &str)> {
    findings
        .iter()
        .map(|finding| (finding.serious, finding.what.as_str()))
        .collect()
}

/// The hash of no bytes stands in the test vectors of BLAKE3 (github.com/BLAKE3-team/BLAKE3, `test_vectors.json`, first case).
#[test]
fn copy_is_kept_under_its_hash() {
    const NOTHING: &str = "af1349b9f5f9a1a6a0404dea36dcc9499bcb25c9adc112b7cc9a93cae41f3262";
    let (dir, mut journal) = empty();
    let nothing = photo("empty.JPG", b"", None);
    let ending = "JPG";
    assert!(
        journal
            .add_photo(&nothing, Original::Copy { bytes: b"", ending })
            .unwrap()
    );
    assert!(
        !journal
            .add_photo(&nothing, Original::Copy { bytes: b"", ending })
            .unwrap()
    );
    assert!(journal.knows(NOTHING).unwrap() && !journal.knows(&NOTHING.replace('a', "b")).unwrap());
    let kept = dir.path().join(format!("photos/af/{NOTHING}.jpg"));
    assert_eq!(journal.original(&nothing).unwrap(), Some(kept.clone()));
    assert_eq!(
        journal.original(&journal.photos().unwrap()[0]).unwrap(),
        Some(kept.clone())
    );
    assert_eq!(fs::read(kept).unwrap(), b"");
    assert_eq!(journal.original(&photo("b", b"b", None)).unwrap(), None);
}

#[test]
fn odd_ending_leads_nowhere_else() {
    let (dir, mut journal) = empty();
    let original = Original::Copy {
        bytes: b"a",
        ending: "/../../x",
    };
    journal
        .add_photo(&photo("a", b"a", None), original)
        .unwrap();
    let kept = journal.original(&photo("a", b"a", None)).unwrap().unwrap();
    assert_eq!(
        kept.parent().unwrap().parent().unwrap(),
        dir.path().join("photos")
    );
    assert_eq!(
        journal
            .check()
            .unwrap()
            .iter()
            .filter(|finding| finding.serious)
            .count(),
        0
    );
}

#[test]
fn no_row_without_its_file() {
    let (dir, mut journal) = empty();
    check(
        journal.add_photo(&photo("a.jpg", b"a", None), jpg(b"b")),
        Kind::File,
        "changed while it was read",
    );
    // No folder can be made where a file is.
    fs::write(dir.path().join("photos"), b"in the way").unwrap();
    check(
        journal.add_photo(&photo("a.jpg", b"a", None), jpg(b"a")),
        Kind::Machine,
        "write the photo",
    );
    assert!(journal.photos().unwrap().is_empty());
}

#[test]
fn file_without_a_row_is_found_and_taken_up() {
    let (dir, mut journal) = empty();
    let claimed = photo("a.jpg", b"a", Some("LB007"));
    originals::settle(dir.path(), claimed.hash.as_deref(), jpg(b"a")).unwrap();
    let found = journal.check().unwrap();
    assert_eq!(found.len(), 1);
    assert!(
        !found[0].serious && found[0].what.contains(claimed.hash.as_deref().unwrap()),
        "{found:?}"
    );
    assert!(journal.add_photo(&claimed, jpg(b"a")).unwrap());
    assert_eq!(journal.check().unwrap(), []);
}

const INTO: &str = "JOURNAL_OF_THE_KILLED";

/// Adds photos until it is killed; only `a_kill_loses_nothing` starts it.
#[test]
#[ignore = "runs until it is killed"]
fn ingest_to_be_killed() {
    let Some(dir) = std::env::var_os(INTO) else {
        return;
    };
    let mut journal = Journal::open(Path::new(&dir)).unwrap();
    for n in 0_u64.. {
        let bytes = n.to_le_bytes().repeat(20_000);
        journal
            .add_photo(&photo(&n.to_string(), &bytes, Some("LB007")), jpg(&bytes))
            .unwrap();
    }
}

#[test]
fn a_kill_loses_nothing() {
    let (dir, journal) = empty();
    for round in 1..=5 {
        let mut victim = Command::new(std::env::current_exe().unwrap())
            .args([
                "--ignored",
                "--exact",
                "journal::tests::keeping::ingest_to_be_killed",
            ])
            .env(INTO, dir.path())
            .stdout(Stdio::null())
            .spawn()
            .unwrap();
        let before = journal.photos().unwrap().len();
        while journal.photos().unwrap().len() < before + round {
            assert!(
                victim.try_wait().unwrap().is_none(),
                "the ingest ended by itself"
            );
        }
        victim.kill().unwrap();
        victim.wait().unwrap();
        let serious: Vec<Finding> = journal
            .check()
            .unwrap()
            .into_iter()
            .filter(|finding| finding.serious)
            .collect();
        assert_eq!(serious, []);
    }
    // What was broken off can be finished.
    let count = journal.photos().unwrap().len() as u64;
    let mut journal = journal;
    for n in 0..=count {
        let bytes = n.to_le_bytes().repeat(20_000);
        let new = journal
            .add_photo(&photo(&n.to_string(), &bytes, Some("LB007")), jpg(&bytes))
            .unwrap();
        assert_eq!(new, n == count);
    }
    assert!(
        journal
            .photos()
            .unwrap()
            .iter()
            .all(|photo| photo.reading == reading("1"))
    );
}

#[test]
fn kept_files_lost_or_changed_are_found_and_mended() {
    let (_dir, mut journal) = empty();
    let [lost, spoiled] = [("lost.jpg", b"lost"), ("bad.jpg", b"evil")].map(|(name, bytes)| {
        let photo = photo(name, bytes, Some("LB007"));
        journal.add_photo(&photo, jpg(bytes)).unwrap();
        journal.original(&photo).unwrap().unwrap()
    });
    assert_eq!(journal.check().unwrap(), []);
    fs::remove_file(&lost).unwrap();
    fs::write(&spoiled, b"live").unwrap();
    let expected = [
        (true, "Kept photos are missing or cannot be read: lost.jpg."),
        (true, "Kept photos are no longer what they were: bad.jpg."),
    ];
    assert_eq!(codes(&journal.check().unwrap()), expected);
    fs::remove_file(&spoiled).unwrap();
    for (name, bytes) in [("lost.jpg", b"lost"), ("bad.jpg", b"evil")] {
        assert!(
            !journal
                .add_photo(&photo(name, bytes, None), jpg(bytes))
                .unwrap()
        );
    }
    assert_eq!(journal.check().unwrap(), []);
}

#[test]
fn photo_left_in_place_is_missed_when_it_moves() {
    let (_dir, mut journal) = empty();
    let album = tempfile::tempdir().unwrap();
    let (here, there) = (album.path().join("a.jpg"), album.path().join("moved.jpg"));
    fs::write(&here, b"a").unwrap();
    let shown = photo("a.jpg", b"a", Some("LB007"));
    let hash = shown.hash.clone().unwrap();
    journal.add_photo(&shown, Original::InPlace(&here)).unwrap();
    assert_eq!(journal.original(&shown).unwrap(), Some(here.clone()));
    assert_eq!(journal.check().unwrap(), []);
    fs::rename(&here, &there).unwrap();
    let gone = [(
        false,
        "Photos that were left in place are no longer there: a.jpg.",
    )];
    assert_eq!(codes(&journal.check().unwrap()), gone);
    assert!(journal.keep(&hash, Original::InPlace(&there)).unwrap());
    assert!(
        !journal.keep(&hash, Original::InPlace(&here)).unwrap(),
        "nothing is amiss any more"
    );
    assert_eq!(journal.check().unwrap(), []);
    fs::write(&there, b"b").unwrap();
    let edited = [(
        false,
        "Photos that were left in place have been changed: a.jpg.",
    )];
    assert_eq!(codes(&journal.check().unwrap()), edited);
}

#[test]
fn what_cannot_be_read_or_cannot_be_is_damage() {
    let cases = [
        (
            "DROP TABLE swatches",
            "holds something this program cannot read",
        ),
        (
            "UPDATE readings SET outline = 'a lasso'",
            "holds something this program cannot read",
        ),
        (
            "UPDATE swatches SET l = 1e999",
            "What stands under a.jpg cannot be right: swatches[0].lab",
        ),
        (
            "UPDATE pieces SET gsm = -1e999",
            "What stands under LB007 cannot be right: gsm",
        ),
    ];
    for (blow, told) in cases {
        let (_dir, mut journal) = empty();
        let shown = photo("a.jpg", b"a", Some("LB007"));
        journal.add_photo(&shown, jpg(b"a")).unwrap();
        assert_eq!(journal.check().unwrap(), []);
        journal.db.execute_batch(blow).unwrap();
        let findings = journal.check().unwrap();
        assert!(findings[0].serious, "{blow}");
        assert!(findings[0].what.contains(told), "{blow}: {findings:?}");
    }
}

#[test]
fn a_piece_is_found_in_any_capitals() {
    let (_dir, mut journal) = empty();
    let shown = photo("a.jpg", b"a", Some("LB007"));
    journal.add_photo(&shown, jpg(b"a")).unwrap();
    assert_eq!(journal.piece("lb007").unwrap().unwrap().code, "LB007");
    let id = journal.photos().unwrap()[0].id.unwrap();
    journal.claim(id, "lb007", None, None).unwrap();
    assert_eq!(journal.codes().unwrap(), ["LB007"]);
    assert_eq!(journal.photos_of("LB007").unwrap().len(), 1);
}

#[test]
fn what_waits_for_somebody_is_listed() {
    let (_dir, mut journal) = empty();
    for n in 0..5_u8 {
        journal
            .add_photo(&photo(&format!("{n}.jpg"), &[n], None), Original::None)
            .unwrap();
    }
    journal
        .db
        .execute_batch("DELETE FROM readings WHERE photo = 2")
        .unwrap();
    let expected = [
        (true, "Photos have no reading: 1.jpg."),
        (
            false,
            "Photos show a piece that nobody has named yet: 0.jpg, 1.jpg, 2.jpg and 2 more.",
        ),
        (
            false,
            "Photos came without their files: 0.jpg, 1.jpg, 2.jpg and 2 more.",
        ),
    ];
    assert_eq!(codes(&journal.check().unwrap()), expected);
    journal
        .db
        .execute_batch("PRAGMA foreign_keys = off; UPDATE photos SET piece = 'XX' WHERE id = 1; PRAGMA foreign_keys = on")
        .unwrap();
    let loose = [(
        true,
        "Rows that belong to nothing stand in the tables photos.",
    )];
    assert_eq!(codes(&journal.check().unwrap()), loose);
}

#[test]
fn backup_is_one_file_that_opens_by_itself() {
    let (dir, mut journal) = empty();
    journal.put_pieces(&[piece("LB007")]).unwrap();
    journal
        .add_photo(&photo("a.jpg", b"a", Some("LB007")), jpg(b"a"))
        .unwrap();
    let elsewhere = tempfile::tempdir().unwrap();
    let file = elsewhere.path().join("season.sqlite");
    // Another program in the middle of a change does not hold it up, and its half is not in it.
    let other = rusqlite::Connection::open(database(dir.path())).unwrap();
    other
        .execute_batch("BEGIN IMMEDIATE; UPDATE pieces SET fibre = 'wool'")
        .unwrap();
    journal.backup(&file).unwrap();
    drop(other);
    assert_eq!(
        fs::read_dir(elsewhere.path()).unwrap().count(),
        1,
        "no file beside it is needed"
    );
    check(journal.backup(&file), Kind::Caller, "already there");
    let nowhere = elsewhere
        .path()
        .join("no such folder")
        .join("season.sqlite");
    check(
        journal.backup(&nowhere),
        Kind::Machine,
        "could not be written",
    );

    let restored = tempfile::tempdir().unwrap();
    fs::copy(&file, database(restored.path())).unwrap();
    let restored = Journal::open(restored.path()).unwrap();
    assert_eq!(restored.export().unwrap(), journal.export().unwrap());
}
