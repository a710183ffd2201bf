use super::*;
use crate::colour::{Lab, de00};
use crate::error::Caution;
use crate::reading::{Basis, State};
use serde_json::{Value, json};

fn colours(colours: &[([f64; 3], f64)], doubt: Option<f64>) -> Vec<Colour> {
    let colour = |&([l, a, b], share): &([f64; 3], f64)| Colour {
        lab: Lab::new(l, a, b),
        share,
        doubt,
    };
    colours.iter().map(colour).collect()
}

fn shown(piece: &str, state: State, colours: Vec<Colour>) -> Shown {
    Shown {
        piece: piece.to_owned(),
        file: Some(state.word().to_owned()),
        state,
        washes: None,
        taken: None,
        round: 1,
        trial: None,
        basis: Some(Basis::Tag),
        cautions: Vec::new(),
        colours,
    }
}

/// One grey of this lightness.
fn grey(piece: &str, state: State, lightness: f64, doubt: Option<f64>) -> Shown {
    shown(
        piece,
        state,
        colours(&[([lightness, 0.0, 0.0], 1.0)], doubt),
    )
}

#[track_caller]
fn check(found: Option<f64>, wanted: f64) {
    let found = found.unwrap();
    assert!((found - wanted).abs() < 1e-6, "{found} is not {wanted}");
}

fn codes(cautions: &[Caution]) -> Vec<&str> {
    cautions.iter().map(|c| c.code.as_str()).collect()
}

/// At L\* 50 one CIEDE2000 is one L\*: 1.96 sqrt(3² + 4²) / 1.8778 = 5.2189, since a doubt is the radius of a ball and
/// lightness one of its three directions.
#[test]
fn the_interval_comes_from_both_doubts() {
    let photos = [
        grey("P", State::Wet, 50.0, Some(3.0)),
        grey("P", State::Dry, 50.5, Some(4.0)),
    ];
    let found = &drying(&photos).pieces[0];
    let dry = 4.0 * (1.0 + 0.015 * 0.25 / 20.25_f64.sqrt());
    let reach = 1.96 * 3.0_f64.hypot(dry) / 1.8778;
    check(found.low, 0.5 - reach);
    check(found.high, 0.5 + reach);
}

/// Four dry photos of which each errs on its own: the dry side's variance is a quarter.
#[test]
fn several_photos_are_averaged_and_narrow_the_doubt() {
    let dry = |l| grey("P", State::Dry, l, Some(2.0));
    let photos = [
        grey("P", State::Wet, 50.0, Some(0.0)),
        dry(49.0),
        dry(50.5),
        dry(50.5 + 1e-9),
        dry(52.0),
    ];
    let found = &drying(&photos).pieces[0];
    check(found.lightening, 0.5);
    let reach = found.high.unwrap() - found.lightening.unwrap();
    assert!((reach - 1.96 * 2.0 / 1.8778 / 2.0).abs() < 0.01, "{reach}");
    assert_eq!(found.matched.len(), 1, "one colour, averaged");
}

/// 0.5 · 54 + 0.2 · 41 + 0.3 · 66 less 0.45 · 42 + 0.35 · 30 + 0.2 · 55.
#[test]
fn lightening_is_of_the_whole_cloth() {
    let wet = colours(
        &[
            ([42.0, 18.0, 30.0], 0.45),
            ([30.0, 8.0, 12.0], 0.35),
            ([55.0, 2.0, 20.0], 0.2),
        ],
        None,
    );
    let dry = colours(
        &[
            ([54.0, 17.0, 33.0], 0.5),
            ([41.0, 9.0, 14.0], 0.2),
            ([66.0, 1.0, 22.0], 0.3),
        ],
        None,
    );
    let found = drying(&[shown("P", State::Wet, wet), shown("P", State::Dry, dry)])
        .pieces
        .remove(0);
    check(found.lightening, 55.0 - 40.4);
    assert_eq!((found.low, found.high), (None, None));
}

/// By hand: chroma 50 to 40, and a turn of 90° less atan2(3, 4) twice; CIEDE2000 is checked in its own area.
#[test]
fn chroma_and_hue_change_too() {
    let wet = colours(&[([40.0, 40.0, 30.0], 1.0)], Some(1.0));
    let dry = colours(&[([48.0, 24.0, 32.0], 1.0)], Some(1.0));
    let found = drying(&[shown("P", State::Wet, wet), shown("P", State::Dry, dry)])
        .pieces
        .remove(0);
    check(found.chroma.map(|c| c.value), -10.0);
    check(
        found.hue.map(|h| h.value),
        90.0 - 2.0 * 0.75f64.atan().to_degrees(),
    );
    let wanted = de00(Lab::new(40.0, 40.0, 30.0), Lab::new(48.0, 24.0, 32.0));
    check(found.de00.map(|d| d.value), wanted);
    for range in [found.chroma, found.hue, found.de00].into_iter().flatten() {
        assert!(range.low.unwrap() < range.value && range.value < range.high.unwrap());
    }
    let back = shown("P", State::Wet, colours(&[([40.0, 24.0, 32.0], 1.0)], None));
    let other = shown("P", State::Dry, colours(&[([40.0, 40.0, 30.0], 1.0)], None));
    let found = drying(&[back, other]).pieces.remove(0);
    assert!(found.hue.unwrap().value < 0.0, "towards red");
}

