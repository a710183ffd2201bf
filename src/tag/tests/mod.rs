//! Tags printed, photographed by reckoning, and read back.

mod view;

use super::print::{SYMBOL, TAG, encode, tag};
use super::refine::{Homography, homography, project};
use super::*;
use crate::draw::Drawing;
use crate::error::LONGEST_CODE;
use crate::picture::{Encoding, Photograph, Samples};
use proptest::prelude::*;
use view::*;

/// Prints a tag, looks at it as `view` says, and reads it: text, modules, and the corners of the paper within `pixels`.
fn check(label: &Payload, view: View, pixels: f64) {
    let code = encode(&label.text()).unwrap();
    let modules = code.width();
    let photo = view.photo(&tag(label).unwrap(), modules);
    let found = find(&photo);
    let [one] = &found[..] else {
        panic!("{view:?}: {} codes found", found.len())
    };
    assert_eq!(&one.payload, label, "{view:?}");
    let dark: Vec<bool> = code
        .to_colors()
        .iter()
        .map(|c| c.select(true, false))
        .collect();
    let wrong = dark.iter().zip(&one.dark).filter(|(a, b)| a != b).count();
    assert_eq!((one.modules, wrong), (modules, 0), "{view:?}");
    let truth = view.homography(modules);
    let (left, top) = ((TAG[0] - SYMBOL) / 2.0, (TAG[0] - SYMBOL) / 4.0);
    let (right, low) = (left + SYMBOL, top + SYMBOL);
    let corners = [[left, top], [right, top], [right, low], [left, low]];
    for (seen, corner) in one.paper().into_iter().zip(corners) {
        let [x, y] = project(&truth, corner);
        let off = (seen[0] - x).hypot(seen[1] - y);
        assert!(off <= pixels, "{view:?}: a corner is {off} pixels off");
    }
}

fn piece(code: &str) -> Payload {
    Payload::Piece(code.to_owned())
}

const SQUARE_ON: View = View {
    module: 6.0,
    turn: 0.0,
    tilt: 0.0,
    blur: 0.15,
};

#[test]
fn tags_are_read_at_several_sizes() {
    for module in [3.0, 4.5, 7.0, 11.0] {
        check(
            &piece("LB007"),
            View {
                module,
                ..SQUARE_ON
            },
            0.5,
        );
    }
}

#[test]
fn tags_are_read_at_any_turn() {
    for turn in [10.0, 45.0, 90.0, 137.0, 180.0, 222.0, 271.0, 338.0] {
        check(&piece("LB007"), View { turn, ..SQUARE_ON }, 0.5);
    }
}

#[test]
fn tags_are_read_at_a_slant() {
    for (tilt, turn) in [(20.0, 5.0), (30.0, 80.0), (40.0, 190.0), (45.0, 260.0)] {
        let view = View {
            tilt,
            turn,
            module: 8.0,
            ..SQUARE_ON
        };
        check(&piece("LB007"), view, 0.8);
    }
}

#[test]
fn tags_are_read_through_blur() {
    for blur in [0.05, 0.2, 0.3] {
        check(
            &piece("LB007"),
            View {
                blur,
                turn: 8.0,
                ..SQUARE_ON
            },
            0.6,
        );
    }
}

#[test]
fn cards_and_long_or_foreign_codes_are_read() {
    for label in [
        Payload::State("wet".to_owned()),
        Payload::Card("grey cloth".to_owned()),
        piece("Lärche 4"),
        piece("木の葉"),
        piece("ABCDEFGHIJKLMNOPQRSTUVWXYZ012345"),
    ] {
        check(
            &label,
            View {
                turn: 3.0,
                ..SQUARE_ON
            },
            0.5,
        );
    }
}

#[test]
fn every_tag_of_a_sheet_is_read() {
    let labels: Vec<Payload> = (1..=9).map(|n| piece(&format!("LB{n:03}"))).collect();
    for paper in [Page::A4, Page::Letter] {
        let options = SheetOptions {
            page: paper,
            states: true,
        };
        let pages = sheet(&labels, options).unwrap();
        let found: Vec<Payload> = pages
            .iter()
            .flat_map(|page| find(&rendered(page, 5.0)))
            .map(|seen| seen.payload)
            .collect();
        let states = ["wet", "dry", "washed", "worn"].map(|s| Payload::State(s.to_owned()));
        assert_eq!((pages.len(), found.len()), (2, 13));
        assert!(labels.iter().chain(&states).all(|l| found.contains(l)));
    }
}

#[test]
fn two_tags_of_one_code_are_both_seen() {
    let pages = sheet(&[piece("LB007"), piece("LB007")], SheetOptions::default()).unwrap();
    let found = find(&rendered(&pages[0], 5.0));
    assert_eq!(found.len(), 2);
    assert!((found[0].point(0.0, 0.0)[0] - found[1].point(0.0, 0.0)[0]).abs() > 100.0);
}

