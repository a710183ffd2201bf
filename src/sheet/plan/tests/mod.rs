mod amounts;
mod order;

use super::*;
use crate::journal::record::{BathEvent, BathWork, Round, Soak, StrengthUnit};
use crate::sheet::delimited;

const HEAD: &str = "piece,bundle,made,fibre,momme,width_cm,length_cm,mordant,heat";

fn planned(pieces: &[Piece], baths: &[Bath], studio: &[(&str, &str)], csv: &str) -> Plan {
    let studio = studio
        .iter()
        .map(|(n, v)| ((*n).to_owned(), (*v).to_owned()));
    let studio: Studio = studio.collect();
    let table = delimited::parse("plan.csv", csv.as_bytes()).expect("the test's own sheet");
    let known = Known {
        pieces,
        baths,
        studio: &studio,
    };
    plan_sheet(known, &table).unwrap_or_else(|e| panic!("{e}"))
}

/// The plan for rows under [`HEAD`].
fn plan(rows: &[&str]) -> Plan {
    planned(&[], &[], &[], &format!("{HEAD}\n{}\n", rows.join("\n")))
}

/// Every day as one line: its name, then each step with its pieces and amounts.
fn lines(plan: &Plan) -> Vec<String> {
    let step = |step: &Step| {
        let weigh = step
            .weigh
            .iter()
            .map(|w| format!(" {} {:.3}", w.what, w.grams));
        let litres = step.litres.map(|l| format!(" {l:.1} L"));
        let weigh: String = litres.into_iter().chain(weigh).collect();
        format!("{} {}{weigh}", step.what, step.pieces.join("+"))
    };
    let day = |day: &Day| {
        let steps: Vec<String> = day.steps.iter().map(step).collect();
        format!("{}: {}", day.heading(), steps.join(" | "))
    };
    plan.days.iter().map(day).collect()
}

#[track_caller]
fn check(plan: &Plan, wanted: &[&str]) {
    assert_eq!(lines(plan), wanted, "{:?}", plan.left_open);
}

/// What is left open: one sentence that holds each of `parts`, and the soaks that are planned all the same.
#[track_caller]
fn open(rows: &[&str], parts: &[&str], soaks: &[&str]) -> Plan {
    let plan = plan(rows);
    let fits = |told: &&String| parts.iter().all(|part| told.contains(part));
    assert!(
        plan.left_open.iter().any(|told| fits(&told)),
        "{:?}",
        plan.left_open
    );
    assert!(
        plan.left_open.iter().all(|told| told.ends_with('.')),
        "{:?}",
        plan.left_open
    );
    let steps = plan.days.iter().flat_map(|day| &day.steps);
    let weighed = |step: &Step| {
        let weigh = step.weigh.iter().map(|w| format!(" {:.2}", w.grams));
        format!("{}{}", step.what, weigh.collect::<String>())
    };
    let got: Vec<String> = steps
        .filter(|s| s.what.starts_with("Soak"))
        .map(weighed)
        .collect();
    assert_eq!(got, soaks);
    plan
}
