//! The program is seldom sure and wrong: the short form of `cargo bench --bench calibration`, with limits that chance alone does
//! not reach (four standard errors of the count beyond what is promised).

#[path = "benches/journals/mod.rs"]
mod journals;

use journals::{Kind, Layout, Shape, Tally};

const RUNS: usize = 500;

/// How many of `of` chance may bring where each has this chance.
fn at_most(chance: f64, of: usize) -> f64 {
    let of = of as f64;
    of * chance + 4.0 * (of * chance * (1.0 - chance)).sqrt()
}

/// Journals of one kind each for the number of groups and the pot's effect; every kind seldom wrong, all of them together.
fn check(layout: Layout, shape: Shape, pots: usize, false_holds: f64) -> Tally {
    let mut all = Tally::default();
    let kinds = Kind::all(layout, shape, pots).filter(|kind| kind.pieces == 4);
    for (i, kind) in kinds.enumerate() {
        let t = Tally::of(&kind, RUNS, (pots * 1000 + i) as u64);
        let limit = at_most(false_holds, t.runs);
        assert!(t.false_holds as f64 <= limit, "{kind:?}: {t:?}");
        for (given, holding) in [t.means, t.differences] {
            let off = (given - holding) as f64;
            assert!(off <= at_most(false_holds + 0.01, given), "{kind:?}: {t:?}");
        }
        all.add(&t);
    }
    all
}

/// Of what the best attainable finds in 8 pots, this share at least; and intervals that always hold the truth are of no use.
fn check_even(layout: Layout, power: f64) {
    check(layout, Shape::Normal, 4, 0.06);
    let all = check(layout, Shape::Normal, 8, 0.06);
    let (given, holding) = all.means;
    assert!((given - holding) * 100 >= given * 3, "{layout:?}: {all:?}");
    let share = all.found.0 as f64 / all.found.1 as f64;
    assert!(share >= power, "{layout:?}: {share}");
}

#[test]
fn one_group_a_pot() {
    check_even(Layout::One, 0.35);
}

#[test]
fn several_groups_a_pot() {
    check_even(Layout::Several, 0.65);
}

#[test]
fn pots_of_both_kinds() {
    check_even(Layout::Mixed, 0.45);
}

#[test]
fn rare_groups_and_uneven_pots() {
    check_even(Layout::Unbalanced, 0.35);
}

/// Long tails and groups that scatter unlike are no licence either; there 8 % is what is promised.
#[test]
fn odd_scatter() {
    for shape in [Shape::Heavy, Shape::Uneven] {
        check(Layout::One, shape, 8, 0.08);
        check(Layout::Mixed, shape, 8, 0.08);
    }
}

/// The mistake that this is all about: pieces of one pot taken for independent ones hold falsely about one time in five.
#[test]
fn pieces_taken_for_pots_would_be_wrong() {
    let kind = Kind {
        groups: 2,
        pots: 8,
        pieces: 4,
        effect: 0.5,
        layout: Layout::One,
        shape: Shape::Normal,
    };
    let wrong = Tally::of_pieces_apart(&kind, 1000, 1).false_holds;
    assert!(wrong > 120, "{wrong} of 1000");
}
