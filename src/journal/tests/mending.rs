//! What questions look at, lost or damaged by another hand, is found out and mended.

use super::*;
use crate::reading::State;

fn dry_photos() -> (TempDir, Journal) {
    let (dir, mut journal) = empty();
    journal.put_pieces(&[piece("LB007")]).unwrap();
    for bytes in [&b"a"[..], b"b", b"c"] {
        let photo = Photo {
            state: Some(State::Dry),
            ..photo("a.jpg", bytes, Some("LB007"))
        };
        journal.add_photo(&photo, jpg(bytes)).unwrap();
    }
    (dir, journal)
}

fn colours(journal: &Journal) -> Vec<f64> {
    let gist = journal.gist(&[State::Dry]).unwrap();
    let lightness = |photo| gist.colours(photo)[0].lab.l;
    gist.photos.iter().map(lightness).collect()
}

const DAMAGES: [&str; 4] = [
    "DELETE FROM glances",
    "DELETE FROM glances WHERE photo = 2",
    "UPDATE glances SET colours = zeroblob(40) WHERE photo = 2",
    "INSERT INTO glances SELECT 'dry', piece, 99, washes, taken, basis, cautions, colours, parts, plants FROM glances LIMIT 1",
];

#[test]
fn a_question_mends_what_it_looks_at() {
    for damage in DAMAGES {
        let (_dir, journal) = dry_photos();
        journal.db.execute_batch(damage).unwrap();
        assert_eq!(colours(&journal), [62.5; 3], "{damage}");
        let found = journal.check().unwrap();
        assert!(
            found.iter().all(|found| !found.what.contains("questions")),
            "{found:?}"
        );
    }
}

/// Where not even a mark was left, as by a disk.
#[test]
fn a_check_mends_and_tells_what_no_mark_was_left_of() {
    for (damage, photos) in
        DAMAGES
            .into_iter()
            .zip(["3 photos", "one photo", "one photo", "one photo"])
    {
        let (_dir, journal) = dry_photos();
        journal.db.execute_batch(damage).unwrap();
        journal.db.execute_batch("DELETE FROM glances_due").unwrap();
        assert_ne!(colours(&journal), [62.5; 3], "{damage}");
        let found = journal.check().unwrap();
        assert!(
            found[0].serious
                && found[0].what.contains(photos)
                && found[0].advice.contains("Ask again"),
            "{damage}: {found:?}"
        );
        assert_eq!(colours(&journal), [62.5; 3], "{damage}");
        assert!(
            journal.check().unwrap().iter().all(|found| !found.serious),
            "{damage}"
        );
    }
}
