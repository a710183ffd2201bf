//! Sentences that were false, or hung in the air, and must not come back; and what a listing keeps when room is short.

use super::*;
use crate::journal::record::Setting;

fn dry() -> Photo {
    photo(State::Dry, "2026-05-12T17:20:00", Basis::Tag)
}

fn told(piece: &Piece, photos: &[Photo], options: Options) -> Note {
    composed(piece, photos, &options).unwrap()
}

#[test]
fn a_wet_photo_is_not_called_the_only_one() {
    let wet = |day: &str| photo(State::Wet, day, Basis::Tag);
    let photos = [wet("2026-05-12T10:00:00"), wet("2026-05-13T10:00:00")];
    let says = "These colours were measured on the wet cloth. It dries lighter";
    check(
        &told(&piece(), &photos, Options::default()),
        &[says],
        &["only photo"],
    );
    let says = "Diese Farben sind am nassen Stoff gemessen. Beim Trocknen";
    check(
        &told(&piece(), &photos, in_german()),
        &[says],
        &["einzige Foto"],
    );
    let worn = [photo(State::Worn, "2026-05-12T10:00:00", Basis::Tag)];
    let note = told(
        &piece(),
        &[worn[0].clone(), photos[0].clone()],
        Options::default(),
    );
    check(
        &note,
        &["measured after the cloth was worn."],
        &["only photo"],
    );
}

#[test]
fn nothing_is_said_to_be_before_nothing() {
    let mut bare = piece();
    bare.rounds[0].plants.clear();
    let check = |piece: &Piece, says: &str, german: &str, never: &[&str]| {
        check(&told(piece, &[dry()], Options::default()), &[says], never);
        check(&told(piece, &[dry()], in_german()), &[german], never);
    };
    let says = "The cloth was soaked in plant tannin, then in an iron salt, which bind";
    let german = "Der Stoff wurde mit Pflanzengerbstoff, dann mit einem Eisensalz gebeizt";
    check(&bare, says, german, &["Before that", "Zuvor"]);
    check(
        &piece(),
        "Before that the cloth",
        "Zuvor wurde der Stoff",
        &[],
    );
    // Two rounds of which nothing else is known went through nothing that was told.
    bare.rounds[0].soaks.clear();
    bare.rounds.push(bare.rounds[0].clone());
    check(&bare, "Made in May", "Entstanden im", &["twice", "zweimal"]);
}

#[test]
fn what_one_column_says_the_next_does_not_say_again() {
    let called = |[fibre, weave, item]: [&str; 3], english: &str, german: &str| {
        let mut piece = piece();
        (piece.fibre, piece.weave) = (Some(fibre.to_owned()), Some(weave.to_owned()));
        (piece.width_cm, piece.length_cm) = (None, None);
        let item = Setting::Text(item.to_owned());
        piece.rounds[0].settings.insert("item".to_owned(), item);
        assert_eq!(told(&piece, &[dry()], Options::default()).cloth, english);
        assert_eq!(told(&piece, &[dry()], in_german()).cloth, german);
    };
    called(
        ["silk", "silk twill", "silk scarf"],
        "Silk twill scarf",
        "Scarf aus Seide (twill)",
    );
    called(
        ["Silk", "twill", "Silk Twill"],
        "Piece of Silk twill",
        "Stück Seide (twill)",
    );
    called(
        ["wool", "twill of wool", ""],
        "Piece of twill of wool",
        "Stück twill of wool",
    );
    called(
        ["Seide", "Twill", "Seidenschal"],
        "Twill Seidenschal",
        "Seidenschal aus Twill",
    );
    called(["silk", "silk", "shawl"], "Silk shawl", "Shawl aus Seide");
}

#[test]
fn a_plant_is_told_once_however_it_was_written() {
    let mut piece = piece();
    let plant = |name: &str| PlantUse {
        name: name.to_owned(),
        how: vec![],
    };
    let names = ["walnut", "Walnut", "WALNUT LEAVES", "walnut hulls", "Leaf"];
    piece.rounds[0].plants = names.map(plant).into();
    let note = told(&piece, &[dry()], Options::default());
    check(
        &note,
        &["those of walnut, walnut hulls and Leaf, laid"],
        &[],
    );
    let short = "Printed with walnut, walnut hulls and Leaf.";
    assert!(note.short().contains(short), "{}", note.short());
}

