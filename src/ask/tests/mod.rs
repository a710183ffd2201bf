//! Answers on made journals, their numbers computed elsewhere.

mod made;

use super::*;
use crate::journal::record::{Heat, HeatKind, Setting};
use crate::reading::{Basis, Light, Part, State};
use made::{Made, yellows};

#[track_caller]
fn check(found: f64, wanted: f64) {
    assert!((found - wanted).abs() < 1e-9, "{found} is not {wanted}");
}

fn codes(answer: &Answer) -> Vec<&str> {
    answer.cautions.iter().map(|c| c.code.as_str()).collect()
}

#[track_caller]
fn groups(answer: &Answer) -> &[Group] {
    match &answer.found {
        Found::Groups { groups, .. } => groups,
        other => panic!("{other:?}"),
    }
}

#[track_caller]
fn verdict(answer: &Answer) -> &Verdict {
    match &answer.found {
        Found::Groups {
            verdict: Some(verdict),
            ..
        } => verdict,
        other => panic!("{other:?}"),
    }
}

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
    check(groups(&all)[0].mean, (10.0 + 11.0) / 2.0);
    check(groups(&all)[1].mean, 6.5);
    assert!(codes(&all).contains(&"no-photo-in-state"));
    let greys = made.ask("which mordant dried lightest in greys");
    check(groups(&greys)[0].mean, 13.0);
    assert_eq!(&*greys.evidence[0].piece, "B");
}

/// From 60 to 65 L* is 4.25 CIEDE2000 by the formula of ISO/CIE 11664-6 (colour-science 0.4.7 `delta_E_CIE2000`).
#[test]
fn fading_compares_dry_with_washed() {
    let mut made = Made::greys(&[("alum", "1", 60.0), ("iron", "2", 40.0)]);
    made.photo(State::Washed, &[([40.0, 0.0, 0.0], 1.0)]);
    made.photos[2].piece = Some("G0".to_owned());
    made.photos[2].reading.swatches[0].lab.l = 65.0;
    let found = made.ask("which mordant faded least");
    assert_eq!(groups(&found)[0].value, "alum");
    assert!(
        (groups(&found)[0].mean - 4.249743978906974).abs() < 1e-6,
        "{}",
        groups(&found)[0].mean
    );
    assert!(codes(&found).contains(&"no-photo-in-state"));
}

#[test]
fn share_counts_pieces_without_the_colour() {
    let found = yellows().ask("which mordant gave the most yellow");
    let alum = groups(&found).iter().find(|g| g.value == "alum").unwrap();
    assert_eq!((alum.pieces, alum.pots), (4, 3));
    // Pots 4 and 5: 0.5 and 0.7; pot 6: 0.2 and 0.
    assert!((0.35..0.44).contains(&alum.mean), "{}", alum.mean);
}

#[test]
fn evenness_number_and_hue() {
    let mut made = Made::default();
    made.piece("A", "1", "alum", "").photo(
        State::Dry,
        &[([50.0, 0.0, 0.0], 0.5), ([60.0, 0.0, 0.0], 0.5)],
    );
    made.piece("B", "2", "iron", "").photo(
        State::Dry,
        &[([50.0, 20.0, -0.4], 0.5), ([50.0, 20.0, 0.4], 0.5)],
    );
    let even = made.ask("which mordant is most even");
    assert_eq!(groups(&even)[0].value, "iron");
    // Each half lies as far from the middle, 55: CIEDE2000 4.9102 and 4.5594 (colour-science 0.4.7).
    assert!(
        (groups(&even)[1].mean - 4.73479655607).abs() < 1e-4,
        "{}",
        groups(&even)[1].mean
    );
    let many = made.ask("which mordant has the most colours");
    check(groups(&many)[0].mean, 2.0);
    // Hues of 358.9° and 1.1° lie around 0 and not around 180.
    let hue = made.ask("hue by mordant");
    let iron = groups(&hue).iter().find(|g| g.value == "iron").unwrap();
    assert!(
        super::value::turned(iron.mean).abs() < 1e-6,
        "{}",
        iron.mean
    );
}

