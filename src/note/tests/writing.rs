//! Notes as files: pages, paper, pictures; and sentences of any piece.

use super::*;
use crate::colour::de00;
use crate::draw::png;
use proptest::collection::vec;
use proptest::option::of;
use proptest::prelude::*;
use proptest::sample::select;

pub(super) fn dry() -> [Photo; 1] {
    [photo(State::Dry, "2026-05-12T17:20:00", Basis::Tag)]
}

/// A picture of one grey.
pub(super) fn picture(width: usize, height: usize) -> Option<Picture<[u8; 3]>> {
    Some(Picture {
        width,
        height,
        pixels: vec![[120; 3]; width * height],
    })
}

#[test]
fn markup_in_a_sheet_stays_text() {
    let mut piece = piece();
    piece.weave = Some("<script>alert(1)</script>".to_owned());
    piece.code = "A/B \"<1>\"".to_owned();
    let mut note = composed(&piece, &dry(), &Options::default()).unwrap();
    note.picture = picture(8, 4);
    let html = note.html().unwrap();
    assert!(!html.contains("<script") && !html.contains("<1>"), "{html}");
    assert_eq!(note.file_stem(), "A-B---1---note");
}

#[test]
fn a_page_needs_nothing_from_elsewhere() {
    let mut note = composed(&piece(), &dry(), &in_german()).unwrap();
    note.picture = picture(8, 4);
    let html = note.html().unwrap();
    for outside in ["http", "url(", "<script", "<link", "@import"] {
        assert!(!html.contains(outside), "{outside}");
    }
    // RFC 4648: the bytes FF D8 FF, with which a JPEG begins (ISO/IEC 10918-1), in base 64, worked by hand.
    assert!(html.contains("data:image/jpeg;base64,/9j/"));
    assert!(html.contains("lang=\"de\"") && html.contains("alt=\"Stück Seide"));
}

#[test]
fn lines_of_text_are_at_most_72_letters() {
    for options in [Options::default(), in_german()] {
        let note = composed(&piece(), &dry(), &options).unwrap();
        for line in note.text().lines() {
            assert!(line.chars().count() <= 72, "{line}");
        }
    }
}

/// Width and height of a PDF's pages in points, as they stand in it: ISO 32000-1, 7.7.3.3, `MediaBox`.
pub(super) fn pages(pdf: &[u8]) -> Vec<[f64; 2]> {
    let text = String::from_utf8_lossy(pdf);
    let boxes = text.split("/MediaBox").skip(1).map(|rest| {
        let inside = rest.split(['[', ']']).nth(1).unwrap();
        let numbers: Vec<f64> = inside
            .split_whitespace()
            .map(|n| n.parse().unwrap())
            .collect();
        [numbers[2], numbers[3]]
    });
    boxes.collect()
}

/// A6 and A4 by ISO 216, US Letter 8.5 by 11 in; a point is 1/72 in. Each front has its back.
#[test]
fn cards_come_one_or_four_to_a_sheet() {
    let notes: Vec<Note> = (0..5)
        .map(|_| composed(&piece(), &dry(), &Options::default()).unwrap())
        .collect();
    let check = |notes: &[Note], paper, number: usize, [width, height]: [f64; 2]| {
        let pages = pages(&pdf(notes, &Batch::default(), paper).unwrap());
        assert_eq!(pages.len(), number);
        for [w, h] in pages {
            assert!(
                (w - width).abs() < 0.1 && (h - height).abs() < 0.1,
                "{w} {h}"
            );
        }
    };
    check(&notes[..1], Paper::A6, 2, [297.64, 419.53]);
    check(&notes, Paper::A4, 4, [595.28, 841.89]);
    check(&notes[..4], Paper::Letter, 2, [612.0, 792.0]);
    assert!(pdf(&[], &Batch::default(), Paper::A4).is_err());
}

/// PNG, third edition (W3C), 11.3.2.5: the chunk sRGB holds the rendering intent and stands before the pixels.
#[test]
fn a_strip_says_it_is_srgb() {
    let note = composed(&piece(), &dry(), &Options::default()).unwrap();
    let strip = note.png().unwrap();
    let at = |name: &[u8]| strip.windows(4).position(|four| four == name);
    assert!(at(b"sRGB").unwrap() < at(b"IDAT").unwrap());
    // Width and height are the first eight bytes of the chunk IHDR.
    assert_eq!(strip[16..24], [0, 0, 4, 56, 0, 0, 4, 56]);
    assert!(
        png(1, 1, &[1, 2, 3])
            .unwrap()
            .windows(4)
            .any(|four| four == b"sRGB")
    );
}

