//! Tags printed, photographed by reckoning, and read back.

use super::print::{SYMBOL, TAG, encode, tag};
use super::refine::{Homography, homography, project};
use super::*;
use crate::draw::Drawing;
use crate::error::LONGEST_CODE;
use crate::picture::{Encoding, Photograph, Samples};
use proptest::prelude::*;

/// How a tag is seen.
#[derive(Clone, Copy, Debug)]
struct View {
    /// Pixels to a module where the tag is nearest to square on.
    module: f64,
    /// Turned in the plane, degrees.
    turn: f64,
    /// Tilted away from the camera, degrees, about an axis at 30°.
    tilt: f64,
    /// Standard deviation of the blur, in modules.
    blur: f64,
}

const SIZE: [usize; 2] = [560, 420];

/// Dots to a millimetre at which tags are rendered before they are photographed.
const DOTS: f64 = 10.0;

fn photograph(width: usize, height: usize, rgb: Vec<u8>) -> Photograph {
    let curve: Vec<f32> = (0..=255u8).map(palette_linear).collect();
    Photograph {
        width,
        height,
        samples: Samples::Eight(rgb),
        encoding: Encoding {
            curves: [curve.clone(), curve.clone(), curve],
            to_xyz: crate::colour::srgb_to_xyz(),
            name: "sRGB".to_owned(),
        },
    }
}

fn palette_linear(code: u8) -> f32 {
    palette::Srgb::new(code, code, code)
        .into_linear::<f32>()
        .red
}

fn rendered(drawing: &Drawing, dots: f64) -> Photograph {
    let (width, height, rgb) = drawing.pixels(dots).unwrap();
    photograph(width, height, rgb)
}

impl View {
    /// From millimetres on the tag to pixels.
    fn homography(&self, modules: usize) -> Homography {
        let scale = self.module * (modules as f64 + 2.0 * QUIET_ZONE) / SYMBOL;
        let [turn, tilt, axis] = [self.turn, self.tilt, 30.0].map(f64::to_radians);
        let distance = 3.0 * TAG[0] * scale;
        let square = [[0.0, 0.0], [TAG[0], 0.0], TAG, [0.0, TAG[1]]];
        let seen = square.map(|[x, y]| {
            let (x, y) = ((x - TAG[0] / 2.0) * scale, (y - TAG[1] / 2.0) * scale);
            let (x, y) = (
                x * turn.cos() - y * turn.sin(),
                x * turn.sin() + y * turn.cos(),
            );
            let (along, across) = (
                x * axis.cos() + y * axis.sin(),
                y * axis.cos() - x * axis.sin(),
            );
            let depth = distance / (distance + across * tilt.sin());
            let (along, across) = (along * depth, across * tilt.cos() * depth);
            [
                SIZE[0] as f64 / 2.0 + along * axis.cos() - across * axis.sin() + 3.3,
                SIZE[1] as f64 / 2.0 + along * axis.sin() + across * axis.cos() - 2.6,
            ]
        });
        homography(square, seen).unwrap()
    }

    /// The tag on a brown ground, darker to the right, blurred, with a little noise.
    fn photo(&self, tag: &Drawing, modules: usize) -> Photograph {
        let sheet = rendered(tag, DOTS);
        let square = [[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]];
        let forward = self.homography(modules);
        let corners = square.map(|at| project(&forward, at));
        let back = homography(corners, square).unwrap();
        let light = |x: f64, y: f64| {
            let [across, down] = project(&back, [x, y]).map(|mm| mm * DOTS);
            let inside = across >= 0.0
                && down >= 0.0
                && across < sheet.width as f64
                && down < sheet.height as f64;
            let grey = if inside {
                0.05 + 0.8 * f64::from(sheet.linear(across as usize, down as usize).g)
            } else {
                0.15 + 0.05 * (x / 17.0).sin()
            };
            grey * (1.0 - 0.5 * x / SIZE[0] as f64)
        };
        let mut plane = Vec::with_capacity(SIZE[0] * SIZE[1]);
        for (x, y) in (0..SIZE[1]).flat_map(|y| (0..SIZE[0]).map(move |x| (x, y))) {
            let sum: f64 = (0..16)
                .map(|i| {
                    let (dx, dy) = (f64::from(i % 4), f64::from(i / 4));
                    light(x as f64 + (dx + 0.5) / 4.0, y as f64 + (dy + 0.5) / 4.0)
                })
                .sum();
            plane.push(sum / 16.0);
        }
        let plane = blurred(&plane, self.blur * self.module);
        let mut seed = 1u32;
        let rgb = plane.iter().flat_map(|grey| {
            seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            let noise = (f64::from(seed >> 16) / 65_536.0 - 0.5) * 0.02;
            let tint = [1.0, 0.9, 0.75].map(|t| ((grey + noise) * t).clamp(0.0, 1.0));
            let encoded: palette::Srgb<f64> = palette::LinSrgb::from(tint).into_encoding();
            let bytes: [u8; 3] = encoded.into_format::<u8>().into();
            bytes
        });
        photograph(SIZE[0], SIZE[1], rgb.collect())
    }
}

/// A Gaussian blur, rows then columns.
fn blurred(plane: &[f64], deviation: f64) -> Vec<f64> {
    let reach = (3.0 * deviation).ceil() as isize;
    let weights: Vec<f64> = (-reach..=reach)
        .map(|i| (-(i as f64).powi(2) / (2.0 * deviation * deviation)).exp())
        .collect();
    let total: f64 = weights.iter().sum();
    let [width, height] = SIZE.map(|s| s as isize);
    let pass = |from: &[f64], dx: isize, dy: isize| -> Vec<f64> {
        let places = (0..height).flat_map(|y| (0..width).map(move |x| (x, y)));
        let at = |x: isize, y: isize| {
            from[(y.clamp(0, height - 1) * width + x.clamp(0, width - 1)) as usize]
        };
        let sum = |(x, y): (isize, isize)| -> f64 {
            (-reach..=reach)
                .zip(&weights)
                .map(|(i, w)| w * at(x + i * dx, y + i * dy))
                .sum()
        };
        places.map(|place| sum(place) / total).collect()
    };
    pass(&pass(plane, 1, 0), 0, 1)
}

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
