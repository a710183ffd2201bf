//! What else differed between the groups.

use super::*;

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