#[test]
fn letters_that_paper_lacks_are_told() {
    let told = |plant: &str| {
        let mut piece = piece();
        piece.rounds[0].plants[0].name = plant.to_owned();
        let note = composed(&piece, &dry(), &Options::default()).unwrap();
        let codes: Vec<String> = note.cautions.iter().map(|c| c.code.clone()).collect();
        assert!(note.html().unwrap().contains(plant));
        codes
    };
    for plant in ["листья", "φύλλο", "érable", "lá phong"] {
        assert_eq!(told(plant), [""; 0], "{plant}");
    }
    for plant in ["木の葉", "ورقة", "עלה"] {
        assert_eq!(told(plant), [LETTERS_MISSING], "{plant}");
    }
}

#[test]
fn a_cover_sheet_has_room_for_any_number() {
    let note = composed(&piece(), &dry(), &Options::default()).unwrap();
    let check = |number: usize, sheets: usize| {
        let notes = vec![note.clone(); number];
        let batch = Batch {
            bundle: Some("B01".to_owned()),
            language: Language::German,
        };
        let pages = pages(&cover(&notes, &batch, Paper::A4).unwrap());
        assert_eq!(pages.len(), sheets, "{number}");
    };
    // By hand: 297 mm less two margins of 16 hold ten rows of 25, the first sheet less its title nine.
    check(1, 1);
    check(9, 1);
    check(10, 2);
    check(19, 2);
    check(20, 3);
}

fn word() -> impl Strategy<Value = String> {
    "[a-zé]{2,9}( [a-z]{2,6})?"
}

fn any_round() -> impl Strategy<Value = Round> {
    let salt = select(vec![
        "alum",
        "iron",
        "tannin",
        "none",
        "titanium oxalate",
        "copper",
    ]);
    let plant = word().prop_map(|name| PlantUse { name, how: vec![] });
    let soak = salt.prop_map(|salt| Soak {
        mordant: salt.to_owned(),
        ..Soak::default()
    });
    let made = (vec(plant, 0..4), vec(soak, 0..3), of(1..=12_u8));
    made.prop_map(|(plants, soaks, month)| Round {
        made: month.map(|month| format!("2026-{month:02}-09")),
        plants,
        soaks,
        ..Round::default()
    })
}

fn any_piece() -> impl Strategy<Value = Piece> {
    let sizes = (of(0.1..500.0), of(0.1..500.0));
    (of(word()), of(word()), sizes, vec(any_round(), 0..4)).prop_map(
        |(fibre, weave, (width_cm, length_cm), rounds)| Piece {
            code: "LB003".to_owned(),
            fibre,
            weave,
            width_cm,
            length_cm,
            rounds,
            ..Piece::default()
        },
    )
}

fn any_photo() -> impl Strategy<Value = Photo> {
    let colour = (
        0.0..100.0,
        -60.0..60.0,
        -60.0..60.0,
        0.001..1.0,
        of(0.1..9.0),
    );
    let basis = select(vec![Basis::Chart, Basis::Tag, Basis::Assumed]);
    let day = of((1..=12_u8, 1..=28_u8));
    let photo = (select(State::ALL.to_vec()), basis, day, of(0..9_u32));
    (photo, vec((colour, of(word())), 1..9)).prop_map(|((state, basis, day, washes), colours)| {
        let whole: f64 = colours.iter().map(|((.., share, _), _)| share).sum();
        let colour = |((l, a, b, share, doubt), word): (_, Option<String>)| Swatch {
            doubt,
            ..swatch([l, a, b], share / whole, word.as_deref())
        };
        let mut photo = photo_of(state, basis);
        photo.taken = day.map(|(month, day)| format!("2026-{month:02}-{day:02}T10:00:00"));
        photo.washes = washes;
        photo.reading.swatches = colours.into_iter().map(colour).collect();
        photo
    })
}

fn photo_of(state: State, basis: Basis) -> Photo {
    photo(state, "2026-05-12T10:00:00", basis)
}

