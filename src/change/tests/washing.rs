use super::*;

/// A doubt that leaves little open.
const SURE: Option<f64> = Some(1.0);

fn washed(washes: u32, lightness: f64, doubt: Option<f64>) -> Shown {
    Shown {
        washes: Some(washes),
        ..grey("P", State::Washed, lightness, doubt)
    }
}

/// By hand, of greys: a difference of lightness is ΔE_F. Doubts 0.6 and 0.8 near L\* 50 reach 1.96 · 1 / 1.8778 = 1.044.
#[test]
fn a_grade_has_its_range() {
    let photos = [
        grey("P", State::Dry, 50.0, Some(0.6)),
        washed(1, 52.0, Some(0.8)),
    ];
    let found = &washing(&photos).pieces[0];
    check(found.de_f, 2.0);
    let reach = found.de_f_high.unwrap() - 2.0;
    assert!((reach - 1.044).abs() < 0.05, "{reach}");
    let grade = |grade: Option<Grade>| grade.unwrap().to_string();
    assert_eq!(
        [found.grade, found.grade_low, found.grade_high].map(grade),
        ["4", "3", "4-5"]
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
    let unknown = || grey("P", State::Washed, 52.0, SURE);
    let check = |photos: &[Shown], wanted: &[&str]| {
        let found = washing(photos).pieces.remove(0);
        assert_eq!(codes(&found.cautions), wanted);
        found
    };
    let found = check(&[unknown()], &["washes-unknown", "no-dry-photo"]);
    assert_eq!((found.de_f, found.grade), (None, None));
    check(
        &[unknown(), grey("P", State::Dry, 50.0, SURE)],
        &["washes-unknown"],
    );
    let same = check(
        &[washed(1, 50.0, SURE), grey("P", State::Dry, 50.0, SURE)],
        &["same-photo"],
    );
    assert_eq!(same.grade, None);
    let at = |photo: Shown, taken: &str| Shown {
        taken: Some(taken.to_owned()),
        ..photo
    };
    let early = [
        at(washed(1, 52.0, SURE), "2026-05-01"),
        at(grey("P", State::Dry, 50.0, SURE), "2026-05-02"),
    ];
    check(&early, &["washed-before-dry"]);
    assert!(
        washing(&[grey("P", State::Dry, 50.0, SURE)])
            .pieces
            .is_empty()
    );
}

/// Two photos after one wash that contradict each other: the range reaches both, and piece and state are named.
#[test]
fn washed_photos_that_contradict_each_other_widen_the_range() {
    let photos = [
        grey("P", State::Dry, 50.0, SURE),
        washed(1, 52.0, SURE),
        washed(1, 68.0, SURE),
    ];
    let found = &washing(&photos).pieces[0];
    check(found.de_f, 10.0);
    assert!(found.de_f_low.unwrap() < 2.0 && found.de_f_high.unwrap() > 18.0);
    assert_eq!(codes(&found.cautions), ["photos-disagree"]);
    assert!(found.cautions[0].text.contains("Two washed photos of P"));
}

/// The field names other programs rely on; more may stand beside them.
#[test]
fn json_names() {
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
