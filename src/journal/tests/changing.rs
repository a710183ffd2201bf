//! Entering, claiming, measuring again.

use super::*;
use crate::journal::record::{PlantUse, Soak, Told};
use crate::reading::State;

#[test]
fn piece_is_put_whole_and_keeps_its_photos() {
    let (_dir, mut journal) = empty();
    let mut first = piece("LB007");
    first.rounds[0].soaks = vec![Soak::default(), Soak::default()];
    first.rounds[0].plants = vec![PlantUse::default()];
    journal.put_pieces(&[first, piece("AA1")]).unwrap();
    journal
        .add_photo(&photo("a.jpg", b"a", Some("LB007")), Original::None)
        .unwrap();
    let second = Piece {
        fibre: None,
        price: Some(85.5),
        ..piece("LB007")
    };
    journal.put_pieces(std::slice::from_ref(&second)).unwrap();
    assert_eq!(journal.piece("LB007").unwrap(), Some(second.clone()));
    assert_eq!(journal.pieces().unwrap(), [piece("AA1"), second]);
    assert_eq!(journal.piece("LB7").unwrap(), None);
    assert_eq!(journal.photos_of("LB007").unwrap().len(), 1);
    let left: i64 = journal
        .db
        .query_row("SELECT count(*) FROM soaks", [], |row| row.get(0))
        .unwrap();
    assert_eq!(left, 0);
}

#[test]
fn all_pieces_are_put_or_none() {
    let (_dir, mut journal) = empty();
    journal.put_pieces(&[piece("LB007")]).unwrap();
    let before = journal.pieces().unwrap();
    let twice = Piece {
        rounds: vec![
            Round {
                round: 1,
                ..Round::default()
            };
            2
        ],
        ..piece("LB009")
    };
    check(
        journal.put_pieces(&[piece("LB008"), twice]),
        Kind::Caller,
        "rounds[1] is round 1 a second time",
    );
    assert_eq!(journal.pieces().unwrap(), before);
    let failing = "CREATE TEMP TRIGGER full BEFORE INSERT ON rounds WHEN new.piece = 'LB009'
        BEGIN SELECT RAISE(ABORT, 'no'); END";
    journal.db.execute_batch(failing).unwrap();
    let changed = Piece {
        fibre: None,
        ..piece("LB007")
    };
    check(
        journal.put_pieces(&[changed, piece("LB008"), piece("LB009")]),
        Kind::Journal,
        "nothing was changed",
    );
    assert_eq!(journal.pieces().unwrap(), before);
}

#[test]
fn values_that_are_none_are_refused() {
    let (_dir, mut journal) = empty();
    let cases = [
        (
            Piece {
                code: "a:b".to_owned(),
                ..Piece::default()
            },
            "cannot be a piece's code",
        ),
        (
            Piece {
                code: String::new(),
                ..Piece::default()
            },
            "cannot be a piece's code",
        ),
        (
            Piece {
                gsm: Some(f64::NAN),
                ..piece("A")
            },
            "gsm is not a number",
        ),
        (
            Piece {
                price: Some(f64::INFINITY),
                ..piece("A")
            },
            "price is not a number",
        ),
        (
            Piece {
                dry_g: Some(-1.0),
                ..piece("A")
            },
            "cannot be below 0",
        ),
    ];
    for (bad, word) in cases {
        check(journal.put_pieces(&[bad]), Kind::Caller, word);
    }
    let mut dark = photo("a.jpg", b"a", None);
    dark.reading.swatches[0].lab.l = f64::NAN;
    check(
        journal.add_photo(&dark, Original::None),
        Kind::Caller,
        "swatches[0].lab",
    );
    let mut half = photo("a.jpg", b"a", None);
    half.reading.swatches[0].share = 0.5;
    check(
        journal.add_photo(&half, Original::None),
        Kind::Caller,
        "sum to 0.5",
    );
    assert!(journal.photos().unwrap().is_empty() && journal.pieces().unwrap().is_empty());
}

#[test]
fn photo_may_come_before_its_piece() {
    let (_dir, mut journal) = empty();
    journal
        .add_photo(&photo("a.jpg", b"a", Some("LB007")), Original::None)
        .unwrap();
    let bare = Piece {
        code: "LB007".to_owned(),
        ..Piece::default()
    };
    assert_eq!(journal.pieces().unwrap(), [bare]);
    journal.put_pieces(&[piece("LB007")]).unwrap();
    assert_eq!(journal.pieces().unwrap(), [piece("LB007")]);
}

