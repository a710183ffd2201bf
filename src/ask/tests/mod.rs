//! Answers on made journals, their numbers computed elsewhere.

mod made;

use super::*;
use crate::journal::record::{Heat, HeatKind};
use crate::reading::{Basis, Light, State};
use made::{Made, yellows};

#[track_caller]
fn check(found: f64, wanted: f64) {
    assert!((found - wanted).abs() < 1e-9, "{found} is not {wanted}");
}

fn codes(answer: &Answer) -> Vec<&str> {
    answer.cautions.iter().map(|c| c.code.as_str()).collect()
}

/// Warmth by Ou et al. 2004 (doi 10.1002/col.20010) in numpy 2.4.6; intervals by scipy 1.17.1 `stats.t.interval`; against
/// alum `stats.ttest_ind(equal_var=False)` p = 0.0015676173831678697, against iron, seen in one pot, `equal_var=True`.
#[test]
fn means_over_pots() {
    let found = yellows().ask("which mordant gave the warmest yellows?");
    let [first, second, third] = &found.groups[..] else {
        panic!("{:?}", found.groups)
    };
    assert_eq!(
        (
            first.value.as_str(),
            first.pieces,
            first.of_pieces,
            first.pots
        ),
        ("alum > iron", 4, 4, 3)
    );
    check(first.mean, 0.9915607301400371);
    check(first.low.unwrap(), 0.7753369040088771);
    check(first.high.unwrap(), 1.207784556271197);
    assert_eq!(
        (
            second.value.as_str(),
            second.pieces,
            second.of_pieces,
            second.pots
        ),
        ("alum", 3, 4, 3)
    );
    check(second.mean, 0.47157410888318835);
    check(second.low.unwrap(), 0.30349496981221036);
    assert_eq!(
        (third.value.as_str(), third.pieces, third.pots, third.low),
        ("iron", 1, 1, None)
    );
    let verdict = found.verdict.as_ref().unwrap();
    assert_eq!(
        (
            verdict.leader.as_str(),
            verdict.over.as_str(),
            verdict.holds
        ),
        ("alum > iron", "iron", true)
    );
    check(verdict.difference, 0.7541464287483927);
    check(verdict.p.unwrap(), 0.01730201564347572);
    check(verdict.low.unwrap(), 0.32169877648607276);
    check(verdict.high.unwrap(), 1.1865940810107125);
    assert_eq!(
        verdict.text,
        "Alum > iron gave the warmest yellows: warmth 0.99 (3 pots) against 0.24 for iron (1 pot). The difference is likely \
         between 0.32 and 1.19. It stands clear of every other mordant as well."
    );
    assert_eq!(codes(&found), ["one-pot"]);
    let best = found.examples("alum > iron").next().unwrap();
    assert_eq!(
        (best.piece.as_str(), best.pot.as_deref(), best.colours.len()),
        ("A4", Some("3"), 1)
    );
    check(best.share, 0.3);
}

/// Pots that hold both are pairs: scipy 1.17.1 `stats.ttest_rel`; taken as independent they would give p = 0.52.
#[test]
fn shared_pots_are_pairs() {
    let made = Made::greys(&[
        ("alum", "1", 60.0),
        ("alum", "2", 66.0),
        ("alum", "3", 55.0),
        ("alum", "4", 70.0),
        ("tannin", "1", 57.5),
        ("tannin", "2", 62.0),
        ("tannin", "3", 53.0),
        ("tannin", "4", 66.5),
    ]);
    let found = made.ask("which mordant is darkest");
    let verdict = found.verdict.unwrap();
    assert_eq!((verdict.leader.as_str(), verdict.holds), ("tannin", true));
    check(verdict.difference, -3.0);
    check(verdict.p.unwrap(), 0.007164535434734404);
    check(verdict.low.unwrap(), -4.452581357877382);
    check(found.groups[1].low.unwrap(), 52.24511480093539);
    assert!(
        verdict
            .text
            .contains("lightness 59.8 L* (4 pots) against 62.8 L* for alum (4 pots)"),
        "{}",
        verdict.text
    );
}

/// Four cloths of one pot are one experiment.
#[test]
fn one_pot_proves_nothing() {
    let made = Made::greys(&[
        ("alum", "1", 70.0),
        ("alum", "1", 70.5),
        ("alum", "1", 71.0),
        ("iron", "2", 40.0),
        ("iron", "2", 40.5),
        ("iron", "3", 41.0),
    ]);
    let found = made.ask("which mordant is lightest");
    let verdict = found.verdict.unwrap();
    assert_eq!((verdict.p, verdict.low, verdict.holds), (None, None, false));
    check(verdict.difference, 70.5 - 40.625);
    assert!(
        verdict.text.starts_with("Nothing can be told apart yet."),
        "{}",
        verdict.text
    );
    assert!(
        verdict.text.contains("one pot proves nothing"),
        "{}",
        verdict.text
    );
    assert_eq!(found.groups[0].low, None);
}