/// Ordinary least squares on one piece a pot: numpy 2.4.6 `linalg.lstsq`; with one piece a pot CR2 is HC2, with Bell &
/// McCaffrey's 2.41 degrees of freedom worked out densely from their paper.
#[test]
fn a_number_has_a_slope() {
    let lights = [52.0, 55.5, 57.0, 61.5, 63.0, 66.5];
    let pots: Vec<String> = (0..6).map(|n| n.to_string()).collect();
    let rows: Vec<(&str, &str, f64)> = pots
        .iter()
        .zip(lights)
        .map(|(pot, l)| ("alum", pot.as_str(), l))
        .collect();
    let mut made = Made::greys(&rows);
    for (n, piece) in made.pieces.iter_mut().enumerate() {
        piece.rounds[0].heat = Some(Heat {
            kind: Some(HeatKind::Simmer),
            minutes: Some(30.0 + 10.0 * n as f64),
            ..Heat::default()
        });
    }
    let found = made.ask("how does simmer time change lightness");
    let Found::Slope {
        slope: Some(slope),
        text,
    } = &found.found
    else {
        panic!("{:?}", found.found)
    };
    assert!(
        (slope.value - 0.284285714285714).abs() < 1e-9 && slope.holds(),
        "{slope:?}"
    );
    assert!(
        (slope.low.unwrap() - 0.250204842082).abs() < 1e-6,
        "{slope:?}"
    );
    assert_eq!(
        (slope.per.as_str(), slope.pieces, slope.pots),
        ("minute", 6, 6)
    );
    assert!(
        text.starts_with(
            "As simmer time grows by 10 minutes, lightness rises by 2.8 L*, likely between"
        ),
        "{text}"
    );
    assert!(plot(&found).is_ok());
}

#[test]
fn the_nearest_piece_is_the_nearest() {
    let mut made = yellows();
    let found = made.ask("which pieces are nearest to 76,5,45");
    let Found::Nearest { nearest, .. } = &found.found else {
        panic!("{:?}", found.found)
    };
    assert_eq!((nearest[0].piece.as_str(), nearest[0].de00), ("B1", 0.0));
    assert!(nearest.windows(2).all(|two| two[0].de00 <= two[1].de00));
    let found = made.ask("which pieces are nearest to A1");
    let Found::Nearest { nearest, .. } = &found.found else {
        panic!("{:?}", found.found)
    };
    assert!(nearest.iter().all(|near| near.piece != "A1"));
    assert_eq!(nearest[0].piece, "A3");
    made.piece("Z", "9", "alum", "");
    let names = "which pieces are nearest to Z";
    let refused = made.try_ask(names).unwrap_err().to_string();
    assert!(
        refused.contains("has no photo that shows it dry"),
        "{refused}"
    );
}

#[test]
fn pieces_are_counted() {
    let mut made = yellows();
    made.piece("Z", "9", "alum", "birch");
    let count = |question: &str| match made.ask(question).found {
        Found::Count { count, of } => (count, of),
        other => panic!("{other:?}"),
    };
    assert_eq!(count("how many pieces have yellows"), (8, 9));
    assert_eq!(count("how many pieces are there"), (10, 10));
    assert_eq!(count("how many pieces are there with birch"), (1, 1));
}

/// Iron always went with wool: no reckoning tells them apart.
#[test]
fn what_always_went_together_is_told() {
    let rows: Vec<(String, &str)> = (0..8)
        .map(|n| (n.to_string(), if n < 4 { "iron" } else { "alum" }))
        .collect();
    let rows: Vec<(&str, &str, f64)> = rows
        .iter()
        .zip([40.0, 42.0, 41.0, 43.0, 60.0, 61.0, 62.0, 60.5])
        .map(|((pot, m), l)| (*m, pot.as_str(), l))
        .collect();
    let mut made = Made::greys(&rows);
    for (n, piece) in made.pieces.iter_mut().enumerate() {
        piece.fibre = Some(if n < 4 { "wool" } else { "silk" }.to_owned());
    }
    let found = made.ask("which mordant is darkest");
    let caution = found
        .cautions
        .iter()
        .find(|c| c.code == "inseparable")
        .unwrap();
    assert!(
        caution.text.starts_with(
            "Mordant and fibre always went together: every piece of alum had the fibre silk"
        ),
        "{}",
        caution.text
    );
    assert_eq!(groups(&found)[0].adjusted, None);
    made.pieces[0].fibre = Some("silk".to_owned());
    assert!(!codes(&made.ask("which mordant is darkest")).contains(&"inseparable"));
}