#[test]
fn claim_names_the_piece_and_the_state() {
    let (_dir, mut journal) = empty();
    journal
        .add_photo(&photo("a.jpg", b"a", None), Original::None)
        .unwrap();
    let id = journal.unclaimed().unwrap()[0].id.unwrap();
    journal.claim(id, "LB007", Some(State::Wet), None).unwrap();
    assert!(journal.unclaimed().unwrap().is_empty());
    journal.claim(id, "LB008", None, None).unwrap();
    let claimed = journal.photos_of("LB008").unwrap();
    assert_eq!((claimed.len(), claimed[0].state), (1, Some(State::Wet)));
    assert_eq!(
        journal.codes().unwrap(),
        ["LB008"],
        "of LB007 nothing was left"
    );
    check(
        journal.claim(id + 1, "LB009", None, None),
        Kind::Caller,
        "no photo number",
    );
    check(journal.claim(id, "LB:9", None, None), Kind::Caller, "“:”");
    assert_eq!(
        journal.codes().unwrap(),
        ["LB008"],
        "a failed claim enters no piece"
    );
}

/// A piece of which anything else is known stays without its photo.
#[test]
fn a_photo_is_taken_from_its_piece_and_set_aside() {
    let (_dir, mut journal) = empty();
    let cloth = Piece {
        weave: Some("habotai".to_owned()),
        ..Piece {
            fibre: None,
            rounds: vec![],
            ..piece("LB002")
        }
    };
    journal.put_pieces(&[piece("LB001"), cloth]).unwrap();
    journal
        .add_photo(&photo("a.jpg", b"a", Some("LB03")), Original::None)
        .unwrap();
    let id = journal.photos().unwrap()[0].id.unwrap();
    for code in ["LB001", "lb002", "LB04"] {
        journal.claim(id, code, None, None).unwrap();
    }
    assert_eq!(journal.codes().unwrap(), ["LB001", "LB002", "LB04"]);
    journal.unclaim(id, true).unwrap();
    assert_eq!(journal.codes().unwrap(), ["LB001", "LB002"]);
    let waits = |journal: &Journal| {
        let waiting = journal.unclaimed_newest(9).unwrap().0;
        (waiting, journal.set_aside_newest(9).unwrap().0)
    };
    assert_eq!(waits(&journal), (0, 1));
    let unnamed = |journal: &Journal| {
        let found = journal.check().unwrap();
        found.iter().any(|found| found.what.contains("nobody"))
    };
    assert!(!unnamed(&journal));
    // Said twice it is said once.
    journal.unclaim(id, true).unwrap();
    let cautions = &journal.photos().unwrap()[0].reading.cautions;
    assert_eq!(cautions.len(), 1, "{cautions:?}");
    journal.unclaim(id, false).unwrap();
    assert_eq!(waits(&journal), (1, 0));
    assert!(unnamed(&journal));
    journal.unclaim(id, true).unwrap();
    journal.claim(id, "LB001", None, None).unwrap();
    assert_eq!(waits(&journal), (0, 0));
    assert_eq!(journal.photos().unwrap()[0].reading.cautions, []);
    check(
        journal.unclaim(id + 1, true),
        Kind::Caller,
        "no photo number",
    );
}

#[test]
fn how_a_piece_stands_is_said_and_its_rounds_stay() {
    let (_dir, mut journal) = empty();
    journal.put_pieces(&[piece("LB001")]).unwrap();
    let said = Standing {
        status: Some("sold".to_owned()),
        price: Some(95.5),
        remarks: Some("for a wedding".to_owned()),
    };
    journal.say_standing("LB001", &said).unwrap();
    let kept = journal.piece("LB001").unwrap().unwrap();
    assert_eq!(kept.standing(), said);
    assert_eq!(kept.rounds, piece("LB001").rounds);
    journal.say_standing("LB001", &Standing::default()).unwrap();
    assert_eq!(journal.pieces().unwrap(), [piece("LB001")]);
    let below = Standing {
        price: Some(-1.0),
        ..said
    };
    check(
        journal.say_standing("LB001", &below),
        Kind::Caller,
        "below 0",
    );
    check(
        journal.say_standing("LB009", &Standing::default()),
        Kind::Caller,
        "No piece",
    );
}

