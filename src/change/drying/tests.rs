use super::*;
use crate::colour::Lab;
use crate::reading::{Light, Swatch};

fn reading(colours: &[([f64; 3], f64)], doubt: Option<f64>) -> Reading {
    let swatch = |&([l, a, b], share): &([f64; 3], f64)| Swatch {
        lab: Lab::new(l, a, b),
        share,
        doubt,
        word: None,
        word_level: None,
        srgb: None,
        part: None,
        plant: None,
    };
    Reading {
        swatches: colours.iter().map(swatch).collect(),
        ..Reading::default()
    }
}

fn shown<'a>(piece: &'a str, state: State, reading: &'a Reading) -> Shown<'a> {
    Shown {
        piece,
        file: Some(state.word()),
        state,
        round: 1,
        trial: None,
        reading,
    }
}

#[track_caller]
fn check(found: Option<f64>, wanted: f64) {
    let found = found.unwrap();
    assert!((found - wanted).abs() < 1e-9, "{found} is not {wanted}");
}

/// Costs by colour-science 0.4.7 `delta_E(method="CIE 2000")`, flows by scipy 1.17.1 `optimize.linprog(method="highs")`:
/// least cost 14.504759603122046.
#[test]
fn colours_matched_as_by_linear_programming() {
    let wet = reading(
        &[
            ([42.0, 18.0, 30.0], 0.45),
            ([30.0, 8.0, 12.0], 0.25),
            ([55.0, 2.0, 20.0], 0.2),
            ([25.0, -4.0, 6.0], 0.1),
        ],
        None,
    );
    let dry = reading(
        &[
            ([54.0, 17.0, 33.0], 0.5),
            ([41.0, 9.0, 14.0], 0.2),
            ([66.0, 1.0, 22.0], 0.3),
        ],
        None,
    );
    let photos = [shown("P", State::Wet, &wet), shown("P", State::Dry, &dry)];
    let found = drying(&photos).pieces.remove(0);
    let flows: Vec<(f64, f64, f64)> = found
        .matched
        .iter()
        .map(|m| (m.wet.l, m.dry.l, (m.share * 1e6).round() / 1e6))
        .collect();
    let wanted = [
        (42.0, 54.0, 0.45),
        (30.0, 41.0, 0.2),
        (55.0, 66.0, 0.2),
        (25.0, 66.0, 0.1),
        (30.0, 54.0, 0.05),
    ];
    assert_eq!(flows.len(), wanted.len());
    assert!(wanted.iter().all(|flow| flows.contains(flow)), "{flows:?}");
    let cost: f64 = found.matched.iter().map(|m| m.share * m.de00).sum();
    assert!((cost - 14.504759603122046).abs() < 1e-6, "{cost}");
    // 0.5 * 54 + 0.2 * 41 + 0.3 * 66 less 0.45 * 42 + 0.25 * 30 + 0.2 * 55 + 0.1 * 25.
    check(found.lightening, 55.0 - 39.9);
}

/// At L\* 50 one CIEDE2000 is one L\*: 1.96 sqrt(3² + 4²) / 1.8778 = 5.2189, since a doubt is the radius of a ball and
/// lightness one of its three directions.
#[test]
fn the_interval_comes_from_both_doubts() {
    let wet = reading(&[([50.0, 0.0, 0.0], 1.0)], Some(3.0));
    let dry = reading(&[([50.0, 5.0, 0.0], 1.0)], Some(4.0));
    let found = drying(&[shown("P", State::Wet, &wet), shown("P", State::Dry, &dry)]);
    check(found.pieces[0].low, -5.218_873_15);
    check(found.pieces[0].high, 5.218_873_15);
}

