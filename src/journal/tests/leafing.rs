//! Leafing through a journal, and what waits for a hand.

use super::*;
use crate::error::Caution;
use crate::journal::record::{PlantUse, Soak};
use crate::reading::{Part, State};

fn made(code: &str, mordant: &str, plant: &str) -> Piece {
    let mut piece = piece(code);
    piece.rounds[0].soaks = vec![Soak {
        mordant: mordant.to_owned(),
        ..Soak::default()
    }];
    piece.rounds[0].plants = vec![PlantUse {
        name: plant.to_owned(),
        how: vec![],
    }];
    piece
}

#[test]
fn pieces_are_found_by_words_newest_photo_first() {
    let (_dir, mut journal) = empty();
    let pieces = [
        made("LB001", "alum", "walnut"),
        made("LB002", "iron", "walnut"),
        made("LB003", "alum", "birch"),
        made("LB004", "alum", "oak"),
    ];
    journal.put_pieces(&pieces).unwrap();
    for (code, taken) in [
        ("LB002", "2026-05-01"),
        ("LB003", "2026-07-01"),
        ("LB002", "2026-06-01"),
    ] {
        let mut photo = photo(&format!("{code}-{taken}.jpg"), taken.as_bytes(), Some(code));
        photo.taken = Some(format!("{taken}T10:00:00"));
        photo.reading.swatches[0].word = Some("Deep 50% olive".to_owned());
        journal.add_photo(&photo, Original::None).unwrap();
    }
    let check = |words: &[&str], skip: usize, most: usize, count: usize, codes: &[&str]| {
        let words: Vec<String> = words.iter().map(|word| (*word).to_owned()).collect();
        let found = journal.shelf(&words, skip, most).unwrap();
        assert_eq!(
            (found.count, found.codes),
            (count, codes.iter().map(|c| (*c).to_owned()).collect()),
            "{words:?}"
        );
    };
    check(&[], 0, 9, 4, &["LB003", "LB002", "LB001", "LB004"]);
    check(&[], 1, 2, 4, &["LB002", "LB001"]);
    check(&[], 9, 2, 4, &[]);
    check(&["WALNUT"], 0, 9, 2, &["LB002", "LB001"]);
    check(&["walnut", "alum"], 0, 9, 1, &["LB001"]);
    check(&["lb00"], 0, 1, 4, &["LB003"]);
    check(&["olive"], 0, 9, 2, &["LB003", "LB002"]);
    // What commands a database elsewhere is a word like any other.
    check(&["%"], 0, 9, 2, &["LB003", "LB002"]);
    check(&["_"], 0, 9, 0, &[]);
    check(&["' OR 1 --"], 0, 9, 0, &[]);
    let asked = ["LB003", "nobody", "LB001"].map(str::to_owned);
    assert_eq!(
        journal.pieces_coded(&asked).unwrap(),
        [pieces[2].clone(), pieces[0].clone()]
    );
}

