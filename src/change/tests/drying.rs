use super::*;
use crate::colour::de00;
use serde_json::{Value, json};

/// A doubt that leaves little open.
const SURE: Option<f64> = Some(1.0);

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

/// Four dry photos of which each errs on its own: the dry side's variance is a quarter. The wet doubt of 0 counts as half a unit.
#[test]
fn several_photos_are_averaged_and_narrow_the_doubt() {
    let dry = |l| grey("P", State::Dry, l, Some(2.0));
    let photos = [
        grey("P", State::Wet, 50.0, Some(0.0)),
        dry(49.7),
        dry(50.5),
        dry(50.5 + 1e-9),
        dry(51.3),
    ];
    let found = &drying(&photos).pieces[0];
    check(found.lightening, 0.5);
    let reach = found.high.unwrap() - found.lightening.unwrap();
    let wanted = 1.96 / 1.8778 * 0.5_f64.hypot(2.0 / 2.0);
    assert!((reach - wanted).abs() < 0.01, "{reach}");
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
                settings: Settings {
                    trial: Some(pot.to_owned()),
                    ..Settings::default()
                },
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
        grey("P", State::Wet, 40.0, SURE),
        grey("P", State::Dry, 50.0, SURE),
    );
    check_codes(&[wet.clone(), dry.clone()], true, &[]);
    check_codes(std::slice::from_ref(&wet), false, &["no-dry-photo"]);
    check_codes(std::slice::from_ref(&dry), false, &["no-wet-photo"]);
    let swapped = [
        grey("P", State::Wet, 50.0, SURE),
        grey("P", State::Dry, 40.0, SURE),
    ];
    check_codes(&swapped, true, &["dried-darker"]);
    assert_eq!(drying(&swapped).all.pieces, 0, "no mean rests on a mix-up");
    let same = grey("P", State::Dry, 40.0, SURE);
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
    check_codes(&[through, dry.clone()], true, &["backing-shows"]);
}

