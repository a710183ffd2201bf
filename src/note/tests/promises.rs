//! What a note never says, whatever the sheet, the journal and an import hold.

use super::*;
use crate::journal::record::{IssuedColour, Setting};

fn dry() -> [Photo; 1] {
    [photo(State::Dry, "2026-05-12T17:20:00", Basis::Tag)]
}

/// The note of the piece says these words and never those, and tells the studio so much.
#[track_caller]
fn check_promise(piece: &Piece, says: &[&str], never: &[&str], told: &[&str]) {
    for options in [Options::default(), in_german()] {
        let note = composed(piece, &dry(), &options).unwrap();
        // Words that meet in one language stand apart in another.
        let (says, told) = match options.language {
            Language::English => (says, told),
            Language::German => (&[][..], &[][..]),
        };
        check(&note, says, never);
        let json = serde_json::to_value(&note).unwrap();
        for (field, value) in json.as_object().unwrap() {
            let printed = field != "cautions";
            assert!(
                !printed || must_not_say(&value.to_string()).is_none(),
                "{field}: {value}"
            );
        }
        for code in told {
            assert!(codes(&note).contains(code), "{code}: {:?}", note.cautions);
        }
    }
}

#[test]
fn a_code_that_promises_gives_way_to_the_cloth() {
    let mut piece = piece();
    piece.code = "lightfast-gold".to_owned();
    check_promise(&piece, &[], &["lightfast"], &["code-not-in-note"]);
    let note = composed(&piece, &dry(), &Options::default()).unwrap();
    assert_eq!(note.code, "Piece of silk crepe de chine");
    assert_eq!(note.file_stem(), "Piece-of-silk-crepe-de-chine-note");
    assert_eq!(note.told.piece, "lightfast-gold");
}

#[test]
fn words_that_promise_together_are_left_out() {
    let joined = |fibre: &str, weave: &str, item: &str| {
        let mut piece = piece();
        (piece.fibre, piece.weave) = (Some(fibre.to_owned()), Some(weave.to_owned()));
        let item = Setting::Text(item.to_owned());
        piece.rounds[0].settings.insert("item".to_owned(), item);
        piece
    };
    let told = ["not-in-note"];
    let never = ["free scarf", "fast silk", "chemical free"];
    check_promise(
        &joined("silk", "chemical", "free scarf"),
        &["chemical"],
        &never,
        &told,
    );
    check_promise(&joined("colour", "fast silk", "scarf"), &[], &never, &told);
    let mut plants = piece();
    plants.rounds[0].plants[0].name = "chemical".to_owned();
    plants.rounds[0].plants[1].name = "free leaf".to_owned();
    let (chemical, more) = (plants.rounds[0].plants[0].clone(), "birch".to_owned());
    let birch = PlantUse {
        name: more,
        ..chemical
    };
    plants.rounds[0].plants.push(birch);
    check_promise(
        &plants,
        &["soaked in"],
        &["and free leaf", "chemical, free"],
        &[],
    );
}

#[test]
fn colours_whose_words_promise_together_have_the_standards() {
    let mut photos = dry();
    photos[0].reading.swatches[0].word = Some("light".to_owned());
    photos[0].reading.swatches[1].word = Some("fast gold".to_owned());
    photos[0].reading.swatches[2].word = Some("light".to_owned());
    let note = composed(&piece(), &photos, &Options::default()).unwrap();
    check(&note, &["moderate yellow"], &["fast gold"]);
    assert_eq!(codes(&note), ["not-in-note"]);
}

/// A word that only today's note would have had to leave out is no news of a note that keeps others.
#[test]
fn what_an_issued_note_does_not_say_is_not_told_of_it() {
    let piece = piece();
    let issued = composed(&piece, &dry(), &Options::default()).unwrap().told;
    let promising = [Own {
        name: "lightfast gold".to_owned(),
        lab: Lab::new(71.0, 6.0, 46.0),
        within: 5.0,
    }];
    let photos = dry();
    let codes_of = |issued| {
        let known = Known {
            piece: &piece,
            photos: &photos,
            words: &promising,
            issued,
        };
        let note = compose(&known, &Options::default()).unwrap();
        note.cautions
            .into_iter()
            .map(|c| c.code)
            .collect::<Vec<_>>()
    };
    let issued = Issued {
        on: "2026-05-20".to_owned(),
        ..issued
    };
    assert_eq!(codes_of(None), ["not-in-note"]);
    assert_eq!(codes_of(Some(&issued)), [""; 0]);
}

#[test]
fn what_was_issued_elsewhere_promises_nothing_here() {
    let colour = |word: &str, standard: &str, share| IssuedColour {
        word: word.to_owned(),
        standard: standard.to_owned(),
        lab: Lab::new(71.0, 6.0, 46.0),
        share,
        doubt: Some(1.0),
    };
    let issued = Issued {
        piece: "LB003".to_owned(),
        on: "2026-05-20".to_owned(),
        photo: None,
        taken: Some("2026-05-12".to_owned()),
        state: Some(State::Dry),
        basis: Some(Basis::Tag),
        colours: vec![
            colour("lightfast gold", "moderate yellow", 0.5),
            colour("old gold", "colourfast yellow", 0.3),
            colour("permanent rust", "non-toxic brown", 0.2),
        ],
    };
    let piece = piece();
    let known = Known {
        piece: &piece,
        photos: &dry(),
        words: &[],
        issued: Some(&issued),
    };
    let note = compose(&known, &Options::default()).unwrap();
    let words: Vec<&str> = note.colours.iter().map(|c| c.word.as_str()).collect();
    assert_eq!(words, ["moderate yellow", "old gold", "moderate yellow"]);
    let never = ["lightfast", "colourfast", "permanent", "toxic"];
    check(&note, &["old gold"], &never);
    let left = codes(&note)
        .into_iter()
        .filter(|code| *code == "not-in-note");
    assert_eq!(left.count(), 4);
}

#[test]
fn a_bundle_that_promises_has_a_cover_without_its_name() {
    let batch = |bundle: &str| Batch {
        bundle: Some(bundle.to_owned()),
        language: Language::English,
    };
    assert_eq!(batch("B01").printed(), Some("B01"));
    assert_eq!(batch("Lightfast reds").printed(), None);
    let messages = Messages::of(Language::English);
    assert_eq!(batch("Lightfast reds").title(&messages), "Notes");
    let note = composed(&piece(), &dry(), &Options::default()).unwrap();
    let title = |bundle: &str| {
        let pdf = pdf(&[note.clone(), note.clone()], &batch(bundle), Paper::A4).unwrap();
        String::from_utf8_lossy(&pdf).contains("Notes of the bundle B01")
    };
    assert!(title("B01") && !title("Lightfast reds"));
}
