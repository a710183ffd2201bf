//! Which pieces count, and what is said of those that do not.

use super::*;

#[test]
fn prints_are_asked_of_alone() {
    let mut made = Made::default();
    made.piece("A", "1", "alum", "walnut").photo(
        State::Dry,
        &[([60.0, 0.0, 0.0], 0.7), ([30.0, 0.0, 0.0], 0.3)],
    );
    made.photos[0].reading.swatches[1].part = Some(Part::Print);
    made.photos[0].reading.swatches[1].plant = Some("walnut".to_owned());
    let prints = made.ask("which plant is darkest in prints");
    check(groups(&prints)[0].mean, 30.0);
    assert!(!codes(&prints).contains(&"plant-not-placed"));
    let all = made.ask("which plant is darkest");
    check(groups(&all)[0].mean, 51.0);
    assert!(codes(&all).contains(&"plant-not-placed"));
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
    assert_eq!(groups(&before)[0].value, "alum");
    made.photo(State::Dry, &[([40.0, 0.0, 0.0], 1.0)]);
    made.photos[1].taken = Some("2026-06-09T10:00:00".to_owned());
    let after = made.ask(question);
    assert_eq!(
        (
            groups(&after)[0].value.as_str(),
            after.evidence[0].pot.as_deref()
        ),
        ("alum / iron", Some("9"))
    );
    check(groups(&after)[0].mean, 40.0);
}

#[test]
fn filters_narrow() {
    let found = yellows().ask("which mordant gave the warmest yellows without iron");
    assert_eq!(groups(&found).len(), 1);
    assert_eq!(found.read_as.narrowed, ["without iron"]);
    let sequence = yellows().ask("which mordant gave the warmest yellows with alum > iron");
    assert_eq!(groups(&sequence)[0].value, "alum > iron");
    assert_eq!(groups(&sequence).len(), 1);
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
            "one-pot",
            "setting-unknown",
            "pots-unknown",
            "light-assumed"
        ]
    );
    assert_eq!(found.evidence[0].pot, None);
    let washed = made.ask("which mordant is lightest when washed");
    assert_eq!(codes(&washed), ["no-photo-in-state"]);
    assert_eq!(washed.read_as.state, "washed");
}

/// An empty cell is no answer: what is not told is neither with nor without.
#[test]
fn what_is_not_told_is_not_without() {
    let mut made = Made::greys(&[("iron", "1", 40.0), ("none", "2", 50.0), ("", "3", 60.0)]);
    made.pieces[2].rounds[0].soaks.clear();
    let found = made.ask("how many pieces without iron");
    assert!(
        matches!(found.found, Found::Count { count: 1, .. }),
        "{:?}",
        found.found
    );
    assert_eq!(codes(&found), ["setting-unknown"]);
    let found = made.ask("does iron make it darker");
    let without = groups(&found)
        .iter()
        .find(|g| g.value == "without iron")
        .unwrap();
    assert_eq!(without.pieces, 1);
    let text = &found
        .cautions
        .iter()
        .find(|c| c.code == "setting-unknown")
        .unwrap()
        .text;
    let code = &made.pieces[2].code;
    assert!(
        text.starts_with(&format!(
            "For 1 piece ({code}) the journal does not tell whether iron was used, so it is left out"
        )),
        "{text}"
    );
    let asked = made.ask("which pieces are nearest to 60,0,0");
    assert!(
        matches!(&asked.found, Found::Nearest { nearest, .. } if nearest[0].settings.name() == "mordant not told")
    );
}