/// Alum was mostly on dark wool. By the additive model y = mordant + fibre, with all else alike alum is 2 lighter than iron,
/// where the plain means say 3 darker: values are made so, without scatter but for what tells pots apart.
#[test]
fn adjusted_means_allow_for_what_else_differed() {
    let mut made = Made::default();
    let (wool, alum) = (-10.0, 2.0);
    for n in 0..16 {
        let (is_alum, is_wool) = (n % 2 == 0, if n % 2 == 0 { n % 8 != 0 } else { n % 8 == 1 });
        let small = if n < 8 { 0.1 } else { -0.1 };
        let l = 60.0 + if is_wool { wool } else { 0.0 } + if is_alum { alum } else { 0.0 } + small;
        let mordant = if is_alum { "alum" } else { "iron" };
        made.piece(&format!("P{n}"), &n.to_string(), mordant, "")
            .photo(State::Dry, &[([l, 0.0, 0.0], 1.0)]);
        if let Some(piece) = made.pieces.last_mut() {
            piece.fibre = Some(if is_wool { "wool" } else { "silk" }.to_owned());
        }
    }
    let found = made.ask("which mordant is lightest");
    let all = groups(&found);
    assert_eq!(
        (all[0].value.as_str(), all[1].value.as_str()),
        ("iron", "alum")
    );
    assert!((all[0].mean - all[1].mean - 3.0).abs() < 1e-6, "{all:?}");
    let adjusted = all[1].adjusted.unwrap() - all[0].adjusted.unwrap();
    assert!((adjusted - 2.0).abs() < 1e-6, "{adjusted}");
    assert!(codes(&found).contains(&"adjusted-otherwise"));
}

/// Two mordants and two plants, one combination never tried: it is where both better parts meet.
#[test]
fn what_to_try_next_is_where_good_parts_meet() {
    let mut made = Made::default();
    for n in 0..12 {
        let (mordant, plant, l) = match n % 3 {
            0 => ("alum", "birch", 50.0),
            1 => ("iron", "birch", 58.0),
            _ => ("alum", "walnut", 60.0),
        };
        made.piece(&format!("P{n}"), &n.to_string(), mordant, plant)
            .photo(State::Dry, &[([l + 0.3 * (n / 3) as f64, 0.0, 0.0], 1.0)]);
    }
    let found = made.ask("what should I try next for the lightest");
    let Found::Next {
        next, best, rolls, ..
    } = &found.found
    else {
        panic!("{:?}", found.found)
    };
    assert_eq!(next[0].settings.name(), "iron, walnut");
    assert_eq!(
        (next[0].pieces, best.as_ref().unwrap().name().as_str()),
        (0, "alum, walnut")
    );
    assert!(
        next[0].expected > 60.0 && next[0].low < next[0].expected,
        "{next:?}"
    );
    assert!(
        next[0]
            .why
            .starts_with("never tried together; what does well in it: "),
        "{}",
        next[0].why
    );
    assert_eq!(rolls, &[vec!["alum"], vec!["iron"]]);
    assert!(plot(&found).is_ok());
}

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
    let report = made.journal(|journal| drying(journal, &[]).unwrap());
    check(report.pieces[0].lightening.unwrap(), 8.0);
    assert_eq!(report.pieces[0].trial.as_deref(), Some("1"));
    let none = made.journal(|journal| drying(journal, &["G9".to_owned()]).unwrap());
    assert!(none.pieces.is_empty());
}

/// The number of washes is the photo's own, else the sheet's; names, dates and cautions come with the photos.
#[test]
fn washing_reads_the_journal() {
    let mut made = Made::greys(&[("alum", "1", 50.0)]);
    made.photo(State::Washed, &[([52.0, 0.0, 0.0], 1.0)]);
    made.photo(State::Worn, &[([53.0, 0.0, 0.0], 1.0)]);
    let settings = &mut made.pieces[0].rounds[0].settings;
    settings.insert("washes".to_owned(), Setting::Number(3.0));
    made.photos[1].file = Some("after.jpg".to_owned());
    made.photos[1].taken = Some("2026-06-01T12:00:00".to_owned());
    made.photos[2].washes = Some(8);
    let all = made.journal(|journal| washing(journal, &[]).unwrap().pieces);
    let told: Vec<_> = all
        .iter()
        .map(|w| (w.washes, w.state, w.de_f.unwrap()))
        .collect();
    assert_eq!(
        told,
        [(Some(3), State::Washed, 2.0), (Some(8), State::Worn, 3.0)]
    );
    assert_eq!(all[0].after.as_deref(), Some("after.jpg"));
    assert_eq!(all[0].taken.as_deref(), Some("2026-06-01T12:00:00"));
    assert_eq!(all[0].before, None);
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
        [
            "adjusted_for",
            "cautions",
            "groups",
            "question",
            "read_as",
            "verdict"
        ]
    );
    assert_eq!(
        names(&json["read_as"]),
        [
            "by", "family", "first", "measure", "of", "part", "state", "where"
        ]
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
            "more_pots",
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
        "group,piece,pot,setting,measure,value,share,L,a,b\n\"alum, old\",G0,1,,lightness,50.5,1,50.5,0,0\n"
    );
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
    let asked = made.ask("which pieces are nearest to 60,0,0");
    assert!(
        matches!(&asked.found, Found::Nearest { nearest, .. } if nearest[0].settings.name() == "mordant not told")
    );
}