#[test]
fn a_grey_has_no_hue_to_turn() {
    let photos = [
        grey("P", State::Wet, 40.0, None),
        grey("P", State::Dry, 50.0, None),
    ];
    assert_eq!(drying(&photos).pieces[0].hue, None);
}

/// Pots have means 8 and 12: mean 10, half width 12.706 204 736 · 2 (scipy 1.17.1 `stats.t.ppf(0.975, 1)`). Two pieces of one
/// pot beside one of another are no three trials: still one degree of freedom, so the interval stays as wide as a pot's scatter.
#[test]
fn pots_and_not_pieces_are_independent() {
    let pairs = |dry: &[(&str, &str, f64)]| -> Vec<Shown> {
        let both = dry.iter().flat_map(|&(piece, pot, l)| {
            [(State::Wet, 40.0), (State::Dry, l)].map(|(state, l)| Shown {
                trial: Some(pot.to_owned()),
                ..grey(piece, state, l, None)
            })
        });
        both.collect()
    };
    let all = drying(&pairs(&[("A", "1", 48.0), ("C", "2", 52.0)])).all;
    check(all.mean, 10.0);
    check(all.low, 10.0 - 2.0 * 12.706204736174694);
    let all = drying(&pairs(&[
        ("A", "1", 47.9),
        ("B", "1", 48.1),
        ("C", "2", 52.0),
    ]))
    .all;
    assert_eq!(all.pieces, 3);
    assert!(all.high.unwrap() - all.low.unwrap() > 40.0, "{all:?}");
    let one = drying(&pairs(&[("A", "1", 47.0), ("B", "1", 49.0)])).all;
    assert_eq!((one.pieces, one.low), (2, None), "one pot proves nothing");
    check(one.mean, 8.0);
}

#[test]
fn only_one_round_is_compared() {
    let again = |state, l| Shown {
        round: 2,
        ..grey("P", state, l, None)
    };
    let photos = [
        grey("P", State::Dry, 30.0, None),
        again(State::Wet, 60.0),
        again(State::Dry, 70.0),
    ];
    check(drying(&photos).pieces[0].lightening, 10.0);
}

#[track_caller]
fn check_codes(photos: &[Shown], measured: bool, wanted: &[&str]) {
    let found = drying(photos).pieces.remove(0);
    assert_eq!(codes(&found.cautions), wanted);
    assert_eq!(found.lightening.is_some(), measured);
}

#[test]
fn what_is_missing_or_odd_is_said() {
    let (wet, dry) = (
        grey("P", State::Wet, 40.0, None),
        grey("P", State::Dry, 50.0, None),
    );
    check_codes(&[wet.clone(), dry.clone()], true, &[]);
    check_codes(std::slice::from_ref(&wet), false, &["no-dry-photo"]);
    check_codes(std::slice::from_ref(&dry), false, &["no-wet-photo"]);
    let swapped = [
        grey("P", State::Wet, 50.0, None),
        grey("P", State::Dry, 40.0, None),
    ];
    check_codes(&swapped, true, &["dried-darker"]);
    assert_eq!(drying(&swapped).all.pieces, 0, "no mean rests on a mix-up");
    let same = grey("P", State::Dry, 40.0, None);
    check_codes(&[wet.clone(), same], false, &["same-photo"]);
    check_codes(
        &[wet.clone(), dry.clone(), dry.clone()],
        true,
        &["same-photo"],
    );
    let through = Shown {
        cautions: vec![Caution::new("show-through", "It shows.")],
        ..wet.clone()
    };
    check_codes(
        &[through, dry.clone()],
        true,
        &["show-through", "backing-shows"],
    );
}

#[test]
fn a_dry_photo_before_the_wet_one_is_said() {
    let at = |photo: Shown, taken: &str| Shown {
        taken: Some(taken.to_owned()),
        ..photo
    };
    let (wet, dry) = (
        grey("P", State::Wet, 40.0, None),
        grey("P", State::Dry, 50.0, None),
    );
    let check = |one: &str, other: &str, wanted: &[&str]| {
        check_codes(
            &[at(wet.clone(), one), at(dry.clone(), other)],
            true,
            wanted,
        );
    };
    check(
        "2026-05-02T10:00:00+02:00",
        "2026-05-02T09:00:00+02:00",
        &["dry-before-wet"],
    );
    check("2026-05-02T10:00:00", "2026-05-03", &[]);
    check("2026-05-02T10:00:00", "2026-05-02", &[]);
}

