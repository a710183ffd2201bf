//! Grams, litres, and what is left open about them.

use super::*;

/// A square of 55 cm of 8 momme: one momme is a pound (453.59237 g) in 100 yards by 45 inches, 4.339936 g/m², so 34.72 g/m² and
/// 0.3025 m²: 10.50 g. By hand: two of them 21.00 g; alum 15 % 3.15 g, iron 2 % of one 0.21 g; water 30 times 21 g, 0.63 L, up to
/// the next tenth 0.7, and 1 g of soap a litre 0.7 g.
#[test]
fn grams_and_litres_by_hand() {
    check(
        &plan(&[
            "S1,B1,2026-05-03,silk,8,55,55,alum 15%,simmer",
            "S2,B2,2026-05-03,silk,8,55,55,alum 15% > iron 2%,simmer",
        ]),
        &[
            "Friday 2026-05-01: Scour S1+S2 0.7 L neutral soap 0.700",
            "Saturday 2026-05-02: Soak in alum S1+S2 0.7 L alum 3.150",
            "Sunday 2026-05-03: Soak in iron S2 0.4 L iron 0.210 | Lay the leaves and roll bundle B1 S1 | Lay the leaves and roll \
             bundle B2 S2 | Simmer bundle B1 S1 0.4 L | Simmer bundle B2 S2 0.4 L",
            "Monday 2026-05-04: Unroll, take the leaves off S1+S2",
            "Monday 2026-05-11: Wash the cloth without iron S1 | Wash the cloth with iron S2",
        ],
    );
}

/// By hand: 12 momme are 52.08 g/m²; 35 by 160 cm are 0.56 m²: 29.16 g; 30 times that is 0.8748 L, up to the next tenth 0.9; 5 g/L
/// in it 4.5 g. At a ratio of 20 it is 0.5832 L, 0.6, and 3 g.
#[test]
fn grams_a_litre_go_by_the_water_of_the_studio() {
    let csv = format!("{HEAD}\nS1,,,silk,12,35,160,alum 5 g/L,steam\n");
    let alum = |studio: &[(&str, &str)]| {
        let plan = planned(&[], &[], studio, &csv);
        let steps = plan.days.into_iter().flat_map(|day| day.steps);
        let mut soaks = steps.filter(|step| step.what == "Soak in alum");
        soaks.next().map(|step| (step.litres, step.weigh[0].grams))
    };
    assert_eq!(alum(&[]), Some((Some(0.9), 4.5)));
    let (litres, grams) = alum(&[("liquor-ratio", "20")]).expect("a soak");
    assert_eq!(litres, Some(0.6));
    assert!((grams - 3.0).abs() < 1e-12, "{grams}");
}

/// A weighed cloth counts before its size: 12 % of 30 g is 3.6 g; and 0.6 kg at 30 litres a kilogram are 18 L to the tenth.
#[test]
fn a_weighed_cloth_counts_as_weighed() {
    let csv = "piece,dry_g,momme,width_cm,length_cm,mordant,heat\nS1,30,12,35,160,alum 12%,steam\nS2,600,,,,,steam\n";
    let plan = planned(&[], &[], &[], csv);
    assert!(
        lines(&plan)
            .iter()
            .any(|line| line.contains("Soak in alum S1 0.9 L alum 3.600")),
        "{:?}",
        lines(&plan)
    );
    let scour = plan
        .days
        .iter()
        .flat_map(|d| &d.steps)
        .find(|s| s.pieces == ["S2"] && s.what == "Scour");
    assert_eq!(scour.and_then(|step| step.litres), Some(18.0));
    assert_eq!(plan.left_open, Vec::<String>::new());
}