/// Hues on both sides of 0°: 356°, 2° and 4° are near one another, and 8° lies beyond them.
#[test]
fn hues_are_angles_between_pieces_too() {
    let mut made = Made::default();
    for (n, (mordant, hue)) in [
        ("alum", 356.0_f64),
        ("alum", 2.0),
        ("alum", 4.0),
        ("iron", 8.0),
        ("iron", 9.0),
        ("iron", 10.0),
    ]
    .into_iter()
    .enumerate()
    {
        let (sin, cos) = hue.to_radians().sin_cos();
        made.piece(&format!("H{n}"), &n.to_string(), mordant, "")
            .photo(State::Dry, &[([50.0, 30.0 * cos, 30.0 * sin], 1.0)]);
    }
    let found = made.ask("hue by mordant");
    let all = groups(&found);
    assert_eq!(all[0].value, "iron");
    assert!(
        (all[0].mean - 9.0).abs() < 1e-6 && (all[1].mean - 2.0 / 3.0).abs() < 1e-6,
        "{all:?}"
    );
}

/// Wool is 8 darker, and mostly with iron; iron itself does nothing. However sure the plain difference, it does not hold.
#[test]
fn what_something_else_explains_does_not_hold() {
    let mut made = Made::default();
    for n in 0..24 {
        let is_iron = n % 2 == 0;
        let is_wool = if is_iron { n % 8 != 0 } else { n % 8 == 1 };
        let l = 60.0 - if is_wool { 8.0 } else { 0.0 } + 0.4 * ((n * 7) % 5) as f64;
        let mordant = if is_iron { "iron" } else { "alum" };
        made.piece(&format!("P{n:02}"), &n.to_string(), mordant, "")
            .photo(State::Dry, &[([l, 0.0, 0.0], 1.0)]);
        if let Some(piece) = made.pieces.last_mut() {
            piece.fibre = Some(if is_wool { "wool" } else { "silk" }.to_owned());
        }
    }
    let found = made.ask("which mordant is darkest");
    let unsettled = verdict(&found);
    assert!(
        unsettled.p.unwrap() < 0.05 && !unsettled.holds,
        "{unsettled:?}"
    );
    assert!(
        unsettled.text.contains("what else differed"),
        "{}",
        unsettled.text
    );
    assert!(codes(&found).contains(&"adjusted-otherwise"));
}

/// The same of a slope: layers with iron lie deeper. And a line through one pot far out rests on that pot.
#[test]
fn a_slope_that_something_else_explains_does_not_hold() {
    let mut made = Made::default();
    for n in 0..24 {
        let layer = 1 + n % 4;
        let mordant = if layer > 2 { "iron" } else { "alum" };
        let l = if layer > 2 { 50.0 } else { 60.0 } + 0.4 * ((n * 7) % 5) as f64;
        made.piece(&format!("P{n:02}"), &(n / 2).to_string(), mordant, "")
            .photo(State::Dry, &[([l, 0.0, 0.0], 1.0)]);
        if let Some(piece) = made.pieces.last_mut() {
            piece.rounds[0].layer = Some(layer);
        }
    }
    let found = made.ask("how does the layer change lightness");
    let Found::Slope {
        slope: Some(slope), ..
    } = &found.found
    else {
        panic!("{:?}", found.found)
    };
    assert!(slope.p.unwrap() < 0.05 && !slope.holds(), "{slope:?}");
    assert!(codes(&found).contains(&"adjusted-otherwise"));
}