#[test]
fn a_guessed_light_measures_nothing() {
    let guessed = |photo: Shown| Shown {
        basis: Some(Basis::Assumed),
        ..photo
    };
    let (wet, dry) = (
        grey("P", State::Wet, 40.0, None),
        grey("P", State::Dry, 50.0, None),
    );
    check_codes(
        &[guessed(wet.clone()), guessed(dry.clone())],
        false,
        &["light-assumed", "light-guessed"],
    );
    check_codes(
        &[guessed(wet.clone()), dry.clone()],
        true,
        &["light-assumed"],
    );
    let better = [wet, dry, guessed(grey("P", State::Dry, 90.0, None))];
    check_codes(&better, true, &[]);
    check(drying(&better).pieces[0].lightening, 10.0);
}

#[test]
fn one_colour_against_eight_and_another_cloth_are_said() {
    let eight: Vec<_> = (0..8)
        .map(|n| ([46.0 + f64::from(n), 5.0, 20.0], 0.125))
        .collect();
    let one = shown("P", State::Wet, colours(&[([40.0, 5.0, 20.0], 1.0)], None));
    check_codes(
        &[one, shown("P", State::Dry, colours(&eight, None))],
        true,
        &["few-colours"],
    );
    let wet = colours(
        &[([40.0, 10.0, 30.0], 0.8), ([30.0, 20.0, 25.0], 0.2)],
        None,
    );
    let dry = colours(
        &[([48.0, 10.0, 30.0], 0.8), ([38.0, 5.0, -40.0], 0.2)],
        None,
    );
    let photos = [shown("P", State::Wet, wet), shown("P", State::Dry, dry)];
    check_codes(&photos, true, &["no-partner"]);
    let alone = &drying(&photos).pieces[0].alone;
    assert_eq!(
        alone
            .iter()
            .map(|a| (a.before, a.lab.l))
            .collect::<Vec<_>>(),
        [(true, 30.0), (false, 38.0)]
    );
}

/// Brown wet, blue dry: no dried cloth, so there is no number, and all together leave it out.
#[test]
fn what_shows_another_cloth_is_not_measured() {
    let wet = colours(&[([40.0, 15.0, 30.0], 0.7), ([50.0, 2.0, 10.0], 0.3)], None);
    let dry = colours(&[([45.0, 5.0, -40.0], 0.7), ([57.0, 2.0, 10.0], 0.3)], None);
    let photos = [shown("P", State::Wet, wet), shown("P", State::Dry, dry)];
    check_codes(&photos, false, &["no-partner"]);
    assert_eq!(drying(&photos).all.pieces, 0);
}

fn names(value: &Value) -> Vec<String> {
    value.as_object().unwrap().keys().cloned().collect()
}

/// The field names other programs rely on; more may stand beside them.
#[test]
fn json_names() {
    let photos = [
        grey("P", State::Wet, 40.0, Some(1.0)),
        grey("P", State::Dry, 50.0, Some(1.0)),
    ];
    let json = serde_json::to_value(drying(&photos)).unwrap();
    assert_eq!(names(&json), ["all", "pieces"]);
    assert_eq!(names(&json["all"]), ["high", "low", "mean", "pieces"]);
    let piece = &json["pieces"][0];
    for name in [
        "cautions",
        "dry",
        "high",
        "lightening",
        "low",
        "matched",
        "piece",
        "wet",
    ] {
        assert!(piece.get(name).is_some(), "{name} is missing");
    }
    assert_eq!(names(&piece["matched"][0]), ["de00", "dry", "share", "wet"]);
    assert_eq!(piece["matched"][0]["wet"], json!([40.0, 0.0, 0.0]));
    let photos = [
        grey("P", State::Dry, 40.0, Some(1.0)),
        grey("P", State::Washed, 42.6, Some(1.0)),
    ];
    let json = serde_json::to_value(washing(&photos)).unwrap();
    assert!(
        json["scale"]
            .as_str()
            .unwrap()
            .ends_with("not a fastness test")
    );
    let piece = &json["pieces"][0];
    for name in [
        "piece",
        "before",
        "after",
        "washes",
        "de_f",
        "grade",
        "grade_low",
        "grade_high",
        "matched",
        "cautions",
    ] {
        assert!(piece.get(name).is_some(), "{name} is missing");
    }
    assert_eq!(piece["grade"], "3-4");
}

fn washed(washes: u32, lightness: f64, doubt: Option<f64>) -> Shown {
    Shown {
        washes: Some(washes),
        ..grey("P", State::Washed, lightness, doubt)
    }
}