/// scipy 1.17.1 `stats.ttest_ind([50, 60], [48, 57], equal_var=False)`.
#[test]
fn what_may_be_chance_is_said_to_be() {
    let made = Made::greys(&[
        ("alum", "1", 50.0),
        ("alum", "2", 60.0),
        ("iron", "3", 48.0),
        ("iron", "4", 57.0),
    ]);
    let verdict = made.ask("which mordant is lightest").verdict.unwrap();
    assert!(!verdict.holds);
    check(verdict.p.unwrap(), 0.7461826066685002);
    assert!(
        verdict.text.contains("it may be chance"),
        "{}",
        verdict.text
    );
}

/// “None gave the lightest colours” would read as its opposite.
#[test]
fn a_leader_without_mordant_is_named_so_that_it_cannot_be_misread() {
    let made = Made::greys(&[("none", "1", 60.0), ("iron", "2", 40.0)]);
    let text = made.ask("which mordant is lightest").verdict.unwrap().text;
    assert!(
        text.contains("cloth without mordant gave the lightest colours"),
        "{text}"
    );
}

#[test]
fn one_group_or_none_has_no_verdict() {
    let made = Made::greys(&[("alum", "1", 50.0)]);
    assert_eq!(made.ask("which mordant is lightest").verdict, None);
    let none = made.ask("which mordant gave the warmest yellows");
    assert!(none.groups.is_empty() && none.verdict.is_none());
    assert_eq!(codes(&none), ["family-absent"]);
}

#[test]
fn lightening_compares_wet_with_dry() {
    let mut made = Made::default();
    for (code, pot, mordant, dry) in [
        ("A", "1", "alum", 62.0),
        ("B", "2", "alum", 64.0),
        ("C", "3", "iron", 55.0),
    ] {
        made.piece(code, pot, mordant, "")
            .photo(
                State::Wet,
                &[([50.0, 0.0, 0.0], 0.5), ([30.0, 10.0, 12.0], 0.5)],
            )
            .photo(
                State::Dry,
                &[([dry, 0.0, 0.0], 0.5), ([38.0, 10.0, 12.0], 0.5)],
            );
    }
    made.piece("D", "4", "iron", "")
        .photo(State::Dry, &[([50.0, 0.0, 0.0], 1.0)]);
    let all = made.ask("which mordant dried lightest");
    check(all.groups[0].mean, (10.0 + 11.0) / 2.0);
    check(all.groups[1].mean, 6.5);
    assert!(codes(&all).contains(&"no-photo-in-state"));
    let greys = made.ask("which mordant dried lightest in greys");
    check(greys.groups[0].mean, 13.0);
    assert_eq!(greys.evidence[0].piece, "B");
}

#[test]
fn share_counts_pieces_without_the_colour() {
    let found = yellows().ask("which mordant gave the most yellow");
    let alum = found.groups.iter().find(|g| g.value == "alum").unwrap();
    assert_eq!((alum.pieces, alum.pots), (4, 3));
    // Pots 4 and 5: 0.5 and 0.7; pot 6: the mean of 0.2 and 0.
    check(alum.mean, (0.5 + 0.7 + 0.1) / 3.0);
}

#[test]
fn only_the_newest_round_counts() {
    let mut made = Made::greys(&[("alum", "1", 80.0)]);
    made.pieces[0].rounds[0].made = Some("2026-05-01".to_owned());
    let mut again = made.pieces[0].rounds[0].clone();
    (again.round, again.made, again.pot) = (2, Some("2026-06-01".to_owned()), Some("9".to_owned()));
    again.soaks[0].mordant = "iron".to_owned();
    made.pieces[0].rounds.push(again);
    made.photos[0].taken = Some("2026-05-09T10:00:00".to_owned());
    let question = "which mordant is lightest";
    let before = made.ask(question);
    assert_eq!(before.groups[0].value, "alum");
    made.photo(State::Dry, &[([40.0, 0.0, 0.0], 1.0)]);
    made.photos[1].taken = Some("2026-06-09T10:00:00".to_owned());
    let after = made.ask(question);
    assert_eq!(
        (
            after.groups[0].value.as_str(),
            after.evidence[0].pot.as_deref()
        ),
        ("alum / iron", Some("9"))
    );
    check(after.groups[0].mean, 40.0);
}

#[test]
fn a_piece_counts_for_each_of_its_plants() {
    let mut made = Made::default();
    made.piece("A", "1", "alum", "walnut > birch")
        .photo(State::Dry, &[([60.0, 0.0, 0.0], 1.0)]);
    made.piece("B", "2", "alum", "birch")
        .photo(State::Dry, &[([50.0, 0.0, 0.0], 1.0)]);
    let found = made.ask("which plant is lightest");
    let groups: Vec<_> = found
        .groups
        .iter()
        .map(|g| (g.value.as_str(), g.pieces))
        .collect();
    assert_eq!(groups, [("walnut", 1), ("birch", 2)]);
    assert!(codes(&found).contains(&"plant-not-placed"));
}