/// Whole words win; only what nothing is called is looked for within words.
#[test]
fn whole_words_win() {
    let (_dir, mut journal) = empty();
    let soaked = |code: &str, mordants: &[&str], on: &str| {
        let mut piece = made(code, "", "birch");
        piece.rounds[0].made = Some(on.to_owned());
        let soak = |mordant: &&str| Soak {
            mordant: (*mordant).to_owned(),
            ..Soak::default()
        };
        piece.rounds[0].soaks = mordants.iter().map(soak).collect();
        piece
    };
    let pieces = [
        soaked("LB001", &["tannin", "alum"], "2026-05-03"),
        soaked("LB002", &["aluminium acetate"], "2026-06-04"),
        soaked("LB003", &["alum", "tannin"], "2025-05-09"),
    ];
    journal.put_pieces(&pieces).unwrap();
    for (code, state, word) in [
        ("LB001", State::Dry, "moderate yellow"),
        ("LB002", State::Washed, "dark grayish yellowish brown"),
        ("LB003", State::Washed, "light gray"),
    ] {
        let mut photo = photo(&format!("{code}.jpg"), code.as_bytes(), Some(code));
        photo.state = Some(state);
        photo.reading.swatches[0].word = Some(word.to_owned());
        photo.reading.swatches[0].lab = Lab::new(f64::from(code.as_bytes()[4] - b'0'), 0.0, 0.0);
        journal.add_photo(&photo, Original::None).unwrap();
    }
    let darkest = |lab: Lab, doubt: Option<f64>| lab.l < 1.5 && doubt.is_none();
    let shades = [Shade {
        name: "Old Gold",
        holds: &darkest,
    }];
    for (words, codes) in [
        (&["alum"][..], &["LB001", "LB003"][..]),
        (&["alumin"], &["LB002"]),
        (&["alu"], &["LB001", "LB002", "LB003"]),
        (&["tannin > alum"], &["LB001"]),
        (&["Alum > Tannin"], &["LB003"]),
        (&["yellows"], &["LB001"]),
        (&["yellowish"], &["LB002"]),
        (&["grey"], &["LB003"]),
        (&["greyish"], &["LB002"]),
        (&["washed"], &["LB002", "LB003"]),
        (&["May"], &["LB001", "LB003"]),
        (&["may", "2025"], &["LB003"]),
        (&["june"], &["LB002"]),
        (&["2026-05-03"], &["LB001"]),
        (&["old", "gold"], &["LB001"]),
        (&["gold", "tannin"], &["LB001"]),
        (&["golds"], &["LB001"]),
        (&["december"], &[]),
        (&["s"], &["LB001", "LB002", "LB003"]),
    ] {
        let words: Vec<String> = words.iter().map(|word| (*word).to_owned()).collect();
        let found = journal.find_shelf(&words, &shades, 0, 9).unwrap();
        assert_eq!(found.codes, codes, "{words:?}");
        assert_eq!(found.count, codes.len(), "{words:?}");
    }
}

#[test]
fn photos_wait_until_their_word_is_said() {
    let (_dir, mut journal) = empty();
    for name in ["a", "b", "c"] {
        let mut photo = photo(name, name.as_bytes(), None);
        photo.state = Some(State::Dry);
        photo.reading.cautions = vec![Caution::new(crate::reading::TAKEN_AS_DRY, "Taken as dry.")];
        journal.add_photo(&photo, Original::None).unwrap();
    }
    let (count, newest) = journal.unclaimed_newest(2).unwrap();
    let names: Vec<_> = newest
        .iter()
        .filter_map(|photo| photo.file.as_deref())
        .collect();
    assert_eq!((count, names), (3, vec!["c", "b"]));
    let id = newest[0].id.unwrap();
    journal.claim(id, "LB001", Some(State::Wet), None).unwrap();
    assert_eq!(journal.unclaimed_newest(9).unwrap().0, 2);
    let in_doubt = |journal: &Journal| {
        let found = journal.cautioned(crate::reading::TAKEN_AS_DRY, 9);
        found.unwrap().0
    };
    // Which piece the others show is asked first.
    assert_eq!(in_doubt(&journal), 0);
    let other = newest[1].id.unwrap();
    journal.claim(other, "LB002", None, None).unwrap();
    assert_eq!(in_doubt(&journal), 1);
    // A caution of an earlier reading is nobody's business any more.
    journal.add_reading(other, &reading("2")).unwrap();
    assert_eq!(in_doubt(&journal), 0);
}

#[test]
fn a_colour_is_marked_in_the_reading_that_counts() {
    let (_dir, mut journal) = empty();
    journal
        .add_photo(&photo("a", b"a", Some("LB001")), Original::None)
        .unwrap();
    let id = journal.photos().unwrap()[0].id.unwrap();
    journal.add_reading(id, &reading("2")).unwrap();
    journal
        .mark(id, 0, Some(Part::Print), Some(" Walnut "))
        .unwrap();
    let photo = journal.photo(id).unwrap().unwrap();
    let said = |reading: &Reading| (reading.swatches[0].part, reading.swatches[0].plant.clone());
    assert_eq!(
        said(&photo.reading),
        (Some(Part::Print), Some("walnut".to_owned()))
    );
    assert_eq!(said(&photo.earlier[0]), (None, None));
    journal.mark(id, 0, None, None).unwrap();
    assert_eq!(
        said(&journal.photo(id).unwrap().unwrap().reading),
        (None, None)
    );
    check(
        journal.mark(id, 1, None, None),
        Kind::Caller,
        "no such colour",
    );
    check(
        journal.mark(99, 0, None, None),
        Kind::Caller,
        "no such colour",
    );
    assert_eq!(journal.photo(99).unwrap(), None);
}
