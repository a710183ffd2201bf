//! The other kinds of question, and the forms of an answer.

use super::*;

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