/// By hand, of greys: a difference of lightness is ΔE_F. Doubts 0.3 and 0.4 near L\* 50 reach 1.96 · 0.5 / 1.8778 = 0.522.
#[test]
fn a_grade_has_its_range() {
    let photos = [
        grey("P", State::Dry, 50.0, Some(0.3)),
        washed(1, 52.0, Some(0.4)),
    ];
    let found = &washing(&photos).pieces[0];
    check(found.de_f, 2.0);
    let reach = found.de_f_high.unwrap() - 2.0;
    assert!((reach - 0.522).abs() < 0.05, "{reach}");
    let grade = |grade: Option<Grade>| grade.unwrap().to_string();
    assert_eq!(
        [found.grade, found.grade_low, found.grade_high].map(grade),
        ["4", "3-4", "4"]
    );
    let unknown = [grey("P", State::Dry, 50.0, None), washed(1, 52.0, None)];
    let found = &washing(&unknown).pieces[0];
    assert_eq!((found.grade_low, found.grade_high), (None, None));
}

/// No change at all and a doubt: the best grade is within the range, and so are worse ones.
#[test]
fn no_change_is_not_certain() {
    let photos = [
        grey("P", State::Dry, 50.0, Some(2.0)),
        washed(1, 50.001, Some(2.0)),
    ];
    let found = &washing(&photos).pieces[0];
    assert_eq!(found.grade, Some(Grade::BEST));
    assert_eq!(found.grade_high, Some(Grade::BEST));
    assert!(found.grade_low.unwrap() < Grade::of(2.0));
    check(found.de_f_low, 0.0);
}

/// By hand: the colour on 4 % of the cloth does not count, the one on 6 % does.
#[test]
fn the_worst_colour_that_covers_enough_gives_the_grade() {
    let before = [
        ([70.0, 0.0, 0.0], 0.6),
        ([50.0, 0.0, 0.0], 0.3),
        ([30.0, 0.0, 0.0], 0.06),
        ([10.0, 0.0, 0.0], 0.04),
    ];
    let after = [
        ([71.0, 0.0, 0.0], 0.6),
        ([51.0, 0.0, 0.0], 0.3),
        ([33.0, 0.0, 0.0], 0.06),
        ([15.0, 0.0, 0.0], 0.04),
    ];
    let photos = [
        shown("P", State::Dry, colours(&before, None)),
        shown("P", State::Washed, colours(&after, None)),
    ];
    let found = &washing(&photos).pieces[0];
    check(found.de_f, 3.0);
    assert_eq!(found.matched.len(), 4);
    for (colour, wanted) in found.matched.iter().zip([1.0, 1.0, 3.0, 5.0]) {
        check(Some(colour.de_f), wanted);
    }
}

#[test]
fn a_series_follows_the_washes() {
    let worn = Shown {
        washes: Some(5),
        ..grey("P", State::Worn, 47.0, None)
    };
    let twice = Shown {
        file: None,
        ..washed(1, 52.0, None)
    };
    let photos = [
        washed(5, 54.0, None),
        worn,
        grey("P", State::Dry, 50.0, None),
        washed(1, 51.0, None),
        twice,
    ];
    let found = washing(&photos).pieces;
    let series: Vec<_> = found
        .iter()
        .map(|w| (w.washes, w.state, w.de_f.unwrap()))
        .collect();
    let wanted = [
        (Some(1), State::Washed, 1.5),
        (Some(5), State::Washed, 4.0),
        (Some(5), State::Worn, 3.0),
    ];
    assert_eq!(series, wanted);
}

#[test]
fn what_washing_cannot_tell_is_said() {
    let unknown = || grey("P", State::Washed, 52.0, None);
    let check = |photos: &[Shown], wanted: &[&str]| {
        let found = washing(photos).pieces.remove(0);
        assert_eq!(codes(&found.cautions), wanted);
        found
    };
    let found = check(&[unknown()], &["washes-unknown", "no-dry-photo"]);
    assert_eq!((found.de_f, found.grade), (None, None));
    check(
        &[unknown(), grey("P", State::Dry, 50.0, None)],
        &["washes-unknown"],
    );
    let same = check(
        &[washed(1, 50.0, None), grey("P", State::Dry, 50.0, None)],
        &["same-photo"],
    );
    assert_eq!(same.grade, None);
    let at = |photo: Shown, taken: &str| Shown {
        taken: Some(taken.to_owned()),
        ..photo
    };
    let early = [
        at(washed(1, 52.0, None), "2026-05-01"),
        at(grey("P", State::Dry, 50.0, None), "2026-05-02"),
    ];
    check(&early, &["washed-before-dry"]);
    assert!(
        washing(&[grey("P", State::Dry, 50.0, None)])
            .pieces
            .is_empty()
    );
}