/// Whole: a capital or a digit in front, a full stop behind, nothing in braces, no word or sign twice in a row, no gap.
fn is_sentence(text: &str, own: &[String]) -> Option<String> {
    let told = |what: &str| Some(format!("{what}: {text}"));
    let first = text.chars().next();
    if !first.is_some_and(|c| c.is_uppercase() || c.is_numeric()) {
        return told("begins small");
    }
    if !text.ends_with('.') || text.ends_with("..") {
        return told("does not end");
    }
    let marks = [
        "  ",
        " ,",
        " .",
        ",,",
        "{",
        "}",
        "$",
        "()",
        "NaN",
        ", .",
        ", and a touch of .",
    ];
    if marks.iter().any(|mark| text.contains(mark)) {
        return told("has a gap");
    }
    // A studio may call its colours and plants as it likes: its words count as one.
    let mut plain = text.to_lowercase();
    for (n, word) in own.iter().enumerate() {
        plain = plain.replace(&word.to_lowercase(), &format!("own{n}"));
    }
    // “Bluish green, green” are two colours; “green, green” are not.
    let parts: Vec<&str> = plain
        .split([',', '.', ':', ';', '(', ')'])
        .map(str::trim)
        .collect();
    let word_twice = |part: &str| {
        let words: Vec<&str> = (part.split(|c: char| !c.is_alphanumeric()))
            .filter(|word| !word.is_empty())
            .collect();
        let twice = |two: &[&str]| two[0] == two[1] && two[0].chars().all(char::is_alphabetic);
        words.windows(2).any(twice)
    };
    let part_twice = |two: &[&str]| two[0] == two[1] && !two[0].is_empty();
    let twice = parts.iter().any(|part| word_twice(part)) || parts.windows(2).any(part_twice);
    twice.then(|| told("says a word twice")).flatten()
}

/// A whole number above one never stands before a singular, nor one before a plural.
fn plural_is_right(text: &str) -> bool {
    let words: Vec<&str> = text.split_whitespace().collect();
    words.windows(2).all(|two| {
        let counted = two[1].trim_matches(|c: char| !c.is_alphabetic());
        match (two[0].parse::<u32>(), counted) {
            (Ok(number), "step" | "wash" | "time" | "Schritt" | "Wäsche") => number == 1,
            (Ok(number), "steps" | "washes" | "times" | "Schritte" | "Wäschen") => number != 1,
            _ => true,
        }
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn every_note_is_made_of_whole_sentences(piece in any_piece(), photos in vec(any_photo(), 1..4)) {
        let mut own: Vec<String> = [&piece.fibre, &piece.weave].into_iter().flatten().cloned().collect();
        own.extend(piece.rounds.iter().flat_map(|r| &r.plants).map(|p| p.name.clone()));
        own.extend(photos.iter().flat_map(|p| &p.reading.swatches).filter_map(|s| s.word.clone()));
        own.sort_by_key(|word| std::cmp::Reverse(word.len()));
        for options in [Options::default(), in_german()] {
            let note = composed(&piece, &photos, &options).unwrap();
            let all = [&note.making, &note.trust, &note.warnings, &note.changes, &note.care, &note.short];
            let mut sentences: Vec<&String> = all.into_iter().flatten().collect();
            sentences.extend([&note.sentence, &note.alternative, &note.fading, &note.screens]);
            for sentence in sentences {
                prop_assert_eq!(is_sentence(sentence, &own), None);
                prop_assert!(plural_is_right(sentence), "{}", sentence);
            }
            let short = note.short();
            prop_assert!(short.chars().count() <= text::SHORT, "{}", short);
            prop_assert!(short.contains(&note.fading), "{}", short);
            prop_assert!(short.contains(&note.colours[0].word), "{}", short);
            prop_assert_eq!(is_sentence(&short, &own), None);
            // No word is said twice, and every colour told is one that the cloth has.
            let said = sentences::words(&note.colours, &Messages::of(options.language));
            let words: std::collections::BTreeSet<&str> = note.colours.iter().map(|c| c.word.as_str()).collect();
            prop_assert_eq!(said.len(), words.len());
            let photo = telling(&piece, &photos).unwrap();
            for colour in &note.colours {
                let near = |swatch: &Swatch| de00(swatch.lab, colour.lab) <= 3.0;
                prop_assert!(photo.reading.swatches.iter().any(near), "{:?}", colour);
            }
            prop_assert!((1..=6).contains(&note.colours.len()));
        }
    }
}