#[test]
fn filters_narrow() {
    let found = yellows().ask("which mordant gave the warmest yellows without iron");
    assert_eq!(found.groups.len(), 1);
    assert_eq!(found.read_as.narrowed, ["without iron"]);
    let sequence = yellows().ask("which mordant gave the warmest yellows with alum > iron");
    assert_eq!(sequence.groups[0].value, "alum > iron");
    assert_eq!(sequence.groups.len(), 1);
}

#[test]
fn unknown_pots_settings_and_lights_are_said() {
    let mut made = Made::greys(&[("alum", "", 50.0), ("iron", "", 40.0), ("", "3", 40.0)]);
    made.photos[0].reading.light = Some(Light {
        basis: Basis::Assumed,
        residual: None,
        patches: Vec::new(),
        correction: None,
        ..Light::default()
    });
    let found = made.ask("which mordant is lightest");
    assert_eq!(
        codes(&found),
        [
            "setting-unknown",
            "one-pot",
            "pots-unknown",
            "light-assumed"
        ]
    );
    assert_eq!(found.evidence[0].pot, None);
    let washed = made.ask("which mordant is lightest when washed");
    assert_eq!(codes(&washed), ["no-photo-in-state"]);
    assert_eq!(washed.read_as.state, "washed");
}

#[test]
fn numbers_are_grouped_and_steam_is_no_simmer() {
    let mut made = Made::greys(&[
        ("alum", "1", 50.0),
        ("alum", "2", 60.0),
        ("alum", "3", 70.0),
    ]);
    for (piece, (kind, low)) in made.pieces.iter_mut().zip([
        (HeatKind::Simmer, 78.0),
        (HeatKind::Simmer, 84.0),
        (HeatKind::Steam, 100.0),
    ]) {
        piece.rounds[0].heat = Some(Heat {
            kind: Some(kind),
            low_c: Some(low),
            high_c: Some(low + 3.0),
            minutes: None,
        });
    }
    let found = made.ask("which simmer temperature is lightest");
    let values: Vec<_> = found.groups.iter().map(|g| g.value.as_str()).collect();
    assert_eq!(values, ["85.5 °C", "79.5 °C"]);
    assert!(codes(&found).contains(&"setting-unknown"));
}

#[test]
fn drying_compares_photos_of_one_round() {
    let mut made = Made::greys(&[("alum", "1", 50.0)]);
    made.photo(State::Wet, &[([42.0, 0.0, 0.0], 1.0)]);
    made.pieces[0].rounds[0].made = Some("2026-05-01".to_owned());
    let mut again = made.pieces[0].rounds[0].clone();
    (again.round, again.made) = (2, Some("2026-06-01".to_owned()));
    made.pieces[0].rounds.push(again);
    made.photo(State::Wet, &[([20.0, 0.0, 0.0], 1.0)]);
    for (photo, taken) in made
        .photos
        .iter_mut()
        .zip(["2026-05-03", "2026-05-01", "2026-06-01"])
    {
        photo.taken = Some(format!("{taken}T12:00:00"));
    }
    let report = drying(&made.pieces, &made.photos);
    check(report.pieces[0].lightening.unwrap(), 8.0);
    assert_eq!(report.pieces[0].trial.as_deref(), Some("1"));
}

/// The field names other programs rely on.
#[test]
fn json_names() {
    let json =
        serde_json::to_value(yellows().ask("which mordant gave the warmest yellows")).unwrap();
    let names = |value: &serde_json::Value| -> Vec<String> {
        value.as_object().unwrap().keys().cloned().collect()
    };
    assert_eq!(
        names(&json),
        ["cautions", "groups", "question", "read_as", "verdict"]
    );
    assert_eq!(
        names(&json["read_as"]),
        ["by", "family", "first", "measure", "state", "where"]
    );
    assert_eq!(
        names(&json["groups"][0]),
        [
            "adjusted",
            "high",
            "low",
            "mean",
            "of_pieces",
            "pieces",
            "pots",
            "value"
        ]
    );
    assert_eq!(
        names(&json["verdict"]),
        [
            "difference",
            "high",
            "holds",
            "leader",
            "low",
            "over",
            "p",
            "text"
        ]
    );
    assert_eq!(json["read_as"]["family"], "yellow");
    assert_eq!(json["groups"][0]["adjusted"], serde_json::Value::Null);
}

#[test]
fn csv_has_a_row_for_each_piece() {
    let csv = Made::greys(&[("alum, old", "1", 50.5)])
        .ask("which mordant is lightest")
        .csv()
        .unwrap();
    assert_eq!(
        csv,
        "group,piece,pot,measure,value,share\n\"alum, old\",G0,1,lightness,50.5,1\n"
    );
}
