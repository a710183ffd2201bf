//! How often the program is sure and wrong: made journals without and with a difference, tabulated as `docs/method.md` shows it.
//!
//! `cargo bench --bench calibration` prints the table, always the same one; `-- 200` makes 200 journals of each kind instead of
//! 1,500. A short form runs in `tests/calibrated.rs`.

#[allow(dead_code, reason = "the short form uses all of it")]
mod journals;

use journals::{Kind, Layout, Shape, Tally};
use rayon::prelude::*;
use std::collections::BTreeMap;

const RUNS: usize = 1500;
const POTS: [usize; 7] = [3, 4, 6, 8, 12, 20, 30];
const LAYOUTS: [Layout; 4] = [
    Layout::One,
    Layout::Several,
    Layout::Mixed,
    Layout::Unbalanced,
];

fn main() {
    let asked = std::env::args().skip(1).find_map(|a| a.parse().ok());
    let runs = asked.unwrap_or(RUNS);
    for (shape, runs) in [
        (Shape::Normal, runs),
        (Shape::Heavy, runs.div_ceil(3)),
        (Shape::Uneven, runs.div_ceil(3)),
    ] {
        println!("\n{shape:?}\n");
        println!(
            "| pots hold | pots | false “holds” | cover, means | given | cover, differences | given | power, of the best |"
        );
        println!("| --- | --- | --- | --- | --- | --- | --- | --- |");
        for layout in LAYOUTS {
            for pots in POTS {
                println!("{}", row(layout, shape, pots, runs));
            }
        }
    }
}

/// One row of the table: all kinds of journals with so many pots, in brackets the worst number of groups and effect of the pot.
fn row(layout: Layout, shape: Shape, pots: usize, runs: usize) -> String {
    let kinds: Vec<Kind> = Kind::all(layout, shape, pots).collect();
    let seeded = kinds.par_iter().enumerate();
    let tallies: Vec<Tally> = seeded
        .map(|(i, kind)| Tally::of(kind, runs, (pots * 1000 + i) as u64))
        .collect();
    let mut all = Tally::default();
    let mut cells: BTreeMap<(usize, u64), Tally> = BTreeMap::new();
    let mut asked = 0;
    for (kind, tally) in kinds.iter().zip(&tallies) {
        all.add(tally);
        let cell = (kind.groups, kind.effect.to_bits());
        cells.entry(cell).or_default().add(tally);
        asked += tally.runs * kind.groups;
    }
    let holds = cells.values().map(|t| percent(t.false_holds, t.runs));
    let power = match shape {
        Shape::Normal => format!("{:.2}", all.found.0 as f64 / all.found.1.max(1) as f64),
        _ => "–".to_owned(),
    };
    format!(
        "| {layout:?} | {pots} | {:.1} ({:.1}) | {} | {:.0} | {} | {:.0} | {power} |",
        percent(all.false_holds, all.runs),
        holds.fold(0.0, f64::max),
        cover(all.means, cells.values().map(|t| t.means), runs),
        percent(all.means.0, asked),
        cover(all.differences, cells.values().map(|t| t.differences), runs),
        percent(all.differences.0, all.runs),
    )
}

/// How many in a hundred intervals hold the truth, and the least of the cells in which they are given often enough to say.
fn cover(all: (usize, usize), cells: impl Iterator<Item = (usize, usize)>, often: usize) -> String {
    if all.0 == 0 {
        return "–".to_owned();
    }
    let told = cells.filter(|(given, _)| *given >= often);
    let least = told.map(|(given, holding)| percent(holding, given));
    let least = least.fold(100.0, f64::min);
    format!("{:.1} ({least:.1})", percent(all.1, all.0))
}

fn percent(part: usize, whole: usize) -> f64 {
    100.0 * part as f64 / whole.max(1) as f64
}