#[test]
fn what_is_missing_or_absurd_is_told_and_the_rest_is_planned() {
    let good = "S9,,,silk,8,55,55,alum 15%,steam";
    let one = ["Soak in alum 1.57"];
    open(
        &[good, "S1,,,silk,8,55,,alum 15%,steam"],
        &["S1", "dry weight"],
        &one,
    );
    open(
        &[good, "S1,,,silk,8,55,55,tannin,steam"],
        &["S1", "tannin", "set wof"],
        &["Soak in alum 1.57", "Soak in tannin"],
    );
    open(
        &[good, "S1,,,silk,8,55,55,alum 200%,steam"],
        &["S1", "200", "slipped"],
        &["Soak in alum 1.57", "Soak in alum"],
    );
    open(
        &[good, "S1,,,silk,8,55,55,iron 90 g/L,steam"],
        &["90 g/L", "slipped"],
        &["Soak in alum 1.57", "Soak in iron"],
    );
    open(
        &[good, "S1,,,silk,8,55,55,dichromate 2%,steam"],
        &["S1", "dichromate", "home studio"],
        &one,
    );
    open(
        &[good, "S1,,,silk,8,wide,55,alum 15%,steam"],
        &["Row 3", "width_cm", "not a number"],
        &one,
    );
    open(
        &[good, "S1,,,silk,8,55,55,none,"],
        &["S1", "simmer or steam"],
        &one,
    );
    open(
        &[
            good,
            "S1,,2026-05-03,silk,8,55,55,none [2026-05-09] > alum 5% [2026-05-08],steam",
        ],
        &["S1", "do not lead up"],
        &["Soak in alum 0.53", "Soak in alum 1.57"],
    );
    for barred in [
        "chrom alum 5%",
        "cr 5%",
        "Pb 5%",
        "bleach 5%",
        "nickel 5 g/L",
    ] {
        let row = format!("S1,,,silk,8,55,55,{barred},steam");
        open(&[good, &row], &["S1", "home studio"], &one);
    }
    open(
        &[good, "S1,,,silk,8,55,55,moon salt,steam"],
        &["S1", "nothing is known here about moon salt"],
        &["Soak in alum 1.57", "Soak in moon salt"],
    );
    let plan = open(
        &[
            good,
            "S1,,,silk,8,55,55,moon salt 5%,steam",
            "S2,,,silk,8,55,,moon salt 5%,steam",
        ],
        &["S2", "dry weight"],
        &["Soak in alum 1.57", "Soak in moon salt 0.53"],
    );
    let first = &plan.cautions[0];
    assert!(
        first.code == "unknown-salt" && first.text.contains("moon salt"),
        "{first:?}"
    );
}

#[test]
fn what_is_not_weighed_is_told_beside_each_weight() {
    let plan = plan(&[
        "S1,,,silk,8,55,55,alum 15%,steam",
        "S2,,,silk,8,55,,alum 15%,steam",
    ]);
    let text = text(&plan);
    for told in [
        "Plan for 2 pieces, 10.5 g of dry cloth, 1 not weighed",
        "Soak in alum: S1, S2 (10.5 g without S2)",
        "Steam: S1, S2 (10.5 g without S2)",
        "roll: S1, S2\n",
    ] {
        assert!(text.contains(told), "{told} in {text}");
    }
}

/// Which plants those are: see `care`. A piece without any plant is planned, one with nothing else is not.
#[test]
fn a_deadly_plant_is_left_out() {
    let csv = "piece,dry_g,plants,heat\nS1,10,oleander; walnut,steam\nS2,20,English yew,steam\nS3,30,,steam\nS4,40,oleander,steam\n";
    let plan = planned(&[], &[], &[], csv);
    assert_eq!((plan.pieces, plan.cloth_g), (2, 40.0));
    let steps = plan.days.iter().flat_map(|day| &day.steps);
    for step in steps {
        assert_eq!(step.pieces, ["S1", "S3"], "{step:?}");
        let told = step.notes.join(" ");
        assert!(!told.contains("leander"), "{told}");
        assert!(
            !step.what.starts_with("Lay") || told.contains("walnut"),
            "{told}"
        );
    }
    assert_eq!(plan.left_open.len(), 3, "{:?}", plan.left_open);
    for (told, codes) in
        plan.left_open
            .iter()
            .zip(["S2: english yew", "S1, S4: oleander", "S2, S4: no other"])
    {
        assert!(told.starts_with(codes), "{told}");
    }
    assert!(
        plan.cautions
            .iter()
            .any(|c| c.code == "plant-never" && c.text.contains("leander"))
    );
}

#[test]
fn a_heading_that_cannot_be_is_told_of_the_plan() {
    let table =
        delimited::parse("next.csv", b"code,mordant\nS1,alum\n").expect("the test's own sheet");
    let known = Known {
        pieces: &[],
        baths: &[],
        studio: &Studio::new(),
    };
    let said = plan_sheet(known, &table)
        .expect_err("no column of pieces")
        .to_string();
    assert!(said.contains("was not planned"), "{said}");
}

