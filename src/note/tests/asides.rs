//! What the studio is told of a note.

use super::*;
use crate::journal::Original;

/// The cautions of this code, as one text.
fn told(note: &Note, code: &str) -> String {
    let found = note.cautions.iter().filter(|caution| caution.code == code);
    found.map(|caution| caution.text.as_str()).collect()
}

#[test]
fn a_piece_bundled_again_since_its_photo_is_told() {
    let mut piece = piece();
    let mut second = piece.rounds[0].clone();
    (second.round, second.made) = (2, Some("2026-07-01".to_owned()));
    piece.rounds.push(second);
    let before = photo(State::Dry, "2026-05-12T10:00:00", Basis::Tag);
    let after = photo(State::Dry, "2026-07-12T10:00:00", Basis::Tag);
    let note = |photos: &[Photo]| composed(&piece, photos, &Options::default()).unwrap();
    let said = told(&note(std::slice::from_ref(&before)), "bundled-since");
    for words in ["2026-07-01", "2026-05-12", "ingest a photo"] {
        assert!(said.contains(words), "{said}");
    }
    assert_eq!(codes(&note(&[before, after])), [""; 0]);
}

#[test]
fn why_drying_is_left_out_is_told() {
    let check = |photos: &[Photo], why: &str| {
        let note = composed(&piece(), photos, &Options::default()).unwrap();
        let said = told(&note, "change-not-in-note");
        assert_eq!(said.is_empty(), why.is_empty(), "{said}");
        assert!(said.contains(why), "{said}");
    };
    let wet = grey(State::Wet, "2026-05-04T10:00:00", 50.0, 0.05);
    let dry = grey(State::Dry, "2026-05-06T10:00:00", 60.0, 0.05);
    check(std::slice::from_ref(&dry), "");
    check(&[wet.clone(), dry.clone()], "");
    let mut through = dry.clone();
    through.reading.cautions = vec![Caution::new("show-through", "It shows.")];
    check(&[wet.clone(), through], "lay it on white cotton");
    let alike = grey(State::Dry, "2026-05-06T10:00:00", 50.2, 2.0);
    check(&[wet.clone(), alike], "no more than its photos doubt");
    let darker = grey(State::Dry, "2026-05-06T10:00:00", 40.0, 0.05);
    check(&[wet, darker], "how it dried: ");
}

#[test]
fn a_word_that_a_colour_is_not_sure_enough_for_is_told() {
    let photos = [photo(State::Dry, "2026-05-12T17:20:00", Basis::Tag)];
    let piece = piece();
    let note = |within: f64| {
        let word = Own {
            name: "old gold".to_owned(),
            lab: Lab::new(71.0, 6.0, 46.0),
            within,
        };
        let known = Known {
            piece: &piece,
            photos: &photos,
            words: &[word],
            issued: None,
        };
        compose(&known, &Options::default()).unwrap()
    };
    check(&note(5.0), &["old gold"], &[]);
    let narrow = note(0.1);
    check(&narrow, &["moderate yellow"], &["old gold"]);
    let said = told(&narrow, "word-too-narrow");
    assert!(
        said.contains("± 2.0") && said.contains("reaches 0.1"),
        "{said}"
    );
}

#[test]
fn a_photo_that_has_gone_leaves_no_picture_and_is_told() {
    let dir = tempfile::tempdir().unwrap();
    let mut journal = Journal::open_or_create(dir.path()).unwrap();
    journal.put_pieces(&[piece()]).unwrap();
    let mut lost = photo(State::Dry, "2026-05-12T17:20:00", Basis::Tag);
    (lost.piece, lost.file) = (Some("LB003".to_owned()), Some("LB003-dry.jpg".to_owned()));
    lost.hash = Some("0".repeat(64));
    lost.reading.outline = Some(vec![[0.0, 0.0], [9.0, 0.0], [9.0, 9.0]]);
    journal.add_photo(&lost, Original::None).unwrap();
    let note = of_piece(&journal, &piece(), &Options::default()).unwrap();
    let said = told(&note, "picture-missing");
    assert!(
        said.contains("LB003-dry.jpg") && said.contains("filemot check"),
        "{said}"
    );
}

#[test]
fn washing_told_since_the_note_was_issued_is_told() {
    let piece = piece();
    let photos = [
        grey(State::Dry, "2026-05-06T10:00:00", 60.0, 0.05),
        grey(State::Washed, "2026-06-20T10:00:00", 62.0, 0.05),
    ];
    let note = |on: &str| {
        let mut issued = composed(&piece, &photos[..1], &Options::default())
            .unwrap()
            .told;
        issued.on = on.to_owned();
        let known = Known {
            piece: &piece,
            photos: &photos,
            words: &[],
            issued: Some(&issued),
        };
        compose(&known, &Options::default()).unwrap()
    };
    let since = note("2026-05-10");
    assert!(
        told(&since, "changes-since").contains("2026-05-10"),
        "{:?}",
        since.cautions
    );
    check(&since, &["grade"], &[]);
    assert_eq!(told(&note("2026-07-01"), "changes-since"), "");
}
