//! What a note says of a piece.

use super::*;
use crate::journal::record::Setting;

#[test]
fn a_note_says_what_the_piece_is() {
    let photos = [photo(State::Dry, "2026-05-12T17:20:00", Basis::Tag)];
    let note = composed(&piece(), &photos, &Options::default()).unwrap();
    let says = [
        "LB003",
        "Piece of silk crepe de chine, 35 × 160 cm (14 × 63 in)",
        "It came out mostly moderate yellow, with moderate yellowish brown and bark.",
        "smokebush and walnut",
        "soaked in plant tannin, then in an iron salt, which bind",
        "Made in May 2026.",
        "62 %",
        "12 May 2026",
        "off by about 2.0 steps",
        "Plant colours can change with light, wear and washing.",
        "± 2.0",
    ];
    check(&note, &says, &["Please note", "blue box", "fresh"]);
    assert_eq!(
        note.alt(),
        "A piece of silk crepe de chine, mostly moderate yellow, with moderate yellowish brown and bark."
    );
    assert_eq!(
        flat(&note.short()),
        "Piece of silk crepe de chine, 35 × 160 cm (14 × 63 in). It came out mostly moderate yellow, with moderate yellowish \
         brown and bark. Printed with smokebush and walnut. Made in May 2026. Screens and lamps change what one sees. Plant \
         colours can change with light, wear and washing."
    );
}

#[test]
fn the_same_in_german() {
    let photos = [photo(State::Dry, "2026-05-12T17:20:00", Basis::Tag)];
    let note = composed(&piece(), &photos, &in_german()).unwrap();
    let says = [
        "Stück Seide (crepe de chine), 35 × 160 cm",
        "Es wurde überwiegend mittleres Gelb, dazu mittleres Gelbbraun und bark.",
        "ISCC-NBS: moderate yellow",
        "Entstanden im Mai 2026.",
        "12. Mai 2026",
        "um etwa 2,0 Schritte",
        "unsere Übersetzung",
    ];
    check(&note, &says, &["Made in", " in)", "step"]);
}

#[test]
fn the_studios_own_word_stands_first_and_the_standards_beneath() {
    let photos = [photo(State::Dry, "2026-05-12T17:20:00", Basis::Tag)];
    let old_gold = Own {
        name: "old gold".to_owned(),
        lab: Lab::new(71.0, 6.0, 45.0),
        within: 4.0,
    };
    let piece = piece();
    let known = Known {
        piece: &piece,
        photos: &photos,
        words: &[old_gold],
        issued: None,
    };
    let note = compose(&known, &Options::default()).unwrap();
    let first = &note.colours[0];
    assert_eq!((first.word.as_str(), first.own), ("old gold", true));
    assert_eq!(first.beneath.as_deref(), Some("moderate yellow"));
    assert_eq!(note.colours[1].beneath, None);
    check(&note, &["It came out mostly old gold,"], &[]);
}

#[test]
fn what_a_piece_is_called_is_what_the_sheet_says() {
    let photos = [photo(State::Dry, "2026-05-12T17:20:00", Basis::Tag)];
    let called = |item: &str, fibre: Option<&str>, weave: Option<&str>, wanted: &str| {
        let mut piece = piece();
        (piece.fibre, piece.weave) = (fibre.map(str::to_owned), weave.map(str::to_owned));
        (piece.width_cm, piece.length_cm) = (None, None);
        let item = Setting::Text(item.to_owned());
        piece.rounds[0].settings.insert("item".to_owned(), item);
        let note = composed(&piece, &photos, &Options::default()).unwrap();
        assert_eq!(note.cloth, wanted);
        check(&note, &[], &[]);
    };
    called("scarf", Some("silk"), Some("twill"), "Silk twill scarf");
    called("scarf", Some("silk"), None, "Silk scarf");
    called("scarf", None, None, "Scarf");
    called(" ", None, Some("habotai"), "Piece of habotai");
    called("", None, None, "");
}

#[test]
fn the_newest_photo_of_the_washed_cloth_counts() {
    let photos = [
        photo(State::Washed, "2026-05-20T10:00:00", Basis::Chart),
        photo(State::Dry, "2026-05-24T10:00:00", Basis::Tag),
        photo(State::Wet, "2026-06-01T10:00:00", Basis::Tag),
    ];
    let note = composed(&piece(), &photos, &Options::default()).unwrap();
    assert_eq!(note.state, State::Washed);
    check(&note, &["chart", "20 May 2026"], &["shows the cloth wet"]);
}