/// Pots have means 8 and 12: mean 10, half width 12.706 204 736 · 2 (scipy 1.17.1 `stats.t.ppf(0.975, 1)`).
#[test]
fn pots_and_not_pieces_are_independent() {
    let wet = reading(&[([40.0, 0.0, 0.0], 1.0)], None);
    let dry = [47.0, 49.0, 52.0].map(|l| reading(&[([l, 0.0, 0.0], 1.0)], None));
    let mut photos = Vec::new();
    for (dry, (piece, pot)) in dry.iter().zip([("A", "1"), ("B", "1"), ("C", "2")]) {
        for (state, reading) in [(State::Wet, &wet), (State::Dry, dry)] {
            photos.push(Shown {
                trial: Some(pot),
                ..shown(piece, state, reading)
            });
        }
    }
    let all = drying(&photos).all;
    assert_eq!(all.pieces, 3);
    check(all.mean, 10.0);
    check(all.low, 10.0 - 2.0 * 12.706204736174694);
}

#[test]
fn only_one_round_is_compared() {
    let first = reading(&[([30.0, 0.0, 0.0], 1.0)], None);
    let second = reading(&[([60.0, 0.0, 0.0], 1.0)], None);
    let third = reading(&[([70.0, 0.0, 0.0], 1.0)], None);
    let again = |state, reading| Shown {
        round: 2,
        ..shown("P", state, reading)
    };
    let photos = [
        shown("P", State::Dry, &first),
        again(State::Wet, &second),
        again(State::Dry, &third),
    ];
    check(drying(&photos).pieces[0].lightening, 10.0);
}

#[test]
fn several_photos_count_with_their_mean() {
    let wet = reading(&[([40.0, 0.0, 0.0], 1.0)], None);
    let (one, other) = (
        reading(&[([48.0, 0.0, 0.0], 1.0)], None),
        reading(&[([54.0, 0.0, 0.0], 0.5), ([50.0, 0.0, 0.0], 0.5)], None),
    );
    let photos = [
        shown("P", State::Wet, &wet),
        shown("P", State::Dry, &one),
        shown("P", State::Dry, &other),
    ];
    let found = &drying(&photos).pieces[0];
    check(found.lightening, 10.0);
    check(Some(found.matched.iter().map(|m| m.share).sum()), 1.0);
}

#[test]
fn what_is_missing_or_odd_is_said() {
    let dark = reading(&[([30.0, 0.0, 0.0], 1.0)], None);
    let mut light = reading(&[([60.0, 0.0, 0.0], 1.0)], None);
    light.light = Some(Light {
        basis: Basis::Assumed,
        residual: None,
        patches: Vec::new(),
        correction: None,
        ..Light::default()
    });
    let photos = [
        shown("A", State::Wet, &dark),
        shown("B", State::Dry, &light),
        shown("C", State::Wet, &light),
        shown("C", State::Dry, &dark),
        shown("D", State::Washed, &dark),
    ];
    let report = drying(&photos);
    let codes: Vec<Vec<&str>> = report
        .pieces
        .iter()
        .map(|p| p.cautions.iter().map(|c| c.code.as_str()).collect())
        .collect();
    assert_eq!(
        codes,
        [
            vec!["no-dry-photo"],
            vec!["light-assumed", "no-wet-photo"],
            vec!["light-assumed", "dried-darker"],
        ]
    );
    assert_eq!(report.all.pieces, 1);
    assert_eq!(report.pieces[0].lightening, None);
}

/// The field names other programs rely on.
#[test]
fn json_names() {
    let wet = reading(&[([40.0, 0.0, 0.0], 1.0)], Some(1.0));
    let dry = reading(&[([50.0, 0.0, 0.0], 1.0)], Some(1.0));
    let report = drying(&[shown("P", State::Wet, &wet), shown("P", State::Dry, &dry)]);
    let json = serde_json::to_value(&report).unwrap();
    let names = |value: &serde_json::Value| -> Vec<String> {
        value.as_object().unwrap().keys().cloned().collect()
    };
    assert_eq!(names(&json), ["all", "pieces"]);
    assert_eq!(names(&json["all"]), ["high", "low", "mean", "pieces"]);
    let piece = &json["pieces"][0];
    assert_eq!(
        names(piece),
        [
            "cautions",
            "dry",
            "high",
            "lightening",
            "low",
            "matched",
            "piece",
            "wet"
        ]
    );
    assert_eq!(names(&piece["matched"][0]), ["de00", "dry", "share", "wet"]);
    assert_eq!(
        piece["matched"][0]["wet"],
        serde_json::json!([40.0, 0.0, 0.0])
    );
}
