//! Days, rolls, rounds, and the page.

use super::*;

#[test]
fn without_dates_the_days_are_counted() {
    check(
        &plan(&[
            "S1,,,silk,8,55,55,tannin 8% > alum 15%,steam",
            "S2,,,silk,8,55,55,alum 15%,steam",
        ]),
        &[
            // First baths on one day; the second alum is another day's.
            "Day 1: Scour S1+S2 0.7 L neutral soap 0.700",
            "Day 2: Soak in alum S2 0.4 L alum 1.575 | Soak in tannin S1 0.4 L tannin 0.840",
            "Day 3: Soak in alum S1 0.4 L alum 1.575",
            "Day 4: Lay the leaves and roll S1+S2 | Steam S1+S2",
            "Day 5: Unroll, take the leaves off S1+S2",
            "Day 12: Wash S1+S2",
        ],
    );
}

#[test]
fn days_lead_on_from_a_dated_soak_and_back_to_one() {
    let plan = plan(&["S1,,,silk,8,55,55,tannin 8% > alum 15% [2026-05-02] > alum 5%,steam"]);
    let days: Vec<String> = plan
        .days
        .iter()
        .filter_map(|day| day.date.clone())
        .collect();
    assert_eq!(
        days,
        [
            "2026-04-30",
            "2026-05-01",
            "2026-05-02",
            "2026-05-03",
            "2026-05-04",
            "2026-05-05",
            "2026-05-12"
        ]
    );
}

#[test]
fn the_studios_hours_and_days_count() {
    let studio = [
        ("soak-hours", "8"),
        ("iron-hours", "20"),
        ("cool-hours", "30"),
        ("cure-days", "14"),
        ("scour-g-per-l", "0"),
    ];
    let csv = format!("{HEAD}\nS1,,2026-05-10,silk,8,55,55,alum 15% > iron 2%,steam\n");
    check(
        &planned(&[], &[], &studio, &csv),
        &[
            "Friday 2026-05-08: Scour S1 0.4 L",
            "Saturday 2026-05-09: Soak in alum S1 0.4 L alum 1.575 | Soak in iron S1 0.4 L iron 0.210",
            "Sunday 2026-05-10: Lay the leaves and roll S1 | Steam S1",
            "Tuesday 2026-05-12: Unroll, take the leaves off S1",
            "Tuesday 2026-05-26: Wash S1",
        ],
    );
    let csv = "piece,made,dry_g,heat,cool_h,cure_days,washed_on\nS1,2026-05-10,10,steam,2,3,\nS2,2026-05-10,10,steam,,,2026-05-15\n";
    let told = lines(&planned(&[], &[], &[], csv));
    assert!(
        told.contains(&"Wednesday 2026-05-13: Wash S1".to_owned()),
        "{told:?}"
    );
    assert!(
        told.contains(&"Friday 2026-05-15: Wash S2".to_owned()),
        "{told:?}"
    );
}

#[test]
fn iron_has_baths_and_rolls_of_its_own_and_comes_last() {
    let rows = [
        "S1,B1,2026-05-03,silk,8,55,55,iron 2%,simmer",
        "S2,B1,2026-05-03,silk,8,55,55,alum 15%,simmer",
        "S3,B2,2026-05-03,silk,8,55,55,iron 2% > alum 15%,simmer",
    ];
    let plan = open(
        &rows,
        &["Bundle B1", "two rolls"],
        &[
            // The day before last, iron of its own after alum; then the alum of cloth that was in iron; iron alone last of all.
            "Soak in alum 1.57",
            "Soak in iron 0.21",
            "Soak in alum 1.57",
            "Soak in iron 0.21",
        ],
    );
    let rolls: Vec<&str> = plan
        .days
        .iter()
        .flat_map(|day| &day.steps)
        .filter(|step| step.what.starts_with("Lay"))
        .map(|step| step.pieces[0].as_str())
        .collect();
    assert_eq!(rolls, ["S2", "S1", "S3"]);
}

#[test]
fn a_blanket_of_iron_makes_its_roll_one_of_iron() {
    let csv = "piece,dry_g,heat,blanket\nS1,10,steam,wool iron 2%\nS2,10,steam,wool\n";
    let told = lines(&planned(&[], &[], &[], csv));
    let rolled = told
        .iter()
        .any(|line| line.contains("without iron S2 | Lay the leaves and roll, cloth with iron S1"));
    assert!(rolled, "{told:?}");
}

fn known() -> Piece {
    let soak = Soak {
        mordant: "iron".to_owned(),
        strength: Some(2.0),
        unit: Some(StrengthUnit::PercentOfFibre),
        on: Some("2025-05-01".to_owned()),
        bath: None,
    };
    Piece {
        code: "LB004".to_owned(),
        dry_g: Some(50.0),
        rounds: vec![Round {
            round: 1,
            made: Some("2025-05-02".to_owned()),
            soaks: vec![soak],
            ..Round::default()
        }],
        ..Piece::default()
    }
}