#[test]
fn a_round_after_the_photo_is_not_told() {
    let mut piece = piece();
    let mut second = piece.rounds[0].clone();
    second.round = 2;
    second.made = Some("2026-07-01".to_owned());
    second.plants[0].name = "sumac".to_owned();
    piece.rounds.push(second);
    let washed = photo(State::Washed, "2026-05-12T10:00:00", Basis::Tag);
    let again = photo(State::Dry, "2026-07-12T10:00:00", Basis::Tag);
    let note = |photos: &[Photo]| composed(&piece, photos, &Options::default()).unwrap();
    let before = note(std::slice::from_ref(&washed));
    check(&before, &["Made in May 2026"], &["sumac", "twice"]);
    // What was washed and then bundled again is no longer what was washed.
    let after = note(&[washed, again]);
    assert_eq!(after.state, State::Dry);
    check(&after, &["Made in July 2026", "sumac", "twice"], &[]);
}

#[test]
fn a_wet_photo_and_an_assumed_light_are_told() {
    let photos = [photo(State::Wet, "2026-05-12T10:00:00", Basis::Assumed)];
    let note = composed(&piece(), &photos, &Options::default()).unwrap();
    let says = ["dries lighter", "an estimate", "nothing of known colour"];
    check(&note, &says, &["chart of known"]);
    assert!(note.short().contains("dries lighter"), "{}", note.short());
    let note = composed(&piece(), &photos, &in_german()).unwrap();
    check(&note, &["wird er heller", "sind geschätzt"], &[]);
}

#[test]
fn without_a_measured_photo_there_is_no_note() {
    let mut empty = photo(State::Dry, "2026-05-12T10:00:00", Basis::Tag);
    empty.reading.swatches.clear();
    let error = composed(&piece(), &[empty], &Options::default()).unwrap_err();
    assert!(error.to_string().contains("LB003"), "{error}");
}

#[test]
fn what_the_sheet_must_not_promise_is_left_out_and_told() {
    let mut piece = piece();
    piece.fibre = Some("eco-friendly silk".to_owned());
    piece.rounds[0].plants[0].name = "healing sage".to_owned();
    let mut photos = [photo(State::Dry, "2026-05-12T10:00:00", Basis::Tag)];
    photos[0].reading.swatches[3].word = Some("organic gray".to_owned());
    let note = composed(&piece, &photos, &Options::default()).unwrap();
    let never = ["eco-", "healing", "organic"];
    let says = ["Piece of crepe de chine", "walnut", "brownish gray"];
    check(&note, &says, &never);
    assert_eq!(codes(&note), ["not-in-note"; 3]);
}

/// The photos of one piece wet, dry and washed, each of one grey; by hand: it dried 10 lighter and washed out by 2 more, which
/// is a ΔE_F of 2 and so grade 4 (1.25 to 2.10, ISO 105-A05).
#[test]
fn drying_and_washing_are_told_where_they_were_measured() {
    let grey = |state, taken: &str, l: f64, basis| {
        let mut photo = photo(state, taken, basis);
        photo.reading.swatches = vec![Swatch {
            doubt: Some(0.05),
            ..swatch([l, 0.0, 0.0], 1.0, None)
        }];
        photo
    };
    let mut photos = [
        grey(State::Wet, "2026-05-04T10:00:00", 50.0, Basis::Tag),
        grey(State::Dry, "2026-05-06T10:00:00", 60.0, Basis::Tag),
        grey(State::Washed, "2026-05-20T10:00:00", 62.0, Basis::Tag),
    ];
    photos[2].washes = Some(3);
    let note = |photos: &[Photo], options| composed(&piece(), photos, &options).unwrap();
    let says = [
        "became lighter by about 10.0 steps of 100 (from 9.2 to 10.8,",
        "After 3 washes of our own",
        "at grade 4 (from 3-4 to 4-5) of the grey scale",
    ];
    check(&note(&photos, Options::default()), &says, &[]);
    let says = ["um etwa 10,0 Schritte von 100", "Nach 3 eigenen Wäschen"];
    check(&note(&photos, in_german()), &says, &[]);
    photos[2].washes = Some(1);
    check(
        &note(&photos, Options::default()),
        &["After one wash of our own"],
        &[],
    );
    // A guessed light, and photos that are probably mixed up, measure nothing that a customer is to hear.
    for l in [60.0, 45.0] {
        let basis = if l > 50.0 { Basis::Assumed } else { Basis::Tag };
        let pair = [
            photos[0].clone(),
            grey(State::Dry, "2026-05-06T10:00:00", l, basis),
        ];
        let note = note(&pair, Options::default());
        assert_eq!(note.changes, Vec::<String>::new(), "{l}");
    }
}
