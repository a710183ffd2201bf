//! Baths in a journal.

use super::exchanging::import;
use super::round_trip::{amount, date, text};
use super::*;
use crate::journal::record::{Bath, BathEvent, BathWork};
use proptest::collection::vec;
use proptest::option::of;
use proptest::prelude::*;
use proptest::sample::select;

/// A name that a sheet can hold.
pub fn bath_name() -> impl Strategy<Value = String> {
    "[A-Za-zé][0-9é :/]{0,8}[0-9]"
}

/// A bath with whatever was done to it.
pub fn bath() -> impl Strategy<Value = Bath> {
    let event = (
        date(),
        select(BathWork::ALL.to_vec()),
        of(amount()),
        of(amount()),
        of(text()),
    )
        .prop_map(|(on, what, litres, grams, remarks)| BathEvent {
            on,
            what,
            litres,
            grams,
            remarks,
        });
    (bath_name(), text(), vec(event, 0..6)).prop_map(|(name, mordant, mut events)| {
        events.sort_by(|one, other| one.on.cmp(&other.on));
        let mut life: Vec<BathEvent> = Vec::new();
        for event in events {
            life.push(event);
            if Bath::check_life(&life).is_err() {
                life.pop();
            }
        }
        let events = life;
        Bath {
            name,
            mordant,
            events,
        }
    })
}

#[test]
fn a_bath_is_merged_day_by_day() {
    let (_dir, mut journal) = empty();
    let event = |what: &str, day: u32, more: &str| {
        format!(r#"{{"on":"2026-05-{day:02}","what":"{what}"{more}}}"#)
    };
    let file = |events: &[String]| {
        format!(
            r#"{{"schema":"filemot/1","baths":[{{"name":"A1","mordant":"alum","events":[{}]}}]}}"#,
            events.join(",")
        )
    };
    let made = event("made", 1, r#","litres":10,"grams":500"#);
    let first = file(&[made.clone(), event("topped up", 9, r#","grams":50"#)]);
    assert_eq!(import(&mut journal, &first).baths_changed, 1);
    assert_eq!(import(&mut journal, &first), Imported::default());
    // Diluted in between, topped up twice on one day, and a remark on what was known.
    let more = [
        event("made", 1, r#","remarks":"rain water""#),
        event("diluted", 5, r#","litres":2"#),
        event("topped up", 9, ""),
        event("topped up", 9, r#","grams":20"#),
    ];
    assert_eq!(import(&mut journal, &file(&more)).baths_changed, 1);
    assert_eq!(import(&mut journal, &file(&more)), Imported::default());
    assert_eq!(import(&mut journal, &first), Imported::default());
    let [bath] = &journal.baths().unwrap()[..] else {
        panic!("one bath")
    };
    let told: Vec<_> = bath
        .events
        .iter()
        .map(|e| (&e.on[8..], e.what.word(), e.litres, e.grams))
        .collect();
    assert_eq!(
        told,
        [
            ("01", "made", Some(10.0), Some(500.0)),
            ("05", "diluted", Some(2.0), None),
            ("09", "topped up", None, Some(50.0)),
            ("09", "topped up", None, Some(20.0)),
        ]
    );
    assert_eq!(bath.events[0].remarks.as_deref(), Some("rain water"));
}

#[test]
fn an_import_is_held_to_the_life_that_a_sheet_is() {
    let (_dir, mut journal) = empty();
    let file = |events: &str| {
        format!(
            r#"{{"schema":"filemot/1","baths":[{{"name":"A1","mordant":"alum","events":[{events}]}}]}}"#
        )
    };
    let made = |day: &str, litres: f64| {
        format!(r#"{{"on":"2026-{day}","what":"made","litres":{litres},"grams":500}}"#)
    };
    let refused = |text: &str, part: &str| {
        let said = Export::from_json(text).unwrap_err().to_string();
        assert!(said.contains("events[") && said.contains(part), "{said}");
    };
    let both = format!("{},{}", made("05-01", 10.0), made("06-01", 10.0));
    refused(&file(&both), "not thrown out");
    refused(&file(&made("05-01", 0.001)), "does not dissolve");
    import(&mut journal, &file(&made("05-01", 10.0)));
    let again = Export::from_json(&file(&made("06-01", 10.0))).unwrap();
    check(journal.import(&again), Kind::File, "not thrown out");
    assert_eq!(journal.baths().unwrap()[0].events.len(), 1);
}