/// 0.56 m² of 52.08 g/m² are 29.16 g: 36 g are 23.5 % more, 37 g 26.9 %.
#[test]
fn weights_that_contradict_are_told() {
    for (grams, told) in [("22", false), ("21.8", true), ("36", false), ("37", true)] {
        let csv = format!(
            "piece,dry_g,momme,width_cm,length_cm,mordant,heat\nS1,{grams},12,35,160,alum 10%,steam\n"
        );
        let plan = planned(&[], &[], &[], &csv);
        assert_eq!(
            plan.left_open.iter().any(|open| open.contains("29.2 g")),
            told,
            "{grams}"
        );
    }
}

#[test]
fn the_studios_usual_strength_fills_in() {
    let csv = format!("{HEAD}\nS1,,,silk,8,55,55,Alum,steam\n");
    let plan = planned(&[], &[], &[("wof alum", "20")], &csv);
    assert_eq!(
        plan.weigh
            .iter()
            .map(|w| (w.what.as_str(), w.grams))
            .next_back(),
        Some(("alum", 2.1))
    );
    assert_eq!(plan.left_open, Vec::<String>::new());
}

#[test]
fn a_kept_bath_is_used_where_it_is_named_and_offered_where_it_is_not() {
    let made = BathEvent {
        on: "2026-05-01".to_owned(),
        what: BathWork::Made,
        litres: Some(10.0),
        grams: Some(500.0),
        remarks: None,
    };
    let bath = Bath {
        name: "A1".to_owned(),
        mordant: "alum".to_owned(),
        events: vec![made],
    };
    let step = |mordant: &str, made: &str| {
        let csv = format!("{HEAD}\nS1,,{made},silk,8,55,55,{mordant},steam\n");
        let plan = planned(&[], std::slice::from_ref(&bath), &[], &csv);
        let soak = plan
            .days
            .iter()
            .flat_map(|day| &day.steps)
            .find(|s| s.what.starts_with("Soak"));
        (soak.cloned().expect("a soak"), plan.left_open)
    };
    let (soak, open) = step("alum 15% [bath A1]", "2026-05-13");
    assert_eq!((soak.litres, soak.weigh.len(), open.len()), (None, 0, 0));
    assert!(
        soak.notes[0].contains("11 days old, 50 g/L"),
        "{:?}",
        soak.notes
    );
    let (soak, open) = step("alum 15%", "2026-05-13");
    assert_eq!((soak.weigh.len(), open.len()), (1, 0));
    assert!(
        soak.notes[0].contains("Bath A1 is alive"),
        "{:?}",
        soak.notes
    );
    assert_eq!(step("alum 15% [bath A2]", "2026-05-13").1.len(), 1);
    assert_eq!(step("alum 15% [bath A1]", "2026-04-13").1.len(), 1);
    assert_eq!(step("alum 15% [bath A1]", "").1.len(), 0);
}

#[test]
fn assumptions_are_told_and_the_studios_word_is_its_own() {
    let csv = format!("{HEAD}\nS1,,,silk,8,55,55,alum 15%,steam\n");
    let plan = planned(&[], &[], &[("liquor-ratio", "40")], &csv);
    let told = plan.reckoned_with.join("\n");
    assert!(
        told.contains("liquor-ratio 40, set by the studio"),
        "{told}"
    );
    assert!(
        told.contains("soak-hours 24, the program's own assumption"),
        "{told}"
    );
    assert!(
        told.contains("without a source") && !told.contains("iron-hours"),
        "{told}"
    );
}

#[test]
fn a_sheet_of_which_nothing_can_be_planned_is_refused() {
    let studio = Studio::new();
    let known = Known {
        pieces: &[],
        baths: &[],
        studio: &studio,
    };
    let csv = format!(
        "{HEAD}\nS1,,,silk,8,wide,55,alum 15%,steam\nS2,,soon,silk,8,55,55,alum 15%,steam\n"
    );
    let table = delimited::parse("plan.csv", csv.as_bytes()).expect("the test's own sheet");
    let said = plan_sheet(known, &table).expect_err("no row").to_string();
    for part in ["plan.csv", "Row 2, column width_cm", "Row 3, column made"] {
        assert!(said.contains(part), "{part} in: {said}");
    }
}
