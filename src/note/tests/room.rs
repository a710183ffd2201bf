//! Everything finds room: on cards, on further cards, in the square picture.

use super::writing::{dry, pages, picture};
use super::*;
use crate::draw::Drawing;

/// Colours of these shares, each called by a word of so many letters.
fn named(shares: &[f64], letters: usize) -> Vec<Swatch> {
    let colour = |(n, &share): (usize, &f64)| {
        let word = format!("{n} Regenbogenfarbenlangwortganzohne");
        let word: String = word.chars().take(letters.min(32)).collect();
        swatch(lab(n), share, (letters > 0).then_some(&*word))
    };
    shares.iter().enumerate().map(colour).collect()
}

const SIX: [f64; 6] = [0.3, 0.2, 0.2, 0.12, 0.08, 0.02];

/// A piece of which a sheet says far too much.
fn wordy() -> Piece {
    let mut long = piece();
    long.code = "W".repeat(32);
    long.weave = Some("an uncommonly wordy weave ".repeat(60));
    let plant = |n: usize| PlantUse {
        name: format!("smokebush number {n}"),
        how: vec![],
    };
    long.rounds[0].plants = (0..80).map(plant).collect();
    long
}

/// What would not find room is set smaller; nothing leaves the card, whose last millimetres stay white all round.
#[test]
fn everything_stays_on_its_card() {
    let mut shown = [photo(State::Wet, "2026-05-12T10:00:00", Basis::Assumed)];
    shown[0].reading.swatches = named(&SIX, 32);
    for options in [Options::default(), in_german()] {
        for picture in [None, picture(40, 100), picture(100, 40)] {
            let mut note = composed(&wordy(), &shown, &options).unwrap();
            note.picture = picture;
            for size in [Paper::A6.size(), [107.95, 139.7]] {
                on_its_card(&card::front(&note, size).unwrap());
                let backs = card::backs(&note, size);
                assert!((1..=2).contains(&backs.len()), "{}", backs.len());
                backs.iter().for_each(on_its_card);
            }
        }
    }
}

#[track_caller]
fn on_its_card(card: &Drawing) {
    margins_are_white(card);
    // Six points are 2.117 mm.
    let svg = card.svg();
    for size in svg.split("font-size=\"").skip(1) {
        let size: f64 = size.split('"').next().unwrap().parse().unwrap();
        assert!(size >= 2.116, "{size} mm");
    }
}

fn margins_are_white(card: &Drawing) {
    const DOTS: f64 = 4.0;
    let (width, height, rgb) = card.pixels(DOTS).unwrap();
    let edge = (6.0 * DOTS) as usize;
    let inked = rgb.chunks_exact(3).enumerate().find(|(at, pixel)| {
        let (x, y) = (at % width, at / width);
        let outside = x < edge || y < edge || x + edge >= width || y + edge >= height;
        outside && pixel.iter().any(|value| *value < 200)
    });
    let place = inked.map(|(at, _)| [at % width, at / width].map(|p| p as f64 / DOTS));
    assert_eq!(place, None, "mm");
}

/// What a back cannot hold goes on on a leaf of its own, and the next front still lies on a front.
#[test]
fn what_a_back_cannot_hold_goes_on_on_a_further_leaf() {
    let mut shown = dry();
    shown[0].reading.swatches = named(&SIX, 32);
    let mut long = composed(&wordy(), &shown, &in_german()).unwrap();
    long.changes = vec![long.care.join(" "); 4];
    long.care = long.changes.clone();
    let sides = card::backs(&long, Paper::A6.size()).len();
    assert_eq!(sides, 2);
    let said: String = card::backs(&long, Paper::A6.size())
        .iter()
        .map(Drawing::svg)
        .collect();
    let messages = Messages::of(Language::German);
    for heading in [Key::HeadingTrust, Key::HeadingMaking, Key::HeadingCare] {
        assert!(said.contains(&messages.say(heading)));
    }
    let short = composed(&piece(), &dry(), &in_german()).unwrap();
    let number =
        |notes: &[Note], paper| pages(&pdf(notes, &Batch::default(), paper).unwrap()).len();
    assert_eq!(number(std::slice::from_ref(&short), Paper::A6), 2);
    assert_eq!(number(std::slice::from_ref(&long), Paper::A6), 3);
    assert_eq!(number(&[long.clone(), short.clone()], Paper::A6), 6);
    assert_eq!(number(&[long, short], Paper::A4), 3);
}