/// A second round needs neither its size again nor scouring; cloth that was in iron keeps its bath apart. 10 % of 50 g is 5 g.
#[test]
fn a_second_round_knows_the_cloth() {
    let csv = "piece,round,mordant,heat\nLB004,2,alum 10%,steam\nS1,1,alum 10%,steam\n";
    let told = lines(&planned(&[known()], &[], &[], csv));
    assert!(told[0].starts_with("Day 1: Scour S1"), "{told:?}");
    assert_eq!(
        told[1],
        "Day 2: Soak in alum S1 | Soak in alum LB004 1.5 L alum 5.000"
    );
}

/// Three like one of 50 g: 2 % of 150 g is 3 g.
#[test]
fn pieces_like_one_there_is() {
    let studio = Studio::new();
    let empty = Known {
        pieces: &[],
        baths: &[],
        studio: &studio,
    };
    let told = lines(&plan_like(empty, &known(), 3));
    assert_eq!(
        told[0],
        "Day 1: Scour new 1+new 2+new 3 4.5 L neutral soap 4.500"
    );
    assert!(
        told[1].starts_with("Day 2: Soak in iron new 1+new 2+new 3 4.5 L iron 3.000"),
        "{told:?}"
    );
}

#[test]
fn cautions_come_first_and_name_what_is_used() {
    let plan = plan(&["S1,,,silk,8,55,55,alum 15% > iron 2%,simmer"]);
    let codes: Vec<&str> = plan.cautions.iter().map(|c| c.code.as_str()).collect();
    for code in [
        "safety-sheet",
        "ventilate",
        "no-bath-outside",
        "alum",
        "iron",
        "scald",
    ] {
        assert_eq!(
            codes.iter().filter(|c| **c == code).count(),
            1,
            "{code} in {codes:?}"
        );
    }
    let text = text(&plan);
    assert!(text.find("safety sheet") < text.find("Scour"), "{text}");
    assert!(
        text.lines().all(|line| line.chars().count() <= 80),
        "{text}"
    );
    let csv = "piece,dry_g,heat,simmer_high_c\nS1,10,simmer,99\n";
    let hot = planned(&[], &[], &[], csv);
    assert_eq!(
        hot.cautions
            .iter()
            .filter(|c| c.code == "near-boil")
            .count(),
        1
    );
}

/// What one piece of a pot leaves out the others tell.
#[test]
fn a_pot_is_heated_as_its_pieces_tell_together() {
    let head = "piece,pot,dry_g,heat,simmer_low_c,simmer_high_c,simmer_min";
    let told = |rows: &str| {
        let plan = planned(&[], &[], &[], &format!("{head}\n{rows}"));
        let steps = plan.days.iter().flat_map(|day| &day.steps);
        let what = steps
            .map(|step| step.what.clone())
            .find(|what| what.contains("pot P1"));
        (what.unwrap_or_default(), plan.left_open.len())
    };
    let simmer = |rest: &str| format!("Simmer pot P1{rest}");
    assert_eq!(
        told("S1,P1,10,simmer,,,\nS2,P1,10,,80,88,90\n"),
        (simmer(" at 80 to 88 °C for 90 minutes"), 0)
    );
    assert_eq!(
        told("S1,P1,10,simmer,80,,\nS2,P1,10,simmer,81,,\n"),
        (simmer(" at 80 °C"), 1)
    );
}

/// Plans of every length: the last page is never a line or two of the list at the end.
#[test]
fn the_last_page_is_worth_its_paper() {
    for number in 1..40 {
        let rows: Vec<String> = (0..number)
            .map(|n| format!("S{n},B{n},2026-05-03,silk,8,55,55,alum 15%,simmer"))
            .collect();
        let rows: Vec<&str> = rows.iter().map(String::as_str).collect();
        let last = pages(&plan(&rows)).last().expect("a page").svg();
        assert!(last.contains("Reckoned with"), "{number}");
    }
}

/// Every line stands within the page, and every step has its box.
#[test]
fn pages_hold_everything() {
    let rows: Vec<String> = (0..40)
        .map(|n| {
            format!(
                "S{n},B{n},2026-05-{:02},silk,8,55,55,alum 15% > iron 2%,simmer",
                1 + n % 20
            )
        })
        .collect();
    let rows: Vec<&str> = rows.iter().map(String::as_str).collect();
    let plan = plan(&rows);
    let svg: String = pages(&plan).iter().map(|page| page.svg()).collect();
    let steps: usize = plan.days.iter().map(|day| day.steps.len()).sum();
    assert_eq!(svg.matches("stroke-width=\"0.4\"").count(), steps);
    let heights = svg
        .split(" y=\"")
        .skip(1)
        .filter_map(|rest| rest.split('"').next()?.parse::<f64>().ok());
    assert!(heights.fold(0.0, f64::max) < 290.0);
    for day in &plan.days {
        assert!(svg.contains(&day.heading()), "{day:?}");
    }
    assert!(svg.contains("continued"));
    assert!(
        crate::draw::pdf(&pages(&plan))
            .expect("a PDF")
            .starts_with(b"%PDF")
    );
}