#[test]
fn a_dry_photo_before_the_wet_one_is_said() {
    let at = |photo: Shown, taken: &str| Shown {
        taken: Some(taken.to_owned()),
        ..photo
    };
    let (wet, dry) = (
        grey("P", State::Wet, 40.0, SURE),
        grey("P", State::Dry, 50.0, SURE),
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
        grey("P", State::Wet, 40.0, SURE),
        grey("P", State::Dry, 50.0, SURE),
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
    let better = [wet, dry, guessed(grey("P", State::Dry, 90.0, SURE))];
    check_codes(&better, true, &[]);
    check(drying(&better).pieces[0].lightening, 10.0);
}

#[test]
fn one_colour_against_eight_and_another_cloth_are_said() {
    let eight: Vec<_> = (0..8)
        .map(|n| ([46.0 + f64::from(n), 5.0, 20.0], 0.125))
        .collect();
    let one = shown("P", State::Wet, colours(&[([40.0, 5.0, 20.0], 1.0)], SURE));
    check_codes(
        &[one, shown("P", State::Dry, colours(&eight, SURE))],
        true,
        &["few-colours"],
    );
    let wet = colours(
        &[([40.0, 10.0, 30.0], 0.8), ([30.0, 20.0, 25.0], 0.2)],
        SURE,
    );
    let dry = colours(
        &[([48.0, 10.0, 30.0], 0.8), ([38.0, 5.0, -40.0], 0.2)],
        SURE,
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
    let wet = colours(&[([40.0, 15.0, 30.0], 0.7), ([50.0, 2.0, 10.0], 0.3)], SURE);
    let dry = colours(&[([45.0, 5.0, -40.0], 0.7), ([57.0, 2.0, 10.0], 0.3)], SURE);
    let photos = [shown("P", State::Wet, wet), shown("P", State::Dry, dry)];
    check_codes(&photos, false, &["no-partner"]);
    assert_eq!(drying(&photos).all.pieces, 0);
}

/// Two dry photos 20 L\* apart, each surer than that: the mean is 10 from either, so its standard deviation is 10, and a caution
/// names piece and state. Photos that agree narrow the range and say nothing.
#[test]
fn photos_that_contradict_each_other_widen_the_range() {
    let of = |dry: [f64; 2]| {
        let dry = dry.map(|l| Shown {
            file: Some(format!("P {l}.jpg")),
            ..grey("P", State::Dry, l, SURE)
        });
        let wet = grey("P", State::Wet, 40.0, SURE);
        drying(&[vec![wet], dry.to_vec()].concat()).pieces.remove(0)
    };
    let apart = of([45.0, 65.0]);
    check(apart.lightening, 15.0);
    let reach = apart.high.unwrap() - 15.0;
    assert!((reach - 19.6).abs() < 0.2, "{reach}");
    assert_eq!(codes(&apart.cautions), ["photos-disagree"]);
    for word in ["Two dry photos of P", "P 45.jpg", "P 65.jpg", "claim"] {
        assert!(
            apart.cautions[0].text.contains(word),
            "{:?}",
            apart.cautions
        );
    }
    assert_eq!(apart.dry_photos.len(), 2);
    let alike = of([54.9, 55.1]);
    assert_eq!(codes(&alike.cautions), [""; 0]);
    assert!(alike.high.unwrap() - 15.0 < 1.5);
}

/// Two photos of other hues: no colour of one is a colour of the other, and still the range reaches both.
#[test]
fn photos_of_two_cloths_widen_the_range() {
    let dry = |lab: [f64; 3]| shown("P", State::Dry, colours(&[(lab, 1.0)], SURE));
    let photos = [
        grey("P", State::Wet, 40.0, SURE),
        dry([45.0, 0.0, 2.0]),
        dry([65.0, 20.0, -60.0]),
    ];
    let found = drying(&photos).pieces.remove(0);
    assert!(codes(&found.cautions).contains(&"photos-disagree"));
    if let Some((low, high)) = found.low.zip(found.high) {
        assert!(low < 5.0 && high > 25.0, "{low} {high}");
    }
}

/// Our own least doubt is 0.5 for either photo; without any doubt there is no range, which is said.
#[test]
fn no_doubt_is_no_certainty() {
    let of = |doubt| {
        let photos = [
            grey("P", State::Wet, 50.0, doubt),
            grey("P", State::Dry, 51.0, doubt),
        ];
        drying(&photos).pieces.remove(0)
    };
    let none = of(Some(0.0));
    let reach = none.high.unwrap() - 1.0;
    assert!(
        (reach - 1.96 * 0.5 * 2.0_f64.sqrt() / 1.8778).abs() < 0.01,
        "{reach}"
    );
    assert_eq!(codes(&none.cautions), [""; 0]);
    let unknown = of(None);
    assert_eq!((unknown.low, unknown.high), (None, None));
    assert_eq!(codes(&unknown.cautions), ["doubt-unknown"]);
}

/// A cloth with little colour and much doubt may have turned any way; lightness ends at black and white.
#[test]
fn ranges_end_where_colour_does() {
    let of = |doubt| {
        let side = |state, l| shown("P", state, colours(&[([l, 4.0, 0.0], 1.0)], doubt));
        drying(&[side(State::Wet, 10.0), side(State::Dry, 20.0)])
            .pieces
            .remove(0)
    };
    assert!(of(SURE).hue.is_some());
    let unsure = of(Some(90.0));
    assert_eq!(unsure.hue, None);
    assert_eq!((unsure.low, unsure.high), (Some(-100.0), Some(100.0)));
}

/// What lies no further apart than light and measuring explain is no mix-up, and counts.
#[test]
fn a_little_darker_is_told_and_counts() {
    let photos = [
        grey("P", State::Wet, 41.0, SURE),
        grey("P", State::Dry, 40.0, SURE),
    ];
    let found = drying(&photos);
    assert_eq!(codes(&found.pieces[0].cautions), ["dried-darker"]);
    assert_eq!(found.all.pieces, 1);
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
    for name in ["high", "low", "mean", "pieces"] {
        assert!(json["all"].get(name).is_some(), "{name} is missing");
    }
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
}