/// A note whose words are as long and as many as they can be, and longer.
fn crowded(shares: &[f64], letters: usize, options: Options, state: State, basis: Basis) -> Note {
    let mut photo = photo(state, "2026-05-12T10:00:00", basis);
    photo.reading.swatches = named(shares, letters);
    let mut note = composed(&piece(), &[photo], &options).unwrap();
    for colour in note.colours.iter_mut().filter(|_| letters > 32) {
        // A journal from elsewhere may hold such words.
        colour.word = "abcde fghij ".repeat(letters / 12);
    }
    note
}

/// Entries lie between the ends of the strip, one below another, whatever the words.
#[track_caller]
fn check_strip(note: &Note) -> String {
    let laid = strip::Laid::new(note);
    assert!(laid.end > 40.0, "{}", laid.end);
    let mut free = 8.0 - 1e-9;
    for entry in &laid.entries {
        assert!(entry.top >= free, "{} {free}", entry.top);
        free = entry.top + entry.words.height;
    }
    assert!(free <= laid.end + 1e-9, "{free} {}", laid.end);
    let drawn = strip::drawn(note);
    margins_are_white(&drawn);
    drawn.svg()
}

#[test]
fn nothing_leaves_the_square_picture() {
    for options in [Options::default(), in_german()] {
        for (state, basis) in [(State::Dry, Basis::Tag), (State::Wet, Basis::Assumed)] {
            let all = |shares: &[f64], letters: usize| {
                check_strip(&crowded(shares, letters, options, state, basis))
            };
            for letters in [0, 5, 32] {
                let svg = all(&SIX, letters);
                assert!(!svg.contains('…'), "{letters} letters are cut short");
                all(&[1.0], letters);
            }
            all(&SIX, 60);
            all(&[0.92, 0.02, 0.02, 0.02, 0.01, 0.01], 400);
            all(&[0.01, 0.3], 60);
        }
    }
    let mut note = crowded(&SIX, 32, in_german(), State::Wet, Basis::Assumed);
    (note.code, note.cloth) = ("W".repeat(32), "wordy weave ".repeat(60));
    check_strip(&note);
}

#[test]
fn the_square_picture_carries_what_must_be_said() {
    let says = |options, says: &[&str]| {
        let note = crowded(&SIX, 0, options, State::Wet, Basis::Assumed);
        let svg = flat(&check_strip(&note).replace("</text>", " "));
        let text: String = (svg.split('<').map(|part| part.rsplit('>').next().unwrap())).collect();
        for words in says {
            assert!(flat(&text).contains(words), "no “{words}” in {text}");
        }
    };
    says(
        Options::default(),
        &[
            "Please note: These colours were measured on the wet cloth.",
            "Please note: These colours are an estimate",
            "Measured for daylight. Screens and lamps change what one sees.",
            "Plant colours can change with light, wear and washing.",
            "8 % other colours",
        ],
    );
    says(
        in_german(),
        &[
            "Bitte beachten: Diese Farben sind am nassen Stoff gemessen.",
            "Gemessen für Tageslicht. Bildschirme und Lampen verändern",
            "Pflanzenfarben können sich",
            "8 % andere Farben",
        ],
    );
}

/// Twelve colours of a twelfth each: the six that are told fill half the strip.
#[test]
fn the_strip_is_true_to_scale() {
    let note = crowded(
        &[1.0 / 12.0; 12],
        0,
        Options::default(),
        State::Dry,
        Basis::Tag,
    );
    let end = strip::Laid::new(&note).end;
    let (width, _, rgb) = strip::drawn(&note).pixels(10.0).unwrap();
    let column = |y: usize| &rgb[3 * (y * width + 150)..][..3];
    let rows = 81..(10.0 * end) as usize - 1;
    let coloured = rows.clone().filter(|&y| column(y).iter().any(|v| *v < 180));
    let part = coloured.count() as f64 / rows.len() as f64;
    assert!((part - 0.5).abs() < 0.01, "{part}");
}