#[test]
fn nothing_is_seen_where_there_is_nothing() {
    for (width, height) in [(1, 1), (7, 3), (300, 200)] {
        let grey = vec![128; 3 * width * height];
        assert!(find(&photograph(width, height, grey)).is_empty());
    }
}

#[test]
fn other_peoples_codes_are_passed_over() {
    for text in [
        "https://example.org/scarf",
        "WIFI:T:WPA;S:studio;;",
        "two\nlines",
        "a/b",
        "state:",
        "",
    ] {
        assert_eq!(Payload::read(text), None, "{text}");
    }
    for label in [
        piece("LB007"),
        Payload::State("wet".to_owned()),
        Payload::Card("oak".to_owned()),
    ] {
        assert_eq!(Payload::read(&label.text()), Some(label));
    }
}

#[test]
fn codes_that_cannot_be_are_refused_with_the_reason() {
    let long = "x".repeat(LONGEST_CODE + 1);
    for (code, why) in [
        ("", "empty"),
        ("  ", "empty"),
        (" LB7", "space"),
        ("LB:7", "“:”"),
        ("LB/7", "“/”"),
        ("LB\\7", "“\\”"),
        ("LB\n7", "line break"),
        (long.as_str(), "longer than 32"),
    ] {
        let message = check_code(code).unwrap_err().to_string();
        assert!(message.contains(why), "{message}");
        assert!(sheet(&[piece(code)], SheetOptions::default()).is_err());
    }
    assert!(check_code(&"木".repeat(LONGEST_CODE)).is_ok());
}

#[test]
fn an_empty_sheet_is_refused() {
    assert!(sheet(&[], SheetOptions::default()).is_err());
}

#[test]
fn what_the_standard_asks_of_a_symbol_holds() {
    // ISO/IEC 18004: error correction M, at least four modules of quiet zone. Twelve tags and their cutting lines leave
    // every quiet zone white.
    let code = encode("ÉÅgj").unwrap();
    assert_eq!(code.error_correction_level(), qrcode::EcLevel::M);
    let page = rendered(&tag(&piece("ÉÅgj")).unwrap(), DOTS);
    let module = SYMBOL / (code.width() as f64 + 2.0 * QUIET_ZONE);
    assert!(module >= 1.2);
    let (left, top) = ((TAG[0] - SYMBOL) / 2.0, (TAG[0] - SYMBOL) / 4.0);
    let quiet = QUIET_ZONE * module;
    let dot = |mm: f64| (mm * DOTS).round() as usize;
    for y in dot(top) + 1..dot(top + SYMBOL) - 1 {
        for x in dot(left) + 1..dot(left + SYMBOL) - 1 {
            let inner = |at: usize, start: f64| {
                (dot(start + quiet) - 1..dot(start + SYMBOL - quiet) + 1).contains(&at)
            };
            if !(inner(x, left) && inner(y, top)) {
                assert!(page.linear(x, y).g > 0.999, "ink at {x}, {y}");
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn chance_patterns_are_no_codes(seed: u32, cell in 3usize..12) {
        let (width, height) = (260, 200);
        let shade = |x: usize, y: usize| {
            let mixed = ((x / cell * 7919 + y / cell) as u32 ^ seed).wrapping_mul(2_654_435_761);
            (mixed.rotate_left(9).wrapping_mul(40_503) >> 16) as u8
        };
        let rgb = (0..3 * width * height).map(|i| shade(i / 3 % width, i / 3 / width)).collect();
        prop_assert!(find(&photograph(width, height, rgb)).is_empty());
    }

    #[test]
    fn damaged_codes_never_stop_the_reader(
        bytes in proptest::collection::vec(any::<u8>(), 0..60),
        places in proptest::collection::vec(any::<usize>(), 0..200),
    ) {
        let code = qrcode::QrCode::with_error_correction_level(&bytes, qrcode::EcLevel::M).unwrap();
        let mut dark: Vec<bool> = code.to_colors().iter().map(|c| c.select(true, false)).collect();
        let whole = super::read::decode(code.width(), &dark);
        // ISO/IEC 18004: level M of the smallest code mends five codewords, the format three modules. More may be lost,
        // but nothing may stop.
        for (done, place) in places.iter().enumerate() {
            if done == 3 {
                prop_assert_eq!(&super::read::decode(code.width(), &dark), &whole);
            }
            let at = place % dark.len();
            dark[at] = !dark[at];
        }
        super::read::decode(code.width(), &dark);
    }

    #[test]
    fn any_code_that_may_be_is_printed_and_read(code in "[A-Za-z0-9äßéÅЖяλ木の ._()#&<'\"-]{1,32}") {
        prop_assume!(check_code(&code).is_ok());
        let photo = rendered(&tag(&piece(&code)).unwrap(), 4.0);
        let found: Vec<Payload> = find(&photo).into_iter().map(|s| s.payload).collect();
        prop_assert_eq!(found, [piece(&code)]);
    }
}
