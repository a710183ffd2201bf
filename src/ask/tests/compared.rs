//! Groups set against one another.

use super::*;

/// Warmth by Ou et al. 2004 (doi 10.1002/col.20010) in numpy 2.4.6; intervals by scipy 1.17.1 `stats.t.interval`; alum > iron
/// less alum with Bell & McCaffrey's degrees of freedom, (1/4 + 1/3)² / (1/(16·3) + 1/(9·2)) = 4.4545.
#[test]
fn means_over_pots() {
    let found = yellows().ask("which mordant gave the warmest yellows?");
    let [first, second, third] = groups(&found) else {
        panic!("{:?}", found.found)
    };
    assert_eq!(
        (
            first.value.as_str(),
            first.pieces,
            first.of_pieces,
            first.pots
        ),
        ("alum > iron", 4, 4, 4)
    );
    check(first.mean, 0.9707598239244237);
    check(first.low.unwrap(), 0.8396583506261148);
    check(first.high.unwrap(), 1.1018612972227326);
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
    let settled = verdict(&found);
    assert_eq!(
        (settled.over.as_str(), settled.p, settled.holds),
        ("iron", None, false)
    );
    check(settled.difference, 0.9707598239244237 - 0.23741430139164443);
    assert_eq!(
        settled.text,
        "It is not settled which comes first. So far alum > iron gave the warmest yellows: warmth 0.97 (4 pots) against 0.24 for \
         iron (1 pot); but iron was seen in one pot only, which may have been any pot: do it again in another. It does stand \
         clear of alum."
    );
    assert_eq!(codes(&found), ["one-pot"]);
    let best = found.examples("alum > iron").next().unwrap();
    assert_eq!(
        (&*best.piece, best.pot.as_deref(), best.colours.len()),
        ("A4", Some("3"), 1)
    );
    check(best.share, 0.3);
    let two = yellows().ask("which mordant gave the warmest yellows, alum > iron or alum?");
    let settled = verdict(&two);
    check(settled.p.unwrap(), 0.000558364392464666);
    check(settled.low.unwrap(), 0.347706784219066);
    check(settled.high.unwrap(), 0.6506646458634048);
    assert_eq!(
        settled.text,
        "Alum > iron gave the warmest yellows: warmth 0.97 (4 pots) against 0.47 for alum (3 pots). The difference is likely \
         between 0.35 and 0.65."
    );
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
    let settled = verdict(&found);
    assert_eq!((settled.leader.as_str(), settled.holds), ("tannin", true));
    check(settled.difference, -3.0);
    check(settled.p.unwrap(), 0.007164535434734404);
    check(settled.low.unwrap(), -4.452581357877382);
    check(groups(&found)[1].low.unwrap(), 52.24511480093539);
    assert!(
        settled
            .text
            .contains("lightness 59.8 L* (4 pots) against 62.8 L* for alum (4 pots)"),
        "{}",
        settled.text
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
    let settled = verdict(&found);
    assert_eq!((settled.p, settled.low, settled.holds), (None, None, false));
    assert!(
        settled.text.starts_with("Nothing can be told apart yet."),
        "{}",
        settled.text
    );
    assert!(
        settled.text.contains("one pot proves nothing"),
        "{}",
        settled.text
    );
    assert_eq!(groups(&found)[0].low, None);
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
    let found = made.ask("which mordant is lightest");
    let unsettled = verdict(&found);
    assert!(!unsettled.holds);
    check(unsettled.p.unwrap(), 0.7461826066685002);
    assert!(
        unsettled.text.contains("it may be chance"),
        "{}",
        unsettled.text
    );
    // Pots scatter by the root of (50 + 40.5) / 2, so normal theory asks 2 (1.96 + 0.84)² 45.25 / 2.5² = 114 pots of each.
    assert_eq!(unsettled.more_pots, None);
    assert!(
        unsettled.text.contains("more pots than are worth it"),
        "{}",
        unsettled.text
    );
    // With a difference of 10.5, 2 (1.96 + 0.84)² 45.25 / 10.5² = 6.4 of each, two of which are there, and some for Student's t.
    let clearer = Made::greys(&[
        ("alum", "1", 50.0),
        ("alum", "2", 60.0),
        ("iron", "3", 40.0),
        ("iron", "4", 49.0),
    ]);
    let clearer = clearer.ask("which mordant is lightest");
    let more = verdict(&clearer).more_pots.unwrap();
    assert!((4..=7).contains(&more), "{more}");
}

/// “None gave the lightest colours” would read as its opposite.
#[test]
fn a_leader_without_mordant_is_named_so_that_it_cannot_be_misread() {
    let made = Made::greys(&[("none", "1", 60.0), ("iron", "2", 40.0)]);
    let found = made.ask("which mordant is lightest");
    let text = &verdict(&found).text;
    assert!(
        text.contains("cloth without mordant gave the lightest colours"),
        "{text}"
    );
}

#[test]
fn one_group_or_none_has_no_verdict() {
    let made = Made::greys(&[("alum", "1", 50.0)]);
    let one = made.ask("which mordant is lightest");
    assert!(matches!(&one.found, Found::Groups { verdict: None, groups, .. } if groups.len() == 1));
    let none = made.ask("which mordant gave the warmest yellows");
    assert!(groups(&none).is_empty());
    assert_eq!(codes(&none), ["family-absent"]);
    assert!(plot(&none).is_err());
}

#[test]
fn a_piece_counts_for_each_of_its_plants() {
    let mut made = Made::default();
    made.piece("A", "1", "alum", "walnut > birch")
        .photo(State::Dry, &[([60.0, 0.0, 0.0], 1.0)]);
    made.piece("B", "2", "alum", "birch")
        .photo(State::Dry, &[([50.0, 0.0, 0.0], 1.0)]);
    let found = made.ask("which plant is lightest");
    let groups: Vec<_> = groups(&found)
        .iter()
        .map(|g| (g.value.as_str(), g.pieces))
        .collect();
    assert_eq!(groups, [("walnut", 1), ("birch", 2)]);
    assert!(codes(&found).contains(&"plant-not-placed"));
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
    let values: Vec<_> = groups(&found).iter().map(|g| g.value.as_str()).collect();
    assert_eq!(values, ["85.5 °C", "79.5 °C"]);
    assert!(codes(&found).contains(&"steamed"));
}