#[test]
fn later_reading_counts_and_the_earlier_stay() {
    let (_dir, mut journal) = empty();
    for name in ["a", "b"] {
        journal
            .add_photo(&photo(name, name.as_bytes(), Some("LB007")), Original::None)
            .unwrap();
    }
    let id = journal.photos_named("a").unwrap()[0].id.unwrap();
    for method in ["2", "3", "3"] {
        journal.add_reading(id, &reading(method)).unwrap();
    }
    let photos = journal.photos().unwrap();
    assert_eq!(photos[0].reading, reading("3"));
    assert_eq!(photos[0].earlier, [reading("1"), reading("2")]);
    assert_eq!(
        (&photos[1].reading, photos[1].earlier.len()),
        (&reading("1"), 0)
    );
    check(
        journal.add_reading(99, &reading("2")),
        Kind::Caller,
        "no photo number 99",
    );
    // A reading that was made without what was told meanwhile is not kept; one that is sees what was said of the photo since.
    let outline = Told {
        outline: Some(vec![[0.0, 0.0], [9.0, 0.0], [9.0, 9.0]]),
        ..Told::default()
    };
    let anew = |journal: &mut Journal, before: &Told| {
        let mut seen = None;
        let kept = journal.read_anew(id, before, &outline, |now| {
            seen = now.piece.clone();
            reading("4")
        });
        (kept.unwrap(), seen)
    };
    journal.claim(id, "LB008", None, None).unwrap();
    assert_eq!(anew(&mut journal, &outline), (false, None));
    assert_eq!(
        anew(&mut journal, &Told::default()),
        (true, Some("LB008".to_owned()))
    );
    let photo = journal.photo(id).unwrap().expect("there");
    assert_eq!((photo.reading, &photo.told), (reading("4"), &outline));
    assert_eq!(anew(&mut journal, &Told::default()), (false, None));
    let counts = "SELECT count(*) FROM current_readings WHERE method = '3'";
    let current: i64 = journal.db.query_row(counts, [], |row| row.get(0)).unwrap();
    assert_eq!(current, 0, "the view agrees");
}

#[test]
fn photos_are_named_by_file_last_part_or_hash() {
    let (_dir, mut journal) = empty();
    for name in [
        "one.jpg",
        "june/one.jpg",
        "june/two.jpg",
        "may\\two.jpg",
        "stone.jpg",
    ] {
        journal
            .add_photo(&photo(name, name.as_bytes(), None), Original::None)
            .unwrap();
    }
    let hash = blake3::hash(b"stone.jpg").to_string();
    let cases: [(&str, &[&str]); 8] = [
        ("one.jpg", &["one.jpg"]),
        ("june/one.jpg", &["june/one.jpg"]),
        ("two.jpg", &["june/two.jpg", "may\\two.jpg"]),
        (&hash[..6], &["stone.jpg"]),
        (&hash.to_uppercase(), &["stone.jpg"]),
        (&hash[..5], &[]),
        ("%.jpg", &[]),
        ("", &[]),
    ];
    for (name, expected) in cases {
        let found = journal.photos_named(name).unwrap();
        let files: Vec<&str> = found
            .iter()
            .filter_map(|photo| photo.file.as_deref())
            .collect();
        assert_eq!(files, expected, "{name}");
    }
}

#[test]
fn studio_values_come_and_go() {
    let (_dir, mut journal) = empty();
    journal.set("paper", Some("95,0,-1")).unwrap();
    journal.set("unit", Some("C")).unwrap();
    journal.set("unit", Some("F")).unwrap();
    journal.set("paper", None).unwrap();
    let values: Vec<_> = journal.studio().unwrap().into_iter().collect();
    assert_eq!(values, [("unit".to_owned(), "F".to_owned())]);
}

#[test]
fn two_may_write_at_once() {
    let (dir, journal) = empty();
    std::thread::scope(|both| {
        for who in ["left", "right"] {
            let path = dir.path();
            both.spawn(move || {
                let mut mine = Journal::open(path).unwrap();
                for n in 0..40 {
                    let bytes = format!("{who} {n}").into_bytes();
                    // Every fourth is the same file in both.
                    let bytes = if n % 4 == 0 {
                        format!("both {n}").into_bytes()
                    } else {
                        bytes
                    };
                    mine.add_photo(
                        &photo(&format!("{n}.jpg"), &bytes, Some("LB007")),
                        jpg(&bytes),
                    )
                    .unwrap();
                }
            });
        }
    });
    assert_eq!(journal.photos().unwrap().len(), 30 + 30 + 10);
    assert_eq!(journal.check().unwrap(), []);
}

#[test]
fn two_edits_at_once_of_one_piece_both_count() {
    let (dir, mut journal) = empty();
    let mut first = piece("LB007");
    first.price = Some(0.0);
    journal.put_pieces(&[first]).unwrap();
    std::thread::scope(|both| {
        for _ in 0..2 {
            both.spawn(|| {
                let mut journal = Journal::open(dir.path()).unwrap();
                for _ in 0..20 {
                    let raise = |here: &[Piece]| {
                        let mut piece = here[0].clone();
                        piece.price = piece.price.map(|price| price + 1.0);
                        Ok((vec![piece], ()))
                    };
                    journal.edit_pieces(raise).unwrap();
                }
            });
        }
    });
    assert_eq!(journal.pieces().unwrap()[0].price, Some(40.0));
    let refusal =
        journal.edit_pieces(|_| Err::<(Vec<Piece>, ()), _>(crate::error::Error::caller("No.")));
    check(refusal, Kind::Caller, "No.");
}