#[test]
fn the_sheet_of_the_docs_leaves_nothing_open() {
    let plan = planned(
        &[],
        &[],
        &[],
        include_str!("../../../../docs/example-plan.csv"),
    );
    assert_eq!(plan.left_open, Vec::<String>::new());
    assert!(plan.weigh.len() >= 3 && plan.pieces >= 4, "{plan:?}");
}

const ROUNDS: &str = "piece,round,made,bundle,pot,dry_g,mordant,heat\n";

/// By hand: a night in alum, rolled on day 3, opened on day 4, washed on day 11; the second round from day 12 on.
#[test]
fn rounds_follow_one_another() {
    let plan = planned(
        &[],
        &[],
        &[],
        &format!(
            "{ROUNDS}R1,1,,,,10,alum 10%,steam\nR1,2,,,,10,iron 2%,steam\nR2,1,,,,10,alum 10%,steam\n"
        ),
    );
    check(
        &plan,
        &[
            "Day 1: Scour R1+R2 0.6 L neutral soap 0.600",
            "Day 2: Soak in alum R1+R2 0.6 L alum 2.000",
            "Day 3: Lay the leaves and roll R1+R2 | Steam R1+R2",
            "Day 4: Unroll, take the leaves off R1+R2",
            "Day 11: Wash R1+R2",
            "Day 12: Soak in iron R1 0.3 L iron 0.200 | Lay the leaves and roll R1 | Steam R1",
            "Day 13: Unroll, take the leaves off R1",
            "Day 20: Wash R1",
        ],
    );
    assert_eq!(plan.left_open, Vec::<String>::new());
}

/// By hand: bundled on the 3rd, opened on the 4th, washed on the 11th.
#[test]
fn a_round_that_is_dated_before_the_last_is_washed_comes_after_it_and_is_told() {
    let bundles = |second: &str, first: &str| {
        let csv = format!(
            "{ROUNDS}R1,1,{first},,,10,alum 10%,steam\nR1,2,{second},,,10,alum 10%,steam\n"
        );
        let plan = planned(&[], &[], &[], &csv);
        let rolled = plan
            .days
            .iter()
            .filter(|day| day.steps.iter().any(|step| step.what.starts_with("Lay")));
        (rolled.map(Day::heading).collect::<Vec<_>>(), plan.left_open)
    };
    for second in ["2026-05-03", "2026-05-12"] {
        let (days, open) = bundles(second, "2026-05-03");
        assert_eq!(
            days,
            ["Sunday 2026-05-03", "Wednesday 2026-05-13"],
            "{second}"
        );
        let told = &open[0];
        assert!(
            open.len() == 1 && told.contains("R1: round 2 would begin on"),
            "{open:?}"
        );
        assert!(told.contains("washed on 2026-05-11"), "{told}");
    }
    let (days, open) = bundles("2026-05-13", "2026-05-03");
    assert_eq!((days.len(), open), (2, vec![]));
    let (days, open) = bundles("2026-05-13", "");
    assert_eq!(days, ["Day 3", "Day 13"]);
    assert!(open[0].contains("has none"), "{open:?}");
}

#[test]
fn what_clashes_between_rows_is_told_once() {
    let clash = |rows: &str, part: &str| {
        let plan = planned(&[], &[], &[], &format!("{ROUNDS}{rows}"));
        let told: Vec<&String> = plan
            .left_open
            .iter()
            .filter(|open| open.contains(part))
            .collect();
        assert_eq!(told.len(), 1, "{:?}", plan.left_open);
        assert!(told[0].ends_with('.'));
    };
    clash(
        "R1,1,2026-05-03,,P1,10,none,steam\nR2,1,2026-05-04,,P1,10,none,steam\n",
        "Pot P1 is one heating, and stands on several days (2026-05-03, 2026-05-04)",
    );
    clash(
        "R1,1,2026-05-03,B1,,10,none,steam\nR2,1,2026-05-04,B1,,10,none,steam\n",
        "Bundle B1 is one roll, and stands on several days",
    );
    clash(
        "R1,1,2026-05-03,B1,P1,10,none,steam\nR2,1,2026-05-03,B1,P2,10,none,steam\n",
        "Bundle B1 is one roll, and stands in the pots P1 and P2",
    );
    clash(
        "R1,1,2026-05-03,,P1,10,none,steam\nR2,1,2026-05-03,,P1,10,none,simmer\n",
        "different heat",
    );
    clash(
        "R1,1,2026-05-03,,,10,none,steam\nR2,1,2021-05-04,,,10,none,steam\n",
        "from 2021-05-04 (R2) to 2026-05-03 (R1)",
    );
}
