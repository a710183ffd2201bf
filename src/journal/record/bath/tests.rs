use super::*;

fn bath(name: &str, mordant: &str, events: &[(&str, BathWork, f64, f64)]) -> Bath {
    let event = |&(on, what, litres, grams): &(&str, BathWork, f64, f64)| BathEvent {
        on: on.to_owned(),
        what,
        litres: (litres > 0.0).then_some(litres),
        grams: (grams > 0.0).then_some(grams),
        remarks: None,
    };
    Bath {
        name: name.to_owned(),
        mordant: mordant.to_owned(),
        events: events.iter().map(event).collect(),
    }
}

/// Made, topped up, diluted, thrown out, made anew; and another of alum in June.
fn baths() -> [Bath; 3] {
    use BathWork::*;
    [
        bath(
            "A1",
            "alum",
            &[
                ("2026-05-01", Made, 10.0, 500.0),
                ("2026-05-11", ToppedUp, 0.0, 100.0),
                ("2026-05-21", Diluted, 5.0, 0.0),
                ("2026-06-10", Discarded, 0.0, 0.0),
                ("2026-07-01", Made, 4.0, 100.0),
            ],
        ),
        bath("A2", "alum", &[("2026-06-05", Made, 2.0, 0.0)]),
        bath("F1", "iron", &[("2026-05-01", Made, 2.0, 10.0)]),
    ]
}

fn soak(mordant: &str, on: Option<&str>, bath: Option<&str>) -> Soak {
    Soak {
        mordant: mordant.to_owned(),
        on: on.map(str::to_owned),
        bath: bath.map(str::to_owned),
        ..Soak::default()
    }
}

#[track_caller]
fn check(soak: &Soak, made: Option<&str>, wanted: Option<(&str, i32, Option<i32>, Option<f64>)>) {
    let got = bath_age(&baths(), Soaked::of(soak, made));
    let got = got.as_ref().map(|age| {
        let BathAge {
            bath,
            days,
            days_since_change,
            grams_per_litre,
        } = age;
        (bath.as_str(), *days, *days_since_change, *grams_per_litre)
    });
    assert_eq!(got, wanted, "{soak:?}");
}

/// By hand: 500 g in 10 L are 50 g/L; 600 g in 10 L 60; 600 g in 15 L 40. May has 31 days.
#[test]
fn age_and_strength_on_the_day_of_the_soak() {
    let on = |day: &'static str| soak("alum", Some(day), None);
    check(&on("2026-04-30"), None, None);
    check(&on("2026-05-01"), None, Some(("A1", 0, None, Some(50.0))));
    check(
        &on("2026-05-12"),
        None,
        Some(("A1", 11, Some(1), Some(60.0))),
    );
    check(
        &on("2026-06-01"),
        None,
        Some(("A1", 31, Some(11), Some(40.0))),
    );
    check(&on("2026-07-02"), None, None);
    let of = |day: &'static str| soak("alum", Some(day), Some("a1"));
    check(
        &of("2026-06-10"),
        None,
        Some(("A1", 40, Some(20), Some(40.0))),
    );
    check(&of("2026-06-11"), None, None);
    check(&of("2026-07-02"), None, Some(("A1", 1, None, Some(25.0))));
}

#[test]
fn which_bath_is_meant() {
    check(&soak("alum", None, None), None, None);
    check(
        &soak("iron", None, None),
        Some("2026-06-30"),
        Some(("F1", 60, None, Some(5.0))),
    );
    // Two of alum are alive.
    check(&soak("alum", Some("2026-06-06"), None), None, None);
    // What was put in was not written.
    check(
        &soak("alum", None, None),
        Some("2026-06-20"),
        Some(("A2", 15, None, None)),
    );
    check(&soak("alum", Some("2026-06-06"), Some("Z9")), None, None);
    check(&soak("tannin", Some("2026-06-06"), None), None, None);
    // F1 holds iron.
    check(&soak("alum", Some("2026-06-06"), Some("F1")), None, None);
}

#[test]
fn lives_that_can_be_and_that_cannot() {
    use BathWork::*;
    let check = |events: &[(&str, BathWork, f64, f64)], wrong: Option<(usize, &str)>| {
        let told = Bath::check_life(&bath("A1", "alum", events).events);
        match (told, wrong) {
            (Ok(()), None) => {}
            (Err((at, said)), Some((place, part))) => {
                assert!(at == place && said.contains(part), "{at}: {said}");
            }
            (told, wrong) => panic!("{told:?}, not {wrong:?}"),
        }
    };
    for bath in baths() {
        assert_eq!(Bath::check_life(&bath.events), Ok(()));
    }
    let made = ("2026-05-01", Made, 10.0, 500.0);
    check(&[("2026-05-01", ToppedUp, 0.0, 5.0)], None);
    check(
        &[made, ("2026-05-09", Made, 10.0, 500.0)],
        Some((1, "not thrown out")),
    );
    check(
        &[("2026-04-01", Diluted, 1.0, 0.0), made],
        Some((0, "not yet made")),
    );
    check(
        &[
            made,
            ("2026-05-02", Discarded, 0.0, 0.0),
            ("2026-05-03", ToppedUp, 0.0, 5.0),
        ],
        Some((2, "already thrown out")),
    );
    // 20 kg in 10 L are 2000 g/L, the most that can be.
    check(&[made, ("2026-05-09", ToppedUp, 0.0, 19_500.0)], None);
    check(
        &[made, ("2026-05-09", ToppedUp, 0.0, 19_600.0)],
        Some((1, "does not dissolve")),
    );
    check(
        &[("2026-05-01", Made, 0.001, 1_000_000.0)],
        Some((0, "does not dissolve")),
    );
    check(
        &[("2026-05-01", Made, 20_000.0, 0.0)],
        Some((0, "no studio")),
    );
}

/// A year's days are counted, not only those of its last month.
#[test]
fn a_bath_may_be_years_old() {
    check(
        &soak("iron", Some("2028-05-01"), None),
        None,
        Some(("F1", 731, None, Some(5.0))),
    );
}

#[test]
fn names_that_a_sheet_can_hold() {
    for good in ["A1", "big alum 2", "Röße"] {
        assert_eq!(Bath::check_name(good), Ok(()));
    }
    for bad in [
        "",
        " A1",
        "A,1",
        "A]",
        "a > b",
        "A\u{200b}",
        &"x".repeat(33),
    ] {
        assert!(Bath::check_name(bad).is_err(), "{bad}");
    }
}