#[test]
fn a_size_is_told_in_digits_that_say_something() {
    let size = |width: f64, length: f64| {
        let mut piece = piece();
        (piece.fibre, piece.weave) = (None, None);
        (piece.width_cm, piece.length_cm) = (Some(width), Some(length));
        told(&piece, &[dry()], Options::default()).cloth
    };
    let plain = |text: &str| text.replace('\u{a0}', " ");
    // An inch is 2.54 cm (international yard and pound, 1959).
    assert_eq!(plain(&size(0.5, 160.0)), "0.5 × 160 cm (0.20 × 63 in)");
    assert_eq!(plain(&size(12.0, 25.4)), "12 × 25.4 cm (4.7 × 10 in)");
    assert_eq!(size(0.01, 160.0), "");
}

#[test]
fn a_heading_fits_what_stands_under_it() {
    let wet = grey(State::Wet, "2026-05-04T10:00:00", 50.0, 0.05);
    let dry = grey(State::Dry, "2026-05-06T10:00:00", 60.0, 0.05);
    let washed = grey(State::Washed, "2026-05-20T10:00:00", 62.0, 0.05);
    let says = |photos: &[&Photo], english: &str, german: &str| {
        let photos: Vec<Photo> = photos.iter().copied().cloned().collect();
        for (options, says) in [(Options::default(), english), (in_german(), german)] {
            let text = told(&piece(), &photos, options).text();
            let heading = |line: &str| line.starts_with("What ") || line.starts_with("Was ");
            let heading = text.lines().find(|line| heading(line));
            assert_eq!(heading.unwrap_or_default(), says);
        }
    };
    says(
        &[&wet, &dry],
        "What drying changed",
        "Was das Trocknen änderte",
    );
    says(
        &[&dry, &washed],
        "What washing changed",
        "Was das Waschen änderte",
    );
    says(
        &[&wet, &dry, &washed],
        "What drying and washing changed",
        "Was Trocknen und Waschen änderten",
    );
    says(&[&dry], "", "");
}

#[test]
fn a_grade_that_could_be_any_is_not_told() {
    let photos = |doubt| {
        [
            grey(State::Dry, "2026-05-06T10:00:00", 60.0, doubt),
            grey(State::Washed, "2026-05-20T10:00:00", 64.0, doubt),
        ]
    };
    let says = ["How much washing changed the cloth cannot be told from our photos yet."];
    let note = told(&piece(), &photos(6.0), Options::default());
    check(&note, &says, &["grade", "from 1"]);
    check(
        &told(&piece(), &photos(6.0), in_german()),
        &["noch nicht sagen."],
        &["Stufe"],
    );
    let note = told(&piece(), &photos(0.3), Options::default());
    check(&note, &["was at grade"], &["cannot be told"]);
}

/// Whatever a listing leaves out, it has its colours, its warnings, and that colours change.
#[test]
fn a_listing_keeps_its_colours() {
    let word = |n: usize| format!("{n} Regenbogenfarbenlangwortganzohne");
    for options in [Options::default(), in_german()] {
        for state in [State::Dry, State::Wet] {
            let mut photo = photo(state, "2026-05-12T10:00:00", Basis::Assumed);
            let six = [0.3, 0.2, 0.2, 0.15, 0.1, 0.05].into_iter().enumerate();
            let six = six.map(|(n, share)| swatch(lab(n), share, Some(&word(n)[..32])));
            photo.reading.swatches = six.collect();
            let note = told(&piece(), &[photo], options);
            let short = note.short();
            assert!(short.chars().count() <= text::SHORT, "{short}");
            let screens = Messages::of(options.language).say(Key::ScreensShort);
            let always = note.warnings.iter().chain([&note.fading, &screens]);
            for said in always.chain([&word(0)[..32].to_owned()]) {
                assert!(short.contains(said), "no “{said}” in {short}");
            }
            assert_eq!(must_not_say(&short), None);
            if state == State::Dry {
                assert!(short.contains(&note.cloth), "{short}");
                assert!(short.contains(&word(2)[..32]), "{short}");
            }
        }
    }
}
